//! Reads `instruments.toml`.

use quantity::{Instrument, Limit, Shape, millimetres};

use super::row::{Row, Size, length};
use super::rows::KeyedRow;

/// How errors may lie within a half width.
const SHAPES: [(&str, Shape); 3] =
    [("rectangular", Shape::Rectangular), ("triangular", Shape::Triangular), ("arcsine", Shape::Arcsine)];

impl KeyedRow for Instrument {
    const TABLE: &'static str = "instrument";
    type Key = String;

    fn read_key(row: &Row<'_>) -> Option<String> {
        row.words("name", None)
    }

    fn is(&self, key: &String) -> bool {
        self.name == *key
    }

    fn read(row: &Row<'_>, name: String, inherited: Option<&Self>) -> Option<Self> {
        let limit = read_limit(row, inherited.map(|old| old.limit));
        let step = row.length("step", inherited.map(|old| old.step), Size::NotNegative);
        let nothing = millimetres(0.0);
        let set_up =
            row.value_or("set_up", inherited.map(|old| old.set_up), nothing, |item| length(&item, Size::NotNegative));
        let repeatability = row.value_or("repeatability", inherited.map(|old| old.repeatability), nothing, |item| {
            length(&item, Size::NotNegative)
        });
        let source = row.source();
        Some(Self {
            name,
            limit: limit?,
            step: step?,
            set_up: set_up?,
            repeatability: repeatability?,
            source: source?.to_string(),
        })
    }
}

/// Reads the limit, which is a standard uncertainty or a half width.
fn read_limit(row: &Row<'_>, inherited: Option<Limit>) -> Option<Limit> {
    let half_width_keys = ["half_width", "half_width_per_metre", "whole_metres", "shape"];
    let gives_half_width = half_width_keys.iter().any(|key| row.gives(key));
    if row.gives("standard_uncertainty") {
        if gives_half_width {
            row.fault_at(
                "standard_uncertainty",
                "both a standard uncertainty and a half width",
                "standard_uncertainty alone, or half_width with half_width_per_metre, whole_metres and shape",
            );
            return None;
        }
        return row.length("standard_uncertainty", None, Size::Positive).map(Limit::Standard);
    }
    let old = match inherited {
        Some(limit) if !gives_half_width => return Some(limit),
        Some(Limit::HalfWidth { constant, per_metre, whole_metres, shape }) => {
            Some((constant, per_metre, whole_metres, shape))
        }
        Some(Limit::Standard(_)) => None,
        None if !gives_half_width => {
            row.fault("nothing says how far the instrument may be off", "standard_uncertainty or half_width");
            return None;
        }
        None => None,
    };
    let constant = row.length("half_width", old.map(|old| old.0), Size::Positive);
    let per_metre = row.value_or("half_width_per_metre", old.map(|old| old.1), millimetres(0.0), |item| {
        length(&item, Size::NotNegative)
    });
    let whole_metres = row.value_or("whole_metres", old.map(|old| old.2), false, |item| item.boolean());
    let shape = row.value_or("shape", old.map(|old| old.3), Shape::Rectangular, |item| item.one_of(&SHAPES));
    Some(Limit::HalfWidth { constant: constant?, per_metre: per_metre?, whole_metres: whole_metres?, shape: shape? })
}
