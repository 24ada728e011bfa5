//! Fatigue of steel shafts: endurance limit with its factors, and the named criteria.
//!
//! Stresses and strengths in any one unit unless a name carries one.

use thiserror::Error;

mod criteria;
mod damage;
mod endurance;

pub use criteria::{
    Criterion, FatigueStrength, ShaftLoad, ShaftStress, Yielding, safety, shaft_diameter, shaft_stress, yield_safety,
};
pub use damage::{cycles_at, miner_damage, reversed_stress};
pub use endurance::{
    SurfaceFinish, finite_life_strength, load_factor, reliability_factor, size_factor, surface_factor,
    uncorrected_endurance_mpa,
};

/// Why a fatigue strength or safety cannot be given.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum FatigueError {
    /// A number that must be above zero is not.
    #[error("the {what} must be greater than zero and finite, not {value}")]
    NotPositive {
        /// Which number.
        what: &'static str,
        /// Value that was given.
        value: f64,
    },
    /// A number that must not be below zero is.
    #[error("the {what} must be zero or more and finite, not {value}")]
    Negative {
        /// Which number.
        what: &'static str,
        /// Value that was given.
        value: f64,
    },
    /// A number is outside the range of the formula.
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
    /// The table has no factor for this reliability.
    #[error(
        "no factor is printed for a reliability of {percent} %; 50, 90, 95, 99, 99.9 and 99.99 are \
         accepted"
    )]
    Reliability {
        /// Reliability that was given, percent.
        percent: f64,
    },
    /// Neither a mean nor an alternating stress was given.
    #[error("a safety factor needs a load: mean and alternating stress are both zero")]
    NoLoad,
}

fn positive(what: &'static str, value: f64) -> Result<f64, FatigueError> {
    if value.is_finite() && value > 0.0 { Ok(value) } else { Err(FatigueError::NotPositive { what, value }) }
}

fn not_negative(what: &'static str, value: f64) -> Result<f64, FatigueError> {
    if value.is_finite() && value >= 0.0 { Ok(value) } else { Err(FatigueError::Negative { what, value }) }
}

fn in_range(what: &'static str, value: f64, lowest: f64, highest: f64) -> Result<f64, FatigueError> {
    // A value that is not a number is in no range.
    if (lowest..=highest).contains(&value) {
        Ok(value)
    } else {
        Err(FatigueError::Range { what, value, lowest, highest })
    }
}
