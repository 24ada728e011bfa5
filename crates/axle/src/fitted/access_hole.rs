//! The access hole of the flange: a hole midway between two stud holes through which a socket reaches the nuts of the
//! retainer plate while the shaft is in its housing (common practice, no source).

use catalog::Condition;
use quantity::millimetres;

use super::{FittedSize, cut_of};
use crate::review::{Basis, Dimension, DimensionKind};
use crate::sheet::{AccessHole, Sheet};

/// The access hole of the new flanges.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedAccessHole {
    /// Whether there is one; none where nothing says.
    pub there: Option<bool>,
    /// Its diameter; none where there is no hole or nothing says how large it is.
    pub diameter: Option<FittedSize>,
    /// Diameter of the circle about the axis that its centre lies on; none likewise.
    pub circle: Option<FittedSize>,
}

/// What the sheet says, or what follows from a reading that was taken through such a hole.
pub(super) fn fitted_access_hole(sheet: &Sheet, dimensions: &[Dimension]) -> FittedAccessHole {
    let stated = |size| FittedSize {
        size,
        standard_uncertainty: None,
        basis: Basis::Measured,
        source: "stated on the order sheet".to_owned(),
    };
    match sheet.parts.access_hole {
        Some(AccessHole::Without) => FittedAccessHole { there: Some(false), diameter: None, circle: None },
        Some(AccessHole::Round { diameter, circle }) => {
            let on_bolt_circle = || {
                cut_of(dimensions, DimensionKind::BoltCircle, None).map(|size| FittedSize {
                    size: millimetres(size),
                    standard_uncertainty: None,
                    basis: Basis::Assumed,
                    source: "taken to lie on the bolt circle: own judgement".to_owned(),
                })
            };
            FittedAccessHole {
                there: Some(true),
                diameter: Some(stated(diameter)),
                circle: circle.map(stated).or_else(on_bolt_circle),
            }
        }
        None => {
            // Who measured through the hole has seen it, but nobody says how large it is.
            let seen = sheet.readings.iter().any(|one| one.conditions.contains(&Condition::ThroughAccessHole));
            FittedAccessHole { there: seen.then_some(true), diameter: None, circle: None }
        }
    }
}
