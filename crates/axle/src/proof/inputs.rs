//! The inputs of the load cases: stated by the sheet, or taken from the bounds of the catalog.

use catalog::{Catalog, LoadInput};
use quantity::Leading;

use super::figure::Gap;
use super::{AssumedInput, StatedInput};
use crate::sheet::Sheet;

/// Which end of the bounds an open input is taken at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum End {
    Mild,
    Harsh,
}

/// An input with both of its ends.
#[derive(Debug, Clone)]
pub(crate) struct Known {
    pub input: LoadInput,
    pub mild: f64,
    pub harsh: f64,
    /// Line of the sheet, where it is stated.
    pub line: Option<usize>,
    source: String,
}

/// All inputs of an order.
#[derive(Debug, Clone)]
pub(crate) struct Inputs {
    known: Vec<Known>,
    /// Whether one shaft may take more than half of the torque: at the mild and at the harsh end.
    pub locks: (bool, bool),
    count: usize,
    /// The system of units that stands first in what is said.
    pub leading: Leading,
}

impl Inputs {
    pub fn gather(sheet: &Sheet, catalog: &Catalog) -> Self {
        let use_ = sheet.use_.of_loads();
        let mut known = Vec::new();
        let mut count = 0;
        for input in LoadInput::all() {
            count += 1;
            let stated = sheet.loads.stated.get(&input);
            if let Some((value, line)) = stated {
                let source = format!("order sheet, line {line}");
                known.push(Known { input, mild: *value, harsh: *value, line: Some(*line), source });
            } else if let Some(bound) = catalog.load_bound(use_, input) {
                let source = bound.source.to_string();
                known.push(Known { input, mild: bound.mild, harsh: bound.harsh, line: None, source });
            }
        }
        let named = sheet.differential.as_deref().and_then(|name| catalog.differential(name));
        let locks = named.map_or((false, true), |row| (row.locks, row.locks));
        Self { known, locks, count, leading: crate::leading(sheet) }
    }

    pub fn known(&self) -> &[Known] {
        &self.known
    }

    /// All inputs at one end.
    pub fn at(&self, end: End) -> Values {
        let mut values = vec![None; self.count];
        for one in &self.known {
            values[one.input as usize] = Some(if end == End::Mild { one.mild } else { one.harsh });
        }
        Values { values, locks: if end == End::Mild { self.locks.0 } else { self.locks.1 }, end }
    }

    pub fn stated(&self) -> Vec<StatedInput> {
        let stated = self.known.iter().filter_map(|one| Some((one, one.line?)));
        let value = |one: &Known| one.input.text(one.harsh, self.leading);
        stated.map(|(one, line)| StatedInput { input: one.input, value: value(one), line }).collect()
    }

    pub fn assumed(&self) -> Vec<AssumedInput> {
        let mut assumed: Vec<AssumedInput> = self
            .known
            .iter()
            .filter(|one| one.line.is_none())
            .map(|one| AssumedInput {
                input: Some(one.input),
                words: one.input.words().to_owned(),
                mild: one.input.text(one.mild, self.leading),
                harsh: one.input.text(one.harsh, self.leading),
                source: one.source.clone(),
            })
            .collect();
        if self.locks.0 != self.locks.1 {
            assumed.push(AssumedInput {
                input: None,
                words: "differential".to_owned(),
                mild: "open".to_owned(),
                harsh: "one that can give one shaft all of the torque".to_owned(),
                source: "the sheet names none".to_owned(),
            });
        }
        assumed
    }
}

/// The inputs at one end of their bounds, or with one of them moved.
#[derive(Debug, Clone)]
pub(crate) struct Values {
    values: Vec<Option<f64>>,
    pub locks: bool,
    pub end: End,
}

impl Values {
    pub fn get(&self, input: LoadInput) -> Result<f64, Gap> {
        self.optional(input).ok_or_else(|| Gap::input(input))
    }

    pub fn optional(&self, input: LoadInput) -> Option<f64> {
        self.values.get(input as usize).copied().flatten()
    }

    /// The same with one input at another value.
    pub fn with(&self, input: LoadInput, value: f64) -> Self {
        let mut moved = self.clone();
        if let Some(slot) = moved.values.get_mut(input as usize) {
            *slot = Some(value);
        }
        moved
    }

    /// A length in metres.
    pub fn metres(&self, input: LoadInput) -> Result<f64, Gap> {
        Ok(self.get(input)? / 1000.0)
    }
}
