//! What a check gives: a figure with its words, or the gap that keeps it from being worked out.

use std::fmt::Display;

use catalog::LoadInput;
use quantity::{Leading, LoadKind, both, both_load, millimetres};

/// A safety with where it stands.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Figure {
    pub safety: f64,
    pub detail: String,
    pub remedy: String,
}

/// What is needed before something can be worked out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Gap(pub String);

impl Gap {
    /// An input that neither the sheet nor the catalog gives.
    pub fn input(input: LoadInput) -> Self {
        Self(format!("the {}: `{}` in [{}] of the sheet", input.words(), input.key(), input.section()))
    }

    /// A size that the review does not have yet.
    pub fn size(words: &str) -> Self {
        Self(format!("the {words}"))
    }

    /// A formula that does not hold there.
    pub fn formula(error: impl Display) -> Self {
        Self(format!("a case within the range of its formula: {error}"))
    }
}

/// A force in both units, the leading one first: `13.9 kN (3120 lbf)`.
pub(crate) fn force_text(newtons: f64, leading: Leading) -> String {
    both_load(newtons, LoadKind::Force, leading)
}

/// A torque in both units.
pub(crate) fn torque_text(newton_metres: f64, leading: Leading) -> String {
    both_load(newton_metres, LoadKind::Torque, leading)
}

/// A stress in both units.
pub(crate) fn stress_text(megapascals: f64, leading: Leading) -> String {
    both_load(megapascals, LoadKind::Stress, leading)
}

/// A size in both units.
pub(crate) fn size_text(size_mm: f64, leading: Leading) -> String {
    both(millimetres(size_mm), leading)
}
