//! Between the values of a row and the texts of a form or of the cells of a table.

use toml_edit::{Array, InlineTable, Value};

use super::kinds::{Field, Shape};
use super::layers::plain;

/// The names of the entries of a key: one, or two where it holds two values.
pub(crate) fn paths_of(field: &Field) -> Vec<String> {
    let key = field.key;
    match field.shape {
        Shape::Spread => vec![format!("{key}.mean"), format!("{key}.deviation")],
        Shape::Range => vec![format!("{key}.least"), format!("{key}.most")],
        Shape::Part(parts) => parts.iter().map(|part| format!("{key}.{}", part.key)).collect(),
        _ => vec![key.to_owned()],
    }
}

/// What the entries of a key say for a value, in the order of [`paths_of`].
pub(crate) fn texts_of(field: &Field, value: Option<&Value>) -> Vec<String> {
    let Some(value) = value else { return paths_of(field).iter().map(|_| String::new()).collect() };
    let within = |key: &str| value.as_inline_table().and_then(|table| table.get(key)).map(plain).unwrap_or_default();
    match field.shape {
        Shape::Spread => vec![within("mean"), within("deviation")],
        Shape::Range => {
            let at = |at: usize| value.as_array().and_then(|list| list.get(at)).map(plain).unwrap_or_default();
            vec![at(0), at(1)]
        }
        Shape::Part(parts) => parts.iter().map(|part| within(part.key)).collect(),
        Shape::List => {
            let lines = value.as_array().map(|list| list.iter().map(plain).collect::<Vec<_>>().join("\n"));
            vec![lines.unwrap_or_else(|| plain(value))]
        }
        Shape::Entries => {
            let line = |value: &Value| value.as_inline_table().map(|table| pairs(table).join(", ")).unwrap_or_default();
            vec![value.as_array().map(|list| list.iter().map(line).collect::<Vec<_>>().join("\n")).unwrap_or_default()]
        }
        Shape::Shares => vec![value.as_inline_table().map(|table| pairs(table).join("\n")).unwrap_or_default()],
        _ => vec![plain(value)],
    }
}

fn pairs(table: &InlineTable) -> Vec<String> {
    table.iter().map(|(key, value)| format!("{key} = {}", plain(value))).collect()
}

/// The value that the entries of a key stand for; none where nothing was entered. What makes no sense is kept as it was entered:
/// the loader of the catalog will say what is wrong with it.
pub(crate) fn field_of_texts<'t>(field: &Field, text: &dyn Fn(&str) -> Option<&'t str>) -> Option<Value> {
    let paths = paths_of(field);
    let entered: Vec<&str> = paths.iter().map(|path| text(path).unwrap_or_default().trim()).collect();
    if entered.iter().all(|text| text.is_empty()) {
        return None;
    }
    let first = entered.first().copied().unwrap_or_default();
    Some(match field.shape {
        Shape::Text | Shape::Words | Shape::Choice(_) => one_line(first).into(),
        Shape::Number | Shape::NumberOrText => number_or_text(first),
        Shape::Flag => match first {
            "yes" | "true" => true.into(),
            "no" | "false" => false.into(),
            other => other.into(),
        },
        Shape::Spread => table_of(&["mean", "deviation"], &entered, |_, text| text.into()),
        Shape::Range => Value::Array(entered.iter().map(|text| Value::from(*text)).collect::<Array>()),
        Shape::Part(parts) => {
            let keys: Vec<&str> = parts.iter().map(|part| part.key).collect();
            table_of(&keys, &entered, |at, text| match parts.get(at).map(|part| part.shape) {
                Some(Shape::Number) => number_or_text(text),
                _ => text.into(),
            })
        }
        Shape::List => Value::Array(
            first
                .lines()
                .flat_map(|line| line.split(';'))
                .map(str::trim)
                .filter(|line| !line.is_empty())
                .map(Value::from)
                .collect(),
        ),
        Shape::Entries => Value::Array(
            first
                .lines()
                .flat_map(|line| line.split(';'))
                .map(str::trim)
                .filter(|line| !line.is_empty())
                .map(entry)
                .collect(),
        ),
        Shape::Shares => entry(&first.lines().map(str::trim).collect::<Vec<_>>().join(", ")),
    })
}

/// A text of several lines, of which the form made several, as one.
fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn table_of(keys: &[&str], texts: &[&str], value: impl Fn(usize, &str) -> Value) -> Value {
    let mut table = InlineTable::new();
    for (at, (key, text)) in keys.iter().zip(texts).enumerate() {
        if !text.is_empty() {
            table.insert(*key, value(at, text));
        }
    }
    Value::InlineTable(table)
}

/// `teeth = 28, weight = 6` as a table.
fn entry(line: &str) -> Value {
    let mut table = InlineTable::new();
    for pair in line.split(',').map(str::trim).filter(|pair| !pair.is_empty()) {
        let (key, value) = pair.split_once('=').unwrap_or((pair, ""));
        table.insert(key.trim().trim_matches('"'), number_or_text(value.trim().trim_matches(['"', '\''].as_slice())));
    }
    Value::InlineTable(table)
}

/// A number as it is written, or a text.
pub(crate) fn number_or_text(text: &str) -> Value {
    if let Ok(whole) = text.parse::<i64>()
        && !text.starts_with('+')
    {
        return whole.into();
    }
    match text.parse::<Value>() {
        Ok(Value::Float(number)) => Value::Float(number),
        // `.5` is a number to people, and none to TOML.
        _ => match text.parse::<f64>() {
            Ok(number) if number.is_finite() => number.into(),
            _ => text.into(),
        },
    }
}
