//! Files of the repository that tests read.

use std::fs;
use std::path::Path;

/// Name without ending, and text, of every TOML file in a folder of the repository, by name.
pub fn toml_files(folder: &str) -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").join(folder);
    let mut files: Vec<(String, String)> = fs::read_dir(folder)
        .expect("the folder is there")
        .map(|entry| entry.expect("it can be listed").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .map(|path| {
            let name = path.file_stem().expect("a file has a name").to_string_lossy().into_owned();
            (name, fs::read_to_string(&path).expect("it can be read"))
        })
        .collect();
    files.sort();
    files
}
