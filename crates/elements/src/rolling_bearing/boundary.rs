//! Boundary dimensions of common bearings.

use super::BearingError;

/// Bore, outside diameter and width, millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BearingSize {
    /// Bore `d`.
    pub bore_mm: f64,
    /// Outside diameter `D`.
    pub outside_mm: f64,
    /// Width `B`.
    pub width_mm: f64,
}

/// Dimensions of a tapered roller bearing, millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TaperedSize {
    /// Bore `d`.
    pub bore_mm: f64,
    /// Outside diameter `D`.
    pub outside_mm: f64,
    /// Assembled width `T`.
    pub assembled_width_mm: f64,
    /// Width of the inner ring `B`.
    pub inner_width_mm: f64,
    /// Width of the outer ring `C`.
    pub outer_width_mm: f64,
}

/// Dimension series of radial ball bearings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum BallSeries {
    /// Series 02.
    ZeroTwo,
    /// Series 03.
    ZeroThree,
}

const HELD_MM: &str = "25, 30, 35, 40, 45, 50, 55 and 60 mm";

/// Bore, outside diameter, width.
const SERIES_02_MM: [(f64, f64, f64); 8] = [
    (25.0, 52.0, 15.0),
    (30.0, 62.0, 16.0),
    (35.0, 72.0, 17.0),
    (40.0, 80.0, 18.0),
    (45.0, 85.0, 19.0),
    (50.0, 90.0, 20.0),
    (55.0, 100.0, 21.0),
    (60.0, 110.0, 22.0),
];

const SERIES_03_MM: [(f64, f64, f64); 8] = [
    (25.0, 62.0, 17.0),
    (30.0, 72.0, 19.0),
    (35.0, 80.0, 21.0),
    (40.0, 90.0, 23.0),
    (45.0, 100.0, 25.0),
    (50.0, 110.0, 27.0),
    (55.0, 120.0, 29.0),
    (60.0, 130.0, 31.0),
];

/// Boundary dimensions of a radial ball bearing by series and bore.
///
/// # Errors
///
/// [`BearingError::NoSize`] for a bore that is not held; the message names those that are.
///
/// Source: ISO 15, boundary dimensions; series 02 from 25 to 40 mm and 03 at 35 mm from public code
/// tables, the other rows from memory, check.
///
/// ```
/// use elements::rolling_bearing::{BallSeries, ball_bearing_size};
/// let size = ball_bearing_size(BallSeries::ZeroTwo, 40.0)?;
/// assert_eq!((size.outside_mm, size.width_mm), (80.0, 18.0));
/// # Ok::<(), elements::rolling_bearing::BearingError>(())
/// ```
pub fn ball_bearing_size(series: BallSeries, bore_mm: f64) -> Result<BearingSize, BearingError> {
    let (rows, name) = match series {
        BallSeries::ZeroTwo => (SERIES_02_MM, "series 02 ball"),
        BallSeries::ZeroThree => (SERIES_03_MM, "series 03 ball"),
    };
    rows.into_iter()
        .find(|row| row.0 == bore_mm)
        .map(|(bore_mm, outside_mm, width_mm)| BearingSize { bore_mm, outside_mm, width_mm })
        .ok_or(BearingError::NoSize { series: name, bore_mm, held: HELD_MM })
}

/// Boundary dimensions of a tapered roller bearing of diameter series 2 in the narrow width, by
/// bore.
///
/// # Errors
///
/// [`BearingError::NoSize`] for a bore that is not held.
///
/// Source: ISO 355, as a public catalogue page prints it.
///
/// ```
/// use elements::rolling_bearing::tapered_bearing_size;
/// let size = tapered_bearing_size(35.0)?;
/// assert_eq!((size.outside_mm, size.assembled_width_mm), (72.0, 18.25));
/// # Ok::<(), elements::rolling_bearing::BearingError>(())
/// ```
pub fn tapered_bearing_size(bore_mm: f64) -> Result<TaperedSize, BearingError> {
    [(25.0, 52.0, 16.25, 15.0, 13.0), (30.0, 62.0, 17.25, 16.0, 14.0), (35.0, 72.0, 18.25, 17.0, 15.0)]
        .into_iter()
        .find(|row| row.0 == bore_mm)
        .map(|row| TaperedSize {
            bore_mm: row.0,
            outside_mm: row.1,
            assembled_width_mm: row.2,
            inner_width_mm: row.3,
            outer_width_mm: row.4,
        })
        .ok_or(BearingError::NoSize { series: "series 2 tapered roller", bore_mm, held: "25, 30 and 35 mm" })
}
