//! What a saved change replaced, so that it can be undone. Every former text stays in the folder `former` of the shop's folder,
//! under a number and a mark of the text that took its place: where the file no longer holds that text, somebody has changed it
//! since, and going back would lose what they wrote.

use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};
use shop_folder::Unreadable;

/// A former text of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Former {
    /// Its number; later ones are larger.
    pub number: u64,
    /// The text.
    pub text: String,
}

/// Keeps a text that is about to be replaced.
///
/// # Errors
///
/// It cannot be written.
pub(super) fn keep(folder: &Path, file: &str, former: &str, new: &str) -> Result<(), Unreadable> {
    let number = listed(folder).iter().map(|(number, _, _, _)| *number).max().unwrap_or(0) + 1;
    let path = folder.join("former").join(format!("{number:06} {} {file}", mark(new)));
    shop_folder::write(&path, former)
}

/// What the last change of a file replaced, where the file still holds what that change wrote.
pub(super) fn latest(folder: &Path, file: &str, stands: &str) -> Option<Former> {
    let (number, of, _, path) = listed(folder).into_iter().filter(|(_, _, known, _)| known == file).max()?;
    if of != mark(stands) {
        return None;
    }
    Some(Former { number, text: shop_folder::read(&path, "a former text of a file").ok()? })
}

/// The former texts: number, mark of the text that replaced it, file, path.
fn listed(folder: &Path) -> Vec<(u64, String, String, PathBuf)> {
    let Ok(entries) = folder.join("former").read_dir() else { return Vec::new() };
    entries
        .filter_map(|entry| {
            let path = entry.ok()?.path();
            let name = path.file_name()?.to_str()?.to_owned();
            let mut parts = name.splitn(3, ' ');
            let number = parts.next()?.parse().ok()?;
            Some((number, parts.next()?.to_owned(), parts.next()?.to_owned(), path))
        })
        .collect()
}

fn mark(text: &str) -> String {
    Sha256::digest(text.as_bytes()).iter().take(6).map(|byte| format!("{byte:02x}")).collect()
}
