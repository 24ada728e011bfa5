//! What the joint holds against push and twist.

use std::f64::consts::PI;

use super::{InterferenceError, not_negative, positive};

/// Friction of the joint as a range, because nobody knows it better.
///
/// Dry steel on steel is usually taken from 0.10 to 0.20, the lower value to be safe against
/// slipping, the upper one to size the press (common practice, no source).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrictionRange {
    lowest: f64,
    highest: f64,
}

impl FrictionRange {
    /// A range from the lower to the higher coefficient, above zero and up to 1.
    ///
    /// # Errors
    ///
    /// [`InterferenceError::Friction`] outside that, or with the ends swapped.
    pub fn new(lowest: f64, highest: f64) -> Result<Self, InterferenceError> {
        if lowest > 0.0 && lowest <= highest && highest <= 1.0 {
            Ok(Self { lowest, highest })
        } else {
            Err(InterferenceError::Friction { lowest, highest })
        }
    }

    /// One known coefficient.
    ///
    /// # Errors
    ///
    /// As [`Self::new`].
    pub fn exactly(coefficient: f64) -> Result<Self, InterferenceError> {
        Self::new(coefficient, coefficient)
    }
}

/// A force or torque at the lowest and at the highest friction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoldingRange {
    /// With the lowest friction: what may be relied on.
    pub lowest: f64,
    /// With the highest friction: what the press must be able to give.
    pub highest: f64,
}

/// Axial force at which the joint slips, which is also what pressing it takes at the end of the
/// stroke: `F = π d L p μ`.
///
/// Any consistent units. Diameter and length of contact above zero, pressure zero or more.
///
/// # Errors
///
/// [`InterferenceError::NotPositive`] or [`InterferenceError::Negative`].
///
/// Source: Coulomb friction on the joint; Budynas & Nisbett, Shigley's Mechanical Engineering
/// Design, 9th edition, section 7-8.
///
/// ```
/// use elements::interference_fit::{FrictionRange, holding_force};
/// let force_n = holding_force(51.19, 50.0, 40.0, FrictionRange::new(0.12, 0.20)?)?;
/// assert!((force_n.lowest - 38_596.0).abs() < 5.0);
/// # Ok::<(), elements::interference_fit::InterferenceError>(())
/// ```
pub fn holding_force(
    pressure: f64,
    diameter: f64,
    length: f64,
    friction: FrictionRange,
) -> Result<HoldingRange, InterferenceError> {
    let pressure = not_negative("pressure", pressure)?;
    let area = PI * positive("joint diameter", diameter)? * positive("length of contact", length)?;
    Ok(HoldingRange { lowest: area * pressure * friction.lowest, highest: area * pressure * friction.highest })
}

/// Torque at which the joint slips, `T = F d/2`.
///
/// Units and ranges as [`holding_force`]; the torque is in force times length.
///
/// # Errors
///
/// As [`holding_force`].
///
/// Source: as [`holding_force`].
pub fn holding_torque(
    pressure: f64,
    diameter: f64,
    length: f64,
    friction: FrictionRange,
) -> Result<HoldingRange, InterferenceError> {
    let force = holding_force(pressure, diameter, length, friction)?;
    Ok(HoldingRange { lowest: force.lowest * diameter / 2.0, highest: force.highest * diameter / 2.0 })
}

/// Least force that pressing on must take, so that the joint holds what is wanted of it.
///
/// ```text
/// F(l) = F_hold l/L
/// ```
///
/// The force at which a joint slips and the force that presses it on are one and the same Coulomb
/// friction `π d l p μ`: whatever friction and pressure are there, what was felt at the press over
/// the pressed length `l` is held again over the whole length `L`. A joint that goes on with less
/// than this holds less than `F_hold`. Friction at rest is no lower than in motion, so that the
/// joint errs to the safe side; oil, a burr or a crooked start would raise the force at the press
/// alone, so it has to be pressed on dry and straight.
///
/// `wanted_hold` is `F_hold`, zero or more; `pressed_length` `l` and `full_length` `L` above zero,
/// the first no longer than the second. Any consistent units.
///
/// # Errors
///
/// [`InterferenceError::Negative`], [`InterferenceError::NotPositive`], or
/// [`InterferenceError::PressedTooFar`] for a pressed length above the full one.
///
/// Source: Lamé's pressure does not depend on the length, Coulomb friction goes with it; one
/// workshop's rule for lock rings has the same form: what goes on with less than 2.7 tons is to be
/// replaced by a tighter one.
///
/// ```
/// use elements::interference_fit::least_press_on_force;
/// // A ring that has to hold 22 kN, half of it pressed on.
/// assert_eq!(least_press_on_force(22.0, 6.0, 12.0)?, 11.0);
/// # Ok::<(), elements::interference_fit::InterferenceError>(())
/// ```
pub fn least_press_on_force(wanted_hold: f64, pressed_length: f64, full_length: f64) -> Result<f64, InterferenceError> {
    let wanted_hold = not_negative("wanted holding force", wanted_hold)?;
    let pressed = positive("pressed length", pressed_length)?;
    let full = positive("length of contact", full_length)?;
    if pressed > full {
        return Err(InterferenceError::PressedTooFar { pressed, full });
    }
    Ok(wanted_hold * pressed / full)
}
