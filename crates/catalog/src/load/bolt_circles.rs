//! Reads `bolt_circles.toml`.

use std::fmt;

use quantity::{Length, LengthExt};

use crate::parts::BoltCircleRow;

use super::row::{Row, Size};
use super::rows::KeyedRow;

/// What a bolt circle is known by.
#[derive(Debug, Clone)]
pub(super) struct Circle {
    holes: u32,
    diameter: Length,
}

impl PartialEq for Circle {
    fn eq(&self, other: &Self) -> bool {
        self.holes == other.holes
            && (self.diameter - other.diameter).millimetres().abs() <= BoltCircleRow::SAME_WITHIN_MM
    }
}

impl fmt::Display for Circle {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "circle of {} holes on {} mm", self.holes, self.diameter.millimetres())
    }
}

impl KeyedRow for BoltCircleRow {
    const TABLE: &'static str = "bolt_circle";
    type Key = Circle;

    fn read_key(row: &Row<'_>) -> Option<Circle> {
        let holes = row.value("holes", None, |item| {
            let holes = item.count()?;
            if !(3..=12).contains(&holes) {
                item.fault(format!("no wheel has {holes} studs"), "3 to 12 holes");
                return None;
            }
            Some(holes)
        });
        let diameter = row.length("diameter", None, Size::Positive);
        Some(Circle { holes: holes?, diameter: diameter? })
    }

    fn is(&self, key: &Circle) -> bool {
        BoltCircleRow::is(self, key.holes, key.diameter)
    }

    fn read(row: &Row<'_>, key: Circle, old: Option<&Self>) -> Option<Self> {
        let weight = row.weight(old.map(|old| old.weight));
        let source = row.source();
        Some(Self { holes: key.holes, diameter: key.diameter, weight: weight?, source: source? })
    }
}
