//! The readings that could be taken for an order.

use catalog::{Catalog, Measurand, MeasurandRow, Sides};

use crate::sheet::{Sheet, Side};

/// A reading that could be taken.
pub(crate) struct Possible<'a> {
    pub row: &'a MeasurandRow,
    pub side: Option<Side>,
    /// Whether it was taken before, so that it would be taken again with more care.
    pub again: bool,
}

/// Every reading that could be taken for this order, on each side that is wanted. Where no shaft was read at all there is
/// none to read.
pub(crate) fn candidates<'a>(sheet: &Sheet, catalog: &'a Catalog) -> Vec<Possible<'a>> {
    let shaft_there = sheet.readings.iter().any(|reading| is_of_the_shaft(reading.measurand));
    let reached = sheet.readings.iter().any(|reading| reading.measurand == Measurand::Reach);
    let mut all = Vec::new();
    for row in &catalog.measurands {
        if is_of_the_shaft(row.measurand) && !shaft_there && reached {
            continue;
        }
        let sides: Vec<Option<Side>> = match row.sides {
            Sides::Each => sheet.wanted.iter().copied().map(Some).collect(),
            Sides::Whole | Sides::Either => vec![None],
        };
        for side in sides {
            let same = |reading: &&crate::sheet::Reading| {
                reading.measurand == row.measurand && (side.is_none() || reading.side == side)
            };
            all.push(Possible { row, side, again: sheet.readings.iter().any(|reading| same(&reading)) });
        }
    }
    all
}

/// Whether a reading needs an old shaft.
pub(crate) fn is_of_the_shaft(measurand: Measurand) -> bool {
    matches!(
        measurand,
        Measurand::OverallLength
            | Measurand::ShoulderDistance
            | Measurand::RaceDistance
            | Measurand::BrakeOffset
            | Measurand::ShoulderToEnd
            | Measurand::FlangeThickness
            | Measurand::RegisterHeight
            | Measurand::WheelPilotHeight
            | Measurand::SplineContactLength
            | Measurand::FaceToFace
            | Measurand::FlangeDiameter
            | Measurand::RegisterDiameter
            | Measurand::WheelPilotDiameter
            | Measurand::JournalDiameter
            | Measurand::RingSeatDiameter
            | Measurand::SealJournalDiameter
            | Measurand::ToothCount
            | Measurand::SplineMajorDiameter
            | Measurand::SplineOverPins
    )
}
