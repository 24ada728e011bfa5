//! A length together with the way in which somebody wrote it down.

use crate::length::{Length, metres};
use crate::length_format::nearest_fraction;
use crate::length_unit::LengthUnit;

/// The form of a written number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Notation {
    /// A whole number.
    Whole,
    /// A fraction, with or without a whole number before it.
    Fraction {
        /// The denominator as written, not reduced.
        denominator: u32,
    },
    /// A number with decimals.
    Decimal {
        /// How many decimals were written, closing noughts counted.
        places: u8,
    },
}

/// A length as somebody wrote it: its value, and what the writing tells beyond the value.
///
/// Made by [`read_length`](crate::read_length).
///
/// ```
/// use quantity::{LengthExt, LengthUnit, Notation, read_length};
///
/// let written = read_length("31 5/16\"", None)?;
/// assert_eq!(written.value().inches(), 31.3125);
/// assert_eq!(written.unit(), LengthUnit::Inch);
/// assert_eq!(written.notation(), Notation::Fraction { denominator: 16 });
/// assert_eq!(written.digits(), "31 5/16");
/// # Ok::<(), quantity::LengthTextError>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct WrittenLength {
    value: Length,
    unit: LengthUnit,
    text: String,
    digits: String,
    parts: Parts,
}

/// The pieces of a written number, each as it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Parts {
    /// Feet before inches, nought where there are none.
    pub(crate) feet: u32,
    /// The digits before point or fraction; empty in `5/16` and `.5`.
    pub(crate) whole: String,
    /// What stands behind the whole number.
    pub(crate) rest: Rest,
}

/// What stands behind the whole part of a written number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Rest {
    Nothing,
    Fraction { numerator: u32, denominator: u32 },
    Decimals(String),
}

/// Inches in a foot.
const INCHES_IN_A_FOOT: f64 = 12.0;

impl Parts {
    /// The number that the pieces make, feet counted in as twelve inches each.
    ///
    /// The digits are few enough (see `MOST_DIGITS`) for `f64` to hold them; a text of digits that
    /// this reader put together always parses, and nothing else reaches this place.
    pub(crate) fn number(&self) -> f64 {
        let feet = f64::from(self.feet) * INCHES_IN_A_FOOT;
        feet + match &self.rest {
            Rest::Nothing => parse_digits(&self.whole),
            Rest::Fraction { numerator, denominator } => {
                parse_digits(&self.whole) + f64::from(*numerator) / f64::from(*denominator)
            }
            Rest::Decimals(decimals) => parse_digits(&format!("{}.{decimals}", self.whole)),
        }
    }

    fn notation(&self) -> Notation {
        match &self.rest {
            Rest::Nothing => Notation::Whole,
            Rest::Fraction { denominator, .. } => Notation::Fraction { denominator: *denominator },
            Rest::Decimals(decimals) => Notation::Decimal { places: u8::try_from(decimals.len()).unwrap_or(u8::MAX) },
        }
    }
}

/// The number that a row of digits, with at most one point in it, stands for; nought if there are none.
fn parse_digits(digits: &str) -> f64 {
    digits.parse().unwrap_or(0.0)
}

impl WrittenLength {
    pub(crate) fn new(parts: Parts, unit: LengthUnit, text: &str, digits: &str) -> WrittenLength {
        WrittenLength {
            value: unit.times(parts.number()),
            unit,
            text: text.to_owned(),
            digits: digits.to_owned(),
            parts,
        }
    }

    /// The length.
    pub fn value(&self) -> Length {
        self.value
    }

    /// The unit it was written in; the inch where feet and inches were written.
    pub fn unit(&self) -> LengthUnit {
        self.unit
    }

    /// The form of the number.
    pub fn notation(&self) -> Notation {
        self.parts.notation()
    }

    /// The whole text as it was written, without the blanks around it.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The number in its own unit; feet and inches count in inches.
    pub fn number(&self) -> f64 {
        self.parts.number()
    }

    /// The number's own text, without unit: `31 5/16`, `795,3`, `2' 7 5/16`.
    pub fn digits(&self) -> &str {
        &self.digits
    }

    /// The same number in another unit: what it would be if the unit was mistaken.
    ///
    /// ```
    /// use quantity::{LengthExt, LengthUnit, read_length};
    /// let written = read_length("35 mm", None)?;
    /// assert_eq!(written.as_if_in(LengthUnit::Inch).inches(), 35.0);
    /// # Ok::<(), quantity::LengthTextError>(())
    /// ```
    pub fn as_if_in(&self, unit: LengthUnit) -> Length {
        unit.times(self.number())
    }

    /// Every other length that comes from swapping two neighbouring digits, left to right and each
    /// once.
    ///
    /// Swapped are the digits of a whole or decimal number, also across the point, and of a fraction
    /// the digits of its whole part and of its numerator. A swap that nobody would have written is
    /// left out: one with a nought in front, a fraction that is not smaller than one, twelve inches
    /// or more beside feet.
    ///
    /// ```
    /// use quantity::{LengthExt, read_length};
    /// let written = read_length("2.36 in", None)?;
    /// let swapped: Vec<f64> = written
    ///     .with_neighbouring_digits_swapped()
    ///     .iter()
    ///     .map(|length| length.inches())
    ///     .collect();
    /// assert_eq!(swapped, [3.26, 2.63]);
    /// # Ok::<(), quantity::LengthTextError>(())
    /// ```
    pub fn with_neighbouring_digits_swapped(&self) -> Vec<Length> {
        let mut swapped: Vec<Length> = Vec::new();
        for parts in self.parts.swaps() {
            let length = self.unit.times(parts.number());
            if length != self.value && length.value > 0.0 && !swapped.contains(&length) {
                swapped.push(length);
            }
        }
        swapped
    }

    /// The length that was meant if the fraction was read back from the next whole inch: 29 5/8 in
    /// where 30 3/8 in is written.
    ///
    /// Only a number of inches has one, and only if it was read from a scale of fractions: it is
    /// written as a fraction, or it is a decimal number that is a multiple of 1/64; and the fraction
    /// is not nought. It must not be negative.
    ///
    /// ```
    /// use quantity::{inches, read_length};
    /// let written = read_length("30 3/8\"", None)?;
    /// assert_eq!(written.read_back_from_next(), Some(inches(29.625)));
    /// # Ok::<(), quantity::LengthTextError>(())
    /// ```
    pub fn read_back_from_next(&self) -> Option<Length> {
        let on_a_fraction_scale = match self.notation() {
            Notation::Whole => false,
            Notation::Fraction { .. } => true,
            Notation::Decimal { .. } => is_a_multiple_of_a_64th(self.number()),
        };
        if self.unit != LengthUnit::Inch || !on_a_fraction_scale {
            return None;
        }
        let number = self.number();
        let whole = number.floor();
        let fraction = number - whole;
        if fraction == 0.0 || whole < 1.0 {
            return None;
        }
        Some(LengthUnit::Inch.times((whole - 1.0) + (1.0 - fraction)))
    }

    /// Another length as it would stand in the place of this one: in the same unit, with the same mark, as a fraction where a
    /// fraction is written and with decimals where these are. Nothing where it cannot be stated so without rounding.
    ///
    /// ```
    /// use quantity::{inches, millimetres, read_length};
    /// let written = read_length("29 13/16\"", None)?;
    /// assert_eq!(written.restated(inches(28.8125)).as_deref(), Some("28 13/16\""));
    /// assert_eq!(written.restated(inches(29.75)).as_deref(), Some("29 3/4\""));
    /// assert_eq!(written.restated(millimetres(731.0)), None);
    /// assert_eq!(read_length("52.36 mm", None)?.restated(millimetres(52.63)).as_deref(), Some("52.63 mm"));
    /// # Ok::<(), quantity::LengthTextError>(())
    /// ```
    pub fn restated(&self, length: Length) -> Option<String> {
        let number = length.value / self.unit.times(1.0).value;
        let digits = match self.notation() {
            Notation::Decimal { places } => with_decimals(number, usize::from(places)),
            Notation::Whole if (number - number.round()).abs() < DUST => Some(format!("{number:.0}")),
            Notation::Whole if self.unit.is_metric() => with_decimals(number, 1),
            Notation::Whole => as_fraction(length, FINEST_FRACTION),
            Notation::Fraction { denominator } if self.unit == LengthUnit::Inch => {
                as_fraction(length, denominator.max(FINEST_FRACTION))
            }
            Notation::Fraction { .. } => None,
        };
        let digits = digits.filter(|_| number > 0.0)?;
        let digits = if self.digits.contains(',') { digits.replace('.', ",") } else { digits };
        match self.text.strip_prefix(&self.digits)? {
            // The mark of the feet said what the inches are.
            "" if self.parts.feet > 0 => Some(format!("{digits}\"")),
            mark => Some(format!("{digits}{mark}")),
        }
    }

    /// The step of the scale that this reading was rounded to, given the step of the instrument.
    ///
    /// It is what the uncertainty of resolution comes from (JCGM 100:2008, F.2.2.1). People leave
    /// out a fraction that is nought and reduce a fraction to lowest terms, so for a fraction, for
    /// whole inches and feet, and for a decimal multiple of 1/64 in the written form does not tell
    /// that the reading was coarse: the step is the instrument's own, or one part of the written
    /// fraction where that is finer (somebody read between the lines). Other numbers were rounded to
    /// their last written decimal, if that is coarser than the instrument's own step.
    ///
    /// ```
    /// use quantity::{inches, millimetres, read_length};
    /// let sixteenth = inches(1.0 / 16.0);
    /// assert_eq!(read_length("31 1/2 in", None)?.step(sixteenth), sixteenth);
    /// assert_eq!(read_length("31 5/32 in", None)?.step(sixteenth), inches(1.0 / 32.0));
    /// assert_eq!(read_length("79.5 cm", None)?.step(millimetres(0.5)), millimetres(1.0));
    /// # Ok::<(), quantity::LengthTextError>(())
    /// ```
    pub fn step(&self, scale_step: Length) -> Length {
        let last_decimal = |places: u8| self.unit.times(10_f64.powi(-i32::from(places)));
        match self.notation() {
            Notation::Fraction { denominator } => finer(scale_step, self.unit.times(1.0 / f64::from(denominator))),
            Notation::Whole if !self.unit.is_metric() => scale_step,
            Notation::Whole => coarser(scale_step, last_decimal(0)),
            Notation::Decimal { .. } if self.unit == LengthUnit::Inch && is_a_multiple_of_a_64th(self.number()) => {
                scale_step
            }
            Notation::Decimal { places } => coarser(scale_step, last_decimal(places)),
        }
    }
}

impl Parts {
    /// All pieces that come from one swap of neighbouring digits and could have been written.
    fn swaps(&self) -> Vec<Parts> {
        match &self.rest {
            Rest::Nothing => self.with_whole_parts(neighbour_swaps(&self.whole)),
            Rest::Fraction { numerator, denominator } => {
                let mut swaps = self.with_whole_parts(neighbour_swaps(&self.whole));
                for swapped in neighbour_swaps(&numerator.to_string()) {
                    let Ok(other) = swapped.parse::<u32>() else {
                        continue;
                    };
                    if !swapped.starts_with('0') && other < *denominator {
                        swaps.push(Parts {
                            rest: Rest::Fraction { numerator: other, denominator: *denominator },
                            ..self.clone()
                        });
                    }
                }
                swaps
            }
            Rest::Decimals(decimals) => {
                let all = format!("{}{decimals}", self.whole);
                neighbour_swaps(&all)
                    .into_iter()
                    .filter_map(|swapped| {
                        let (whole, decimals) = swapped.split_at_checked(self.whole.len())?;
                        Some((whole.to_owned(), decimals.to_owned()))
                    })
                    .filter(|(whole, _)| self.could_be_whole(whole))
                    .map(|(whole, decimals)| Parts { feet: self.feet, whole, rest: Rest::Decimals(decimals) })
                    .collect()
            }
        }
    }

    fn with_whole_parts(&self, wholes: Vec<String>) -> Vec<Parts> {
        wholes
            .into_iter()
            .filter(|whole| self.could_be_whole(whole))
            .map(|whole| Parts { whole, ..self.clone() })
            .collect()
    }

    /// Whether somebody would write these digits before the point or the fraction.
    fn could_be_whole(&self, whole: &str) -> bool {
        let nought_in_front = whole.len() > 1 && whole.starts_with('0');
        let fits_beside_feet = self.feet == 0 || parse_digits(whole) < INCHES_IN_A_FOOT;
        !nought_in_front && fits_beside_feet
    }
}

/// Relative differences that are nothing but the dust of converting.
const DUST: f64 = 1e-9;
/// The finest fraction of an inch on a scale.
const FINEST_FRACTION: u32 = 64;
/// Decimals that nobody writes more of.
const MOST_DECIMALS: usize = 6;

/// A number with so many decimals, or as many more as it needs.
fn with_decimals(number: f64, places: usize) -> Option<String> {
    (places..=places.max(MOST_DECIMALS))
        .map(|places| format!("{number:.places$}"))
        .find(|text| (parse_digits(text) - number).abs() <= DUST * number.abs())
}

/// A length in inches and a fraction of at most this denominator, without a mark.
fn as_fraction(length: Length, denominator: u32) -> Option<String> {
    let fraction = nearest_fraction(length, denominator);
    fraction.is_exact().then(|| fraction.text().trim_end_matches('"').to_owned())
}

/// Every row of digits that differs from this one by one swap of neighbours.
fn neighbour_swaps(digits: &str) -> Vec<String> {
    let characters: Vec<char> = digits.chars().collect();
    let mut swaps = Vec::new();
    for first in 1..characters.len() {
        if characters[first - 1] != characters[first] {
            let mut swapped = characters.clone();
            swapped.swap(first - 1, first);
            swaps.push(swapped.into_iter().collect());
        }
    }
    swaps
}

/// Whether a number of inches can stand on a scale of halves, quarters and so on down to 64ths.
fn is_a_multiple_of_a_64th(number: f64) -> bool {
    (number * 64.0).fract() == 0.0
}

fn finer(one: Length, other: Length) -> Length {
    metres(one.value.min(other.value))
}

fn coarser(one: Length, other: Length) -> Length {
    metres(one.value.max(other.value))
}

impl std::fmt::Display for WrittenLength {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(&self.text)
    }
}
