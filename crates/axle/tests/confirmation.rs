//! What has to be confirmed before anything is cut, however well the rest of the sheet hangs together.
//!
//! Each test spoils one line of a clean order of the demo that may be cut as it stands.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may fail where it stands")]

#[allow(dead_code, reason = "each file of tests uses its own part of what they share")]
mod support {
    pub mod repository;
}

use axle::{Review, Verdict, read_sheet, review};
use catalog::{Catalog, Measurand};

use support::repository::toml_files;

/// The clean order with one line replaced, the line that begins with that key.
fn spoiled(key: &str, line: &str) -> Review {
    let (_, text) =
        toml_files("demo/orders").into_iter().find(|(name, _)| name.starts_with("01-")).expect("it is there");
    let catalog = Catalog::shipped().expect("the shipped catalog is clean");
    let changed: Vec<&str> = text.lines().map(|old| if old.starts_with(key) { line } else { old }).collect();
    assert!(changed.contains(&line), "no line begins with {key}");
    let sheet = read_sheet("sheet.toml", &changed.join("\n"), &catalog).unwrap_or_else(|faults| panic!("{faults}"));
    review(&sheet, &catalog).expect("the catalog is sound")
}

/// Asks because of that, and asks for the reading again.
fn asks(review: &Review, because: &str, again: Option<Measurand>) {
    assert_eq!(review.verdict, Verdict::Ask, "{:?}", review.reasons);
    let said = review.reasons.iter().any(|reason| reason.verdict == Verdict::Ask && reason.words.contains(because));
    assert!(said, "{:?}", review.reasons);
    if let Some(measurand) = again {
        let asked = |question: &axle::Question| question.required && question.measurand == Some(measurand);
        assert!(review.questions.iter().any(asked), "{:?}", review.questions);
    }
}

#[test]
fn the_clean_order_is_cut() {
    let line = r#"flange_thickness      = "0.421""#;
    assert_eq!(spoiled("flange_thickness", line).verdict, Verdict::Cut);
}

#[test]
fn repeats_that_contradict_each_other_are_taken_again() {
    let line = r#"shoulder_distance = { value = ["2.250", "2.950", "1.550"], instrument = "depth gauge" }"#;
    asks(
        &spoiled("shoulder_distance", line),
        "The repeats of the shoulder distance",
        Some(Measurand::ShoulderDistance),
    );
    let line = r#"register_diameter = ["2.80", "2.76"]"#;
    asks(
        &spoiled("register_diameter", line),
        "The repeats of the register diameter",
        Some(Measurand::RegisterDiameter),
    );
}

#[test]
fn a_size_whose_only_reading_is_probably_wrong_is_not_cut_to_a_guess() {
    let because = "the other readings say only roughly what it should be";
    let thick = spoiled("flange_thickness", r#"flange_thickness = "2.0""#);
    asks(&thick, because, Some(Measurand::FlangeThickness));
    let pilot = spoiled("wheel_pilot_diameter", r#"wheel_pilot_diameter = "2.900""#);
    asks(&pilot, because, Some(Measurand::WheelPilotDiameter));
}

#[test]
fn a_reading_that_nobody_can_explain_is_taken_again() {
    let ring = spoiled("ring_seat_diameter", r#"ring_seat_diameter = "1.40""#);
    asks(&ring, "in a way that no known mistake explains", Some(Measurand::RingSeatDiameter));
}

#[test]
fn a_stud_hole_that_does_not_suit_the_thread_is_asked_about() {
    asks(
        &spoiled("stud_hole", r#"stud_hole = "0.500""#),
        "does not suit a press-in stud 1/2-20",
        Some(Measurand::StudHole),
    );
}

#[test]
fn a_part_that_the_sheet_names_and_the_readings_contradict_is_asked_about() {
    let other = spoiled("series", r#"series = "16/32, 30°, flat root""#);
    asks(&other, "The sheet names the spline 16/32, 30°, flat root, and the readings point to", None);
}
