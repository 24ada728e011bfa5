//! Reads `differentials.toml`.

use crate::parts::Differential;

use super::row::{Row, Size};
use super::rows::KeyedRow;

impl KeyedRow for Differential {
    const TABLE: &'static str = "differential";
    type Key = String;

    fn read_key(row: &Row<'_>) -> Option<String> {
        row.words("name", None)
    }

    fn is(&self, key: &String) -> bool {
        self.name == *key
    }

    fn read(row: &Row<'_>, name: String, old: Option<&Self>) -> Option<Self> {
        let half_pin = row.spread("half_pin", old.map(|old| old.half_pin), Size::Positive);
        let end_clearance = row.spread("end_clearance", old.map(|old| old.end_clearance), Size::Positive);
        let gear_reach = row.spread("gear_reach", old.map(|old| old.gear_reach), Size::Positive);
        // Where a row does not say, the harder case for a shaft is taken.
        let locks = row.value_or("locks", old.map(|old| old.locks), true, |item| item.boolean());
        let source = row.source();
        let differential = Self {
            name,
            half_pin: half_pin?,
            end_clearance: end_clearance?,
            gear_reach: gear_reach?,
            locks: locks?,
            source: source?,
        };
        if differential.gear_reach.mean <= differential.end_clearance.mean {
            row.fault_at(
                "gear_reach",
                "the shaft would end before the side gear begins",
                "a gear reach larger than the end clearance: their difference is the engagement",
            );
            return None;
        }
        Some(differential)
    }
}
