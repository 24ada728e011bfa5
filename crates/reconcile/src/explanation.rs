//! Explanations: a choice of parts and the mistakes that were made, each with its probability.

use crate::evidence::Weighing;
use crate::factor::Factor;
use crate::mixture::{Mixture, Sums};
use crate::model::{Model, ModelError};
use crate::posterior::Normal;

/// How far the enumeration goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// The most mistakes in one explanation.
    pub most_mistakes: usize,
    /// Explanations of smaller probability keep their probability but not their posterior.
    pub least_probability: f64,
    /// Explanations of smaller probability than this are counted in every sum, but not listed: with two mistakes there are
    /// tens of thousands of them. Zero lists all.
    pub least_listed: f64,
}

impl Default for Options {
    fn default() -> Self {
        Self { most_mistakes: 1, least_probability: 1e-5, least_listed: 1e-9 }
    }
}

/// A choice of parts and the mistakes that were made.
#[derive(Debug, Clone, PartialEq)]
pub struct Explanation {
    /// Index of the model.
    pub model: usize,
    /// Indices of its mistakes, ascending.
    pub mistakes: Vec<usize>,
    /// Logarithm of prior times marginal likelihood.
    pub ln_weight: f64,
    /// Its probability among all that were enumerated.
    pub probability: f64,
    /// The posterior of the unknowns, kept for the explanations that count.
    pub posterior: Option<Normal>,
}

/// Weighs every explanation with up to [`Options::most_mistakes`] mistakes, over all models.
///
/// The result does not depend on the order of models, readings or mistakes but for the indices in it and the last bits of
/// a sum: explanations come by descending probability, equal ones by index. Where two mistakes of an explanation would
/// spoil the same reading it is not weighed; [`Mixture::prior_left_out`] counts it.
///
/// # Errors
/// [`ModelError`] where a model is not sound: sizes that differ, numbers that are not finite, indices out of range, rates
/// outside (0, 1).
///
/// ```
/// use reconcile::{explain, Evidence, Form, Mistake, Model, Options, Prior};
/// // Two readings of one length disagree by an inch; one was taken with a tape from its one-inch line.
/// let reading = |value| Evidence { form: Form::of(0), value, standard_uncertainty: 0.8 };
/// let burnt = |value| Evidence { form: Form::of(0).offset_by(25.4), value, standard_uncertainty: 0.8 };
/// let model = Model {
///     weight: 1.0,
///     priors: vec![Prior { mean: 760.0, standard_deviation: 75.0, firm: false }],
///     readings: vec![reading(820.4), reading(795.1)],
///     mistakes: vec![
///         Mistake { rate: 0.01, spoils: vec![(0, burnt(820.4))] },
///         Mistake { rate: 0.0001, spoils: vec![(1, burnt(795.1))] },
///     ],
/// };
/// let mixture = explain(&[model], &Options::default())?;
/// assert_eq!(mixture.explanations()[0].mistakes, [0]);
/// assert!((mixture.marginal(&Form::of(0)).mean() - 795.05).abs() < 0.01);
/// # Ok::<(), reconcile::ModelError>(())
/// ```
pub fn explain(models: &[Model], options: &Options) -> Result<Mixture, ModelError> {
    let first = models.first().ok_or(ModelError::NoModel)?;
    for (index, model) in models.iter().enumerate() {
        model.check(index, first)?;
    }
    let factors = models
        .iter()
        .enumerate()
        .map(|(index, model)| Factor::new(model).ok_or(ModelError::Singular { model: index }))
        .collect::<Result<Vec<_>, _>>()?;
    let total_weight: f64 = models.iter().map(|model| model.weight).sum();
    let most = options.most_mistakes;

    let mut weighings: Vec<Weighing> = factors.iter().map(|factor| Weighing::new(factor, most)).collect();
    let mut ln_weights = Vec::new();
    let mut sound = Vec::with_capacity(models.len());
    let mut prior_left_out = 0.0;
    for (model, weighing) in models.iter().zip(&mut weighings) {
        let prior = model.prior_odds();
        let share = model.weight / total_weight;
        let ln_model = share.ln() + prior.ln_sound;
        let mut unweighed = prior.beyond(most);
        sound.push(ln_weights.len());
        each_set(model.mistakes.len(), most, |mistakes| {
            let ln_odds = mistakes.iter().map(|mistake| prior.ln_odds[*mistake]).sum::<f64>();
            let ln_evidence = weighing.ln_evidence(mistakes).filter(|ln_evidence| ln_evidence.is_finite());
            if ln_evidence.is_none() && !model.exclude_each_other(mistakes) {
                unweighed += (prior.ln_sound + ln_odds).exp();
            }
            ln_weights.push(ln_evidence.map_or(f64::NEG_INFINITY, |ln_evidence| ln_model + ln_odds + ln_evidence));
        });
        prior_left_out += share * unweighed;
    }

    let top = ln_weights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if !top.is_finite() {
        return Err(ModelError::Singular { model: 0 });
    }
    let sum = compensated_sum(ln_weights.iter().map(|ln_weight| (ln_weight - top).exp()));
    let mut sums = Sums::new(models.len(), first.readings.len());
    let mut explanations = Vec::new();
    let mut weighed = ln_weights.iter();
    for (index, model) in models.iter().enumerate() {
        each_set(model.mistakes.len(), most, |mistakes| {
            let Some(ln_weight) = weighed.next().filter(|ln_weight| ln_weight.is_finite()) else { return };
            let probability = (ln_weight - top).exp() / sum;
            sums.add(index, model, mistakes, probability);
            if probability >= options.least_listed {
                let posterior =
                    (probability >= options.least_probability).then(|| weighings[index].posterior(mistakes)).flatten();
                explanations.push(Explanation {
                    model: index,
                    mistakes: mistakes.to_vec(),
                    ln_weight: *ln_weight,
                    probability,
                    posterior,
                });
            }
        });
    }
    explanations.sort_by(|one, other| {
        other
            .ln_weight
            .total_cmp(&one.ln_weight)
            .then(one.model.cmp(&other.model))
            .then_with(|| one.mistakes.cmp(&other.mistakes))
    });
    // The first explanation of each model takes every reading at its word; of equal ones the first model counts.
    let soundest =
        (0..models.len()).rev().max_by(|one, other| ln_weights[sound[*one]].total_cmp(&ln_weights[sound[*other]]));
    let soundest = &factors[soundest.unwrap_or(0)];
    let redundancy = (0..first.readings.len()).map(|reading| soundest.redundancy(reading)).collect();
    Ok(Mixture::new(explanations, models, sums, prior_left_out, redundancy, top + sum.ln()))
}

/// Visits all ascending sets of up to `most` of the numbers below `count`, the smaller sets first.
fn each_set(count: usize, most: usize, mut visit: impl FnMut(&[usize])) {
    for size in 0..=most.min(count) {
        extend_set(&mut Vec::with_capacity(size), 0..count, size, &mut visit);
    }
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

/// A sum that does not depend on the order of its terms but for its last bit (Neumaier 1974).
fn compensated_sum(terms: impl Iterator<Item = f64>) -> f64 {
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
    use super::each_set;

    fn sets(count: usize, most: usize) -> Vec<Vec<usize>> {
        let mut all = Vec::new();
        each_set(count, most, |set| all.push(set.to_vec()));
        all
    }

    #[test]
    fn every_set_occurs_once() {
        assert_eq!(sets(3, 2), [vec![], vec![0], vec![1], vec![2], vec![0, 1], vec![0, 2], vec![1, 2]]);
        assert_eq!(sets(26, 3).len(), 1 + 26 + 325 + 2600);
        assert_eq!(sets(0, 2), [Vec::<usize>::new()]);
    }
}
