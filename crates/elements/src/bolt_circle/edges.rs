//! A chord from readings of the edges of holes, each with its standard uncertainty.

use super::{BoltCircleError, chord_from_edges, hole_diameter_from_edges, positive};

/// A reading with its standard uncertainty, in one unit of length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeReading {
    /// What was read, above zero.
    pub length: f64,
    /// Its standard uncertainty, zero or more.
    pub uncertainty: f64,
}

/// A chord from edges, in the unit of the readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeChord {
    /// Distance of the centres.
    pub chord: f64,
    /// Its standard uncertainty.
    pub uncertainty: f64,
    /// Diameter of the holes.
    pub hole_diameter: f64,
}

/// What was read of two equal holes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Edges {
    /// The gap between the near edges and the span over the far ones.
    GapAndSpan(EdgeReading, EdgeReading),
    /// The gap between the near edges, and the diameter of a hole.
    GapAndHole(EdgeReading, EdgeReading),
    /// The span over the far edges, and the diameter of a hole.
    SpanAndHole(EdgeReading, EdgeReading),
}

/// Chord of two holes from their edges.
///
/// ```text
/// gap and span    c = (g + w)/2    u = √(u_g² + u_w²)/2    h = (w − g)/2
/// gap and hole    c = g + h        u = √(u_g² + u_h²)
/// span and hole   c = w − h        u = √(u_w² + u_h²)
/// ```
///
/// # Errors
///
/// [`BoltCircleError::Length`] for a length that is not above zero, [`BoltCircleError::Uncertainty`] for
/// an uncertainty below zero, [`BoltCircleError::SpanBelowGap`] for edges that leave no hole.
///
/// Source: plane geometry; the uncertainties of independent readings by JCGM 100:2008 (GUM), 5.1.2.
///
/// ```
/// use elements::bolt_circle::{EdgeReading, Edges, chord_by_edges};
/// let read = |length| EdgeReading { length, uncertainty: 0.03 };
/// let found = chord_by_edges(Edges::GapAndSpan(read(54.5), read(79.9)))?;
/// assert!((found.chord - 67.2).abs() < 1e-12 && (found.hole_diameter - 12.7).abs() < 1e-12);
/// // Two readings make the chord surer than one of them.
/// assert!((found.uncertainty - 0.0212).abs() < 1e-4);
/// # Ok::<(), elements::bolt_circle::BoltCircleError>(())
/// ```
pub fn chord_by_edges(edges: Edges) -> Result<EdgeChord, BoltCircleError> {
    let (gap, span, one, other) = match edges {
        Edges::GapAndSpan(gap, span) => (gap.length, span.length, gap.checked()?, span.checked()?),
        // The other edge lies two holes farther.
        Edges::GapAndHole(gap, hole) => {
            (gap.length, gap.length + 2.0 * positive("hole diameter", hole.length)?, gap.checked()?, hole.checked()?)
        }
        Edges::SpanAndHole(span, hole) => {
            (span.length - 2.0 * positive("hole diameter", hole.length)?, span.length, span.checked()?, hole.checked()?)
        }
    };
    let share = if matches!(edges, Edges::GapAndSpan(..)) { 0.5 } else { 1.0 };
    Ok(EdgeChord {
        chord: chord_from_edges(gap, span)?,
        uncertainty: share * one.hypot(other),
        hole_diameter: hole_diameter_from_edges(gap, span)?,
    })
}

impl EdgeReading {
    /// The uncertainty, once it is sure that it can be one.
    fn checked(&self) -> Result<f64, BoltCircleError> {
        if self.uncertainty.is_finite() && self.uncertainty >= 0.0 {
            Ok(self.uncertainty)
        } else {
            Err(BoltCircleError::Uncertainty { value: self.uncertainty })
        }
    }
}
