//! Explanations with one or two single readings mistaken: by far the most, so they have the formulas of
//! [`crate::exchange`] written out, without allocation, and a bound that tells which of them need no weighing.
//!
//! **The bound.** Let `a` and `b` be two readings and `y` all others. An explanation that gives them the meanings `i` and `j`
//! has the evidence
//!
//! ```text
//! p(y) p(a as i | y) p(b as j | y, a as i)
//! ```
//!
//! Each of the last two factors is the density of a normal whose variance is that of the reading's own error plus that of
//! what the others leave open: it never exceeds the density `1/(√2π u')` at the centre of the error alone. So
//!
//! ```text
//! p(y, a as i, b as j) ≤ p(y) / (2π u'_i u'_j)
//! p(y, a as i, b as j) ≤ p(y) p(a as i | y) / (√2π u'_j)       and the same with a and b exchanged
//! ```
//!
//! Times the odds of the mistakes and summed over all meanings, the first bounds a whole pair of readings at once, the second
//! all that goes with one meaning. What a bound says to be negligible is not weighed, and its bound is added to what is
//! reported as left out. `tests/brute_force.rs` holds the bound against weighing everything.

use crate::factor::Factor;
use crate::orthogonal::{add, dot};

/// Logarithm of the evidence with one reading spoiled, by the place of its alternative.
pub(crate) fn with_one(factor: &Factor, place: usize) -> f64 {
    let alternative = factor.alternative(place);
    let row = factor.orthogonal.unexplained(alternative.reading);
    let precision = dot(row, row);
    let root = precision.sqrt();
    let residual = dot(row, &factor.residual) / root;
    let crossing = dot(factor.orthogonal.explained(alternative.reading), factor.coordinates(place)) / root;
    let variance = 1.0 + alternative.square + crossing * crossing;
    let surprise = alternative.surprise + crossing * residual;
    factor.ln_evidence
        + 0.5 * (residual * residual - surprise * surprise / variance - (precision * variance).ln())
        + factor.ln_uncertainties[alternative.reading]
        - alternative.ln_uncertainty
}

/// A meaning that one reading may have instead: a mistake of that reading alone.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Meaning {
    /// The mistake.
    pub mistake: usize,
    /// The place of its alternative.
    pub place: usize,
    /// Logarithm of the odds of the mistake.
    pub ln_odds: f64,
}

/// The other meanings of each reading.
pub(crate) struct Meanings {
    of_reading: Vec<Vec<Meaning>>,
    /// For each reading the sum of the odds of its meanings.
    odds: Vec<f64>,
    /// For each reading the logarithm of the sum of odds over standard uncertainties: what its meanings can bring at best.
    ln_best: Vec<f64>,
}

impl Meanings {
    /// Gathers the mistakes that spoil a single reading.
    pub fn new(factor: &Factor, ln_odds: &[f64]) -> Self {
        let mut of_reading = vec![Vec::new(); factor.ln_uncertainties.len()];
        let (mut odds, mut best) = (vec![0.0; of_reading.len()], vec![0.0; of_reading.len()]);
        for (mistake, ln_odds) in ln_odds.iter().enumerate() {
            let places = factor.alternatives_of(mistake);
            if places.len() == 1 {
                let alternative = factor.alternative(places.start);
                of_reading[alternative.reading].push(Meaning { mistake, place: places.start, ln_odds: *ln_odds });
                let own = ln_odds.exp();
                odds[alternative.reading] += own;
                best[alternative.reading] += own / alternative.ln_uncertainty.exp();
            }
        }
        Self { of_reading, odds, ln_best: best.into_iter().map(f64::ln).collect() }
    }

    /// The meanings of one reading.
    pub fn of(&self, reading: usize) -> &[Meaning] {
        &self.of_reading[reading]
    }

    /// The sum of the odds of all meanings of a reading.
    pub fn odds(&self, reading: usize) -> f64 {
        self.odds[reading]
    }

    /// Logarithm of the sum of odds over standard uncertainties, by reading.
    pub fn ln_best(&self, reading: usize) -> f64 {
        self.ln_best[reading]
    }
}

/// Two readings taken away.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Removal {
    readings: [usize; 2],
    /// `1/L₁₁`, `L₂₁` and `1/L₂₂`.
    root: [f64; 3],
    /// `t`.
    residual: [f64; 2],
    /// Logarithm of the marginal likelihood of the other readings, less the factors `2π` that the two new meanings bring
    /// back.
    ln_evidence: f64,
    /// Logarithm of a bound on the sum of evidence times odds over all meanings of the two.
    pub ln_bound: f64,
}

impl Removal {
    /// Takes two readings away, the earlier first; `rest` is room for a row.
    pub fn new(factor: &Factor, meanings: &Meanings, readings: [usize; 2], rest: &mut [f64]) -> Self {
        let [first, second] = readings;
        let (row, other) = (factor.orthogonal.unexplained(first), factor.orthogonal.unexplained(second));
        let root = dot(row, row).sqrt();
        let below = dot(row, other) / root;
        rest.copy_from_slice(other);
        add(rest, -below / root, row);
        let root_left = dot(rest, rest).sqrt();
        let residual = [dot(row, &factor.residual) / root, dot(rest, &factor.residual) / root_left];
        let ln_evidence = factor.ln_evidence - (root * root_left).ln()
            + 0.5 * (residual[0] * residual[0] + residual[1] * residual[1])
            + factor.ln_uncertainties[first]
            + factor.ln_uncertainties[second];
        let ln_bound = ln_evidence + meanings.ln_best(first) + meanings.ln_best(second);
        Self { readings, root: [1.0 / root, below, 1.0 / root_left], residual, ln_evidence, ln_bound }
    }
}

/// What the explanations with two single readings spoiled have in common: `Q Hᵀ`, the inner products of the coordinates of
/// each alternative with those of every reading.
pub(crate) struct Crossings {
    readings: usize,
    products: Vec<f64>,
}

/// One meaning, brought back where two readings are taken away.
#[derive(Debug, Clone, Copy)]
struct Arrival {
    meaning: Meaning,
    crossing: [f64; 2],
    variance: f64,
    surprise: f64,
    ln_uncertainty: f64,
    /// Logarithm of its odds times its density given all readings but the two.
    ln_known: f64,
}

impl Arrival {
    /// Logarithm of the most that the meaning can bring, whatever else is known.
    fn ln_best(&self) -> f64 {
        self.meaning.ln_odds - self.ln_uncertainty
    }
}

impl Crossings {
    /// Prepares the pairs of one factorisation.
    pub fn new(factor: &Factor) -> Self {
        let readings = factor.ln_uncertainties.len();
        let mut products = Vec::with_capacity(factor.alternatives() * readings);
        for place in 0..factor.alternatives() {
            let coordinates = factor.coordinates(place);
            products.extend((0..readings).map(|reading| dot(factor.orthogonal.explained(reading), coordinates)));
        }
        Self { readings, products }
    }

    fn arrival(&self, factor: &Factor, removal: &Removal, meaning: Meaning) -> Arrival {
        let [inverse_first, below, inverse_second] = removal.root;
        let along = &self.products[meaning.place * self.readings..][..self.readings];
        let upper = along[removal.readings[0]] * inverse_first;
        let crossing = [upper, (along[removal.readings[1]] - below * upper) * inverse_second];
        let alternative = factor.alternative(meaning.place);
        let variance = 1.0 + alternative.square + crossing[0] * crossing[0] + crossing[1] * crossing[1];
        let surprise = alternative.surprise + crossing[0] * removal.residual[0] + crossing[1] * removal.residual[1];
        let ln_uncertainty = alternative.ln_uncertainty;
        let ln_known = meaning.ln_odds - ln_uncertainty - 0.5 * variance.ln() - 0.5 * surprise * surprise / variance;
        Arrival { meaning, crossing, variance, surprise, ln_uncertainty, ln_known }
    }

    /// Weighs every two meanings of two readings but those that a bound holds under `ln_negligible`: visits those that are not
    /// under it, or that have no weight at all, with the logarithm of evidence times odds, and gives what the rest may weigh
    /// together, over `exp(ln_negligible)`.
    pub fn weigh(
        &self,
        factor: &Factor,
        meanings: &Meanings,
        removal: &Removal,
        ln_negligible: f64,
        mut visit: impl FnMut([usize; 2], f64),
    ) -> f64 {
        let [first, second] = removal.readings;
        let mut left_out = 0.0;
        let arrivals =
            |reading: usize| meanings.of(reading).iter().map(|meaning| self.arrival(factor, removal, *meaning));
        let others: Vec<Arrival> = arrivals(second).collect();
        for one in arrivals(first) {
            let ln_bound = removal.ln_evidence + one.ln_known + meanings.ln_best(second);
            if ln_bound < ln_negligible {
                left_out += no_less_than_exp(ln_bound - ln_negligible);
                continue;
            }
            for other in &others {
                let ln_bound = removal.ln_evidence + other.ln_known + one.ln_best();
                let ln_bound = ln_bound.min(removal.ln_evidence + one.ln_known + other.ln_best());
                if ln_bound < ln_negligible {
                    left_out += no_less_than_exp(ln_bound - ln_negligible);
                    continue;
                }
                let common = dot(factor.coordinates(one.meaning.place), factor.coordinates(other.meaning.place))
                    + one.crossing[0] * other.crossing[0]
                    + one.crossing[1] * other.crossing[1];
                // The second meaning, once the first is known.
                let share = common / one.variance;
                let variance_left = other.variance - share * common;
                let surprise_left = other.surprise - share * one.surprise;
                let ln_second =
                    other.ln_best() - 0.5 * variance_left.ln() - 0.5 * surprise_left * surprise_left / variance_left;
                let ln_weight = removal.ln_evidence + one.ln_known + ln_second;
                if ln_weight < ln_negligible && ln_weight.is_finite() {
                    left_out += no_less_than_exp(ln_weight - ln_negligible);
                } else {
                    visit([one.meaning.mistake, other.meaning.mistake], ln_weight);
                }
            }
        }
        left_out
    }
}

/// An exponential that need not be exact where it is next to nothing: there it is a bound.
fn no_less_than_exp(exponent: f64) -> f64 {
    /// exp(-16), rounded up.
    const NEXT_TO_NOTHING: f64 = 1.2e-7;
    if exponent < -16.0 { NEXT_TO_NOTHING } else { exponent.exp() }
}
