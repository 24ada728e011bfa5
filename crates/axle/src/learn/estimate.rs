//! The estimate: which meaning each reading had, and what uncertainties and rates follow, in turns until nothing moves.
//!
//! A reading at its word or under a mistake is normal about what it would then say, with variance
//!
//! ```text
//! V = known + stretch · Σ φ a
//! ```
//!
//! `a` the learned parts of its variance as the catalog has them, `φ` the factor of each or the product of its two, 1 beforehand
//! (see [`Factors`](super::parameter::Factors)). The chance of a meaning
//! (its *responsibility* γ) is the rate of its mistake times that density, over the sum of all; at its word the reading has what
//! the rates leave. Given the responsibilities,
//!
//! ```text
//! rate   r = (w r₀ + Σ γ) / (w + N)                   N readings that the mistake could have spoilt
//! factor φ : Σ γ ½ (a φ/V)(e²/V − 1) + ½ ν₀ (1/φ − 1) = 0
//! ```
//!
//! A slip that spoils several readings together (shafts swapped, a plate left on throughout) is weighed for all of them at once. The
//! readings of one hand share a part of their instrument's error, which looks like such a slip: it is integrated over where the two
//! have to be told apart, and elsewhere a reading counts for less beside others of its hand.
//!
//! `w` and `ν₀` are what the catalog's numbers are worth, in readings. The first is the beta update with expected counts. The
//! second is the zero of the derivative by ln φ; where a part is the whole variance it is the scaled inverse chi-squared update
//! `φ = (ν₀ + Σ γ e²/a) / (ν₀ + Σ γ)`. It starts from the catalog, and the first turn is the single pass with the rates
//! beforehand (Dempster, Laird and Rubin, *Journal of the Royal Statistical Society* B 39 (1977) 1-38; the step for φ is one of
//! Fisher's scoring steps, halved until it helps).

use nalgebra::{DMatrix, DVector};

use super::observe::{Meaning, Observed, Part, Tied, Unit};
use super::parameter::Parameters;

/// Nothing has moved where no logarithm of a factor or rate changed by more in one turn: a thousandth of the width of the narrowest
/// interval.
const SETTLED: f64 = 1e-5;
/// Turns at most. Where parts of a variance are hard to tell apart it takes some hundred.
const MOST_TURNS: usize = 2000;
/// No reading is taken to be all but surely mistaken beforehand, whatever the rates add up to.
const LEAST_SOUND: f64 = 1e-3;
/// A slip in several readings whose odds are smaller than this counts for nothing, whatever the readings of one hand share.
const LEAST_LN_ODDS: f64 = -9.0;
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
    /// For each unit the chances of the slips that spoil several readings, and of each reading the responsibilities.
    pub shares: Vec<Shares>,
    /// For each rate the expected slips and the readings that could have held one.
    pub counts: Vec<(f64, f64)>,
    /// How many turns it took.
    pub turns: usize,
    /// Whether it settled.
    pub settled: bool,
}

/// The responsibilities of a unit.
#[derive(Debug, Clone, Default)]
pub(super) struct Shares {
    /// The chance of each slip that spoils several readings together; one of them at most is taken to be made.
    pub ties: Vec<f64>,
    /// For each reading the chance that no such slip spoilt it.
    pub apart: Vec<f64>,
    /// For each reading the responsibilities of its meanings where none did; they sum to one.
    pub meanings: Vec<Vec<f64>>,
}

/// Estimates every parameter from the units.
pub(super) fn estimate(units: &[Unit], parameters: &Parameters, rates_are_worth: f64) -> Estimate {
    let mut state = State {
        factors: vec![1.0; parameters.factors.len()],
        rates: parameters.rates.iter().map(|rate| rate.shipped).collect(),
    };
    let mut turns = 0;
    loop {
        let shares: Vec<Shares> = units.iter().map(|unit| responsibilities(unit, &state)).collect();
        let counts = counts(units, &shares, parameters.rates.len());
        let mut next = state.clone();
        for ((rate, known), (slips, readings)) in next.rates.iter_mut().zip(&parameters.rates).zip(&counts) {
            if *readings > 0.0 {
                *rate = (rates_are_worth * known.shipped + slips) / (rates_are_worth + readings);
            }
        }
        next.factors = step(units, &shares, &state.factors, &parameters.factors);
        turns += 1;
        let moved =
            |old: &[f64], new: &[f64]| old.iter().zip(new).map(|(old, new)| (new / old).ln().abs()).fold(0.0, f64::max);
        let settled = moved(&state.factors, &next.factors).max(moved(&state.rates, &next.rates)) < SETTLED;
        if settled || turns >= MOST_TURNS {
            return Estimate { state: next, shares, counts, turns, settled };
        }
        state = next;
    }
}

/// The variance of a meaning.
pub(super) fn variance(reading: &Observed, meaning: &Meaning, factors: &[f64]) -> f64 {
    let learned: f64 = reading.parts.iter().map(|part| part.now(factors)).sum();
    meaning.known + meaning.stretch * learned
}

impl Part {
    /// The part as it is with these factors.
    pub fn now(&self, factors: &[f64]) -> f64 {
        self.own * factors[self.factors.0] * self.factors.1.map_or(1.0, |second| factors[second])
    }

    /// Its factors, one or two.
    pub fn each_factor(&self) -> impl Iterator<Item = usize> {
        std::iter::once(self.factors.0).chain(self.factors.1)
    }
}

/// Each factor of a meaning's variance with the share of the variance that it multiplies, put into `to`; one that multiplies
/// several parts stands there several times.
pub(super) fn shares_of_factors(
    reading: &Observed,
    meaning: &Meaning,
    factors: &[f64],
    whole: f64,
    to: &mut Vec<(usize, f64)>,
) {
    to.clear();
    for part in &reading.parts {
        let share = meaning.stretch * part.now(factors) / whole;
        to.extend(part.each_factor().map(|factor| (factor, share)));
    }
}

/// The logarithm of a normal density, but for the constant that all share.
fn ln_density(residual: f64, variance: f64) -> f64 {
    -0.5 * (variance.ln() + residual * residual / variance)
}

fn responsibilities(unit: &Unit, state: &State) -> Shares {
    let mut meanings = Vec::with_capacity(unit.readings.len());
    let mut ln_apart = Vec::with_capacity(unit.readings.len());
    for reading in &unit.readings {
        let ln_weights: Vec<f64> = reading
            .meanings
            .iter()
            .map(|meaning| {
                let density = ln_density(meaning.residual, variance(reading, meaning, &state.factors));
                ln_prior(reading, meaning, state) + density
            })
            .collect();
        let whole = ln_sum(&ln_weights);
        ln_apart.push(whole);
        meanings.push(ln_weights.iter().map(|weight| (weight - whole).exp()).collect());
    }
    // A slip in several readings against none: its rate, and for each reading that it spoils the density of what was read under it
    // over that without it.
    let tied: f64 = unit.ties.iter().map(|tie| tie.rate.1 * state.rates[tie.rate.0]).sum();
    let ln_none = (1.0 - tied).max(LEAST_SOUND).ln();
    let ln_odds: Vec<f64> = unit
        .ties
        .iter()
        .map(|tie| {
            let against = |(at, meaning): &(usize, Meaning)| {
                let reading = &unit.readings[*at];
                ln_density(meaning.residual, variance(reading, meaning, &state.factors)) - ln_apart[*at]
            };
            let ln_prior = (tie.rate.1 * state.rates[tie.rate.0]).ln() - ln_none;
            let apart = ln_prior + tie.members.iter().map(against).sum::<f64>();
            // An instrument that is off in one hand shifts all its readings, as such a slip does. Where the slip is not out of the
            // question, that is weighed against it.
            if apart > LEAST_LN_ODDS { ln_prior + in_hands(unit, tie, state, &meanings) } else { apart }
        })
        .collect();
    let largest = ln_odds.iter().copied().fold(0.0, f64::max);
    let whole = (-largest).exp() + ln_odds.iter().map(|odds| (odds - largest).exp()).sum::<f64>();
    let ties: Vec<f64> = ln_odds.iter().map(|odds| (odds - largest).exp() / whole).collect();
    let mut apart = vec![1.0; unit.readings.len()];
    for (tie, chance) in unit.ties.iter().zip(&ties) {
        for (at, _) in &tie.members {
            apart[*at] -= chance;
        }
    }
    apart.iter_mut().for_each(|apart| *apart = apart.max(0.0));
    Shares { ties, apart, meanings }
}

/// The logarithm of the density of all readings of the hands that a slip concerns, with the slip over without it. The error that a
/// hand's readings have in common is integrated over.
fn in_hands(unit: &Unit, tie: &Tied, state: &State, responsibilities: &[Vec<f64>]) -> f64 {
    /// From −4.2 to 4.2 standard deviations of the common error in steps of 0.6. A score of readings leaves it a standard deviation of
    /// about 0.4; for a normal density of that width the trapezoidal rule is good to four digits.
    const NODES: i32 = 7;
    const STEP: f64 = 0.6;

    let mut hands: Vec<Option<usize>> =
        tie.members.iter().map(|(at, _)| unit.readings[*at].hand.map(|(hand, _)| hand)).collect();
    hands.sort_unstable();
    hands.dedup();
    let mut sum = 0.0;
    for hand in hands {
        let of_hand = |(_, reading): &(usize, &Observed)| reading.hand.map(|(own, _)| own) == hand;
        let readings: Vec<(usize, &Observed)> = unit.readings.iter().enumerate().filter(of_hand).collect();
        let (mut with, mut without) = (Vec::new(), Vec::new());
        for node in -NODES..=NODES {
            let common = STEP * f64::from(node);
            let ln_weight = -0.5 * common * common;
            let (mut slipped, mut sound) = (ln_weight, ln_weight);
            for (at, reading) in &readings {
                let own = ln_mixture(reading, &responsibilities[*at], state, common);
                sound += own;
                slipped += match tie.members.iter().find(|(member, _)| member == at) {
                    Some((_, meaning)) => ln_given(reading, meaning, &state.factors, common),
                    None => own,
                };
            }
            with.push(slipped);
            without.push(sound);
        }
        sum += ln_sum(&with) - ln_sum(&without);
    }
    sum
}

/// The logarithm of a sum of numbers that are given by their logarithms.
fn ln_sum(logarithms: &[f64]) -> f64 {
    let largest = logarithms.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    largest + logarithms.iter().map(|one| (one - largest).exp()).sum::<f64>().ln()
}

/// The logarithm of the density of a reading under a meaning, given the common error of its hand in standard deviations.
fn ln_given(reading: &Observed, meaning: &Meaning, factors: &[f64], common: f64) -> f64 {
    let whole = variance(reading, meaning, factors);
    let shared = match (reading.hand, reading.parts.first()) {
        (Some((_, share)), Some(limit)) => meaning.stretch * share * limit.now(factors),
        _ => 0.0,
    };
    // What is common never makes up all of a reading's variance: it was also rounded and set up.
    let shared = shared.min(0.99 * whole);
    ln_density(meaning.residual - common * shared.sqrt(), whole - shared)
}

/// The logarithm of the density of a reading over all meanings that are its own, given the common error of its hand.
/// Meanings that are out of the question whatever the error is are left out, by their responsibilities without it.
fn ln_mixture(reading: &Observed, responsibilities: &[f64], state: &State, common: f64) -> f64 {
    const LEAST: f64 = 1e-5;

    let ln_weights: Vec<f64> = reading
        .meanings
        .iter()
        .zip(responsibilities)
        .filter(|(_, responsibility)| **responsibility > LEAST)
        .map(|(meaning, _)| ln_prior(reading, meaning, state) + ln_given(reading, meaning, &state.factors, common))
        .collect();
    ln_sum(&ln_weights)
}

/// The logarithm of the chance of a meaning beforehand.
fn ln_prior(reading: &Observed, meaning: &Meaning, state: &State) -> f64 {
    match meaning.mistake {
        Some((rate, share)) => (share * state.rates[rate]).ln(),
        None => {
            let spoilt: f64 = reading.rates.iter().map(|(rate, share)| share * state.rates[*rate]).sum();
            (1.0 - spoilt).max(LEAST_SOUND).ln()
        }
    }
}

/// For each rate the expected slips and the readings that could have held one.
fn counts(units: &[Unit], shares: &[Shares], rates: usize) -> Vec<(f64, f64)> {
    let mut counts = vec![(0.0, 0.0); rates];
    for (unit, share) in units.iter().zip(shares) {
        for (tie, chance) in unit.ties.iter().zip(&share.ties) {
            counts[tie.rate.0].0 += chance;
            counts[tie.rate.0].1 += tie.rate.1;
        }
        // Where readings were spoilt together, nothing is known of what else befell them.
        for ((reading, responsibilities), apart) in unit.readings.iter().zip(&share.meanings).zip(&share.apart) {
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
    counts
}

/// Calls with every meaning that counts, of every reading whose uncertainty is learned, and its weight.
pub(super) fn each_meaning(units: &[Unit], shares: &[Shares], mut visit: impl FnMut(&Observed, &Meaning, f64)) {
    /// What weighs less moves no digit that is shown.
    const LEAST_WEIGHT: f64 = 1e-9;

    for (unit, share) in units.iter().zip(shares) {
        for ((reading, responsibilities), apart) in unit.readings.iter().zip(&share.meanings).zip(&share.apart) {
            // A count has no part that is learned.
            if reading.parts.is_empty() {
                continue;
            }
            for (meaning, responsibility) in reading.meanings.iter().zip(responsibilities) {
                let weight = reading.weight * apart * responsibility;
                if weight > LEAST_WEIGHT {
                    visit(reading, meaning, weight);
                }
            }
        }
        for (tie, chance) in unit.ties.iter().zip(&share.ties).filter(|(_, chance)| **chance > LEAST_WEIGHT) {
            for (at, meaning) in &tie.members {
                let reading = &unit.readings[*at];
                visit(reading, meaning, reading.weight * chance);
            }
        }
    }
}

/// One scoring step of the factors, given the responsibilities.
fn step(units: &[Unit], shares: &[Shares], factors: &[f64], worth: &[f64]) -> Vec<f64> {
    let count = factors.len();
    let mut slope = DVector::zeros(count);
    let mut curvature = DMatrix::zeros(count, count);
    let mut of_factors = Vec::new();
    each_meaning(units, shares, |reading, meaning, weight| {
        let whole = variance(reading, meaning, factors);
        let surprise = meaning.residual.powi(2) / whole - 1.0;
        shares_of_factors(reading, meaning, factors, whole, &mut of_factors);
        for (one, own) in &of_factors {
            slope[*one] += 0.5 * weight * own * surprise;
            for (other, others) in &of_factors {
                curvature[(*one, *other)] += 0.5 * weight * own * others;
            }
        }
    });
    for (at, (factor, worth)) in factors.iter().zip(worth).enumerate() {
        slope[at] += 0.5 * worth * (1.0 / factor - 1.0);
        curvature[(at, at)] += 0.5 * worth;
    }
    let Some(root) = curvature.cholesky() else { return factors.to_vec() };
    let direction: DVector<f64> = root.solve(&slope).map(|step: f64| step.clamp(-LONGEST_STEP, LONGEST_STEP));
    let before = height(units, shares, factors, worth);
    let mut length = 1.0;
    // Twenty halvings are a millionth of the step: where that does not help, nothing is left to gain.
    for _ in 0..20 {
        let tried: Vec<f64> =
            factors.iter().zip(direction.iter()).map(|(factor, step)| factor * (length * step).exp()).collect();
        if height(units, shares, &tried, worth) >= before {
            return tried;
        }
        length *= 0.5;
    }
    factors.to_vec()
}

/// What the scoring step climbs: the expected logarithm of the posterior density of the logarithms of the factors.
fn height(units: &[Unit], shares: &[Shares], factors: &[f64], worth: &[f64]) -> f64 {
    let mut height: f64 =
        factors.iter().zip(worth).map(|(factor, worth)| -0.5 * worth * (factor.ln() + 1.0 / factor)).sum();
    each_meaning(units, shares, |reading, meaning, weight| {
        height += weight * ln_density(meaning.residual, variance(reading, meaning, factors));
    });
    height
}
