//! Checks of the repository itself: `cargo xtask check` runs them, all or by name, and `cargo xtask readme` writes into
//! the documents what the commands named there print now.

use std::process::ExitCode;

use report::{CheckError, Report};
use workspace::Workspace;

mod arrows;
mod layout;
mod licences;
mod map;
mod markdown;
mod picture;
mod program;
mod purity;
mod readme;
mod report;
mod rust_tokens;
mod source_files;
mod unfinished;
mod validation;
mod workspace;

/// A check's name, what it holds, and the check.
type Check = (&'static str, &'static str, fn(&Workspace) -> Result<Report, CheckError>);

/// Every check, in the order in which they run: the quick ones first.
const CHECKS: &[Check] = &[
    ("arrows", "crates depend only on those that the table permits", |workspace| Ok(arrows::check(workspace))),
    ("map", "the map in ARCHITECTURE.md shows every crate and its arrows", map::check),
    ("layout", "no file is too long and no module has an empty name", layout::check),
    ("unfinished", "no stub, no test switched off, no fault left noted", unfinished::check),
    ("licences", "texts, manifests and outside packages are in order", licences::check),
    ("purity", "the core reads and writes nothing", purity::check),
    ("validation", "every outside reference has its source and its recipe", validation::check),
    ("readme", "the documents show what the program prints", readme::check),
    ("picture", "the pictures show what the program prints", picture::check),
];

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let outcome = match words.as_slice() {
        ["check", names @ ..] => match chosen(names) {
            Ok(checks) => run(&checks),
            Err(unknown) => {
                eprintln!("no check is called `{unknown}`\n\n{}", usage());
                return ExitCode::from(2);
            }
        },
        ["readme"] => Workspace::load().and_then(|workspace| refresh(&workspace)),
        _ => {
            eprintln!("{}", usage());
            return ExitCode::from(2);
        }
    };
    match outcome {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

/// Writes what the commands print now into the documents and their pictures.
fn refresh(workspace: &Workspace) -> Result<bool, CheckError> {
    let written = print("readme", &readme::refresh(workspace)?);
    Ok(print("picture", &picture::refresh(workspace)?) && written)
}

/// The checks of these names, or all where there are none; the first name that is none is handed back.
fn chosen<'a>(names: &[&'a str]) -> Result<Vec<&'static Check>, &'a str> {
    if names.is_empty() {
        return Ok(CHECKS.iter().collect());
    }
    names.iter().map(|name| CHECKS.iter().find(|check| check.0 == *name).ok_or(*name)).collect()
}

/// Runs the checks, all of them even when one fails, and says whether all is well.
fn run(checks: &[&Check]) -> Result<bool, CheckError> {
    let workspace = Workspace::load()?;
    let mut all_well = true;
    for (name, _, check) in checks {
        all_well &= print(name, &check(&workspace)?);
    }
    Ok(all_well)
}

fn print(name: &str, report: &Report) -> bool {
    let well = report.faults.is_empty();
    let verdict = if well { "ok" } else { "FAILED" };
    println!("{name:<10} {verdict} ({})", report.looked_at);
    for fault in &report.faults {
        println!("    {fault}");
    }
    well
}

fn usage() -> String {
    let mut text = "cargo xtask check [NAME…]   run all checks, or those named\n\
                    cargo xtask readme          refresh what the documents show\n\nchecks:\n"
        .to_owned();
    for (name, what, _) in CHECKS {
        text.push_str(&format!("  {name:<10}  {what}\n"));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::Fault;

    #[test]
    fn without_a_name_all_checks_are_chosen() {
        assert_eq!(chosen(&[]).unwrap().len(), CHECKS.len());
        assert_eq!(chosen(&["purity", "map"]).unwrap().len(), 2);
        assert_eq!(chosen(&["purity", "poetry"]).unwrap_err(), "poetry");
    }

    #[test]
    fn a_report_with_a_fault_is_not_well() {
        let mut report = Report { looked_at: String::new(), faults: Vec::new() };
        assert!(print("x", &report));
        report.faults.push(Fault::at("a", "b"));
        assert!(!print("x", &report));
    }
}
