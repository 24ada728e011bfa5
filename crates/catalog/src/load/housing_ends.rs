//! Reads `housing_ends.toml`.

use crate::parts::HousingEnd;

use super::row::{Row, Size};
use super::rows::KeyedRow;

impl KeyedRow for HousingEnd {
    const TABLE: &'static str = "housing_end";
    type Key = String;

    fn read_key(row: &Row<'_>) -> Option<String> {
        row.words("name", None)
    }

    fn is(&self, key: &String) -> bool {
        self.name == *key
    }

    fn read(row: &Row<'_>, name: String, old: Option<&Self>) -> Option<Self> {
        let long = row.length("bolt_rectangle_long", old.map(|old| old.bolt_rectangle_long), Size::Positive);
        let short = row.length("bolt_rectangle_short", old.map(|old| old.bolt_rectangle_short), Size::Positive);
        let bolt_hole = row.length("bolt_hole", old.map(|old| old.bolt_hole), Size::Positive);
        let bore_diameter = row.length("bore_diameter", old.map(|old| old.bore_diameter), Size::Positive);
        let bore_depth = row.spread("bore_depth", old.map(|old| old.bore_depth), Size::Positive);
        let weight = row.weight(old.map(|old| old.weight));
        let source = row.source();
        let end = Self {
            name,
            bolt_rectangle_long: long?,
            bolt_rectangle_short: short?,
            bolt_hole: bolt_hole?,
            bore_diameter: bore_diameter?,
            bore_depth: bore_depth?,
            weight: weight?,
            source: source?,
        };
        is_sound(row, &end).then_some(end)
    }
}

/// Whether the dimensions go together; what does not is recorded.
fn is_sound(row: &Row<'_>, end: &HousingEnd) -> bool {
    if end.bolt_rectangle_short > end.bolt_rectangle_long {
        row.fault_at("bolt_rectangle_short", "the short side is the longer one", "a short side up to the long side");
        return false;
    }
    let diagonal = end.bolt_rectangle_long.hypot(end.bolt_rectangle_short);
    if diagonal <= end.bore_diameter + end.bolt_hole {
        row.fault_at(
            "bolt_hole",
            "the bolt holes would break into the bearing bore",
            "a diagonal larger than bore and bolt hole together",
        );
        return false;
    }
    true
}
