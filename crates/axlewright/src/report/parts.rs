//! What the parts are.

use axle::{Identified, PartKind, Review};

use super::ink::Ink;
use super::lines::Lines;
use super::percent::percent;
use super::table::{Alignment, Cell, Table};

/// Writes the section.
pub fn write(lines: &mut Lines, review: &Review) {
    if review.identified.is_empty() {
        return;
    }
    lines.heading("What the parts are");
    let mut table = Table::default();
    table.column("part", Alignment::Left);
    table.column("likeliest", Alignment::Left);
    table.column("sure", Alignment::Right);
    table.column("where the row comes from", Alignment::Rest);
    for identified in &review.identified {
        for row in rows(identified) {
            table.row(row);
        }
    }
    lines.table(&table);
    for identified in &review.identified {
        if let Some(remark) = &identified.remark {
            lines.words(&format!("About the {}: {remark}", part_word(identified.kind)), Ink::Plain);
        }
    }
}

/// One row where the part is decided, one for each candidate where it is not.
fn rows(identified: &Identified) -> Vec<Vec<Cell>> {
    let part = part_word(identified.kind);
    if identified.candidates.is_empty() {
        return vec![vec![Cell::new(part), Cell::inked("unknown", Ink::Doubtful), Cell::new(""), Cell::new("")]];
    }
    let (shown, ink, part) = if identified.decided {
        (1, Ink::Strong, part.to_owned())
    } else {
        (identified.candidates.len(), Ink::Doubtful, format!("{part} (undecided)"))
    };
    let first_cells = std::iter::once(part).chain(std::iter::repeat(String::new()));
    identified
        .candidates
        .iter()
        .take(shown)
        .zip(first_cells)
        .map(|(candidate, part)| {
            vec![
                Cell::new(part),
                Cell::inked(&candidate.name, ink),
                Cell::new(percent(candidate.probability)),
                Cell::inked(&candidate.source, Ink::Faint),
            ]
        })
        .collect()
}

fn part_word(kind: PartKind) -> &'static str {
    match kind {
        PartKind::Bearing => "bearing",
        PartKind::HousingEnd => "housing end",
        PartKind::Spline => "spline",
        PartKind::BoltCircle => "bolt circle",
        PartKind::Stud => "stud",
    }
}
