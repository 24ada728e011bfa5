//! Tensile stress area of screw threads.

use std::f64::consts::FRAC_PI_4;

use super::{BoltError, positive};

/// Tensile stress area of a unified thread, `At = π/4 (D − 0.9743/n)²`, square inches.
///
/// `diameter_in` is the basic major diameter, `threads_per_inch` is `n`.
///
/// # Errors
///
/// [`BoltError::NotPositive`] or [`BoltError::ThreadTooDeep`].
///
/// Source: ASME B1.1, tensile stress area; tables of public fastener data print it rounded.
///
/// ```
/// use elements::bolted_joint::stress_area_inch;
/// // 1/2-20.
/// assert!((stress_area_inch(0.5, 20.0)? - 0.15995).abs() < 5e-6);
/// # Ok::<(), elements::bolted_joint::BoltError>(())
/// ```
pub fn stress_area_inch(diameter_in: f64, threads_per_inch: f64) -> Result<f64, BoltError> {
    let threads = positive("number of threads per inch", threads_per_inch)?;
    area("major diameter in inches", diameter_in, 1.0 / threads, 0.9743)
}

/// Tensile stress area of a metric thread, `At = π/4 (d − 0.9382 P)²`, square millimetres.
///
/// # Errors
///
/// [`BoltError::NotPositive`] or [`BoltError::ThreadTooDeep`].
///
/// Source: ISO 898-1, nominal stress area.
///
/// ```
/// use elements::bolted_joint::stress_area_metric;
/// // M12 × 1.5.
/// assert!((stress_area_metric(12.0, 1.5)? - 88.13).abs() < 0.01);
/// # Ok::<(), elements::bolted_joint::BoltError>(())
/// ```
pub fn stress_area_metric(diameter_mm: f64, pitch_mm: f64) -> Result<f64, BoltError> {
    let pitch_mm = positive("pitch in mm", pitch_mm)?;
    area("major diameter in mm", diameter_mm, pitch_mm, 0.9382)
}

/// Stress area as the circle between pitch and minor diameter, `π/4 ((dp + dr)/2)²`, any unit.
///
/// # Errors
///
/// [`BoltError::NotPositive`].
///
/// Source: the definition that both short formulas round.
///
/// ```
/// use elements::bolted_joint::{
///     stress_area_from_diameters, unified_minor_diameter, unified_pitch_diameter,
/// };
/// let pitch_in = unified_pitch_diameter(0.5, 20.0)?;
/// let minor_in = unified_minor_diameter(0.5, 20.0)?;
/// assert!((stress_area_from_diameters(pitch_in, minor_in)? - 0.15995).abs() < 2e-5);
/// # Ok::<(), elements::bolted_joint::BoltError>(())
/// ```
pub fn stress_area_from_diameters(pitch_diameter: f64, minor_diameter: f64) -> Result<f64, BoltError> {
    let mean = (positive("pitch diameter", pitch_diameter)? + positive("minor diameter", minor_diameter)?) / 2.0;
    Ok(FRAC_PI_4 * mean * mean)
}

/// Pitch diameter of a unified thread, `D − 0.649519/n`, inches.
///
/// # Errors
///
/// [`BoltError::NotPositive`] or [`BoltError::ThreadTooDeep`].
///
/// Source: ASME B1.1, basic thread form.
pub fn unified_pitch_diameter(diameter_in: f64, threads_per_inch: f64) -> Result<f64, BoltError> {
    let threads = positive("number of threads per inch", threads_per_inch)?;
    reduced("major diameter in inches", diameter_in, 1.0 / threads, 0.649_519)
}

/// Minor diameter of a unified thread for the stress area, `D − 1.299038/n`, inches.
///
/// # Errors
///
/// [`BoltError::NotPositive`] or [`BoltError::ThreadTooDeep`].
///
/// Source: ASME B1.1, minor diameter of the rounded external root.
pub fn unified_minor_diameter(diameter_in: f64, threads_per_inch: f64) -> Result<f64, BoltError> {
    let threads = positive("number of threads per inch", threads_per_inch)?;
    reduced("major diameter in inches", diameter_in, 1.0 / threads, 1.299_038)
}

fn area(what: &'static str, diameter: f64, pitch: f64, pitches: f64) -> Result<f64, BoltError> {
    let reduced = reduced(what, diameter, pitch, pitches)?;
    Ok(FRAC_PI_4 * reduced * reduced)
}

/// Diameter less a number of pitches.
fn reduced(what: &'static str, diameter: f64, pitch: f64, pitches: f64) -> Result<f64, BoltError> {
    let diameter = positive(what, diameter)?;
    let reduced = diameter - pitches * pitch;
    if reduced > 0.0 { Ok(reduced) } else { Err(BoltError::ThreadTooDeep { diameter, pitch }) }
}
