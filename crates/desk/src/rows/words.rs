//! What the keys of the catalog mean, in the words of the comments in the shipped files.

use toml_edit::{Document, DocumentMut, Item, Key, TableLike, Value};

use super::kinds::{Field, Shape};
use super::layers::words_of_comment;

/// What the comment at the top of a file says of each key.
pub(crate) fn header_words(file: &str) -> Vec<(String, String)> {
    let Some((_, text)) = catalog::shipped_texts().find(|(name, _)| *name == file) else { return Vec::new() };
    let mut words: Vec<(String, String)> = Vec::new();
    for line in text.lines().take_while(|line| line.starts_with('#')) {
        let line = line.trim_start_matches('#');
        let bare = line.trim_start();
        let indent = line.len() - bare.len();
        match (indent, bare.split_once("  ")) {
            (3, Some((keys, meaning))) => {
                words.extend(keys.split(", ").map(|key| (key.to_owned(), meaning.trim().to_owned())));
            }
            (4.., _) => {
                if let Some((_, last)) = words.last_mut() {
                    last.push(' ');
                    last.push_str(bare);
                }
            }
            _ => {}
        }
    }
    words
}

/// What a section of the settings and its keys mean: the comment over each key, and that over the section.
pub(crate) fn section_words(section: &str) -> Vec<(String, String)> {
    let Some((_, text)) = catalog::shipped_texts().find(|(name, _)| *name == "settings.toml") else {
        return Vec::new();
    };
    let Ok(document) = text.parse::<DocumentMut>() else { return Vec::new() };
    let mut table: &dyn TableLike = document.as_table();
    for part in section.split('.') {
        match table.get(part).and_then(Item::as_table_like) {
            Some(inner) => table = inner,
            None => return Vec::new(),
        }
    }
    table
        .iter()
        .filter_map(|(name, _)| {
            let key = table.key(name)?;
            let prefix = key.leaf_decor().prefix().and_then(toml_edit::RawString::as_str).unwrap_or_default();
            Some((name.to_owned(), words_of_comment(prefix)))
        })
        .collect()
}

/// The keys of a section of the settings, as the shipped file gives them.
pub(crate) fn settings_fields(section: &str) -> Vec<Field> {
    let Some((_, text)) = catalog::shipped_texts().find(|(name, _)| *name == "settings.toml") else {
        return Vec::new();
    };
    let Ok(document) = Document::parse(text) else { return Vec::new() };
    let mut table: &dyn TableLike = document.as_table();
    for part in section.split('.') {
        match table.get(part).and_then(Item::as_table_like) {
            Some(inner) => table = inner,
            None => return Vec::new(),
        }
    }
    table
        .iter()
        .filter_map(|(name, item)| {
            // The text lives as long as the program, so the key is cut out of it.
            let key: &'static str = text.get(table.key(name).and_then(Key::span)?)?;
            Some(Field { key, shape: shape_of(item.as_value()?), optional: false, column: true })
        })
        .collect()
}

fn shape_of(value: &Value) -> Shape {
    match value {
        Value::Integer(_) | Value::Float(_) => Shape::Number,
        Value::Boolean(_) => Shape::Flag,
        Value::InlineTable(_) => Shape::Spread,
        Value::Array(_) => Shape::Entries,
        _ => Shape::Text,
    }
}
