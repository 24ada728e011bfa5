//! Values of rows as pages show them, every size in both units.

use maud::{Markup, html};
use quantity::{Length, LengthExt, LengthUnit, decimal_inches, millimetres_text, read_length};
use toml_edit::Value;

use super::layers::plain;

/// A value, with every size in the unit that it is written in and in the other.
pub(crate) fn shown(value: &Value) -> Markup {
    match value {
        Value::String(_) => size_or_words(&plain(value)),
        Value::Boolean(flag) => html! { @if *flag.value() { "yes" } @else { "no" } },
        Value::InlineTable(table) if table.contains_key("mean") || table.contains_key("deviation") => {
            let part = |key: &str| table.get(key).map(plain);
            html! {
                @if let Some(mean) = part("mean") { (size_or_words(&mean)) }
                @if let Some(deviation) = part("deviation") { span .deviation { " ± " (size_or_words(&deviation)) } }
            }
        }
        Value::InlineTable(table) => html! {
            span .pairs {
                @for (key, value) in table { span .pair { span .soft { (key.replace('_', " ")) } " " (shown(value)) } }
            }
        },
        Value::Array(list) => {
            let is_range =
                list.len() == 2 && list.iter().all(|value| value.as_str().is_some_and(|text| size(text).is_some()));
            let is_tables = list.iter().any(Value::is_inline_table);
            html! {
                @if is_range {
                    @for (at, value) in list.iter().enumerate() { @if at > 0 { " to " } (shown(value)) }
                } @else if is_tables {
                    ul .entries { @for value in list { li { (shown(value)) } } }
                } @else {
                    @for (at, value) in list.iter().enumerate() { @if at > 0 { ", " } (plain(value).replace('_', " ")) }
                }
            }
        }
        other => html! { (plain(other)) },
    }
}

fn size_or_words(text: &str) -> Markup {
    match with_other_unit(text) {
        Some(other) => html! { span .size { span .written { (text) } " " span .other { (other) } } },
        None => html! { (text) },
    }
}

/// A size in the unit that it is not written in; nothing where the text is no size with a unit.
pub(crate) fn with_other_unit(text: &str) -> Option<String> {
    let (length, unit) = size(text)?;
    Some(match unit {
        LengthUnit::Inch | LengthUnit::Foot => millimetres_text(length, places(length.millimetres(), 3)),
        _ => decimal_inches(length, places(length.inches(), 4)),
    })
}

/// So many places that a small size keeps three digits and a large one no idle noughts.
fn places(size: f64, usual: usize) -> usize {
    if size != 0.0 && size.abs() < 0.01 { usual + 1 } else { usual }
}

fn size(text: &str) -> Option<(Length, LengthUnit)> {
    let bare = text.trim_start_matches(['+', '-', '−']);
    let sign = if bare.len() < text.len() && !text.starts_with('+') { -1.0 } else { 1.0 };
    let written = read_length(bare, None).ok()?;
    Some((written.value() * sign, written.unit()))
}
