//! The distribution of one quantity over a mixture of normals.

use crate::normal::{cumulative, density};
use crate::projection::cell;

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

    /// The same distribution of a quantity that is so much larger.
    #[must_use]
    pub fn moved_by(mut self, distance: f64) -> Self {
        self.parts.iter_mut().for_each(|part| part.mean += distance);
        self
    }

    /// The distribution of the quantity with an independent normal error of this standard deviation added.
    #[must_use]
    pub fn blurred(mut self, standard_deviation: f64) -> Self {
        let blur =
            |part: &mut MarginalPart| part.standard_deviation = part.standard_deviation.hypot(standard_deviation);
        self.parts.iter_mut().for_each(blur);
        self
    }

    /// The same distribution with fewer parts: those whose means and standard deviations agree within a tenth of a standard
    /// deviation are taken together, with their common mean and variance. Where they are unlikely they need not agree so
    /// closely, as in a [`Projection`](crate::Projection).
    #[must_use]
    pub fn gathered(&self) -> Self {
        // Parts of one breadth and one likelihood stand side by side, in the order of their means.
        let breadth = |part: &MarginalPart| {
            let cell = cell(part.weight);
            // A cast keeps to the ends of its range; a part without any breadth is at one of them.
            (cell, (part.standard_deviation.ln() / cell).round() as i32)
        };
        let mut sorted: Vec<((f64, i32), MarginalPart)> =
            self.parts.iter().filter(|part| part.weight > 0.0).map(|part| (breadth(part), *part)).collect();
        sorted.sort_unstable_by(|(own, one), (others, other)| {
            let by_mean =
                one.mean.total_cmp(&other.mean).then(one.standard_deviation.total_cmp(&other.standard_deviation));
            own.0.total_cmp(&others.0).then(own.1.cmp(&others.1)).then(by_mean)
        });
        let mut parts: Vec<((f64, i32), MarginalPart)> = Vec::new();
        for (own, part) in sorted {
            match parts.last_mut() {
                Some((like, other))
                    if *like == own
                        && (part.mean - other.mean).abs()
                            <= own.0 * other.standard_deviation.min(part.standard_deviation) =>
                {
                    *other = together(other, &part);
                }
                _ => parts.push((own, part)),
            }
        }
        let mut parts: Vec<MarginalPart> = parts.into_iter().map(|(_, part)| part).collect();
        parts.sort_by(|one, other| other.weight.total_cmp(&one.weight).then(one.mean.total_cmp(&other.mean)));
        Self { parts }
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
        // Beside a part that comes near the bound, one that lies nine standard deviations beyond it adds less than a double holds.
        let far = |z: f64| z < -9.0;
        let all_far = self.parts.iter().all(|part| far(standard(part, bound)));
        let of_part = |part: &MarginalPart| {
            let z = standard(part, bound);
            if far(z) && !all_far { 0.0 } else { part.weight * cumulative(z) }
        };
        self.parts.iter().map(of_part).sum()
    }

    /// The value below which the quantity stays with this probability, in (0, 1), to a millionth of a standard deviation.
    #[must_use]
    pub fn quantile(&self, probability: f64) -> f64 {
        let reach = |part: &MarginalPart| {
            (part.mean - 40.0 * part.standard_deviation, part.mean + 40.0 * part.standard_deviation)
        };
        let widest = |(low, high): (f64, f64), (from, to): (f64, f64)| (low.min(from), high.max(to));
        let (mut low, mut high) = self.parts.iter().map(reach).fold((f64::INFINITY, f64::NEG_INFINITY), widest);
        let close = 1e-6 * self.standard_deviation();
        // Each turn halves what is left; a hundred halve any range of doubles to nothing.
        for _ in 0..100 {
            if high - low <= close {
                break;
            }
            let middle = 0.5 * (low + high);
            if self.at_most(middle) < probability {
                low = middle;
            } else {
                high = middle;
            }
        }
        0.5 * (low + high)
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

/// Two parts as one, with their common mean and variance.
fn together(one: &MarginalPart, other: &MarginalPart) -> MarginalPart {
    let weight = one.weight + other.weight;
    let share = other.weight / weight;
    let apart = other.mean - one.mean;
    let variance = (1.0 - share) * one.standard_deviation.powi(2)
        + share * other.standard_deviation.powi(2)
        + share * (1.0 - share) * apart * apart;
    MarginalPart { weight, mean: one.mean + share * apart, standard_deviation: variance.sqrt() }
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
