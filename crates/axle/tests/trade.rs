//! What the trade knows, put to the review: which parts a reading points to, which mistakes give themselves away and how.
//!
//! Where a test's fact has a published source the source is named. All others are common practice, no source, and say so in
//! their names or beside them. The sheets come from a vehicle whose every size is known.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may fail where it stands")]

#[allow(dead_code, reason = "each file of tests uses its own part of what they share")]
mod support {
    pub mod bench_sheet;
    pub mod blamed;
    pub mod true_vehicle;
}

use axle::{DimensionKind, Identified, PartKind, Review, Side, Verdict};
use catalog::{BearingKind, Measurand, MistakeKind};
use quantity::LengthExt;

use support::bench_sheet::{BenchSheet, SHIPPED};
use support::blamed::{assert_blamed, assert_only_blamed};
use support::true_vehicle::{TrueBearing, TrueVehicle};

const LEFT: Option<Side> = Some(Side::Left);
const RIGHT: Option<Side> = Some(Side::Right);

fn truck() -> BenchSheet {
    BenchSheet::well_checked(TrueVehicle::light_truck())
}

fn true_size(measurand: Measurand, side: Option<Side>) -> f64 {
    TrueVehicle::light_truck().reads(measurand, side)
}

fn part(review: &Review, kind: PartKind) -> &Identified {
    review.identified.iter().find(|part| part.kind == kind).expect("every part is identified")
}

mod parts {
    use super::*;

    /// A journal of 1.564 in with the bearing of 80 mm outside that goes on it: a ball unit and a tapered one both do.
    fn either_kind() -> BenchSheet {
        let bearing = TrueBearing {
            bore: 1.5625,
            outside: 3.1496,
            inner_width: 0.850,
            outer_width: 0.9843,
            race_offset: 0.020,
            journal: 1.5640,
        };
        let vehicle = TrueVehicle { bearing, bore_depth: 0.860, ..TrueVehicle::light_truck() };
        use Measurand as M;
        BenchSheet::of(vehicle)
            .taken_with(M::JournalDiameter, None, Some("micrometer"))
            .all_taken(&[
                M::BearingOutside,
                M::BrakeOffset,
                M::FlangeDiameter,
                M::RegisterDiameter,
                M::DrumBore,
                M::WheelPilotDiameter,
                M::HoleCount,
                M::ChordAdjacent,
                M::ChordAlternate,
                M::ToothCount,
                M::SplineMajorDiameter,
            ])
            .taken_with(M::SplineOverPins, None, Some("micrometer"))
            .taken_on_both_sides(&[M::OverallLength, M::Reach])
    }

    #[test]
    fn a_journal_of_1_564_in_fits_both_kinds_and_the_kind_is_asked_for_common_practice_no_source() {
        let review = either_kind().reviewed();
        assert_eq!(review.verdict, Verdict::Ask);
        let bearing = part(&review, PartKind::Bearing);
        assert!(!bearing.decided, "{bearing:#?}");
        let kinds: Vec<Option<BearingKind>> = bearing.candidates.iter().take(2).map(|one| one.bearing_kind).collect();
        assert_eq!(kinds, [Some(BearingKind::Tapered), Some(BearingKind::Ball)], "{bearing:#?}");
        let first = review.questions.first().expect("something is asked");
        assert!(first.required && first.words.contains("which kind the bearing is"), "{first:?}");
    }

    #[test]
    fn to_say_tapered_decides_a_journal_of_1_564_in_common_practice_no_source() {
        let review = either_kind().with_parts("[bearing]\nkind = \"tapered\"\n").reviewed();
        let bearing = part(&review, PartKind::Bearing);
        assert!(bearing.decided, "{bearing:#?}");
        assert_eq!(bearing.candidates[0].bearing_kind, Some(BearingKind::Tapered));
        assert!(!review.questions.iter().any(|question| question.words.contains("which kind")));
    }

    /// The ball unit is met half as often as the tapered one, and three claims in a hundred are wrong: together that leaves it
    /// just short of decided. The kind is not asked for again; a width is, and settles it.
    #[test]
    fn to_say_ball_all_but_decides_a_journal_of_1_564_in_and_the_width_of_a_ring_does() {
        let ball = either_kind().with_parts("[bearing]\nkind = \"ball\"\n");
        let review = ball.clone().reviewed();
        let bearing = part(&review, PartKind::Bearing);
        assert_eq!(bearing.candidates[0].bearing_kind, Some(BearingKind::Ball), "{bearing:#?}");
        assert!(bearing.candidates[0].probability > 0.9, "{bearing:#?}");
        let first = review.questions.first().expect("something is asked");
        assert_eq!(first.measurand, Some(Measurand::BearingOuterWidth), "{first:?}");
        let review = ball.written(Measurand::BearingOuterWidth, None, "20.0 mm", None, &[]).reviewed();
        assert!(part(&review, PartKind::Bearing).decided);
    }

    /// Nothing but a journal.
    fn journal_alone(journal: &str) -> BenchSheet {
        let sheet = BenchSheet::of(TrueVehicle::light_truck());
        sheet.written(Measurand::JournalDiameter, None, journal, Some("micrometer"), &[])
    }

    /// The probability of all bearings with this outside, in millimetres.
    fn probability_of_outside(review: &Review, outside: f64) -> f64 {
        let same =
            |name: &str| SHIPPED.bearing(name).is_some_and(|row| (row.outside.millimetres() - outside).abs() < 0.1);
        part(review, PartKind::Bearing)
            .candidates
            .iter()
            .filter(|candidate| same(&candidate.name))
            .map(|candidate| candidate.probability)
            .sum()
    }

    #[test]
    fn a_journal_of_1_533_in_points_to_a_ball_unit_in_a_large_bore_end_from_memory_check() {
        let sheet = BenchSheet::of(TrueVehicle::light_truck());
        let review = sheet.written(Measurand::JournalDiameter, None, "1.5330 in", Some("micrometer"), &[]).reviewed();
        let bearing = part(&review, PartKind::Bearing);
        assert!(bearing.decided, "{bearing:#?}");
        assert_eq!(bearing.candidates[0].bearing_kind, Some(BearingKind::Ball));
        assert!(probability_of_outside(&review, 80.0) > 0.95, "{bearing:#?}");
    }

    #[test]
    fn a_journal_of_1_379_in_points_to_a_small_bore_end_from_memory_check() {
        let sheet = BenchSheet::of(TrueVehicle::light_truck());
        let review = sheet.written(Measurand::JournalDiameter, None, "1.3790 in", Some("micrometer"), &[]).reviewed();
        // A bore of 35 mm is also made with 80 mm outside (ISO 15), so it is not certain.
        assert!(probability_of_outside(&review, 72.0) > 0.7, "{:#?}", part(&review, PartKind::Bearing));
        let bearing = part(&review, PartKind::Bearing);
        assert!(bearing.candidates[0].name.contains("x 72 x"), "{bearing:#?}");
        let bored = journal_alone("1.3790 in").written(Measurand::HousingBoreDiameter, None, "72.02 mm", None, &[]);
        assert!(probability_of_outside(&bored.reviewed(), 72.0) > 0.95);
    }

    #[test]
    fn thirty_one_teeth_are_a_real_count() {
        // ANSI B92.1: major diameter (N + 1)/P, so 32/24 = 1.3333 in for 31 teeth; real parts stay a little under.
        let review = truck().reviewed();
        let spline = part(&review, PartKind::Spline);
        assert!(spline.decided, "{spline:#?}");
        assert!(spline.candidates[0].name.starts_with("31 teeth"), "{spline:#?}");
        assert_only_blamed(&review, &[]);
    }

    #[test]
    fn a_tooth_missed_is_seen_on_the_diameters() {
        // One tooth is 1/24 = 0.0417 in of diameter at 24 pitch (ANSI B92.1).
        let review = truck().but_says(Measurand::ToothCount, None, "30").reviewed();
        assert_blamed(&review, MistakeKind::Miscounted, &[(Measurand::ToothCount, None)]);
        let words = &review.explanations[0].mistakes[0].words;
        assert!(words.contains("should be 31"), "{words}");
        let count = review.readings.iter().find(|reading| reading.measurand == Measurand::ToothCount);
        let remark = count.and_then(|count| count.remark.as_deref()).unwrap_or_default();
        assert!(!remark.contains("nothing on the sheet checks"), "the diameters have just checked it: {remark}");
    }
}

mod bolt_circle {
    use super::*;

    /// Only what the bolt circle needs.
    fn circle(holes: u32, bolt_circle: f64) -> BenchSheet {
        let vehicle = TrueVehicle { holes, bolt_circle, ..TrueVehicle::light_truck() };
        BenchSheet::of(vehicle).taken(Measurand::HoleCount, None)
    }

    /// The bolt circle in inches: the mean over all explanations.
    fn found(review: &Review) -> f64 {
        review.dimension(DimensionKind::BoltCircle, None).expect("the circle is determined").mean.inches()
    }

    #[test]
    fn five_on_4_3_4_in_is_a_real_circle_that_two_chords_identify() {
        let review = circle(5, 4.75).all_taken(&[Measurand::ChordAdjacent, Measurand::ChordAlternate]).reviewed();
        let identified = part(&review, PartKind::BoltCircle);
        assert!(identified.decided, "{identified:#?}");
        assert!(identified.candidates[0].name.starts_with("5 holes on 4.750 in"), "{identified:#?}");
        assert_only_blamed(&review, &[]);
    }

    /// Geometry of the regular pentagon (Euclid, Elements XIII, 8): the diagonal is to the side as the golden ratio, 1.618 to
    /// one; the circle is 1.7013 sides and 1.0515 diagonals across.
    #[test]
    fn the_chords_of_five_holes_are_in_the_golden_ratio_and_give_the_same_circle() {
        let sheet = circle(5, 5.0);
        let adjacent = sheet.vehicle().reads(Measurand::ChordAdjacent, None);
        let alternate = sheet.vehicle().reads(Measurand::ChordAlternate, None);
        assert!((alternate / adjacent - 1.618).abs() < 5e-4);
        let from_adjacent = found(&sheet.clone().taken(Measurand::ChordAdjacent, None).reviewed());
        let from_alternate = found(&sheet.taken(Measurand::ChordAlternate, None).reviewed());
        // A caliper on two studs is good for 0.010 in, which is 0.017 in of the circle on the neighbour's chord.
        assert!((from_adjacent - 1.7013 * adjacent).abs() < 0.017, "{from_adjacent}");
        assert!((from_alternate - 1.0515 * alternate).abs() < 0.011, "{from_alternate}");
    }

    #[test]
    fn a_stated_4_3_4_in_that_is_the_alternate_chord_of_5_in_is_caught_by_one_adjacent_chord() {
        // Common practice, no source: 127 mm by its alternate chord is 120.8 mm, and 120.65 is a real circle.
        let sheet = circle(5, 5.0).written(Measurand::BoltCircle, None, "4 3/4", None, &[]);
        let trusted = sheet.clone().reviewed();
        assert!((found(&trusted) - 4.75).abs() < 0.05, "without a chord nothing can show it");
        let review = sheet.taken(Measurand::ChordAdjacent, None).reviewed();
        assert_blamed(&review, MistakeKind::AlternateChordForCircle, &[(Measurand::BoltCircle, None)]);
        assert!((found(&review) - 5.0).abs() < 0.017, "{}", found(&review));
        assert!(part(&review, PartKind::BoltCircle).candidates[0].name.starts_with("5 holes on 5.000 in"));
    }

    #[test]
    fn digits_swapped_in_a_chord_are_named() {
        // Six on 120 mm have their neighbours 2.362 in apart.
        let review = circle(6, 4.7244)
            .written(Measurand::ChordAdjacent, None, "2.63", None, &[])
            .all_taken(&[Measurand::ChordAlternate, Measurand::ChordOpposite])
            .reviewed();
        assert_blamed(&review, MistakeKind::DigitsSwapped, &[(Measurand::ChordAdjacent, None)]);
    }
}

mod chain {
    use super::*;

    #[test]
    fn a_left_shaft_that_is_longer_by_twice_the_pinion_offset_is_no_contradiction() {
        let longer = true_size(Measurand::OverallLength, LEFT) - true_size(Measurand::OverallLength, RIGHT);
        assert!((longer - 1.2).abs() < 1e-9, "half widths 0.6 in from their mean: {longer}");
        let review = truck().reviewed();
        assert!(review.explanations[0].mistakes.is_empty(), "{:#?}", review.explanations);
        assert_only_blamed(&review, &[]);
        assert!(review.checks.iter().all(|check| check.passed), "{:#?}", review.checks);
    }

    #[test]
    fn a_burnt_inch_on_one_of_two_checked_lengths_is_named() {
        let burnt = true_size(Measurand::OverallLength, LEFT) + 1.0;
        let review = truck().but_reads(Measurand::OverallLength, LEFT, burnt).reviewed();
        assert_blamed(&review, MistakeKind::BurntInch, &[(Measurand::OverallLength, LEFT)]);
    }

    #[test]
    fn the_wrong_face_of_the_flange_is_named() {
        let size = true_size(Measurand::OverallLength, RIGHT) - true_size(Measurand::FlangeThickness, None);
        let review = truck().but_reads(Measurand::OverallLength, RIGHT, size).reviewed();
        assert_blamed(&review, MistakeKind::WrongFlangeFace, &[(Measurand::OverallLength, RIGHT)]);
    }

    #[test]
    fn the_pilot_counted_in_is_named() {
        let size = true_size(Measurand::OverallLength, LEFT) + true_size(Measurand::WheelPilotHeight, None);
        let review = truck().but_reads(Measurand::OverallLength, LEFT, size).reviewed();
        assert_blamed(&review, MistakeKind::PilotCountedIn, &[(Measurand::OverallLength, LEFT)]);
    }

    #[test]
    fn the_brake_plate_left_on_is_named() {
        // Brake plates are 0.08 to 0.13 in thick: common practice, no source.
        let size = true_size(Measurand::BrakeOffset, None) - 0.105;
        let review = truck().but_reads(Measurand::BrakeOffset, None, size).reviewed();
        assert_blamed(&review, MistakeKind::BrakePlateLeftOn, &[(Measurand::BrakeOffset, None)]);
    }

    #[test]
    fn the_face_of_the_lock_ring_for_the_shoulder_is_named() {
        // Inner ring and lock ring beyond the shoulder, 1.1 to 1.5 in together: common practice, no source.
        let beyond = true_size(Measurand::BearingInnerWidth, None) + 0.50;
        let size = true_size(Measurand::ShoulderDistance, None) + beyond;
        let review = truck().but_reads(Measurand::ShoulderDistance, None, size).reviewed();
        assert_blamed(&review, MistakeKind::LockRingFaceForShoulder, &[(Measurand::ShoulderDistance, None)]);
    }

    #[test]
    fn one_side_copied_for_the_other_is_named() {
        let other = true_size(Measurand::Reach, LEFT);
        let review = truck().but_reads(Measurand::Reach, RIGHT, other).reviewed();
        assert_blamed(&review, MistakeKind::OneSideForOther, &[(Measurand::Reach, RIGHT)]);
    }

    /// Both shafts, each with its length and its length inboard of the shoulder, for the wrong side.
    fn shafts_swapped() -> BenchSheet {
        let mut sheet = truck();
        for measurand in [Measurand::OverallLength, Measurand::ShoulderToEnd] {
            sheet = sheet.but_reads(measurand, LEFT, true_size(measurand, RIGHT)).but_reads(
                measurand,
                RIGHT,
                true_size(measurand, LEFT),
            );
        }
        sheet
    }

    #[test]
    fn both_shafts_written_down_for_the_wrong_side_are_named_where_reaches_and_half_widths_say_so() {
        let review = shafts_swapped().taken_on_both_sides(&[Measurand::HalfWidth]).reviewed();
        let swapped = [
            (Measurand::OverallLength, LEFT),
            (Measurand::ShoulderToEnd, LEFT),
            (Measurand::OverallLength, RIGHT),
            (Measurand::ShoulderToEnd, RIGHT),
        ];
        assert_blamed(&review, MistakeKind::LeftRightSwapped, &swapped);
    }

    /// The shafts against the reaches: one pair is swapped, and nothing on the sheet says which.
    #[test]
    fn shafts_swapped_against_reaches_are_a_draw_and_the_order_is_not_cut() {
        let review = shafts_swapped().reviewed();
        let [one, other] = &review.explanations[..2] else { panic!("two explanations share the blame") };
        for explanation in [one, other] {
            assert_eq!(explanation.mistakes.len(), 1);
            assert_eq!(explanation.mistakes[0].kind, MistakeKind::LeftRightSwapped);
        }
        assert_ne!(one.mistakes[0].readings, other.mistakes[0].readings);
        let (one, other) = (one.probability, other.probability);
        assert!(one + other > 0.85 && (one / other - 1.0).abs() < 0.05, "{one} and {other}");
        assert_eq!(review.verdict, Verdict::Ask);
    }

    #[test]
    fn a_reading_read_back_from_the_next_inch_is_named() {
        // 29 5/8 is written as 30 3/8.
        assert!((true_size(Measurand::OverallLength, LEFT) - 29.625).abs() < 1e-3);
        let review = truck().but_says(Measurand::OverallLength, LEFT, "30 3/8").reviewed();
        assert_blamed(&review, MistakeKind::ReadBackFromNextInch, &[(Measurand::OverallLength, LEFT)]);
    }

    /// A brake offset of 2.36 in written 2.63 is also what a drum's web of 1/4 in would give, so two explanations share the
    /// blame; the reading itself is not in doubt to be wrong, and what it should have said is the same in both.
    #[test]
    fn digits_swapped_in_a_brake_offset_are_named_beside_the_drum_that_would_read_the_same() {
        let review = truck().but_says(Measurand::BrakeOffset, None, "2.63").reviewed();
        assert_only_blamed(&review, &[(Measurand::BrakeOffset, None)]);
        let named: Vec<MistakeKind> =
            review.explanations.iter().flat_map(|one| one.mistakes.iter().map(|mistake| mistake.kind)).collect();
        assert_eq!(named[..2], [MistakeKind::DrumLeftOn, MistakeKind::DigitsSwapped], "{:#?}", review.explanations);
        for explanation in &review.explanations {
            let would_say = explanation.mistakes[0].would_say.expect("it is a length").inches();
            assert!((would_say - true_size(Measurand::BrakeOffset, None)).abs() < 0.015, "{would_say}");
        }
    }

    #[test]
    fn a_digit_swap_in_the_wheel_pilot_is_seen_on_the_wheel() {
        let vehicle = TrueVehicle { wheel_pilot: 2.36, wheel_bore: 2.40, ..TrueVehicle::light_truck() };
        let review = BenchSheet::well_checked(vehicle).but_says(Measurand::WheelPilotDiameter, None, "2.63").reviewed();
        assert_blamed(&review, MistakeKind::DigitsSwapped, &[(Measurand::WheelPilotDiameter, None)]);
    }

    #[test]
    fn inches_for_millimetres_is_named_where_the_sheet_lets_it_in_and_refused_with_its_place_where_not() {
        // A tall pilot of 1.50 in read once as such and once written as 1.50 mm: both numbers are accepted.
        let vehicle = TrueVehicle { wheel_pilot_height: 1.5, ..TrueVehicle::light_truck() };
        let review = BenchSheet::well_checked(vehicle)
            .written(Measurand::WheelPilotHeight, LEFT, "1.50 in", None, &[])
            .written(Measurand::WheelPilotHeight, RIGHT, "1.50 mm", None, &[])
            .reviewed();
        assert_blamed(&review, MistakeKind::InchForMillimetre, &[(Measurand::WheelPilotHeight, RIGHT)]);
        // A shaft of 29.6 mm is refused, and the unit that it was in is named.
        let text = truck().but_says(Measurand::OverallLength, LEFT, "29.62 mm").text();
        let faults = axle::read_sheet("bench.toml", &text, &SHIPPED).expect_err("it cannot be");
        let fault = faults.iter().next().expect("one fault");
        assert!(fault.accepted.contains("`29.62 in`"), "{fault}");
    }
}

/// Several mistakes on one sheet, all in the chain.
mod several_mistakes {
    use super::*;

    #[test]
    fn a_burnt_inch_and_a_lock_ring_face_are_both_named() {
        let burnt = true_size(Measurand::OverallLength, LEFT) + 1.0;
        let ring = true_size(Measurand::ShoulderDistance, None) + true_size(Measurand::BearingInnerWidth, None) + 0.48;
        let review = truck()
            .but_reads(Measurand::OverallLength, LEFT, burnt)
            .but_reads(Measurand::ShoulderDistance, None, ring)
            .reviewed();
        assert_only_blamed(&review, &[(Measurand::ShoulderDistance, None), (Measurand::OverallLength, LEFT)]);
        let mut kinds: Vec<MistakeKind> = review.explanations[0].mistakes.iter().map(|mistake| mistake.kind).collect();
        kinds.sort();
        assert_eq!(kinds, [MistakeKind::LockRingFaceForShoulder, MistakeKind::BurntInch]);
        let shoulder = review.dimension(DimensionKind::ShoulderDistance, None).expect("it is determined");
        assert!((shoulder.mean.inches() - true_size(Measurand::ShoulderDistance, None)).abs() < 0.020);
    }

    fn burnt_ring_and_case() -> BenchSheet {
        let burnt = true_size(Measurand::OverallLength, LEFT) + 1.0;
        let ring = true_size(Measurand::ShoulderDistance, None) + true_size(Measurand::BearingInnerWidth, None) + 0.48;
        let reach = true_size(Measurand::Reach, RIGHT) - 3.0;
        truck()
            .but_reads(Measurand::OverallLength, LEFT, burnt)
            .but_reads(Measurand::ShoulderDistance, None, ring)
            .but_reads(Measurand::Reach, RIGHT, reach)
    }

    #[test]
    fn three_mistakes_grown_from_two_are_all_named() {
        let review = burnt_ring_and_case().reviewed();
        let blamed = [(Measurand::ShoulderDistance, None), (Measurand::OverallLength, LEFT), (Measurand::Reach, RIGHT)];
        assert_only_blamed(&review, &blamed);
        let shoulder = review.dimension(DimensionKind::ShoulderDistance, None).expect("it is determined");
        assert!((shoulder.mean.inches() - true_size(Measurand::ShoulderDistance, None)).abs() < 0.020);
    }

    /// Four mistakes in one topic are more than is weighed. The review must not pretend to certainty: it does not release the
    /// order, and it names a reading that it cannot explain.
    #[test]
    fn a_fourth_mistake_is_not_explained_and_holds_the_order_back() {
        let race = true_size(Measurand::RaceDistance, None) + 0.7;
        let review = burnt_ring_and_case().but_reads(Measurand::RaceDistance, None, race).reviewed();
        assert_eq!(review.verdict, Verdict::Ask);
        let check = review.checks.iter().find(|check| check.words.contains("leaves no reading out"));
        assert!(check.is_some_and(|check| !check.passed), "{:#?}", review.checks);
        assert!(review.reasons.iter().any(|reason| reason.words.starts_with("Even the likeliest explanation")));
    }
}
