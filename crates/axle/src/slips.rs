//! What a reading means where it was measured badly, written down wrong, or wrong past explaining.
//!
//! These mistakes do not depend on what was measured, only on the number: a mark or an inch too far, digits swapped,
//! millimetres taken for inches. Sizes and rates come from the catalog.

use catalog::{MistakeKind, MistakeRow};
use quantity::{Instrument, LengthExt, LengthUnit};
use reconcile::{Evidence, Form};

use crate::evidence::Taken;

/// The alternatives of one kind of slip: each with its share of the kind's rate, and what the reading then means.
pub(crate) fn slips(row: &MistakeRow, taken: &Taken<'_>, form: &Form) -> Vec<(f64, Evidence)> {
    if !row.spoils.contains(&taken.measurand) || (needs_tape(row.kind) && !is_tape(taken.instrument)) {
        return Vec::new();
    }
    let uncertainty = widened(taken, row);
    let meaning = |form: Form| Evidence { form, value: taken.value, standard_uncertainty: uncertainty };
    let shifted = |by: f64| meaning(form.offset_by(by));
    match row.kind {
        MistakeKind::DigitsSwapped => {
            let values = taken.written.map(|written| written.with_neighbouring_digits_swapped()).unwrap_or_default();
            let share = 1.0 / values.len().max(1) as f64;
            values.iter().map(|right| (share, shifted(taken.value - right.millimetres()))).collect()
        }
        MistakeKind::ReadBackFromNextInch => {
            let right = taken.written.and_then(|written| written.read_back_from_next());
            right.map(|right| (1.0, shifted(taken.value - right.millimetres()))).into_iter().collect()
        }
        MistakeKind::InchForMillimetre => in_unit(taken, form, uncertainty, LengthUnit::Inch),
        MistakeKind::MillimetreForInch => in_unit(taken, form, uncertainty, LengthUnit::Millimetre),
        MistakeKind::PointSlipped => {
            [10.0, 0.1].map(|factor| (0.5, scaled(taken, form, uncertainty, factor))).into_iter().collect()
        }
        // Geometry: what a caliper reads across an odd count follows from the count.
        MistakeKind::OddCountAcross => Vec::new(),
        MistakeKind::TapeSlanted => one_sided(row, taken, form, |height, length| length.hypot(height) - length),
        MistakeKind::TapeBowed => one_sided(row, taken, form, |sag, length| 8.0 * sag * sag / (3.0 * length.max(sag))),
        MistakeKind::Anything | MistakeKind::OldPartWrong => vec![(1.0, meaning(form.clone()))],
        _ => row.sizes.iter().map(|(size, share)| (*share, shifted(size.millimetres()))).collect(),
    }
}

/// An error that can only lie on one side of nought and follows from the length: each size of the row with a standard
/// deviation of a third of the error, which leaves a thousandth of it on the wrong side.
fn one_sided(
    row: &MistakeRow,
    taken: &Taken<'_>,
    form: &Form,
    error: impl Fn(f64, f64) -> f64,
) -> Vec<(f64, Evidence)> {
    let meaning = |(size, share): &(quantity::Length, f64)| {
        let error = error(size.millimetres(), taken.value.abs());
        let standard_uncertainty = taken.standard_uncertainty.hypot(error / 3.0);
        (*share, Evidence { form: form.offset_by(error), value: taken.value, standard_uncertainty })
    };
    row.sizes.iter().map(meaning).collect()
}

/// The number was read in `right` and written in another unit; nothing to say where it was written in `right`.
fn in_unit(taken: &Taken<'_>, form: &Form, uncertainty: f64, right: LengthUnit) -> Vec<(f64, Evidence)> {
    let Some(written) = taken.written else { return Vec::new() };
    let factor = taken.value / written.as_if_in(right).millimetres();
    let metric_slip = right == LengthUnit::Millimetre && !written.unit().is_metric();
    let inch_slip = right == LengthUnit::Inch && written.unit() == LengthUnit::Millimetre;
    if metric_slip || inch_slip { vec![(1.0, scaled(taken, form, uncertainty, factor))] } else { Vec::new() }
}

/// The number is `factor` times what it should be.
fn scaled(taken: &Taken<'_>, form: &Form, uncertainty: f64, factor: f64) -> Evidence {
    Evidence { form: form.times(factor), value: taken.value, standard_uncertainty: uncertainty * factor }
}

/// Standard uncertainty of the reading where the mistake adds a spread of its own. The broad "anything" has none in the
/// catalog: it is as wide as the measurand's usual range.
fn widened(taken: &Taken<'_>, row: &MistakeRow) -> f64 {
    let spread = if row.kind == MistakeKind::Anything {
        let (least, most) = taken.row.usual;
        0.5 * (most.millimetres() - least.millimetres())
    } else {
        row.spread.millimetres()
    };
    taken.standard_uncertainty.hypot(spread)
}

/// Slips that only a tape or rule knows.
fn needs_tape(kind: MistakeKind) -> bool {
    matches!(
        kind,
        MistakeKind::HookBent
            | MistakeKind::TapeSlanted
            | MistakeKind::TapeBowed
            | MistakeKind::BurntInch
            | MistakeKind::CaseLengthLeftOut
            | MistakeKind::TickSlip
            | MistakeKind::WholeInchSlip
    )
}

/// Whether an instrument is read against a scale of marks, as tapes and rules are: its step is at least half a millimetre
/// or a 64th of an inch.
fn is_tape(instrument: &Instrument) -> bool {
    instrument.step.millimetres() > 0.39
}
