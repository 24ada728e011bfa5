//! Strings and numbers as ISO 10303-21 writes them.

/// A string between apostrophes, ISO 10303-21:2002, 6.3.3.
///
/// Letters of the basic alphabet, U+0020 to U+007E, stand for themselves, with apostrophe and reverse solidus doubled. All
/// others are written by their place in ISO 10646: four hexadecimal digits each between `\X2\` and `\X0\`, or eight after
/// `\X4\` for those beyond U+FFFF.
pub(crate) fn string(text: &str) -> String {
    let mut written = String::with_capacity(text.len() + 2);
    written.push('\'');
    let mut width = 0;
    for letter in text.chars() {
        let code = u32::from(letter);
        let needed = match code {
            0x20..=0x7e => 0,
            0..=0xffff => 4,
            _ => 8,
        };
        if needed != width {
            if width != 0 {
                written.push_str("\\X0\\");
            }
            match needed {
                4 => written.push_str("\\X2\\"),
                8 => written.push_str("\\X4\\"),
                _ => {}
            }
            width = needed;
        }
        match (needed, letter) {
            (0, '\'') => written.push_str("''"),
            (0, '\\') => written.push_str("\\\\"),
            (0, letter) => written.push(letter),
            (4, _) => written.push_str(&format!("{code:04X}")),
            _ => written.push_str(&format!("{code:08X}")),
        }
    }
    if width != 0 {
        written.push_str("\\X0\\");
    }
    written.push('\'');
    written
}

/// A real number, ISO 10303-21:2002, 6.3.2: with a point always, the exponent with a capital letter. The digits are the
/// fewest that give the same double back.
pub(crate) fn real(value: f64) -> String {
    // A negative zero reads as zero.
    let shown = format!("{:?}", value + 0.0);
    match shown.split_once('e') {
        Some((digits, exponent)) if digits.contains('.') => format!("{digits}E{exponent}"),
        Some((digits, exponent)) => format!("{digits}.E{exponent}"),
        None => shown.strip_suffix('0').filter(|rest| rest.ends_with('.')).map_or(shown.clone(), str::to_owned),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_basic_alphabet_stands_for_itself() {
        assert_eq!(string("Shaft 31 5/16\", left"), "'Shaft 31 5/16\", left'");
        assert_eq!(string(""), "''");
    }

    #[test]
    fn apostrophe_and_reverse_solidus_are_doubled() {
        assert_eq!(string("the shop's"), "'the shop''s'");
        assert_eq!(string("a\\b\\X2\\00E9"), "'a\\\\b\\\\X2\\\\00E9'");
    }

    #[test]
    fn other_letters_are_written_by_their_place_in_iso_10646() {
        assert_eq!(string("Ø165 × 10"), "'\\X2\\00D8\\X0\\165 \\X2\\00D7\\X0\\ 10'");
        assert_eq!(string("軸"), "'\\X2\\8EF8\\X0\\'");
        assert_eq!(string("é軸'"), "'\\X2\\00E98EF8\\X0\\'''");
        assert_eq!(string("𝛼x"), "'\\X4\\0001D6FC\\X0\\x'");
        assert_eq!(string("é𝛼"), "'\\X2\\00E9\\X0\\\\X4\\0001D6FC\\X0\\'");
        assert_eq!(string("a\nb\u{7f}"), "'a\\X2\\000A\\X0\\b\\X2\\007F\\X0\\'");
    }

    #[test]
    fn a_real_number_has_a_point_always() {
        let cases = [
            (0.0, "0."),
            (-0.0, "0."),
            (1.0, "1."),
            (-82.5, "-82.5"),
            (10.0, "10."),
            (1e-5, "1.E-5"),
            (1.5e-7, "1.5E-7"),
            (1e20, "1.E20"),
            (0.1 + 0.2, "0.30000000000000004"),
        ];
        for (value, expected) in cases {
            assert_eq!(real(value), expected);
        }
    }
}
