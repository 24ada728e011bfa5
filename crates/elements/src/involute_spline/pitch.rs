//! The paired pitches of inch splines.

use std::fmt;

use super::SplineError;

/// A standard pair of diametral and stub pitch, such as 24/48.
///
/// The first number sets tooth thickness (teeth per inch of pitch diameter), the second, twice
/// the first, the height of the teeth.
///
/// Source: ANSI B92.1-1970 (R1993), table of basic dimensions.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Pitch {
    diametral: f64,
}

impl Pitch {
    /// Every pitch of the standard, from the coarsest.
    pub const ALL: [Self; 17] = [
        Self::of(2.5),
        Self::of(3.0),
        Self::of(4.0),
        Self::of(5.0),
        Self::of(6.0),
        Self::of(8.0),
        Self::of(10.0),
        Self::of(12.0),
        Self::of(16.0),
        Self::of(20.0),
        Self::of(24.0),
        Self::of(32.0),
        Self::of(40.0),
        Self::of(48.0),
        Self::of(64.0),
        Self::of(80.0),
        Self::of(128.0),
    ];

    pub(super) const fn of(diametral: f64) -> Self {
        Self { diametral }
    }

    /// The standard pitch of these two numbers.
    ///
    /// # Errors
    ///
    /// [`SplineError::NoSuchPitch`] for a pair that the standard does not hold.
    ///
    /// ```
    /// use elements::involute_spline::Pitch;
    /// assert_eq!(Pitch::new(24.0, 48.0)?.to_string(), "24/48");
    /// assert!(Pitch::new(24.0, 32.0).is_err());
    /// # Ok::<(), elements::involute_spline::SplineError>(())
    /// ```
    pub fn new(diametral: f64, stub: f64) -> Result<Self, SplineError> {
        Self::ALL
            .into_iter()
            .find(|pitch| pitch.diametral == diametral && pitch.stub() == stub)
            .ok_or(SplineError::NoSuchPitch { diametral, stub })
    }

    /// Diametral pitch `P`, teeth per inch of pitch diameter.
    #[must_use]
    pub fn diametral(self) -> f64 {
        self.diametral
    }

    /// Stub pitch, twice the diametral one.
    #[must_use]
    pub fn stub(self) -> f64 {
        2.0 * self.diametral
    }
}

impl fmt::Display for Pitch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.diametral(), self.stub())
    }
}
