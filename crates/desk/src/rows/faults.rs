//! The faults of a text, each beside the field of the row that it belongs to.

use std::ops::Range;

use placed::{Fault, Faults};
use toml_edit::{Document, Item, TableLike, Value};

use super::accepted::on_screen;
use super::kinds::{Kind, Table as Layout};
use super::layers::fields_in;

/// A fault of a field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct PlacedFault {
    /// The row.
    pub row: String,
    /// The name of the entry: `bore`, `bore_depth.mean`; empty where the whole row is meant.
    pub path: String,
    pub problem: String,
    pub accepted: String,
}

/// The faults of a text, and of the files that it was read with.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct PlacedFaults {
    /// Those within rows.
    pub placed: Vec<PlacedFault>,
    /// The others, which belong to another file or to no row.
    pub elsewhere: Vec<Fault>,
}

impl PlacedFaults {
    /// A fault of one entry.
    pub fn at(row: &str, path: &str, problem: impl Into<String>, accepted: impl Into<String>) -> Self {
        let fault = PlacedFault {
            row: row.to_owned(),
            path: path.to_owned(),
            problem: problem.into(),
            accepted: accepted.into(),
        };
        Self { placed: vec![fault], elsewhere: Vec::new() }
    }

    /// Those of one entry of a row, and of what stands within it.
    pub fn of<'f>(&'f self, row: &'f str, path: &'f str) -> impl Iterator<Item = &'f PlacedFault> {
        self.placed.iter().filter(move |fault| {
            let within = fault.path.strip_prefix(path).is_some_and(|rest| rest.is_empty() || rest.starts_with('['));
            fault.row == row && within
        })
    }

    pub fn is_empty(&self) -> bool {
        self.placed.is_empty() && self.elsewhere.is_empty()
    }
}

/// Puts faults beside the fields of the text that was read under a path.
pub(crate) fn place_faults(kind: &Kind, path: &str, text: &str, faults: &Faults) -> PlacedFaults {
    let places = places_of(kind, text);
    let mut found = PlacedFaults::default();
    for fault in faults {
        if fault.file != path {
            found.elsewhere.push(fault.clone());
            continue;
        }
        match entry_of(&places, fault) {
            Some((row, path)) => {
                // The message of a file shows a line of it, which means nothing beside the entry of a form.
                let is_missing = missing_key(&fault.problem).is_some();
                let (problem, accepted) = if is_missing {
                    ("this must be given".to_owned(), "a value, as its description says".to_owned())
                } else {
                    on_screen(&fault.problem, &fault.accepted)
                };
                found.placed.push(PlacedFault { row, path, problem, accepted });
            }
            None => found.elsewhere.push(fault.clone()),
        }
    }
    found
}

/// Where a row begins and where its entries stand.
struct Place {
    row: String,
    begins: usize,
    entries: Vec<(String, Range<usize>)>,
}

/// The row and the entry of a fault.
fn entry_of(places: &[Place], fault: &Fault) -> Option<(String, String)> {
    let at = fault.span.start;
    let place = places.iter().filter(|place| place.begins <= at).max_by_key(|place| place.begins)?;
    let inner = place
        .entries
        .iter()
        .filter(|(_, span)| span.contains(&at))
        .min_by_key(|(_, span)| span.len())
        .map(|(path, _)| path.clone());
    // What is missing has no place of its own: the message names it.
    let missing = missing_key(&fault.problem);
    let path = match (inner, missing) {
        (Some(path), Some(key)) => format!("{path}.{key}"),
        (Some(path), None) => path,
        (None, Some(key)) => key.to_owned(),
        (None, None) => String::new(),
    };
    Some((place.row.clone(), path))
}

fn missing_key(problem: &str) -> Option<&str> {
    problem.strip_prefix('`').and_then(|rest| rest.split_once("` is missing")).map(|(key, _)| key)
}

fn places_of(kind: &Kind, text: &str) -> Vec<Place> {
    let Ok(document) = Document::parse(text) else { return Vec::new() };
    let mut places = Vec::new();
    match kind.table {
        Layout::Named => named(document.as_table(), "", &mut places),
        Layout::List { name, .. } => {
            let names = fields_in(kind, text).into_iter().map(|given| given.name);
            match document.as_table().get(name) {
                Some(Item::ArrayOfTables(list)) => {
                    for (table, row) in list.iter().zip(names) {
                        places.push(Place {
                            row,
                            begins: table.span().map_or(0, |span| span.start),
                            entries: entries(table),
                        });
                    }
                }
                Some(Item::Value(Value::Array(list))) => {
                    for (value, row) in list.iter().zip(names) {
                        let Some(table) = value.as_inline_table() else { continue };
                        places.push(Place {
                            row,
                            begins: value.span().map_or(0, |span| span.start),
                            entries: entries(table),
                        });
                    }
                }
                _ => {}
            }
        }
    }
    places
}

fn named(table: &dyn TableLike, before: &str, places: &mut Vec<Place>) {
    for (key, item) in table.iter() {
        let Item::Table(inner) = item else { continue };
        let row = if before.is_empty() { key.to_owned() } else { format!("{before}.{key}") };
        if let Some(span) = inner.span() {
            places.push(Place { row: row.clone(), begins: span.start, entries: entries(inner) });
        }
        named(inner, &row, places);
    }
}

fn entries(table: &dyn TableLike) -> Vec<(String, Range<usize>)> {
    let mut found = Vec::new();
    for (name, item) in table.iter() {
        let Some(value) = item.as_value() else { continue };
        let key = table.key(name).and_then(toml_edit::Key::span);
        let Some(span) = value.span() else { continue };
        found.push((name.to_owned(), key.map_or(span.start, |key| key.start)..span.end));
        match value {
            Value::InlineTable(inner) => {
                for (part, span) in entries(inner) {
                    found.push((format!("{name}.{part}"), span));
                }
            }
            Value::Array(list) => {
                // A list of two is a smallest and a largest with an entry each; others are entered as a whole.
                let names = [format!("{name}.least"), format!("{name}.most")];
                if list.len() == names.len() && !list.iter().any(Value::is_inline_table) {
                    found.extend(names.into_iter().zip(list.iter().filter_map(Value::span)));
                }
            }
            _ => {}
        }
    }
    found
}
