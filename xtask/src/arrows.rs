//! Which crate may depend on which. The table below is the only place that says so; the workspace is held against it.

use cargo_metadata::DependencyKind;

use crate::report::{Fault, Report};
use crate::workspace::{Member, Workspace};

/// Every crate, with the crates of this repository that it may depend on. A crate may stand here before it exists.
pub const PERMITTED: &[(&str, &[&str])] = &[
    ("quantity", &[]),
    ("placed", &["quantity"]),
    ("reconcile", &[]),
    ("elements", &["quantity"]),
    ("catalog", &["quantity", "elements", "placed"]),
    ("axle", &["quantity", "placed", "reconcile", "elements", "catalog"]),
    ("solid", &[]),
    ("drawing", &["quantity", "axle", "solid"]),
    ("paperwork", &["quantity", "placed", "axle", "drawing"]),
    ("shop_folder", &["placed", "catalog", "paperwork"]),
    ("book", &["quantity", "placed", "catalog", "axle"]),
    ("calculation", &["quantity", "elements", "catalog", "axle"]),
    ("wire", &["quantity", "placed", "catalog", "axle", "calculation"]),
    (
        "desk",
        &[
            "quantity",
            "placed",
            "elements",
            "catalog",
            "axle",
            "drawing",
            "paperwork",
            "book",
            "calculation",
            "wire",
            "shop_folder",
        ],
    ),
    (
        "axlewright",
        &[
            "quantity",
            "placed",
            "reconcile",
            "elements",
            "catalog",
            "axle",
            "solid",
            "drawing",
            "paperwork",
            "book",
            "calculation",
            "wire",
            "shop_folder",
            "desk",
        ],
    ),
    ("xtask", &[]),
];

/// The one crate whose tests may use any other, since it is where everything is put together.
const COMPOSITION_ROOT: &str = "axlewright";

/// What a crate may depend on, or `None` for a crate that the table does not know.
pub fn permitted_from(name: &str) -> Option<&'static [&'static str]> {
    PERMITTED.iter().find(|(from, _)| *from == name).map(|(_, to)| *to)
}

/// Holds the workspace's arrows against the table.
pub fn check(workspace: &Workspace) -> Report {
    let arrows = workspace
        .members
        .iter()
        .flat_map(|member| &member.dependencies)
        .filter(|dependency| dependency.internal)
        .count();
    Report {
        looked_at: format!("{} crates, {arrows} arrows", workspace.members.len()),
        faults: workspace.members.iter().flat_map(faults_of).collect(),
    }
}

fn faults_of(member: &Member) -> Vec<Fault> {
    let Some(permitted) = permitted_from(&member.name) else {
        return vec![Fault::at(&member.name, "this crate has no row in the table of xtask/src/arrows.rs")];
    };
    member
        .dependencies
        .iter()
        .filter(|dependency| dependency.internal)
        .filter(|dependency| !(member.name == COMPOSITION_ROOT && dependency.kind == DependencyKind::Development))
        .filter(|dependency| !permitted.contains(&dependency.name.as_str()))
        .map(|dependency| {
            Fault::at(
                &member.name,
                format!(
                    "the arrow {} -> {} ({}) is not permitted; {} may depend on {}",
                    member.name,
                    dependency.name,
                    kind_in_words(dependency.kind),
                    member.name,
                    list_in_words(permitted),
                ),
            )
        })
        .collect()
}

fn kind_in_words(kind: DependencyKind) -> &'static str {
    match kind {
        DependencyKind::Development => "a dev-dependency",
        DependencyKind::Build => "a build-dependency",
        _ => "a dependency",
    }
}

fn list_in_words(names: &[&str]) -> String {
    if names.is_empty() { "no other crate".to_owned() } else { names.join(", ") }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::path::PathBuf;

    use super::*;
    use crate::workspace::Dependency;

    fn member(name: &str, internal: &[(&str, DependencyKind)]) -> Member {
        Member {
            name: name.to_owned(),
            folder: PathBuf::from("crates").join(name),
            description: None,
            licence: None,
            dependencies: internal
                .iter()
                .map(|(name, kind)| Dependency { name: (*name).to_owned(), kind: *kind, internal: true })
                .collect(),
        }
    }

    #[test]
    fn a_permitted_arrow_passes() {
        let elements = member("elements", &[("quantity", DependencyKind::Normal)]);
        assert_eq!(faults_of(&elements), []);
    }

    #[test]
    fn an_arrow_uphill_fails_and_is_named() {
        let quantity = member("quantity", &[("axle", DependencyKind::Normal)]);
        let faults = faults_of(&quantity);
        assert_eq!(faults.len(), 1);
        assert_eq!(faults[0].place, "quantity");
        assert!(faults[0].message.contains("quantity -> axle"));
        assert!(faults[0].message.contains("no other crate"));
    }

    #[test]
    fn dev_and_build_dependencies_count() {
        let reconcile =
            member("reconcile", &[("axle", DependencyKind::Development), ("quantity", DependencyKind::Build)]);
        let messages: Vec<String> = faults_of(&reconcile).into_iter().map(|fault| fault.message).collect();
        assert_eq!(messages.len(), 2);
        assert!(messages[0].contains("reconcile -> axle (a dev-dependency)"));
        assert!(messages[1].contains("reconcile -> quantity (a build-dependency)"));
    }

    #[test]
    fn only_the_composition_root_may_test_with_anything() {
        let dependency = [("xtask", DependencyKind::Development)];
        assert_eq!(faults_of(&member("axlewright", &dependency)), []);
        assert_eq!(faults_of(&member("desk", &dependency)).len(), 1);
        let normal = [("xtask", DependencyKind::Normal)];
        assert_eq!(faults_of(&member("axlewright", &normal)).len(), 1);
    }

    #[test]
    fn an_unknown_crate_fails_and_is_named() {
        let faults = faults_of(&member("gearbox", &[]));
        assert_eq!(faults.len(), 1);
        assert_eq!(faults[0].place, "gearbox");
    }

    #[test]
    fn an_arrow_to_an_unknown_crate_fails() {
        let axle = member("axle", &[("gearbox", DependencyKind::Normal)]);
        assert!(faults_of(&axle)[0].message.contains("axle -> gearbox"));
    }

    #[test]
    fn the_table_runs_downhill() {
        let mut settled: BTreeSet<&str> = BTreeSet::new();
        for (from, to) in PERMITTED {
            for target in *to {
                assert!(settled.contains(target), "{from} -> {target}: {target} must have its row above {from}'s");
            }
            assert!(settled.insert(from), "{from} has two rows");
        }
    }
}
