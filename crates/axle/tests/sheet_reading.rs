//! Sheets that can be read: what comes out of them, and that no text, however odd, breaks the reader.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may fail where it stands")]

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use axle::{Retainer, Sheet, Side, Use, Value, read_sheet};
use catalog::{BearingKind, BrakeKind, Catalog, Condition, MEASURANDS, Measurand, Sides};
use placed::Faults;
use proptest::prelude::*;
use quantity::{LengthUnit, inches, millimetres, read_thread};

static SHIPPED: LazyLock<Catalog> = LazyLock::new(|| Catalog::shipped().expect("the shipped catalog has no fault"));

fn read(text: &str) -> Result<Sheet, Faults> {
    read_sheet("order.toml", text, &SHIPPED)
}

fn sound(text: &str) -> Sheet {
    read(text).unwrap_or_else(|faults| panic!("{faults}"))
}

/// A file of the repository.
fn repository(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").join(path)
}

/// Name and text of every TOML file in a folder of the repository, by name.
fn toml_files(folder: &str) -> Vec<(String, String)> {
    let mut files: Vec<(String, String)> = fs::read_dir(repository(folder))
        .expect("the folder is there")
        .map(|entry| entry.expect("it can be listed").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .map(|path| {
            let name = path.file_name().expect("it has a name").to_string_lossy().into_owned();
            (name, fs::read_to_string(&path).expect("it can be read"))
        })
        .collect();
    files.sort();
    files
}

fn manual() -> String {
    fs::read_to_string(repository("docs/order-sheet.md")).expect("the manual is there")
}

/// The example in the manual: its first block of TOML.
fn manual_example() -> String {
    let manual = manual();
    let (_, from_example) = manual.split_once("```toml\n").expect("the manual has an example");
    let (example, _) = from_example.split_once("```").expect("the example ends");
    example.to_owned()
}

/// The lengths of a reading in inches.
fn lengths(sheet: &Sheet, measurand: Measurand, side: Option<Side>) -> Vec<Vec<String>> {
    sheet
        .readings
        .iter()
        .filter(|reading| reading.measurand == measurand && reading.side == side)
        .map(|reading| match &reading.value {
            Value::Length(repeats) => repeats.iter().map(|repeat| repeat.text().to_owned()).collect(),
            Value::Count(count) => panic!("{count} is a count"),
        })
        .collect()
}

#[test]
fn the_example_of_the_manual_is_read_whole() {
    let sheet = sound(&manual_example());
    assert_eq!(sheet.reference, "B-2041");
    assert_eq!(sheet.axle.as_deref(), Some("stout housing, drums, from the hay truck"));
    assert_eq!(sheet.use_, Use::Street);
    assert_eq!(sheet.unit, Some(LengthUnit::Inch));
    assert_eq!(sheet.differential.as_deref(), Some("open"));
    assert_eq!(sheet.wanted, [Side::Left, Side::Right]);
    assert_eq!(sheet.note.as_deref(), Some("the owner comes by on Thursdays"));
    assert_eq!(sheet.fitting.bearings_by_shop, Some(true));
    assert_eq!(sheet.fitting.studs_by_shop, Some(true));

    let parts = &sheet.parts;
    assert_eq!(parts.bearing.as_deref(), Some("40x80x18 ball"));
    assert_eq!(parts.bearing_kind, Some(BearingKind::Ball));
    assert_eq!(parts.housing_end.as_deref(), Some("80 mm bore, 3.40 x 2.60 in"));
    assert_eq!(parts.brake.row.as_deref(), Some("drum 10 x 2 1/2 in"));
    assert_eq!(parts.brake.kind, Some(BrakeKind::Drum));
    assert!(!parts.brake.changed);
    assert_eq!(parts.brake.required_offset, Some(inches(2.36)));
    assert_eq!(parts.brake.retainer, Some(Retainer::Plate));
    assert!(!parts.brake.bracket_sent_in);
    assert_eq!(parts.stud, read_thread("1/2-20").ok());
    assert_eq!(parts.stud_hole, Some(inches(0.606)));
    assert_eq!(parts.spline_series.as_deref(), Some("24/48, 45°, fillet root"));

    assert_eq!(lengths(&sheet, Measurand::FlangeThickness, None), [["0.42"]]);
    assert_eq!(lengths(&sheet, Measurand::ShoulderDistance, None), [["2.262", "2.265", "2.264"]]);
    assert_eq!(lengths(&sheet, Measurand::OverallLength, Some(Side::Right)), [["29 15/16\""]]);
    // Separate readings stay apart; repeats stay together.
    assert_eq!(lengths(&sheet, Measurand::BrakeOffset, Some(Side::Left)), [["2 3/8"], ["2.36"]]);
}

#[test]
fn a_reading_keeps_how_it_was_taken() {
    let sheet = sound(&manual_example());
    let of = |measurand| sheet.readings.iter().find(|reading| reading.measurand == measurand).expect("it was read");
    let race = of(Measurand::RaceDistance);
    assert_eq!(race.instrument.as_deref(), Some("depth gauge"));
    assert_eq!(race.conditions, [Condition::Rusty]);
    assert_eq!(race.by.as_deref(), Some("owner"));
    assert_eq!(race.pin_diameter, None);

    let over_pins = of(Measurand::SplineOverPins);
    assert_eq!(over_pins.pin_diameter, Some(inches(0.080)));

    let thickness = of(Measurand::FlangeThickness);
    assert_eq!((thickness.instrument.as_deref(), thickness.by.as_deref()), (None, None));

    let Value::Length(outside) = &of(Measurand::BearingOutside).value else { panic!("it is a length") };
    assert_eq!(outside[0].value(), millimetres(80.0));
    assert_eq!(outside[0].unit(), LengthUnit::Millimetre);
}

#[test]
fn counts_are_read_from_numbers_and_from_text() {
    let text = |count: &str| {
        format!("[order]\nreference = \"A\"\nuse = \"tow\"\nsides = [\"left\"]\n[shared]\ntooth_count = {count}\n")
    };
    for written in ["31", "\"31\"", "{ value = 31 }"] {
        let sheet = sound(&text(written));
        assert!(matches!(sheet.readings[0].value, Value::Count(31)), "{written}");
    }
}

#[test]
fn readings_come_in_the_order_of_the_sheet_wherever_its_sections_stand() {
    let sheet = sound(
        "[right]\nreach = '28\"'\n[shared]\nhousing_width = '55\"'\nflange_diameter = '6\"'\n[left]\nreach = '27\"'\n\
         [order]\nreference = \"A\"\nuse = \"off-road\"\nsides = [\"right\", \"left\"]\n",
    );
    let order: Vec<_> = sheet.readings.iter().map(|reading| (reading.measurand, reading.position.line)).collect();
    assert_eq!(
        order,
        [(Measurand::Reach, 2), (Measurand::HousingWidth, 4), (Measurand::FlangeDiameter, 5), (Measurand::Reach, 7)]
    );
    assert_eq!(sheet.wanted, [Side::Left, Side::Right]);
}

#[test]
fn a_sheet_that_lacks_nearly_everything_is_no_fault() {
    let sheet = sound("[order]\nreference = \"A\"\nuse = \"competition\"\nsides = [\"right\"]\n");
    assert_eq!(sheet.wanted, [Side::Right]);
    assert!(sheet.readings.is_empty());
    assert_eq!(sheet.unit, None);
    assert_eq!(sheet.fitting, axle::Fitting::default());
    assert_eq!(sheet.parts.bearing, None);
}

#[test]
fn without_a_unit_each_size_may_name_its_own() {
    let sheet = sound(
        "[order]\nreference = \"A\"\nuse = \"tow\"\nsides = [\"left\"]\n\
         [left]\nreach = [\"676 mm\", '26 5/8\"', \"67.6 cm\"]\n",
    );
    assert_eq!(lengths(&sheet, Measurand::Reach, Some(Side::Left)), [["676 mm", "26 5/8\"", "67.6 cm"]]);
}

#[test]
fn tables_may_stand_under_headers_of_their_own() {
    let sheet = sound(
        "[order]\nreference = \"A\"\nuse = \"tow\"\nsides = [\"left\"]\nunit = \"inches\"\n\
         [left.reach]\nvalue = '26 5/8'\ninstrument = \"tape\"\n\
         [[left.brake_offset]]\nvalue = 2.36\n[[left.brake_offset]]\nvalue = 2.37\n",
    );
    assert_eq!(lengths(&sheet, Measurand::Reach, Some(Side::Left)), [["26 5/8"]]);
    assert_eq!(lengths(&sheet, Measurand::BrakeOffset, Some(Side::Left)), [["2.36"], ["2.37"]]);
}

#[test]
fn every_order_of_the_demo_is_read() {
    let orders = toml_files("demo/orders");
    assert!(orders.len() >= 26, "only {} orders", orders.len());
    for (name, text) in orders {
        if let Err(faults) = read_sheet(&name, &text, &SHIPPED) {
            panic!("{faults}");
        }
        let truth = repository("demo/truth").join(format!("{}.toml", &name[..2]));
        assert!(truth.exists(), "nothing says what is true of {name}");
    }
}

#[test]
fn the_shop_of_the_demo_has_its_own_rows() {
    let files: Vec<(String, String)> = toml_files("demo/shop/catalog");
    let catalog = Catalog::with_folder(&files).unwrap_or_else(|faults| panic!("{faults}"));
    let orders = toml_files("demo/shop/orders");
    assert!(!files.is_empty() && !orders.is_empty());
    for (name, text) in orders {
        if let Err(faults) = read_sheet(&name, &text, &catalog) {
            panic!("{faults}");
        }
        // Its rows are not among the shipped ones, so that the folder is what makes the difference.
        let faults = read_sheet(&name, &text, &SHIPPED).err().unwrap_or_default();
        let offending: Vec<&str> = faults.iter().map(|fault| fault.offending.as_str()).collect();
        assert_eq!(
            offending,
            ["\"open, measured on the bench\"", "\"80 mm bore, 3.56 x 2.36 in\"", "\"drum 10 1/2 x 2 in\""]
        );
    }
}

#[test]
fn the_manual_lists_every_reading_with_its_words_and_section() {
    let manual = manual();
    for (measurand, key) in MEASURANDS {
        let row = SHIPPED.measurand(measurand);
        let section = match row.sides {
            Sides::Each => "`[left]` or `[right]`",
            Sides::Whole => "`[shared]`",
            Sides::Either => "any of the three",
        };
        let line = format!("| `{key}` | {} | {section} | {} |", row.words, row.instrument);
        assert!(manual.lines().any(|candidate| candidate == line), "the manual lacks the line {line}");
    }
}

#[test]
fn the_manual_lists_every_condition() {
    let manual = manual();
    for (_, phrase) in catalog::CONDITIONS {
        assert!(manual.contains(&format!("`\"{phrase}\"`")), "{phrase}");
    }
}

/// Bits that a broken sheet is likely to be made of.
fn scrap() -> impl Strategy<Value = String> {
    prop_oneof![
        Just("[".to_owned()),
        Just("]".to_owned()),
        Just("{ value = ".to_owned()),
        Just("}".to_owned()),
        Just("\"".to_owned()),
        Just("'".to_owned()),
        Just(" = ".to_owned()),
        Just(",".to_owned()),
        Just("\r\n".to_owned()),
        Just("\t".to_owned()),
        Just("pin".to_owned()),
        Just("1e999".to_owned()),
        Just("-0.0".to_owned()),
        Just("[[left]]".to_owned()),
        Just("31 5/0\"".to_owned()),
        Just("″½°é\u{feff}\u{0}".to_owned()),
        "[a-z_]{1,8}",
        "[0-9./ ]{1,6}",
        any::<String>(),
    ]
}

proptest! {
    #[test]
    fn no_text_breaks_the_reader(text in any::<String>()) {
        let _ = read(&text);
    }

    /// A sound sheet with pieces cut out and scrap put in, which reaches deeper than random text does. Whatever comes out
    /// is a sheet or at least one fault that lies within the text.
    #[test]
    fn no_spoilt_sheet_breaks_the_reader(
        edits in proptest::collection::vec((0.0..1.0f64, 0usize..12, scrap()), 1..6),
    ) {
        let mut letters: Vec<char> = manual_example().chars().collect();
        for (place, cut, scrap) in edits {
            let start = ((letters.len() as f64) * place) as usize;
            let end = (start + cut).min(letters.len());
            letters.splice(start..end, scrap.chars());
        }
        let text: String = letters.into_iter().collect();
        if let Err(faults) = read_sheet("order.toml", &text, &SHIPPED) {
            prop_assert!(!faults.is_empty());
            for fault in faults.iter() {
                prop_assert!(fault.line >= 1 && fault.column >= 1);
                prop_assert!(fault.line <= text.lines().count().max(1) + 1, "{fault}");
                prop_assert!(!fault.problem.is_empty() && !fault.accepted.is_empty());
            }
        }
    }

    /// Any value under any key of a reading, in any section.
    #[test]
    fn no_value_breaks_the_reader(
        section in prop_oneof![Just("shared"), Just("left"), Just("right")],
        index in 0..MEASURANDS.len(),
        number in prop_oneof![any::<f64>(), 0.0..100.0f64],
        form in 0..6usize,
    ) {
        let number = if number.is_finite() { format!("{number:?}") } else { "nan".to_owned() };
        let value = match form {
            0 => number,
            1 => format!("\"{number} mm\""),
            2 => format!("[{number}, '1\"']"),
            3 => format!("{{ value = {number}, pin = {number} }}"),
            4 => format!("[{{ value = {number} }}, {{ value = [{number}, 1] }}]"),
            _ => format!("[[{number}], true]"),
        };
        let key = MEASURANDS[index].1;
        let text = format!(
            "[order]\nreference = \"A\"\nuse = \"tow\"\nsides = [\"left\"]\nunit = \"in\"\n[{section}]\n{key} = {value}\n"
        );
        if let Ok(sheet) = read(&text) {
            let row_accepts = |reading: &axle::Reading| match &reading.value {
                Value::Count(count) => (1..=999).contains(count),
                Value::Length(repeats) => repeats.iter().all(|repeat| {
                    let (least, most) = SHIPPED.measurand(reading.measurand).accepted;
                    repeat.value() >= least && repeat.value() <= most
                }),
            };
            prop_assert!(!sheet.readings.is_empty() && sheet.readings.iter().all(row_accepts));
        }
    }
}

#[test]
fn the_manual_lists_every_input_of_the_load_cases_with_its_section() {
    let manual = manual();
    for input in catalog::LoadInput::all() {
        let line = format!("| `[{}]` `{}` | {} |", input.section(), input.key(), input.words());
        assert!(manual.lines().any(|candidate| candidate.starts_with(&line)), "the manual lacks the line {line}");
    }
}
