//! Limits of tooth thickness and space width by class, ANSI B92.1.

use super::{InchSpline, Pitch, SplineClass, SplineError, SplineFit};

/// Tolerance of one class for one spline, in inches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InchTolerance {
    /// Machining tolerance `m`: what the actual width may vary.
    pub machining_in: f64,
    /// Effective variation `λ`: what form, spacing and lead errors together may take up.
    pub variation_in: f64,
}

impl InchTolerance {
    /// Machining tolerance and effective variation together.
    #[must_use]
    pub fn total_in(&self) -> f64 {
        self.machining_in + self.variation_in
    }
}

/// Limits of a tooth thickness or of a space width, all in one unit.
///
/// The effective limit on the full-metal side and the actual limit on the other side accept or
/// reject the part; the other two are for reference.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WidthLimits {
    /// Smallest effective width.
    pub effective_min: f64,
    /// Largest effective width.
    pub effective_max: f64,
    /// Smallest actual width.
    pub actual_min: f64,
    /// Largest actual width.
    pub actual_max: f64,
}

/// Class 5 of one group of pitches: `m = m₁N + m₀` and `λ = λ₁N + λ₀`, in 0.0001 in.
struct ClassFive {
    machining: (f64, f64),
    variation: (f64, f64),
}

/// Source: ANSI B92.1, maximum tolerances for space width and tooth thickness of class 5; the
/// groups from 6/12 to 48/96 in two public transcriptions, 4/8 to 5/10 and 64/128 to 128/256 in
/// one that agrees with the printed handbook table (from memory). For 2.5/5 and 3/6 the copies
/// disagree on the constant of `m` (14 or 15), so they are not held.
fn class_five(pitch: Pitch) -> Option<ClassFive> {
    let (machining, variation) = match pitch.diametral() {
        coarse if coarse < 4.0 => return None,
        diametral if diametral < 6.0 => ((0.15, 13.0), (0.23, 18.0)),
        diametral if diametral < 10.0 => ((0.15, 11.0), (0.20, 15.0)),
        diametral if diametral < 16.0 => ((0.10, 11.0), (0.17, 14.0)),
        diametral if diametral < 24.0 => ((0.07, 11.0), (0.12, 13.0)),
        diametral if diametral < 64.0 => ((0.07, 11.0), (0.12, 11.0)),
        diametral if diametral < 128.0 => ((0.06, 9.0), (0.10, 10.0)),
        _ => ((0.05, 9.0), (0.08, 9.0)),
    };
    Some(ClassFive { machining, variation })
}

/// Classes 4, 6 and 7 as multiples of class 5.
fn share_of_class_five(class: SplineClass) -> f64 {
    match class {
        SplineClass::Four => 0.71,
        SplineClass::Five => 1.00,
        SplineClass::Six => 1.40,
        SplineClass::Seven => 2.00,
    }
}

impl InchSpline {
    /// Machining tolerance and effective variation of a class, not rounded.
    ///
    /// ```text
    /// class 5, in 0.0001 in, with N teeth
    ///   4/8 to 5/10        m = 0.15N + 13    λ = 0.23N + 18
    ///   6/12 to 8/16       m = 0.15N + 11    λ = 0.20N + 15
    ///   10/20 to 12/24     m = 0.10N + 11    λ = 0.17N + 14
    ///   16/32 to 20/40     m = 0.07N + 11    λ = 0.12N + 13
    ///   24/48 to 48/96     m = 0.07N + 11    λ = 0.12N + 11
    ///   64/128 to 80/160   m = 0.06N +  9    λ = 0.10N + 10
    ///   128/256            m = 0.05N +  9    λ = 0.08N +  9
    /// classes 4, 6, 7: 0.71, 1.40 and 2.00 times class 5
    /// ```
    ///
    /// The standard's tables print widths to 0.0001 in, so that a printed limit can stand half of
    /// that from this one.
    ///
    /// # Errors
    ///
    /// [`SplineError::ToleranceNotHeld`] for 2.5/5 and 3/6.
    ///
    /// Source: ANSI B92.1-1970 (R1993) and -1996, table of maximum tolerances, class 5, and its
    /// footnote for the other classes.
    ///
    /// ```
    /// use elements::involute_spline::{
    ///     InchSpline, Pitch, PressureAngle, RootForm, SplineClass, SplineFit,
    /// };
    /// let spline = InchSpline::new(
    ///     35,
    ///     Pitch::new(24.0, 48.0)?,
    ///     PressureAngle::FortyFive,
    ///     RootForm::Fillet,
    ///     SplineFit::Side,
    /// )?;
    /// let tolerance = spline.tolerance(SplineClass::Five)?;
    /// assert!((tolerance.machining_in - 0.001345).abs() < 1e-9);
    /// assert!((tolerance.variation_in - 0.001520).abs() < 1e-9);
    /// # Ok::<(), elements::involute_spline::SplineError>(())
    /// ```
    pub fn tolerance(&self, class: SplineClass) -> Result<InchTolerance, SplineError> {
        let five = class_five(self.pitch()).ok_or(SplineError::ToleranceNotHeld { pitch: self.pitch() })?;
        let teeth = f64::from(self.teeth());
        let scale_in = 1e-4 * share_of_class_five(class);
        let line_in = |(slope, constant): (f64, f64)| (slope * teeth + constant) * scale_in;
        Ok(InchTolerance { machining_in: line_in(five.machining), variation_in: line_in(five.variation) })
    }

    /// Limits of the external spline's circular tooth thickness, inches, side fit.
    ///
    /// ```text
    /// effective  max = tv (basic)       min = tv − m      (reference)
    /// actual     max = tv − λ (reference)   min = tv − (m + λ)
    /// ```
    ///
    /// # Errors
    ///
    /// [`SplineError::ToleranceNotHeld`] as [`Self::tolerance`];
    /// [`SplineError::MajorDiameterLimits`] for a major-diameter fit.
    ///
    /// Source: ANSI B92.1-1970 (R1993), specification and tolerances of tooth thickness.
    pub fn tooth_thickness_limits(&self, class: SplineClass) -> Result<WidthLimits, SplineError> {
        if self.fit() == SplineFit::MajorDiameter {
            return Err(SplineError::MajorDiameterLimits);
        }
        let tolerance = self.tolerance(class)?;
        let basic_in = self.basic_width_in();
        Ok(WidthLimits {
            effective_min: basic_in - tolerance.machining_in,
            effective_max: basic_in,
            actual_min: basic_in - tolerance.total_in(),
            actual_max: basic_in - tolerance.variation_in,
        })
    }

    /// Limits of the internal spline's circular space width, inches.
    ///
    /// ```text
    /// effective  min = sv (basic)       max = sv + m      (reference)
    /// actual     min = sv + λ (reference)   max = sv + (m + λ)
    /// ```
    ///
    /// # Errors
    ///
    /// [`SplineError::ToleranceNotHeld`] as [`Self::tolerance`];
    /// [`SplineError::MajorDiameterLimits`] for a major-diameter fit of any class but 5.
    ///
    /// Source: ANSI B92.1-1970 (R1993), specification and tolerances of space width.
    pub fn space_width_limits(&self, class: SplineClass) -> Result<WidthLimits, SplineError> {
        if self.fit() == SplineFit::MajorDiameter && class != SplineClass::Five {
            return Err(SplineError::MajorDiameterLimits);
        }
        let tolerance = self.tolerance(class)?;
        let basic_in = self.basic_width_in();
        Ok(WidthLimits {
            effective_min: basic_in,
            effective_max: basic_in + tolerance.machining_in,
            actual_min: basic_in + tolerance.variation_in,
            actual_max: basic_in + tolerance.total_in(),
        })
    }
}
