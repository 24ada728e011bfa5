//! The shape of a shaft is that of its review, and says what it assumes and does not know.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use axle::{Catalog, DimensionKind, Review, Sheet, Side};
use drawing::{ShaftShape, SizeBasis, StepKind, Surroundings};
use quantity::LengthExt;

fn reviewed(text: &str) -> (Sheet, Review) {
    let catalog = Catalog::shipped().unwrap();
    let sheet = axle::read_sheet("sheet.toml", text, &catalog).unwrap();
    let review = axle::review(&sheet, &catalog).unwrap();
    (sheet, review)
}

fn demo() -> Vec<(Sheet, Review)> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/orders");
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    files.iter().map(|file| reviewed(&std::fs::read_to_string(file).unwrap())).collect()
}

const SHORT: &str = "[order]\nreference = \"KB-0001\"\nuse = \"street\"\nunit = \"in\"\nsides = [\"left\"]\n\n[left]\n\
                     overall_length = '31 5/16\"'\n";

#[test]
fn steps_follow_each_other_without_a_gap() {
    for (sheet, review) in demo().into_iter().chain([reviewed(SHORT)]) {
        for side in sheet.wanted {
            let steps = ShaftShape::of(&review, side).steps();
            assert!(steps.windows(2).all(|pair| pair[0].to_mm == pair[1].from_mm), "{}: {steps:?}", review.reference);
            assert!(steps.iter().all(|step| step.to_mm >= step.from_mm && step.outer_mm > 0.0 && step.inner_mm > 0.0));
            let kinds: Vec<StepKind> = steps.iter().map(|step| step.kind).collect();
            assert!(kinds.windows(2).all(|pair| pair[0] < pair[1]));
        }
    }
}

#[test]
fn sizes_are_those_of_the_review() {
    for (sheet, review) in demo() {
        let side = sheet.wanted[0];
        let shape = ShaftShape::of(&review, side);
        for (size, kind, side) in [
            (&shape.overall_length, DimensionKind::OverallLength, Some(side)),
            (&shape.shoulder_distance, DimensionKind::ShoulderDistance, None),
            (&shape.journal_diameter, DimensionKind::JournalDiameter, None),
            (&shape.register_diameter, DimensionKind::RegisterDiameter, None),
            (&shape.bolt_circle, DimensionKind::BoltCircle, None),
        ] {
            let wanted = review.dimension(kind, side);
            assert_eq!(size.value_mm, wanted.map(|found| found.cut.millimetres()), "{}", review.reference);
            let basis = wanted.map_or(SizeBasis::Unknown, |found| found.basis.into());
            assert_eq!(size.basis, basis, "{}: {}", review.reference, size.name);
        }
    }
}

/// `L = O + H − g` of the dimension chain, and the engagement ends where the shaft does.
#[test]
fn the_surroundings_close_the_chain() {
    let mut closed = 0;
    for (sheet, review) in demo() {
        for side in &sheet.wanted {
            let (shape, around) = (ShaftShape::of(&review, *side), Surroundings::of(&review, *side));
            let known = [&shape.overall_length, &around.brake_offset, &around.half_width, &around.end_gap];
            let [Some(length), Some(offset), Some(half), Some(gap)] = known.map(|size| size.value_mm) else { continue };
            // The offset is that with the likeliest bearing, half width and gap are means over all: they part where the bearing
            // is in doubt.
            let sure = review.identified[0].candidates[0].probability > 0.999;
            if sure {
                assert!(
                    (offset + half - gap - length).abs() < 0.02,
                    "{}: {}",
                    review.reference,
                    offset + half - gap - length
                );
                closed += 1;
            }
            let (reach, pin) = (around.gear_reach.value_mm.unwrap(), around.half_pin.value_mm.unwrap());
            let engaged = around.engagement.value_mm.unwrap();
            assert!((reach - (gap - pin) - engaged).abs() < 1e-6);
        }
    }
    assert!(closed > 10, "{closed}");
}

#[test]
fn what_nobody_said_is_unknown_and_has_no_number() {
    let (_, review) = reviewed(SHORT);
    let shape = ShaftShape::of(&review, Side::Left);
    for size in [&shape.register_diameter, &shape.wheel_pilot_diameter] {
        assert_eq!((size.basis, size.value_mm), (SizeBasis::Unknown, None), "{}", size.name);
    }
    let right = ShaftShape::of(&review, Side::Right);
    assert_eq!(right.overall_length.basis, SizeBasis::Unknown);
    for size in shape.sizes() {
        assert_eq!(size.value_mm.is_none(), size.basis == SizeBasis::Unknown, "{}", size.name);
    }
}
