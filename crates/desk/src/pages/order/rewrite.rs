//! What was typed goes back into the text of the sheet. Only what was changed is touched; comments, spaces and whatever the
//! form does not show stay byte for byte.

use std::collections::BTreeMap;

use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, TableLike, Value};

use super::written::{Fields, SECTIONS, Written};

/// The properties of a reading beside its value.
pub(super) const PROPERTIES: [&str; 7] =
    ["instrument", "conditions", "by", "pin", "taken_as", "taken_by", "confirmed_by"];

/// Of these what a correction is made of: what the reading is taken as, by whom, and who confirmed it.
pub(crate) const CORRECTION: [&str; 3] = ["taken_as", "taken_by", "confirmed_by"];

/// The fields that were changed: what was written and what was typed.
pub(super) fn changes(written: &Written, entered: &Fields) -> BTreeMap<String, (String, String)> {
    entered
        .iter()
        .filter_map(|(name, typed)| {
            let before = written.fields.get(name).map_or("", String::as_str);
            let same = before.trim() == typed.trim() || lines(before).trim() == lines(typed).trim();
            (!same).then(|| (name.clone(), (before.to_owned(), lines(typed).trim().to_owned())))
        })
        .collect()
}

/// Forms send line ends of their own.
pub(super) fn lines(text: &str) -> String {
    text.replace("\r\n", "\n")
}

/// The text with what was typed; nothing where the text is no TOML.
pub(super) fn rewritten(base: &str, entered: &Fields) -> Option<String> {
    let written = Written::read(base)?;
    let changes = changes(&written, entered);
    if changes.is_empty() {
        return Some(base.to_owned());
    }
    let mut document: DocumentMut = base.parse().ok()?;
    let mut readings: BTreeMap<(String, String), Fields> = BTreeMap::new();
    for (name, (_, typed)) in &changes {
        let parts: Vec<&str> = name.split('.').collect();
        match parts.as_slice() {
            ["f", section, key] => set_field(&mut document, section, key, typed),
            ["r", section, key, rest @ ..] if SECTIONS.contains(section) && !rest.is_empty() => {
                let place = ((*section).to_owned(), (*key).to_owned());
                readings.entry(place).or_default().insert(rest.join("."), typed.clone());
            }
            _ => {}
        }
    }
    for ((section, key), typed) in &mut readings {
        let there =
            |entry: &str, property: &str| written.fields.contains_key(&format!("r.{section}.{key}.{entry}.{property}"));
        drop_stale_corrections(typed, there);
    }
    for ((section, key), typed) in &readings {
        set_readings(&mut document, section, key, written.entries(section, key), typed);
    }
    Some(document.to_string())
}

/// Takes out what a change leaves without ground: a correction was one of the value that stood there, and whoever confirmed it
/// confirmed that one. `there` says whether the sheet holds a property of a reading.
fn drop_stale_corrections(typed: &mut Fields, there: impl Fn(&str, &str) -> bool) {
    let names: Vec<String> = typed.keys().cloned().collect();
    for name in names {
        let (entry, changed) = name.split_once('.').unwrap_or((&name, "value"));
        let stale = match changed {
            "value" => &CORRECTION[..],
            "taken_as" => &CORRECTION[1..],
            _ => &[],
        };
        for property in stale.iter().filter(|property| there(entry, property)) {
            typed.entry(format!("{entry}.{property}")).or_default();
        }
    }
}

/// The table of a section, made where it is not there.
fn section_of<'d>(document: &'d mut DocumentMut, section: &str) -> Option<&'d mut dyn TableLike> {
    let root = document.as_table_mut();
    if !root.contains_key(section) {
        root.insert(section, Item::Table(Table::new()));
    }
    root.get_mut(section)?.as_table_like_mut()
}

fn set_field(document: &mut DocumentMut, section: &str, key: &str, typed: &str) {
    // A reference that is emptied stays as an empty one, so that its fault has a place.
    if typed.is_empty() && (section, key) != ("order", "reference") {
        remove(document, section, key);
        return;
    }
    let Some(table) = section_of(document, section) else { return };
    put(table, key, |old| match (section, key) {
        ("order", "sides") => list_of(typed),
        _ => scalar(typed, old.is_none_or(|old| !old.is_str()) && !is_words(section, key)),
    });
}

/// Fields that stay text even where they look like a number or a truth.
fn is_words(section: &str, key: &str) -> bool {
    section == "order" || matches!(key, "row" | "grade" | "treatment" | "thread" | "series")
}

/// Takes a key out. A comment that stood above it goes to what follows.
fn remove(document: &mut DocumentMut, section: &str, key: &str) {
    let Some(table) = document.get_mut(section).and_then(Item::as_table_like_mut) else { return };
    let keys: Vec<String> = table.iter().map(|(key, _)| key.to_owned()).collect();
    let above = table
        .key(key)
        .and_then(|key| key.leaf_decor().prefix().and_then(|prefix| prefix.as_str()).map(str::to_owned))
        .filter(|prefix| prefix.contains('#'));
    let next = keys.iter().skip_while(|one| *one != key).nth(1);
    table.remove(key);
    let Some(above) = above else { return };
    if let Some(mut next) = next.and_then(|next| table.key_mut(next)) {
        let own = next.leaf_decor().prefix().and_then(|prefix| prefix.as_str()).unwrap_or_default().to_owned();
        next.leaf_decor_mut().set_prefix(format!("{above}{own}"));
    } else {
        let own = document.trailing().as_str().unwrap_or_default().to_owned();
        document.set_trailing(format!("{above}{own}"));
    }
}

/// Puts a value in the place of the one before, with the spaces and comments about it.
fn put(table: &mut dyn TableLike, key: &str, make: impl FnOnce(Option<&Value>) -> Value) {
    match table.get_mut(key) {
        Some(Item::Value(old)) => {
            let mut value = make(Some(old));
            *value.decor_mut() = old.decor().clone();
            *old = value;
        }
        _ => {
            table.insert(key, Item::Value(make(None)));
        }
    }
}

/// A number or a truth where one may stand and is meant, else text.
fn scalar(typed: &str, may_be_number: bool) -> Value {
    let read = if may_be_number { typed.parse::<Value>().ok() } else { None };
    if let Some(value @ (Value::Integer(_) | Value::Float(_) | Value::Boolean(_))) = read {
        return value;
    }
    Value::from(typed)
}

fn list_of(typed: &str) -> Value {
    let mut list = Array::new();
    for one in typed.split([',', ';']).map(str::trim).filter(|one| !one.is_empty()) {
        list.push(one);
    }
    Value::Array(list)
}

/// What was read: one size, or repeats with `;` or a comma and a blank between them.
fn value_of(typed: &str, old: Option<&Value>) -> Value {
    let parts: Vec<&str> =
        typed.split(';').flat_map(|part| part.split(", ")).map(str::trim).filter(|part| !part.is_empty()).collect();
    let bare = old.is_some_and(|old| old.is_integer() || old.is_float());
    if let [one] = parts.as_slice() {
        // A single whole number is a count or a size; both may be written bare.
        return scalar(one, bare || (old.is_none() && one.parse::<u32>().is_ok()));
    }
    let mut list = Array::new();
    for part in parts {
        list.push(part);
    }
    Value::Array(list)
}

fn set_property(table: &mut dyn TableLike, property: &str, typed: &str) {
    if typed.is_empty() {
        table.remove(property);
        return;
    }
    put(table, property, |old| match property {
        "value" | "taken_as" => value_of(typed, old),
        "conditions" => list_of(typed),
        _ => Value::from(typed),
    });
}

/// The changes of one separate reading: property (the value under no name) and what was typed.
fn of_entry(typed: &Fields, entry: usize) -> Vec<(&str, &str)> {
    let number = entry.to_string();
    typed
        .iter()
        .filter_map(|(name, typed)| {
            let (at, property) = name.split_once('.').unwrap_or((name, "value"));
            (at == number).then_some((property, typed.as_str()))
        })
        .collect()
}

fn described(typed: &[(&str, &str)]) -> InlineTable {
    let mut table = InlineTable::new();
    for property in std::iter::once("value").chain(PROPERTIES) {
        if let Some((_, typed)) = typed.iter().find(|(name, typed)| *name == property && !typed.is_empty()) {
            set_property(&mut table, property, typed);
        }
    }
    table
}

/// A value as one that says how it was taken.
fn into_described(value: Value) -> InlineTable {
    match value {
        Value::InlineTable(table) => table,
        mut bare => {
            bare.decor_mut().clear();
            let mut table = InlineTable::new();
            table.insert("value", bare);
            table
        }
    }
}

fn set_readings(document: &mut DocumentMut, section: &str, key: &str, there: usize, typed: &Fields) {
    let gone: Vec<usize> = (0..there).filter(|entry| of_entry(typed, *entry).contains(&("value", ""))).collect();
    let numbers = typed.keys().filter_map(|name| name.split('.').next()?.parse::<usize>().ok());
    let last = numbers.max().map_or(there, |last| (last + 1).max(there));
    let new: Vec<InlineTable> = (there..last)
        .map(|entry| of_entry(typed, entry))
        .filter(|typed| typed.iter().any(|(property, value)| *property == "value" && !value.is_empty()))
        .map(|typed| described(&typed))
        .collect();
    if gone.len() == there && new.is_empty() {
        remove(document, section, key);
        return;
    }
    let Some(table) = section_of(document, section) else { return };
    if there == 0 {
        table.insert(key, Item::Value(first_of(new)));
        return;
    }
    let Some(item) = table.get_mut(key) else { return };
    for entry in 0..there {
        change_entry(item, entry, &of_entry(typed, entry));
    }
    for entry in gone.iter().rev() {
        match item {
            Item::ArrayOfTables(list) => {
                list.remove(*entry);
            }
            Item::Value(Value::Array(list)) => {
                list.remove(*entry);
            }
            _ => {}
        }
    }
    for table in new {
        add_entry(item, table);
    }
}

/// One reading stands alone, and bare where it says nothing but its value; several stand in a list.
fn first_of(new: Vec<InlineTable>) -> Value {
    let mut list: Vec<Value> =
        new.into_iter()
            .map(|mut table| {
                if table.len() == 1 {
                    table.remove("value").map_or_else(|| Value::from(""), plain)
                } else {
                    table.into()
                }
            })
            .collect();
    if list.len() == 1 {
        return list.remove(0);
    }
    let mut array = Array::new();
    for value in list {
        array.push(into_described(value));
    }
    Value::Array(array)
}

fn plain(mut value: Value) -> Value {
    value.decor_mut().clear();
    value
}

fn change_entry(item: &mut Item, entry: usize, typed: &[(&str, &str)]) {
    if typed.is_empty() || typed.contains(&("value", "")) {
        return;
    }
    let value = match item {
        Item::Table(table) => {
            typed.iter().for_each(|(property, typed)| set_property(table, property, typed));
            return;
        }
        Item::ArrayOfTables(list) => {
            if let Some(table) = list.get_mut(entry) {
                typed.iter().for_each(|(property, typed)| set_property(table, property, typed));
            }
            return;
        }
        Item::Value(Value::Array(list)) if list.iter().any(Value::is_inline_table) => list.get_mut(entry),
        Item::Value(value) => Some(value),
        Item::None => None,
    };
    let Some(value) = value else { return };
    if let Some(table) = value.as_inline_table_mut() {
        typed.iter().for_each(|(property, typed)| set_property(table, property, typed));
        return;
    }
    let decor = value.decor().clone();
    let mut changed = match typed {
        [("value", typed)] => value_of(typed, Some(value)),
        _ => {
            let mut table = into_described(value.clone());
            typed.iter().for_each(|(property, typed)| set_property(&mut table, property, typed));
            Value::InlineTable(table)
        }
    };
    *changed.decor_mut() = decor;
    *value = changed;
}

/// Adds a separate reading to those that are there.
fn add_entry(item: &mut Item, table: InlineTable) {
    match item {
        Item::ArrayOfTables(list) => list.push(table.into_table()),
        Item::Value(Value::Array(list)) if list.iter().any(Value::is_inline_table) => {
            let decor = list.iter().last().map(|last| last.decor().clone());
            let mut value = Value::InlineTable(table);
            match decor {
                // In a list over several lines the new one stands on a line of its own.
                Some(decor) => {
                    let prefix = decor.prefix().and_then(|prefix| prefix.as_str()).unwrap_or(" ").to_owned();
                    value.decor_mut().set_prefix(prefix);
                    list.push_formatted(value);
                }
                None => list.push(value),
            }
        }
        Item::Value(value) => {
            let decor = value.decor().clone();
            let mut list = Array::new();
            list.push(into_described(plain(value.clone())));
            list.push(table);
            *value = Value::Array(list);
            *value.decor_mut() = decor;
        }
        Item::Table(_) | Item::None => {}
    }
}
