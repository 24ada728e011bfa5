//! One topic a file: no Rust file grows past its limit, and no module has a name that would take in anything.

use std::path::Path;

use crate::report::{CheckError, Fault, Report};
use crate::rust_tokens::{self, begins};
use crate::source_files;
use crate::workspace::Workspace;

/// The most lines that a Rust file may have.
const LINE_LIMIT: usize = 600;

/// Names that say nothing about what belongs in a module.
const EMPTY_NAMES: &[&str] = &["common", "helper", "helpers", "manager", "managers", "misc", "util", "utils"];

/// Looks at every Rust file of the repository.
pub fn check(workspace: &Workspace) -> Result<Report, CheckError> {
    let files = source_files::rust_files(&workspace.root)?;
    let mut faults = Vec::new();
    let mut longest = 0;
    for file in &files {
        let source = source_files::text(&workspace.root, file)?.unwrap_or_default();
        longest = longest.max(source.lines().count());
        faults.extend(faults_of(file, &source));
    }
    Ok(Report { looked_at: format!("{} Rust files, the longest of {longest} lines", files.len()), faults })
}

fn faults_of(file: &Path, source: &str) -> Vec<Fault> {
    let place = file.display().to_string();
    let mut faults = Vec::new();
    let lines = source.lines().count();
    if lines > LINE_LIMIT {
        faults
            .push(Fault::at(&place, format!("{lines} lines, at most {LINE_LIMIT}; this is two topics, so two files")));
    }
    let path = file.with_extension("");
    for part in path.components() {
        let part = part.as_os_str().to_string_lossy();
        if EMPTY_NAMES.contains(&part.as_ref()) {
            faults.push(Fault::at(&place, empty_name(&part)));
        }
    }
    match rust_tokens::all(source) {
        Ok(tokens) => {
            for (index, token) in tokens.iter().enumerate() {
                if token.text == "mod"
                    && let Some(name) = tokens.get(index + 1)
                    && EMPTY_NAMES.contains(&name.text.as_str())
                    && begins(&tokens, index + 2, &["{"])
                {
                    faults.push(Fault::at_line(&place, token.line, empty_name(&name.text)));
                }
            }
        }
        Err(error) => faults.push(Fault::at(&place, format!("cannot be read as Rust: {error}"))),
    }
    faults
}

fn empty_name(name: &str) -> String {
    format!("`{name}` says nothing about what belongs here; name the topic")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_at_the_limit_passes_and_one_past_it_fails() {
        let at_limit = "// x\n".repeat(LINE_LIMIT);
        assert_eq!(faults_of(Path::new("src/chain.rs"), &at_limit), []);
        let past = format!("{at_limit}// x\n");
        let faults = faults_of(Path::new("src/chain.rs"), &past);
        assert_eq!(faults.len(), 1);
        assert!(faults[0].message.starts_with("601 lines"));
    }

    #[test]
    fn an_empty_name_fails_as_file_as_folder_and_inline() {
        for file in ["crates/axle/src/utils.rs", "crates/axle/src/misc/chain.rs", "crates/axle/tests/common/mod.rs"] {
            assert_eq!(faults_of(Path::new(file), "").len(), 1, "{file}");
        }
        let inline = faults_of(Path::new("src/chain.rs"), "fn a() {}\nmod helpers { fn b() {} }");
        assert_eq!(inline[0].place, "src/chain.rs:2");
    }

    #[test]
    fn a_name_that_only_contains_one_passes() {
        assert_eq!(faults_of(Path::new("src/common_practice.rs"), "mod manager_x {}"), []);
    }

    #[test]
    fn a_file_that_is_no_rust_fails() {
        assert_eq!(faults_of(Path::new("src/chain.rs"), "fn (").len(), 1);
    }
}
