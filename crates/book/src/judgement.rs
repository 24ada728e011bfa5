//! What the latest review says of an order, as lists show it.

use std::fmt;

use axle::Verdict;

use crate::error::BookError;

/// The verdict of the latest review, or that there could be none.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Judgement {
    /// The shafts may be cut.
    Cut,
    /// Something has to be asked first.
    Ask,
    /// Something cannot work or must not be made.
    Stop,
    /// The sheet can no longer be read with the catalog, for one of its rows is gone.
    Unreadable,
}

impl Judgement {
    /// Every judgement.
    pub const ALL: [Self; 4] = [Self::Cut, Self::Ask, Self::Stop, Self::Unreadable];

    /// `cut`, `ask`, `stop` or `unreadable`.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Cut => "cut",
            Self::Ask => "ask",
            Self::Stop => "stop",
            Self::Unreadable => "unreadable",
        }
    }

    /// The judgement that a word names.
    ///
    /// # Errors
    ///
    /// There is no such judgement.
    pub fn read(word: &str) -> Result<Self, BookError> {
        Self::ALL
            .into_iter()
            .find(|one| one.words() == word)
            .ok_or_else(|| BookError::refused(format!("there is no verdict `{word}`"), "cut, ask, stop or unreadable"))
    }
}

impl From<Verdict> for Judgement {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Cut => Self::Cut,
            Verdict::Ask => Self::Ask,
            Verdict::Stop => Self::Stop,
        }
    }
}

impl fmt::Display for Judgement {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self.words())
    }
}
