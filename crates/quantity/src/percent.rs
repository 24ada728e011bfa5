//! Probabilities in per cent.

/// Stands between a number and its sign: no line may break there.
const JOINED: char = '\u{a0}';

/// A probability, 0 to 1, in per cent with one decimal. Only certainty itself is `100 %` or `0 %`; what would round to it is
/// `> 99.9 %` or `< 0.1 %`. The blanks are such that no line breaks there.
///
/// ```
/// assert_eq!(quantity::percent(0.9894), "98.9\u{a0}%");
/// assert_eq!(quantity::percent(0.9999), ">\u{a0}99.9\u{a0}%");
/// ```
#[must_use]
pub fn percent(probability: f64) -> String {
    let text = format!("{:.1}", probability * 100.0);
    let number = match text.as_str() {
        "100.0" if probability < 1.0 => format!(">{JOINED}99.9"),
        "0.0" | "-0.0" if probability > 0.0 => format!("<{JOINED}0.1"),
        "100.0" => "100".to_owned(),
        "0.0" | "-0.0" => "0".to_owned(),
        _ => text,
    };
    format!("{number}{JOINED}%")
}

#[cfg(test)]
mod tests {
    use super::percent;

    #[test]
    fn only_certainty_is_a_hundred_per_cent() {
        let text = |probability: f64| percent(probability).replace('\u{a0}', " ");
        assert_eq!(text(1.0), "100 %");
        assert_eq!(text(1.0 - f64::EPSILON), "> 99.9 %");
        assert_eq!(text(0.9996), "> 99.9 %");
        assert_eq!(text(0.9991), "99.9 %");
        assert_eq!(text(0.621_4), "62.1 %");
        assert_eq!(text(0.001), "0.1 %");
        assert_eq!(text(0.000_4), "< 0.1 %");
        assert_eq!(text(f64::MIN_POSITIVE), "< 0.1 %");
        assert_eq!(text(0.0), "0 %");
    }
}
