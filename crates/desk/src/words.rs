//! Numbers and times as the pages write them.

use jiff::Timestamp;
use jiff::tz::TimeZone;

pub(crate) use quantity::percent;

/// The chance of a fit, cut off and not rounded to the nearest, as the review itself writes it: what is short of the threshold of
/// the shop never reads as if it had reached it. It claims neither certainty.
pub(crate) fn chance(probability: f64) -> String {
    // So much that a number with one decimal is not cut off for the dust of its binary form.
    const DUST: f64 = 1e-9;
    let cut_off = (1000.0 * probability + DUST).floor() / 1000.0;
    percent(cut_off.clamp(DUST, 1.0 - DUST))
}

/// A sentence whose percentages stay with their signs where a line is broken.
pub(crate) fn unbroken(sentence: &str) -> String {
    sentence.replace(" %", "\u{a0}%")
}

/// A time as the pages write it: `2026-03-02 08:00`, in universal time.
pub(crate) fn time(at: Timestamp) -> String {
    TimeZone::UTC.to_datetime(at).strftime("%Y-%m-%d %H:%M").to_string()
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
    use super::chance;

    #[test]
    fn a_chance_is_cut_off_and_never_reads_as_more_than_it_is() {
        let text = |probability: f64| chance(probability).replace('\u{a0}', " ");
        assert_eq!(text(0.9549), "95.4 %");
        assert_eq!(text(0.94999), "94.9 %");
        assert_eq!(text(0.95), "95.0 %");
        assert_eq!(text(0.29), "29.0 %");
        assert_eq!(text(0.9999), "99.9 %");
        assert_eq!(text(1.0), "> 99.9 %");
        assert_eq!(text(0.00099), "< 0.1 %");
        assert_eq!(text(0.0), "< 0.1 %");
    }
}
