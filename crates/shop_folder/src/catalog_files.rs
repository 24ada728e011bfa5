//! The `*.toml` files of a catalog, and the catalog with them on top of the shipped one.

use std::path::{Path, PathBuf};

use catalog::Catalog;

use crate::problem::{Problem, Problems};
use crate::text_file::{self, Unreadable};

/// What a folder has to hold.
const WANTED: &str = "a folder with the catalog's *.toml files";

/// What a file of the catalog has to be.
const FILE_WANTED: &str = "a catalog file: a text file in TOML, saved as UTF-8";

/// Loads the catalog: the shipped one, or with the files of a folder on top.
///
/// # Errors
///
/// Everything that is wrong with the folder and its files.
pub fn load_catalog(folder: Option<&Path>) -> Result<Catalog, Problems> {
    load_files(folder, |_| true)
}

/// Loads the catalog as it was written by hand, without the files of the folder that were learned from finished orders: what
/// was learned must not count a second time when it is learned again.
///
/// # Errors
///
/// Everything that is wrong with the folder and its files.
pub fn load_catalog_by_hand(folder: Option<&Path>) -> Result<Catalog, Problems> {
    load_files(folder, |name| !catalog::is_learned_file(name))
}

fn load_files(folder: Option<&Path>, wanted: impl Fn(&str) -> bool) -> Result<Catalog, Problems> {
    let texts = match folder {
        None => Vec::new(),
        Some(folder) => {
            let files =
                toml_files(folder, WANTED).map_err(|why| Problems::unreadable(folder.display().to_string(), why))?;
            texts_of(files.into_iter().filter(|file| wanted(&file.display().to_string())))?
        }
    };
    Ok(if texts.is_empty() { Catalog::shipped()? } else { Catalog::with_folder(&texts)? })
}

/// The files of a catalog's folder by name, each with its path and text. A folder that is not there holds none.
///
/// # Errors
///
/// Every file that cannot be read.
pub fn catalog_texts(folder: &Path) -> Result<Vec<(String, String)>, Problems> {
    if !folder.exists() {
        return Ok(Vec::new());
    }
    let files = paths(folder).map_err(|problem| {
        Problems::unreadable(folder.display().to_string(), Unreadable { problem, accepted: WANTED.to_owned() })
    })?;
    texts_of(files.into_iter())
}

fn texts_of(files: impl Iterator<Item = PathBuf>) -> Result<Vec<(String, String)>, Problems> {
    let mut texts = Vec::new();
    let mut problems = Vec::new();
    for file in files {
        let name = file.display().to_string();
        match text_file::read(&file, FILE_WANTED) {
            Ok(text) => texts.push((name, text)),
            Err(why) => problems.push(Problem::Unreadable { name, why }),
        }
    }
    if problems.is_empty() { Ok(texts) } else { Err(Problems(problems)) }
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
    let files = paths(folder).map_err(refuse)?;
    if files.is_empty() {
        return Err(refuse("the folder holds no *.toml file".to_owned()));
    }
    Ok(files)
}

fn paths(folder: &Path) -> Result<Vec<PathBuf>, String> {
    let entries = folder.read_dir().map_err(|error| text_file::words_for(&error))?;
    let mut files = Vec::new();
    for entry in entries {
        let path = entry.map_err(|error| text_file::words_for(&error))?.path();
        if path.extension().is_some_and(|extension| extension == "toml") {
            files.push(path);
        }
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
