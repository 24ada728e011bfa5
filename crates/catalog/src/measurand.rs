//! What can be read: the measurands of an order, by name.
//!
//! The words, usual sizes, effort and way of taking each reading live in `catalog/measurands.toml`; this file only fixes
//! which measurands exist, so that the rest of the code can speak of them without strings.

use quantity::Length;

use crate::provenance::Source;

/// A quantity that somebody can read for an order (a *measurand* in the sense of JCGM 200:2012, 2.3).
///
/// Every axial distance is counted from the wheel face, inboard positive.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "each variant's meaning is its row in catalog/measurands.toml")]
pub enum Measurand {
    // Along the shaft.
    OverallLength,
    ShoulderDistance,
    RaceDistance,
    BrakeOffset,
    ShoulderToEnd,
    FlangeThickness,
    RegisterHeight,
    WheelPilotHeight,
    SplineContactLength,
    // Along the housing.
    Reach,
    HalfWidth,
    HousingWidth,
    FaceToFace,
    HousingBoreDepth,
    TrappedThickness,
    // Diameters of the shaft.
    FlangeDiameter,
    RegisterDiameter,
    WheelPilotDiameter,
    JournalDiameter,
    RingSeatDiameter,
    SealJournalDiameter,
    // The bearing.
    BearingBore,
    BearingOutside,
    BearingInnerWidth,
    BearingOuterWidth,
    // The housing end.
    HousingBoreDiameter,
    BoltRectangleLong,
    BoltRectangleShort,
    BoltRectangleDiagonal,
    HousingBoltHole,
    // Drum, rotor and wheel.
    DrumBore,
    DrumInside,
    WheelBore,
    // The bolt circle.
    BoltCircle,
    ChordAdjacent,
    ChordAlternate,
    ChordOpposite,
    EdgeGap,
    EdgeSpan,
    CentreToFarEdge,
    StudHole,
    HoleCount,
    KnurlDiameter,
    // The spline.
    ToothCount,
    SplineMajorDiameter,
    SplineOverPins,
}

/// Every measurand, in the order in which a sheet lists them.
pub const MEASURANDS: [(Measurand, &str); 46] = [
    (Measurand::OverallLength, "overall_length"),
    (Measurand::ShoulderDistance, "shoulder_distance"),
    (Measurand::RaceDistance, "race_distance"),
    (Measurand::BrakeOffset, "brake_offset"),
    (Measurand::ShoulderToEnd, "shoulder_to_end"),
    (Measurand::FlangeThickness, "flange_thickness"),
    (Measurand::RegisterHeight, "register_height"),
    (Measurand::WheelPilotHeight, "wheel_pilot_height"),
    (Measurand::SplineContactLength, "spline_contact_length"),
    (Measurand::Reach, "reach"),
    (Measurand::HalfWidth, "half_width"),
    (Measurand::HousingWidth, "housing_width"),
    (Measurand::FaceToFace, "face_to_face"),
    (Measurand::HousingBoreDepth, "housing_bore_depth"),
    (Measurand::TrappedThickness, "trapped_thickness"),
    (Measurand::FlangeDiameter, "flange_diameter"),
    (Measurand::RegisterDiameter, "register_diameter"),
    (Measurand::WheelPilotDiameter, "wheel_pilot_diameter"),
    (Measurand::JournalDiameter, "journal_diameter"),
    (Measurand::RingSeatDiameter, "ring_seat_diameter"),
    (Measurand::SealJournalDiameter, "seal_journal_diameter"),
    (Measurand::BearingBore, "bearing_bore"),
    (Measurand::BearingOutside, "bearing_outside"),
    (Measurand::BearingInnerWidth, "bearing_inner_width"),
    (Measurand::BearingOuterWidth, "bearing_outer_width"),
    (Measurand::HousingBoreDiameter, "housing_bore_diameter"),
    (Measurand::BoltRectangleLong, "bolt_rectangle_long"),
    (Measurand::BoltRectangleShort, "bolt_rectangle_short"),
    (Measurand::BoltRectangleDiagonal, "bolt_rectangle_diagonal"),
    (Measurand::HousingBoltHole, "housing_bolt_hole"),
    (Measurand::DrumBore, "drum_bore"),
    (Measurand::DrumInside, "drum_inside"),
    (Measurand::WheelBore, "wheel_bore"),
    (Measurand::BoltCircle, "bolt_circle"),
    (Measurand::ChordAdjacent, "chord_adjacent"),
    (Measurand::ChordAlternate, "chord_alternate"),
    (Measurand::ChordOpposite, "chord_opposite"),
    (Measurand::EdgeGap, "edge_gap"),
    (Measurand::EdgeSpan, "edge_span"),
    (Measurand::CentreToFarEdge, "centre_to_far_edge"),
    (Measurand::StudHole, "stud_hole"),
    (Measurand::HoleCount, "hole_count"),
    (Measurand::KnurlDiameter, "knurl_diameter"),
    (Measurand::ToothCount, "tooth_count"),
    (Measurand::SplineMajorDiameter, "spline_major_diameter"),
    (Measurand::SplineOverPins, "spline_over_pins"),
];

// The order of the list is that of the variants, so that a measurand's place in it is its discriminant.
const _: () = {
    let mut at = 0;
    while at < MEASURANDS.len() {
        assert!(MEASURANDS[at].0 as usize == at);
        at += 1;
    }
    assert!(MEASURANDS.len() == Measurand::SplineOverPins as usize + 1);
};

impl Measurand {
    /// Its place in [`MEASURANDS`], and in the list of a catalog.
    #[must_use]
    pub const fn index(self) -> usize {
        self as usize
    }

    /// The key that a sheet and the catalog use.
    ///
    /// ```
    /// use catalog::Measurand;
    /// assert_eq!(Measurand::BrakeOffset.key(), "brake_offset");
    /// assert_eq!(Measurand::from_key("brake_offset"), Some(Measurand::BrakeOffset));
    /// ```
    #[must_use]
    pub fn key(self) -> &'static str {
        MEASURANDS.iter().find(|(measurand, _)| *measurand == self).map_or("", |(_, key)| key)
    }

    /// The measurand of that key.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        MEASURANDS.iter().find(|(_, candidate)| *candidate == key).map(|(measurand, _)| *measurand)
    }

    /// Whether the reading is a count and not a length.
    #[must_use]
    pub fn is_count(self) -> bool {
        matches!(self, Self::ToothCount | Self::HoleCount)
    }
}

/// On which side a measurand may be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sides {
    /// Left and right differ: the reading must name its side.
    Each,
    /// One value for the whole axle: the reading names no side.
    Whole,
    /// Both sides are alike: the reading may name a side or none.
    Either,
}

/// One row of `measurands.toml`.
#[derive(Debug, Clone)]
pub struct MeasurandRow {
    /// Which measurand the row describes.
    pub measurand: Measurand,
    /// Its name in plain words, as screens and papers print it: `overall length`.
    pub words: String,
    /// On which side it may be read.
    pub sides: Sides,
    /// The smallest and largest size that a sheet may hold; anything else is a fault. Counts are held as plain numbers of
    /// millimetres, so that one type serves both.
    pub accepted: (Length, Length),
    /// The usual range. The prior is a normal with this range as mean ± one standard deviation, so that an odd size is
    /// unlikely and not impossible.
    pub usual: (Length, Length),
    /// The instrument that is assumed when the sheet names none; by name, a row of `instruments.toml`.
    pub instrument: String,
    /// The instrument for taking the reading again with more care.
    pub better_instrument: String,
    /// The standard uncertainty of the set-up beyond the instrument: a straightedge that rocks, a scale read through an
    /// access hole, edges that are not square.
    pub set_up: Length,
    /// How to take it, in one or two plain sentences, for the one who measures.
    pub how: String,
    /// Effort in minutes for the one who measures, the parts being at hand.
    pub effort_minutes: f64,
    /// Where the ranges come from.
    pub source: Source,
}
