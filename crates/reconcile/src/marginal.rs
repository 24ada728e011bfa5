//! The distribution of one quantity over a mixture of normals.

use crate::normal::{cumulative, density};

/// One part of a [`Marginal`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MarginalPart {
    /// Its weight; the weights of a marginal sum to one.
    pub weight: f64,
    /// Its mean.
    pub mean: f64,
    /// Its standard deviation.
    pub standard_deviation: f64,
}

/// The distribution of one quantity over the mixture.
#[derive(Debug, Clone, PartialEq)]
pub struct Marginal {
    parts: Vec<MarginalPart>,
}

impl Marginal {
    /// The marginal with these parts; their weights must sum to one.
    #[must_use]
    pub fn of_parts(parts: Vec<MarginalPart>) -> Self {
        Self { parts }
    }

    /// The parts, the likeliest explanation first.
    #[must_use]
    pub fn parts(&self) -> &[MarginalPart] {
        &self.parts
    }

    /// The mean.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.parts.iter().map(|part| part.weight * part.mean).sum()
    }

    /// The standard deviation, within and between the parts.
    #[must_use]
    pub fn standard_deviation(&self) -> f64 {
        let mean = self.mean();
        let square = |x: f64| x * x;
        self.parts
            .iter()
            .map(|part| part.weight * (square(part.standard_deviation) + square(part.mean - mean)))
            .sum::<f64>()
            .sqrt()
    }

    /// The probability that the quantity is at most `bound`.
    #[must_use]
    pub fn at_most(&self, bound: f64) -> f64 {
        self.parts.iter().map(|part| part.weight * cumulative(standard(part, bound))).sum()
    }

    /// The expectation of how far the quantity exceeds `bound`, zero where it does not.
    #[must_use]
    pub fn mean_excess(&self, bound: f64) -> f64 {
        self.parts
            .iter()
            .map(|part| {
                let z = standard(part, bound);
                let excess = if part.standard_deviation > 0.0 {
                    part.standard_deviation * (density(z) - z * cumulative(-z))
                } else {
                    (part.mean - bound).max(0.0)
                };
                part.weight * excess
            })
            .sum()
    }
}

fn standard(part: &MarginalPart, bound: f64) -> f64 {
    if part.standard_deviation > 0.0 {
        (bound - part.mean) / part.standard_deviation
    } else if bound >= part.mean {
        f64::INFINITY
    } else {
        f64::NEG_INFINITY
    }
}
