//! What a reading means where it was measured badly, written down wrong, or wrong past explaining.
//!
//! These mistakes do not depend on what was measured, only on the number: a mark or an inch too far, digits swapped,
//! millimetres taken for inches. Sizes and rates come from the catalog.

use catalog::{MistakeKind, MistakeRow};
use quantity::{Instrument, LengthExt, LengthUnit};
use reconcile::{Evidence, Form};

use crate::evidence::Taken;
use crate::meanings::Meaning;

/// One way in which a number may have gone wrong.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Slip {
    /// Its share of the rate of its kind.
    pub share: f64,
    /// What it multiplies the reading by.
    factor: f64,
    /// What it then adds, in millimetres.
    by: f64,
    /// Standard deviation of what it adds beyond that.
    spread: f64,
}

impl Slip {
    /// What a reading then means that claims to be of this form.
    pub fn meaning(&self, form: &Form) -> Meaning {
        let scaled = if self.factor == 1.0 { form.clone() } else { form.times(self.factor) };
        Meaning { form: scaled.offset_by(self.by), spread: self.spread, factor: self.factor }
    }
}

/// The alternatives of one kind of slip: each with its share of the kind's rate, and what the reading then means.
pub(crate) fn slips(row: &MistakeRow, taken: &Taken<'_>, form: &Form) -> Vec<(f64, Evidence)> {
    let evidence = |slip: &Slip| slip.meaning(form).evidence(taken.value, taken.standard_uncertainty);
    slips_of(row, taken).iter().map(|slip| (slip.share, evidence(slip))).collect()
}

/// The ways in which this kind of slip may have befallen a reading; none where it cannot.
pub(crate) fn slips_of(row: &MistakeRow, taken: &Taken<'_>) -> Vec<Slip> {
    if !row.spoils.contains(&taken.measurand) || (needs_tape(row.kind) && !is_tape(taken.instrument)) {
        return Vec::new();
    }
    let spread = spread(taken, row);
    let shifted = |share: f64, by: f64| Slip { share, factor: 1.0, by, spread };
    let scaled = |share: f64, factor: f64| Slip { share, factor, by: 0.0, spread };
    match row.kind {
        MistakeKind::DigitsSwapped => {
            let values = taken.written.map(|written| written.with_neighbouring_digits_swapped()).unwrap_or_default();
            let share = 1.0 / values.len().max(1) as f64;
            values.iter().map(|right| shifted(share, taken.value - right.millimetres())).collect()
        }
        MistakeKind::ReadBackFromNextInch => {
            let right = taken.written.and_then(|written| written.read_back_from_next());
            right.map(|right| shifted(1.0, taken.value - right.millimetres())).into_iter().collect()
        }
        MistakeKind::InchForMillimetre => {
            in_unit(taken, LengthUnit::Inch).map(|factor| scaled(1.0, factor)).into_iter().collect()
        }
        MistakeKind::MillimetreForInch => {
            in_unit(taken, LengthUnit::Millimetre).map(|factor| scaled(1.0, factor)).into_iter().collect()
        }
        MistakeKind::PointSlipped => [10.0, 0.1].map(|factor| scaled(0.5, factor)).into_iter().collect(),
        // Geometry: what a caliper reads across an odd count follows from the count.
        MistakeKind::OddCountAcross => Vec::new(),
        MistakeKind::TapeSlanted => one_sided(row, taken, |height, length| length.hypot(height) - length),
        MistakeKind::TapeBowed => one_sided(row, taken, |sag, length| 8.0 * sag * sag / (3.0 * length.max(sag))),
        MistakeKind::Anything | MistakeKind::OldPartWrong => vec![shifted(1.0, 0.0)],
        _ => row.sizes.iter().map(|(size, share)| shifted(*share, size.millimetres())).collect(),
    }
}

/// An error that can only lie on one side of nought and follows from the length: each size of the row with a standard
/// deviation of a third of the error, which leaves a thousandth of it on the wrong side.
fn one_sided(row: &MistakeRow, taken: &Taken<'_>, error: impl Fn(f64, f64) -> f64) -> Vec<Slip> {
    let slip = |(size, share): &(quantity::Length, f64)| {
        let error = error(size.millimetres(), taken.value.abs());
        Slip { share: *share, factor: 1.0, by: error, spread: error / 3.0 }
    };
    row.sizes.iter().map(slip).collect()
}

/// What multiplies a number that was read in `right` and written in another unit; nothing to say where it was written in
/// `right`.
fn in_unit(taken: &Taken<'_>, right: LengthUnit) -> Option<f64> {
    let written = taken.written?;
    let metric_slip = right == LengthUnit::Millimetre && !written.unit().is_metric();
    let inch_slip = right == LengthUnit::Inch && written.unit() == LengthUnit::Millimetre;
    (metric_slip || inch_slip).then(|| taken.value / written.as_if_in(right).millimetres())
}

/// Standard deviation of the spread that the mistake adds. The broad "anything" has none in the catalog: it is as wide as the
/// measurand's usual range.
fn spread(taken: &Taken<'_>, row: &MistakeRow) -> f64 {
    if row.kind == MistakeKind::Anything {
        let (least, most) = taken.row.usual;
        0.5 * (most.millimetres() - least.millimetres())
    } else {
        row.spread.millimetres()
    }
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
