//! Nothing is called done that is not: no stub, no test that is switched off, no note of a fault left in place.

use std::path::Path;

use crate::report::{CheckError, Fault, Report};
use crate::rust_tokens::{self, Token, begins, behind_group};
use crate::source_files;
use crate::workspace::Workspace;

/// The note of a known fault. It is put together here so that this file does not carry it.
const FAULT_NOTE: &str = concat!("FIX", "ME");

/// Macros that stand where code should.
const STUBS: &[&str] = &["todo", "unimplemented"];

/// Extensions of files that a machine carries out; a file without one is taken for a script.
const CODE_EXTENSIONS: &[&str] = &["", "css", "js", "py", "rs", "sh", "sql", "toml", "typ"];

/// Looks at every file of code in the repository.
pub fn check(workspace: &Workspace) -> Result<Report, CheckError> {
    let mut looked_at = 0;
    let mut faults = Vec::new();
    for file in source_files::list(&workspace.root)? {
        let extension = file.extension().map(|extension| extension.to_string_lossy().into_owned()).unwrap_or_default();
        if !CODE_EXTENSIONS.contains(&extension.as_str()) {
            continue;
        }
        if let Some(text) = source_files::text(&workspace.root, &file)? {
            looked_at += 1;
            faults.extend(faults_of(&file, &text));
        }
    }
    Ok(Report { looked_at: format!("{looked_at} files"), faults })
}

fn faults_of(file: &Path, text: &str) -> Vec<Fault> {
    let place = file.display().to_string();
    let is_rust = file.extension().is_some_and(|extension| extension == "rs");
    let mut faults = Vec::new();
    for (index, line) in text.lines().enumerate() {
        if line.contains(FAULT_NOTE) {
            faults.push(Fault::at_line(
                &place,
                index + 1,
                format!("{FAULT_NOTE}: mend it, or write it down as a known limit"),
            ));
        }
        if is_rust && opens_ignored_example(line) {
            faults.push(Fault::at_line(&place, index + 1, "an example that is not run; let it run, or mark it `text`"));
        }
    }
    // A file that cannot be read as Rust is reported by the check of the layout.
    if is_rust && let Ok(tokens) = rust_tokens::all(text) {
        faults.extend(faults_in_tokens(&place, &tokens));
    }
    faults
}

fn faults_in_tokens(place: &str, tokens: &[Token]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for (index, token) in tokens.iter().enumerate() {
        if STUBS.contains(&token.text.as_str())
            && begins(tokens, index + 1, &["!"])
            && !begins(tokens, index + 2, &["="])
        {
            faults.push(Fault::at_line(place, token.line, format!("`{}!` stands where code should", token.text)));
        }
        if begins(tokens, index, &["#", "["]) && switches_a_test_off(tokens, index + 1) {
            faults.push(Fault::at_line(place, token.line, "a test that is switched off; let it run, or take it out"));
        }
    }
    faults
}

/// Whether the attribute whose bracket opens at `open` is `ignore`, alone or by way of `cfg_attr`.
fn switches_a_test_off(tokens: &[Token], open: usize) -> bool {
    let inside = &tokens[open + 1..behind_group(tokens, open)];
    begins(inside, 0, &["ignore"])
        || begins(inside, 0, &["cfg_attr"]) && inside.iter().any(|token| token.text == "ignore")
}

/// Whether a line of a doc comment opens an example that is marked `ignore`.
fn opens_ignored_example(line: &str) -> bool {
    let trimmed = line.trim_start();
    ["///", "//!"]
        .into_iter()
        .filter_map(|comment| trimmed.strip_prefix(comment))
        .filter_map(|rest| rest.trim_start().strip_prefix("```"))
        .any(|info| info.split(|c: char| !c.is_ascii_alphanumeric()).any(|word| word == "ignore"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn places(source: &str) -> Vec<String> {
        faults_of(Path::new("a.rs"), source).into_iter().map(|fault| fault.place).collect()
    }

    #[test]
    fn finished_code_passes() {
        let source = "/// An example:\n/// ```\n/// assert!(true);\n/// ```\n#[must_use]\n\
                      fn ignore(todo: bool) -> bool { todo != true }\n";
        assert_eq!(places(source), Vec::<String>::new());
    }

    #[test]
    fn stubs_fail() {
        assert_eq!(places("fn a() {\n    todo!()\n}"), ["a.rs:2"]);
        assert_eq!(places("fn a() { unimplemented! { } }"), ["a.rs:1"]);
    }

    #[test]
    fn a_stub_in_a_string_or_a_comment_is_text() {
        assert_eq!(places("// todo!()\nfn a() { b(\"todo!()\") }"), Vec::<String>::new());
    }

    #[test]
    fn tests_switched_off_fail() {
        assert_eq!(places("#[test]\n#[ignore]\nfn a() {}"), ["a.rs:2"]);
        assert_eq!(places("#[ignore = \"slow\"]\nfn a() {}"), ["a.rs:1"]);
        assert_eq!(places("#[cfg_attr(not(x), ignore)]\nfn a() {}"), ["a.rs:1"]);
        assert_eq!(places("#[allow(unused)]\nfn a() {}"), Vec::<String>::new());
    }

    #[test]
    fn examples_that_are_not_run_fail() {
        assert_eq!(places("/// ```rust,ignore\n/// a\n/// ```\nfn a() {}"), ["a.rs:1"]);
        assert_eq!(places("//! ```ignore\n//! a\n//! ```"), ["a.rs:1"]);
        assert_eq!(places("/// ```text\n/// a\n/// ```\nfn a() {}"), Vec::<String>::new());
    }

    #[test]
    fn a_note_of_a_fault_fails_in_any_code() {
        let note = format!("# {FAULT_NOTE} later\n");
        assert_eq!(faults_of(Path::new("recipe.py"), &note).len(), 1);
        assert_eq!(places(&format!("// a\n// {FAULT_NOTE}\n")), ["a.rs:2"]);
    }
}
