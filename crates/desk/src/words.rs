//! Numbers and times as the pages write them.

use jiff::Timestamp;
use jiff::tz::TimeZone;
use maud::{Markup, html};
use quantity::{Length, decimal_inches, millimetres, millimetres_text};

pub(crate) use quantity::{capitalised, end_of_sentence, percent, sentence};

/// What stays with the number before it.
const UNITS: [&str; 23] = [
    "%", "in", "mm", "µin", "µm", "°C", "°F", "kN", "N", "lbf", "lb", "kg", "MPa", "GPa", "ksi", "lbf·ft", "N·m",
    "lb·ft", "HRC", "min", "mi", "km", "h",
];

/// A sentence whose numbers stay with their units where a line is broken: `425 °C`, `1 9/16"`, `Ra 8`; below nought with a minus.
pub(crate) fn unbroken(sentence: &str) -> String {
    let mut out = String::with_capacity(sentence.len());
    let mut before: Option<&str> = None;
    for word in sentence.split(' ') {
        if let Some(before) = before {
            let bare =
                word.trim_matches(|letter: char| matches!(letter, ',' | '.' | ';' | ':' | '(' | ')' | '[' | ']'));
            let is_fraction = bare.contains('/') && bare.starts_with(|letter: char| letter.is_ascii_digit());
            let stays = before == "Ra"
                || before.ends_with(['>', '<', '±'])
                || (before.ends_with(|letter: char| letter.is_ascii_digit()) && (is_fraction || UNITS.contains(&bare)));
            out.push(if stays { '\u{a0}' } else { ' ' });
        }
        out.push_str(word);
        before = Some(word);
    }
    minus(&out)
}

/// Words with what stands between backticks set as it is typed.
pub(crate) fn quoted(words: &str) -> Markup {
    let parts: Vec<&str> = words.split('`').collect();
    let is_paired = parts.len() % 2 == 1;
    html! {
        @if is_paired { @for (at, part) in parts.iter().enumerate() { @if at % 2 == 1 { code { (part) } } @else { (part) } } }
        @else { (words) }
    }
}

/// The diameter of pins in both units, the one that the size over them was written in first.
pub(crate) fn pin_size(diameter: Length, inches_first: bool) -> String {
    let (inch, metric) = (decimal_inches(diameter, 4), millimetres_text(diameter, 3));
    if inches_first { format!("{inch} ({metric})") } else { format!("{metric} ({inch})") }
}

/// A reading as the history keeps it, on one line as far as it goes, and with pins, which it has in millimetres, in both units.
pub(crate) fn kept_reading(reading: &str) -> String {
    let kept = || {
        let (before, rest) = reading.split_once(", pins ")?;
        let (number, after) = rest.split_once(" mm")?;
        let diameter = millimetres(number.parse().ok()?);
        Some(format!("{before}, pins {}{after}", pin_size(diameter, !before.ends_with("mm"))))
    };
    unbroken(&kept().unwrap_or_else(|| reading.to_owned()))
}

/// A time as the pages write it: `2026-03-02 08:00 UTC`.
pub(crate) fn time(at: Timestamp) -> String {
    TimeZone::UTC.to_datetime(at).strftime("%Y-%m-%d %H:%M UTC").to_string()
}

/// A time that no line end breaks.
pub(crate) fn moment(at: Timestamp) -> Markup {
    html! { span .moment { (time(at)) } }
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
    use super::{kept_reading, minus, unbroken, with_article};

    #[test]
    fn numbers_stay_with_their_units_and_their_sign() {
        assert_eq!(
            unbroken("1 9/16\" at 425 °C, Ra 8 µin (2.5 mm) of 4 teeth"),
            "1\u{a0}9/16\" at 425\u{a0}°C, Ra\u{a0}8\u{a0}µin (2.5\u{a0}mm) of 4 teeth"
        );
        assert_eq!(unbroken("weight -0.20: > 99.9 % - as was"), "weight \u{2212}0.20: >\u{a0}99.9\u{a0}% - as was");
    }

    #[test]
    fn pins_are_told_in_both_units_whatever_the_book_keeps() {
        let told = |kept: &str| kept_reading(kept).replace('\u{a0}', " ");
        let kept = "1.2996 in, pins 2.032 mm, micrometer, by owner";
        assert_eq!(told(kept), "1.2996 in, pins 0.0800 in (2.032 mm), micrometer, by owner");
        assert_eq!(told("33.01 mm, pins 2 mm"), "33.01 mm, pins 2.000 mm (0.0787 in)");
        assert_eq!(kept_reading("31 5/8\", tape"), "31\u{a0}5/8\", tape");
    }

    #[test]
    fn articles_and_minus_signs_are_those_of_print() {
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
