//! Numbers and times as the pages write them.

use jiff::Timestamp;
use jiff::tz::TimeZone;

/// A chance as the pages write it: `98.9 %`, and never a certainty that rounding made.
pub(crate) fn percent(chance: f64) -> String {
    if chance > 0.999 && chance < 1.0 {
        return "> 99.9 %".to_owned();
    }
    if chance > 0.0 && chance < 0.001 {
        return "< 0.1 %".to_owned();
    }
    format!("{:.1} %", chance * 100.0)
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
