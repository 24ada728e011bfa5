//! One run shows every fault of a file: syntax and meaning, in the order of the file, each in its
//! place, and no fault hides what stands behind it.

#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test may fail where it stands")]

use placed::{Date, Document, Faults, TableReader};
use quantity::{LengthExt, LengthUnit};

/// A small invented order, read in full.
#[derive(Debug, PartialEq)]
struct Order {
    customer: String,
    due: Date,
    shaft: Shaft,
    readings: Vec<f64>,
}

#[derive(Debug, PartialEq)]
struct Shaft {
    teeth: u32,
    length: f64,
    side: Side,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Side {
    Left,
    Right,
}

fn read_order(text: &str) -> Result<Order, Faults> {
    let document = Document::parse("order.toml", text);
    let root = document.root();
    let customer = root.required("customer").and_then(|item| item.filled_text());
    let due = root.required("due").and_then(|item| item.date());
    let shaft = root.required_table("shaft").and_then(read_shaft);
    let readings: Vec<Option<f64>> = root.tables("reading").into_iter().map(read_reading).collect();
    root.finish();
    document.outcome(order(customer, due, shaft, readings))
}

fn order(customer: Option<&str>, due: Option<Date>, shaft: Option<Shaft>, readings: Vec<Option<f64>>) -> Option<Order> {
    Some(Order {
        customer: customer?.to_owned(),
        due: due?,
        shaft: shaft?,
        readings: readings.into_iter().collect::<Option<_>>()?,
    })
}

fn read_shaft(table: TableReader<'_>) -> Option<Shaft> {
    let teeth = table.required("teeth").and_then(|item| item.count());
    let length = table.required("length").and_then(|item| item.length(Some(LengthUnit::Inch)));
    let side = table.required("side").and_then(|item| item.one_of(&[("left", Side::Left), ("right", Side::Right)]));
    table.finish();
    Some(Shaft { teeth: teeth?, length: length?.value().inches(), side: side? })
}

fn read_reading(table: TableReader<'_>) -> Option<f64> {
    let value = table.required("value").and_then(|item| item.length(None));
    if let Some(note) = table.optional("note") {
        note.text();
    }
    table.finish();
    Some(value?.value().inches())
}

/// Line, column, offending text and problem of every fault.
fn faults(text: &str) -> Vec<(usize, usize, String, String)> {
    read_order(text)
        .expect_err(text)
        .into_iter()
        .map(|fault| (fault.line, fault.column, fault.offending, fault.problem))
        .collect()
}

fn assert_faults(text: &str, expected: &[(usize, usize, &str, &str)]) {
    let found = faults(text);
    let found: Vec<(usize, usize, &str, &str)> = found
        .iter()
        .map(|(line, column, offending, problem)| (*line, *column, offending.as_str(), problem.as_str()))
        .collect();
    assert_eq!(found, expected, "in\n{text}");
}

const GOOD: &str = r#"customer = "yard"
due = 2026-11-25

[shaft]
teeth = 28
length = "31 5/16\""
side = "left"

[[reading]]
value = '3 1/8"'

[[reading]]
value = "80 mm"
note = "second man"
"#;

#[test]
fn a_file_without_faults_is_read() {
    let order = read_order(GOOD).unwrap();
    assert_eq!(order.customer, "yard");
    assert_eq!(order.due, Date::new(2026, 11, 25).unwrap());
    assert_eq!(order.shaft, Shaft { teeth: 28, length: 31.3125, side: Side::Left });
    assert_eq!(order.readings, [3.125, 80.0 / 25.4]);
    // The same with line ends of the other kind, and with a byte order mark in front.
    assert_eq!(read_order(&GOOD.replace('\n', "\r\n")), Ok(order));
    assert!(read_order(&format!("\u{feff}{GOOD}")).is_ok());
}

#[test]
fn five_different_faults_give_five_reports() {
    let text = r#"customer = yard
due = 2026-02-25
colour = "red"

[shaft]
teeth = 28.5
length = "31 17/16\""

[[reading]]
value = 3.125
"#;
    assert_faults(
        text,
        &[
            (1, 12, "yard", "text stands without quotation marks"),
            (3, 1, "colour", "`colour` is not known here"),
            (5, 1, "[shaft]", "`side` is missing in [shaft]"),
            (6, 9, "28.5", "\"28.5\" is not a whole number"),
            (7, 14, "17/16", "the fraction 17/16 is not smaller than one"),
            (10, 9, "3.125", "the length has no unit"),
        ],
    );
}

#[test]
fn the_report_shows_place_line_mark_and_what_is_accepted() {
    let text =
        "customer = \"yard\"\ndue = 2026-11-25\n[shaft]\n\tteeth = 28\n\tlength = \"½ 17/16 in\"\n\tside = \"lift\"\n";
    let report = read_order(text).unwrap_err().to_string();
    assert_eq!(
        report,
        "order.toml:5:14: \"17/16 in\" stands after the length\n  \
         \tlength = \"½ 17/16 in\"\n  \
         \t            ^^^^^^^^\n  \
         accepted: one number with its unit and nothing after it\n\n\
         order.toml:6:9: \"lift\" is not known for `side`, did you mean \"left\"?\n  \
         \tside = \"lift\"\n  \
         \t       ^^^^^^\n  \
         accepted: \"left\", \"right\"\n"
    );
}

#[test]
fn places_are_right_with_line_ends_tabs_marks_and_other_scripts() {
    let text = "\u{feff}customer = \"Ærø ½\" # Łódź\r\ndue = \"2026-11-31\"\r\n[shaft]\r\n\tteeth\t=\t\"28 ½\"\r\nlength = \"\\u00BD 17/16\"\r\nside = 'right'\r\nŁ = 1\r\n";
    assert_faults(
        text,
        &[
            (2, 7, "\"2026-11-31\"", "`due` is not a date"),
            (4, 14, "½", "\"½\" stands after the count"),
            (5, 18, "17/16", "\"17/16\" stands after the length"),
            (7, 1, "Ł", "the key holds letters that need quotation marks"),
        ],
    );
}

#[test]
fn a_misspelt_required_key_is_one_fault() {
    let text = GOOD.replace("length =", "lenght =");
    assert_faults(&text, &[(6, 1, "lenght", "`lenght` is not known here, did you mean `length`?")]);
}

#[test]
fn a_missing_table_and_a_wrong_kind_of_table_are_faults() {
    assert_faults(
        "customer = 'x'\ndue = 2026-11-25\nreading = 3\n",
        &[
            (1, 1, "", "`shaft` is missing in the file"),
            (3, 11, "3", "`reading` must be a list, but here stands a whole number"),
        ],
    );
    assert_faults(
        "customer = 'x'\ndue = 2026-11-25\nshaft = [1]\n[reading]\nvalue = '1 in'\n",
        &[
            (3, 9, "[1]", "`shaft` must be a table, but here stands a list"),
            (4, 1, "[reading]", "`reading` must be a list of tables, but here stands a single one"),
        ],
    );
    assert_faults(
        "customer = 'x'\ndue = 2026-11-25\nshaft = {}\nreading = [1, {value = '1 in'}, {}]\n",
        &[
            (3, 9, "{}", "`length` is missing in {}"),
            (3, 9, "{}", "`side` is missing in {}"),
            (3, 9, "{}", "`teeth` is missing in {}"),
            (4, 12, "1", "`reading` must be a table, but here stands a whole number"),
            (4, 33, "{}", "`value` is missing in {}"),
        ],
    );
}

#[test]
fn dotted_keys_inline_tables_and_lists_of_tables_are_read_alike() {
    let dotted = "customer = 'x'\ndue = 2026-11-25\nshaft.teeth = 28\nshaft.length = 31\nshaft.side = 'left'\nreading = [{ value = '1 in' }, { value = '2 in' }]\n";
    let inline = "customer = 'x'\ndue = 2026-11-25\nshaft = { teeth = 28, length = 31, side = 'left' }\n[[reading]]\nvalue = '1 in'\n[[reading]]\nvalue = '2 in'\n";
    assert_eq!(read_order(dotted).unwrap(), read_order(inline).unwrap());
    assert_faults(
        &dotted.replace("28", "'none'").replace("'2 in'", "'2 yd'"),
        &[
            (3, 16, "none", "\"none\" is not a whole number"),
            (6, 45, "yd", "\"yd\" is not a unit of length known here"),
        ],
    );
    assert_faults(
        &inline.replace("28", "true").replace("31, ", "31, bore = 35, "),
        &[
            (3, 19, "true", "`teeth` must be a count, but here stands true or false"),
            (3, 38, "bore", "`bore` is not known here"),
        ],
    );
}

#[test]
fn keys_written_twice_are_found_and_the_first_counts() {
    let text = GOOD.replace("teeth = 28\n", "teeth = 28\nteeth = 'many'\n");
    assert_faults(&text, &[(6, 1, "teeth", "`teeth` is written twice")]);
    let text = format!("{GOOD}[shaft]\nside = 'right'\n");
    assert_faults(&text, &[(15, 2, "shaft", "`shaft` is written twice"), (16, 1, "side", "`side` is written twice")]);
}

#[test]
fn an_inch_mark_that_closes_the_text_is_explained() {
    let text = GOOD.replace(r#""31 5/16\"""#, r#""31 5/16"""#);
    let faults = read_order(&text).unwrap_err();
    let fault = faults.iter().next().unwrap();
    assert_eq!(faults.len(), 1);
    assert_eq!((fault.line, fault.column), (6, 19));
    assert_eq!(fault.problem, "something stands behind the value");
    assert_eq!(fault.accepted, "'31 5/16\"'");
}

#[test]
fn text_without_quotation_marks_is_explained() {
    for (value, offending, accepted) in [
        ("31 5/16\"", "31 5/16\"", "'31 5/16\"'"),
        ("31 5/16 in # tape", "31 5/16 in", "\"31 5/16 in\""),
        ("31½", "31½", "\"31½\""),
        ("2' 7\"", "2' 7\"", "\"2' 7\\\"\""),
        ("long", "long", "\"long\""),
    ] {
        let text = GOOD.replace(r#""31 5/16\"""#, value);
        let faults = read_order(&text).unwrap_err();
        let fault = faults.iter().next().unwrap();
        assert_eq!(faults.len(), 1, "{faults}");
        assert_eq!((fault.line, fault.column), (6, 10), "{value}");
        assert_eq!(fault.problem, "text stands without quotation marks");
        assert_eq!(fault.offending, offending);
        assert_eq!(fault.accepted, accepted);
    }
}

/// What is put in the place of a line of the good file, and the only fault that comes of it. A
/// second fault, far behind, must still be found.
#[test]
fn no_fault_of_syntax_hides_the_rest_of_the_file() {
    for (line, damaged, place, problem) in [
        ("teeth = 28", "teeth = ", (5, 9), "the value is missing"),
        ("teeth = 28", "teeth", (5, 1), "the line is no key with a value"),
        ("teeth = 28", "teeth 28", (5, 1), "the line is no key with a value"),
        ("teeth = 28", "teeth = [28", (5, 9), "the list is not closed"),
        ("teeth = 28", "teeth = [\n28", (5, 9), "the list is not closed"),
        ("teeth = 28", "teeth = { n = 28", (5, 9), "the table in braces is not closed"),
        ("teeth = 28", "teeth = '''28", (5, 9), "the text is not closed"),
        ("teeth = 28", "teeth = \"\"\"28", (5, 9), "the text is not closed"),
        ("teeth = 28", "teeth = \"28", (5, 12), "the text is not closed"),
        ("teeth = 28", "teeth = .5", (5, 9), "a number has digits before and behind its point"),
        ("teeth = 28", "teeth = 028", (5, 9), "a number does not begin with a nought"),
        ("teeth = 28", "teeth = 28 side", (5, 9), "text stands without quotation marks"),
        ("teeth = 28", "teeth = 28]", (5, 11), "something stands behind the value"),
        ("[shaft]", "[shaft", (4, 1), "the name of the table is not closed"),
        ("[shaft]", "[shaft # the long one", (4, 1), "the name of the table is not closed"),
    ] {
        let text = GOOD.replace(line, damaged).replace("80 mm", "80");
        let found = faults(&text);
        let extra_lines = damaged.matches('\n').count();
        let (line, column) = place;
        assert_eq!(found.len(), 2, "{damaged}: {found:#?}");
        assert_eq!((found[0].0, found[0].1), (line, column), "{damaged}: {found:#?}");
        assert_eq!(found[0].3, problem, "{damaged}");
        assert_eq!(found[1].0, 13 + extra_lines, "{damaged}");
        assert_eq!(found[1].3, "the length has no unit", "{damaged}");
    }
}

#[test]
fn a_list_of_tables_whose_name_is_not_closed_is_still_a_list() {
    for damaged in ["[[reading]", "[[reading"] {
        let text = GOOD.replacen("[[reading]]", damaged, 1).replace("80 mm", "80");
        let found = faults(&text);
        assert_eq!(found.len(), 2, "{found:#?}");
        assert_eq!(found[0].3, "the name of the table is not closed");
        assert_eq!(found[1].0, 13);
    }
}

#[test]
fn several_faults_that_swallow_the_rest_are_all_found() {
    let text = "customer\ndue = [2026\n[shaft\nteeth = {a = 1\nlength = 31\nside = '''left\n[[reading]]\nvalue = [1, 2\n[[reading]]\nvalue = '1'\n";
    assert_faults(
        text,
        &[
            (1, 1, "customer", "the line is no key with a value"),
            (2, 7, "[2026", "the list is not closed"),
            (3, 1, "[shaft", "the name of the table is not closed"),
            (4, 9, "{a = 1", "the table in braces is not closed"),
            (6, 8, "'''left", "the text is not closed"),
            (8, 9, "[1, 2", "the list is not closed"),
            (10, 10, "1", "the length has no unit"),
        ],
    );
}

#[test]
fn a_text_that_is_no_toml_is_faulty_in_every_line() {
    let text = "Dear shop,\nplease make two shafts.\n31 5/16 left\n";
    let found = faults(text);
    let lines: Vec<usize> = found.iter().map(|fault| fault.0).collect();
    assert_eq!(lines, [1, 1, 1, 1, 2, 3], "{found:#?}");
}

#[test]
fn an_empty_file_lacks_everything() {
    for text in ["", "\n", "\u{feff}", "# nothing\r\n"] {
        assert_faults(
            text,
            &[
                (1, 1, "", "`customer` is missing in the file"),
                (1, 1, "", "`due` is missing in the file"),
                (1, 1, "", "`shaft` is missing in the file"),
            ],
        );
    }
}
