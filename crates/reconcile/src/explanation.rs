//! Explanations: a choice of parts and the mistakes that were made, each with its probability.

use crate::factor::{Factor, Normal};
use crate::mixture::Mixture;
use crate::model::{Model, ModelError};

/// How far the enumeration goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// The most mistakes in one explanation.
    pub most_mistakes: usize,
    /// Explanations of smaller probability keep their probability but not their posterior.
    pub least_probability: f64,
}

impl Default for Options {
    fn default() -> Self {
        Self { most_mistakes: 1, least_probability: 1e-5 }
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
/// The result does not depend on the order of models, readings or mistakes but for the indices in it: explanations come by
/// descending probability, equal ones by index.
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
    let total_weight: f64 = models.iter().map(|model| model.weight).sum();
    let mut explanations = Vec::new();
    let mut factors = Vec::with_capacity(models.len());
    let mut odds = Vec::with_capacity(models.len());
    for (index, model) in models.iter().enumerate() {
        model.check(index, first)?;
        let factor = Factor::new(model).ok_or(ModelError::Singular { model: index })?;
        let prior = model.prior_odds();
        let ln_model = (model.weight / total_weight).ln() + prior.ln_sound;
        for mistakes in sets(model.mistakes.len(), options.most_mistakes) {
            let ln_odds: f64 = mistakes.iter().map(|mistake| prior.ln_odds[*mistake]).sum();
            if let Some(ln_evidence) = factor.ln_evidence_with(&mistakes)
                && ln_evidence.is_finite()
            {
                let ln_weight = ln_model + ln_odds + ln_evidence;
                explanations.push(Explanation { model: index, mistakes, ln_weight, probability: 0.0, posterior: None });
            }
        }
        factors.push(factor);
        odds.push(prior);
    }

    let top = explanations.iter().map(|explanation| explanation.ln_weight).fold(f64::NEG_INFINITY, f64::max);
    if !top.is_finite() {
        return Err(ModelError::Singular { model: 0 });
    }
    explanations.sort_by(|one, other| {
        other
            .ln_weight
            .total_cmp(&one.ln_weight)
            .then(one.model.cmp(&other.model))
            .then_with(|| one.mistakes.cmp(&other.mistakes))
    });
    // The smallest first, so that the sum does not depend on how many tiny ones there are before the large.
    let sum: f64 = explanations.iter().rev().map(|explanation| (explanation.ln_weight - top).exp()).sum();
    for explanation in &mut explanations {
        explanation.probability = (explanation.ln_weight - top).exp() / sum;
        if explanation.probability >= options.least_probability {
            explanation.posterior = factors[explanation.model].posterior(&explanation.mistakes);
        }
    }
    let left_out = models
        .iter()
        .zip(&odds)
        .map(|(model, prior)| model.weight / total_weight * prior.beyond(options.most_mistakes))
        .sum();
    let redundancy =
        explanations.iter().find(|explanation| explanation.mistakes.is_empty()).map_or_else(Vec::new, |explanation| {
            let factor = &factors[explanation.model];
            (0..first.readings.len()).map(|reading| factor.redundancy(reading)).collect()
        });
    Ok(Mixture::new(explanations, models, left_out, redundancy, top + sum.ln()))
}

/// All ascending sets of up to `most` of the numbers below `count`, the smaller sets first.
fn sets(count: usize, most: usize) -> Vec<Vec<usize>> {
    let mut all = vec![Vec::new()];
    let mut from = 0;
    for _ in 0..most {
        let until = all.len();
        for at in from..until {
            let next = all[at].last().map_or(0, |last| last + 1);
            for number in next..count {
                let mut larger = all[at].clone();
                larger.push(number);
                all.push(larger);
            }
        }
        from = until;
    }
    all
}

#[cfg(test)]
mod tests {
    use super::sets;

    #[test]
    fn every_set_occurs_once() {
        assert_eq!(sets(3, 2), [vec![], vec![0], vec![1], vec![2], vec![0, 1], vec![0, 2], vec![1, 2]]);
        assert_eq!(sets(26, 3).len(), 1 + 26 + 325 + 2600);
        assert_eq!(sets(0, 2), [Vec::<usize>::new()]);
    }
}
