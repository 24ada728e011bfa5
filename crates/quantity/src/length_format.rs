//! Writes lengths out: decimal inches, fractions of an inch, millimetres.

use crate::length::{Length, LengthExt, inches};

/// Which unit of a pair stands first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Leading {
    /// Inches first, millimetres in brackets.
    Inches,
    /// Millimetres first, inches in brackets.
    Millimetres,
}

impl Leading {
    /// Two texts for the same, that of the leading unit first and the other in brackets.
    ///
    /// ```
    /// use quantity::Leading;
    /// assert_eq!(Leading::Inches.pair("1 in", "25.4 mm"), "1 in (25.4 mm)");
    /// ```
    #[must_use]
    pub fn pair(self, inch: &str, metric: &str) -> String {
        match self {
            Self::Inches => format!("{inch} ({metric})"),
            Self::Millimetres => format!("{metric} ({inch})"),
        }
    }
}

/// Decimals of an inch in [`both`].
const INCH_PLACES: usize = 3;
/// Decimals of a millimetre in [`both`].
const MILLIMETRE_PLACES: usize = 1;

/// A length in decimal inches, rounded to so many places.
///
/// ```
/// use quantity::{decimal_inches, millimetres};
/// assert_eq!(decimal_inches(millimetres(795.3375), 4), "31.3125 in");
/// ```
pub fn decimal_inches(length: Length, places: usize) -> String {
    format!("{} in", decimal(length.inches(), places))
}

/// A length in millimetres, rounded to so many places.
///
/// ```
/// use quantity::{inches, millimetres_text};
/// assert_eq!(millimetres_text(inches(31.3125), 1), "795.3 mm");
/// ```
pub fn millimetres_text(length: Length, places: usize) -> String {
    format!("{} mm", decimal(length.millimetres(), places))
}

/// A length in both units, inches to three places and millimetres to one.
///
/// ```
/// use quantity::{Leading, both, inches};
/// assert_eq!(both(inches(31.313), Leading::Inches), "31.313 in (795.4 mm)");
/// assert_eq!(both(inches(31.25), Leading::Millimetres), "793.8 mm (31.250 in)");
/// ```
pub fn both(length: Length, leading: Leading) -> String {
    both_to(length, leading, INCH_PLACES, MILLIMETRE_PLACES)
}

/// A length in both units with so many decimals of each.
///
/// ```
/// use quantity::{Leading, both_to, millimetres};
/// assert_eq!(both_to(millimetres(0.0762), Leading::Inches, 4, 3), "0.0030 in (0.076 mm)");
/// ```
pub fn both_to(length: Length, leading: Leading, inch_places: usize, millimetre_places: usize) -> String {
    leading.pair(&decimal_inches(length, inch_places), &millimetres_text(length, millimetre_places))
}

/// A length of some micrometres in both units, to a tenth of a micrometre and a hundred-thousandth of an inch.
///
/// ```
/// use quantity::{Leading, both_fine, millimetres};
/// assert_eq!(both_fine(millimetres(0.0072), Leading::Millimetres), "7.2 µm (0.00028 in)");
/// ```
pub fn both_fine(length: Length, leading: Leading) -> String {
    leading.pair(&decimal_inches(length, 5), &format!("{} µm", decimal(1000.0 * length.millimetres(), 1)))
}

/// From one length of some micrometres to another in both units, to a micrometre and a ten-thousandth of an inch; with a true minus
/// sign before what lies below nought.
///
/// ```
/// use quantity::{Leading, both_fine_range, millimetres};
/// let (least, most) = (millimetres(-0.024), millimetres(0.010));
/// assert_eq!(both_fine_range(least, most, Leading::Inches), "−0.0009 to 0.0004 in (−24 to 10 µm)");
/// ```
pub fn both_fine_range(least: Length, most: Length, leading: Leading) -> String {
    let range = |of: &dyn Fn(Length) -> String, unit: &str| {
        format!("{} to {} {unit}", of(least).replace('-', "−"), of(most).replace('-', "−"))
    };
    let inch = range(&|length| decimal(length.inches(), 4), "in");
    let metric = range(&|length| decimal(1000.0 * length.millimetres(), 0), "µm");
    leading.pair(&inch, &metric)
}

/// A length as the nearest fraction of an inch with at most this denominator, in lowest terms.
///
/// It says nothing of the rounding; [`nearest_fraction`] does.
///
/// ```
/// use quantity::{fraction_inches, inches};
/// assert_eq!(fraction_inches(inches(31.3125), 64), "31 5/16\"");
/// ```
pub fn fraction_inches(length: Length, denominator: u32) -> String {
    nearest_fraction(length, denominator).text()
}

/// Finds the fraction of an inch nearest to a length, and keeps what the rounding took or gave.
///
/// `denominator` is the number of parts that the inch is divided into; nought counts as one, whole
/// inches. Half way between two parts the one farther from nought is taken.
///
/// ```
/// use quantity::{inches, nearest_fraction};
/// let fraction = nearest_fraction(inches(31.313), 16);
/// assert_eq!(fraction.text(), "31 5/16\"");
/// assert!(!fraction.is_exact());
/// assert!(nearest_fraction(inches(31.3125), 16).is_exact());
/// ```
pub fn nearest_fraction(length: Length, denominator: u32) -> InchFraction {
    let parts_in_an_inch = f64::from(denominator.max(1));
    let number = length.inches();
    let parts = (number * parts_in_an_inch).round();
    let rounded = inches(parts / parts_in_an_inch);
    let rounding = rounded - length;
    // Less than this is the dust of converting, not rounding: a millionth of a micrometre.
    let exact = rounding.millimetres().abs() < 1e-9;
    InchFraction {
        number,
        parts: parts.abs(),
        parts_in_an_inch,
        rounding: if exact { inches(0.0) } else { rounding },
        exact,
    }
}

/// A length rounded to a fraction of an inch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InchFraction {
    number: f64,
    parts: f64,
    parts_in_an_inch: f64,
    rounding: Length,
    exact: bool,
}

impl InchFraction {
    /// The fraction in lowest terms with its whole number and the inch mark: `31 5/16"`.
    ///
    /// A length that is no finite number is written as Rust writes it, so that it cannot be taken
    /// for a measure.
    pub fn text(&self) -> String {
        if !self.parts.is_finite() {
            return format!("{} in", self.number);
        }
        let whole = (self.parts / self.parts_in_an_inch).floor();
        let numerator = self.parts - whole * self.parts_in_an_inch;
        let divisor = greatest_common_divisor(numerator, self.parts_in_an_inch);
        let sign = if self.number < 0.0 && self.parts > 0.0 { "-" } else { "" };
        let fraction = format!("{}/{}", numerator / divisor, self.parts_in_an_inch / divisor);
        match (whole > 0.0, numerator > 0.0) {
            (_, false) => format!("{sign}{whole}\""),
            (false, true) => format!("{sign}{fraction}\""),
            (true, true) => format!("{sign}{whole} {fraction}\""),
        }
    }

    /// Whether the fraction is the length itself.
    pub fn is_exact(&self) -> bool {
        self.exact
    }

    /// The fraction minus the length; nought if the fraction is exact.
    pub fn rounding(&self) -> Length {
        self.rounding
    }
}

/// Euclid's algorithm on whole numbers held as `f64`; the second is not nought.
fn greatest_common_divisor(first: f64, second: f64) -> f64 {
    let (mut larger, mut smaller) = (second, first);
    while smaller > 0.0 {
        (larger, smaller) = (smaller, larger % smaller);
    }
    larger
}

/// A number with so many decimals, and no minus before a nought.
fn decimal(number: f64, places: usize) -> String {
    let text = format!("{number:.places$}");
    match text.strip_prefix('-') {
        Some(without_sign) if without_sign.bytes().all(|byte| matches!(byte, b'0' | b'.')) => without_sign.to_owned(),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::{
        Leading, both, both_fine, both_fine_range, decimal_inches, fraction_inches, millimetres_text, nearest_fraction,
    };
    use crate::length::{LengthExt, inches, millimetres};

    #[test]
    fn decimals_are_rounded_and_never_minus_nought() {
        assert_eq!(decimal_inches(inches(31.313), 3), "31.313 in");
        assert_eq!(decimal_inches(inches(-0.0004), 3), "0.000 in");
        assert_eq!(decimal_inches(inches(-0.0006), 3), "-0.001 in");
        assert_eq!(decimal_inches(inches(-0.0), 0), "0 in");
        assert_eq!(millimetres_text(millimetres(-0.04), 1), "0.0 mm");
        assert_eq!(millimetres_text(millimetres(795.25), 2), "795.25 mm");
    }

    #[test]
    fn both_units_stand_in_the_wanted_order() {
        let length = millimetres(795.3375);
        assert_eq!(both(length, Leading::Inches), "31.312 in (795.3 mm)");
        assert_eq!(both(length, Leading::Millimetres), "795.3 mm (31.312 in)");
    }

    #[test]
    fn what_is_a_few_micrometres_has_both_units_and_no_sign_on_a_nought() {
        let range = |least, most| both_fine_range(millimetres(least), millimetres(most), Leading::Millimetres);
        assert_eq!(range(0.013, 0.038), "13 to 38 µm (0.0005 to 0.0015 in)");
        assert_eq!(range(-0.0136, -0.0002), "−14 to 0 µm (−0.0005 to 0.0000 in)");
        assert_eq!(both_fine(millimetres(0.0121), Leading::Inches), "0.00048 in (12.1 µm)");
    }

    #[test]
    fn fractions_come_in_lowest_terms() {
        assert_eq!(fraction_inches(inches(31.3125), 64), "31 5/16\"");
        assert_eq!(fraction_inches(inches(0.5), 64), "1/2\"");
        assert_eq!(fraction_inches(inches(31.0), 64), "31\"");
        assert_eq!(fraction_inches(inches(0.0), 64), "0\"");
        assert_eq!(fraction_inches(inches(31.999), 64), "32\"");
        assert_eq!(fraction_inches(inches(-1.25), 64), "-1 1/4\"");
        assert_eq!(fraction_inches(inches(-0.001), 64), "0\"");
        assert_eq!(fraction_inches(inches(31.4), 0), "31\"");
        assert_eq!(fraction_inches(inches(0.3), 10), "3/10\"");
        assert_eq!(fraction_inches(inches(f64::NAN), 64), "NaN in");
        assert_eq!(fraction_inches(inches(f64::INFINITY), 64), "inf in");
    }

    #[test]
    fn rounding_is_never_hidden() {
        let fraction = nearest_fraction(millimetres(795.3), 16);
        assert_eq!(fraction.text(), "31 5/16\"");
        assert!(!fraction.is_exact());
        assert!((fraction.rounding().millimetres() - 0.0375).abs() < 1e-9);
        let exact = nearest_fraction(millimetres(795.3375), 16);
        assert!(exact.is_exact());
        assert_eq!(exact.rounding(), inches(0.0));
        assert!(!nearest_fraction(inches(f64::NAN), 16).is_exact());
    }
}
