//! Life at a reliability other than 90 %.

use super::{BearingError, RollingElement, in_range, positive};

/// Edition of ISO 281 whose reliability factors are meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LifeEdition {
    /// ISO 281:1990 and older texts.
    Iso281Of1990,
    /// ISO 281:2007.
    Iso281Of2007,
}

/// Life adjustment factor `a1` for a reliability in percent.
///
/// ```text
/// percent        90    95     96     97     98     99
/// 1990           1     0.62   0.53   0.44   0.33   0.21
/// 2007           1     0.64   0.55   0.47   0.37   0.25
/// ```
///
/// # Errors
///
/// [`BearingError::Reliability`] for a reliability that is not printed.
///
/// Source: ISO 281:1990 and ISO 281:2007, tables of `a1`.
///
/// ```
/// use elements::rolling_bearing::{LifeEdition, reliability_factor};
/// assert_eq!(reliability_factor(95.0, LifeEdition::Iso281Of2007)?, 0.64);
/// # Ok::<(), elements::rolling_bearing::BearingError>(())
/// ```
pub fn reliability_factor(percent: f64, edition: LifeEdition) -> Result<f64, BearingError> {
    let printed = [90.0, 95.0, 96.0, 97.0, 98.0, 99.0];
    let factors = match edition {
        LifeEdition::Iso281Of1990 => [1.0, 0.62, 0.53, 0.44, 0.33, 0.21],
        LifeEdition::Iso281Of2007 => [1.0, 0.64, 0.55, 0.47, 0.37, 0.25],
    };
    printed
        .into_iter()
        .zip(factors)
        .find(|(printed, _)| *printed == percent)
        .map(|(_, factor)| factor)
        .ok_or(BearingError::Reliability { percent })
}

/// Three-parameter Weibull distribution of the life over `L10`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LifeDistribution {
    /// Least life, `x0`.
    pub least: f64,
    /// Characteristic life less the least, `θ − x0`.
    pub spread: f64,
    /// Shape `b`.
    pub shape: f64,
}

impl LifeDistribution {
    /// The parameters that a common textbook prints for deep groove and angular-contact ball
    /// bearings: 0.02, 4.439, 1.483.
    ///
    /// Source: Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th edition, chapter 11.
    pub const TEXTBOOK: Self = Self { least: 0.02, spread: 4.439, shape: 1.483 };

    fn checked(&self) -> Result<Self, BearingError> {
        Ok(Self {
            least: in_range("least life", self.least, 0.0, 1.0)?,
            spread: positive("spread of the life", self.spread)?,
            shape: positive("shape of the life", self.shape)?,
        })
    }
}

/// Dynamic rating that reaches a life at a reliability.
///
/// ```text
/// C = P { x/[x0 + (θ − x0)(ln 1/R)^(1/b)] }^(1/p)      x in millions of revolutions
/// ```
///
/// `reliability` as a share, 0.5 to 0.9999.
///
/// # Errors
///
/// [`BearingError::NotPositive`] or [`BearingError::Range`].
///
/// Source: as [`LifeDistribution::TEXTBOOK`], equation 11-6; the logarithm is not replaced by its
/// first term.
///
/// ```
/// use elements::rolling_bearing::{LifeDistribution, RollingElement, rating_for_reliability};
/// let rating_kn = rating_for_reliability(
///     1.2 * 1.898, 540.0, 0.90, LifeDistribution::TEXTBOOK, RollingElement::Ball,
/// )?;
/// assert!((rating_kn - 18.59).abs() < 0.01);
/// # Ok::<(), elements::rolling_bearing::BearingError>(())
/// ```
pub fn rating_for_reliability(
    equivalent: f64,
    million_revolutions: f64,
    reliability: f64,
    distribution: LifeDistribution,
    element: RollingElement,
) -> Result<f64, BearingError> {
    let equivalent = positive("equivalent dynamic load", equivalent)?;
    let life = positive("life in million revolutions", million_revolutions)?;
    let reliability = in_range("reliability", reliability, 0.5, 0.9999)?;
    let distribution = distribution.checked()?;
    let reached = distribution.least + distribution.spread * (-reliability.ln()).powf(1.0 / distribution.shape);
    Ok(equivalent * (life / reached).powf(1.0 / element.exponent()))
}

/// Reliability at a life, as a share.
///
/// ```text
/// R = exp(−{[x (P/C)^p − x0]/(θ − x0)}^b)      1 up to the least life
/// ```
///
/// # Errors
///
/// [`BearingError::NotPositive`] or [`BearingError::Range`].
///
/// Source: as [`rating_for_reliability`], solved for the reliability.
pub fn reliability_reached(
    dynamic_rating: f64,
    equivalent: f64,
    million_revolutions: f64,
    distribution: LifeDistribution,
    element: RollingElement,
) -> Result<f64, BearingError> {
    let share = positive("equivalent dynamic load", equivalent)? / positive("dynamic load rating", dynamic_rating)?;
    let life = positive("life in million revolutions", million_revolutions)?;
    let distribution = distribution.checked()?;
    let past_least = life * share.powf(element.exponent()) - distribution.least;
    if past_least <= 0.0 {
        return Ok(1.0);
    }
    Ok((-(past_least / distribution.spread).powf(distribution.shape)).exp())
}
