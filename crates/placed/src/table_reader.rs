//! Reads a table key by key and finds what nobody asked for.

use std::cell::{Cell, RefCell};
use std::ops::Range;

use quantity::nearest_word;

use crate::document::Document;
use crate::fault::Fault;
use crate::item::Item;
use crate::node::{Kind, Node, Table};
use crate::position::Position;

/// Reads one table of a document.
///
/// Keys are asked for one by one. [`TableReader::finish`] then records a fault for every key that
/// stands in the table and was not asked for, so a misspelt key cannot pass unseen.
#[derive(Debug)]
#[must_use = "finish() finds the keys that are not known"]
pub struct TableReader<'d> {
    document: &'d Document,
    table: &'d Table,
    origin: Origin<'d>,
    asked: RefCell<Vec<Asked>>,
    /// Whether the keys are names of the table's own, all of them known.
    open: Cell<bool>,
}

/// Where a table stands.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Origin<'d> {
    /// It is the whole document.
    Root,
    /// It is the value of a key, under a header of its own or not.
    Value(&'d Node),
}

/// A key that was asked for.
#[derive(Debug)]
struct Asked {
    key: String,
    /// The fault that was recorded because the key is missing.
    missing: Option<Fault>,
}

impl<'d> TableReader<'d> {
    pub(crate) fn new(document: &'d Document, table: &'d Table, origin: Origin<'d>) -> TableReader<'d> {
        TableReader { document, table, origin, asked: RefCell::default(), open: Cell::new(false) }
    }

    /// The value of a key, if it is there.
    pub fn optional(&self, key: &str) -> Option<Item<'d>> {
        self.ask(key);
        self.item(key)
    }

    /// The value of a key; a fault if it is not there.
    pub fn required(&self, key: &str) -> Option<Item<'d>> {
        self.required_like(key, &format!("{key} = …"))
    }

    /// The value of a key; a fault if it is not there, which shows how the line could look.
    pub fn required_like(&self, key: &str, example: &str) -> Option<Item<'d>> {
        self.ask(key);
        let item = self.item(key);
        if item.is_none() {
            self.record_missing(key, example);
        }
        item
    }

    /// The table under a key, if it is there.
    pub fn table(&self, key: &str) -> Option<TableReader<'d>> {
        self.optional(key)?.table()
    }

    /// The table under a key; a fault if it is not there.
    pub fn required_table(&self, key: &str) -> Option<TableReader<'d>> {
        self.required_like(key, &format!("[{key}]"))?.table()
    }

    /// The tables in the list under a key, as `[[key]]` or `key = [{…}, {…}]`; none if it is not
    /// there. An entry that is no table is a fault, and the others are still given.
    pub fn tables(&self, key: &str) -> Vec<TableReader<'d>> {
        let Some(item) = self.optional(key) else {
            return Vec::new();
        };
        if matches!(item.node().kind, Kind::Table(_)) {
            item.fault(format!("`{key}` must be a list of tables, but here stands a single one"), format!("[[{key}]]"));
            return Vec::new();
        }
        item.list().unwrap_or_default().iter().filter_map(Item::table).collect()
    }

    /// All keys with their values, in the order of the file, for a table whose keys are names of its
    /// own. All of them count as asked for.
    pub fn entries(&self) -> Vec<(&'d str, Item<'d>)> {
        self.open.set(true);
        self.table.entries.iter().map(|entry| (entry.name.as_str(), Item::of_entry(self.document, entry))).collect()
    }

    /// Whether the key is there. It does not count as asked for.
    pub fn has(&self, key: &str) -> bool {
        self.table.entry(key).is_some()
    }

    /// Where the table begins: its header, its brace, or the first key of a dotted one.
    pub fn position(&self) -> Position {
        self.document.position(self.span().start)
    }

    /// The bytes of the table's header, brace or dotted key; nothing for the whole document.
    pub fn span(&self) -> Range<usize> {
        match self.origin {
            Origin::Root => 0..0,
            Origin::Value(node) => node.span.clone(),
        }
    }

    /// Records a fault of the table as a whole.
    pub fn fault(&self, problem: impl Into<String>, accepted: impl Into<String>) {
        // The whole document has no line of its own that could be unreadable.
        if let Origin::Root = self.origin {
            self.document.record(self.span(), problem.into(), accepted.into());
        } else {
            self.document.fault(self.span(), problem, accepted);
        }
    }

    /// Records a fault for every key that was not asked for.
    ///
    /// A key that looks like one that is required and missing is taken for it, and only one fault is
    /// left of the two.
    pub fn finish(self) {
        if self.open.get() {
            return;
        }
        let asked = self.asked.into_inner();
        let known: Vec<&str> = asked.iter().map(|asked| asked.key.as_str()).collect();
        for entry in &self.table.entries {
            if known.contains(&entry.name.as_str()) {
                continue;
            }
            let missing = asked.iter().filter(|asked| asked.missing.is_some());
            let unused = known.iter().filter(|key| self.table.entry(key).is_none());
            // A key that is there already is hardly the one that was meant.
            let meant = nearest_word(&entry.name, missing.map(|asked| asked.key.as_str()))
                .or_else(|| nearest_word(&entry.name, unused.copied()));
            let fault =
                asked.iter().find(|asked| Some(asked.key.as_str()) == meant).and_then(|asked| asked.missing.as_ref());
            if let Some(fault) = fault {
                self.document.withdraw(fault);
            }
            let hint = meant.map_or_else(String::new, |key| format!(", did you mean `{key}`?"));
            self.document.fault(
                entry.key_span.clone(),
                format!("`{}` is not known here{hint}", entry.name),
                if known.is_empty() { "no keys".to_owned() } else { known.join(", ") },
            );
        }
    }

    fn item(&self, key: &str) -> Option<Item<'d>> {
        let entry = self.table.entry(key)?;
        Some(Item::of_entry(self.document, entry))
    }

    fn ask(&self, key: &str) {
        let mut asked = self.asked.borrow_mut();
        if !asked.iter().any(|asked| asked.key == key) {
            asked.push(Asked { key: key.to_owned(), missing: None });
        }
    }

    fn record_missing(&self, key: &str, example: &str) {
        let (node, place) = match self.origin {
            Origin::Root => (None, "the file"),
            Origin::Value(node) if self.document.is_damaged(node.span.start) => return,
            Origin::Value(node) => (Some(node), self.document.slice(node.span.clone())),
        };
        if self.document.has_lost(key, node) {
            return;
        }
        let place = place.lines().next().unwrap_or_default();
        let fault = self.document.record(self.span(), format!("`{key}` is missing in {place}"), example.to_owned());
        let mut asked = self.asked.borrow_mut();
        if let Some(asked) = asked.iter_mut().find(|asked| asked.key == key) {
            asked.missing = Some(fault);
        }
    }
}
