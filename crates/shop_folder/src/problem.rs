//! What keeps a folder from being used.

use std::fmt;

use placed::Faults;

use crate::text_file::Unreadable;

/// What is wrong with one file or folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Problem {
    /// It cannot be read.
    Unreadable {
        /// Its path.
        name: String,
        /// Why, and what would be accepted.
        why: Unreadable,
    },
    /// Its text holds faults.
    Faults(Faults),
}

impl fmt::Display for Problem {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unreadable { name, why } => write!(out, "{name}: {}\n  accepted: {}", why.problem, why.accepted),
            Self::Faults(faults) => out.write_str(faults.to_string().trim_end()),
        }
    }
}

/// Everything that is wrong; never empty where it comes back as an error.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Problems(pub Vec<Problem>);

impl Problems {
    pub(crate) fn unreadable(name: impl Into<String>, why: Unreadable) -> Self {
        Self(vec![Problem::Unreadable { name: name.into(), why }])
    }
}

impl From<Faults> for Problems {
    fn from(faults: Faults) -> Self {
        Self(vec![Problem::Faults(faults)])
    }
}

impl fmt::Display for Problems {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, problem) in self.0.iter().enumerate() {
            if at > 0 {
                out.write_str("\n\n")?;
            }
            write!(out, "{problem}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Problems {}
