//! Where in a file the characters of a text value stand.

use std::ops::Range;

/// The bytes of the source that a range of a text value was read from.
///
/// `raw` is the value as it stands in the file with its quotation marks, `raw_start` its first byte
/// there, `value` the text it means. Escapes such as `\"` and line ends that are skipped make the two
/// differ. A text that cannot be followed is blamed as a whole.
pub(crate) fn place_in_source(raw: &str, raw_start: usize, value: &str, range: Range<usize>) -> Range<usize> {
    let whole = raw_start..raw_start + raw.len();
    let Some(places) = places(raw, value) else {
        return whole;
    };
    let end = range.end.min(value.len());
    let start = range.start.min(end);
    // The end is the place behind the last character, not the place of the next one, which skipped
    // line ends may stand before.
    let source_start = places.get(start).map(|place| place.start);
    let source_end = match end.checked_sub(1) {
        Some(last) if end > start => places.get(last).map(|place| place.end),
        _ => source_start,
    };
    match (source_start, source_end) {
        (Some(start), Some(end)) => raw_start + start..raw_start + end,
        _ => whole,
    }
}

/// For every byte of the value, and for the place behind the last, the bytes of `raw` it came from.
fn places(raw: &str, value: &str) -> Option<Vec<Range<usize>>> {
    let (inner, escapes) = inner_range(raw)?;
    let mut places = Vec::with_capacity(value.len() + 1);
    let mut decoded = String::with_capacity(value.len());
    let mut at = inner.start;
    while at < inner.end {
        let rest = raw.get(at..inner.end)?;
        let (character, length) = next_character(rest, escapes)?;
        if let Some(character) = character {
            decoded.push(character);
            places.resize(decoded.len(), at..at + length);
        }
        at += length;
    }
    places.push(inner.end..inner.end);
    (decoded == value).then_some(places)
}

/// The bytes between the quotation marks, and whether a backslash escapes.
fn inner_range(raw: &str) -> Option<(Range<usize>, bool)> {
    for (mark, escapes) in [("\"\"\"", true), ("'''", false)] {
        if raw.len() >= 6 && raw.starts_with(mark) && raw.ends_with(mark) {
            // A line end right behind the opening marks does not belong to the text.
            let behind = raw.get(3..)?;
            let skipped = if behind.starts_with("\r\n") { 2 } else { usize::from(behind.starts_with('\n')) };
            let end = raw.len() - 3;
            return Some(((3 + skipped).min(end)..end, escapes));
        }
    }
    for (mark, escapes) in [('"', true), ('\'', false)] {
        if raw.len() >= 2 && raw.starts_with(mark) && raw.ends_with(mark) {
            return Some((1..raw.len() - 1, escapes));
        }
    }
    None
}

/// The next character of the value and the bytes it takes in the source; none for skipped bytes.
fn next_character(rest: &str, escapes: bool) -> Option<(Option<char>, usize)> {
    let first = rest.chars().next()?;
    if first != '\\' || !escapes {
        return Some((Some(first), first.len_utf8()));
    }
    let escaped = rest.get(1..)?.chars().next()?;
    let simple = match escaped {
        'b' => '\u{8}',
        't' => '\t',
        'n' => '\n',
        'f' => '\u{c}',
        'r' => '\r',
        'e' => '\u{1b}',
        '"' => '"',
        '\\' => '\\',
        'x' => return code_point(rest, 2),
        'u' => return code_point(rest, 4),
        'U' => return code_point(rest, 8),
        _ if escaped.is_ascii_whitespace() => {
            let blanks = rest.get(1..)?.find(|character: char| !character.is_ascii_whitespace());
            return Some((None, blanks.map_or(rest.len(), |length| 1 + length)));
        }
        _ => return None,
    };
    Some((Some(simple), 2))
}

fn code_point(rest: &str, digits: usize) -> Option<(Option<char>, usize)> {
    let number = u32::from_str_radix(rest.get(2..2 + digits)?, 16).ok()?;
    Some((Some(char::from_u32(number)?), 2 + digits))
}

#[cfg(test)]
mod tests {
    use super::place_in_source;

    /// The source text that a piece of the value came from.
    fn blamed<'r>(raw: &'r str, value: &str, piece: &str) -> &'r str {
        let start = value.find(piece).unwrap();
        let range = place_in_source(raw, 100, value, start..start + piece.len());
        &raw[range.start - 100..range.end - 100]
    }

    #[test]
    fn escapes_are_followed() {
        assert_eq!(blamed(r#""31 17/16\"""#, "31 17/16\"", "17/16"), "17/16");
        assert_eq!(blamed(r#""\" 17/16""#, "\" 17/16", "17/16"), "17/16");
        assert_eq!(blamed(r#""\u00bd \U000000BD x""#, "½ ½ x", "x"), "x");
        assert_eq!(blamed(r#""\u00bd x""#, "½ x", "½"), "\\u00bd");
        assert_eq!(blamed(r"'a\b c'", "a\\b c", "c"), "c");
        assert_eq!(blamed("\"\"\"\r\nab cd\"\"\"", "ab cd", "cd"), "cd");
        assert_eq!(blamed("'''\nab\ncd'''", "ab\ncd", "cd"), "cd");
        assert_eq!(blamed("\"\"\"ab \\\n   cd\"\"\"", "ab cd", "cd"), "cd");
    }

    #[test]
    fn what_cannot_be_followed_is_blamed_whole() {
        assert_eq!(place_in_source("'abc'", 10, "other", 0..1), 10..15);
        assert_eq!(place_in_source("abc", 10, "abc", 0..1), 10..13);
        assert_eq!(place_in_source("", 10, "", 0..0), 10..10);
        assert_eq!(place_in_source("''", 10, "", 0..0), 11..11);
        assert_eq!(place_in_source("'ab'", 10, "ab", 5..9), 13..13);
    }
}
