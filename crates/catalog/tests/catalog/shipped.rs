//! The shipped catalog is clean and whole.

use catalog::{BearingKind, Catalog, MEASURANDS, MISTAKES, MistakeKind, Source};
use quantity::LengthExt;

use crate::files::with;

#[test]
fn the_shipped_catalog_has_no_fault() {
    if let Err(faults) = Catalog::shipped() {
        panic!("{faults}");
    }
}

#[test]
fn every_measurand_and_every_mistake_has_its_row() {
    let catalog = Catalog::shipped().unwrap();
    for (measurand, key) in MEASURANDS {
        assert_eq!(catalog.measurand(measurand).measurand, measurand, "{key}");
        assert!(catalog.measurand(measurand).how.ends_with('.'), "{key} is told in whole sentences");
    }
    for (kind, key) in MISTAKES {
        let row = catalog.mistake(kind);
        assert_eq!(row.kind, kind, "{key}");
        // The words end a sentence that begins "the reading was probably …".
        assert!(row.words.starts_with(char::is_lowercase) && !row.words.ends_with('.'), "{key}: {}", row.words);
    }
}

#[test]
fn slips_of_fixed_size_go_both_ways_or_their_own() {
    let catalog = Catalog::shipped().unwrap();
    for kind in [MistakeKind::TickSlip, MistakeKind::WholeInchSlip, MistakeKind::HookBent, MistakeKind::Miscounted] {
        let mean: f64 = catalog.mistake(kind).sizes.iter().map(|(size, share)| size.inches() * share).sum();
        assert!(mean.abs() < 1e-12, "{kind:?} goes one way on the whole, by {mean}");
    }
    let sign = |kind| catalog.mistake(kind).sizes.iter().map(|(size, _)| size.value.signum()).collect::<Vec<_>>();
    for kind in [MistakeKind::TapeSlanted, MistakeKind::TapeBowed, MistakeKind::BurntInch, MistakeKind::RustOrPaint] {
        assert!(sign(kind).iter().all(|sign| *sign == 1.0), "{kind:?} makes a reading too big");
    }
    for kind in [MistakeKind::CaseLengthLeftOut, MistakeKind::WornSeat, MistakeKind::OddCountAcross] {
        assert_eq!(sign(kind), [-1.0], "{kind:?} makes a reading too small");
    }
}

/// The file `mistakes.toml` says that a usual reading is spoilt 4 to 8 times in a hundred; here for an overall length, with
/// the mistakes that geometry gives it.
#[test]
fn a_usual_length_is_spoilt_four_to_eight_times_in_a_hundred() {
    let catalog = Catalog::shipped().unwrap();
    let listed = catalog.mistakes.iter().filter(|row| row.spoils.contains(&catalog::Measurand::OverallLength));
    let geometric = [
        MistakeKind::WrongFlangeFace,
        MistakeKind::PilotCountedIn,
        MistakeKind::DrumLeftOn,
        MistakeKind::LeftRightSwapped,
        MistakeKind::OneSideForOther,
    ];
    let rate: f64 = listed.chain(geometric.map(|kind| catalog.mistake(kind))).map(|row| row.rate).sum();
    assert!((0.04..=0.08).contains(&rate), "{rate}");
}

#[test]
fn every_outside_has_two_housing_ends_and_every_housing_end_a_bearing() {
    let catalog = Catalog::shipped().unwrap();
    // The bore is the outside with the H7 fit of ISO 286-2 at mid tolerance, 0.015 to 0.018 mm.
    let fits = |outside: f64, bore: f64| (0.010..=0.020).contains(&(bore - outside));
    for bearing in &catalog.bearings {
        let outside = bearing.outside.millimetres();
        let ends = catalog.housing_ends.iter().filter(|end| fits(outside, end.bore_diameter.millimetres()));
        assert!(ends.count() >= 2, "{}", bearing.name);
    }
    for end in &catalog.housing_ends {
        let bore = end.bore_diameter.millimetres();
        assert!(catalog.bearings.iter().any(|bearing| fits(bearing.outside.millimetres(), bore)), "{}", end.name);
        assert_eq!(end.source, Source::InventedForDemo, "{}: no published list of housing ends is known", end.name);
    }
}

/// The file `housing_ends.toml` says so: the outer ring stands proud by about a brake plate of 0.08 to 0.13 in.
#[test]
fn every_ball_unit_has_a_housing_end_that_it_stands_proud_of() {
    let catalog = Catalog::shipped().unwrap();
    for bearing in catalog.bearings.iter().filter(|bearing| bearing.kind == BearingKind::Ball) {
        let proud = catalog
            .housing_ends
            .iter()
            .filter(|end| (end.bore_diameter - bearing.outside).millimetres().abs() < 0.1)
            .map(|end| (bearing.outer_width - end.bore_depth.mean).inches());
        assert!(proud.clone().any(|proud| (0.06..=0.14).contains(&proud)), "{}", bearing.name);
    }
}

#[test]
fn every_differential_leaves_an_engagement_of_the_usual_spline() {
    let catalog = Catalog::shipped().unwrap();
    // 28 to 31 teeth at 24 pitch: major diameters of 1.208 to 1.333 in.
    for row in &catalog.differentials {
        let engagement = (row.gear_reach.mean - row.end_clearance.mean).inches();
        assert!(engagement / 1.333 >= 1.25 && engagement / 1.208 <= 1.65, "{}: {engagement}", row.name);
    }
}

/// Cuts files after every third of their lines, and leaves these lines out: no text makes the loader panic, and none is
/// refused without saying why.
#[test]
fn damaged_files_are_refused_with_a_reason_or_read() {
    let files = [
        ("bearings.toml", include_str!("../../../../catalog/bearings.toml")),
        ("instruments.toml", include_str!("../../../../catalog/instruments.toml")),
        ("splines.toml", include_str!("../../../../catalog/splines.toml")),
        ("studs.toml", include_str!("../../../../catalog/studs.toml")),
        ("settings.toml", include_str!("../../../../catalog/settings.toml")),
        ("loads.toml", include_str!("../../../../catalog/loads.toml")),
    ];
    let mut refused = 0;
    for (name, text) in files {
        let lines: Vec<&str> = text.lines().collect();
        for at in (0..lines.len()).step_by(3) {
            let cut = lines[..at].join("\n");
            let without: Vec<&str> = [&lines[..at], &lines[at + 1..]].concat();
            for damaged in [cut, without.join("\n")] {
                if let Err(faults) = with(name, &damaged) {
                    assert!(!faults.is_empty(), "{name} without line {}", at + 1);
                    refused += 1;
                }
            }
        }
    }
    assert!(refused > 100, "only {refused} damaged files were refused");
}

/// Every input of the load cases has bounds for every use, but for the trailer, which belongs to towing, the body, which
/// follows from the spline, and the hub of the side gear, which is not the shop's and is checked only where it is stated.
#[test]
fn every_input_of_the_load_cases_has_bounds_for_every_use() {
    let catalog = Catalog::shipped().unwrap();
    for (use_, word) in catalog::LOAD_USES {
        for input in catalog::LoadInput::all() {
            let towing = use_ == catalog::LoadUse::Tow;
            let expected = match input {
                catalog::LoadInput::TongueLoad => towing,
                catalog::LoadInput::BodyDiameter | catalog::LoadInput::HubOutside => false,
                _ => true,
            };
            let bound = catalog.load_bound(use_, input);
            assert_eq!(bound.is_some(), expected, "{} for {word}", input.key());
            assert!(bound.is_none_or(|bound| bound.mild != bound.harsh), "{} for {word}", input.key());
        }
        let value = |input, mild: bool| {
            let bound = catalog.load_bound(use_, input).unwrap();
            if mild { bound.mild } else { bound.harsh }
        };
        for mild in [true, false] {
            // No axle carries more than the vehicle.
            assert!(value(catalog::LoadInput::AxleLoad, mild) < value(catalog::LoadInput::Mass, mild), "{word}");
        }
    }
    // The steel that the settings name is there.
    let proof = &catalog.settings.proof;
    assert!(catalog.steel(&proof.steel_grade, &proof.steel_treatment).is_some());
}
