//! Limits and fits to ISO 286: tolerance zones of holes and shafts, and fits made of them.
//!
//! A zone such as `H7` or `m6` is a fundamental deviation (the letters; capitals for holes) and a
//! standard tolerance grade (the number). The printed table values are used throughout: the
//! rounding of the standard is not that of its own formulas.
//!
//! Valid for nominal sizes above 0 and up to 500 mm. Sizes in millimetres, deviations in
//! micrometres.
//!
//! Source: ISO 286-1:2010, tables of standard tolerance grades and fundamental deviations; the same
//! numbers as JIS B 0401. Where that edition gives the symmetric zones `js` and `JS` as half the
//! tolerance exactly, the 1988 edition rounded odd tolerances of grades 7 to 11 down first.

use std::fmt;

use thiserror::Error;

mod fit;
mod grade;
mod tables;
mod zone;

pub use fit::{Fit, FitClearance, FitKind};
pub use grade::{Grade, standard_tolerance_um, tolerance_unit_um};
pub use zone::{Deviation, Feature, SizeLimits, Zone};

/// Largest nominal size that is held, in millimetres.
pub const LARGEST_SIZE_MM: f64 = 500.0;

/// Why a zone or a fit cannot be given.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum FitError {
    /// The nominal size is outside the range of the tables.
    #[error("a nominal size of {size_mm} mm is outside the tables; above 0 and up to 500 mm is accepted")]
    Size {
        /// Nominal size that was given.
        size_mm: f64,
    },
    /// The text is not a tolerance zone.
    #[error(
        "{text:?} is not a tolerance zone; write the letters of the deviation and the grade, such as \
         H7 for a hole or m6 for a shaft"
    )]
    NotAZone {
        /// Text that was given.
        text: String,
    },
    /// The grade does not exist.
    #[error("grade {text:?} does not exist; 01, 0 and 1 to 18 are accepted")]
    NoSuchGrade {
        /// Text that was given.
        text: String,
    },
    /// The two zones are not a hole and a shaft.
    #[error("{hole} and {shaft} do not make a fit; a hole zone and a shaft zone are accepted")]
    NotAFit {
        /// Zone that was given for the hole.
        hole: Zone,
        /// Zone that was given for the shaft.
        shaft: Zone,
    },
    /// The standard does not define this grade or zone at this size.
    #[error("{what} is not defined at {size_mm} mm: {reason}")]
    NotDefined {
        /// Zone or grade, as written.
        what: String,
        /// Nominal size that was given.
        size_mm: f64,
        /// Where it is defined.
        reason: &'static str,
    },
}

fn not_defined(what: impl fmt::Display, size_mm: f64, reason: &'static str) -> FitError {
    FitError::NotDefined { what: what.to_string(), size_mm, reason }
}
