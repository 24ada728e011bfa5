//! The demo's orders against what is known of the invented axles behind them (`demo/truth`).
//!
//! The truth files were made by the axle and not by this crate: the true sizes first, then readings of them, then in most
//! orders one planted mistake.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may fail where it stands")]

mod support {
    pub mod blamed;
    pub mod repository;
    pub mod truth;
}

use std::sync::LazyLock;

use axle::{Basis, DimensionKind, Review, Side, Verdict, read_sheet, review};
use catalog::{Catalog, Measurand};
use quantity::{Length, LengthExt};

use support::blamed::assert_blamed;
use support::repository::toml_files;
use support::truth::{Planted, Truth};

static SHIPPED: LazyLock<Catalog> = LazyLock::new(|| Catalog::shipped().expect("the shipped catalog has no fault"));

/// One order of the demo, reviewed, with the truth about it.
struct Order {
    name: String,
    review: Review,
    truth: Truth,
}

/// Every order of the demo.
static ORDERS: LazyLock<Vec<Order>> = LazyLock::new(|| {
    let orders = toml_files("demo/orders");
    let truths = toml_files("demo/truth");
    assert_eq!(orders.len(), truths.len(), "every order has its truth");
    orders
        .into_iter()
        .zip(&truths)
        .map(|((name, order), (number, truth))| {
            assert!(name.starts_with(&format!("{number}-")), "{name} and {number}");
            let sheet = read_sheet(&name, &order, &SHIPPED).unwrap_or_else(|faults| panic!("{faults}"));
            let review = review(&sheet, &SHIPPED).expect("the shipped catalog makes sound models");
            Order { name, review, truth: Truth::read(number, truth) }
        })
        .collect()
});

/// The planted mistake, where the other readings of the sheet can show it.
fn shown(order: &Order) -> Option<&Planted> {
    order.truth.planted.as_ref().filter(|planted| planted.can_be_seen)
}

/// The planted mistake, where they cannot.
fn hidden(order: &Order) -> Option<&Planted> {
    order.truth.planted.as_ref().filter(|planted| !planted.can_be_seen)
}

/// Whether the dimension is what a mistake that cannot be seen has spoiled.
fn is_spoiled(order: &Order, kind: DimensionKind, side: Option<Side>) -> bool {
    let read = measurand_of(kind);
    hidden(order)
        .is_some_and(|planted| planted.readings.iter().any(|one| Some(one.measurand) == read && one.side == side))
}

/// The measurand under which the truth holds a dimension.
fn measurand_of(kind: DimensionKind) -> Option<Measurand> {
    Some(match kind {
        DimensionKind::OverallLength => Measurand::OverallLength,
        DimensionKind::ShoulderDistance => Measurand::ShoulderDistance,
        DimensionKind::RaceDistance => Measurand::RaceDistance,
        DimensionKind::BrakeOffset => Measurand::BrakeOffset,
        DimensionKind::FlangeThickness => Measurand::FlangeThickness,
        DimensionKind::RegisterHeight => Measurand::RegisterHeight,
        DimensionKind::WheelPilotDiameter => Measurand::WheelPilotDiameter,
        DimensionKind::WheelPilotHeight => Measurand::WheelPilotHeight,
        DimensionKind::JournalDiameter => Measurand::JournalDiameter,
        DimensionKind::RingSeatDiameter => Measurand::RingSeatDiameter,
        DimensionKind::SealJournalDiameter => Measurand::SealJournalDiameter,
        DimensionKind::BoltCircle => Measurand::BoltCircle,
        DimensionKind::SplineMajorDiameter => Measurand::SplineMajorDiameter,
        // What these have to be depends on the brake and the stud; the register and the flange have a range of their own.
        DimensionKind::FlangeDiameter | DimensionKind::RegisterDiameter | DimensionKind::StudHole => return None,
    })
}

#[test]
fn every_verdict_is_one_of_those_that_the_truth_expects() {
    for order in ORDERS.iter() {
        let verdict = match order.review.verdict {
            Verdict::Cut => "cut",
            Verdict::Ask => "ask",
            Verdict::Stop => "stop",
        };
        assert!(
            order.truth.expected_verdict.iter().any(|expected| expected == verdict),
            "{}: {verdict}, expected {:?}: {:#?}",
            order.name,
            order.truth.expected_verdict,
            order.review.reasons
        );
    }
}

#[test]
fn every_planted_mistake_that_can_be_seen_is_the_likeliest_one_and_nothing_else_is_blamed() {
    let mut seen = 0;
    for order in ORDERS.iter() {
        let Some(planted) = shown(order) else { continue };
        let readings: Vec<(Measurand, Option<Side>)> =
            planted.readings.iter().map(|reading| (reading.measurand, reading.side)).collect();
        assert_blamed(&order.review, planted.mistake, &readings);
        seen += 1;
    }
    assert!(seen >= 6, "only {seen} orders have a planted mistake that can be seen");
}

/// Where nothing is wrong, or nothing that can be seen, no reading is blamed.
#[test]
fn no_sound_reading_is_blamed() {
    for order in ORDERS.iter().filter(|order| shown(order).is_none()) {
        for reading in &order.review.readings {
            assert!(
                reading.probability_mistaken < 0.5,
                "{}: {} ({})",
                order.name,
                reading.measurand.key(),
                reading.written
            );
        }
        let first = order.review.explanations.first().expect("a review has explanations");
        assert!(first.mistakes.is_empty(), "{}: {first:?}", order.name);
    }
}

/// What a mistaken reading should have said lies within three standard uncertainties of the dimension that it reads; a count
/// is named exactly.
#[test]
fn what_a_mistaken_reading_should_have_said_is_found() {
    for order in ORDERS.iter() {
        let Some(planted) = shown(order) else { continue };
        for should in &planted.readings {
            let same =
                |reading: &&axle::ReadingReview| (reading.measurand, reading.side) == (should.measurand, should.side);
            let found = order.review.readings.iter().find(same).expect("the planted reading is reviewed");
            if should.measurand.is_count() {
                let words = &order.review.explanations[0].mistakes[0].words;
                assert!(words.ends_with(&format!("it should be {:.0}", should.says)), "{}: {words}", order.name);
                continue;
            }
            let dimension = order
                .review
                .dimensions
                .iter()
                .find(|one| {
                    measurand_of(one.kind) == Some(should.measurand) && (one.side == should.side || one.side.is_none())
                })
                .expect("what was read is a dimension of the shaft");
            let reconciled = found.reconciled.expect("a length is reconciled").millimetres();
            let within = 3.0 * dimension.standard_uncertainty.millimetres();
            assert!(
                (reconciled - should.says).abs() <= within,
                "{}: {} should say {:.3} mm, reconciled {reconciled:.3} mm, three standard uncertainties {within:.3} mm",
                order.name,
                should.measurand.key(),
                should.says
            );
        }
    }
}

/// The true size of a shaft that suits the axle passes inspection but for what the readings leave open: it lies within the
/// inspection limits widened by three standard uncertainties.
#[test]
fn the_true_sizes_lie_within_the_inspection_limits_and_three_standard_uncertainties() {
    let mut held = 0;
    for order in ORDERS.iter() {
        for dimension in &order.review.dimensions {
            let truth = measurand_of(dimension.kind).and_then(|measurand| order.truth.size(measurand, dimension.side));
            let Some(truth) = truth.filter(|_| !is_spoiled(order, dimension.kind, dimension.side)) else { continue };
            let open = 3.0 * dimension.standard_uncertainty.millimetres();
            let (least, most) = (dimension.least.millimetres() - open, dimension.most.millimetres() + open);
            assert!(
                (least..=most).contains(&truth),
                "{}: {:?} {:?} is truly {truth:.3} mm, not within {least:.3} to {most:.3} mm",
                order.name,
                dimension.kind,
                dimension.side
            );
            held += 1;
        }
    }
    assert!(held > 150, "{held} dimensions were held against the truth");
}

/// What is released to be cut fits the true axle, all of it between the inspection limits included.
#[test]
fn what_is_released_fits_the_true_axle() {
    let mut released = 0;
    for order in ORDERS.iter().filter(|order| order.review.verdict == Verdict::Cut) {
        for (kind, side, least, most) in &order.truth.fits {
            let dimension = order.review.dimension(*kind, *side).expect("what has to fit is a dimension");
            let fits = |size: Length| (*least..=*most).contains(&size.millimetres());
            assert!(
                fits(dimension.least) && fits(dimension.most),
                "{}: {kind:?} {side:?} is made from {:.3} to {:.3} mm and fits from {least:.3} to {most:.3} mm",
                order.name,
                dimension.least.millimetres(),
                dimension.most.millimetres()
            );
            released += 1;
        }
    }
    assert!(released > 40, "{released} dimensions were released");
}

/// A mistake that nothing on the sheet can show is answered by saying just that, on that very reading, and what would show it.
#[test]
fn a_mistake_that_cannot_be_seen_is_answered_by_what_would_show_it() {
    let mut met = 0;
    for order in ORDERS.iter() {
        let Some(planted) = hidden(order) else { continue };
        for one in &planted.readings {
            let same = |reading: &&axle::ReadingReview| (reading.measurand, reading.side) == (one.measurand, one.side);
            let reading = order.review.readings.iter().find(same).expect("the planted reading is reviewed");
            let remark = reading.remark.as_deref().unwrap_or_default();
            assert!(remark.contains("nothing on the sheet checks this reading"), "{}: {remark}", order.name);
            let named = SHIPPED
                .measurands
                .iter()
                .any(|row| row.measurand != one.measurand && remark.contains(&format!("{} would check it", row.words)));
            assert!(named, "{}: {remark}", order.name);
            met += 1;
        }
    }
    assert!(met > 0, "no order has a mistake that cannot be seen");
}

/// A dimension counts as measured only where the new shaft is to have what was read.
#[test]
fn what_a_new_brake_requires_is_derived_and_not_measured() {
    let order = ORDERS.iter().find(|order| order.name.starts_with("08-")).expect("the order with another brake");
    for kind in [DimensionKind::ShoulderDistance, DimensionKind::FlangeDiameter, DimensionKind::RegisterDiameter] {
        let dimension = order.review.dimension(kind, None).expect("it is determined");
        assert_eq!(dimension.basis, Basis::Derived, "{kind:?}");
    }
    let kept = order.review.dimension(DimensionKind::WheelPilotDiameter, None).expect("it is determined");
    assert_eq!(kept.basis, Basis::Measured);
}
