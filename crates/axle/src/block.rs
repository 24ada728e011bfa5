//! A block: one topic of the order with its readings, every choice of parts, and the mixture that explains them.
//!
//! Topics share neither unknowns nor readings, so their explanations are independent: the probability of a whole is the
//! product over the blocks, and each block may hold its own mistake.

use catalog::{Catalog, MistakeKind};
use reconcile::{Evidence, Explanation, Form, Mistake, Mixture, Model, ModelError, Options, explain};

use crate::evidence::Taken;
use crate::geometry::Geometry;
use crate::slips::slips;

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
    /// The choices of parts, one for each model.
    pub choices: Vec<C>,
    /// What each mistake of each model is.
    pub tags: Vec<Vec<Tag>>,
    pub models: Vec<Model>,
    pub mixture: Mixture,
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
        let mut models = Vec::new();
        let mut tags = Vec::new();
        let mut kept = Vec::new();
        for Weighted { weight, choice } in choices {
            // A choice under which a reading means nothing (the third neighbour of four holes) is no choice.
            if let Some(forms) = taken.iter().map(|one| choice.form_of(one)).collect::<Option<Vec<Form>>>() {
                let (model, names) = build(weight, &choice, &taken, &forms, catalog);
                models.push(model);
                tags.push(names);
                kept.push(choice);
            }
        }
        let mixture = explain(&models, options)?;
        Ok(Self { taken, choices: kept, tags, models, mixture })
    }

    /// The choice of the likeliest explanation.
    pub fn likeliest(&self) -> Option<&Explanation> {
        self.mixture.explanations().first()
    }

    /// What every reading means in an explanation.
    pub fn meanings(&self, explanation: &Explanation) -> Vec<Evidence> {
        let model = &self.models[explanation.model];
        let mut meanings = model.readings.clone();
        for mistake in &explanation.mistakes {
            for (at, meaning) in &model.mistakes[*mistake].spoils {
                meanings[*at] = meaning.clone();
            }
        }
        meanings
    }

    /// The names of an explanation's mistakes.
    pub fn mistakes_of(&self, explanation: &Explanation) -> Vec<&Tag> {
        explanation.mistakes.iter().map(|mistake| &self.tags[explanation.model][*mistake]).collect()
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

fn build(
    weight: f64,
    choice: &impl Geometry,
    taken: &[Taken<'_>],
    forms: &[Form],
    catalog: &Catalog,
) -> (Model, Vec<Tag>) {
    let readings = taken
        .iter()
        .zip(forms)
        .map(|(one, form)| Evidence {
            form: form.clone(),
            value: one.value,
            standard_uncertainty: one.standard_uncertainty,
        })
        .collect();
    let mut mistakes = Vec::new();
    let mut tags = Vec::new();
    for (at, (one, form)) in taken.iter().zip(forms).enumerate() {
        for row in &catalog.mistakes {
            let rate = row.rate_under(one.conditions);
            let mut add = |rate: f64, meaning: Evidence| {
                if rate > 0.0 {
                    mistakes.push(Mistake { rate, spoils: vec![(at, meaning)] });
                    tags.push(Tag { kind: row.kind, readings: vec![at] });
                }
            };
            if let Some(meant) = choice.mistaken(row.kind, one) {
                let standard_uncertainty = one.standard_uncertainty.hypot(spread(row));
                add(rate, Evidence { form: meant, value: one.value, standard_uncertainty });
            } else {
                for (share, meaning) in slips(row, one, form) {
                    add(rate * share, meaning);
                }
            }
        }
    }
    for (kind, spoiled) in choice.tied(taken) {
        let rate = catalog.mistake(kind).rate;
        if rate > 0.0 {
            tags.push(Tag { kind, readings: spoiled.iter().map(|(at, _)| *at).collect() });
            let meaning = |(at, form): (usize, Form)| {
                let one = &taken[at];
                (at, Evidence { form, value: one.value, standard_uncertainty: one.standard_uncertainty })
            };
            mistakes.push(Mistake { rate, spoils: spoiled.into_iter().map(meaning).collect() });
        }
    }
    (Model { weight, priors: choice.priors(), readings, mistakes }, tags)
}

fn spread(row: &catalog::MistakeRow) -> f64 {
    use quantity::LengthExt;
    row.spread.millimetres()
}
