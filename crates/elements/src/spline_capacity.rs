//! What an involute spline carries, by Dudley's handbook method.
//!
//! Four stresses are compared with allowable ones: shear under the roots, shear of the teeth at the
//! pitch line, compression of the flanks, and tension that bursts the hub. The factors stand on the
//! side of the stress here; Dudley put them on the side of the allowable stress, with the same
//! result. `Kf` counts torque cycles, that is starts; `Kw` counts revolutions. They are not
//! interchangeable.
//!
//! Units: lbf·in, inches, psi, as the handbook has them.
//!
//! Source: D. W. Dudley, "When splines need stress control", Product Engineering, 1957, tables I to
//! VI, as a public page transcribes them; Machinery's Handbook, section on involute splines, tables
//! 9 and 10 and equations 1 and 2. The forms for flank compression and bursting are of the same
//! handbook section (from memory, check).

use thiserror::Error;

mod factors;
mod stresses;

pub use factors::{
    AllowableStress, DrivenLoad, PowerSource, SplineMaterial, TorqueReversal, allowable_stress, application_factor,
    distribution_factor, fatigue_life_factor, wear_life_factor,
};
pub use stresses::{
    Bursting, FlankMotion, LoadFactors, SplineHub, SplineTeeth, bursting, flank_compression, pitch_line_shear,
    root_shear, straight_sided_torque,
};

/// Why a spline's stress cannot be computed.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum SplineCapacityError {
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
    /// A number lies past the end of a table.
    #[error("the {what} is {value}, past the end of the table; up to {highest} is accepted")]
    PastTable {
        /// Which number, with its unit.
        what: &'static str,
        /// Value that was given.
        value: f64,
        /// Last value of the table.
        highest: f64,
    },
    /// The larger of two diameters is not larger.
    #[error("the {larger_what} is {larger_in} in; it must be larger than the {smaller_what}, {smaller_in} in")]
    NotLarger {
        /// Which diameter must be the larger.
        larger_what: &'static str,
        /// Its value.
        larger_in: f64,
        /// Which diameter must be the smaller.
        smaller_what: &'static str,
        /// Its value.
        smaller_in: f64,
    },
}

fn positive(what: &'static str, value: f64) -> Result<f64, SplineCapacityError> {
    if value.is_finite() && value > 0.0 { Ok(value) } else { Err(SplineCapacityError::NotPositive { what, value }) }
}

fn not_negative(what: &'static str, value: f64) -> Result<f64, SplineCapacityError> {
    if value.is_finite() && value >= 0.0 { Ok(value) } else { Err(SplineCapacityError::Negative { what, value }) }
}
