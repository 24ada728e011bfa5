//! Rolling bearings: equivalent loads, rating life, duty cycles, reliability, boundary dimensions.
//!
//! Loads may be in any one unit of force, with the ratings in the same. Angles and sizes carry
//! their unit in the name.

use thiserror::Error;

mod boundary;
mod duty;
mod equivalent;
mod life;
mod reliability;

pub use boundary::{BallSeries, BearingSize, TaperedSize, ball_bearing_size, tapered_bearing_size};
pub use duty::{DutyStep, MeanLoad, mean_load};
pub use equivalent::{
    BallFactors, BearingLoad, OpposedLoads, ball_equivalent, ball_factors, ball_static_equivalent, opposed_axial_loads,
    relative_axial_load, static_safety, tapered_equivalent, tapered_induced, tapered_static_equivalent,
};
pub use life::{RollingElement, life_distance_km, life_hours, rating_for_life, rating_life, revolutions_over};
pub use reliability::{LifeDistribution, LifeEdition, rating_for_reliability, reliability_factor, reliability_reached};

/// Why a bearing cannot be computed.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum BearingError {
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
    /// A number is outside the range of the table or formula.
    #[error("the {what} is {value}; it must lie from {lowest} to {highest}")]
    Range {
        /// Which number.
        what: &'static str,
        /// Value that was given.
        value: f64,
        /// Smallest value accepted.
        lowest: f64,
        /// Largest value accepted.
        highest: f64,
    },
    /// The standard prints no factor for this reliability.
    #[error("no factor is printed for a reliability of {percent} %; 90, 95, 96, 97, 98 and 99 are accepted")]
    Reliability {
        /// Reliability that was given, percent.
        percent: f64,
    },
    /// A duty cycle without a step that turns.
    #[error("a duty cycle needs at least one step that turns for some time")]
    NoDuty,
    /// No bearing of this bore is held in the series.
    #[error("no {series} bearing with a bore of {bore_mm} mm is held; bores held: {held}")]
    NoSize {
        /// Series that was asked for.
        series: &'static str,
        /// Bore that was given.
        bore_mm: f64,
        /// Bores that are held, in words.
        held: &'static str,
    },
}

fn positive(what: &'static str, value: f64) -> Result<f64, BearingError> {
    if value.is_finite() && value > 0.0 { Ok(value) } else { Err(BearingError::NotPositive { what, value }) }
}

fn not_negative(what: &'static str, value: f64) -> Result<f64, BearingError> {
    if value.is_finite() && value >= 0.0 { Ok(value) } else { Err(BearingError::Negative { what, value }) }
}

fn in_range(what: &'static str, value: f64, lowest: f64, highest: f64) -> Result<f64, BearingError> {
    // A value that is not a number is in no range.
    if (lowest..=highest).contains(&value) {
        Ok(value)
    } else {
        Err(BearingError::Range { what, value, lowest, highest })
    }
}
