//! Stresses of the method.

use std::f64::consts::PI;

use super::{SplineCapacityError, not_negative, positive};

/// Factors of one load case, without unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoadFactors {
    /// Application factor `Ka`.
    pub application: f64,
    /// Load-distribution factor `Km`.
    pub distribution: f64,
    /// Fatigue-life factor `Kf`, by torque cycles.
    pub fatigue_life: f64,
    /// Wear-life factor `Kw`, by revolutions.
    pub wear_life: f64,
}

/// Teeth that carry.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SplineTeeth {
    /// Number of teeth `N`.
    pub teeth: u32,
    /// Pitch diameter `D`, inches.
    pub pitch_diameter_in: f64,
    /// Length over which the teeth engage, `Le`, inches.
    pub engaged_length_in: f64,
    /// Chordal tooth thickness at the pitch line, `t`, inches.
    pub chordal_thickness_in: f64,
    /// Radial height of contact `h`, inches: about 0.9/P with a flat root, 1/P with a fillet.
    pub height_in: f64,
}

/// Hub around the teeth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SplineHub {
    /// Outside diameter of the sleeve `Doi`, inches.
    pub outside_in: f64,
    /// Major diameter of the internal spline `Dri`, inches.
    pub internal_major_in: f64,
    /// Full length of the internal spline `L`, inches.
    pub length_in: f64,
    /// Pressure angle, radians.
    pub pressure_angle_rad: f64,
    /// Lewis form factor `Y` of the internal teeth, 1.5 at 30° by the handbook.
    pub form_factor: f64,
    /// Speed of rotation, revolutions a minute.
    pub speed_rev_per_min: f64,
}

/// Tension in the hub, psi.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bursting {
    /// From the radial part of the tooth load, `S1`.
    pub radial_psi: f64,
    /// From rotation, `S2`.
    pub centrifugal_psi: f64,
    /// From bending of the teeth, `S3`.
    pub bending_psi: f64,
    /// All three with their factors, `St`.
    pub total_psi: f64,
}

/// Whether the flanks slide on each other under load.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FlankMotion {
    /// Flexible: they rock or slide each turn, and wear.
    Flexible,
    /// Fixed: clamped or in line, no wear.
    Fixed,
}

/// Torsional shear of the shaft under the roots of the teeth, psi.
///
/// ```text
/// Ss = 16 T Dre Ka / (π (Dre⁴ − Dh⁴) Kf)
/// ```
///
/// `T` the torque in lbf·in, `Dre` the minor diameter of the external spline and `Dh` the bore of
/// the shaft, zero when solid, in inches. The notch of the roots is in the allowable stress.
///
/// # Errors
///
/// [`SplineCapacityError::NotPositive`] or [`SplineCapacityError::Negative`] for a number out of
/// range, [`SplineCapacityError::NotLarger`] for a bore that is not smaller than the root.
///
/// Source: handbook equations 1 and 2 of the spline stress method.
///
/// ```
/// use elements::spline_capacity::{LoadFactors, root_shear};
/// let factors = LoadFactors {
///     application: 2.0, distribution: 1.0, fatigue_life: 0.5, wear_life: 2.0,
/// };
/// let shear_psi = root_shear(12_000.0, &factors, 1.20833, 0.0)?;
/// assert!((shear_psi - 138_564.0).abs() < 10.0);
/// # Ok::<(), elements::spline_capacity::SplineCapacityError>(())
/// ```
pub fn root_shear(
    torque_lbf_in: f64,
    factors: &LoadFactors,
    minor_diameter_in: f64,
    bore_in: f64,
) -> Result<f64, SplineCapacityError> {
    let torque_lbf_in = not_negative("torque in lbf·in", torque_lbf_in)?;
    let factors = factors.checked()?;
    let minor_in = positive("external minor diameter in inches", minor_diameter_in)?;
    let bore_in = not_negative("shaft bore in inches", bore_in)?;
    larger(("external minor diameter", minor_in), ("shaft bore", bore_in))?;
    Ok(16.0 * torque_lbf_in * minor_in * factors.application
        / (PI * (minor_in.powi(4) - bore_in.powi(4)) * factors.fatigue_life))
}

/// Shear of the teeth at the pitch line, psi.
///
/// ```text
/// Ss = 4 T Ka Km / (D N Le t Kf)
/// ```
///
/// The 4 is 2 for the radius times 2 because half of the teeth are taken to carry; `t` is the
/// *chordal* thickness.
///
/// # Errors
///
/// [`SplineCapacityError::NotPositive`] or [`SplineCapacityError::Negative`].
///
/// Source: the same method, as a public engineering forum (eng-tips.com thread 446500) gives it.
pub fn pitch_line_shear(
    torque_lbf_in: f64,
    factors: &LoadFactors,
    teeth: &SplineTeeth,
) -> Result<f64, SplineCapacityError> {
    let torque_lbf_in = not_negative("torque in lbf·in", torque_lbf_in)?;
    let factors = factors.checked()?;
    let thickness_in = positive("chordal tooth thickness in inches", teeth.chordal_thickness_in)?;
    Ok(4.0 * torque_lbf_in * factors.application * factors.distribution
        / (teeth.carrying()? * thickness_in * factors.fatigue_life))
}

/// Compression of the flanks, psi.
///
/// ```text
/// flexible  Sc = 2 T Ka Km / (D N Le h Kw)
/// fixed     Sc = 2 T Ka Km / (9 D N Le h Kf)
/// ```
///
/// # Errors
///
/// [`SplineCapacityError::NotPositive`] or [`SplineCapacityError::Negative`].
///
/// Source: the same handbook section (from memory, check).
pub fn flank_compression(
    torque_lbf_in: f64,
    factors: &LoadFactors,
    teeth: &SplineTeeth,
    motion: FlankMotion,
) -> Result<f64, SplineCapacityError> {
    let torque_lbf_in = not_negative("torque in lbf·in", torque_lbf_in)?;
    let factors = factors.checked()?;
    let height_in = positive("height of contact in inches", teeth.height_in)?;
    let life = match motion {
        FlankMotion::Flexible => factors.wear_life,
        FlankMotion::Fixed => 9.0 * factors.fatigue_life,
    };
    Ok(2.0 * torque_lbf_in * factors.application * factors.distribution / (teeth.carrying()? * height_in * life))
}

/// Tension that bursts the hub, psi.
///
/// ```text
/// tw = (Doi − Dri)/2
/// S1 = T tan φ / (π D tw L)
/// S2 = 0.828e-6 n² (2 Doi² + 0.424 Dri²)      steel
/// S3 = 4 T / (D² Le Y)
/// St = (Ka Km (S1 + S3) + S2) / Kf
/// ```
///
/// # Errors
///
/// [`SplineCapacityError::NotPositive`] or [`SplineCapacityError::Negative`] for a number out of
/// range, [`SplineCapacityError::NotLarger`] for a sleeve without wall.
///
/// Source: the same handbook section (from memory, check). `S2` is the rotating ring of steel of
/// 0.283 lb/in³ with Poisson's ratio 0.3: the two coefficients follow from it.
pub fn bursting(
    torque_lbf_in: f64,
    factors: &LoadFactors,
    teeth: &SplineTeeth,
    hub: &SplineHub,
) -> Result<Bursting, SplineCapacityError> {
    let torque_lbf_in = not_negative("torque in lbf·in", torque_lbf_in)?;
    let factors = factors.checked()?;
    let outside_in = positive("sleeve outside diameter in inches", hub.outside_in)?;
    let major_in = positive("internal major diameter in inches", hub.internal_major_in)?;
    larger(("sleeve outside diameter", outside_in), ("internal major diameter", major_in))?;
    let length_in = positive("length of the internal spline in inches", hub.length_in)?;
    let tangent = positive("tangent of the pressure angle", hub.pressure_angle_rad.tan())?;
    let form_factor = positive("form factor", hub.form_factor)?;
    let speed = not_negative("speed in rev/min", hub.speed_rev_per_min)?;
    let pitch_in = positive("pitch diameter in inches", teeth.pitch_diameter_in)?;
    let engaged_in = positive("engaged length in inches", teeth.engaged_length_in)?;

    let wall_in = (outside_in - major_in) / 2.0;
    let radial_psi = torque_lbf_in * tangent / (PI * pitch_in * wall_in * length_in);
    let centrifugal_psi = 0.828e-6 * speed.powi(2) * (2.0 * outside_in.powi(2) + 0.424 * major_in.powi(2));
    let bending_psi = 4.0 * torque_lbf_in / (pitch_in.powi(2) * engaged_in * form_factor);
    let from_torque_psi = factors.application * factors.distribution * (radial_psi + bending_psi);
    Ok(Bursting {
        radial_psi,
        centrifugal_psi,
        bending_psi,
        total_psi: (from_torque_psi + centrifugal_psi) / factors.fatigue_life,
    })
}

/// Torque that a straight-sided spline carries at a flank pressure, lbf·in.
///
/// ```text
/// T = S n L (D − d)/2 (D + d)/4
/// ```
///
/// `S` the pressure in psi (1000 in the old standard for sliding splines), `n` the number of
/// teeth, `L` the length, `D` and `d` the major and minor diameters in inches.
///
/// # Errors
///
/// [`SplineCapacityError::NotPositive`] or [`SplineCapacityError::NotLarger`].
///
/// Source: Wentzell, Machine Design, example 15.2 and its section.
///
/// ```
/// use elements::spline_capacity::straight_sided_torque;
/// let torque_lbf_in = straight_sided_torque(1000.0, 6, 2.0, 1.000, 0.810)?;
/// assert!((torque_lbf_in - 515.85).abs() < 0.01);
/// # Ok::<(), elements::spline_capacity::SplineCapacityError>(())
/// ```
pub fn straight_sided_torque(
    pressure_psi: f64,
    teeth: u32,
    length_in: f64,
    major_in: f64,
    minor_in: f64,
) -> Result<f64, SplineCapacityError> {
    let pressure_psi = positive("flank pressure in psi", pressure_psi)?;
    let teeth = positive("number of teeth", f64::from(teeth))?;
    let length_in = positive("length in inches", length_in)?;
    let minor_in = positive("minor diameter in inches", minor_in)?;
    larger(("major diameter", major_in), ("minor diameter", minor_in))?;
    let height_in = (major_in - minor_in) / 2.0;
    let mean_radius_in = (major_in + minor_in) / 4.0;
    Ok(pressure_psi * teeth * length_in * height_in * mean_radius_in)
}

impl LoadFactors {
    fn checked(&self) -> Result<Self, SplineCapacityError> {
        Ok(Self {
            application: positive("application factor", self.application)?,
            distribution: positive("load-distribution factor", self.distribution)?,
            fatigue_life: positive("fatigue-life factor", self.fatigue_life)?,
            wear_life: positive("wear-life factor", self.wear_life)?,
        })
    }
}

impl SplineTeeth {
    /// `D N Le`.
    fn carrying(&self) -> Result<f64, SplineCapacityError> {
        Ok(positive("pitch diameter in inches", self.pitch_diameter_in)?
            * positive("number of teeth", f64::from(self.teeth))?
            * positive("engaged length in inches", self.engaged_length_in)?)
    }
}

fn larger(
    (larger_what, larger_in): (&'static str, f64),
    (smaller_what, smaller_in): (&'static str, f64),
) -> Result<(), SplineCapacityError> {
    if larger_in.is_finite() && larger_in > smaller_in {
        Ok(())
    } else {
        Err(SplineCapacityError::NotLarger { larger_what, larger_in, smaller_what, smaller_in })
    }
}
