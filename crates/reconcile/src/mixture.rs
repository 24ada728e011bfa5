//! The posterior over all explanations: a mixture of normals.

use nalgebra::{DMatrix, DVector};

use crate::exchange::Exchange;
use crate::explanation::Explanation;
use crate::form::Form;
use crate::joint::{Bounded, Joint};
use crate::marginal::Marginal;
use crate::model::Model;
use crate::posterior::Normal;
use crate::projection::{Between, Projection, Seen};
use crate::search::{Frame, Rank, compensated_sum, likelier, likeliest_first};

/// All explanations of a set of readings with their probabilities, and the mixture of normals that they make.
#[derive(Debug, Clone, PartialEq)]
pub struct Mixture {
    pub(crate) explanations: Vec<Explanation>,
    pub(crate) frames: Vec<Frame>,
    pub(crate) spoiled: Vec<Vec<Vec<usize>>>,
    pub(crate) sums: Sums,
    pub(crate) prior_left_out: f64,
    pub(crate) pruned: f64,
    pub(crate) redundancy: Vec<f64>,
    pub(crate) ln_evidence: f64,
}

/// Which explanations stay where the least likely are left out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kept {
    /// All but those that together hold no more than this share of the weight.
    pub all_but: f64,
    /// And of these no more than so many, the likeliest; one stays in any case.
    pub most: usize,
}

impl Kept {
    /// All that have a weight.
    pub const ALL: Self = Self { all_but: 0.0, most: usize::MAX };
}

/// Explanations below this probability do not enter [`Mixture::overall`], whose covariance has no use for them.
const OVERALL_FROM: f64 = 1e-5;

impl Mixture {
    /// The explanations that were weighed and are not negligible ([`crate::Options::negligible`]), the likeliest first.
    #[must_use]
    pub fn explanations(&self) -> &[Explanation] {
        &self.explanations
    }

    /// Prior probability of what was not weighed: more mistakes than [`crate::Options::most_mistakes`] but for what was grown,
    /// or two that spoil the same reading.
    #[must_use]
    pub fn prior_left_out(&self) -> f64 {
        self.prior_left_out
    }

    /// A bound on the weight of the explanations that were too unlikely to be weighed, over the weight of all that were: so
    /// much every probability may be off.
    #[must_use]
    pub fn pruned(&self) -> f64 {
        self.pruned
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

    /// The posterior of the unknowns in one of the explanations of this mixture; none where its numbers are too far apart.
    #[must_use]
    pub fn posterior(&self, explanation: &Explanation) -> Option<Normal> {
        let frame = self.frames.get(explanation.frame)?;
        let mut posterior = frame.factor.sound_posterior();
        let further = explanation.mistakes.iter().copied().filter(|mistake| frame.made != Some(*mistake));
        let mut exchange = Exchange::default();
        exchange.fill(&frame.factor, further)?;
        exchange.change(&frame.factor, &mut posterior);
        Some(posterior)
    }

    /// The mixture seen through a few forms. Explanations that look alike through them, and whose models are of the same
    /// class, are taken together.
    #[must_use]
    pub fn project(&self, forms: &[Form], class: impl Fn(usize) -> usize) -> Projection {
        let seen = Seen::all_of(forms.len());
        self.project_by_model(|_| forms.to_vec(), seen, class)
    }

    /// The mixture seen through forms that may differ from model to model; all models must give as many, and at least as many
    /// as are seen together.
    #[must_use]
    pub fn project_by_model(
        &self,
        forms: impl Fn(usize) -> Vec<Form>,
        seen: Seen,
        class: impl Fn(usize) -> usize,
    ) -> Projection {
        Projection::new(self, &forms, seen, &class)
    }

    /// The distribution of a form over the mixture.
    #[must_use]
    pub fn marginal(&self, form: &Form) -> Marginal {
        self.project(std::slice::from_ref(form), |_| 0).marginal(0)
    }

    /// The distribution of a form given that one of the permitted models holds; without parts where none of them has an
    /// explanation that counts.
    #[must_use]
    pub fn marginal_given(&self, form: &Form, permitted: impl Fn(usize) -> bool) -> Marginal {
        let class = |model: usize| usize::from(permitted(model));
        self.project(std::slice::from_ref(form), class).marginal_given(0, permitted)
    }

    /// The same explanations once something is known from elsewhere that is `likelihood` times as likely under a model: their
    /// weights are multiplied by it. The least likely explanations are left out as `kept` says, all those of a model that has
    /// become unlikely among them; what they weighed goes to [`Self::pruned`].
    ///
    /// None where that leaves no explanation with a weight.
    ///
    /// ```
    /// use reconcile::{Evidence, Form, Kept, Model, Options, Prior, explain};
    /// // Two parts, 10 or 12 mm wide, that are met equally often; a caliper reads 11.
    /// let model = |mean| Model {
    ///     weight: 0.5,
    ///     priors: vec![Prior { mean, standard_deviation: 0.5, firm: true }],
    ///     readings: vec![Evidence { form: Form::of(0), value: 11.0, standard_uncertainty: 0.1 }],
    ///     mistakes: Vec::new(),
    /// };
    /// let mixture = explain(&[model(10.0), model(12.0)], &Options::default())?;
    /// // A drawing turns up that is three times as likely with the wider one.
    /// let told = mixture.clone().reweighted(|model| [1.0, 3.0][model], Kept::ALL).unwrap();
    /// assert!((told.model_probabilities()[1] - 0.75).abs() < 1e-12);
    /// // One that is a thousand times as likely leaves the other next to nothing.
    /// let kept = Kept { all_but: 0.01, ..Kept::ALL };
    /// let sure = mixture.clone().reweighted(|model| [1.0, 999.0][model], kept).unwrap();
    /// assert_eq!(sure.model_probabilities(), [0.0, 1.0]);
    /// assert!((sure.pruned() - 0.001 / 0.999).abs() < 1e-9);
    /// // Whoever has room for one only is told what the other weighed.
    /// let one = mixture.reweighted(|model| [1.0, 3.0][model], Kept { most: 1, ..Kept::ALL }).unwrap();
    /// assert_eq!(one.model_probabilities(), [0.0, 1.0]);
    /// assert!((one.pruned() - 0.25 / 0.75).abs() < 1e-9);
    /// # Ok::<(), reconcile::ModelError>(())
    /// ```
    #[must_use]
    pub fn reweighted(mut self, likelihood: impl Fn(usize) -> f64, kept: Kept) -> Option<Self> {
        let ln_likelihoods: Vec<f64> = (0..self.spoiled.len()).map(|model| likelihood(model).ln()).collect();
        let explanations = &mut self.explanations;
        explanations.iter_mut().for_each(|one| one.ln_weight += ln_likelihoods[one.model]);
        let top = explanations.iter().map(|one| one.ln_weight).fold(f64::NEG_INFINITY, f64::max);
        if !top.is_finite() {
            return None;
        }
        let sum = compensated_sum(explanations.iter().map(|one| (one.ln_weight - top).exp()));
        let ln_evidence = top + sum.ln();
        // What was pruned may have been of the model that is now the likeliest.
        let most = ln_likelihoods.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        self.pruned *= (self.ln_evidence + most - ln_evidence).exp();
        // Whatever is lighter than an even share of the tail is in it, and needs no sorting.
        let ln_light = ln_evidence + (kept.all_but / explanations.len() as f64).ln();
        explanations.retain(|one| one.ln_weight == top || one.ln_weight > ln_light);
        if explanations.len() > kept.most.max(1) {
            explanations.select_nth_unstable_by(kept.most.max(1) - 1, |one, other| likelier(rank(one), rank(other)));
            explanations.truncate(kept.most.max(1));
        }
        *explanations = likeliest_first(explanations, rank);
        let of = |one: &Explanation| (one.ln_weight - ln_evidence).exp();
        let mut left_out = 1.0 - compensated_sum(explanations.iter().map(of));
        while let [_, .., last] = explanations.as_slice()
            && left_out + of(last) <= kept.all_but
        {
            left_out += of(last);
            explanations.pop();
        }
        self.normalise();
        let share = (self.ln_evidence - ln_evidence).exp();
        self.pruned = (self.pruned + (1.0 - share).max(0.0)) / share;
        Some(self)
    }

    /// Brings the probabilities of the explanations, which come by descending weight, to a sum of one, and sums them up.
    fn normalise(&mut self) {
        let top = self.explanations.first().map_or(0.0, |one| one.ln_weight);
        let sum = compensated_sum(self.explanations.iter().map(|one| (one.ln_weight - top).exp()));
        let mut sums = Sums::new(self.spoiled.len(), self.redundancy.len());
        for one in &mut self.explanations {
            one.probability = (one.ln_weight - top).exp() / sum;
            sums.add(one.model, &self.spoiled[one.model], &one.mistakes, one.probability);
        }
        self.ln_evidence = top + sum.ln();
        self.sums = sums;
    }

    /// The normal distribution with the mean and the covariance of the whole mixture, within and between its parts.
    #[must_use]
    pub fn overall(&self) -> Option<Normal> {
        let counted = self.explanations.iter().filter(|explanation| explanation.probability >= OVERALL_FROM);
        let parts: Vec<(f64, Normal)> =
            counted.filter_map(|one| Some((one.probability, self.posterior(one)?))).collect();
        let total: f64 = parts.iter().map(|(weight, _)| weight).sum();
        let mut mean = vec![0.0; parts.first()?.1.mean.len()];
        for (weight, normal) in &parts {
            for (sum, own) in mean.iter_mut().zip(&normal.mean) {
                *sum += weight / total * own;
            }
        }
        let mut covariance = DMatrix::zeros(mean.len(), mean.len());
        for (weight, normal) in &parts {
            let shift = DVector::from_iterator(mean.len(), normal.mean.iter().zip(&mean).map(|(own, all)| own - all));
            covariance += (&normal.covariance + &shift * shift.transpose()) * (weight / total);
        }
        Some(Normal { mean, covariance })
    }

    /// The probability that every form stays within its bounds, in those explanations whose model is permitted; the others
    /// count as failures. The bounds may differ from model to model.
    ///
    /// `bounded` gives the conditions under a model, or none where that model fails outright; every permitted model must have
    /// as many. Each condition carries the variance of an independent error, such as the tolerance of making the part.
    #[must_use]
    pub fn joint_probability(&self, bounded: impl Fn(usize) -> Option<Vec<Bounded>>) -> Joint {
        let conditions: Vec<Option<Vec<Bounded>>> = (0..self.spoiled.len()).map(bounded).collect();
        let some = conditions.iter().flatten().next().cloned().unwrap_or_default();
        let of = |model: usize| conditions[model].as_ref().unwrap_or(&some);
        let projection = self.project_by_model(
            |model| of(model).iter().map(|one| one.form.clone()).collect(),
            Seen::all_of(some.len()),
            |model| conditions.iter().position(|one| *one == conditions[model]).unwrap_or(model),
        );
        let joint = projection.joint_probability(|model| {
            let between = |(form, one): (usize, &Bounded)| Between {
                form,
                least: one.least,
                most: one.most,
                own_variance: one.own_variance,
            };
            conditions[model].as_ref().map(|own| own.iter().enumerate().map(between).collect())
        });
        Joint { error: joint.error + projection.pruned(), ..joint }
    }
}

/// What decides where an explanation comes.
fn rank(one: &Explanation) -> Rank<'_> {
    (one.ln_weight, one.model, &one.mistakes)
}

/// For each model the readings that each of its mistakes spoils.
pub(crate) fn spoiled(models: &[Model]) -> Vec<Vec<Vec<usize>>> {
    models
        .iter()
        .map(|model| {
            let readings = |spoils: &[(usize, _)]| spoils.iter().map(|(at, _)| *at).collect();
            model.mistakes.iter().map(|mistake| readings(&mistake.spoils)).collect()
        })
        .collect()
}

/// Probabilities summed over all explanations.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Sums {
    models: Vec<f64>,
    readings: Vec<f64>,
}

impl Sums {
    pub fn new(models: usize, readings: usize) -> Self {
        Self { models: vec![0.0; models], readings: vec![0.0; readings] }
    }

    /// Adds an explanation: the mistakes of a model, each of which spoils some readings, and their probability.
    pub fn add(&mut self, model: usize, spoiled: &[Vec<usize>], mistakes: &[usize], probability: f64) {
        self.models[model] += probability;
        for mistake in mistakes {
            for reading in &spoiled[*mistake] {
                self.readings[*reading] += probability;
            }
        }
    }
}
