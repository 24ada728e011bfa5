//! Inch splines to ANSI B92.1.

use std::f64::consts::FRAC_PI_2;

use super::{InvoluteFlanks, Pitch, PressureAngle, RootForm, SplineError, SplineFit, teeth_in_range};

const FEWEST_TEETH: u32 = 6;
const MOST_TEETH: u32 = 100;

/// Diameters of an external spline, in inches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ExternalDiameters {
    /// Major diameter `Do`, over the tips; the largest allowed.
    pub major_in: f64,
    /// Form diameter `DFe`, down to which the flanks must be true involutes.
    pub form_in: f64,
    /// Minor diameter `Dre` at the root; the largest allowed.
    pub minor_in: f64,
}

/// Diameters of an internal spline, in inches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InternalDiameters {
    /// Major diameter `Dri` at the root; the smallest allowed.
    pub major_in: f64,
    /// Form diameter `DFi`, out to which the flanks must be true involutes.
    pub form_in: f64,
    /// Minor diameter `Di`, over the tips; the smallest allowed.
    pub minor_in: f64,
}

/// One spline of ANSI B92.1: internal and external member.
///
/// With `N` teeth, diametral pitch `P` and pressure angle `φ`:
///
/// ```text
///                            30° flat side   30° flat major   30° fillet      37.5°       45°
/// D                          N/P in every form; Db = D cos φ
/// basic tooth and space      π/2P            π/2P             π/2P     (π/2+0.1)/P  (π/2+0.2)/P
/// external  Do               (N+1)/P in every form
///           Dre              (N−1.35)/P      (N−1.35)/P       (N−1.8)/P *  (N−1.3)/P    (N−1)/P
///           DFe              (N−1)/P − 2cF   = Di − 2cF in every form
/// internal  Dri              (N+1.35)/P      (N+1)/P          (N+1.8)/P    (N+1.6)/P    (N+1.4)/P
///           DFi              (N+1)/P + 2cF   (N+0.8)/P − 0.004 + 2cF      (N+1)/P + 2cF
///           Di               (N−1)/P         (N−1)/P          (N−1)/P      (N−0.8)/P    (N−0.6)/P
/// pitches                    2.5/5 to 32/64  3/6 to 16/32     2.5/5 to 48/96 (also 37.5°)
///                                                             45°: 10/20 to 128/256
/// cF = 0.001 D, not below 0.002 in and not above 0.010 in
/// * (N−2)/P from 16/32
/// ```
///
/// All diameters are in inches. Valid for 6 to 100 teeth (that upper end from memory, check).
///
/// Source: ANSI B92.1-1970 (R1993), table of symbols and relations, as two public transcriptions
/// give it. A third, widely copied table prints 0.8, 0.1 and 1.2 where 45° takes 0.6 and 0.2 and
/// the fine 30° fillet takes 2; the height of the teeth contradicts it.
///
/// ```
/// use elements::involute_spline::{InchSpline, Pitch, PressureAngle, RootForm, SplineFit};
/// let spline = InchSpline::new(
///     28,
///     Pitch::new(24.0, 48.0)?,
///     PressureAngle::FortyFive,
///     RootForm::Fillet,
///     SplineFit::Side,
/// )?;
/// assert!((spline.external().major_in - 1.20833).abs() < 1e-5);
/// let over = spline.over_pins(spline.basic_width_in(), spline.external_pin_in())?;
/// assert!((over.size - 1.30148).abs() < 1e-5);
/// # Ok::<(), elements::involute_spline::SplineError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InchSpline {
    pitch: Pitch,
    angle: PressureAngle,
    form: Form,
    flanks: InvoluteFlanks,
}

/// The five columns of the standard's table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    FlatSide30,
    FlatMajor30,
    Fillet30,
    Fillet37Half,
    Fillet45,
}

impl Form {
    fn of(angle: PressureAngle, root: RootForm, fit: SplineFit) -> Result<Self, SplineError> {
        use PressureAngle::{FortyFive, Thirty, ThirtySevenAndHalf};
        match (angle, root, fit) {
            (Thirty, RootForm::Flat, SplineFit::Side) => Ok(Self::FlatSide30),
            (Thirty, RootForm::Flat, SplineFit::MajorDiameter) => Ok(Self::FlatMajor30),
            (Thirty, RootForm::Fillet, SplineFit::Side) => Ok(Self::Fillet30),
            (ThirtySevenAndHalf, RootForm::Fillet, SplineFit::Side) => Ok(Self::Fillet37Half),
            (FortyFive, RootForm::Fillet, SplineFit::Side) => Ok(Self::Fillet45),
            _ => Err(SplineError::NoSuchForm { angle, root, fit }),
        }
    }

    /// Coarsest and finest pitch of the column.
    fn pitches(self) -> (Pitch, Pitch) {
        match self {
            Self::FlatSide30 => (Pitch::of(2.5), Pitch::of(32.0)),
            Self::FlatMajor30 => (Pitch::of(3.0), Pitch::of(16.0)),
            Self::Fillet30 | Self::Fillet37Half => (Pitch::of(2.5), Pitch::of(48.0)),
            Self::Fillet45 => (Pitch::of(10.0), Pitch::of(128.0)),
        }
    }
}

impl InchSpline {
    /// A spline by teeth, pitch, pressure angle, root and fit.
    ///
    /// # Errors
    ///
    /// [`SplineError::Teeth`] outside 6 to 100; [`SplineError::NoSuchForm`] and
    /// [`SplineError::PitchNotInForm`] for combinations that the standard does not hold.
    pub fn new(
        teeth: u32,
        pitch: Pitch,
        angle: PressureAngle,
        root: RootForm,
        fit: SplineFit,
    ) -> Result<Self, SplineError> {
        let teeth = teeth_in_range(teeth, FEWEST_TEETH, MOST_TEETH)?;
        let form = Form::of(angle, root, fit)?;
        let (coarsest, finest) = form.pitches();
        if pitch < coarsest || pitch > finest {
            return Err(SplineError::PitchNotInForm { pitch, coarsest, finest });
        }
        let pitch_diameter_in = f64::from(teeth) / pitch.diametral();
        Ok(Self { pitch, angle, form, flanks: InvoluteFlanks::new(teeth, pitch_diameter_in, angle.radians())? })
    }

    /// Number of teeth `N`.
    #[must_use]
    pub fn teeth(&self) -> u32 {
        self.flanks.teeth()
    }

    /// Diametral and stub pitch.
    #[must_use]
    pub fn pitch(&self) -> Pitch {
        self.pitch
    }

    /// Pressure angle `φ`.
    #[must_use]
    pub fn pressure_angle(&self) -> PressureAngle {
        self.angle
    }

    /// Shape of the root.
    #[must_use]
    pub fn root(&self) -> RootForm {
        match self.form {
            Form::FlatSide30 | Form::FlatMajor30 => RootForm::Flat,
            Form::Fillet30 | Form::Fillet37Half | Form::Fillet45 => RootForm::Fillet,
        }
    }

    /// What centres the members.
    #[must_use]
    pub fn fit(&self) -> SplineFit {
        match self.form {
            Form::FlatMajor30 => SplineFit::MajorDiameter,
            _ => SplineFit::Side,
        }
    }

    /// The bare flanks, in inches: thickness at any diameter, chord, span, any pin.
    #[must_use]
    pub fn flanks(&self) -> &InvoluteFlanks {
        &self.flanks
    }

    /// Pitch diameter `D = N/P`, inches.
    #[must_use]
    pub fn pitch_diameter_in(&self) -> f64 {
        self.flanks.pitch_diameter()
    }

    /// Base diameter `Db = D cos φ`, inches.
    #[must_use]
    pub fn base_diameter_in(&self) -> f64 {
        self.flanks.base_diameter()
    }

    /// Radial form clearance `cF`, inches.
    #[must_use]
    pub fn form_clearance_in(&self) -> f64 {
        (0.001 * self.pitch_diameter_in()).clamp(0.002, 0.010)
    }

    /// Basic width: largest effective tooth thickness and smallest effective space width of a side
    /// fit, inches.
    #[must_use]
    pub fn basic_width_in(&self) -> f64 {
        let widened = match self.angle {
            PressureAngle::Thirty => 0.0,
            PressureAngle::ThirtySevenAndHalf => 0.1,
            PressureAngle::FortyFive => 0.2,
        };
        (FRAC_PI_2 + widened) / self.pitch.diametral()
    }

    /// Diameters of the external spline.
    #[must_use]
    pub fn external(&self) -> ExternalDiameters {
        let below_teeth = match self.form {
            Form::FlatSide30 | Form::FlatMajor30 => 1.35,
            Form::Fillet30 if self.pitch.diametral() < 16.0 => 1.8,
            Form::Fillet30 => 2.0,
            Form::Fillet37Half => 1.3,
            Form::Fillet45 => 1.0,
        };
        ExternalDiameters {
            major_in: self.over_pitch(1.0),
            form_in: self.internal().minor_in - 2.0 * self.form_clearance_in(),
            minor_in: self.over_pitch(-below_teeth),
        }
    }

    /// Diameters of the internal spline.
    #[must_use]
    pub fn internal(&self) -> InternalDiameters {
        let (above_teeth, below_teeth) = match self.form {
            Form::FlatSide30 => (1.35, 1.0),
            Form::FlatMajor30 => (1.0, 1.0),
            Form::Fillet30 => (1.8, 1.0),
            Form::Fillet37Half => (1.6, 0.8),
            Form::Fillet45 => (1.4, 0.6),
        };
        let clearance_in = 2.0 * self.form_clearance_in();
        InternalDiameters {
            major_in: self.over_pitch(above_teeth),
            form_in: match self.form {
                Form::FlatMajor30 => self.over_pitch(0.8) - 0.004 + clearance_in,
                _ => self.over_pitch(1.0) + clearance_in,
            },
            minor_in: self.over_pitch(-below_teeth),
        }
    }

    /// `(N + more)/P`.
    fn over_pitch(&self, more: f64) -> f64 {
        (f64::from(self.teeth()) + more) / self.pitch.diametral()
    }
}
