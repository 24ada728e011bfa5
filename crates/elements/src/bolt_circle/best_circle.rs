//! The circle that agrees best with several measured chords.

use super::{BoltCircleError, chord_ratio, positive};

/// One measured centre distance. Any consistent unit of length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChordReading {
    /// Number of places between the two holes, 1 to half the number of holes.
    pub rank: u32,
    /// Measured distance of the two centres, above zero.
    pub chord: f64,
    /// Standard uncertainty of that distance, above zero.
    pub standard_uncertainty: f64,
}

/// The weighted best circle of several chords and how well they agree with it.
#[derive(Debug, Clone, PartialEq)]
pub struct BestCircle {
    /// Diameter of the circle, in the unit of the chords.
    pub diameter: f64,
    /// Standard uncertainty of the diameter, from the uncertainties of the chords alone.
    pub standard_uncertainty: f64,
    /// Sum of the squared residuals over their uncertainties.
    pub chi_square: f64,
    /// Number of chords less one.
    pub degrees_of_freedom: usize,
    /// Residual of each chord, `c − D sin(kπ/n)` over its uncertainty, in the order given.
    pub residuals: Vec<f64>,
}

/// Standard uncertainty of a circle computed from one chord, `u(D) = u(c)/sin(kπ/n)`.
///
/// A neighbour's chord of five holes magnifies an error 1.7 times, the next but one's 1.05 times:
/// the wider chord is the better reading. Any consistent unit; the uncertainty must be above zero.
///
/// # Errors
///
/// As [`chord_ratio`], and [`BoltCircleError::Length`].
///
/// Source: JCGM 100:2008 (GUM), 5.1.2, with one input.
///
/// ```
/// use elements::bolt_circle::circle_uncertainty;
/// let from_neighbours_mm = circle_uncertainty(0.10, 5, 1)?;
/// assert!((from_neighbours_mm - 0.1701).abs() < 1e-4);
/// # Ok::<(), elements::bolt_circle::BoltCircleError>(())
/// ```
pub fn circle_uncertainty(chord_uncertainty: f64, holes: u32, rank: u32) -> Result<f64, BoltCircleError> {
    let ratio = chord_ratio(holes, rank)?;
    Ok(positive("standard uncertainty of the chord", chord_uncertainty)? / ratio)
}

/// Weighted least-squares circle from several chords.
///
/// ```text
/// s_k = sin(kπ/n)
/// D   = Σ (s_k c_k/u_k²) / Σ (s_k²/u_k²)
/// u(D) = 1/√Σ (s_k²/u_k²)
/// χ²  = Σ ((c_k − s_k D)/u_k)²     on (number of chords − 1) degrees of freedom
/// ```
///
/// Any consistent unit. The chords are taken as independent: pass each caliper reading once, and
/// turn edge readings into centres first.
///
/// # Errors
///
/// [`BoltCircleError::NoChord`] for an empty list; else as [`chord_ratio`] and
/// [`BoltCircleError::Length`] for the first reading that is out of range.
///
/// Source: weighted least squares in one unknown, as in any text on the adjustment of observations.
///
/// ```
/// use elements::bolt_circle::{ChordReading, best_circle};
/// let readings = [
///     ChordReading { rank: 1, chord: 66.95, standard_uncertainty: 0.10 },
///     ChordReading { rank: 2, chord: 108.95, standard_uncertainty: 0.10 },
/// ];
/// let best = best_circle(5, &readings)?;
/// assert!((best.diameter - 114.3759).abs() < 1e-4);
/// // 10.7 on one degree of freedom: the two chords do not belong to one circle.
/// assert!((best.chi_square - 10.7147).abs() < 1e-4);
/// # Ok::<(), elements::bolt_circle::BoltCircleError>(())
/// ```
pub fn best_circle(holes: u32, readings: &[ChordReading]) -> Result<BestCircle, BoltCircleError> {
    if readings.is_empty() {
        return Err(BoltCircleError::NoChord);
    }
    // Each reading divided by its uncertainty, so that all weigh one.
    let mut scaled = Vec::with_capacity(readings.len());
    for reading in readings {
        let uncertainty = positive("standard uncertainty of the chord", reading.standard_uncertainty)?;
        let ratio = chord_ratio(holes, reading.rank)?;
        let measured = positive("chord", reading.chord)?;
        scaled.push((ratio / uncertainty, measured / uncertainty));
    }
    let information: f64 = scaled.iter().map(|(slope, _)| slope * slope).sum();
    let moment: f64 = scaled.iter().map(|(slope, value)| slope * value).sum();
    let diameter = moment / information;
    let residuals: Vec<f64> = scaled.iter().map(|(slope, value)| value - slope * diameter).collect();
    Ok(BestCircle {
        diameter,
        standard_uncertainty: 1.0 / information.sqrt(),
        chi_square: residuals.iter().map(|residual| residual * residual).sum(),
        degrees_of_freedom: readings.len() - 1,
        residuals,
    })
}
