//! The classical tests of data reconciliation: one global chi-square test and the normalised residual of each reading.
//!
//! Nothing is assumed beyond the readings and the firm priors (sizes from a table of parts): weighted least squares, as in
//! S. Narasimhan and C. Jordache, *Data Reconciliation and Gross Error Detection* (2000), chapters 3 and 7.

use nalgebra::{DMatrix, DVector};
use statrs::distribution::{ChiSquared, ContinuousCDF, Normal as StandardNormal};

use crate::model::{Model, ModelError};

/// The outcome of the classical tests.
#[derive(Debug, Clone, PartialEq)]
pub struct Classical {
    /// Sum of squared weighted residuals.
    pub chi_squared: f64,
    /// Readings (and firm priors) beyond what determines the unknowns.
    pub degrees_of_freedom: usize,
    /// Residual of each reading, reading minus reconciled value.
    pub residuals: Vec<f64>,
    /// Residual of each reading divided by its own standard deviation; none where nothing checks the reading.
    pub normalised_residuals: Vec<Option<f64>>,
}

impl Classical {
    /// Limit of the global test at a level of significance in (0, 1); none without degrees of freedom.
    #[must_use]
    pub fn global_limit(&self, significance: f64) -> Option<f64> {
        let distribution = ChiSquared::new(self.degrees_of_freedom as f64).ok()?;
        (significance > 0.0 && significance < 1.0).then(|| distribution.inverse_cdf(1.0 - significance))
    }

    /// Limit of the normalised residuals for a level of significance over all of them together (Šidák 1967):
    /// `β = 1 − (1 − α)^(1/n)`.
    #[must_use]
    pub fn residual_limit(&self, significance: f64) -> Option<f64> {
        let count = self.normalised_residuals.iter().flatten().count();
        let each = 1.0 - (1.0 - significance).powf(1.0 / count as f64);
        let normal = StandardNormal::new(0.0, 1.0).ok()?;
        (count > 0 && significance > 0.0 && significance < 1.0).then(|| normal.inverse_cdf(1.0 - each / 2.0))
    }
}

/// A residual whose own variance is a smaller share than this of the reading's is not checked by anything.
const UNCHECKED: f64 = 1e-9;

/// Reconciles the readings of a model at their word by weighted least squares and tests them.
///
/// # Errors
/// [`ModelError`] where the model is not sound, as for [`crate::explain`]; it is called model 0 there.
///
/// ```
/// use reconcile::{classical, Evidence, Form, Model, Prior};
/// // A + B = C, with readings that disagree (the middle row of a usual length chain).
/// let broad = Prior { mean: 0.0, standard_deviation: 1e4, firm: false };
/// let reading = |form, value, standard_uncertainty| Evidence { form, value, standard_uncertainty };
/// let model = Model {
///     weight: 1.0,
///     priors: vec![broad, broad],
///     readings: vec![
///         reading(Form::of(0), 300.4, 0.3),
///         reading(Form::of(1), 450.9, 0.3),
///         reading(Form::new([(0, 1.0), (1, 1.0)], 0.0), 750.0, 0.5),
///     ],
///     mistakes: vec![],
/// };
/// let tested = classical(&model)?;
/// assert!((tested.chi_squared - 3.9302).abs() < 1e-3);
/// assert_eq!(tested.degrees_of_freedom, 1);
/// # Ok::<(), reconcile::ModelError>(())
/// ```
pub fn classical(model: &Model) -> Result<Classical, ModelError> {
    model.check(0, model)?;
    let unknowns = model.priors.len();
    let firm: Vec<usize> = (0..unknowns).filter(|at| model.priors[*at].firm).collect();
    let readings = model.readings.len();
    let rows = readings + firm.len();
    // Columns are scaled by the priors so that ranks are judged in like sizes; the estimate does not depend on it.
    let mut forms = DMatrix::zeros(rows, unknowns);
    let mut target = DVector::zeros(rows);
    for (at, evidence) in model.readings.iter().enumerate() {
        let means: f64 = evidence.form.terms().iter().map(|(unknown, a)| a * model.priors[*unknown].mean).sum();
        target[at] = (evidence.value - evidence.form.constant() - means) / evidence.standard_uncertainty;
        for (unknown, a) in evidence.form.terms() {
            let scale = model.priors[*unknown].standard_deviation;
            forms[(at, *unknown)] = a * scale / evidence.standard_uncertainty;
        }
    }
    for (at, unknown) in firm.iter().enumerate() {
        forms[(readings + at, *unknown)] = 1.0;
    }

    let basis = range_basis(forms);
    let fitted = &basis * basis.tr_mul(&target);
    let residual = &target - fitted;
    let chi_squared = residual.norm_squared();
    let checked: Vec<f64> = (0..rows).map(|at| 1.0 - basis.row(at).norm_squared()).collect();
    let uncertainty = |at: usize| model.readings[at].standard_uncertainty;
    Ok(Classical {
        chi_squared,
        degrees_of_freedom: rows - basis.ncols(),
        residuals: (0..readings).map(|at| residual[at] * uncertainty(at)).collect(),
        normalised_residuals: (0..readings)
            .map(|at| (checked[at] > UNCHECKED).then(|| residual[at] / checked[at].sqrt()))
            .collect(),
    })
}

/// An orthonormal basis of the range of a matrix, by modified Gram–Schmidt with column pivoting and one repetition.
fn range_basis(mut columns: DMatrix<f64>) -> DMatrix<f64> {
    let scale: Vec<f64> = columns.column_iter().map(|column| column.norm()).collect();
    for (at, norm) in scale.iter().enumerate() {
        if *norm > 0.0 {
            columns.column_mut(at).unscale_mut(*norm);
        }
    }
    let mut basis: Vec<DVector<f64>> = Vec::new();
    let mut left: Vec<usize> = (0..columns.ncols()).filter(|at| scale[*at] > 0.0).collect();
    loop {
        let norms = left.iter().map(|at| columns.column(*at).norm());
        let Some((place, norm)) =
            norms.enumerate().fold(None, |best: Option<(usize, f64)>, (place, norm)| match best {
                Some((_, largest)) if largest >= norm => best,
                _ => Some((place, norm)),
            })
        else {
            break;
        };
        if norm < 1e-10 {
            break;
        }
        let mut direction: DVector<f64> = columns.column(left.remove(place)).into_owned();
        for earlier in &basis {
            let along = earlier.dot(&direction);
            direction.axpy(-along, earlier, 1.0);
        }
        direction.normalize_mut();
        for at in &left {
            let along = direction.dot(&columns.column(*at));
            columns.column_mut(*at).axpy(-along, &direction, 1.0);
        }
        basis.push(direction);
    }
    if basis.is_empty() { DMatrix::zeros(columns.nrows(), 0) } else { DMatrix::from_columns(&basis) }
}
