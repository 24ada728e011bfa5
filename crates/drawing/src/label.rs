//! Sizes as text: what stands on a dimension.
//!
//! Limits are rounded inwards, never outwards: a part that passes the printed limits passes the true ones.

use crate::shape::{Size, SizeBasis};
use crate::style::{Standard, Style};

/// How a size is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Manner {
    /// The size with its tolerance, `54.13 ±0.12`, or `2.181 +.005/-.004` where rounding left more room on one side.
    PlusMinus,
    /// The same where both sides have the same room, else the two limits in one line: what is narrower.
    PlusMinusOrLimits,
    /// The two limits, the larger above.
    Limits,
    /// The two limits in one line, the smaller first.
    LimitsInLine,
    /// For information only, in parentheses.
    Reference,
    /// Theoretically exact, in a box.
    Exact,
}

/// How close a size is: how many decimals it gets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Closeness {
    /// Turned: 0.01 mm, 0.001 in.
    Turned,
    /// Ground: 0.001 mm, 0.0001 in.
    Ground,
}

/// The text of a dimension.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// The lines, the first on top.
    pub lines: Vec<String>,
    /// Whether a box goes around it.
    pub boxed: bool,
}

impl Label {
    /// The label in one line.
    #[must_use]
    pub fn words(&self) -> String {
        self.lines.join(" ")
    }

    /// The label with a further line.
    #[must_use]
    pub fn with_line(mut self, words: impl Into<String>) -> Self {
        self.lines.push(words.into());
        self
    }
}

/// The mark of a diameter.
pub const DIAMETER: &str = "⌀";
/// The mark of a radius.
pub const RADIUS: &str = "R";

/// The text of a size, with the mark of a diameter or radius before it.
#[must_use]
pub fn label(size: &Size, mark: &str, manner: Manner, closeness: Closeness, style: &Style) -> Label {
    let Some(value) = size.value_mm else {
        return Label { lines: vec![format!("{mark}{}", "NOT KNOWN").trim().to_owned()], boxed: false };
    };
    let (least, most) = size.limits_mm.unwrap_or((value, value));
    let inches_lead = style.units.leads_with_inches();
    let in_unit = |inches: bool| {
        let number = Number { inches, closeness, standard: style.standard };
        match (manner, size.limits_mm) {
            (Manner::PlusMinusOrLimits, Some(_)) if !number.is_even(value, least, most) => {
                vec![format!("{mark}{}–{}", number.up(least), number.down(most))]
            }
            (Manner::PlusMinus | Manner::PlusMinusOrLimits, Some(_)) => {
                vec![number.plus_minus(mark, value, least, most)]
            }
            (Manner::Limits, Some(_)) => {
                vec![format!("{mark}{}", number.down(most)), format!("{mark}{}", number.up(least))]
            }
            (Manner::LimitsInLine, Some(_)) => vec![format!("{mark}{}–{}", number.up(least), number.down(most))],
            (Manner::Reference, _) => vec![format!("({mark}{})", number.nearest(value))],
            _ => vec![format!("{mark}{}", number.nearest(value))],
        }
    };
    let mut lines = in_unit(inches_lead);
    if style.units.is_dual() {
        let mut second = in_unit(!inches_lead);
        if manner == Manner::Reference {
            // The parentheses of the leading number speak for both.
            second.iter_mut().for_each(|line| line.retain(|character| !matches!(character, '(' | ')')));
        }
        if let Some(first) = second.first_mut() {
            first.insert(0, '[');
        }
        if let Some(last) = second.last_mut() {
            last.push(']');
        }
        lines.extend(second);
    }
    if size.basis == SizeBasis::Assumed {
        lines.push("ASSUMED".to_owned());
    }
    Label { lines, boxed: manner == Manner::Exact }
}

/// A length in one line, in the units of the drawing: `1.333 in [33.87 mm]`.
#[must_use]
pub fn in_words(millimetres: f64, closeness: Closeness, style: &Style) -> String {
    let one = |inches: bool| {
        let number = Number { inches, closeness, standard: style.standard };
        format!("{} {}", number.nearest(millimetres), if inches { "in" } else { "mm" })
    };
    let inches = style.units.leads_with_inches();
    if style.units.is_dual() { format!("{} [{}]", one(inches), one(!inches)) } else { one(inches) }
}

/// The most that may be, in one line and rounded down, so that what passes it passes the true one: `.003 in [0.07 mm]`.
#[must_use]
pub fn at_most_in_words(millimetres: f64, closeness: Closeness, style: &Style) -> String {
    let one = |inches: bool| {
        let number = Number { inches, closeness, standard: style.standard };
        format!("{} {}", number.down(millimetres), if inches { "in" } else { "mm" })
    };
    let inches = style.units.leads_with_inches();
    if style.units.is_dual() { format!("{} [{}]", one(inches), one(!inches)) } else { one(inches) }
}

/// Two limits in one line: `1.4226–1.4230 in`; the one size between them where they are closer than its last decimal tells.
#[must_use]
pub fn limits_in_words(least_mm: f64, most_mm: f64, closeness: Closeness, style: &Style) -> String {
    let one = |inches: bool| {
        let number = Number { inches, closeness, standard: style.standard };
        let unit = if inches { "in" } else { "mm" };
        if number.is_narrow(least_mm, most_mm) {
            return format!("{} {unit}", number.nearest(0.5 * (least_mm + most_mm)));
        }
        format!("{}–{} {unit}", number.up(least_mm), number.down(most_mm))
    };
    let inches = style.units.leads_with_inches();
    if style.units.is_dual() { format!("{} [{}]", one(inches), one(!inches)) } else { one(inches) }
}

/// How numbers of one unit are written.
struct Number {
    inches: bool,
    closeness: Closeness,
    standard: Standard,
}

impl Number {
    fn places(&self) -> usize {
        match (self.closeness, self.inches) {
            (Closeness::Turned, false) => 2,
            (Closeness::Turned, true) | (Closeness::Ground, false) => 3,
            (Closeness::Ground, true) => 4,
        }
    }

    fn unit(&self) -> f64 {
        if self.inches { 25.4 } else { 1.0 }
    }

    /// ASME Y14.5 writes no nought before the point of an inch, ISO 129-1 always does.
    fn text(&self, steps: f64) -> String {
        let places = self.places();
        let number = format!("{:.places$}", steps.abs() / 10_f64.powi(places as i32));
        let sign = if steps <= -0.5 { "-" } else { "" };
        let bare = if self.inches && self.standard == Standard::Asme { number.strip_prefix('0') } else { None };
        format!("{sign}{}", bare.unwrap_or(&number))
    }

    fn steps(&self, millimetres: f64) -> f64 {
        millimetres / self.unit() * 10_f64.powi(self.places() as i32)
    }

    fn nearest(&self, millimetres: f64) -> String {
        self.text(self.steps(millimetres).round())
    }

    /// Rounded up; the dust of converting counts as nothing.
    fn up(&self, millimetres: f64) -> String {
        self.text((self.steps(millimetres) - 1e-6).ceil())
    }

    fn down(&self, millimetres: f64) -> String {
        self.text((self.steps(millimetres) + 1e-6).floor())
    }

    /// Whether no number of so many decimals lies between the limits, or only one.
    fn is_narrow(&self, least: f64, most: f64) -> bool {
        (self.steps(least) - 1e-6).ceil() >= (self.steps(most) + 1e-6).floor()
    }

    /// The same limits as every other paper prints, as steps above and below a middle that is rounded itself.
    fn room(&self, value: f64, least: f64, most: f64) -> (f64, f64) {
        let middle = self.steps(value).round();
        let above = (self.steps(most) - middle + 1e-6).floor().max(0.0);
        let below = (middle - self.steps(least) + 1e-6).floor().max(0.0);
        (above, below)
    }

    /// Whether there is the same room above and below.
    fn is_even(&self, value: f64, least: f64, most: f64) -> bool {
        let (above, below) = self.room(value, least, most);
        (above - below).abs() < 0.5
    }

    fn plus_minus(&self, mark: &str, value: f64, least: f64, most: f64) -> String {
        let (above, below) = self.room(value, least, most);
        let middle = self.nearest(value);
        if self.is_even(value, least, most) {
            format!("{mark}{middle} ±{}", self.text(above))
        } else {
            format!("{mark}{middle} +{}/-{}", self.text(above), self.text(below))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Closeness, Manner, at_most_in_words, in_words, label, limits_in_words};
    use crate::shape::{Size, SizeBasis};
    use crate::style::{Standard, Style, Units};

    fn size(value: f64, limits: (f64, f64)) -> Size {
        Size {
            name: "shoulder_distance",
            words: "shoulder distance",
            value_mm: Some(value),
            limits_mm: Some(limits),
            basis: SizeBasis::Derived,
            source: String::new(),
        }
    }

    fn lines(of: &Size, manner: Manner, closeness: Closeness, standard: Standard, units: Units) -> Vec<String> {
        label(of, "", manner, closeness, &Style::of(standard, units)).lines
    }

    #[test]
    fn limits_that_nearly_meet_are_one_size() {
        let style = Style::of(Standard::Iso, Units::Millimetre);
        assert_eq!(limits_in_words(37.4762, 37.4768, Closeness::Ground, &style), "37.477 mm");
        assert_eq!(limits_in_words(37.4758, 37.4782, Closeness::Ground, &style), "37.476–37.478 mm");
    }

    #[test]
    fn printed_limits_lie_within_the_true_ones() {
        let of = size(54.1274, (54.0004, 54.2544));
        let iso = |manner| lines(&of, manner, Closeness::Turned, Standard::Iso, Units::Millimetre);
        // 54.01 to 54.25 are the limits, and 54.13 stands in their middle.
        assert_eq!(iso(Manner::PlusMinus), ["54.13 ±0.12"]);
        assert_eq!(iso(Manner::Limits), ["54.25", "54.01"]);
        assert_eq!(iso(Manner::LimitsInLine), ["54.01–54.25"]);
        assert_eq!(iso(Manner::Reference), ["(54.13)"]);
    }

    #[test]
    fn a_tolerance_allows_what_the_limits_allow() {
        let of = size(25.4 * 2.1811, (25.4 * 2.1764, 25.4 * 2.1862));
        let inch = |manner| lines(&of, manner, Closeness::Turned, Standard::Asme, Units::Inch);
        assert_eq!(inch(Manner::LimitsInLine), ["2.177–2.186"]);
        assert_eq!(inch(Manner::PlusMinus), ["2.181 +.005/-.004"]);
        assert_eq!(inch(Manner::PlusMinusOrLimits), ["2.177–2.186"]);
    }

    #[test]
    fn what_is_allowed_at_most_is_rounded_down_and_a_size_below_nought_keeps_its_sign() {
        let both = Style::of(Standard::Asme, Units::Dual { inches_first: true });
        assert_eq!(at_most_in_words(0.0762, Closeness::Turned, &both), ".003 in [0.07 mm]");
        assert_eq!(in_words(-25.4 * 0.299, Closeness::Turned, &both), "-.299 in [-7.59 mm]");
        assert_eq!(in_words(-0.001, Closeness::Turned, &both), ".000 in [0.00 mm]");
    }

    #[test]
    fn inches_are_written_as_their_standard_has_them() {
        let of = size(25.4 * 0.358, (25.4 * 0.343, 25.4 * 0.373));
        let inch = |standard| lines(&of, Manner::PlusMinus, Closeness::Turned, standard, Units::Inch);
        assert_eq!(inch(Standard::Asme), [".358 ±.015"]);
        assert_eq!(inch(Standard::Iso), ["0.358 ±0.015"]);
    }

    #[test]
    fn the_second_unit_stands_in_brackets_below_and_an_assumption_is_said() {
        let mut of = size(35.02, (35.009, 35.032));
        of.basis = SizeBasis::Assumed;
        let both = lines(&of, Manner::Limits, Closeness::Ground, Standard::Iso, Units::Dual { inches_first: true });
        assert_eq!(both, ["1.3792", "1.3784", "[35.032", "35.009]", "ASSUMED"]);
    }

    #[test]
    fn what_is_not_known_is_said() {
        let mut of = size(1.0, (1.0, 1.0));
        of.value_mm = None;
        assert_eq!(lines(&of, Manner::Limits, Closeness::Ground, Standard::Iso, Units::Millimetre), ["NOT KNOWN"]);
    }
}
