//! Radial clearance inside a deep groove ball bearing: what a new one has, and what pressing it on leaves.
//!
//! A ring that is pressed on a journal grows, its raceway with it, and the clearance between ring and
//! balls shrinks by as much. Heat of the running bearing takes more; that is not counted here.

use std::fmt;

use thiserror::Error;

/// Why a clearance cannot be given.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum BearingClearanceError {
    /// The bore is outside the range that is held.
    #[error("a bearing bore of {bore_mm} mm is outside the table; over 10 and up to 120 mm is accepted")]
    Bore {
        /// Bore that was given.
        bore_mm: f64,
    },
    /// The outside diameter leaves no ring.
    #[error("an outside diameter of {outside_mm} mm leaves no bearing around a bore of {bore_mm} mm")]
    Outside {
        /// Outside diameter that was given.
        outside_mm: f64,
        /// Bore that was given.
        bore_mm: f64,
    },
    /// The interference cannot be.
    #[error("interference from {least_mm} to {most_mm} mm cannot be; both must be zero or more, the first the lower")]
    Interference {
        /// Least interference that was given.
        least_mm: f64,
        /// Largest interference that was given.
        most_mm: f64,
    },
}

/// Group of radial internal clearance.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ClearanceGroup {
    /// Group 2, less than normal: C2.
    Two,
    /// Normal: CN, which is not written behind a bearing's number.
    Normal,
    /// Group 3, more than normal: C3.
    Three,
    /// Group 4, more than group 3: C4.
    Four,
}

impl ClearanceGroup {
    /// All groups, from the closest.
    pub const ALL: [Self; 4] = [Self::Two, Self::Normal, Self::Three, Self::Four];
}

impl fmt::Display for ClearanceGroup {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Two => "C2",
            Self::Normal => "CN",
            Self::Three => "C3",
            Self::Four => "C4",
        })
    }
}

/// A clearance from its least to its largest, micrometres; below zero the balls are preloaded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClearanceRange {
    /// Least clearance.
    pub least_um: f64,
    /// Largest clearance.
    pub most_um: f64,
}

/// Upper end of the step of bores in mm; least and largest clearance in µm of C2, CN, C3, C4.
type Step = (f64, [(f64, f64); 4]);

const STEPS: [Step; 9] = [
    (18.0, [(0.0, 9.0), (3.0, 18.0), (11.0, 25.0), (18.0, 33.0)]),
    (24.0, [(0.0, 10.0), (5.0, 20.0), (13.0, 28.0), (20.0, 36.0)]),
    (30.0, [(1.0, 11.0), (5.0, 20.0), (13.0, 28.0), (23.0, 41.0)]),
    (40.0, [(1.0, 11.0), (6.0, 20.0), (15.0, 33.0), (28.0, 46.0)]),
    (50.0, [(1.0, 11.0), (6.0, 23.0), (18.0, 36.0), (30.0, 51.0)]),
    (65.0, [(1.0, 15.0), (8.0, 28.0), (23.0, 43.0), (38.0, 61.0)]),
    (80.0, [(1.0, 15.0), (10.0, 30.0), (25.0, 51.0), (46.0, 71.0)]),
    (100.0, [(1.0, 18.0), (12.0, 36.0), (30.0, 58.0), (53.0, 84.0)]),
    (120.0, [(2.0, 20.0), (15.0, 41.0), (36.0, 66.0), (61.0, 97.0)]),
];

/// Radial clearance of a new deep groove ball bearing that is not yet fitted.
///
/// Valid for bores over 10 and up to 120 mm.
///
/// # Errors
///
/// [`BearingClearanceError::Bore`] outside that range.
///
/// Source: ISO 5753-1:2009, table for deep groove ball bearings (from memory, check).
///
/// ```
/// use elements::bearing_clearance::{ClearanceGroup, new_clearance};
/// let clearance = new_clearance(ClearanceGroup::Normal, 40.0)?;
/// assert_eq!((clearance.least_um, clearance.most_um), (6.0, 20.0));
/// # Ok::<(), elements::bearing_clearance::BearingClearanceError>(())
/// ```
pub fn new_clearance(group: ClearanceGroup, bore_mm: f64) -> Result<ClearanceRange, BearingClearanceError> {
    let step = STEPS.iter().find(|step| bore_mm <= step.0).filter(|_| bore_mm > 10.0);
    let (least_um, most_um) = step.ok_or(BearingClearanceError::Bore { bore_mm })?.1[group as usize];
    Ok(ClearanceRange { least_um, most_um })
}

/// Diameter of the inner raceway, about `(4d + D)/5`, mm.
///
/// `bore_mm` the bore `d`, above zero, `outside_mm` the outside diameter `D`, above it.
///
/// # Errors
///
/// [`BearingClearanceError::Outside`].
///
/// Source: bearing catalogues, rule for the reduction of clearance by the fit (from memory, check).
///
/// ```
/// use elements::bearing_clearance::inner_raceway_mm;
/// assert_eq!(inner_raceway_mm(40.0, 80.0)?, 48.0);
/// # Ok::<(), elements::bearing_clearance::BearingClearanceError>(())
/// ```
pub fn inner_raceway_mm(bore_mm: f64, outside_mm: f64) -> Result<f64, BearingClearanceError> {
    if bore_mm.is_finite() && bore_mm > 0.0 && outside_mm.is_finite() && outside_mm > bore_mm {
        Ok((4.0 * bore_mm + outside_mm) / 5.0)
    } else {
        Err(BearingClearanceError::Outside { outside_mm, bore_mm })
    }
}

/// Radial clearance that is left once the inner ring is pressed on a solid steel journal, the outer ring
/// loose in its bore.
///
/// ```text
/// loss = δ d/F         F the inner raceway, δ the effective interference
/// left = new − loss    least with the tightest fit and the closest bearing
/// ```
///
/// `interference_mm` is the least and the largest effective diametral interference, each zero or more.
///
/// # Errors
///
/// [`BearingClearanceError::Interference`] or [`BearingClearanceError::Outside`].
///
/// Source: Lamé, growth of the outside of a ring on a solid shaft of the same material, as
/// [`PressFit::outside_growth`](crate::interference_fit::PressFit::outside_growth) has it.
///
/// ```
/// use elements::bearing_clearance::{ClearanceGroup, clearance_left, inner_raceway_mm, new_clearance};
/// let new = new_clearance(ClearanceGroup::Normal, 40.0)?;
/// let left = clearance_left(new, (0.009, 0.024), 40.0, inner_raceway_mm(40.0, 80.0)?)?;
/// // 24 µm of interference take 20 µm: the closest bearing would be tight.
/// assert_eq!((left.least_um.round(), left.most_um.round()), (-14.0, 13.0));
/// # Ok::<(), elements::bearing_clearance::BearingClearanceError>(())
/// ```
pub fn clearance_left(
    new: ClearanceRange,
    interference_mm: (f64, f64),
    bore_mm: f64,
    raceway_mm: f64,
) -> Result<ClearanceRange, BearingClearanceError> {
    let (least_mm, most_mm) = interference_mm;
    if !(least_mm >= 0.0 && least_mm <= most_mm && most_mm.is_finite()) {
        return Err(BearingClearanceError::Interference { least_mm, most_mm });
    }
    if !(bore_mm > 0.0 && raceway_mm > bore_mm && raceway_mm.is_finite()) {
        return Err(BearingClearanceError::Outside { outside_mm: raceway_mm, bore_mm });
    }
    let lost_um = |interference_mm: f64| 1000.0 * interference_mm * bore_mm / raceway_mm;
    Ok(ClearanceRange { least_um: new.least_um - lost_um(most_mm), most_um: new.most_um - lost_um(least_mm) })
}
