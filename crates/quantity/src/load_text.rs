//! Reads masses, forces, torques, distances driven and stresses, as people write them.

use std::ops::Range;

use thiserror::Error;

use crate::conversion::{KSI_MPA, MILE_KM, POUND_FOOT_NM, POUND_FORCE_N, POUND_KG};
use crate::length_format::Leading;
use crate::nearest_word::nearest_word;

/// What kind of load figure a text is to hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LoadKind {
    /// A mass, or the weight that a scale shows as one.
    Mass,
    /// A force.
    Force,
    /// A torque.
    Torque,
    /// A distance driven.
    Distance,
    /// A stress.
    Stress,
}

/// A unit with the spellings that are read, in small letters, and what one of it is in the unit of the result.
struct LoadUnit {
    spellings: &'static [&'static str],
    factor: f64,
    system: Leading,
}

const fn metric(spellings: &'static [&'static str], factor: f64) -> LoadUnit {
    LoadUnit { spellings, factor, system: Leading::Millimetres }
}

const fn inch(spellings: &'static [&'static str], factor: f64) -> LoadUnit {
    LoadUnit { spellings, factor, system: Leading::Inches }
}

const MASS: [LoadUnit; 3] = [metric(&["kg"], 1.0), inch(&["lb", "lbs"], POUND_KG), metric(&["t"], 1000.0)];

/// The gauge of a press may show tons, of which there are three; they are asked back.
const FORCE: [LoadUnit; 3] = [metric(&["n"], 1.0), metric(&["kn"], 1000.0), inch(&["lbf", "lb", "lbs"], POUND_FORCE_N)];

const TORQUE: [LoadUnit; 2] = [
    metric(&["n·m", "nm", "n m", "n.m", "n*m"], 1.0),
    inch(
        &["lb·ft", "lb-ft", "lb ft", "lbf·ft", "lbf-ft", "lbf ft", "ft·lb", "ft-lb", "ft lb", "ft·lbf"],
        POUND_FOOT_NM,
    ),
];

const DISTANCE: [LoadUnit; 2] = [metric(&["km"], 1.0), inch(&["mi", "mile", "miles"], MILE_KM)];

const STRESS: [LoadUnit; 3] =
    [metric(&["mpa", "n/mm²", "n/mm2"], 1.0), inch(&["ksi"], KSI_MPA), inch(&["psi"], KSI_MPA / 1000.0)];

impl LoadKind {
    fn units(self) -> &'static [LoadUnit] {
        match self {
            LoadKind::Mass => &MASS,
            LoadKind::Force => &FORCE,
            LoadKind::Torque => &TORQUE,
            LoadKind::Distance => &DISTANCE,
            LoadKind::Stress => &STRESS,
        }
    }

    /// The word for it.
    pub fn words(self) -> &'static str {
        match self {
            LoadKind::Mass => "mass",
            LoadKind::Force => "force",
            LoadKind::Torque => "torque",
            LoadKind::Distance => "distance",
            LoadKind::Stress => "stress",
        }
    }

    /// What is accepted, as a fault says it.
    pub fn accepted(self) -> &'static str {
        match self {
            LoadKind::Mass => "a number with kg, lb or t, such as \"1850 lb\"",
            LoadKind::Force => "a number with kN, N or lbf, such as \"24 kN\" or \"5400 lbf\"",
            LoadKind::Torque => "a number with N·m or lb·ft, such as \"320 lb·ft\"",
            LoadKind::Distance => "a number with km or mi, such as \"100000 mi\"",
            LoadKind::Stress => "a number with MPa, ksi or psi, such as \"120 ksi\" or \"830 MPa\"",
        }
    }
}

/// Why a text is not a load figure.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum LoadTextError {
    /// There is nothing but blanks.
    #[error("the {what} is empty")]
    Empty {
        /// What was wanted.
        what: &'static str,
        /// The bytes to blame.
        at: Range<usize>,
    },
    /// No number stands in front.
    #[error("{found:?} does not begin with a number")]
    NoNumber {
        /// What stands there.
        found: String,
        /// The bytes to blame.
        at: Range<usize>,
    },
    /// The number has no unit.
    #[error("the {what} has no unit")]
    NoUnit {
        /// What was wanted.
        what: &'static str,
        /// The bytes to blame.
        at: Range<usize>,
    },
    /// The unit is not one of this kind.
    #[error("{found:?} is not a unit of {what}{hint}")]
    UnknownUnit {
        /// What was wanted.
        what: &'static str,
        /// What stands there.
        found: String,
        /// The nearest unit in words, or nothing.
        hint: String,
        /// The bytes to blame.
        at: Range<usize>,
    },
}

impl LoadTextError {
    /// The bytes of the text that are to blame.
    pub fn range(&self) -> Range<usize> {
        match self {
            LoadTextError::Empty { at, .. }
            | LoadTextError::NoNumber { at, .. }
            | LoadTextError::NoUnit { at, .. }
            | LoadTextError::UnknownUnit { at, .. } => at.clone(),
        }
    }
}

/// Reads a mass in kg, a force in N, a torque in N·m, a distance in km or a stress in MPa from a number and its unit.
///
/// The number is plain, with a point for decimals and no sign; the unit is required, because a bare number would be one
/// thing to one reader and another to the next.
///
/// # Errors
///
/// A [`LoadTextError`] with the bytes to blame.
///
/// ```
/// use quantity::{LoadKind, read_load};
/// assert_eq!(read_load("816 kg", LoadKind::Mass)?, 816.0);
/// assert!((read_load("1800 lb", LoadKind::Mass)? - 816.466).abs() < 1e-3);
/// assert!((read_load("236 lb·ft", LoadKind::Torque)? - 319.97).abs() < 1e-2);
/// assert!(read_load("236", LoadKind::Torque).is_err());
/// # Ok::<(), quantity::LoadTextError>(())
/// ```
pub fn read_load(text: &str, kind: LoadKind) -> Result<f64, LoadTextError> {
    read_written_load(text, kind).map(|(value, _)| value)
}

/// The same with the system of units that the text is written in.
///
/// # Errors
///
/// A [`LoadTextError`] with the bytes to blame.
///
/// ```
/// use quantity::{Leading, LoadKind, read_written_load};
/// assert_eq!(read_written_load("500 kg", LoadKind::Mass)?, (500.0, Leading::Millimetres));
/// assert_eq!(read_written_load("1 ksi", LoadKind::Stress)?, (quantity::KSI_MPA, Leading::Inches));
/// # Ok::<(), quantity::LoadTextError>(())
/// ```
pub fn read_written_load(text: &str, kind: LoadKind) -> Result<(f64, Leading), LoadTextError> {
    let what = kind.words();
    let start = text.len() - text.trim_start().len();
    let body = text.trim();
    if body.is_empty() {
        return Err(LoadTextError::Empty { what, at: 0..text.len() });
    }
    let digits = body.find(|letter: char| !letter.is_ascii_digit() && letter != '.').unwrap_or(body.len());
    let (number, rest) = body.split_at(digits);
    let value = number.parse::<f64>().ok().filter(|value| value.is_finite());
    let Some(value) = value else {
        return Err(LoadTextError::NoNumber { found: body.to_owned(), at: start..start + body.len() });
    };
    let unit = rest.trim_start();
    if unit.is_empty() {
        return Err(LoadTextError::NoUnit { what, at: start..start + body.len() });
    }
    let small = unit.to_lowercase();
    let known = kind.units();
    match known.iter().find(|one| one.spellings.contains(&small.as_str())) {
        Some(one) => Ok((value * one.factor, one.system)),
        None => {
            let spellings = known.iter().flat_map(|one| one.spellings.iter().copied());
            let hint =
                nearest_word(&small, spellings).map_or_else(String::new, |near| format!(", did you mean {near:?}?"));
            let at = start + body.len() - unit.len()..start + body.len();
            Err(LoadTextError::UnknownUnit { what, found: unit.to_owned(), hint, at })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{LoadKind, read_load};

    #[test]
    fn one_torque_in_every_spelling() {
        // 1 lbf·ft is 1.3558179483314004 N·m (NIST SP 811, appendix B.8).
        for text in ["100 lb·ft", "100lb-ft", " 100 ft-lb ", "100 LB FT", "100.0 lbf·ft"] {
            let torque = read_load(text, LoadKind::Torque).unwrap();
            assert!((torque - 135.581_794_833_140_04).abs() < 1e-9, "{text}: {torque}");
        }
        assert_eq!(read_load("320 Nm", LoadKind::Torque), Ok(320.0));
    }

    #[test]
    fn forces_of_a_press() {
        assert_eq!(read_load("24.5 kN", LoadKind::Force), Ok(24_500.0));
        // 1 lbf is 4.4482216152605 N (NIST SP 811, appendix B.8).
        assert!((read_load("5400 lbf", LoadKind::Force).unwrap() - 24_020.396_722_406_7).abs() < 1e-6);
        let tons = read_load("2.7 tons", LoadKind::Force).unwrap_err();
        assert_eq!(tons.to_string(), "\"tons\" is not a unit of force");
    }

    #[test]
    fn distances_in_miles() {
        assert!((read_load("100 mi", LoadKind::Distance).unwrap() - 160.934_4).abs() < 1e-9);
    }

    #[test]
    fn faults_are_placed() {
        let place = |text, kind| {
            let error = read_load(text, kind).unwrap_err();
            (error.range(), error.to_string())
        };
        assert_eq!(
            place("1800 lm", LoadKind::Mass),
            (5..7, "\"lm\" is not a unit of mass, did you mean \"lb\"?".to_owned())
        );
        assert_eq!(place(" heavy", LoadKind::Mass), (1..6, "\"heavy\" does not begin with a number".to_owned()));
        assert_eq!(place("830", LoadKind::Stress), (0..3, "the stress has no unit".to_owned()));
        assert_eq!(place("1800", LoadKind::Mass), (0..4, "the mass has no unit".to_owned()));
        assert_eq!(place("-5 kg", LoadKind::Mass).0, 0..5);
        assert_eq!(place("1.2.3 kg", LoadKind::Mass).0, 0..8);
        assert_eq!(place("  ", LoadKind::Torque), (0..2, "the torque is empty".to_owned()));
        assert_eq!(place("300 kg", LoadKind::Torque).0, 4..6);
    }
}
