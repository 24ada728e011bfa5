//! The fit conditions and the checks.

use axle::{Check, ConditionReview, Consequence, Review};

use quantity::{capitalised, end_of_sentence, percent, sentence};

use super::ink::Ink;
use super::lines::{INDENT, Lines};
use super::table::{Alignment, Cell, Table};

/// A condition surer than this is only counted.
const SURE: f64 = 0.995;

/// So many conditions are written out even where all are sure.
const ALWAYS_NAMED: usize = 3;

/// Writes the section.
pub fn write(lines: &mut Lines, review: &Review) {
    write_conditions(lines, &review.conditions);
    write_checks(lines, &review.checks);
}

fn write_conditions(lines: &mut Lines, conditions: &[ConditionReview]) {
    if conditions.is_empty() {
        return;
    }
    lines.heading("What has to fit, the least certain first");
    let named = conditions
        .iter()
        .take_while(|condition| condition.probability < SURE)
        .count()
        .max(ALWAYS_NAMED)
        .min(conditions.len());
    let mut table = Table::default();
    table.column("holds", Alignment::Right);
    table.column("if not", Alignment::Left);
    table.column("condition", Alignment::Rest);
    for condition in &conditions[..named] {
        let ink = if condition.probability < SURE { Ink::Doubtful } else { Ink::Good };
        table.row(vec![
            Cell::inked(percent(condition.probability), ink),
            Cell::new(consequence_word(condition.consequence)),
            Cell::new(&condition.words),
        ]);
    }
    lines.table(&table);
    if conditions[..named].iter().any(|condition| condition.consequence == Consequence::Nuisance) {
        lines.words(
            "A nuisance needs no rework of the shafts and does not count against the fit probability.",
            Ink::Faint,
        );
    }
    if let Some(least) = conditions[named..].first() {
        let words = match conditions.len() - named {
            1 => format!("One more is surer: {}.", percent(least.probability)),
            count => format!("{count} more are surer: {} at the least.", percent(least.probability)),
        };
        lines.words(&words, Ink::Faint);
    }
}

fn consequence_word(consequence: Consequence) -> &'static str {
    match consequence {
        Consequence::Scrap => "scrap",
        Consequence::Rework => "rework",
        Consequence::Nuisance => "nuisance",
    }
}

fn write_checks(lines: &mut Lines, checks: &[Check]) {
    if checks.is_empty() {
        return;
    }
    lines.heading("Checks");
    let (passed, failed): (Vec<&Check>, Vec<&Check>) = checks.iter().partition(|check| check.passed);
    write_outcome(lines, &failed, "FAILED", Ink::Bad);
    write_outcome(lines, &passed, "passed", Ink::Good);
}

/// Checks with one outcome; those that follow each other by the same method name it once, under the last of them.
fn write_outcome(lines: &mut Lines, checks: &[&Check], outcome: &str, ink: Ink) {
    for by_method in checks.chunk_by(|one, next| one.source == next.source) {
        for check in by_method {
            lines.item(outcome, ink, &check_sentence(check), Ink::Plain);
        }
        if let Some(check) = by_method.first() {
            lines.under(INDENT + outcome.len() + 2, &format!("Source: {}", end_of_sentence(&check.source)), Ink::Faint);
        }
    }
}

/// The check with its numbers.
fn check_sentence(check: &Check) -> String {
    let mut numbers = Vec::new();
    if let Some(statistic) = check.statistic {
        numbers.push(format!("statistic {statistic:.2}"));
    }
    if let Some(limit) = check.limit {
        numbers.push(format!("limit {limit:.2}"));
    }
    if let Some(degrees) = check.degrees_of_freedom {
        numbers.push(format!("{} degrees of freedom", short(degrees)));
    }
    if numbers.is_empty() {
        return sentence(&check.words);
    }
    format!("{}: {}.", capitalised(check.words.trim_end_matches('.')), numbers.join(", "))
}

/// A number with one decimal, or none where it is whole.
fn short(number: f64) -> String {
    let text = format!("{number:.1}");
    text.strip_suffix(".0").map_or_else(|| text.clone(), str::to_owned)
}
