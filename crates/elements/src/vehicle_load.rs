//! Loads that a vehicle puts on the wheels and shafts of its semi-floating driven rear axle.
//!
//! SI units throughout: N, m, N·m, m/s². A weight is a force; accelerations that the text calls
//! relative are in multiples of gravity.
//!
//! The wheels are taken to be rigid on the road and the vehicle to move steadily; springs, tyres
//! and dampers move loads further for a moment, which the impact factor alone covers.
//!
//! Sources: T. D. Gillespie, Fundamentals of Vehicle Dynamics, chapters 1 and 2; R. N. Jazar,
//! Vehicle Dynamics, chapter 2; the classic half-shaft cases of chassis-design texts (Lukin et al.,
//! 1989; from memory, check). All of it can be derived again from the statics of a rigid body, and
//! the rows of the tests were.

use thiserror::Error;

mod half_shaft;
mod weight_transfer;

pub use half_shaft::{BearingReaction, CornerWheel, WheelForce, bearing_moment, bearing_reaction, impact_moment};
pub use weight_transfer::{
    CornerLoads, DriveLimit, accelerating_rear_load, axle_torque, braking_rear_load, corner_loads, grip_torque,
    lifted_wheel_drive, rear_load_at_rest, rear_wheel_drive_limit,
};

/// Acceleration of free fall, m/s², the standard value of ISO 80000-3.
pub const GRAVITY: f64 = 9.806_65;

/// Why a load cannot be computed.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum VehicleLoadError {
    /// A number that must be above zero is not.
    #[error("the {what} must be greater than zero and finite, not {value}")]
    NotPositive {
        /// Which number, with its unit.
        what: &'static str,
        /// Value that was given.
        value: f64,
    },
    /// A number that must not be below zero is.
    #[error("the {what} must be zero or more and finite, not {value}")]
    Negative {
        /// Which number, with its unit.
        what: &'static str,
        /// Value that was given.
        value: f64,
    },
    /// A number is outside the range in which the formula holds.
    #[error("the {what} is {value}; {lowest} to {highest} is accepted")]
    Range {
        /// Which number, with its unit.
        what: &'static str,
        /// Value that was given.
        value: f64,
        /// Smallest accepted value.
        lowest: f64,
        /// Largest accepted value.
        highest: f64,
    },
}

fn positive(what: &'static str, value: f64) -> Result<f64, VehicleLoadError> {
    if value.is_finite() && value > 0.0 { Ok(value) } else { Err(VehicleLoadError::NotPositive { what, value }) }
}

fn not_negative(what: &'static str, value: f64) -> Result<f64, VehicleLoadError> {
    if value.is_finite() && value >= 0.0 { Ok(value) } else { Err(VehicleLoadError::Negative { what, value }) }
}

fn in_range(what: &'static str, value: f64, lowest: f64, highest: f64) -> Result<f64, VehicleLoadError> {
    if (lowest..=highest).contains(&value) {
        Ok(value)
    } else {
        Err(VehicleLoadError::Range { what, value, lowest, highest })
    }
}
