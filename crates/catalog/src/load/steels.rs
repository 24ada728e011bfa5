//! Reads `steels.toml`.

use std::fmt;

use crate::parts::Steel;

use super::row::Row;
use super::rows::KeyedRow;

/// Strengths in MPa; no steel is stronger than the hardest wire.
const STRONGEST_MPA: f64 = 4000.0;

/// What a steel is known by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Condition {
    grade: String,
    treatment: String,
}

impl fmt::Display for Condition {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "steel {}, {}", self.grade, self.treatment)
    }
}

impl KeyedRow for Steel {
    const TABLE: &'static str = "steel";
    type Key = Condition;

    fn read_key(row: &Row<'_>) -> Option<Condition> {
        let grade = row.words("grade", None);
        let treatment = row.words("treatment", None);
        Some(Condition { grade: grade?, treatment: treatment? })
    }

    fn is(&self, key: &Condition) -> bool {
        self.grade == key.grade && self.treatment == key.treatment
    }

    fn read(row: &Row<'_>, key: Condition, old: Option<&Self>) -> Option<Self> {
        let tensile = row.positive("tensile_strength", old.map(|old| old.tensile_strength_mpa), STRONGEST_MPA);
        let yielding = row.positive("yield_strength", old.map(|old| old.yield_strength_mpa), STRONGEST_MPA);
        let source = row.source();
        let steel = Self {
            grade: key.grade,
            treatment: key.treatment,
            tensile_strength_mpa: tensile?,
            yield_strength_mpa: yielding?,
            source: source?,
        };
        if steel.yield_strength_mpa >= steel.tensile_strength_mpa {
            row.fault_at(
                "yield_strength",
                "the yield strength is not below the tensile strength",
                "a yield strength below the tensile strength, both in MPa",
            );
            return None;
        }
        Some(steel)
    }
}
