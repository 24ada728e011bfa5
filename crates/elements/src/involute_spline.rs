//! Involute splines: every diameter, tooth thickness and space width, sizes over and between pins.
//!
//! - [`InchSpline`] follows ANSI B92.1 (inch, 30°, 37.5° and 45°);
//! - [`Iso4156Spline`] follows ISO 4156 (metric module, the same angles);
//! - [`Din5480Spline`] follows DIN 5480 (metric, 30°, sized by a reference diameter);
//! - [`InvoluteFlanks`] holds the geometry that all three share, for any gear or spline.
//!
//! Circular tooth thickness `t` (external) and space width `s` (internal) are arcs on the pitch
//! circle. *Actual* limits are what is measured at one tooth; *effective* ones are what the whole
//! mating part feels, form, spacing and lead errors included.

use std::fmt;

use thiserror::Error;

mod din_5480;
mod flanks;
mod identify;
mod inch;
mod inch_limits;
mod inch_pins;
mod involute;
mod iso_4156;
mod metric_pins;
mod pins;
mod pitch;

pub use din_5480::{Din5480Spline, RootCut};
pub use flanks::InvoluteFlanks;
pub use identify::{MeasuredSize, SplineCandidate, SplineEvidence, SplineWear, StandardSpline, identify};
pub use inch::{ExternalDiameters, InchSpline, InternalDiameters};
pub use inch_limits::{InchTolerance, WidthLimits};
pub use involute::{inverse_involute, involute};
pub use iso_4156::{Iso4156Spline, Iso4156Tolerance, ToothDeviation};
pub use metric_pins::nearest_r40_pin_mm;
pub use pins::PinContact;
pub use pitch::Pitch;

/// Pressure angle at the pitch circle; the three that the spline standards know.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PressureAngle {
    /// 30 degrees.
    Thirty,
    /// 37.5 degrees.
    ThirtySevenAndHalf,
    /// 45 degrees.
    FortyFive,
}

impl PressureAngle {
    /// All three, from the smallest.
    pub const ALL: [Self; 3] = [Self::Thirty, Self::ThirtySevenAndHalf, Self::FortyFive];

    /// The angle in degrees.
    #[must_use]
    pub fn degrees(self) -> f64 {
        match self {
            Self::Thirty => 30.0,
            Self::ThirtySevenAndHalf => 37.5,
            Self::FortyFive => 45.0,
        }
    }

    /// The angle in radians.
    #[must_use]
    pub fn radians(self) -> f64 {
        self.degrees().to_radians()
    }

    /// The standard angle of exactly this many degrees.
    ///
    /// # Errors
    ///
    /// [`SplineError::NoSuchAngle`] for anything but 30, 37.5 and 45.
    ///
    /// ```
    /// use elements::involute_spline::PressureAngle;
    /// assert_eq!(PressureAngle::from_degrees(37.5), Ok(PressureAngle::ThirtySevenAndHalf));
    /// assert!(PressureAngle::from_degrees(20.0).is_err());
    /// ```
    pub fn from_degrees(degrees: f64) -> Result<Self, SplineError> {
        Self::ALL.into_iter().find(|angle| angle.degrees() == degrees).ok_or(SplineError::NoSuchAngle { degrees })
    }
}

impl fmt::Display for PressureAngle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}°", self.degrees())
    }
}

/// Shape of the bottom of the spaces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum RootForm {
    /// A flat bottom with small corners.
    Flat,
    /// One full radius from flank to flank.
    Fillet,
}

impl fmt::Display for RootForm {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Flat => "flat root",
            Self::Fillet => "fillet root",
        })
    }
}

/// What centres the two members on each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SplineFit {
    /// The sides of the teeth drive and centre.
    Side,
    /// The major diameters centre, the sides drive.
    MajorDiameter,
}

impl fmt::Display for SplineFit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Side => "side fit",
            Self::MajorDiameter => "major-diameter fit",
        })
    }
}

/// Tolerance class of tooth thickness and space width; 4 is the closest, 7 the widest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SplineClass {
    /// Class 4.
    Four,
    /// Class 5, the one that the others are multiples of in ANSI B92.1.
    Five,
    /// Class 6.
    Six,
    /// Class 7.
    Seven,
}

impl SplineClass {
    /// All four, from the closest.
    pub const ALL: [Self; 4] = [Self::Four, Self::Five, Self::Six, Self::Seven];

    /// The number of the class.
    #[must_use]
    pub fn number(self) -> u32 {
        match self {
            Self::Four => 4,
            Self::Five => 5,
            Self::Six => 6,
            Self::Seven => 7,
        }
    }

    /// The class of that number.
    ///
    /// # Errors
    ///
    /// [`SplineError::NoSuchClass`] for anything but 4, 5, 6 and 7.
    pub fn from_number(number: u32) -> Result<Self, SplineError> {
        Self::ALL.into_iter().find(|class| class.number() == number).ok_or(SplineError::NoSuchClass { number })
    }
}

impl fmt::Display for SplineClass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "class {}", self.number())
    }
}

/// Why a spline cannot be computed.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum SplineError {
    /// The number of teeth is outside the range.
    #[error("{teeth} teeth are outside the range; {lowest} to {highest} are accepted")]
    Teeth {
        /// Number of teeth that was given.
        teeth: u32,
        /// Smallest number accepted.
        lowest: u32,
        /// Largest number accepted.
        highest: u32,
    },
    /// A number is outside the range of the formula.
    #[error("the {what} is {value}; it must lie from {lowest} to {highest}")]
    Range {
        /// Which number, with its unit.
        what: &'static str,
        /// Value that was given.
        value: f64,
        /// Smallest value accepted.
        lowest: f64,
        /// Largest value accepted.
        highest: f64,
    },
    /// A number that must be above zero is not.
    #[error("the {what} must be greater than zero and finite, not {value}")]
    NotPositive {
        /// Which number, with its unit.
        what: &'static str,
        /// Value that was given.
        value: f64,
    },
    /// A number is too small.
    #[error("the {what} is {value}; it must be finite and at least {lowest}")]
    TooSmall {
        /// Which number, with its unit.
        what: &'static str,
        /// Value that was given.
        value: f64,
        /// Smallest value accepted.
        lowest: f64,
    },
    /// A tooth or space does not leave its neighbour any room.
    #[error("the {what} is {value}; it must be above zero and below one circular pitch, {circular_pitch}")]
    Width {
        /// Tooth thickness or space width.
        what: &'static str,
        /// Value that was given or follows.
        value: f64,
        /// Arc of one tooth and one space.
        circular_pitch: f64,
    },
    /// The pitch is not one of the standard's pairs.
    #[error(
        "{diametral}/{stub} is not a standard spline pitch; accepted are 2.5/5, 3/6, 4/8, 5/10, \
         6/12, 8/16, 10/20, 12/24, 16/32, 20/40, 24/48, 32/64, 40/80, 48/96, 64/128, 80/160 and \
         128/256"
    )]
    NoSuchPitch {
        /// Diametral pitch that was given.
        diametral: f64,
        /// Stub pitch that was given.
        stub: f64,
    },
    /// The pressure angle is not one of the standard's.
    #[error("{degrees}° is not a standard pressure angle of splines; accepted are 30, 37.5 and 45")]
    NoSuchAngle {
        /// Angle that was given, in degrees.
        degrees: f64,
    },
    /// The tolerance class does not exist.
    #[error("class {number} does not exist; classes 4, 5, 6 and 7 are accepted")]
    NoSuchClass {
        /// Number that was given.
        number: u32,
    },
    /// The standard has no spline of this angle, root and fit.
    #[error(
        "the standard has no {angle} {root} {fit} spline; accepted are 30° flat root side fit, \
         30° flat root major-diameter fit and 30°, 37.5° and 45° fillet root side fit"
    )]
    NoSuchForm {
        /// Pressure angle that was given.
        angle: PressureAngle,
        /// Root form that was given.
        root: RootForm,
        /// Fit that was given.
        fit: SplineFit,
    },
    /// The standard has this form, but not in this pitch.
    #[error("pitch {pitch} is not made in this form; {coarsest} to {finest} are accepted")]
    PitchNotInForm {
        /// Pitch that was given.
        pitch: Pitch,
        /// Coarsest pitch of the form.
        coarsest: Pitch,
        /// Finest pitch of the form.
        finest: Pitch,
    },
    /// The class tolerances of this pitch are not held.
    #[error(
        "class tolerances of pitch {pitch} are not held, because the published copies of the \
         table disagree; pitches from 4/8 are accepted"
    )]
    ToleranceNotHeld {
        /// Pitch that was given.
        pitch: Pitch,
    },
    /// A major-diameter fit has only one class, and its tooth thickness an allowance not held.
    #[error(
        "a major-diameter fit has the space width of class 5 only, and its tooth thickness takes \
         an allowance that is not held; ask for the class 5 space width or for a side fit"
    )]
    MajorDiameterLimits,
    /// The pin drops through the space or below the involute.
    #[error(
        "a pin of {pin} does not rest on the flanks of this spline: it meets them below the base \
         circle or not at all"
    )]
    PinFallsThrough {
        /// Pin diameter that was given.
        pin: f64,
    },
    /// The pin touches the tooth outside its flank.
    #[error(
        "a pin of {pin} would touch at diameter {contact}, off the flank, which runs from {lowest} \
         to {highest}; pins from {smallest_pin} to {largest_pin} touch the flank"
    )]
    PinOffFlank {
        /// Pin diameter that was given.
        pin: f64,
        /// Diameter at which it would touch.
        contact: f64,
        /// Smaller end of the flank, as a diameter.
        lowest: f64,
        /// Larger end of the flank, as a diameter.
        highest: f64,
        /// Smallest pin that touches the flank.
        smallest_pin: f64,
        /// Largest pin that touches the flank.
        largest_pin: f64,
    },
    /// The pin does not stand proud of the teeth, so that a caliper or micrometer misses it.
    #[error("a pin of {pin} does not stand proud of the teeth; take a larger one")]
    PinSunk {
        /// Pin diameter that was given.
        pin: f64,
    },
    /// The pin touches the bottom of the space.
    #[error(
        "a pin of {pin} rests on the root instead of the flanks; take a larger one, or grind a \
         flat on it and measure with that over the root"
    )]
    PinOnRoot {
        /// Pin diameter that was given.
        pin: f64,
    },
    /// No pin can touch both flanks of a space at this diameter.
    #[error("no pin touches both flanks at diameter {contact}")]
    NoPinTouches {
        /// Diameter at which the pin should touch.
        contact: f64,
    },
    /// Nothing was measured that could tell one spline from another.
    #[error("a spline cannot be told by its count alone; the size over its tips or over two pins is needed")]
    NoEvidence,
    /// None of the pins on offer can be used.
    #[error("none of the pins on offer touches the flanks; one of about {ideal} would")]
    NoPinFits {
        /// Pin that would touch at the pitch circle.
        ideal: f64,
    },
}

fn positive(what: &'static str, value: f64) -> Result<f64, SplineError> {
    if value.is_finite() && value > 0.0 { Ok(value) } else { Err(SplineError::NotPositive { what, value }) }
}

fn at_least(what: &'static str, value: f64, lowest: f64) -> Result<f64, SplineError> {
    if value.is_finite() && value >= lowest { Ok(value) } else { Err(SplineError::TooSmall { what, value, lowest }) }
}

fn in_range(what: &'static str, value: f64, lowest: f64, highest: f64) -> Result<f64, SplineError> {
    // A value that is not a number is in no range.
    if (lowest..=highest).contains(&value) {
        Ok(value)
    } else {
        Err(SplineError::Range { what, value, lowest, highest })
    }
}

fn teeth_in_range(teeth: u32, lowest: u32, highest: u32) -> Result<u32, SplineError> {
    if (lowest..=highest).contains(&teeth) { Ok(teeth) } else { Err(SplineError::Teeth { teeth, lowest, highest }) }
}
