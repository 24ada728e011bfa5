//! Reads a text file, and says in plain words why it cannot be read.

use std::fs::File;
use std::io::{ErrorKind, Read, Write};
use std::path::Path;

/// A file that cannot be read as text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unreadable {
    /// What is wrong with the file.
    pub problem: String,
    /// What would be accepted.
    pub accepted: String,
}

impl std::fmt::Display for Unreadable {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "{}\n  accepted: {}", self.problem, self.accepted)
    }
}

impl std::error::Error for Unreadable {}

/// The most that a file may hold. A sheet has a few thousand bytes, a catalog file some ten thousand; a file far beyond
/// that is another file, and an endless one must not fill the memory.
const LARGEST: u64 = 4 * 1024 * 1024;

/// Reads a whole file as UTF-8.
///
/// # Errors
///
/// The file is not there, may not be read, is a folder, is too large or is not UTF-8; `wanted` says what kind of file
/// would be accepted.
pub fn read(path: &Path, wanted: &str) -> Result<String, Unreadable> {
    let refuse = |problem: String| Unreadable { problem, accepted: wanted.to_owned() };
    if path.is_dir() {
        return Err(refuse("this is a folder".to_owned()));
    }
    let file = File::open(path).map_err(|error| refuse(words_for(&error)))?;
    let mut bytes = Vec::new();
    file.take(LARGEST + 1).read_to_end(&mut bytes).map_err(|error| refuse(words_for(&error)))?;
    if bytes.len() as u64 > LARGEST {
        return Err(refuse(format!("the file is larger than {} MiB", LARGEST / 1024 / 1024)));
    }
    String::from_utf8(bytes).map_err(|error| {
        let sound = &error.as_bytes()[..error.utf8_error().valid_up_to()];
        let line = sound.iter().filter(|byte| **byte == b'\n').count() + 1;
        refuse(format!("the text is not UTF-8 from line {line} on"))
    })
}

/// Writes a whole text file, and the folder that it lies in where there is none yet. The old file stays until the new one is
/// whole.
///
/// # Errors
///
/// The folder cannot be made, or the file cannot be written.
pub fn write(path: &Path, text: &str) -> Result<(), Unreadable> {
    replace(path, text.as_bytes())
}

/// Writes a whole file as [`write()`] does, of any bytes. What was written is on the disk before the old file goes.
///
/// # Errors
///
/// The folder cannot be made, or the file cannot be written.
pub fn replace(path: &Path, bytes: &[u8]) -> Result<(), Unreadable> {
    let refuse = |error: &std::io::Error| Unreadable {
        problem: match error.kind() {
            ErrorKind::PermissionDenied => "you may not write it".to_owned(),
            _ => format!("it cannot be written: {error}"),
        },
        accepted: "a place where files may be written".to_owned(),
    };
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).map_err(|error| refuse(&error))?;
    }
    let mut beside = path.as_os_str().to_owned();
    beside.push(".new");
    let written = File::create(&beside).and_then(|mut file| {
        file.write_all(bytes)?;
        file.sync_all()
    });
    written.and_then(|()| std::fs::rename(&beside, path)).map_err(|error| {
        // What is left over must not be taken for a file of the shop; if it cannot be removed either, nothing more can be done.
        let _ = std::fs::remove_file(&beside);
        refuse(&error)
    })
}

/// The reason that an operating system gives, in plain words where it is a usual one.
pub fn words_for(error: &std::io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        ErrorKind::PermissionDenied => "you may not read it".to_owned(),
        _ => format!("it cannot be read: {error}"),
    }
}

/// The reason why a file cannot be written, in plain words where it is a usual one.
pub fn words_for_writing(error: &std::io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such folder".to_owned(),
        ErrorKind::PermissionDenied => "you may not write it".to_owned(),
        ErrorKind::IsADirectory => "this is a folder".to_owned(),
        _ => format!("it cannot be written: {error}"),
    }
}

#[cfg(test)]
mod tests {
    use super::read;

    #[test]
    fn what_cannot_be_read_says_why() {
        let folder = tempfile::tempdir().unwrap();
        let problem = |name: &str| read(&folder.path().join(name), "a sheet").unwrap_err().problem;
        assert_eq!(problem("absent.toml"), "there is no such file or folder");
        assert_eq!(problem("."), "this is a folder");
        std::fs::write(folder.path().join("latin.toml"), b"a = 1\nb = \"\xe9\"\n").unwrap();
        assert_eq!(problem("latin.toml"), "the text is not UTF-8 from line 2 on");
        std::fs::write(folder.path().join("large.toml"), vec![b' '; 4 * 1024 * 1024 + 1]).unwrap();
        assert_eq!(problem("large.toml"), "the file is larger than 4 MiB");
    }
}
