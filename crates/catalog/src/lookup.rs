//! Finding a row of the catalog.

use quantity::{Instrument, Length, LengthExt, Thread, millimetres};

use crate::Catalog;
use crate::measurand::{Measurand, MeasurandRow};
use crate::mistake::{MistakeKind, MistakeRow};
use crate::parts::{Bearing, BoltCircleRow, Brake, Differential, HousingEnd, SplineSeries, Spread, Steel, Stud};
use crate::provenance::Source;

impl Catalog {
    /// The row of a measurand; a catalog holds one for each.
    #[must_use]
    pub fn measurand(&self, measurand: Measurand) -> &MeasurandRow {
        &self.measurands[measurand.index()]
    }

    /// The row of a mistake; a catalog holds one for each.
    #[must_use]
    pub fn mistake(&self, kind: MistakeKind) -> &MistakeRow {
        &self.mistakes[kind.index()]
    }

    /// The instrument that a measurand is read with where nobody says otherwise, [`MeasurandRow::instrument`] as it was
    /// when the catalog was read.
    #[must_use]
    pub fn usual_instrument(&self, row: &MeasurandRow) -> &Instrument {
        &self.named[row.measurand.index()].usual
    }

    /// The instrument for reading a measurand again with more care, [`MeasurandRow::better_instrument`] as it was when the
    /// catalog was read.
    #[must_use]
    pub fn better_instrument(&self, row: &MeasurandRow) -> &Instrument {
        &self.named[row.measurand.index()].better
    }

    /// The instrument of that name.
    #[must_use]
    pub fn instrument(&self, name: &str) -> Option<&Instrument> {
        self.instruments.iter().find(|row| row.name == name)
    }

    /// The bearing of that name.
    #[must_use]
    pub fn bearing(&self, name: &str) -> Option<&Bearing> {
        self.bearings.iter().find(|row| row.name == name)
    }

    /// The housing end of that name.
    #[must_use]
    pub fn housing_end(&self, name: &str) -> Option<&HousingEnd> {
        self.housing_ends.iter().find(|row| row.name == name)
    }

    /// The spline series of that name.
    #[must_use]
    pub fn spline(&self, name: &str) -> Option<&SplineSeries> {
        self.splines.iter().find(|row| row.name == name)
    }

    /// The bolt circle with so many holes and this diameter, within [`BoltCircleRow::SAME_WITHIN_MM`].
    #[must_use]
    pub fn bolt_circle(&self, holes: u32, diameter: Length) -> Option<&BoltCircleRow> {
        self.bolt_circles.iter().find(|row| row.is(holes, diameter))
    }

    /// The stud with this thread.
    #[must_use]
    pub fn stud(&self, thread: Thread) -> Option<&Stud> {
        self.studs.iter().find(|row| row.thread == thread)
    }

    /// The brake of that name.
    #[must_use]
    pub fn brake(&self, name: &str) -> Option<&Brake> {
        self.brakes.iter().find(|row| row.name == name)
    }

    /// The differential of that name.
    #[must_use]
    pub fn differential(&self, name: &str) -> Option<&Differential> {
        self.differentials.iter().find(|row| row.name == name)
    }

    /// A differential that stands for all of the catalog, for an order that names none: each size is the mean over the
    /// rows, and its deviation covers the spread within the rows and between them,
    /// `s² = Σ (sᵢ² + (mᵢ − m)²) / n`.
    ///
    /// ```
    /// let any = catalog::Catalog::shipped()?.any_differential();
    /// assert!(any.half_pin.standard_deviation > quantity::inches(0.03));
    /// # Ok::<(), placed::Faults>(())
    /// ```
    #[must_use]
    pub fn any_differential(&self) -> Differential {
        Differential {
            name: "not stated".to_owned(),
            half_pin: over_all(self.differentials.iter().map(|row| row.half_pin)),
            end_clearance: over_all(self.differentials.iter().map(|row| row.end_clearance)),
            gear_reach: over_all(self.differentials.iter().map(|row| row.gear_reach)),
            locks: true,
            source: Source::FromMemory,
        }
    }

    /// The steel of this grade and treatment.
    #[must_use]
    pub fn steel(&self, grade: &str, treatment: &str) -> Option<&Steel> {
        self.steels.iter().find(|row| row.grade == grade && row.treatment == treatment)
    }
}

/// Mean of several sizes, with the deviation within and between them. A catalog holds at least one differential, so there
/// is always something to take the mean of.
fn over_all(sizes: impl Iterator<Item = Spread> + Clone) -> Spread {
    let count = sizes.clone().count().max(1) as f64;
    let mean = sizes.clone().map(|size| size.mean.millimetres()).sum::<f64>() / count;
    let variance = sizes
        .map(|size| size.standard_deviation.millimetres().powi(2) + (size.mean.millimetres() - mean).powi(2))
        .sum::<f64>()
        / count;
    Spread { mean: millimetres(mean), standard_deviation: millimetres(variance.sqrt()) }
}

impl BoltCircleRow {
    /// Two circles with as many holes are the same row when they differ by no more than this, in mm: `4 3/4"` and
    /// `120.65 mm` are one row, and no two circles of the trade lie so close together.
    pub const SAME_WITHIN_MM: f64 = 0.02;

    /// Whether this is the row with so many holes and this diameter.
    #[must_use]
    pub fn is(&self, holes: u32, diameter: Length) -> bool {
        self.holes == holes && (self.diameter - diameter).millimetres().abs() <= Self::SAME_WITHIN_MM
    }
}
