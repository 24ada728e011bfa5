//! What a sheet's text says, field by field, and where each field stands in it.

use std::collections::BTreeMap;
use std::ops::Range;

use toml_edit::{Document, Item, TableLike, Value};

/// The sections that hold readings.
pub(super) const SECTIONS: [&str; 3] = ["shared", "left", "right"];

/// Values by the name of their field.
///
/// A reading is `r.left.overall_length.0`, with `.instrument`, `.conditions`, `.by` and `.pin` behind it; the number counts the
/// separate readings of one thing. Everything else is `f.order.unit`: section and key.
pub(super) type Fields = BTreeMap<String, String>;

/// A text of a sheet, taken apart.
#[derive(Debug, Default)]
pub(super) struct Written {
    /// Every field that the text fills.
    pub fields: Fields,
    /// The bytes of each field, the key with them.
    places: Vec<(Range<usize>, String)>,
}

/// The name of a reading's field.
pub(super) fn reading_name(section: &str, key: &str, entry: usize) -> String {
    format!("r.{section}.{key}.{entry}")
}

/// The name of any other field.
pub(super) fn field_name(section: &str, key: &str) -> String {
    format!("f.{section}.{key}")
}

impl Written {
    /// Takes a text apart; nothing where it is no TOML.
    pub fn read(text: &str) -> Option<Self> {
        let document = Document::parse(text).ok()?;
        let mut written = Self::default();
        for (section, item) in document.as_table().iter() {
            let Some(table) = item.as_table_like() else { continue };
            for (key, item) in table.iter() {
                let start = table.get_key_value(key).and_then(|(key, _)| key.span()).map(|span| span.start);
                if SECTIONS.contains(&section) {
                    written.take_reading(text, section, key, item, start);
                } else if let Some(value) = text_of(item, text) {
                    written.put(field_name(section, key), value, start, item.span());
                }
            }
        }
        Some(written)
    }

    /// The field that holds a byte: the smallest one about it.
    pub fn field_at(&self, byte: usize) -> Option<&str> {
        let around = self.places.iter().filter(|(place, _)| place.start <= byte && byte <= place.end);
        around.min_by_key(|(place, _)| place.len()).map(|(_, name)| name.as_str())
    }

    /// So many separate readings of one thing stand in a section.
    pub fn entries(&self, section: &str, key: &str) -> usize {
        (0..).take_while(|entry| self.fields.contains_key(&reading_name(section, key, *entry))).count()
    }

    fn put(&mut self, name: String, value: String, start: Option<usize>, span: Option<Range<usize>>) {
        if let Some(span) = span {
            let start = start.unwrap_or(span.start).min(span.start);
            self.places.push((start..span.end, name.clone()));
        }
        self.fields.insert(name, value);
    }

    fn take_reading(&mut self, text: &str, section: &str, key: &str, item: &Item, start: Option<usize>) {
        let name = |entry| reading_name(section, key, entry);
        if let Some(list) = item.as_array_of_tables() {
            for (entry, table) in list.iter().enumerate() {
                self.take_described(text, &name(entry), table, table.span());
            }
        } else if let Some(table) = item.as_table_like() {
            self.take_described(text, &name(0), table, item.span());
        } else if let Some(list) = item.as_array().filter(|list| list.iter().any(Value::is_inline_table)) {
            for (entry, value) in list.iter().enumerate() {
                match value.as_inline_table() {
                    Some(table) => self.take_described(text, &name(entry), table, value.span()),
                    None => self.put(name(entry), text_of_value(value, text), None, value.span()),
                }
            }
        } else if let Some(value) = item.as_value() {
            self.put(name(0), text_of_value(value, text), start, value.span());
        }
    }

    fn take_described(&mut self, text: &str, name: &str, table: &dyn TableLike, span: Option<Range<usize>>) {
        self.put(
            name.to_owned(),
            table.get("value").and_then(|item| text_of(item, text)).unwrap_or_default(),
            None,
            span,
        );
        for (key, item) in table.iter().filter(|(key, _)| *key != "value") {
            let start = table.get_key_value(key).and_then(|(key, _)| key.span()).map(|span| span.start);
            if let Some(value) = text_of(item, text) {
                self.put(format!("{name}.{key}"), value, start, item.span());
            }
        }
    }
}

fn text_of(item: &Item, text: &str) -> Option<String> {
    item.as_value().filter(|value| !value.is_inline_table()).map(|value| text_of_value(value, text))
}

/// Text as it is, lists with commas between, everything else as it was written.
fn text_of_value(value: &Value, text: &str) -> String {
    match value {
        Value::String(string) => string.value().clone(),
        Value::Array(list) => list.iter().map(|one| text_of_value(one, text)).collect::<Vec<_>>().join(", "),
        other => other.span().and_then(|span| text.get(span)).unwrap_or_default().trim().to_owned(),
    }
}
