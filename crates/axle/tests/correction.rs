//! What a reading is taken as: nothing as long as nobody has confirmed it, and the evidence itself once somebody has.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may fail where it stands")]

#[allow(dead_code, reason = "each file of tests uses its own part of what they share")]
mod support {
    pub mod bench_sheet;
    pub mod true_vehicle;
}

use axle::{Correction, Review, Side, read_sheet, review};
use catalog::{Measurand, MistakeKind};
use quantity::{LengthExt, LengthUnit, millimetres, read_length};

use support::bench_sheet::{BenchSheet, SHIPPED};
use support::true_vehicle::TrueVehicle;

const LEFT: Option<Side> = Some(Side::Left);

fn truck() -> BenchSheet {
    BenchSheet::well_checked(TrueVehicle::light_truck())
}

/// What the left overall length reads when nothing is wrong: 29 5/8 in.
const RIGHT_LENGTH: &str = "29 5/8\"";

/// A truck whose left overall length was written an inch too long.
fn inch_too_long() -> String {
    truck().but_says(Measurand::OverallLength, LEFT, "30 5/8\"").text()
}

/// The sheet with keys added to the reading that says so.
fn with_keys(text: &str, value: &str, keys: &str) -> String {
    let reading = format!("value = '{value}'");
    assert_eq!(text.matches(&reading).count(), 1, "{text}");
    text.replace(&reading, &format!("{reading}, {keys}"))
}

fn reviewed(text: &str) -> Review {
    let sheet = read_sheet("corrected.toml", text, &SHIPPED).unwrap_or_else(|faults| panic!("{faults}\n{text}"));
    review(&sheet, &SHIPPED).expect("the shipped catalog makes sound models")
}

#[test]
fn a_correction_that_nobody_confirmed_moves_nothing() {
    let written = inch_too_long();
    let keys = format!("taken_as = '{RIGHT_LENGTH}', taken_by = \"Wenna\"");
    let mut taken = reviewed(&with_keys(&written, "30 5/8\"", &keys));
    let shown: Vec<_> = taken.readings.iter_mut().filter_map(|reading| reading.taken_as.take()).collect();
    assert_eq!(shown.len(), 1);
    assert_eq!((shown[0].written.as_str(), shown[0].taken_by.as_deref()), (RIGHT_LENGTH, Some("Wenna")));
    assert_eq!(shown[0].confirmed_by, None);
    assert_eq!(format!("{taken:?}"), format!("{:?}", reviewed(&written)), "but for what is shown, to the last digit");
}

/// Everything that is a number in a review, to its last digit.
fn numbers(review: &Review) -> String {
    let sizes: Vec<_> =
        review.dimensions.iter().map(|one| (one.kind, one.side, one.cut, one.least, one.most)).collect();
    let readings: Vec<_> = review
        .readings
        .iter()
        .map(|one| (one.value, one.count, one.standard_uncertainty, one.reconciled, one.probability_mistaken))
        .collect();
    let explained: Vec<_> = review.explanations.iter().map(|one| (one.probability, one.mistakes.len())).collect();
    let asked: Vec<_> = review.questions.iter().map(|one| (&one.words, one.gain)).collect();
    format!("{:?} {:?} {sizes:?} {readings:?} {explained:?} {asked:?}", review.verdict, review.fit_probability)
}

#[test]
fn a_confirmed_correction_is_evidence_as_if_it_had_been_written() {
    let keys = format!("taken_as = '{RIGHT_LENGTH}', confirmed_by = \"customer\"");
    let confirmed = reviewed(&with_keys(&inch_too_long(), "30 5/8\"", &keys));
    assert_eq!(numbers(&confirmed), numbers(&reviewed(&truck().text())));
    assert_ne!(numbers(&confirmed), numbers(&reviewed(&inch_too_long())), "the mistake was there");
    let reading = confirmed.readings.iter().find(|one| one.taken_as.is_some()).expect("it is shown");
    assert_eq!(reading.written, "30 5/8\"", "what was written stays");
    let told = confirmed
        .dimensions
        .iter()
        .flat_map(|one| &one.trace)
        .any(|step| step.words.contains("29 5/8\", corrected from 30 5/8\""));
    assert!(told, "the origin of a size names what was written and what counts");
}

/// A confirmed correction is a reading like any other, and may be mistaken again.
#[test]
fn a_confirmed_correction_is_doubted_like_any_reading() {
    let keys = "taken_as = '28 5/8\"', confirmed_by = \"customer\"";
    let review = reviewed(&with_keys(&inch_too_long(), "30 5/8\"", keys));
    let reading = review.readings.iter().find(|one| one.taken_as.is_some()).expect("it is shown");
    assert!(reading.probability_mistaken > 0.5, "{reading:?}");
}

/// The corrections of the likeliest explanation that holds a mistake of that kind.
fn corrections(sheet: &BenchSheet, kind: MistakeKind) -> (Review, Vec<Correction>) {
    let review = sheet.reviewed();
    let found = review.explanations.iter().flat_map(|one| &one.mistakes).find(|one| one.kind == kind);
    let found = found.unwrap_or_else(|| panic!("no {kind:?}: {:#?}", review.explanations)).corrections.clone();
    (review, found)
}

/// The correction of the only reading that a mistake spoils, and whether it is literal.
#[track_caller]
fn only(sheet: &BenchSheet, kind: MistakeKind) -> (String, bool) {
    let (_, found) = corrections(sheet, kind);
    assert_eq!(found.len(), 1, "{found:?}");
    (found[0].written.clone(), found[0].is_literal)
}

#[test]
fn a_slip_of_the_pen_is_put_right_as_it_should_have_been_written() {
    let length = |written: &str| truck().but_says(Measurand::OverallLength, LEFT, written);
    let literal = |text: &str| (text.to_owned(), true);
    assert_eq!(only(&length("30 5/8\""), MistakeKind::WholeInchSlip), literal("29 5/8\""));
    assert_eq!(only(&length("30 3/8"), MistakeKind::ReadBackFromNextInch), literal("29 5/8"));
    assert_eq!(only(&length("29 1/8\""), MistakeKind::TickSlip), literal("29 5/8\""));
    let swapped = truck().but_says(Measurand::BrakeOffset, None, "2.63");
    assert_eq!(only(&swapped, MistakeKind::DigitsSwapped), literal("2.36"));
}

#[test]
fn sides_that_were_swapped_get_each_others_words() {
    let right = Some(Side::Right);
    let sheet = truck();
    let reads = |side| sheet.vehicle().reads(Measurand::Reach, side);
    let (on_left, on_right) = (reads(right), reads(LEFT));
    let sheet = sheet.but_reads(Measurand::Reach, LEFT, on_left).but_reads(Measurand::Reach, right, on_right);
    let (review, found) = corrections(&sheet, MistakeKind::LeftRightSwapped);
    assert!(!found.is_empty());
    for one in &found {
        let own = &review.readings[one.reading];
        let other = |reading: &&axle::ReadingReview| {
            reading.measurand == own.measurand && reading.side.is_some() && reading.side == own.side.map(Side::other)
        };
        let other = review.readings.iter().find(other).expect("both sides were read");
        assert_eq!((&one.written, one.is_literal), (&other.written, true));
    }
}

/// The wrong face of the flange: what was read and the flange, whatever the other lengths say.
#[test]
fn a_mistake_of_place_is_put_right_by_the_size_of_the_part_and_not_by_the_other_readings() {
    let sheet = truck();
    let (right, flange) = (sheet.vehicle().reads(Measurand::OverallLength, LEFT), 0.42);
    let sheet = sheet.but_reads(Measurand::OverallLength, LEFT, right - flange);
    let (review, found) = corrections(&sheet, MistakeKind::WrongFlangeFace);
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(!found[0].is_literal);
    let written = read_length(&review.readings[found[0].reading].written, None).expect("it is a size").value();
    let corrected = read_length(&found[0].written, None).expect("it is a size").value();
    let thickness = review
        .readings
        .iter()
        .find(|one| one.measurand == Measurand::FlangeThickness)
        .and_then(|one| one.value)
        .expect("it was read");
    assert!(((corrected - written) - thickness).millimetres().abs() < 0.1, "{found:?}");
}

#[test]
fn what_no_mistake_explains_has_no_correction() {
    let sheet = truck().but_says(Measurand::OverallLength, LEFT, "33 7/64\"");
    let (_, found) = corrections(&sheet, MistakeKind::Anything);
    assert_eq!(found, []);
}

#[test]
fn a_length_is_restated_as_it_was_written_or_not_at_all() {
    let restated = |text: &str, millimetre: f64| {
        read_length(text, Some(LengthUnit::Inch)).expect("it is a length").restated(millimetres(millimetre))
    };
    let inch = 25.4;
    assert_eq!(restated("2' 7 5/16\"", 30.3125 * inch).as_deref(), Some("30 5/16\""));
    assert_eq!(restated("29\"", 29.5 * inch).as_deref(), Some("29 1/2\""));
    assert_eq!(restated("752,5 mm", 753.5).as_deref(), Some("753,5 mm"));
    assert_eq!(restated("752 mm", 725.0).as_deref(), Some("725 mm"));
    assert_eq!(restated("29 5/8", 29.6001 * inch), None);
    assert_eq!(restated("29 5/8", -29.0 * inch), None);
}
