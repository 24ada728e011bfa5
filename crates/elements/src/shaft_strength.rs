//! Round shafts, solid or hollow: stresses, twist, stiffness, depth of a hard case.
//!
//! Any consistent units: moments and torques in stress times length cubed (MPa, mm, N·mm; or psi,
//! in, lbf·in).

use std::f64::consts::PI;

use thiserror::Error;

/// Why a shaft cannot be computed.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum ShaftError {
    /// A number that must be above zero is not.
    #[error("the {what} must be greater than zero and finite, not {value}")]
    NotPositive {
        /// Which number.
        what: &'static str,
        /// Value that was given.
        value: f64,
    },
    /// A number is not finite.
    #[error("the {what} must be a finite number, not {value}")]
    NotFinite {
        /// Which number.
        what: &'static str,
        /// Value that was given.
        value: f64,
    },
    /// The bore leaves nothing of the shaft.
    #[error("a bore of {bore} does not fit a shaft of {diameter}; zero up to less than that is accepted")]
    Bore {
        /// Bore that was given.
        bore: f64,
        /// Diameter that was given.
        diameter: f64,
    },
}

/// Cross-section of a round shaft.
///
/// Source of the formulas: any text on strength of materials, for example Beer & Johnston,
/// Mechanics of Materials, chapters 3 and 4.
///
/// ```
/// use elements::shaft_strength::ShaftSection;
/// let section = ShaftSection::solid(33.0)?;
/// assert!((section.shear_stress(2_500_000.0)? - 354.30).abs() < 0.05);
/// # Ok::<(), elements::shaft_strength::ShaftError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShaftSection {
    diameter: f64,
    bore: f64,
}

impl ShaftSection {
    /// A solid section.
    ///
    /// # Errors
    ///
    /// [`ShaftError::NotPositive`].
    pub fn solid(diameter: f64) -> Result<Self, ShaftError> {
        Self::hollow(diameter, 0.0)
    }

    /// A section with a bore, zero or more and smaller than the diameter.
    ///
    /// # Errors
    ///
    /// [`ShaftError::NotPositive`] or [`ShaftError::Bore`].
    pub fn hollow(diameter: f64, bore: f64) -> Result<Self, ShaftError> {
        let diameter = positive("diameter", diameter)?;
        if (0.0..diameter).contains(&bore) {
            Ok(Self { diameter, bore })
        } else {
            Err(ShaftError::Bore { bore, diameter })
        }
    }

    /// Polar second moment of area, `J = π (d⁴ − di⁴)/32`.
    #[must_use]
    pub fn polar_moment(&self) -> f64 {
        PI * (self.diameter.powi(4) - self.bore.powi(4)) / 32.0
    }

    /// Bending stress at the surface, `σ = 32 M d/[π (d⁴ − di⁴)]`.
    ///
    /// # Errors
    ///
    /// [`ShaftError::NotFinite`].
    pub fn bending_stress(&self, moment: f64) -> Result<f64, ShaftError> {
        Ok(finite("bending moment", moment)? * self.diameter / self.polar_moment())
    }

    /// Shear stress at the surface from torsion, `τ = T d/(2J)`.
    ///
    /// # Errors
    ///
    /// [`ShaftError::NotFinite`].
    pub fn shear_stress(&self, torque: f64) -> Result<f64, ShaftError> {
        Ok(finite("torque", torque)? * self.diameter / (2.0 * self.polar_moment()))
    }

    /// Shear stress at the bore from torsion, zero in a solid shaft.
    ///
    /// # Errors
    ///
    /// [`ShaftError::NotFinite`].
    pub fn bore_shear_stress(&self, torque: f64) -> Result<f64, ShaftError> {
        Ok(self.shear_stress(torque)? * self.bore / self.diameter)
    }

    /// Torsional stiffness of a length, `G J/L`, torque per radian.
    ///
    /// # Errors
    ///
    /// [`ShaftError::NotPositive`].
    pub fn torsional_stiffness(&self, shear_modulus: f64, length: f64) -> Result<f64, ShaftError> {
        stiffness(self.polar_moment(), shear_modulus, length)
    }
}

/// Torsional stiffness of any polar second moment of area, `G J/L`, torque per radian.
///
/// # Errors
///
/// [`ShaftError::NotPositive`].
///
/// Source: Beer & Johnston, Mechanics of Materials, section 3.5.
///
/// ```
/// use elements::shaft_strength::stiffness;
/// let torque_nm = stiffness(1.021e-6, 77e9, 1.5)? * 2_f64.to_radians();
/// assert!((torque_nm - 1829.5).abs() < 0.1);
/// # Ok::<(), elements::shaft_strength::ShaftError>(())
/// ```
pub fn stiffness(polar_moment: f64, shear_modulus: f64, length: f64) -> Result<f64, ShaftError> {
    Ok(positive("polar second moment of area", polar_moment)? * positive("shear modulus", shear_modulus)?
        / positive("length", length)?)
}

/// Von Mises stress of bending and torsion at one point, `√(σ² + 3τ²)`.
///
/// # Errors
///
/// [`ShaftError::NotFinite`].
///
/// Source: distortion-energy theory; Budynas & Nisbett, Shigley's Mechanical Engineering Design,
/// 9th edition, section 5-5.
pub fn von_mises(normal: f64, shear: f64) -> Result<f64, ShaftError> {
    von_mises_plane(normal, 0.0, shear)
}

/// Von Mises stress of a plane state, `√(σx² − σx σy + σy² + 3τ²)`.
///
/// # Errors
///
/// [`ShaftError::NotFinite`].
///
/// Source: as [`von_mises`].
///
/// ```
/// use elements::shaft_strength::von_mises_plane;
/// assert!((von_mises_plane(75.0, 45.0, 0.0)? - 65.38).abs() < 0.01);
/// # Ok::<(), elements::shaft_strength::ShaftError>(())
/// ```
pub fn von_mises_plane(normal_x: f64, normal_y: f64, shear: f64) -> Result<f64, ShaftError> {
    let x = finite("normal stress", normal_x)?;
    let y = finite("normal stress", normal_y)?;
    let shear = finite("shear stress", shear)?;
    Ok((x * x - x * y + y * y + 3.0 * shear * shear).sqrt())
}

/// Equivalent stress after the maximum-shear theory, `√(σ² + 4τ²)`.
///
/// # Errors
///
/// [`ShaftError::NotFinite`].
///
/// Source: Tresca; as [`von_mises`], section 5-4.
pub fn maximum_shear_equivalent(normal: f64, shear: f64) -> Result<f64, ShaftError> {
    Ok(finite("normal stress", normal)?.hypot(2.0 * finite("shear stress", shear)?))
}

/// Least depth of a hard case as a share of the radius, so that the core does not yield in
/// torsion: `1 − τcore/τsurface`, zero when the core alone holds.
///
/// The shear stress falls in a straight line from the surface to the axis. `surface_shear` is what
/// the torque makes at the surface, without a notch; `core_torsional_yield` the shear yield
/// strength of the core.
///
/// # Errors
///
/// [`ShaftError::NotPositive`].
///
/// Source: the straight line of torsion meets the core's strength at the border of the case.
///
/// ```
/// use elements::shaft_strength::least_case_depth;
/// assert!((least_case_depth(800.0, 303.0)? - 0.62125).abs() < 1e-12);
/// # Ok::<(), elements::shaft_strength::ShaftError>(())
/// ```
pub fn least_case_depth(surface_shear: f64, core_torsional_yield: f64) -> Result<f64, ShaftError> {
    let surface = positive("shear stress at the surface", surface_shear)?;
    let core = positive("torsional yield strength of the core", core_torsional_yield)?;
    Ok((1.0 - core / surface).max(0.0))
}

fn positive(what: &'static str, value: f64) -> Result<f64, ShaftError> {
    if value.is_finite() && value > 0.0 { Ok(value) } else { Err(ShaftError::NotPositive { what, value }) }
}

fn finite(what: &'static str, value: f64) -> Result<f64, ShaftError> {
    if value.is_finite() { Ok(value) } else { Err(ShaftError::NotFinite { what, value }) }
}
