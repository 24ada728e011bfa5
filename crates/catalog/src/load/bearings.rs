//! Reads `bearings.toml`.

use crate::parts::{Bearing, BearingKind};

use super::row::{Row, Size};
use super::rows::KeyedRow;

const KINDS: [(&str, BearingKind); 2] = [("ball", BearingKind::Ball), ("tapered", BearingKind::Tapered)];

impl KeyedRow for Bearing {
    const TABLE: &'static str = "bearing";
    type Key = String;

    fn read_key(row: &Row<'_>) -> Option<String> {
        row.words("name", None)
    }

    fn is(&self, key: &String) -> bool {
        self.name == *key
    }

    fn read(row: &Row<'_>, name: String, old: Option<&Self>) -> Option<Self> {
        let kind = row.value("kind", old.map(|old| old.kind), |item| item.one_of(&KINDS));
        let bore = row.length("bore", old.map(|old| old.bore), Size::Positive);
        let outside = row.length("outside", old.map(|old| old.outside), Size::Positive);
        let inner_width = row.length("inner_width", old.map(|old| old.inner_width), Size::Positive);
        let outer_width = row.length("outer_width", old.map(|old| old.outer_width), Size::Positive);
        let race_offset = row.spread("race_offset", old.map(|old| old.race_offset), Size::Signed);
        let width_deviation = row.length("width_deviation", old.map(|old| old.width_deviation), Size::Positive);
        let seat_interference = row.range("seat_interference", old.map(|old| old.seat_interference), Size::NotNegative);
        let weight = row.weight(old.map(|old| old.weight));
        let source = row.source();
        let bearing = Self {
            name,
            kind: kind?,
            bore: bore?,
            outside: outside?,
            inner_width: inner_width?,
            outer_width: outer_width?,
            race_offset: race_offset?,
            width_deviation: width_deviation?,
            seat_interference: seat_interference?,
            weight: weight?,
            source: source?,
        };
        is_sound(row, &bearing).then_some(bearing)
    }
}

/// Whether the dimensions go together; what does not is recorded.
fn is_sound(row: &Row<'_>, bearing: &Bearing) -> bool {
    if bearing.bore >= bearing.outside {
        row.fault_at("bore", "the bore is not smaller than the outside", "a bore smaller than the outside diameter");
        return false;
    }
    let widest = bearing.inner_width.max(bearing.outer_width);
    if bearing.race_offset.mean.abs() >= widest {
        row.fault_at(
            "race_offset",
            "the rings would stand clear of each other",
            "a race offset smaller than the wider ring",
        );
        return false;
    }
    if bearing.seat_interference.1 >= bearing.bore * 0.01 {
        row.fault_at(
            "seat_interference",
            "an interference of a hundredth of the bore or more would burst the ring",
            "the difference of two diameters, such as [\"0.0005 in\", \"0.0015 in\"]",
        );
        return false;
    }
    true
}
