//! A mixture seen through a few forms.
//!
//! Thousands of explanations differ in mistakes that hardly move what is asked for. Seen through the few forms that matter,
//! most of them fall together, and what is left is a mixture of some dozens or hundreds of normals of low dimension. Each
//! explanation comes from the factorisation of its model by the formulas of [`crate::exchange`], without ever forming its
//! whole posterior.
//!
//! Parts are taken together where all their means and standard deviations lie in the same cells. The part that they make has
//! their common mean and covariance, so that what is lost is of the third order in the width of a cell, times the weight: cells
//! are a tenth of a standard deviation wide for what is likely, wider for what is not, and wider the farther off they are.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};

use nalgebra::DMatrix;

use crate::exchange::{Exchange, Known};
use crate::form::Form;
use crate::joint::{Joint, joint_probability};
use crate::marginal::{Marginal, MarginalPart};
use crate::mixture::Mixture;
use crate::orthogonal::{add, dot};
use crate::search::Frame;

/// Width of a cell about the likeliest part, in standard deviations, for explanations down to a probability.
const CELLS: [(f64, f64); 4] = [(1e-3, 0.1), (1e-4, 0.3), (1e-5, 0.7), (0.0, 1.5)];

/// The width of a cell for what has this probability.
pub(crate) fn cell(probability: f64) -> f64 {
    CELLS.iter().find(|(from, _)| probability >= *from).map_or(CELLS[0].1, |(_, cell)| *cell)
}

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
    /// Covariance of the forms that are seen together: the lower triangle by rows; then the variances of the others.
    pub(crate) spread: Vec<f64>,
}

impl Part {
    /// Covariance of two forms that are seen together.
    #[must_use]
    pub fn covariance(&self, one: usize, other: usize) -> f64 {
        self.spread[place(one.max(other), one.min(other))]
    }

    /// Variance of a form; never negative.
    #[must_use]
    pub fn variance(&self, form: usize) -> f64 {
        let together = together(self.mean.len(), self.spread.len());
        let at = if form < together { place(form, form) } else { self.spread.len() - self.mean.len() + form };
        self.spread[at].max(0.0)
    }
}

/// How many of so many forms are seen together, from how many numbers their spread has: `k (k + 1)/2 + (forms − k)`.
pub(crate) fn together(forms: usize, numbers: usize) -> usize {
    (0..=forms).find(|together| place(*together, 0) + forms - together == numbers).unwrap_or(forms)
}

/// A mixture of normals of a few forms, the part with the likeliest explanation first.
#[derive(Debug, Clone, PartialEq)]
pub struct Projection {
    pub(crate) parts: Vec<Part>,
    /// Probability that every number may be off by, since negligible explanations were not weighed.
    pub(crate) pruned: f64,
    /// The distributions of the forms with few parts, where they were worked out beforehand.
    gathered: Vec<Marginal>,
}

/// How many of the forms of a projection tell explanations apart, and of how many the covariance is kept; the forms stand in
/// that order, and of the rest there is but the variance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// The forms by which explanations are told apart: of the others a part has the mean and the variance over all of its
    /// explanations.
    pub told_apart: usize,
    /// The forms whose covariance is kept, those that tell apart among them.
    pub together: usize,
    /// Explanations of a smaller probability are left out, and count as what is not known.
    pub least_probability: f64,
}

impl Seen {
    /// All of so many forms tell explanations apart, and every explanation counts.
    #[must_use]
    pub fn all_of(forms: usize) -> Self {
        Self { told_apart: forms, together: forms, least_probability: 0.0 }
    }
}

/// Where an entry of a lower triangle stands.
pub(crate) fn place(row: usize, column: usize) -> usize {
    row * (row + 1) / 2 + column
}

/// The forms in one factorisation.
struct Sight {
    /// How many of them are seen together.
    together: usize,
    coordinates: Vec<Vec<f64>>,
    means: Vec<f64>,
    /// Spread with every reading as the factorisation has it, in the order of [`Part`].
    spread: Vec<f64>,
    /// Inner products with the readings: those of all forms with the first, then with the second, and so on.
    by_reading: Vec<f64>,
    /// Inner products with the alternatives that came up, in the same way.
    by_place: Vec<Option<Vec<f64>>>,
    /// What explanations that differ in little else need not reckon again.
    known: Known,
}

impl Sight {
    fn new(frame: &Frame, forms: &[Form], together: usize) -> Self {
        let factor = &frame.factor;
        let (coordinates, means): (Vec<Vec<f64>>, Vec<f64>) = forms.iter().map(|form| factor.form(form)).unzip();
        let mut spread = Vec::with_capacity(place(together, 0) + forms.len() - together);
        for (row, one) in coordinates.iter().enumerate() {
            let from = if row < together { 0 } else { row };
            spread.extend(coordinates[from..=row].iter().map(|other| dot(one, other)));
        }
        let readings = 0..factor.ln_uncertainties.len();
        let by_reading = readings
            .flat_map(|at| coordinates.iter().map(move |one| dot(one, factor.orthogonal.explained(at))))
            .collect();
        let by_place = vec![None; factor.alternatives()];
        Self { together, coordinates, means, spread, by_reading, by_place, known: Known::new(factor) }
    }

    /// The means and the spread under an explanation, in the order of [`Part`]; false where its mistakes cannot be made
    /// together.
    fn look(&mut self, frame: &Frame, mistakes: impl IntoIterator<Item = usize>, to: &mut Look) -> bool {
        let factor = &frame.factor;
        if to.exchange.fill_knowing(factor, &mut self.known, mistakes).is_none() {
            return false;
        }
        for place in to.exchange.places() {
            let alternative = || factor.coordinates(*place);
            self.by_place[*place]
                .get_or_insert_with(|| self.coordinates.iter().map(|one| dot(one, alternative())).collect());
        }
        let forms = self.means.len();
        to.mean.clear();
        to.mean.extend_from_slice(&self.means);
        to.exchange.along(
            |reading, products| products.extend_from_slice(&self.by_reading[reading * forms..][..forms]),
            |place, products| products.extend_from_slice(self.by_place[place].as_deref().unwrap_or_default()),
            &mut to.changes,
            &mut to.mean,
        );
        to.spread.clear();
        to.spread.extend_from_slice(&self.spread);
        let count = to.exchange.places().len();
        for (at, change) in to.changes.chunks_exact(forms.max(1)).enumerate() {
            let sign = if at < count { 1.0 } else { -1.0 };
            spread_by(&mut to.spread, self.together, change, sign);
        }
        true
    }
}

/// Adds to a spread what forms that are off by so much together have in common, times a factor.
fn spread_by(spread: &mut [f64], together: usize, off: &[f64], factor: f64) {
    let (covariances, variances) = spread.split_at_mut(place(together, 0));
    let mut rest = covariances;
    for (row, entry) in off.iter().enumerate().take(together) {
        let (own, later) = rest.split_at_mut(row + 1);
        add(own, factor * entry, off);
        rest = later;
    }
    for (variance, entry) in variances.iter_mut().zip(&off[together..]) {
        *variance += factor * entry * entry;
    }
}

/// What an explanation looks like through the forms, and room for what it takes to see it.
#[derive(Default)]
struct Look {
    exchange: Exchange,
    changes: Vec<f64>,
    mean: Vec<f64>,
    spread: Vec<f64>,
}

/// What is gathered of a part: sums about the mean of its first explanation.
struct Gathered {
    part: Part,
    first: Vec<f64>,
    key: Vec<i32>,
}

impl Projection {
    pub(crate) fn new(
        mixture: &Mixture,
        forms: &dyn Fn(usize) -> Vec<Form>,
        seen: Seen,
        class: &dyn Fn(usize) -> usize,
    ) -> Self {
        let mut sights: Vec<Option<Sight>> = mixture.frames.iter().map(|_| None).collect();
        let mut gathered: Vec<Gathered> = Vec::new();
        let mut known: BTreeMap<u64, usize> = BTreeMap::new();
        let mut scale: Option<Vec<(f64, f64)>> = None;
        let (mut look, mut off) = (Look::default(), Vec::new());
        let mut key = Vec::new();
        let classes: Vec<i32> =
            (0..mixture.spoiled.len()).map(|model| i32::try_from(class(model)).unwrap_or(i32::MAX)).collect();
        let mut total = 0.0;
        // Where nothing was negligible, some have a probability that no float holds.
        let counts = |one: &&crate::Explanation| one.probability > 0.0 && one.probability >= seen.least_probability;
        for explanation in mixture.explanations.iter().filter(counts) {
            let frame = &mixture.frames[explanation.frame];
            let sight = sights[explanation.frame]
                .get_or_insert_with(|| Sight::new(frame, &forms(explanation.model), seen.together));
            let further = explanation.mistakes.iter().copied().filter(|mistake| frame.made != Some(*mistake));
            if !sight.look(frame, further, &mut look) {
                continue;
            }
            let Look { mean, spread, .. } = &look;
            let scale = scale.get_or_insert_with(|| {
                (0..seen.told_apart).map(|at| (mean[at], spread[place(at, at)].max(0.0).sqrt())).collect()
            });
            key.clear();
            key.push(classes[explanation.model]);
            let level = CELLS.iter().position(|(from, _)| explanation.probability >= *from).unwrap_or(0);
            let cell = CELLS[level].1;
            key.push(i32::try_from(level).unwrap_or(i32::MAX));
            let (least_ratio, most_ratio) = ((-cell).exp(), cell.exp());
            for (form, (middle, deviation)) in scale.iter().enumerate() {
                let ratio = spread[place(form, form)].max(0.0) / (deviation * deviation);
                // A ratio of variances, and so of twice the logarithm; near one it is nought and needs none. A cast keeps to
                // the ends of its range, and what is no number becomes nought.
                let wider = if ratio > least_ratio && ratio < most_ratio { 0.0 } else { 0.5 * ratio.ln() / cell };
                let wider = if wider.is_finite() { wider.round() } else { 0.0 };
                let step = if wider == 0.0 { *deviation } else { deviation * (cell * wider).exp() };
                // Near the middle a step is a cell; far away it grows with the distance.
                let off = (mean[form] - middle) / step;
                let off = if off.abs() < 0.5 * cell { 0.0 } else { (off.asinh() / cell).round() };
                key.push(wider as i32);
                key.push(off as i32);
            }
            let mut hasher = DefaultHasher::new();
            key.hash(&mut hasher);
            let hash = hasher.finish();
            let weight = explanation.probability;
            total += weight;
            let found = known.get(&hash).copied().filter(|at| gathered[*at].key == key);
            match found {
                Some(at) => gathered[at].add(weight, mean, spread, seen.together, &mut off),
                None => {
                    known.insert(hash, gathered.len());
                    gathered.push(Gathered::new(weight, explanation.model, mean, spread, &key));
                }
            }
        }
        let parts = gathered.into_iter().map(|one| one.finish(total, seen.together)).collect();
        Self::of_parts(parts, mixture.pruned() + (1.0 - total).max(0.0))
    }

    pub(crate) fn of_parts(parts: Vec<Part>, pruned: f64) -> Self {
        Self { parts, pruned, gathered: Vec::new() }
    }

    /// The same projection with the distributions of its first forms at hand, for whoever asks for them often.
    #[must_use]
    pub fn with_gathered(mut self, forms: usize) -> Self {
        self.gathered = (0..forms).map(|form| self.marginal(form).gathered()).collect();
        self
    }

    /// The distribution of one form with few parts: see [`Marginal::gathered`].
    #[must_use]
    pub fn gathered(&self, form: usize) -> Cow<'_, Marginal> {
        self.gathered.get(form).map_or_else(|| Cow::Owned(self.marginal(form).gathered()), Cow::Borrowed)
    }

    /// The parts.
    #[must_use]
    pub fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// The weight of what is not in the parts: explanations that were too unlikely to be weighed or to be seen.
    #[must_use]
    pub fn pruned(&self) -> f64 {
        self.pruned
    }

    /// The distribution of one form.
    #[must_use]
    pub fn marginal(&self, form: usize) -> Marginal {
        self.marginal_given(form, |_| true)
    }

    /// The distribution of one form given that one of the permitted models holds; without parts where none of them has an
    /// explanation that counts.
    #[must_use]
    pub fn marginal_given(&self, form: usize, permitted: impl Fn(usize) -> bool) -> Marginal {
        let kept = || self.parts.iter().filter(|part| permitted(part.model));
        let total: f64 = kept().map(|part| part.weight).sum();
        let part = |part: &Part| MarginalPart {
            weight: part.weight / total,
            mean: part.mean[form],
            standard_deviation: part.variance(form).sqrt(),
        };
        Marginal::of_parts(kept().map(part).collect())
    }

    /// The probability that one condition holds.
    #[must_use]
    pub fn probability_between(&self, condition: &Between) -> f64 {
        let own = condition.own_variance.sqrt();
        let marginal = self.gathered(condition.form).into_owned().blurred(own);
        let below = if condition.least == f64::NEG_INFINITY { 0.0 } else { marginal.at_most(condition.least) };
        let within = if condition.most == f64::INFINITY { 1.0 } else { marginal.at_most(condition.most) };
        (within - below).clamp(0.0, 1.0)
    }

    /// The probability that all conditions hold, in those parts whose model is permitted; the others count as failures. What was
    /// left out ([`Self::pruned`]) is not in its error.
    #[must_use]
    pub fn joint_probability(&self, conditions: impl Fn(usize) -> Option<Vec<Between>>) -> Joint {
        let mut total = Joint { probability: 0.0, error: 0.0 };
        // From the lightest: so the sum keeps its digits.
        for part in self.parts.iter().rev() {
            let Some(conditions) = conditions(part.model) else { continue };
            let joint = joint_probability(part, &conditions);
            total.probability += part.weight * joint.probability;
            total.error += part.weight * joint.error;
        }
        total
    }

    /// The heaviest parts that hold so great a share of the weight, but no more than `most` of them, as if they were all.
    #[must_use]
    pub fn heaviest(&self, share: f64, most: usize) -> Self {
        let mut parts = self.parts.clone();
        parts.sort_by(|one, other| other.weight.total_cmp(&one.weight));
        let mut held = 0.0;
        let enough = parts.iter().take(most.max(1)).take_while(|part| {
            let before = held;
            held += if before < share { part.weight } else { 0.0 };
            before < share
        });
        let enough = enough.count();
        parts.truncate(enough);
        parts.iter_mut().for_each(|part| part.weight /= held);
        Self::of_parts(parts, self.pruned + (1.0 - held).max(0.0))
    }

    /// The same parts with other weights, which are brought to a sum of one: what is known once something is heard that is
    /// `likelihood` times as likely under a model.
    #[must_use]
    pub fn reweighted(&self, likelihood: impl Fn(usize) -> f64) -> Self {
        let mut parts = self.parts.clone();
        parts.iter_mut().for_each(|part| part.weight *= likelihood(part.model));
        let total: f64 = parts.iter().map(|part| part.weight).sum();
        parts.iter_mut().for_each(|part| part.weight /= total);
        Self::of_parts(parts, self.pruned)
    }
}

impl Gathered {
    fn new(weight: f64, model: usize, mean: &[f64], spread: &[f64], key: &[i32]) -> Self {
        let spread = spread.iter().map(|entry| weight * entry).collect();
        let part = Part { weight, model, mean: vec![0.0; mean.len()], spread };
        Self { part, first: mean.to_vec(), key: key.to_vec() }
    }

    /// Takes in one more explanation; `off` is room for how far its forms are from those of the first.
    fn add(&mut self, weight: f64, mean: &[f64], spread: &[f64], together: usize, off: &mut Vec<f64>) {
        self.part.weight += weight;
        off.clear();
        off.extend(mean.iter().zip(&self.first).map(|(mean, first)| mean - first));
        add(&mut self.part.mean, weight, off);
        add(&mut self.part.spread, weight, spread);
        spread_by(&mut self.part.spread, together, off, weight);
    }

    fn finish(mut self, total: f64, together: usize) -> Part {
        let weight = self.part.weight;
        self.part.mean.iter_mut().for_each(|sum| *sum /= weight);
        self.part.spread.iter_mut().for_each(|sum| *sum /= weight);
        spread_by(&mut self.part.spread, together, &self.part.mean, -1.0);
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
