//! The units that a length is written in, and the ways to spell them.

use crate::length::{Length, LengthExt, metres, without_conversion_dust};
use crate::nearest_word::nearest_word;

/// A unit that a length is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LengthUnit {
    /// The inch, 25.4 mm exactly.
    Inch,
    /// The foot, 12 in exactly.
    Foot,
    /// The millimetre.
    Millimetre,
    /// The centimetre.
    Centimetre,
    /// The metre.
    Metre,
}

/// Every word for a unit, in lower case; the first of each unit is its symbol.
const WORDS: [(&str, LengthUnit); 21] = [
    ("in", LengthUnit::Inch),
    ("inch", LengthUnit::Inch),
    ("inches", LengthUnit::Inch),
    ("ft", LengthUnit::Foot),
    ("foot", LengthUnit::Foot),
    ("feet", LengthUnit::Foot),
    ("mm", LengthUnit::Millimetre),
    ("millimetre", LengthUnit::Millimetre),
    ("millimetres", LengthUnit::Millimetre),
    ("millimeter", LengthUnit::Millimetre),
    ("millimeters", LengthUnit::Millimetre),
    ("cm", LengthUnit::Centimetre),
    ("centimetre", LengthUnit::Centimetre),
    ("centimetres", LengthUnit::Centimetre),
    ("centimeter", LengthUnit::Centimetre),
    ("centimeters", LengthUnit::Centimetre),
    ("m", LengthUnit::Metre),
    ("metre", LengthUnit::Metre),
    ("metres", LengthUnit::Metre),
    ("meter", LengthUnit::Metre),
    ("meters", LengthUnit::Metre),
];

/// Every mark for a unit: the straight ones of a keyboard, the quotation marks that phones and
/// word processors put in their place, and the true primes.
const MARKS: [(&str, LengthUnit); 12] = [
    ("''", LengthUnit::Inch),
    ("’’", LengthUnit::Inch),
    ("′′", LengthUnit::Inch),
    ("\"", LengthUnit::Inch),
    ("”", LengthUnit::Inch),
    ("“", LengthUnit::Inch),
    ("„", LengthUnit::Inch),
    ("″", LengthUnit::Inch),
    ("'", LengthUnit::Foot),
    ("’", LengthUnit::Foot),
    ("‘", LengthUnit::Foot),
    ("′", LengthUnit::Foot),
];

impl LengthUnit {
    /// The unit's whole name in the singular.
    pub const fn name(self) -> &'static str {
        match self {
            LengthUnit::Inch => "inch",
            LengthUnit::Foot => "foot",
            LengthUnit::Millimetre => "millimetre",
            LengthUnit::Centimetre => "centimetre",
            LengthUnit::Metre => "metre",
        }
    }

    /// The unit's symbol: `in`, `ft`, `mm`, `cm` or `m`.
    pub const fn symbol(self) -> &'static str {
        match self {
            LengthUnit::Inch => "in",
            LengthUnit::Foot => "ft",
            LengthUnit::Millimetre => "mm",
            LengthUnit::Centimetre => "cm",
            LengthUnit::Metre => "m",
        }
    }

    /// Whether the unit is a metric one.
    pub const fn is_metric(self) -> bool {
        match self {
            LengthUnit::Inch | LengthUnit::Foot => false,
            LengthUnit::Millimetre | LengthUnit::Centimetre | LengthUnit::Metre => true,
        }
    }

    /// The length of so many of this unit.
    ///
    /// ```
    /// use quantity::{LengthExt, LengthUnit};
    /// assert_eq!(LengthUnit::Foot.times(2.0).inches(), 24.0);
    /// ```
    pub const fn times(self, number: f64) -> Length {
        match self {
            LengthUnit::Inch => metres(number * 254.0 / 10_000.0),
            LengthUnit::Foot => metres(number * 3048.0 / 10_000.0),
            LengthUnit::Millimetre => metres(number / 1000.0),
            LengthUnit::Centimetre => metres(number / 100.0),
            LengthUnit::Metre => metres(number),
        }
    }

    /// How many of this unit a length is.
    pub fn number_of(self, length: Length) -> f64 {
        match self {
            LengthUnit::Inch => length.inches(),
            LengthUnit::Foot => without_conversion_dust(length.value * 10_000.0 / 3048.0),
            LengthUnit::Millimetre => length.millimetres(),
            LengthUnit::Centimetre => without_conversion_dust(length.value * 100.0),
            LengthUnit::Metre => length.value,
        }
    }

    /// The unit with this spelling, a word or a mark, whatever its capitals; one full stop may
    /// follow a word.
    ///
    /// ```
    /// use quantity::LengthUnit;
    /// assert_eq!(LengthUnit::from_spelling("in."), Some(LengthUnit::Inch));
    /// assert_eq!(LengthUnit::from_spelling("”"), Some(LengthUnit::Inch));
    /// assert_eq!(LengthUnit::from_spelling("MM"), Some(LengthUnit::Millimetre));
    /// assert_eq!(LengthUnit::from_spelling("yard"), None);
    /// ```
    pub fn from_spelling(spelling: &str) -> Option<LengthUnit> {
        if let Some((_, unit)) = MARKS.iter().find(|(mark, _)| *mark == spelling) {
            return Some(*unit);
        }
        let word = spelling.strip_suffix('.').unwrap_or(spelling);
        WORDS.iter().find(|(known, _)| known.eq_ignore_ascii_case(word)).map(|(_, unit)| *unit)
    }

    /// The unit mark at the beginning of a text, with the bytes it takes.
    pub(crate) fn mark_at_start(text: &str) -> Option<(LengthUnit, usize)> {
        MARKS.iter().find(|(mark, _)| text.starts_with(mark)).map(|(mark, unit)| (*unit, mark.len()))
    }

    /// The known word nearest to one that is not known, if any is near.
    pub(crate) fn nearest_spelling(word: &str) -> Option<&'static str> {
        nearest_word(&word.to_lowercase(), WORDS.iter().map(|(known, _)| *known))
    }
}

impl std::fmt::Display for LengthUnit {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(self.symbol())
    }
}

#[cfg(test)]
mod tests {
    use super::{LengthUnit, MARKS, WORDS};
    use crate::length::{inches, millimetres};

    #[test]
    fn every_spelling_is_read_as_its_unit() {
        for (spelling, unit) in WORDS.iter().chain(MARKS.iter()) {
            assert_eq!(LengthUnit::from_spelling(spelling), Some(*unit));
        }
        for (word, unit) in WORDS {
            let with_stop = format!("{}.", word.to_uppercase());
            assert_eq!(LengthUnit::from_spelling(&with_stop), Some(unit));
        }
    }

    #[test]
    fn units_hold_their_exact_ratios() {
        assert_eq!(LengthUnit::Foot.times(1.0), inches(12.0));
        assert_eq!(LengthUnit::Centimetre.times(79.5), millimetres(795.0));
        assert_eq!(LengthUnit::Metre.times(0.7953), millimetres(795.3));
        for unit in
            [LengthUnit::Inch, LengthUnit::Foot, LengthUnit::Millimetre, LengthUnit::Centimetre, LengthUnit::Metre]
        {
            assert_eq!(unit.number_of(unit.times(31.313)), 31.313);
            assert_eq!(LengthUnit::from_spelling(unit.symbol()), Some(unit));
            assert_eq!(LengthUnit::from_spelling(unit.name()), Some(unit));
        }
    }

    #[test]
    fn a_near_miss_finds_its_unit() {
        assert_eq!(LengthUnit::nearest_spelling("mn"), Some("mm"));
        assert_eq!(LengthUnit::nearest_spelling("inchs"), Some("inch"));
        assert_eq!(LengthUnit::nearest_spelling("Milimeters"), Some("millimeters"));
        assert_eq!(LengthUnit::nearest_spelling("furlong"), None);
    }
}
