//! No snapshot lies about that nothing holds itself against, and none waits to be looked at.

use std::path::Path;

#[test]
fn every_snapshot_is_used_and_looked_at() {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let sources: String =
        source_files(&tests).iter().map(|path| std::fs::read_to_string(path).unwrap()).collect::<Vec<_>>().concat();
    let mut snapshots = 0;
    for path in files_below(&tests) {
        let name = path.file_name().unwrap().to_str().unwrap();
        assert!(!name.ends_with(".snap.new"), "{name} waits to be looked at");
        if let Some(stem) = name.strip_suffix(".snap") {
            let (_, used_as) = stem.rsplit_once("__").unwrap();
            assert!(sources.contains(&format!("\"{used_as}\"")), "no test uses the snapshot {name}");
            snapshots += 1;
        }
    }
    assert!(snapshots > 0, "there are no snapshots below {}", tests.display());
}

fn source_files(folder: &Path) -> Vec<std::path::PathBuf> {
    files_below(folder).into_iter().filter(|path| path.extension().is_some_and(|kind| kind == "rs")).collect()
}

fn files_below(folder: &Path) -> Vec<std::path::PathBuf> {
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(files_below(&path));
        } else {
            files.push(path);
        }
    }
    files.sort();
    files
}
