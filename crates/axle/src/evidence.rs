//! Readings as evidence: each with its value and its standard uncertainty, added up as the GUM says.
//!
//! The uncertainty has the instrument's own part, its resolution and the scatter of repeats
//! ([`Instrument::standard_uncertainty`]), and the set-up that the measurand brings with it (a straightedge that rocks, a
//! scale read through an access hole). A reading that names a side of something that both sides have alike carries also the
//! difference that the sides of an old axle show, unless the shaft of that side is the only one that is wanted.

use catalog::{Catalog, Condition, Measurand, MeasurandRow, Sides};
use quantity::{Instrument, LengthExt, WrittenLength};

use crate::sheet::{Reading, Sheet, Side, Value};

/// Standard uncertainty of a count: it is right, or it is a mistake and not an error of measurement.
const COUNT_UNCERTAINTY: f64 = 0.01;

/// A reading as it enters the reconciliation. Lengths are in millimetres.
#[derive(Debug, Clone)]
pub(crate) struct Taken<'a> {
    /// Its place among the readings of the sheet.
    pub index: usize,
    pub measurand: Measurand,
    pub side: Option<Side>,
    /// Mean of the repeats, or the count.
    pub value: f64,
    pub standard_uncertainty: f64,
    /// As it was written, where it was written once: only then can a slip of the pen be undone.
    pub written: Option<&'a WrittenLength>,
    pub instrument: &'a Instrument,
    /// Who read it, where the sheet says so.
    pub by: Option<&'a str>,
    pub row: &'a MeasurandRow,
    pub conditions: &'a [Condition],
    /// Diameter of the pins, for a size over pins.
    pub pin_diameter: Option<f64>,
}

/// Takes in every reading of a sheet with what counts of it: as it was written, or as a correction has it that was confirmed.
pub(crate) fn take_in<'a>(sheet: &'a Sheet, catalog: &'a Catalog) -> Vec<Taken<'a>> {
    take(sheet, catalog, Reading::counts)
}

/// Takes in every reading as it was written, corrected or not: how often people err shows in what they wrote.
pub(crate) fn take_in_as_written<'a>(sheet: &'a Sheet, catalog: &'a Catalog) -> Vec<Taken<'a>> {
    take(sheet, catalog, |reading| &reading.value)
}

fn take<'a>(sheet: &'a Sheet, catalog: &'a Catalog, value: impl Fn(&'a Reading) -> &'a Value) -> Vec<Taken<'a>> {
    // What was read on one side says a little less about the shaft of the other. It must not hang on whether the other side
    // was read as well, or a further reading could make a sheet say less.
    let stands_for_the_other = |side: Side| sheet.wanted.as_slice() != [side];
    sheet
        .readings
        .iter()
        .enumerate()
        .map(|(index, reading)| {
            let row = catalog.measurand(reading.measurand);
            let instrument = instrument_of(reading, row, catalog);
            let (value, own, written) = match value(reading) {
                Value::Length(repeats) => {
                    let mean = repeats.iter().map(|one| one.value().millimetres()).sum::<f64>() / repeats.len() as f64;
                    let own = instrument.standard_uncertainty(repeats).millimetres();
                    (mean, own, if let [once] = repeats.as_slice() { Some(once) } else { None })
                }
                Value::Count(count) => (f64::from(*count), COUNT_UNCERTAINTY, None),
            };
            let blind = reading.conditions.contains(&Condition::ThroughAccessHole);
            let set_up =
                row.set_up.millimetres() * if blind { catalog.settings.beliefs.access_hole_factor } else { 1.0 };
            let alike = row.sides == Sides::Either && reading.side.is_some_and(stands_for_the_other);
            let side_to_side = if alike { side_to_side(row, catalog) } else { 0.0 };
            Taken {
                index,
                measurand: reading.measurand,
                side: reading.side,
                value,
                standard_uncertainty: quantity::combine(&[own, set_up, side_to_side]),
                written,
                instrument,
                by: reading.by.as_deref(),
                row,
                conditions: &reading.conditions,
                pin_diameter: reading.pin_diameter.map(|pin| pin.millimetres()),
            }
        })
        .collect()
}

/// The difference between the sides: that of the settings for distances, which are made to hundredths of an inch; fitted
/// diameters are made far closer than that and differ by less than any instrument here can see.
pub(crate) fn side_to_side(row: &MeasurandRow, catalog: &Catalog) -> f64 {
    match row.measurand {
        Measurand::ShoulderDistance
        | Measurand::RaceDistance
        | Measurand::BrakeOffset
        | Measurand::FlangeThickness
        | Measurand::HousingBoreDepth
        | Measurand::SplineContactLength => catalog.settings.stray.side_to_side.millimetres(),
        _ => 0.0,
    }
}

/// The instrument that the sheet names, or the one that is usual for the measurand.
fn instrument_of<'a>(reading: &Reading, row: &MeasurandRow, catalog: &'a Catalog) -> &'a Instrument {
    let named = reading.instrument.as_deref().and_then(|name| catalog.instrument(name));
    named.unwrap_or_else(|| catalog.usual_instrument(row))
}

/// Standard uncertainty, in millimetres, of one reading that is still to be taken.
pub(crate) fn planned_uncertainty(row: &MeasurandRow, instrument: &Instrument) -> f64 {
    let expected = (row.usual.0 + row.usual.1) * 0.5;
    let own = instrument.planned_standard_uncertainty(expected, 1).millimetres();
    if row.measurand.is_count() { COUNT_UNCERTAINTY } else { own.hypot(row.set_up.millimetres()) }
}
