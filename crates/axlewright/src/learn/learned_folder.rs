//! The folder that learned files are written into. They lie beside what the shop has written itself and never in its place.

use std::path::{Path, PathBuf};

use axle::learn::LEARNED_BY;
use catalog::Catalog;

use shop_folder::Unreadable;

/// The names that learned files have.
const NAMES: [&str; 3] = ["learned_instruments.toml", "learned_measurands.toml", "learned_mistakes.toml"];

/// Why nothing is written, and of which file or folder.
pub struct Refused {
    /// The file or folder.
    pub name: String,
    /// What is wrong and what would be accepted.
    pub why: Unreadable,
}

fn refused(path: &Path, problem: impl Into<String>, accepted: impl Into<String>) -> Refused {
    Refused { name: path.display().to_string(), why: Unreadable { problem: problem.into(), accepted: accepted.into() } }
}

/// Whether what is learned may be written into a folder, before the work of learning is done.
///
/// # Errors
///
/// The folder is a file; it holds rows of the shop's own that were not what was believed before; or a file in it has the name
/// of a learned one and was not written by this program.
pub fn may_be_written(out: &Path, catalog: Option<&Path>) -> Result<(), Refused> {
    if out.is_file() {
        return Err(refused(out, "this is a file", "a folder, or the name of one that is to be made"));
    }
    let learned = NAMES.map(|name| out.join(name));
    for path in learned.iter().filter(|path| path.exists()) {
        let text = shop_folder::read(path, "a learned file, or none of that name")
            .map_err(|why| Refused { name: path.display().to_string(), why })?;
        if !text.starts_with(LEARNED_BY) {
            return Err(refused(
                path,
                "this file was not written by `axlewright learn`, and is not overwritten",
                "another folder, or the file under another name",
            ));
        }
    }
    let own = own_files(out);
    if let Some(first) = own.first()
        && !catalog.is_some_and(|catalog| is_same(catalog, out))
    {
        return Err(refused(
            first,
            "the folder holds a catalog of the shop's own, and learning did not start from it",
            format!("--catalog {} beside --out, or another folder", out.display()),
        ));
    }
    Ok(())
}

/// Writes the learned files, once it is sure that they can be read back, and takes away those of an earlier run that hold nothing
/// any more. What was done comes back in words.
///
/// # Errors
///
/// A file cannot be written, or the catalog with the new files would not be sound.
pub fn write(out: &Path, catalog: Option<&Path>, files: &[(&'static str, String)]) -> Result<Vec<String>, Refused> {
    let mut texts = Vec::new();
    for path in catalog.map(own_files).unwrap_or_default() {
        let text = shop_folder::read(&path, "a catalog file")
            .map_err(|why| Refused { name: path.display().to_string(), why })?;
        texts.push((path.display().to_string(), text));
    }
    texts.extend(files.iter().map(|(name, text)| (out.join(name).display().to_string(), text.clone())));
    if let Err(faults) = Catalog::with_folder(&texts) {
        let problem = format!("what was learned makes no sound catalog: {faults}");
        return Err(refused(out, problem, "orders whose mistakes leave most readings sound"));
    }
    let mut said = Vec::new();
    for (name, text) in files {
        let path = out.join(name);
        shop_folder::write(&path, text).map_err(|why| Refused { name: path.display().to_string(), why })?;
        said.push(format!("Written: {}", path.display()));
    }
    for name in NAMES.iter().filter(|name| files.iter().all(|(written, _)| written != *name)) {
        let path = out.join(name);
        if path.exists() {
            std::fs::remove_file(&path).map_err(|error| {
                refused(&path, format!("it cannot be removed: {error}"), "a file that may be removed")
            })?;
            said.push(format!("Removed, because nothing in it holds any more: {}", path.display()));
        }
    }
    if files.is_empty() {
        said.push("Nothing changed enough to be written.".to_owned());
    } else {
        said.push(format!(
            "`axlewright check --catalog {}` goes by them. To undo what was learned, delete them.",
            out.display()
        ));
    }
    Ok(said)
}

/// The catalog files of a folder that were not learned; none where there is no such folder.
fn own_files(folder: &Path) -> Vec<PathBuf> {
    let files = shop_folder::toml_files(folder, "").unwrap_or_default();
    files.into_iter().filter(|path| !catalog::is_learned_file(&path.display().to_string())).collect()
}

/// Whether two names are of one folder.
fn is_same(one: &Path, other: &Path) -> bool {
    match (one.canonicalize(), other.canonicalize()) {
        (Ok(one), Ok(other)) => one == other,
        _ => false,
    }
}
