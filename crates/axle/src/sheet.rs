//! The order sheet: what one order says, before anybody doubts it.
//!
//! These are the domain's own types. How a sheet is written down, and how every fault in it is placed, is the business of
//! [`read_sheet`].

mod read;

use std::collections::BTreeMap;

use catalog::{BearingKind, BrakeKind, Condition, LoadInput, LoadUse, Measurand};
use placed::Position;
use quantity::{Length, LengthUnit, Thread, WrittenLength};

pub use read::{read_sheet, read_truth};

/// One order as it was taken in.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// The shop's reference for the order.
    pub reference: String,
    /// What the axle is called by its owner.
    pub axle: Option<String>,
    /// What the vehicle is used for.
    pub use_: Use,
    /// The unit of numbers that name none; also the unit that leads on papers.
    pub unit: Option<LengthUnit>,
    /// Name of the differential, a row of the catalog.
    pub differential: Option<String>,
    /// The sides for which a shaft is wanted: one or both, left first.
    pub wanted: Vec<Side>,
    /// Free words.
    pub note: Option<String>,
    /// What is known or claimed of the parts.
    pub parts: Parts,
    /// What the shop is to fit.
    pub fitting: Fitting,
    /// What the shafts will carry, and what they are made of.
    pub loads: LoadClaims,
    /// The readings, in the order of the sheet.
    pub readings: Vec<Reading>,
}

/// What the vehicle is used for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each variant says what its name says")]
pub enum Use {
    Street,
    Tow,
    OffRoad,
    Competition,
}

impl Use {
    /// The use as the loads of the catalog know it.
    #[must_use]
    pub fn of_loads(self) -> LoadUse {
        match self {
            Self::Street => LoadUse::Street,
            Self::Tow => LoadUse::Tow,
            Self::OffRoad => LoadUse::OffRoad,
            Self::Competition => LoadUse::Competition,
        }
    }
}

/// What the sheet states of the loads and of the strength of the parts.
#[derive(Debug, Clone, Default)]
pub struct LoadClaims {
    /// Each input that is stated, in the unit that it is held in, with the line of the sheet.
    pub stated: BTreeMap<LoadInput, (f64, usize)>,
    /// Bore of the lock ring, in place of its interference.
    pub ring_bore: Option<Length>,
    /// The steel.
    pub steel: SteelClaim,
}

/// What the sheet states of the steel.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct SteelClaim {
    /// Grade and treatment, a row of the catalog.
    pub row: Option<(String, String)>,
    /// Whether the shafts are hardened by induction.
    pub induction_hardened: Option<bool>,
}

/// A side of the axle, seen from behind and facing forward.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each variant says what its name says")]
pub enum Side {
    Left,
    Right,
}

impl Side {
    /// `left` or `right`.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }

    /// The other side.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

/// What is known or claimed of the parts that the shafts go with.
#[derive(Debug, Clone, Default)]
pub struct Parts {
    /// Name of a bearing row that is claimed.
    pub bearing: Option<String>,
    /// Kind of bearing that is claimed.
    pub bearing_kind: Option<BearingKind>,
    /// Name of a housing-end row that is claimed.
    pub housing_end: Option<String>,
    /// The brake.
    pub brake: BrakeClaim,
    /// The stud thread.
    pub stud: Option<Thread>,
    /// Diameter of the stud hole that the customer wants in the flange.
    pub stud_hole: Option<Length>,
    /// Name of a spline series that is claimed.
    pub spline_series: Option<String>,
    /// The access hole that the customer wants in the flange; none where the sheet does not say.
    pub access_hole: Option<AccessHole>,
}

/// A hole in the flange through which a socket reaches the nuts of the retainer plate, or its absence.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AccessHole {
    /// The flange has none.
    Without,
    /// It has one, midway between two neighbouring stud holes.
    Round {
        /// Its diameter.
        diameter: Length,
        /// Diameter of the circle about the axis that its centre lies on; none where the sheet does not say.
        circle: Option<Length>,
    },
}

/// What is known or claimed of the brake.
#[derive(Debug, Clone, Default)]
pub struct BrakeClaim {
    /// Name of a brake row.
    pub row: Option<String>,
    /// Drum or disc.
    pub kind: Option<BrakeKind>,
    /// Whether the brake is another one than the old shafts carried, so that offset, register and flange follow the new
    /// brake and not the old shaft.
    pub changed: bool,
    /// The brake offset that the brake's maker requires.
    pub required_offset: Option<Length>,
    /// What holds the bearing in the housing end.
    pub retainer: Option<Retainer>,
    /// Whether a caliper bracket that is the retainer comes to the shop with the order.
    pub bracket_sent_in: bool,
}

/// What holds the bearing in the housing end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Retainer {
    /// A plain retainer plate.
    Plate,
    /// The caliper bracket itself, trapped between flange and bearing.
    CaliperBracket,
}

/// What the shop is to fit.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Fitting {
    /// Bearings and lock rings.
    pub bearings_by_shop: Option<bool>,
    /// Studs.
    pub studs_by_shop: Option<bool>,
}

/// One thing that somebody measured, once or several times.
#[derive(Debug, Clone)]
pub struct Reading {
    /// What was measured.
    pub measurand: Measurand,
    /// On which side; none where both are alike or there is only one.
    pub side: Option<Side>,
    /// What was read: one value, or several repeats by the same hand with the same instrument.
    pub value: Value,
    /// Name of the instrument, a row of the catalog; none where the sheet does not say.
    pub instrument: Option<String>,
    /// States of the parts and of the measuring.
    pub conditions: Vec<Condition>,
    /// Who measured.
    pub by: Option<String>,
    /// Diameter of the pins for a size over pins.
    pub pin_diameter: Option<Length>,
    /// What the desk takes it to have meant, where that is not what was written.
    pub taken_as: Option<TakenAs>,
    /// Where it stands in the sheet.
    pub position: Position,
}

impl Reading {
    /// What counts as evidence: what the reading is taken as, once somebody has confirmed that; else what was written. A correction
    /// that nobody has confirmed is an opinion about the sheet, and an opinion drawn from the other readings would count them twice.
    #[must_use]
    pub fn counts(&self) -> &Value {
        self.taken_as.as_ref().filter(|taken| taken.confirmed_by.is_some()).map_or(&self.value, |taken| &taken.value)
    }
}

/// What the desk takes a reading to have meant.
#[derive(Debug, Clone)]
pub struct TakenAs {
    /// What it should have said.
    pub value: Value,
    /// Who at the desk takes it so; none where the sheet does not say.
    pub taken_by: Option<String>,
    /// Who confirmed it; none as long as nobody has.
    pub confirmed_by: Option<String>,
}

/// What a reading says.
#[derive(Debug, Clone)]
pub enum Value {
    /// A length, with its repeats.
    Length(Vec<WrittenLength>),
    /// A count of teeth or holes.
    Count(u32),
}
