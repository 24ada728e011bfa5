//! The estimate: which meaning each reading had, and what uncertainties and rates follow, in turns until nothing moves.
//!
//! A reading at its word or under a mistake is normal about what it would then say, with variance
//!
//! ```text
//! V = known + stretch · k² · Σ φ a
//! ```
//!
//! `a` the learned parts of its variance as the catalog has them, `φ` the factor of each or the product of its two, 1 beforehand
//! (see [`Factors`](super::parameter::Factors)), and `k` the multiple by which all readings of its order scatter, repeats about their
//! mean and what a hand has throughout among them. What a scale was rounded to and how well the truth is known is no error of the
//! one who measured, and is not multiplied. The chance of a meaning (its *responsibility* γ) is the rate of its mistake times that
//! density, over the sum of all; at its word the reading has what the rates leave. The chance of a multiple is its share times the
//! density of all that was read on the order,
//!
//! ```text
//! P(k) ∝ share(k) · Π p(reading | k)                  over the readings of all topics of an order
//! ```
//!
//! and everything that a meaning counts for is `P(k) γ(k)`. Given these,
//!
//! ```text
//! rate   r = (w r₀ + Σ P γ) / (w + N)                 N readings that the mistake could have spoilt
//! factor φ : Σ P γ ½ (a k² φ/V)(e²/V − 1) + ½ ν₀ (1/φ − 1) = 0
//! ```
//!
//! A slip that spoils several readings together (shafts swapped, a plate left on throughout) is weighed for all of them at once. The
//! readings of one hand share a part of their instrument's error, which looks like such a slip: it is integrated over where the two
//! have to be told apart, and elsewhere, in P(k) too, a reading counts for less beside others of its hand.
//!
//! `w` and `ν₀` are what the catalog's numbers are worth, in readings. The first is the beta update with expected counts. The
//! second is the zero of the derivative by ln φ; where a part is the whole variance and k is known it is the scaled inverse
//! chi-squared update `φ = (ν₀ + Σ γ e²/k²a) / (ν₀ + Σ γ)`. It starts from the catalog, and the first turn is the single pass with
//! the rates beforehand (Dempster, Laird and Rubin, *Journal of the Royal Statistical Society* B 39 (1977) 1-38; the step for φ is
//! one of Fisher's scoring steps, halved until it helps).
//!
//! The posterior may have two summits. Where everybody errs twice as far as the catalog says, that all orders happen to be careless
//! ones, with φ = 1, is one of them, and a climb from the catalog would end there. So all orders are first taken to scatter by the
//! commonest multiple, until that has nearly settled, and the others are let in from there: then φ is what it takes for the bulk of
//! the orders, at worst a little large for the careless among them, and what is left over are those.

use catalog::Scatter;
use nalgebra::{DMatrix, DVector};

use super::observe::{Meaning, Observed, Order};
use super::parameter::Parameters;
use super::variance::{Errors, ln_density};
use super::weigh::{Level, weigh};

/// Nothing has moved where no logarithm of a factor or rate changed by more in one turn: a thousandth of the width of the narrowest
/// interval.
const SETTLED: f64 = 1e-5;
/// While all orders are still taken to scatter alike, a hundredth is near enough: that is only a place to start from.
const SETTLED_ROUGHLY: f64 = 1e-2;
/// Turns at most. Where parts of a variance are hard to tell apart it takes some hundred.
const MOST_TURNS: usize = 2000;
/// So often multiples that were out of the question are weighed again, and once more before the estimate counts as settled.
const WEIGHED_AGAIN: usize = 10;
/// One step changes no factor more than this, in its logarithm.
const LONGEST_STEP: f64 = 1.0;

/// What is known of every parameter.
#[derive(Debug, Clone)]
pub(super) struct State {
    /// The factor of each uncertainty's variance.
    pub factors: Vec<f64>,
    /// Each rate.
    pub rates: Vec<f64>,
}

/// The estimate with what it rests on.
pub(super) struct Estimate {
    pub state: State,
    /// Each order at every multiple by which its readings may scatter.
    pub weighed: Vec<Vec<Level>>,
    /// For each rate the expected slips and the readings that could have held one.
    pub counts: Vec<(f64, f64)>,
    /// How many turns it took.
    pub turns: usize,
    /// Whether it settled.
    pub settled: bool,
}

/// Estimates every parameter from the orders.
pub(super) fn estimate(
    orders: &[Order],
    parameters: &Parameters,
    rates_are_worth: f64,
    scatter: &[Scatter],
) -> Estimate {
    let beforehand = State {
        factors: vec![1.0; parameters.factors.len()],
        rates: parameters.rates.iter().map(|rate| rate.shipped).collect(),
    };
    let climb = Climb { orders, parameters, rates_are_worth };
    let commonest =
        scatter.iter().reduce(|best, level| if level.share > best.share { level } else { best }).copied().into_iter();
    let rough = climb.from(beforehand, &commonest.collect::<Vec<Scatter>>(), SETTLED_ROUGHLY, 0);
    climb.from(rough.state, scatter, SETTLED, rough.turns)
}

/// The turns of an estimate.
struct Climb<'a> {
    orders: &'a [Order],
    parameters: &'a Parameters,
    rates_are_worth: f64,
}

impl Climb<'_> {
    /// Turns from a state until nothing moves by more than `near`, with so many `turns` behind it.
    fn from(&self, mut state: State, scatter: &[Scatter], near: f64, mut turns: usize) -> Estimate {
        let mut weighed: Option<Vec<Vec<Level>>> = None;
        let mut all = true;
        loop {
            let before = |at: usize| weighed.as_ref().filter(|_| !all).map(|weighed| weighed[at].as_slice());
            let now: Vec<Vec<Level>> =
                self.orders.iter().enumerate().map(|(at, order)| weigh(order, &state, scatter, before(at))).collect();
            let counts = counts(self.orders, &now, self.parameters.rates.len());
            let mut next = state.clone();
            for ((rate, known), (slips, readings)) in next.rates.iter_mut().zip(&self.parameters.rates).zip(&counts) {
                if *readings > 0.0 {
                    *rate = (self.rates_are_worth * known.shipped + slips) / (self.rates_are_worth + readings);
                }
            }
            next.factors = step(&told(self.orders, &now), &state.factors, &self.parameters.factors);
            turns += 1;
            let moved = |old: &[f64], new: &[f64]| {
                old.iter().zip(new).map(|(old, new)| (new / old).ln().abs()).fold(0.0, f64::max)
            };
            let still = moved(&state.factors, &next.factors).max(moved(&state.rates, &next.rates)) < near;
            let settled = still && all;
            if settled || turns >= MOST_TURNS {
                return Estimate { state: next, weighed: now, counts, turns, settled };
            }
            all = still || turns.is_multiple_of(WEIGHED_AGAIN);
            weighed = Some(now);
            state = next;
        }
    }
}

/// For each rate the expected slips and the readings that could have held one.
fn counts(orders: &[Order], weighed: &[Vec<Level>], rates: usize) -> Vec<(f64, f64)> {
    let mut counts = vec![(0.0, 0.0); rates];
    for (order, levels) in orders.iter().zip(weighed) {
        for level in levels {
            for (unit, share) in order.units.iter().zip(&level.shares) {
                for (tie, chance) in unit.ties.iter().zip(&share.ties) {
                    counts[tie.rate.0].0 += level.probability * chance;
                    counts[tie.rate.0].1 += level.probability * tie.rate.1;
                }
                // Where readings were spoilt together, nothing is known of what else befell them.
                for ((reading, responsibilities), apart) in unit.readings.iter().zip(&share.meanings).zip(&share.apart)
                {
                    let apart = level.probability * apart;
                    for (rate, share) in &reading.rates {
                        counts[*rate].1 += apart * share;
                    }
                    for (meaning, responsibility) in reading.meanings.iter().zip(responsibilities) {
                        if let Some((rate, _)) = meaning.mistake {
                            counts[rate].0 += apart * responsibility;
                        }
                    }
                }
            }
        }
    }
    counts
}

/// A meaning that counts, of a reading whose uncertainty is learned.
pub(super) struct Told<'a> {
    pub reading: &'a Observed,
    pub meaning: &'a Meaning,
    /// The square of the multiple by which the order scatters.
    pub square: f64,
    /// What it counts for: the reading's weight times the chance of the multiple and of the meaning.
    pub weight: f64,
}

/// Every meaning that counts, with every multiple that does.
pub(super) fn told<'a>(orders: &'a [Order], weighed: &[Vec<Level>]) -> Vec<Told<'a>> {
    /// What weighs less moves no digit that is shown.
    const LEAST_WEIGHT: f64 = 1e-9;

    let mut all = Vec::new();
    for (order, levels) in orders.iter().zip(weighed) {
        for level in levels {
            let square = level.square;
            for (unit, share) in order.units.iter().zip(&level.shares) {
                for ((reading, responsibilities), apart) in unit.readings.iter().zip(&share.meanings).zip(&share.apart)
                {
                    // A count has no part that is learned.
                    if reading.parts.is_empty() {
                        continue;
                    }
                    let apart = level.probability * reading.weight * apart;
                    for (meaning, responsibility) in reading.meanings.iter().zip(responsibilities) {
                        let weight = apart * responsibility;
                        if weight > LEAST_WEIGHT {
                            all.push(Told { reading, meaning, square, weight });
                        }
                    }
                }
                for (tie, chance) in unit.ties.iter().zip(&share.ties) {
                    let chance = level.probability * chance;
                    for (at, meaning) in tie.members.iter().filter(|_| chance > LEAST_WEIGHT) {
                        let reading = &unit.readings[*at];
                        all.push(Told { reading, meaning, square, weight: reading.weight * chance });
                    }
                }
            }
        }
    }
    all
}

/// One scoring step of the factors, given what each reading tells.
fn step(told: &[Told<'_>], factors: &[f64], worth: &[f64]) -> Vec<f64> {
    let count = factors.len();
    let mut slope = DVector::zeros(count);
    let mut curvature = DMatrix::zeros(count, count);
    let mut of_factors = Vec::new();
    for Told { reading, meaning, square, weight } in told {
        let errors = Errors { factors, square: *square };
        let whole = errors.variance(reading, meaning);
        let surprise = meaning.residual.powi(2) / whole - 1.0;
        errors.shares_of_factors(reading, meaning, whole, &mut of_factors);
        for (one, own) in &of_factors {
            slope[*one] += 0.5 * weight * own * surprise;
            for (other, others) in &of_factors {
                curvature[(*one, *other)] += 0.5 * weight * own * others;
            }
        }
    }
    for (at, (factor, worth)) in factors.iter().zip(worth).enumerate() {
        slope[at] += 0.5 * worth * (1.0 / factor - 1.0);
        curvature[(at, at)] += 0.5 * worth;
    }
    let Some(root) = curvature.cholesky() else { return factors.to_vec() };
    let direction: DVector<f64> = root.solve(&slope).map(|step: f64| step.clamp(-LONGEST_STEP, LONGEST_STEP));
    let before = height(told, factors, worth);
    let mut length = 1.0;
    // Twenty halvings are a millionth of the step: where that does not help, nothing is left to gain.
    for _ in 0..20 {
        let tried: Vec<f64> =
            factors.iter().zip(direction.iter()).map(|(factor, step)| factor * (length * step).exp()).collect();
        if height(told, &tried, worth) >= before {
            return tried;
        }
        length *= 0.5;
    }
    factors.to_vec()
}

/// What the scoring step climbs: the expected logarithm of the posterior density of the logarithms of the factors.
fn height(told: &[Told<'_>], factors: &[f64], worth: &[f64]) -> f64 {
    let mut height: f64 =
        factors.iter().zip(worth).map(|(factor, worth)| -0.5 * worth * (factor.ln() + 1.0 / factor)).sum();
    for Told { reading, meaning, square, weight } in told {
        let whole = Errors { factors, square: *square }.variance(reading, meaning);
        height += weight * ln_density(meaning.residual, whole);
    }
    height
}
