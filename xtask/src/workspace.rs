//! The workspace as `cargo metadata` describes it, cut down to what the checks ask about.

use std::path::{Path, PathBuf};

use cargo_metadata::{DependencyKind, MetadataCommand};

use crate::report::CheckError;

/// The workspace that the current folder belongs to.
#[derive(Debug)]
pub struct Workspace {
    /// The folder that holds the root `Cargo.toml`.
    pub root: PathBuf,
    /// Its own crates, by name.
    pub members: Vec<Member>,
    /// Every package from a registry that any member needs on any platform, by name.
    pub outside: Vec<OutsidePackage>,
}

/// One crate of the workspace.
#[derive(Debug, Clone)]
pub struct Member {
    /// Its package name.
    pub name: String,
    /// Its folder, from the root: `crates/quantity`.
    pub folder: PathBuf,
    /// The `description` of its manifest.
    pub description: Option<String>,
    /// The `license` of its manifest.
    pub licence: Option<String>,
    /// What it names under any kind of dependencies.
    pub dependencies: Vec<Dependency>,
}

/// One line of a manifest's dependencies.
#[derive(Debug, Clone)]
pub struct Dependency {
    /// The package that is depended on, by its own name even where the manifest renames it.
    pub name: String,
    /// Which of the three tables the line stands in.
    pub kind: DependencyKind,
    /// Whether it is found by a path, as the crates of this repository find each other.
    pub internal: bool,
}

/// One package that comes from a registry.
#[derive(Debug, Clone)]
pub struct OutsidePackage {
    /// Its name and version: `toml 1.2.2`.
    pub label: String,
    /// The `license` of its manifest.
    pub licence: Option<String>,
}

impl Workspace {
    /// Asks cargo about the workspace around the current folder.
    pub fn load() -> Result<Workspace, CheckError> {
        let metadata = MetadataCommand::new().exec()?;
        let root = metadata.workspace_root.as_std_path();
        let mut members: Vec<Member> = metadata
            .workspace_packages()
            .into_iter()
            .map(|package| Member {
                name: package.name.to_string(),
                folder: folder_below(root, package.manifest_path.as_std_path()),
                description: package.description.clone(),
                licence: package.license.clone(),
                dependencies: package
                    .dependencies
                    .iter()
                    .map(|dependency| Dependency {
                        name: dependency.name.clone(),
                        kind: dependency.kind,
                        internal: dependency.path.is_some(),
                    })
                    .collect(),
            })
            .collect();
        members.sort_by(|a, b| a.name.cmp(&b.name));
        let mut outside: Vec<OutsidePackage> = metadata
            .packages
            .iter()
            .filter(|package| package.source.is_some())
            .map(|package| OutsidePackage {
                label: format!("{} {}", package.name, package.version),
                licence: package.license.clone(),
            })
            .collect();
        outside.sort_by(|a, b| a.label.cmp(&b.label));
        Ok(Workspace { root: root.to_path_buf(), members, outside })
    }

    /// The text of a file below the root, or `None` where there is no such file.
    pub fn text_of(&self, file: &Path) -> Result<Option<String>, CheckError> {
        let path = self.root.join(file);
        match std::fs::read_to_string(&path) {
            Ok(text) => Ok(Some(text)),
            Err(source) if source.kind() == std::io::ErrorKind::NotFound => Ok(None),
            Err(source) => Err(CheckError::Read { path, source }),
        }
    }
}

/// The folder of a manifest, from the root where it lies below the root.
fn folder_below(root: &Path, manifest: &Path) -> PathBuf {
    let folder = manifest.parent().unwrap_or(root);
    folder.strip_prefix(root).unwrap_or(folder).to_path_buf()
}
