//! A hole zone and a shaft zone together.

use std::fmt;

use super::{Feature, FitError, SizeLimits, Zone};

/// A hole and a shaft of one nominal size, such as `H7/m6`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fit {
    hole: Zone,
    shaft: Zone,
}

/// How the two members meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FitKind {
    /// The shaft is never larger than the hole.
    Clearance,
    /// Either, by where the two parts lie in their zones.
    Transition,
    /// The shaft is never smaller than the hole.
    Interference,
}

/// Clearance of a fit, micrometres; below zero is interference.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitClearance {
    /// Smallest hole less largest shaft.
    pub smallest_um: f64,
    /// Largest hole less smallest shaft.
    pub largest_um: f64,
}

impl FitClearance {
    /// Clearance of two sets of limits of the same nominal size, hole first.
    #[must_use]
    pub fn of(hole: &SizeLimits, shaft: &SizeLimits) -> Self {
        Self { smallest_um: hole.lower_um - shaft.upper_um, largest_um: hole.upper_um - shaft.lower_um }
    }

    /// Clearance to be expected of parts that do not both lie at the ends of their zones:
    /// the mean ± half the root of the squared tolerances, `√(T_hole² + T_shaft²)/2`.
    ///
    /// Of parts that fill their zones as a normal distribution does, about 99.7 % lie within.
    ///
    /// Source: root-sum-square of independent tolerances, as bearing fit tables print it.
    #[must_use]
    pub fn probable(hole: &SizeLimits, shaft: &SizeLimits) -> Self {
        let all = Self::of(hole, shaft);
        let mean_um = (all.smallest_um + all.largest_um) / 2.0;
        let hole_um = hole.upper_um - hole.lower_um;
        let shaft_um = shaft.upper_um - shaft.lower_um;
        let half_um = hole_um.hypot(shaft_um) / 2.0;
        Self { smallest_um: mean_um - half_um, largest_um: mean_um + half_um }
    }

    /// Clearance, transition or interference fit. A fit that can just reach zero from either side
    /// keeps its name.
    #[must_use]
    pub fn kind(&self) -> FitKind {
        if self.smallest_um >= 0.0 {
            FitKind::Clearance
        } else if self.largest_um <= 0.0 {
            FitKind::Interference
        } else {
            FitKind::Transition
        }
    }
}

impl Fit {
    /// A fit of a hole zone and a shaft zone.
    ///
    /// # Errors
    ///
    /// [`FitError::NotAFit`] when the first is not a hole's or the second not a shaft's.
    pub fn new(hole: Zone, shaft: Zone) -> Result<Self, FitError> {
        if hole.feature == Feature::Hole && shaft.feature == Feature::Shaft {
            Ok(Self { hole, shaft })
        } else {
            Err(FitError::NotAFit { hole, shaft })
        }
    }

    /// A fit as written, hole first: `H7/m6`.
    ///
    /// # Errors
    ///
    /// [`FitError::NotAZone`], [`FitError::NoSuchGrade`] or [`FitError::NotAFit`].
    ///
    /// ```
    /// use elements::limits_fits::{Fit, FitKind};
    /// let clearance = Fit::parse("H7/k6")?.clearance(40.0)?;
    /// assert_eq!((clearance.smallest_um, clearance.largest_um), (-18.0, 23.0));
    /// assert_eq!(clearance.kind(), FitKind::Transition);
    /// # Ok::<(), elements::limits_fits::FitError>(())
    /// ```
    pub fn parse(text: &str) -> Result<Self, FitError> {
        let (hole, shaft) = text.split_once('/').ok_or_else(|| FitError::NotAZone { text: text.to_owned() })?;
        Self::new(Zone::parse(hole)?, Zone::parse(shaft)?)
    }

    /// Zone of the hole.
    #[must_use]
    pub fn hole(&self) -> Zone {
        self.hole
    }

    /// Zone of the shaft.
    #[must_use]
    pub fn shaft(&self) -> Zone {
        self.shaft
    }

    /// Clearance at a nominal size: smallest hole less largest shaft, largest hole less smallest
    /// shaft.
    ///
    /// # Errors
    ///
    /// As [`Zone::limits`].
    ///
    /// Source: ISO 286-1:2010, definitions of clearance and interference.
    pub fn clearance(&self, nominal_mm: f64) -> Result<FitClearance, FitError> {
        Ok(FitClearance::of(&self.hole.limits(nominal_mm)?, &self.shaft.limits(nominal_mm)?))
    }
}

impl fmt::Display for Fit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.hole, self.shaft)
    }
}
