//! Quantities in both systems of units, as numbers and as text.

use quantity::{
    FAHRENHEIT_PER_KELVIN, KSI_MPA, LONGEST_USEFUL_KM, Length, LengthExt, MILE_KM, POUND_FOOT_NM, POUND_FORCE_N,
    SQUARE_INCH_MM2, cut_to_three_figures,
};

/// A quantity with its kind, which says in what units it is written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Quantity {
    /// A size: inches to five decimals, millimetres to four.
    Size(Length),
    /// A deviation from a size: inches to five decimals, micrometres to one.
    Deviation(Length),
    /// A force, in newtons.
    Force(f64),
    /// A torque, in newton metres.
    Torque(f64),
    /// A force that scatters, in newtons: to three figures, since more of them would claim what nobody knows.
    ScatteredForce(f64),
    /// A torque that scatters, in newton metres: to three figures.
    ScatteredTorque(f64),
    /// A stress or pressure, in megapascals.
    Stress(f64),
    /// An area, in square millimetres.
    Area(f64),
    /// A rise of temperature, in kelvin.
    Rise(f64),
    /// A distance travelled, in kilometres.
    Distance(f64),
    /// The distance that something lasts, in kilometres: to three figures, cut off, and no further than any vehicle goes.
    LifeDistance(f64),
    /// How long something lasts, the same in either system: to three figures, cut off, and no further than is of use.
    Life {
        /// The number.
        value: f64,
        /// What lies beyond this is only said to do so.
        most: f64,
        /// Its unit.
        unit: &'static str,
    },
    /// A number that is the same in either system.
    Number {
        /// The number.
        value: f64,
        /// Decimals to print.
        places: usize,
        /// Its unit; empty for a ratio.
        unit: &'static str,
    },
}

/// A number as printed, and its unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NumberText {
    /// The number alone.
    pub number: String,
    /// The unit alone.
    pub unit: &'static str,
}

impl Quantity {
    /// A ratio, to so many decimals.
    pub fn ratio(value: f64, places: usize) -> Self {
        Self::Number { value, places, unit: "" }
    }

    /// In inches, pounds-force and what goes with them.
    pub fn in_inch_units(self) -> NumberText {
        match self {
            Self::Size(size) => text(size.inches(), 5, "in"),
            Self::Deviation(deviation) => text(deviation.inches(), 5, "in"),
            Self::Force(newtons) => text(newtons / POUND_FORCE_N, 0, "lbf"),
            Self::Torque(newton_metres) => text(newton_metres / POUND_FOOT_NM, 1, "lbf·ft"),
            Self::ScatteredForce(newtons) => rounded(newtons / POUND_FORCE_N, "lbf"),
            Self::ScatteredTorque(newton_metres) => rounded(newton_metres / POUND_FOOT_NM, "lbf·ft"),
            Self::Stress(megapascals) => text(megapascals / KSI_MPA, 2, "ksi"),
            Self::Area(square_millimetres) => text(square_millimetres / SQUARE_INCH_MM2, 5, "in²"),
            Self::Rise(kelvin) => text(kelvin * FAHRENHEIT_PER_KELVIN, 0, "°F"),
            Self::Distance(kilometres) => text(kilometres / MILE_KM, 0, "mi"),
            Self::LifeDistance(kilometres) => life(kilometres / MILE_KM, LONGEST_USEFUL_KM / MILE_KM, "mi"),
            Self::Life { value, most, unit } => life(value, most, unit),
            Self::Number { value, places, unit } => text(value, places, unit),
        }
    }

    /// In millimetres, newtons and what goes with them.
    pub fn in_metric_units(self) -> NumberText {
        match self {
            Self::Size(size) => text(size.millimetres(), 4, "mm"),
            Self::Deviation(deviation) => text(deviation.millimetres() * 1000.0, 1, "µm"),
            Self::Force(newtons) => text(newtons / 1000.0, 3, "kN"),
            Self::Torque(newton_metres) => text(newton_metres, 1, "N·m"),
            Self::ScatteredForce(newtons) => rounded(newtons / 1000.0, "kN"),
            Self::ScatteredTorque(newton_metres) => rounded(newton_metres, "N·m"),
            Self::Stress(megapascals) => text(megapascals, 1, "MPa"),
            Self::Area(square_millimetres) => text(square_millimetres, 2, "mm²"),
            Self::Rise(kelvin) => text(kelvin, 0, "K"),
            Self::Distance(kilometres) => text(kilometres, 0, "km"),
            Self::LifeDistance(kilometres) => life(kilometres, LONGEST_USEFUL_KM, "km"),
            Self::Life { value, most, unit } => life(value, most, unit),
            Self::Number { value, places, unit } => text(value, places, unit),
        }
    }

    /// Whether both systems write it the same.
    pub fn is_plain_number(self) -> bool {
        matches!(self, Self::Number { .. } | Self::Life { .. })
    }
}

/// A life to three figures, cut off so that it never reads as more than it is; beyond the most that is of use only that it is.
fn life(value: f64, most: f64, unit: &'static str) -> NumberText {
    let shown = cut_to_three_figures(value.min(most));
    NumberText { number: if value > most { format!(">\u{a0}{shown}") } else { shown }, unit }
}

/// A number to three figures.
fn rounded(value: f64, unit: &'static str) -> NumberText {
    const FIGURES: i32 = 3;
    let size = if value == 0.0 { 0.0 } else { value.abs().log10().floor() };
    // A force or torque has far fewer figures than any of these kinds of numbers holds.
    let places = FIGURES - 1 - size as i32;
    let step = 10_f64.powi(-places);
    text((value / step).round() * step, usize::try_from(places).unwrap_or(0), unit)
}

fn text(value: f64, places: usize, unit: &'static str) -> NumberText {
    let number = format!("{value:.places$}");
    // A number that rounds to nought loses its sign.
    let number = match number.strip_prefix('-') {
        Some(bare) if bare.bytes().all(|byte| matches!(byte, b'0' | b'.')) => bare.to_owned(),
        _ => number,
    };
    NumberText { number, unit }
}

#[cfg(test)]
mod tests {
    use quantity::{KSI_MPA, POUND_FOOT_NM, POUND_FORCE_N};

    use super::Quantity;

    #[test]
    fn nist_sp_811_the_factors_follow_from_the_pound_and_the_inch() {
        // The avoirdupois pound is 0.453 592 37 kg and standard gravity 9.806 65 m/s², both exactly.
        let pound = 0.453_592_37 * 9.806_65;
        assert!((pound - POUND_FORCE_N).abs() < 1e-12);
        assert!((pound * 0.3048 - POUND_FOOT_NM).abs() < 1e-12);
        assert!((pound * 1000.0 / 25.4 / 25.4 - KSI_MPA).abs() < 1e-12);
    }

    #[test]
    fn what_scatters_is_written_to_three_figures() {
        let both = |quantity: Quantity| (quantity.in_inch_units().number, quantity.in_metric_units().number);
        assert_eq!(both(Quantity::ScatteredForce(48_027.0)), ("10800".to_owned(), "48.0".to_owned()));
        assert_eq!(both(Quantity::ScatteredForce(9_996.0)), ("2250".to_owned(), "10.00".to_owned()));
        assert_eq!(both(Quantity::ScatteredTorque(0.0)), ("0.00".to_owned(), "0.00".to_owned()));
    }

    #[test]
    fn a_life_has_three_figures_and_ends_where_it_is_of_no_more_use() {
        let both = |quantity: Quantity| (quantity.in_inch_units().number, quantity.in_metric_units().number);
        assert_eq!(both(Quantity::LifeDistance(239_977.0)), ("149000".to_owned(), "239000".to_owned()));
        assert_eq!(both(Quantity::LifeDistance(3e9)), (">\u{a0}1240000".to_owned(), ">\u{a0}2000000".to_owned()));
        let hours = |value| Quantity::Life { value, most: 1e6, unit: "h" }.in_metric_units().number;
        assert_eq!(
            (hours(9_689.4), hours(1e6), hours(1.1e6)),
            ("9680".to_owned(), "1000000".to_owned(), ">\u{a0}1000000".to_owned())
        );
    }

    #[test]
    fn a_number_that_rounds_to_nought_has_no_sign() {
        assert_eq!(Quantity::ratio(-0.001, 2).in_metric_units().number, "0.00");
        assert_eq!(Quantity::ratio(-0.01, 2).in_metric_units().number, "-0.01");
    }
}
