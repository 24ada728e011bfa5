//! Pressure and stresses of the joint.

use super::{InterferenceError, not_negative, positive};

/// Elastic constants of one member.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Elastic {
    modulus: f64,
    poisson: f64,
}

impl Elastic {
    /// Young's modulus `E`, in the unit of stress, and Poisson's ratio `ν`.
    ///
    /// # Errors
    ///
    /// [`InterferenceError::NotPositive`] for the modulus, [`InterferenceError::Poisson`] outside
    /// 0 up to, not including, 0.5.
    pub fn new(modulus: f64, poisson: f64) -> Result<Self, InterferenceError> {
        let modulus = positive("elastic modulus", modulus)?;
        if (0.0..0.5).contains(&poisson) {
            Ok(Self { modulus, poisson })
        } else {
            Err(InterferenceError::Poisson { value: poisson })
        }
    }
}

/// A shaft in a hub: their diameters and what they are made of.
///
/// With the joint diameter `d`, shaft bore `di` (zero when solid) and hub outside diameter `do`:
///
/// ```text
/// p = δ / { d [ ((do² + d²)/(do² − d²) + νo)/Eo + ((d² + di²)/(d² − di²) − νi)/Ei ] }
/// hub, at its bore       hoop  p (do² + d²)/(do² − d²)      radial −p
/// hub, outside           hoop  2 p d²/(do² − d²)            radial 0
/// shaft, at the joint    hoop  −p (d² + di²)/(d² − di²)     radial −p
/// shaft, at its bore     hoop  −2 p d²/(d² − di²)           radial 0
/// equivalent (von Mises) √(σθ² − σθ σr + σr²)
/// growth of the outside  2 p d² do/(Eo (do² − d²))
/// ```
///
/// For one material and a solid shaft the first becomes `p = E δ (do² − d²)/(2 d do²)`.
///
/// Valid for members of one length that stay elastic. A hub that ends before the shaft has a
/// higher pressure at its ends, which this does not see.
///
/// Source: Lamé's thick cylinders; Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th
/// edition, sections 3-14 and 3-16.
///
/// ```
/// use elements::interference_fit::{Elastic, PressFit};
/// // A hollow shaft 25/50 in a hub of 75 mm, 0.02 mm on diameter.
/// let steel = Elastic::new(207e3, 0.3)?;
/// let fit = PressFit::new(25.0, 50.0, 75.0, steel, steel)?;
/// let pressure_mpa = fit.pressure(0.02)?;
/// assert!((pressure_mpa - 19.41).abs() < 0.05);
/// assert!((fit.hub_bore_hoop(pressure_mpa) - 50.47).abs() < 0.05);
/// # Ok::<(), elements::interference_fit::InterferenceError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PressFit {
    bore: f64,
    diameter: f64,
    outside: f64,
    shaft: Elastic,
    hub: Elastic,
}

impl PressFit {
    /// A joint by shaft bore (zero for a solid shaft), joint diameter, hub outside diameter, and
    /// the elastic constants of shaft and hub.
    ///
    /// # Errors
    ///
    /// [`InterferenceError::NotPositive`], [`InterferenceError::Negative`],
    /// [`InterferenceError::BoreTooLarge`] or [`InterferenceError::OutsideTooSmall`] unless
    /// 0 ≤ bore < diameter < outside.
    pub fn new(
        bore: f64,
        diameter: f64,
        outside: f64,
        shaft: Elastic,
        hub: Elastic,
    ) -> Result<Self, InterferenceError> {
        let bore = not_negative("shaft bore", bore)?;
        let diameter = positive("joint diameter", diameter)?;
        let outside = positive("hub outside diameter", outside)?;
        if bore >= diameter {
            return Err(InterferenceError::BoreTooLarge { bore, diameter });
        }
        if outside <= diameter {
            return Err(InterferenceError::OutsideTooSmall { outside, diameter });
        }
        Ok(Self { bore, diameter, outside, shaft, hub })
    }

    /// Pressure in the joint from the diametral interference, zero or more.
    ///
    /// # Errors
    ///
    /// [`InterferenceError::Negative`] for an interference below zero: a clearance has no
    /// pressure.
    pub fn pressure(&self, interference: f64) -> Result<f64, InterferenceError> {
        let interference = not_negative("diametral interference", interference)?;
        Ok(interference / self.interference_per_pressure())
    }

    /// Diametral interference that a wanted pressure takes, zero or more.
    ///
    /// # Errors
    ///
    /// [`InterferenceError::Negative`] for a pressure below zero.
    pub fn interference(&self, pressure: f64) -> Result<f64, InterferenceError> {
        Ok(not_negative("pressure", pressure)? * self.interference_per_pressure())
    }

    /// Hoop stress in the hub at the joint, tension.
    #[must_use]
    pub fn hub_bore_hoop(&self, pressure: f64) -> f64 {
        pressure * self.hub_shape()
    }

    /// Hoop stress in the hub at its outside, tension.
    #[must_use]
    pub fn hub_outside_hoop(&self, pressure: f64) -> f64 {
        pressure * (self.hub_shape() - 1.0)
    }

    /// Hoop stress in the shaft at the joint, compression and so negative.
    #[must_use]
    pub fn shaft_surface_hoop(&self, pressure: f64) -> f64 {
        -pressure * self.shaft_shape()
    }

    /// Hoop stress in a hollow shaft at its bore, compression and so negative; in a solid shaft
    /// the stress at the axis, which is minus the pressure.
    #[must_use]
    pub fn shaft_bore_hoop(&self, pressure: f64) -> f64 {
        if self.bore > 0.0 { -pressure * (self.shaft_shape() + 1.0) } else { -pressure }
    }

    /// Von Mises stress in the hub at the joint, where it is highest.
    #[must_use]
    pub fn hub_equivalent(&self, pressure: f64) -> f64 {
        von_mises(self.hub_bore_hoop(pressure), -pressure)
    }

    /// Von Mises stress in the shaft at the joint.
    #[must_use]
    pub fn shaft_equivalent(&self, pressure: f64) -> f64 {
        von_mises(self.shaft_surface_hoop(pressure), -pressure)
    }

    /// How much the hub's outside diameter grows.
    ///
    /// For the inner ring of a bearing, with the raceway as outside, this is what the fit takes
    /// off the radial internal clearance. For one material and a solid shaft it is `δ d/do`.
    #[must_use]
    pub fn outside_growth(&self, pressure: f64) -> f64 {
        self.hub_outside_hoop(pressure) / self.hub.modulus * self.outside
    }

    fn interference_per_pressure(&self) -> f64 {
        let hub = (self.hub_shape() + self.hub.poisson) / self.hub.modulus;
        let shaft = (self.shaft_shape() - self.shaft.poisson) / self.shaft.modulus;
        self.diameter * (hub + shaft)
    }

    /// `(do² + d²)/(do² − d²)`.
    fn hub_shape(&self) -> f64 {
        ring_shape(self.diameter, self.outside)
    }

    /// `(d² + di²)/(d² − di²)`, 1 for a solid shaft.
    fn shaft_shape(&self) -> f64 {
        ring_shape(self.bore, self.diameter)
    }
}

fn ring_shape(inside: f64, outside: f64) -> f64 {
    let ratio = (inside / outside).powi(2);
    (1.0 + ratio) / (1.0 - ratio)
}

fn von_mises(hoop: f64, radial: f64) -> f64 {
    (hoop * hoop - hoop * radial + radial * radial).sqrt()
}
