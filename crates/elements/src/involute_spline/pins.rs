//! Sizes over and between two pins, and back from a measured size to thickness.

use std::f64::consts::{FRAC_PI_2, PI};

use super::{InvoluteFlanks, SplineError, at_least, in_range, inverse_involute, involute, positive};

/// Two equal pins in opposite spaces and where they sit. Any consistent unit of length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PinContact {
    /// Diameter of the pins.
    pub pin: f64,
    /// Size over the pins of an external spline, between the pins of an internal one.
    pub size: f64,
    /// Diameter of the circle on which the pins' centres lie.
    pub centre_diameter: f64,
    /// Diameter at which the pins touch the flanks.
    pub contact_diameter: f64,
    /// How much the size changes for a small change of tooth thickness or space width.
    pub size_per_width: f64,
}

impl InvoluteFlanks {
    /// Size over two pins in spaces as nearly opposite as the count allows, external teeth.
    ///
    /// ```text
    /// inv φe = t/D + inv φ + d/Db − π/N
    /// M = Db/cos φe + d                 N even
    /// M = Db cos(90°/N)/cos φe + d      N odd
    /// contact: tan φc = tan φe − d/Db,  D_contact = Db/cos φc
    /// dM/dt = cos φ/sin φe              (× cos(90°/N) for odd counts)
    /// ```
    ///
    /// `thickness` is the circular tooth thickness at the pitch circle, above zero and below one
    /// circular pitch; `pin` the pin diameter, above zero. Whether the pin touches the flank that
    /// a given tooth really has is for the standard's own type to say.
    ///
    /// # Errors
    ///
    /// [`SplineError::Width`] for a thickness outside one circular pitch, [`SplineError::Range`]
    /// for the pin, or [`SplineError::PinFallsThrough`] when the pin is too small to
    /// rest on the involute.
    ///
    /// Source: ANSI B92.1-1970 (R1993), measurement over pins; handbook "Checking gear size by
    /// measurement over wires or pins".
    ///
    /// ```
    /// use elements::involute_spline::InvoluteFlanks;
    /// // The handbook's gear: 32 teeth, 20°, diametral pitch 1, wire 1.728 in.
    /// let gear = InvoluteFlanks::new(32, 32.0, 20_f64.to_radians())?;
    /// let over = gear.over_pins(std::f64::consts::FRAC_PI_2, 1.728)?;
    /// assert!((over.size - 34.4130).abs() < 1e-4);
    /// # Ok::<(), elements::involute_spline::SplineError>(())
    /// ```
    pub fn over_pins(&self, thickness: f64, pin: f64) -> Result<PinContact, SplineError> {
        let thickness = self.within_pitch("tooth thickness", thickness)?;
        let pin = self.pin_in_range(pin)?;
        let base = self.base_diameter();
        let pin_involute = thickness / self.pitch_diameter() + involute(self.pressure_angle_rad()) + pin / base
            - PI / f64::from(self.teeth());
        if pin_involute <= 0.0 {
            return Err(SplineError::PinFallsThrough { pin });
        }
        let angle = inverse_involute(pin_involute)?;
        let contact_tangent = angle.tan() - pin / base;
        if contact_tangent < 0.0 {
            return Err(SplineError::PinFallsThrough { pin });
        }
        let centre_diameter = base / angle.cos();
        Ok(PinContact {
            pin,
            size: centre_diameter * self.opposite_share() + pin,
            centre_diameter,
            contact_diameter: base * contact_tangent.hypot(1.0),
            size_per_width: self.opposite_share() * self.pressure_angle_rad().cos() / angle.sin(),
        })
    }

    /// Size between two pins in spaces as nearly opposite as the count allows, internal teeth.
    ///
    /// ```text
    /// inv φi = s/D + inv φ − d/Db
    /// M = Db/cos φi − d                 N even
    /// M = Db cos(90°/N)/cos φi − d      N odd
    /// contact: tan φc = tan φi + d/Db,  D_contact = Db/cos φc
    /// ```
    ///
    /// `space_width` is the circular space width at the pitch circle. Ranges as
    /// [`Self::over_pins`].
    ///
    /// # Errors
    ///
    /// As [`Self::over_pins`]; [`SplineError::PinFallsThrough`] when the pin is too large to
    /// enter the space.
    ///
    /// Source: ANSI B92.1-1970 (R1993), measurement between pins.
    ///
    /// ```
    /// use elements::involute_spline::InvoluteFlanks;
    /// let ring = InvoluteFlanks::new(28, 28.0, 20_f64.to_radians())?;
    /// let between = ring.between_pins(std::f64::consts::FRAC_PI_2, 1.44)?;
    /// assert!((between.size - 26.6640).abs() < 1e-4);
    /// # Ok::<(), elements::involute_spline::SplineError>(())
    /// ```
    pub fn between_pins(&self, space_width: f64, pin: f64) -> Result<PinContact, SplineError> {
        let space_width = self.within_pitch("space width", space_width)?;
        let pin = self.pin_in_range(pin)?;
        let base = self.base_diameter();
        let pin_involute = space_width / self.pitch_diameter() + involute(self.pressure_angle_rad()) - pin / base;
        if pin_involute <= 0.0 {
            return Err(SplineError::PinFallsThrough { pin });
        }
        let angle = inverse_involute(pin_involute)?;
        let contact_tangent = angle.tan() + pin / base;
        let centre_diameter = base / angle.cos();
        Ok(PinContact {
            pin,
            size: centre_diameter * self.opposite_share() - pin,
            centre_diameter,
            contact_diameter: base * contact_tangent.hypot(1.0),
            size_per_width: self.opposite_share() * self.pressure_angle_rad().cos() / angle.sin(),
        })
    }

    /// Circular tooth thickness at the pitch circle from a measured size over pins.
    ///
    /// ```text
    /// cos φe = Db/(M − d)               N even
    /// cos φe = Db cos(90°/N)/(M − d)    N odd
    /// t = D (inv φe − inv φ − d/Db + π/N)
    /// ```
    ///
    /// # Errors
    ///
    /// [`SplineError::TooSmall`] when the size puts the pins' centres inside the base circle,
    /// [`SplineError::Width`] when it would need a tooth thinner than nothing or thicker than one
    /// circular pitch, [`SplineError::Range`] for the pin.
    ///
    /// Source: as [`Self::over_pins`], solved for the thickness.
    pub fn thickness_from_over_pins(&self, size: f64, pin: f64) -> Result<f64, SplineError> {
        let pin = self.pin_in_range(pin)?;
        let share = self.opposite_share();
        let base = self.base_diameter();
        let size = at_least("size over pins", size, base * share + pin)?;
        let angle = (base * share / (size - pin)).acos();
        let thickness = self.pitch_diameter()
            * (involute(angle) - involute(self.pressure_angle_rad()) - pin / base + PI / f64::from(self.teeth()));
        self.within_pitch("tooth thickness that this size over pins means", thickness)
    }

    /// Circular space width at the pitch circle from a measured size between pins.
    ///
    /// ```text
    /// cos φi = Db/(M + d)               N even
    /// cos φi = Db cos(90°/N)/(M + d)    N odd
    /// s = D (inv φi − inv φ + d/Db)
    /// ```
    ///
    /// # Errors
    ///
    /// As [`Self::thickness_from_over_pins`].
    ///
    /// Source: as [`Self::between_pins`], solved for the width.
    pub fn width_from_between_pins(&self, size: f64, pin: f64) -> Result<f64, SplineError> {
        let pin = self.pin_in_range(pin)?;
        let share = self.opposite_share();
        let base = self.base_diameter();
        let size = at_least("size between pins", size, base * share - pin)?;
        let angle = (base * share / (size + pin)).acos();
        let width = self.pitch_diameter() * (involute(angle) - involute(self.pressure_angle_rad()) + pin / base);
        self.within_pitch("space width that this size between pins means", width)
    }

    /// Pin that touches external flanks at a wanted diameter.
    ///
    /// ```text
    /// cos φc = Db/D_contact
    /// φe = tan φc − t/D − inv φ + π/N       (radians)
    /// d = Db (tan φe − tan φc)
    /// ```
    ///
    /// # Errors
    ///
    /// [`SplineError::Width`] for a thickness outside one circular pitch,
    /// [`SplineError::TooSmall`] for a diameter below the base circle, and
    /// [`SplineError::NoPinTouches`] where the flanks leave a pin no room.
    ///
    /// Source: the contact condition of [`Self::over_pins`], solved for the pin.
    pub fn external_pin_touching(&self, thickness: f64, contact_diameter: f64) -> Result<f64, SplineError> {
        let thickness = self.within_pitch("tooth thickness", thickness)?;
        let (base, tangent) = self.contact_tangent(contact_diameter)?;
        let angle = tangent - thickness / self.pitch_diameter() - involute(self.pressure_angle_rad())
            + PI / f64::from(self.teeth());
        if angle > tangent.atan() && angle < FRAC_PI_2 {
            Ok(base * (angle.tan() - tangent))
        } else {
            Err(SplineError::NoPinTouches { contact: contact_diameter })
        }
    }

    /// Pin that touches internal flanks at a wanted diameter.
    ///
    /// ```text
    /// φi = tan φc − s/D − inv φ             (radians)
    /// d = Db (tan φc − tan φi)
    /// ```
    ///
    /// # Errors
    ///
    /// As [`Self::external_pin_touching`].
    ///
    /// Source: the contact condition of [`Self::between_pins`], solved for the pin.
    pub fn internal_pin_touching(&self, space_width: f64, contact_diameter: f64) -> Result<f64, SplineError> {
        let space_width = self.within_pitch("space width", space_width)?;
        let (base, tangent) = self.contact_tangent(contact_diameter)?;
        let angle = tangent - space_width / self.pitch_diameter() - involute(self.pressure_angle_rad());
        if angle >= 0.0 && angle < tangent.atan() {
            Ok(base * (tangent - angle.tan()))
        } else {
            Err(SplineError::NoPinTouches { contact: contact_diameter })
        }
    }

    fn contact_tangent(&self, contact_diameter: f64) -> Result<(f64, f64), SplineError> {
        let base = self.base_diameter();
        let contact = at_least("contact diameter", contact_diameter, base)?;
        Ok((base, (base / contact).acos().tan()))
    }

    fn pin_in_range(&self, pin: f64) -> Result<f64, SplineError> {
        // A pin as large as the pitch circle rests on no spline; the bound keeps the solver in range.
        in_range("pin diameter", pin, 0.0, self.pitch_diameter()).and_then(|pin| positive("pin diameter", pin))
    }

    /// Share of the centre diameter that two pins stand apart: all of it for an even count. For an
    /// odd count no space stands opposite another and the pins close up to cos(90°/N) of it.
    fn opposite_share(&self) -> f64 {
        if self.teeth().is_multiple_of(2) { 1.0 } else { (FRAC_PI_2 / f64::from(self.teeth())).cos() }
    }
}
