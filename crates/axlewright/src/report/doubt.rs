//! What is wrong and why: the explanations of the sheet, the readings to doubt, and those that nothing checks.

use axle::{ExplanationReview, MistakeReview, ReadingReview, Review};

use super::ink::Ink;
use super::lines::{Lines, capitalised};
use super::page::Page;
use super::percent::percent;
use super::size::{Fineness, Unit, both, number};
use super::table::{Alignment, Cell, Table};
use crate::dimension_key::key_in_words;

/// An explanation below this is only counted.
const WORTH_NAMING: f64 = 0.005;

/// No more explanations than these are written out.
const NAMED_AT_MOST: usize = 5;

/// Writes the section.
pub fn write(lines: &mut Lines, review: &Review, page: &Page) {
    write_explanations(lines, review, page);
    write_doubtful(lines, review, page);
    write_remarks(lines, review);
    write_unchecked(lines, review, page);
}

fn write_explanations(lines: &mut Lines, review: &Review, page: &Page) {
    if review.explanations.is_empty() {
        return;
    }
    let nothing_wrong = review.explanations.first().is_some_and(|first| first.mistakes.is_empty());
    lines.heading(if nothing_wrong { "What the readings say" } else { "What is wrong, and why" });
    let named = named(&review.explanations);
    let parts_differ = named.windows(2).any(|pair| pair[0].parts != pair[1].parts);
    for explanation in named {
        let marker = format!("{:>8}", percent(explanation.probability));
        let mut marker = (marker.as_str(), Ink::Strong);
        for words in sentences(explanation, review, page, parts_differ) {
            lines.item(marker.0, marker.1, &words, Ink::Plain);
            marker = ("        ", Ink::Plain);
        }
    }
    write_rest(lines, review, named.len());
}

/// The explanations that are written out: the first always.
fn named(explanations: &[ExplanationReview]) -> &[ExplanationReview] {
    let worth = explanations.iter().take_while(|explanation| explanation.probability >= WORTH_NAMING).count();
    &explanations[..worth.clamp(1, NAMED_AT_MOST).min(explanations.len())]
}

/// An explanation in sentences, one for each mistake, and one for the parts where these tell explanations apart.
fn sentences(explanation: &ExplanationReview, review: &Review, page: &Page, parts_differ: bool) -> Vec<String> {
    let mut sentences: Vec<String> = match explanation.mistakes.as_slice() {
        [] => vec!["Every reading means what it says.".to_owned()],
        mistakes => mistakes.iter().map(|mistake| mistake_sentence(mistake, review, page)).collect(),
    };
    if parts_differ && !explanation.parts.is_empty() {
        sentences.push(format!("With {}.", explanation.parts.join(", ")));
    }
    sentences
}

fn mistake_sentence(mistake: &MistakeReview, review: &Review, page: &Page) -> String {
    let words = capitalised(mistake.words.trim_end_matches('.'));
    let spoiled = mistake.readings.first().and_then(|index| review.readings.get(*index));
    match (mistake.would_say, spoiled) {
        (Some(size), Some(reading)) => {
            let size = both(size, page.leading, Fineness::of_reading(reading.measurand));
            format!("{words}. It should have said {size}.")
        }
        _ => format!("{words}."),
    }
}

fn write_rest(lines: &mut Lines, review: &Review, named: usize) {
    let rest = &review.explanations[named..];
    if !rest.is_empty() {
        let together: f64 = rest.iter().map(|explanation| explanation.probability).sum();
        let words = match rest.len() {
            1 => format!("One more explanation has {}.", percent(together)),
            count => format!("{count} more explanations have {} together.", percent(together)),
        };
        lines.words(&words, Ink::Faint);
    }
    if review.prior_left_out > 0.0 {
        let words = format!(
            "Explanations with still more mistakes were not weighed; beforehand they had {} together.",
            percent(review.prior_left_out)
        );
        lines.words(&words, Ink::Faint);
    }
}

fn write_doubtful(lines: &mut Lines, review: &Review, page: &Page) {
    let unit = Unit::ordered(page.leading)[0];
    let wide = lines.columns() >= Page::WIDE;
    let mut table = Table::default();
    table.column("line", Alignment::Right);
    table.column("reading", Alignment::Left);
    table.column("written", Alignment::Left);
    table.column("should say", Alignment::By('.'));
    if wide {
        table.column("residual", Alignment::By('.'));
    }
    table.column("mistaken", Alignment::Right);
    table.column("likeliest mistake", Alignment::Rest);
    for reading in &review.readings {
        let Some((kind, chance)) = reading.likely_mistake else { continue };
        let fineness = Fineness::of_reading(reading.measurand);
        let should_say = reading
            .reconciled
            .map_or_else(String::new, |size| format!("{} {}", number(size, unit, fineness), unit.symbol()));
        let mut row = vec![
            Cell::new(reading.line.to_string()),
            Cell::new(name(reading)),
            Cell::new(&reading.written),
            Cell::inked(should_say, Ink::Strong),
        ];
        if wide {
            row.push(Cell::new(
                reading.normalised_residual.map_or_else(String::new, |residual| format!("{residual:.1}")),
            ));
        }
        row.push(Cell::inked(percent(reading.probability_mistaken), Ink::Doubtful));
        row.push(Cell::new(format!("{} ({})", key_in_words(kind.key()), percent(chance))));
        table.row(row);
    }
    if !table.is_empty() {
        lines.heading("Readings to doubt");
        lines.table(&table);
    }
}

fn write_remarks(lines: &mut Lines, review: &Review) {
    let mut remarked =
        review.readings.iter().filter_map(|reading| Some((reading, reading.remark.as_ref()?))).peekable();
    if remarked.peek().is_none() {
        return;
    }
    lines.heading("About single readings");
    for (reading, remark) in remarked {
        lines.words(&format!("{} (line {}): {remark}", capitalised(&name(reading)), reading.line), Ink::Plain);
    }
}

fn write_unchecked(lines: &mut Lines, review: &Review, page: &Page) {
    let unchecked: Vec<String> = review
        .readings
        .iter()
        .filter(|reading| reading.redundancy < page.checked_at)
        .map(|reading| format!("{} (line {})", name(reading), reading.line))
        .collect();
    if unchecked.is_empty() {
        return;
    }
    lines.heading("Readings that no other reading checks");
    lines.words(&format!("{}.", unchecked.join("; ")), Ink::Plain);
}

/// `overall length, left`.
fn name(reading: &ReadingReview) -> String {
    let words = key_in_words(reading.measurand.key());
    match reading.side {
        Some(side) => format!("{words}, {}", side.words()),
        None => words,
    }
}
