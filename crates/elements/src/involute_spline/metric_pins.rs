//! Pins for metric splines, by the sizes that can be bought.

use super::{Din5480Spline, Iso4156Spline, SplineError};

/// One decade of the preferred numbers R 40.
const R_40: [f64; 40] = [
    1.00, 1.06, 1.12, 1.18, 1.25, 1.32, 1.40, 1.50, 1.60, 1.70, 1.80, 1.90, 2.00, 2.12, 2.24, 2.36, 2.50, 2.65, 2.80,
    3.00, 3.15, 3.35, 3.55, 3.75, 4.00, 4.25, 4.50, 4.75, 5.00, 5.30, 5.60, 6.00, 6.30, 6.70, 7.10, 7.50, 8.00, 8.50,
    9.00, 9.50,
];

/// The pin of the preferred numbers R 40 that is nearest to a wanted one, in ratio, mm.
///
/// `wanted_mm` above zero.
///
/// # Errors
///
/// [`SplineError::NotPositive`].
///
/// Source: ISO 3:1973, preferred numbers.
///
/// ```
/// use elements::involute_spline::nearest_r40_pin_mm;
/// assert_eq!(nearest_r40_pin_mm(2.42)?, 2.36);
/// assert_eq!(nearest_r40_pin_mm(9.9)?, 10.0);
/// # Ok::<(), elements::involute_spline::SplineError>(())
/// ```
pub fn nearest_r40_pin_mm(wanted_mm: f64) -> Result<f64, SplineError> {
    let wanted_mm = super::positive("pin diameter in mm", wanted_mm)?;
    let decade = 10_f64.powf(wanted_mm.log10().floor());
    let away = |pin: f64| (pin / wanted_mm).ln().abs();
    let pins = R_40.into_iter().map(|number| number * decade).chain([10.0 * decade]);
    Ok(pins.reduce(|best, next| if away(next) < away(best) { next } else { best }).unwrap_or(decade))
}

impl Iso4156Spline {
    /// Pin over the shaft: of the preferred numbers R 40 the one nearest to what touches at the pitch circle
    /// at that circular tooth thickness, mm.
    ///
    /// # Errors
    ///
    /// As [`InvoluteFlanks::external_pin_touching`](super::InvoluteFlanks::external_pin_touching).
    ///
    /// Source: ISO 4156-3:2005 takes its pins from R 40 of ISO 3 (from memory, check).
    ///
    /// ```
    /// use elements::involute_spline::{Iso4156Spline, PressureAngle, RootForm};
    /// let spline = Iso4156Spline::new(24, 1.25, PressureAngle::Thirty, RootForm::Fillet)?;
    /// let pin_mm = spline.external_pin_mm(spline.basic_width_mm())?;
    /// assert_eq!(pin_mm, 2.36);
    /// # Ok::<(), elements::involute_spline::SplineError>(())
    /// ```
    pub fn external_pin_mm(&self, tooth_thickness_mm: f64) -> Result<f64, SplineError> {
        nearest_r40_pin_mm(self.flanks().external_pin_touching(tooth_thickness_mm, self.pitch_diameter_mm())?)
    }

    /// Pin in the hub, as [`Self::external_pin_mm`], at a circular space width, mm.
    ///
    /// # Errors
    ///
    /// As [`InvoluteFlanks::internal_pin_touching`](super::InvoluteFlanks::internal_pin_touching).
    ///
    /// Source: as [`Self::external_pin_mm`].
    pub fn internal_pin_mm(&self, space_width_mm: f64) -> Result<f64, SplineError> {
        nearest_r40_pin_mm(self.flanks().internal_pin_touching(space_width_mm, self.pitch_diameter_mm())?)
    }
}

/// The rule for the pins of DIN 5480 is known to hold from this module on.
const FROM_MODULE_MM: f64 = 1.0;

/// Pins of DIN 5480 go by quarters of a millimetre.
const QUARTER_MM: f64 = 0.25;

impl Din5480Spline {
    /// Usual pin over the shaft, twice the module, to the next quarter of a millimetre; none below module 1.
    ///
    /// Source: from memory, check; it gives the pins of the published W50 × 2 × 24 and of 40 × 2 and 30 × 1.25.
    ///
    /// ```
    /// use elements::involute_spline::Din5480Spline;
    /// let spline = Din5480Spline::new(50.0, 2.0, 24)?;
    /// assert_eq!((spline.external_pin_mm(), spline.internal_pin_mm()), (Some(4.0), Some(3.5)));
    /// # Ok::<(), elements::involute_spline::SplineError>(())
    /// ```
    #[must_use]
    pub fn external_pin_mm(&self) -> Option<f64> {
        self.pin_of(2.0)
    }

    /// Usual pin in the hub, 1.75 times the module, to the next quarter of a millimetre; none below module 1.
    ///
    /// Source: as [`Self::external_pin_mm`].
    #[must_use]
    pub fn internal_pin_mm(&self) -> Option<f64> {
        self.pin_of(1.75)
    }

    fn pin_of(&self, modules: f64) -> Option<f64> {
        let quarters = (modules * self.module_mm() / QUARTER_MM - 1e-9).ceil();
        (self.module_mm() >= FROM_MODULE_MM).then_some(quarters * QUARTER_MM)
    }
}
