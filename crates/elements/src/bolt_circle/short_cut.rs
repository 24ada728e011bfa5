//! The yard's short cut for odd counts, and how wrong it is.

use super::{BoltCircleError, chord, separate_holes};

/// What the short cut reads: centre of one hole to the far edge of the next but one,
/// `D sin(2π/n) + h/2`.
///
/// The rule is handed on for five holes, where no hole stands opposite another. It needs at least
/// four holes; any consistent unit works. `hole_diameter` must be above zero and below the
/// distance of neighbours.
///
/// # Errors
///
/// As [`chord`] with rank 2, and [`BoltCircleError::HolesTouch`].
///
/// Source: plane geometry. The rule itself is common practice, no source.
///
/// ```
/// use elements::bolt_circle::short_cut_reading;
/// let reading_mm = short_cut_reading(114.3, 5, 12.7)?;
/// assert!((reading_mm - 115.056).abs() < 1e-3);
/// # Ok::<(), elements::bolt_circle::BoltCircleError>(())
/// ```
pub fn short_cut_reading(circle: f64, holes: u32, hole_diameter: f64) -> Result<f64, BoltCircleError> {
    let centres = chord(circle, holes, 2)?;
    Ok(centres + separate_holes(circle, holes, hole_diameter)? / 2.0)
}

/// Error of the short cut taken for the circle, `D sin(2π/n) + h/2 − D`; positive reads too big.
///
/// Range and unit as [`short_cut_reading`].
///
/// # Errors
///
/// As [`short_cut_reading`].
///
/// ```
/// use elements::bolt_circle::short_cut_error;
/// let error_mm = short_cut_error(114.3, 5, 12.7)?;
/// assert!((error_mm - 0.756).abs() < 1e-3);
/// # Ok::<(), elements::bolt_circle::BoltCircleError>(())
/// ```
pub fn short_cut_error(circle: f64, holes: u32, hole_diameter: f64) -> Result<f64, BoltCircleError> {
    Ok(short_cut_reading(circle, holes, hole_diameter)? - circle)
}

/// The one hole diameter for which the short cut is exact, `h = 2 (1 − sin(2π/n)) D`.
///
/// It is zero for four holes, where the next but one stands opposite. Range and unit as
/// [`short_cut_reading`].
///
/// # Errors
///
/// As [`chord`] with rank 2.
///
/// ```
/// use elements::bolt_circle::exact_short_cut_hole;
/// let hole_mm = exact_short_cut_hole(114.3, 5)?;
/// assert!((hole_mm - 11.188).abs() < 1e-3);
/// # Ok::<(), elements::bolt_circle::BoltCircleError>(())
/// ```
pub fn exact_short_cut_hole(circle: f64, holes: u32) -> Result<f64, BoltCircleError> {
    Ok(2.0 * (circle - chord(circle, holes, 2)?))
}
