//! A mixture seen through a few forms.
//!
//! Thousands of explanations differ in mistakes that hardly move what is asked for. Seen through the few forms that matter,
//! most of them fall together, and what is left is a mixture of some dozens or hundreds of normals of low dimension. Each
//! explanation comes from the factorisation of its model by the formulas of [`crate::exchange`], without ever forming its
//! whole posterior.
//!
//! Parts are taken together where all their means and standard deviations agree within a cell of [`CELL`] of a standard
//! deviation; the part that they make has their common mean and covariance, so that what is lost is of the third order in
//! the width of a cell.

use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};

use nalgebra::DMatrix;

use crate::exchange::Exchange;
use crate::form::Form;
use crate::joint::{Joint, joint_probability};
use crate::marginal::{Marginal, MarginalPart};
use crate::mixture::Mixture;
use crate::orthogonal::dot;
use crate::search::Frame;

/// Width of a cell within which parts are taken together, in standard deviations.
const CELL: f64 = 0.1;

/// A condition on one of the forms of a projection; either bound may be infinite.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Between {
    /// Which form, by its place in the projection.
    pub form: usize,
    /// It must be at least this.
    pub least: f64,
    /// It must be at most this.
    pub most: f64,
    /// Variance of an error of its own, independent of everything else.
    pub own_variance: f64,
}

/// One part of a projection.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its weight; the weights of a projection sum to one.
    pub weight: f64,
    /// The model of its likeliest explanation; all its explanations are of the same class.
    pub model: usize,
    /// Mean of each form.
    pub mean: Vec<f64>,
    /// Their covariance: the lower triangle by rows.
    covariance: Vec<f64>,
}

impl Part {
    /// Covariance of two forms.
    #[must_use]
    pub fn covariance(&self, one: usize, other: usize) -> f64 {
        self.covariance[place(one.max(other), one.min(other))]
    }

    /// Variance of a form; never negative.
    #[must_use]
    pub fn variance(&self, form: usize) -> f64 {
        self.covariance(form, form).max(0.0)
    }
}

/// A mixture of normals of a few forms, the part with the likeliest explanation first.
#[derive(Debug, Clone, PartialEq)]
pub struct Projection {
    parts: Vec<Part>,
    /// Probability that every number may be off by, since negligible explanations were not weighed.
    pruned: f64,
}

/// Where an entry of a lower triangle stands.
fn place(row: usize, column: usize) -> usize {
    row * (row + 1) / 2 + column
}

/// The forms in one factorisation.
struct Sight {
    means: Vec<f64>,
    /// Inner products of the coordinates of the forms: the lower triangle by rows.
    common: Vec<f64>,
    /// Inner products with the readings, by form.
    by_reading: Vec<Vec<f64>>,
    /// Inner products with the alternatives, by form.
    by_place: Vec<Vec<f64>>,
}

impl Sight {
    fn new(frame: &Frame, forms: &[Form]) -> Self {
        let factor = &frame.factor;
        let (coordinates, means): (Vec<Vec<f64>>, Vec<f64>) = forms.iter().map(|form| factor.form(form)).unzip();
        let mut common = Vec::with_capacity(place(forms.len(), 0));
        for (row, one) in coordinates.iter().enumerate() {
            common.extend(coordinates[..=row].iter().map(|other| dot(one, other)));
        }
        let readings = factor.ln_uncertainties.len();
        let with_readings =
            |one: &Vec<f64>| (0..readings).map(|at| dot(one, factor.orthogonal.explained(at))).collect();
        let with_places =
            |one: &Vec<f64>| (0..factor.alternatives()).map(|at| dot(one, factor.coordinates(at))).collect();
        let by_reading = coordinates.iter().map(with_readings).collect();
        let by_place = coordinates.iter().map(with_places).collect();
        Self { means, common, by_reading, by_place }
    }
}

/// What is gathered of a part: sums about the mean of its first explanation.
struct Gathered {
    part: Part,
    first: Vec<f64>,
    key: Vec<i32>,
}

impl Projection {
    pub(crate) fn new(mixture: &Mixture, forms: &dyn Fn(usize) -> Vec<Form>, class: &dyn Fn(usize) -> usize) -> Self {
        let mut sights: Vec<Option<Sight>> = mixture.frames.iter().map(|_| None).collect();
        let mut gathered: Vec<Gathered> = Vec::new();
        let mut known: BTreeMap<u64, usize> = BTreeMap::new();
        let mut scale: Option<Vec<(f64, f64)>> = None;
        let mut exchange = Exchange::default();
        let (mut mean, mut covariance, mut key) = (Vec::new(), Vec::new(), Vec::new());
        let mut changes = Vec::new();
        let mut total = 0.0;
        // Where nothing was negligible, some have a probability that no float holds.
        for explanation in mixture.explanations.iter().filter(|explanation| explanation.probability > 0.0) {
            let frame = &mixture.frames[explanation.frame];
            let sight = sights[explanation.frame].get_or_insert_with(|| Sight::new(frame, &forms(explanation.model)));
            let further = explanation.mistakes.iter().copied().filter(|mistake| frame.made != Some(*mistake));
            if exchange.fill(&frame.factor, further).is_none() {
                continue;
            }
            let width = sight.means.len();
            let count = exchange.len();
            changes.clear();
            mean.clear();
            for form in 0..width {
                let (by_reading, by_place) = (&sight.by_reading[form], &sight.by_place[form]);
                let shift = exchange.along(|at| by_reading[at], |at| by_place[at], &mut changes);
                mean.push(sight.means[form] + shift);
            }
            covariance.clear();
            covariance.extend_from_slice(&sight.common);
            for row in 0..width {
                let one = &changes[row * 2 * count..][..2 * count];
                for column in 0..=row {
                    let other = &changes[column * 2 * count..][..2 * count];
                    let products = |from: usize| -> f64 { (from..from + count).map(|at| one[at] * other[at]).sum() };
                    covariance[place(row, column)] += products(0) - products(count);
                }
            }
            let scale = scale.get_or_insert_with(|| {
                (0..width).map(|at| (mean[at], covariance[place(at, at)].max(0.0).sqrt())).collect()
            });
            key.clear();
            key.push(i32::try_from(class(explanation.model)).unwrap_or(i32::MAX));
            for (form, (middle, deviation)) in scale.iter().enumerate() {
                let own = covariance[place(form, form)].max(0.0).sqrt();
                let spread = (own / deviation).ln() / CELL;
                let spread = if spread.is_finite() { spread.round() } else { 0.0 };
                let step = CELL * deviation * (CELL * spread).exp();
                let shift = (mean[form] - middle) / step;
                // A cast keeps to the ends of its range, and what is no number becomes nought.
                key.push(spread as i32);
                key.push(shift.round() as i32);
            }
            let mut hasher = DefaultHasher::new();
            key.hash(&mut hasher);
            let weight = explanation.probability;
            total += weight;
            let found = known.get(&hasher.finish()).copied().filter(|at| gathered[*at].key == key);
            match found {
                Some(at) => gathered[at].add(weight, &mean, &covariance),
                None => {
                    known.insert(hasher.finish(), gathered.len());
                    gathered.push(Gathered::new(weight, explanation.model, &mean, &covariance, &key));
                }
            }
        }
        let parts = gathered.into_iter().map(|one| one.finish(total)).collect();
        Self { parts, pruned: mixture.pruned() + (1.0 - total).max(0.0) }
    }

    /// The parts.
    #[must_use]
    pub fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// What is left where only the permitted models hold; their weights sum to one again.
    #[must_use]
    pub fn given(&self, permitted: impl Fn(usize) -> bool) -> Self {
        let mut parts: Vec<Part> = self.parts.iter().filter(|part| permitted(part.model)).cloned().collect();
        let total: f64 = parts.iter().map(|part| part.weight).sum();
        parts.iter_mut().for_each(|part| part.weight /= total);
        Self { parts, pruned: self.pruned }
    }

    /// The distribution of one form.
    #[must_use]
    pub fn marginal(&self, form: usize) -> Marginal {
        let part = |part: &Part| MarginalPart {
            weight: part.weight,
            mean: part.mean[form],
            standard_deviation: part.variance(form).sqrt(),
        };
        Marginal::of_parts(self.parts.iter().map(part).collect())
    }

    /// The probability that all conditions hold, in those parts whose model is permitted; the others count as failures.
    #[must_use]
    pub fn joint_probability(&self, conditions: impl Fn(usize) -> Option<Vec<Between>>) -> Joint {
        let mut total = Joint { probability: 0.0, error: self.pruned };
        // From the lightest: so the sum keeps its digits.
        for part in self.parts.iter().rev() {
            let Some(conditions) = conditions(part.model) else { continue };
            let joint = joint_probability(part, &conditions);
            total.probability += part.weight * joint.probability;
            total.error += part.weight * joint.error;
        }
        total
    }

    /// What would be known after a further reading of the form `read` with this standard uncertainty had come out as `value`.
    #[must_use]
    pub fn after(&self, read: usize, standard_uncertainty: f64, value: f64) -> Self {
        let own = standard_uncertainty * standard_uncertainty;
        let ln_weight = |part: &Part| {
            let variance = part.variance(read) + own;
            let off = value - part.mean[read];
            part.weight.ln() - 0.5 * (variance.ln() + off * off / variance)
        };
        let ln_weights: Vec<f64> = self.parts.iter().map(ln_weight).collect();
        let top = ln_weights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let sum: f64 = ln_weights.iter().map(|ln_weight| (ln_weight - top).exp()).sum();
        let conditioned = |(part, ln_weight): (&Part, &f64)| {
            let gain = 1.0 / (part.variance(read) + own);
            let off = value - part.mean[read];
            let width = part.mean.len();
            let towards: Vec<f64> = (0..width).map(|form| part.covariance(form, read)).collect();
            let mean = (0..width).map(|form| part.mean[form] + towards[form] * gain * off).collect();
            let mut covariance = part.covariance.clone();
            for row in 0..width {
                for column in 0..=row {
                    covariance[place(row, column)] -= towards[row] * gain * towards[column];
                }
            }
            Part { weight: (ln_weight - top).exp() / sum, model: part.model, mean, covariance }
        };
        Self { parts: self.parts.iter().zip(&ln_weights).map(conditioned).collect(), pruned: self.pruned }
    }
}

impl Gathered {
    fn new(weight: f64, model: usize, mean: &[f64], covariance: &[f64], key: &[i32]) -> Self {
        let part = Part {
            weight,
            model,
            mean: vec![0.0; mean.len()],
            covariance: covariance.iter().map(|entry| weight * entry).collect(),
        };
        Self { part, first: mean.to_vec(), key: key.to_vec() }
    }

    fn add(&mut self, weight: f64, mean: &[f64], covariance: &[f64]) {
        self.part.weight += weight;
        let off = |form: usize| mean[form] - self.first[form];
        for row in 0..mean.len() {
            self.part.mean[row] += weight * off(row);
            for column in 0..=row {
                let at = place(row, column);
                self.part.covariance[at] += weight * (covariance[at] + off(row) * off(column));
            }
        }
    }

    fn finish(mut self, total: f64) -> Part {
        let weight = self.part.weight;
        self.part.mean.iter_mut().for_each(|sum| *sum /= weight);
        for row in 0..self.first.len() {
            for column in 0..=row {
                let at = place(row, column);
                self.part.covariance[at] =
                    self.part.covariance[at] / weight - self.part.mean[row] * self.part.mean[column];
            }
        }
        self.part.mean.iter_mut().zip(&self.first).for_each(|(mean, first)| *mean += first);
        self.part.weight /= total;
        self.part
    }
}

/// The covariance of the forms of some conditions, each with its own variance.
pub(crate) fn covariance_of(part: &Part, conditions: &[&Between]) -> DMatrix<f64> {
    DMatrix::from_fn(conditions.len(), conditions.len(), |one, other| {
        let own = if one == other { conditions[one].own_variance } else { 0.0 };
        part.covariance(conditions[one].form, conditions[other].form) + own
    })
}
