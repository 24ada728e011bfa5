//! What the forces at one wheel do to its semi-floating half shaft.
//!
//! The wheel bearing stands at 0, the load plane of the wheel lies `b` outboard of it, and the side
//! gear holds the inner end at `L` inboard.

use super::{VehicleLoadError, in_range, not_negative, positive};

/// Forces of the road on one wheel, N, each zero or more.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WheelForce {
    /// Vertical load `Fz`.
    pub vertical_n: f64,
    /// Side force `Y`, across the vehicle.
    pub side_n: f64,
    /// Driving or braking force `Fx`, along the vehicle.
    pub along_n: f64,
}

impl WheelForce {
    fn checked(&self) -> Result<Self, VehicleLoadError> {
        Ok(Self {
            vertical_n: not_negative("vertical wheel load in N", self.vertical_n)?,
            side_n: not_negative("side force in N", self.side_n)?,
            along_n: not_negative("driving or braking force in N", self.along_n)?,
        })
    }
}

/// Which wheel of a cornering axle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CornerWheel {
    /// Outside of the turn: the road pushes it inboard, against what its weight does.
    Outer,
    /// Inside of the turn: the road pulls it outboard, and both bend the same way.
    Inner,
}

/// Bending moment of the shaft at a plane that lies `arm_m` inboard of the load plane and outboard
/// of the bearing or in it, N·m, without sign.
///
/// ```text
/// outer  Mv = Y r − Fz b        inner  Mv = Y r + Fz b
/// M = √(Mv² + (Fx b)²)
/// ```
///
/// The arm `b` may lie below zero where the load plane is inboard of the plane in question, within
/// ±0.5 m.
///
/// # Errors
///
/// [`VehicleLoadError::NotPositive`], [`VehicleLoadError::Negative`] or [`VehicleLoadError::Range`].
///
/// Source: statics of the half shaft; the classic cases of chassis-design texts (from memory,
/// check).
///
/// ```
/// use elements::vehicle_load::{CornerWheel, WheelForce, bearing_moment};
/// let force = WheelForce { vertical_n: 6000.0, side_n: 5400.0, along_n: 0.0 };
/// assert!((bearing_moment(&force, CornerWheel::Outer, 0.06, 0.32)? - 1368.0).abs() < 1e-9);
/// assert!((bearing_moment(&force, CornerWheel::Inner, 0.06, 0.32)? - 2088.0).abs() < 1e-9);
/// # Ok::<(), elements::vehicle_load::VehicleLoadError>(())
/// ```
pub fn bearing_moment(
    force: &WheelForce,
    wheel: CornerWheel,
    arm_m: f64,
    tyre_radius_m: f64,
) -> Result<f64, VehicleLoadError> {
    let force = force.checked()?;
    let arm_m = arm(arm_m)?;
    let side = force.side_n * positive("tyre radius in m", tyre_radius_m)?;
    let vertical = match wheel {
        CornerWheel::Outer => side - force.vertical_n * arm_m,
        CornerWheel::Inner => side + force.vertical_n * arm_m,
    };
    Ok(vertical.hypot(force.along_n * arm_m))
}

/// What the wheel bearing and the inner end of the shaft carry, N.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BearingReaction {
    /// Vertical force on the wheel bearing, upward on the shaft's wheel end.
    pub vertical_n: f64,
    /// Radial force on the wheel bearing, vertical and along the vehicle together.
    pub radial_n: f64,
    /// Axial force on the bearing: the side force.
    pub axial_n: f64,
    /// Vertical force on the inner end, below zero where it is held down.
    pub inner_end_n: f64,
}

/// Forces on the wheel bearing.
///
/// ```text
/// outer  Rv = (Fz (L + b) − Y r)/L        inner  Rv = (Fz (L + b) + Y r)/L
/// Rx = Fx (L + b)/L        R = √(Rv² + Rx²)
/// ```
///
/// `span_m` is `L`, above zero; the arm within ±0.5 m.
///
/// # Errors
///
/// As [`bearing_moment`].
///
/// Source: as [`bearing_moment`].
///
/// ```
/// use elements::vehicle_load::{CornerWheel, WheelForce, bearing_reaction};
/// let force = WheelForce { vertical_n: 5000.0, side_n: 0.0, along_n: 0.0 };
/// let bearing = bearing_reaction(&force, CornerWheel::Outer, 0.06, 0.65, 0.32)?;
/// assert!((bearing.vertical_n - 5461.5).abs() < 0.1);
/// assert!((bearing.inner_end_n + 461.5).abs() < 0.1);
/// # Ok::<(), elements::vehicle_load::VehicleLoadError>(())
/// ```
pub fn bearing_reaction(
    force: &WheelForce,
    wheel: CornerWheel,
    arm_m: f64,
    span_m: f64,
    tyre_radius_m: f64,
) -> Result<BearingReaction, VehicleLoadError> {
    let force = force.checked()?;
    let span_m = positive("distance from the bearing to the side gear in m", span_m)?;
    let lever = (span_m + arm(arm_m)?) / span_m;
    let side = force.side_n * positive("tyre radius in m", tyre_radius_m)? / span_m;
    let vertical_n = match wheel {
        CornerWheel::Outer => force.vertical_n * lever - side,
        CornerWheel::Inner => force.vertical_n * lever + side,
    };
    Ok(BearingReaction {
        vertical_n,
        radial_n: vertical_n.hypot(force.along_n * lever),
        axial_n: force.side_n,
        inner_end_n: force.vertical_n - vertical_n,
    })
}

/// Bending moment of a vertical impact, `M = k_d Fz b`, N·m.
///
/// `factor` is `k_d`, 1 to 5: about 1.75 for cars and 2.5 for trucks (from memory, check).
///
/// # Errors
///
/// As [`bearing_moment`].
///
/// Source: third classic case of the half shaft in chassis-design texts (from memory, check).
pub fn impact_moment(vertical_n: f64, factor: f64, arm_m: f64) -> Result<f64, VehicleLoadError> {
    Ok(in_range("impact factor", factor, 1.0, 5.0)?
        * not_negative("vertical wheel load in N", vertical_n)?
        * arm(arm_m)?.abs())
}

fn arm(arm_m: f64) -> Result<f64, VehicleLoadError> {
    in_range("distance from the load plane in m", arm_m, -0.5, 0.5)
}
