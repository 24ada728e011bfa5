//! An order sheet as somebody writes it who has the parts of a [`TrueVehicle`] on the bench.

use std::sync::LazyLock;

use axle::{Review, Sheet, Side, read_sheet, review};
use catalog::{Catalog, Measurand};
use quantity::{LengthExt, decimal_inches, fraction_inches, inches};

use super::true_vehicle::{PINS, TrueVehicle};

/// The catalog that every test goes by.
pub static SHIPPED: LazyLock<Catalog> = LazyLock::new(|| Catalog::shipped().expect("the shipped catalog has no fault"));

/// A sheet in the making: the vehicle, what is claimed of its parts, and the readings.
#[derive(Debug, Clone)]
pub struct BenchSheet {
    vehicle: TrueVehicle,
    parts: String,
    entries: Vec<Entry>,
}

/// One reading.
#[derive(Debug, Clone)]
struct Entry {
    measurand: Measurand,
    side: Option<Side>,
    /// What is written, without marks.
    written: String,
    instrument: Option<&'static str>,
    conditions: &'static [&'static str],
}

impl BenchSheet {
    /// A sheet with both shafts, bearing, drum and bare housing on the bench: nearly everything is checked by something else.
    pub fn well_checked(vehicle: TrueVehicle) -> Self {
        use Measurand as M;
        Self::of(vehicle)
            .all_taken(&[
                M::ShoulderDistance,
                M::RaceDistance,
                M::FlangeThickness,
                M::RegisterHeight,
                M::WheelPilotHeight,
                M::SplineContactLength,
                M::HousingWidth,
                M::FaceToFace,
                M::HousingBoreDepth,
                M::TrappedThickness,
                M::FlangeDiameter,
                M::RegisterDiameter,
                M::WheelPilotDiameter,
                M::RingSeatDiameter,
                M::SealJournalDiameter,
                M::BearingBore,
                M::BearingOutside,
                M::BearingInnerWidth,
                M::BearingOuterWidth,
                M::HousingBoreDiameter,
                M::BoltRectangleLong,
                M::BoltRectangleShort,
                M::DrumBore,
                M::DrumInside,
                M::WheelBore,
                M::HoleCount,
                M::ChordAdjacent,
                M::ChordAlternate,
                M::EdgeGap,
                M::EdgeSpan,
                M::StudHole,
                M::ToothCount,
                M::SplineMajorDiameter,
            ])
            .taken_with(M::JournalDiameter, None, Some("micrometer"))
            .taken_with(M::SplineOverPins, None, Some("micrometer"))
            .taken(M::BrakeOffset, None)
            .taken_on_both_sides(&[M::OverallLength, M::ShoulderToEnd, M::Reach])
    }

    /// A sheet without readings. Differential, stud, spline series and who fits what are stated; bearing, housing end and
    /// brake are not.
    pub fn of(vehicle: TrueVehicle) -> Self {
        let parts = "[fitting]\nbearings = \"shop\"\nstuds = \"shop\"\n[stud]\nthread = \"1/2-20\"\n\
                     [spline]\nseries = \"24/48, 45°, fillet root\"\n";
        Self { vehicle, parts: parts.to_owned(), entries: Vec::new() }
    }

    /// Adds sections of the sheet, such as `[bearing]`.
    pub fn with_parts(mut self, sections: &str) -> Self {
        self.parts.push_str(sections);
        self
    }

    /// Takes a reading with the instrument that is usual for it, to the nearest mark of its scale.
    pub fn taken(self, measurand: Measurand, side: Option<Side>) -> Self {
        self.taken_with(measurand, side, None)
    }

    /// Takes readings that name no side.
    pub fn all_taken(self, measurands: &[Measurand]) -> Self {
        measurands.iter().fold(self, |sheet, measurand| sheet.taken(*measurand, None))
    }

    /// Takes readings on both sides.
    pub fn taken_on_both_sides(self, measurands: &[Measurand]) -> Self {
        let sides = [Some(Side::Left), Some(Side::Right)];
        measurands.iter().fold(self, |sheet, measurand| sides.iter().fold(sheet, |s, side| s.taken(*measurand, *side)))
    }

    /// Takes a reading with an instrument of the catalog.
    pub fn taken_with(self, measurand: Measurand, side: Option<Side>, instrument: Option<&'static str>) -> Self {
        let size = self.vehicle.reads(measurand, side);
        let written = on_the_scale(measurand, instrument, size);
        self.written(measurand, side, &written, instrument, &[])
    }

    /// Adds a reading as it is written.
    pub fn written(
        mut self,
        measurand: Measurand,
        side: Option<Side>,
        written: &str,
        instrument: Option<&'static str>,
        conditions: &'static [&'static str],
    ) -> Self {
        let written = written.to_owned();
        self.entries.push(Entry { measurand, side, written, instrument, conditions });
        self
    }

    /// Makes the reading wrong: it reads `size` inches, to the nearest mark, instead of the true size.
    pub fn but_reads(self, measurand: Measurand, side: Option<Side>, size: f64) -> Self {
        let instrument = self.entry(measurand, side).instrument;
        let written = on_the_scale(measurand, instrument, size);
        self.but_says(measurand, side, &written)
    }

    /// Makes the reading wrong: these words stand in the sheet instead of the true size.
    pub fn but_says(mut self, measurand: Measurand, side: Option<Side>, written: &str) -> Self {
        let at = self.place(measurand, side);
        written.clone_into(&mut self.entries[at].written);
        self
    }

    /// The vehicle.
    pub fn vehicle(&self) -> &TrueVehicle {
        &self.vehicle
    }

    /// The sheet as TOML.
    pub fn text(&self) -> String {
        let mut text = String::from(
            "[order]\nreference = \"T-1\"\nuse = \"street\"\nunit = \"in\"\ndifferential = \"open\"\n\
             sides = [\"left\", \"right\"]\n",
        );
        text.push_str(&self.parts);
        for (section, side) in [("shared", None), ("left", Some(Side::Left)), ("right", Some(Side::Right))] {
            text.push_str(&format!("[{section}]\n"));
            let mut keys: Vec<Measurand> =
                self.entries.iter().filter(|entry| entry.side == side).map(|entry| entry.measurand).collect();
            keys.sort();
            keys.dedup();
            for key in keys {
                let tables: Vec<String> = self
                    .entries
                    .iter()
                    .filter(|entry| entry.side == side && entry.measurand == key)
                    .map(Entry::table)
                    .collect();
                text.push_str(&format!("{} = [{}]\n", key.key(), tables.join(", ")));
            }
        }
        text
    }

    /// The sheet as it is read.
    pub fn read(&self) -> Sheet {
        let text = self.text();
        read_sheet("bench.toml", &text, &SHIPPED).unwrap_or_else(|faults| panic!("{faults}\n{text}"))
    }

    /// The review of the sheet.
    pub fn reviewed(&self) -> Review {
        review(&self.read(), &SHIPPED).expect("the shipped catalog makes sound models")
    }

    fn place(&self, measurand: Measurand, side: Option<Side>) -> usize {
        let is_it = |entry: &Entry| entry.measurand == measurand && entry.side == side;
        self.entries.iter().position(is_it).unwrap_or_else(|| panic!("there is no {measurand:?} to change"))
    }

    fn entry(&self, measurand: Measurand, side: Option<Side>) -> &Entry {
        &self.entries[self.place(measurand, side)]
    }
}

impl Entry {
    fn table(&self) -> String {
        let mut table = format!("{{ value = '{}'", self.written);
        if let Some(instrument) = self.instrument {
            table.push_str(&format!(", instrument = \"{instrument}\""));
        }
        if self.measurand == Measurand::SplineOverPins {
            table.push_str(&format!(", pin = \"{PINS}\""));
        }
        if !self.conditions.is_empty() {
            table.push_str(&format!(", conditions = {:?}", self.conditions));
        }
        table.push_str(" }");
        table
    }
}

/// What stands on the scale of an instrument: a fraction on a rule, a decimal on a caliper, to the nearest mark.
fn on_the_scale(measurand: Measurand, instrument: Option<&str>, size: f64) -> String {
    if measurand.is_count() {
        return format!("{size:.0}");
    }
    let usual = || SHIPPED.usual_instrument(SHIPPED.measurand(measurand));
    let step = instrument.map_or_else(usual, |name| SHIPPED.instrument(name).expect("a named instrument")).step;
    let marks_in_an_inch = 1.0 / step.inches();
    if marks_in_an_inch <= 64.5 {
        return fraction_inches(inches(size), marks_in_an_inch.round() as u32);
    }
    let places = (-step.inches().log10() - 1e-9).ceil() as usize;
    decimal_inches(inches((size / step.inches()).round() * step.inches()), places)
}
