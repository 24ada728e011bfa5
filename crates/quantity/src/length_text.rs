//! Reads a length as people write it.

use std::ops::Range;

use crate::cursor::Cursor;
use crate::length_text_error::{LengthTextError, MOST_DIGITS, SCALE_DIVISIONS};
use crate::length_unit::LengthUnit;
use crate::written_length::{Parts, Rest, WrittenLength};

/// Reads a length as people write it, and never guesses.
///
/// Read are whole numbers, decimals and fractions, with the unit behind them: `31 5/16"`,
/// `31-5/16 in`, `5/16"`, `31½”`, `31.3125in`, `795.3 mm`, `79.5 cm`, `2' 7 5/16"`. A number without
/// a unit is in the default unit; without one it is an error.
///
/// A comma is a decimal comma where it cannot be anything else: it stands alone, and behind it are
/// one, two or more than three digits. Three digits behind it could be thousands. They are taken for
/// decimals only if the digits before the comma cannot stand before thousands (`0,313 in`), or if the
/// unit is metric and the length would otherwise be 10 m or more (`35,012 mm`).
///
/// # Errors
///
/// A [`LengthTextError`] with the bytes that are to blame and what would be accepted.
///
/// ```
/// use quantity::{LengthExt, LengthTextError, LengthUnit, read_length};
///
/// assert_eq!(read_length("31 5/16\"", None)?.value().inches(), 31.3125);
/// assert_eq!(read_length("795,3 mm", None)?.value().millimetres(), 795.3);
/// assert_eq!(read_length("31.3125", Some(LengthUnit::Inch))?.value().inches(), 31.3125);
///
/// let error = read_length("31 17/16 in", None).unwrap_err();
/// assert_eq!(error.range(), 3..8);
/// assert_eq!(error.to_string(), "the fraction 17/16 is not smaller than one");
/// # Ok::<(), LengthTextError>(())
/// ```
pub fn read_length(text: &str, default: Option<LengthUnit>) -> Result<WrittenLength, LengthTextError> {
    let mut cursor = Cursor::new(text);
    cursor.skip_blanks();
    if cursor.is_at_end() {
        return Err(LengthTextError::Empty { at: 0..text.len() });
    }
    let first = read_number(&mut cursor)?;
    let first_unit = read_unit(&mut cursor)?;
    if first_unit == Some(LengthUnit::Foot) && number_follows(&cursor) {
        return read_inches_after_feet(text, cursor, &first);
    }
    let unit = settle_unit(&cursor, first_unit.or(default), &first)?;
    first.check_for(unit)?;
    let parts = first.parts(0);
    let digits = cursor.slice(first.at);
    Ok(WrittenLength::new(parts, unit, text.trim(), digits))
}

/// A number as found, before its unit is known.
struct Number<'t> {
    /// The bytes of the whole number.
    at: Range<usize>,
    text: &'t str,
    whole: &'t str,
    rest: NumberRest<'t>,
}

enum NumberRest<'t> {
    Nothing,
    Fraction { at: Range<usize>, numerator: u32, denominator: u32 },
    Decimals { comma: bool, decimals: &'t str },
}

impl Number<'_> {
    fn parts(&self, feet: u32) -> Parts {
        Parts {
            feet,
            whole: self.whole.to_owned(),
            rest: match &self.rest {
                NumberRest::Nothing => Rest::Nothing,
                NumberRest::Fraction { numerator, denominator, .. } => {
                    Rest::Fraction { numerator: *numerator, denominator: *denominator }
                }
                NumberRest::Decimals { decimals, .. } => Rest::Decimals((*decimals).to_owned()),
            },
        }
    }

    /// Refuses a number whose form does not go with the unit.
    fn check_for(&self, unit: LengthUnit) -> Result<(), LengthTextError> {
        match &self.rest {
            NumberRest::Fraction { at, .. } if unit.is_metric() => {
                Err(LengthTextError::MetricFraction { at: at.clone(), unit })
            }
            NumberRest::Decimals { comma: true, decimals } if !is_decimal_comma(self.whole, decimals, unit) => {
                Err(LengthTextError::AmbiguousComma { at: self.at.clone(), found: self.text.to_owned() })
            }
            _ => Ok(()),
        }
    }
}

/// Whether a lone comma can only stand before decimals.
fn is_decimal_comma(whole: &str, decimals: &str, unit: LengthUnit) -> bool {
    /// Nothing that is read with a tape or a caliper is as long as this.
    const FAR_TOO_LONG_IN_METRES: f64 = 10.0;

    if decimals.len() != 3 || whole.is_empty() || whole.starts_with('0') || whole.len() > 3 {
        return true;
    }
    let thousands: f64 = format!("{whole}{decimals}").parse().unwrap_or(0.0);
    unit.is_metric() && unit.times(thousands).value >= FAR_TOO_LONG_IN_METRES
}

fn is_dash(character: char) -> bool {
    matches!(character, '-' | '\u{2010}' | '\u{2011}' | '\u{2012}' | '–' | '—' | '−')
}

fn is_slash(character: char) -> bool {
    matches!(character, '/' | '\u{2044}' | '\u{2215}' | '\u{ff0f}')
}

/// The fractions that have a character of their own (The Unicode Standard, block Number Forms and
/// block Latin-1 Supplement).
fn vulgar_fraction(character: char) -> Option<(u32, u32)> {
    Some(match character {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅐' => (1, 7),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        _ => return None,
    })
}

fn read_number<'t>(cursor: &mut Cursor<'t>) -> Result<Number<'t>, LengthTextError> {
    refuse_sign(cursor)?;
    let start = cursor.at();
    let whole = cursor.digits();
    let rest = if let Some(fraction) = read_fraction_behind(cursor, start, whole)? {
        fraction
    } else {
        read_decimals(cursor, start, whole)?
    };
    let at = start..cursor.at();
    let whole = match rest {
        // The digits before the slash are the numerator if nothing stands before them.
        NumberRest::Fraction { at: ref fraction, .. } if fraction.start == start => "",
        _ => whole,
    };
    let decimals = match &rest {
        NumberRest::Decimals { decimals, .. } => decimals.len(),
        _ => 0,
    };
    let digits = whole.len() + decimals;
    if digits > MOST_DIGITS {
        return Err(LengthTextError::TooManyDigits { at, digits });
    }
    Ok(Number { text: cursor.slice(at.clone()), at, whole, rest })
}

/// A dash before a number makes it negative; before anything else it is no number.
fn refuse_sign(cursor: &Cursor<'_>) -> Result<(), LengthTextError> {
    let mut ahead = cursor.clone();
    if !ahead.skip_if(is_dash) {
        return Ok(());
    }
    ahead.skip_blanks();
    if ahead.peek().is_some_and(starts_number) {
        let at = cursor.at()..ahead.word_ahead().end;
        Err(LengthTextError::Negative { at })
    } else {
        Err(not_a_number(cursor, cursor.word_ahead()))
    }
}

fn starts_number(character: char) -> bool {
    character.is_ascii_digit() || character == '.' || vulgar_fraction(character).is_some()
}

fn not_a_number(cursor: &Cursor<'_>, at: Range<usize>) -> LengthTextError {
    LengthTextError::NotANumber { found: cursor.slice(at.clone()).to_owned(), at }
}

/// Reads what makes a number a fraction: `/16` behind the numerator, or a fraction of its own behind
/// the whole number, with a blank, a dash or nothing between. Leaves the cursor if there is none.
fn read_fraction_behind<'t>(
    cursor: &mut Cursor<'t>,
    start: usize,
    whole: &'t str,
) -> Result<Option<NumberRest<'t>>, LengthTextError> {
    let mut ahead = cursor.clone();
    if !whole.is_empty() {
        ahead.skip_blanks();
        if ahead.skip_if(is_slash) {
            return read_denominator(cursor, ahead, start, whole).map(Some);
        }
        ahead = cursor.clone();
        // A dash with blanks around it could be a minus, so only a tight one joins.
        if !ahead.skip_if(is_dash) {
            ahead.skip_blanks();
        }
    }
    let fraction_start = ahead.at();
    if let Some((numerator, denominator)) = ahead.peek().and_then(vulgar_fraction) {
        ahead.skip_if(|_| true);
        let at = fraction_start..ahead.at();
        if !SCALE_DIVISIONS.contains(&denominator) {
            return Err(LengthTextError::Denominator { at, denominator: denominator.to_string() });
        }
        *cursor = ahead;
        return Ok(Some(NumberRest::Fraction { at, numerator, denominator }));
    }
    let numerator = ahead.digits();
    ahead.skip_blanks();
    if numerator.is_empty() || !ahead.skip_if(is_slash) {
        return Ok(None);
    }
    read_denominator(cursor, ahead, fraction_start, numerator).map(Some)
}

/// Reads the denominator; `ahead` stands behind the slash.
fn read_denominator<'t>(
    cursor: &mut Cursor<'t>,
    mut ahead: Cursor<'t>,
    start: usize,
    numerator: &'t str,
) -> Result<NumberRest<'t>, LengthTextError> {
    let behind_slash = ahead.word_ahead();
    ahead.skip_blanks();
    let denominator_start = ahead.at();
    let denominator = ahead.digits();
    if denominator.is_empty() {
        return Err(not_a_number(&ahead, start..behind_slash.end));
    }
    let at = start..ahead.at();
    let Some(parts) = denominator.parse::<u32>().ok().filter(|parts| SCALE_DIVISIONS.contains(parts)) else {
        return Err(LengthTextError::Denominator {
            at: denominator_start..ahead.at(),
            denominator: denominator.to_owned(),
        });
    };
    let Some(numerator) = numerator.parse::<u32>().ok().filter(|numerator| *numerator < parts) else {
        return Err(LengthTextError::ImproperFraction { fraction: ahead.slice(at.clone()).to_owned(), at });
    };
    *cursor = ahead;
    Ok(NumberRest::Fraction { at, numerator, denominator: parts })
}

/// Reads a point or a comma and the digits behind it.
fn read_decimals<'t>(cursor: &mut Cursor<'t>, start: usize, whole: &'t str) -> Result<NumberRest<'t>, LengthTextError> {
    let mut ahead = cursor.clone();
    let comma = ahead.peek() == Some(',');
    if !ahead.skip_if(|character| matches!(character, '.' | ',')) {
        if whole.is_empty() {
            return Err(not_a_number(cursor, cursor.word_ahead()));
        }
        return Ok(NumberRest::Nothing);
    }
    let decimals = ahead.digits();
    if decimals.is_empty() && (whole.is_empty() || comma) {
        return Err(not_a_number(cursor, start..cursor.word_ahead().end));
    }
    refuse_second_mark(&ahead, start, comma)?;
    *cursor = ahead;
    Ok(NumberRest::Decimals { comma, decimals })
}

/// With a second point or comma nobody can tell which mark stands before the decimals.
fn refuse_second_mark(behind: &Cursor<'_>, start: usize, comma: bool) -> Result<(), LengthTextError> {
    let mut ahead = behind.clone();
    let second_comma = ahead.peek() == Some(',');
    if !ahead.skip_if(|character| matches!(character, '.' | ',')) || ahead.digits().is_empty() {
        return Ok(());
    }
    let at = start..behind.word_ahead().end;
    if comma || second_comma {
        Err(LengthTextError::AmbiguousComma { found: behind.slice(at.clone()).to_owned(), at })
    } else {
        Err(not_a_number(behind, at))
    }
}

/// Reads a unit, if one stands next; blanks before it are skipped.
fn read_unit(cursor: &mut Cursor<'_>) -> Result<Option<LengthUnit>, LengthTextError> {
    cursor.skip_blanks();
    if let Some((unit, bytes)) = LengthUnit::mark_at_start(cursor.rest()) {
        cursor.skip_bytes(bytes);
        return Ok(Some(unit));
    }
    let start = cursor.at();
    let word = cursor.take_while(char::is_alphabetic);
    if word.is_empty() {
        return Ok(None);
    }
    let at = start..cursor.at();
    let Some(unit) = LengthUnit::from_spelling(word) else {
        return Err(LengthTextError::UnknownUnit {
            at,
            found: word.to_owned(),
            nearest: LengthUnit::nearest_spelling(word),
        });
    };
    cursor.skip_if(|character| character == '.');
    Ok(Some(unit))
}

/// The unit of a number, when nothing may follow any more.
fn settle_unit(
    cursor: &Cursor<'_>,
    unit: Option<LengthUnit>,
    number: &Number<'_>,
) -> Result<LengthUnit, LengthTextError> {
    let mut behind = cursor.clone();
    behind.skip_blanks();
    if !behind.is_at_end() {
        let at = behind.rest_without_blanks();
        return Err(LengthTextError::TrailingText { found: behind.slice(at.clone()).to_owned(), at });
    }
    unit.ok_or_else(|| LengthTextError::NoUnit { at: number.at.clone() })
}

/// Whether inches follow behind feet; a dash may stand between.
fn number_follows(cursor: &Cursor<'_>) -> bool {
    let mut ahead = cursor.clone();
    skip_joint(&mut ahead);
    ahead.peek().is_some_and(starts_number)
}

fn skip_joint(cursor: &mut Cursor<'_>) {
    cursor.skip_blanks();
    cursor.skip_if(is_dash);
    cursor.skip_blanks();
}

fn read_inches_after_feet(
    text: &str,
    mut cursor: Cursor<'_>,
    feet: &Number<'_>,
) -> Result<WrittenLength, LengthTextError> {
    let NumberRest::Nothing = feet.rest else {
        return Err(LengthTextError::BrokenFeet { at: feet.at.clone() });
    };
    let Ok(whole_feet) = feet.whole.parse::<u32>() else {
        return Err(LengthTextError::TooManyDigits { at: feet.at.clone(), digits: feet.whole.len() });
    };
    skip_joint(&mut cursor);
    let inches = read_number(&mut cursor)?;
    let unit = read_unit(&mut cursor)?;
    let unit = settle_unit(&cursor, unit, &inches)?;
    if unit != LengthUnit::Inch {
        return Err(LengthTextError::NotInchesAfterFeet { at: inches.at.end..cursor.at(), unit });
    }
    inches.check_for(unit)?;
    if inches.parts(0).number() >= 12.0 {
        return Err(LengthTextError::InchesBesideFeet { at: inches.at });
    }
    let digits = cursor.slice(feet.at.start..inches.at.end);
    let parts = inches.parts(whole_feet);
    Ok(WrittenLength::new(parts, unit, text.trim(), digits))
}
