//! The posterior of the unknowns: a normal distribution.

use nalgebra::{DMatrix, DVector};

use crate::form::Form;

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

    /// What would be known without one of the readings, which was taken at its word with this form and uncertainty:
    /// `C₋ = C + C a aᵀ C / (u² − aᵀ C a)`. Only the covariance is undone; the mean stays, which is where the rest of the
    /// evidence would have it but for that reading's own residual.
    #[must_use]
    pub fn covariance_without(&self, form: &Form, standard_uncertainty: f64) -> Self {
        let count = self.mean.len();
        let own_variance = standard_uncertainty * standard_uncertainty;
        let towards =
            DVector::from_fn(count, |i, _| form.terms().iter().map(|(j, a)| self.covariance[(i, *j)] * a).sum::<f64>());
        // A reading that alone determines its form leaves nothing here but rounding, so it is kept off zero.
        let left = (own_variance - self.variance_of(form)).max(1e-9 * own_variance);
        let covariance = &self.covariance + &towards * towards.transpose() / left;
        Self { mean: self.mean.clone(), covariance }
    }

    /// The share of the variance of `wanted` that a further reading of `form` with this standard uncertainty would remove
    /// at best from a linear estimate: the squared correlation of the two, 0 to 1.
    #[must_use]
    pub fn variance_reduction(&self, wanted: &Form, form: &Form, standard_uncertainty: f64) -> f64 {
        let own = self.variance_of(wanted);
        let read = self.variance_of(form) + standard_uncertainty * standard_uncertainty;
        let common = self.covariance_of(wanted, form);
        if own > 0.0 && read > 0.0 { (common * common / (own * read)).clamp(0.0, 1.0) } else { 0.0 }
    }

    /// The variance of a form; never negative.
    #[must_use]
    pub fn variance_of(&self, form: &Form) -> f64 {
        self.covariance_of(form, form).max(0.0)
    }
}
