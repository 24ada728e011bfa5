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

/// What the explanations of one factorisation have in common, kept from one to the next: thousands of them take the same two
/// readings away.
#[derive(Debug, Default)]
pub(crate) struct Known {
    /// What taking away each pair of readings leaves; a single reading is paired with itself.
    removals: Vec<Option<Removed>>,
    /// The inner products of alternatives and readings that came up, by place and reading; not a number where they did not.
    along: Vec<f64>,
}

/// One reading or two that were taken away.
#[derive(Debug, Clone, Copy, Default)]
struct Removed {
    /// `L`, by rows.
    removal: [f64; 4],
    /// `t`.
    residual: [f64; 2],
    /// The change of the logarithm of the evidence.
    change: f64,
}

impl Known {
    /// Nothing is known yet of a factorisation.
    pub fn new(factor: &Factor) -> Self {
        let readings = factor.ln_uncertainties.len();
        let (removals, along) = (readings * (readings + 1) / 2, factor.alternatives() * readings);
        Self { removals: vec![None; removals], along: vec![f64::NAN; along] }
    }
}

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
        self.name(factor, mistakes)?;
        let removed = self.remove(factor);
        let along = |place: usize, reading: usize| dot(factor.orthogonal.explained(reading), factor.coordinates(place));
        let arrived = self.arrive(factor, along)?;
        Some(factor.ln_evidence + removed + arrived)
    }

    /// The same with the help of what earlier explanations of the factorisation left, for whoever goes through many.
    pub fn fill_knowing(
        &mut self,
        factor: &Factor,
        known: &mut Known,
        mistakes: impl IntoIterator<Item = usize>,
    ) -> Option<f64> {
        self.name(factor, mistakes)?;
        let removed = match *self.readings.as_slice() {
            [one] => self.remove_knowing(factor, known, one, one),
            [one, other] => self.remove_knowing(factor, known, one, other),
            _ => self.remove(factor),
        };
        let readings = factor.ln_uncertainties.len();
        let along = |place: usize, reading: usize| {
            let product = &mut known.along[place * readings + reading];
            if product.is_nan() {
                *product = dot(factor.orthogonal.explained(reading), factor.coordinates(place));
            }
            *product
        };
        let arrived = self.arrive(factor, along)?;
        Some(factor.ln_evidence + removed + arrived)
    }

    /// Names the alternatives and their readings; none where two mistakes spoil the same reading.
    fn name(&mut self, factor: &Factor, mistakes: impl IntoIterator<Item = usize>) -> Option<()> {
        self.places.clear();
        self.places.extend(mistakes.into_iter().flat_map(|mistake| factor.alternatives_of(mistake)));
        self.places.sort_unstable_by_key(|place| factor.alternative(*place).reading);
        self.readings.clear();
        self.readings.extend(self.places.iter().map(|place| factor.alternative(*place).reading));
        self.readings.windows(2).all(|pair| pair[0] != pair[1]).then_some(())
    }

    /// Takes one reading away, or two, the earlier first, as [`Self::remove`] does; it is reckoned once.
    fn remove_knowing(&mut self, factor: &Factor, known: &mut Known, one: usize, other: usize) -> f64 {
        let count = self.places.len();
        let at = other * (other + 1) / 2 + one;
        if let Some(removed) = &known.removals[at] {
            self.removal.clear();
            self.removal.extend_from_slice(&removed.removal[..count * count]);
            self.residual.clear();
            self.residual.extend_from_slice(&removed.residual[..count]);
            return removed.change;
        }
        let mut removed = Removed { change: self.remove(factor), ..Removed::default() };
        removed.removal[..count * count].copy_from_slice(&self.removal);
        removed.residual[..count].copy_from_slice(&self.residual);
        known.removals[at] = Some(removed);
        removed.change
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

    /// Brings them back with their other meanings: the change of the logarithm of the evidence, likewise. `along` gives the inner
    /// product of an alternative, by its place, with a reading.
    fn arrive(&mut self, factor: &Factor, mut along: impl FnMut(usize, usize) -> f64) -> Option<f64> {
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
            for (row, taken) in self.readings.iter().enumerate() {
                let before: f64 = dot(&self.removal[row * count..][..row], &own[..row]);
                own[row] = (along(*place, *taken) - before) / self.removal[row * count + row];
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

    /// What the exchange does to forms, given their inner products with a reading and with an alternative by its place, which
    /// are appended in the order of the forms: fills `changes` with the rows of `U` and then of `N`, an entry for each form,
    /// and shifts the means.
    pub fn along(
        &self,
        by_reading: impl Fn(usize, &mut Vec<f64>),
        by_place: impl Fn(usize, &mut Vec<f64>),
        changes: &mut Vec<f64>,
        means: &mut [f64],
    ) {
        let (count, forms) = (self.places.len(), means.len());
        changes.clear();
        for (at, reading) in self.readings.iter().enumerate() {
            by_reading(*reading, changes);
            let (earlier, own) = changes.split_at_mut(at * forms);
            for (before, other) in earlier.chunks_exact(forms.max(1)).enumerate() {
                add(own, -self.removal[at * count + before], other);
            }
            let share = 1.0 / self.removal[at * count + at];
            own.iter_mut().for_each(|entry| *entry *= share);
            add(means, -self.residual[at], own);
        }
        for (at, place) in self.places.iter().enumerate() {
            by_place(*place, changes);
            let (earlier, own) = changes.split_at_mut((count + at) * forms);
            let (removed, arrived) = earlier.split_at(count * forms);
            for (row, other) in removed.chunks_exact(forms.max(1)).enumerate() {
                add(own, self.crossing[at * count + row], other);
            }
            for (before, other) in arrived.chunks_exact(forms.max(1)).enumerate() {
                add(own, -self.arrival[at * count + before], other);
            }
            let share = 1.0 / self.arrival[at * count + at];
            own.iter_mut().for_each(|entry| *entry *= share);
            add(means, self.surprise[at], own);
        }
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
