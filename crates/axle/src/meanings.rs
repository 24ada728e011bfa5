//! What the readings of a topic may mean under one choice of parts: what they claim to be, and what every mistake makes of them.
//!
//! None of it depends on how far the readings scatter, but for the uncertainties, which grow with it: it is worked out once for a
//! choice of parts, and every scatter that the catalog believes in gets its model from it.

use catalog::{Catalog, MistakeKind, MistakeRow};
use quantity::LengthExt;
use reconcile::{Evidence, Form, Mistake, Model, Prior};

use crate::block::Tag;
use crate::evidence::Taken;
use crate::geometry::Geometry;
use crate::hands::{Hand, common, own_uncertainty, with_larger_errors};
use crate::slips::{Slip, slips_of};

/// What a reading means: a form, and by how much more than its own error it may be off.
#[derive(Debug, Clone)]
pub(crate) struct Meaning {
    pub form: Form,
    /// Standard deviation of an error that the mistake adds, in millimetres.
    pub spread: f64,
    /// By what the mistake multiplies every error.
    pub factor: f64,
}

impl Meaning {
    /// The reading is off by its own error alone.
    pub fn plain(form: Form) -> Self {
        Self { form, spread: 0.0, factor: 1.0 }
    }

    /// The evidence of a reading whose own error has this standard uncertainty.
    pub fn evidence(&self, value: f64, standard_uncertainty: f64) -> Evidence {
        let standard_uncertainty = standard_uncertainty.hypot(self.spread) * self.factor;
        Evidence { form: self.form.clone(), value, standard_uncertainty }
    }
}

/// A mistake with the readings it spoils, by their place in the topic, and what they then mean.
struct Spoiling {
    rate: f64,
    spoils: Vec<(usize, Meaning)>,
}

/// The slips of every reading of a topic, by reading and by row of the catalog: the same under every choice of parts.
pub(crate) struct Slips(Vec<Vec<Vec<Slip>>>);

impl Slips {
    pub fn of(taken: &[Taken<'_>], catalog: &Catalog) -> Self {
        let of_one = |one: &Taken<'_>| catalog.mistakes.iter().map(|row| slips_of(row, one)).collect();
        Self(taken.iter().map(of_one).collect())
    }
}

/// Everything that the readings of a topic may mean under one choice of parts.
pub(crate) struct Meanings {
    priors: Vec<Prior>,
    forms: Vec<Form>,
    mistakes: Vec<Spoiling>,
    /// What each mistake is.
    pub tags: Vec<Tag>,
}

impl Meanings {
    /// Works them out; `forms` is what the readings claim to be by themselves.
    pub fn of(
        choice: &impl Geometry,
        taken: &[Taken<'_>],
        forms: &[Form],
        slips: &Slips,
        hands: &[Hand],
        catalog: &Catalog,
    ) -> Self {
        let priors = choice.priors();
        let commons: Vec<Form> = (0..taken.len()).map(|at| common(hands, priors.len(), at)).collect();
        let forms: Vec<Form> = forms.iter().zip(&commons).map(|(form, common)| form.plus(common)).collect();
        let claims = Claims { choice, taken, forms: &forms, commons: &commons, slips };
        let mut mistakes = Vec::new();
        let mut tags = Vec::new();
        let mut add = |kind: MistakeKind, rate: f64, spoils: Vec<(usize, Meaning)>| {
            if rate > 0.0 {
                tags.push(Tag { kind, readings: spoils.iter().map(|(at, _)| *at).collect() });
                mistakes.push(Spoiling { rate, spoils });
            }
        };
        for (at, one) in taken.iter().enumerate() {
            for (which, row) in catalog.mistakes.iter().enumerate() {
                let rate = row.rate_under(one.conditions);
                for (share, meaning) in claims.alternatives(row, which, at) {
                    add(row.kind, rate * share, vec![(at, meaning)]);
                }
            }
        }
        for one in claims.in_several(catalog) {
            let row = catalog.mistake(one.kind);
            add(one.kind, one.share * if one.throughout { row.together } else { row.rate }, one.spoils);
        }
        Self { priors, forms, mistakes, tags }
    }

    /// The model for readings that scatter by this multiple of what the instruments' rows say.
    pub fn model(&self, weight: f64, taken: &[Taken<'_>], hands: &[Hand], multiple: f64) -> Model {
        let own: Vec<f64> = (0..taken.len()).map(|at| own_uncertainty(hands, taken, at, multiple)).collect();
        let evidence = |at: usize, meaning: &Meaning| {
            let evidence = meaning.evidence(taken[at].value, own[at]);
            Evidence { form: with_larger_errors(&evidence.form, self.priors.len(), multiple), ..evidence }
        };
        let plain = self.forms.iter().cloned().map(Meaning::plain).enumerate();
        let mistake = |one: &Spoiling| Mistake {
            rate: one.rate,
            spoils: one.spoils.iter().map(|(at, meaning)| (*at, evidence(*at, meaning))).collect(),
        };
        Model {
            weight,
            priors: self.priors.iter().copied().chain(hands.iter().map(|_| Hand::prior())).collect(),
            readings: plain.map(|(at, meaning)| evidence(at, &meaning)).collect(),
            mistakes: self.mistakes.iter().map(mistake).collect(),
        }
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
    pub spoils: Vec<(usize, Meaning)>,
}

/// The readings of a topic with what they claim to be under a choice of parts.
pub(crate) struct Claims<'t, 'a, C: ?Sized> {
    pub choice: &'t C,
    pub taken: &'t [Taken<'a>],
    /// What each reading claims to be, with what its hand adds.
    pub forms: &'t [Form],
    /// What the hand of each reading adds.
    pub commons: &'t [Form],
    pub slips: &'t Slips,
}

impl<C: Geometry + ?Sized> Claims<'_, '_, C> {
    /// What a reading means under a mistake, which is row `which` of the catalog, each meaning with its share of the mistake's
    /// rate; nothing where the mistake cannot befall it.
    pub fn alternatives(&self, row: &MistakeRow, which: usize, at: usize) -> Vec<(f64, Meaning)> {
        match self.mistaken(row, at) {
            Some(meaning) => vec![(1.0, meaning)],
            None => self.slips.0[at][which].iter().map(|slip| (slip.share, slip.meaning(&self.forms[at]))).collect(),
        }
    }

    /// What a mistake of the wrong thing, the wrong face or the wrong place makes a reading mean.
    fn mistaken(&self, row: &MistakeRow, at: usize) -> Option<Meaning> {
        let form = self.choice.mistaken(row.kind, &self.taken[at])?.plus(&self.commons[at]);
        Some(Meaning { form, spread: row.spread.millimetres(), factor: 1.0 })
    }

    /// The mistakes that spoil several readings together: those that confuse readings with each other, and those that one
    /// person makes throughout.
    pub fn in_several(&self, catalog: &Catalog) -> Vec<InSeveral> {
        let mut all = Vec::new();
        for tie in self.choice.tied(self.taken) {
            let meaning = |(at, form): (usize, Form)| (at, Meaning::plain(form.plus(&self.commons[at])));
            let spoils = tie.readings.into_iter().map(meaning).collect();
            all.push(InSeveral { kind: tie.kind, throughout: tie.whole, share: 1.0, spoils });
        }
        for (which, row) in catalog.mistakes.iter().enumerate().filter(|(_, row)| row.together > 0.0) {
            for person in people(self.taken) {
                let by = |at: &usize| self.taken[*at].by == person;
                let members = || (0..self.taken.len()).filter(by);
                let placed: Vec<(usize, Meaning)> =
                    members().filter_map(|at| Some((at, self.mistaken(row, at)?))).collect();
                if placed.len() > 1 {
                    all.push(InSeveral { kind: row.kind, throughout: true, share: 1.0, spoils: placed });
                    continue;
                }
                // A slip of fixed size has the same size in every reading.
                for (size, (_, share)) in row.sizes.iter().enumerate() {
                    let slipped = |at: usize| Some((at, self.slips.0[at][which].get(size)?.meaning(&self.forms[at])));
                    let spoils: Vec<(usize, Meaning)> = members().filter_map(slipped).collect();
                    if spoils.len() > 1 {
                        all.push(InSeveral { kind: row.kind, throughout: true, share: *share, spoils });
                    }
                }
            }
        }
        all
    }
}

/// Everybody who took a reading of the topic; those that the sheet does not name are one.
fn people<'t>(taken: &[Taken<'t>]) -> Vec<Option<&'t str>> {
    let mut people: Vec<Option<&str>> = taken.iter().map(|one| one.by).collect();
    people.sort_unstable();
    people.dedup();
    people
}
