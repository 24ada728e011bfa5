//! Values of rows as pages show them, every size and load in both units.

use maud::{Markup, html};
use quantity::{
    Leading, Length, LengthExt, LengthUnit, LoadKind, decimal_inches, load_text, millimetres, millimetres_text,
    read_length, read_written_load,
};
use toml_edit::Value;

use super::accepted::holds_words;
use super::layers::plain;
use super::words::{called, unit_of, unit_of_load};
use crate::words::minus;

/// A value, with every size in the unit that it is written in and in the other.
fn shown(value: &Value) -> Markup {
    match value {
        Value::Boolean(flag) => html! { @if *flag.value() { "yes" } @else { "no" } },
        Value::Float(_) => html! { (number_in_words(&plain(value))) },
        Value::InlineTable(table) if table.contains_key("mean") || table.contains_key("deviation") => {
            let mean = table.get("mean").map(plain);
            let deviation = table.get("deviation").map(plain).map(|text| format!("± {text}"));
            sizes(&mean.into_iter().chain(deviation).collect::<Vec<_>>(), " ")
        }
        Value::InlineTable(table) => html! {
            span .values-within {
                @for (key, value) in table { span { span .soft { (called(key)) } " " (shown_of(key, value)) } }
            }
        },
        Value::Array(list) if list.iter().any(Value::is_inline_table) => html! {
            ul .entries { @for value in list { li { (shown(value)) } } }
        },
        Value::Array(list)
            if list.len() == 2 && list.iter().all(|one| is_number(one) || size(&plain(one)).is_some()) =>
        {
            sizes(&list.iter().map(plain).collect::<Vec<_>>(), " to ")
        }
        Value::Array(list) => html! {
            @for (at, value) in list.iter().enumerate() { @if at > 0 { ", " } (plain(value).replace('_', " ")) }
        },
        other => sizes(&[plain(other)], ""),
    }
}

/// What a key holds, a number with the unit that its key implies.
pub(crate) fn shown_of(key: &str, value: &Value) -> Markup {
    match unit_of(key).filter(|_| is_number(value)) {
        Some(unit) => with_unit(&plain(value), unit, true),
        None if holds_words(key) && value.is_str() => html! { (plain(value)) },
        None => shown(value),
    }
}

/// The same in a column whose head gives the unit.
pub(crate) fn shown_in_column(key: &str, value: &Value) -> Markup {
    match unit_of(key).filter(|_| is_number(value)) {
        Some(unit) => with_unit(&plain(value), unit, false),
        None => shown_of(key, value),
    }
}

/// What a row of the loads gives for an end of an input.
pub(crate) fn shown_load(input: &str, value: &Value) -> Markup {
    match unit_of_load(input).filter(|_| is_number(value)) {
        Some(unit) => with_unit(&plain(value), unit, true),
        None => shown(value),
    }
}

/// Two values that belong together, as a smallest and a largest; or the one value of a key.
pub(crate) fn shown_range(key: &str, values: &[&Value]) -> Markup {
    match values {
        [one] => shown_of(key, one),
        _ => sizes(&values.iter().map(|value| plain(value)).collect::<Vec<_>>(), " to "),
    }
}

/// The size that a key holds, in the unit that it is not written in.
pub(crate) fn other_unit(key: &str, value: &Value) -> Option<String> {
    if holds_words(key) {
        return None;
    }
    Part::read(&plain(value)).map(|part| part.written_in(!part.is_metric))
}

fn is_number(value: &Value) -> bool {
    value.is_integer() || value.is_float()
}

/// A number with its unit and, where one half of the trade thinks in another, with that one.
fn with_unit(number: &str, unit: &str, is_alone: bool) -> Markup {
    let value: Option<f64> = number.parse().ok();
    let other = value.and_then(|value| match unit {
        "MPa" => Some(load_text(value, LoadKind::Stress, Leading::Inches)),
        "kN" => Some(load_text(value * 1000.0, LoadKind::Force, Leading::Inches)),
        "m" => Some(format!("{:.1} ft", millimetres(value * 1000.0).inches() / 12.0)),
        _ => None,
    });
    let written = match (is_alone, unit) {
        (false, _) => minus(number),
        // A degree sign stands right behind its number.
        (true, "°") => format!("{}°", minus(number)),
        (true, unit) => format!("{} {unit}", minus(number)),
    };
    html! {
        @match other {
            Some(other) => span .size { span .written { (written) } " " span .other { (other) } },
            None => (written),
        }
    }
}

/// A number as people read it: what a file gives with an exponent is one in so many, or has all its noughts.
fn number_in_words(text: &str) -> String {
    let parsed: Option<f64> = text.parse().ok();
    let Some(value) = parsed.filter(|value| value.is_finite() && text.contains(['e', 'E'])) else { return minus(text) };
    let times = (1.0 / value).round();
    if value > 0.0 && times >= 1000.0 && (times * value - 1.0).abs() < 1e-9 {
        return format!("1 in {}", grouped(&format!("{times:.0}")));
    }
    minus(&value.to_string())
}

/// Digits in groups of three.
fn grouped(digits: &str) -> String {
    let mut out = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            out.push('\u{202f}');
        }
        out.push(digit);
    }
    out
}

/// Texts as they are written, and where every one of them is a size, all of them once more in the other unit. Where they are
/// written in different units, each line is in one: inches first.
fn sizes(texts: &[String], between: &str) -> Markup {
    let parts: Option<Vec<Part>> = texts.iter().map(|text| Part::read(text)).collect();
    let joined = |lines: Vec<String>| lines.join(between);
    html! {
        @match parts {
            Some(parts) => {
                @let first_is_metric = parts.first().is_some_and(|part| part.is_metric);
                @let is_mixed = parts.iter().any(|part| part.is_metric != first_is_metric);
                @let lines = [first_is_metric && !is_mixed, !first_is_metric || is_mixed]
                    .map(|metric| joined(parts.iter().map(|part| part.written_in(metric)).collect()));
                @let [first, second] = lines;
                span .size { span .written { (first) } " " span .other { (second) } }
            },
            None => (joined(texts.iter().map(|text| minus(text)).collect())),
        }
    }
}

/// A size or a load with what stands before it.
struct Part<'t> {
    /// `± `, or nothing.
    before: &'static str,
    text: &'t str,
    amount: Amount,
    is_metric: bool,
}

enum Amount {
    Length(Length),
    Load(LoadKind, f64),
}

/// What a row may hold beside sizes. No row holds a force that is written with its unit, whose pounds would be those of a mass.
const LOADS: [LoadKind; 4] = [LoadKind::Mass, LoadKind::Torque, LoadKind::Distance, LoadKind::Stress];

impl<'t> Part<'t> {
    /// Reads a text; nothing where it is no size and no load with a unit.
    fn read(text: &'t str) -> Option<Self> {
        let (text, before) = text.strip_prefix("± ").map_or((text, ""), |bare| (bare, "± "));
        let (amount, is_metric) = match size(text) {
            Some((length, unit)) => (Amount::Length(length), !matches!(unit, LengthUnit::Inch | LengthUnit::Foot)),
            None => LOADS.into_iter().find_map(|kind| {
                let (value, system) = read_written_load(text, kind).ok()?;
                Some((Amount::Load(kind, value), system == Leading::Millimetres))
            })?,
        };
        Some(Self { before, text, amount, is_metric })
    }

    /// As it is written where it is in that system, else turned into it.
    fn written_in(&self, metric: bool) -> String {
        let size = match self.amount {
            _ if metric == self.is_metric => self.text.to_owned(),
            Amount::Load(kind, value) => {
                load_text(value, kind, if metric { Leading::Millimetres } else { Leading::Inches })
            }
            Amount::Length(length) => self.length_in(length, metric),
        };
        format!("{}{}", self.before, minus(&size))
    }

    fn length_in(&self, length: Length, metric: bool) -> String {
        if length.millimetres() == 0.0 {
            if metric { "0 mm" } else { "0 in" }.to_owned()
        } else {
            let sign = if self.text.starts_with('+') { "+" } else { "" };
            let text = if metric {
                // Fractions of an inch often lie half way between two thousandths of a millimetre: a hair more rounds them up,
                // as on paper.
                millimetres_text(length * (1.0 + 1e-12), 3)
            } else {
                let places = match length.inches().abs() {
                    size if size < 0.001 => 5,
                    // A wheelbase is known to no better.
                    size if size > 60.0 => 1,
                    _ => 4,
                };
                decimal_inches(length, places)
            };
            format!("{sign}{text}")
        }
    }
}

fn size(text: &str) -> Option<(Length, LengthUnit)> {
    let bare = text.trim_start_matches(['+', '-', '−']);
    let sign = if bare.len() < text.len() && !text.starts_with('+') { -1.0 } else { 1.0 };
    let written = read_length(bare, None).ok()?;
    Some((written.value() * sign, written.unit()))
}

#[cfg(test)]
mod tests {
    use toml_edit::Value;

    use super::{other_unit, shown, shown_load, shown_of};

    fn text(value: &str) -> String {
        shown(&value.parse::<Value>().unwrap()).into_string()
    }

    #[test]
    fn each_line_of_a_size_is_in_one_unit() {
        let size = |first: &str, second: &str| {
            format!(
                "<span class=\"size\"><span class=\"written\">{first}</span> <span class=\"other\">{second}</span></span>"
            )
        };
        assert_eq!(text("\"35 mm\""), size("35 mm", "1.3780 in"));
        assert_eq!(
            text("{ mean = '0.075\"', deviation = \"0.05 mm\" }"),
            size("0.075&quot; ± 0.0020 in", "1.905 mm ± 0.05 mm")
        );
        assert_eq!(text("['-0.020\"', \"+0.1 mm\"]"), size("−0.020&quot; to +0.0039 in", "−0.508 mm to +0.1 mm"));
        assert_eq!(text("[\"-1 mm\", '+1/16\"']"), size("−0.0394 in to +1/16&quot;", "−1 mm to +1.588 mm"));
    }

    #[test]
    fn loads_are_shown_in_both_systems_of_units() {
        let both = |first: &str, second: &str| {
            format!(
                "<span class=\"size\"><span class=\"written\">{first}</span> <span class=\"other\">{second}</span></span>"
            )
        };
        assert_eq!(text("\"500 kg\""), both("500 kg", "1102 lb"));
        assert_eq!(text("\"320 lb·ft\""), both("320 lb·ft", "434 N·m"));
        assert_eq!(text("\"100000 km\""), both("100000 km", "62137 mi"));
        let stress = "830".parse::<Value>().unwrap();
        assert_eq!(shown_load("proof_stress", &stress).into_string(), both("830 MPa", "120.4 ksi"));
        let share = "0.65".parse::<Value>().unwrap();
        assert_eq!(shown_load("preload_share", &share).into_string(), "0.65 of the proof load");
        assert_eq!(shown_load("grip", &share).into_string(), "0.65");
    }

    #[test]
    fn a_grade_is_no_size() {
        let grade = "\"300M\"".parse::<Value>().unwrap();
        assert_eq!(shown_of("grade", &grade).into_string(), "300M");
        assert_eq!(other_unit("grade", &grade), None);
        assert_eq!(other_unit("diameter", &"\"300 mm\"".parse().unwrap()).as_deref(), Some("11.8110 in"));
    }

    #[test]
    fn numbers_are_shown_as_people_read_them() {
        assert_eq!(text("[3, 12]"), "3 to 12");
        assert_eq!(text("1e-7"), "1 in 10\u{202f}000\u{202f}000");
        assert_eq!(text("2.5e-3"), "0.0025");
        assert_eq!(text("-0.5"), "−0.5");
        let rating = "25.5".parse::<Value>().unwrap();
        assert!(shown_of("dynamic_kn", &rating).into_string().contains("25.5 kN"));
        assert!(text("{ dynamic_kn = 25.5, y = 1.6 }").contains("dynamic load rating</span> "));
        assert!(text("{ dynamic_kn = 25.5, y = 1.6 }").contains(">Y</span> 1.6"));
    }
}
