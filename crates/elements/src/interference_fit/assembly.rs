//! Heating for assembly, and what pressing takes off the interference.

use super::{InterferenceError, not_negative, positive};

/// Rise in temperature that opens a hub for assembly, `ΔT = (δ + c)/(α d)`.
///
/// `interference` is the largest diametral interference, `clearance` the gap wanted while it
/// slides on, `expansion` the coefficient of linear expansion per kelvin (11.7e-6 for steel, 12e-6
/// for bearing steel); lengths in any one unit. Above a rise of about 100 to 110 K a bearing ring
/// passes the 120 to 125 °C that are the usual limit (from memory, check).
///
/// # Errors
///
/// [`InterferenceError::Negative`] for interference or clearance below zero,
/// [`InterferenceError::NotPositive`] for diameter or expansion.
///
/// Source: linear expansion.
///
/// ```
/// use elements::interference_fit::heating_rise;
/// // 37 µm of interference and 20 µm of room on 40 mm.
/// let rise_k = heating_rise(0.037, 0.020, 40.0, 11.7e-6)?;
/// assert!((rise_k - 121.79).abs() < 0.01);
/// # Ok::<(), elements::interference_fit::InterferenceError>(())
/// ```
pub fn heating_rise(
    interference: f64,
    clearance: f64,
    diameter: f64,
    expansion: f64,
) -> Result<f64, InterferenceError> {
    let opening =
        not_negative("diametral interference", interference)? + not_negative("clearance for assembly", clearance)?;
    let diameter = positive("joint diameter", diameter)?;
    Ok(opening / (positive("coefficient of expansion", expansion)? * diameter))
}

/// How the seat was finished.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SeatFinish {
    /// Ground.
    Ground,
    /// Fine turned.
    Turned,
}

/// Interference left after pressing has smoothed the seat's roughness,
/// `δ d/(d + 2)` for a ground and `δ d/(d + 3)` for a turned seat, `d` in millimetres.
///
/// `measured_mm` is the diametral interference by measured sizes, zero or more.
///
/// # Errors
///
/// [`InterferenceError::Negative`] or [`InterferenceError::NotPositive`].
///
/// Source: the usual formula of bearing catalogues (from memory, check).
///
/// ```
/// use elements::interference_fit::{SeatFinish, effective_interference_mm};
/// let effective_mm = effective_interference_mm(0.030, 40.0, SeatFinish::Ground)?;
/// assert!((effective_mm - 0.028_57).abs() < 1e-5);
/// # Ok::<(), elements::interference_fit::InterferenceError>(())
/// ```
pub fn effective_interference_mm(
    measured_mm: f64,
    diameter_mm: f64,
    finish: SeatFinish,
) -> Result<f64, InterferenceError> {
    let measured_mm = not_negative("measured interference in mm", measured_mm)?;
    let diameter_mm = positive("joint diameter in mm", diameter_mm)?;
    let smoothed_mm = match finish {
        SeatFinish::Ground => 2.0,
        SeatFinish::Turned => 3.0,
    };
    Ok(measured_mm * diameter_mm / (diameter_mm + smoothed_mm))
}
