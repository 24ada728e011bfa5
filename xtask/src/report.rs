//! What a check hands back, and what can go wrong while it looks.

use std::fmt;
use std::path::PathBuf;

/// One thing that is not as it should be, with the place where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// A file, a file and line, or the name of a crate.
    pub place: String,
    /// What is wrong and what would be accepted.
    pub message: String,
}

impl Fault {
    /// A fault at a place that is named by text alone.
    pub fn at(place: impl Into<String>, message: impl Into<String>) -> Fault {
        Fault { place: place.into(), message: message.into() }
    }

    /// A fault at a line of a file, counted from one.
    pub fn at_line(file: &str, line: usize, message: impl Into<String>) -> Fault {
        Fault::at(format!("{file}:{line}"), message)
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}: {}", self.place, self.message)
    }
}

/// The outcome of one check. How much it looked at is part of the outcome, so that a check which found nothing to look
/// at cannot pass for one that found nothing wrong.
#[derive(Debug)]
pub struct Report {
    /// How much was looked at, in words: `7 crates, 13 arrows`.
    pub looked_at: String,
    /// Everything that is wrong; empty when all is well.
    pub faults: Vec<Fault>,
}

/// Why a check could not be carried out at all.
#[derive(Debug, thiserror::Error)]
pub enum CheckError {
    /// The workspace could not be read by `cargo metadata`.
    #[error("cargo metadata failed: {0}")]
    Metadata(#[from] cargo_metadata::Error),
    /// A file or folder that is there could not be read.
    #[error("cannot read {path}: {source}")]
    Read {
        /// The file or folder.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// A file could not be written.
    #[error("cannot write {path}: {source}")]
    Write {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// A command named in a document could not be started.
    #[error("cannot start `{command}`: {source}")]
    Start {
        /// The command as the document gives it.
        command: String,
        /// What the system said.
        source: std::io::Error,
    },
}
