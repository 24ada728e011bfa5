//! What holds of every review, whatever the order: it depends on nothing that it should not depend on, it never panics, and
//! its numbers are what they claim to be.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may fail where it stands")]

#[allow(dead_code, reason = "each file of tests uses its own part of what they share")]
mod support {
    pub mod bench_sheet;
    pub mod random_sheet;
    pub mod repository;
    pub mod true_vehicle;
}

use axle::{DimensionKind, Review, Sheet, Side, Value, Verdict, read_sheet, review};
use catalog::{Catalog, MEASURANDS, Measurand, MistakeKind, Sides};
use proptest::prelude::*;
use quantity::{Length, LengthExt, LengthUnit, WrittenLength, read_length};
use rayon::prelude::*;

use support::bench_sheet::{BenchSheet, SHIPPED};
use support::random_sheet::{draw, head, sheet_text};
use support::repository::toml_files;
use support::true_vehicle::TrueVehicle;

fn reviewed(sheet: &Sheet) -> Review {
    review(sheet, &SHIPPED).expect("the shipped catalog makes sound models")
}

fn read(name: &str, text: &str) -> Sheet {
    read_sheet(name, text, &SHIPPED).unwrap_or_else(|faults| panic!("{faults}\n{text}"))
}

/// The orders of the demo and one that is checked all round.
fn sheets() -> Vec<(String, Sheet)> {
    let demo = toml_files("demo/orders").into_iter().map(|(name, text)| (name.clone(), read(&name, &text)));
    let bench = BenchSheet::well_checked(TrueVehicle::light_truck()).read();
    demo.chain([("bench".to_owned(), bench)]).collect()
}

fn close(one: f64, other: f64, within: f64, what: &str) {
    assert!((one - other).abs() <= within, "{what}: {one} and {other} differ by {:e}", one - other);
}

/// How closely two reviews have to agree.
#[derive(Clone, Copy)]
struct Within {
    share: f64,
    cut: f64,
    probability: f64,
}

/// Holds two reviews against each other: lengths within so much of their standard uncertainty, probabilities within so much,
/// sizes to cut within so many millimetres. `place` gives the place in `other` of a reading of `one`.
fn same_review(one: &Review, other: &Review, within: Within, place: impl Fn(usize) -> usize) {
    let Within { share, cut, probability } = within;
    assert_eq!(one.verdict, other.verdict);
    assert_eq!(one.fit_probability.is_some(), other.fit_probability.is_some());
    if let (Some(fit), Some(again)) = (one.fit_probability, other.fit_probability) {
        close(fit.value, again.value, probability, "fit probability");
    }
    assert_eq!(one.dimensions.len(), other.dimensions.len());
    for (dimension, again) in one.dimensions.iter().zip(&other.dimensions) {
        assert_eq!((dimension.kind, dimension.side, dimension.basis), (again.kind, again.side, again.basis));
        let what = format!("{:?} {:?}", dimension.kind, dimension.side);
        // What follows from a table alone has no uncertainty of its own.
        let within = share * dimension.standard_uncertainty.millimetres() + 1e-9;
        // The search for the size to cut stops at a thousandth of its room, and the loss is flat there.
        let same = |one: Length, other: Length, within| close(one.millimetres(), other.millimetres(), within, &what);
        same(dimension.cut, again.cut, within.max(cut));
        same(dimension.least, again.least, within.max(cut));
        same(dimension.most, again.most, within.max(cut));
        same(dimension.mean, again.mean, within);
        same(dimension.standard_uncertainty, again.standard_uncertainty, within);
    }
    for (at, reading) in one.readings.iter().enumerate() {
        let again = &other.readings[place(at)];
        assert_eq!((reading.measurand, reading.side), (again.measurand, again.side));
        let what = format!("blame of {}", reading.measurand.key());
        close(reading.probability_mistaken, again.probability_mistaken, probability, &what);
        // For a count it is made of the blame.
        if reading.count.is_none() {
            close(reading.redundancy, again.redundancy, 1e-6, &what);
        }
    }
    let parts = |review: &Review| -> Vec<(String, bool)> {
        let first = |part: &axle::Identified| part.candidates.first().map(|one| one.name.clone()).unwrap_or_default();
        review.identified.iter().map(|part| (first(part), part.decided)).collect()
    };
    assert_eq!(parts(one), parts(other));
}

#[test]
fn the_order_of_the_readings_changes_nothing() {
    for (name, sheet) in sheets() {
        let count = sheet.readings.len();
        let original = reviewed(&sheet);
        let backwards: Vec<usize> = (0..count).rev().collect();
        let odd_first: Vec<usize> =
            (0..count).filter(|at| at % 2 == 1).chain((0..count).filter(|at| at % 2 == 0)).collect();
        let turned: Vec<usize> = (0..count).map(|at| (at + count / 3) % count).collect();
        for order in [backwards, odd_first, turned] {
            let mut shuffled = sheet.clone();
            shuffled.readings = order.iter().map(|at| sheet.readings[*at].clone()).collect();
            let place = |at: usize| order.iter().position(|from| *from == at).expect("every reading is there");
            let again = reviewed(&shuffled);
            println!("{name}");
            same_review(&original, &again, Within { share: 1e-6, cut: 1e-6, probability: 1e-9 }, place);
        }
    }
}

#[test]
fn the_same_sheet_gives_the_same_review_to_the_last_digit() {
    for (name, sheet) in sheets() {
        assert_eq!(format!("{:?}", reviewed(&sheet)), format!("{:?}", reviewed(&sheet)), "{name}");
    }
}

#[test]
fn the_number_of_threads_changes_nothing() {
    let sheets = sheets();
    let alone: Vec<String> = sheets.iter().map(|(_, sheet)| format!("{:?}", reviewed(sheet))).collect();
    for threads in [1, 2, 5] {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads can be started");
        let together: Vec<String> =
            pool.install(|| sheets.par_iter().map(|(_, sheet)| format!("{:?}", reviewed(sheet))).collect());
        assert_eq!(alone, together, "{threads} threads");
    }
}

/// The same sheet with every length written anew, in one unit, as a decimal so long that the writing adds no resolution of its
/// own: the step is that of the instrument in either unit.
fn written_in(sheet: &Sheet, unit: LengthUnit) -> Sheet {
    let anew = |written: &WrittenLength| {
        let steps = (written.value().inches() * 1e5).round();
        let text = match unit {
            LengthUnit::Inch => format!("{:.5} in", steps / 1e5),
            _ => format!("{:.6} mm", steps * 25.4e-5),
        };
        read_length(&text, None).expect("a length")
    };
    let mut sheet = sheet.clone();
    for reading in &mut sheet.readings {
        if let Value::Length(repeats) = &mut reading.value {
            *repeats = repeats.iter().map(anew).collect();
        }
    }
    sheet
}

/// The mistakes that depend on how a number is written.
const OF_THE_WRITING: [MistakeKind; 4] = [
    MistakeKind::DigitsSwapped,
    MistakeKind::ReadBackFromNextInch,
    MistakeKind::InchForMillimetre,
    MistakeKind::MillimetreForInch,
];

/// Hundred-thousandths of an inch are whole steps of 0.000254 mm, so the same lengths can be written exactly in both units.
/// Without the mistakes that depend on how a number is written (neighbouring digits swapped, read back from the next inch, read
/// in the other unit) the two reviews are the same but for rounding, and for the last digits of the fit probability: conditions of equal strictness
/// may change places in its numerical integration, which is good to the error that it states, some 1e-4.
#[test]
fn inches_and_millimetres_give_the_same_review() {
    let mut catalog = SHIPPED.clone();
    for row in catalog.mistakes.iter_mut().filter(|row| OF_THE_WRITING.contains(&row.kind)) {
        row.rate = 0.0;
    }
    for (name, sheet) in sheets() {
        println!("{name}");
        let reviewed = |unit| review(&written_in(&sheet, unit), &catalog).expect("a sound model");
        let within = Within { share: 1e-6, cut: 0.01, probability: 1e-5 };
        same_review(&reviewed(LengthUnit::Inch), &reviewed(LengthUnit::Millimetre), within, |at| at);
    }
}

/// With those mistakes the writing counts, and it is another one in the other unit: swapping the last two digits of a number
/// may move it by nothing that anybody could see, or by a foot. Their rates sum to 0.0045 a reading, so the blame of a sound
/// reading, and what hangs on an unchecked one, may differ by that. The uncertainty of a size that nothing checks is mostly
/// made of such slips (0.0015 times the square of an inch is the square of a millimetre), so it may differ by a fifth.
///
/// A sheet that does hold such a slip is left out: written anew, its wrong number does not come of the right one any more.
#[test]
fn the_digits_of_the_unit_matter_no_more_than_slips_of_the_pen_can() {
    let slipped = |sheet: &Sheet| {
        reviewed(sheet).explanations[0].mistakes.iter().any(|mistake| OF_THE_WRITING.contains(&mistake.kind))
    };
    let sound: Vec<(String, Sheet)> = sheets().into_iter().filter(|(_, sheet)| !slipped(sheet)).collect();
    assert!(sound.len() > 20, "only {} sheets hold no slip of the pen", sound.len());
    for (name, sheet) in sound {
        println!("{name}");
        let reviewed = |unit| reviewed(&written_in(&sheet, unit));
        let within = Within { share: 0.2, cut: 0.01, probability: 0.0045 };
        same_review(&reviewed(LengthUnit::Inch), &reviewed(LengthUnit::Millimetre), within, |at| at);
    }
}

/// The shipped catalog without mistakes, and with one bearing, one housing end, one spline and one bolt circle: what is left
/// is a single explanation, and the posterior is one normal distribution.
fn one_explanation() -> Catalog {
    let mut catalog = SHIPPED.clone();
    for row in &mut catalog.mistakes {
        row.rate = 0.0;
        row.together = 0.0;
        row.rate_when.clear();
    }
    catalog.bearings.retain(|row| row.name == "40x80x18 ball");
    catalog.housing_ends.retain(|row| row.name == "80 mm bore, 3.40 x 2.60 in");
    catalog.splines.retain(|row| row.name == "24/48, 45°, fillet root");
    for series in &mut catalog.splines {
        series.counts.retain(|count| count.teeth == 31);
    }
    catalog.bolt_circles.retain(|row| row.holes == 5 && (row.diameter.inches() - 4.75).abs() < 1e-6);
    // Parts that are in no row are all but ruled out; nothing may have no weight at all.
    catalog.settings.beliefs.unlisted_part = 1e-15;
    catalog
}

/// A sheet that gives every dimension and checks few.
fn lean() -> BenchSheet {
    use Measurand as M;
    BenchSheet::of(TrueVehicle::light_truck())
        .all_taken(&[
            M::ShoulderDistance,
            M::BearingOutside,
            M::FlangeDiameter,
            M::RegisterDiameter,
            M::WheelPilotDiameter,
            M::HoleCount,
            M::ChordAdjacent,
            M::ToothCount,
            M::SplineMajorDiameter,
            M::RingSeatDiameter,
            M::SealJournalDiameter,
        ])
        .taken(M::BrakeOffset, Some(Side::Left))
        .taken_on_both_sides(&[M::OverallLength])
}

/// Every reading that could be added to a sheet, on every side that it can be taken on.
fn all_readings() -> Vec<(Measurand, Option<Side>)> {
    let both = [Some(Side::Left), Some(Side::Right)];
    let sides = |measurand| match SHIPPED.measurand(measurand).sides {
        Sides::Each => both.to_vec(),
        Sides::Whole => vec![None],
        Sides::Either => vec![None, both[0], both[1]],
    };
    MEASURANDS.iter().flat_map(|(one, _)| sides(*one).into_iter().map(|side| (*one, side))).collect()
}

/// By how much the standard uncertainty of any dimension grows, as a share, when one consistent reading is added.
fn widest_growth(catalog: &Catalog) -> (f64, String) {
    let before = review(&lean().read(), catalog).expect("a sound model");
    let mut widest = (f64::NEG_INFINITY, String::new());
    for (measurand, side) in all_readings() {
        let after = review(&lean().taken(measurand, side).read(), catalog).expect("a sound model");
        for dimension in &before.dimensions {
            let own = dimension.standard_uncertainty.millimetres();
            let again = after.dimension(dimension.kind, dimension.side).expect("what was determined stays determined");
            let growth = again.standard_uncertainty.millimetres() / own - 1.0;
            if own > 0.0 && growth > widest.0 {
                widest = (growth, format!("{:?} {:?} by {measurand:?} {side:?}", dimension.kind, dimension.side));
            }
        }
    }
    widest
}

/// Within one explanation the unknowns are jointly normal and a reading is linear in them, so a further one can only narrow:
/// `C' = C - C a aT C / (aT C a + u^2)` takes away a square, whatever the reading says. The guarantee is exact but for
/// rounding.
#[test]
fn a_further_reading_never_widens_a_dimension_within_one_explanation() {
    let (growth, where_) = widest_growth(&one_explanation());
    assert!(growth <= 1e-9, "{where_}: {growth:e}");
}

/// The same where what is added is the other side of something that both sides have alike, read as closely.
#[test]
fn reading_the_other_side_as_well_never_widens_a_dimension_within_one_explanation() {
    let catalog = one_explanation();
    let measured = |sheet: BenchSheet, side| {
        sheet.taken_with(Measurand::FlangeThickness, Some(side), Some("micrometer")).taken_with(
            Measurand::ShoulderDistance,
            Some(side),
            Some("depth gauge"),
        )
    };
    let left = measured(BenchSheet::of(TrueVehicle::light_truck()), Side::Left);
    let both = measured(left.clone(), Side::Right);
    let [one, two] = [left, both].map(|sheet| review(&sheet.read(), &catalog).expect("a sound model"));
    for kind in [DimensionKind::FlangeThickness, DimensionKind::ShoulderDistance] {
        let uncertainty =
            |review: &Review| review.dimension(kind, None).expect("it was read").standard_uncertainty.millimetres();
        assert!(uncertainty(&two) < uncertainty(&one), "{kind:?}: {} and {}", uncertainty(&two), uncertainty(&one));
    }
}

/// What was read on one side stands for both shafts only as closely as the sides of an old axle agree; where but one shaft is
/// wanted and that side was read, it stands for itself.
#[test]
fn one_side_says_no_more_of_the_other_than_the_sides_agree() {
    let sheet = BenchSheet::of(TrueVehicle::light_truck()).taken_with(
        Measurand::FlangeThickness,
        Some(Side::Left),
        Some("micrometer"),
    );
    let uncertainty = |wanted: &[Side]| {
        let mut sheet = sheet.read();
        sheet.wanted = wanted.to_vec();
        reviewed(&sheet).readings[0].standard_uncertainty.expect("it is a length").millimetres()
    };
    let side_to_side = SHIPPED.settings.stray.side_to_side.millimetres();
    assert!(uncertainty(&[Side::Left]) < side_to_side);
    assert!(uncertainty(&[Side::Right]) > side_to_side);
    assert!(uncertainty(&[Side::Left, Side::Right]) > side_to_side);
}

/// Over several explanations there is no such guarantee: a further reading also brings its own mistakes. On a sound sheet
/// each of these is all but ruled out by the reading that it would have to spoil, so what it adds is small.
#[test]
fn a_further_sound_reading_hardly_widens_a_dimension_over_all_explanations() {
    let (growth, where_) = widest_growth(&SHIPPED);
    assert!(growth <= 0.05, "{where_}: {growth}");
}

/// What has to hold of any review at all.
fn assert_sound(sheet: &Sheet, review: &Review) {
    let probability = |value: f64, what: &str| assert!((0.0..=1.0).contains(&value), "{what} is {value}");
    assert_eq!(review.readings.len(), sheet.readings.len(), "every reading is answered");
    if let Some(fit) = review.fit_probability {
        probability(fit.value, "the fit probability");
        assert!(fit.error >= 0.0);
    }
    probability(review.prior_left_out, "the prior left out");
    for condition in &review.conditions {
        probability(condition.probability, &condition.words);
    }
    for reading in &review.readings {
        probability(reading.probability_mistaken, "a blame");
        probability(reading.redundancy, "a redundancy number");
        assert!(reading.value.is_some() != reading.count.is_some(), "a reading is a length or a count");
    }
    let mut listed = 0.0;
    for explanation in &review.explanations {
        probability(explanation.probability, "an explanation");
        listed += explanation.probability;
        for mistake in &explanation.mistakes {
            assert!(!mistake.readings.is_empty());
            assert!(mistake.readings.iter().all(|at| *at < review.readings.len()));
        }
    }
    assert!(listed <= 1.0 + 1e-9, "the explanations sum to {listed}");
    for dimension in &review.dimensions {
        assert!(dimension.least <= dimension.cut && dimension.cut <= dimension.most, "{dimension:#?}");
        assert!(dimension.standard_uncertainty.value >= 0.0, "{dimension:#?}");
        assert!(dimension.cut.value > 0.0 || review.verdict == Verdict::Stop, "{dimension:#?}");
    }
    for part in &review.identified {
        for candidate in &part.candidates {
            probability(candidate.probability, &candidate.name);
        }
        let sum: f64 = part.candidates.iter().map(|candidate| candidate.probability).sum();
        assert!(sum <= 1.0 + 1e-9, "the candidates for {:?} sum to {sum}", part.kind);
    }
    for question in &review.questions {
        probability(question.gain, &question.words);
    }
    if review.verdict == Verdict::Cut {
        let fit = review.fit_probability.expect("nothing is cut without it");
        assert!(fit.value >= SHIPPED.settings.thresholds.cut_at && review.missing.is_empty());
        assert!(review.questions.is_empty());
    }
    // Numbers that are none would be printed as such.
    let printed = format!("{review:?}");
    assert!(!printed.contains("NaN") && !printed.contains("inf"), "{printed}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// Random subsets of all readings with plausible, odd and absurd values, on any side, with any instrument and condition.
    #[test]
    fn every_sheet_that_can_be_read_is_reviewed(head in head(), draws in prop::collection::vec(draw(), 0..24)) {
        let text = sheet_text(&head, &draws, &SHIPPED);
        let sheet = read("random.toml", &text);
        prop_assert_eq!(sheet.readings.len(), draws.len());
        assert_sound(&sheet, &reviewed(&sheet));
    }
}

#[test]
fn an_empty_sheet_is_reviewed_and_asked_about() {
    let head = "[order]\nreference = \"E\"\nuse = \"tow\"\nsides = [\"right\"]\n";
    for text in [head.to_owned(), format!("{head}[shared]\n[left]\n[right]\n")] {
        let sheet = read("empty.toml", &text);
        let review = reviewed(&sheet);
        assert_sound(&sheet, &review);
        assert_eq!(review.verdict, Verdict::Ask);
        assert!(review.questions.iter().all(|question| question.required), "{:#?}", review.questions);
        assert!(!review.questions.is_empty());
    }
}

/// Every reading at the smallest or at the largest size that is accepted, all on one sheet and each on a sheet of its own.
#[test]
fn sheets_at_the_ends_of_what_is_accepted_are_reviewed() {
    let entry = |measurand: Measurand, largest: bool| {
        let row = SHIPPED.measurand(measurand);
        let (least, most) = (row.accepted.0.millimetres(), row.accepted.1.millimetres());
        // A hair inside, so that the decimal does not round out of the range.
        let size = if largest { most - 1e-5 } else { least + 1e-5 };
        if measurand.is_count() {
            format!("{} = {size:.0}\n", measurand.key())
        } else if measurand == Measurand::SplineOverPins {
            format!("{} = {{ value = \"{size:.6} mm\", pin = \"{:.6} mm\" }}\n", measurand.key(), 0.06 * size)
        } else {
            format!("{} = \"{size:.6} mm\"\n", measurand.key())
        }
    };
    let sheet = |entries: &[(Measurand, bool)]| {
        let mut text =
            "[order]\nreference = \"X\"\nuse = \"tow\"\nsides = [\"left\", \"right\"]\n[shared]\n".to_owned();
        let mut sided = String::new();
        for (measurand, largest) in entries {
            let each = SHIPPED.measurand(*measurand).sides == Sides::Each;
            if each { &mut sided } else { &mut text }.push_str(&entry(*measurand, *largest));
        }
        format!("{text}[left]\n{sided}[right]\n{sided}")
    };
    for largest in [false, true] {
        let all: Vec<(Measurand, bool)> = MEASURANDS.iter().map(|(measurand, _)| (*measurand, largest)).collect();
        let each = all.chunks(1).chain([all.as_slice()]);
        for entries in each {
            let sheet = read("ends.toml", &sheet(entries));
            assert_sound(&sheet, &reviewed(&sheet));
        }
    }
}

/// A drawer full of sheets for one order: four people each measured everything twice.
#[test]
fn a_sheet_with_far_more_readings_than_usual_is_reviewed() {
    let once = BenchSheet::well_checked(TrueVehicle::light_truck()).read();
    let mut sheet = once.clone();
    for _ in 1..4 {
        sheet.readings.extend(once.readings.iter().cloned());
    }
    let review = reviewed(&sheet);
    assert_sound(&sheet, &review);
    assert_eq!(review.verdict, Verdict::Cut, "{:#?}", review.reasons);
}
