//! What a reading should have said if a mistake in it is undone and nothing else.
//!
//! What the rest of the sheet makes of a reading is no correction of it: written in its place it would count the other readings
//! twice. A correction keeps what was read and takes the mistake away again: the digits stand the right way round, the inch is in its
//! place, the other side's reading stands on this side. Where a mistake moves a reading by the size of a part, that size comes from the
//! explanation, and the correction is computed. A mistake that does not say by how much it moves a reading has no correction.

use catalog::{Measurand, MistakeKind};
use quantity::{Length, LengthExt, LengthUnit, WrittenLength, decimal_inches, millimetres, millimetres_text};
use reconcile::{Evidence, Explanation, Form};

use crate::block::{Block, Tag};
use crate::evidence::Taken;
use crate::geometry::Geometry;
use crate::review::Correction;
use crate::sheet::{Reading, Sheet, Side, Value};

/// The corrections of the readings that a mistake spoils in an explanation; none for a reading of which the mistake leaves nothing
/// that could be kept.
pub(crate) fn corrections<C: Geometry>(
    block: &Block<'_, C>,
    tag: &Tag,
    explanation: &Explanation,
    sheet: &Sheet,
) -> Vec<Correction> {
    let names = block.tags(explanation.model);
    let Some(mistake) = explanation.mistakes.iter().find(|mistake| names[**mistake] == *tag) else { return Vec::new() };
    let model = &block.models[explanation.model];
    let spoils = &model.mistakes[*mistake].spoils;
    spoils
        .iter()
        .filter_map(|(at, meaning)| {
            let taken = &block.taken[*at];
            let reading = &sheet.readings[taken.index];
            let (written, is_literal) = match tag.kind {
                kind if leaves_nothing(kind) => return None,
                MistakeKind::LeftRightSwapped => (of_other_side(block, spoils, *at, sheet)?, true),
                MistakeKind::InchForMillimetre => (in_unit(taken, LengthUnit::Inch)?, true),
                MistakeKind::MillimetreForInch => (in_unit(taken, LengthUnit::Millimetre)?, true),
                kind => {
                    let undo = undoing(&model.readings[*at].form, meaning, |change| {
                        block.mixture.posterior(explanation).map(|posterior| posterior.mean_of(change))
                    })?;
                    undone(taken, reading.counts(), is_of_the_pen(kind), undo)?
                }
            };
            Some(Correction { reading: taken.index, written, is_literal })
        })
        .collect()
}

/// Mistakes that say nothing of what the reading should have been, or only of something else, and those whose size is no more than
/// usual: how far a hook is bent, a tape sagged or a seat is worn shows only when it is taken again.
fn leaves_nothing(kind: MistakeKind) -> bool {
    matches!(
        kind,
        MistakeKind::Anything
            | MistakeKind::OldPartWrong
            | MistakeKind::OneSideForOther
            | MistakeKind::HookBent
            | MistakeKind::TapeSlanted
            | MistakeKind::TapeBowed
            | MistakeKind::CaliperTilted
            | MistakeKind::RustOrPaint
            | MistakeKind::WornSeat
    )
}

/// Mistakes in which what stood on the scale, or what was counted, follows from what was written.
fn is_of_the_pen(kind: MistakeKind) -> bool {
    matches!(
        kind,
        MistakeKind::TickSlip
            | MistakeKind::WholeInchSlip
            | MistakeKind::ReadBackFromNextInch
            | MistakeKind::BurntInch
            | MistakeKind::CaseLengthLeftOut
            | MistakeKind::DigitsSwapped
            | MistakeKind::PointSlipped
            | MistakeKind::Miscounted
            | MistakeKind::HalfCountDoubled
    )
}

/// What was written for the same thing on the other side, where both were swapped.
fn of_other_side<C>(block: &Block<'_, C>, spoils: &[(usize, Evidence)], at: usize, sheet: &Sheet) -> Option<String> {
    let own = &block.taken[at];
    let on = |measurand: Measurand, side: Option<Side>| {
        let alike = move |(other, _): &&(usize, Evidence)| {
            let other = &block.taken[*other];
            other.measurand == measurand && other.side == side
        };
        spoils.iter().filter(alike).map(|(other, _)| *other).collect::<Vec<usize>>()
    };
    let (here, there) = (on(own.measurand, own.side), on(own.measurand, own.side.map(Side::other)));
    // Which of two readings belongs to which of three nobody knows.
    let place = here.iter().position(|one| *one == at).filter(|_| here.len() == there.len())?;
    Some(as_typed(&sheet.readings[block.taken[there[place]].index]))
}

/// What counts of a reading as it would be typed in again, repeats with `;` between them.
fn as_typed(reading: &Reading) -> String {
    match reading.counts() {
        Value::Count(count) => count.to_string(),
        Value::Length(repeats) => repeats.iter().map(WrittenLength::text).collect::<Vec<_>>().join("; "),
    }
}

/// The same number in another unit.
fn in_unit(taken: &Taken<'_>, unit: LengthUnit) -> Option<String> {
    taken.written.map(|written| format!("{} {}", written.digits(), unit.symbol()))
}

/// How what was read becomes what it should have been.
#[derive(Debug, Clone, Copy)]
enum Undo {
    /// So much less.
    Less(f64),
    /// So many times smaller.
    Smaller(f64),
}

impl Undo {
    fn of(self, value: f64) -> f64 {
        match self {
            Self::Less(shift) => value - shift,
            Self::Smaller(factor) => value / factor,
        }
    }
}

/// How a mistake is undone; none where it moves nothing and only widens what a reading may have been.
fn undoing(own: &Form, meaning: &Evidence, mean: impl Fn(&Form) -> Option<f64>) -> Option<Undo> {
    let change = meaning.form.minus(own);
    if change.terms().is_empty() {
        return Some(change.constant()).filter(|shift| shift.abs() > DUST).map(Undo::Less);
    }
    match ratio(own, &meaning.form) {
        Some(factor) => Some(Undo::Smaller(factor)),
        None => mean(&change).map(Undo::Less),
    }
}

/// Millimetres that are nothing but the dust of converting.
const DUST: f64 = 1e-9;

/// The number that turns one form into the other, where there is one.
fn ratio(one: &Form, other: &Form) -> Option<f64> {
    let (first, second) = (one.terms().first()?, other.terms().first()?);
    let factor = second.1 / first.1;
    (one.times(factor).minus(other).terms().iter().all(|(_, left)| left.abs() < DUST)
        && (factor * one.constant() - other.constant()).abs() < DUST)
        .then_some(factor)
}

/// The correction as it would be typed, and whether it stands as it was written but for the mistake.
fn undone(taken: &Taken<'_>, value: &Value, of_the_pen: bool, undo: Undo) -> Option<(String, bool)> {
    let within = |length: Length| length >= taken.row.accepted.0 && length <= taken.row.accepted.1;
    match value {
        Value::Count(count) => {
            let right = undo.of(f64::from(*count)).round();
            within(millimetres(right)).then(|| (format!("{right:.0}"), of_the_pen))
        }
        Value::Length(repeats) => {
            let right: Vec<Length> =
                repeats.iter().map(|one| millimetres(undo.of(one.value().millimetres()))).collect();
            if !right.iter().copied().all(within) {
                return None;
            }
            let restated = || repeats.iter().zip(&right).map(|(one, right)| one.restated(*right)).collect();
            let literal: Option<Vec<String>> = if of_the_pen { restated() } else { None };
            let is_literal = literal.is_some();
            let texts = literal.unwrap_or_else(|| {
                repeats.iter().zip(&right).map(|(one, right)| computed(taken, one.unit(), *right)).collect()
            });
            Some((texts.join("; "), is_literal))
        }
    }
}

/// A computed size, in decimals of the unit that was read and no finer than the instrument.
fn computed(taken: &Taken<'_>, unit: LengthUnit, size: Length) -> String {
    /// Instruments with a smaller step read to a thousandth of a millimetre.
    const FINE: f64 = 0.02;
    let more = usize::from(taken.instrument.step.millimetres() < FINE);
    if unit.is_metric() { millimetres_text(size, 2 + more) } else { decimal_inches(size, 3 + more) }
}
