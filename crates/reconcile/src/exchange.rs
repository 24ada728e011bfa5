//! Any number of readings given another meaning, from the one factorisation of their model.
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
//! (Sherman, Morrison and Woodbury; Golub and Van Loan, *Matrix Computations*, 4th ed., 2.1.4 and 6.5.)

use crate::factor::Factor;
use crate::orthogonal::{add, dot};
use crate::posterior::Normal;

/// Readings whose meanings are exchanged. It keeps its room from one explanation to the next.
#[derive(Debug, Default)]
pub(crate) struct Exchange {
    /// The places of the alternatives, in ascending order of their readings.
    places: Vec<usize>,
    /// Their readings.
    readings: Vec<usize>,
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
    pub fn fill(&mut self, factor: &Factor, mistakes: impl IntoIterator<Item = usize>) -> Option<f64> {
        self.places.clear();
        self.places.extend(mistakes.into_iter().flat_map(|mistake| factor.alternatives_of(mistake)));
        self.places.sort_unstable_by_key(|place| factor.alternative(*place).reading);
        self.readings.clear();
        self.readings.extend(self.places.iter().map(|place| factor.alternative(*place).reading));
        if self.readings.windows(2).any(|pair| pair[0] == pair[1]) {
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

    /// What the exchange does to a form, given its inner products with the readings and with the alternatives: appends the
    /// entries that the form has in `U` and then in `N`, and gives the shift of its mean.
    pub fn along(
        &self,
        by_reading: impl Fn(usize) -> f64,
        by_place: impl Fn(usize) -> f64,
        changes: &mut Vec<f64>,
    ) -> f64 {
        let (count, start) = (self.places.len(), changes.len());
        let mut shift = 0.0;
        for at in 0..count {
            let before = dot(&self.removal[at * count..][..at], &changes[start..]);
            let entry = (by_reading(self.readings[at]) - before) / self.removal[at * count + at];
            shift -= entry * self.residual[at];
            changes.push(entry);
        }
        for (at, place) in self.places.iter().enumerate() {
            let (removed, arrived) = changes[start..].split_at(count);
            let sum = by_place(*place) + dot(&self.crossing[at * count..][..count], removed);
            let before = dot(&self.arrival[at * count..][..at], arrived);
            let entry = (sum - before) / self.arrival[at * count + at];
            shift += entry * self.surprise[at];
            changes.push(entry);
        }
        shift
    }

    /// The places of the alternatives that are exchanged.
    pub fn places(&self) -> &[usize] {
        &self.places
    }

    /// Turns the posterior with every reading at its word into the one after the exchange.
    pub fn change(&self, factor: &Factor, posterior: &mut Normal) {
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
