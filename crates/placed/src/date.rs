//! A calendar date without time or place.

use std::fmt;

/// A day of the Gregorian calendar, as TOML and ISO 8601 write it: `2026-11-25`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date {
    /// The year, from 0 to 9999.
    pub year: u16,
    /// The month, from 1 to 12.
    pub month: u8,
    /// The day of the month, counted from 1.
    pub day: u8,
}

impl Date {
    /// The date with these numbers, if there is such a day.
    ///
    /// ```
    /// use placed::Date;
    /// assert!(Date::new(2028, 2, 29).is_some());
    /// assert!(Date::new(2026, 2, 29).is_none());
    /// ```
    pub fn new(year: u16, month: u8, day: u8) -> Option<Date> {
        let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
        let days = match month {
            4 | 6 | 9 | 11 => 30,
            2 if leap => 29,
            2 => 28,
            1..=12 => 31,
            _ => return None,
        };
        (year <= 9999 && (1..=days).contains(&day)).then_some(Date { year, month, day })
    }

    /// Reads `2026-11-25`: four, two and two digits.
    pub(crate) fn read(text: &str) -> Option<Date> {
        let digits = |part: &str, width: usize| -> Option<u16> {
            let all_digits = part.len() == width && part.bytes().all(|byte| byte.is_ascii_digit());
            all_digits.then(|| part.parse().ok())?
        };
        let mut parts = text.split('-');
        let year = digits(parts.next()?, 4)?;
        let month = digits(parts.next()?, 2)?;
        let day = digits(parts.next()?, 2)?;
        if parts.next().is_some() {
            return None;
        }
        Date::new(year, u8::try_from(month).ok()?, u8::try_from(day).ok()?)
    }
}

impl fmt::Display for Date {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Date { year, month, day } = self;
        write!(formatter, "{year:04}-{month:02}-{day:02}")
    }
}

#[cfg(test)]
mod tests {
    use super::Date;

    #[test]
    fn only_days_that_exist_are_dates() {
        assert_eq!(Date::read("2026-11-25"), Date::new(2026, 11, 25));
        assert_eq!(Date::read("2000-02-29"), Date::new(2000, 2, 29));
        for wrong in [
            "1900-02-29",
            "2026-13-01",
            "2026-00-01",
            "2026-04-31",
            "2026-4-3",
            "26-04-03",
            "2026-04-03-1",
            "2026-04",
            "",
            "+026-04-03",
            "2026-04-00",
        ] {
            assert_eq!(Date::read(wrong), None, "{wrong}");
        }
        assert_eq!(Date::new(10_000, 1, 1), None);
    }

    #[test]
    fn dates_are_written_as_they_are_read_and_sort_by_time() {
        let early = Date::new(987, 1, 2).unwrap();
        assert_eq!(early.to_string(), "0987-01-02");
        assert_eq!(Date::read(&early.to_string()), Some(early));
        assert!(early < Date::new(987, 2, 1).unwrap());
    }
}
