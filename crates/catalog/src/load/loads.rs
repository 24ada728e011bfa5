//! Reads `loads.toml`.

use std::fmt;

use crate::load_input::{LOAD_USES, LoadBound, LoadInput, LoadUse};

use super::row::Row;
use super::rows::KeyedRow;

/// What a bound is known by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Bounded {
    use_: Option<LoadUse>,
    input: LoadInput,
}

impl fmt::Display for Bounded {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let word = LOAD_USES.iter().find(|(use_, _)| Some(*use_) == self.use_).map_or("any", |(_, word)| *word);
        write!(out, "{} for the use {word}", self.input.key())
    }
}

impl KeyedRow for LoadBound {
    const TABLE: &'static str = "load";
    type Key = Bounded;

    fn read_key(row: &Row<'_>) -> Option<Bounded> {
        let mut uses: Vec<(&str, Option<LoadUse>)> = vec![("any", None)];
        uses.extend(LOAD_USES.iter().map(|(use_, word)| (*word, Some(*use_))));
        let inputs: Vec<(&str, LoadInput)> = LoadInput::all().map(|input| (input.key(), input)).collect();
        let use_ = row.value("use", None, |item| item.one_of(&uses));
        let input = row.value("input", None, |item| item.one_of(&inputs));
        Some(Bounded { use_: use_?, input: input? })
    }

    fn is(&self, key: &Bounded) -> bool {
        self.use_ == key.use_ && self.input == key.input
    }

    fn read(row: &Row<'_>, key: Bounded, old: Option<&Self>) -> Option<Self> {
        let mild = row.value("mild", old.map(|old| old.mild), |item| key.input.read(&item, None));
        let harsh = row.value("harsh", old.map(|old| old.harsh), |item| key.input.read(&item, None));
        let source = row.source();
        Some(Self { use_: key.use_, input: key.input, mild: mild?, harsh: harsh?, source: source? })
    }
}
