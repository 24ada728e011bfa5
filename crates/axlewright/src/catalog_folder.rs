//! Loads the catalog: the shipped one, or with a shop's own folder over it.

use std::io;
use std::path::{Path, PathBuf};

use catalog::Catalog;

use crate::streams::Streams;
use crate::text_file::{self, Unreadable};

/// What a folder has to hold.
const WANTED: &str = "a folder with the catalog's *.toml files";

/// Loads the catalog. Where it cannot be used, every fault is written to the error output and nothing comes back.
///
/// # Errors
///
/// A stream takes no more.
pub fn load(folder: Option<&Path>, streams: &mut Streams) -> io::Result<Option<Catalog>> {
    load_files(folder, |_| true, streams)
}

/// Loads the catalog as it was written by hand, without the files of the folder that were learned from finished orders: what
/// was learned must not count a second time when it is learned again.
///
/// # Errors
///
/// A stream takes no more.
pub fn load_by_hand(folder: Option<&Path>, streams: &mut Streams) -> io::Result<Option<Catalog>> {
    load_files(folder, |name| !catalog::is_learned_file(name), streams)
}

/// Loads the shipped catalog with those files of a folder that are wanted.
fn load_files(
    folder: Option<&Path>,
    wanted: impl Fn(&str) -> bool,
    streams: &mut Streams,
) -> io::Result<Option<Catalog>> {
    let mut texts = Vec::new();
    if let Some(folder) = folder {
        let files = match toml_files(folder, WANTED) {
            Ok(files) => files,
            Err(unreadable) => {
                streams.complain_of_file(&folder.display().to_string(), &unreadable)?;
                return Ok(None);
            }
        };
        let mut sound = true;
        for file in files {
            let name = file.display().to_string();
            if !wanted(&name) {
                continue;
            }
            match text_file::read(&file, "a catalog file: a text file in TOML, saved as UTF-8") {
                Ok(text) => texts.push((name, text)),
                Err(unreadable) => {
                    streams.complain_of_file(&name, &unreadable)?;
                    sound = false;
                }
            }
        }
        if !sound {
            return Ok(None);
        }
    }
    let loaded = if texts.is_empty() { Catalog::shipped() } else { Catalog::with_folder(&texts) };
    match loaded {
        Ok(catalog) => Ok(Some(catalog)),
        Err(faults) => {
            streams.complain(&faults.to_string())?;
            Ok(None)
        }
    }
}

/// The folder's `*.toml` files by name, so that the catalog does not depend on the order in which the disk lists them.
///
/// # Errors
///
/// The folder is none, may not be read or holds no such file; `wanted` says what would be accepted.
pub fn toml_files(folder: &Path, wanted: &str) -> Result<Vec<PathBuf>, Unreadable> {
    let refuse = |problem: String| Unreadable { problem, accepted: wanted.to_owned() };
    if folder.is_file() {
        return Err(refuse("this is a file".to_owned()));
    }
    let entries = folder.read_dir().map_err(|error| refuse(text_file::words_for(&error)))?;
    let mut files = Vec::new();
    for entry in entries {
        let path = entry.map_err(|error| refuse(text_file::words_for(&error)))?.path();
        if path.extension().is_some_and(|extension| extension == "toml") {
            files.push(path);
        }
    }
    if files.is_empty() {
        return Err(refuse("the folder holds no *.toml file".to_owned()));
    }
    files.sort();
    Ok(files)
}

#[cfg(test)]
mod tests {
    use super::{WANTED, toml_files};

    #[test]
    fn the_files_come_by_name() {
        let folder = tempfile::tempdir().unwrap();
        assert_eq!(toml_files(folder.path(), WANTED).unwrap_err().problem, "the folder holds no *.toml file");
        for name in ["studs.toml", "bearings.toml", "notes.txt"] {
            std::fs::write(folder.path().join(name), "").unwrap();
        }
        let names: Vec<_> = toml_files(folder.path(), WANTED)
            .unwrap()
            .iter()
            .filter_map(|path| path.file_name()?.to_str().map(str::to_owned))
            .collect();
        assert_eq!(names, ["bearings.toml", "studs.toml"]);
        assert_eq!(toml_files(&folder.path().join("notes.txt"), WANTED).unwrap_err().problem, "this is a file");
        assert_eq!(
            toml_files(&folder.path().join("none"), WANTED).unwrap_err().problem,
            "there is no such file or folder"
        );
    }
}
