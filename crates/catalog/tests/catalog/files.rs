//! A shop's files, and the faults that they give.

use catalog::Catalog;

/// Loads the catalog with one file of a shop on top.
pub fn with(file: &str, text: &str) -> Result<Catalog, placed::Faults> {
    Catalog::with_folder(&[(file.to_owned(), text.to_owned())])
}

/// The character that marks the place of the expected fault in a text.
const MARK: char = '§';

/// Holds that a file gives exactly one fault, at the mark in its text, with these words in problem and in what is accepted.
#[track_caller]
pub fn expect_fault(file: &str, marked: &str, problem: &str, accepted: &str) {
    let (before, after) = marked.split_once(MARK).expect("the text marks the place");
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().unwrap_or(before).chars().count() + 1;
    let faults = with(file, &format!("{before}{after}")).expect_err("the file has a fault");
    let [fault] = faults.iter().collect::<Vec<_>>()[..] else {
        panic!("not one fault but {}:\n{faults}", faults.len());
    };
    assert_eq!((fault.file.as_str(), fault.line, fault.column), (file, line, column), "{fault}");
    assert!(fault.problem.contains(problem), "{problem:?} is not in:\n{fault}");
    assert!(fault.accepted.contains(accepted), "{accepted:?} is not in:\n{fault}");
}
