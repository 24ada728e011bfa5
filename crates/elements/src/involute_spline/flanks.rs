//! Involute flanks without a standard: thickness anywhere, chord, span over several teeth.

use std::f64::consts::PI;

use super::{SplineError, at_least, in_range, involute, positive, teeth_in_range};

const FEWEST_TEETH: u32 = 4;
const MOST_TEETH: u32 = 1000;
const SMALLEST_ANGLE_RAD: f64 = 10.0 * PI / 180.0;
const LARGEST_ANGLE_RAD: f64 = 50.0 * PI / 180.0;

/// Straight involute teeth: count, pitch circle and pressure angle at the pitch circle.
///
/// Any consistent unit of length. Valid for 4 to 1000 teeth and 10° to 50°.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InvoluteFlanks {
    teeth: u32,
    pitch_diameter: f64,
    pressure_angle_rad: f64,
}

impl InvoluteFlanks {
    /// Teeth on a pitch circle.
    ///
    /// # Errors
    ///
    /// [`SplineError::Teeth`], [`SplineError::NotPositive`] or [`SplineError::Range`] outside the
    /// ranges above.
    pub fn new(teeth: u32, pitch_diameter: f64, pressure_angle_rad: f64) -> Result<Self, SplineError> {
        Ok(Self {
            teeth: teeth_in_range(teeth, FEWEST_TEETH, MOST_TEETH)?,
            pitch_diameter: positive("pitch diameter", pitch_diameter)?,
            pressure_angle_rad: in_range(
                "pressure angle in radians",
                pressure_angle_rad,
                SMALLEST_ANGLE_RAD,
                LARGEST_ANGLE_RAD,
            )?,
        })
    }

    /// Number of teeth.
    #[must_use]
    pub fn teeth(&self) -> u32 {
        self.teeth
    }

    /// Pitch diameter `D`.
    #[must_use]
    pub fn pitch_diameter(&self) -> f64 {
        self.pitch_diameter
    }

    /// Pressure angle at the pitch circle, in radians.
    #[must_use]
    pub fn pressure_angle_rad(&self) -> f64 {
        self.pressure_angle_rad
    }

    /// Base diameter `Db = D cos φ`.
    #[must_use]
    pub fn base_diameter(&self) -> f64 {
        self.pitch_diameter * self.pressure_angle_rad.cos()
    }

    /// Circular pitch `p = πD/N`, the arc of one tooth and one space.
    #[must_use]
    pub fn circular_pitch(&self) -> f64 {
        PI * self.pitch_diameter / f64::from(self.teeth)
    }

    /// Circular tooth thickness at another diameter,
    /// `t_y = D_y (t/D + inv φ − inv φ_y)` with `cos φ_y = Db/D_y`, for an external tooth.
    ///
    /// A result below zero means that the flanks have met before that diameter. For an internal
    /// space pass its width: a space of an internal spline has the shape of an external tooth.
    ///
    /// # Errors
    ///
    /// [`SplineError::Width`] for a thickness outside one circular pitch,
    /// [`SplineError::TooSmall`] for a diameter below the base circle.
    ///
    /// Source: ISO 21771:2007, tooth thickness at the y-cylinder.
    ///
    /// ```
    /// use elements::involute_spline::InvoluteFlanks;
    /// let flanks = InvoluteFlanks::new(30, 1.25, 30_f64.to_radians())?;
    /// let at_pitch_circle = flanks.thickness_at(0.06, 1.25)?;
    /// assert!((at_pitch_circle - 0.06).abs() < 1e-15);
    /// # Ok::<(), elements::involute_spline::SplineError>(())
    /// ```
    pub fn thickness_at(&self, thickness: f64, diameter: f64) -> Result<f64, SplineError> {
        let thickness = self.within_pitch("tooth thickness", thickness)?;
        let base = self.base_diameter();
        let diameter = at_least("diameter", diameter, base)?;
        let angle = (base / diameter).acos();
        let half_angle = thickness / self.pitch_diameter + involute(self.pressure_angle_rad) - involute(angle);
        Ok(diameter * half_angle)
    }

    /// Chord over the tooth at the pitch circle, `D sin(t/D)`: what a straight anvil spans.
    ///
    /// # Errors
    ///
    /// [`SplineError::Width`] for a thickness outside one circular pitch.
    ///
    /// Source: "Elements of metric gear technology", section 10, table 10-1.
    ///
    /// ```
    /// use elements::involute_spline::InvoluteFlanks;
    /// let gear = InvoluteFlanks::new(12, 120.0, 20_f64.to_radians())?;
    /// assert!((gear.chordal_thickness(17.8918)? - 17.8256).abs() < 1e-4);
    /// # Ok::<(), elements::involute_spline::SplineError>(())
    /// ```
    pub fn chordal_thickness(&self, thickness: f64) -> Result<f64, SplineError> {
        let thickness = self.within_pitch("tooth thickness", thickness)?;
        Ok(self.pitch_diameter * (thickness / self.pitch_diameter).sin())
    }

    /// Height from that chord to the tooth tip, `h + D/2 (1 − cos(t/D))`, with the addendum `h`
    /// from the pitch circle to the tip.
    ///
    /// # Errors
    ///
    /// As [`Self::chordal_thickness`], and [`SplineError::Range`] for an addendum below zero.
    ///
    /// Source: as [`Self::chordal_thickness`].
    pub fn chordal_height(&self, thickness: f64, addendum: f64) -> Result<f64, SplineError> {
        let thickness = self.within_pitch("tooth thickness", thickness)?;
        let addendum = in_range("addendum", addendum, 0.0, self.pitch_diameter)?;
        let sagitta = self.pitch_diameter / 2.0 * (1.0 - (thickness / self.pitch_diameter).cos());
        Ok(addendum + sagitta)
    }

    /// Span over several teeth between parallel anvils,
    /// `W = Db ((k − 1)π/N + t/D + inv φ)` over `k` teeth.
    ///
    /// The anvils must touch the flanks, which the caller has to see to by the choice of `k`.
    ///
    /// # Errors
    ///
    /// [`SplineError::Width`] for a thickness outside one circular pitch;
    /// [`SplineError::Teeth`] for a span over fewer than one or more than half of the teeth.
    ///
    /// Source: ISO 21771:2007, span measurement, for straight teeth.
    ///
    /// ```
    /// use elements::involute_spline::Din5480Spline;
    /// // DIN 5480 W50 × 2 × 24 over 4 teeth.
    /// let spline = Din5480Spline::new(50.0, 2.0, 24)?;
    /// let span_mm = spline.flanks().span(spline.tooth_thickness_mm(), 4)?;
    /// assert!((span_mm - 21.179).abs() < 1e-3);
    /// # Ok::<(), elements::involute_spline::SplineError>(())
    /// ```
    pub fn span(&self, thickness: f64, teeth_spanned: u32) -> Result<f64, SplineError> {
        let thickness = self.within_pitch("tooth thickness", thickness)?;
        let spanned = f64::from(teeth_in_range(teeth_spanned, 1, self.teeth / 2)?);
        let turns = (spanned - 1.0) * PI / f64::from(self.teeth)
            + thickness / self.pitch_diameter
            + involute(self.pressure_angle_rad);
        Ok(self.base_diameter() * turns)
    }

    /// A thickness or width that leaves something of the circular pitch to its neighbour.
    pub(super) fn within_pitch(&self, what: &'static str, width: f64) -> Result<f64, SplineError> {
        let circular_pitch = self.circular_pitch();
        if width > 0.0 && width < circular_pitch {
            Ok(width)
        } else {
            Err(SplineError::Width { what, value: width, circular_pitch })
        }
    }
}
