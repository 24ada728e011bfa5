//! What the demands of a topic hang on, seen through the mixture: the few forms of their ideals and limits, and nothing else.
//!
//! The best size of a dimension and the chance that it works are sought here many times over; how many explanations there
//! are behind them no longer matters.

use reconcile::{Between, Form, Marginal, Mixture, Projection, Seen};

use crate::demand::{Demand, Limit};
use crate::review::Consequence;

/// The best size is searched around the ideal of every part of at least this weight.
const SEED_FROM: f64 = 0.01;

/// Each turn of the search shortens the interval by 0.618; 14 turns leave a thousandth of it.
const TURNS: usize = 14;
/// Turns that leave an eighth of the distance between two points of the first row.
const FEW_TURNS: usize = 4;

/// The forms of some demands, and the mixture seen through them.
#[derive(Debug, Clone)]
pub(crate) struct Outlook {
    forms: Vec<Form>,
    pub projection: Projection,
}

/// A form that is watched, with what has to be added to it.
#[derive(Debug, Clone, Copy)]
struct Watched {
    form: usize,
    offset: f64,
}

/// A demand whose forms are watched.
#[derive(Debug, Clone)]
pub(crate) struct Aim {
    ideal: Watched,
    least: Option<End>,
    most: Option<End>,
    tolerance: f64,
}

/// A limit of a demand that is watched.
#[derive(Debug, Clone, Copy)]
struct End {
    watched: Watched,
    /// What it costs to be beyond it.
    loss: f64,
    /// Whether that is more than a nuisance.
    counts: bool,
}

/// The forms that demands hang on: each linear part once.
pub(crate) fn forms_of<'d>(demands: impl IntoIterator<Item = &'d Demand>) -> Vec<Form> {
    distinct(demands.into_iter().flat_map(|demand| {
        let limits = [&demand.least, &demand.most].into_iter().flatten().map(|limit| &limit.form);
        std::iter::once(&demand.ideal).chain(limits)
    }))
}

/// Each linear part once, in the order in which they come.
fn distinct<'f>(all: impl IntoIterator<Item = &'f Form>) -> Vec<Form> {
    let mut forms: Vec<Form> = Vec::new();
    for form in all {
        if forms.iter().all(|known| known.terms() != form.terms()) {
            forms.push(form.clone());
        }
    }
    forms
}

impl Outlook {
    /// The outlook on these forms, by which explanations are told apart, and on `further` ones, by which they are not; models
    /// of one class may be taken together.
    pub fn of(mixture: &Mixture, forms: &[Form], further: &[Form], class: impl Fn(usize) -> usize) -> Self {
        let told_apart = forms.len();
        let forms = distinct(forms.iter().chain(further));
        let seen = Seen { told_apart, together: told_apart, least_probability: 0.0 };
        let projection = mixture.project_by_model(|_| forms.clone(), seen, class).with_gathered(told_apart);
        Self { forms, projection }
    }

    /// Mean and variance of forms over all explanations, without telling any apart; those below a hundred-thousandth have no
    /// say in it.
    pub fn in_all(mixture: &Mixture, forms: &[Form]) -> Self {
        let forms = distinct(forms);
        let seen = Seen { told_apart: 0, together: 0, least_probability: 1e-5 };
        let projection = mixture.project_by_model(|_| forms.clone(), seen, |_| 0);
        Self { forms, projection }
    }

    /// The distribution of a form in those parts whose model is permitted; none where it is not watched.
    pub fn marginal_given(&self, form: &Form, permitted: impl Fn(usize) -> bool) -> Option<Marginal> {
        let at = self.forms.iter().position(|known| known.terms() == form.terms())?;
        let offset = form.constant() - self.forms[at].constant();
        Some(self.projection.marginal_given(at, permitted).moved_by(offset))
    }

    /// The demand as it is seen here; none where it hangs on a form that is not watched.
    pub fn aim(&self, demand: &Demand) -> Option<Aim> {
        aim(&self.forms, demand)
    }
}

/// The demand in terms of these forms; none where it hangs on another.
pub(crate) fn aim(forms: &[Form], demand: &Demand) -> Option<Aim> {
    let watch = |form: &Form| {
        let at = forms.iter().position(|known| known.terms() == form.terms())?;
        Some(Watched { form: at, offset: form.constant() - forms[at].constant() })
    };
    let limit = |limit: &Option<Limit>| match limit {
        Some(limit) => {
            let counts = limit.consequence != Consequence::Nuisance;
            watch(&limit.form).map(|watched| Some(End { watched, loss: limit.loss, counts }))
        }
        None => Some(None),
    };
    Some(Aim {
        ideal: watch(&demand.ideal)?,
        least: limit(&demand.least)?,
        most: limit(&demand.most)?,
        tolerance: demand.tolerance,
    })
}

impl Watched {
    /// Its distribution.
    fn marginal(self, projection: &Projection) -> Marginal {
        projection.marginal(self.form).moved_by(self.offset)
    }

    /// The same with few parts.
    fn gathered(self, projection: &Projection) -> Marginal {
        projection.gathered(self.form).into_owned().moved_by(self.offset)
    }

    fn mean(self, projection: &Projection) -> f64 {
        let sum = projection.parts().iter().map(|part| part.weight * part.mean[self.form]);
        sum.sum::<f64>() + self.offset
    }
}

impl Aim {
    /// The same demand on a size that is so much larger: a length that follows the shoulder.
    pub fn moved_by(&self, distance: f64) -> Self {
        let moved = |watched: Watched| Watched { offset: watched.offset + distance, ..watched };
        let limit = |end: Option<End>| end.map(|end| End { watched: moved(end.watched), ..end });
        Self { ideal: moved(self.ideal), least: limit(self.least), most: limit(self.most), tolerance: self.tolerance }
    }

    /// The distribution of the ideal.
    pub fn ideal(&self, projection: &Projection) -> Marginal {
        self.ideal.marginal(projection)
    }

    /// The same with few parts.
    pub fn ideal_gathered(&self, projection: &Projection) -> Marginal {
        self.ideal.gathered(projection)
    }

    /// The distributions of the smallest and of the largest size that works.
    pub fn limits(&self, projection: &Projection) -> [Option<Marginal>; 2] {
        [self.least, self.most].map(|end| end.map(|end| end.watched.marginal(projection)))
    }

    /// The distance over which the ideal may be missed: half of what lies between the limits where the unknowns are as
    /// expected; where there is but one limit, its distance from the ideal; the shop's tolerance where there is none.
    pub fn scale(&self, projection: &Projection) -> f64 {
        let at = |watched: Watched| watched.mean(projection);
        let room = match (self.least, self.most) {
            (Some(least), Some(most)) => 0.5 * (at(most.watched) - at(least.watched)),
            (Some(one), None) | (None, Some(one)) => (at(one.watched) - at(self.ideal)).abs(),
            (None, None) => self.tolerance,
        };
        room.max(self.tolerance).max(1e-3)
    }

    /// The size of least expected loss over all explanations.
    ///
    /// The loss of a size `x` is the loss of each limit times the chance that `x`, made within the shop's tolerance, is
    /// beyond it, and a nuisance that grows with the square of the distance from the ideal and reaches its full value at a
    /// limit. Between two explanations the best size is not their mean: it is searched around the ideal of each of them.
    /// A size without limits stays what the likeliest explanation has it to be.
    pub fn best(&self, projection: &Projection, nuisance: f64) -> f64 {
        self.best_within(projection, nuisance, TURNS)
    }

    /// The same, no closer than the points of the first row and a few turns: where the loss is flat that is good enough.
    pub fn roughly_best(&self, projection: &Projection, nuisance: f64) -> f64 {
        self.best_within(projection, nuisance, FEW_TURNS)
    }

    fn best_within(&self, projection: &Projection, nuisance: f64, turns: usize) -> f64 {
        if self.least.is_none() && self.most.is_none() {
            let ideal = self.ideal(projection);
            return ideal.parts().first().map_or(ideal.mean(), |part| part.mean);
        }
        let ideal = self.ideal.gathered(projection);
        let scale = self.scale(projection);
        let loss = self.losses(projection, &ideal, scale, nuisance);
        // Where the room is narrow against the uncertainty, the best size lies off the ideal by several times the latter: as
        // far as makes sure that a miss can be recut.
        let mut seeds: Vec<(f64, f64)> = Vec::new();
        for part in ideal.parts().iter().filter(|part| part.weight > SEED_FROM) {
            if seeds.iter().all(|(seed, _)| (seed - part.mean).abs() > 0.5 * scale) {
                seeds.push((part.mean, scale + 4.0 * part.standard_deviation));
            }
        }
        let searched = seeds.iter().map(|(seed, reach)| search(&loss, seed - reach, seed + reach, turns));
        searched.fold((ideal.mean(), f64::INFINITY), |best, found| if found.1 < best.1 { found } else { best }).0
    }

    /// The expected loss of every size: see [`Aim::best`].
    fn losses<'m>(
        &self,
        projection: &Projection,
        ideal: &'m Marginal,
        scale: f64,
        nuisance: f64,
    ) -> impl Fn(f64) -> f64 + 'm {
        let limit =
            |end: Option<End>| end.map(|end| (blurred(end.watched.gathered(projection), self.tolerance), end.loss));
        let (least, most) = (limit(self.least), limit(self.most));
        move |size: f64| {
            let below = least.as_ref().map_or(0.0, |(bound, loss)| loss * (1.0 - bound.at_most(size)));
            let above = most.as_ref().map_or(0.0, |(bound, loss)| loss * bound.at_most(size));
            // Only a distance within the limits is a nuisance; beyond, the limit's own loss counts.
            let off: f64 = ideal
                .parts()
                .iter()
                .map(|part| {
                    let distance = (size - part.mean) / scale;
                    part.weight * (distance * distance).min(1.0)
                })
                .sum();
            below + above + nuisance * off
        }
    }

    /// The expected loss of one size, in scrapped shafts.
    pub fn expected_loss(&self, projection: &Projection, size: f64, nuisance: f64) -> f64 {
        let ideal = self.ideal.gathered(projection);
        self.losses(projection, &ideal, self.scale(projection), nuisance)(size)
    }

    /// The probability that a size, made within the shop's tolerance, is smaller than the smallest that works.
    pub fn too_short(&self, projection: &Projection, size: f64) -> f64 {
        self.least.map_or(0.0, |end| 1.0 - blurred(end.watched.gathered(projection), self.tolerance).at_most(size))
    }

    /// What a size requires of the forms where it must not fail, with both ends of one form together: what the shop makes is
    /// then off by one error. A limit whose failure is but a nuisance is none.
    pub fn together(&self, size: f64) -> Vec<Between> {
        let counts = [&self.least, &self.most].into_iter().flatten().map(|end| end.counts);
        let all: Vec<Between> =
            self.between(size).zip(counts).filter(|(_, counts)| *counts).map(|(between, _)| between).collect();
        match all.as_slice() {
            [least, most] if least.form == most.form => vec![Between { least: most.least, ..*least }],
            _ => all,
        }
    }

    /// What a size requires of the forms: each limit, the smallest first.
    ///
    /// What the shop makes is off by an error that is even within its tolerance: variance `tolerance² / 3`, counted for
    /// each limit on its own.
    pub fn between(&self, size: f64) -> impl Iterator<Item = Between> {
        let own_variance = self.tolerance * self.tolerance / 3.0;
        let least = self.least.map(|End { watched, .. }| Between {
            form: watched.form,
            least: f64::NEG_INFINITY,
            most: size - watched.offset,
            own_variance,
        });
        let most = self.most.map(|End { watched, .. }| Between {
            form: watched.form,
            least: size - watched.offset,
            most: f64::INFINITY,
            own_variance,
        });
        least.into_iter().chain(most)
    }
}

/// A limit as the shop's own error blurs it.
fn blurred(marginal: Marginal, tolerance: f64) -> Marginal {
    marginal.blurred(tolerance / 3.0_f64.sqrt())
}

/// The smallest value of a function between two bounds: the best of a coarse row of points, refined by golden section.
fn search(function: &impl Fn(f64) -> f64, low: f64, high: f64, turns: usize) -> (f64, f64) {
    const POINTS: usize = 8;
    let step = (high - low) / POINTS as f64;
    let mut best = (low, f64::INFINITY);
    for at in 0..=POINTS {
        let place = low + step * at as f64;
        let value = function(place);
        if value < best.1 {
            best = (place, value);
        }
    }
    let ratio = 0.5 * (5.0_f64.sqrt() - 1.0);
    let (mut left, mut right) = (best.0 - step, best.0 + step);
    let inner = |left: f64, right: f64| (right - ratio * (right - left), left + ratio * (right - left));
    let (mut one, mut other) = inner(left, right);
    let (mut at_one, mut at_other) = (function(one), function(other));
    for _ in 0..turns {
        if at_one < at_other {
            (right, other, at_other) = (other, one, at_one);
            one = inner(left, right).0;
            at_one = function(one);
        } else {
            (left, one, at_one) = (one, other, at_other);
            other = inner(left, right).1;
            at_other = function(other);
        }
        for found in [(one, at_one), (other, at_other)] {
            if found.1 < best.1 {
                best = found;
            }
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use reconcile::{Evidence, Form, Mistake, Mixture, Model, Options, Prior, explain};

    use super::{Demand, Limit, Outlook, TURNS, blurred, forms_of, search};
    use crate::review::{Consequence, DimensionKind};

    /// What the shop makes a length to, in millimetres: within ± 1/32 in.
    const TOLERANCE: f64 = 0.79375;

    /// The way to the cross pin, read twice with so much uncertainty. Where the readings differ one of them holds an inch too
    /// much, the first one oftener than the second.
    fn way_to_pin(readings: [f64; 2], uncertainty: f64) -> Mixture {
        let evidence =
            |value, off: f64| Evidence { form: Form::of(0).offset_by(off), value, standard_uncertainty: uncertainty };
        let burnt = |at: usize, rate| Mistake { rate, spoils: vec![(at, evidence(readings[at], 25.4))] };
        let model = Model {
            weight: 1.0,
            priors: vec![Prior { mean: 750.0, standard_deviation: 150.0, firm: false }],
            readings: readings.map(|value| evidence(value, 0.0)).to_vec(),
            mistakes: vec![burnt(0, 0.02), burnt(1, 0.008)],
        };
        explain(&[model], &Options::default()).expect("a sound model")
    }

    /// A length that is best at the way to the pin and may be shorter or longer by so much, at these losses.
    fn length(shorter: f64, longer: f64, losses: [f64; 2]) -> Demand {
        let limit = |off, loss| {
            let form = Form::of(0).offset_by(off);
            Some(Limit { form, words: "it fits", consequence: Consequence::Scrap, loss })
        };
        Demand {
            kind: DimensionKind::OverallLength,
            side: None,
            ideal: Form::of(0),
            least: limit(-shorter, losses[0]),
            most: limit(longer, losses[1]),
            tolerance: TOLERANCE,
        }
    }

    /// The best size, and the distance over which it may be missed.
    fn best_and_scale(demand: &Demand, mixture: &Mixture, nuisance: f64) -> (f64, f64) {
        let outlook = Outlook::of(mixture, &forms_of([demand]), &[], |_| 0);
        let aim = outlook.aim(demand).expect("its own forms are watched");
        (aim.best(&outlook.projection, nuisance), aim.scale(&outlook.projection))
    }

    /// The expected loss of a size, term by term as the documentation of `best` has it.
    fn expected_loss(demand: &Demand, mixture: &Mixture, nuisance: f64, size: f64) -> f64 {
        let beyond = |limit: &Option<Limit>, too_small: bool| {
            let Some(limit) = limit else { return 0.0 };
            let below = blurred(mixture.marginal(&limit.form), demand.tolerance).at_most(size);
            limit.loss * if too_small { 1.0 - below } else { below }
        };
        let scale = best_and_scale(demand, mixture, nuisance).1;
        let ideal = mixture.marginal(&demand.ideal);
        let off: f64 =
            ideal.parts().iter().map(|part| part.weight * ((size - part.mean) / scale).powi(2).min(1.0)).sum();
        beyond(&demand.least, true) + beyond(&demand.most, false) + nuisance * off
    }

    /// The best size of a dense row of sizes, 0.005 mm apart, over everything that any explanation makes likely.
    fn best_by_force(demand: &Demand, mixture: &Mixture, nuisance: f64) -> f64 {
        let ideal = mixture.marginal(&demand.ideal);
        let ends = ideal.parts().iter().flat_map(|part| [part.mean - 40.0, part.mean + 40.0]);
        let (low, high) =
            ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), end| (low.min(end), high.max(end)));
        let sizes = (0..=((high - low) / 0.005) as usize).map(|at| low + 0.005 * at as f64);
        let losses = sizes.map(|size| (size, expected_loss(demand, mixture, nuisance, size)));
        losses.fold((0.0, f64::INFINITY), |best, one| if one.1 < best.1 { one } else { best }).0
    }

    #[test]
    fn the_best_size_is_that_of_least_expected_loss_by_brute_force() {
        let nuisance = 0.05;
        let mixtures = [
            ("readings that agree", way_to_pin([752.0, 752.4], 0.8)),
            ("readings an inch apart", way_to_pin([777.8, 752.4], 0.8)),
            ("readings an inch apart the other way", way_to_pin([752.4, 777.8], 0.8)),
            ("vague readings", way_to_pin([752.0, 753.0], 3.0)),
        ];
        let demands = [
            ("usual room", length(11.0, 3.2, [1.0, 0.2])),
            ("narrow room", length(1.6, 1.6, [1.0, 0.2])),
            ("hardly any room", length(0.5, 0.5, [1.0, 0.2])),
            ("scrap on both ends", length(2.0, 4.0, [1.0, 1.0])),
            ("long is scrap", length(2.0, 2.0, [0.2, 1.0])),
            ("only too long counts", Demand { least: None, ..length(2.0, 2.0, [1.0, 0.2]) }),
        ];
        for (readings, mixture) in &mixtures {
            for (room, demand) in &demands {
                let best = best_and_scale(demand, mixture, nuisance).0;
                let by_force = best_by_force(demand, mixture, nuisance);
                let loss = |size| expected_loss(demand, mixture, nuisance, size);
                // Where the loss is flat the sizes may differ; what counts is that next to nothing is lost by it: half a
                // thousandth of a shaft.
                assert!(
                    loss(best) <= loss(by_force) + 5e-4,
                    "{readings}, {room}: {best:.3} loses {:.5}, {by_force:.3} loses {:.5}",
                    loss(best),
                    loss(by_force)
                );
            }
        }
    }

    #[test]
    fn a_narrow_length_errs_long_where_short_is_scrap_and_long_is_rework() {
        let mixture = way_to_pin([752.0, 752.4], 1.2);
        let mean = mixture.marginal(&Form::of(0)).mean();
        let off = |demand: &Demand| best_and_scale(demand, &mixture, 0.0).0 - mean;
        let long = off(&length(1.6, 1.6, [1.0, 0.2]));
        assert!(long > 0.2, "{long}");
        // The other way round it errs short by as much, with equal losses not at all, and with room enough hardly.
        assert!((off(&length(1.6, 1.6, [0.2, 1.0])) + long).abs() < 0.01);
        assert!(off(&length(1.6, 1.6, [1.0, 1.0])).abs() < 0.01);
        let roomy = length(12.0, 12.0, [1.0, 0.2]);
        assert!((best_and_scale(&roomy, &mixture, 0.05).0 - mean).abs() < 0.1);
    }

    #[test]
    fn the_search_finds_the_lower_of_two_valleys_within_a_thousandth() {
        // Two valleys, the right one lower: at x = 2.0.
        let function = |x: f64| ((x + 1.0).powi(2) + 0.2).min((x - 2.0).powi(2));
        let (place, value) = search(&function, -3.0, 4.0, TURNS);
        assert!((place - 2.0).abs() < 2e-3, "{place}");
        assert!(value < 1e-5, "{value}");
    }
}
