//! The enumeration of explanations, the likeliest pairs of readings first.

use std::cmp::Ordering;
use std::collections::BTreeSet;

use crate::exchange::Exchange;
use crate::explanation::{Explanation, MistakeSet, Options};
use crate::factor::Factor;
use crate::mixture::{Mixture, Sums, spoiled};
use crate::model::{Model, ModelError, PriorOdds};
use crate::orthogonal::dot;
use crate::pairs::{Crossings, Meanings, Removal, with_one};

/// No more explanations than this are grown by a further mistake.
const MOST_GROWN: usize = 16;

/// One factorisation: a model, with one tie of readings made or none.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Frame {
    pub factor: Factor,
    pub made: Option<usize>,
}

/// An explanation that was weighed.
#[derive(Clone, Copy)]
struct Weighed {
    model: usize,
    frame: usize,
    mistakes: MistakeSet,
    ln_weight: f64,
}

/// One model with what its explanations have in common.
struct Choice {
    /// Logarithm of the share of the model and of the probability that nothing is mistaken.
    ln_model: f64,
    prior: PriorOdds,
    meanings: Meanings,
    /// The mistakes that spoil several readings, each with the logarithm of its weight alone.
    ties: Vec<(usize, Option<f64>)>,
}

/// A sum of numbers that are given by their logarithms and may be far apart.
#[derive(Default)]
struct Total(Option<(f64, f64)>);

impl Total {
    /// Adds `sum · exp(ln_scale)`.
    fn add(&mut self, ln_scale: f64, sum: f64) {
        if sum > 0.0 && ln_scale > f64::NEG_INFINITY {
            self.0 = Some(match self.0 {
                Some((scale, own)) if scale >= ln_scale => (scale, own + sum * (ln_scale - scale).exp()),
                Some((scale, own)) => (ln_scale, own * (scale - ln_scale).exp() + sum),
                None => (ln_scale, sum),
            });
        }
    }

    fn ln(&self) -> f64 {
        self.0.map_or(f64::NEG_INFINITY, |(scale, sum)| scale + sum.ln())
    }
}

/// The walk through all explanations.
pub(crate) struct Search<'m> {
    models: &'m [Model],
    options: &'m Options,
    /// The factorisations; the first of them are those of the models, every reading at its word.
    frames: Vec<Frame>,
    choices: Vec<Choice>,
    weighed: Vec<Weighed>,
    exchange: Exchange,
    /// Logarithm of the largest weight so far.
    ln_top: f64,
    prior_left_out: f64,
    pruned: Total,
}

impl<'m> Search<'m> {
    /// Factorises every model once.
    pub fn new(models: &'m [Model], options: &'m Options) -> Result<Self, ModelError> {
        let total_weight: f64 = models.iter().map(|model| model.weight).sum();
        let mut frames = Vec::with_capacity(models.len());
        let mut choices = Vec::with_capacity(models.len());
        let mut prior_left_out = 0.0;
        for (index, model) in models.iter().enumerate() {
            let factor = Factor::new(model, None).ok_or(ModelError::Singular { model: index })?;
            let prior = model.prior_odds();
            let share = model.weight / total_weight;
            prior_left_out += share * prior.beyond(options.most_mistakes);
            let several = |at: &usize| model.mistakes[*at].spoils.len() > 1;
            choices.push(Choice {
                ln_model: share.ln() + prior.ln_sound,
                meanings: Meanings::new(&factor, &prior.ln_odds),
                ties: (0..model.mistakes.len()).filter(several).map(|at| (at, None)).collect(),
                prior,
            });
            frames.push(Frame { factor, made: None });
        }
        Ok(Self {
            models,
            options,
            frames,
            choices,
            weighed: Vec::new(),
            exchange: Exchange::default(),
            ln_top: f64::NEG_INFINITY,
            prior_left_out,
            pruned: Total::default(),
        })
    }

    /// Logarithm of the weight under which an explanation is negligible; it only rises.
    fn ln_negligible(&self) -> f64 {
        self.ln_top + self.options.negligible.ln()
    }

    /// Logarithm of the prior of an explanation.
    fn ln_prior(&self, model: usize, mistakes: &[usize]) -> f64 {
        let choice = &self.choices[model];
        choice.ln_model + mistakes.iter().map(|mistake| choice.prior.ln_odds[*mistake]).sum::<f64>()
    }

    /// Takes an explanation in, by its logarithm of prior and of evidence; what has no evidence stays out, unless its
    /// mistakes cannot be made together at all.
    fn take(&mut self, model: usize, frame: usize, mistakes: &[usize], ln_evidence: Option<f64>) -> Option<f64> {
        let ln_prior = self.ln_prior(model, mistakes);
        match ln_evidence.filter(|ln_evidence| ln_evidence.is_finite()) {
            Some(ln_evidence) => {
                self.push(model, frame, MistakeSet::new(mistakes), ln_prior + ln_evidence);
                Some(ln_prior + ln_evidence)
            }
            None => {
                if !self.models[model].exclude_each_other(mistakes) {
                    self.prior_left_out += ln_prior.exp();
                }
                None
            }
        }
    }

    fn push(&mut self, model: usize, frame: usize, mistakes: MistakeSet, ln_weight: f64) {
        self.ln_top = self.ln_top.max(ln_weight);
        self.weighed.push(Weighed { model, frame, mistakes, ln_weight });
    }

    /// Every reading at its word, and each mistake alone.
    pub fn sound_and_single(&mut self) {
        for model in 0..self.models.len() {
            let ln_evidence = self.frames[model].factor.ln_evidence;
            self.take(model, model, &[], Some(ln_evidence));
            if self.options.most_mistakes == 0 {
                continue;
            }
            for mistake in 0..self.models[model].mistakes.len() {
                let factor = &self.frames[model].factor;
                let places = factor.alternatives_of(mistake);
                if places.len() == 1 {
                    let ln_evidence = with_one(factor, places.start);
                    self.take(model, model, &[mistake], Some(ln_evidence));
                } else {
                    let ln_evidence = self.exchange.fill(factor, [mistake]);
                    let ln_weight = self.take(model, model, &[mistake], ln_evidence);
                    let tie = self.choices[model].ties.iter_mut().find(|(tie, _)| *tie == mistake);
                    tie.into_iter().for_each(|(_, weight)| *weight = ln_weight);
                }
            }
        }
    }

    /// Two single readings spoiled: the pairs of readings with the largest bounds first, until the rest is negligible.
    pub fn pairs_of_readings(&mut self) {
        if self.options.most_mistakes < 2 {
            return;
        }
        let mut removals: Vec<(f64, usize, Removal)> = Vec::new();
        for (model, choice) in self.choices.iter().enumerate() {
            let factor = &self.frames[model].factor;
            let readings = factor.ln_uncertainties.len();
            let mut rest = vec![0.0; readings];
            for second in 0..readings {
                for first in 0..second {
                    let removal = Removal::new(factor, &choice.meanings, [first, second], &mut rest);
                    removals.push((choice.ln_model + removal.ln_bound, model, removal));
                }
            }
        }
        removals.sort_by(|one, other| other.0.total_cmp(&one.0));
        let mut crossings: Vec<Option<Crossings>> = self.models.iter().map(|_| None).collect();
        let mut found: Vec<([usize; 2], f64)> = Vec::new();
        for (ln_bound, model, removal) in &removals {
            let ln_negligible = self.ln_negligible();
            if *ln_bound < ln_negligible {
                self.pruned.add(*ln_bound, 1.0);
                continue;
            }
            let choice = &self.choices[*model];
            let factor = &self.frames[*model].factor;
            let crossings = crossings[*model].get_or_insert_with(|| Crossings::new(factor));
            let from = ln_negligible - choice.ln_model;
            let left_out = crossings.weigh(factor, &choice.meanings, removal, from, |pair, ln_weight| {
                found.push((pair, choice.ln_model + ln_weight));
            });
            self.pruned.add(ln_negligible, left_out);
            for (pair, ln_weight) in found.drain(..) {
                if ln_weight.is_finite() {
                    self.push(*model, *model, MistakeSet::new(&pair), ln_weight);
                } else {
                    self.prior_left_out += self.ln_prior(*model, &pair).exp();
                }
            }
        }
    }

    /// A mistake that ties several readings together, with one further mistake.
    ///
    /// Where the bound lets it count, the tie gets a factorisation of its own, with its readings meaning what they then do;
    /// each further mistake is an update of that one. For a tie `T` and a reading `r` it does not spoil,
    /// `p(y, r as j | T) ≤ p(y | T) / (p(r | y without r, T) √2π u'_j)`, and the density of a reading given all others
    /// follows from its residual and leverage in the posterior under `T`.
    pub fn ties_with_others(&mut self) {
        if self.options.most_mistakes < 2 {
            return;
        }
        // The bar stays where it is before the first tie: were it to rise on the way, the order of the readings would decide
        // what is kept below it.
        let ln_negligible = self.ln_negligible();
        for model in 0..self.models.len() {
            let ties = self.choices[model].ties.clone();
            for (at, (tie, ln_weight)) in ties.iter().enumerate() {
                for (other, _) in &ties[at + 1..] {
                    let ln_evidence = self.exchange.fill(&self.frames[model].factor, [*tie, *other]);
                    self.take(model, model, &[*tie, *other], ln_evidence);
                }
                self.tie_with_single(model, *tie, *ln_weight, ln_negligible);
            }
        }
    }

    fn tie_with_single(&mut self, model: usize, tie: usize, ln_weight: Option<f64>, ln_negligible: f64) {
        let tied: Vec<usize> = self.models[model].mistakes[tie].spoils.iter().map(|(reading, _)| *reading).collect();
        let free: Vec<usize> =
            (0..self.models[model].readings.len()).filter(|reading| !tied.contains(reading)).collect();
        // Two meanings of one reading are not weighed together.
        let odds: f64 = tied.iter().map(|reading| self.choices[model].meanings.odds(*reading)).sum();
        self.prior_left_out += self.ln_prior(model, &[tie]).exp() * odds;
        let Some(ln_weight) = ln_weight else { return };
        let mut bound = Total::default();
        let factor = &self.frames[model].factor;
        if self.exchange.fill(factor, [tie]).is_some() {
            for reading in &free {
                let ln_known = self.ln_known(model, *reading);
                bound.add(ln_weight - ln_known + self.choices[model].meanings.ln_best(*reading), 1.0);
            }
        }
        let singles = self.models[model].mistakes.len().max(1) as f64;
        if bound.ln() < ln_negligible + singles.ln() {
            self.pruned.add(bound.ln(), 1.0);
            return;
        }
        let Some(factor) = Factor::new(&self.models[model], Some(tie)) else { return };
        let frame = self.frames.len();
        for reading in &free {
            for meaning in self.choices[model].meanings.of(*reading).to_vec() {
                let ln_evidence = with_one(&factor, meaning.place);
                let ln_single = self.ln_prior(model, &[tie, meaning.mistake]) + ln_evidence;
                if ln_single.is_finite() && ln_single >= ln_negligible {
                    self.push(model, frame, MistakeSet::new(&[tie, meaning.mistake]), ln_single);
                } else {
                    self.pruned.add(ln_single, 1.0);
                }
            }
        }
        self.frames.push(Frame { factor, made: Some(tie) });
    }

    /// Logarithm of the density of a reading given all others, less `½ ln 2π`, under the exchange that was filled last.
    fn ln_known(&self, model: usize, reading: usize) -> f64 {
        let factor = &self.frames[model].factor;
        let row = factor.orthogonal.explained(reading);
        let (mut changes, mut shift) = (Vec::new(), [0.0]);
        self.exchange.along(
            |other, products| products.push(dot(row, factor.orthogonal.explained(other))),
            |place, products| products.push(dot(row, factor.coordinates(place))),
            &mut changes,
            &mut shift,
        );
        let (removed, arrived) = changes.split_at(changes.len() / 2);
        let leverage = dot(row, row) + dot(removed, removed) - dot(arrived, arrived);
        let residual = factor.residual_of(reading) - shift[0];
        let left = (1.0 - leverage).max(f64::MIN_POSITIVE);
        0.5 * left.ln() - 0.5 * residual * residual / left - factor.ln_uncertainties[reading]
    }

    /// More than two mistakes, where all of them are asked for.
    pub fn larger_sets(&mut self) {
        for model in 0..self.models.len() {
            let count = self.models[model].mistakes.len();
            for size in 3..=self.options.most_mistakes.min(count) {
                each_set(count, size, |mistakes| {
                    let ln_evidence = self.exchange.fill(&self.frames[model].factor, mistakes.iter().copied());
                    self.take(model, model, mistakes, ln_evidence);
                });
            }
        }
    }

    /// Grows the likeliest explanations with the most mistakes by one more.
    pub fn grow_the_best(&mut self) {
        let Some(from) = self.options.grown_from else { return };
        let mut total = Total::default();
        self.weighed.iter().for_each(|weighed| total.add(weighed.ln_weight, 1.0));
        let ln_from = total.ln() + from.ln();
        let mut seeds: Vec<(f64, usize, MistakeSet)> = self
            .weighed
            .iter()
            .filter(|one| one.mistakes.len() == self.options.most_mistakes && one.ln_weight >= ln_from)
            .map(|one| (one.ln_weight, one.model, one.mistakes))
            .collect();
        seeds.sort_by(|one, other| other.0.total_cmp(&one.0).then(one.1.cmp(&other.1)).then(one.2.cmp(&other.2)));
        let mut grown: BTreeSet<(usize, MistakeSet)> = BTreeSet::new();
        for (_, model, mistakes) in seeds.into_iter().take(MOST_GROWN) {
            for further in (0..self.models[model].mistakes.len()).filter(|further| !mistakes.contains(further)) {
                let larger = mistakes.with(further);
                if !grown.insert((model, larger)) {
                    continue;
                }
                let ln_evidence = self.exchange.fill(&self.frames[model].factor, larger.iter().copied());
                if let Some(ln_evidence) = ln_evidence.filter(|ln_evidence| ln_evidence.is_finite()) {
                    let ln_prior = self.ln_prior(model, &larger);
                    self.prior_left_out -= ln_prior.exp();
                    self.push(model, model, larger, ln_prior + ln_evidence);
                }
            }
        }
    }

    /// Turns weights into probabilities.
    pub fn finish(self) -> Result<Mixture, ModelError> {
        let top = self.ln_top;
        if !top.is_finite() {
            return Err(ModelError::Singular { model: 0 });
        }
        let weighed = likeliest_first(&self.weighed, |one| (one.ln_weight, one.model, &one.mistakes));
        let sum = compensated_sum(weighed.iter().map(|one| (one.ln_weight - top).exp()));
        let spoiled = spoiled(self.models);
        let mut sums = Sums::new(self.models.len(), self.models[0].readings.len());
        let mut explanations = Vec::with_capacity(weighed.len());
        for one in &weighed {
            let probability = (one.ln_weight - top).exp() / sum;
            sums.add(one.model, &spoiled[one.model], &one.mistakes, probability);
            explanations.push(Explanation {
                model: one.model,
                mistakes: one.mistakes,
                ln_weight: one.ln_weight,
                probability,
                frame: one.frame,
            });
        }
        let ln_evidence = top + sum.ln();
        // Of all readings at their word the likeliest model; of equal ones the first.
        let soundest = explanations.iter().find(|one| one.mistakes.is_empty()).map_or(0, |one| one.model);
        let factor = &self.frames[soundest].factor;
        let redundancy = (0..self.models[0].readings.len()).map(|reading| factor.redundancy(reading)).collect();
        let pruned = (self.pruned.ln() - ln_evidence).exp();
        Ok(Mixture {
            explanations,
            frames: self.frames,
            spoiled,
            sums,
            prior_left_out: self.prior_left_out.max(0.0),
            pruned,
            redundancy,
            ln_evidence,
        })
    }
}

/// Visits all ascending sets of `size` of the numbers below `count`.
fn each_set(count: usize, size: usize, mut visit: impl FnMut(&[usize])) {
    extend_set(&mut Vec::with_capacity(size), 0..count, size, &mut visit);
}

/// Visits all sets that have `missing` of these numbers after those already in the set.
fn extend_set(set: &mut Vec<usize>, from: std::ops::Range<usize>, missing: usize, visit: &mut impl FnMut(&[usize])) {
    if missing == 0 {
        visit(set);
        return;
    }
    for number in from.clone() {
        set.push(number);
        extend_set(set, number + 1..from.end, missing - 1, visit);
        set.pop();
    }
}

/// What decides where an explanation comes: the logarithm of its weight, its model and its mistakes.
pub(crate) type Rank<'e> = (f64, usize, &'e MistakeSet);

/// The order in which explanations come: the likeliest first, equal ones by index.
pub(crate) fn likelier(one: Rank<'_>, other: Rank<'_>) -> Ordering {
    other.0.total_cmp(&one.0).then(one.1.cmp(&other.1)).then_with(|| one.2.cmp(other.2))
}

/// Explanations in that order. Weights are compared and moved without all that goes with them; they are seldom equal.
pub(crate) fn likeliest_first<T: Copy>(all: &[T], rank: impl Fn(&T) -> Rank<'_>) -> Vec<T> {
    let mut order: Vec<(f64, usize)> = all.iter().enumerate().map(|(at, one)| (rank(one).0, at)).collect();
    order.sort_unstable_by(|one, other| {
        other.0.total_cmp(&one.0).then_with(|| likelier(rank(&all[one.1]), rank(&all[other.1])))
    });
    order.into_iter().map(|(_, at)| all[at]).collect()
}

/// A sum that does not depend on the order of its terms but for its last bit (Neumaier 1974).
pub(crate) fn compensated_sum(terms: impl Iterator<Item = f64>) -> f64 {
    let (mut sum, mut lost) = (0.0_f64, 0.0);
    for term in terms {
        let next = sum + term;
        lost += if sum >= term { (sum - next) + term } else { (term - next) + sum };
        sum = next;
    }
    sum + lost
}

#[cfg(test)]
mod tests {
    use super::{Total, each_set};

    fn sets(count: usize, most: usize) -> Vec<Vec<usize>> {
        let mut all = Vec::new();
        (0..=most).for_each(|size| each_set(count, size, |set| all.push(set.to_vec())));
        all
    }

    #[test]
    fn every_set_occurs_once() {
        assert_eq!(sets(3, 2), [vec![], vec![0], vec![1], vec![2], vec![0, 1], vec![0, 2], vec![1, 2]]);
        assert_eq!(sets(26, 3).len(), 1 + 26 + 325 + 2600);
        assert_eq!(sets(0, 2), [Vec::<usize>::new()]);
    }

    #[test]
    fn a_total_adds_numbers_that_no_float_holds() {
        let mut total = Total::default();
        assert_eq!(total.ln(), f64::NEG_INFINITY);
        total.add(-2000.0, 1.0);
        total.add(-2000.0, 1.0);
        assert!((total.ln() - (-2000.0 + 2.0_f64.ln())).abs() < 1e-12);
        total.add(1000.0, 3.0);
        assert!((total.ln() - (1000.0 + 3.0_f64.ln())).abs() < 1e-12);
        total.add(f64::NEG_INFINITY, 1.0);
        total.add(1000.0, 0.0);
        assert!((total.ln() - (1000.0 + 3.0_f64.ln())).abs() < 1e-12);
    }
}
