//! The licence texts are there, every crate says what it is and how it is licensed, and everything that comes from
//! outside is under a licence that lets it be passed on with ours.

use std::path::Path;

use spdx::{Expression, Licensee, ParseMode};

use crate::report::{CheckError, Fault, Report};
use crate::workspace::{Member, OutsidePackage, Workspace};

/// The licence of every crate here.
const OWN_LICENCE: &str = "MIT OR Apache-2.0";

/// The licence texts, each with words that it cannot be without.
const TEXTS: &[(&str, &[&str])] = &[
    (
        "LICENSE-MIT",
        &[
            "Copyright (c) The Axlewright developers",
            "Permission is hereby granted, free of charge",
            "THE SOFTWARE IS PROVIDED \"AS IS\"",
        ],
    ),
    (
        "LICENSE-APACHE",
        &[
            "Version 2.0, January 2004",
            "TERMS AND CONDITIONS FOR USE, REPRODUCTION, AND DISTRIBUTION",
            "END OF TERMS AND CONDITIONS",
            "Copyright The Axlewright developers",
        ],
    ),
];

/// Licences of outside packages that may be used: all let the work be used, changed and passed on with no more than
/// their notice kept.
const ACCEPTED: &[&str] = &[
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MIT-0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Looks at the texts, at our crates and at every package from outside.
pub fn check(workspace: &Workspace) -> Result<Report, CheckError> {
    let mut faults = Vec::new();
    for (file, words) in TEXTS {
        let text = workspace.text_of(Path::new(file))?;
        faults.extend(faults_of_text(file, words, text.as_deref()));
    }
    faults.extend(workspace.members.iter().flat_map(faults_of_member));
    faults.extend(workspace.outside.iter().filter_map(fault_of_outside));
    Ok(Report {
        looked_at: format!(
            "{} texts, {} crates, {} packages from outside",
            TEXTS.len(),
            workspace.members.len(),
            workspace.outside.len()
        ),
        faults,
    })
}

fn faults_of_text(file: &str, words: &[&str], text: Option<&str>) -> Vec<Fault> {
    let Some(text) = text else {
        return vec![Fault::at(file, "the licence text is missing")];
    };
    words
        .iter()
        .filter(|words| !text.contains(**words))
        .map(|words| Fault::at(file, format!("the licence text lacks `{words}`")))
        .collect()
}

fn faults_of_member(member: &Member) -> Vec<Fault> {
    let mut faults = Vec::new();
    let described = member.description.as_deref().is_some_and(|text| !text.trim().is_empty());
    if !described {
        faults.push(Fault::at(&member.name, "its manifest has no `description`"));
    }
    if member.licence.as_deref() != Some(OWN_LICENCE) {
        faults.push(Fault::at(&member.name, format!("the `license` of its manifest is not `{OWN_LICENCE}`")));
    }
    faults
}

fn fault_of_outside(package: &OutsidePackage) -> Option<Fault> {
    let Some(licence) = &package.licence else {
        return Some(Fault::at(
            &package.label,
            "it names no licence; only packages with an accepted licence may be used",
        ));
    };
    // Older manifests write a slash for OR; that much of an old habit is read, unknown names are not.
    let mode = ParseMode { allow_slash_as_or_operator: true, ..ParseMode::STRICT };
    match Expression::parse_mode(licence, mode) {
        Ok(expression) => {
            let accepted = expression.evaluate(|requirement| {
                ACCEPTED
                    .iter()
                    .filter_map(|name| Licensee::parse(name).ok())
                    .any(|licensee| licensee.satisfies(requirement))
            });
            (!accepted).then(|| {
                Fault::at(
                    &package.label,
                    format!("its licence `{licence}` is not among those accepted: {}", ACCEPTED.join(", ")),
                )
            })
        }
        Err(error) => {
            Some(Fault::at(&package.label, format!("its licence `{licence}` cannot be read: {}", error.reason)))
        }
    }
}

#[cfg(test)]
mod tests {
    use std::path::PathBuf;

    use super::*;

    fn outside(licence: Option<&str>) -> OutsidePackage {
        OutsidePackage { label: "x 1.0.0".to_owned(), licence: licence.map(str::to_owned) }
    }

    #[test]
    fn every_accepted_licence_is_one_that_the_standard_list_knows() {
        for name in ACCEPTED {
            assert!(Licensee::parse(name).is_ok(), "{name}");
            assert_eq!(fault_of_outside(&outside(Some(name))), None);
        }
    }

    #[test]
    fn a_choice_passes_when_one_side_is_accepted() {
        for licence in ["MIT OR GPL-3.0-only", "Unlicense/MIT", "(MIT OR Apache-2.0) AND Unicode-3.0"] {
            assert_eq!(fault_of_outside(&outside(Some(licence))), None, "{licence}");
        }
    }

    #[test]
    fn anything_else_fails() {
        for licence in [
            Some("GPL-3.0-only"),
            Some("MIT AND GPL-3.0-only"),
            Some("Apache-2.0 WITH Classpath-exception-2.0"),
            Some("Free as in beer"),
            Some(""),
            None,
        ] {
            let fault = fault_of_outside(&outside(licence));
            assert!(fault.is_some(), "{licence:?}");
        }
    }

    #[test]
    fn a_crate_without_description_or_licence_fails() {
        let mut member = Member {
            name: "quantity".to_owned(),
            folder: PathBuf::from("crates/quantity"),
            description: Some("Lengths".to_owned()),
            licence: Some(OWN_LICENCE.to_owned()),
            dependencies: Vec::new(),
        };
        assert_eq!(faults_of_member(&member), []);
        member.description = Some("  ".to_owned());
        member.licence = Some("MIT".to_owned());
        assert_eq!(faults_of_member(&member).len(), 2);
        member.description = None;
        member.licence = None;
        assert_eq!(faults_of_member(&member).len(), 2);
    }

    #[test]
    fn a_missing_or_shortened_text_fails() {
        let (file, words) = TEXTS[0];
        assert_eq!(faults_of_text(file, words, None).len(), 1);
        assert_eq!(faults_of_text(file, words, Some("MIT")).len(), words.len());
        assert_eq!(faults_of_text(file, words, Some(&words.join("\n"))), []);
    }
}
