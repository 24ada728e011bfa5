//! Readings that have to be confirmed before anything is cut, however well the rest of the sheet hangs together.
//!
//! A mixture says what is likely. It is no ground to cut a size whose only reading is probably wrong, a reading whose own
//! repeats contradict each other, or one that is wrong in a way that nobody can name: such a reading is taken again.

use catalog::{Catalog, Measurand, MistakeKind};
use quantity::{LengthExt, combine, resolution};

use crate::decide::measurand_of;
use crate::evidence::Taken;
use crate::explanations::name;
use crate::review::{Dimension, DimensionKind, Identified, PartKind, ReadingReview, Reason, Verdict};
use crate::sheet::{Sheet, Value};

/// Repeats by one hand may differ by so many standard deviations of a single reading. The range of three honest repeats passes
/// this once in 80,000 sets, of five once in 20,000, of ten once in 5,000 (`scipy.stats.studentized_range`, 1.3e-5, 4.2e-5 and
/// 1.9e-4).
const REPEATS_WITHIN: f64 = 6.5;

/// A reading that has to be confirmed, by its place in the sheet, and why.
pub(crate) struct Confirm {
    pub reading: Option<usize>,
    pub reason: Reason,
}

/// Everything on the sheet that has to be confirmed.
pub(crate) fn to_confirm(
    sheet: &Sheet,
    catalog: &Catalog,
    taken: &[Taken<'_>],
    readings: &[ReadingReview],
    dimensions: &[Dimension],
    identified: &[Identified],
) -> Vec<Confirm> {
    let mut all: Vec<Confirm> =
        taken.iter().filter_map(|one| repeats_disagree(sheet, one, sheet.readings[one.index].counts())).collect();
    let blame_at = catalog.settings.thresholds.blame_at;
    for (at, reading) in readings.iter().enumerate() {
        // What was taken again, and is not doubted then, needs no third time.
        let again = |(other, twin): (usize, &ReadingReview)| {
            other != at
                && twin.measurand == reading.measurand
                && twin.side == reading.side
                && twin.probability_mistaken < blame_at
        };
        if readings.iter().enumerate().any(again) {
            continue;
        }
        let already = all.iter().any(|one| one.reading == Some(at));
        if !already && let Some(words) = blamed_without_ground(catalog, reading, &taken[at], dimensions, sheet) {
            let remedy = Some("Take it again, by another person if there is one.".to_owned());
            let reason = Reason { verdict: Verdict::Ask, words, remedy };
            all.push(Confirm { reading: Some(at), reason });
        }
    }
    all.extend(stud_hole_disagrees(sheet, catalog, taken));
    all.extend(claims_disagree(sheet, identified));
    all
}

/// Repeats of one reading, in `value`, that lie further apart than one hand with that instrument can explain.
pub(crate) fn repeats_disagree(sheet: &Sheet, taken: &Taken<'_>, value: &Value) -> Option<Confirm> {
    let Value::Length(repeats) = value else { return None };
    let sizes = || repeats.iter().map(|one| one.value().millimetres());
    let range = sizes().fold(f64::NEG_INFINITY, f64::max) - sizes().fold(f64::INFINITY, f64::min);
    let steps: f64 = repeats.iter().map(|one| one.step(taken.instrument.step).millimetres()).fold(0.0, f64::max);
    let single =
        combine(&[taken.instrument.repeatability.millimetres(), taken.row.set_up.millimetres(), resolution(steps)]);
    // An instrument whose repeatability is part of its standard uncertainty has none of its own in the catalog.
    let single = single.max(0.5 * taken.instrument.limit.standard_uncertainty(repeats[0].value()).millimetres());
    (range > REPEATS_WITHIN * single).then(|| Confirm {
        reading: Some(taken.index),
        reason: Reason {
            verdict: Verdict::Ask,
            words: format!("The repeats of the {} do not agree with each other.", name(taken, sheet)),
            remedy: Some("Take it again, and write down every repeat.".to_owned()),
        },
    })
}

/// A reading of a size that is to be cut, that is probably mistaken, and that either nothing checks or no mistake explains.
fn blamed_without_ground(
    catalog: &Catalog,
    reading: &ReadingReview,
    taken: &Taken<'_>,
    dimensions: &[Dimension],
    sheet: &Sheet,
) -> Option<String> {
    let thresholds = &catalog.settings.thresholds;
    let is_cut = |dimension: &Dimension| {
        measurand_of(dimension.kind) == Some(reading.measurand)
            && (dimension.side.is_none() || reading.side.is_none() || dimension.side == reading.side)
            && dimension.kind != DimensionKind::JournalDiameter
    };
    if reading.probability_mistaken < thresholds.blame_at || !dimensions.iter().any(is_cut) {
        return None;
    }
    let unchecked = reading.redundancy < thresholds.checked_at;
    let unnamed = reading.likely_mistake.is_some_and(|(kind, _)| kind == MistakeKind::Anything);
    let called = name(taken, sheet);
    if unchecked {
        Some(format!("The {called} is probably wrong, and the other readings say only roughly what it should be."))
    } else if unnamed {
        Some(format!("The {called} is wrong in a way that no known mistake explains."))
    } else {
        None
    }
}

/// The hole that the old studs sat in, against the thread that the sheet names.
fn stud_hole_disagrees(sheet: &Sheet, catalog: &Catalog, taken: &[Taken<'_>]) -> Option<Confirm> {
    let row = catalog.stud(sheet.parts.stud?)?;
    let read = taken.iter().find(|one| one.measurand == Measurand::StudHole)?;
    let (least, most) = (row.hole.0.millimetres(), row.hole.1.millimetres());
    // A hole that a knurl was pressed into is wider than it was drilled, by the knurl's height at most.
    let room = 3.0 * read.standard_uncertainty;
    let widest = row.knurl.1.millimetres().max(most) + room;
    (read.value < least - room || read.value > widest).then(|| Confirm {
        reading: Some(read.index),
        reason: Reason {
            verdict: Verdict::Ask,
            words: format!("The {} does not suit a press-in stud {}.", name(read, sheet), row.thread),
            remedy: Some(
                "Ask which stud the new shaft is to take, and measure the hole or the knurl again.".to_owned(),
            ),
        },
    })
}

/// A part that the sheet names and the readings contradict.
fn claims_disagree(sheet: &Sheet, identified: &[Identified]) -> Vec<Confirm> {
    let claims = [
        (PartKind::Bearing, sheet.parts.bearing.as_deref(), "bearing"),
        (PartKind::HousingEnd, sheet.parts.housing_end.as_deref(), "housing end"),
        (PartKind::Spline, sheet.parts.spline_series.as_deref(), "spline"),
    ];
    let likeliest =
        |kind: PartKind| identified.iter().find(|part| part.kind == kind).and_then(|part| part.candidates.first());
    claims
        .into_iter()
        .filter_map(|(kind, claim, words)| {
            let (claim, found) = (claim?, likeliest(kind)?);
            // A spline is named with its count; its series is the rest of the name.
            let agrees = found.name == claim || found.name.ends_with(claim) || found.name.starts_with("DIN 5480");
            (!agrees).then(|| Confirm {
                reading: None,
                reason: Reason {
                    verdict: Verdict::Ask,
                    words: format!("The sheet names the {words} {claim}, and the readings point to {}.", found.name),
                    remedy: Some("Ask which of the two it is.".to_owned()),
                },
            })
        })
        .collect()
}
