//! One writer at a time, in this program and in others.

use std::fs::{File, OpenOptions};
use std::path::Path;

use crate::text_file::{Unreadable, words_for_writing};

/// The file that is locked. It is empty and stays.
const NAME: &str = ".writing";

/// Held while a folder is written to. Dropping it lets the next writer in.
#[derive(Debug)]
pub struct FolderLock {
    file: File,
}

impl FolderLock {
    /// Waits until nobody else writes to the folder. It makes the folder where there is none yet.
    ///
    /// # Errors
    ///
    /// The folder cannot be made or written to.
    ///
    /// ```
    /// let folder = tempfile::tempdir()?;
    /// let held = shop_folder::FolderLock::take(folder.path())?;
    /// drop(held);
    /// shop_folder::FolderLock::take(folder.path())?;
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn take(folder: &Path) -> Result<Self, Unreadable> {
        let refuse = |error: &std::io::Error| Unreadable {
            problem: words_for_writing(error),
            accepted: "a folder that may be written to".to_owned(),
        };
        std::fs::create_dir_all(folder).map_err(|error| refuse(&error))?;
        let file = OpenOptions::new()
            .create(true)
            .truncate(false)
            .write(true)
            .open(folder.join(NAME))
            .map_err(|error| refuse(&error))?;
        file.lock().map_err(|error| refuse(&error))?;
        Ok(Self { file })
    }
}

impl Drop for FolderLock {
    fn drop(&mut self) {
        // The operating system lets go of the lock with the file in any case.
        let _ = self.file.unlock();
    }
}
