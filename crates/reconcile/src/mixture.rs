//! The posterior over all explanations: a mixture of normals.

use nalgebra::{DMatrix, DVector};

use crate::explanation::Explanation;
use crate::form::Form;
use crate::joint::{Bounded, Joint, joint_probability};
use crate::model::Model;
use crate::normal::{cumulative, density};
use crate::posterior::Normal;

/// All explanations of a set of readings with their probabilities, and the mixture of normals that they make.
#[derive(Debug, Clone, PartialEq)]
pub struct Mixture {
    explanations: Vec<Explanation>,
    spoiled: Vec<Vec<Vec<usize>>>,
    sums: Sums,
    prior_left_out: f64,
    redundancy: Vec<f64>,
    ln_evidence: f64,
    kept: f64,
}

impl Mixture {
    pub(crate) fn new(
        explanations: Vec<Explanation>,
        models: &[Model],
        sums: Sums,
        prior_left_out: f64,
        redundancy: Vec<f64>,
        ln_evidence: f64,
    ) -> Self {
        let spoiled = models
            .iter()
            .map(|model| {
                let readings = |spoils: &[(usize, _)]| spoils.iter().map(|(at, _)| *at).collect();
                model.mistakes.iter().map(|mistake| readings(&mistake.spoils)).collect()
            })
            .collect();
        let kept = explanations.iter().filter(|e| e.posterior.is_some()).map(|e| e.probability).sum();
        Self { explanations, spoiled, sums, prior_left_out, redundancy, ln_evidence, kept }
    }

    /// The explanations that are probable enough to be listed ([`crate::Options::least_listed`]), the likeliest first.
    #[must_use]
    pub fn explanations(&self) -> &[Explanation] {
        &self.explanations
    }

    /// Prior probability of what was not weighed: more mistakes than [`crate::Options::most_mistakes`], or two that spoil the
    /// same reading.
    #[must_use]
    pub fn prior_left_out(&self) -> f64 {
        self.prior_left_out
    }

    /// Probability of the explanations whose posterior was not kept; marginals and joint probabilities are those of the
    /// rest, so this bounds what they miss.
    #[must_use]
    pub fn probability_dropped(&self) -> f64 {
        (1.0 - self.kept).max(0.0)
    }

    /// Logarithm of the evidence of the whole: prior times likelihood, summed over all explanations.
    #[must_use]
    pub fn ln_evidence(&self) -> f64 {
        self.ln_evidence
    }

    /// Redundancy number of each reading in the likeliest model with every reading at its word: the share of its variance
    /// that the rest of the evidence checks, 0 (nothing checks it) to 1.
    #[must_use]
    pub fn redundancy(&self) -> &[f64] {
        &self.redundancy
    }

    /// Probability of each model, over all explanations.
    #[must_use]
    pub fn model_probabilities(&self) -> &[f64] {
        &self.sums.models
    }

    /// The readings that an explanation takes to be mistaken, ascending.
    #[must_use]
    pub fn readings_spoiled(&self, explanation: &Explanation) -> Vec<usize> {
        let of = |mistake: &usize| self.spoiled[explanation.model][*mistake].iter().copied();
        let mut readings: Vec<usize> = explanation.mistakes.iter().flat_map(of).collect();
        readings.sort_unstable();
        readings
    }

    /// For each reading, the probability that it is mistaken, over all explanations.
    #[must_use]
    pub fn mistaken(&self) -> &[f64] {
        &self.sums.readings
    }

    /// The distribution of a form over the mixture.
    #[must_use]
    pub fn marginal(&self, form: &Form) -> Marginal {
        self.marginal_given(form, |_| true)
    }

    /// The distribution of a form given that one of the permitted models holds; without parts where none of them has an
    /// explanation that counts.
    #[must_use]
    pub fn marginal_given(&self, form: &Form, permitted: impl Fn(usize) -> bool) -> Marginal {
        let kept = || self.explanations.iter().filter(|explanation| permitted(explanation.model));
        let total: f64 = kept().filter(|explanation| explanation.posterior.is_some()).map(|e| e.probability).sum();
        let part = |explanation: &Explanation| {
            let posterior = explanation.posterior.as_ref()?;
            Some(MarginalPart {
                weight: explanation.probability / total,
                mean: posterior.mean_of(form),
                standard_deviation: posterior.variance_of(form).sqrt(),
            })
        };
        Marginal { parts: kept().filter_map(part).collect() }
    }

    /// The normal distribution with the mean and the covariance of the whole mixture, within and between its parts.
    #[must_use]
    pub fn overall(&self) -> Option<Normal> {
        let (_, first) = self.components().next()?;
        let mut mean = vec![0.0; first.mean.len()];
        for (weight, normal) in self.components() {
            for (sum, own) in mean.iter_mut().zip(&normal.mean) {
                *sum += weight * own;
            }
        }
        let mut covariance = DMatrix::zeros(mean.len(), mean.len());
        for (weight, normal) in self.components() {
            let shift = DVector::from_iterator(mean.len(), normal.mean.iter().zip(&mean).map(|(own, all)| own - all));
            covariance += (&normal.covariance + &shift * shift.transpose()) * weight;
        }
        Some(Normal { mean, covariance })
    }

    /// The probability that every form stays within its bounds, in those explanations whose model is permitted; the others
    /// count as failures. The bounds may differ from model to model.
    ///
    /// `bounded` gives the conditions under a model, or none where that model fails outright. Each condition carries the
    /// variance of an independent error, such as the tolerance of making the part.
    #[must_use]
    pub fn joint_probability(&self, bounded: impl Fn(usize) -> Option<Vec<Bounded>>) -> Joint {
        let mut total = Joint { probability: 0.0, error: self.probability_dropped() };
        for explanation in self.explanations.iter().rev() {
            let Some(posterior) = &explanation.posterior else { continue };
            let Some(conditions) = bounded(explanation.model) else { continue };
            let weight = explanation.probability / self.kept;
            let part = joint_probability(posterior, &conditions, weight);
            total.probability += weight * part.probability;
            total.error += weight * part.error;
        }
        total
    }

    /// The parts of the mixture: weights that sum to one, and posteriors, the likeliest first.
    fn components(&self) -> impl Iterator<Item = (f64, &Normal)> {
        self.explanations.iter().filter_map(|explanation| {
            let posterior = explanation.posterior.as_ref()?;
            Some((explanation.probability / self.kept, posterior))
        })
    }
}

/// Probabilities summed over all explanations, listed or not.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Sums {
    models: Vec<f64>,
    readings: Vec<f64>,
}

impl Sums {
    pub fn new(models: usize, readings: usize) -> Self {
        Self { models: vec![0.0; models], readings: vec![0.0; readings] }
    }

    /// Adds an explanation: mistakes of a model, and their probability.
    pub fn add(&mut self, index: usize, model: &Model, mistakes: &[usize], probability: f64) {
        if probability == 0.0 {
            return;
        }
        self.models[index] += probability;
        for mistake in mistakes {
            for (reading, _) in &model.mistakes[*mistake].spoils {
                self.readings[*reading] += probability;
            }
        }
    }
}

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
