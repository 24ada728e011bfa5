//! What is wrong and why: the explanations of the sheet, the readings to doubt, and those that nothing checks.

use axle::{ExplanationReview, MistakeReview, ReadingReview, Review};

use calculation::key_in_words;

use quantity::{capitalised, end_of_sentence, percent, sentence};

use super::ink::Ink;
use super::lines::Lines;
use super::page::Page;
use super::size::{Fineness, Unit, both, number};
use super::table::{Alignment, Cell, Table};

/// An explanation below this is not written out.
const WORTH_NAMING: f64 = 0.02;

/// No more explanations than these are written out.
const NAMED_AT_MOST: usize = 5;

/// Writes the section.
pub fn write(lines: &mut Lines, review: &Review, page: &Page) {
    write_explanations(lines, review, page);
    write_doubtful(lines, review, page);
    write_taken_otherwise(lines, review);
    write_remarks(lines, review);
    write_unchecked(lines, review, page);
}

fn write_explanations(lines: &mut Lines, review: &Review, page: &Page) {
    let Some(likeliest) = review.explanations.first() else { return };
    let nothing_wrong = likeliest.mistakes.is_empty();
    lines.heading(if nothing_wrong { "What the readings say" } else { "What is wrong, and why" });
    let named = named(&review.explanations);
    let parts_differ = named.windows(2).any(|pair| pair[0].parts != pair[1].parts);
    for (number, explanation) in named.iter().enumerate() {
        let before = if number == 0 { None } else { Some(likeliest) };
        let marker = format!("{:>8}", percent(explanation.probability));
        let mut marker = (marker.as_str(), Ink::Strong);
        for words in sentences(explanation, before, review, page, parts_differ) {
            lines.item(marker.0, marker.1, &words, Ink::Plain);
            marker = ("        ", Ink::Plain);
        }
    }
    write_rest(lines, review, named);
}

/// The explanations that are written out: the first always.
fn named(explanations: &[ExplanationReview]) -> &[ExplanationReview] {
    let worth = explanations.iter().take_while(|explanation| explanation.probability >= WORTH_NAMING).count();
    &explanations[..worth.clamp(1, NAMED_AT_MOST).min(explanations.len())]
}

/// An explanation in sentences, one for each mistake, and one for the parts where these tell explanations apart. What it
/// shares with the likeliest one is not said again.
fn sentences(
    explanation: &ExplanationReview,
    likeliest: Option<&ExplanationReview>,
    review: &Review,
    page: &Page,
    parts_differ: bool,
) -> Vec<String> {
    let same = |one: &MistakeReview, other: &MistakeReview| one.kind == other.kind && one.readings == other.readings;
    let holds =
        |one: &ExplanationReview, mistake: &MistakeReview| one.mistakes.iter().any(|other| same(other, mistake));
    let shared = likeliest.filter(|likeliest| {
        !likeliest.mistakes.is_empty() && likeliest.mistakes.iter().all(|mistake| holds(explanation, mistake))
    });
    let further: Vec<&MistakeReview> = explanation
        .mistakes
        .iter()
        .filter(|mistake| shared.is_none_or(|likeliest| !holds(likeliest, mistake)))
        .collect();
    let mut sentences = match (shared, further.as_slice()) {
        (None, []) => vec!["Every reading means what it says.".to_owned()],
        (Some(_), []) => vec!["The same mistakes as in the likeliest.".to_owned()],
        (Some(_), _) => vec!["As the likeliest, and besides:".to_owned()],
        (None, _) => Vec::new(),
    };
    sentences.extend(further.into_iter().map(|mistake| mistake_sentence(mistake, review, page)));
    if parts_differ && !explanation.parts.is_empty() {
        sentences.push(format!("With {}.", explanation.parts.join(", ")));
    }
    sentences
}

fn mistake_sentence(mistake: &MistakeReview, review: &Review, page: &Page) -> String {
    let words = sentence(&mistake.words);
    let spoiled = mistake.readings.first().and_then(|index| review.readings.get(*index));
    match (mistake.would_say, spoiled) {
        (Some(size), Some(reading)) => {
            let size = both(size, page.leading, Fineness::of_reading(reading.measurand));
            let which = if mistake.readings.len() > 1 { "The first" } else { "It" };
            format!("{words} {which} should have said {size}.")
        }
        _ => words,
    }
}

fn write_rest(lines: &mut Lines, review: &Review, named: &[ExplanationReview]) {
    /// What is left below this is the dust of adding up.
    const NOTHING: f64 = 1e-6;
    let rest = 1.0 - named.iter().map(|explanation| explanation.probability).sum::<f64>();
    if rest > NOTHING {
        lines.words(&format!("All other explanations have {} together.", percent(rest)), Ink::Faint);
    }
    if review.prior_left_out > 0.0 {
        let words = format!(
            "Explanations with still more mistakes were not weighed; before the readings were looked at they had {} \
             together.",
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
                reading
                    .normalised_residual
                    .map_or_else(String::new, |residual| without_minus_nought(format!("{residual:.1}"))),
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

/// Readings that the sheet takes as something else than was written.
fn write_taken_otherwise(lines: &mut Lines, review: &Review) {
    let corrected = || review.readings.iter().filter_map(|one| one.taken_as.as_ref().map(|taken| (one, taken)));
    if corrected().next().is_none() {
        return;
    }
    lines.heading("Readings that are taken as something else");
    for (reading, taken) in corrected() {
        let by = taken.taken_by.as_ref().map(|by| format!(" by {by}")).unwrap_or_default();
        let counts = match &taken.confirmed_by {
            Some(who) => format!("confirmed by {who}, and weighed so"),
            None => "not confirmed, and weighed as it was written".to_owned(),
        };
        let words = format!(
            "{} (line {}): written {}, taken as {}{by}; {counts}.",
            name(reading),
            reading.line,
            reading.written,
            taken.written
        );
        lines.words(&capitalised(&words), Ink::Plain);
    }
}

/// Remarks; readings about which the same is to be said share it.
fn write_remarks(lines: &mut Lines, review: &Review) {
    let mut remarks: Vec<(&str, Vec<&ReadingReview>)> = Vec::new();
    for reading in &review.readings {
        let Some(remark) = &reading.remark else { continue };
        match remarks.iter_mut().find(|(known, _)| known == remark) {
            Some((_, readings)) => readings.push(reading),
            None => remarks.push((remark, vec![reading])),
        }
    }
    if remarks.is_empty() {
        return;
    }
    lines.heading("About single readings");
    for (remark, readings) in remarks {
        lines.words(&capitalised(&format!("{}: {}", with_lines(&readings), end_of_sentence(remark))), Ink::Plain);
    }
}

/// Readings that nothing checks and about which there is nothing to say: those that matter have their remark.
fn write_unchecked(lines: &mut Lines, review: &Review, page: &Page) {
    let unchecked: Vec<&ReadingReview> =
        review.readings.iter().filter(|one| one.redundancy < page.checked_at && one.remark.is_none()).collect();
    if !unchecked.is_empty() {
        lines.heading("Other readings that nothing checks");
        lines.words(&sentence(&with_lines(&unchecked)), Ink::Plain);
    }
}

/// `flange diameter (line 32), wheel pilot diameter (line 35)`.
fn with_lines(readings: &[&ReadingReview]) -> String {
    let each: Vec<String> =
        readings.iter().map(|reading| format!("{} (line {})", name(reading), reading.line)).collect();
    each.join("; ")
}

/// `overall length, left`.
fn name(reading: &ReadingReview) -> String {
    let words = key_in_words(reading.measurand.key());
    match reading.side {
        Some(side) => format!("{words}, {}", side.words()),
        None => words,
    }
}

/// The number, and no minus before a nought.
fn without_minus_nought(text: String) -> String {
    if text == "-0.0" { "0.0".to_owned() } else { text }
}
