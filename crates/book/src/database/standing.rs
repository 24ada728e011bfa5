//! Whether the file of a book is still where it was opened. A file that was deleted or replaced stays open and takes what is
//! written to it, and all of that is gone with the program; so it is held against its place before anything is acknowledged.

use std::path::{Path, PathBuf};

use crate::error::BookError;

/// What a file is known by, whatever it is called.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Identity {
    device: u64,
    number: u64,
}

impl Identity {
    #[cfg(unix)]
    fn of(path: &Path) -> std::io::Result<Self> {
        use std::os::unix::fs::MetadataExt;
        let found = std::fs::metadata(path)?;
        Ok(Self { device: found.dev(), number: found.ino() })
    }

    /// Elsewhere an open file cannot be deleted, so that it is enough that there is one.
    #[cfg(not(unix))]
    fn of(path: &Path) -> std::io::Result<Self> {
        std::fs::metadata(path).map(|_| Self { device: 0, number: 0 })
    }
}

/// The file of a book as it was when it was opened.
#[derive(Debug)]
pub(crate) struct Standing {
    path: PathBuf,
    opened: Identity,
}

impl Standing {
    /// Looks at a file that was just opened.
    ///
    /// # Errors
    ///
    /// It is not there any more.
    pub fn of(path: &Path) -> Result<Self, BookError> {
        let whole = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        let opened = Identity::of(&whole).map_err(|error| BookError::file(path, &error))?;
        Ok(Self { path: whole, opened })
    }

    /// The file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Holds the place against the file that is open.
    ///
    /// # Errors
    ///
    /// There is no file, or another one.
    pub fn holds(&self) -> Result<(), BookError> {
        let problem = match Identity::of(&self.path) {
            Ok(found) if found == self.opened => return Ok(()),
            Ok(_) => "another file lies there".to_owned(),
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => "there is no file any more".to_owned(),
            Err(error) => error.to_string(),
        };
        Err(BookError::Gone { path: self.path.display().to_string(), problem })
    }
}
