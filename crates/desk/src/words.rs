//! Numbers and times as the pages write them.

use jiff::Timestamp;
use jiff::tz::TimeZone;

pub(crate) use quantity::percent;

/// A sentence whose percentages stay with their signs where a line is broken.
pub(crate) fn unbroken(sentence: &str) -> String {
    sentence.replace(" %", "\u{a0}%")
}

/// A time as the pages write it: `2026-03-02 08:00`, in universal time.
pub(crate) fn time(at: Timestamp) -> String {
    TimeZone::UTC.to_datetime(at).strftime("%Y-%m-%d %H:%M").to_string()
}

/// A sentence or a heading with a capital at its beginning.
pub(crate) fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A whole sentence: with a capital at its beginning and a stop at its end.
pub(crate) fn sentence(text: &str) -> String {
    let text = capitalised(text.trim_end());
    if text.is_empty() || text.ends_with(['.', '!', '?', ':', '\u{2026}']) { text } else { text + "." }
}

/// Numbers and sizes as they are printed, with a true minus sign. What machines read keeps its hyphen.
pub(crate) fn minus(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut before = None;
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        let begins = before.is_none_or(|before: char| before.is_whitespace() || before == '(');
        let number_follows = letters.peek().is_some_and(|next| next.is_ascii_digit() || *next == '.');
        out.push(if letter == '-' && begins && number_follows { '\u{2212}' } else { letter });
        before = Some(letter);
    }
    out
}

/// The article before a word, by its first vowel: `a stud`, `an inquiry`.
pub(crate) fn with_article(word: &str) -> String {
    let article = if word.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {word}")
}

/// How long ago something was, in the largest unit that fits: `4 min`, `3 d`.
pub(crate) fn ago(at: Timestamp, now: Timestamp) -> String {
    let seconds = now.as_second().saturating_sub(at.as_second()).max(0);
    match seconds {
        0..60 => "now".to_owned(),
        60..3600 => format!("{} min", seconds / 60),
        3600..86_400 => format!("{} h", seconds / 3600),
        _ => format!("{} d", seconds / 86_400),
    }
}

#[cfg(test)]
mod tests {
    use super::{minus, sentence, with_article};

    #[test]
    fn sentences_articles_and_minus_signs_are_those_of_print() {
        assert_eq!(sentence("there is no order 12"), "There is no order 12.");
        assert_eq!(sentence("Not now."), "Not now.");
        assert_eq!((with_article("inquiry"), with_article("stud")), ("an inquiry".to_owned(), "a stud".to_owned()));
        assert_eq!(
            (minus("-0.020\""), minus("+0.1 mm at 1/2-20"), minus("it is -1.5, or (-2)")),
            (
                "\u{2212}0.020\"".to_owned(),
                "+0.1 mm at 1/2-20".to_owned(),
                "it is \u{2212}1.5, or (\u{2212}2)".to_owned()
            )
        );
    }
}
