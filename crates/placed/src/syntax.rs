//! Parses TOML so that a fault in the syntax costs no more of the file than it must.
//!
//! The parser recovers from most faults by itself. A few swallow the rest of the file: a line without
//! `=`, a table name that is not closed, a list, inline table or long text that is not closed. These
//! are mended in a copy of the text and the copy is parsed again; the fault is recorded where it
//! stands in the original.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue, Error};

use crate::mended_text::MendedText;
use crate::node::{Conversion, Table};
use crate::position::Source;
use crate::syntax_message::{Swallowing, SyntaxFault, describe, swallowing};

/// A document after parsing.
#[derive(Debug)]
pub(crate) struct Parsed {
    pub(crate) root: Table,
    /// At most one fault a line, in the order of the file.
    pub(crate) faults: Vec<SyntaxFault>,
    /// Lines whose syntax is wrong; what is read from them is not to be trusted.
    pub(crate) damaged_lines: BTreeSet<usize>,
    /// Keys that stand in the file but could not be read.
    pub(crate) lost_keys: Vec<LostKey>,
}

/// A key on a line that had to be given up.
#[derive(Debug)]
pub(crate) struct LostKey {
    pub(crate) name: String,
    /// The line of the table header that it stands under, none for the first table of the file.
    pub(crate) header_line: Option<usize>,
}

/// Mending goes on while it finds something; a text that is no TOML at all is given up after this.
const MOST_REPAIRS: usize = 100;

pub(crate) fn parse(source: &Source) -> Parsed {
    let mut reading = Reading {
        source,
        mended: MendedText::new(source.text()),
        faults: BTreeMap::new(),
        damaged_lines: BTreeSet::new(),
        lost_keys: Vec::new(),
    };
    for _ in 0..MOST_REPAIRS {
        let text = reading.mended.text().to_owned();
        let (root, errors) = DeTable::parse_recoverable(&text);
        if !reading.mend(&root, &errors) {
            return reading.finish(&root, &errors);
        }
    }
    let text = reading.mended.text().to_owned();
    let (root, errors) = DeTable::parse_recoverable(&text);
    reading.finish(&root, &errors)
}

struct Reading<'s> {
    source: &'s Source,
    mended: MendedText,
    /// By line; the first fault of a line is the one that tells.
    faults: BTreeMap<usize, SyntaxFault>,
    damaged_lines: BTreeSet<usize>,
    lost_keys: Vec<LostKey>,
}

impl Reading<'_> {
    /// Mends what swallows the rest of the file. False if there is nothing of that kind.
    fn mend(&mut self, root: &Spanned<DeTable<'_>>, errors: &[Error]) -> bool {
        let mut mended = false;
        // Lines without a value and unclosed names do not hide one another, so all of them are
        // mended in one go, from the end so that the places before stay where they are.
        for error in errors.iter().rev() {
            let Some(span) = error.span() else { continue };
            let at = self.mended.original(span.start);
            match swallowing(error.message()) {
                Some(Swallowing::Line) => mended |= self.give_up_line(at, error),
                Some(Swallowing::Name(closing)) => {
                    self.record(at..at, error);
                    mended |= self.mended.insert(span.start, closing);
                }
                _ => {}
            }
        }
        if mended {
            return true;
        }
        for error in errors {
            let Some(span) = error.span() else { continue };
            if let Some(Swallowing::Value) = swallowing(error.message())
                && let Some(value) = value_reaching(root.get_ref(), span.start)
            {
                return self.give_up_value(value);
            }
        }
        false
    }

    /// Blanks a line that the parser cannot get over.
    fn give_up_line(&mut self, at: usize, error: &Error) -> bool {
        let line = self.source.line_of(at);
        let range = self.source.line_range(line);
        self.record(at..at, error);
        let key = self.source.line(line).trim();
        let name = key.split(['=', ' ', '\t', '.']).next().unwrap_or_default();
        self.lost_keys.push(LostKey {
            name: name.trim_matches(['"', '\'']).to_owned(),
            header_line: self.header_line_before(line),
        });
        self.mended.blank(range, "")
    }

    /// Puts an empty text in the place of a value that is not closed, up to the next line that
    /// begins a key or a table.
    fn give_up_value(&mut self, value: Range<usize>) -> bool {
        let start = self.mended.original(value.start);
        let first = self.source.line_of(start);
        let last = (first + 1..=self.source.line_count())
            .find(|line| begins_entry(self.source.line(*line)))
            .map_or(self.source.line_count(), |next| next - 1);
        let seen = start..self.source.line_range(first).end.max(start);
        self.damaged_lines.extend(first..=last);
        let fault = SyntaxFault::not_closed(seen.clone(), self.source.slice(seen));
        self.faults.entry(first).or_insert(fault);
        let end = self.source.line_range(last).end;
        self.mended.blank(start..end, "\"\"")
    }

    fn header_line_before(&self, line: usize) -> Option<usize> {
        (1..line).rev().find(|earlier| self.source.line(*earlier).trim_start().starts_with('['))
    }

    fn record(&mut self, at: Range<usize>, error: &Error) {
        let line = self.source.line_of(at.start);
        let fault = describe(self.source, at, error.message());
        if !fault.is_duplicate {
            self.damaged_lines.insert(line);
        }
        self.faults.entry(line).or_insert(fault);
    }

    fn finish(mut self, root: &Spanned<DeTable<'_>>, errors: &[Error]) -> Parsed {
        for error in errors {
            let span = error.span().unwrap_or_default();
            let start = self.mended.original(span.start);
            let end = self.mended.original(span.end).max(start);
            self.record(start..end, error);
        }
        let original = |byte: usize| self.mended.original(byte);
        let conversion = Conversion { source: self.source, damaged_lines: &self.damaged_lines, original: &original };
        Parsed {
            root: conversion.table(root.get_ref()),
            faults: self.faults.into_values().collect(),
            damaged_lines: self.damaged_lines,
            lost_keys: self.lost_keys,
        }
    }
}

/// The outermost list, inline table or text that reaches to a place; tables under headers and dotted
/// keys only hold it.
fn value_reaching(table: &DeTable<'_>, place: usize) -> Option<Range<usize>> {
    table.values().find_map(|value| reaching(value, place))
}

fn reaching(value: &Spanned<DeValue<'_>>, place: usize) -> Option<Range<usize>> {
    if value.span().start < place && value.span().end >= place {
        return Some(value.span());
    }
    match value.get_ref() {
        DeValue::Table(table) => value_reaching(table, place),
        DeValue::Array(values) => values.iter().find_map(|value| reaching(value, place)),
        _ => None,
    }
}

/// Whether a line looks like the beginning of a key or of a table's name, closed or not.
fn begins_entry(line: &str) -> bool {
    let of_a_name =
        |character: char| character.is_alphanumeric() || matches!(character, '_' | '-' | '.' | ' ' | '"' | '\'');
    let line = line.split('#').next().unwrap_or_default().trim();
    if let Some(name) = line.strip_prefix('[') {
        let name = name.strip_prefix('[').unwrap_or(name);
        let name = name.trim_end_matches(']').trim();
        // A list of bare words is no list, so a letter can only begin a name.
        return name.starts_with(char::is_alphabetic) && name.chars().all(of_a_name);
    }
    line.split_once('=').is_some_and(|(key, _)| !key.trim().is_empty() && key.chars().all(of_a_name))
}

#[cfg(test)]
mod tests {
    use super::begins_entry;

    #[test]
    fn lines_that_begin_something_are_told_from_lines_inside_a_list() {
        for line in ["a = 1", "  a.b=2", "\"a b\" = 3", "[t]", "[[t.u]] # list", "[ t ]", "[t"] {
            assert!(begins_entry(line), "{line}");
        }
        for line in ["", "1, 2", "[1, 2],", "[1]", "\"a\",", "{ x = 1 },", "# a = 1", "]", "= 3"] {
            assert!(!begins_entry(line), "{line}");
        }
    }
}
