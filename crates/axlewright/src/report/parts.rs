//! What the parts are.

use axle::{Identified, PartKind, Review};

use quantity::{end_of_sentence, percent};

use super::ink::Ink;
use super::lines::Lines;
use super::table::{Alignment, Cell, Table};

/// No more candidates than these are written out for a part.
const NAMED_AT_MOST: usize = 3;

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
    // What holds the order back is a reason as well, and is then said among the reasons.
    let said = |remark: &str| review.reasons.iter().any(|reason| reason.words.contains(remark));
    for identified in &review.identified {
        if let Some(remark) = identified.remark.as_ref().filter(|remark| !said(remark)) {
            let words = format!("About the {}: {}", part_word(identified.kind), end_of_sentence(remark));
            lines.words(&words, Ink::Plain);
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
        (NAMED_AT_MOST, Ink::Doubtful, format!("{part} (undecided)"))
    };
    let (shown, rest) = identified.candidates.split_at(shown.min(identified.candidates.len()));
    let first_cells = std::iter::once(part).chain(std::iter::repeat(String::new()));
    let mut rows: Vec<Vec<Cell>> = shown
        .iter()
        .zip(first_cells)
        .map(|(candidate, part)| {
            vec![
                Cell::new(part),
                Cell::inked(&candidate.name, ink),
                Cell::new(percent(candidate.probability)),
                Cell::inked(&candidate.source, Ink::Faint),
            ]
        })
        .collect();
    if !identified.decided && !rest.is_empty() {
        let together: f64 = rest.iter().map(|candidate| candidate.probability).sum();
        let more = format!("{} more", rest.len());
        rows.push(vec![Cell::new(""), Cell::inked(more, Ink::Faint), Cell::new(percent(together)), Cell::new("")]);
    }
    rows
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
