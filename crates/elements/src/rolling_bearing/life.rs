//! Basic rating life.

use std::f64::consts::TAU;

use super::{BearingError, positive};

/// What rolls: it sets the exponent of the life.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum RollingElement {
    /// Balls, exponent 3.
    Ball,
    /// Rollers, exponent 10/3.
    Roller,
}

impl RollingElement {
    /// Exponent of the life equation.
    #[must_use]
    pub fn exponent(self) -> f64 {
        match self {
            Self::Ball => 3.0,
            Self::Roller => 10.0 / 3.0,
        }
    }
}

/// Basic rating life in millions of revolutions, `L10 = (C/P)^p`: what nine bearings in ten reach.
///
/// `dynamic_rating` and `equivalent` in one unit of force, both above zero. Valid for loads up to
/// half of the rating; beyond that a bearing is a case for its static safety.
///
/// # Errors
///
/// [`BearingError::NotPositive`].
///
/// Source: ISO 281:2007, basic rating life.
///
/// ```
/// use elements::rolling_bearing::{RollingElement, rating_life};
/// let million_rev = rating_life(61.6, 7.2, RollingElement::Roller)?;
/// assert!((million_rev - 1280.84).abs() < 0.5);
/// # Ok::<(), elements::rolling_bearing::BearingError>(())
/// ```
pub fn rating_life(dynamic_rating: f64, equivalent: f64, element: RollingElement) -> Result<f64, BearingError> {
    let ratio = positive("dynamic load rating", dynamic_rating)? / positive("equivalent dynamic load", equivalent)?;
    Ok(ratio.powf(element.exponent()))
}

/// Hours that a life in millions of revolutions lasts, `10⁶ L/(60 n)`.
///
/// # Errors
///
/// [`BearingError::NotPositive`].
///
/// Source: ISO 281:2007.
///
/// ```
/// use elements::rolling_bearing::life_hours;
/// assert!((life_hours(8.615_125, 720.0)? - 199.4).abs() < 0.1);
/// # Ok::<(), elements::rolling_bearing::BearingError>(())
/// ```
pub fn life_hours(million_revolutions: f64, speed_rev_per_min: f64) -> Result<f64, BearingError> {
    Ok(positive("life in million revolutions", million_revolutions)? * 1e6
        / (60.0 * positive("speed in rev/min", speed_rev_per_min)?))
}

/// Kilometres that a life in millions of revolutions carries a wheel, `2πr L`.
///
/// `rolling_radius_m` is the radius in metres with which the loaded tyre rolls, above zero; slip is left out.
///
/// # Errors
///
/// [`BearingError::NotPositive`].
///
/// Source: a circle rolling on its circumference.
///
/// ```
/// use elements::rolling_bearing::life_distance_km;
/// assert!((life_distance_km(1.0, 0.5 / std::f64::consts::PI)? - 1000.0).abs() < 1e-9);
/// # Ok::<(), elements::rolling_bearing::BearingError>(())
/// ```
pub fn life_distance_km(million_revolutions: f64, rolling_radius_m: f64) -> Result<f64, BearingError> {
    Ok(positive("life in million revolutions", million_revolutions)?
        * 1e3
        * TAU
        * positive("rolling radius in m", rolling_radius_m)?)
}

/// Millions of revolutions of a wheel over a distance in kilometres: [`life_distance_km`] solved for the life.
///
/// # Errors
///
/// [`BearingError::NotPositive`].
///
/// Source: as [`life_distance_km`].
pub fn revolutions_over(distance_km: f64, rolling_radius_m: f64) -> Result<f64, BearingError> {
    Ok(positive("distance in km", distance_km)? / life_distance_km(1.0, rolling_radius_m)?)
}

/// Dynamic rating that a wanted life takes, `C = P L^(1/p)`, life in millions of revolutions.
///
/// # Errors
///
/// [`BearingError::NotPositive`].
///
/// Source: [`rating_life`] solved for the rating.
pub fn rating_for_life(
    equivalent: f64,
    million_revolutions: f64,
    element: RollingElement,
) -> Result<f64, BearingError> {
    let life = positive("life in million revolutions", million_revolutions)?;
    Ok(positive("equivalent dynamic load", equivalent)? * life.powf(1.0 / element.exponent()))
}
