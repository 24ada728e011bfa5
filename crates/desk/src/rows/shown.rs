//! Values of rows as pages show them, every size in both units.

use maud::{Markup, html};
use quantity::{Length, LengthExt, LengthUnit, decimal_inches, millimetres_text, read_length};
use toml_edit::Value;

use super::layers::plain;

/// A value, with every size in the unit that it is written in and in the other.
pub(crate) fn shown(value: &Value) -> Markup {
    match value {
        Value::Boolean(flag) => html! { @if *flag.value() { "yes" } @else { "no" } },
        Value::InlineTable(table) if table.contains_key("mean") || table.contains_key("deviation") => {
            let mean = table.get("mean").map(plain);
            let deviation = table.get("deviation").map(plain).map(|text| format!("± {text}"));
            sizes(mean.into_iter().chain(deviation).collect(), " ")
        }
        Value::InlineTable(table) => html! {
            span .values-within {
                @for (key, value) in table { span { span .soft { (key.replace('_', " ")) } " " (shown(value)) } }
            }
        },
        Value::Array(list) if list.iter().any(Value::is_inline_table) => html! {
            ul .entries { @for value in list { li { (shown(value)) } } }
        },
        Value::Array(list) if list.len() == 2 && list.iter().all(|value| size(&plain(value)).is_some()) => {
            sizes(list.iter().map(plain).collect(), " to ")
        }
        Value::Array(list) => html! {
            @for (at, value) in list.iter().enumerate() { @if at > 0 { ", " } (plain(value).replace('_', " ")) }
        },
        other => sizes(vec![plain(other)], ""),
    }
}

/// Two values that belong together, as a smallest and a largest.
pub(crate) fn shown_range(values: &[&Value]) -> Markup {
    sizes(values.iter().map(|value| plain(value)).collect(), " to ")
}

/// Texts as they are written, and where every one of them is a size, all of them once more in the other unit.
fn sizes(texts: Vec<String>, between: &str) -> Markup {
    let others: Option<Vec<String>> = texts.iter().map(|text| with_other_unit(text)).collect();
    let written = texts.join(between);
    html! {
        @match others {
            Some(others) => span .size { span .written { (written) } " " span .other { (others.join(between)) } },
            None => (written),
        }
    }
}

/// A size in the unit that it is not written in; nothing where the text is no size with a unit.
fn with_other_unit(text: &str) -> Option<String> {
    let (bare, before) = match text.strip_prefix("± ") {
        Some(bare) => (bare, "± "),
        None => (text, ""),
    };
    let (length, unit) = size(bare)?;
    let to_inches = !matches!(unit, LengthUnit::Inch | LengthUnit::Foot);
    let other = if length.millimetres() == 0.0 {
        if to_inches { "0 in" } else { "0 mm" }.to_owned()
    } else if to_inches {
        decimal_inches(length, if length.inches().abs() < 0.001 { 5 } else { 4 })
    } else {
        // Fractions of an inch often lie half way between two thousandths of a millimetre: a hair more rounds them up, as on
        // paper.
        millimetres_text(length * (1.0 + 1e-12), 3)
    };
    Some(format!("{before}{other}"))
}

fn size(text: &str) -> Option<(Length, LengthUnit)> {
    let bare = text.trim_start_matches(['+', '-', '−']);
    let sign = if bare.len() < text.len() && !text.starts_with('+') { -1.0 } else { 1.0 };
    let written = read_length(bare, None).ok()?;
    Some((written.value() * sign, written.unit()))
}
