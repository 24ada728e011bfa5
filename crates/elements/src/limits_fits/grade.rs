//! Standard tolerance grades.

use std::fmt;

use super::tables::{TOLERANCES_UM, main_step};
use super::{FitError, not_defined};

/// A standard tolerance grade, from IT01, the closest, to IT18.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Grade {
    /// Row of the table: 0 for IT01, 1 for IT0, then the number of the grade and one.
    row: usize,
}

impl Grade {
    /// IT01.
    pub const IT01: Self = Self { row: 0 };
    /// IT0.
    pub const IT0: Self = Self { row: 1 };

    /// Grade IT1 to IT18 by number.
    ///
    /// # Errors
    ///
    /// [`FitError::NoSuchGrade`] outside 1 to 18.
    ///
    /// ```
    /// use elements::limits_fits::Grade;
    /// assert_eq!(Grade::numbered(7)?.to_string(), "7");
    /// assert!(Grade::numbered(19).is_err());
    /// # Ok::<(), elements::limits_fits::FitError>(())
    /// ```
    pub fn numbered(number: u32) -> Result<Self, FitError> {
        usize::try_from(number)
            .ok()
            .filter(|number| (1..=18).contains(number))
            .map(|number| Self { row: number + 1 })
            .ok_or_else(|| FitError::NoSuchGrade { text: number.to_string() })
    }

    /// Grade as written after the letters: `01`, `0` or a number from 1 to 18.
    ///
    /// # Errors
    ///
    /// [`FitError::NoSuchGrade`] for anything else.
    pub fn parse(text: &str) -> Result<Self, FitError> {
        (0..TOLERANCES_UM.len())
            .map(|row| Self { row })
            .find(|grade| grade.to_string() == text)
            .ok_or_else(|| FitError::NoSuchGrade { text: text.to_owned() })
    }

    /// Whether this grade is at least as close as IT`number`.
    pub(super) fn is_up_to(self, number: usize) -> bool {
        self.row <= number + 1
    }

    /// Whether this grade is IT3 to IT`number`: the range in which the standard prints the
    /// increment for holes.
    pub(super) fn is_three_to(self, number: usize) -> bool {
        self.row >= 4 && self.is_up_to(number)
    }

    /// The grade one closer. IT01 stays.
    pub(super) fn closer(self) -> Self {
        Self { row: self.row.saturating_sub(1) }
    }
}

impl fmt::Display for Grade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.row {
            0 => f.write_str("01"),
            row => write!(f, "{}", row - 1),
        }
    }
}

/// Standard tolerance of a grade at a nominal size, micrometres.
///
/// Valid for sizes above 0 and up to 500 mm; the grades from 14 only above 1 mm.
///
/// # Errors
///
/// [`FitError::Size`] or [`FitError::NotDefined`] outside those ranges.
///
/// Source: ISO 286-1:2010, table of standard tolerance grades; IT1 to IT18 checked against a public
/// transcription of DIN EN ISO 286, IT01 and IT0 from memory, check.
///
/// ```
/// use elements::limits_fits::{Grade, standard_tolerance_um};
/// assert_eq!(standard_tolerance_um(63.25, Grade::numbered(7)?)?, 30.0);
/// // A size on the border belongs to the step below: over 30 up to and including 50.
/// assert_eq!(standard_tolerance_um(50.0, Grade::numbered(6)?)?, 16.0);
/// # Ok::<(), elements::limits_fits::FitError>(())
/// ```
pub fn standard_tolerance_um(size_mm: f64, grade: Grade) -> Result<f64, FitError> {
    let step = main_step(size_mm)?;
    if !grade.is_up_to(13) && size_mm <= 1.0 {
        return Err(not_defined(format_args!("IT{grade}"), size_mm, "grades 14 to 18 start above 1 mm"));
    }
    Ok(TOLERANCES_UM[grade.row][step])
}

/// Standard tolerance factor `i = 0.45 D^(1/3) + 0.001 D`, micrometres, `D` in millimetres.
///
/// `D` is the geometric mean of the ends of a step. IT6 to IT11 are about 10, 16, 25, 40, 64 and
/// 100 times `i`; the tables round in their own way, so this is for a check only.
///
/// Valid above 0 and up to 500 mm.
///
/// # Errors
///
/// [`FitError::Size`] outside that range.
///
/// Source: ISO 286-1:2010, annex on the basis of the system.
///
/// ```
/// use elements::limits_fits::tolerance_unit_um;
/// let mean_mm = (50.0_f64 * 80.0).sqrt();
/// assert!((tolerance_unit_um(mean_mm)? - 1.856).abs() < 1e-3);
/// # Ok::<(), elements::limits_fits::FitError>(())
/// ```
pub fn tolerance_unit_um(size_mm: f64) -> Result<f64, FitError> {
    main_step(size_mm)?;
    Ok(0.45 * size_mm.cbrt() + 0.001 * size_mm)
}
