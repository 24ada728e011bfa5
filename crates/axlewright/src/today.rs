//! The date of today, for papers that are not told theirs. The core reads no clock.

use placed::Date;

/// Seconds of a day.
const DAY: u64 = 86_400;

/// The date of today in universal time.
#[must_use]
pub fn today() -> Date {
    #[expect(clippy::disallowed_types, reason = "the program, not the core, fills in a date that nobody has stated")]
    let since = std::time::SystemTime::now().duration_since(std::time::SystemTime::UNIX_EPOCH);
    date_of_day(since.map_or(0, |since| since.as_secs() / DAY))
}

/// The date so many days after 1970-01-01, by counting: a paper has time for it.
fn date_of_day(mut days: u64) -> Date {
    let mut year = 1970_u16;
    loop {
        for month in 1..=12_u8 {
            for day in 1..=31_u8 {
                if let Some(date) = Date::new(year, month, day) {
                    if days == 0 {
                        return date;
                    }
                    days -= 1;
                }
            }
        }
        // A clock that is beyond the last date there is gives the first of them.
        year = if year < 9999 { year + 1 } else { return Date { year: 1970, month: 1, day: 1 } };
    }
}

/// Reads `2026-11-25`.
///
/// # Errors
///
/// It is no date; the message says what would be accepted.
pub fn read_date(text: &str) -> Result<Date, String> {
    let refused = || "accepted: a day as 2026-11-25: year, month and day, with two dashes".to_owned();
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts.as_slice() else { return Err(refused()) };
    if (year.len(), month.len(), day.len()) != (4, 2, 2)
        || !text.bytes().all(|byte| byte == b'-' || byte.is_ascii_digit())
    {
        return Err(refused());
    }
    let numbers = year.parse().ok().zip(month.parse().ok()).zip(day.parse().ok());
    numbers.and_then(|((year, month), day)| Date::new(year, month, day)).ok_or_else(refused)
}

#[cfg(test)]
mod tests {
    use super::{date_of_day, read_date};

    #[test]
    fn days_are_counted_over_leap_years() {
        // RFC 3339 has 946684800 s for 2000-01-01T00:00:00Z.
        assert_eq!(date_of_day(946_684_800 / super::DAY).to_string(), "2000-01-01");
        assert_eq!(date_of_day(0).to_string(), "1970-01-01");
        assert_eq!(date_of_day(59 + 10957).to_string(), "2000-02-29");
    }

    #[test]
    fn a_date_is_a_day_that_there_is() {
        assert_eq!(read_date("2026-11-25").map(|date| date.to_string()), Ok("2026-11-25".to_owned()));
        for wrong in ["2026-02-29", "26-11-25", "2026/11/25", "today", "2026-1-1", "+026-11-25"] {
            assert!(read_date(wrong).is_err(), "{wrong}");
        }
    }
}
