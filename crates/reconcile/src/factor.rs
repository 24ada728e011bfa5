//! One factorisation of a model with every reading at its word: what all its explanations have in common.
//!
//! Everything is whitened: unknowns are counted in prior standard deviations from their prior means, and each reading is
//! divided by its standard uncertainty. With `Ã` the whitened forms and `r̃` the whitened readings, [`Orthogonal`] gives
//! `W`, `Q` and `P`, and with them
//!
//! - the posterior of the unknowns is normal with covariance `C = (I + ÃᵀÃ)⁻¹ = W Wᵀ` and mean `x̂ = C Ãᵀ r̃ = W y`,
//!   where `y = Qᵀ r̃`;
//! - the precision of the readings among themselves is `M = (I + ÃÃᵀ)⁻¹ = P Pᵀ`, and `e = M r̃ = P z`, where `z = Pᵀ r̃`;
//! - the logarithm of the evidence is `½ ln|M| − ½ |z|² − Σ ln u − ½ m ln 2π`, with `½ ln|M| = −½ ln|I + ÃᵀÃ|`.
//!
//! A form `b̃` enters as its coordinates `h = Wᵀ b̃ᵀ`, in which the posterior of the unknowns is a standard normal about
//! `y`: the posterior mean of the form is `h·y`, the covariance of two forms the inner product of their coordinates, and
//! the coordinates of the readings are the rows of `Q`. The prior is a thousand to ten thousand times as wide as a reading;
//! `b̃ C b̃ᵀ` from the entries of `C` would lose twice as many digits as that ratio has, the coordinates lose them once.

use nalgebra::DMatrix;

use crate::form::Form;
use crate::model::{Evidence, Model, Prior};
use crate::orthogonal::{Orthogonal, add, dot};
use crate::posterior::Normal;

const LN_TWO_PI: f64 = 1.837_877_066_409_345_3;

/// The factorisation of one model, where every reading is at its word or where one mistake that ties several readings
/// together has been made.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Factor {
    priors: Vec<Prior>,
    pub(crate) orthogonal: Orthogonal,
    /// Logarithm of the standard uncertainty of each reading.
    pub(crate) ln_uncertainties: Vec<f64>,
    /// `y`: the posterior mean in coordinates.
    mean: Vec<f64>,
    /// The whitened readings.
    target: Vec<f64>,
    /// `z`, whose inner products with the rows of `P` are the weighted residuals `e`.
    pub(crate) residual: Vec<f64>,
    /// The other meanings of readings, those of one mistake together.
    alternatives: Vec<Alternative>,
    /// For each mistake the place of its first alternative, and one place more.
    starts: Vec<usize>,
    /// The coordinates of the alternatives, one after the other.
    coordinates: Vec<f64>,
    /// Logarithm of the marginal likelihood with every reading at its word.
    pub(crate) ln_evidence: f64,
}

/// Another meaning of a reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Alternative {
    /// The reading that is spoiled.
    pub reading: usize,
    /// What was read minus what the posterior with every reading at its word expects, in standard uncertainties of the
    /// alternative.
    pub surprise: f64,
    /// The squared length of its coordinates.
    pub square: f64,
    /// Logarithm of its standard uncertainty.
    pub ln_uncertainty: f64,
}

impl Factor {
    /// Factorises a model that has passed its check, with `made` of its mistakes made if one is named; none where the
    /// numbers are too far apart.
    pub fn new(model: &Model, made: Option<usize>) -> Option<Self> {
        let (unknowns, readings) = (model.priors.len(), model.readings.len());
        let mut columns = vec![0.0; unknowns * readings];
        let mut target = Vec::with_capacity(readings);
        let mut meant: Vec<&Evidence> = model.readings.iter().collect();
        for (at, meaning) in made.iter().flat_map(|mistake| &model.mistakes[*mistake].spoils) {
            meant[*at] = meaning;
        }
        for (at, evidence) in meant.iter().enumerate() {
            for (unknown, coefficient) in whitened_terms(model, evidence) {
                columns[unknown * readings + at] = coefficient;
            }
            target.push(whitened_value(model, evidence));
        }
        let orthogonal = Orthogonal::new(columns, unknowns, readings);
        let mut mean = vec![0.0; unknowns];
        let mut residual = vec![0.0; readings];
        for (at, value) in target.iter().enumerate() {
            add(&mut mean, *value, orthogonal.explained(at));
            add(&mut residual, *value, orthogonal.unexplained(at));
        }
        let ln_uncertainties: Vec<f64> = meant.iter().map(|evidence| evidence.standard_uncertainty.ln()).collect();
        let ln_evidence = -orthogonal.ln_triangle()
            - 0.5 * dot(&residual, &residual)
            - ln_uncertainties.iter().sum::<f64>()
            - 0.5 * readings as f64 * LN_TWO_PI;

        let count = model.mistakes.iter().map(|mistake| mistake.spoils.len()).sum();
        let mut starts = Vec::with_capacity(model.mistakes.len() + 1);
        let mut alternatives = Vec::with_capacity(count);
        let mut coordinates = vec![0.0; count * unknowns];
        starts.push(0);
        for mistake in &model.mistakes {
            for (reading, meaning) in &mistake.spoils {
                let own = &mut coordinates[alternatives.len() * unknowns..][..unknowns];
                for (unknown, coefficient) in whitened_terms(model, meaning) {
                    add(own, coefficient, orthogonal.root(unknown));
                }
                alternatives.push(Alternative {
                    reading: *reading,
                    surprise: whitened_value(model, meaning) - dot(own, &mean),
                    square: dot(own, own),
                    ln_uncertainty: meaning.standard_uncertainty.ln(),
                });
            }
            starts.push(alternatives.len());
        }
        ln_evidence.is_finite().then_some(Self {
            priors: model.priors.clone(),
            orthogonal,
            ln_uncertainties,
            mean,
            target,
            residual,
            alternatives,
            starts,
            coordinates,
            ln_evidence,
        })
    }

    /// Redundancy number of a reading: the share of its variance that the rest of the evidence checks, 0 to 1 (Baarda,
    /// *A testing procedure for use in geodetic networks*, 1968). The broad priors count as evidence.
    pub fn redundancy(&self, reading: usize) -> f64 {
        let row = self.orthogonal.unexplained(reading);
        dot(row, row).clamp(0.0, 1.0)
    }

    /// What was read minus what the posterior has it to be, in standard uncertainties.
    pub fn residual_of(&self, reading: usize) -> f64 {
        self.target[reading] - dot(self.orthogonal.explained(reading), &self.mean)
    }

    /// How many alternatives all mistakes bring together.
    pub fn alternatives(&self) -> usize {
        self.alternatives.len()
    }

    /// The places of the alternatives that a mistake brings.
    pub fn alternatives_of(&self, mistake: usize) -> std::ops::Range<usize> {
        self.starts[mistake]..self.starts[mistake + 1]
    }

    /// The alternative at a place.
    pub fn alternative(&self, place: usize) -> &Alternative {
        &self.alternatives[place]
    }

    /// The coordinates of the alternative at a place.
    pub fn coordinates(&self, place: usize) -> &[f64] {
        let unknowns = self.mean.len();
        &self.coordinates[place * unknowns..][..unknowns]
    }

    /// The posterior with every reading at its word.
    pub fn sound_posterior(&self) -> Normal {
        let unknowns = self.mean.len();
        let mut covariance = DMatrix::zeros(unknowns, unknowns);
        for one in 0..unknowns {
            for other in 0..=one {
                let scale = self.scale(one) * self.scale(other);
                let entry = dot(self.orthogonal.root(one), self.orthogonal.root(other)) * scale;
                covariance[(one, other)] = entry;
                covariance[(other, one)] = entry;
            }
        }
        let mean = (0..unknowns).map(|at| self.priors[at].mean + self.unwhitened(at, &self.mean)).collect();
        Normal { mean, covariance }
    }

    /// The entry for an unknown, in its own unit, of a vector given in coordinates: that of `W v`.
    pub fn unwhitened(&self, unknown: usize, vector: &[f64]) -> f64 {
        self.scale(unknown) * dot(self.orthogonal.root(unknown), vector)
    }

    /// The coordinates of a form, and its mean, with every reading as it is meant here.
    pub fn form(&self, form: &Form) -> (Vec<f64>, f64) {
        let mut coordinates = vec![0.0; self.mean.len()];
        let mut mean = form.constant();
        for (unknown, coefficient) in form.terms() {
            add(&mut coordinates, coefficient * self.scale(*unknown), self.orthogonal.root(*unknown));
            mean += coefficient * self.priors[*unknown].mean;
        }
        mean += dot(&coordinates, &self.mean);
        (coordinates, mean)
    }

    fn scale(&self, unknown: usize) -> f64 {
        self.priors[unknown].standard_deviation
    }
}

/// The terms of a reading's form, over whitened unknowns and in standard uncertainties.
fn whitened_terms(model: &Model, evidence: &Evidence) -> impl Iterator<Item = (usize, f64)> {
    let uncertainty = evidence.standard_uncertainty;
    let whiten =
        move |(unknown, a): &(usize, f64)| (*unknown, a * model.priors[*unknown].standard_deviation / uncertainty);
    evidence.form.terms().iter().map(whiten)
}

/// What was read minus what the prior means give, in standard uncertainties.
fn whitened_value(model: &Model, evidence: &Evidence) -> f64 {
    let means: f64 = evidence.form.terms().iter().map(|(unknown, a)| a * model.priors[*unknown].mean).sum();
    (evidence.value - evidence.form.constant() - means) / evidence.standard_uncertainty
}
