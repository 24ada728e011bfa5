//! What a finished order shows: each reading with the truth behind it, and what it would mean under every mistake.

use std::cmp::Ordering;

use catalog::{Catalog, Measurand, MistakeKind, Sides};
use quantity::{LengthExt, WrittenLength, repeats, resolution};
use reconcile::{Form, ModelError, Normal};

use super::FinishedOrder;
use super::parameter::{Factors, Parameters, UncertaintyPart};
use crate::confirm::repeats_disagree;
use crate::evidence::{Taken, side_to_side, take_in_as_written};
use crate::geometry::Geometry;
use crate::hands::common_deviation;
use crate::meanings::{self, Claims, Slips};
use crate::sheet::{Sheet, Side, Value};
use crate::truth::{Topics, posterior};

/// A size that nobody stated counts as known where the sizes that were stated leave no more of it open than this share of
/// the reading's standard uncertainty: one part in a hundred of the variance.
const FOLLOWS_WITHIN: f64 = 0.1;

/// The readings of one finished order. By how much they scatter is the same for all of them.
#[derive(Debug)]
pub(super) struct Order {
    pub units: Vec<Unit>,
}

/// The readings of one topic of an order, with the slips that spoil several of them together.
#[derive(Debug)]
pub(super) struct Unit {
    pub readings: Vec<Observed>,
    pub ties: Vec<Tied>,
}

/// A slip that spoils several readings of a unit together.
#[derive(Debug)]
pub(super) struct Tied {
    /// Its rate, and the share of the rate that falls on it.
    pub rate: (usize, f64),
    /// The readings by their place in the unit, with what each then means.
    pub members: Vec<(usize, Meaning)>,
}

/// One reading beside its truth.
#[derive(Debug)]
pub(super) struct Observed {
    /// How many readings it stands for where uncertainties are learned: one; less, where readings of one hand share an error; or
    /// the degrees of freedom of the scatter of repeats.
    pub weight: f64,
    /// The learned parts of its variance.
    pub parts: Vec<Part>,
    /// The hand that took it, by a number within the unit, and the share of the first part (the limit of the instrument) that is an
    /// error which all its readings have in common.
    pub hand: Option<(usize, f64)>,
    /// What it may mean: at its word first, then under each mistake.
    pub meanings: Vec<Meaning>,
    /// The rates of the mistakes that could have spoilt it, each once, with the share of the mistake that could have.
    pub rates: Vec<(usize, f64)>,
}

/// A learned part of a variance.
#[derive(Debug)]
pub(super) struct Part {
    /// Its place among the uncertainties.
    pub at: usize,
    pub factors: Factors,
    /// Its value in the catalog (mm²).
    pub own: f64,
}

/// What a reading may mean.
#[derive(Debug, Clone)]
pub(super) struct Meaning {
    /// The rate of the mistake and the share of it that falls on this meaning; none at its word.
    pub mistake: Option<(usize, f64)>,
    /// What was read less what a reading without error would then say, in mm.
    pub residual: f64,
    /// The part of the variance that is not learned (mm²).
    pub known: f64,
    /// What the learned parts of the variance are multiplied by: a hundred where a point has slipped.
    pub stretch: f64,
}

/// A reading that teaches nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct Skipped {
    /// The reference of its order.
    pub order: String,
    /// The line of the sheet.
    pub line: usize,
    /// What was measured.
    pub measurand: Measurand,
    /// On which side.
    pub side: Option<Side>,
    /// Why it teaches nothing.
    pub reason: SkipReason,
}

/// Why a reading teaches nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SkipReason {
    /// Its true size is not stated and follows from no others.
    NoTruth,
    /// The true number of holes is not stated, and without it a distance of holes means nothing.
    NoHoleCount,
    /// Its repeats contradict each other, so nobody knows what was read.
    RepeatsDisagree,
}

/// The readings of one order, and how many of them have a known truth.
pub(super) fn observe(
    order: &FinishedOrder,
    catalog: &Catalog,
    parameters: &Parameters,
    skipped: &mut Vec<Skipped>,
) -> Result<(Order, usize), ModelError> {
    let FinishedOrder { sheet, truth } = order;
    let differential = truth.differential(Some(sheet), catalog);
    let topics = Topics::new(truth, Some(sheet), catalog, &differential);
    let taken = take_in_as_written(sheet, catalog);
    let mut claimed = vec![false; taken.len()];
    let mut units = Vec::new();
    let mut observed = 0;
    for geometry in topics.all() {
        let axle = posterior(truth, geometry, geometry.priors(), catalog)?;
        let desk = Desk { order, catalog, parameters, geometry, axle, odd_teeth: topics.odd_teeth() };
        let mut own: Vec<(usize, Observed)> = Vec::new();
        let mut forms: Vec<Option<Form>> = Vec::new();
        for (at, one) in taken.iter().enumerate() {
            forms.push(geometry.form_of(one));
            let Some(Some(form)) = forms.last() else { continue };
            claimed[at] = true;
            match desk.reading(one, form) {
                Ok(found) => {
                    units.extend(desk.scatter(one).map(alone));
                    own.push((at, found));
                }
                Err(reason) => skipped.push(skip(sheet, one, reason)),
            }
        }
        observed += own.len();
        units.push(desk.into_unit(&taken, &forms, own));
    }
    for (one, _) in taken.iter().zip(&claimed).filter(|(_, claimed)| !**claimed) {
        skipped.push(skip(sheet, one, SkipReason::NoHoleCount));
    }
    units.sort_by(Unit::by_content);
    Ok((Order { units }, observed))
}

fn alone(reading: Observed) -> Unit {
    Unit { readings: vec![reading], ties: Vec::new() }
}

fn skip(sheet: &Sheet, one: &Taken<'_>, reason: SkipReason) -> Skipped {
    Skipped {
        order: sheet.reference.clone(),
        line: sheet.readings[one.index].position.line,
        measurand: one.measurand,
        side: one.side,
        reason,
    }
}

/// One topic of an order, with what is known of it.
struct Desk<'a> {
    order: &'a FinishedOrder,
    catalog: &'a Catalog,
    parameters: &'a Parameters,
    geometry: &'a dyn Geometry,
    axle: Option<Normal>,
    odd_teeth: Option<bool>,
}

impl Desk<'_> {
    /// A reading with its truth and everything that it may mean.
    fn reading(&self, one: &Taken<'_>, form: &Form) -> Result<Observed, SkipReason> {
        if repeats_disagree(&self.order.sheet, one, &self.order.sheet.readings[one.index].value).is_some() {
            return Err(SkipReason::RepeatsDisagree);
        }
        let axle = self.axle.as_ref().ok_or(SkipReason::NoTruth)?;
        let (truth, truth_variance) = self.truth(one, form, axle).ok_or(SkipReason::NoTruth)?;
        let (parts, known) = self.variance(one);
        let known = known + truth_variance;
        let mut meanings = vec![Meaning { mistake: None, residual: one.value - truth, known, stretch: 1.0 }];
        let mut rates: Vec<(usize, f64)> = Vec::new();
        let (taken, forms) = (std::slice::from_ref(one), std::slice::from_ref(form));
        let slips = Slips::of(taken, self.catalog);
        let claims = Claims { choice: self.geometry, taken, forms, commons: &[Form::default()], slips: &slips };
        for (which, row) in self.catalog.mistakes.iter().enumerate() {
            // The count is known here, so an even one needs no doubt about it.
            if row.kind == MistakeKind::OddCountAcross && self.odd_teeth == Some(false) {
                continue;
            }
            let Some(rate) = self.parameters.rate(row.kind, one.conditions) else { continue };
            for (share, meant) in claims.alternatives(row, which, 0) {
                let Some(meaning) = self.meaning(one, form, axle, (truth, known), &meant) else { continue };
                meanings.push(Meaning { mistake: Some((rate, share)), ..meaning });
                match rates.iter_mut().find(|(known, _)| *known == rate) {
                    Some((_, whole)) => *whole += share,
                    None => rates.push((rate, share)),
                }
            }
        }
        Ok(Observed { weight: 1.0, parts, hand: None, meanings, rates })
    }

    /// What a reading teaches where a mistake makes it mean this; nothing where no sheet would take it.
    fn meaning(
        &self,
        one: &Taken<'_>,
        form: &Form,
        axle: &Normal,
        (truth, known): (f64, f64),
        meant: &meanings::Meaning,
    ) -> Option<Meaning> {
        let stretch = meant.factor.powi(2);
        let spread = stretch * meant.spread.powi(2);
        let change = meant.form.minus(form);
        // A sheet does not take a number that cannot be, so a slip that makes one is never seen here, and that it is not seen says
        // nothing of its rate.
        let wrong = truth + axle.mean_of(&change);
        let accepted = one.row.accepted.0.millimetres()..=one.row.accepted.1.millimetres();
        accepted.contains(&wrong).then(|| Meaning {
            mistake: None,
            residual: one.value - wrong,
            known: stretch * known + spread + axle.variance_of(&change),
            stretch,
        })
    }

    /// The true size of what was read, with its variance: as it is stated, or as it follows from what is stated.
    fn truth(&self, one: &Taken<'_>, form: &Form, axle: &Normal) -> Option<(f64, f64)> {
        if let Some(size) = self.order.truth.size(one.measurand, one.side) {
            // What both sides share is not quite what one side of an old axle measures.
            let row = self.catalog.measurand(one.measurand);
            let other_side = size.side.is_none() && one.side.is_some() && row.sides == Sides::Either;
            let sides = if other_side { side_to_side(row, self.catalog) } else { 0.0 };
            return Some((size.value, size.standard_uncertainty.powi(2) + sides * sides));
        }
        let variance = axle.variance_of(form);
        let known = variance.sqrt() <= FOLLOWS_WITHIN * one.standard_uncertainty;
        known.then(|| (axle.mean_of(form), variance))
    }

    /// The learned parts of a reading's variance, and the part that is not learned: what it was rounded to, or for a count a
    /// trifle.
    fn variance(&self, one: &Taken<'_>) -> (Vec<Part>, f64) {
        let Value::Length(written) = &self.order.sheet.readings[one.index].value else {
            return (Vec::new(), one.standard_uncertainty.powi(2));
        };
        let instrument = one.instrument;
        let limit = instrument.limit.standard_uncertainty(quantity::millimetres(one.value)).millimetres();
        let limit = limit.powi(2) + instrument.set_up.millimetres().powi(2);
        let repeatability = instrument.repeatability.millimetres().powi(2) / written.len() as f64;
        let blind = one.conditions.contains(&catalog::Condition::ThroughAccessHole);
        let factor = if blind { self.catalog.settings.beliefs.access_hole_factor } else { 1.0 };
        let set_up = (factor * one.row.set_up.millimetres()).powi(2);
        let parts = [
            (UncertaintyPart::Limit(instrument.name.clone()), limit),
            (UncertaintyPart::Repeatability(instrument.name.clone()), repeatability),
            (UncertaintyPart::SetUp(one.measurand), set_up),
        ];
        (parts.into_iter().filter_map(|(part, own)| self.part(&part, own)).collect(), self.rounding(one, written))
    }

    /// A part of a variance, if it is learned.
    fn part(&self, part: &UncertaintyPart, own: f64) -> Option<Part> {
        let at = self.parameters.uncertainty(part)?;
        Some(Part { at, factors: self.parameters.uncertainties[at].factors, own })
    }

    /// The variance of rounding to the scale.
    fn rounding(&self, one: &Taken<'_>, written: &[WrittenLength]) -> f64 {
        let steps = written.iter().map(|repeat| repeat.step(one.instrument.step).millimetres());
        resolution(steps.sum::<f64>() / written.len() as f64).powi(2)
    }

    /// What the repeats of a reading show of the repeatability: their scatter about their own mean, which needs no truth.
    fn scatter(&self, one: &Taken<'_>) -> Option<Observed> {
        let Value::Length(written) = &self.order.sheet.readings[one.index].value else { return None };
        let values: Vec<f64> = written.iter().map(|repeat| repeat.value().millimetres()).collect();
        let found = repeats(&values).ok()?;
        let own = one.instrument.repeatability.millimetres().powi(2);
        let part = self.part(&UncertaintyPart::Repeatability(one.instrument.name.clone()), own)?;
        let known = self.rounding(one, written);
        let meaning = Meaning { mistake: None, residual: found.standard_deviation, known, stretch: 1.0 };
        Some(Observed {
            weight: found.degrees_of_freedom,
            parts: vec![part],
            hand: None,
            meanings: vec![meaning],
            rates: Vec::new(),
        })
    }

    /// The readings of the topic with the slips that spoil several of them. A slip of which one reading has no known truth teaches
    /// nothing.
    fn into_unit(self, taken: &[Taken<'_>], forms: &[Option<Form>], observed: Vec<(usize, Observed)>) -> Unit {
        let known: Vec<(usize, &Form)> =
            forms.iter().enumerate().filter_map(|(at, form)| Some((at, form.as_ref()?))).collect();
        let own: Vec<Form> = known.iter().map(|(_, form)| (*form).clone()).collect();
        let commons = vec![Form::default(); own.len()];
        let members: Vec<Taken<'_>> = known.iter().map(|(at, _)| taken[*at].clone()).collect();
        let slips = Slips::of(&members, self.catalog);
        let claims = Claims { choice: self.geometry, taken: &members, forms: &own, commons: &commons, slips: &slips };
        let mut ties = Vec::new();
        for one in claims.in_several(self.catalog) {
            let rate = match one.throughout {
                true => self.parameters.throughout(one.kind),
                false => self.parameters.rate(one.kind, &[]),
            };
            let members: Option<Vec<(usize, Meaning)>> = one
                .spoils
                .iter()
                .map(|(at, meant)| {
                    let place = observed.iter().position(|(own, _)| own == &known[*at].0)?;
                    let read = &taken[known[*at].0];
                    let sound = observed[place].1.meanings.first()?;
                    let truth = (read.value - sound.residual, sound.known);
                    Some((place, self.meaning(read, &own[*at], self.axle.as_ref()?, truth, meant)?))
                })
                .collect();
            if let (Some(rate), Some(members)) = (rate, members) {
                ties.push(Tied { rate: (rate, one.share), members });
            }
        }
        let mut hands: Vec<(Option<&str>, &str)> = Vec::new();
        let mut readings: Vec<Observed> = Vec::with_capacity(observed.len());
        for (at, reading) in observed {
            let one = &taken[at];
            let key = (one.by, one.instrument.name.as_str());
            if !hands.contains(&key) {
                hands.push(key);
            }
            let common = common_deviation(one, self.catalog).powi(2);
            let hand = hands.iter().position(|known| *known == key);
            let hand = hand.zip(reading.parts.first().map(|limit| (common / limit.own).min(1.0)));
            let weight = reading.weight * self.counts_for(taken, at);
            readings.push(Observed { weight, hand, ..reading });
        }
        Unit { readings, ties }
    }

    /// How much a reading counts for its uncertainty beside the others of its hand, with which it shares an error.
    ///
    /// Squares of m normal errors that correlate by ρ say as much of their variance as `m / (1 + (m − 1) ρ²)` independent ones:
    /// the variance of their sum is `2 m (1 + (m − 1) ρ²)` times the fourth power of their standard deviation.
    fn counts_for(&self, taken: &[Taken<'_>], at: usize) -> f64 {
        let one = &taken[at];
        let same_hand = |other: &&Taken<'_>| {
            !other.measurand.is_count() && other.by == one.by && other.instrument.name == one.instrument.name
        };
        let others = taken.iter().filter(same_hand).count().saturating_sub(1) as f64;
        let correlation = (common_deviation(one, self.catalog) / one.standard_uncertainty).powi(2);
        1.0 / (1.0 + others * correlation * correlation)
    }
}

impl Order {
    /// Sorts finished orders by their content alone, so that sums do not depend on the order of the files.
    pub fn by_content(&self, other: &Self) -> Ordering {
        let differing =
            self.units.iter().zip(&other.units).map(|(one, another)| one.by_content(another)).find(|one| one.is_ne());
        differing.unwrap_or(self.units.len().cmp(&other.units.len()))
    }
}

impl Unit {
    /// The same for the units of an order.
    fn by_content(&self, other: &Self) -> Ordering {
        let (own, others) = (self.numbers(), other.numbers());
        let differing =
            own.iter().zip(&others).map(|(one, another)| one.total_cmp(another)).find(|order| order.is_ne());
        differing.unwrap_or(own.len().cmp(&others.len()))
    }

    fn numbers(&self) -> Vec<f64> {
        let mut numbers = Vec::new();
        let mut add = |meaning: &Meaning| numbers.extend([meaning.residual, meaning.known, meaning.stretch]);
        for reading in &self.readings {
            reading.meanings.iter().for_each(&mut add);
        }
        self.ties.iter().flat_map(|tie| &tie.members).for_each(|(_, meaning)| add(meaning));
        for reading in &self.readings {
            numbers.push(reading.weight);
            numbers.extend(reading.parts.iter().flat_map(|part| [part.at as f64, part.own]));
            numbers.extend(reading.rates.iter().flat_map(|(at, share)| [*at as f64, *share]));
        }
        numbers
    }
}
