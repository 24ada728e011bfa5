//! The keys by which files, databases and people name a dimension, and its name in a sentence.

use catalog::Measurand;

use crate::review::DimensionKind;

/// Every dimension with its key and its name, in the order in which a shaft is drawn.
const KEYS: [(DimensionKind, &str, &str); 16] = [
    (DimensionKind::OverallLength, "overall_length", "overall length"),
    (DimensionKind::ShoulderDistance, "shoulder_distance", "shoulder distance"),
    (DimensionKind::RaceDistance, "race_distance", "race distance"),
    (DimensionKind::BrakeOffset, "brake_offset", "brake offset"),
    (DimensionKind::FlangeDiameter, "flange_diameter", "flange diameter"),
    (DimensionKind::FlangeThickness, "flange_thickness", "flange thickness"),
    (DimensionKind::RegisterDiameter, "register_diameter", "register diameter"),
    (DimensionKind::RegisterHeight, "register_height", "register height"),
    (DimensionKind::WheelPilotDiameter, "wheel_pilot_diameter", "wheel pilot diameter"),
    (DimensionKind::WheelPilotHeight, "wheel_pilot_height", "wheel pilot height"),
    (DimensionKind::JournalDiameter, "journal_diameter", "journal diameter"),
    (DimensionKind::RingSeatDiameter, "ring_seat_diameter", "ring seat diameter"),
    (DimensionKind::SealJournalDiameter, "seal_journal_diameter", "seal journal diameter"),
    (DimensionKind::BoltCircle, "bolt_circle", "bolt circle"),
    (DimensionKind::StudHole, "stud_hole", "stud hole"),
    (DimensionKind::SplineMajorDiameter, "spline_major_diameter", "spline major diameter"),
];

impl DimensionKind {
    /// Every dimension, in the order in which a shaft is drawn.
    pub fn all() -> impl Iterator<Item = Self> {
        KEYS.iter().map(|(kind, _, _)| *kind)
    }

    /// The key of the dimension.
    ///
    /// ```
    /// use axle::DimensionKind;
    ///
    /// assert_eq!(DimensionKind::OverallLength.key(), "overall_length");
    /// assert_eq!(DimensionKind::from_key("stud_hole"), Some(DimensionKind::StudHole));
    /// ```
    #[must_use]
    pub fn key(self) -> &'static str {
        KEYS.iter().find(|(known, _, _)| *known == self).map_or("", |(_, key, _)| key)
    }

    /// What the dimension is called in a sentence.
    ///
    /// ```
    /// assert_eq!(axle::DimensionKind::OverallLength.words(), "overall length");
    /// ```
    #[must_use]
    pub fn words(self) -> &'static str {
        KEYS.iter().find(|(known, _, _)| *known == self).map_or("", |(_, _, words)| words)
    }

    /// The reading that is the dimension itself.
    ///
    /// ```
    /// use axle::{DimensionKind, Measurand};
    ///
    /// assert_eq!(DimensionKind::BrakeOffset.own_reading(), Measurand::BrakeOffset);
    /// ```
    #[must_use]
    pub fn own_reading(self) -> Measurand {
        match self {
            Self::OverallLength => Measurand::OverallLength,
            Self::ShoulderDistance => Measurand::ShoulderDistance,
            Self::RaceDistance => Measurand::RaceDistance,
            Self::BrakeOffset => Measurand::BrakeOffset,
            Self::FlangeDiameter => Measurand::FlangeDiameter,
            Self::FlangeThickness => Measurand::FlangeThickness,
            Self::RegisterDiameter => Measurand::RegisterDiameter,
            Self::RegisterHeight => Measurand::RegisterHeight,
            Self::WheelPilotDiameter => Measurand::WheelPilotDiameter,
            Self::WheelPilotHeight => Measurand::WheelPilotHeight,
            Self::JournalDiameter => Measurand::JournalDiameter,
            Self::RingSeatDiameter => Measurand::RingSeatDiameter,
            Self::SealJournalDiameter => Measurand::SealJournalDiameter,
            Self::BoltCircle => Measurand::BoltCircle,
            Self::StudHole => Measurand::StudHole,
            Self::SplineMajorDiameter => Measurand::SplineMajorDiameter,
        }
    }

    /// The dimension that a key names.
    #[must_use]
    pub fn from_key(text: &str) -> Option<Self> {
        KEYS.iter().find(|(_, key, _)| *key == text).map(|(kind, _, _)| *kind)
    }
}
