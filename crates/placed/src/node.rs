//! The parsed tree of a document, owned and in the order of the file.

use std::collections::BTreeSet;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::date::Date;
use crate::position::Source;

/// A value and the bytes it was read from.
#[derive(Debug)]
pub(crate) struct Node {
    pub(crate) span: Range<usize>,
    pub(crate) kind: Kind,
    /// Whether the syntax was wrong on one of its lines; the fault is recorded, the value is not to
    /// be trusted.
    pub(crate) damaged: bool,
}

#[derive(Debug)]
pub(crate) enum Kind {
    Text(String),
    Integer { digits: String, radix: u32 },
    Float(String),
    Boolean(bool),
    Date { date: Option<Date>, alone: bool },
    List(Vec<Node>),
    Table(Table),
}

impl Kind {
    /// What the value is, in words that fit behind "here stands".
    pub(crate) fn name(&self) -> &'static str {
        match self {
            Kind::Text(_) => "text",
            Kind::Integer { .. } => "a whole number",
            Kind::Float(_) => "a number with decimals",
            Kind::Boolean(_) => "true or false",
            Kind::Date { .. } => "a date or time",
            Kind::List(_) => "a list",
            Kind::Table(_) => "a table",
        }
    }
}

/// A table, its entries in the order of the file.
#[derive(Debug, Default)]
pub(crate) struct Table {
    pub(crate) entries: Vec<Entry>,
}

#[derive(Debug)]
pub(crate) struct Entry {
    pub(crate) name: String,
    pub(crate) key_span: Range<usize>,
    pub(crate) value: Node,
}

impl Table {
    pub(crate) fn entry(&self, name: &str) -> Option<&Entry> {
        self.entries.iter().find(|entry| entry.name == name)
    }
}

/// Turns the parser's tree into ours.
pub(crate) struct Conversion<'s> {
    pub(crate) source: &'s Source,
    /// Lines whose syntax is wrong.
    pub(crate) damaged_lines: &'s BTreeSet<usize>,
    /// Finds the byte of the source that a byte of the parsed text stands for.
    pub(crate) original: &'s dyn Fn(usize) -> usize,
}

impl Conversion<'_> {
    pub(crate) fn table(&self, table: &DeTable<'_>) -> Table {
        let mut entries: Vec<Entry> = table
            .iter()
            .map(|(key, value)| Entry {
                name: key.get_ref().to_string(),
                key_span: self.span(&key.span()),
                value: self.node(value),
            })
            .collect();
        // The parser sorts by name; faults and listings follow the file.
        entries.sort_by_key(|entry| entry.key_span.start);
        Table { entries }
    }

    fn node(&self, value: &Spanned<DeValue<'_>>) -> Node {
        let span = self.span(&value.span());
        let kind = match value.get_ref() {
            DeValue::String(text) => Kind::Text(text.to_string()),
            DeValue::Integer(integer) => Kind::Integer { digits: integer.as_str().to_owned(), radix: integer.radix() },
            DeValue::Float(float) => Kind::Float(float.as_str().to_owned()),
            DeValue::Boolean(boolean) => Kind::Boolean(*boolean),
            DeValue::Datetime(moment) => Kind::Date {
                date: moment.date.and_then(|date| Date::new(date.year, date.month, date.day)),
                alone: moment.time.is_none() && moment.offset.is_none(),
            },
            DeValue::Array(values) => Kind::List(values.iter().map(|value| self.node(value)).collect()),
            DeValue::Table(table) => Kind::Table(self.table(table)),
        };
        let damaged = match kind {
            // A list or table is as good as what it holds, and that is marked by itself.
            Kind::List(_) | Kind::Table(_) => false,
            _ => self.is_damaged(&span),
        };
        Node { span, kind, damaged }
    }

    fn is_damaged(&self, span: &Range<usize>) -> bool {
        let first = self.source.line_of(span.start);
        let last = self.source.line_of(span.end);
        self.damaged_lines.range(first..=last).next().is_some()
    }

    fn span(&self, span: &Range<usize>) -> Range<usize> {
        (self.original)(span.start)..(self.original)(span.end)
    }
}
