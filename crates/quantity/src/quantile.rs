//! Quantiles of the distributions that a statement of uncertainty needs.
//!
//! The searches of `statrs` for a quantile lose their way far out in the tails and for very many degrees
//! of freedom, so each function refuses what lies outside the range in which it was held against scipy,
//! and Student's distribution goes over to a series.

use std::ops::RangeInclusive;

use statrs::distribution::{ChiSquared, ContinuousCDF, Normal, StudentsT};
use statrs::function::beta::beta_reg;

use crate::uncertainty_error::UncertaintyError;

/// The probabilities for the normal and Student's distributions.
const SYMMETRIC: RangeInclusive<f64> = 1e-6..=1.0 - 1e-6;
/// The probabilities for the chi-squared distribution; its lower tail is lost sooner.
const ONE_SIDED: RangeInclusive<f64> = 1e-3..=1.0 - 1e-6;

/// The value that a standard normal variable stays below with this probability.
///
/// Range: probability from 1e-6 to 1 − 1e-6.
///
/// # Errors
///
/// [`UncertaintyError::Probability`] outside the range.
///
/// ```
/// use quantity::normal_quantile;
/// // 97.5 % one-sided is 95 % two-sided.
/// assert!((normal_quantile(0.975)? - 1.959964).abs() < 1e-6);
/// # Ok::<(), quantity::UncertaintyError>(())
/// ```
pub fn normal_quantile(probability: f64) -> Result<f64, UncertaintyError> {
    check_probability(probability, &SYMMETRIC)?;
    Ok(Normal::standard().inverse_cdf(probability))
}

/// The value that a variable with Student's distribution stays below with this probability.
///
/// Range: probability from 1e-6 to 1 − 1e-6; one degree of freedom or more, not necessarily whole.
/// Infinite degrees of freedom give the normal distribution.
///
/// Source: from 1000 degrees of freedom on, the series of Abramowitz and Stegun, 26.7.5, with four
/// terms.
///
/// # Errors
///
/// [`UncertaintyError::Probability`] or [`UncertaintyError::DegreesOfFreedom`] outside the range.
///
/// ```
/// use quantity::student_t_quantile;
/// // JCGM 100:2008, table G.2: t for 95 % two-sided and 16 degrees of freedom is 2.12.
/// assert!((student_t_quantile(0.975, 16.0)? - 2.12).abs() < 0.005);
/// # Ok::<(), quantity::UncertaintyError>(())
/// ```
pub fn student_t_quantile(probability: f64, degrees_of_freedom: f64) -> Result<f64, UncertaintyError> {
    /// Here the first term that is left out is below 1e-12.
    const SERIES_FROM: f64 = 1000.0;

    let normal = normal_quantile(probability)?;
    let refused = UncertaintyError::DegreesOfFreedom { degrees_of_freedom };
    if degrees_of_freedom.is_nan() || degrees_of_freedom < 1.0 {
        return Err(refused);
    }
    if degrees_of_freedom >= SERIES_FROM {
        return Ok(student_series(normal, degrees_of_freedom));
    }
    let student = StudentsT::new(0.0, 1.0, degrees_of_freedom).map_err(|_| refused)?;
    Ok(student.inverse_cdf(probability))
}

/// Student's quantile as a series in the inverse of the degrees of freedom, from the normal quantile.
fn student_series(normal: f64, degrees_of_freedom: f64) -> f64 {
    let square = normal * normal;
    let first = normal * (square + 1.0) / 4.0;
    let second = normal * ((5.0 * square + 16.0) * square + 3.0) / 96.0;
    let third = normal * (((3.0 * square + 19.0) * square + 17.0) * square - 15.0) / 384.0;
    let fourth = normal * ((((79.0 * square + 776.0) * square + 1482.0) * square - 1920.0) * square - 945.0) / 92_160.0;
    let inverse = 1.0 / degrees_of_freedom;
    normal + inverse * (first + inverse * (second + inverse * (third + inverse * fourth)))
}

/// The value that a chi-squared variable stays below with this probability.
///
/// Range: probability from 1e-3 to 1 − 1e-6; from 1 to a million degrees of freedom.
///
/// # Errors
///
/// [`UncertaintyError::Probability`] or [`UncertaintyError::DegreesOfFreedom`] outside the range.
///
/// ```
/// use quantity::chi_squared_quantile;
/// assert!((chi_squared_quantile(0.95, 4.0)? - 9.4877).abs() < 1e-4);
/// # Ok::<(), quantity::UncertaintyError>(())
/// ```
pub fn chi_squared_quantile(probability: f64, degrees_of_freedom: f64) -> Result<f64, UncertaintyError> {
    check_probability(probability, &ONE_SIDED)?;
    let refused = UncertaintyError::DegreesOfFreedom { degrees_of_freedom };
    if !(1.0..=1e6).contains(&degrees_of_freedom) {
        return Err(refused);
    }
    let chi_squared = ChiSquared::new(degrees_of_freedom).map_err(|_| refused)?;
    Ok(chi_squared.inverse_cdf(probability))
}

/// The value that a variable with the beta distribution stays below with this probability; the density is in proportion to
/// `x^(first − 1) (1 − x)^(second − 1)` between 0 and 1.
///
/// Range: probability from 1e-3 to 1 − 1e-3; both shape numbers from 0.01 to ten million.
///
/// It halves the interval on the regularised incomplete beta function, which loses no way in the tails.
///
/// # Errors
///
/// [`UncertaintyError::Probability`] or [`UncertaintyError::BetaShape`] outside the range.
///
/// ```
/// use quantity::beta_quantile;
/// // Beta(1, 1) is even between 0 and 1; the median of Beta(2, 1) is 1/√2.
/// assert!((beta_quantile(0.3, 1.0, 1.0)? - 0.3).abs() < 1e-10);
/// assert!((beta_quantile(0.5, 2.0, 1.0)? - 0.5_f64.sqrt()).abs() < 1e-10);
/// # Ok::<(), quantity::UncertaintyError>(())
/// ```
pub fn beta_quantile(probability: f64, first: f64, second: f64) -> Result<f64, UncertaintyError> {
    /// So many halvings reach any quantile above 1e-60 to the last digits.
    const HALVINGS: usize = 260;

    check_probability(probability, &(1e-3..=1.0 - 1e-3))?;
    let permitted = 0.01..=1e7;
    if !permitted.contains(&first) || !permitted.contains(&second) {
        return Err(UncertaintyError::BetaShape { first, second });
    }
    let (mut below, mut above) = (0.0_f64, 1.0_f64);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (below + above);
        if middle <= below || middle >= above {
            break;
        }
        if beta_reg(first, second, middle) < probability {
            below = middle;
        } else {
            above = middle;
        }
    }
    Ok(0.5 * (below + above))
}

fn check_probability(probability: f64, range: &RangeInclusive<f64>) -> Result<(), UncertaintyError> {
    if range.contains(&probability) {
        Ok(())
    } else {
        Err(UncertaintyError::Probability { probability, least: *range.start(), most: *range.end() })
    }
}

#[cfg(test)]
mod tests {
    use super::{beta_quantile, chi_squared_quantile, normal_quantile, student_t_quantile};
    use crate::uncertainty_error::UncertaintyError;

    #[test]
    fn the_series_takes_over_without_a_step() {
        for probability in [1e-6, 0.001, 0.3, 0.5, 0.9, 0.975, 0.995, 1.0 - 1e-6] {
            let before = student_t_quantile(probability, 999.999_999).unwrap();
            let behind = student_t_quantile(probability, 1000.0).unwrap();
            assert!((before - behind).abs() < 1e-9, "{probability}: {before} {behind}");
        }
    }

    #[test]
    fn infinite_degrees_of_freedom_are_normal() {
        for probability in [0.001, 0.6, 0.975] {
            assert_eq!(student_t_quantile(probability, f64::INFINITY), normal_quantile(probability));
        }
    }

    #[test]
    fn what_lies_outside_the_range_is_refused() {
        for probability in [0.0, 1.0, -0.1, 1.1, 1e-7, f64::NAN] {
            assert!(matches!(normal_quantile(probability), Err(UncertaintyError::Probability { .. })));
            assert!(matches!(student_t_quantile(probability, 5.0), Err(UncertaintyError::Probability { .. })));
            assert!(matches!(chi_squared_quantile(probability, 5.0), Err(UncertaintyError::Probability { .. })));
        }
        assert!(chi_squared_quantile(1e-4, 5.0).is_err());
        for degrees in [0.0, 0.5, -1.0, f64::NEG_INFINITY, f64::NAN] {
            assert!(matches!(student_t_quantile(0.9, degrees), Err(UncertaintyError::DegreesOfFreedom { .. })));
            assert!(matches!(chi_squared_quantile(0.9, degrees), Err(UncertaintyError::DegreesOfFreedom { .. })));
        }
        assert!(chi_squared_quantile(0.9, f64::INFINITY).is_err());
        for (first, second) in [(0.0, 1.0), (1.0, -1.0), (f64::NAN, 1.0), (1.0, f64::INFINITY), (1e8, 1.0)] {
            assert!(matches!(beta_quantile(0.9, first, second), Err(UncertaintyError::BetaShape { .. })));
        }
        assert!(matches!(beta_quantile(1e-4, 1.0, 1.0), Err(UncertaintyError::Probability { .. })));
    }
}
