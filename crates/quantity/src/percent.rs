//! Probabilities in per cent.

/// Stands between a number and its sign: no line may break there.
const JOINED: char = '\u{a0}';

/// So much that a number with one decimal is not cut off for the dust of its binary form.
const DUST: f64 = 1e-9;

/// A probability, 0 to 1, in per cent with one decimal, cut off and not rounded: what is short of a threshold never reads as if it
/// had reached it. Nothing that was computed is certain, so the least is `< 0.1 %` and the most `> 99.9 %`. The blanks are such that no
/// line breaks there.
///
/// ```
/// assert_eq!(quantity::percent(0.9894), "98.9\u{a0}%");
/// assert_eq!(quantity::percent(0.9499), "94.9\u{a0}%");
/// assert_eq!(quantity::percent(1.0), ">\u{a0}99.9\u{a0}%");
/// ```
#[must_use]
pub fn percent(probability: f64) -> String {
    let number = if probability > 0.999 + DUST {
        format!(">{JOINED}99.9")
    } else if probability + DUST < 0.001 {
        format!("<{JOINED}0.1")
    } else {
        format!("{:.1}", (1000.0 * (probability + DUST)).floor() / 10.0)
    };
    format!("{number}{JOINED}%")
}

#[cfg(test)]
mod tests {
    use super::percent;

    fn text(probability: f64) -> String {
        percent(probability).replace('\u{a0}', " ")
    }

    #[test]
    fn nothing_is_certain() {
        assert_eq!(text(1.0), "> 99.9 %");
        assert_eq!(text(1.0 - f64::EPSILON), "> 99.9 %");
        assert_eq!(text(0.9991), "> 99.9 %");
        assert_eq!(text(0.999), "99.9 %");
        assert_eq!(text(0.001), "0.1 %");
        assert_eq!(text(0.000_99), "< 0.1 %");
        assert_eq!(text(f64::MIN_POSITIVE), "< 0.1 %");
        assert_eq!(text(0.0), "< 0.1 %");
    }

    #[test]
    fn a_probability_is_cut_off_and_never_reads_as_more_than_it_is() {
        assert_eq!(text(0.9549), "95.4 %");
        assert_eq!(text(0.949_99), "94.9 %");
        assert_eq!(text(0.95), "95.0 %");
        assert_eq!(text(0.29), "29.0 %");
        assert_eq!(text(0.621_4), "62.1 %");
    }

    #[test]
    fn every_probability_with_one_decimal_reads_as_itself() {
        for tenths in 1..=999_u32 {
            assert_eq!(text(f64::from(tenths) / 1000.0), format!("{}.{} %", tenths / 10, tenths % 10));
        }
    }
}
