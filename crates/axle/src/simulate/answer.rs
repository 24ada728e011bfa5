//! Answering a question as somebody does who goes back to the parts and takes care: with an instrument's error, without a
//! mistake.

use catalog::{Catalog, Measurand};
use placed::Position;

use super::chance::Chance;
use super::measure::as_written;
use super::vehicle::Vehicle;
use crate::evidence::planned_uncertainty;
use crate::review::Question;
use crate::sheet::{Reading, Sheet, Side, Value};

/// Who answers: another hand than the one that measured first.
const SECOND_HAND: &str = "second hand";

/// The sheet with the question answered truthfully; none where nobody can answer it.
pub(crate) fn answered(
    sheet: &Sheet,
    question: &Question,
    vehicle: &Vehicle<'_>,
    catalog: &Catalog,
    chance: &mut Chance<'_>,
) -> Option<Sheet> {
    let mut longer = sheet.clone();
    let first = question.measurand.map(|measurand| (measurand, question.side));
    for (measurand, side) in first.into_iter().chain(question.with.iter().copied()) {
        longer.readings.extend(read(&longer, measurand, side, question, vehicle, catalog, chance));
    }
    if question.measurand.is_none() {
        let asked = |word: &str| question.words.contains(word);
        if asked("kind the bearing") {
            longer.parts.bearing_kind = vehicle.chain.parts.bearing.map(|row| row.kind);
        } else if asked("series") {
            longer.parts.spline_series = vehicle.spline.listed.as_ref().map(|(series, _, _)| series.name.clone());
        }
    }
    let heard = longer.parts.bearing_kind != sheet.parts.bearing_kind
        || longer.parts.spline_series != sheet.parts.spline_series;
    (heard || longer.readings.len() > sheet.readings.len()).then_some(longer)
}

fn read(
    sheet: &Sheet,
    measurand: Measurand,
    side: Option<Side>,
    question: &Question,
    vehicle: &Vehicle<'_>,
    catalog: &Catalog,
    chance: &mut Chance<'_>,
) -> Option<Reading> {
    let row = catalog.measurand(measurand);
    let named = question.instrument.as_deref().and_then(|name| catalog.instrument(name));
    let instrument = named.unwrap_or_else(|| catalog.better_instrument(row));
    let pin_diameter = (measurand == Measurand::SplineOverPins).then(|| vehicle.spline.usual_pin()).flatten();
    let (geometry, truth) = vehicle.topic_of(measurand, side)?;
    let taken = crate::evidence::Taken {
        index: 0,
        measurand,
        side,
        value: 0.0,
        standard_uncertainty: planned_uncertainty(row, instrument),
        written: None,
        instrument,
        by: Some(SECOND_HAND),
        row,
        conditions: &[],
        pin_diameter,
    };
    let right = geometry.form_of(&taken)?.at(truth);
    let value = if measurand.is_count() {
        Value::Count(right.round().max(1.0) as u32)
    } else {
        Value::Length(vec![as_written(right + chance.normal(0.0, taken.standard_uncertainty), instrument)?])
    };
    Some(Reading {
        measurand,
        side,
        value,
        instrument: Some(instrument.name.clone()),
        conditions: Vec::new(),
        by: Some(SECOND_HAND.to_owned()),
        pin_diameter: pin_diameter.map(quantity::millimetres),
        taken_as: None,
        position: Position { line: sheet.readings.len() + 1, column: 1 },
    })
}
