//! Quantiles of the distributions that a statement of uncertainty needs.

use statrs::distribution::{ChiSquared, ContinuousCDF, Normal, StudentsT};

use crate::uncertainty_error::UncertaintyError;

/// The value that a standard normal variable stays below with this probability.
///
/// # Errors
///
/// [`UncertaintyError::Probability`] unless `0 < probability < 1`.
///
/// ```
/// use quantity::normal_quantile;
/// // 97.5 % one-sided is 95 % two-sided.
/// assert!((normal_quantile(0.975)? - 1.959964).abs() < 1e-6);
/// # Ok::<(), quantity::UncertaintyError>(())
/// ```
pub fn normal_quantile(probability: f64) -> Result<f64, UncertaintyError> {
    check_probability(probability)?;
    Ok(Normal::standard().inverse_cdf(probability))
}

/// The value that a variable with Student's distribution stays below with this probability.
///
/// Infinite degrees of freedom give the normal distribution.
///
/// # Errors
///
/// [`UncertaintyError::Probability`] unless `0 < probability < 1`;
/// [`UncertaintyError::DegreesOfFreedom`] unless the degrees of freedom are above nought.
///
/// ```
/// use quantity::student_t_quantile;
/// // JCGM 100:2008, table G.2: t for 95 % two-sided and 16 degrees of freedom is 2.12.
/// assert!((student_t_quantile(0.975, 16.0)? - 2.12).abs() < 0.005);
/// # Ok::<(), quantity::UncertaintyError>(())
/// ```
pub fn student_t_quantile(probability: f64, degrees_of_freedom: f64) -> Result<f64, UncertaintyError> {
    /// From here on Student's distribution and the normal one differ by less than 1e-8.
    const AS_GOOD_AS_NORMAL: f64 = 1e9;

    check_probability(probability)?;
    if degrees_of_freedom >= AS_GOOD_AS_NORMAL {
        return normal_quantile(probability);
    }
    let student = StudentsT::new(0.0, 1.0, degrees_of_freedom)
        .map_err(|_| UncertaintyError::DegreesOfFreedom { degrees_of_freedom })?;
    Ok(student.inverse_cdf(probability))
}

/// The value that a chi-squared variable stays below with this probability.
///
/// # Errors
///
/// [`UncertaintyError::Probability`] unless `0 < probability < 1`;
/// [`UncertaintyError::DegreesOfFreedom`] unless the degrees of freedom are finite and above nought.
///
/// ```
/// use quantity::chi_squared_quantile;
/// assert!((chi_squared_quantile(0.95, 4.0)? - 9.4877).abs() < 1e-4);
/// # Ok::<(), quantity::UncertaintyError>(())
/// ```
pub fn chi_squared_quantile(probability: f64, degrees_of_freedom: f64) -> Result<f64, UncertaintyError> {
    check_probability(probability)?;
    let fault = UncertaintyError::DegreesOfFreedom { degrees_of_freedom };
    if !degrees_of_freedom.is_finite() {
        return Err(fault);
    }
    let chi_squared = ChiSquared::new(degrees_of_freedom).map_err(|_| fault)?;
    Ok(chi_squared.inverse_cdf(probability))
}

fn check_probability(probability: f64) -> Result<(), UncertaintyError> {
    if probability > 0.0 && probability < 1.0 { Ok(()) } else { Err(UncertaintyError::Probability { probability }) }
}

#[cfg(test)]
mod tests {
    use super::{chi_squared_quantile, normal_quantile, student_t_quantile};
    use crate::uncertainty_error::UncertaintyError;

    #[test]
    fn student_goes_over_into_normal() {
        for probability in [0.6, 0.9, 0.975, 0.995] {
            let normal = normal_quantile(probability).unwrap();
            for degrees in [1e4, 1e6, 1e8, 1e9, 1e12, f64::INFINITY] {
                // The first term of the expansion in 1/ν, Abramowitz and Stegun 26.7.5.
                let expected = normal + (normal.powi(3) + normal) / (4.0 * degrees);
                let found = student_t_quantile(probability, degrees).unwrap();
                assert!((found - expected).abs() < 2e-7, "{probability} {degrees}: {found} {expected}");
            }
        }
    }

    #[test]
    fn what_has_no_quantile_is_refused() {
        for probability in [0.0, 1.0, -0.1, 1.1, f64::NAN] {
            assert!(matches!(normal_quantile(probability), Err(UncertaintyError::Probability { .. })));
            assert!(student_t_quantile(probability, 5.0).is_err());
            assert!(chi_squared_quantile(probability, 5.0).is_err());
        }
        for degrees in [0.0, -1.0, f64::NAN] {
            let refused = Err(UncertaintyError::DegreesOfFreedom { degrees_of_freedom: degrees });
            if degrees.is_nan() {
                assert!(student_t_quantile(0.9, degrees).is_err() && chi_squared_quantile(0.9, degrees).is_err());
            } else {
                assert_eq!(student_t_quantile(0.9, degrees), refused);
                assert_eq!(chi_squared_quantile(0.9, degrees), refused);
            }
        }
        assert!(chi_squared_quantile(0.9, f64::INFINITY).is_err());
    }
}
