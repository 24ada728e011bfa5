//! The keys by which a person names a dimension on the command line, and by which the JSON names it.

use axle::DimensionKind;

/// Every dimension with its key, in the order in which a shaft is drawn.
pub const DIMENSION_KEYS: [(DimensionKind, &str); 16] = [
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

/// The key of a dimension: `overall_length`.
pub fn key(kind: DimensionKind) -> &'static str {
    DIMENSION_KEYS.iter().find(|(known, _)| *known == kind).map_or("", |(_, key)| key)
}

/// The dimension in plain words: `overall length`.
pub fn words(kind: DimensionKind) -> String {
    key_in_words(key(kind))
}

/// A key in plain words: its underscores are spaces.
pub fn key_in_words(key: &str) -> String {
    key.replace('_', " ")
}

/// The dimension that a key names.
pub fn from_key(text: &str) -> Option<DimensionKind> {
    DIMENSION_KEYS.iter().find(|(_, key)| *key == text).map(|(kind, _)| *kind)
}

#[cfg(test)]
mod tests {
    use super::{DIMENSION_KEYS, from_key, key, words};
    use axle::DimensionKind;

    #[test]
    fn every_key_leads_back_to_its_dimension() {
        for (kind, text) in DIMENSION_KEYS {
            assert_eq!(from_key(text), Some(kind));
            assert_eq!(key(kind), text);
        }
        assert_eq!(from_key("length"), None);
        assert_eq!(words(DimensionKind::StudHole), "stud hole");
    }
}
