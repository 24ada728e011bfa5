//! Lists of rows that are known by a key: the shipped ones, then a shop's on top of them.

use std::fmt::Display;

use placed::{Document, Item};
use quantity::nearest_word;

use super::row::Row;

/// A row of an array of tables, known by a key that no other row has.
pub(super) trait KeyedRow: Sized {
    /// The name of the array in the file.
    const TABLE: &'static str;
    /// What a row is known by.
    type Key: Clone + Display + PartialEq;

    /// Reads the key of a row.
    fn read_key(row: &Row<'_>) -> Option<Self::Key>;
    /// Whether this row is known by that key.
    fn is(&self, key: &Self::Key) -> bool;
    /// Reads the rest of a row, on top of the inherited one. It asks for every key before it gives up, so that all faults
    /// of a row show at once and no key is taken for an unknown one.
    fn read(row: &Row<'_>, key: Self::Key, inherited: Option<&Self>) -> Option<Self>;
}

/// The rows of a topic.
pub(super) struct Rows<'d, T> {
    /// The rows that stand, in the order in which they were first given.
    pub rows: Vec<T>,
    /// The rows that a shop took out, with the place where it did.
    pub removed: Vec<(T, Item<'d>)>,
}

/// Reads the rows of a topic from its files, in their order.
pub(super) fn read_rows<'d, T: KeyedRow>(files: &[&'d Document]) -> Rows<'d, T> {
    let mut found = Rows { rows: Vec::new(), removed: Vec::new() };
    for file in files {
        let root = file.root();
        let mut given = Vec::new();
        for table in root.tables(T::TABLE) {
            let row = Row::new(table);
            if let Some(key) = T::read_key(&row) {
                read_row(row, key, &mut given, &mut found);
            }
        }
        if found.rows.is_empty() {
            root.fault(
                format!("the catalog would hold no {} at all", T::TABLE.replace('_', " ")),
                format!("at least one [[{}]]", T::TABLE),
            );
        }
        root.finish();
    }
    found
}

/// Reads one row, which may be new, change an earlier one, or take it out.
fn read_row<'d, T: KeyedRow>(row: Row<'d>, key: T::Key, given: &mut Vec<T::Key>, found: &mut Rows<'d, T>) {
    if given.contains(&key) {
        row.fault(format!("{key} is given twice in this file"), "each row once");
        return;
    }
    given.push(key.clone());
    let known = found.rows.iter().position(|earlier| earlier.is(&key));
    if let Some(remove) = row.item("remove") {
        take_out(&key, remove, known, found);
    } else {
        let read = T::read(&row, key, known.and_then(|at| found.rows.get(at)));
        match (read, known.and_then(|at| found.rows.get_mut(at))) {
            (Some(read), Some(earlier)) => *earlier = read,
            (Some(read), None) => found.rows.push(read),
            (None, _) => {}
        }
    }
    row.finish();
}

/// Takes a row out, if it is there.
fn take_out<'d, T: KeyedRow>(key: &T::Key, remove: Item<'d>, known: Option<usize>, found: &mut Rows<'d, T>) {
    match (remove.boolean(), known) {
        (Some(true), Some(at)) => {
            let row = found.rows.remove(at);
            found.removed.push((row, remove));
        }
        (Some(true), None) => remove.fault(format!("there is no {key} to remove"), "a row that the catalog holds"),
        (Some(false), _) => remove.fault("a row that stays needs no such key", "true, or no such key"),
        (None, _) => {}
    }
}

/// Reads a file whose tables are named by a closed list of keys, one for each: shipped first, a shop's on top. Nothing
/// where a row is missing, which is then a fault.
pub(super) fn by_key<K: Copy + PartialEq, T>(
    files: &[&Document],
    what: &str,
    known: &[(K, &'static str)],
    read: impl Fn(&Row<'_>, K, Option<&T>) -> Option<T>,
) -> Option<Vec<T>> {
    let names: Vec<&str> = known.iter().map(|(_, name)| *name).collect();
    let mut rows: Vec<Option<T>> = known.iter().map(|_| None).collect();
    for (number, file) in files.iter().enumerate() {
        let root = file.root();
        for (name, item) in root.entries() {
            let Some(at) = names.iter().position(|known| *known == name) else {
                unknown(&item, what, name, &names);
                continue;
            };
            let (Some(table), Some((key, _)), Some(slot)) = (item.table(), known.get(at), rows.get_mut(at)) else {
                continue;
            };
            let row = Row::new(table);
            let found = read(&row, *key, slot.as_ref());
            row.finish();
            if found.is_some() {
                *slot = found;
            }
        }
        if number == 0 {
            let given: Vec<&str> = root.entries().into_iter().map(|(name, _)| name).collect();
            for missing in names.iter().filter(|name| !given.contains(name)) {
                root.fault(format!("there is no [{missing}]"), format!("a table for every {what}"));
            }
        }
    }
    rows.into_iter().collect()
}

/// Records an unknown name at its place, with the nearest known one.
pub(super) fn unknown(item: &Item<'_>, what: &str, name: &str, known: &[&str]) {
    let accepted = match nearest_word(name, known.iter().copied()) {
        Some(near) => format!("{near}, perhaps"),
        None => format!("one of {}", known.join(", ")),
    };
    item.fault_at_key(format!("there is no {what} {name:?}"), accepted);
}
