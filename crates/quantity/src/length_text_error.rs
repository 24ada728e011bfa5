//! What can be wrong with a length as somebody wrote it.

use std::ops::Range;

use thiserror::Error;

use crate::length_unit::LengthUnit;

/// Why a text is not a length.
///
/// Every case holds the bytes of the text that are to blame; [`LengthTextError::accepted`] says what
/// could stand there instead.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum LengthTextError {
    /// There is nothing but blanks.
    #[error("the length is empty")]
    Empty {
        /// The bytes to blame.
        at: Range<usize>,
    },
    /// A number should stand here.
    #[error("{found:?} is not a number")]
    NotANumber {
        /// The bytes to blame.
        at: Range<usize>,
        /// What stands there.
        found: String,
    },
    /// Nothing says in which unit the number is.
    #[error("the length has no unit")]
    NoUnit {
        /// The bytes of the number that lacks its unit.
        at: Range<usize>,
    },
    /// A unit that is not known here.
    #[error("{found:?} is not a unit of length known here{}", did_you_mean(*nearest))]
    UnknownUnit {
        /// The bytes to blame.
        at: Range<usize>,
        /// What stands there.
        found: String,
        /// The known spelling nearest to it, if any is near.
        nearest: Option<&'static str>,
    },
    /// No scale is divided into so many parts.
    #[error("no scale is divided into {denominator} parts")]
    Denominator {
        /// The bytes to blame.
        at: Range<usize>,
        /// The denominator as written.
        denominator: String,
    },
    /// The numerator is not smaller than the denominator.
    #[error("the fraction {fraction} is not smaller than one")]
    ImproperFraction {
        /// The bytes to blame.
        at: Range<usize>,
        /// The fraction as written.
        fraction: String,
    },
    /// A fraction stands before a metric unit.
    #[error("fractions are for inches and feet, not for the {}", unit.name())]
    MetricFraction {
        /// The bytes of the fraction.
        at: Range<usize>,
        /// The metric unit.
        unit: LengthUnit,
    },
    /// A comma may stand before decimals or before thousands.
    #[error("the comma in {found} may stand before decimals or before thousands")]
    AmbiguousComma {
        /// The bytes to blame.
        at: Range<usize>,
        /// The number as written.
        found: String,
    },
    /// Twelve inches or more stand beside feet.
    #[error("beside feet there are fewer than 12 inches")]
    InchesBesideFeet {
        /// The bytes to blame.
        at: Range<usize>,
    },
    /// Feet can be followed by nothing but inches.
    #[error("after feet come inches, not the {}", unit.name())]
    NotInchesAfterFeet {
        /// The bytes to blame.
        at: Range<usize>,
        /// The unit that stands there.
        unit: LengthUnit,
    },
    /// The feet before inches are not whole.
    #[error("feet before inches are whole")]
    BrokenFeet {
        /// The bytes to blame.
        at: Range<usize>,
    },
    /// A length is not negative.
    #[error("a length is not negative")]
    Negative {
        /// The bytes to blame.
        at: Range<usize>,
    },
    /// The number has more digits than any instrument shows.
    #[error("the number has {digits} digits, more than any instrument shows")]
    TooManyDigits {
        /// The bytes to blame.
        at: Range<usize>,
        /// How many digits there are.
        digits: usize,
    },
    /// Something stands after the length.
    #[error("{found:?} stands after the length")]
    TrailingText {
        /// The bytes to blame.
        at: Range<usize>,
        /// What stands there.
        found: String,
    },
}

/// The most digits that a number may have; all of them fit into an `f64`.
pub(crate) const MOST_DIGITS: usize = 15;

/// The divisions that scales have: halves of halves on a tape or rule, tenths on a decimal rule.
pub(crate) const SCALE_DIVISIONS: [u32; 11] = [2, 4, 8, 10, 16, 20, 32, 50, 64, 100, 128];

impl LengthTextError {
    /// The bytes of the text that are to blame.
    pub fn range(&self) -> Range<usize> {
        match self {
            LengthTextError::Empty { at }
            | LengthTextError::NotANumber { at, .. }
            | LengthTextError::NoUnit { at }
            | LengthTextError::UnknownUnit { at, .. }
            | LengthTextError::Denominator { at, .. }
            | LengthTextError::ImproperFraction { at, .. }
            | LengthTextError::MetricFraction { at, .. }
            | LengthTextError::AmbiguousComma { at, .. }
            | LengthTextError::InchesBesideFeet { at }
            | LengthTextError::NotInchesAfterFeet { at, .. }
            | LengthTextError::BrokenFeet { at }
            | LengthTextError::Negative { at }
            | LengthTextError::TooManyDigits { at, .. }
            | LengthTextError::TrailingText { at, .. } => at.clone(),
        }
    }

    /// What would be accepted instead.
    pub fn accepted(&self) -> String {
        match self {
            LengthTextError::Empty { .. } | LengthTextError::NotANumber { .. } => {
                "a number with its unit, such as 31 5/16\", 31.313 in or 795.3 mm".to_owned()
            }
            LengthTextError::NoUnit { .. } => "the number with its unit: in or \", ft or ', mm, cm, m".to_owned(),
            LengthTextError::UnknownUnit { .. } => "in or \", ft or ', mm, cm, m".to_owned(),
            LengthTextError::Denominator { .. } => {
                let divisions = SCALE_DIVISIONS.map(|division| division.to_string());
                format!("a fraction with one of the denominators {}", divisions.join(", "))
            }
            LengthTextError::ImproperFraction { .. } => {
                "a whole number and a fraction smaller than one, such as 32 1/16\"".to_owned()
            }
            LengthTextError::MetricFraction { .. } => "decimals, such as 795.5 mm".to_owned(),
            LengthTextError::AmbiguousComma { .. } => {
                "decimals after a point, such as 31.313, and no mark between thousands".to_owned()
            }
            LengthTextError::InchesBesideFeet { .. }
            | LengthTextError::NotInchesAfterFeet { .. }
            | LengthTextError::BrokenFeet { .. } => {
                "whole feet and then inches, such as 2' 7 5/16\", or inches alone".to_owned()
            }
            LengthTextError::Negative { .. } => "a length of nought or more".to_owned(),
            LengthTextError::TooManyDigits { .. } => {
                format!("a number of at most {MOST_DIGITS} digits")
            }
            LengthTextError::TrailingText { .. } => "one number with its unit and nothing after it".to_owned(),
        }
    }
}

fn did_you_mean(nearest: Option<&'static str>) -> String {
    nearest.map_or_else(String::new, |word| format!(", did you mean {word:?}?"))
}
