//! One factorisation of a model with every reading at its word, and the low-rank updates that weigh explanations.
//!
//! Everything is whitened: unknowns are counted in prior standard deviations from their prior means, and each reading is
//! divided by its standard uncertainty. With `Ã` the whitened forms and `r̃` the whitened readings,
//!
//! - the posterior of the unknowns is normal with covariance `C = (I + ÃᵀÃ)⁻¹` and mean `x̂ = C Ãᵀ r̃`;
//! - `M = (I + ÃÃᵀ)⁻¹` is the precision of the readings among themselves; `M = I − ÃCÃᵀ`, and `e = M r̃ = r̃ − Ãx̂`.
//!
//! Both come from QR factorisations of stacked matrices, never from a product `ÃᵀÃ`: the prior is a thousand to ten
//! thousand times as wide as a reading, and forming the product would lose half the digits. `M` is kept beside `C` because
//! `I − ÃCÃᵀ` cancels where one reading alone determines an unknown.
//!
//! For an explanation that gives the readings `T` another meaning (forms `B̃`, whitened readings `q̃`), the block inverse
//! yields, without another factorisation,
//!
//! ```text
//! ln p(y) − ln p(y without T) = ½ ln|M_TT| − ½ e_Tᵀ M_TT⁻¹ e_T − Σ ln u_T − ½ m ln 2π
//! x̂₋ = x̂ − C Ã_Tᵀ M_TT⁻¹ e_T                C₋ = C + C Ã_Tᵀ M_TT⁻¹ Ã_T C
//! ρ = q̃ − B̃ x̂₋     K = I + B̃ C₋ B̃ᵀ        ln p(T | rest) = −½ ln|K| − ½ ρᵀK⁻¹ρ − Σ ln u'_T − ½ m ln 2π
//! x̂' = x̂₋ + C₋B̃ᵀK⁻¹ρ                          C' = C₋ − C₋B̃ᵀK⁻¹B̃C₋
//! ```
//!
//! (Sherman, Morrison and Woodbury; Golub and Van Loan, *Matrix Computations*, 4th ed., 2.1.4 and 6.5.)

use nalgebra::{DMatrix, DVector};

use crate::form::Form;
use crate::model::{Evidence, Model};

const LN_TWO_PI: f64 = 1.837_877_066_409_345_3;

/// A sparse whitened row: terms over the whitened unknowns, and the whitened reading.
struct Row {
    terms: Vec<(usize, f64)>,
    target: f64,
    ln_uncertainty: f64,
}

/// The factorisation of one model.
pub(crate) struct Factor<'m> {
    model: &'m Model,
    rows: Vec<Row>,
    alternatives: Vec<Vec<(usize, Row)>>,
    mean: DVector<f64>,
    covariance: DMatrix<f64>,
    /// `C Ãᵀ`, a column for each reading.
    gain: DMatrix<f64>,
    precision: DMatrix<f64>,
    residual: DVector<f64>,
    ln_evidence: f64,
}

/// A normal distribution of the unknowns, in their own units.
#[derive(Debug, Clone, PartialEq)]
pub struct Normal {
    /// Mean of each unknown.
    pub mean: Vec<f64>,
    /// Their covariance.
    pub covariance: DMatrix<f64>,
}

impl Normal {
    /// The mean of a form.
    #[must_use]
    pub fn mean_of(&self, form: &Form) -> f64 {
        form.at(&self.mean)
    }

    /// The covariance of two forms.
    #[must_use]
    pub fn covariance_of(&self, one: &Form, other: &Form) -> f64 {
        let column =
            |(j, b): &(usize, f64)| b * one.terms().iter().map(|(i, a)| a * self.covariance[(*i, *j)]).sum::<f64>();
        other.terms().iter().map(column).sum()
    }

    /// The variance of a form; never negative.
    #[must_use]
    pub fn variance_of(&self, form: &Form) -> f64 {
        self.covariance_of(form, form).max(0.0)
    }
}

impl<'m> Factor<'m> {
    /// Factorises a model that has passed its check; none where the numbers are too far apart.
    pub fn new(model: &'m Model) -> Option<Self> {
        let unknowns = model.priors.len();
        let readings = model.readings.len();
        let rows: Vec<Row> = model.readings.iter().map(|evidence| whiten(model, evidence)).collect();
        let alternatives = model
            .mistakes
            .iter()
            .map(|mistake| mistake.spoils.iter().map(|(at, meaning)| (*at, whiten(model, meaning))).collect())
            .collect();

        let mut forms = DMatrix::zeros(readings, unknowns);
        for (at, row) in rows.iter().enumerate() {
            for (unknown, coefficient) in &row.terms {
                forms[(at, *unknown)] = *coefficient;
            }
        }
        let target = DVector::from_iterator(readings, rows.iter().map(|row| row.target));
        let root = inverse_root(&forms)?;
        let covariance = &root * root.transpose();
        let precision_root = inverse_root(&forms.transpose())?;
        let precision = &precision_root * precision_root.transpose();
        let residual = &precision * &target;
        let gain = &root * (root.transpose() * forms.transpose());
        let mean = forms.tr_mul(&residual);
        // ½ ln|M| is the sum of the logarithms of the diagonal of its triangular root.
        let half_ln_determinant = precision_root.diagonal().iter().map(|d| d.abs().ln()).sum::<f64>();
        let ln_uncertainties = rows.iter().map(|row| row.ln_uncertainty).sum::<f64>();
        let ln_evidence =
            half_ln_determinant - 0.5 * target.dot(&residual) - ln_uncertainties - 0.5 * readings as f64 * LN_TWO_PI;
        ln_evidence.is_finite().then_some(Self {
            model,
            rows,
            alternatives,
            mean,
            covariance,
            gain,
            precision,
            residual,
            ln_evidence,
        })
    }

    /// Redundancy number of a reading: the share of its variance that the rest of the evidence checks, 0 to 1 (Baarda,
    /// *A testing procedure for use in geodetic networks*, 1968). The broad priors count as evidence.
    pub fn redundancy(&self, reading: usize) -> f64 {
        self.precision[(reading, reading)].clamp(0.0, 1.0)
    }

    /// Logarithm of the marginal likelihood of the readings where these mistakes were made, or none where two of them spoil
    /// the same reading.
    pub fn ln_evidence_with(&self, mistakes: &[usize]) -> Option<f64> {
        if mistakes.is_empty() {
            return Some(self.ln_evidence);
        }
        if let [mistake] = mistakes
            && let [(reading, row)] = self.alternatives[*mistake].as_slice()
        {
            return Some(self.ln_evidence_with_one(*reading, row));
        }
        let update = self.update(mistakes)?;
        Some(update.ln_evidence)
    }

    /// The posterior of the unknowns where these mistakes were made.
    pub fn posterior(&self, mistakes: &[usize]) -> Option<Normal> {
        let (mean, covariance) = if mistakes.is_empty() {
            (self.mean.clone(), self.covariance.clone())
        } else {
            let update = self.update(mistakes)?;
            (update.mean, update.covariance)
        };
        let scale: Vec<f64> = self.model.priors.iter().map(|prior| prior.standard_deviation).collect();
        let mean = self
            .model
            .priors
            .iter()
            .zip(mean.iter())
            .map(|(prior, shift)| prior.mean + prior.standard_deviation * shift)
            .collect();
        let covariance = DMatrix::from_fn(scale.len(), scale.len(), |i, j| covariance[(i, j)] * scale[i] * scale[j]);
        Some(Normal { mean, covariance })
    }

    /// The commonest case by far, one reading spoiled: the same formulas with 1 × 1 blocks and no matrices.
    fn ln_evidence_with_one(&self, reading: usize, row: &Row) -> f64 {
        let own_precision = self.precision[(reading, reading)];
        let weight = self.residual[reading] / own_precision;
        let without = self.ln_evidence - 0.5 * own_precision.ln()
            + 0.5 * self.residual[reading] * weight
            + self.rows[reading].ln_uncertainty
            + 0.5 * LN_TWO_PI;
        let gain =
            |terms: &[(usize, f64)]| terms.iter().map(|(unknown, a)| a * self.gain[(*unknown, reading)]).sum::<f64>();
        let along = gain(&row.terms);
        let predicted = self.at(&row.terms) - along * weight;
        let variance = 1.0 + self.covariance_along(&row.terms, &row.terms) + along * along / own_precision;
        let surprise = row.target - predicted;
        without - 0.5 * variance.ln() - 0.5 * surprise * surprise / variance - row.ln_uncertainty - 0.5 * LN_TWO_PI
    }

    /// The general case, any number of readings spoiled by any number of mistakes.
    fn update(&self, mistakes: &[usize]) -> Option<Update> {
        let mut spoiled: Vec<(usize, &Row)> = mistakes
            .iter()
            .flat_map(|mistake| self.alternatives[*mistake].iter().map(|(at, row)| (*at, row)))
            .collect();
        spoiled.sort_by_key(|(reading, _)| *reading);
        if spoiled.windows(2).any(|pair| pair[0].0 == pair[1].0) {
            return None;
        }
        let count = spoiled.len();
        let taken: Vec<usize> = spoiled.iter().map(|(reading, _)| *reading).collect();

        let precision = DMatrix::from_fn(count, count, |i, j| self.precision[(taken[i], taken[j])]);
        let residual = DVector::from_fn(count, |i, _| self.residual[taken[i]]);
        let removal = precision.cholesky()?;
        let ln_root = removal.l_dirty().diagonal().iter().map(|d| d.ln()).sum::<f64>();
        let weight = removal.solve(&residual);
        let old_uncertainties = taken.iter().map(|at| self.rows[*at].ln_uncertainty).sum::<f64>();
        let without = self.ln_evidence - ln_root + 0.5 * residual.dot(&weight) + old_uncertainties;

        let unknowns = self.mean.len();
        let gain = DMatrix::from_fn(unknowns, count, |i, j| self.gain[(i, taken[j])]);
        let mean = &self.mean - &gain * &weight;
        // C₋ = C + G M_TT⁻¹ Gᵀ with M_TT = L Lᵀ: the product of L⁻¹Gᵀ with itself is exactly symmetric.
        let half = removal.l().solve_lower_triangular(&gain.transpose())?;
        let covariance = &self.covariance + half.tr_mul(&half);

        let forms = DMatrix::from_fn(count, unknowns, |i, j| {
            spoiled[i].1.terms.iter().find(|(unknown, _)| *unknown == j).map_or(0.0, |(_, a)| *a)
        });
        let surprise = DVector::from_fn(count, |i, _| spoiled[i].1.target) - &forms * &mean;
        let spread = &forms * &covariance;
        let arrival = (DMatrix::identity(count, count) + &spread * forms.transpose()).cholesky()?;
        let ln_arrival = arrival.l_dirty().diagonal().iter().map(|d| d.ln()).sum::<f64>();
        let shift = arrival.solve(&surprise);
        let new_uncertainties = spoiled.iter().map(|(_, row)| row.ln_uncertainty).sum::<f64>();
        let ln_evidence = without - ln_arrival - 0.5 * surprise.dot(&shift) - new_uncertainties;

        let narrowing = arrival.l().solve_lower_triangular(&spread)?;
        Some(Update {
            ln_evidence,
            mean: mean + spread.tr_mul(&shift),
            covariance: covariance - narrowing.tr_mul(&narrowing),
        })
    }

    fn at(&self, terms: &[(usize, f64)]) -> f64 {
        terms.iter().map(|(unknown, a)| a * self.mean[*unknown]).sum()
    }

    fn covariance_along(&self, one: &[(usize, f64)], other: &[(usize, f64)]) -> f64 {
        let column = |(j, b): &(usize, f64)| b * one.iter().map(|(i, a)| a * self.covariance[(*i, *j)]).sum::<f64>();
        other.iter().map(column).sum()
    }
}

/// An explanation's evidence and posterior, in whitened unknowns.
struct Update {
    ln_evidence: f64,
    mean: DVector<f64>,
    covariance: DMatrix<f64>,
}

fn whiten(model: &Model, evidence: &Evidence) -> Row {
    let uncertainty = evidence.standard_uncertainty;
    let means: f64 = evidence.form.terms().iter().map(|(unknown, a)| a * model.priors[*unknown].mean).sum();
    Row {
        terms: evidence
            .form
            .terms()
            .iter()
            .map(|(unknown, a)| (*unknown, a * model.priors[*unknown].standard_deviation / uncertainty))
            .collect(),
        target: (evidence.value - evidence.form.constant() - means) / uncertainty,
        ln_uncertainty: uncertainty.ln(),
    }
}

/// The inverse `W` of the triangular root of `I + FᵀF`, so that `(I + FᵀF)⁻¹ = W Wᵀ`: from the QR factorisation of `F` on
/// top of the identity.
fn inverse_root(forms: &DMatrix<f64>) -> Option<DMatrix<f64>> {
    let (rows, columns) = forms.shape();
    let mut stacked = DMatrix::zeros(rows + columns, columns);
    stacked.view_mut((0, 0), (rows, columns)).copy_from(forms);
    stacked.view_mut((rows, 0), (columns, columns)).fill_with_identity();
    let triangle = stacked.qr().unpack_r();
    triangle.solve_upper_triangular(&DMatrix::identity(columns, columns))
}
