//! From torque or turn to preload.

use std::f64::consts::PI;

use super::{BoltError, in_range, positive};

/// Preload for a share of the proof stress, `Fi = share · Sp · At`.
///
/// Any consistent units. The share runs from 0.1 to 1; usual are 0.75 for joints that are taken
/// apart and 0.90 for those that are not.
///
/// # Errors
///
/// [`BoltError::NotPositive`] or [`BoltError::Range`].
///
/// Source: Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th edition, section 8-9.
///
/// ```
/// use elements::bolted_joint::{preload, stress_area_inch};
/// // 1/2-20 of grade 8 at three quarters of proof.
/// let force_lbf = preload(120_000.0, stress_area_inch(0.5, 20.0)?, 0.75)?;
/// assert!((force_lbf - 14_400.0).abs() < 144.0);
/// # Ok::<(), elements::bolted_joint::BoltError>(())
/// ```
pub fn preload(proof_stress: f64, stress_area: f64, share: f64) -> Result<f64, BoltError> {
    Ok(in_range("share of the proof stress", share, 0.1, 1.0)?
        * positive("proof stress", proof_stress)?
        * positive("stress area", stress_area)?)
}

/// Tightening torque, `T = K d Fi`.
///
/// Any consistent units; `K` from 0.05 to 0.5. About 0.20 dry and 0.15 oiled, and uncertain by a
/// quarter either way.
///
/// # Errors
///
/// [`BoltError::NotPositive`] or [`BoltError::Range`].
///
/// Source: as [`preload`], section 8-8.
///
/// ```
/// use elements::bolted_joint::tightening_torque;
/// let torque_nm = tightening_torque(0.18, 0.020, 120_000.0)?;
/// assert!((torque_nm - 432.0).abs() < 1e-9);
/// # Ok::<(), elements::bolted_joint::BoltError>(())
/// ```
pub fn tightening_torque(nut_factor: f64, diameter: f64, preload: f64) -> Result<f64, BoltError> {
    Ok(in_range("nut factor", nut_factor, 0.05, 0.5)? * positive("diameter", diameter)? * positive("preload", preload)?)
}

/// Coefficients of friction while the nut turns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NutFriction {
    /// In the thread.
    pub thread: f64,
    /// Under the nut.
    pub collar: f64,
}

/// Nut factor of a 60° thread with a washer face of 1.25 diameters on average.
///
/// ```text
/// K = (dm/2d) (tan λ + f sec α)/(1 − f tan λ sec α) + 0.625 fc
/// tan λ = P/(π dm),  dm = (d + dr)/2,  dr = d − 1.2268 P,  α = 30°
/// ```
///
/// Diameter and pitch in one unit; frictions from 0 to 0.5.
///
/// # Errors
///
/// [`BoltError::NotPositive`], [`BoltError::Range`] or [`BoltError::ThreadTooDeep`].
///
/// Source: Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th edition, equation 8-26;
/// root diameter as in Jindal, Machine Design, example 9-3.
///
/// ```
/// use elements::bolted_joint::{NutFriction, nut_factor};
/// let factor = nut_factor(18.0, 2.5, NutFriction { thread: 0.15, collar: 0.13 })?;
/// assert!((factor - 0.18343).abs() < 1e-5);
/// # Ok::<(), elements::bolted_joint::BoltError>(())
/// ```
pub fn nut_factor(diameter: f64, pitch: f64, friction: NutFriction) -> Result<f64, BoltError> {
    let diameter = positive("diameter", diameter)?;
    let pitch = positive("pitch", pitch)?;
    let thread = in_range("thread friction", friction.thread, 0.0, 0.5)?;
    let collar = in_range("collar friction", friction.collar, 0.0, 0.5)?;
    let mean = diameter - 1.2268 * pitch / 2.0;
    if mean <= diameter / 2.0 {
        return Err(BoltError::ThreadTooDeep { diameter, pitch });
    }
    let lead = pitch / (PI * mean);
    let secant = 1.0 / 30_f64.to_radians().cos();
    let rise = (lead + thread * secant) / (1.0 - thread * lead * secant);
    Ok(mean / (2.0 * diameter) * rise + 0.625 * collar)
}

/// Turn of the nut from snug that stretches the bolt to its preload, degrees,
/// `360° · F L/(A E P)`.
///
/// Any consistent units: preload, stretched length, area, modulus, pitch. The members are taken as
/// rigid, so the real turn is larger.
///
/// # Errors
///
/// [`BoltError::NotPositive`].
///
/// Source: Wentzell, Machine Design, example 6.2.
///
/// ```
/// use elements::bolted_joint::turn_angle_deg;
/// let turn_deg = turn_angle_deg(24_131.5, 5.0, 0.334, 30e6, 0.1)?;
/// assert!((turn_deg - 43.35).abs() < 0.01);
/// # Ok::<(), elements::bolted_joint::BoltError>(())
/// ```
pub fn turn_angle_deg(preload: f64, length: f64, area: f64, modulus: f64, pitch: f64) -> Result<f64, BoltError> {
    let stretch = positive("preload", preload)? * positive("stretched length", length)?
        / (positive("area", area)? * positive("elastic modulus", modulus)?);
    Ok(360.0 * stretch / positive("pitch", pitch)?)
}

/// Least and largest preload at one torque, `F (1 ∓ s)`, where the nut factor is uncertain by the
/// share `s`.
///
/// `preload` above zero, `scatter` 0 up to, not including, 1: about a quarter with a torque wrench.
///
/// # Errors
///
/// [`BoltError::NotPositive`] or [`BoltError::Range`].
///
/// Source: Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th edition, section 8-8, on the
/// spread of preload at a torque.
///
/// ```
/// use elements::bolted_joint::scattered_preload;
/// assert_eq!(scattered_preload(40.0, 0.25)?, (30.0, 50.0));
/// # Ok::<(), elements::bolted_joint::BoltError>(())
/// ```
pub fn scattered_preload(preload: f64, scatter: f64) -> Result<(f64, f64), BoltError> {
    let preload = positive("preload", preload)?;
    let scatter = in_range("scatter of the preload", scatter, 0.0, 1.0 - f64::EPSILON)?;
    Ok((preload * (1.0 - scatter), preload * (1.0 + scatter)))
}
