//! Interference fits after Lamé: pressure, stresses, holding, heating, and what a ring grows.
//!
//! A shaft of diameter `d` (solid, or with a bore `di`) sits in a hub of outside diameter `do`; both
//! are long plain cylinders in plane stress and stay elastic. `δ` is the *diametral* interference
//! throughout. With the radial one every pressure here would be half of what it is.
//!
//! Unless a name carries a unit, any consistent units work: lengths in one, moduli and stresses in
//! another, forces in stress times length squared (mm, MPa, N; or in, psi, lbf).

use thiserror::Error;

mod assembly;
mod holding;
mod pressure;

pub use assembly::{SeatFinish, effective_interference_mm, heating_rise};
pub use holding::{FrictionRange, HoldingRange, holding_force, holding_torque, least_press_on_force};
pub use pressure::{Elastic, PressFit};

/// Why an interference fit cannot be computed.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum InterferenceError {
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
    /// The bore leaves nothing of the shaft.
    #[error("a bore of {bore} leaves nothing of a shaft of {diameter}; it must be smaller")]
    BoreTooLarge {
        /// Bore of the shaft.
        bore: f64,
        /// Diameter of the joint.
        diameter: f64,
    },
    /// The hub has no wall.
    #[error("a hub of {outside} outside has no wall on a seat of {diameter}; it must be larger")]
    OutsideTooSmall {
        /// Outside diameter of the hub.
        outside: f64,
        /// Diameter of the joint.
        diameter: f64,
    },
    /// Poisson's ratio is not one of a solid.
    #[error("Poisson's ratio is {value}; it must be zero or more and below 0.5")]
    Poisson {
        /// Value that was given.
        value: f64,
    },
    /// More was pressed on than there is.
    #[error("a length of {pressed} cannot be pressed on where the joint is {full} long")]
    PressedTooFar {
        /// Length that was given as pressed on.
        pressed: f64,
        /// Length of the joint.
        full: f64,
    },
    /// The friction cannot be.
    #[error(
        "friction from {lowest} to {highest} cannot be; the lower must be above zero, the upper \
         not below it and not above 1"
    )]
    Friction {
        /// Lower coefficient.
        lowest: f64,
        /// Upper coefficient.
        highest: f64,
    },
}

fn positive(what: &'static str, value: f64) -> Result<f64, InterferenceError> {
    if value.is_finite() && value > 0.0 { Ok(value) } else { Err(InterferenceError::NotPositive { what, value }) }
}

fn not_negative(what: &'static str, value: f64) -> Result<f64, InterferenceError> {
    if value.is_finite() && value >= 0.0 { Ok(value) } else { Err(InterferenceError::Negative { what, value }) }
}
