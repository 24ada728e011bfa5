//! The core is pure: the same arguments give the same result, and nothing is read or written on the way.
//!
//! The check reads the tokens of each core crate's `src`, without comments, texts and tests. It is a guard against
//! slips, not a proof.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use cargo_metadata::DependencyKind;

use crate::report::{CheckError, Fault, Report};
use crate::rust_tokens::{self, Token, begins, behind_group};
use crate::source_files;
use crate::workspace::{Member, Workspace};

/// The crates that the review is made of, and those that write solids and drawings.
const CORE: &[&str] = &["quantity", "placed", "reconcile", "elements", "catalog", "axle", "solid", "drawing"];

/// Modules of the standard library that reach outside, each with what it would bring in.
const OUTSIDE: &[(&str, &str)] = &[
    ("env", "the surroundings of the process"),
    ("fs", "files"),
    ("io", "input and output"),
    ("net", "the network"),
    ("process", "other programs"),
    ("thread", "the order of threads"),
    ("time", "a clock"),
];

/// Macros that print, or that keep a state between calls.
const IMPURE_MACROS: &[(&str, &str)] = &[
    ("dbg", "output"),
    ("eprint", "output"),
    ("eprintln", "output"),
    ("print", "output"),
    ("println", "output"),
    ("thread_local", "state kept between calls"),
];

/// Packages that make random numbers.
const RANDOM: &[&str] = &["fastrand", "getrandom", "rand", "rand_chacha", "rand_core", "rand_distr", "rand_pcg"];

/// Looks at the sources and the manifests of the core crates.
pub fn check(workspace: &Workspace) -> Result<Report, CheckError> {
    let mut faults = Vec::new();
    let mut looked_at = 0;
    for name in CORE {
        let Some(member) = workspace.members.iter().find(|m| m.name == *name) else {
            faults.push(Fault::at(*name, "this crate of the core is not in the workspace; see xtask/src/purity.rs"));
            continue;
        };
        faults.extend(faults_of_manifest(member));
        let sources = sources_of(workspace, member)?;
        looked_at += sources.len();
        faults.extend(faults_of_sources(&sources));
    }
    Ok(Report { looked_at: format!("{looked_at} files of {} core crates", CORE.len()), faults })
}

fn sources_of(workspace: &Workspace, member: &Member) -> Result<Vec<(PathBuf, String)>, CheckError> {
    let folder = member.folder.join("src");
    let mut sources = Vec::new();
    for file in source_files::rust_files(&workspace.root.join(&folder))? {
        let file = folder.join(file);
        if let Some(text) = source_files::text(&workspace.root, &file)? {
            sources.push((file, text));
        }
    }
    Ok(sources)
}

fn faults_of_manifest(member: &Member) -> Vec<Fault> {
    member
        .dependencies
        .iter()
        .filter(|dependency| dependency.kind != DependencyKind::Development)
        .filter(|dependency| RANDOM.contains(&dependency.name.as_str()))
        .map(|dependency| {
            Fault::at(
                &member.name,
                format!("depends on {}, which makes random numbers; only its tests may", dependency.name),
            )
        })
        .collect()
}

/// The faults of all files of one crate; a file that is a module of a test only is passed over.
fn faults_of_sources(sources: &[(PathBuf, String)]) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut found = Vec::new();
    let mut only_for_tests: BTreeSet<PathBuf> = BTreeSet::new();
    for (file, text) in sources {
        match rust_tokens::product(text) {
            Ok(product) => {
                let folder = folder_of_modules(file);
                only_for_tests.extend(product.test_modules.iter().map(|name| folder.join(name)));
                found.push((file, product.tokens));
            }
            Err(error) => {
                faults.push(Fault::at(file.display().to_string(), format!("cannot be read as Rust: {error}")))
            }
        }
    }
    for (file, tokens) in found {
        let module = file.with_extension("");
        if !only_for_tests.iter().any(|test| module.starts_with(test)) {
            faults.extend(faults_in_tokens(&file.display().to_string(), &tokens));
        }
    }
    faults
}

/// Where the files of a file's modules lie: beside `lib.rs`, `main.rs` and `mod.rs`, and in a folder of its name for
/// any other.
fn folder_of_modules(file: &Path) -> PathBuf {
    let module = file.with_extension("");
    let is_root = ["lib", "main", "mod"].iter().any(|root| module.ends_with(root));
    match module.parent() {
        Some(folder) if is_root => folder.to_path_buf(),
        _ => module,
    }
}

fn faults_in_tokens(place: &str, tokens: &[Token]) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut report = |line: usize, what: &str, brings: &str| {
        faults.push(Fault::at_line(
            place,
            line,
            format!("`{what}` would bring {brings} into the core; hand it in as an argument"),
        ));
    };
    for (index, token) in tokens.iter().enumerate() {
        let is_path = begins(tokens, index + 1, &[":", ":"]);
        let is_macro = begins(tokens, index + 1, &["!"]) && !begins(tokens, index + 2, &["="]);
        let text = token.text.as_str();
        if text == "std" && is_path {
            for name in named_in_path(tokens, index + 3) {
                if let Some((module, brings)) = OUTSIDE.iter().find(|(m, _)| *m == name.text) {
                    report(name.line, &format!("std::{module}"), brings);
                }
            }
        }
        // A call by way of `use std::thread` is caught where it is made as well.
        if text == "thread"
            && is_path
            && (begins(tokens, index + 3, &["spawn"]) || begins(tokens, index + 3, &["scope"]))
        {
            report(token.line, "thread", "the order of threads");
        }
        if is_macro && let Some((_, brings)) = IMPURE_MACROS.iter().find(|(m, _)| *m == text) {
            report(token.line, &format!("{text}!"), brings);
        }
        if is_path && RANDOM.contains(&text) {
            report(token.line, text, "chance");
        }
        if text == "static" && begins(tokens, index + 1, &["mut"]) {
            report(token.line, "static mut", "state kept between calls");
        }
    }
    faults
}

/// The names that may follow `std::` at `start`: one, or each first name of a group in braces.
fn named_in_path(tokens: &[Token], start: usize) -> Vec<&Token> {
    let Some(first) = tokens.get(start) else {
        return Vec::new();
    };
    if first.text != "{" {
        return vec![first];
    }
    let end = behind_group(tokens, start);
    let mut names = Vec::new();
    let mut index = start + 1;
    let mut expects_name = true;
    while index + 1 < end {
        let token = &tokens[index];
        if token.text == "{" {
            index = behind_group(tokens, index);
            continue;
        }
        if token.text == "," {
            expects_name = true;
        } else if expects_name {
            names.push(token);
            expects_name = false;
        }
        index += 1;
    }
    names
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workspace::Dependency;

    fn lines_of_faults(source: &str) -> Vec<String> {
        faults_of_sources(&[(PathBuf::from("src/lib.rs"), source.to_owned())])
            .into_iter()
            .map(|fault| fault.place)
            .collect()
    }

    #[test]
    fn pure_code_passes() {
        let source = "//! Reads no std::fs.\nuse std::{collections::BTreeMap, fmt::{self, Write}};\n\
                      const TEXT: &str = include_str!(\"a.toml\"); // std::env\n\
                      fn a(io: f64, time: f64, print: bool) -> bool { print != (io < time) }\n\
                      fn b() -> &'static str { \"println!\" }\n";
        assert_eq!(lines_of_faults(source), Vec::<String>::new());
    }

    #[test]
    fn each_module_that_reaches_outside_fails() {
        for (module, _) in OUTSIDE {
            for source in [
                format!("\nuse std::{module};"),
                format!("\nfn a() {{ std::{module}::x(); }}"),
                format!("\nuse std::{{fmt, {module}::{{a, b}}}};"),
                format!("\nuse ::std::{{fmt::{{A, B}}, {module}}};"),
            ] {
                assert_eq!(lines_of_faults(&source), ["src/lib.rs:2"], "{source}");
            }
        }
    }

    #[test]
    fn each_impure_macro_fails() {
        for (name, _) in IMPURE_MACROS {
            let source = format!("fn a() {{\n  {name}!(\"x\");\n}}");
            assert_eq!(lines_of_faults(&source), ["src/lib.rs:2"], "{name}");
        }
    }

    #[test]
    fn threads_chance_and_state_fail() {
        for source in [
            "fn a() { thread::spawn(|| ()); }",
            "fn a() { thread::scope(|s| ()); }",
            "use rand::Rng;",
            "fn a() -> f64 { rand_distr::x() }",
            "static mut COUNT: u32 = 0;",
        ] {
            assert_eq!(lines_of_faults(source), ["src/lib.rs:1"], "{source}");
        }
    }

    #[test]
    fn tests_may_do_as_they_like() {
        let source = "#[cfg(test)]\nmod tests { use std::fs; fn a() { println!(); } }\nfn b() {}";
        assert_eq!(lines_of_faults(source), Vec::<String>::new());
    }

    #[test]
    fn a_test_module_in_its_own_file_is_passed_over_and_its_neighbour_is_not() {
        let impure = "use std::fs;".to_owned();
        let sources = [
            (PathBuf::from("src/chain.rs"), "#[cfg(test)]\nmod cases;\nmod forms;".to_owned()),
            (PathBuf::from("src/chain/cases.rs"), impure.clone()),
            (PathBuf::from("src/chain/cases/more.rs"), impure.clone()),
            (PathBuf::from("src/chain/forms.rs"), impure.clone()),
            (PathBuf::from("src/cases.rs"), impure),
        ];
        let places: Vec<String> = faults_of_sources(&sources).into_iter().map(|fault| fault.place).collect();
        assert_eq!(places, ["src/chain/forms.rs:1", "src/cases.rs:1"]);
    }

    #[test]
    fn a_random_dependency_fails_unless_it_is_for_tests() {
        let with = |kind| Member {
            name: "axle".to_owned(),
            folder: PathBuf::from("crates/axle"),
            description: None,
            licence: None,
            dependencies: vec![Dependency { name: "rand".to_owned(), kind, internal: false }],
        };
        assert_eq!(faults_of_manifest(&with(DependencyKind::Normal)).len(), 1);
        assert_eq!(faults_of_manifest(&with(DependencyKind::Build)).len(), 1);
        assert_eq!(faults_of_manifest(&with(DependencyKind::Development)), []);
    }
}
