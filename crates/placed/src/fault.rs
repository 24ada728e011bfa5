//! What is wrong in a file, where, and what would be accepted.

use std::fmt;
use std::ops::Range;

/// One fault in a file.
///
/// Shown as a small block: place and problem, the line with the offending text underlined, and what
/// would be accepted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The name of the file, as it was given.
    pub file: String,
    /// The line, counted from one.
    pub line: usize,
    /// The character in the line, counted from one.
    pub column: usize,
    /// The offending bytes in the whole text.
    pub span: Range<usize>,
    /// The offending text, cut at the end of its line; empty where something is missing.
    pub offending: String,
    /// What is wrong, in plain words.
    pub problem: String,
    /// What would be accepted there.
    pub accepted: String,
    /// The whole line that holds the beginning of the offending text.
    pub source_line: String,
}

/// Longer lines are shown in part.
const SHOWN_CHARACTERS: usize = 100;
/// So much of a long line is shown before the fault.
const SHOWN_BEFORE: usize = 50;

impl fmt::Display for Fault {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Fault { file, line, column, problem, .. } = self;
        writeln!(formatter, "{file}:{line}:{column}: {problem}")?;
        let characters: Vec<char> = self.source_line.chars().collect();
        let fault_start = column.saturating_sub(1).min(characters.len());
        let long = characters.len() > SHOWN_CHARACTERS;
        let start = if long { fault_start.saturating_sub(SHOWN_BEFORE) } else { 0 };
        let end = characters.len().min(start + SHOWN_CHARACTERS);
        let before: String = characters[start..fault_start].iter().collect();
        let shown: String = characters[start..end].iter().collect();
        let cut_before = if start > 0 { "…" } else { "" };
        let cut_behind = if end < characters.len() { "…" } else { "" };
        writeln!(formatter, "  {cut_before}{shown}{cut_behind}")?;
        // Tabs stay tabs, so that the marks stand under the text however wide a tab is.
        let indent: String = cut_before
            .chars()
            .chain(before.chars())
            .map(|character| if character == '\t' { '\t' } else { ' ' })
            .collect();
        let marks = self.offending.chars().count().min(end - fault_start).max(1);
        writeln!(formatter, "  {indent}{}", "^".repeat(marks))?;
        write!(formatter, "  accepted: {}", self.accepted)
    }
}

/// All faults of one or several files, sorted by file and place.
///
/// An empty list is no error; the readers of this crate never give one out as an error.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Faults(Vec<Fault>);

impl Faults {
    /// Sorts faults by file and place; of several that are the same one is kept.
    pub fn new(mut faults: Vec<Fault>) -> Faults {
        faults.sort_by(|one, other| place_of(one).cmp(&place_of(other)));
        faults.dedup();
        Faults(faults)
    }

    /// How many faults there are.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The faults in their order.
    pub fn iter(&self) -> std::slice::Iter<'_, Fault> {
        self.0.iter()
    }

    /// The faults of both lists, sorted again.
    #[must_use]
    pub fn merge(self, other: Faults) -> Faults {
        Faults::new(self.0.into_iter().chain(other.0).collect())
    }
}

fn place_of(fault: &Fault) -> (&str, usize, usize, &str, &str) {
    (&fault.file, fault.span.start, fault.span.end, &fault.problem, &fault.accepted)
}

impl fmt::Display for Faults {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, fault) in self.0.iter().enumerate() {
            if index > 0 {
                writeln!(formatter)?;
            }
            writeln!(formatter, "{fault}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Faults {}

impl IntoIterator for Faults {
    type Item = Fault;
    type IntoIter = std::vec::IntoIter<Fault>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}

impl<'f> IntoIterator for &'f Faults {
    type Item = &'f Fault;
    type IntoIter = std::slice::Iter<'f, Fault>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}

#[cfg(test)]
mod tests {
    use super::{Fault, Faults};

    fn fault(line: usize, column: usize, offending: &str, source_line: &str) -> Fault {
        Fault {
            file: "sheet.toml".to_owned(),
            line,
            column,
            span: line * 1000 + column..line * 1000 + column + offending.len(),
            offending: offending.to_owned(),
            problem: "wrong".to_owned(),
            accepted: "right".to_owned(),
            source_line: source_line.to_owned(),
        }
    }

    #[test]
    fn a_fault_is_shown_with_its_line_underlined() {
        assert_eq!(
            fault(12, 5, "bad", "a = bad # why").to_string(),
            "sheet.toml:12:5: wrong\n  a = bad # why\n      ^^^\n  accepted: right"
        );
        assert_eq!(
            fault(1, 6, "½", "\ta = ½").to_string(),
            "sheet.toml:1:6: wrong\n  \ta = ½\n  \t    ^\n  accepted: right"
        );
        assert_eq!(fault(1, 1, "", "").to_string(), "sheet.toml:1:1: wrong\n  \n  ^\n  accepted: right");
    }

    #[test]
    fn a_long_line_is_shown_in_part() {
        let line = format!("a = [{}, bad, {}]", "1, ".repeat(100), "2, ".repeat(100));
        let column = line.find("bad").unwrap() + 1;
        let text = fault(3, column, "bad", &line).to_string();
        let lines: Vec<&str> = text.lines().collect();
        assert!(lines[1].starts_with("  …") && lines[1].ends_with('…'));
        assert!(lines[1].chars().count() < 110);
        let marked = lines[2].find('^').unwrap();
        let under: String = lines[1].chars().skip(marked).take(3).collect();
        assert_eq!(under, "bad");
    }

    #[test]
    fn faults_are_sorted_and_kept_once() {
        let faults = Faults::new(vec![fault(2, 1, "x", "x"), fault(1, 5, "y", "    y"), fault(2, 1, "x", "x")]);
        assert_eq!(faults.len(), 2);
        let lines: Vec<usize> = faults.iter().map(|fault| fault.line).collect();
        assert_eq!(lines, [1, 2]);
        let mut earlier = fault(9, 9, "z", "z");
        earlier.file = "catalog.toml".to_owned();
        let merged = faults.merge(Faults::new(vec![earlier]));
        assert_eq!(merged.iter().next().map(|fault| fault.line), Some(9));
        assert!(Faults::default().is_empty());
    }
}
