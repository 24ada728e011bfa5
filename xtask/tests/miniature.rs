//! Runs the program in small workspaces made for the purpose: one in order, and the same with one thing wrong.
#![allow(clippy::unwrap_used, reason = "a test that cannot lay out its files has failed")]

use std::path::Path;
use std::process::{Command, Output};

use tempfile::TempDir;

/// A workspace with two crates of the core and the page that maps them.
fn workspace() -> TempDir {
    let root = tempfile::tempdir().unwrap();
    let at = root.path();
    write(at, "Cargo.toml", "[workspace]\nresolver = \"3\"\nmembers = [\"crates/*\"]\n");
    write_crate(at, "quantity", "");
    write_crate(at, "elements", "quantity = { path = \"../quantity\" }\n");
    write(at, "ARCHITECTURE.md", "# Map\n\n```\nquantity/  lengths  → (none)\nelements/  parts  → quantity\n```\n");
    write(at, "README.md", "<!-- test command -->\n\n```sh\n./test\n```\n");
    root
}

fn write(root: &Path, file: &str, text: &str) {
    let path = root.join(file);
    std::fs::create_dir_all(path.parent().unwrap()).unwrap();
    std::fs::write(path, text).unwrap();
}

fn write_crate(root: &Path, name: &str, dependencies: &str) {
    write(
        root,
        &format!("crates/{name}/Cargo.toml"),
        &format!(
            "[package]\nname = \"{name}\"\nversion = \"0.1.0\"\nedition = \"2024\"\n\
             description = \"x\"\nlicense = \"MIT OR Apache-2.0\"\n[dependencies]\n{dependencies}"
        ),
    );
    write(root, &format!("crates/{name}/src/lib.rs"), "//! x\n");
}

fn xtask(root: &TempDir, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_xtask"))
        .args(arguments)
        .current_dir(root.path())
        // The miniature builds into its own folder, never into ours.
        .env("CARGO_TARGET_DIR", root.path().join("target"))
        .env("CARGO_NET_OFFLINE", "true")
        .output()
        .unwrap()
}

#[track_caller]
fn assert_fails(root: &TempDir, check: &str, says: &str) {
    let output = xtask(root, &["check", check]);
    let printed = String::from_utf8_lossy(&output.stdout);
    assert_eq!(output.status.code(), Some(1), "{printed}");
    assert!(printed.contains(says), "{printed}");
}

#[test]
fn a_workspace_in_order_passes() {
    let root = workspace();
    for check in ["arrows", "map", "layout", "unfinished", "readme"] {
        let output = xtask(&root, &["check", check]);
        assert!(output.status.success(), "{check}: {}", String::from_utf8_lossy(&output.stdout));
    }
}

#[test]
fn an_arrow_uphill_fails() {
    let root = workspace();
    write_crate(root.path(), "elements", "");
    write_crate(root.path(), "quantity", "elements = { path = \"../elements\" }\n");
    assert_fails(&root, "arrows", "quantity -> elements");
}

#[test]
fn a_renamed_dependency_for_tests_does_not_hide_its_arrow() {
    let root = workspace();
    write_crate(
        root.path(),
        "quantity",
        "[dev-dependencies]\nharmless = { path = \"../placed\", package = \"placed\" }\n",
    );
    write_crate(root.path(), "placed", "");
    assert_fails(&root, "arrows", "quantity -> placed (a dev-dependency)");
}

#[test]
fn an_unknown_crate_fails() {
    let root = workspace();
    write_crate(root.path(), "gearbox", "");
    assert_fails(&root, "arrows", "gearbox: this crate has no row");
    assert_fails(&root, "map", "the map has no entry `gearbox/`");
}

#[test]
fn a_missing_page_fails() {
    let root = workspace();
    std::fs::remove_file(root.path().join("ARCHITECTURE.md")).unwrap();
    std::fs::remove_file(root.path().join("README.md")).unwrap();
    assert_fails(&root, "map", "the page is missing");
    assert_fails(&root, "readme", "the page is missing");
}

#[test]
fn a_stub_and_an_empty_name_fail() {
    let root = workspace();
    write(root.path(), "crates/elements/src/utils.rs", "//! x\nfn a() {\n    todo!()\n}\n");
    assert_fails(&root, "layout", "crates/elements/src/utils.rs: `utils`");
    assert_fails(&root, "unfinished", "crates/elements/src/utils.rs:3");
}

#[test]
fn reading_a_file_in_the_core_fails() {
    let root = workspace();
    write(root.path(), "crates/elements/src/lib.rs", "//! x\nuse std::{fmt, fs};\n");
    assert_fails(&root, "purity", "crates/elements/src/lib.rs:2: `std::fs`");
}

#[test]
fn missing_licences_and_recipes_fail() {
    let root = workspace();
    write(root.path(), "validation/splines/values.csv", "1\n");
    assert_fails(&root, "licences", "LICENSE-MIT: the licence text is missing");
    assert_fails(&root, "validation", "validation/splines: it lacks recipe.py");
}

#[test]
fn a_claim_is_compared_and_refreshed() {
    let root = workspace();
    write_crate(root.path(), "axlewright", "");
    write(
        root.path(),
        "crates/axlewright/src/main.rs",
        "//! x\nfn main() {\n    println!(\"out\");\n    eprintln!(\"err\");\n    std::process::exit(3);\n}\n",
    );
    let readme = |shown: &str| {
        format!(
            "<!-- test command -->\n```sh\n./test\n```\n\
             <!-- output of: cargo run -q -p axlewright; exit 3 -->\n```\n{shown}```\nend\n"
        )
    };
    write(root.path(), "README.md", &readme("old\n"));
    assert_fails(&root, "readme", "README.md:6: the block is not what");
    let refreshing = xtask(&root, &["readme"]);
    assert!(
        refreshing.status.success(),
        "{}{}",
        String::from_utf8_lossy(&refreshing.stdout),
        String::from_utf8_lossy(&refreshing.stderr)
    );
    let refreshed = std::fs::read_to_string(root.path().join("README.md")).unwrap();
    assert_eq!(refreshed, readme("out\nerr\n"));
    assert!(xtask(&root, &["check", "readme"]).status.success());
}

#[test]
fn unknown_words_are_refused_with_what_is_known() {
    let root = workspace();
    for arguments in [&["check", "poetry"][..], &["chek"], &[]] {
        let output = xtask(&root, arguments);
        assert_eq!(output.status.code(), Some(2));
        assert!(String::from_utf8_lossy(&output.stderr).contains("arrows"));
    }
}
