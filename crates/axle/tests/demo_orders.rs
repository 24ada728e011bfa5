//! The demo's orders against what is known of the invented axles behind them (`demo/truth`).
//!
//! The truth files were made by the axle and not by this crate: the true sizes first, then readings of them, then in most
//! orders one or two planted mistakes.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may fail where it stands")]

mod support {
    pub mod blamed;
    pub mod repository;
    pub mod truth;
}

use std::sync::LazyLock;

use axle::{Basis, DimensionKind, ReadingReview, Review, Sheet, Side, Verdict, read_sheet, review};
use catalog::{Catalog, Measurand, MistakeKind};
use quantity::{Length, LengthExt};

use support::blamed::assert_all_blamed;
use support::repository::toml_files;
use support::truth::{Planted, ShouldSay, Truth};

static SHIPPED: LazyLock<Catalog> = LazyLock::new(|| Catalog::shipped().expect("the shipped catalog has no fault"));

/// One order of the demo, reviewed, with the truth about it.
struct Order {
    name: String,
    sheet: Sheet,
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
            Order { name, sheet, review, truth: Truth::read(number, truth) }
        })
        .collect()
});

impl Order {
    /// The planted mistakes that the other readings of the sheet can show.
    fn shown(&self) -> impl Iterator<Item = &Planted> {
        self.truth.planted.iter().filter(|planted| planted.can_be_seen)
    }

    /// The planted mistakes that they cannot.
    fn hidden(&self) -> impl Iterator<Item = &Planted> {
        self.truth.planted.iter().filter(|planted| !planted.can_be_seen)
    }

    /// The place of a spoiled reading in the sheet.
    fn place(&self, spoiled: &ShouldSay) -> usize {
        let is_it = |at: &usize| {
            let reading = &self.sheet.readings[*at];
            (reading.measurand, reading.side) == (spoiled.measurand, spoiled.side)
                && (spoiled.by.is_none() || reading.by == spoiled.by)
        };
        let places: Vec<usize> = (0..self.sheet.readings.len()).filter(is_it).collect();
        assert_eq!(places.len(), 1, "{}: {} is one reading", self.name, spoiled.measurand.key());
        places[0]
    }

    /// What became of a spoiled reading.
    fn reviewed(&self, spoiled: &ShouldSay) -> &ReadingReview {
        &self.review.readings[self.place(spoiled)]
    }
}

/// Whether the dimension is what a mistake that cannot be seen has spoiled.
fn is_spoiled(order: &Order, kind: DimensionKind, side: Option<Side>) -> bool {
    let read = measurand_of(kind);
    order.hidden().flat_map(|planted| &planted.readings).any(|one| Some(one.measurand) == read && one.side == side)
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
    let mut seen = [0; 3];
    for order in ORDERS.iter().filter(|order| order.shown().next().is_some()) {
        let planted: Vec<(MistakeKind, Vec<usize>)> = order
            .shown()
            .map(|planted| (planted.mistake, planted.readings.iter().map(|one| order.place(one)).collect()))
            .collect();
        assert_all_blamed(&order.review, &planted);
        seen[planted.len()] += 1;
    }
    assert!(seen[1] >= 6, "only {} orders have one planted mistake that can be seen", seen[1]);
    assert!(seen[2] >= 10, "only {} orders have two planted mistakes that can be seen", seen[2]);
}

/// Two pairs alike would show no more than one of them.
#[test]
fn no_two_orders_have_the_same_pair_of_mistakes() {
    let mut pairs: Vec<Vec<MistakeKind>> = ORDERS
        .iter()
        .map(|order| order.shown().map(|planted| planted.mistake).collect())
        .filter(|kinds: &Vec<MistakeKind>| kinds.len() == 2)
        .collect();
    pairs.iter_mut().for_each(|kinds| kinds.sort());
    pairs.sort();
    let all = pairs.len();
    pairs.dedup();
    assert_eq!(pairs.len(), all);
    assert!(pairs.iter().all(|kinds| kinds[0] != kinds[1]), "{pairs:?}");
}

/// Where nothing is wrong, or nothing that can be seen, no reading is blamed.
#[test]
fn no_sound_reading_is_blamed() {
    for order in ORDERS.iter().filter(|order| order.shown().next().is_none()) {
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

/// What a mistaken reading should have said lies within three standard uncertainties of what the review makes of it: of the
/// dimension, where what was read is one of the shaft, and else of the closest reading of the same thing. A count is named
/// exactly.
#[test]
fn what_a_mistaken_reading_should_have_said_is_found() {
    for order in ORDERS.iter() {
        for should in order.shown().flat_map(|planted| &planted.readings) {
            let found = order.reviewed(should);
            if should.measurand.is_count() {
                let place = order.place(should);
                let mistakes = &order.review.explanations[0].mistakes;
                let words = mistakes.iter().find(|one| one.readings.contains(&place)).map_or("", |one| &one.words);
                assert!(words.ends_with(&format!("it should be {:.0}", should.says)), "{}: {words}", order.name);
                continue;
            }
            let is_it = |one: &&axle::Dimension| {
                measurand_of(one.kind) == Some(should.measurand) && (one.side == should.side || one.side.is_none())
            };
            let of_reading = || {
                let same = order
                    .review
                    .readings
                    .iter()
                    .filter(|one| (one.measurand, one.side) == (should.measurand, should.side))
                    .filter_map(|one| one.standard_uncertainty);
                same.map(|one| one.millimetres()).fold(f64::INFINITY, f64::min)
            };
            let dimension = order.review.dimensions.iter().find(is_it);
            let uncertainty = dimension.map_or_else(of_reading, |one| one.standard_uncertainty.millimetres());
            let reconciled = found.reconciled.expect("a length is reconciled").millimetres();
            assert!(
                (reconciled - should.says).abs() <= 3.0 * uncertainty,
                "{}: {} should say {:.3} mm, reconciled {reconciled:.3} mm, one standard uncertainty {uncertainty:.3} mm",
                order.name,
                should.measurand.key(),
                should.says
            );
        }
    }
}

/// The true size of a shaft that suits the axle passes inspection but for what the readings leave open: it lies within the
/// inspection limits widened by three standard uncertainties.
///
/// Race distance and brake offset follow from the shoulder that is cut, and their uncertainty is what bearing and housing end
/// leave open: what these truly add to the shoulder is held against what the review adds.
#[test]
fn the_true_sizes_lie_within_the_inspection_limits_and_three_standard_uncertainties() {
    let mut held = 0;
    for order in ORDERS.iter() {
        for dimension in &order.review.dimensions {
            let truth = measurand_of(dimension.kind).and_then(|measurand| order.truth.size(measurand, dimension.side));
            let Some(mut truth) = truth.filter(|_| !is_spoiled(order, dimension.kind, dimension.side)) else {
                continue;
            };
            if matches!(dimension.kind, DimensionKind::RaceDistance | DimensionKind::BrakeOffset) {
                let shoulder = order.truth.size(Measurand::ShoulderDistance, None).expect("every truth has it");
                let cut = order.review.dimension(DimensionKind::ShoulderDistance, None).expect("it is determined");
                truth += cut.cut.millimetres() - shoulder;
            }
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
    assert!(held > 300, "{held} dimensions were held against the truth");
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
    assert!(released > 80, "{released} dimensions were released");
}

/// A mistake that nothing on the sheet can show is answered by saying just that, on that very reading, and what would show it.
#[test]
fn a_mistake_that_cannot_be_seen_is_answered_by_what_would_show_it() {
    let mut met = 0;
    for order in ORDERS.iter() {
        for one in order.hidden().flat_map(|planted| &planted.readings) {
            let reading = order.reviewed(one);
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
