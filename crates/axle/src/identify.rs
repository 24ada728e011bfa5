//! The parts that the evidence points to.

use catalog::Catalog;

use crate::blocks::Blocks;
use crate::decide::bearing_probabilities;
use crate::review::{Candidate, Identified, PartKind};
use crate::sheet::Sheet;

/// Candidates below this probability are not named.
const NAMED_FROM: f64 = 0.01;

/// What is said of a part that is in no row of the catalog.
pub(crate) const UNLISTED: &str = "one that is in no row of the catalog";

/// Names the parts, each with its candidates, the likeliest first.
pub(crate) fn identify(sheet: &Sheet, catalog: &Catalog, blocks: &Blocks<'_>) -> Vec<Identified> {
    let unlisted = |probability| Candidate {
        name: UNLISTED.to_owned(),
        probability,
        bearing_kind: None,
        source: "no row".to_owned(),
    };
    let bearings = bearing_probabilities(blocks)
        .into_iter()
        .map(|(row, probability)| match row {
            Some(row) => Candidate {
                name: row.name.clone(),
                probability,
                bearing_kind: Some(row.kind),
                source: row.source.to_string(),
            },
            None => unlisted(probability),
        })
        .collect();

    let mut ends: Vec<Candidate> = Vec::new();
    for (choice, probability) in blocks.chain.choices.iter().zip(blocks.chain.choice_probabilities()) {
        let candidate = match choice.parts.housing_end {
            Some(row) => {
                Candidate { name: row.name.clone(), probability, bearing_kind: None, source: row.source.to_string() }
            }
            None => unlisted(probability),
        };
        match ends.iter_mut().find(|other| other.name == candidate.name) {
            Some(other) => other.probability += probability,
            None => ends.push(candidate),
        }
    }

    let splines = blocks
        .spline
        .choices
        .iter()
        .zip(blocks.spline.choice_probabilities())
        .map(|(choice, probability)| match (&choice.listed, choice.name()) {
            (Some((series, _, _)), Some(name)) => {
                Candidate { name, probability, bearing_kind: None, source: series.source.to_string() }
            }
            _ => unlisted(probability),
        })
        .collect();

    let circles = blocks
        .circle
        .choices
        .iter()
        .zip(blocks.circle.choice_probabilities())
        .map(|(choice, probability)| match choice.row {
            Some(row) => Candidate {
                name: format!("{} holes on {}", row.holes, quantity::both(row.diameter, crate::leading(sheet))),
                probability,
                bearing_kind: None,
                source: row.source.to_string(),
            },
            None => Candidate { name: format!("{} holes on another circle", choice.holes), ..unlisted(probability) },
        })
        .collect();

    let mut parts = vec![
        named(PartKind::Bearing, bearings, catalog, sheet.parts.bearing_kind.is_none()),
        named(PartKind::HousingEnd, ends, catalog, false),
        named(PartKind::Spline, splines, catalog, false),
        named(PartKind::BoltCircle, circles, catalog, false),
    ];
    if let Some(thread) = sheet.parts.stud {
        let row = catalog.stud(thread);
        let source = row.map_or_else(|| "order sheet".to_owned(), |row| row.source.to_string());
        let candidate = Candidate { name: thread.to_string(), probability: 1.0, bearing_kind: None, source };
        parts.push(Identified { kind: PartKind::Stud, candidates: vec![candidate], decided: true, remark: None });
    }
    parts
}

/// `kind_open`: whether it is a bearing whose kind the sheet does not say.
fn named(kind: PartKind, mut candidates: Vec<Candidate>, catalog: &Catalog, kind_open: bool) -> Identified {
    candidates.sort_by(|one, other| other.probability.total_cmp(&one.probability).then(one.name.cmp(&other.name)));
    // A sum of parts may reach or pass one by its last bits; nothing is certain where there are others.
    let most = if candidates.len() > 1 { 1.0 - 1e-12 } else { 1.0 };
    candidates.iter_mut().for_each(|candidate| candidate.probability = candidate.probability.min(most));
    candidates.retain(|candidate| candidate.probability >= NAMED_FROM);
    // A bolt circle needs no row: chords give its diameter, and any diameter can be drilled.
    let needs_row = kind != PartKind::BoltCircle;
    let decided = candidates.first().is_some_and(|first| {
        first.probability >= catalog.settings.thresholds.identified_at && (first.source != "no row" || !needs_row)
    });
    let remark = match candidates.as_slice() {
        [] => None,
        [_, ..] if decided => None,
        [first] => Some(format!("the evidence points to {}", first.name)),
        [first, second, ..] if kind_open && first.bearing_kind != second.bearing_kind => Some(format!(
            "the evidence does not decide between {} and {}: ask for the kind of bearing",
            first.name, second.name
        )),
        [first, second, ..] => Some(format!("the evidence does not decide between {} and {}", first.name, second.name)),
    };
    Identified { kind, candidates, decided, remark }
}
