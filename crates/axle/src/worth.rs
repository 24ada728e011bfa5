//! What a further reading is worth: the expected gain in fit probability (the expected value of sample information, H. Raiffa
//! and R. Schlaifer, *Applied Statistical Decision Theory*, 1961, chapter 4).
//!
//! A reading that is yet to be taken may come out in many ways. Each is foreseen from the mixture; after each the sizes are
//! decided anew, and the shafts fit with another probability. The mean of those, less the fit probability of today, is what
//! the reading is worth. It may be mistaken itself, as often as the catalog says, and is doubted like any other.
//!
//! Within a part of the mixture, conditions on several forms are tied by pairs and not integrated together; the test below
//! holds the gains against drawing readings and reviewing the longer sheet.

use catalog::{Bearing, BearingKind, Catalog, MeasurandRow, SplineSeries};
use quantity::{Instrument, LengthExt, normal_quantile};
use reconcile::{Between, Form, FurtherReading, Projection, Seen};

use crate::block::Block;
use crate::blocks::Blocks;
use crate::decide::{Decisions, Topic, bearing_classes};
use crate::demand::Demand;
use crate::evidence::{Taken, planned_uncertainty};
use crate::geometry::Geometry;
use crate::outlook::{Aim, aim, forms_of};
use crate::review::DimensionKind;
use crate::sheet::Side;
use crate::slips::slips;

/// Explanations below this probability are left out of account here.
const LEAST_PROBABILITY: f64 = 1e-6;
/// The share of the weight that is looked at.
const SHARE: f64 = 0.995;
/// No more parts than this are looked at: where few readings leave everything open, what a reading is worth hangs on the likeliest.
const MOST_PARTS: usize = 512;
/// The share by which sizes are decided anew.
const DECIDED_BY: f64 = 0.97;
/// In so many ways more than two readings together may come out.
const SCENARIOS: usize = 32;
/// A reading that explains less than this share of the variance of everything that matters is worth nothing.
const BEARS_FROM: f64 = 1e-3;

/// A reading that could be taken.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Planned<'a> {
    pub row: &'a MeasurandRow,
    pub side: Option<Side>,
    pub instrument: &'a Instrument,
    /// Diameter of the pins, for a size over pins.
    pub pin_diameter: Option<f64>,
}

/// One topic with the readings that could be taken of it.
struct View {
    /// The forms that matter first, then one for each reading.
    projection: Projection,
    /// How many forms matter.
    kept: usize,
    /// For each planned reading its further reading, where it is of this topic.
    readings: Vec<Option<FurtherReading>>,
    stakes: Stakes,
    /// Which of the forms have a condition that may fail.
    at_stake: Vec<bool>,
    now: f64,
}

/// A condition that fails less often than this is not at stake.
const AT_STAKE_FROM: f64 = 1e-4;

/// What decides whether a topic fits.
enum Stakes {
    /// The bearing, by the class of each model, whether it is in a row, and the sizes: the shoulder first, then the lengths,
    /// that follow it.
    Chain { classes: Vec<usize>, listed: Vec<bool>, shoulder: Aim, lengths: Vec<Aim>, nuisance: f64 },
    /// One of several classes, and sizes by themselves.
    Sizes { classes: Vec<usize>, aims: Vec<Aim>, nuisance: f64 },
    /// The part alone.
    Part { classes: Vec<usize>, listed: Vec<bool> },
}

impl Stakes {
    /// Whether a reading tells classes of parts apart: their means of it differ against its own spread.
    fn is_told_by(&self, projection: &Projection, further: &FurtherReading) -> bool {
        let class = |model: usize| self.class(model);
        let mut classes: Vec<(usize, f64, f64)> = Vec::new();
        let mut within = further.standard_uncertainty * further.standard_uncertainty;
        for part in projection.parts() {
            within += part.weight * part.variance(further.form);
            match classes.iter_mut().find(|(known, _, _)| *known == class(part.model)) {
                Some((_, weight, sum)) => {
                    *weight += part.weight;
                    *sum += part.weight * part.mean[further.form];
                }
                None => classes.push((class(part.model), part.weight, part.weight * part.mean[further.form])),
            }
        }
        let mean: f64 = classes.iter().map(|(_, _, sum)| sum).sum();
        let apart: f64 = classes.iter().map(|(_, weight, sum)| weight * (sum / weight - mean).powi(2)).sum();
        apart > BEARS_FROM * within
    }

    /// The chance that all goes together, with the sizes that are best for this mixture.
    fn value(&self, projection: &Projection) -> f64 {
        let Some((likeliest, conditions)) = self.conditions(projection) else { return 0.0 };
        projection.rough_probability(&conditions, |model| self.class(model) == self.class(likeliest))
    }

    /// The class of a model: the bearing, the number of holes, or the model itself.
    fn class(&self, model: usize) -> usize {
        match self {
            Self::Chain { classes, .. } | Self::Sizes { classes, .. } | Self::Part { classes, .. } => classes[model],
        }
    }

    /// A model of the likeliest class, and what the sizes that are best for this mixture require; none where the likeliest part
    /// is in no row.
    fn conditions(&self, projection: &Projection) -> Option<(usize, Vec<Between>)> {
        let likeliest = likeliest(projection, |model| self.class(model))?;
        if let Self::Chain { listed, .. } | Self::Part { listed, .. } = self
            && !listed[likeliest]
        {
            return None;
        }
        let decided_by = projection.heaviest(DECIDED_BY, usize::MAX);
        let conditions = match self {
            Self::Chain { shoulder, lengths, nuisance, .. } => {
                let at = decided(shoulder, &decided_by, *nuisance);
                let mut conditions = shoulder.together(at);
                for length in lengths {
                    let length = length.moved_by(at);
                    conditions.extend(length.together(decided(&length, &decided_by, *nuisance)));
                }
                conditions
            }
            Self::Sizes { aims, nuisance, .. } => {
                aims.iter().flat_map(|aim| aim.together(decided(aim, &decided_by, *nuisance))).collect()
            }
            Self::Part { .. } => Vec::new(),
        };
        Some((likeliest, conditions))
    }
}

/// The size that would be made: as in [`crate::decide::size`], but no closer than need be.
fn decided(aim: &Aim, projection: &Projection, nuisance: f64) -> f64 {
    let marginal = aim.ideal(projection);
    match marginal.parts().first() {
        Some(part) if marginal.standard_deviation() > aim.scale(projection) => part.mean,
        _ => aim.roughly_best(projection, nuisance),
    }
}

/// A model of the likeliest class; of equal ones the class that comes first.
fn likeliest(projection: &Projection, class: impl Fn(usize) -> usize) -> Option<usize> {
    let mut weights: Vec<(usize, f64)> = Vec::new();
    for part in projection.parts() {
        match weights.iter_mut().find(|(model, _)| class(*model) == class(part.model)) {
            Some((_, weight)) => *weight += part.weight,
            None => weights.push((part.model, part.weight)),
        }
    }
    let heavier = |best: (usize, f64), next: &(usize, f64)| if next.1 > best.1 { *next } else { best };
    let first = *weights.first()?;
    Some(weights.iter().fold(first, heavier).0)
}

/// The order as it stands, ready to be asked what readings are worth.
pub(crate) struct Worth<'a> {
    views: [View; 4],
    bearings: Vec<Option<&'a Bearing>>,
    series: Vec<Option<&'a SplineSeries>>,
}

/// The place of the views.
const CHAIN: usize = 0;
const SPLINE: usize = 3;

impl<'a> Worth<'a> {
    /// Prepares an order for these readings.
    pub fn new(blocks: &Blocks<'a>, decisions: &Decisions<'_>, planned: &[Planned<'_>], catalog: &'a Catalog) -> Self {
        let nuisance = catalog.settings.losses.nuisance;
        let demands = |topic: Topic| {
            let fitted = |demand: &&Demand| demand.least.is_some() || demand.most.is_some();
            decisions
                .decided
                .iter()
                .filter(|one| one.topic == topic)
                .map(|one| &one.demand)
                .filter(fitted)
                .collect::<Vec<_>>()
        };
        let (chain, circle, face) = (demands(Topic::Chain), demands(Topic::Circle), demands(Topic::Face));
        let (chain_forms, circle_forms, face_forms) =
            (forms_of(chain.clone()), forms_of(circle.clone()), forms_of(face.clone()));
        let aims = |forms: &[Form], demands: &[&Demand]| -> Vec<Aim> {
            demands.iter().filter_map(|demand| aim(forms, demand)).collect()
        };
        // Lengths were demanded from the shoulder as it was decided; here they follow it wherever it goes.
        let decided_at = decisions.decided.iter().find(|one| one.demand.kind == DimensionKind::ShoulderDistance);
        let decided_at = decided_at.map_or(0.0, |one| one.size);
        let (mut shoulder, mut lengths) = (None, Vec::new());
        for (demand, aim) in chain.iter().zip(aims(&chain_forms, &chain)) {
            match demand.kind {
                DimensionKind::ShoulderDistance => shoulder = Some(aim),
                _ => lengths.push(aim.moved_by(-decided_at)),
            }
        }
        let classes = bearing_classes(blocks);
        let bearings: Vec<Option<&Bearing>> =
            blocks.chain.choice_of_each().map(|choice| choice.parts.bearing).collect();
        let listed = bearings.iter().map(Option::is_some).collect();
        let chain_stakes = match shoulder {
            Some(shoulder) => Stakes::Chain { classes: classes.clone(), listed, shoulder, lengths, nuisance },
            None => Stakes::Part { classes: classes.clone(), listed },
        };
        let holes: Vec<usize> = blocks.circle.choice_of_each().map(|choice| choice.holes as usize).collect();
        let circle_stakes = Stakes::Sizes { classes: holes.clone(), aims: aims(&circle_forms, &circle), nuisance };
        let face_stakes =
            Stakes::Sizes { classes: vec![0; blocks.face.models.len()], aims: aims(&face_forms, &face), nuisance };
        let splines: Vec<usize> = (0..blocks.spline.models.len()).map(|model| blocks.spline.choice_at(model)).collect();
        let spline_stakes = Stakes::Part {
            classes: splines.clone(),
            listed: blocks.spline.choice_of_each().map(|choice| choice.listed.is_some()).collect(),
        };
        Self {
            views: [
                view(&blocks.chain, chain_forms, planned, catalog, chain_stakes, |model| classes[model]),
                view(&blocks.circle, circle_forms, planned, catalog, circle_stakes, |model| holes[model]),
                view(&blocks.face, face_forms, planned, catalog, face_stakes, |_| 0),
                view(&blocks.spline, Vec::new(), planned, catalog, spline_stakes, |model| splines[model]),
            ],
            bearings,
            series: blocks
                .spline
                .choice_of_each()
                .map(|choice| choice.listed.as_ref().map(|listed| listed.0))
                .collect(),
        }
    }

    /// The fit probability of today, as it is reckoned here.
    pub fn now(&self) -> f64 {
        self.views.iter().map(|view| view.now).product()
    }

    /// The expected gain of some of the planned readings, taken together.
    pub fn gain(&self, chosen: &[usize]) -> f64 {
        let after: f64 = self.views.iter().map(|view| view.expected(chosen)).product();
        (after - self.now()).max(0.0)
    }

    /// Pairs among the first `singles` planned readings that explain some form far better together than the better one of them
    /// alone, as a linear estimate has it: the best of each topic.
    pub fn promising_pairs(&self, singles: usize) -> Vec<[usize; 2]> {
        self.views.iter().flat_map(|view| view.promising_pairs(singles)).collect()
    }

    /// The expected gain of hearing which kind of bearing it is, from somebody who is right so often.
    pub fn gain_of_bearing_kind(&self, right: f64) -> f64 {
        let says = |kind: BearingKind, model: usize| match self.bearings[model] {
            Some(row) if row.kind == kind => right,
            Some(_) => 1.0 - right,
            None => 0.5,
        };
        let answers: [&dyn Fn(usize) -> f64; 2] =
            [&|model| says(BearingKind::Ball, model), &|model| says(BearingKind::Tapered, model)];
        self.gain_of_answer(CHAIN, &answers)
    }

    /// The expected gain of hearing which series the spline is, likewise; a wrong answer falls on the others as often as they
    /// are met.
    pub fn gain_of_spline_series(&self, right: f64, catalog: &Catalog) -> f64 {
        let total: f64 = catalog.splines.iter().map(|row| row.weight).sum();
        let answers: Vec<Box<dyn Fn(usize) -> f64 + '_>> = catalog
            .splines
            .iter()
            .map(|said| -> Box<dyn Fn(usize) -> f64 + '_> {
                Box::new(move |model| match self.series[model] {
                    Some(row) if row.name == said.name => right,
                    Some(row) => (1.0 - right) * said.weight / (total - row.weight).max(f64::MIN_POSITIVE),
                    None => (1.0 - right) * said.weight / total,
                })
            })
            .collect();
        let answers: Vec<&dyn Fn(usize) -> f64> = answers.iter().map(|answer| &**answer).collect();
        self.gain_of_answer(SPLINE, &answers)
    }

    /// The expected gain of an answer whose likelihood under each model is given, for each answer that may come.
    fn gain_of_answer(&self, topic: usize, answers: &[&dyn Fn(usize) -> f64]) -> f64 {
        let view = &self.views[topic];
        let parts = view.projection.parts();
        let mut expected = 0.0;
        for answer in answers {
            let chance: f64 = parts.iter().map(|part| part.weight * answer(part.model)).sum();
            if chance > 0.0 {
                expected += chance * view.stakes.value(&view.projection.reweighted(answer));
            }
        }
        let others: f64 =
            self.views.iter().enumerate().filter(|(at, _)| *at != topic).map(|(_, view)| view.now).product();
        ((expected - view.now) * others).max(0.0)
    }
}

/// The view of one topic.
fn view<C: Geometry>(
    block: &Block<'_, C>,
    forms: Vec<Form>,
    planned: &[Planned<'_>],
    catalog: &Catalog,
    stakes: Stakes,
    class: impl Fn(usize) -> usize,
) -> View {
    let kept = forms.len();
    let likeliest = block.likeliest().map_or(0, |explanation| explanation.model);
    let mut known: Vec<(Taken<'_>, Form)> = Vec::new();
    let readings = planned.iter().map(|one| {
        let choice = block.choice(likeliest);
        if !choice.can_be_taken(one.row.measurand) {
            return None;
        }
        let taken = as_taken(one);
        let form = choice.form_of(&taken)?;
        let mistaken: f64 = catalog
            .mistakes
            .iter()
            .filter(|row| choice.mistaken(row.kind, &taken).is_some() || !slips(row, &taken, &form).is_empty())
            .map(|row| row.rate)
            .sum();
        let (least, most) = one.row.usual;
        let further = FurtherReading {
            form: kept + known.len(),
            standard_uncertainty: taken.standard_uncertainty,
            mistaken,
            usual: 0.5 * (most - least).millimetres(),
        };
        known.push((taken, form));
        Some(further)
    });
    let readings: Vec<Option<FurtherReading>> = readings.collect();
    let by_model = |model: usize| {
        // What means nothing with a choice of parts is as good as what it means with the likeliest.
        let of = |(taken, form): &(Taken<'_>, Form)| block.choice(model).form_of(taken).unwrap_or_else(|| form.clone());
        forms.iter().cloned().chain(known.iter().map(of)).collect()
    };
    let seen = Seen { told_apart: kept, together: kept + known.len(), least_probability: LEAST_PROBABILITY };
    let projection = block.mixture.project_by_model(by_model, seen, class).heaviest(SHARE, MOST_PARTS);
    let now = stakes.value(&projection);
    let mut at_stake = vec![false; kept];
    if let Some((_, conditions)) = stakes.conditions(&projection) {
        for condition in conditions {
            at_stake[condition.form] |= projection.probability_between(&condition) < 1.0 - AT_STAKE_FROM;
        }
    }
    View { projection, kept, readings, stakes, at_stake, now }
}

/// A planned reading as if it had been taken.
fn as_taken<'t>(planned: &Planned<'t>) -> Taken<'t> {
    Taken {
        index: usize::MAX,
        measurand: planned.row.measurand,
        side: planned.side,
        value: (0.5 * (planned.row.usual.0 + planned.row.usual.1)).millimetres(),
        standard_uncertainty: planned_uncertainty(planned.row, planned.instrument),
        written: None,
        instrument: planned.instrument,
        by: None,
        row: planned.row,
        conditions: &[],
        pin_diameter: planned.pin_diameter,
    }
}

/// A pair is tried where it explains so much more of the variance of a form than the better reading alone.
const PROMISING_FROM: f64 = 0.1;

impl View {
    fn promising_pairs(&self, singles: usize) -> Vec<[usize; 2]> {
        let readings: Vec<(usize, &FurtherReading)> =
            self.readings.iter().take(singles).enumerate().filter_map(|(at, one)| Some((at, one.as_ref()?))).collect();
        let mut scored: Vec<(f64, [usize; 2])> = Vec::new();
        let overall = |one: usize, other: usize| self.projection.overall_covariance(one, other);
        for (place, (at, one)) in readings.iter().enumerate() {
            let own = overall(one.form, one.form) + one.standard_uncertainty * one.standard_uncertainty;
            for (other_at, other) in &readings[place + 1..] {
                let others = overall(other.form, other.form) + other.standard_uncertainty * other.standard_uncertainty;
                let common = overall(one.form, other.form);
                let determinant = own * others - common * common;
                let score = (0..self.kept).map(|form| {
                    let whole = overall(form, form);
                    let (a, b) = (overall(form, one.form), overall(form, other.form));
                    let together = (a * a * others - 2.0 * a * b * common + b * b * own) / determinant;
                    (together - (a * a / own).max(b * b / others)) / whole
                });
                let score = score.fold(0.0, f64::max);
                if determinant > 0.0 && score > PROMISING_FROM {
                    scored.push((score, [*at, *other_at]));
                }
            }
        }
        scored.sort_by(|one, other| other.0.total_cmp(&one.0).then(one.1.cmp(&other.1)));
        scored.into_iter().take(1).map(|(_, pair)| pair).collect()
    }

    /// The expected chance that the topic fits once these readings are taken.
    fn expected(&self, chosen: &[usize]) -> f64 {
        let own: Vec<&FurtherReading> = chosen.iter().filter_map(|at| self.readings[*at].as_ref()).collect();
        match own.as_slice() {
            [] => self.now,
            several => self.after_several(several),
        }
    }

    fn after_one(&self, further: &FurtherReading) -> f64 {
        if !self.bears(further) {
            return self.now;
        }
        let after = |value: f64| self.stakes.value(&self.projection.after(further, value, self.kept));
        self.expectation(&self.projection, further, after)
    }

    /// The mean of a value over all that a reading may bring, where it is mistaken that of today.
    fn expectation(&self, known: &Projection, further: &FurtherReading, after: impl Fn(f64) -> f64) -> f64 {
        let foreseen = known.foreseen(further);
        let sure: f64 = foreseen.iter().map(|(_, weight)| weight).sum();
        let sound: f64 = foreseen.iter().map(|(value, weight)| weight * after(*value)).sum();
        let sound = sound + (1.0 - sure) * self.now;
        (1.0 - further.mistaken) * sound + further.mistaken * self.now
    }

    /// Whether a reading bears on what matters at all: on one of the forms, or on which parts there are.
    fn bears(&self, further: &FurtherReading) -> bool {
        let overall = |one: usize, other: usize| self.projection.overall_covariance(one, other);
        let read = overall(further.form, further.form) + further.standard_uncertainty * further.standard_uncertainty;
        let on_form = |form: usize| overall(form, further.form).powi(2) > BEARS_FROM * read * overall(form, form);
        (0..self.kept).any(|form| self.at_stake[form] && on_form(form))
            || self.stakes.is_told_by(&self.projection, further)
    }

    fn after_several(&self, several: &[&FurtherReading]) -> f64 {
        let bearing: Vec<&FurtherReading> = several.iter().copied().filter(|one| self.bears(one)).collect();
        match bearing.as_slice() {
            [] => self.now,
            [one] => self.after_one(one),
            [one, other] => self.after_two(one, other),
            many => self.after_many(many),
        }
    }

    /// Two readings: what the first may bring, and after each of that what the second may.
    fn after_two(&self, one: &FurtherReading, other: &FurtherReading) -> f64 {
        let narrow = self.projection.with_forms(self.kept, &[one.form, other.form]);
        let (one, other) =
            (FurtherReading { form: self.kept, ..*one }, FurtherReading { form: self.kept + 1, ..*other });
        let after = |value: f64| {
            let known = narrow.after(&one, value, self.kept + 2);
            let then = |value: f64| self.stakes.value(&known.after(&other, value, self.kept));
            self.expectation(&known, &other, then)
        };
        self.expectation(&narrow, &one, after)
    }

    /// Many readings at once: scenarios from a lattice, each with one part of the mixture as the truth.
    fn after_many(&self, several: &[&FurtherReading]) -> f64 {
        let forms: Vec<usize> = several.iter().map(|further| further.form).collect();
        let narrow = self.projection.with_forms(self.kept, &forms);
        let mut sum = 0.0;
        for scenario in 0..SCENARIOS {
            let place = (scenario as f64 + 0.5) / SCENARIOS as f64;
            let Some(mut truth) = narrow.part_at(place).cloned() else { return self.now };
            let mut known = narrow.clone();
            for (at, further) in several.iter().enumerate() {
                let further = FurtherReading { form: self.kept + at, ..**further };
                let deviation = truth.variance(further.form).sqrt().hypot(further.standard_uncertainty);
                let even = (scenario as f64 * STEPS[at % STEPS.len()] + 0.5 / SCENARIOS as f64).fract();
                let value = truth.mean[further.form] + deviation * normal_quantile(even).unwrap_or(0.0);
                truth = truth.conditioned_on(&further, value);
                let last = at + 1 == several.len();
                known = known.after(&further, value, if last { self.kept } else { truth.mean.len() });
            }
            sum += self.stakes.value(&known);
        }
        let sound: f64 = several.iter().map(|further| 1.0 - further.mistaken).product();
        sound * sum / SCENARIOS as f64 + (1.0 - sound) * self.now
    }
}

/// Steps of a lattice: fractional parts of the square roots of primes, which no few steps bring back to the start.
const STEPS: [f64; 12] = [
    0.414_213_562_373_095,
    0.732_050_807_568_877,
    0.236_067_977_499_790,
    0.645_751_311_064_591,
    0.316_624_790_355_400,
    0.605_551_275_463_989,
    0.123_105_625_617_661,
    0.358_898_943_540_674,
    0.795_831_523_312_720,
    0.385_164_807_134_504,
    0.567_764_362_830_022,
    0.082_762_530_298_220,
];

#[cfg(test)]
mod against_nested_sampling;
