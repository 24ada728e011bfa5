//! Reads a count of teeth or holes.

use std::ops::Range;

use thiserror::Error;

use crate::cursor::Cursor;

/// Why a text is not a count.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum CountTextError {
    /// There is nothing but blanks.
    #[error("the count is empty")]
    Empty {
        /// The bytes to blame.
        at: Range<usize>,
    },
    /// A number should stand here.
    #[error("{found:?} is not a whole number")]
    NotAWholeNumber {
        /// The bytes to blame.
        at: Range<usize>,
        /// What stands there.
        found: String,
    },
    /// A count begins at one.
    #[error("a count is at least one")]
    Nought {
        /// The bytes to blame.
        at: Range<usize>,
    },
    /// The count is larger than anything that is counted here.
    #[error("{found} is larger than any count of teeth or holes")]
    TooLarge {
        /// The bytes to blame.
        at: Range<usize>,
        /// What stands there.
        found: String,
    },
    /// Something stands after the count.
    #[error("{found:?} stands after the count")]
    TrailingText {
        /// The bytes to blame.
        at: Range<usize>,
        /// What stands there.
        found: String,
    },
}

/// The largest count that is read.
const LARGEST: u32 = 999;

/// What may stand behind a count.
const THINGS: [&str; 6] = ["tooth", "teeth", "hole", "holes", "spline", "splines"];

impl CountTextError {
    /// The bytes of the text that are to blame.
    pub fn range(&self) -> Range<usize> {
        match self {
            CountTextError::Empty { at }
            | CountTextError::NotAWholeNumber { at, .. }
            | CountTextError::Nought { at }
            | CountTextError::TooLarge { at, .. }
            | CountTextError::TrailingText { at, .. } => at.clone(),
        }
    }

    /// What would be accepted instead.
    pub fn accepted(&self) -> String {
        format!("a whole number from 1 to {LARGEST}, such as 28 or 28 teeth")
    }
}

/// Reads a count: a whole number, with or without `teeth`, `splines` or `holes` behind it.
///
/// # Errors
///
/// A [`CountTextError`] with the bytes that are to blame and what would be accepted.
///
/// ```
/// use quantity::{CountTextError, read_count};
/// assert_eq!(read_count("28")?, 28);
/// assert_eq!(read_count(" 5 holes ")?, 5);
/// assert_eq!(read_count("28.5").unwrap_err().to_string(), "\"28.5\" is not a whole number");
/// # Ok::<(), CountTextError>(())
/// ```
pub fn read_count(text: &str) -> Result<u32, CountTextError> {
    let mut cursor = Cursor::new(text);
    cursor.skip_blanks();
    if cursor.is_at_end() {
        return Err(CountTextError::Empty { at: 0..text.len() });
    }
    let word = cursor.word_ahead();
    let digits = cursor.digits();
    let at = word.start..cursor.at();
    let broken = cursor.peek().is_some_and(|next| matches!(next, '.' | ',' | '/'));
    if digits.is_empty() || broken {
        return Err(CountTextError::NotAWholeNumber { found: cursor.slice(word.clone()).to_owned(), at: word });
    }
    let Some(count) = digits.parse::<u32>().ok().filter(|count| *count <= LARGEST) else {
        return Err(CountTextError::TooLarge { at, found: digits.to_owned() });
    };
    cursor.skip_blanks();
    let behind = cursor.rest_without_blanks();
    let found = cursor.slice(behind.clone());
    let named = THINGS.iter().any(|thing| thing.eq_ignore_ascii_case(found));
    if !found.is_empty() && !named {
        return Err(CountTextError::TrailingText { at: behind, found: found.to_owned() });
    }
    if count == 0 {
        return Err(CountTextError::Nought { at });
    }
    Ok(count)
}

#[cfg(test)]
mod tests {
    use super::read_count;

    #[test]
    fn counts_are_read() {
        assert_eq!(read_count("28"), Ok(28));
        assert_eq!(read_count("\t31 Teeth"), Ok(31));
        assert_eq!(read_count("28teeth"), Ok(28));
        assert_eq!(read_count("008"), Ok(8));
        assert_eq!(read_count("999"), Ok(999));
    }

    #[test]
    fn every_fault_has_its_place() {
        for (text, at, problem) in [
            ("  ", 0..2, "the count is empty"),
            ("about 28", 0..5, "\"about\" is not a whole number"),
            (" 28.0", 1..5, "\"28.0\" is not a whole number"),
            ("-5", 0..2, "\"-5\" is not a whole number"),
            ("0", 0..1, "a count is at least one"),
            ("1000", 0..4, "1000 is larger than any count of teeth or holes"),
            ("99999999999999999999", 0..20, "99999999999999999999 is larger than any count of teeth or holes"),
            ("28 or 31", 3..8, "\"or 31\" stands after the count"),
            ("½", 0..2, "\"½\" is not a whole number"),
        ] {
            let error = read_count(text).unwrap_err();
            assert_eq!(error.range(), at, "{text}");
            assert_eq!(error.to_string(), problem);
            assert!(error.accepted().contains("28 teeth"));
        }
    }
}
