//! A block: one topic of the order with its readings, every choice of parts, and the mixture that explains them.
//!
//! Topics share neither unknowns nor readings, so their explanations are independent: the probability of a whole is the
//! product over the blocks, and each block may hold its own mistake.

use catalog::{Catalog, MistakeKind};
use reconcile::{Evidence, Explanation, Form, Kept, Mistake, Mixture, Model, ModelError, Normal, Options, explain};

use crate::evidence::Taken;
use crate::geometry::Geometry;
use crate::hands::{Hand, hands};
use crate::meanings::{Meanings, Slips};

/// The explanations of a topic that together are less likely than a millionth are left out: most are of a scatter that the other
/// topics rule out. Where few readings leave so many parts possible that there are still more, the likeliest stay; the review says
/// how much was left out ([`Mixture::pruned`]).
const KEPT: Kept = Kept { all_but: 1e-6, most: 8192 };

/// What a mistake of a model is, by name: its kind and the readings it spoils, by their place in the block.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Tag {
    pub kind: MistakeKind,
    pub readings: Vec<usize>,
}

/// One topic, explained.
pub(crate) struct Block<'a, C> {
    /// The readings of the topic, in the order of the sheet.
    pub taken: Vec<Taken<'a>>,
    /// The choices of parts.
    pub choices: Vec<C>,
    /// The instruments in hands that took several readings; the error of each is an unknown after those of the geometry.
    hands: Vec<Hand>,
    /// What each mistake is, by choice of parts.
    tags: Vec<Vec<Tag>>,
    /// Every choice of parts with every scatter of the readings that the catalog believes in: all choices with the first,
    /// then all with the second, and so on.
    pub models: Vec<Model>,
    pub mixture: Mixture,
    /// The posterior of the likeliest explanation.
    posterior: Option<Normal>,
}

/// A choice of parts with its weight beforehand.
pub(crate) struct Weighted<C> {
    pub weight: f64,
    pub choice: C,
}

impl<'a, C: Geometry> Block<'a, C> {
    /// Explains the readings that the topic knows, out of all that were taken.
    ///
    /// # Errors
    /// [`ModelError`] where the catalog's numbers make no sound model, such as rates that sum past one.
    pub fn explain(
        all: &[Taken<'a>],
        choices: Vec<Weighted<C>>,
        catalog: &Catalog,
        options: &Options,
    ) -> Result<Self, ModelError> {
        let knows = |taken: &Taken<'_>| choices.iter().any(|choice| choice.choice.form_of(taken).is_some());
        let taken: Vec<Taken<'a>> = all.iter().filter(|one| knows(one)).cloned().collect();
        let hands = hands(&taken, catalog);
        // A choice under which a reading means nothing (the third neighbour of four holes) is no choice.
        let meant = |choice: &C| taken.iter().map(|one| choice.form_of(one)).collect::<Option<Vec<Form>>>();
        let kept: Vec<(Weighted<C>, Vec<Form>)> =
            choices.into_iter().filter_map(|one| meant(&one.choice).map(|forms| (one, forms))).collect();
        let slips = Slips::of(&taken, catalog);
        let meanings: Vec<Meanings> =
            kept.iter().map(|(one, forms)| Meanings::of(&one.choice, &taken, forms, &slips, &hands, catalog)).collect();
        let mut models = Vec::new();
        for scatter in &catalog.settings.beliefs.scatter {
            for ((Weighted { weight, .. }, _), meanings) in kept.iter().zip(&meanings) {
                models.push(meanings.model(weight * scatter.share, &taken, &hands, scatter.multiple));
            }
        }
        let tags = meanings.into_iter().map(|one| one.tags).collect();
        let choices = kept.into_iter().map(|(one, _)| one.choice).collect();
        let mixture = explain(&models, options)?;
        let posterior = mixture.explanations().first().and_then(|likeliest| mixture.posterior(likeliest));
        Ok(Self { taken, choices, hands, tags, models, mixture, posterior })
    }

    /// The same topic once it is known from elsewhere how likely each scatter of the readings is, where it was as likely as
    /// [`Self::scatter_probabilities`] before.
    ///
    /// # Errors
    /// [`ModelError`] where none of them leaves an explanation.
    pub fn with_scatter(mut self, probabilities: &[f64]) -> Result<Self, ModelError> {
        let before = self.scatter_probabilities();
        let choices = self.choices.len();
        let ratio = |model: usize| {
            let level = model / choices;
            if before[level] > 0.0 { probabilities[level] / before[level] } else { 0.0 }
        };
        self.mixture = self.mixture.reweighted(ratio, KEPT).ok_or(ModelError::Singular { model: 0 })?;
        self.posterior = self.mixture.explanations().first().and_then(|likeliest| self.mixture.posterior(likeliest));
        Ok(self)
    }

    /// The choice of parts of a model.
    pub fn choice(&self, model: usize) -> &C {
        &self.choices[self.choice_at(model)]
    }

    /// The same by its place among the choices.
    pub fn choice_at(&self, model: usize) -> usize {
        model % self.choices.len()
    }

    /// The choice of parts of every model.
    pub fn choice_of_each(&self) -> impl Iterator<Item = &C> {
        (0..self.models.len()).map(|model| self.choice(model))
    }

    /// Which scatter of the readings a model has, by its place in the catalog's beliefs.
    pub fn scatter_at(&self, model: usize) -> usize {
        model / self.choices.len()
    }

    /// The probability of each choice of parts.
    pub fn choice_probabilities(&self) -> Vec<f64> {
        let mut sums = vec![0.0; self.choices.len()];
        for (model, probability) in self.mixture.model_probabilities().iter().enumerate() {
            sums[self.choice_at(model)] += probability;
        }
        sums
    }

    /// The probability of each scatter of the readings.
    pub fn scatter_probabilities(&self) -> Vec<f64> {
        self.mixture.model_probabilities().chunks(self.choices.len()).map(|chunk| chunk.iter().sum()).collect()
    }

    /// The choice of the likeliest explanation.
    pub fn likeliest(&self) -> Option<&Explanation> {
        self.mixture.explanations().first()
    }

    /// The likeliest explanation with its posterior.
    pub fn likeliest_posterior(&self) -> Option<(&Explanation, &Normal)> {
        self.likeliest().zip(self.posterior.as_ref())
    }

    /// Each unknown of a model in words, and where what is known of it beforehand comes from.
    pub fn unknowns(&self, model: usize, catalog: &Catalog) -> Vec<(String, String)> {
        let of_choice = self.choice(model).unknowns().into_iter().map(|(words, source)| (words.to_owned(), source));
        let source = catalog.settings.beliefs.source.to_string();
        of_choice.chain(self.hands.iter().map(|hand| (hand.words.clone(), source.clone()))).collect()
    }

    /// What every reading means in an explanation.
    pub fn meanings(&self, explanation: &Explanation) -> Vec<Evidence> {
        let model = &self.models[explanation.model];
        let mut meanings = model.readings.clone();
        for mistake in explanation.mistakes.iter() {
            for (at, meaning) in &model.mistakes[*mistake].spoils {
                meanings[*at] = meaning.clone();
            }
        }
        meanings
    }

    /// What each mistake of a model is.
    pub fn tags(&self, model: usize) -> &[Tag] {
        &self.tags[self.choice_at(model)]
    }

    /// The names of an explanation's mistakes.
    pub fn mistakes_of(&self, explanation: &Explanation) -> Vec<&Tag> {
        let tags = self.tags(explanation.model);
        explanation.mistakes.iter().map(|mistake| &tags[*mistake]).collect()
    }

    /// How often a reading of the block is mistaken before anything else is known of it.
    pub fn rate_of_mistakes(&self, reading: usize) -> f64 {
        let Some(model) = self.likeliest().map(|explanation| &self.models[explanation.model]) else { return 0.0 };
        let spoils = |mistake: &&Mistake| mistake.spoils.iter().any(|(at, _)| *at == reading);
        model.mistakes.iter().filter(spoils).map(|mistake| mistake.rate).sum()
    }

    /// For each reading of the block the mistakes it may hold, by kind, with their probabilities, the likeliest first.
    pub fn suspicions(&self) -> Vec<Vec<(MistakeKind, f64)>> {
        let mut suspicions: Vec<Vec<(MistakeKind, f64)>> = vec![Vec::new(); self.taken.len()];
        for explanation in self.mixture.explanations() {
            for tag in self.mistakes_of(explanation) {
                for reading in &tag.readings {
                    match suspicions[*reading].iter_mut().find(|(kind, _)| *kind == tag.kind) {
                        Some((_, probability)) => *probability += explanation.probability,
                        None => suspicions[*reading].push((tag.kind, explanation.probability)),
                    }
                }
            }
        }
        for kinds in &mut suspicions {
            kinds.sort_by(|one, other| other.1.total_cmp(&one.1).then(one.0.cmp(&other.0)));
        }
        suspicions
    }
}
