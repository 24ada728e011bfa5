//! Metric splines to DIN 5480, 30°, sized by a reference diameter.

use std::f64::consts::FRAC_PI_2;

use super::{InvoluteFlanks, PinContact, PressureAngle, SplineError, in_range, positive, teeth_in_range};

const FEWEST_TEETH: u32 = 6;
const MOST_TEETH: u32 = 82;
const SMALLEST_MODULE_MM: f64 = 0.5;
const LARGEST_MODULE_MM: f64 = 10.0;
const SMALLEST_SHIFT: f64 = -0.05;
const LARGEST_SHIFT: f64 = 0.45;
/// Room for the rounding of `dB/m` in a shift that stands exactly on an end of its range.
const SHIFT_ROUNDING: f64 = 1e-9;

/// How the roots of a DIN 5480 spline were made, which sets how deep they lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum RootCut {
    /// Broached: 0.55 m under the generating line.
    Broached,
    /// Hobbed: 0.60 m.
    Hobbed,
    /// Shaped: 0.65 m.
    Shaped,
    /// Cold-rolled: 0.84 m.
    Rolled,
}

impl RootCut {
    /// Dedendum of the basic rack in modules.
    fn dedendum_modules(self) -> f64 {
        match self {
            Self::Broached => 0.55,
            Self::Hobbed => 0.60,
            Self::Shaped => 0.65,
            Self::Rolled => 0.84,
        }
    }
}

/// One spline of DIN 5480, such as 50 × 2 × 24: reference diameter, module, teeth.
///
/// Lengths in millimetres; tip and root as the standard's basic rack puts them:
///
/// ```text
/// xm  = (dB − mz − 1.1m)/2        profile shift, x from −0.05 to +0.45
/// d   = mz,  db = d cos 30°
/// da1 = dB − 0.2m                 tip of the shaft
/// da2 = dB − 2m                   tip of the hub
/// s1 = e2 = πm/2 + 2 xm tan 30°   nominal tooth thickness of the shaft, space width of the hub
/// ```
///
/// Tolerances are not held: no public text gives the formulas behind the tables of the standard.
/// Valid for modules 0.5 to 10 mm and 6 to 82 teeth (ranges
/// of module, teeth and shift from memory, check).
///
/// Source: DIN 5480-1:2006, dimensions; the public tutorial "Some concepts about DIN 5480 spline
/// dimension", part 2.
///
/// ```
/// use elements::involute_spline::Din5480Spline;
/// let spline = Din5480Spline::new(50.0, 2.0, 24)?;
/// let over = spline.over_pins(spline.tooth_thickness_mm(), 4.0)?;
/// assert!((over.size - 54.218).abs() < 1e-3);
/// # Ok::<(), elements::involute_spline::SplineError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Din5480Spline {
    reference_diameter_mm: f64,
    module_mm: f64,
    flanks: InvoluteFlanks,
}

impl Din5480Spline {
    /// A spline by reference diameter `dB` and module in millimetres, and teeth.
    ///
    /// # Errors
    ///
    /// [`SplineError::Teeth`], [`SplineError::Range`] or [`SplineError::NotPositive`] outside the
    /// ranges above. A shift outside its range means that diameter, module and teeth do not
    /// belong together.
    pub fn new(reference_diameter_mm: f64, module_mm: f64, teeth: u32) -> Result<Self, SplineError> {
        let teeth = teeth_in_range(teeth, FEWEST_TEETH, MOST_TEETH)?;
        let module_mm = in_range("module in mm", module_mm, SMALLEST_MODULE_MM, LARGEST_MODULE_MM)?;
        let reference_diameter_mm = positive("reference diameter in mm", reference_diameter_mm)?;
        let shift = (reference_diameter_mm / module_mm - f64::from(teeth) - 1.1) / 2.0;
        let shifts = SMALLEST_SHIFT - SHIFT_ROUNDING..=LARGEST_SHIFT + SHIFT_ROUNDING;
        if !shifts.contains(&shift) {
            return Err(SplineError::Range {
                what: "profile shift that this diameter, module and number of teeth mean",
                value: shift,
                lowest: SMALLEST_SHIFT,
                highest: LARGEST_SHIFT,
            });
        }
        let flanks = InvoluteFlanks::new(teeth, module_mm * f64::from(teeth), PressureAngle::Thirty.radians())?;
        Ok(Self { reference_diameter_mm, module_mm, flanks })
    }

    /// The bare flanks, in millimetres.
    #[must_use]
    pub fn flanks(&self) -> &InvoluteFlanks {
        &self.flanks
    }

    /// Module `m`, mm.
    #[must_use]
    pub fn module_mm(&self) -> f64 {
        self.module_mm
    }

    /// Reference diameter `dB`, mm.
    #[must_use]
    pub fn reference_diameter_mm(&self) -> f64 {
        self.reference_diameter_mm
    }

    /// Profile shift `xm`, mm.
    #[must_use]
    pub fn profile_shift_mm(&self) -> f64 {
        (self.reference_diameter_mm - self.pitch_diameter_mm() - 1.1 * self.module_mm) / 2.0
    }

    /// Pitch diameter `d`, mm.
    #[must_use]
    pub fn pitch_diameter_mm(&self) -> f64 {
        self.flanks.pitch_diameter()
    }

    /// Base diameter `db`, mm.
    #[must_use]
    pub fn base_diameter_mm(&self) -> f64 {
        self.flanks.base_diameter()
    }

    /// Tip diameter `da1` of the shaft, mm.
    #[must_use]
    pub fn tip_external_mm(&self) -> f64 {
        self.reference_diameter_mm - 0.2 * self.module_mm
    }

    /// Tip diameter `da2` of the hub, mm.
    #[must_use]
    pub fn tip_internal_mm(&self) -> f64 {
        self.reference_diameter_mm - 2.0 * self.module_mm
    }

    /// Nominal root diameter `df1` of the shaft, `dB − 1.1m − 2 hfP`, mm.
    ///
    /// Source: DIN 5480-1:2006, dimensions; a public worksheet prints the broached root of 6 × 0.8 × 6 as
    /// 4.24 mm; the other ways of cutting from memory, check.
    ///
    /// ```
    /// use elements::involute_spline::{Din5480Spline, RootCut};
    /// let spline = Din5480Spline::new(6.0, 0.8, 6)?;
    /// assert!((spline.root_external_mm(RootCut::Broached) - 4.24).abs() < 1e-9);
    /// # Ok::<(), elements::involute_spline::SplineError>(())
    /// ```
    #[must_use]
    pub fn root_external_mm(&self, cut: RootCut) -> f64 {
        self.reference_diameter_mm - (1.1 + 2.0 * cut.dedendum_modules()) * self.module_mm
    }

    /// Nominal root diameter `df2` of the hub, `dB − 1.1m + 2 hfP`, mm: the reference diameter itself where
    /// it is broached.
    ///
    /// Source: as [`Self::root_external_mm`].
    #[must_use]
    pub fn root_internal_mm(&self, cut: RootCut) -> f64 {
        self.reference_diameter_mm - (1.1 - 2.0 * cut.dedendum_modules()) * self.module_mm
    }

    /// Nominal tooth thickness `s1` of the shaft and space width `e2` of the hub, mm.
    #[must_use]
    pub fn tooth_thickness_mm(&self) -> f64 {
        FRAC_PI_2 * self.module_mm + 2.0 * self.profile_shift_mm() * PressureAngle::Thirty.radians().tan()
    }

    /// Size over pins of the shaft, mm, the pins touching between the two tip diameters.
    ///
    /// # Errors
    ///
    /// As [`InvoluteFlanks::over_pins`], and [`SplineError::PinOffFlank`].
    pub fn over_pins(&self, tooth_thickness_mm: f64, pin_mm: f64) -> Result<PinContact, SplineError> {
        let contact = self.flanks.over_pins(tooth_thickness_mm, pin_mm)?;
        self.on_common_flank(contact, |end_mm| self.flanks.external_pin_touching(tooth_thickness_mm, end_mm))
    }

    /// Size between pins of the hub, mm, the pins touching between the two tip diameters.
    ///
    /// # Errors
    ///
    /// As [`InvoluteFlanks::between_pins`], and [`SplineError::PinOffFlank`].
    pub fn between_pins(&self, space_width_mm: f64, pin_mm: f64) -> Result<PinContact, SplineError> {
        let contact = self.flanks.between_pins(space_width_mm, pin_mm)?;
        self.on_common_flank(contact, |end_mm| self.flanks.internal_pin_touching(space_width_mm, end_mm))
    }

    /// Shaft and hub both have true flanks from the hub's tip to the shaft's.
    fn on_common_flank(
        &self,
        contact: PinContact,
        pin_touching: impl Fn(f64) -> Result<f64, SplineError>,
    ) -> Result<PinContact, SplineError> {
        let lowest = self.tip_internal_mm().max(self.base_diameter_mm());
        let highest = self.tip_external_mm();
        if (lowest..=highest).contains(&contact.contact_diameter) {
            return Ok(contact);
        }
        let at_lowest = pin_touching(lowest)?;
        let at_highest = pin_touching(highest)?;
        Err(SplineError::PinOffFlank {
            pin: contact.pin,
            contact: contact.contact_diameter,
            lowest,
            highest,
            smallest_pin: at_lowest.min(at_highest),
            largest_pin: at_lowest.max(at_highest),
        })
    }
}
