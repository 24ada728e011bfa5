//! The keys by which files, databases and people name a dimension.

use crate::review::DimensionKind;

/// Every dimension with its key, in the order in which a shaft is drawn.
const KEYS: [(DimensionKind, &str); 16] = [
    (DimensionKind::OverallLength, "overall_length"),
    (DimensionKind::ShoulderDistance, "shoulder_distance"),
    (DimensionKind::RaceDistance, "race_distance"),
    (DimensionKind::BrakeOffset, "brake_offset"),
    (DimensionKind::FlangeDiameter, "flange_diameter"),
    (DimensionKind::FlangeThickness, "flange_thickness"),
    (DimensionKind::RegisterDiameter, "register_diameter"),
    (DimensionKind::RegisterHeight, "register_height"),
    (DimensionKind::WheelPilotDiameter, "wheel_pilot_diameter"),
    (DimensionKind::WheelPilotHeight, "wheel_pilot_height"),
    (DimensionKind::JournalDiameter, "journal_diameter"),
    (DimensionKind::RingSeatDiameter, "ring_seat_diameter"),
    (DimensionKind::SealJournalDiameter, "seal_journal_diameter"),
    (DimensionKind::BoltCircle, "bolt_circle"),
    (DimensionKind::StudHole, "stud_hole"),
    (DimensionKind::SplineMajorDiameter, "spline_major_diameter"),
];

impl DimensionKind {
    /// Every dimension, in the order in which a shaft is drawn.
    pub fn all() -> impl Iterator<Item = Self> {
        KEYS.iter().map(|(kind, _)| *kind)
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
        KEYS.iter().find(|(known, _)| *known == self).map_or("", |(_, key)| key)
    }

    /// The dimension that a key names.
    #[must_use]
    pub fn from_key(text: &str) -> Option<Self> {
        KEYS.iter().find(|(_, key)| *key == text).map(|(kind, _)| *kind)
    }
}
