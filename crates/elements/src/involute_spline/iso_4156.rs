//! Metric-module splines to ISO 4156, side fit.

use std::f64::consts::{FRAC_PI_2, PI};

use super::{
    InvoluteFlanks, PressureAngle, RootForm, SplineClass, SplineError, SplineFit, WidthLimits, in_range, positive,
    teeth_in_range,
};

const FEWEST_TEETH: u32 = 6;
const MOST_TEETH: u32 = 100;
const LARGEST_PITCH_DIAMETER_MM: f64 = 500.0;
const LONGEST_MM: f64 = 500.0;

/// How far the tooth is thinned for clearance: the fundamental deviations with a clearance.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ToothDeviation {
    /// The widest clearance, `d`.
    D,
    /// `e`.
    E,
    /// `f`.
    F,
    /// None, `h`.
    H,
}

/// One spline of ISO 4156.
///
/// With `z` teeth, module `m` and pressure angle `α`, lengths in millimetres:
///
/// ```text
///                        30° flat   30° fillet   37.5°      45°
/// D = mz, DB = D cos α, basic tooth thickness and space width E = πm/2
/// external  DEE max      m(z+1)     m(z+1)       m(z+0.9)   m(z+0.8)     all + es/tan α
///           DIE max      m(z−1.5)   m(z−1.8)     m(z−1.4)   m(z−1.2)     all + es/tan α
///           hs           0.6m       0.6m         0.55m      0.5m
///           DFE max = 2√{(DB/2)² + [D sin α/2 − (hs − es/(2 tan α))/sin α]²}
/// internal  DEI min      m(z+1.5)   m(z+1.8)     m(z+1.4)   m(z+1.2)
///           DFI min      m(z+1)     m(z+1)       m(z+0.9)   m(z+0.8)     all + 2cF
///           DII min = DFE max of deviation h + 2cF,      cF = 0.1m
/// ```
///
/// `es` is zero or negative. Valid for 6 to 100 teeth and pitch diameters up to 500 mm, modules
/// 0.5 to 10 mm, at 45° 0.25 to 2.5 mm (the range of teeth from memory, check).
///
/// Source: ISO 4156-1:2005, formulae for dimensions and tolerances and table 5, as two public
/// transcriptions give them; modules at 45° from the scope of GB/T 3478.4-2008.
///
/// ```
/// use elements::involute_spline::{Iso4156Spline, PressureAngle, RootForm, ToothDeviation};
/// let spline = Iso4156Spline::new(24, 2.0, PressureAngle::Thirty, RootForm::Flat)?;
/// assert!((spline.form_external_mm(ToothDeviation::H) - 45.7891).abs() < 1e-4);
/// # Ok::<(), elements::involute_spline::SplineError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Iso4156Spline {
    module_mm: f64,
    angle: PressureAngle,
    root: RootForm,
    flanks: InvoluteFlanks,
}

/// Tolerance of one class for one spline and length, in micrometres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Iso4156Tolerance {
    /// Total tolerance `T + λ` of tooth thickness and of space width.
    pub total_um: f64,
    /// Total cumulative pitch deviation `Fp`.
    pub pitch_um: f64,
    /// Total profile deviation `Ff`.
    pub profile_um: f64,
    /// Total helix deviation `Fβ`.
    pub helix_um: f64,
    /// Deviation allowance `λ`, what the three take up together.
    pub variation_um: f64,
}

/// Upper limits in millimetres of the pitch diameter steps, and the deviations `d`, `e`, `f` in
/// micrometres. Source: ISO 4156-1:2005, table 5 (the same numbers as ISO 286).
const DEVIATIONS_UM: [(f64, f64, f64, f64); 13] = [
    (3.0, -20.0, -14.0, -6.0),
    (6.0, -30.0, -20.0, -10.0),
    (10.0, -40.0, -25.0, -13.0),
    (18.0, -50.0, -32.0, -16.0),
    (30.0, -65.0, -40.0, -20.0),
    (50.0, -80.0, -50.0, -25.0),
    (80.0, -100.0, -60.0, -30.0),
    (120.0, -120.0, -72.0, -36.0),
    (180.0, -145.0, -85.0, -43.0),
    (250.0, -170.0, -100.0, -50.0),
    (315.0, -190.0, -110.0, -56.0),
    (400.0, -210.0, -125.0, -62.0),
    (LARGEST_PITCH_DIAMETER_MM, -230.0, -135.0, -68.0),
];

impl Iso4156Spline {
    /// A spline by teeth, module in millimetres, pressure angle and root.
    ///
    /// # Errors
    ///
    /// [`SplineError::Teeth`] or [`SplineError::Range`] outside the ranges above;
    /// [`SplineError::NoSuchForm`] for a flat root at 37.5° or 45°.
    pub fn new(teeth: u32, module_mm: f64, angle: PressureAngle, root: RootForm) -> Result<Self, SplineError> {
        if root == RootForm::Flat && angle != PressureAngle::Thirty {
            return Err(SplineError::NoSuchForm { angle, root, fit: SplineFit::Side });
        }
        let teeth = teeth_in_range(teeth, FEWEST_TEETH, MOST_TEETH)?;
        let (smallest_mm, largest_mm) = match angle {
            PressureAngle::Thirty | PressureAngle::ThirtySevenAndHalf => (0.5, 10.0),
            PressureAngle::FortyFive => (0.25, 2.5),
        };
        let module_mm = in_range("module in mm", module_mm, smallest_mm, largest_mm)?;
        let pitch_diameter_mm =
            in_range("pitch diameter in mm", module_mm * f64::from(teeth), 0.0, LARGEST_PITCH_DIAMETER_MM)?;
        Ok(Self { module_mm, angle, root, flanks: InvoluteFlanks::new(teeth, pitch_diameter_mm, angle.radians())? })
    }

    /// The bare flanks, in millimetres: thickness at any diameter, chord, span, any pin.
    #[must_use]
    pub fn flanks(&self) -> &InvoluteFlanks {
        &self.flanks
    }

    /// Module `m`, mm.
    #[must_use]
    pub fn module_mm(&self) -> f64 {
        self.module_mm
    }

    /// Pressure angle `α`.
    #[must_use]
    pub fn pressure_angle(&self) -> PressureAngle {
        self.angle
    }

    /// Pitch diameter `D = mz`, mm.
    #[must_use]
    pub fn pitch_diameter_mm(&self) -> f64 {
        self.flanks.pitch_diameter()
    }

    /// Base diameter `DB = D cos α`, mm.
    #[must_use]
    pub fn base_diameter_mm(&self) -> f64 {
        self.flanks.base_diameter()
    }

    /// Basic tooth thickness and space width `E = πm/2`, mm.
    #[must_use]
    pub fn basic_width_mm(&self) -> f64 {
        FRAC_PI_2 * self.module_mm
    }

    /// Fundamental deviation `es` of the effective tooth thickness, micrometres, zero or negative.
    ///
    /// It goes by steps of the pitch diameter, as in ISO 286.
    ///
    /// Source: ISO 4156-1:2005, table 5.
    #[must_use]
    pub fn deviation_um(&self, deviation: ToothDeviation) -> f64 {
        let step = DEVIATIONS_UM
            .iter()
            .find(|step| self.pitch_diameter_mm() <= step.0)
            // `new` keeps every pitch diameter at or below the last step.
            .unwrap_or(&DEVIATIONS_UM[DEVIATIONS_UM.len() - 1]);
        match deviation {
            ToothDeviation::D => step.1,
            ToothDeviation::E => step.2,
            ToothDeviation::F => step.3,
            ToothDeviation::H => 0.0,
        }
    }

    /// Largest major diameter `DEE max` of the external spline, mm.
    #[must_use]
    pub fn major_external_mm(&self, deviation: ToothDeviation) -> f64 {
        self.at_addendum() + self.deviation_in_diameter_mm(deviation)
    }

    /// Largest minor diameter `DIE max` of the external spline, mm.
    #[must_use]
    pub fn minor_external_mm(&self, deviation: ToothDeviation) -> f64 {
        self.at(-self.root_modules()) + self.deviation_in_diameter_mm(deviation)
    }

    /// Largest form diameter `DFE max` of the external spline, mm.
    ///
    /// ```text
    /// DFE = 2√{(DB/2)² + [D sin α/2 − (hs − es/(2 tan α))/sin α]²}
    /// ```
    #[must_use]
    pub fn form_external_mm(&self, deviation: ToothDeviation) -> f64 {
        let modules = match self.angle {
            PressureAngle::Thirty => 0.6,
            PressureAngle::ThirtySevenAndHalf => 0.55,
            PressureAngle::FortyFive => 0.5,
        };
        let height_mm = modules * self.module_mm - self.deviation_in_diameter_mm(deviation) / 2.0;
        let sine = self.angle.radians().sin();
        let along_mm = self.pitch_diameter_mm() * sine / 2.0 - height_mm / sine;
        2.0 * (self.base_diameter_mm() / 2.0).hypot(along_mm)
    }

    /// Smallest major diameter `DEI min` of the internal spline, mm.
    #[must_use]
    pub fn major_internal_mm(&self) -> f64 {
        self.at(self.root_modules())
    }

    /// Smallest form diameter `DFI min` of the internal spline, mm.
    #[must_use]
    pub fn form_internal_mm(&self) -> f64 {
        self.at_addendum() + 2.0 * self.form_clearance_mm()
    }

    /// Smallest minor diameter `DII min` of the internal spline, mm; for every fit it goes by the
    /// external form diameter of deviation `h`.
    #[must_use]
    pub fn minor_internal_mm(&self) -> f64 {
        self.form_external_mm(ToothDeviation::H) + 2.0 * self.form_clearance_mm()
    }

    /// Radial form clearance `cF = 0.1m`, mm.
    #[must_use]
    pub fn form_clearance_mm(&self) -> f64 {
        0.1 * self.module_mm
    }

    /// Tolerances of a class over a length of `length_mm`, not rounded.
    ///
    /// ```text
    /// i*  = 0.45 D^(1/3) + 0.001 D          i** = 0.45 E^(1/3) + 0.001 E
    /// T + λ = k i* + 4k i**                 k = 10, 16, 25, 40 for class 4, 5, 6, 7
    /// Fp = 2.5√L + 6.3 | 3.55√L + 9 | 5√L + 12.5 | 7.1√L + 18       L = πmz/2
    /// Ff = 1.6φ + 10   | 2.5φ + 16  | 4φ + 25    | 6.3φ + 40        φ = m + 0.0125mz
    /// Fβ = 0.8√b + 4   | √b + 5     | 1.25√b + 6.3 | 2√b + 10       b the length
    /// λ  = 0.6√(Fp² + Ff² + Fβ²)
    /// ```
    ///
    /// Micrometres from millimetres. The standard prints whole micrometres. Valid for lengths
    /// above zero and up to 500 mm.
    ///
    /// # Errors
    ///
    /// [`SplineError::NotPositive`] or [`SplineError::Range`] for the length.
    ///
    /// Source: ISO 4156-1:2005, total tolerance and deviation allowance.
    ///
    /// ```
    /// use elements::involute_spline::{Iso4156Spline, PressureAngle, RootForm, SplineClass};
    /// let spline = Iso4156Spline::new(24, 2.0, PressureAngle::Thirty, RootForm::Flat)?;
    /// let tolerance = spline.tolerance(SplineClass::Five, 30.0)?;
    /// assert!((tolerance.total_um - 69.32).abs() < 0.01);
    /// assert!((tolerance.variation_um - 28.16).abs() < 0.01);
    /// # Ok::<(), elements::involute_spline::SplineError>(())
    /// ```
    pub fn tolerance(&self, class: SplineClass, length_mm: f64) -> Result<Iso4156Tolerance, SplineError> {
        let length_mm = positive("spline length in mm", length_mm)?;
        let length_mm = in_range("spline length in mm", length_mm, 0.0, LONGEST_MM)?;
        let (grade, pitch, profile, helix) = match class {
            SplineClass::Four => (10.0, (2.5, 6.3), (1.6, 10.0), (0.8, 4.0)),
            SplineClass::Five => (16.0, (3.55, 9.0), (2.5, 16.0), (1.0, 5.0)),
            SplineClass::Six => (25.0, (5.0, 12.5), (4.0, 25.0), (1.25, 6.3)),
            SplineClass::Seven => (40.0, (7.1, 18.0), (6.3, 40.0), (2.0, 10.0)),
        };
        let unit = |size_mm: f64| 0.45 * size_mm.cbrt() + 0.001 * size_mm;
        let line = |(slope, constant): (f64, f64), value: f64| slope * value + constant;
        let arc_mm = PI * self.pitch_diameter_mm() / 2.0;
        let pitch_um = line(pitch, arc_mm.sqrt());
        let profile_um = line(profile, self.module_mm + 0.0125 * self.pitch_diameter_mm());
        let helix_um = line(helix, length_mm.sqrt());
        Ok(Iso4156Tolerance {
            total_um: grade * unit(self.pitch_diameter_mm()) + 4.0 * grade * unit(self.basic_width_mm()),
            pitch_um,
            profile_um,
            helix_um,
            variation_um: 0.6 * pitch_um.hypot(profile_um).hypot(helix_um),
        })
    }

    /// Limits of the external spline's circular tooth thickness, mm.
    ///
    /// ```text
    /// effective  max = E + es                    min = actual min + λ
    /// actual     max = effective max − λ         min = effective max − (T + λ)
    /// ```
    ///
    /// # Errors
    ///
    /// As [`Self::tolerance`].
    ///
    /// Source: ISO 4156-1:2005, formulae for dimensions.
    pub fn tooth_thickness_limits(
        &self,
        class: SplineClass,
        deviation: ToothDeviation,
        length_mm: f64,
    ) -> Result<WidthLimits, SplineError> {
        let tolerance = self.tolerance(class, length_mm)?;
        let effective_max = self.basic_width_mm() + self.deviation_um(deviation) / 1000.0;
        let actual_min = effective_max - tolerance.total_um / 1000.0;
        let variation_mm = tolerance.variation_um / 1000.0;
        Ok(WidthLimits {
            effective_min: actual_min + variation_mm,
            effective_max,
            actual_min,
            actual_max: effective_max - variation_mm,
        })
    }

    /// Limits of the internal spline's circular space width, mm; the effective minimum is `E`.
    ///
    /// # Errors
    ///
    /// As [`Self::tolerance`].
    ///
    /// Source: as [`Self::tooth_thickness_limits`].
    pub fn space_width_limits(&self, class: SplineClass, length_mm: f64) -> Result<WidthLimits, SplineError> {
        let tolerance = self.tolerance(class, length_mm)?;
        let effective_min = self.basic_width_mm();
        let actual_max = effective_min + tolerance.total_um / 1000.0;
        let variation_mm = tolerance.variation_um / 1000.0;
        Ok(WidthLimits {
            effective_min,
            effective_max: actual_max - variation_mm,
            actual_min: effective_min + variation_mm,
            actual_max,
        })
    }

    /// `es/tan α` in millimetres: what thinning the tooth takes off its diameters.
    #[must_use]
    pub fn deviation_in_diameter_mm(&self, deviation: ToothDeviation) -> f64 {
        self.deviation_um(deviation) / 1000.0 / self.angle.radians().tan()
    }

    /// Modules from the pitch circle to the root, counted on the diameter.
    fn root_modules(&self) -> f64 {
        match (self.angle, self.root) {
            (PressureAngle::Thirty, RootForm::Flat) => 1.5,
            (PressureAngle::Thirty, RootForm::Fillet) => 1.8,
            (PressureAngle::ThirtySevenAndHalf, _) => 1.4,
            (PressureAngle::FortyFive, _) => 1.2,
        }
    }

    fn at_addendum(&self) -> f64 {
        self.at(match self.angle {
            PressureAngle::Thirty => 1.0,
            PressureAngle::ThirtySevenAndHalf => 0.9,
            PressureAngle::FortyFive => 0.8,
        })
    }

    /// `m(z + modules)`.
    fn at(&self, modules: f64) -> f64 {
        self.module_mm * (f64::from(self.flanks.teeth()) + modules)
    }
}
