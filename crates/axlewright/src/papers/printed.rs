//! The files of papers: where they lie, and what came of writing them.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::io;
use std::path::{Path, PathBuf};

use paperwork::Pressed;

use crate::intake::Order;

/// What was written for one order, and what went wrong.
#[derive(Debug, Default)]
pub struct Printed {
    /// Each file with its number of pages.
    pub files: Vec<(PathBuf, usize)>,
    /// What is doubtful, one line each.
    pub warnings: Vec<String>,
    /// Why an approval does not count.
    pub not_approved: Option<&'static str>,
    /// What kept a file from being made; no further one of the order was tried.
    pub failure: Option<String>,
}

impl Printed {
    /// Writes a file and keeps what came of it.
    pub fn write(&mut self, folder: &Path, reference: &str, name: &str, pressed: Pressed) {
        for warning in pressed.warnings {
            if !self.warnings.contains(&warning) {
                self.warnings.push(warning);
            }
        }
        let path = folder.join(file_name(reference, name));
        match std::fs::write(&path, &pressed.pdf) {
            Ok(()) => self.files.push((path, pressed.pages)),
            Err(error) => self.failure = Some(complaint(&path, &error)),
        }
    }
}

/// Makes the folder where it is not there.
///
/// # Errors
///
/// It cannot be made; the message says where and why.
pub fn make_folder(folder: &Path) -> Result<(), String> {
    std::fs::create_dir_all(folder).map_err(|error| complaint(folder, &error))
}

/// What is said of each order whose files would be written over those of one that was named before it.
pub fn twice_named(orders: &[Order]) -> BTreeMap<usize, String> {
    let mut first: BTreeMap<PathBuf, &str> = BTreeMap::new();
    let mut twice = BTreeMap::new();
    for (at, order) in orders.iter().enumerate() {
        let Ok(reviewed) = &order.outcome else { continue };
        let reference = &reviewed.review.reference;
        match first.entry(file_name(reference, "packet")) {
            Entry::Vacant(free) => {
                free.insert(&order.name);
            }
            Entry::Occupied(taken) => {
                let message = format!(
                    "{}: the reference {reference} gives its papers the same names as those of {}\n  accepted: references \
                     that differ, or a run for each",
                    order.name,
                    taken.get()
                );
                twice.insert(at, message);
            }
        }
    }
    twice
}

fn complaint(path: &Path, error: &io::Error) -> String {
    let problem = shop_folder::words_for_writing(error);
    format!("{}: {problem}\n  accepted: a folder that may be written to", path.display())
}

/// The reference may hold anything; the name of a file may not.
fn file_name(reference: &str, name: &str) -> PathBuf {
    let is_safe = |character: char| character.is_alphanumeric() || matches!(character, '-' | '_' | '.');
    let safe: String = reference.chars().map(|character| if is_safe(character) { character } else { '-' }).collect();
    PathBuf::from(format!("{}-{name}.pdf", safe.trim_start_matches('.')))
}

#[cfg(test)]
mod tests {
    use super::file_name;

    #[test]
    fn a_reference_never_leads_out_of_the_folder() {
        assert_eq!(file_name("Q-0102", "packet").to_str(), Some("Q-0102-packet.pdf"));
        assert_eq!(file_name("../a b/c", "label").to_str(), Some("-a-b-c-label.pdf"));
    }
}
