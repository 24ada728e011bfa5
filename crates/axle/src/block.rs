//! A block: one topic of the order with its readings, every choice of parts, and the mixture that explains them.
//!
//! Topics share neither unknowns nor readings, so their explanations are independent: the probability of a whole is the
//! product over the blocks, and each block may hold its own mistake.

use catalog::{Catalog, MistakeKind, MistakeRow};
use quantity::LengthExt;
use reconcile::{Evidence, Explanation, Form, Mistake, Mixture, Model, ModelError, Normal, Options, explain};

use crate::evidence::Taken;
use crate::geometry::Geometry;
use crate::hands::{Hand, hands, shared};
use crate::slips::slips;

/// The explanations of a topic that together are less likely than this are left out. Most are of a scatter that the other topics
/// rule out; the review says how much was left out ([`Mixture::pruned`]).
const TAIL: f64 = 1e-6;

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
    /// What each mistake of each model is.
    pub tags: Vec<Vec<Tag>>,
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
        let mut models = Vec::new();
        let mut tags = Vec::new();
        for scatter in &catalog.settings.beliefs.scatter {
            let scattered = scattered(&taken, scatter.multiple);
            for (Weighted { weight, choice }, forms) in &kept {
                let (model, names) =
                    build(weight * scatter.share, choice, &scattered, forms, &hands, scatter.multiple, catalog);
                models.push(model);
                tags.push(names);
            }
        }
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
        let reweighted = self.mixture.reweighted(ratio).ok_or(ModelError::Singular { model: 0 })?;
        self.mixture = reweighted.without_tail(TAIL);
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

/// The readings with standard uncertainties that are larger by a multiple; a count is right or mistaken.
fn scattered<'a>(taken: &[Taken<'a>], multiple: f64) -> Vec<Taken<'a>> {
    let of = |one: &Taken<'a>| if one.measurand.is_count() { 1.0 } else { multiple };
    taken.iter().map(|one| Taken { standard_uncertainty: of(one) * one.standard_uncertainty, ..one.clone() }).collect()
}

/// The model of a choice of parts, and the name of each of its mistakes. The readings are `scattered` by `multiple`, and so is
/// what they have in common.
fn build(
    weight: f64,
    choice: &impl Geometry,
    taken: &[Taken<'_>],
    forms: &[Form],
    hands: &[Hand],
    multiple: f64,
    catalog: &Catalog,
) -> (Model, Vec<Tag>) {
    let mut priors = choice.priors();
    let unknowns = priors.len();
    priors.extend(hands.iter().map(|_| Hand::prior()));
    // From here on a reading has its own error only; what its hand adds stands in its form.
    let split = |at: usize| shared(hands, unknowns, at, taken[at].standard_uncertainty, multiple);
    let commons: Vec<Form> = (0..taken.len()).map(|at| split(at).0).collect();
    let own: Vec<Taken<'_>> =
        taken.iter().enumerate().map(|(at, one)| Taken { standard_uncertainty: split(at).1, ..one.clone() }).collect();
    let forms: Vec<Form> = forms.iter().zip(&commons).map(|(form, common)| form.plus(common)).collect();
    let readings = own
        .iter()
        .zip(&forms)
        .map(|(one, form)| Evidence {
            form: form.clone(),
            value: one.value,
            standard_uncertainty: one.standard_uncertainty,
        })
        .collect();
    let mut mistakes = Vec::new();
    let mut tags = Vec::new();
    let mut add = |kind: MistakeKind, rate: f64, spoils: Vec<(usize, Evidence)>| {
        if rate > 0.0 {
            tags.push(Tag { kind, readings: spoils.iter().map(|(at, _)| *at).collect() });
            mistakes.push(Mistake { rate, spoils });
        }
    };
    for (at, one) in own.iter().enumerate() {
        for row in &catalog.mistakes {
            let rate = row.rate_under(one.conditions);
            for (share, meaning) in alternatives(choice, row, one, &forms[at], &commons[at]) {
                add(row.kind, rate * share, vec![(at, meaning)]);
            }
        }
    }
    for one in in_several(choice, &own, &forms, &commons, catalog) {
        let row = catalog.mistake(one.kind);
        add(one.kind, one.share * if one.throughout { row.together } else { row.rate }, one.spoils);
    }
    (Model { weight, priors, readings, mistakes }, tags)
}

/// What a mistake of the wrong thing, the wrong face or the wrong place makes a reading mean. `common` is what its hand adds.
fn mistaken(choice: &(impl Geometry + ?Sized), row: &MistakeRow, one: &Taken<'_>, common: &Form) -> Option<Evidence> {
    let meant = choice.mistaken(row.kind, one)?.plus(common);
    let standard_uncertainty = one.standard_uncertainty.hypot(row.spread.millimetres());
    Some(Evidence { form: meant, value: one.value, standard_uncertainty })
}

/// What one reading means under a mistake, each meaning with its share of the mistake's rate; nothing where the mistake
/// cannot befall it. `form` is what the reading claims to be, with what its hand adds, and `common` is that alone.
pub(crate) fn alternatives(
    choice: &(impl Geometry + ?Sized),
    row: &MistakeRow,
    one: &Taken<'_>,
    form: &Form,
    common: &Form,
) -> Vec<(f64, Evidence)> {
    match mistaken(choice, row, one, common) {
        Some(meaning) => vec![(1.0, meaning)],
        None => slips(row, one, form),
    }
}

/// A mistake that spoils several readings.
pub(crate) struct InSeveral {
    pub kind: MistakeKind,
    /// Whether one person makes it throughout, or on the whole sheet, and its rate is that; else it is the usual rate.
    pub throughout: bool,
    /// Its share of that rate.
    pub share: f64,
    /// The readings by their place in the topic, with what they then mean.
    pub spoils: Vec<(usize, Evidence)>,
}

/// The mistakes that spoil several readings together: those that confuse readings with each other, and those that one person
/// makes throughout. Forms and commons are as in [`alternatives`].
pub(crate) fn in_several(
    choice: &(impl Geometry + ?Sized),
    taken: &[Taken<'_>],
    forms: &[Form],
    commons: &[Form],
    catalog: &Catalog,
) -> Vec<InSeveral> {
    let mut all = Vec::new();
    for tie in choice.tied(taken) {
        let meaning = |(at, form): (usize, Form)| {
            let one = &taken[at];
            let form = form.plus(&commons[at]);
            (at, Evidence { form, value: one.value, standard_uncertainty: one.standard_uncertainty })
        };
        let spoils = tie.readings.into_iter().map(meaning).collect();
        all.push(InSeveral { kind: tie.kind, throughout: tie.whole, share: 1.0, spoils });
    }
    for row in catalog.mistakes.iter().filter(|row| row.together > 0.0) {
        for person in people(taken) {
            let by = |at: &usize| taken[*at].by == person;
            let members = || (0..taken.len()).filter(by);
            let placed: Vec<(usize, Evidence)> =
                members().filter_map(|at| Some((at, mistaken(choice, row, &taken[at], &commons[at])?))).collect();
            if placed.len() > 1 {
                all.push(InSeveral { kind: row.kind, throughout: true, share: 1.0, spoils: placed });
                continue;
            }
            // A slip of fixed size has the same size in every reading.
            for (which, (_, share)) in row.sizes.iter().enumerate() {
                let slipped = |at: usize| {
                    let (_, meaning) = slips(row, &taken[at], &forms[at]).into_iter().nth(which)?;
                    Some((at, meaning))
                };
                let spoils: Vec<(usize, Evidence)> = members().filter_map(slipped).collect();
                if spoils.len() > 1 {
                    all.push(InSeveral { kind: row.kind, throughout: true, share: *share, spoils });
                }
            }
        }
    }
    all
}

/// Everybody who took a reading of the topic; those that the sheet does not name are one.
fn people<'t>(taken: &[Taken<'t>]) -> Vec<Option<&'t str>> {
    let mut people: Vec<Option<&str>> = taken.iter().map(|one| one.by).collect();
    people.sort_unstable();
    people.dedup();
    people
}
