//! Safety under a mean and an alternating stress.

use std::f64::consts::PI;

use super::{FatigueError, not_negative, positive};

/// Named fatigue criteria.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Criterion {
    /// Straight line to the tensile strength.
    Goodman,
    /// Parabola to the tensile strength.
    Gerber,
    /// Ellipse to the yield strength.
    AsmeElliptic,
    /// Straight line to the yield strength; the safest of the four.
    Soderberg,
}

/// Strengths that the criteria use, in one unit of stress.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FatigueStrength {
    /// Corrected endurance limit `Se`.
    pub endurance: f64,
    /// Tensile strength `Sut`.
    pub tensile: f64,
    /// Yield strength `Sy`.
    pub yield_strength: f64,
}

impl FatigueStrength {
    fn checked(&self) -> Result<Self, FatigueError> {
        Ok(Self {
            endurance: positive("endurance limit", self.endurance)?,
            tensile: positive("tensile strength", self.tensile)?,
            yield_strength: positive("yield strength", self.yield_strength)?,
        })
    }
}

/// Mean and alternating von Mises stress, notch factors included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShaftStress {
    /// Alternating stress `σa`, zero or more.
    pub alternating: f64,
    /// Mean stress `σm`, zero or more.
    pub mean: f64,
}

impl ShaftStress {
    fn checked(&self) -> Result<Self, FatigueError> {
        let checked = Self {
            alternating: not_negative("alternating stress", self.alternating)?,
            mean: not_negative("mean stress", self.mean)?,
        };
        if checked.alternating > 0.0 || checked.mean > 0.0 { Ok(checked) } else { Err(FatigueError::NoLoad) }
    }
}

/// Moments and notch factors at one section of a shaft.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShaftLoad {
    /// Alternating bending moment `Ma`.
    pub alternating_moment: f64,
    /// Mean bending moment `Mm`.
    pub mean_moment: f64,
    /// Alternating torque `Ta`.
    pub alternating_torque: f64,
    /// Mean torque `Tm`.
    pub mean_torque: f64,
    /// Fatigue stress concentration factor in bending `Kf`, 1 or more.
    pub bending_factor: f64,
    /// Fatigue stress concentration factor in torsion `Kfs`, 1 or more.
    pub torsion_factor: f64,
}

impl ShaftLoad {
    /// `A = √[4(Kf Ma)² + 3(Kfs Ta)²]`.
    fn alternating(&self) -> Result<f64, FatigueError> {
        self.combined(self.alternating_moment, self.alternating_torque)
    }

    /// `B = √[4(Kf Mm)² + 3(Kfs Tm)²]`.
    fn mean(&self) -> Result<f64, FatigueError> {
        self.combined(self.mean_moment, self.mean_torque)
    }

    fn combined(&self, moment: f64, torque: f64) -> Result<f64, FatigueError> {
        let bending = positive("bending factor", self.bending_factor)? * not_negative("bending moment", moment)?;
        let torsion = positive("torsion factor", self.torsion_factor)? * not_negative("torque", torque)?;
        Ok((2.0 * bending).hypot(3.0_f64.sqrt() * torsion))
    }
}

/// Safety factor by a criterion.
///
/// ```text
/// Goodman        1/n = σa/Se + σm/Sut
/// Gerber         n σa/Se + (n σm/Sut)² = 1
/// ASME-elliptic  (n σa/Se)² + (n σm/Sy)² = 1
/// Soderberg      1/n = σa/Se + σm/Sy
/// ```
///
/// The first three say nothing of yielding on the first cycle: check [`yield_safety`] too.
///
/// # Errors
///
/// [`FatigueError::NotPositive`], [`FatigueError::Negative`], or [`FatigueError::NoLoad`] without
/// any stress.
///
/// Source: Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th edition, section 6-12.
///
/// ```
/// use elements::fatigue::{Criterion, FatigueStrength, ShaftStress, safety};
/// let strength = FatigueStrength { endurance: 29.3, tensile: 105.0, yield_strength: 82.0 };
/// let stress = ShaftStress { alternating: 15.24, mean: 9.99 };
/// assert!((safety(Criterion::Goodman, stress, strength)? - 1.626).abs() < 1e-3);
/// # Ok::<(), elements::fatigue::FatigueError>(())
/// ```
pub fn safety(criterion: Criterion, stress: ShaftStress, strength: FatigueStrength) -> Result<f64, FatigueError> {
    let stress = stress.checked()?;
    let strength = strength.checked()?;
    Ok(1.0 / used_share(criterion, stress, strength))
}

/// The reciprocal of the safety factor: how much of the strength is used.
fn used_share(criterion: Criterion, stress: ShaftStress, strength: FatigueStrength) -> f64 {
    let alternating = stress.alternating / strength.endurance;
    let to_tensile = stress.mean / strength.tensile;
    let to_yield = stress.mean / strength.yield_strength;
    match criterion {
        Criterion::Goodman => alternating + to_tensile,
        Criterion::Soderberg => alternating + to_yield,
        Criterion::AsmeElliptic => alternating.hypot(to_yield),
        // The positive root of u² − a u − m² = 0 with u = 1/n, which stays finite without a mean
        // stress and without an alternating one.
        Criterion::Gerber => (alternating + alternating.hypot(2.0 * to_tensile)) / 2.0,
    }
}

/// How the two stresses are put together for yielding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Yielding {
    /// `√(σa² + σm²)`: exact when one is bending alone and the other torsion alone.
    RootSum,
    /// `σa + σm`: always on the safe side.
    Sum,
}

/// Safety against yielding on the first cycle.
///
/// # Errors
///
/// [`FatigueError::NotPositive`], [`FatigueError::Negative`] or [`FatigueError::NoLoad`].
///
/// Source: as [`safety`], section 7-4.
pub fn yield_safety(stress: ShaftStress, yield_strength: f64, yielding: Yielding) -> Result<f64, FatigueError> {
    let stress = stress.checked()?;
    let largest = match yielding {
        Yielding::RootSum => stress.alternating.hypot(stress.mean),
        Yielding::Sum => stress.alternating + stress.mean,
    };
    Ok(positive("yield strength", yield_strength)? / largest)
}

/// Von Mises stresses of a solid round shaft.
///
/// ```text
/// σa = 16 A/(π d³)      A = √[4(Kf Ma)² + 3(Kfs Ta)²]
/// σm = 16 B/(π d³)      B = √[4(Kf Mm)² + 3(Kfs Tm)²]
/// ```
///
/// Any consistent units, for example N·mm and mm for MPa.
///
/// # Errors
///
/// [`FatigueError::NotPositive`] or [`FatigueError::Negative`].
///
/// Source: as [`safety`], equations 7-5 and 7-6.
pub fn shaft_stress(load: &ShaftLoad, diameter: f64) -> Result<ShaftStress, FatigueError> {
    let modulus = PI * positive("diameter", diameter)?.powi(3) / 16.0;
    Ok(ShaftStress { alternating: load.alternating()? / modulus, mean: load.mean()? / modulus })
}

/// Diameter of a solid round shaft that reaches a safety factor.
///
/// ```text
/// Goodman        d³ = (16n/π)(A/Se + B/Sut)
/// Soderberg      d³ = (16n/π)(A/Se + B/Sy)
/// ASME-elliptic  d³ = (16n/π)√[(A/Se)² + (B/Sy)²]
/// Gerber         d³ = (8nA/πSe){1 + √[1 + (2BSe/ASut)²]}
/// ```
///
/// # Errors
///
/// As [`safety`].
///
/// Source: as [`safety`], section 7-4.
///
/// ```
/// use elements::fatigue::{Criterion, FatigueStrength, ShaftLoad, shaft_diameter};
/// let load = ShaftLoad {
///     alternating_moment: 70e3, mean_moment: 0.0, alternating_torque: 0.0, mean_torque: 45e3,
///     bending_factor: 1.81, torsion_factor: 1.49,
/// };
/// let strength = FatigueStrength { endurance: 375.0, tensile: 1226.0, yield_strength: 1130.0 };
/// let diameter_mm = shaft_diameter(Criterion::AsmeElliptic, &load, strength, 2.5)?;
/// assert!((diameter_mm - 20.57).abs() < 0.01);
/// # Ok::<(), elements::fatigue::FatigueError>(())
/// ```
pub fn shaft_diameter(
    criterion: Criterion,
    load: &ShaftLoad,
    strength: FatigueStrength,
    safety_factor: f64,
) -> Result<f64, FatigueError> {
    let safety_factor = positive("safety factor", safety_factor)?;
    // At a section modulus of one the stresses are A and B themselves.
    let unit = ShaftStress { alternating: load.alternating()?, mean: load.mean()? }.checked()?;
    let used = used_share(criterion, unit, strength.checked()?);
    Ok((16.0 * safety_factor / PI * used).cbrt())
}
