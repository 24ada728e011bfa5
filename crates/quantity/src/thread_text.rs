//! Reads a thread designation as people write it.

use std::ops::Range;

use thiserror::Error;

use crate::cursor::Cursor;
use crate::length_text::read_length;
use crate::length_unit::LengthUnit;
use crate::thread::Thread;

/// Why a text is not a thread designation.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum ThreadTextError {
    /// There is nothing but blanks.
    #[error("the thread is empty")]
    Empty {
        /// The bytes to blame.
        at: Range<usize>,
    },
    /// It does not begin as a thread designation does.
    #[error("{found:?} is not a thread")]
    NotAThread {
        /// The bytes to blame.
        at: Range<usize>,
        /// What stands there.
        found: String,
    },
    /// The diameter stands alone.
    #[error("the thread has no pitch")]
    NoPitch {
        /// The bytes to blame.
        at: Range<usize>,
    },
    /// The diameter is not one that is used here.
    #[error("{found:?} is not a diameter of a wheel stud or bolt")]
    Diameter {
        /// The bytes to blame.
        at: Range<usize>,
        /// What stands there.
        found: String,
        /// The diameters that are read.
        range: &'static str,
    },
    /// The pitch is none of the standard's, or too coarse for the diameter.
    #[error("{found:?} is not a pitch for this diameter")]
    Pitch {
        /// The bytes to blame.
        at: Range<usize>,
        /// What stands there.
        found: String,
        /// The pitches that are read.
        range: &'static str,
    },
    /// The series that is written contradicts diameter and pitch.
    #[error("{found:?} contradicts diameter and pitch, which are those of {designation}")]
    Series {
        /// The bytes to blame.
        at: Range<usize>,
        /// What stands there.
        found: String,
        /// The designation that diameter and pitch make.
        designation: String,
    },
    /// Something stands after the designation.
    #[error("{found:?} stands after the thread")]
    TrailingText {
        /// The bytes to blame.
        at: Range<usize>,
        /// What stands there.
        found: String,
    },
}

const METRIC_DIAMETERS: &str = "M3 to M39";
const METRIC_PITCHES: &str = "a pitch of ISO 261 (such as 1, 1.25, 1.5, 1.75 or 2 mm), at most a fifth of the diameter";
const UNIFIED_DIAMETERS: &str = "1/4 to 1 in";
const UNIFIED_PITCHES: &str = "whole threads per inch, from 8 to 40";

/// The pitches of ISO 261:1998 for diameters up to 39 mm, in hundredths of a millimetre.
const ISO_261_PITCHES: [u32; 20] =
    [20, 25, 30, 35, 40, 45, 50, 60, 70, 75, 80, 100, 125, 150, 175, 200, 250, 300, 350, 400];

/// The coarsest standard threads have a pitch of a fifth of their diameter (1/4-20; finer in ISO 261).
const COARSEST_PITCH: f64 = 0.2;

impl ThreadTextError {
    /// The bytes of the text that are to blame.
    pub fn range(&self) -> Range<usize> {
        match self {
            ThreadTextError::Empty { at }
            | ThreadTextError::NotAThread { at, .. }
            | ThreadTextError::NoPitch { at }
            | ThreadTextError::Diameter { at, .. }
            | ThreadTextError::Pitch { at, .. }
            | ThreadTextError::Series { at, .. }
            | ThreadTextError::TrailingText { at, .. } => at.clone(),
        }
    }

    /// What would be accepted instead.
    pub fn accepted(&self) -> String {
        match self {
            ThreadTextError::Empty { .. } | ThreadTextError::NotAThread { .. } => {
                "a designation such as M12×1.5, 1/2-20 or 7/16-20 UNF".to_owned()
            }
            ThreadTextError::NoPitch { .. } => "diameter and pitch, such as M12×1.5 or 1/2-20".to_owned(),
            ThreadTextError::Diameter { range, .. } | ThreadTextError::Pitch { range, .. } => (*range).to_owned(),
            ThreadTextError::Series { designation, .. } => designation.clone(),
            ThreadTextError::TrailingText { .. } => {
                "diameter and pitch alone, without a tolerance class, such as M12×1.5 or 1/2-20 UNF".to_owned()
            }
        }
    }
}

/// Reads a thread designation: `M12x1.5`, `M12×1.5`, `1/2-20`, `7/16-20 UNF`.
///
/// The pitch is never filled in, not even the coarse one of `M12`, for people leave it out when they
/// do not know it. A series behind a unified thread must agree with diameter and pitch.
///
/// # Errors
///
/// A [`ThreadTextError`] with the bytes that are to blame and what would be accepted.
///
/// ```
/// use quantity::{Thread, ThreadTextError, read_thread};
/// let stud = read_thread("M12x1.5")?;
/// assert_eq!(stud, Thread::Metric { diameter_mm: 12.0, pitch_mm: 1.5 });
/// assert_eq!(read_thread("7/16-20")?.to_string(), "7/16-20 UNF");
/// assert_eq!(read_thread("M12").unwrap_err().to_string(), "the thread has no pitch");
/// # Ok::<(), ThreadTextError>(())
/// ```
pub fn read_thread(text: &str) -> Result<Thread, ThreadTextError> {
    let mut cursor = Cursor::new(text);
    cursor.skip_blanks();
    if cursor.is_at_end() {
        return Err(ThreadTextError::Empty { at: 0..text.len() });
    }
    let begin = cursor.clone();
    if cursor.skip_if(|letter| matches!(letter, 'M' | 'm')) {
        read_metric(&begin, cursor)
    } else {
        read_unified(&begin)
    }
}

impl std::str::FromStr for Thread {
    type Err = ThreadTextError;

    fn from_str(text: &str) -> Result<Thread, ThreadTextError> {
        read_thread(text)
    }
}

fn is_separator(character: char) -> bool {
    matches!(character, 'x' | 'X' | '×' | '*' | '-' | '\u{2010}' | '\u{2011}' | '–' | '−')
}

/// All that stands from here on is no thread.
fn not_a_thread(cursor: &Cursor<'_>) -> ThreadTextError {
    let at = cursor.rest_without_blanks();
    ThreadTextError::NotAThread { found: cursor.slice(at.clone()).to_owned(), at }
}

/// A number with its decimals behind a point or a comma; blanks before it are skipped.
///
/// It is made of digits and marks only, so it is finite and not negative.
fn read_decimal(cursor: &mut Cursor<'_>) -> Option<(f64, Range<usize>)> {
    cursor.skip_blanks();
    let start = cursor.at();
    let text = cursor.take_while(|character| character.is_ascii_digit() || matches!(character, '.' | ','));
    let number = text.replace(',', ".").parse().ok()?;
    Some((number, start..cursor.at()))
}

fn read_metric(begin: &Cursor<'_>, mut cursor: Cursor<'_>) -> Result<Thread, ThreadTextError> {
    let (diameter_mm, diameter_at) = read_decimal(&mut cursor).ok_or_else(|| not_a_thread(begin))?;
    if !(3.0..=39.0).contains(&diameter_mm) {
        return Err(ThreadTextError::Diameter {
            found: cursor.slice(diameter_at.clone()).to_owned(),
            at: diameter_at,
            range: METRIC_DIAMETERS,
        });
    }
    cursor.skip_blanks();
    if cursor.is_at_end() {
        return Err(ThreadTextError::NoPitch { at: begin.at()..diameter_at.end });
    }
    if !cursor.skip_if(is_separator) {
        return Err(trailing_text(&cursor));
    }
    let (pitch_mm, pitch_at) =
        read_decimal(&mut cursor).ok_or(ThreadTextError::NoPitch { at: begin.at()..cursor.at() })?;
    let in_standard = ISO_261_PITCHES.iter().any(|hundredths| f64::from(*hundredths) / 100.0 == pitch_mm);
    if !in_standard || pitch_mm > diameter_mm * COARSEST_PITCH {
        return Err(ThreadTextError::Pitch {
            found: cursor.slice(pitch_at.clone()).to_owned(),
            at: pitch_at,
            range: METRIC_PITCHES,
        });
    }
    refuse_trailing_text(&mut cursor)?;
    Ok(Thread::Metric { diameter_mm, pitch_mm })
}

fn read_unified(begin: &Cursor<'_>) -> Result<Thread, ThreadTextError> {
    let Some((size_at, mut cursor)) = find_unified_pitch(begin) else {
        return Err(without_unified_pitch(begin));
    };
    let size = begin.slice(size_at.clone()).trim_end();
    let diameter_in = read_length(size, Some(LengthUnit::Inch))
        .ok()
        .filter(|written| written.unit() == LengthUnit::Inch)
        .ok_or_else(|| not_a_thread(begin))?
        .number();
    if !(0.25..=1.0).contains(&diameter_in) {
        return Err(ThreadTextError::Diameter {
            found: size.to_owned(),
            at: size_at.start..size_at.start + size.len(),
            range: UNIFIED_DIAMETERS,
        });
    }
    let (per_inch, pitch_at) = read_decimal(&mut cursor).ok_or_else(|| without_unified_pitch(begin))?;
    let whole = per_inch.fract() == 0.0 && (8.0..=40.0).contains(&per_inch);
    if !whole || 1.0 / per_inch > diameter_in * COARSEST_PITCH {
        return Err(ThreadTextError::Pitch {
            found: cursor.slice(pitch_at.clone()).to_owned(),
            at: pitch_at,
            range: UNIFIED_PITCHES,
        });
    }
    let thread = Thread::Unified { diameter_in, per_inch };
    read_series(&mut cursor, &thread)?;
    refuse_trailing_text(&mut cursor)?;
    Ok(thread)
}

/// Finds the mark between diameter and pitch: the bytes of the diameter, and the place behind the
/// mark. The dash of `1-1/8` is not it, for a slash follows the number behind it.
fn find_unified_pitch<'t>(begin: &Cursor<'t>) -> Option<(Range<usize>, Cursor<'t>)> {
    let mut cursor = begin.clone();
    loop {
        cursor.take_while(|character| !is_separator(character));
        let size_end = cursor.at();
        if !cursor.skip_if(is_separator) {
            return None;
        }
        let mut ahead = cursor.clone();
        if read_decimal(&mut ahead).is_none() {
            continue;
        }
        ahead.skip_blanks();
        if !ahead.skip_if(|character| matches!(character, '/' | '\u{2044}' | '\u{2215}')) {
            return Some((begin.at()..size_end, cursor));
        }
    }
}

/// What is wrong with a text that has no pitch behind a mark.
fn without_unified_pitch(begin: &Cursor<'_>) -> ThreadTextError {
    let at = begin.rest_without_blanks();
    let size = begin.slice(at.clone()).trim_end_matches(is_separator);
    match read_length(size, Some(LengthUnit::Inch)) {
        Ok(_) => ThreadTextError::NoPitch { at },
        Err(_) => not_a_thread(begin),
    }
}

/// Reads the series behind a unified thread, if there is one, and holds it against the thread.
fn read_series(cursor: &mut Cursor<'_>, thread: &Thread) -> Result<(), ThreadTextError> {
    cursor.skip_blanks();
    let start = cursor.at();
    let found = cursor.take_while(|character| character.is_ascii_alphabetic());
    let at = start..cursor.at();
    let written = found.to_ascii_uppercase();
    let agrees = match written.as_str() {
        // UN alone names the thread form, which all the series have.
        "" | "UN" => true,
        "UNS" => thread.series().is_none(),
        "UNC" | "UNF" | "UNEF" => thread.series() == Some(written.as_str()),
        _ => {
            return Err(ThreadTextError::TrailingText { at, found: found.to_owned() });
        }
    };
    if agrees {
        return Ok(());
    }
    Err(ThreadTextError::Series { at, found: found.to_owned(), designation: thread.to_string() })
}

fn trailing_text(cursor: &Cursor<'_>) -> ThreadTextError {
    let at = cursor.rest_without_blanks();
    ThreadTextError::TrailingText { found: cursor.slice(at.clone()).to_owned(), at }
}

fn refuse_trailing_text(cursor: &mut Cursor<'_>) -> Result<(), ThreadTextError> {
    cursor.skip_blanks();
    if cursor.is_at_end() { Ok(()) } else { Err(trailing_text(cursor)) }
}

#[cfg(test)]
mod tests {
    use super::read_thread;
    use crate::thread::Thread;

    #[test]
    fn metric_threads_are_read_in_every_usual_form() {
        let thread = Thread::Metric { diameter_mm: 12.0, pitch_mm: 1.5 };
        for text in ["M12x1.5", "M12×1.5", "m12X1.5", "M12 x 1.5", " M12-1.5 ", "M12*1,5", "M12.0x1.50", "M 12 × 1.5"]
        {
            assert_eq!(read_thread(text), Ok(thread), "{text}");
        }
    }

    #[test]
    fn unified_threads_are_read_in_every_usual_form() {
        for (text, designation) in [
            ("1/2-20", "1/2-20 UNF"),
            ("1/2-13", "1/2-13 UNC"),
            ("1/2 - 20 unf", "1/2-20 UNF"),
            ("1/2x20", "1/2-20 UNF"),
            ("1/2\"-20", "1/2-20 UNF"),
            ("½-20 UN", "1/2-20 UNF"),
            (".500-20", "1/2-20 UNF"),
            ("7/16-20 UNF", "7/16-20 UNF"),
            ("9/16-18", "9/16-18 UNF"),
            ("5/8-18UNF", "5/8-18 UNF"),
            ("5/8-20", "5/8-20"),
            ("1-14 UNS", "1-14"),
        ] {
            let thread = read_thread(text).unwrap_or_else(|error| panic!("{text}: {error}"));
            assert_eq!(thread.to_string(), designation);
            assert_eq!(designation.parse(), Ok(thread));
        }
    }

    #[test]
    fn every_fault_has_its_place() {
        for (text, at, problem) in [
            (" ", 0..1, "the thread is empty"),
            ("stud", 0..4, "\"stud\" is not a thread"),
            ("metric", 0..6, "\"metric\" is not a thread"),
            ("M12", 0..3, "the thread has no pitch"),
            (" M12x", 1..5, "the thread has no pitch"),
            ("1/2", 0..3, "the thread has no pitch"),
            ("1/2-", 0..4, "the thread has no pitch"),
            ("12x1.5", 0..2, "\"12\" is not a diameter of a wheel stud or bolt"),
            ("M120x1.5", 1..4, "\"120\" is not a diameter of a wheel stud or bolt"),
            ("M12x1.4", 4..7, "\"1.4\" is not a pitch for this diameter"),
            ("M12x15", 4..6, "\"15\" is not a pitch for this diameter"),
            ("M12x3", 4..5, "\"3\" is not a pitch for this diameter"),
            ("1/2-200", 4..7, "\"200\" is not a pitch for this diameter"),
            ("1/2-20.5", 4..8, "\"20.5\" is not a pitch for this diameter"),
            ("1/2-8", 4..5, "\"8\" is not a pitch for this diameter"),
            ("1-1/8-12", 0..5, "\"1-1/8\" is not a diameter of a wheel stud or bolt"),
            ("1/2-20 UNC", 7..10, "\"UNC\" contradicts diameter and pitch, which are those of 1/2-20 UNF"),
            ("5/8-20 UNF", 7..10, "\"UNF\" contradicts diameter and pitch, which are those of 5/8-20"),
            ("1/2-20 UNF-2A", 10..13, "\"-2A\" stands after the thread"),
            ("1/2-20 fine", 7..11, "\"fine\" stands after the thread"),
            ("M12x1.5-6g", 7..10, "\"-6g\" stands after the thread"),
            ("M12 1.5", 4..7, "\"1.5\" stands after the thread"),
            ("5/15-20", 0..7, "\"5/15-20\" is not a thread"),
            ("16mm-16", 0..7, "\"16mm-16\" is not a thread"),
            ("a-20", 0..4, "\"a-20\" is not a thread"),
        ] {
            let error = read_thread(text).expect_err(text);
            assert_eq!(error.to_string(), problem, "{text}");
            assert_eq!(error.range(), at, "{text}");
            assert!(!error.accepted().is_empty());
        }
    }
}
