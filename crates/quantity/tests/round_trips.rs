//! Properties: what is written is read again, and no text brings a reader down.

#![allow(clippy::unwrap_used, reason = "a test may fail where it stands")]

use proptest::prelude::{Strategy, any, prop, prop_assert, prop_assert_eq, proptest};
use quantity::{
    LengthExt, LengthUnit, Notation, Thread, decimal_inches, fraction_inches, inches, millimetres, millimetres_text,
    nearest_fraction, read_count, read_length, read_thread,
};

/// Texts that look like lengths more often than chance would have it.
fn near_lengths() -> impl Strategy<Value = String> {
    let pieces = [
        "31",
        "5",
        "16",
        "0",
        "007",
        "99999999999999999999",
        "/",
        "⁄",
        " ",
        "  ",
        "-",
        "–",
        ".",
        ",",
        "'",
        "\"",
        "”",
        "½",
        "⅔",
        "in",
        "in.",
        "ft",
        "mm",
        "cm",
        "m",
        "inches",
        "x",
        "M",
        "+",
        "e",
        "\u{a0}",
        "ß",
        "\n",
    ];
    prop::collection::vec(prop::sample::select(pieces.to_vec()), 0..9).prop_map(|pieces| pieces.concat())
}

fn units() -> impl Strategy<Value = Option<LengthUnit>> {
    prop::option::of(prop::sample::select(vec![
        LengthUnit::Inch,
        LengthUnit::Foot,
        LengthUnit::Millimetre,
        LengthUnit::Centimetre,
        LengthUnit::Metre,
    ]))
}

/// Reads a text in every way and uses all that comes out.
fn read_everything(text: &str, default: Option<LengthUnit>) {
    match read_length(text, default) {
        Ok(written) => {
            assert!(written.value().value.is_finite() && written.value().value >= 0.0);
            assert!(text.contains(written.digits()));
            for other in written.with_neighbouring_digits_swapped() {
                assert!(other.value > 0.0 && other != written.value());
            }
            if let Some(other) = written.read_back_from_next() {
                assert!(other < written.value());
            }
            assert!(written.step(millimetres(0.5)).value > 0.0);
            assert!(default.is_none() || written.number() >= 0.0);
        }
        Err(error) => {
            assert!(text.get(error.range()).is_some(), "{error:?} in {text:?}");
            assert!(!error.to_string().is_empty() && !error.accepted().is_empty());
        }
    }
    if let Err(error) = read_count(text) {
        assert!(text.get(error.range()).is_some(), "{error:?} in {text:?}");
    }
    match read_thread(text) {
        Ok(thread) => assert_eq!(read_thread(&thread.to_string()), Ok(thread)),
        Err(error) => assert!(text.get(error.range()).is_some(), "{error:?} in {text:?}"),
    }
}

proptest! {
    #[test]
    fn no_text_brings_a_reader_down(text in any::<String>(), default in units()) {
        read_everything(&text, default);
    }

    #[test]
    fn no_near_length_brings_a_reader_down(text in near_lengths(), default in units()) {
        read_everything(&text, default);
    }

    #[test]
    fn fractions_of_an_inch_are_read_as_written(sixty_fourths in 0_u32..6400, exponent in 0_u32..=6) {
        let denominator = 1 << exponent;
        let number = f64::from(sixty_fourths >> (6 - exponent)) / f64::from(denominator);
        let text = fraction_inches(inches(number), denominator);
        prop_assert!(nearest_fraction(inches(number), denominator).is_exact());
        let written = read_length(&text, None).unwrap();
        prop_assert_eq!(written.value(), inches(number), "{}", text);
        prop_assert_eq!(written.number(), number);
    }

    #[test]
    fn rounding_to_a_fraction_is_at_most_half_a_part(micrometres in 0_u32..2_000_000, exponent in 0_u32..=6) {
        let length = millimetres(f64::from(micrometres) / 1000.0);
        let denominator = 1 << exponent;
        let fraction = nearest_fraction(length, denominator);
        let half_part = 0.5 / f64::from(denominator);
        prop_assert!(fraction.rounding().inches().abs() <= half_part + 1e-12);
        let written = read_length(&fraction.text(), None).unwrap();
        let difference = (written.value() - length - fraction.rounding()).millimetres();
        prop_assert!(difference.abs() < 1e-9);
    }

    #[test]
    fn decimal_inches_are_read_as_written(number in 0.0..100.0_f64, places in 0_usize..=6) {
        let text = decimal_inches(inches(number), places);
        let written = read_length(&text, None).unwrap();
        let half_place = 0.5 * 10_f64.powi(-i32::try_from(places).unwrap());
        prop_assert!((written.number() - number).abs() <= half_place * 1.000_001);
        prop_assert_eq!(decimal_inches(written.value(), places), text.clone());
        let notation = if places == 0 { Notation::Whole } else {
            Notation::Decimal { places: u8::try_from(places).unwrap() }
        };
        prop_assert_eq!(written.notation(), notation);
    }

    #[test]
    fn millimetres_are_read_as_written(number in 0.0..3000.0_f64, places in 0_usize..=4) {
        let text = millimetres_text(millimetres(number), places);
        let written = read_length(&text, None).unwrap();
        prop_assert_eq!(millimetres_text(written.value(), places), text);
        let half_place = 0.5 * 10_f64.powi(-i32::try_from(places).unwrap());
        prop_assert!((written.value().millimetres() - number).abs() <= half_place * 1.000_001);
    }

    #[test]
    fn a_swap_is_its_own_reverse(number in 1_000_u32..99_999, places in 1_usize..4) {
        let number = f64::from(number) / 10_f64.powi(i32::try_from(places).unwrap());
        let written = read_length(&format!("{number:.places$} mm"), None).unwrap();
        for other in written.with_neighbouring_digits_swapped() {
            let text = millimetres_text(other, places);
            let back = read_length(&text, None).unwrap().with_neighbouring_digits_swapped();
            prop_assert!(back.contains(&written.value()), "{} and {}", written.text(), text);
        }
    }

    #[test]
    fn threads_are_read_as_written(diameter in 5_u32..39, per_inch in 16_u32..=40, sixteenths in 5_u32..=16) {
        let metric = Thread::Metric { diameter_mm: f64::from(diameter), pitch_mm: 0.75 };
        prop_assert_eq!(metric.to_string().parse(), Ok(metric));
        let unified = Thread::Unified {
            diameter_in: f64::from(sixteenths) / 16.0,
            per_inch: f64::from(per_inch),
        };
        prop_assert_eq!(unified.to_string().parse(), Ok(unified));
    }
}
