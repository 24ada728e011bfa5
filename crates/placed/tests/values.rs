//! Every way to read a value: what it gives, and what it says of a value of another kind.

#![allow(clippy::unwrap_used, reason = "a test may fail where it stands")]

use placed::{Date, Document, Fault, Item};
use quantity::{LengthExt, LengthUnit, Notation, Thread};

/// Reads the key `a` of a document and gives what comes out with the faults.
fn read<T>(text: &str, reader: impl Fn(Item<'_>) -> Option<T>) -> (Option<T>, Vec<Fault>) {
    let document = Document::parse("values.toml", text);
    let value = document.root().required("a").and_then(reader);
    (value, document.faults().into_iter().collect())
}

fn value<T>(text: &str, reader: impl Fn(Item<'_>) -> Option<T>) -> T {
    let (value, faults) = read(text, reader);
    assert!(faults.is_empty(), "{text}: {faults:#?}");
    value.unwrap()
}

fn fault<T: std::fmt::Debug>(text: &str, reader: impl Fn(Item<'_>) -> Option<T>) -> Fault {
    let (value, mut faults) = read(text, reader);
    assert!(value.is_none(), "{text}: {value:?}");
    assert_eq!(faults.len(), 1, "{text}: {faults:#?}");
    faults.remove(0)
}

#[test]
fn text() {
    assert_eq!(value("a = 'x y'", |item| item.text().map(str::to_owned)), "x y");
    assert_eq!(value("a = ''", |item| item.text().map(str::to_owned)), "");
    assert_eq!(value("a = ' x '", |item| item.filled_text().map(str::to_owned)), "x");
    let blank = fault("a = ' '", |item| item.filled_text().map(str::to_owned));
    assert_eq!((blank.problem.as_str(), blank.offending.as_str()), ("`a` is empty", "' '"));
    for (text, kind) in [
        ("a = 1", "a whole number"),
        ("a = 1.0", "a number with decimals"),
        ("a = true", "true or false"),
        ("a = 2026-11-25", "a date or time"),
        ("a = []", "a list"),
        ("a = {}", "a table"),
        ("a.b = 1", "a table"),
        ("[a]", "a table"),
        ("[[a]]", "a list"),
    ] {
        let fault = fault(text, |item| item.text().map(str::to_owned));
        assert_eq!(fault.problem, format!("`a` must be text, but here stands {kind}"));
        assert_eq!(fault.accepted, "text in quotation marks");
    }
}

#[test]
fn numbers() {
    assert_eq!(value("a = 31.50", |item| item.number()), 31.5);
    assert_eq!(value("a = 31", |item| item.number()), 31.0);
    assert_eq!(value("a = 1_000.5", |item| item.number()), 1000.5);
    assert_eq!(value("a = -1e-3", |item| item.number()), -0.001);
    assert_eq!(value("a = 0x1F", |item| item.number()), 31.0);
    assert_eq!(value("a = -7", |item| item.integer()), -7);
    assert_eq!(value("a = 0b101", |item| item.integer()), 5);
    assert_eq!(value("a = 0.5", |item| item.number_in(0.0..=1.0)), 0.5);
    assert_eq!(value("a = 1", |item| item.integer_in(1..=3)), 1);
    for text in ["a = inf", "a = -inf", "a = nan", "a = 1e999"] {
        assert_eq!(fault(text, |item| item.number()).problem, "`a` is not a finite number");
    }
    let outside = fault("a = 1.5", |item| item.number_in(0.0..=1.0));
    assert_eq!(outside.problem, "`a` lies outside its limits");
    assert_eq!(outside.accepted, "0 to 1");
    let outside = fault("a = 4", |item| item.integer_in(1..=3));
    assert_eq!(outside.accepted, "1 to 3");
    let wrong = fault("a = '1'", |item| item.number());
    assert_eq!(wrong.problem, "`a` must be a number, but here stands text");
    let wrong = fault("a = 1.0", |item| item.integer());
    assert_eq!(wrong.problem, "`a` must be a whole number, but here stands a number with decimals");
    let large = fault("a = 99999999999999999999", |item| item.integer());
    assert_eq!(large.problem, "`a` has too many digits");
}

#[test]
fn raw_text_keeps_what_was_written() {
    for raw in ["31.50", "1_000", "0x1F", "'it'", "\"\\u00BD\"", "[1,  2]", "true"] {
        assert_eq!(value(&format!("a = {raw} # note"), |item| Some(item.raw().to_owned())), raw);
    }
    assert_eq!(value("a = 1", |item| Some(item.key().to_owned())), "a");
    let place = value("# first\n  a = 1", |item| Some((item.position(), item.span())));
    assert_eq!((place.0.line, place.0.column, place.1), (2, 7, 14..15));
}

#[test]
fn true_or_false() {
    assert!(value("a = true", |item| item.boolean()));
    assert!(!value("a = false", |item| item.boolean()));
    let wrong = fault("a = 'true'", |item| item.boolean());
    assert_eq!(wrong.problem, "`a` must be true or false, but here stands text");
}

#[test]
fn dates() {
    let day = Date::new(2026, 11, 25).unwrap();
    assert_eq!(value("a = 2026-11-25", |item| item.date()), day);
    assert_eq!(value("a = '2026-11-25'", |item| item.date()), day);
    for text in [
        "a = 2026-11-25T10:00:00",
        "a = 2026-11-25T10:00:00Z",
        "a = 10:00:00",
        "a = '25.11.2026'",
        "a = '2026-02-30'",
        "a = 20261125",
    ] {
        let fault = fault(text, |item| item.date());
        assert_eq!(fault.problem, "`a` is not a date", "{text}");
        assert_eq!(fault.accepted, "year, month and day, such as 2026-11-25");
    }
    // The parser knows that there is no such month; one fault is enough.
    assert_eq!(fault("a = 2026-13-25", |item| item.date()).line, 1);
}

#[test]
fn one_of_several_words() {
    let side = |item: Item<'_>| item.one_of(&[("left", 1), ("right", 2)]);
    assert_eq!(value("a = 'right'", side), 2);
    let near = fault("a = 'rihgt'", side);
    assert_eq!(near.problem, "\"rihgt\" is not known for `a`, did you mean \"right\"?");
    assert_eq!(near.accepted, "\"left\", \"right\"");
    let far = fault("a = 'both'", side);
    assert_eq!(far.problem, "\"both\" is not known for `a`");
}

#[test]
fn lists_give_every_entry_its_own_place() {
    let numbers = |item: Item<'_>| -> Option<Vec<f64>> {
        let numbers: Vec<Option<f64>> = item.list()?.iter().map(Item::number).collect();
        numbers.into_iter().collect()
    };
    assert_eq!(value("a = [1, 2.5,\n 3]", numbers), [1.0, 2.5, 3.0]);
    let (_, faults) = read("a = [1, 'x',\n  true, 2]", numbers);
    let places: Vec<(usize, usize)> = faults.iter().map(|fault| (fault.line, fault.column)).collect();
    assert_eq!(places, [(1, 9), (2, 3)]);
    assert_eq!(fault("a = 1", numbers).problem, "`a` must be a list, but here stands a whole number");
}

#[test]
fn lengths_in_text_and_as_bare_numbers() {
    let inch = |item: Item<'_>| item.length(Some(LengthUnit::Inch));
    let no_default = |item: Item<'_>| item.length(None);
    assert_eq!(value("a = '31 5/16'", inch).value().inches(), 31.3125);
    assert_eq!(value("a = 31.50", inch).notation(), Notation::Decimal { places: 2 });
    assert_eq!(value("a = 31", inch).notation(), Notation::Whole);
    assert_eq!(value("a = 1_000.5", inch).value().inches(), 1000.5);
    assert_eq!(value("a = '795.3 mm'", no_default).value().millimetres(), 795.3);

    let bare = fault("a = 31.50", no_default);
    assert_eq!((bare.problem.as_str(), bare.offending.as_str()), ("the length has no unit", "31.50"));
    let escaped = fault(r#"a = "31 17/16\"" "#, no_default);
    assert_eq!((escaped.column, escaped.offending.as_str()), (9, "17/16"));
    let in_lines = fault("a = \"\"\"\n31 \\\n   17/16 in\"\"\"", no_default);
    assert_eq!((in_lines.line, in_lines.column, in_lines.offending.as_str()), (3, 4, "17/16"));
    let other_line_ends = fault("a = \"\"\"\r\n31\r\n   17/16 in\"\"\"", no_default);
    assert_eq!((other_line_ends.line, other_line_ends.column, other_line_ends.offending.as_str()), (3, 4, "17/16"));
    let empty = fault("a = ''", inch);
    assert_eq!((empty.column, empty.problem.as_str()), (6, "the length is empty"));
    assert_eq!(fault("a = -3", inch).problem, "a length is not negative");
    assert_eq!(fault("a = 3e2", inch).offending, "e");
    assert_eq!(fault("a = 1_0e2", inch).offending, "1_0e2");
    assert_eq!(fault("a = inf", inch).problem, "\"inf\" is not a number");
    assert_eq!(fault("a = true", inch).problem, "`a` must be a length, but here stands true or false");
}

#[test]
fn one_length_or_a_list_of_them() {
    let lengths = |item: Item<'_>| {
        let lengths = item.lengths(Some(LengthUnit::Inch))?;
        Some(lengths.iter().map(|length| length.number()).collect::<Vec<f64>>())
    };
    assert_eq!(value("a = 3", lengths), [3.0]);
    assert_eq!(value("a = ['3 1/8', 3.25]", lengths), [3.125, 3.25]);
    assert_eq!(fault("a = []", lengths).problem, "`a` holds no length");
    let (none, faults) = read("a = ['3 1/8', 'x', -1]", lengths);
    assert_eq!((none, faults.len()), (None, 2));
}

#[test]
fn counts_and_threads() {
    assert_eq!(value("a = 28", |item| item.count()), 28);
    assert_eq!(value("a = '28 teeth'", |item| item.count()), 28);
    assert_eq!(fault("a = 0", |item| item.count()).problem, "a count is at least one");
    assert_eq!(fault("a = -2", |item| item.count()).problem, "\"-2\" is not a whole number");
    assert_eq!(value("a = 'M12x1.5'", |item| item.thread()), Thread::Metric { diameter_mm: 12.0, pitch_mm: 1.5 });
    let wrong = fault("a = 'M12x1.4'", |item| item.thread());
    assert_eq!((wrong.column, wrong.offending.as_str()), (10, "1.4"));
}

#[test]
fn faults_can_be_put_in_place_by_the_caller() {
    let document = Document::parse("parts.toml", "[[part]]\nname = \"b\\u0031 x\"\nkind = 3\n");
    let parts = document.root().tables("part");
    let name = parts[0].required("name").unwrap();
    assert_eq!(name.text(), Some("b1 x"));
    name.fault_within(1..2, "one", "1");
    name.fault_at_key("two", "2");
    let kind = parts[0].required("kind").unwrap();
    kind.fault("three", "3");
    kind.fault_within(0..1, "four", "4");
    parts[0].fault("five", "5");
    document.fault(kind.span(), "six", "6");
    let found: Vec<(usize, usize, String, String)> =
        document.faults().into_iter().map(|fault| (fault.line, fault.column, fault.offending, fault.problem)).collect();
    let expected = [
        (1, 1, "[[part]]", "five"),
        (2, 1, "name", "two"),
        (2, 10, "\\u0031", "one"),
        (3, 8, "3", "four"),
        (3, 8, "3", "six"),
        (3, 8, "3", "three"),
    ]
    .map(|(line, column, offending, problem)| (line, column, offending.to_owned(), problem.to_owned()));
    assert_eq!(found, expected);
}

#[test]
fn tables_with_names_of_their_own_come_in_the_order_of_the_file() {
    let text = "[bearing.b]\nbore = 35\n[bearing.a]\nbore = 40\n[bearing]\nz = 1\n";
    let document = Document::parse("bearings.toml", text);
    let bearings = document.root().required_table("bearing").unwrap();
    let names: Vec<&str> = bearings.entries().iter().map(|(name, _)| *name).collect();
    assert_eq!(names, ["b", "a", "z"]);
    assert!(bearings.has("a") && !bearings.has("c"));
    bearings.finish();
    assert!(document.faults().is_empty());
}

#[test]
fn nothing_read_and_nothing_wrong_is_still_no_success() {
    let document = Document::parse("a.toml", "");
    let faults = document.outcome::<()>(None).unwrap_err();
    assert_eq!(faults.len(), 1);
    assert_eq!(document.outcome(Some(1)), Ok(1));
    assert_eq!((document.name(), document.text()), ("a.toml", ""));
}
