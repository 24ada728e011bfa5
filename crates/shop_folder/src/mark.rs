//! What a shop's folder is known by as long as nobody changes a file in it.

use std::path::Path;
#[allow(clippy::disallowed_types, reason = "the time of a file is compared with itself; no clock is read")]
type FileTime = std::time::SystemTime;

/// The files of a folder, with what changes when one of them is written: its size, its time, and, where there is one, its number
/// in the file system, since a file that takes the place of another may have the same size and nearly the same time.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct FolderMark(Vec<(String, u64, Option<FileTime>, u64)>);

impl FolderMark {
    /// Looks at a folder: the files in it, its catalog and its templates. Nothing is read of them. What begins with a dot is not
    /// the shop's, and what ends in `.new` is being written.
    #[must_use]
    pub fn of(folder: &Path) -> Self {
        let mut files = Vec::new();
        for (within, place) in
            [("", folder.to_owned()), ("catalog/", folder.join("catalog")), ("templates/", folder.join("templates"))]
        {
            let Ok(entries) = place.read_dir() else { continue };
            for entry in entries.flatten() {
                let name = entry.file_name().to_string_lossy().into_owned();
                let Ok(found) = std::fs::metadata(entry.path()) else { continue };
                if found.is_file() && !name.starts_with('.') && !name.ends_with(".new") {
                    files.push((format!("{within}{name}"), found.len(), found.modified().ok(), number(&found)));
                }
            }
        }
        files.sort();
        Self(files)
    }
}

#[cfg(unix)]
fn number(found: &std::fs::Metadata) -> u64 {
    use std::os::unix::fs::MetadataExt;
    found.ino()
}

#[cfg(not(unix))]
fn number(_found: &std::fs::Metadata) -> u64 {
    0
}

#[cfg(test)]
mod tests {
    use super::FolderMark;

    #[test]
    fn every_change_of_a_file_is_another_mark_and_nothing_else_is() {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        std::fs::create_dir(path("catalog")).unwrap();
        let mut before = FolderMark::of(folder.path());
        let mut changed = || {
            let now = FolderMark::of(folder.path());
            std::mem::replace(&mut before, now.clone()) != now
        };
        assert!(!changed());
        std::fs::write(path("catalog/studs.toml"), "a = 1").unwrap();
        assert!(changed() && !changed());
        // The same size at the same moment, in the place of the other.
        std::fs::write(path("catalog/studs.toml.new"), "a = 2").unwrap();
        assert!(!changed(), "it is not there yet");
        std::fs::rename(path("catalog/studs.toml.new"), path("catalog/studs.toml")).unwrap();
        assert!(changed());
        std::fs::write(path(".writing"), "").unwrap();
        assert!(!changed());
        std::fs::remove_file(path("catalog/studs.toml")).unwrap();
        assert!(changed());
    }
}
