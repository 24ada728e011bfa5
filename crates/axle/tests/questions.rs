//! What the review asks, remarks and stops, as a practised order desk would: nothing that cannot be answered, nothing that
//! would change nothing.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may fail where it stands")]

#[allow(dead_code, reason = "each file of tests uses its own part of what they share")]
mod support {
    pub mod bench_sheet;
    pub mod true_vehicle;
}

use axle::{DimensionKind, Identified, PartKind, Review, Verdict};
use catalog::Measurand;
use quantity::LengthExt;

use support::bench_sheet::{BenchSheet, SHIPPED};
use support::true_vehicle::TrueVehicle;

fn part(review: &Review, kind: PartKind) -> &Identified {
    review.identified.iter().find(|part| part.kind == kind).expect("every part is identified")
}

/// A sheet without anything of the bolt circle but the number of holes.
fn holes_alone(holes: u32, bolt_circle: f64) -> BenchSheet {
    let vehicle = TrueVehicle { holes, bolt_circle, ..TrueVehicle::light_truck() };
    use Measurand as M;
    BenchSheet::of(vehicle)
        .all_taken(&[
            M::ShoulderDistance,
            M::BrakeOffset,
            M::BearingOutside,
            M::FlangeDiameter,
            M::RegisterDiameter,
            M::WheelPilotDiameter,
            M::HoleCount,
            M::ToothCount,
            M::SplineMajorDiameter,
        ])
        .taken_with(M::JournalDiameter, None, Some("micrometer"))
        .taken_on_both_sides(&[M::OverallLength, M::Reach])
}

fn asked(review: &Review) -> Vec<Measurand> {
    review.questions.iter().filter_map(|question| question.measurand).collect()
}

#[test]
fn five_holes_are_not_measured_straight_across_and_four_not_to_the_next_but_one() {
    let five = asked(&holes_alone(5, 4.75).reviewed());
    assert!(five.contains(&Measurand::ChordAdjacent), "{five:?}");
    assert!(!five.contains(&Measurand::ChordOpposite) && !five.contains(&Measurand::BoltCircle), "{five:?}");
    let four = asked(&holes_alone(4, 4.5).reviewed());
    assert!(four.contains(&Measurand::ChordAdjacent), "{four:?}");
    assert!(!four.contains(&Measurand::ChordAlternate) && !four.contains(&Measurand::CentreToFarEdge), "{four:?}");
}

#[test]
fn a_count_that_nothing_checks_is_said_to_be_unchecked() {
    let review = holes_alone(5, 4.75).reviewed();
    let remark = |measurand| {
        let reading = review.readings.iter().find(|reading| reading.measurand == measurand);
        reading.and_then(|reading| reading.remark.clone()).unwrap_or_default()
    };
    let holes = remark(Measurand::HoleCount);
    assert!(holes.contains("the distance between neighbouring studs would check it"), "{holes}");
    assert_eq!(remark(Measurand::ToothCount), "", "the major diameter checks it");
}

/// Any diameter can be drilled: a circle in no row is good where two chords agree on it.
#[test]
fn a_bolt_circle_in_no_row_is_decided_by_its_chords() {
    let odd = holes_alone(5, 4.90).all_taken(&[Measurand::ChordAdjacent, Measurand::ChordAlternate]).reviewed();
    let circle = part(&odd, PartKind::BoltCircle);
    assert!(circle.decided, "{circle:#?}");
    let found = odd.dimension(DimensionKind::BoltCircle, None).expect("the chords give it").cut.inches();
    assert!((found - 4.90).abs() < 0.02, "{found}");
    assert!(!odd.reasons.iter().any(|reason| reason.words.contains("bolt circle is not certain")));
}

/// What has all the room it needs is not asked for again, however badly it is known: a flange taken with a tape is good for
/// 1/16 in and has nothing to clear by less than a quarter.
#[test]
fn a_size_that_cannot_spoil_the_fit_is_not_asked_for_first() {
    let review = holes_alone(5, 4.75)
        .all_taken(&[Measurand::ChordAdjacent, Measurand::ChordAlternate, Measurand::DrumInside])
        .reviewed();
    assert_eq!(review.verdict, Verdict::Ask);
    let first = review.questions.first().expect("something is asked");
    assert_ne!(first.measurand, Some(Measurand::FlangeDiameter), "{:#?}", review.questions);
}

/// An order is stopped by what cannot work, and then nothing is asked that would not change it.
#[test]
fn a_stop_says_what_must_be_and_asks_nothing_beside_it() {
    let bracket = "[brake]\nretainer = \"caliper bracket\"\n";
    let review = BenchSheet::well_checked(TrueVehicle::light_truck()).with_parts(bracket).reviewed();
    assert_eq!(review.verdict, Verdict::Stop);
    let stop = &review.reasons[0];
    assert!(stop.words.contains("must be there before the bearing is pressed on"), "{stop:?}");
    assert!(stop.remedy.is_some());
    assert!(review.questions.is_empty(), "{:#?}", review.questions);
}

/// A usual size that nobody has measured must not stop an order.
#[test]
fn an_assumed_size_stops_nothing() {
    // Eight holes on 6 1/2 in on a flange of usual size would leave no edge; here nobody has measured the flange.
    use Measurand as M;
    let vehicle = TrueVehicle { holes: 8, bolt_circle: 6.5, ..TrueVehicle::light_truck() };
    let review = BenchSheet::of(vehicle)
        .all_taken(&[M::HoleCount, M::ChordAdjacent, M::ChordOpposite, M::ShoulderDistance, M::BrakeOffset])
        .taken_on_both_sides(&[M::OverallLength])
        .reviewed();
    assert_eq!(review.verdict, Verdict::Ask, "{:#?}", review.reasons);
}

/// A stud hole that is read in the old flange answers the question for it.
#[test]
fn a_stud_hole_that_is_read_is_not_asked_for() {
    let head = "[order]\nreference = \"S\"\nuse = \"street\"\nunit = \"in\"\nsides = [\"left\"]\n[shared]\n";
    let asks = |text: &str| {
        let sheet = axle::read_sheet("stud.toml", text, &SHIPPED).expect("a sheet");
        let review = axle::review(&sheet, &SHIPPED).expect("a sound model");
        let hole = review.dimension(DimensionKind::StudHole, None).map(|dimension| dimension.cut.inches());
        (review.missing.iter().any(|gap| gap.measurands.contains(&Measurand::StudHole)), hole)
    };
    assert_eq!(asks(head), (true, None));
    let (asked, hole) = asks(&format!("{head}stud_hole = \"0.606\"\n"));
    assert!(!asked);
    assert!((hole.expect("it is read") - 0.606).abs() < 0.001);
}
