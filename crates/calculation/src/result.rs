//! What a calculation gives: blocks of quantities, each block with its source.

use quantity::{Leading, Length};

use super::quantity_text::Quantity;

/// The outcome of one calculation.
#[derive(Debug, Clone, PartialEq)]
pub struct Calculation {
    /// The command that gave it.
    pub command: &'static str,
    /// What was computed, in a line.
    pub subject: String,
    /// The unit that stands first.
    pub leading: Leading,
    /// What was taken because nothing was said, one sentence each.
    pub taken: Vec<String>,
    /// The blocks, in the order in which they are read.
    pub blocks: Vec<Block>,
    /// The cautions that bear on it.
    pub cautions: &'static [&'static str],
}

/// Quantities that follow the same source.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    /// The block's name, with underscores for spaces.
    pub key: &'static str,
    /// Standard with its edition, or handbook with its section.
    pub source: String,
    /// The quantities.
    pub entries: Vec<Entry>,
    /// What has to be known to use them, one sentence each.
    pub notes: Vec<String>,
}

/// One quantity.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// The quantity's name, with underscores for spaces.
    pub key: String,
    /// The quantity.
    pub amount: Amount,
    /// What it is for; may be empty.
    pub remark: String,
}

/// How much of something.
#[derive(Debug, Clone, PartialEq)]
pub enum Amount {
    /// One quantity.
    One(Quantity),
    /// From the least to the most.
    Range(Quantity, Quantity),
    /// Something that is said in words.
    Words(String),
}

impl Block {
    /// An empty block.
    pub fn new(key: &'static str, source: impl Into<String>) -> Self {
        Self { key, source: source.into(), entries: Vec::new(), notes: Vec::new() }
    }

    /// Adds a quantity.
    pub fn one(&mut self, key: impl Into<String>, quantity: Quantity, remark: impl Into<String>) {
        self.entries.push(Entry { key: key.into(), amount: Amount::One(quantity), remark: remark.into() });
    }

    /// Adds a size.
    pub fn size(&mut self, key: impl Into<String>, size: Length, remark: impl Into<String>) {
        self.one(key, Quantity::Size(size), remark);
    }

    /// Adds a quantity that lies between two.
    pub fn range(&mut self, key: impl Into<String>, least: Quantity, most: Quantity, remark: impl Into<String>) {
        self.entries.push(Entry { key: key.into(), amount: Amount::Range(least, most), remark: remark.into() });
    }

    /// Adds something that is said in words.
    pub fn words(&mut self, key: impl Into<String>, words: impl Into<String>, remark: impl Into<String>) {
        self.entries.push(Entry { key: key.into(), amount: Amount::Words(words.into()), remark: remark.into() });
    }

    /// Adds what has to be known to use the quantities.
    pub fn note(&mut self, sentence: impl Into<String>) {
        self.notes.push(sentence.into());
    }
}
