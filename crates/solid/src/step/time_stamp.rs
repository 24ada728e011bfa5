//! Whether a text is a time stamp, without asking any clock.

/// Whether the text is a date and time in the extended form of ISO 8601 to the second, with an offset or without.
pub(crate) fn is_one(text: &str) -> bool {
    let Some((stamp, offset)) = text.split_at_checked("2026-01-31T08:30:00".len()) else {
        return false;
    };
    let shape = ['d', 'd', 'd', 'd', '-', 'd', 'd', '-', 'd', 'd', 'T', 'd', 'd', ':', 'd', 'd', ':', 'd', 'd'];
    fits(stamp, &shape)
        && within(stamp, 5, 1, 12)
        && within(stamp, 8, 1, 31)
        && within(stamp, 11, 0, 23)
        && within(stamp, 14, 0, 59)
        && within(stamp, 17, 0, 60)
        && is_offset(offset)
}

fn is_offset(text: &str) -> bool {
    match text.strip_prefix(['+', '-']) {
        Some(rest) => fits(rest, &['d', 'd', ':', 'd', 'd']) && within(rest, 0, 0, 23) && within(rest, 3, 0, 59),
        None => text.is_empty() || text == "Z",
    }
}

/// Whether each letter is the one of the shape, or a digit where that has a `d`.
fn fits(text: &str, shape: &[char]) -> bool {
    text.chars().count() == shape.len()
        && text
            .chars()
            .zip(shape)
            .all(|(letter, expected)| if *expected == 'd' { letter.is_ascii_digit() } else { letter == *expected })
}

/// Whether the two digits at a place are a number between two bounds.
fn within(text: &str, place: usize, least: u32, most: u32) -> bool {
    text.get(place..place + 2)
        .and_then(|digits| digits.parse().ok())
        .is_some_and(|number: u32| (least..=most).contains(&number))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn time_stamps_are_told_from_other_texts() {
        for good in
            ["2026-01-31T08:30:00", "2026-12-01T23:59:60Z", "1999-01-31T08:30:00+01:00", "2026-01-31T08:30:00-05:30"]
        {
            assert!(is_one(good), "{good}");
        }
        for bad in [
            "",
            "2026-01-31",
            "2026-13-31T08:30:00",
            "2026-01-00T08:30:00",
            "2026-01-31 08:30:00",
            "2026-01-31T24:30:00",
            "2026-01-31T08:30:00+1",
            "2026-01-31T08:30:00+01:60",
            "2026-01-31T08:30:0é",
            "',#1);DATA;2026-01-",
        ] {
            assert!(!is_one(bad), "{bad}");
        }
    }
}
