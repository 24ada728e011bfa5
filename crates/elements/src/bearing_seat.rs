//! Seats of bearing inner rings: the bore's own limits and the usual shaft zones.

use thiserror::Error;

use crate::limits_fits::SizeLimits;

/// Why a seat cannot be given.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum BearingSeatError {
    /// The bore is outside the range that is held.
    #[error("a bearing bore of {bore_mm} mm is outside the table; over 10 and up to 120 mm is accepted")]
    Bore {
        /// Bore that was given.
        bore_mm: f64,
    },
    /// A number that must be above zero is not.
    #[error("the {what} must be greater than zero and finite, not {value}")]
    NotPositive {
        /// Which number, with its unit.
        what: &'static str,
        /// Value that was given.
        value: f64,
    },
    /// No recommendation is held for this load at this bore.
    #[error(
        "no seat is held for {load} load at a bore of {bore_mm} mm; held are light and normal load \
         up to 50 mm, normal and heavy load over 50 and up to 150 mm"
    )]
    NoRecommendation {
        /// Load that was given.
        load: SeatLoad,
        /// Bore that was given.
        bore_mm: f64,
    },
}

/// How hard a rotating inner ring is loaded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SeatLoad {
    /// Light load.
    Light,
    /// Normal load.
    Normal,
    /// Heavy load or shock.
    Heavy,
}

impl std::fmt::Display for SeatLoad {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Light => "light",
            Self::Normal => "normal",
            Self::Heavy => "heavy or shock",
        })
    }
}

/// Limits of the mean bore of a radial bearing of Normal tolerance class.
///
/// The zone lies below the nominal size, so that `k5` and `m6` are interference fits here where
/// they are transition fits with `H7`.
///
/// Valid over 10 and up to 120 mm.
///
/// # Errors
///
/// [`BearingSeatError::Bore`] outside that range.
///
/// Source: ISO 492, Normal class; 30 to 80 mm from a public table of resultant fits, 10 to 30 and
/// 80 to 120 mm from memory, check.
///
/// ```
/// use elements::{bearing_seat::bore_limits, limits_fits::{FitClearance, Zone}};
/// let bore = bore_limits(40.0)?;
/// let seat = Zone::parse("m6").unwrap().limits(40.0).unwrap();
/// let clearance = FitClearance::of(&bore, &seat);
/// // Interference of 9 to 37 µm.
/// assert_eq!((clearance.smallest_um, clearance.largest_um), (-37.0, -9.0));
/// # Ok::<(), elements::bearing_seat::BearingSeatError>(())
/// ```
pub fn bore_limits(bore_mm: f64) -> Result<SizeLimits, BearingSeatError> {
    let lower_um = match bore_mm {
        bore_mm if !(bore_mm > 10.0 && bore_mm <= 120.0) => {
            return Err(BearingSeatError::Bore { bore_mm });
        }
        bore_mm if bore_mm <= 18.0 => -8.0,
        bore_mm if bore_mm <= 30.0 => -10.0,
        bore_mm if bore_mm <= 50.0 => -12.0,
        bore_mm if bore_mm <= 80.0 => -15.0,
        _ => -20.0,
    };
    Ok(SizeLimits { nominal_mm: bore_mm, lower_um, upper_um: 0.0 })
}

/// Interference that an inner ring loses under a radial load, mm: with less it creeps on its seat.
///
/// ```text
/// Δ = 0.08 √(d Fr/B) / 1000      light and usual loads, up to about a fifth of the static rating
/// Δ = 0.02 Fr/B / 1000           heavier ones
/// ```
///
/// `bore_mm` the bore `d`, `width_mm` the width `B` of the ring, `radial_n` the load `Fr` in N; all above zero. The larger of the
/// two is given, on the safe side: they meet at `Fr = 16 d B`.
///
/// # Errors
///
/// [`BearingSeatError::NotPositive`].
///
/// Source: bearing catalogues, fits under load (from memory, check).
///
/// ```
/// use elements::bearing_seat::interference_lost_mm;
/// // 40 mm bore, 18 mm wide, 4 kN: 7.5 µm.
/// assert!((interference_lost_mm(40.0, 18.0, 4000.0)? - 0.007_542).abs() < 1e-6);
/// // Under 20 kN the second rule gives more: 22.2 µm.
/// assert!((interference_lost_mm(40.0, 18.0, 20_000.0)? - 0.022_222).abs() < 1e-6);
/// # Ok::<(), elements::bearing_seat::BearingSeatError>(())
/// ```
pub fn interference_lost_mm(bore_mm: f64, width_mm: f64, radial_n: f64) -> Result<f64, BearingSeatError> {
    for (what, value) in [("bore in mm", bore_mm), ("width in mm", width_mm), ("radial load in N", radial_n)] {
        if !(value.is_finite() && value > 0.0) {
            return Err(BearingSeatError::NotPositive { what, value });
        }
    }
    let usual = 0.08e-3 * (bore_mm * radial_n / width_mm).sqrt();
    Ok(usual.max(0.02e-3 * radial_n / width_mm))
}

/// Usual shaft zones for a rotating inner ring on a solid steel shaft, loosest first.
///
/// From `n6` on the bearing needs more than normal internal clearance. Catalogues differ by one
/// grade: these are guidance, not limits.
///
/// Valid up to 50 mm for light and normal load, over 50 and up to 150 mm for normal and heavy
/// load.
///
/// # Errors
///
/// [`BearingSeatError::NoRecommendation`] elsewhere.
///
/// Source: public bearing seat recommendation tables for rotating inner rings.
///
/// ```
/// use elements::bearing_seat::{SeatLoad, usual_zones};
/// assert_eq!(usual_zones(SeatLoad::Normal, 40.0)?, ["k5", "k6", "m5"]);
/// # Ok::<(), elements::bearing_seat::BearingSeatError>(())
/// ```
pub fn usual_zones(load: SeatLoad, bore_mm: f64) -> Result<&'static [&'static str], BearingSeatError> {
    let small = bore_mm > 0.0 && bore_mm <= 50.0;
    let middle = bore_mm > 50.0 && bore_mm <= 150.0;
    match load {
        SeatLoad::Light if small => Ok(&["j5", "k5"]),
        SeatLoad::Normal if small => Ok(&["k5", "k6", "m5"]),
        SeatLoad::Normal if middle => Ok(&["m5", "m6"]),
        SeatLoad::Heavy if middle => Ok(&["n6", "p6"]),
        _ => Err(BearingSeatError::NoRecommendation { load, bore_mm }),
    }
}
