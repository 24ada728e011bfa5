//! Instruments: how a reading, or several of one thing, become an uncertainty budget.

#![allow(clippy::unwrap_used, reason = "a test may fail where it stands")]

use quantity::{
    Instrument, LengthExt, Limit, REPEATABILITY_DEGREES_OF_FREEDOM, Shape, WrittenLength, inches, millimetres,
    read_length,
};

/// An invented tape with a scale in sixteenths of an inch.
fn tape() -> Instrument {
    Instrument {
        name: "tape".to_owned(),
        limit: Limit::HalfWidth {
            constant: millimetres(0.3),
            per_metre: millimetres(0.2),
            whole_metres: true,
            shape: Shape::Rectangular,
        },
        step: inches(1.0 / 16.0),
        set_up: millimetres(0.4),
        repeatability: millimetres(0.8),
        source: "invented".to_owned(),
    }
}

fn written(texts: &[&str]) -> Vec<WrittenLength> {
    texts.iter().map(|text| read_length(text, None).unwrap()).collect()
}

fn contributions(instrument: &Instrument, texts: &[&str]) -> Vec<f64> {
    instrument.budget(&written(texts)).components().iter().map(|component| component.contribution()).collect()
}

fn close(found: f64, expected: f64) -> bool {
    (found - expected).abs() <= 1e-12 * expected.abs().max(1.0)
}

#[test]
fn one_reading_has_four_components() {
    let found = contributions(&tape(), &["31 5/16\""]);
    let step = 25.4 / 16.0;
    let expected = [0.5 / 3_f64.sqrt(), step / 12_f64.sqrt(), 0.4, 0.8];
    for (found, expected) in found.iter().zip(expected) {
        assert!(close(*found, expected), "{found} {expected}");
    }
    let all: f64 = expected.iter().map(|part| part * part).sum();
    let combined = tape().standard_uncertainty(&written(&["31 5/16\""]));
    assert!(close(combined.millimetres(), all.sqrt()));
    let degrees = tape().budget(&written(&["31\""])).components()[3].degrees_of_freedom;
    assert_eq!(degrees, REPEATABILITY_DEGREES_OF_FREEDOM);
}

#[test]
fn repeats_average_scatter_and_nothing_else() {
    let one = contributions(&tape(), &["31 5/16\""]);
    let four = contributions(&tape(), &["31 5/16\"", "31 5/16\"", "31 5/16\"", "31 5/16\""]);
    assert_eq!(one[..3], four[..3]);
    // Nothing scatters: eight degrees of what was known, three of nought, and a mean of four.
    let pooled = (8.0 * 0.8_f64.powi(2) / 11.0).sqrt() / 2.0;
    assert!(close(four[3], pooled), "{} {pooled}", four[3]);
}

#[test]
fn wide_scatter_counts_more_than_what_was_known() {
    // 795 and 799 mm: the squares of the deviations are 4 + 4.
    let found = contributions(&tape(), &["795 mm", "799 mm"]);
    let pooled = ((8.0 * 0.64 + 8.0) / 9.0_f64).sqrt() / 2_f64.sqrt();
    assert!(close(found[3], pooled), "{} {pooled}", found[3]);
    assert!(found[3] > 0.8 / 2_f64.sqrt());
}

#[test]
fn coarse_writing_widens_the_resolution() {
    // Half-way between: one reading to a sixteenth, one to a whole centimetre.
    let found = contributions(&tape(), &["31 5/16\"", "80 cm"]);
    let mean_step = (25.4 / 16.0 + 10.0) / 2.0;
    assert!(close(found[1], mean_step / 12_f64.sqrt()));
}

#[test]
fn a_stated_standard_uncertainty_is_taken_as_it_is() {
    let instrument = Instrument { limit: Limit::Standard(inches(1.0 / 32.0)), ..tape() };
    assert!(close(contributions(&instrument, &["31\""])[0], 25.4 / 32.0));
}

#[test]
fn no_reading_is_no_knowledge() {
    assert_eq!(tape().budget(&[]).combined(), f64::INFINITY);
    assert_eq!(tape().planned_budget(inches(31.0), 0).combined(), f64::INFINITY);
}

#[test]
fn a_planned_reading_is_as_good_as_one_that_turns_out_as_expected() {
    let planned = tape().planned_budget(inches(31.3125), 1);
    assert_eq!(planned, tape().budget(&written(&["31 5/16\""])));
    let three = tape().planned_budget(inches(31.3125), 3);
    assert!(close(three.components()[3].contribution(), 0.8 / 3_f64.sqrt()));
    assert_eq!(three.components()[3].degrees_of_freedom, 10.0);
    let better = tape().planned_standard_uncertainty(inches(31.3125), 3);
    assert!(better < tape().planned_standard_uncertainty(inches(31.3125), 1));
}
