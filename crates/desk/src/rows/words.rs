//! What the keys of the catalog mean, in the words of the comments in the shipped files.

use toml_edit::{Document, DocumentMut, Item, Key, TableLike, Value};

use super::kinds::{Field, Shape};
use super::layers::words_of_comment;
use crate::words::capitalised;

/// Keys whose own words say too little, or that are symbols.
const CALLED: [(&str, &str); 6] = [
    ("dynamic_kn", "dynamic load rating"),
    ("static_kn", "static load rating"),
    ("y", "Y"),
    ("y0", "Y0"),
    ("effort_minutes", "effort"),
    ("launch_metres", "way of a full launch"),
];

/// The units of numbers whose text has none.
const UNITS: [(&str, &str); 8] = [
    ("dynamic_kn", "kN"),
    ("static_kn", "kN"),
    ("pressure_angle", "°"),
    ("tensile_strength", "MPa"),
    ("yield_strength", "MPa"),
    ("effort_minutes", "min"),
    ("launch_metres", "m"),
    ("case_hardness", "HRC"),
];

/// What the plain numbers among the loads are, by their input.
const LOADS: [(&str, &str); 7] = [
    ("proof_stress", "MPa"),
    ("usual_corner", "g"),
    ("launches", "of the distance"),
    ("corners", "of the distance"),
    ("bumps", "of the distance"),
    ("preload_share", "of the proof load"),
    ("efficiency", "of the torque"),
];

/// A key within a sentence: `inner width`, `dynamic load rating`, `Y0`.
pub(crate) fn called(key: &str) -> String {
    CALLED
        .iter()
        .find(|(known, _)| *known == key)
        .map_or_else(|| key.replace('_', " "), |(_, words)| (*words).to_owned())
}

/// A key as a heading: `Inner width`. Symbols stay as they are.
pub(crate) fn label(key: &str) -> String {
    const LONGEST_SYMBOL: usize = 2;
    let words = called(key);
    if words.len() <= LONGEST_SYMBOL { words } else { capitalised(&words) }
}

/// The unit of the number that a key holds, where its text has none.
pub(crate) fn unit_of(key: &str) -> Option<&'static str> {
    UNITS.iter().find(|(known, _)| *known == key).map(|(_, unit)| *unit)
}

/// What a plain number is that a load of this name is taken to be; none for a ratio.
pub(crate) fn unit_of_load(input: &str) -> Option<&'static str> {
    LOADS.iter().find(|(known, _)| *known == input).map(|(_, unit)| *unit)
}

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
