//! The joint under load.

use std::f64::consts::PI;

use super::{BoltError, in_range, not_negative, positive};

/// Stiffness of a bolt's plain part in tension, `A E/L`. Any consistent units.
///
/// # Errors
///
/// [`BoltError::NotPositive`].
///
/// Source: Hooke's law.
pub fn bolt_stiffness(area: f64, modulus: f64, length: f64) -> Result<f64, BoltError> {
    Ok(positive("area", area)? * positive("elastic modulus", modulus)? / positive("length", length)?)
}

/// Stiffness of members of one material under a bolt, by the pressure cone.
///
/// ```text
/// km = π E d tan α / (2 ln[5 (l tan α + 0.5 d)/(l tan α + 2.5 d)])
/// ```
///
/// `d` the bolt diameter, `l` the grip, `α` the half angle of the cone, 20° to 45°; the washer face
/// is 1.5 diameters. Older books take 45°, newer ones 30°, which gives softer members and so puts
/// more load on the bolt. Any consistent units.
///
/// # Errors
///
/// [`BoltError::NotPositive`], or [`BoltError::Range`] for the angle.
///
/// Source: Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th edition, section 8-5,
/// with 30°; Jindal, Machine Design, example 9-4, with 45°.
///
/// ```
/// use elements::bolted_joint::member_stiffness;
/// let stiffness_n_per_mm = member_stiffness(105e3, 20.0, 80.0, 45.0)?;
/// assert!((stiffness_n_per_mm - 2.6566e6).abs() < 1e3);
/// # Ok::<(), elements::bolted_joint::BoltError>(())
/// ```
pub fn member_stiffness(modulus: f64, diameter: f64, grip: f64, cone_half_angle_deg: f64) -> Result<f64, BoltError> {
    let modulus = positive("elastic modulus", modulus)?;
    let diameter = positive("diameter", diameter)?;
    let grip = positive("grip", grip)?;
    let angle_deg = in_range("half angle of the cone in degrees", cone_half_angle_deg, 20.0, 45.0)?;
    let tangent = angle_deg.to_radians().tan();
    let spread = 5.0 * (grip * tangent + 0.5 * diameter) / (grip * tangent + 2.5 * diameter);
    Ok(PI * modulus * diameter * tangent / (2.0 * spread.ln()))
}

/// Share of an outside load that the bolt takes, `C = kb/(kb + km)`.
///
/// # Errors
///
/// [`BoltError::NotPositive`].
///
/// Source: Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th edition, section 8-7.
pub fn stiffness_share(bolt: f64, members: f64) -> Result<f64, BoltError> {
    let bolt = positive("stiffness of the bolt", bolt)?;
    Ok(bolt / (bolt + positive("stiffness of the members", members)?))
}

/// One bolt of a joint under an outside load that pulls the members apart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoadedBolt {
    /// Tension in the bolt.
    pub bolt_force: f64,
    /// What still clamps the members; at or below zero they have parted.
    pub clamp_force: f64,
    /// Stress from the preload alone, over the stress area.
    pub preload_stress: f64,
    /// Stress in the bolt, over the stress area.
    pub stress: f64,
}

/// Bolt and clamp force under an outside load, while the members still touch.
///
/// ```text
/// Fb = Fi + C P        Fm = Fi − (1 − C) P
/// ```
///
/// Any consistent units: preload, load per bolt (zero or more), share `C` from 0 to 1, stress area.
/// When the clamp force comes out at or below zero the members have parted and the bolt carries all
/// of `P`, which is then the larger of the two.
///
/// # Errors
///
/// [`BoltError::NotPositive`], [`BoltError::Negative`] or [`BoltError::Range`].
///
/// Source: as [`stiffness_share`], sections 8-7 and 8-9.
///
/// ```
/// use elements::bolted_joint::loaded_bolt;
/// let bolt = loaded_bolt(120_000.0, 30_000.0, 0.35, 245.0)?;
/// assert!((bolt.stress - 532.65).abs() < 0.01);
/// # Ok::<(), elements::bolted_joint::BoltError>(())
/// ```
pub fn loaded_bolt(preload: f64, load: f64, share: f64, stress_area: f64) -> Result<LoadedBolt, BoltError> {
    let preload = positive("preload", preload)?;
    let load = not_negative("load on one bolt", load)?;
    let share = in_range("share of the bolt", share, 0.0, 1.0)?;
    let area = positive("stress area", stress_area)?;
    let clamp_force = preload - (1.0 - share) * load;
    let bolt_force = if clamp_force > 0.0 { preload + share * load } else { load };
    Ok(LoadedBolt { bolt_force, clamp_force, preload_stress: preload / area, stress: bolt_force / area })
}

/// Torque at which a wheel joint starts to slip, `T = n μ F R`.
///
/// `studs` the number `n` of studs, `clamp` the force of each, `friction` of the *one* interface
/// between wheel and drum, from 0.01 to 1, and `circle` the *diameter* of the bolt circle; `R` is
/// half of it. Any consistent units.
///
/// # Errors
///
/// [`BoltError::NotPositive`] or [`BoltError::Range`].
///
/// Source: Coulomb friction at the mean radius of the studs.
///
/// ```
/// use elements::bolted_joint::wheel_slip_torque;
/// let torque_nm = wheel_slip_torque(5, 45_000.0, 0.15, 0.1143)?;
/// assert!((torque_nm - 1928.8).abs() < 0.1);
/// # Ok::<(), elements::bolted_joint::BoltError>(())
/// ```
pub fn wheel_slip_torque(studs: u32, clamp: f64, friction: f64, circle: f64) -> Result<f64, BoltError> {
    Ok(positive("number of studs", f64::from(studs))?
        * positive("clamp force", clamp)?
        * in_range("friction", friction, 0.01, 1.0)?
        * positive("bolt circle", circle)?
        / 2.0)
}

/// Usual hole for a serrated stud that is pressed into steel: least and largest diameter,
/// millimetres, 0.4 and 0.2 below the crest of the serrations.
///
/// Serrations differ from maker to maker, and no standard was found: a trial press into the real
/// steel settles it. For a warning, not for a limit.
///
/// # Errors
///
/// [`BoltError::Range`] outside crests of 5 to 30 mm.
///
/// Source: common practice, no source.
///
/// ```
/// use elements::bolted_joint::serrated_hole_mm;
/// let (least_mm, largest_mm) = serrated_hole_mm(15.6)?;
/// assert!((least_mm - 15.2).abs() < 1e-9 && (largest_mm - 15.4).abs() < 1e-9);
/// # Ok::<(), elements::bolted_joint::BoltError>(())
/// ```
pub fn serrated_hole_mm(crest_diameter_mm: f64) -> Result<(f64, f64), BoltError> {
    let crest_mm = in_range("crest of the serrations in mm", crest_diameter_mm, 5.0, 30.0)?;
    Ok((crest_mm - 0.4, crest_mm - 0.2))
}

/// Length under the head of a wheel stud, the sum of what stands between its head and the end of the
/// nut: flange, drum or rotor (zero where there is none), wheel, and the thread that the nut takes.
///
/// Any consistent unit; all above zero but the drum. It is the least: the next longer stud is taken.
///
/// # Errors
///
/// [`BoltError::NotPositive`] or [`BoltError::Negative`].
///
/// Source: the sum of the parts; common practice, no source.
///
/// ```
/// use elements::bolted_joint::length_under_head;
/// assert_eq!(length_under_head(0.375, 0.25, 0.5, 0.75)?, 1.875);
/// # Ok::<(), elements::bolted_joint::BoltError>(())
/// ```
pub fn length_under_head(flange: f64, drum: f64, wheel: f64, nut: f64) -> Result<f64, BoltError> {
    Ok(positive("thickness of the flange", flange)?
        + not_negative("thickness of the drum", drum)?
        + positive("thickness of the wheel", wheel)?
        + positive("thread that the nut takes", nut)?)
}
