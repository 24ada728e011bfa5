//! Sizes as the shop reads them: decimal inches and millimetres, either first.

use axle::DimensionKind;
use catalog::Measurand;
use quantity::{Leading, Length, LengthExt, decimal_inches, millimetres_text};

/// A unit of the report.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    Inches,
    Millimetres,
}

impl Unit {
    /// Both units, the leading one first.
    pub fn ordered(leading: Leading) -> [Self; 2] {
        match leading {
            Leading::Inches => [Self::Inches, Self::Millimetres],
            Leading::Millimetres => [Self::Millimetres, Self::Inches],
        }
    }

    /// `in` or `mm`.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Inches => "in",
            Self::Millimetres => "mm",
        }
    }

    fn number(self, length: Length) -> f64 {
        match self {
            Self::Inches => length.inches(),
            Self::Millimetres => length.millimetres(),
        }
    }

    /// The number alone with so many decimals.
    fn text(self, length: Length, decimals: usize) -> String {
        let text = match self {
            Self::Inches => decimal_inches(length, decimals),
            Self::Millimetres => millimetres_text(length, decimals),
        };
        text.trim_end_matches(self.symbol()).trim_end().to_owned()
    }
}

/// How finely a size is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fineness {
    /// Sizes that are turned: inches to 3 decimals, millimetres to 2.
    Turned,
    /// Diameters that something fits on or into: inches to 4 decimals, millimetres to 3.
    Fitted,
}

impl Fineness {
    /// How finely a dimension is written.
    pub fn of_dimension(kind: DimensionKind) -> Self {
        match kind {
            DimensionKind::RegisterDiameter
            | DimensionKind::WheelPilotDiameter
            | DimensionKind::JournalDiameter
            | DimensionKind::RingSeatDiameter
            | DimensionKind::SealJournalDiameter
            | DimensionKind::StudHole => Self::Fitted,
            DimensionKind::OverallLength
            | DimensionKind::ShoulderDistance
            | DimensionKind::RaceDistance
            | DimensionKind::BrakeOffset
            | DimensionKind::FlangeDiameter
            | DimensionKind::FlangeThickness
            | DimensionKind::RegisterHeight
            | DimensionKind::WheelPilotHeight
            | DimensionKind::BoltCircle
            | DimensionKind::SplineMajorDiameter => Self::Turned,
        }
    }

    /// How finely a reading is written.
    pub fn of_reading(measurand: Measurand) -> Self {
        match measurand {
            Measurand::RegisterDiameter
            | Measurand::WheelPilotDiameter
            | Measurand::JournalDiameter
            | Measurand::RingSeatDiameter
            | Measurand::SealJournalDiameter
            | Measurand::BearingBore
            | Measurand::BearingOutside
            | Measurand::HousingBoreDiameter
            | Measurand::DrumBore
            | Measurand::WheelBore
            | Measurand::StudHole
            | Measurand::KnurlDiameter => Self::Fitted,
            _ => Self::Turned,
        }
    }

    fn decimals(self, unit: Unit) -> usize {
        match (self, unit) {
            (Self::Turned, Unit::Inches) | (Self::Fitted, Unit::Millimetres) => 3,
            (Self::Turned, Unit::Millimetres) => 2,
            (Self::Fitted, Unit::Inches) => 4,
        }
    }
}

/// The number alone: `31.313`.
pub fn number(length: Length, unit: Unit, fineness: Fineness) -> String {
    unit.text(length, fineness.decimals(unit))
}

/// The size in both units, the leading one first: `31.313 in (795.35 mm)`.
pub fn both(length: Length, leading: Leading, fineness: Fineness) -> String {
    let [first, second] =
        Unit::ordered(leading).map(|unit| format!("{} {}", number(length, unit, fineness), unit.symbol()));
    format!("{first} ({second})").replace(' ', "\u{a0}")
}

/// A standard uncertainty alone: as fine as its size, or finer where it would else be written as nought. A dash stands for
/// none at all, as where a size is a usual one or a part's own.
pub fn uncertainty(length: Length, unit: Unit, fineness: Fineness) -> String {
    const FINEST: usize = 6;
    let least = fineness.decimals(unit);
    let size = unit.number(length).abs();
    if size == 0.0 {
        return "–".to_owned();
    }
    let decimals = (least..FINEST).find(|decimals| size * power_of_ten(*decimals) >= 0.95).unwrap_or(least);
    unit.text(length, decimals)
}

/// A standard uncertainty in both units: `0.008 in (0.20 mm)`.
pub fn both_uncertain(length: Length, leading: Leading, fineness: Fineness) -> String {
    if length.millimetres() == 0.0 {
        return "nought".to_owned();
    }
    let [first, second] =
        Unit::ordered(leading).map(|unit| format!("{} {}", uncertainty(length, unit, fineness), unit.symbol()));
    format!("{first} ({second})").replace(' ', "\u{a0}")
}

/// Limits as a range: `31.282–31.343`.
///
/// The lower is rounded up and the upper down, so that a size within the limits as printed is within them as meant. Where
/// that would leave no room, a decimal is added.
pub fn limits(least: Length, most: Length, unit: Unit, fineness: Fineness) -> String {
    const MORE: usize = 2;
    let decimals = fineness.decimals(unit);
    let (low, high) = (unit.number(least), unit.number(most));
    let inward = |decimals: usize| {
        let scale = power_of_ten(decimals);
        // A millionth of the last place is the dust of converting, not a size.
        let dust = 1e-6;
        ((low * scale - dust).ceil() / scale, (high * scale + dust).floor() / scale)
    };
    let fits = |decimals: &usize| {
        let (low, high) = inward(*decimals);
        low <= high
    };
    match (decimals..=decimals + MORE).find(fits) {
        Some(decimals) => {
            let (low, high) = inward(decimals);
            format!("{low:.decimals$}–{high:.decimals$}")
        }
        None => format!("{}–{}", number(least, unit, fineness), number(most, unit, fineness)),
    }
}

fn power_of_ten(decimals: usize) -> f64 {
    (0..decimals).fold(1.0, |product, _| product * 10.0)
}

#[cfg(test)]
mod tests {
    use super::{Fineness, Unit, both, limits, number, uncertainty};
    use quantity::{Leading, inches, millimetres};

    #[test]
    fn the_leading_unit_stands_first() {
        let plain = |text: String| text.replace('\u{a0}', " ");
        assert_eq!(plain(both(inches(31.313), Leading::Inches, Fineness::Turned)), "31.313 in (795.35 mm)");
        assert_eq!(plain(both(millimetres(40.005), Leading::Millimetres, Fineness::Fitted)), "40.005 mm (1.5750 in)");
        assert_eq!(number(inches(2.0), Unit::Inches, Fineness::Fitted), "2.0000");
    }

    #[test]
    fn limits_are_rounded_inward() {
        assert_eq!(limits(inches(31.281_25), inches(31.343_75), Unit::Inches, Fineness::Turned), "31.282–31.343");
        assert_eq!(limits(inches(2.305), inches(2.315), Unit::Inches, Fineness::Turned), "2.305–2.315");
        // 2.305 in is 58.547 mm and 2.315 in 58.801 mm.
        assert_eq!(limits(inches(2.305), inches(2.315), Unit::Millimetres, Fineness::Turned), "58.55–58.80");
    }

    #[test]
    fn limits_closer_than_a_decimal_get_another() {
        assert_eq!(limits(inches(1.000_02), inches(1.000_08), Unit::Inches, Fineness::Fitted), "1.00002–1.00008");
    }

    #[test]
    fn a_small_uncertainty_is_not_written_as_nought() {
        assert_eq!(uncertainty(inches(0.008), Unit::Inches, Fineness::Turned), "0.008");
        assert_eq!(uncertainty(inches(0.000_2), Unit::Inches, Fineness::Turned), "0.0002");
        assert_eq!(uncertainty(inches(0.0), Unit::Inches, Fineness::Turned), "–");
    }
}
