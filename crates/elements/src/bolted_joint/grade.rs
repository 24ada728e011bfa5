//! Strengths of bolts and studs by grade.

use super::{BoltError, in_range};

/// Proof, yield and tensile strength, all in one unit of stress.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoltStrength {
    /// Stress that leaves no permanent set.
    pub proof: f64,
    /// Yield strength.
    pub yield_strength: f64,
    /// Tensile strength.
    pub tensile: f64,
}

/// Property class of metric bolts and studs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PropertyClass {
    /// Class 8.8.
    EightPointEight,
    /// Class 10.9.
    TenPointNine,
    /// Class 12.9.
    TwelvePointNine,
}

/// Grade of inch bolts and studs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum InchGrade {
    /// Grade 2.
    Two,
    /// Grade 5.
    Five,
    /// Grade 8.
    Eight,
}

/// Least strengths of a metric property class, MPa.
///
/// Valid from M5 to M39 (that range from memory, check); class 8.8 is a little stronger above
/// 16 mm.
///
/// # Errors
///
/// [`BoltError::Range`] outside 5 to 39 mm.
///
/// Source: ISO 898-1, mechanical properties; the split of 8.8 from memory, and confirmed by the
/// printed proof load of M12.
///
/// ```
/// use elements::bolted_joint::{PropertyClass, metric_strength};
/// let strength = metric_strength(PropertyClass::TenPointNine, 14.0)?;
/// assert_eq!((strength.proof, strength.tensile), (830.0, 1040.0));
/// # Ok::<(), elements::bolted_joint::BoltError>(())
/// ```
pub fn metric_strength(class: PropertyClass, diameter_mm: f64) -> Result<BoltStrength, BoltError> {
    let diameter_mm = in_range("diameter in mm", diameter_mm, 5.0, 39.0)?;
    let (proof, yield_strength, tensile) = match class {
        PropertyClass::EightPointEight if diameter_mm <= 16.0 => (580.0, 640.0, 800.0),
        PropertyClass::EightPointEight => (600.0, 660.0, 830.0),
        PropertyClass::TenPointNine => (830.0, 940.0, 1040.0),
        PropertyClass::TwelvePointNine => (970.0, 1100.0, 1220.0),
    };
    Ok(BoltStrength { proof, yield_strength, tensile })
}

/// Least strengths of an inch grade, ksi.
///
/// Valid from 1/4 in to 3/4 in for grade 2, to 1 in for grade 5, to 1 1/2 in for grade 8 (the
/// last from memory, check); above those the first two are weaker and are not held.
///
/// # Errors
///
/// [`BoltError::Range`] outside those diameters.
///
/// Source: SAE J429, as Shigley & Mischke, 5th edition, prints it.
///
/// ```
/// use elements::bolted_joint::{InchGrade, inch_grade_strength};
/// let strength = inch_grade_strength(InchGrade::Eight, 0.5)?;
/// assert_eq!((strength.proof, strength.tensile), (120.0, 150.0));
/// # Ok::<(), elements::bolted_joint::BoltError>(())
/// ```
pub fn inch_grade_strength(grade: InchGrade, diameter_in: f64) -> Result<BoltStrength, BoltError> {
    let ((proof, yield_strength, tensile), largest_in) = match grade {
        InchGrade::Two => ((55.0, 57.0, 74.0), 0.75),
        InchGrade::Five => ((85.0, 92.0, 120.0), 1.0),
        InchGrade::Eight => ((120.0, 130.0, 150.0), 1.5),
    };
    in_range("diameter in inches", diameter_in, 0.25, largest_in)?;
    Ok(BoltStrength { proof, yield_strength, tensile })
}
