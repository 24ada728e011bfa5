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
