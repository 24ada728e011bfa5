//! Faults on the wire: why a sheet could not be reviewed.

use placed::Faults;
use schemars::JsonSchema;
use serde::Serialize;

/// A sheet that could not be reviewed, with every fault that was found in it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct UnreadSheet {
    /// The sheet as it was named on the command line.
    pub sheet: String,
    /// Every fault, in the order of the sheet. Never empty.
    pub faults: Vec<Fault>,
}

/// One fault.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Fault {
    /// The file that it is in.
    pub file: String,
    /// The line, counted from 1; null where the fault has no place, as where the file itself cannot be read.
    pub line: Option<usize>,
    /// The column, counted from 1 in characters; null where the fault has no place.
    pub column: Option<usize>,
    /// What stands there; empty where something is missing or the fault has no place.
    pub offending: String,
    /// What is wrong with it.
    pub problem: String,
    /// What would be accepted.
    pub accepted: String,
}

impl UnreadSheet {
    /// A sheet with faults, each with its place.
    #[must_use]
    pub fn with_faults(sheet: &str, faults: &Faults) -> Self {
        let faults = faults
            .iter()
            .map(|fault| Fault {
                file: fault.file.clone(),
                line: Some(fault.line),
                column: Some(fault.column),
                offending: fault.offending.clone(),
                problem: fault.problem.clone(),
                accepted: fault.accepted.clone(),
            })
            .collect();
        Self { sheet: sheet.to_owned(), faults }
    }

    /// A sheet that cannot be read or weighed at all.
    #[must_use]
    pub fn without_place(sheet: &str, problem: String, accepted: &str) -> Self {
        let accepted = accepted.to_owned();
        let fault =
            Fault { file: sheet.to_owned(), line: None, column: None, offending: String::new(), problem, accepted };
        Self { sheet: sheet.to_owned(), faults: vec![fault] }
    }
}
