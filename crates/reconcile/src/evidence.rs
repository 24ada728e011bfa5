//! The evidence of an explanation from the one factorisation of its model, by low-rank updates.
//!
//! An explanation gives the readings `T` another meaning, with coordinates `H` (a row each), whitened readings `q̃` and
//! standard uncertainties `u'`. In the words of [`crate::factor`], the block inverse yields without another factorisation
//!
//! ```text
//! P_T = L V with V Vᵀ = I     t = V z     X = L⁻¹ Q_T Hᵀ
//! ln p(y without T) = ln p(y) − ln|L| + ½ |t|² + Σ ln u_T + ½ k ln 2π
//! ρ = q̃ − H y + Xᵀ t          K = I + H Hᵀ + Xᵀ X
//! ln p(T | rest) = −½ ln|K| − ½ ρᵀ K⁻¹ ρ − Σ ln u' − ½ k ln 2π
//! ```
//!
//! and for the posterior, in coordinates, with `U = Q_Tᵀ L⁻ᵀ`, `S = Hᵀ + U X`, `K = G Gᵀ` and `N = S G⁻ᵀ`,
//!
//! ```text
//! mean = y − U t + N G⁻¹ ρ    covariance = I + U Uᵀ − N Nᵀ
//! ```
//!
//! (Sherman, Morrison and Woodbury; Golub and Van Loan, *Matrix Computations*, 4th ed., 2.1.4 and 6.5.) One spoiled reading
//! and two of different mistakes are by far the commonest cases; they have their own functions, with the same formulas
//! written out and without allocation.

use crate::factor::Factor;
use crate::orthogonal::{add, dot};
use crate::posterior::Normal;

/// Weighs the explanations of one model.
pub(crate) struct Weighing<'f, 'm> {
    factor: &'f Factor<'m>,
    exchange: Exchange,
    pairs: Option<Pairs>,
    sound: Option<Normal>,
}

impl<'f, 'm> Weighing<'f, 'm> {
    /// Prepares for explanations with up to that many mistakes.
    pub fn new(factor: &'f Factor<'m>, most_mistakes: usize) -> Self {
        let pairs = (most_mistakes >= 2).then(|| Pairs::new(factor));
        Self { factor, exchange: Exchange::default(), pairs, sound: None }
    }

    /// Logarithm of the marginal likelihood of the readings where these mistakes were made, or none where two of them spoil
    /// the same reading.
    pub fn ln_evidence(&mut self, mistakes: &[usize]) -> Option<f64> {
        let factor = self.factor;
        match *mistakes {
            [] => return Some(factor.ln_evidence),
            [mistake] => {
                let places = factor.alternatives_of(mistake);
                if places.len() == 1 {
                    return Some(with_one(factor, places.start));
                }
            }
            [mistake, other] => {
                let (places, others) = (factor.alternatives_of(mistake), factor.alternatives_of(other));
                if let Some(pairs) = &self.pairs
                    && places.len() == 1
                    && others.len() == 1
                {
                    return pairs.with_two(factor, places.start, others.start);
                }
            }
            _ => {}
        }
        self.exchange.fill(factor, mistakes)
    }

    /// The posterior of the unknowns where these mistakes were made.
    pub fn posterior(&mut self, mistakes: &[usize]) -> Option<Normal> {
        let mut posterior = self.sound.get_or_insert_with(|| self.factor.sound_posterior()).clone();
        if !mistakes.is_empty() {
            self.exchange.fill(self.factor, mistakes)?;
            self.exchange.change(self.factor, &mut posterior);
        }
        Some(posterior)
    }
}

/// One spoiled reading.
fn with_one(factor: &Factor, place: usize) -> f64 {
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

/// What explanations with two single spoiled readings have in common.
struct Pairs {
    readings: usize,
    /// For each two different readings, the later first: what taking both away does.
    removals: Vec<Removal>,
    /// `Q Hᵀ`: for each alternative the inner products of its coordinates with those of every reading.
    crossings: Vec<f64>,
}

/// Two readings taken away.
#[derive(Clone, Copy)]
struct Removal {
    /// `1/L₁₁`, `L₂₁` and `1/L₂₂`.
    root: [f64; 3],
    /// `t`.
    residual: [f64; 2],
    /// Logarithm of the marginal likelihood of the other readings, less the factors `2π` that the two new meanings bring
    /// back.
    ln_evidence: f64,
}

impl Pairs {
    fn new(factor: &Factor) -> Self {
        let readings = factor.ln_uncertainties.len();
        let mut removals = Vec::with_capacity(readings * readings.saturating_sub(1) / 2);
        let mut rest = vec![0.0; readings];
        for second in 0..readings {
            for first in 0..second {
                removals.push(Removal::new(factor, first, second, &mut rest));
            }
        }
        let alternatives = 0..factor.alternatives();
        let mut crossings = Vec::with_capacity(alternatives.len() * readings);
        for place in alternatives {
            let coordinates = factor.coordinates(place);
            crossings.extend((0..readings).map(|reading| dot(factor.orthogonal.explained(reading), coordinates)));
        }
        Self { readings, removals, crossings }
    }

    /// Two spoiled readings, by the places of their alternatives; none where they are the same reading.
    fn with_two(&self, factor: &Factor, one: usize, other: usize) -> Option<f64> {
        let (a, b) = (factor.alternative(one), factor.alternative(other));
        let (first, second) = (a.reading.min(b.reading), a.reading.max(b.reading));
        if first == second {
            return None;
        }
        let removal = &self.removals[second * (second - 1) / 2 + first];
        let [inverse_first, below, inverse_second] = removal.root;
        let crossing = |place: usize| {
            let along = &self.crossings[place * self.readings..][..self.readings];
            let upper = along[first] * inverse_first;
            [upper, (along[second] - below * upper) * inverse_second]
        };
        let (x, w) = (crossing(one), crossing(other));
        let [t, s] = removal.residual;
        let variance = 1.0 + a.square + x[0] * x[0] + x[1] * x[1];
        let common = dot(factor.coordinates(one), factor.coordinates(other)) + x[0] * w[0] + x[1] * w[1];
        let surprise = a.surprise + x[0] * t + x[1] * s;
        // The second alternative, once the first is known.
        let share = common / variance;
        let variance_left = 1.0 + b.square + w[0] * w[0] + w[1] * w[1] - share * common;
        let surprise_left = b.surprise + w[0] * t + w[1] * s - share * surprise;
        let misfit = surprise * surprise / variance + surprise_left * surprise_left / variance_left;
        let ln_uncertainties = a.ln_uncertainty + b.ln_uncertainty;
        Some(removal.ln_evidence - 0.5 * (variance * variance_left).ln() - 0.5 * misfit - ln_uncertainties)
    }
}

impl Removal {
    fn new(factor: &Factor, first: usize, second: usize, rest: &mut [f64]) -> Self {
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
        Self { root: [1.0 / root, below, 1.0 / root_left], residual, ln_evidence }
    }
}

/// The general case: any number of readings spoiled by any number of mistakes. It keeps its room from one explanation to
/// the next.
#[derive(Default)]
struct Exchange {
    /// The places of the alternatives, in ascending order of their readings.
    places: Vec<usize>,
    /// `L`, by rows.
    removal: Vec<f64>,
    /// `V`, by rows.
    directions: Vec<f64>,
    /// `t`.
    residual: Vec<f64>,
    /// `Xᵀ`, by rows: one for each alternative.
    crossing: Vec<f64>,
    /// `K`, by rows, and then its lower root `G`.
    arrival: Vec<f64>,
    /// `ρ`, and then `G⁻¹ ρ`.
    surprise: Vec<f64>,
}

impl Exchange {
    /// Exchanges the meanings and gives the logarithm of the evidence; none where two mistakes spoil the same reading.
    fn fill(&mut self, factor: &Factor, mistakes: &[usize]) -> Option<f64> {
        self.places.clear();
        self.places.extend(mistakes.iter().flat_map(|mistake| factor.alternatives_of(*mistake)));
        self.places.sort_unstable_by_key(|place| factor.alternative(*place).reading);
        let reading = |place: &usize| factor.alternative(*place).reading;
        if self.places.windows(2).any(|pair| reading(&pair[0]) == reading(&pair[1])) {
            return None;
        }
        let removed = self.remove(factor);
        let arrived = self.arrive(factor)?;
        Some(factor.ln_evidence + removed + arrived)
    }

    /// Takes the spoiled readings away: the change of the logarithm of the evidence, without the factors `2π`.
    fn remove(&mut self, factor: &Factor) -> f64 {
        let (count, readings) = (self.places.len(), factor.ln_uncertainties.len());
        self.removal.clear();
        self.removal.resize(count * count, 0.0);
        self.directions.clear();
        self.residual.clear();
        let mut change = 0.0;
        for (at, place) in self.places.iter().enumerate() {
            let reading = factor.alternative(*place).reading;
            self.directions.extend_from_slice(factor.orthogonal.unexplained(reading));
            let (earlier, own) = self.directions.split_at_mut(at * readings);
            for (before, direction) in earlier.chunks_exact(readings).enumerate() {
                let along = dot(direction, own);
                self.removal[at * count + before] = along;
                add(own, -along, direction);
            }
            let root = dot(own, own).sqrt();
            self.removal[at * count + at] = root;
            own.iter_mut().for_each(|entry| *entry /= root);
            let residual = dot(own, &factor.residual);
            self.residual.push(residual);
            change += 0.5 * residual * residual - root.ln() + factor.ln_uncertainties[reading];
        }
        change
    }

    /// Brings them back with their other meanings: the change of the logarithm of the evidence, likewise.
    fn arrive(&mut self, factor: &Factor) -> Option<f64> {
        let count = self.places.len();
        self.crossing.clear();
        self.crossing.resize(count * count, 0.0);
        self.arrival.clear();
        self.arrival.resize(count * count, 0.0);
        self.surprise.clear();
        let mut change = 0.0;
        for (at, place) in self.places.iter().enumerate() {
            let (alternative, coordinates) = (factor.alternative(*place), factor.coordinates(*place));
            let (earlier, own) = self.crossing.split_at_mut(at * count);
            let own = &mut own[..count];
            for (row, taken) in self.places.iter().enumerate() {
                let along = dot(factor.orthogonal.explained(factor.alternative(*taken).reading), coordinates);
                let before: f64 = dot(&self.removal[row * count..][..row], &own[..row]);
                own[row] = (along - before) / self.removal[row * count + row];
            }
            let mut surprise = alternative.surprise + dot(own, &self.residual);
            let mut variance = 1.0 + alternative.square + dot(own, own);
            for (before, other) in earlier.chunks_exact(count).enumerate() {
                let common = dot(factor.coordinates(self.places[before]), coordinates) + dot(other, own);
                let known = dot(&self.arrival[before * count..][..before], &self.arrival[at * count..][..before]);
                let share = (common - known) / self.arrival[before * count + before];
                self.arrival[at * count + before] = share;
                variance -= share * share;
                surprise -= share * self.surprise[before];
            }
            if variance <= 0.0 {
                return None;
            }
            let root = variance.sqrt();
            self.arrival[at * count + at] = root;
            self.surprise.push(surprise / root);
            change -= root.ln() + 0.5 * surprise * surprise / variance + alternative.ln_uncertainty;
        }
        Some(change)
    }

    /// Turns the posterior with every reading at its word into the one after the exchange.
    fn change(&self, factor: &Factor, posterior: &mut Normal) {
        let (count, unknowns) = (self.places.len(), posterior.mean.len());
        // The columns of U and N, first in coordinates and then in the units of the unknowns.
        let mut removed: Vec<Vec<f64>> = Vec::with_capacity(count);
        let mut arrived: Vec<Vec<f64>> = Vec::with_capacity(count);
        for (at, place) in self.places.iter().enumerate() {
            let mut column = factor.orthogonal.explained(factor.alternative(*place).reading).to_vec();
            for (before, earlier) in removed.iter().enumerate() {
                add(&mut column, -self.removal[at * count + before], earlier);
            }
            let root = self.removal[at * count + at];
            column.iter_mut().for_each(|entry| *entry /= root);
            removed.push(column);
        }
        for (at, place) in self.places.iter().enumerate() {
            let mut column = factor.coordinates(*place).to_vec();
            for (row, along) in removed.iter().enumerate() {
                add(&mut column, self.crossing[at * count + row], along);
            }
            for (before, earlier) in arrived.iter().enumerate() {
                add(&mut column, -self.arrival[at * count + before], earlier);
            }
            let root = self.arrival[at * count + at];
            column.iter_mut().for_each(|entry| *entry /= root);
            arrived.push(column);
        }
        let changes = removed.iter().zip(&self.residual).map(|(column, residual)| (column, 1.0, -residual));
        let arrivals = arrived.iter().zip(&self.surprise).map(|(column, surprise)| (column, -1.0, *surprise));
        for (column, sign, shift) in changes.chain(arrivals) {
            let own: Vec<f64> = (0..unknowns).map(|unknown| factor.unwhitened(unknown, column)).collect();
            add(&mut posterior.mean, shift, &own);
            for (entry, column) in own.iter().zip(posterior.covariance.as_mut_slice().chunks_exact_mut(unknowns.max(1)))
            {
                add(column, sign * entry, &own);
            }
        }
    }
}
