//! Allowable stresses and factors of the method, as tables.
//!
//! Between two printed points the safe one is taken: the next larger count, misalignment or width.

use super::{SplineCapacityError, positive};

/// Steel of the spline, by hardness.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SplineMaterial {
    /// 160 to 200 HB.
    Brinell160To200,
    /// 230 to 260 HB.
    Brinell230To260,
    /// 302 to 351 HB, 33 to 38 HRC.
    Brinell302To351,
    /// Surface-hardened to 48 to 53 HRC.
    SurfaceHardened48To53,
    /// Case-hardened to 58 to 63 HRC.
    CaseHardened58To63,
    /// Through-hardened to 42 to 46 HRC.
    ThroughHardened42To46,
}

/// Allowable stresses of one steel, psi.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AllowableStress {
    /// Shear, under the roots and at the pitch line.
    pub shear_psi: f64,
    /// Compression of straight flanks; none is printed for through-hardened steel.
    pub compressive_straight_psi: Option<f64>,
    /// Compression of crowned flanks; none is printed for through-hardened steel.
    pub compressive_crowned_psi: Option<f64>,
    /// Tension that bursts the hub (from memory, check).
    pub tensile_psi: f64,
}

/// Allowable stresses of a steel.
///
/// Source: handbook tables of allowable shear, compressive and tensile stresses for splines; the
/// tensile ones from memory, check.
///
/// ```
/// use elements::spline_capacity::{SplineMaterial, allowable_stress};
/// let soft = allowable_stress(SplineMaterial::Brinell160To200);
/// assert_eq!(soft.shear_psi, 20_000.0);
/// assert_eq!(soft.compressive_straight_psi, Some(1_500.0));
/// ```
#[must_use]
pub fn allowable_stress(material: SplineMaterial) -> AllowableStress {
    let (shear_psi, straight_psi, tensile_psi) = match material {
        SplineMaterial::Brinell160To200 => (20e3, Some(1_500.0), 22e3),
        SplineMaterial::Brinell230To260 => (30e3, Some(2_000.0), 32e3),
        SplineMaterial::Brinell302To351 => (40e3, Some(3_000.0), 45e3),
        SplineMaterial::SurfaceHardened48To53 => (40e3, Some(4_000.0), 45e3),
        SplineMaterial::CaseHardened58To63 => (50e3, Some(5_000.0), 55e3),
        SplineMaterial::ThroughHardened42To46 => (45e3, None, 50e3),
    };
    AllowableStress {
        shear_psi,
        compressive_straight_psi: straight_psi,
        // The table gives crowned flanks four times the straight ones throughout.
        compressive_crowned_psi: straight_psi.map(|straight_psi| 4.0 * straight_psi),
        tensile_psi,
    }
}

/// What turns the spline.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PowerSource {
    /// Uniform: turbine, motor.
    Uniform,
    /// Light shock: hydraulic motor.
    LightShock,
    /// Medium shock: internal combustion engine.
    MediumShock,
}

/// What the spline turns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum DrivenLoad {
    /// Uniform.
    Uniform,
    /// Light shock.
    LightShock,
    /// Intermittent shock.
    IntermittentShock,
    /// Heavy shock.
    HeavyShock,
}

/// Application factor `Ka`.
///
/// Source: Dudley's table of spline application factors.
///
/// ```
/// use elements::spline_capacity::{DrivenLoad, PowerSource, application_factor};
/// assert_eq!(application_factor(PowerSource::MediumShock, DrivenLoad::HeavyShock), 2.8);
/// ```
#[must_use]
pub fn application_factor(source: PowerSource, load: DrivenLoad) -> f64 {
    let row = match source {
        PowerSource::Uniform => [1.0, 1.2, 1.5, 1.8],
        PowerSource::LightShock => [1.2, 1.3, 1.8, 2.1],
        PowerSource::MediumShock => [2.0, 2.2, 2.4, 2.8],
    };
    match load {
        DrivenLoad::Uniform => row[0],
        DrivenLoad::LightShock => row[1],
        DrivenLoad::IntermittentShock => row[2],
        DrivenLoad::HeavyShock => row[3],
    }
}

/// Whether the torque changes its direction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TorqueReversal {
    /// Always one way.
    Unidirectional,
    /// Fully reversed.
    FullyReversed,
}

/// Fatigue-life factor `Kf` for a number of torque cycles; a cycle is one start and stop, not a
/// revolution.
///
/// Valid above zero and up to 10⁷ cycles; between the printed powers of ten the next larger one is
/// taken.
///
/// # Errors
///
/// [`SplineCapacityError::NotPositive`] or [`SplineCapacityError::PastTable`].
///
/// Source: Dudley's table of fatigue-life factors for splines.
///
/// ```
/// use elements::spline_capacity::{TorqueReversal, fatigue_life_factor};
/// assert_eq!(fatigue_life_factor(1e5, TorqueReversal::Unidirectional)?, 0.5);
/// // 20 000 cycles take the factor of 100 000.
/// assert_eq!(fatigue_life_factor(2e4, TorqueReversal::FullyReversed)?, 0.4);
/// # Ok::<(), elements::spline_capacity::SplineCapacityError>(())
/// ```
pub fn fatigue_life_factor(torque_cycles: f64, reversal: TorqueReversal) -> Result<f64, SplineCapacityError> {
    let factors = match reversal {
        TorqueReversal::Unidirectional => [1.8, 1.0, 0.5, 0.4, 0.3],
        TorqueReversal::FullyReversed => [1.8, 1.0, 0.4, 0.3, 0.2],
    };
    let place = next_larger("number of torque cycles", torque_cycles, &[1e3, 1e4, 1e5, 1e6, 1e7])?;
    Ok(factors[place])
}

/// Wear-life factor `Kw` of a flexible spline for a number of revolutions.
///
/// Valid above zero and up to 10¹⁰ revolutions; between the printed powers of ten the next larger
/// one is taken.
///
/// # Errors
///
/// [`SplineCapacityError::NotPositive`] or [`SplineCapacityError::PastTable`].
///
/// Source: Dudley's table of wear-life factors for flexible splines.
///
/// ```
/// use elements::spline_capacity::wear_life_factor;
/// assert_eq!(wear_life_factor(1e8)?, 1.0);
/// # Ok::<(), elements::spline_capacity::SplineCapacityError>(())
/// ```
pub fn wear_life_factor(revolutions: f64) -> Result<f64, SplineCapacityError> {
    let factors = [4.0, 2.8, 2.0, 1.4, 1.0, 0.7, 0.5];
    let place = next_larger("number of revolutions", revolutions, &[1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10])?;
    Ok(factors[place])
}

/// Load-distribution factor `Km` of a misaligned spline.
///
/// `misalignment` is in inches per inch (zero for a fixed spline in line), `face_width_in` the
/// width of contact. Valid up to 0.008 in/in and 4 in; between the printed values the next larger
/// is taken.
///
/// # Errors
///
/// [`SplineCapacityError::Negative`], [`SplineCapacityError::NotPositive`] or
/// [`SplineCapacityError::PastTable`].
///
/// Source: Dudley's table of load-distribution factors for misaligned splines.
///
/// ```
/// use elements::spline_capacity::distribution_factor;
/// assert_eq!(distribution_factor(0.002, 2.0)?, 1.5);
/// # Ok::<(), elements::spline_capacity::SplineCapacityError>(())
/// ```
pub fn distribution_factor(misalignment: f64, face_width_in: f64) -> Result<f64, SplineCapacityError> {
    let rows = [[1.0, 1.0, 1.0, 1.5], [1.0, 1.0, 1.5, 2.0], [1.0, 1.5, 2.0, 2.5], [1.5, 2.0, 2.5, 3.0]];
    let misalignment = super::not_negative("misalignment in in/in", misalignment)?;
    let row = at_or_above("misalignment in in/in", misalignment, &[0.001, 0.002, 0.004, 0.008])?;
    let column = next_larger("face width in inches", face_width_in, &[0.5, 1.0, 2.0, 4.0])?;
    Ok(rows[row][column])
}

/// Place of the first printed value that is not below `value`, which must be above zero.
fn next_larger(what: &'static str, value: f64, printed: &[f64]) -> Result<usize, SplineCapacityError> {
    at_or_above(what, positive(what, value)?, printed)
}

fn at_or_above(what: &'static str, value: f64, printed: &[f64]) -> Result<usize, SplineCapacityError> {
    printed.iter().position(|&printed| value <= printed).ok_or_else(|| SplineCapacityError::PastTable {
        what,
        value,
        highest: printed.last().copied().unwrap_or_default(),
    })
}
