//! Standard uncertainty from limits, from a scale's step and from repeats.
//!
//! After JCGM 100:2008, Evaluation of measurement data: Guide to the expression of uncertainty in
//! measurement (GUM 1995 with minor corrections). Numbers are in any one unit; the result is in the
//! same unit.

use crate::uncertainty_error::UncertaintyError;

/// How a quantity is spread between the two limits it cannot leave.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// Equally likely everywhere between the limits.
    Rectangular,
    /// Most likely in the middle, and less so in proportion towards the limits.
    Triangular,
    /// Most likely near the limits, as something is that swings between them.
    Arcsine,
    /// The half-width is a multiple of the standard uncertainty.
    Normal {
        /// The multiple, above nought; 2 for a half-width stated at about 95 %.
        coverage_factor: f64,
    },
}

impl Shape {
    /// The half-width divided by the standard uncertainty.
    fn divisor(self) -> f64 {
        match self {
            Shape::Rectangular => 3_f64.sqrt(),
            Shape::Triangular => 6_f64.sqrt(),
            Shape::Arcsine => 2_f64.sqrt(),
            Shape::Normal { coverage_factor } => coverage_factor,
        }
    }
}

/// The standard uncertainty of a quantity known to lie within a half-width of its estimate (type B).
///
/// `u = a / √3` rectangular, `a / √6` triangular, `a / √2` arcsine, `a / k` normal with coverage
/// factor k; a is the half-width.
///
/// Source: JCGM 100:2008, 4.3.7 (rectangular), 4.3.9 with equation (9b) (triangular), H.1.3.4 (arcsine), 4.3.3
/// (stated multiple).
///
/// ```
/// use quantity::{Shape, type_b};
/// assert!((type_b(0.5, Shape::Rectangular) - 0.2887).abs() < 5e-5);
/// assert_eq!(type_b(0.6, Shape::Normal { coverage_factor: 2.0 }), 0.3);
/// ```
pub fn type_b(half_width: f64, shape: Shape) -> f64 {
    half_width.abs() / shape.divisor()
}

/// The standard uncertainty of a reading rounded to the nearest step of a scale.
///
/// `u = δ / √12`; δ is the step. It is the rectangular spread over half a step to either side.
///
/// Source: JCGM 100:2008, F.2.2.1 (0.29 δ).
///
/// ```
/// use quantity::resolution;
/// assert!((resolution(0.01) - 0.0029).abs() < 5e-5);
/// ```
pub fn resolution(step: f64) -> f64 {
    step.abs() / 12_f64.sqrt()
}

/// The root of the sum of squares, which is how independent standard uncertainties combine.
///
/// Source: JCGM 100:2008, 5.1.2, equation (10), with all sensitivities one.
///
/// ```
/// use quantity::combine;
/// assert_eq!(combine(&[3.0, 4.0]), 5.0);
/// ```
pub fn combine(standard_uncertainties: &[f64]) -> f64 {
    standard_uncertainties.iter().map(|uncertainty| uncertainty * uncertainty).sum::<f64>().sqrt()
}

/// What repeated readings of one thing tell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Repeats {
    /// The arithmetic mean.
    pub mean: f64,
    /// The experimental standard deviation of one reading.
    pub standard_deviation: f64,
    /// The standard uncertainty of the mean.
    pub standard_uncertainty: f64,
    /// Degrees of freedom of both, one fewer than there are readings.
    pub degrees_of_freedom: f64,
}

/// Mean, scatter and standard uncertainty of repeated readings (type A).
///
/// `x̄ = Σ x / n`, `s² = Σ (x − x̄)² / (n − 1)`, `u(x̄) = s / √n`, ν = n − 1.
///
/// Source: JCGM 100:2008, 4.2.1 to 4.2.3 and 4.2.6.
///
/// # Errors
///
/// [`UncertaintyError::TooFewValues`] for fewer than two readings,
/// [`UncertaintyError::NotFinite`] for one that is no finite number.
///
/// ```
/// use quantity::repeats;
/// let readings = repeats(&[31.30, 31.32, 31.31, 31.31])?;
/// assert!((readings.mean - 31.31).abs() < 1e-12);
/// assert!((readings.standard_deviation - 0.00816).abs() < 5e-6);
/// assert!((readings.standard_uncertainty - 0.00408).abs() < 5e-6);
/// # Ok::<(), quantity::UncertaintyError>(())
/// ```
pub fn repeats(values: &[f64]) -> Result<Repeats, UncertaintyError> {
    if values.len() < 2 {
        return Err(UncertaintyError::TooFewValues { given: values.len() });
    }
    check_finite(values.iter().copied())?;
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
    let standard_deviation = (squares / (count - 1.0)).sqrt();
    Ok(Repeats {
        mean,
        standard_deviation,
        standard_uncertainty: standard_deviation / count.sqrt(),
        degrees_of_freedom: count - 1.0,
    })
}

/// The mean of values that are not equally certain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeightedMean {
    /// The mean, each value weighted with the inverse square of its standard uncertainty.
    pub mean: f64,
    /// Its standard uncertainty, from those of the values alone.
    pub standard_uncertainty: f64,
    /// The sum of the squared normalised deviations from the mean.
    pub chi_squared: f64,
    /// Degrees of freedom of that sum, one fewer than there are values.
    pub degrees_of_freedom: f64,
}

/// The weighted mean of independent values, each given with its standard uncertainty.
///
/// `x̄ = Σ (x/u²) / Σ (1/u²)`, `u(x̄) = 1 / √Σ (1/u²)`, `χ² = Σ ((x − x̄)/u)²`, ν = n − 1. The
/// uncertainty is not widened when χ² is large; the sum is there so that a caller sees it.
///
/// Source: least squares for one quantity, Aitken, Proceedings of the Royal Society of Edinburgh 55
/// (1935) 42-48; the weights are those that JCGM 100:2008 leads to for independent values.
///
/// # Errors
///
/// [`UncertaintyError::NoValue`] without values, [`UncertaintyError::NotFinite`] and
/// [`UncertaintyError::StandardUncertainty`] for a pair that cannot be weighted.
///
/// ```
/// use quantity::weighted_mean;
/// let mean = weighted_mean(&[(35.012, 0.010), (35.020, 0.005), (34.996, 0.020)])?;
/// assert!((mean.mean - 35.01733).abs() < 1e-5);
/// # Ok::<(), quantity::UncertaintyError>(())
/// ```
pub fn weighted_mean(values: &[(f64, f64)]) -> Result<WeightedMean, UncertaintyError> {
    let Some((origin, _)) = values.first().copied() else {
        return Err(UncertaintyError::NoValue);
    };
    check_finite(values.iter().map(|(value, _)| *value))?;
    for (index, (_, standard_uncertainty)) in values.iter().enumerate() {
        if !(standard_uncertainty.is_finite() && *standard_uncertainty > 0.0) {
            return Err(UncertaintyError::StandardUncertainty {
                number: index + 1,
                standard_uncertainty: *standard_uncertainty,
            });
        }
    }
    let weight = |uncertainty: f64| 1.0 / (uncertainty * uncertainty);
    let weights: f64 = values.iter().map(|(_, u)| weight(*u)).sum();
    // Deviations from the first value keep the digits that a sum of near-equal numbers would lose.
    let deviation = values.iter().map(|(value, u)| (value - origin) * weight(*u)).sum::<f64>() / weights;
    let mean = origin + deviation;
    Ok(WeightedMean {
        mean,
        standard_uncertainty: 1.0 / weights.sqrt(),
        chi_squared: values.iter().map(|(value, u)| ((value - mean) / u).powi(2)).sum(),
        degrees_of_freedom: values.len() as f64 - 1.0,
    })
}

fn check_finite(values: impl Iterator<Item = f64>) -> Result<(), UncertaintyError> {
    for (index, value) in values.enumerate() {
        if !value.is_finite() {
            return Err(UncertaintyError::NotFinite { number: index + 1, value });
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::{Shape, combine, repeats, resolution, type_b, weighted_mean};
    use crate::uncertainty_error::UncertaintyError;

    #[test]
    fn the_shapes_follow_from_their_densities() {
        // Midpoint sums of x² times the density over the limits ±1.
        let steps = 2_000_000;
        let second_moment = |density: &dyn Fn(f64) -> f64| -> f64 {
            (0..steps)
                .map(|step| {
                    let x = -1.0 + (2.0 * f64::from(step) + 1.0) / f64::from(steps);
                    x * x * density(x) * 2.0 / f64::from(steps)
                })
                .sum::<f64>()
                .sqrt()
        };
        let rectangular = second_moment(&|_| 0.5);
        let triangular = second_moment(&|x| 1.0 - x.abs());
        let arcsine = second_moment(&|x| 1.0 / (std::f64::consts::PI * (1.0 - x * x).sqrt()));
        assert!((type_b(1.0, Shape::Rectangular) - rectangular).abs() < 1e-9);
        assert!((type_b(1.0, Shape::Triangular) - triangular).abs() < 1e-9);
        // The density has poles at the limits, where a midpoint sum is only good to 1e-3.
        assert!((type_b(1.0, Shape::Arcsine) - arcsine).abs() < 1e-3);
        assert_eq!(resolution(2.0), type_b(1.0, Shape::Rectangular));
        assert_eq!(type_b(-1.0, Shape::Rectangular), type_b(1.0, Shape::Rectangular));
    }

    #[test]
    fn bad_numbers_are_refused() {
        assert_eq!(repeats(&[1.0]), Err(UncertaintyError::TooFewValues { given: 1 }));
        assert!(matches!(repeats(&[1.0, f64::NAN]), Err(UncertaintyError::NotFinite { number: 2, .. })));
        assert_eq!(weighted_mean(&[]), Err(UncertaintyError::NoValue));
        assert_eq!(
            weighted_mean(&[(1.0, 0.1), (1.0, 0.0)]),
            Err(UncertaintyError::StandardUncertainty { number: 2, standard_uncertainty: 0.0 })
        );
        assert_eq!(combine(&[]), 0.0);
    }
}
