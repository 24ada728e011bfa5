//! Stress concentration at a shoulder fillet, and how much of it fatigue feels.
//!
//! `Kt` raises the nominal stress of the *smaller* diameter. Fatigue feels `Kf`, less by the notch
//! sensitivity of the steel.

use thiserror::Error;

mod notch;
mod shoulder;

pub use notch::{fatigue_factor, neuber_root_sqrt_in, neuber_root_tabulated_sqrt_in, notch_sensitivity};
pub use shoulder::{ShoulderFit, highest_diameter_ratio, shoulder_factor, shoulder_fits};

/// How a shaft is loaded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Loading {
    /// Bending.
    Bending,
    /// Torsion.
    Torsion,
    /// Tension or compression along the axis.
    Axial,
}

/// Why a stress concentration cannot be given.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum ConcentrationError {
    /// A number is outside the range of the chart or fit.
    #[error("the {what} is {value}; it must lie from {lowest} to {highest}")]
    Range {
        /// Which number, with its unit.
        what: &'static str,
        /// Value that was given.
        value: f64,
        /// Smallest value accepted.
        lowest: f64,
        /// Largest value accepted.
        highest: f64,
    },
    /// A number that must be above zero is not.
    #[error("the {what} must be greater than zero and finite, not {value}")]
    NotPositive {
        /// Which number, with its unit.
        what: &'static str,
        /// Value that was given.
        value: f64,
    },
    /// The method has no constant for this loading.
    #[error("no notch constant is held for axial loading; take that of bending, as handbooks do")]
    NoAxialConstant,
}

fn in_range(what: &'static str, value: f64, lowest: f64, highest: f64) -> Result<f64, ConcentrationError> {
    // A value that is not a number is in no range.
    if (lowest..=highest).contains(&value) {
        Ok(value)
    } else {
        Err(ConcentrationError::Range { what, value, lowest, highest })
    }
}

fn positive(what: &'static str, value: f64) -> Result<f64, ConcentrationError> {
    if value.is_finite() && value > 0.0 { Ok(value) } else { Err(ConcentrationError::NotPositive { what, value }) }
}
