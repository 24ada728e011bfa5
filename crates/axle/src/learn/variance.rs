//! The variance of what was read, from its learned parts.

use super::observe::{Meaning, Observed, Part};

/// How large errors are: what the parts of a variance are multiplied by.
#[derive(Debug, Clone, Copy)]
pub(super) struct Errors<'s> {
    /// The factor of each uncertainty's variance.
    pub factors: &'s [f64],
    /// The square of the multiple by which all readings of the order scatter.
    pub square: f64,
}

impl Errors<'_> {
    /// The variance of a meaning.
    pub fn variance(self, reading: &Observed, meaning: &Meaning) -> f64 {
        let learned: f64 = reading.parts.iter().map(|part| self.part(part)).sum();
        meaning.known + meaning.stretch * learned
    }

    /// A part of a variance as it is with these factors.
    pub fn part(self, part: &Part) -> f64 {
        let (first, second) = part.factors;
        self.square * part.own * self.factors[first] * second.map_or(1.0, |second| self.factors[second])
    }

    /// Each factor of a meaning's variance with the share of the variance that it multiplies, put into `to`; one that multiplies
    /// several parts stands there several times.
    pub fn shares_of_factors(self, reading: &Observed, meaning: &Meaning, whole: f64, to: &mut Vec<(usize, f64)>) {
        to.clear();
        for part in &reading.parts {
            let share = meaning.stretch * self.part(part) / whole;
            to.extend(part.each_factor().map(|factor| (factor, share)));
        }
    }
}

impl Part {
    /// Its factors, one or two.
    pub fn each_factor(&self) -> impl Iterator<Item = usize> {
        std::iter::once(self.factors.0).chain(self.factors.1)
    }
}

/// The logarithm of a normal density, but for the constant that all share.
pub(super) fn ln_density(residual: f64, variance: f64) -> f64 {
    -0.5 * (variance.ln() + residual * residual / variance)
}
