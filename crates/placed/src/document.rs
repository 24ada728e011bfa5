//! A TOML document and the list of what is wrong in it.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::ops::Range;

use crate::fault::{Fault, Faults};
use crate::node::{Node, Table};
use crate::position::{Position, Source};
use crate::syntax::{LostKey, parse};
use crate::table_reader::{Origin, TableReader};

/// A whole document: its text, its tree, and the faults found in it so far.
///
/// Parsing never fails. What is wrong in the syntax is already in the list of faults, and everything
/// that can be read can still be read, so that one run shows all faults of the file.
///
/// ```
/// use placed::Document;
///
/// let document = Document::parse("part.toml", "bore = 35\nwidht = 17\n");
/// let part = document.root();
/// let bore = part.required("bore").and_then(|item| item.number());
/// let width = part.required("width").and_then(|item| item.number());
/// part.finish();
///
/// let faults = document.outcome(bore.zip(width)).unwrap_err();
/// assert_eq!(
///     faults.to_string(),
///     "part.toml:2:1: `widht` is not known here, did you mean `width`?\n\
///      \x20 widht = 17\n\
///      \x20 ^^^^^\n\
///      \x20 accepted: bore, width\n"
/// );
/// ```
#[derive(Debug)]
pub struct Document {
    name: String,
    source: Source,
    root: Table,
    damaged_lines: BTreeSet<usize>,
    lost_keys: Vec<LostKey>,
    faults: RefCell<Vec<Fault>>,
}

impl Document {
    /// Parses a document; `name` is what its faults call the file.
    pub fn parse(name: &str, text: &str) -> Document {
        let source = Source::new(text);
        let parsed = parse(&source);
        let document = Document {
            name: name.to_owned(),
            source,
            root: parsed.root,
            damaged_lines: parsed.damaged_lines,
            lost_keys: parsed.lost_keys,
            faults: RefCell::default(),
        };
        for fault in parsed.faults {
            document.record(fault.span, fault.problem, fault.accepted);
        }
        document
    }

    /// The name of the file.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole text.
    pub fn text(&self) -> &str {
        self.source.text()
    }

    /// A reader for the table that the document is.
    pub fn root(&self) -> TableReader<'_> {
        TableReader::new(self, &self.root, Origin::Root)
    }

    /// The faults found so far, sorted by place.
    pub fn faults(&self) -> Faults {
        Faults::new(self.faults.borrow().clone())
    }

    /// What was read from the document, or all its faults.
    ///
    /// # Errors
    ///
    /// All faults, if there is any, even if the value could be read.
    pub fn outcome<T>(&self, value: Option<T>) -> Result<T, Faults> {
        let faults = self.faults();
        match value {
            Some(value) if faults.is_empty() => Ok(value),
            None if faults.is_empty() => {
                let problem = "the file could not be read".to_owned();
                let accepted = "a file that holds everything asked for".to_owned();
                Err(Faults::new(vec![self.fault_at(0..0, problem, accepted)]))
            }
            _ => Err(faults),
        }
    }

    /// Records a fault at a place that an item gave with [`Item::span`](crate::Item::span).
    pub fn fault(&self, span: Range<usize>, problem: impl Into<String>, accepted: impl Into<String>) {
        if !self.is_damaged(span.start) {
            self.record(span, problem.into(), accepted.into());
        }
    }

    /// The line and column of a byte of the text.
    pub fn position(&self, byte: usize) -> Position {
        self.source.position(byte)
    }

    pub(crate) fn slice(&self, span: Range<usize>) -> &str {
        self.source.slice(span)
    }

    /// Whether the syntax is wrong on the line of a byte, so that further faults there mean nothing.
    pub(crate) fn is_damaged(&self, byte: usize) -> bool {
        self.damaged_lines.contains(&self.source.line_of(byte))
    }

    /// Whether a key stands in the table but on a line that could not be read. A table that is not
    /// under a header of its own is looked for by the nearest header before it.
    pub(crate) fn has_lost(&self, key: &str, table: Option<&Node>) -> bool {
        let header_line = table.map(|node| self.source.line_of(node.span.start));
        self.lost_keys.iter().any(|lost| lost.name == key && lost.header_line == header_line)
    }

    /// Takes back the faults of a key that is missing, because it was found under another name.
    pub(crate) fn withdraw(&self, fault: &Fault) {
        self.faults.borrow_mut().retain(|other| other != fault);
    }

    /// Records a fault and gives it back.
    pub(crate) fn record(&self, span: Range<usize>, problem: String, accepted: String) -> Fault {
        let fault = self.fault_at(span, problem, accepted);
        self.faults.borrow_mut().push(fault.clone());
        fault
    }

    fn fault_at(&self, span: Range<usize>, problem: String, accepted: String) -> Fault {
        let position = self.source.position(span.start);
        let line = self.source.line_range(position.line);
        let start = span.start.clamp(line.start, line.end.max(line.start));
        let end = span.end.clamp(start, line.end.max(start));
        Fault {
            file: self.name.clone(),
            line: position.line,
            column: position.column,
            offending: self.source.slice(start..end).to_owned(),
            span,
            problem,
            accepted,
            source_line: self.source.slice(line).to_owned(),
        }
    }
}
