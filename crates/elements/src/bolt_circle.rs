//! Bolt circles: equally spaced holes on a circle, and the circle from what a caliper can reach.
//!
//! With `n` equal holes of diameter `h` on a circle `D`, the distance between the centres of two
//! holes that are `k` places apart (the *rank* of the chord) is
//!
//! ```text
//! c_k = D sin(kπ/n)         k = 1 … n/2 (rounded down)
//! g_k = c_k − h             near edge to near edge, the gap between the holes
//! w_k = c_k + h             far edge to far edge, the span over the holes
//! c_k = (g_k + w_k)/2       h = (w_k − g_k)/2
//! ```
//!
//! Any consistent unit of length works throughout.
//!
//! Source: the chord of a circle, plane geometry; handbooks print it as the table of constants for
//! spacing holes, `sin(180°/n)`.

use std::f64::consts::PI;

use thiserror::Error;

mod best_circle;
mod edges;
mod short_cut;

pub use best_circle::{BestCircle, ChordReading, best_circle, circle_uncertainty};
pub use edges::{EdgeChord, EdgeReading, Edges, chord_by_edges};
pub use short_cut::{exact_short_cut_hole, short_cut_error, short_cut_reading};

/// The fewest holes that have a distance between them.
pub const FEWEST_HOLES: u32 = 2;

/// The most holes accepted. A larger number is a slip of the pen, not a wheel or a flange.
pub const MOST_HOLES: u32 = 360;

/// Why a bolt circle cannot be computed.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum BoltCircleError {
    /// The number of holes is outside the accepted range.
    #[error("a bolt circle of {holes} holes cannot be computed; {FEWEST_HOLES} to {MOST_HOLES} holes are accepted")]
    Holes {
        /// Number of holes that was given.
        holes: u32,
    },
    /// The rank of the chord does not exist on this circle.
    #[error("holes {rank} places apart do not exist on a circle of {holes} holes; 1 to {highest} places are accepted")]
    Rank {
        /// Number of holes.
        holes: u32,
        /// Rank that was given.
        rank: u32,
        /// Largest rank that exists: half the number of holes, rounded down.
        highest: u32,
    },
    /// A length is not a positive finite number.
    #[error("the {what} must be greater than zero and finite, not {value}")]
    Length {
        /// Which length.
        what: &'static str,
        /// Value that was given.
        value: f64,
    },
    /// A standard uncertainty is below zero or not finite.
    #[error("the standard uncertainty must be zero or more and finite, not {value}")]
    Uncertainty {
        /// Value that was given.
        value: f64,
    },
    /// The holes would run into each other or fill the circle.
    #[error("holes of diameter {hole_diameter} touch each other; the diameter must be below {limit}")]
    HolesTouch {
        /// Hole diameter that was given.
        hole_diameter: f64,
        /// Distance between the centres of neighbours, which the diameter must not reach.
        limit: f64,
    },
    /// The span over the holes is not larger than the gap between them.
    #[error("the span over the holes, {span}, must be larger than the gap between them, {gap}")]
    SpanBelowGap {
        /// Near-edge gap that was given.
        gap: f64,
        /// Far-edge span that was given.
        span: f64,
    },
    /// No chord was given to find a circle from.
    #[error("a circle needs at least one measured chord")]
    NoChord,
}

/// Largest rank of a chord on a circle of `holes` holes: half of them, rounded down.
///
/// # Errors
///
/// [`BoltCircleError::Holes`] outside 2 to 360 holes.
///
/// ```
/// use elements::bolt_circle::highest_rank;
/// assert_eq!(highest_rank(5), Ok(2));
/// assert_eq!(highest_rank(6), Ok(3));
/// ```
pub fn highest_rank(holes: u32) -> Result<u32, BoltCircleError> {
    if (FEWEST_HOLES..=MOST_HOLES).contains(&holes) { Ok(holes / 2) } else { Err(BoltCircleError::Holes { holes }) }
}

/// Chord over circle, `c_k/D = sin(kπ/n)`, without a unit.
///
/// `holes` is the number `n` of holes, 2 to 360; `rank` the number `k` of places between the two
/// holes, 1 to `n/2` rounded down.
///
/// # Errors
///
/// [`BoltCircleError::Holes`] or [`BoltCircleError::Rank`] outside those ranges.
///
/// Source: chord of a circle; handbook table of hole-spacing constants `sin(180°/n)`.
///
/// ```
/// use elements::bolt_circle::chord_ratio;
/// let neighbours_of_five = chord_ratio(5, 1)?;
/// assert!((neighbours_of_five - 0.587_785).abs() < 1e-6);
/// assert!(chord_ratio(5, 3).is_err());
/// # Ok::<(), elements::bolt_circle::BoltCircleError>(())
/// ```
pub fn chord_ratio(holes: u32, rank: u32) -> Result<f64, BoltCircleError> {
    let highest = highest_rank(holes)?;
    if rank == 0 || rank > highest {
        return Err(BoltCircleError::Rank { holes, rank, highest });
    }
    // The opposite hole of an even count stands exactly one diameter away; the sine of a rounded
    // half turn can miss that by one unit in the last place.
    if 2 * rank == holes {
        return Ok(1.0);
    }
    Ok((f64::from(rank) * PI / f64::from(holes)).sin())
}

/// Centre distance of two holes `rank` places apart, `c_k = D sin(kπ/n)`.
///
/// Any consistent unit: the chord comes out in the unit of `circle`, which must be above zero.
///
/// # Errors
///
/// As [`chord_ratio`], and [`BoltCircleError::Length`] for a circle that is not positive.
///
/// ```
/// use elements::bolt_circle::chord;
/// let neighbours_mm = chord(114.3, 5, 1)?;
/// assert!((neighbours_mm - 67.1839).abs() < 1e-4);
/// # Ok::<(), elements::bolt_circle::BoltCircleError>(())
/// ```
pub fn chord(circle: f64, holes: u32, rank: u32) -> Result<f64, BoltCircleError> {
    let ratio = chord_ratio(holes, rank)?;
    Ok(positive("bolt circle", circle)? * ratio)
}

/// Bolt circle from one centre distance, `D = c_k / sin(kπ/n)`.
///
/// Any consistent unit: the circle comes out in the unit of `chord`, which must be above zero.
///
/// # Errors
///
/// As [`chord_ratio`], and [`BoltCircleError::Length`] for a chord that is not positive.
///
/// ```
/// use elements::bolt_circle::circle_from_chord;
/// let circle_mm = circle_from_chord(69.85, 6, 1)?;
/// assert!((circle_mm - 139.7).abs() < 1e-9);
/// # Ok::<(), elements::bolt_circle::BoltCircleError>(())
/// ```
pub fn circle_from_chord(chord: f64, holes: u32, rank: u32) -> Result<f64, BoltCircleError> {
    let ratio = chord_ratio(holes, rank)?;
    Ok(positive("chord", chord)? / ratio)
}

/// Gap between the near edges of two equal holes, `g_k = D sin(kπ/n) − h`.
///
/// Any consistent unit. `hole_diameter` must be above zero and below the distance of neighbours,
/// else the holes would touch.
///
/// # Errors
///
/// As [`chord`], and [`BoltCircleError::HolesTouch`].
///
/// ```
/// use elements::bolt_circle::near_edge_gap;
/// let gap_mm = near_edge_gap(114.3, 5, 1, 12.7)?;
/// assert!((gap_mm - 54.4839).abs() < 1e-4);
/// # Ok::<(), elements::bolt_circle::BoltCircleError>(())
/// ```
pub fn near_edge_gap(circle: f64, holes: u32, rank: u32, hole_diameter: f64) -> Result<f64, BoltCircleError> {
    let centres = chord(circle, holes, rank)?;
    Ok(centres - separate_holes(circle, holes, hole_diameter)?)
}

/// Span over the far edges of two equal holes, `w_k = D sin(kπ/n) + h`.
///
/// Any consistent unit. `hole_diameter` must be above zero and below the distance of neighbours.
///
/// # Errors
///
/// As [`near_edge_gap`].
///
/// ```
/// use elements::bolt_circle::far_edge_span;
/// let span_mm = far_edge_span(114.3, 5, 1, 12.7)?;
/// assert!((span_mm - 79.8839).abs() < 1e-4);
/// # Ok::<(), elements::bolt_circle::BoltCircleError>(())
/// ```
pub fn far_edge_span(circle: f64, holes: u32, rank: u32, hole_diameter: f64) -> Result<f64, BoltCircleError> {
    let centres = chord(circle, holes, rank)?;
    Ok(centres + separate_holes(circle, holes, hole_diameter)?)
}

/// Centre distance from the gap between and the span over two equal holes, `c = (g + w)/2`.
///
/// Any consistent unit. Both must be above zero and the span the larger.
///
/// # Errors
///
/// [`BoltCircleError::Length`] or [`BoltCircleError::SpanBelowGap`].
///
/// ```
/// use elements::bolt_circle::chord_from_edges;
/// assert_eq!(chord_from_edges(54.5, 79.9)?, 67.2);
/// # Ok::<(), elements::bolt_circle::BoltCircleError>(())
/// ```
pub fn chord_from_edges(near_edge_gap: f64, far_edge_span: f64) -> Result<f64, BoltCircleError> {
    let (gap, span) = ordered_edges(near_edge_gap, far_edge_span)?;
    Ok((gap + span) / 2.0)
}

/// Hole diameter from the gap between and the span over two equal holes, `h = (w − g)/2`.
///
/// Any consistent unit. Both must be above zero and the span the larger.
///
/// # Errors
///
/// As [`chord_from_edges`].
///
/// ```
/// use elements::bolt_circle::hole_diameter_from_edges;
/// let hole_mm = hole_diameter_from_edges(54.5, 79.9)?;
/// assert!((hole_mm - 12.7).abs() < 1e-12);
/// # Ok::<(), elements::bolt_circle::BoltCircleError>(())
/// ```
pub fn hole_diameter_from_edges(near_edge_gap: f64, far_edge_span: f64) -> Result<f64, BoltCircleError> {
    let (gap, span) = ordered_edges(near_edge_gap, far_edge_span)?;
    Ok((span - gap) / 2.0)
}

fn positive(what: &'static str, value: f64) -> Result<f64, BoltCircleError> {
    if value.is_finite() && value > 0.0 { Ok(value) } else { Err(BoltCircleError::Length { what, value }) }
}

/// The hole diameter, once it is known that neighbours leave metal between them.
fn separate_holes(circle: f64, holes: u32, hole_diameter: f64) -> Result<f64, BoltCircleError> {
    let limit = chord(circle, holes, 1)?;
    let diameter = positive("hole diameter", hole_diameter)?;
    if diameter < limit { Ok(diameter) } else { Err(BoltCircleError::HolesTouch { hole_diameter, limit }) }
}

fn ordered_edges(gap: f64, span: f64) -> Result<(f64, f64), BoltCircleError> {
    let gap = positive("near-edge gap", gap)?;
    let span = positive("far-edge span", span)?;
    if span > gap { Ok((gap, span)) } else { Err(BoltCircleError::SpanBelowGap { gap, span }) }
}
