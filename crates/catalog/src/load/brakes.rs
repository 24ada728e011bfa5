//! Reads `brakes.toml`.

use crate::parts::{Brake, BrakeKind};

use super::row::{Row, Size};
use super::rows::KeyedRow;

const KINDS: [(&str, BrakeKind); 2] = [("drum", BrakeKind::Drum), ("disc", BrakeKind::Disc)];

impl KeyedRow for Brake {
    const TABLE: &'static str = "brake";
    type Key = String;

    fn read_key(row: &Row<'_>) -> Option<String> {
        row.words("name", None)
    }

    fn is(&self, key: &String) -> bool {
        self.name == *key
    }

    fn read(row: &Row<'_>, name: String, old: Option<&Self>) -> Option<Self> {
        let kind = row.value("kind", old.map(|old| old.kind), |item| item.one_of(&KINDS));
        let required_offset = row.length("required_offset", old.map(|old| old.required_offset), Size::Positive);
        let bore = row.length("bore", old.map(|old| old.bore), Size::Positive);
        let inside = row.length("inside", old.map(|old| old.inside), Size::Positive);
        let source = row.source();
        let brake = Self {
            name,
            kind: kind?,
            required_offset: required_offset?,
            bore: bore?,
            inside: inside?,
            source: source?,
        };
        if brake.bore >= brake.inside {
            row.fault_at("bore", "the bore is not smaller than the inside", "a bore smaller than the inside diameter");
            return None;
        }
        Some(brake)
    }
}
