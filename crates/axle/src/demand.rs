//! What a dimension of the new shaft has to satisfy, and the size that satisfies it at the least expected loss.
//!
//! Each demand is written in the unknowns of its topic: the smallest and the largest size that still works, both uncertain,
//! and the ideal between them. A size outside costs: too small is as a rule scrap, too big can be recut.

use reconcile::{Bounded, Form, Marginal, MarginalPart, Mixture};

use crate::review::{Consequence, DimensionKind};
use crate::sheet::Side;

/// The best size is searched around the ideal of every explanation of at least this probability.
const SEED_FROM: f64 = 0.01;

/// What one dimension has to satisfy; all forms are of its topic's unknowns, in millimetres.
#[derive(Debug, Clone)]
pub(crate) struct Demand {
    pub kind: DimensionKind,
    pub side: Option<Side>,
    /// The size that would be best.
    pub ideal: Form,
    /// The smallest size that works, with the words for it and what it costs to be smaller.
    pub least: Option<Limit>,
    /// The largest size that works.
    pub most: Option<Limit>,
    /// The shop makes the size within ± this.
    pub tolerance: f64,
}

/// One end of what works.
#[derive(Debug, Clone)]
pub(crate) struct Limit {
    pub form: Form,
    /// The fit condition that the size must stay within it.
    pub words: &'static str,
    pub consequence: Consequence,
    /// Its loss, in scrapped shafts.
    pub loss: f64,
}

impl Demand {
    /// The distance over which the ideal may be missed: half of what lies between the limits where the unknowns are as
    /// expected; where there is but one limit, its distance from the ideal; the shop's tolerance where there is none.
    pub fn scale(&self, mixture: &Mixture) -> f64 {
        let at = |form: &Form| mixture.marginal(form).mean();
        let room = match (&self.least, &self.most) {
            (Some(least), Some(most)) => 0.5 * (at(&most.form) - at(&least.form)),
            (Some(one), None) | (None, Some(one)) => (at(&one.form) - at(&self.ideal)).abs(),
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
    pub fn best(&self, mixture: &Mixture, nuisance: f64) -> f64 {
        let ideal = mixture.marginal(&self.ideal);
        if self.least.is_none() && self.most.is_none() {
            return ideal.parts().first().map_or(ideal.mean(), |part| part.mean);
        }
        let scale = self.scale(mixture);
        let limit = |limit: &Option<Limit>| {
            limit.as_ref().map(|limit| (blurred(&mixture.marginal(&limit.form), self.tolerance), limit.loss))
        };
        let (least, most) = (limit(&self.least), limit(&self.most));
        let loss = |size: f64| {
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
        };
        // Where the room is narrow against the uncertainty, the best size lies off the ideal by several times the latter: as
        // far as makes sure that a miss can be recut.
        let mut seeds: Vec<(f64, f64)> = Vec::new();
        for part in ideal.parts().iter().filter(|part| part.weight > SEED_FROM) {
            if seeds.iter().all(|(seed, _)| (seed - part.mean).abs() > 0.5 * scale) {
                seeds.push((part.mean, scale + 4.0 * part.standard_deviation));
            }
        }
        let searched = seeds.iter().map(|(seed, reach)| search(&loss, seed - reach, seed + reach));
        searched.fold((ideal.mean(), f64::INFINITY), |best, found| if found.1 < best.1 { found } else { best }).0
    }

    /// The conditions that a size puts on the unknowns: the size, as it is made, must be at least `least` and at most
    /// `most`. Each comes with its words and what it costs.
    ///
    /// What the shop makes is off by an error that is even within its tolerance: variance `tolerance² / 3`, counted for
    /// each limit on its own.
    pub fn conditions(&self, size: f64) -> Vec<(&Limit, Bounded)> {
        let own_variance = self.tolerance * self.tolerance / 3.0;
        let least = self.least.as_ref().map(|limit| {
            let form = limit.form.clone();
            (limit, Bounded { form, least: f64::NEG_INFINITY, most: size, own_variance })
        });
        let most = self.most.as_ref().map(|limit| {
            let form = limit.form.clone();
            (limit, Bounded { form, least: size, most: f64::INFINITY, own_variance })
        });
        least.into_iter().chain(most).collect()
    }
}

/// A limit as the shop's own error blurs it.
fn blurred(marginal: &Marginal, tolerance: f64) -> Marginal {
    let own = tolerance / 3.0_f64.sqrt();
    let parts = marginal
        .parts()
        .iter()
        .map(|part| MarginalPart { standard_deviation: part.standard_deviation.hypot(own), ..*part });
    Marginal::of_parts(parts.collect())
}

/// The smallest value of a function between two bounds: the best of a coarse row of points, refined by golden section.
fn search(function: &impl Fn(f64) -> f64, low: f64, high: f64) -> (f64, f64) {
    const POINTS: usize = 8;
    /// Each turn shortens the interval by 0.618; 14 turns leave a thousandth of it.
    const TURNS: usize = 14;
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
    for _ in 0..TURNS {
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

    use super::{Demand, Limit, blurred, search};
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

    /// The expected loss of a size, term by term as the documentation of `best` has it.
    fn expected_loss(demand: &Demand, mixture: &Mixture, nuisance: f64, size: f64) -> f64 {
        let beyond = |limit: &Option<Limit>, too_small: bool| {
            let Some(limit) = limit else { return 0.0 };
            let below = blurred(&mixture.marginal(&limit.form), demand.tolerance).at_most(size);
            limit.loss * if too_small { 1.0 - below } else { below }
        };
        let scale = demand.scale(mixture);
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
                let best = demand.best(mixture, nuisance);
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
        let off = |demand: &Demand| demand.best(&mixture, 0.0) - mean;
        let long = off(&length(1.6, 1.6, [1.0, 0.2]));
        assert!(long > 0.2, "{long}");
        // The other way round it errs short by as much, with equal losses not at all, and with room enough hardly.
        assert!((off(&length(1.6, 1.6, [0.2, 1.0])) + long).abs() < 0.01);
        assert!(off(&length(1.6, 1.6, [1.0, 1.0])).abs() < 0.01);
        let roomy = length(12.0, 12.0, [1.0, 0.2]);
        assert!((roomy.best(&mixture, 0.05) - mean).abs() < 0.1);
    }

    #[test]
    fn the_search_finds_the_lower_of_two_valleys_within_a_thousandth() {
        // Two valleys, the right one lower: at x = 2.0.
        let function = |x: f64| ((x + 1.0).powi(2) + 0.2).min((x - 2.0).powi(2));
        let (place, value) = search(&function, -3.0, 4.0);
        assert!((place - 2.0).abs() < 2e-3, "{place}");
        assert!(value < 1e-5, "{value}");
    }
}
