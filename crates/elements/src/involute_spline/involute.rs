//! The involute function and its inverse.

use super::{SplineError, in_range};

/// Largest value of [`inverse_involute`]: the involute of about 89°, past every tooth.
const LARGEST_INVOLUTE: f64 = 55.0;

/// Involute function `inv φ = tan φ − φ`, angle in radians, below a quarter turn.
///
/// Source: definition; ISO 21771:2007, 4.2.
///
/// ```
/// use elements::involute_spline::involute;
/// assert!((involute(30_f64.to_radians()) - 0.053_751_493_6).abs() < 1e-10);
/// ```
#[must_use]
pub fn involute(angle_rad: f64) -> f64 {
    angle_rad.tan() - angle_rad
}

/// Angle in radians whose involute is `value`, 0 to 55.
///
/// Solved as `u − atan u = value` with `u = tan φ` by Newton's method, from the first two terms
/// of the series for small values and from the asymptote `value + π/2` for large ones. The curve
/// bends one way only, so the steps cannot run away.
///
/// # Errors
///
/// [`SplineError::Range`] outside 0 to 55 (about 89°).
///
/// ```
/// use elements::involute_spline::{inverse_involute, involute};
/// let angle_rad = inverse_involute(0.053_751_493_6)?;
/// assert!((angle_rad.to_degrees() - 30.0).abs() < 1e-8);
/// # Ok::<(), elements::involute_spline::SplineError>(())
/// ```
pub fn inverse_involute(value: f64) -> Result<f64, SplineError> {
    let value = in_range("involute", value, 0.0, LARGEST_INVOLUTE)?;
    if value == 0.0 {
        return Ok(0.0);
    }
    let cube_root = (3.0 * value).cbrt();
    let mut tangent =
        if value < 1.0 { cube_root + cube_root.powi(3) / 5.0 } else { value + std::f64::consts::FRAC_PI_2 };
    // Ten steps are more than any start in the range needs; the bound only guards the loop.
    for _ in 0..30 {
        let excess = tangent - tangent.atan() - value;
        let slope = tangent * tangent / (1.0 + tangent * tangent);
        let step = excess / slope;
        tangent -= step;
        if step.abs() <= 4.0 * f64::EPSILON * tangent {
            break;
        }
    }
    Ok(tangent.atan())
}
