//! Changes of a shop's own file that keep its comments and the order of its rows.

use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, TableLike, Value};

use super::kinds::{Kind, Table as Layout};
use super::layers::{Fields, fields_in};

/// What is done to one row of a file.
#[derive(Debug, Clone)]
pub(crate) enum Change {
    /// The row holds these fields and no others, keys among them.
    Set { row: String, fields: Fields },
    /// The row leaves the file; what stands below it counts again.
    Drop { row: String },
}

/// A text with changes.
///
/// # Errors
///
/// The text is no TOML, or holds something else where the rows should be.
pub(crate) fn changed_text(kind: &Kind, text: &str, changes: &[Change]) -> Result<String, String> {
    let mut text = text.to_owned();
    for change in changes {
        text = match change {
            Change::Set { row, fields } => {
                let mut document = parsed(&text)?;
                set(kind, &mut document, &text, row, fields)?;
                document.to_string()
            }
            Change::Drop { row } => {
                let mut document = parsed(&text)?;
                take_out(kind, &mut document, &text, row);
                document.to_string()
            }
        };
    }
    Ok(text)
}

fn parsed(text: &str) -> Result<DocumentMut, String> {
    text.parse().map_err(|error: toml_edit::TomlError| format!("{} cannot be read: {error}", "the shop's own file"))
}

fn set(kind: &Kind, document: &mut DocumentMut, text: &str, row: &str, fields: &Fields) -> Result<(), String> {
    let held = |what: &str| format!("the shop's own file holds something else under `{what}`");
    match kind.table {
        Layout::Named => {
            let mut table: &mut Table = document.as_table_mut();
            let parts: Vec<&str> = row.split('.').collect();
            for (depth, part) in parts.iter().enumerate() {
                let item = table.entry(part).or_insert_with(|| {
                    let mut fresh = Table::new();
                    fresh.set_implicit(depth + 1 < parts.len());
                    Item::Table(fresh)
                });
                table = item.as_table_mut().ok_or_else(|| held(part))?;
            }
            table.set_implicit(false);
            put(table, fields);
        }
        Layout::List { name, .. } => {
            let at = fields_in(kind, text).iter().position(|given| given.name == row);
            let item = document.entry(name).or_insert(Item::ArrayOfTables(ArrayOfTables::new()));
            match item {
                Item::ArrayOfTables(list) => match at.and_then(|at| list.get_mut(at)) {
                    Some(table) => put(table, fields),
                    None => {
                        let mut table = Table::new();
                        if !text.trim().is_empty() {
                            table.decor_mut().set_prefix("\n");
                        }
                        put(&mut table, fields);
                        list.push(table);
                    }
                },
                Item::Value(Value::Array(list)) => set_inline(list, at, fields),
                _ => return Err(held(name)),
            }
        }
    }
    Ok(())
}

fn set_inline(list: &mut Array, at: Option<usize>, fields: &Fields) {
    match at.and_then(|at| list.get_mut(at)).and_then(Value::as_inline_table_mut) {
        Some(table) => put(table, fields),
        None => {
            let mut table = InlineTable::new();
            put(&mut table, fields);
            list.push_formatted(Value::InlineTable(table).decorated("\n  ", ""));
            list.set_trailing_comma(true);
            list.set_trailing("\n");
        }
    }
}

/// Brings a table to hold these fields. What stays the same is not touched, so that it keeps the way it was written.
fn put(table: &mut dyn TableLike, fields: &Fields) {
    let gone: Vec<String> = table
        .iter()
        .filter(|(key, item)| !item.is_table() && !fields.iter().any(|(known, _)| known == key))
        .map(|(key, _)| key.to_owned())
        .collect();
    for key in gone {
        table.remove(&key);
    }
    for (key, value) in fields {
        match table.get_mut(key) {
            Some(item) => {
                let Some(old) = item.as_value_mut() else {
                    *item = Item::Value(value.clone());
                    continue;
                };
                if !same(old, value) {
                    let decor = old.decor().clone();
                    *old = value.clone();
                    *old.decor_mut() = decor;
                }
            }
            None => {
                table.insert(key, Item::Value(value.clone().decorated(" ", "")));
            }
        }
    }
}

/// Whether two values say the same, however they are laid out.
pub(crate) fn same(one: &Value, other: &Value) -> bool {
    match (one, other) {
        (Value::Array(one), Value::Array(other)) => {
            one.len() == other.len() && one.iter().zip(other).all(|(one, other)| same(one, other))
        }
        (Value::InlineTable(one), Value::InlineTable(other)) => {
            one.len() == other.len()
                && one.iter().all(|(key, value)| other.get(key).is_some_and(|other| same(value, other)))
        }
        _ => super::layers::plain(one) == super::layers::plain(other) && one.is_str() == other.is_str(),
    }
}

fn take_out(kind: &Kind, document: &mut DocumentMut, text: &str, row: &str) {
    match kind.table {
        Layout::Named => {
            let mut parts: Vec<&str> = row.split('.').collect();
            let Some(last) = parts.pop() else { return };
            let mut table: &mut dyn TableLike = document.as_table_mut();
            for part in parts {
                match table.get_mut(part).and_then(Item::as_table_like_mut) {
                    Some(inner) => table = inner,
                    None => return,
                }
            }
            // Tables within stay: they are rows of their own.
            let keeps = table
                .get(last)
                .and_then(Item::as_table)
                .is_some_and(|table| table.iter().any(|(_, item)| item.is_table()));
            match table.get_mut(last).and_then(Item::as_table_mut) {
                Some(inner) if keeps => {
                    put(inner, &Vec::new());
                    inner.set_implicit(true);
                }
                _ => {
                    table.remove(last);
                }
            }
        }
        Layout::List { name, .. } => {
            let Some(at) = fields_in(kind, text).iter().position(|given| given.name == row) else { return };
            let root = document.as_table_mut();
            let is_empty = match root.get_mut(name) {
                Some(Item::ArrayOfTables(list)) => {
                    list.remove(at);
                    list.is_empty()
                }
                Some(Item::Value(Value::Array(list))) => {
                    list.remove(at);
                    list.is_empty()
                }
                _ => false,
            };
            if is_empty {
                root.remove(name);
            }
        }
    }
}
