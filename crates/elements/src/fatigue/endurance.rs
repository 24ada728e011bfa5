//! Endurance limit and what lowers it.

use crate::stress_concentration::Loading;

use super::{FatigueError, in_range, positive};

/// How the surface was finished.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SurfaceFinish {
    /// Ground.
    Ground,
    /// Machined or cold-drawn.
    Machined,
    /// Hot-rolled.
    HotRolled,
    /// As forged.
    Forged,
}

/// Endurance limit of a polished rotating-beam specimen, `0.5 Sut`, at most 700 MPa.
///
/// `tensile_mpa` from 300 to 2500.
///
/// # Errors
///
/// [`FatigueError::Range`].
///
/// Source: Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th edition, equation 6-8.
///
/// ```
/// use elements::fatigue::uncorrected_endurance_mpa;
/// assert_eq!(uncorrected_endurance_mpa(900.0)?, 450.0);
/// assert_eq!(uncorrected_endurance_mpa(1600.0)?, 700.0);
/// # Ok::<(), elements::fatigue::FatigueError>(())
/// ```
pub fn uncorrected_endurance_mpa(tensile_mpa: f64) -> Result<f64, FatigueError> {
    let tensile_mpa = in_range("tensile strength in MPa", tensile_mpa, 300.0, 2500.0)?;
    Ok((0.5 * tensile_mpa).min(700.0))
}

/// Surface factor `ka = a Sut^b`, `Sut` in MPa, at most 1.
///
/// ```text
///             a        b
/// ground      1.58    −0.085
/// machined    4.51    −0.265
/// hot-rolled  57.7    −0.718
/// forged      272     −0.995
/// ```
///
/// `tensile_mpa` from 300 to 2500.
///
/// # Errors
///
/// [`FatigueError::Range`].
///
/// Source: as [`uncorrected_endurance_mpa`], table 6-2; also R. L. Norton, Machine Design.
///
/// ```
/// use elements::fatigue::{SurfaceFinish, surface_factor};
/// assert!((surface_factor(SurfaceFinish::Machined, 1000.0)? - 0.7231).abs() < 1e-4);
/// # Ok::<(), elements::fatigue::FatigueError>(())
/// ```
pub fn surface_factor(finish: SurfaceFinish, tensile_mpa: f64) -> Result<f64, FatigueError> {
    let tensile_mpa = in_range("tensile strength in MPa", tensile_mpa, 300.0, 2500.0)?;
    let (coefficient, exponent): (f64, f64) = match finish {
        SurfaceFinish::Ground => (1.58, -0.085),
        SurfaceFinish::Machined => (4.51, -0.265),
        SurfaceFinish::HotRolled => (57.7, -0.718),
        SurfaceFinish::Forged => (272.0, -0.995),
    };
    Ok((coefficient * tensile_mpa.powf(exponent)).min(1.0))
}

/// Size factor of a rotating round shaft in bending or torsion.
///
/// ```text
/// kb = (d/7.62)^−0.107       2.79 ≤ d ≤ 51 mm
/// kb = 1.51 d^−0.157         51 < d ≤ 254 mm
/// ```
///
/// # Errors
///
/// [`FatigueError::Range`] outside 2.79 to 254 mm.
///
/// Source: as [`uncorrected_endurance_mpa`], equation 6-20.
///
/// ```
/// use elements::fatigue::size_factor;
/// assert!((size_factor(22.0)? - 0.893).abs() < 5e-4);
/// # Ok::<(), elements::fatigue::FatigueError>(())
/// ```
pub fn size_factor(diameter_mm: f64) -> Result<f64, FatigueError> {
    let diameter_mm = in_range("diameter in mm", diameter_mm, 2.79, 254.0)?;
    Ok(if diameter_mm <= 51.0 { (diameter_mm / 7.62).powf(-0.107) } else { 1.51 * diameter_mm.powf(-0.157) })
}

/// Load factor `kc` of a single kind of loading: 1 in bending, 0.85 axial, 0.59 in torsion.
///
/// With combined loading it is 1: von Mises' stress brings the factor of torsion in.
///
/// Source: as [`uncorrected_endurance_mpa`], equation 6-26.
#[must_use]
pub fn load_factor(loading: Loading) -> f64 {
    match loading {
        Loading::Bending => 1.0,
        Loading::Axial => 0.85,
        Loading::Torsion => 0.59,
    }
}

/// Reliability factor `ke` for a reliability in percent, with a standard deviation of 8 %.
///
/// # Errors
///
/// [`FatigueError::Reliability`] for a reliability that is not printed.
///
/// Source: R. L. Norton, Machine Design, as a public source file transcribes it; the same numbers as
/// Shigley's table 6-5.
///
/// ```
/// use elements::fatigue::reliability_factor;
/// assert_eq!(reliability_factor(99.0)?, 0.814);
/// # Ok::<(), elements::fatigue::FatigueError>(())
/// ```
pub fn reliability_factor(percent: f64) -> Result<f64, FatigueError> {
    [(50.0, 1.0), (90.0, 0.897), (95.0, 0.868), (99.0, 0.814), (99.9, 0.753), (99.99, 0.702)]
        .into_iter()
        .find(|(printed, _)| *printed == percent)
        .map(|(_, factor)| factor)
        .ok_or(FatigueError::Reliability { percent })
}

/// Strength at fewer than a million cycles, `S = Se (10⁶/N)^m`.
///
/// `cycles` from 10³ to 10⁶; the exponent `m` from 0.03 to 0.25 (0.09 in Wentzell's examples). Above
/// a million cycles steel is taken to last.
///
/// # Errors
///
/// [`FatigueError::NotPositive`] or [`FatigueError::Range`].
///
/// Source: the straight line of the logarithmic S-N diagram; Wentzell, Machine Design, example
/// 5.6.
///
/// ```
/// use elements::fatigue::finite_life_strength;
/// let strength_psi = finite_life_strength(17_952.0, 1e5, 0.09)?;
/// assert!((strength_psi - 22_086.0).abs() < 1.0);
/// # Ok::<(), elements::fatigue::FatigueError>(())
/// ```
pub fn finite_life_strength(endurance: f64, cycles: f64, exponent: f64) -> Result<f64, FatigueError> {
    let cycles = in_range("number of cycles", cycles, 1e3, 1e6)?;
    let exponent = in_range("exponent of the S-N line", exponent, 0.03, 0.25)?;
    Ok(positive("endurance limit", endurance)? * (1e6 / cycles).powf(exponent))
}
