//! The map in `ARCHITECTURE.md`, held against the workspace and the table of arrows.
//!
//! The map is the first fenced block of the page. A line that begins with a name and a slash, such as `quantity/` or
//! `crates/quantity/`, opens an entry that reaches to the next such line. Every crate needs an entry. Where an entry has
//! an arrow, the crates named after it are what the table permits.

use std::collections::BTreeSet;
use std::path::Path;

use crate::arrows::{PERMITTED, permitted_from};
use crate::markdown;
use crate::report::{CheckError, Fault, Report};
use crate::workspace::Workspace;

const PAGE: &str = "ARCHITECTURE.md";

/// One entry of the map.
struct Entry {
    name: String,
    line: usize,
    text: String,
}

/// Reads the page and holds its map against the workspace.
pub fn check(workspace: &Workspace) -> Result<Report, CheckError> {
    let names: Vec<&str> = workspace.members.iter().map(|member| member.name.as_str()).collect();
    let Some(text) = workspace.text_of(Path::new(PAGE))? else {
        return Ok(Report { looked_at: "no page".to_owned(), faults: vec![Fault::at(PAGE, "the page is missing")] });
    };
    Ok(Report { looked_at: format!("{} crates", names.len()), faults: faults_of(&text, &names) })
}

fn faults_of(text: &str, crates: &[&str]) -> Vec<Fault> {
    let Some(block) = markdown::read(text).blocks.into_iter().next() else {
        return vec![Fault::at(PAGE, "no map: the first fenced block of the page must list every crate as `name/`")];
    };
    let entries = entries_of(&block.lines, block.opened + 1);
    let mut faults: Vec<Fault> = crates
        .iter()
        .filter(|name| !entries.iter().any(|entry| entry.name == **name))
        .map(|name| Fault::at(PAGE, format!("the map has no entry `{name}/`")))
        .collect();
    for entry in &entries {
        let Some(permitted) = permitted_from(&entry.name) else {
            continue;
        };
        if !crates.contains(&entry.name.as_str()) {
            faults.push(Fault::at_line(
                PAGE,
                entry.line,
                format!("the map shows the crate {}, which does not exist", entry.name),
            ));
        }
        let Some(shown) = arrows_of(&entry.text) else {
            continue;
        };
        let table: BTreeSet<&str> = permitted.iter().copied().collect();
        if shown != table {
            faults.push(Fault::at_line(
                PAGE,
                entry.line,
                format!(
                    "the map lets {} depend on [{}], the table on [{}]",
                    entry.name,
                    joined(&shown),
                    joined(&table)
                ),
            ));
        }
    }
    faults
}

fn joined(names: &BTreeSet<&str>) -> String {
    names.iter().copied().collect::<Vec<_>>().join(", ")
}

fn entries_of(lines: &[String], first_line: usize) -> Vec<Entry> {
    let mut entries: Vec<Entry> = Vec::new();
    for (index, line) in lines.iter().enumerate() {
        if let Some(name) = entry_name(line) {
            entries.push(Entry { name, line: first_line + index, text: line.clone() });
        } else if let Some(entry) = entries.last_mut() {
            entry.text.push('\n');
            entry.text.push_str(line);
        }
    }
    entries
}

/// The last part of the path that opens a line, if one does. Lines of a drawn tree before it are passed over.
fn entry_name(line: &str) -> Option<String> {
    let path = line
        .trim_start_matches(|c: char| c.is_whitespace() || "│├└─|+-`".contains(c))
        .split_whitespace()
        .next()?
        .strip_suffix('/')?;
    let name = path.rsplit('/').next()?;
    let plain = name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_' || c == '-');
    (plain && !name.is_empty()).then(|| name.to_owned())
}

/// The crates named after the arrow of an entry; `all` stands for all that `axlewright` may use, and other words are
/// passed over. `None` where the entry has no arrow.
fn arrows_of(text: &str) -> Option<BTreeSet<&'static str>> {
    let (_, after) = text.split_once('→').or_else(|| text.split_once("->"))?;
    let words: Vec<&str> = after.split(|c: char| !(c.is_ascii_alphanumeric() || c == '_' || c == '-')).collect();
    if words.contains(&"all") {
        return permitted_from("axlewright").map(|names| names.iter().copied().collect());
    }
    Some(PERMITTED.iter().map(|(name, _)| *name).filter(|name| words.contains(name)).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE_TEXT: &str = "# Architecture\n\n```\ncrates/\n  quantity/   lengths     → (none)\n  \
        elements/   machine elements,\n              one a file  → quantity\ndemo/   a shop\n```\n";

    #[test]
    fn a_true_map_passes() {
        assert_eq!(faults_of(PAGE_TEXT, &["elements", "quantity"]), []);
    }

    #[test]
    fn a_crate_left_out_fails() {
        let faults = faults_of(PAGE_TEXT, &["elements", "placed", "quantity"]);
        assert_eq!(faults, [Fault::at(PAGE, "the map has no entry `placed/`")]);
    }

    #[test]
    fn prose_about_a_crate_is_no_entry() {
        let text = "The crate `placed/` reads.\n\n```\nquantity/ and placed\n```\n";
        assert_eq!(faults_of(text, &["placed", "quantity"]).len(), 1);
    }

    #[test]
    fn a_crate_that_does_not_exist_fails() {
        let faults = faults_of(PAGE_TEXT, &["quantity"]);
        assert_eq!(faults.len(), 1);
        assert_eq!(faults[0].place, "ARCHITECTURE.md:6");
        assert!(faults[0].message.contains("elements"));
    }

    #[test]
    fn an_arrow_that_the_table_does_not_know_fails() {
        let text = "```\nquantity/  → (none)\nelements/  → quantity axle\n```\n";
        let faults = faults_of(text, &["elements", "quantity"]);
        assert_eq!(faults.len(), 1);
        assert!(faults[0].message.contains("elements depend on [axle, quantity], the table on [quantity]"));
    }

    #[test]
    fn an_arrow_left_out_fails() {
        let text = "```\nelements/  → (none)\n```\n";
        assert_eq!(faults_of(text, &["elements"]).len(), 1);
    }

    #[test]
    fn all_stands_for_every_crate() {
        let text = "```\naxlewright/  the program  → all\n```\n";
        assert_eq!(faults_of(text, &["axlewright"]), []);
    }

    #[test]
    fn a_page_without_a_map_fails() {
        assert_eq!(faults_of("# Architecture\n", &["quantity"]).len(), 1);
    }
}
