//! The posterior of the unknowns: a normal distribution.

use nalgebra::DMatrix;

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

    /// The variance of a form; never negative.
    #[must_use]
    pub fn variance_of(&self, form: &Form) -> f64 {
        self.covariance_of(form, form).max(0.0)
    }
}
