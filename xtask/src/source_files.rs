//! The files of the repository, without what tools have left in it.

use std::path::{Path, PathBuf};

use crate::report::CheckError;

/// Folders with a leading dot that are the project's own.
const OWN_HIDDEN_FOLDERS: &[&str] = &[".ci", ".cargo", ".config"];

/// Files whose presence marks a folder as a tool's: cargo's target folder carries the first, a Python environment the
/// second.
const MARKS_OF_TOOL_FOLDERS: &[&str] = &["CACHEDIR.TAG", "pyvenv.cfg"];

/// All files below the root, by their path from the root, in the same order on every machine.
pub fn list(root: &Path) -> Result<Vec<PathBuf>, CheckError> {
    let mut files = Vec::new();
    let mut folders = vec![root.to_path_buf()];
    while let Some(folder) = folders.pop() {
        let failed = |source| CheckError::Read { path: folder.clone(), source };
        for entry in std::fs::read_dir(&folder).map_err(failed)? {
            let entry = entry.map_err(failed)?;
            let kind = entry.file_type().map_err(failed)?;
            let path = entry.path();
            if kind.is_dir() {
                if is_own_folder(&path) {
                    folders.push(path);
                }
            } else if kind.is_file()
                && let Ok(relative) = path.strip_prefix(root)
            {
                files.push(relative.to_path_buf());
            }
        }
    }
    files.sort();
    Ok(files)
}

/// Those of the files that hold Rust.
pub fn rust_files(root: &Path) -> Result<Vec<PathBuf>, CheckError> {
    let mut files = list(root)?;
    files.retain(|file| file.extension().is_some_and(|extension| extension == "rs"));
    Ok(files)
}

/// The text of a file; `None` where it is not text.
pub fn text(root: &Path, file: &Path) -> Result<Option<String>, CheckError> {
    let path = root.join(file);
    match std::fs::read(&path) {
        Ok(bytes) => Ok(String::from_utf8(bytes).ok()),
        Err(source) => Err(CheckError::Read { path, source }),
    }
}

fn is_own_folder(path: &Path) -> bool {
    let name = path.file_name().map(|name| name.to_string_lossy()).unwrap_or_default();
    if name.starts_with('.') {
        return OWN_HIDDEN_FOLDERS.contains(&name.as_ref());
    }
    name != "__pycache__"
        && name != "node_modules"
        && !MARKS_OF_TOOL_FOLDERS.iter().any(|mark| path.join(mark).exists())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn write(root: &Path, file: &str) {
        let path = root.join(file);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, "x").unwrap();
    }

    #[test]
    fn own_files_are_listed_in_order_and_tools_are_passed_over() {
        let root = tempfile::tempdir().unwrap();
        for file in [
            "b.rs",
            "a/c.rs",
            ".ci/run",
            ".git/config",
            ".venv/x.py",
            "target/CACHEDIR.TAG",
            "target/debug/x.rs",
            "environment/pyvenv.cfg",
            "environment/y.py",
            "validation/__pycache__/z.pyc",
        ] {
            write(root.path(), file);
        }
        let files = list(root.path()).unwrap();
        let expected: Vec<PathBuf> = [".ci/run", "a/c.rs", "b.rs"].map(PathBuf::from).to_vec();
        assert_eq!(files, expected);
        assert_eq!(rust_files(root.path()).unwrap(), expected[1..]);
    }

    #[test]
    fn a_file_that_is_not_text_has_no_text() {
        let root = tempfile::tempdir().unwrap();
        std::fs::write(root.path().join("picture"), [0xff, 0xfe, 0x00]).unwrap();
        assert_eq!(text(root.path(), Path::new("picture")).unwrap(), None);
    }
}
