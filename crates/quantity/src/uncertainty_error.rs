//! What can be wrong with the numbers that an uncertainty is made from.

use thiserror::Error;

/// Why an uncertainty cannot be stated.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum UncertaintyError {
    /// Scatter needs two values at least.
    #[error("the scatter of {given} value(s) is unknown; two or more are needed")]
    TooFewValues {
        /// How many values there were.
        given: usize,
    },
    /// A mean needs one value at least.
    #[error("there is no value to take the mean of")]
    NoValue,
    /// A value is not a finite number.
    #[error("value number {number} is {value}, not a finite number")]
    NotFinite {
        /// Its place, counted from one.
        number: usize,
        /// The value.
        value: f64,
    },
    /// A weight needs a standard uncertainty above nought.
    #[error("standard uncertainty number {number} is {standard_uncertainty}; it must be finite and above nought")]
    StandardUncertainty {
        /// Its place, counted from one.
        number: usize,
        /// The standard uncertainty.
        standard_uncertainty: f64,
    },
    /// A probability for which no quantile is given.
    #[error("the probability {probability} does not lie between {least} and {most}")]
    Probability {
        /// The probability.
        probability: f64,
        /// The least one allowed.
        least: f64,
        /// The largest one allowed.
        most: f64,
    },
    /// Shape numbers of a beta distribution for which no quantile is given.
    #[error("no quantile is given for a beta distribution of {first} and {second}")]
    BetaShape {
        /// The first shape number.
        first: f64,
        /// The second shape number.
        second: f64,
    },
    /// Degrees of freedom for which no quantile is given.
    #[error("no quantile is given for {degrees_of_freedom} degrees of freedom")]
    DegreesOfFreedom {
        /// The degrees of freedom.
        degrees_of_freedom: f64,
    },
}
