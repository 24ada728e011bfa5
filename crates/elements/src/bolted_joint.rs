//! Studs and bolts: stress area, strengths, preload and torque, joint stiffness, and what a wheel
//! joint carries by friction.
//!
//! Unless a name carries a unit, any consistent units work: forces in stress times length squared,
//! torques in force times length.

use thiserror::Error;

mod grade;
mod joint;
mod thread;
mod tightening;

pub use grade::{BoltStrength, InchGrade, PropertyClass, inch_grade_strength, metric_strength};
pub use joint::{
    LoadedBolt, bolt_stiffness, length_under_head, loaded_bolt, member_stiffness, serrated_hole_mm, stiffness_share,
    wheel_slip_torque,
};
pub use thread::{
    stress_area_from_diameters, stress_area_inch, stress_area_metric, unified_minor_diameter, unified_pitch_diameter,
};
pub use tightening::{NutFriction, nut_factor, preload, scattered_preload, tightening_torque, turn_angle_deg};

/// Why a bolted joint cannot be computed.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum BoltError {
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
    /// A number is outside the range.
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
    /// The thread is deeper than the bolt is thick.
    #[error("a thread of pitch {pitch} leaves nothing of a bolt of diameter {diameter}")]
    ThreadTooDeep {
        /// Diameter that was given.
        diameter: f64,
        /// Pitch that was given or follows from the threads per inch.
        pitch: f64,
    },
}

fn positive(what: &'static str, value: f64) -> Result<f64, BoltError> {
    if value.is_finite() && value > 0.0 { Ok(value) } else { Err(BoltError::NotPositive { what, value }) }
}

fn not_negative(what: &'static str, value: f64) -> Result<f64, BoltError> {
    if value.is_finite() && value >= 0.0 { Ok(value) } else { Err(BoltError::Negative { what, value }) }
}

fn in_range(what: &'static str, value: f64, lowest: f64, highest: f64) -> Result<f64, BoltError> {
    // A value that is not a number is in no range.
    if (lowest..=highest).contains(&value) { Ok(value) } else { Err(BoltError::Range { what, value, lowest, highest }) }
}
