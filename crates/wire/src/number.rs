//! Numbers on the wire: rounded far below anything that a shop can measure, so that the same order gives the same bytes
//! on every machine.

use quantity::LengthExt;
use schemars::JsonSchema;
use serde::Serialize;

/// A length in both units of the trade. Millimetres have six decimals and inches seven at most; both are rounded from
/// the same length.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Length {
    /// The length in millimetres.
    pub millimetres: f64,
    /// The length in inches.
    pub inches: f64,
}

impl From<quantity::Length> for Length {
    fn from(length: quantity::Length) -> Self {
        Self { millimetres: with_decimals(length.millimetres(), 6), inches: with_decimals(length.inches(), 7) }
    }
}

/// A length that may be absent.
pub fn optional_length(length: Option<quantity::Length>) -> Option<Length> {
    length.map(Length::from)
}

/// A probability with six significant digits of its distance from the nearer of 0 and 1, so that what is short of
/// certain stays short of it.
pub fn probability(value: f64) -> f64 {
    significant(value, value.min(1.0 - value))
}

/// A statistic or another plain number with six significant digits.
pub fn plain(value: f64) -> f64 {
    significant(value, value.abs())
}

/// Rounds to the decimals at which `yardstick` has six significant digits.
fn significant(value: f64, yardstick: f64) -> f64 {
    const DIGITS: f64 = 6.0;
    if !(yardstick > 0.0 && yardstick.is_finite()) {
        return value;
    }
    let decimals = (DIGITS - 1.0 - yardstick.log10().floor()).clamp(0.0, 300.0);
    // The clamp keeps the cast exact.
    with_decimals(value, decimals as usize)
}

/// Rounds to so many decimals; a number that rounds to nought loses its sign.
fn with_decimals(value: f64, decimals: usize) -> f64 {
    let rounded = format!("{value:.decimals$}").parse().unwrap_or(value);
    if rounded == 0.0 { 0.0 } else { rounded }
}

#[cfg(test)]
mod tests {
    use super::{Length, plain, probability};
    use quantity::{inches, millimetres};

    #[test]
    fn lengths_are_rounded_below_what_can_be_measured() {
        let length = Length::from(inches(31.3125));
        assert_eq!(length, Length { millimetres: 795.3375, inches: 31.3125 });
        let third = Length::from(millimetres(1.0 / 3.0));
        assert_eq!(third, Length { millimetres: 0.333_333, inches: 0.013_123_4 });
        assert!(Length::from(millimetres(-1e-9)).millimetres.is_sign_positive());
    }

    #[test]
    fn what_is_short_of_certain_stays_short_of_it() {
        assert_eq!(probability(1.0), 1.0);
        assert_eq!(probability(0.0), 0.0);
        assert_eq!(probability(0.912_345_678_9), 0.912_345_7);
        assert_eq!(probability(1.0 - 1.234_567_89e-9), 0.999_999_998_765_43);
        assert!(probability(1.0 - f64::EPSILON) < 1.0);
        assert_eq!(probability(1.234_567_89e-12), 1.234_57e-12);
    }

    #[test]
    fn statistics_have_six_digits() {
        assert_eq!(plain(11.070_497_693_516_351), 11.0705);
        assert_eq!(plain(-4.123_456_789), -4.123_46);
        assert_eq!(plain(123_456_789.0), 123_456_789.0);
        assert_eq!(plain(0.0), 0.0);
    }
}
