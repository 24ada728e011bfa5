//! Parts that can be bought or met, what can be measured and with what, the mistakes that people make, and the shop's
//! settings: TOML in, checked, typed out.
//!
//! The shipped catalog is the folder `catalog/` of the repository; a shop's own folder extends or overrides it row by
//! row. Every row says where it comes from.

mod inquiry;
mod load;
mod load_input;
mod lookup;
mod measurand;
mod mistake;
mod parts;
mod provenance;
mod settings;
mod shipped;

pub use inquiry::Inquiry;
pub use load::is_learned_file;
pub use load_input::{LOAD_USES, LoadBound, LoadInput, LoadMeasure, LoadUse};
pub use measurand::{MEASURANDS, Measurand, MeasurandRow, Sides};
pub use mistake::{CONDITIONS, Condition, MISTAKES, MistakeKind, MistakeRow};
pub use parts::{
    Bearing, BearingKind, BearingRating, BoltCircleRow, Brake, BrakeKind, Differential, HousingEnd, SplineCount,
    SplineSeries, SplineSystem, Spread, Steel, Stud,
};
pub use provenance::Source;
pub use settings::{
    Beliefs, Clearances, Learning, Losses, Proof, ProofNumber, Scatter, Settings, ShopTolerances, StrayThicknesses,
    Thresholds, Window,
};

pub use shipped::shipped_texts;

use quantity::Instrument;

/// Everything the review needs to know beside the sheet.
#[derive(Debug, Clone)]
pub struct Catalog {
    /// What can be read: one row for each measurand, in the order of [`MEASURANDS`].
    pub measurands: [MeasurandRow; MEASURANDS.len()],
    /// What it is read with.
    pub instruments: Vec<Instrument>,
    /// What goes wrong: one row for each mistake, in the order of [`MISTAKES`].
    pub mistakes: [MistakeRow; MISTAKES.len()],
    /// Wheel bearings.
    pub bearings: Vec<Bearing>,
    /// Housing ends.
    pub housing_ends: Vec<HousingEnd>,
    /// Spline series.
    pub splines: Vec<SplineSeries>,
    /// Wheel bolt circles.
    pub bolt_circles: Vec<BoltCircleRow>,
    /// Press-in studs.
    pub studs: Vec<Stud>,
    /// Brakes.
    pub brakes: Vec<Brake>,
    /// Differentials.
    pub differentials: Vec<Differential>,
    /// Steels.
    pub steels: Vec<Steel>,
    /// Several readings that are taken in one go.
    pub inquiries: Vec<Inquiry>,
    /// What loads are taken to be where a sheet does not state them.
    pub loads: Vec<LoadBound>,
    /// The shop's decisions.
    pub settings: Settings,
    /// The instruments that the rows of the measurands name, found once when the catalog is read, so that looking one up
    /// cannot fail.
    named: [NamedInstruments; MEASURANDS.len()],
}

/// The instruments of a measurand.
#[derive(Debug, Clone)]
struct NamedInstruments {
    usual: Instrument,
    better: Instrument,
}
