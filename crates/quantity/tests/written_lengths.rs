//! Lengths as people write them: what is read, what is refused and where, and what else the writing
//! may have meant.

#![allow(clippy::unwrap_used, reason = "a test may fail where it stands")]

use quantity::{Length, LengthExt, LengthTextError, LengthUnit, Notation, inches, millimetres, read_length};

const INCH: Option<LengthUnit> = Some(LengthUnit::Inch);
const MILLIMETRE: Option<LengthUnit> = Some(LengthUnit::Millimetre);

const WHOLE: Notation = Notation::Whole;

const fn fraction(denominator: u32) -> Notation {
    Notation::Fraction { denominator }
}

const fn decimal(places: u8) -> Notation {
    Notation::Decimal { places }
}

#[test]
fn usual_writings_are_read() {
    let inch = LengthUnit::Inch;
    let foot = LengthUnit::Foot;
    let millimetre = LengthUnit::Millimetre;
    for (text, default, number, unit, notation, digits) in [
        ("31 5/16\"", None, 31.3125, inch, fraction(16), "31 5/16"),
        ("31-5/16 in", None, 31.3125, inch, fraction(16), "31-5/16"),
        ("31–5/16 in", None, 31.3125, inch, fraction(16), "31–5/16"),
        ("5/16\"", None, 0.3125, inch, fraction(16), "5/16"),
        ("31.3125", INCH, 31.3125, inch, decimal(4), "31.3125"),
        ("31.3125in", None, 31.3125, inch, decimal(4), "31.3125"),
        ("31.50 in.", None, 31.5, inch, decimal(2), "31.50"),
        ("795.3 mm", None, 795.3, millimetre, decimal(1), "795.3"),
        ("795.3", MILLIMETRE, 795.3, millimetre, decimal(1), "795.3"),
        ("795 MM", INCH, 795.0, millimetre, WHOLE, "795"),
        ("79.5 cm", None, 79.5, LengthUnit::Centimetre, decimal(1), "79.5"),
        ("0.7953 m", None, 0.7953, LengthUnit::Metre, decimal(4), "0.7953"),
        ("31 5⁄16", INCH, 31.3125, inch, fraction(16), "31 5⁄16"),
        ("31 5∕16 ”", None, 31.3125, inch, fraction(16), "31 5∕16"),
        ("31½\"", None, 31.5, inch, fraction(2), "31½"),
        ("31 ⅝ in", None, 31.625, inch, fraction(8), "31 ⅝"),
        ("31-⅝ in", None, 31.625, inch, fraction(8), "31-⅝"),
        ("⅞″", None, 0.875, inch, fraction(8), "⅞"),
        ("795,3 mm", None, 795.3, millimetre, decimal(1), "795,3"),
        ("31,31 in", None, 31.31, inch, decimal(2), "31,31"),
        ("31,3125 in", None, 31.3125, inch, decimal(4), "31,3125"),
        ("0,313 in", None, 0.313, inch, decimal(3), "0,313"),
        ("35,012 mm", None, 35.012, millimetre, decimal(3), "35,012"),
        ("1234,567 in", None, 1234.567, inch, decimal(3), "1234,567"),
        ("2' 7 5/16\"", None, 31.3125, inch, fraction(16), "2' 7 5/16"),
        ("2'-7 5/16\"", None, 31.3125, inch, fraction(16), "2'-7 5/16"),
        ("2’7”", None, 31.0, inch, WHOLE, "2’7"),
        ("2 ft 7.25 in", None, 31.25, inch, decimal(2), "2 ft 7.25"),
        ("2 feet 7 ½ inches", None, 31.5, inch, fraction(2), "2 feet 7 ½"),
        ("2′ 7″", None, 31.0, inch, WHOLE, "2′ 7"),
        ("2' 7''", None, 31.0, inch, WHOLE, "2' 7"),
        ("0' 7\"", None, 7.0, inch, WHOLE, "0' 7"),
        ("2'", None, 2.0, foot, WHOLE, "2"),
        ("2.5 ft", None, 2.5, foot, decimal(1), "2.5"),
        ("2 1/2 ft", None, 2.5, foot, fraction(2), "2 1/2"),
        ("  31 5/16 inches\t", None, 31.3125, inch, fraction(16), "31 5/16"),
        ("31\u{a0}5/16\u{202f}in", None, 31.3125, inch, fraction(16), "31\u{a0}5/16"),
        ("31  5 / 16 in", None, 31.3125, inch, fraction(16), "31  5 / 16"),
        ("31 10/16 in", None, 31.625, inch, fraction(16), "31 10/16"),
        ("31 0/16 in", None, 31.0, inch, fraction(16), "31 0/16"),
        ("31 3/10 in", None, 31.3, inch, fraction(10), "31 3/10"),
        (".5 in", None, 0.5, inch, decimal(1), ".5"),
        ("31. in", None, 31.0, inch, decimal(0), "31."),
        ("0 mm", None, 0.0, millimetre, WHOLE, "0"),
        ("031 in", None, 31.0, inch, WHOLE, "031"),
    ] {
        let written = read_length(text, default).unwrap_or_else(|error| panic!("{text:?}: {error}"));
        assert_eq!(written.number(), number, "{text:?}");
        assert_eq!(written.unit(), unit, "{text:?}");
        assert_eq!(written.notation(), notation, "{text:?}");
        assert_eq!(written.digits(), digits, "{text:?}");
        assert_eq!(written.value(), unit.times(number), "{text:?}");
        assert_eq!(written.text(), text.trim(), "{text:?}");
        assert_eq!(written.to_string(), text.trim(), "{text:?}");
    }
}

#[test]
fn faults_have_their_place_and_a_plain_message() {
    let trailing = "one number with its unit and nothing after it";
    let units = "in or \", ft or ', mm, cm, m";
    let example = "a number with its unit, such as 31 5/16\", 31.313 in or 795.3 mm";
    let feet = "whole feet and then inches, such as 2' 7 5/16\", or inches alone";
    let comma = "decimals after a point, such as 31.313, and no mark between thousands";
    let divisions = "a fraction with one of the denominators 2, 4, 8, 10, 16, 20, 32, 50, 64, 100, 128";
    let no_unit = "the number with its unit: in or \", ft or ', mm, cm, m";
    for (text, default, blamed, problem, accepted) in [
        ("", INCH, "", "the length is empty", example),
        (" \t ", INCH, " \t ", "the length is empty", example),
        ("about 31 in", INCH, "about", "\"about\" is not a number", example),
        ("\"", INCH, "\"", "\"\\\"\" is not a number", example),
        (". in", INCH, ".", "\".\" is not a number", example),
        ("31, in", INCH, "31,", "\"31,\" is not a number", example),
        ("1.2.3 in", INCH, "1.2.3", "\"1.2.3\" is not a number", example),
        ("31 5/ in", INCH, "5/", "\"5/\" is not a number", example),
        ("31 5/x in", INCH, "5/x", "\"5/x\" is not a number", example),
        ("- in", INCH, "-", "\"-\" is not a number", example),
        ("31 5/16", None, "31 5/16", "the length has no unit", no_unit),
        (" 795.3 ", None, "795.3", "the length has no unit", no_unit),
        ("2' 7", INCH, "7", "the length has no unit", no_unit),
        ("31 inchs", None, "inchs", "\"inchs\" is not a unit of length known here, did you mean \"inch\"?", units),
        ("795.3 mn", None, "mn", "\"mn\" is not a unit of length known here, did you mean \"mm\"?", units),
        ("3 furlongs", INCH, "furlongs", "\"furlongs\" is not a unit of length known here", units),
        ("31 Zoll", None, "Zoll", "\"Zoll\" is not a unit of length known here", units),
        ("3e2 in", INCH, "e", "\"e\" is not a unit of length known here", units),
        ("31 5/15\"", None, "15", "no scale is divided into 15 parts", divisions),
        ("31 5/0\"", None, "0", "no scale is divided into 0 parts", divisions),
        ("31 ⅔\"", None, "⅔", "no scale is divided into 3 parts", divisions),
        ("1/99999999999999 in", None, "99999999999999", "no scale is divided into 99999999999999 parts", divisions),
        (
            "31 17/16 in",
            None,
            "17/16",
            "the fraction 17/16 is not smaller than one",
            "a whole number and a fraction smaller than one, such as 32 1/16\"",
        ),
        (
            "16/16 in",
            None,
            "16/16",
            "the fraction 16/16 is not smaller than one",
            "a whole number and a fraction smaller than one, such as 32 1/16\"",
        ),
        (
            "99999999999999/16 in",
            None,
            "99999999999999/16",
            "the fraction 99999999999999/16 is not smaller than one",
            "a whole number and a fraction smaller than one, such as 32 1/16\"",
        ),
        (
            "795 1/2 mm",
            None,
            "1/2",
            "fractions are for inches and feet, not for the millimetre",
            "decimals, such as 795.5 mm",
        ),
        (
            "31 5/16",
            MILLIMETRE,
            "5/16",
            "fractions are for inches and feet, not for the millimetre",
            "decimals, such as 795.5 mm",
        ),
        ("1,234 in", None, "1,234", "the comma in 1,234 may stand before decimals or before thousands", comma),
        ("1,524 mm", None, "1,524", "the comma in 1,524 may stand before decimals or before thousands", comma),
        ("1,234.5 mm", None, "1,234.5", "the comma in 1,234.5 may stand before decimals or before thousands", comma),
        (
            "1,234,567 mm",
            None,
            "1,234,567",
            "the comma in 1,234,567 may stand before decimals or before thousands",
            comma,
        ),
        ("2' 15\"", None, "15", "beside feet there are fewer than 12 inches", feet),
        ("2' 7 mm", None, " mm", "after feet come inches, not the millimetre", feet),
        ("2.5' 7\"", None, "2.5", "feet before inches are whole", feet),
        ("2½' 7\"", None, "2½", "feet before inches are whole", feet),
        ("-31 in", INCH, "-31", "a length is not negative", "a length of nought or more"),
        (" − 31 in", INCH, "− 31", "a length is not negative", "a length of nought or more"),
        (
            "31.312500000000001 in",
            None,
            "31.312500000000001",
            "the number has 17 digits, more than any instrument shows",
            "a number of at most 15 digits",
        ),
        (
            "9999999999' 7\"",
            None,
            "9999999999",
            "the number has 10 digits, more than any instrument shows",
            "a number of at most 15 digits",
        ),
        ("31 5/16\" or so", None, "or so", "\"or so\" stands after the length", trailing),
        ("31 5", INCH, "5", "\"5\" stands after the length", trailing),
        ("31 - 5/16 in", INCH, "- 5/16 in", "\"- 5/16 in\" stands after the length", trailing),
        ("31.5 5/16 in", INCH, "5/16 in", "\"5/16 in\" stands after the length", trailing),
        ("1 234 mm", INCH, "234 mm", "\"234 mm\" stands after the length", trailing),
        ("31\" 5/16", None, "5/16", "\"5/16\" stands after the length", trailing),
        ("31+5/16 in", INCH, "+5/16 in", "\"+5/16 in\" stands after the length", trailing),
        ("31 in mm", INCH, "mm", "\"mm\" stands after the length", trailing),
    ] {
        let error = read_length(text, default).expect_err(text);
        assert_eq!(error.to_string(), problem, "{text:?}");
        assert_eq!(&text[error.range()], blamed, "{text:?}");
        assert_eq!(error.accepted(), accepted, "{text:?}");
    }
}

#[test]
fn the_kind_of_fault_can_be_told() {
    assert!(matches!(read_length("31 ym", None), Err(LengthTextError::UnknownUnit { nearest: Some("mm"), .. })));
    assert!(matches!(
        read_length("31", None),
        Err(LengthTextError::NoUnit { at }) if at == (0..2)
    ));
}

fn swapped(text: &str) -> Vec<f64> {
    let written = read_length(text, None).unwrap();
    let unit = written.unit();
    written.with_neighbouring_digits_swapped().into_iter().map(|length| unit.number_of(length)).collect()
}

#[test]
fn neighbouring_digits_are_swapped_where_somebody_could_have_written_it() {
    assert_eq!(swapped("2.36 in"), [3.26, 2.63]);
    assert_eq!(swapped("795.3 mm"), [975.3, 759.3, 793.5]);
    assert_eq!(swapped("795,3 mm"), [975.3, 759.3, 793.5]);
    // A nought is not written in front, except alone before the point.
    assert_eq!(swapped("30.5 in"), [35.0]);
    assert_eq!(swapped("0.25 in"), [2.05, 0.52]);
    assert_eq!(swapped("30 in"), [0.0; 0]);
    // Equal neighbours swap to the same number.
    assert_eq!(swapped("33 in"), [0.0; 0]);
    assert_eq!(swapped("100 mm"), [0.0; 0]);
    assert_eq!(swapped("1.01 in"), [0.11, 1.1]);
    // Whole part and numerator of a fraction, never the denominator.
    assert_eq!(swapped("31 5/16\""), [13.3125]);
    assert_eq!(swapped("31 13/64\""), [13.0 + 13.0 / 64.0, 31.0 + 31.0 / 64.0]);
    assert_eq!(swapped("29 15/32\""), [92.0 + 15.0 / 32.0]);
    assert_eq!(swapped("10 10/64\""), [0.0; 0]);
    // Beside feet the inches stay below twelve.
    assert_eq!(swapped("2' 10\""), [0.0; 0]);
    assert_eq!(swapped("2' 1.5\""), [29.1]);
    assert_eq!(swapped("0 in"), [0.0; 0]);
    assert_eq!(swapped("5 in"), [0.0; 0]);
}

fn read_back(text: &str) -> Option<Length> {
    read_length(text, None).unwrap().read_back_from_next()
}

#[test]
fn a_fraction_read_back_from_the_next_inch() {
    assert_eq!(read_back("30 3/8\""), Some(inches(29.625)));
    assert_eq!(read_back("30.375 in"), Some(inches(29.625)));
    assert_eq!(read_back("30 1/2\""), Some(inches(29.5)));
    assert_eq!(read_back("1 1/64\""), Some(inches(63.0 / 64.0)));
    assert_eq!(read_back("2' 6 3/8\""), Some(inches(29.625)));
    assert_eq!(read_back("30\""), None);
    assert_eq!(read_back("30 0/8\""), None);
    assert_eq!(read_back("3/8\""), None);
    assert_eq!(read_back("30.38 in"), None);
    assert_eq!(read_back("30.0 in"), None);
    assert_eq!(read_back("771.5 mm"), None);
    assert_eq!(read_back("2 1/2 ft"), None);
}

#[test]
fn the_same_number_in_another_unit() {
    let written = read_length("35 mm", None).unwrap();
    assert_eq!(written.as_if_in(LengthUnit::Inch), inches(35.0));
    let feet = read_length("2' 7\"", None).unwrap();
    assert_eq!(feet.as_if_in(LengthUnit::Millimetre), millimetres(31.0));
}

#[test]
fn the_step_a_reading_was_rounded_to() {
    let sixteenth = inches(1.0 / 16.0);
    let half_millimetre = millimetres(0.5);
    for (text, scale_step, step) in [
        // A fraction in lowest terms does not tell that it was read coarsely.
        ("31 1/2 in", sixteenth, sixteenth),
        ("31 5/16 in", sixteenth, sixteenth),
        ("31 5/32 in", sixteenth, inches(1.0 / 32.0)),
        ("31 in", sixteenth, sixteenth),
        ("31.25 in", sixteenth, sixteenth),
        ("31.0 in", sixteenth, sixteenth),
        ("2 ft", sixteenth, sixteenth),
        // Other decimals were rounded to their last place, if that is coarser than the scale.
        ("31.3 in", sixteenth, inches(0.1)),
        ("31.31 in", sixteenth, sixteenth),
        ("1.378 in", inches(0.0005), inches(0.001)),
        ("795 mm", half_millimetre, millimetres(1.0)),
        ("795.5 mm", half_millimetre, half_millimetre),
        ("795.0 mm", millimetres(0.05), millimetres(0.1)),
        ("35.01 mm", millimetres(0.01), millimetres(0.01)),
        ("79.5 cm", half_millimetre, millimetres(1.0)),
        ("80 cm", half_millimetre, millimetres(10.0)),
        ("2.5 ft", sixteenth, inches(1.2)),
    ] {
        let found = read_length(text, None).unwrap().step(scale_step);
        let deviation = (found - step).millimetres().abs();
        assert!(deviation < 1e-12, "{text}: {}", found.millimetres());
    }
}
