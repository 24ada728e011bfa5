//! Pins on the real flanks of an inch spline: whether they touch, and which to take.

use super::{InchSpline, PinContact, PressureAngle, SplineError, involute};

/// Ends of the flank that a pin may touch, and which way it must stand clear.
struct FlankEnds {
    lowest_in: f64,
    highest_in: f64,
}

impl InchSpline {
    /// Pin of the standard for the external spline, `1.92/P` inches.
    #[must_use]
    pub fn external_pin_in(&self) -> f64 {
        1.92 / self.pitch().diametral()
    }

    /// Pin of the standard for the internal spline, `1.728/P` inches at 30° and 37.5°, `1.92/P`
    /// at 45° (from one public transcription; any pin that touches the flank is as good).
    #[must_use]
    pub fn internal_pin_in(&self) -> f64 {
        let factor = match self.pressure_angle() {
            PressureAngle::Thirty | PressureAngle::ThirtySevenAndHalf => 1.728,
            PressureAngle::FortyFive => 1.92,
        };
        factor / self.pitch().diametral()
    }

    /// Size over pins of the external spline, once it is sure that the pins rest on the flanks.
    ///
    /// Formula: [`InvoluteFlanks::over_pins`](super::InvoluteFlanks::over_pins), inches. The pins
    /// must touch between form and major diameter, stand proud of the major diameter and clear the
    /// minor diameter.
    ///
    /// # Errors
    ///
    /// As there, and [`SplineError::PinOffFlank`], [`SplineError::PinSunk`] or
    /// [`SplineError::PinOnRoot`].
    ///
    /// Source: ANSI B92.1-1970 (R1993), measurement over pins.
    pub fn over_pins(&self, tooth_thickness_in: f64, pin_in: f64) -> Result<PinContact, SplineError> {
        let contact = self.flanks().over_pins(tooth_thickness_in, pin_in)?;
        let ends = self.external_flank();
        if !ends.hold(contact.contact_diameter) {
            return Err(SplineError::PinOffFlank {
                pin: pin_in,
                contact: contact.contact_diameter,
                lowest: ends.lowest_in,
                highest: ends.highest_in,
                // Where the space has closed above the lower end, every smaller pin touches.
                smallest_pin: self.flanks().external_pin_touching(tooth_thickness_in, ends.lowest_in).unwrap_or(0.0),
                largest_pin: self.flanks().external_pin_touching(tooth_thickness_in, ends.highest_in)?,
            });
        }
        let external = self.external();
        if contact.centre_diameter + pin_in <= external.major_in {
            return Err(SplineError::PinSunk { pin: pin_in });
        }
        if contact.centre_diameter - pin_in <= external.minor_in {
            return Err(SplineError::PinOnRoot { pin: pin_in });
        }
        Ok(contact)
    }

    /// Size between pins of the internal spline, once it is sure that the pins rest on the flanks.
    ///
    /// Formula: [`InvoluteFlanks::between_pins`](super::InvoluteFlanks::between_pins), inches.
    /// The pins must touch between minor and form diameter, stand proud of the minor diameter and
    /// clear the major diameter.
    ///
    /// # Errors
    ///
    /// As [`Self::over_pins`].
    ///
    /// Source: ANSI B92.1-1970 (R1993), measurement between pins.
    pub fn between_pins(&self, space_width_in: f64, pin_in: f64) -> Result<PinContact, SplineError> {
        let contact = self.flanks().between_pins(space_width_in, pin_in)?;
        let ends = self.internal_flank();
        if !ends.hold(contact.contact_diameter) {
            return Err(SplineError::PinOffFlank {
                pin: pin_in,
                contact: contact.contact_diameter,
                lowest: ends.lowest_in,
                highest: ends.highest_in,
                // Inside a ring the larger pin touches farther in. Where the space has closed
                // below the outer end, every smaller pin touches; where a pin at the inner end
                // would sit past the base circle, the largest is the one centred on that circle.
                smallest_pin: self.flanks().internal_pin_touching(space_width_in, ends.highest_in).unwrap_or(0.0),
                largest_pin: self
                    .flanks()
                    .internal_pin_touching(space_width_in, ends.lowest_in)
                    .unwrap_or_else(|_| self.pin_on_base_circle_in(space_width_in)),
            });
        }
        let internal = self.internal();
        if contact.centre_diameter - pin_in >= internal.minor_in {
            return Err(SplineError::PinSunk { pin: pin_in });
        }
        if contact.centre_diameter + pin_in >= internal.major_in {
            return Err(SplineError::PinOnRoot { pin: pin_in });
        }
        Ok(contact)
    }

    /// Circular tooth thickness from a measured size over pins, inches, once it is sure that the
    /// pins rest on the flanks at that thickness.
    ///
    /// # Errors
    ///
    /// As [`Self::over_pins`] and
    /// [`InvoluteFlanks::thickness_from_over_pins`](super::InvoluteFlanks::thickness_from_over_pins).
    ///
    /// ```
    /// use elements::involute_spline::{InchSpline, Pitch, PressureAngle, RootForm, SplineFit};
    /// let spline = InchSpline::new(
    ///     31,
    ///     Pitch::new(24.0, 48.0)?,
    ///     PressureAngle::Thirty,
    ///     RootForm::Fillet,
    ///     SplineFit::Side,
    /// )?;
    /// let thickness_in = spline.thickness_from_over_pins(1.41210, 0.080)?;
    /// // The largest actual thickness of class 5, 0.065450 − 0.001472.
    /// assert!((thickness_in - 0.063978).abs() < 5e-6);
    /// # Ok::<(), elements::involute_spline::SplineError>(())
    /// ```
    pub fn thickness_from_over_pins(&self, size_in: f64, pin_in: f64) -> Result<f64, SplineError> {
        let thickness_in = self.flanks().thickness_from_over_pins(size_in, pin_in)?;
        self.over_pins(thickness_in, pin_in)?;
        Ok(thickness_in)
    }

    /// Circular space width from a measured size between pins, inches, once it is sure that the
    /// pins rest on the flanks at that width.
    ///
    /// # Errors
    ///
    /// As [`Self::between_pins`] and
    /// [`InvoluteFlanks::width_from_between_pins`](super::InvoluteFlanks::width_from_between_pins).
    pub fn width_from_between_pins(&self, size_in: f64, pin_in: f64) -> Result<f64, SplineError> {
        let width_in = self.flanks().width_from_between_pins(size_in, pin_in)?;
        self.between_pins(width_in, pin_in)?;
        Ok(width_in)
    }

    /// Of the pins on offer the one that touches the external flanks closest to the pitch circle.
    ///
    /// There the size is least disturbed by an error of profile. Of two that are equally close the
    /// earlier is taken.
    ///
    /// # Errors
    ///
    /// [`SplineError::NoPinFits`] when none rests on the flanks; [`SplineError::Width`] for the
    /// thickness.
    ///
    /// Source: the contact condition of [`Self::over_pins`]; to prefer the pitch circle is common
    /// practice, no source.
    ///
    /// ```
    /// use elements::involute_spline::{InchSpline, Pitch, PressureAngle, RootForm, SplineFit};
    /// let spline = InchSpline::new(
    ///     30,
    ///     Pitch::new(24.0, 48.0)?,
    ///     PressureAngle::FortyFive,
    ///     RootForm::Fillet,
    ///     SplineFit::Side,
    /// )?;
    /// let best = spline.best_external_pin(spline.basic_width_in(), &[0.040, 0.072, 0.080, 0.120])?;
    /// assert_eq!(best.pin, 0.080);
    /// # Ok::<(), elements::involute_spline::SplineError>(())
    /// ```
    pub fn best_external_pin(&self, tooth_thickness_in: f64, pins_in: &[f64]) -> Result<PinContact, SplineError> {
        let ideal = self.flanks().external_pin_touching(tooth_thickness_in, self.pitch_diameter_in())?;
        self.closest_to_pitch_circle(
            pins_in.iter().filter_map(|&pin_in| self.over_pins(tooth_thickness_in, pin_in).ok()),
            ideal,
        )
    }

    /// Of the pins on offer the one that touches the internal flanks closest to the pitch circle.
    ///
    /// # Errors
    ///
    /// As [`Self::best_external_pin`].
    ///
    /// Source: as [`Self::best_external_pin`].
    pub fn best_internal_pin(&self, space_width_in: f64, pins_in: &[f64]) -> Result<PinContact, SplineError> {
        let ideal = self.flanks().internal_pin_touching(space_width_in, self.pitch_diameter_in())?;
        self.closest_to_pitch_circle(
            pins_in.iter().filter_map(|&pin_in| self.between_pins(space_width_in, pin_in).ok()),
            ideal,
        )
    }

    /// Pin whose centre lies on the base circle of the internal spline, where `inv φi` is zero.
    fn pin_on_base_circle_in(&self, space_width_in: f64) -> f64 {
        self.base_diameter_in()
            * (space_width_in / self.pitch_diameter_in() + involute(self.pressure_angle().radians()))
    }

    fn closest_to_pitch_circle(
        &self,
        contacts: impl Iterator<Item = PinContact>,
        ideal: f64,
    ) -> Result<PinContact, SplineError> {
        let away = |contact: &PinContact| (contact.contact_diameter - self.pitch_diameter_in()).abs();
        contacts.min_by(|a, b| away(a).total_cmp(&away(b))).ok_or(SplineError::NoPinFits { ideal })
    }

    /// From the form diameter, or the base circle where that is larger, to the major diameter.
    fn external_flank(&self) -> FlankEnds {
        let external = self.external();
        FlankEnds { lowest_in: external.form_in.max(self.base_diameter_in()), highest_in: external.major_in }
    }

    /// From the minor diameter, or the base circle where that is larger, to the form diameter.
    fn internal_flank(&self) -> FlankEnds {
        let internal = self.internal();
        FlankEnds { lowest_in: internal.minor_in.max(self.base_diameter_in()), highest_in: internal.form_in }
    }
}

impl FlankEnds {
    fn hold(&self, contact_diameter_in: f64) -> bool {
        (self.lowest_in..=self.highest_in).contains(&contact_diameter_in)
    }
}
