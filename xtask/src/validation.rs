//! Every folder of outside references says where its numbers come from and can make them again.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use crate::report::{CheckError, Fault, Report};
use crate::source_files;
use crate::workspace::Workspace;

const FOLDER: &str = "validation";
const REQUIREMENTS: &str = "requirements.txt";

/// What each folder of references must hold.
const PARTS: &[(&str, &str)] =
    &[("README.md", "which names the source and its edition"), ("recipe.py", "which makes the numbers again")];

/// Looks at the folders below `validation` and at the versions of the Python packages that the recipes use.
pub fn check(workspace: &Workspace) -> Result<Report, CheckError> {
    let root = workspace.root.join(FOLDER);
    if !root.is_dir() {
        return Ok(Report {
            looked_at: "no folder".to_owned(),
            faults: vec![Fault::at(FOLDER, "the folder is missing")],
        });
    }
    let files = source_files::list(&root)?;
    let requirements = workspace.text_of(&Path::new(FOLDER).join(REQUIREMENTS))?;
    let mut faults = faults_of_files(&files);
    faults.extend(faults_of_requirements(requirements.as_deref()));
    Ok(Report { looked_at: format!("{} folders of references", topics(&files).len()), faults })
}

/// The folders that the files, named from `validation`, lie in.
fn topics(files: &[PathBuf]) -> BTreeSet<&Path> {
    files
        .iter()
        .filter(|file| file.components().count() > 1)
        .filter_map(|file| file.components().next())
        .map(|first| Path::new(first.as_os_str()))
        .collect()
}

fn faults_of_files(files: &[PathBuf]) -> Vec<Fault> {
    let mut faults = Vec::new();
    if topics(files).is_empty() {
        faults.push(Fault::at(FOLDER, "it holds no folder of references"));
    }
    for topic in topics(files) {
        for (part, what_for) in PARTS {
            if !files.contains(&topic.join(part)) {
                faults.push(Fault::at(format!("{FOLDER}/{}", topic.display()), format!("it lacks {part}, {what_for}")));
            }
        }
    }
    faults
}

fn faults_of_requirements(text: Option<&str>) -> Vec<Fault> {
    let place = format!("{FOLDER}/{REQUIREMENTS}");
    let Some(text) = text else {
        return vec![Fault::at(place, "the list of Python packages is missing")];
    };
    text.lines()
        .enumerate()
        .map(|(index, line)| (index + 1, line.trim()))
        .filter(|(_, line)| !line.is_empty() && !line.starts_with('#'))
        .filter(|(_, line)| !line.contains("=="))
        .map(|(number, line)| {
            Fault::at_line(&place, number, format!("`{line}` names no exact version; write `name==version`"))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files(names: &[&str]) -> Vec<PathBuf> {
        names.iter().map(PathBuf::from).collect()
    }

    #[test]
    fn a_whole_folder_passes_and_files_beside_the_folders_are_no_topics() {
        let files =
            files(&["README.md", "requirements.txt", "splines/README.md", "splines/recipe.py", "splines/values.csv"]);
        assert_eq!(topics(&files).len(), 1);
        assert_eq!(faults_of_files(&files), []);
    }

    #[test]
    fn a_folder_without_recipe_or_source_fails() {
        let faults = faults_of_files(&files(&["splines/values.csv", "bearings/recipe.py"]));
        let places: Vec<&str> = faults.iter().map(|fault| fault.place.as_str()).collect();
        assert_eq!(places, ["validation/bearings", "validation/splines", "validation/splines"]);
    }

    #[test]
    fn no_folder_at_all_fails() {
        assert_eq!(faults_of_files(&files(&["README.md"])).len(), 1);
    }

    #[test]
    fn a_loose_version_fails() {
        assert_eq!(faults_of_requirements(Some("# why\nnumpy==2.4.6\n\n")), []);
        let faults = faults_of_requirements(Some("numpy==2.4.6\nscipy>=1\n"));
        assert_eq!(faults.len(), 1);
        assert_eq!(faults[0].place, "validation/requirements.txt:2");
        assert_eq!(faults_of_requirements(None).len(), 1);
    }
}
