//! How much the orders say of each parameter, in readings.
//!
//! Where it is not sure which mistake a reading holds, or which part of its uncertainty an error comes from, it says less than a
//! whole reading. The information that is left is that of the complete story less what the story leaves open (Louis, *Journal of
//! the Royal Statistical Society* B 44 (1982) 226-233):
//!
//! ```text
//! I = E[−∂²] − Var[∂]       over the stories, by ln φ and by the logarithm of the odds of r
//! ```
//!
//! What readings of one order leave open hangs together, because they all scatter by one multiple k. With the slopes `s` of a whole
//! order, the variance is therefore that within each multiple and that between them (law of total variance):
//!
//! ```text
//! Var[∂] = Σ P(k) Var[s | k] + Σ P(k) (E[s | k] − E[s])²
//! ```
//!
//! Leaving out the second would count an order of twenty readings that are all off as twenty witnesses.
//!
//! The inverse of I, over all parameters together, is their covariance. A beta distribution with the same mean and the same
//! curvature as the posterior of a rate, and a scaled inverse chi-squared distribution for a factor, then state its interval.
//! Where nothing is open, these are the conjugate posteriors themselves.

use nalgebra::{DMatrix, DVector};

use super::conjugate::{RateBelief, VarianceBelief};
use super::estimate::{Estimate, Told, told};
use super::observe::{Meaning, Observed, Order, Unit};
use super::parameter::Parameters;
use super::variance::Errors;
use super::weigh::{Level, Shares};

/// Stories less likely than this leave nothing open that would show.
const LEAST: f64 = 1e-9;

/// What is believed of the variance of every uncertainty, as a multiple of the catalog's, and of every rate.
pub(super) struct Beliefs {
    /// With it what its factors are worth together beforehand, in degrees of freedom.
    pub uncertainties: Vec<(VarianceBelief, f64)>,
    pub rates: Vec<RateBelief>,
}

/// The beliefs that an estimate comes to.
pub(super) fn beliefs(orders: &[Order], parameters: &Parameters, rates_are_worth: f64, estimate: &Estimate) -> Beliefs {
    let state = &estimate.state;
    let parts = state.factors.len();
    let complete = Complete { factors: &state.factors, rates: state.rates.len() };
    let mut information = DMatrix::zeros(parts + state.rates.len(), parts + state.rates.len());
    for at in 0..parts {
        information[(at, at)] = 0.5 * parameters.factors[at] / state.factors[at];
    }
    for (at, (rate, (_, readings))) in state.rates.iter().zip(&estimate.counts).enumerate() {
        information[(parts + at, parts + at)] = (rates_are_worth + readings) * rate * (1.0 - rate);
    }
    for told in told(orders, &estimate.weighed) {
        complete.curve(&told, &mut information);
    }
    for (order, levels) in orders.iter().zip(&estimate.weighed) {
        complete.leave_open_between(order, levels, &mut information);
    }
    let known = information.diagonal();
    let covariance = information.cholesky().map(|root| root.inverse());
    // Where the stories leave so much open that the curvature is lost, a parameter is known no better than beforehand.
    let variance_of = |at: usize, other: Option<usize>, beforehand: f64| match (&covariance, other) {
        (Some(covariance), None) => covariance[(at, at)],
        (Some(covariance), Some(other)) => {
            covariance[(at, at)] + 2.0 * covariance[(at, other)] + covariance[(other, other)]
        }
        (None, None) => 1.0 / known[at].min(beforehand),
        (None, Some(_)) => 2.0 / known[at].min(beforehand),
    };
    let uncertainties = parameters.uncertainties.iter().map(|uncertainty| {
        let (hand, own) = uncertainty.factors;
        let scale = state.factors[hand] * own.map_or(1.0, |own| state.factors[own]);
        let worth = |at: usize| parameters.factors[at];
        let beforehand = own.map_or(worth(hand), |own| worth(hand).min(worth(own)));
        let spread = variance_of(hand, own, 0.5 * beforehand);
        let belief = VarianceBelief { scale, degrees_of_freedom: (2.0 / spread).max(1.0) };
        (belief, worth(hand) + own.map_or(0.0, worth))
    });
    let rates = parameters.rates.iter().enumerate().map(|(at, _)| {
        let rate = state.rates[at];
        let spread = rate * (1.0 - rate);
        let most = rates_are_worth + estimate.counts[at].1;
        RateBelief::worth(rate, (1.0 / (variance_of(parts + at, None, rates_are_worth * spread) * spread)).min(most))
    });
    Beliefs { uncertainties: uncertainties.collect(), rates: rates.collect() }
}

/// The complete story: the multiple of every order and the meaning of every reading known.
struct Complete<'a> {
    factors: &'a [f64],
    rates: usize,
}

impl Complete<'_> {
    /// How many factors stand before the rates.
    fn factor_count(&self) -> usize {
        self.factors.len()
    }

    /// The curvature by ln φ that one meaning adds.
    fn curve(&self, told: &Told<'_>, information: &mut DMatrix<f64>) {
        let Told { reading, meaning, square, weight } = told;
        let errors = Errors { factors: self.factors, square: *square };
        let whole = errors.variance(reading, meaning);
        let squared = meaning.residual.powi(2) / whole;
        let mut shares = Vec::new();
        errors.shares_of_factors(reading, meaning, whole, &mut shares);
        for (one, own) in &shares {
            for (other, others) in &shares {
                information[(*one, *other)] += weight * own * others * (squared - 0.5);
            }
        }
        for part in &reading.parts {
            let share = meaning.stretch * errors.part(part) / whole;
            for one in part.each_factor() {
                for other in part.each_factor() {
                    information[(one, other)] -= 0.5 * weight * share * (squared - 1.0);
                }
            }
        }
    }

    /// The slopes of one meaning: by ln φ of each factor, and by the odds of its own mistake. What all meanings of a reading
    /// have in common does not vary and is left out.
    fn slopes(&self, reading: &Observed, meaning: &Meaning, square: f64) -> Vec<(usize, f64)> {
        let errors = Errors { factors: self.factors, square };
        let whole = errors.variance(reading, meaning);
        let surprise = meaning.residual.powi(2) / whole - 1.0;
        let mut slopes = Vec::new();
        errors.shares_of_factors(reading, meaning, whole, &mut slopes);
        for (_, slope) in &mut slopes {
            *slope *= 0.5 * reading.weight * surprise;
        }
        slopes.extend(meaning.mistake.map(|(rate, _)| (self.factor_count() + rate, 1.0)));
        gathered(slopes)
    }

    /// Takes off what the stories of an order leave open: at each multiple what the readings do, and which multiple it is. All
    /// readings of an order hang on that one, so it is the slopes of the whole order that vary.
    fn leave_open_between(&self, order: &Order, levels: &[Level], information: &mut DMatrix<f64>) {
        let mut mean: DVector<f64> = DVector::zeros(self.factor_count() + self.rates);
        let mut each = Vec::with_capacity(levels.len());
        for level in levels.iter().filter(|level| level.probability > LEAST) {
            let mut whole: DVector<f64> = DVector::zeros(mean.len());
            for (unit, shares) in order.units.iter().zip(&level.shares) {
                for (at, slope) in self.leave_open(unit, shares, level, information) {
                    whole[at] += slope;
                }
            }
            mean.axpy(level.probability, &whole, 1.0);
            each.push((level.probability, whole));
        }
        for (probability, whole) in each.iter().filter(|_| each.len() > 1) {
            let change = whole - &mean;
            information.ger(-probability, &change, &change, 1.0);
        }
    }

    /// Takes off what the stories of a unit leave open at one multiple, as often as that is so, and gives its mean slopes.
    fn leave_open(
        &self,
        unit: &Unit,
        shares: &Shares,
        level: &Level,
        information: &mut DMatrix<f64>,
    ) -> Vec<(usize, f64)> {
        let (often, square) = (level.probability, level.square);
        // The mean slopes of each reading where no slip spoilt it together with others.
        let mut means: Vec<Vec<(usize, f64)>> = Vec::with_capacity(unit.readings.len());
        for ((reading, responsibilities), apart) in unit.readings.iter().zip(&shares.meanings).zip(&shares.apart) {
            let apart = often * apart;
            let mut mean: Vec<(usize, f64)> = Vec::new();
            for (meaning, responsibility) in reading.meanings.iter().zip(responsibilities) {
                if *responsibility <= LEAST {
                    continue;
                }
                let slopes = self.slopes(reading, meaning, square);
                outer(&slopes, -apart * responsibility, information);
                mean.extend(slopes.iter().map(|(at, slope)| (*at, responsibility * slope)));
            }
            let mean = gathered(mean);
            outer(&mean, apart, information);
            means.push(mean);
        }
        // What a slip in several readings changes against none: its own odds, and the slopes of the readings that it spoils.
        let changes: Vec<(f64, Vec<(usize, f64)>)> = unit
            .ties
            .iter()
            .zip(&shares.ties)
            .filter(|(_, chance)| **chance > LEAST)
            .map(|(tie, chance)| {
                let mut change = vec![(self.factor_count() + tie.rate.0, 1.0)];
                for (at, meaning) in &tie.members {
                    change.extend(self.slopes(&unit.readings[*at], meaning, square));
                    change.extend(means[*at].iter().map(|(at, slope)| (*at, -slope)));
                }
                (*chance, gathered(change))
            })
            .collect();
        let mut mean: Vec<(usize, f64)> = Vec::new();
        for (chance, change) in &changes {
            outer(change, -often * chance, information);
            mean.extend(change.iter().map(|(at, slope)| (*at, chance * slope)));
        }
        outer(&gathered(mean.clone()), often, information);
        mean.extend(means.into_iter().flatten());
        mean
    }
}

/// The slopes with each place once, where one that stood there several times counts with its sum.
fn gathered(mut slopes: Vec<(usize, f64)>) -> Vec<(usize, f64)> {
    slopes.sort_by_key(|(at, _)| *at);
    slopes.dedup_by(|next, kept| {
        let same = next.0 == kept.0;
        if same {
            kept.1 += next.1;
        }
        same
    });
    slopes
}

/// Adds `factor · s sᵀ`.
fn outer(slopes: &[(usize, f64)], factor: f64, to: &mut DMatrix<f64>) {
    for (one, own) in slopes {
        for (other, others) in slopes {
            to[(*one, *other)] += factor * own * others;
        }
    }
}
