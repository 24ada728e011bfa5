//! Faults of files, rows and values of any topic.

use catalog::Catalog;

use crate::files::{expect_fault, with};

#[test]
fn an_unknown_file() {
    expect_fault("bearing.toml", "§", "\"bearing.toml\" is not a file of the catalog", "bearings.toml, perhaps");
    expect_fault("own/notes.txt", "§", "is not a file of the catalog", "one of instruments.toml");
}

#[test]
fn wrong_syntax() {
    let faults = with("steels.toml", "[[steel]]\ngrade = \"4140\ntreatment = \"x\"\n").unwrap_err();
    let first = faults.iter().next().unwrap();
    assert_eq!((first.file.as_str(), first.line), ("steels.toml", 2));
}

#[test]
fn an_unknown_array() {
    expect_fault(
        "bearings.toml",
        "[[§bearings]]\nname = \"x\"\n",
        "`bearings` is not known here, did you mean `bearing`?",
        "bearing",
    );
}

#[test]
fn an_unknown_key() {
    expect_fault(
        "bearings.toml",
        "[[bearing]]\nname = \"40x80x18 ball\"\n§wieght = 2\nsource = \"shop: x\"\n",
        "`wieght` is not known here, did you mean `weight`?",
        "weight",
    );
}

#[test]
fn a_key_within_a_table_in_braces() {
    expect_fault(
        "bearings.toml",
        "[[bearing]]\nname = \"40x80x18 ball\"\nrace_offset = { mean = \"0 mm\", §devation = \"1 mm\" }\nsource = \"shop: x\"\n",
        "did you mean `deviation`?",
        "deviation",
    );
}

#[test]
fn names_and_sources_that_no_page_can_show() {
    for (letter, code) in
        [("\\u0000", "U+0000"), ("\\u001b", "U+001B"), ("\\n", "U+000A"), ("\\u202e", "U+202E"), ("\\u2028", "U+2028")]
    {
        let name = format!("[[bearing]]\nname = §\"40x80{letter}x18 ball\"\n");
        expect_fault("bearings.toml", &name, &format!("`name` holds the character {code}"), "on one line");
    }
    let long = format!("[[bearing]]\nname = §\"{}\"\n", "b".repeat(300_000));
    expect_fault("bearings.toml", &long, "`name` has 300000 letters", "at most 80 letters");
    let grade = format!("[[steel]]\ngrade = §\"{}\"\ntreatment = \"as rolled\"\n", "4".repeat(81));
    expect_fault("steels.toml", &grade, "`grade` has 81 letters", "at most 80 letters");
    let source = format!("[[differential]]\nname = \"open\"\nsource = §\"shop: {}\"\n", "x".repeat(1000));
    expect_fault("differentials.toml", &source, "`source` has 1006 letters", "at most 1000 letters");
}

#[test]
fn a_row_without_its_name() {
    expect_fault("brakes.toml", "§[[brake]]\nkind = \"drum\"\nsource = \"shop: x\"\n", "`name` is missing", "name");
}

#[test]
fn a_new_row_that_is_not_whole_names_every_missing_key() {
    let faults = with("brakes.toml", "\n[[brake]]\nname = \"new\"\nkind = \"drum\"\n").unwrap_err();
    let missing: Vec<(&str, usize, usize)> =
        faults.iter().map(|fault| (fault.problem.as_str(), fault.line, fault.column)).collect();
    assert_eq!(
        missing,
        [
            ("`bore` is missing in [[brake]]", 2, 1),
            ("`inside` is missing in [[brake]]", 2, 1),
            ("`required_offset` is missing in [[brake]]", 2, 1),
            ("`source` is missing in [[brake]]", 2, 1),
        ]
    );
}

#[test]
fn the_same_row_twice_in_one_file() {
    let row = "[[steel]]\ngrade = \"4140\"\ntreatment = \"annealed\"\nyield_strength = 400\nsource = \"shop: x\"\n";
    expect_fault(
        "steels.toml",
        &format!("{row}\n§{row}"),
        "steel 4140, annealed is given twice in this file",
        "each row once",
    );
}

#[test]
fn an_override_without_a_source() {
    expect_fault(
        "bearings.toml",
        "§[[bearing]]\nname = \"40x80x18 ball\"\nweight = 2\n",
        "`source` is missing",
        "source",
    );
}

#[test]
fn an_empty_source() {
    let text = "[[bearing]]\nname = \"40x80x18 ball\"\nsource = §\" \"\n";
    expect_fault("bearings.toml", text, "`source` is empty", "text that is not empty");
    let text = "[[bearing]]\nname = \"40x80x18 ball\"\nsource = §\"shop: \"\n";
    expect_fault("bearings.toml", text, "nothing stands behind `shop:`", "shop: measured on the bench");
}

#[test]
fn removing() {
    let row = |rest: &str| format!("[[brake]]\nname = \"disc 12 1/4 in\"\n{rest}");
    expect_fault("brakes.toml", &row("remove = §false\n"), "a row that stays needs no such key", "true");
    expect_fault("brakes.toml", &row("remove = §\"yes\"\n"), "`remove`", "true or false");
    expect_fault("brakes.toml", &row("remove = true\n§kind = \"disc\"\n"), "`kind` is not known here", "remove");
    expect_fault(
        "brakes.toml",
        "[[brake]]\nname = \"disc 12 in\"\nremove = §true\n",
        "there is no disc 12 in to remove",
        "a row that the catalog holds",
    );
}

#[test]
fn removing_every_row() {
    let names: Vec<String> = Catalog::shipped().unwrap().brakes.into_iter().map(|row| row.name).collect();
    let rows: Vec<String> = names.iter().map(|name| format!("[[brake]]\nname = {name:?}\nremove = true\n")).collect();
    expect_fault(
        "brakes.toml",
        &format!("§{}", rows.concat()),
        "the catalog would hold no brake at all",
        "at least one [[brake]]",
    );
}

fn bore(written: &str) -> String {
    format!("[[bearing]]\nname = \"40x80x18 ball\"\nbore = {written}\nsource = \"shop: x\"\n")
}

#[test]
fn lengths() {
    expect_fault("bearings.toml", &bore("§\"0 mm\""), "a size of nothing", "larger than 0");
    expect_fault("bearings.toml", &bore("\"§40\""), "the length has no unit", "the number with its unit");
    expect_fault("bearings.toml", &bore("§40"), "the length has no unit", "the number with its unit");
    expect_fault("bearings.toml", &bore("\"§forty mm\""), "\"forty\" is not a number", "a number with its unit");
    expect_fault("bearings.toml", &bore("\"§-40 mm\""), "a length is not negative", "a length of nought or more");
    expect_fault("bearings.toml", &bore("§\"7000 mm\""), "larger than anything in a catalog of axle parts", "200 in");
    expect_fault("bearings.toml", &bore("§true"), "`bore`", "a length with its unit");
}

#[test]
fn signed_lengths() {
    let offset = |mean: &str| {
        format!(
            "[[bearing]]\nname = \"40x80x18 ball\"\nrace_offset = {{ mean = {mean}, deviation = \"0.05 mm\" }}\nsource = \"shop: x\"\n"
        )
    };
    expect_fault("bearings.toml", &offset("§\"--1 mm\""), "more than one sign", "one sign or none");
    expect_fault("bearings.toml", &offset("\"-1 §furlong\""), "\"furlong\" is not a unit of length", "mm");
    expect_fault("bearings.toml", &offset("§-1"), "`mean`", "text in quotation marks");
}

#[test]
fn weights() {
    let weight =
        |written: &str| format!("[[bearing]]\nname = \"40x80x18 ball\"\nweight = {written}\nsource = \"shop: x\"\n");
    expect_fault("bearings.toml", &weight("§0"), "0 is out of range", "a number larger than 0, up to 1000");
    expect_fault("bearings.toml", &weight("§-1.5"), "-1.5 is out of range", "a number larger than 0");
    expect_fault("bearings.toml", &weight("§1001"), "1001 is out of range", "up to 1000");
    expect_fault("bearings.toml", &weight("§nan"), "not a finite number", "a finite number");
}

#[test]
fn ranges() {
    let seat = |written: &str| {
        format!("[[bearing]]\nname = \"40x80x18 ball\"\nseat_interference = {written}\nsource = \"shop: x\"\n")
    };
    expect_fault(
        "bearings.toml",
        &seat("§[\"0.02 mm\", \"0.01 mm\"]"),
        "the smallest is larger than the largest",
        "the smallest first",
    );
    expect_fault("bearings.toml", &seat("§[\"0.02 mm\"]"), "a list of 1", "a list of two");
    expect_fault("bearings.toml", &seat("§\"0.02 mm\""), "`seat_interference`", "a list in brackets");
}

#[test]
fn faults_of_several_files_come_together() {
    let file = |name: &str, text: &str| (name.to_owned(), text.to_owned());
    let faults =
        Catalog::with_folder(&[file("steels.toml", "[[steel]]\ngrade = \"4140\"\n"), file("brakes.toml", "x = 1\n")])
            .unwrap_err();
    let files: Vec<&str> = faults.iter().map(|fault| fault.file.as_str()).collect();
    assert_eq!(files, ["brakes.toml", "steels.toml"]);
}
