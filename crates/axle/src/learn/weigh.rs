//! Which meaning each reading had, and how far the readings of each order scatter, given the factors and rates.

use catalog::Scatter;

use super::estimate::State;
use super::observe::{Meaning, Observed, Order, Tied, Unit};
use super::variance::{Errors, ln_density};

/// No reading is taken to be all but surely mistaken beforehand, whatever the rates add up to.
const LEAST_SOUND: f64 = 1e-3;
/// A slip in several readings whose odds are smaller than this counts for nothing, whatever the readings of one hand share.
const LEAST_LN_ODDS: f64 = -9.0;
/// A multiple that is less likely than this is left alone until all are weighed again.
const LEAST_PROBABILITY: f64 = 1e-6;

/// An order at one of the multiples by which its readings may scatter.
#[derive(Debug, Clone)]
pub(super) struct Level {
    /// The square of the multiple.
    pub square: f64,
    /// How likely it is.
    pub probability: f64,
    /// The responsibilities of each unit of the order; none where the multiple was left alone.
    pub shares: Vec<Shares>,
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

/// Weighs an order at every multiple, or at those alone that were not out of the question `before`.
pub(super) fn weigh(order: &Order, state: &State, scatter: &[Scatter], before: Option<&[Level]>) -> Vec<Level> {
    // What is believed beforehand of each meaning is the same at every multiple.
    let ln_priors: Vec<Vec<Vec<f64>>> =
        order.units.iter().map(|unit| unit.readings.iter().map(|one| ln_priors(one, state)).collect()).collect();
    let (mut levels, mut ln_weights) = (Vec::with_capacity(scatter.len()), Vec::with_capacity(scatter.len()));
    for (at, level) in scatter.iter().enumerate() {
        let square = level.multiple * level.multiple;
        let alone = before.is_some_and(|before| before[at].probability < LEAST_PROBABILITY);
        let (mut shares, mut ln_weight) = (Vec::new(), f64::NEG_INFINITY);
        if !alone {
            ln_weight = level.share.ln();
            for (unit, ln_priors) in order.units.iter().zip(&ln_priors) {
                let (own, ln_density) = responsibilities(unit, state, ln_priors, square);
                shares.push(own);
                ln_weight += ln_density;
            }
        }
        ln_weights.push(ln_weight);
        levels.push(Level { square, probability: 0.0, shares });
    }
    let whole = ln_sum(&ln_weights);
    for (level, ln_weight) in levels.iter_mut().zip(&ln_weights) {
        level.probability = (ln_weight - whole).exp();
    }
    levels
}

/// The responsibilities of a unit whose readings scatter by a multiple of that square, and the logarithm of the density of what was
/// read. There too a reading counts for less beside others of its hand.
fn responsibilities(unit: &Unit, state: &State, ln_priors: &[Vec<f64>], square: f64) -> (Shares, f64) {
    let errors = Errors { factors: &state.factors, square };
    let mut meanings = Vec::with_capacity(unit.readings.len());
    let mut ln_apart = Vec::with_capacity(unit.readings.len());
    for (reading, ln_priors) in unit.readings.iter().zip(ln_priors) {
        let density = |meaning: &Meaning| ln_density(meaning.residual, errors.variance(reading, meaning));
        let ln_weights: Vec<f64> =
            reading.meanings.iter().zip(ln_priors).map(|(meaning, prior)| prior + density(meaning)).collect();
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
                ln_density(meaning.residual, errors.variance(reading, meaning)) - ln_apart[*at]
            };
            let ln_prior = (tie.rate.1 * state.rates[tie.rate.0]).ln() - ln_none;
            let apart = ln_prior + tie.members.iter().map(against).sum::<f64>();
            // An instrument that is off in one hand shifts all its readings, as such a slip does. Where the slip is not out of the
            // question, that is weighed against it.
            if apart > LEAST_LN_ODDS { ln_prior + in_hands(unit, tie, errors, ln_priors, &meanings) } else { apart }
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
    let ln_readings: f64 = unit.readings.iter().zip(&ln_apart).map(|(reading, ln)| reading.weight * ln).sum();
    (Shares { ties, apart, meanings }, ln_readings + largest + whole.ln())
}

/// The logarithm of the density of all readings of the hands that a slip concerns, with the slip over without it. The error that a
/// hand's readings have in common is integrated over.
fn in_hands(unit: &Unit, tie: &Tied, errors: Errors<'_>, ln_priors: &[Vec<f64>], responsibilities: &[Vec<f64>]) -> f64 {
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
        // Each reading over all meanings that are its own, and under the slip where it is spoilt.
        let readings: Vec<(Vec<Given>, Option<Given>)> = unit
            .readings
            .iter()
            .enumerate()
            .filter(of_hand)
            .map(|(at, reading)| {
                let slipped = tie.members.iter().find(|(member, _)| *member == at);
                let slipped = slipped.map(|(_, meaning)| Given::new(reading, meaning, 0.0, errors));
                (own_meanings(reading, &ln_priors[at], &responsibilities[at], errors), slipped)
            })
            .collect();
        let (mut with, mut without) = (Vec::new(), Vec::new());
        let mut ln_weights = Vec::new();
        for node in -NODES..=NODES {
            let common = STEP * f64::from(node);
            let ln_weight = -0.5 * common * common;
            let (mut slipped, mut sound) = (ln_weight, ln_weight);
            for (meanings, under_slip) in &readings {
                ln_weights.clear();
                ln_weights.extend(meanings.iter().map(|one| one.ln_density(common)));
                let own = ln_sum(&ln_weights);
                sound += own;
                slipped += under_slip.as_ref().map_or(own, |one| one.ln_density(common));
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

/// A reading under a meaning, beside the common error of its hand.
struct Given {
    /// The logarithm of the weight, that of the density's height included.
    ln_weight: f64,
    residual: f64,
    /// The standard deviation of the common error.
    shared: f64,
    /// The variance that is left to the reading itself.
    own: f64,
}

impl Given {
    fn new(reading: &Observed, meaning: &Meaning, ln_prior: f64, errors: Errors<'_>) -> Self {
        let whole = errors.variance(reading, meaning);
        let shared = match (reading.hand, reading.parts.first()) {
            (Some((_, share)), Some(limit)) => meaning.stretch * share * errors.part(limit),
            _ => 0.0,
        };
        // What is common never makes up all of a reading's variance: it was also rounded and set up.
        let shared = shared.min(0.99 * whole);
        let own = whole - shared;
        Self { ln_weight: ln_prior - 0.5 * own.ln(), residual: meaning.residual, shared: shared.sqrt(), own }
    }

    /// The logarithm of weight times density, given the common error in standard deviations.
    fn ln_density(&self, common: f64) -> f64 {
        self.ln_weight - 0.5 * (self.residual - common * self.shared).powi(2) / self.own
    }
}

/// A reading under each meaning that is its own. Those that are out of the question whatever the error is are left out, by their
/// responsibilities without it.
fn own_meanings(reading: &Observed, ln_priors: &[f64], responsibilities: &[f64], errors: Errors<'_>) -> Vec<Given> {
    const LEAST: f64 = 1e-5;

    reading
        .meanings
        .iter()
        .zip(ln_priors)
        .zip(responsibilities)
        .filter(|(_, responsibility)| **responsibility > LEAST)
        .map(|((meaning, ln_prior), _)| Given::new(reading, meaning, *ln_prior, errors))
        .collect()
}

/// The logarithm of the chance of each meaning of a reading beforehand.
fn ln_priors(reading: &Observed, state: &State) -> Vec<f64> {
    let spoilt: f64 = reading.rates.iter().map(|(rate, share)| share * state.rates[*rate]).sum();
    let sound = (1.0 - spoilt).max(LEAST_SOUND);
    let prior = |meaning: &Meaning| meaning.mistake.map_or(sound, |(rate, share)| share * state.rates[rate]).ln();
    reading.meanings.iter().map(prior).collect()
}
