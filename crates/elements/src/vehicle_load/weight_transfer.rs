//! How much weight stands on the rear axle, and how hard it can drive.

use super::{VehicleLoadError, in_range, not_negative, positive};

/// No tyre grips harder than this; beyond it the numbers are a slip of unit.
const HIGHEST_GRIP: f64 = 3.0;

/// Load of the rear axle at rest, `N = W a₁/l`.
///
/// `weight_n` the weight `W`, `front_to_centre_m` the distance `a₁` from the front axle to the
/// centre of gravity, `wheelbase_m` the wheelbase `l`; `0 < a₁ < l`.
///
/// # Errors
///
/// [`VehicleLoadError::NotPositive`] or [`VehicleLoadError::Range`].
///
/// Source: R. N. Jazar, Vehicle Dynamics, section 2.1.
///
/// ```
/// use elements::vehicle_load::rear_load_at_rest;
/// // 890 kg, a₁ 0.78 m, wheelbase 2.35 m: 1449 N on each rear wheel.
/// let axle_n = rear_load_at_rest(890.0 * 9.81, 0.78, 2.35)?;
/// assert!((axle_n / 2.0 - 1449.0).abs() < 0.5);
/// # Ok::<(), elements::vehicle_load::VehicleLoadError>(())
/// ```
pub fn rear_load_at_rest(weight_n: f64, front_to_centre_m: f64, wheelbase_m: f64) -> Result<f64, VehicleLoadError> {
    let wheelbase_m = positive("wheelbase in m", wheelbase_m)?;
    let front_to_centre_m =
        in_range("distance front axle to centre of gravity in m", front_to_centre_m, 0.0, wheelbase_m)?;
    Ok(positive("weight in N", weight_n)? * front_to_centre_m / wheelbase_m)
}

/// Load of the rear axle while the vehicle speeds up, `N = N₀ + W (h/l)(aₓ/g)`.
///
/// `rest_load_n` the load at rest, `height_ratio` the height of the centre of gravity over the
/// wheelbase, 0 to 1, `relative_acceleration` `aₓ/g`, zero or more.
///
/// # Errors
///
/// [`VehicleLoadError::NotPositive`], [`VehicleLoadError::Negative`] or [`VehicleLoadError::Range`].
///
/// Source: Jazar, section 2.3; Gillespie, chapter 1.
pub fn accelerating_rear_load(
    rest_load_n: f64,
    weight_n: f64,
    height_ratio: f64,
    relative_acceleration: f64,
) -> Result<f64, VehicleLoadError> {
    let transfer = transfer(weight_n, height_ratio, relative_acceleration)?;
    Ok(positive("load at rest in N", rest_load_n)? + transfer)
}

/// Load of the rear axle under braking, `N = N₀ − W (h/l)(aₓ/g)`.
///
/// Arguments as [`accelerating_rear_load`], with the deceleration as `relative_deceleration`.
///
/// # Errors
///
/// As [`accelerating_rear_load`]; [`VehicleLoadError::Negative`] where the rear wheels would lift.
///
/// Source: as [`accelerating_rear_load`].
pub fn braking_rear_load(
    rest_load_n: f64,
    weight_n: f64,
    height_ratio: f64,
    relative_deceleration: f64,
) -> Result<f64, VehicleLoadError> {
    let transfer = transfer(weight_n, height_ratio, relative_deceleration)?;
    not_negative("load of the rear axle under braking in N", positive("load at rest in N", rest_load_n)? - transfer)
}

fn transfer(weight_n: f64, height_ratio: f64, relative_acceleration: f64) -> Result<f64, VehicleLoadError> {
    Ok(positive("weight in N", weight_n)?
        * in_range("height of the centre of gravity over the wheelbase", height_ratio, 0.0, 1.0)?
        * not_negative("acceleration over gravity", relative_acceleration)?)
}

/// What the tyres of a driven rear axle can do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DriveLimit {
    /// Driving force of both wheels together, N.
    pub force_n: f64,
    /// Load of the axle meanwhile, N.
    pub rear_load_n: f64,
    /// Whether the front wheels leave the road, so that the axle carries the whole weight.
    pub front_wheels_lift: bool,
}

/// Driving force at which both rear tyres slip, with the weight that the acceleration moves back.
///
/// ```text
/// Fx = μ N₀/(1 − μ h/l)        N = Fx/μ
/// ```
///
/// Where that would put more than the whole weight on the axle, the front wheels lift; then
/// `N = W` and `Fx = μ W`, and the result says so.
///
/// `grip` is `μ`, above 0 and up to 3; `height_ratio` is `h/l`, 0 to 1.
///
/// # Errors
///
/// [`VehicleLoadError::NotPositive`] or [`VehicleLoadError::Range`].
///
/// Source: Gillespie, section 2 (traction-limited acceleration); Jazar, equation 2.110 and after.
///
/// ```
/// use elements::vehicle_load::{GRAVITY, rear_wheel_drive_limit};
/// let weight = 1500.0 * GRAVITY;
/// let limit = rear_wheel_drive_limit(weight * 1.45 / 2.7, weight, 0.55 / 2.7, 0.9)?;
/// assert!((limit.force_n - 8708.9).abs() < 4.0);
/// assert!(!limit.front_wheels_lift);
/// # Ok::<(), elements::vehicle_load::VehicleLoadError>(())
/// ```
pub fn rear_wheel_drive_limit(
    rest_load_n: f64,
    weight_n: f64,
    height_ratio: f64,
    grip: f64,
) -> Result<DriveLimit, VehicleLoadError> {
    let weight_n = positive("weight in N", weight_n)?;
    let rest_load_n =
        in_range("load of the rear axle at rest in N", positive("load at rest in N", rest_load_n)?, 0.0, weight_n)?;
    let height_ratio = in_range("height of the centre of gravity over the wheelbase", height_ratio, 0.0, 1.0)?;
    let grip = in_range("grip", positive("grip", grip)?, 0.0, HIGHEST_GRIP)?;
    let denominator = 1.0 - grip * height_ratio;
    let rear_load_n = rest_load_n / denominator;
    if denominator <= 0.0 || rear_load_n > weight_n {
        return Ok(DriveLimit { force_n: grip * weight_n, rear_load_n: weight_n, front_wheels_lift: true });
    }
    Ok(DriveLimit { force_n: grip * rear_load_n, rear_load_n, front_wheels_lift: false })
}

/// Driving force of a solid rear axle with an open differential whose driveline torque lifts one
/// wheel, N.
///
/// ```text
/// Fx = μ N₀/(1 − μ h/l + (2 μ r/(i_f t)) K)
/// ```
///
/// `final_drive` is `i_f`, `track_m` is `t`, and `roll_share` is `K`, the share of the vehicle's
/// roll stiffness that takes up the torque at the other axle, 0 to 1.
///
/// # Errors
///
/// As [`rear_wheel_drive_limit`].
///
/// Source: Gillespie, section 2, equation for solid drive axles with a non-locking differential
/// (from memory, check).
pub fn lifted_wheel_drive(
    rest_load_n: f64,
    height_ratio: f64,
    grip: f64,
    tyre_radius_m: f64,
    final_drive: f64,
    track_m: f64,
    roll_share: f64,
) -> Result<f64, VehicleLoadError> {
    let grip = in_range("grip", positive("grip", grip)?, 0.0, HIGHEST_GRIP)?;
    let height_ratio = in_range("height of the centre of gravity over the wheelbase", height_ratio, 0.0, 1.0)?;
    let lifting = 2.0 * grip * positive("tyre radius in m", tyre_radius_m)?
        / (positive("final drive ratio", final_drive)? * positive("track in m", track_m)?)
        * in_range("share of the roll stiffness", roll_share, 0.0, 1.0)?;
    let denominator = positive("1 − μ h/l and what lifts the wheel", 1.0 - grip * height_ratio + lifting)?;
    Ok(grip * positive("load at rest in N", rest_load_n)? / denominator)
}

/// Torque that engine and gears bring to both shafts together, `T = Te i_g i_f K η`, N·m.
///
/// `converter` is the torque ratio `K` of the converter, 1 to 4 (1 without one), `efficiency` above
/// 0 and up to 1.
///
/// # Errors
///
/// [`VehicleLoadError::NotPositive`] or [`VehicleLoadError::Range`].
///
/// Source: Gillespie, chapter 2 (engine-limited acceleration).
///
/// ```
/// use elements::vehicle_load::axle_torque;
/// let both_nm = axle_torque(400.0, 2.97, 3.73, 1.0, 0.88)?;
/// assert!((both_nm - 3899.5).abs() < 0.1);
/// # Ok::<(), elements::vehicle_load::VehicleLoadError>(())
/// ```
pub fn axle_torque(
    engine_nm: f64,
    first_gear: f64,
    final_drive: f64,
    converter: f64,
    efficiency: f64,
) -> Result<f64, VehicleLoadError> {
    Ok(positive("engine torque in N·m", engine_nm)?
        * positive("first-gear ratio", first_gear)?
        * positive("final drive ratio", final_drive)?
        * in_range("torque ratio of the converter", converter, 1.0, 4.0)?
        * in_range("efficiency of the driveline", positive("efficiency of the driveline", efficiency)?, 0.0, 1.0)?)
}

/// Torque at which one tyre slips, `T = μ Fz r`, N·m.
///
/// # Errors
///
/// [`VehicleLoadError::NotPositive`], [`VehicleLoadError::Negative`] or [`VehicleLoadError::Range`].
///
/// Source: Coulomb friction at the tyre.
pub fn grip_torque(wheel_load_n: f64, grip: f64, tyre_radius_m: f64) -> Result<f64, VehicleLoadError> {
    Ok(not_negative("wheel load in N", wheel_load_n)?
        * in_range("grip", positive("grip", grip)?, 0.0, HIGHEST_GRIP)?
        * positive("tyre radius in m", tyre_radius_m)?)
}

/// Wheel loads of one axle in a steady corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CornerLoads {
    /// Load of the wheel outside of the turn, N.
    pub outer_n: f64,
    /// Load of the wheel inside of the turn, N.
    pub inner_n: f64,
    /// Whether the inner wheel leaves the road, so that the outer one carries the whole axle.
    pub inner_wheel_lifts: bool,
}

/// Wheel loads of one axle in a steady corner, each axle carrying its own roll moment.
///
/// ```text
/// ΔFz = N (a/g) h/B        outer N/2 + ΔFz        inner N/2 − ΔFz
/// ```
///
/// `relative_acceleration` is `a/g`, 0 to 3; `centre_height_m` is `h`, `track_m` is `B`. Where the
/// inner load would fall below nothing the wheel lifts, and the result says so.
///
/// # Errors
///
/// [`VehicleLoadError::NotPositive`] or [`VehicleLoadError::Range`].
///
/// Source: Gillespie, chapter 6, lateral load transfer of one axle without roll of the body.
///
/// ```
/// use elements::vehicle_load::corner_loads;
/// let loads = corner_loads(9000.0, 0.7, 0.55, 1.45)?;
/// assert!((loads.outer_n - 6889.7).abs() < 0.1);
/// # Ok::<(), elements::vehicle_load::VehicleLoadError>(())
/// ```
pub fn corner_loads(
    axle_load_n: f64,
    relative_acceleration: f64,
    centre_height_m: f64,
    track_m: f64,
) -> Result<CornerLoads, VehicleLoadError> {
    let axle_load_n = positive("axle load in N", axle_load_n)?;
    let transfer = axle_load_n
        * in_range("lateral acceleration over gravity", relative_acceleration, 0.0, HIGHEST_GRIP)?
        * positive("height of the centre of gravity in m", centre_height_m)?
        / positive("track in m", track_m)?;
    let inner_n = axle_load_n / 2.0 - transfer;
    if inner_n < 0.0 {
        return Ok(CornerLoads { outer_n: axle_load_n, inner_n: 0.0, inner_wheel_lifts: true });
    }
    Ok(CornerLoads { outer_n: axle_load_n / 2.0 + transfer, inner_n, inner_wheel_lifts: false })
}
