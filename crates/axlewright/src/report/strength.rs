//! The proof of strength, in short.

use axle::{AssumedInput, CAUTIONS, FigureKind, Outcome, Proof, ProofCheck, SafetyRange};
use quantity::{end_of_sentence, sentence};

use super::ink::Ink;
use super::lines::Lines;
use super::table::{Alignment, Cell, Table};

/// The cautions that bear on pressing and on the ring; that of judgement ends the report, right below.
const BEARING_ON_STRENGTH: [&str; 3] = [CAUTIONS[2], CAUTIONS[3], CAUTIONS[4]];

/// So many assumed inputs are named, those of the vehicle first; of more only the number is said.
const NAMED: usize = 6;

/// Writes the section.
pub fn write(lines: &mut Lines, proof: &Proof) {
    if proof.checks.is_empty() && proof.not_proved.is_empty() {
        return;
    }
    lines.heading("Strength, the weakest first");
    write_checks(lines, proof);
    write_cases(lines, proof);
    write_sensitivity(lines, proof);
    for figure in &proof.figures {
        lines.item(figure_word(figure.kind), Ink::Strong, &figure.words, Ink::Plain);
    }
    for one in &proof.not_proved {
        let words = format!("{}. It needs {}", one.what, end_of_sentence(&one.needs));
        lines.item("not proved", Ink::Doubtful, &sentence(&words), Ink::Plain);
    }
    write_assumed(lines, &proof.assumed);
    lines.words(&BEARING_ON_STRENGTH.join(" "), Ink::Plain);
}

fn write_checks(lines: &mut Lines, proof: &Proof) {
    if proof.checks.is_empty() {
        return;
    }
    let mut table = Table::default();
    table.column("outcome", Alignment::Left);
    table.column("safety", Alignment::By('–'));
    table.column("least", Alignment::Right);
    table.column("check", Alignment::Rest);
    for check in &proof.checks {
        let (word, ink) = outcome_word(check.outcome);
        table.row(vec![
            Cell::inked(word, ink),
            Cell::new(range(check.safety)),
            Cell::new(format!("{:.2}", check.required)),
            Cell::new(&check.words),
        ]);
    }
    lines.table(&table);
    if proof.checks.iter().any(|check| check.outcome == Outcome::Unconfirmed) {
        lines.words(
            "A safety runs between the harsh and the mild end of what the sheet leaves open. Where a check is open, the \
             order is not stopped for it, and the loads should be stated before the shafts are relied on.",
            Ink::Faint,
        );
    }
    if let Some(weakest) = proof.checks.first().filter(|weakest| weakest.outcome != Outcome::Holds) {
        lines.words(&format!("At the harsh end: {}", end_of_sentence(&weakest.detail)), Ink::Plain);
        lines.words(&format!("What would help: {}", lowercase(&weakest.remedy)), Ink::Plain);
    }
}

fn write_cases(lines: &mut Lines, proof: &Proof) {
    if proof.cases.is_empty() {
        return;
    }
    let mut table = Table::default();
    table.column("load case", Alignment::Left);
    table.column("yield", Alignment::By('–'));
    table.column("fatigue", Alignment::By('–'));
    table.column("weakest section", Alignment::Rest);
    for case in &proof.cases {
        table.row(vec![
            Cell::new(case.case.words()),
            Cell::new(range(case.yield_safety)),
            Cell::new(case.fatigue.map_or_else(|| "once".to_owned(), |(_, safety)| range(safety))),
            Cell::new(case.weakest),
        ]);
    }
    lines.gap();
    lines.table(&table);
}

fn write_sensitivity(lines: &mut Lines, proof: &Proof) {
    for (number, one) in proof.sensitivity.iter().enumerate() {
        if number == 0 {
            let of = |check: &ProofCheck| {
                format!(", that of \"{}\" against the {} it needs", check.words, number_text(check.required))
            };
            let weakest = proof.checks.first().map(of).unwrap_or_default();
            lines.words(&format!("What moves the weakest safety most{weakest}:"), Ink::Plain);
        }
        let moved = format!("{} to {}", number_text(one.from), number_text(one.to));
        lines.item(&moved, Ink::Strong, &end_of_sentence(&one.words), Ink::Plain);
    }
}

fn write_assumed(lines: &mut Lines, assumed: &[AssumedInput]) {
    if assumed.is_empty() {
        return;
    }
    let names: Vec<&str> = assumed.iter().take(NAMED).map(|one| one.words.as_str()).collect();
    let more = match assumed.len().saturating_sub(NAMED) {
        0 => String::new(),
        count => format!(", and {count} more"),
    };
    let words = format!(
        "Assumed, because the sheet does not say: {}{more}. Both ends of each are in the JSON, with where they come from.",
        names.join(", ")
    );
    lines.words(&words, Ink::Faint);
}

fn figure_word(kind: FigureKind) -> &'static str {
    match kind {
        FigureKind::RingPressOn => "lock ring",
        FigureKind::BearingClearance => "bearing",
        FigureKind::FatigueDamage => "life",
    }
}

fn outcome_word(outcome: Outcome) -> (&'static str, Ink) {
    match outcome {
        Outcome::Holds => ("holds", Ink::Good),
        Outcome::Unconfirmed => ("open", Ink::Doubtful),
        Outcome::Fails => ("FAILS", Ink::Bad),
    }
}

/// `0.72–2.23`, the lower first, or one number where nothing is open.
fn range(safety: SafetyRange) -> String {
    if safety.harsh == safety.mild {
        return number_text(safety.harsh);
    }
    // What is harsh for the shaft as a whole can be mild for one case, as where an inner wheel lifts.
    format!("{}–{}", number_text(safety.harsh.min(safety.mild)), number_text(safety.harsh.max(safety.mild)))
}

/// Two decimals, rounded down so that what fails never reads as if it held.
fn number_text(safety: f64) -> String {
    const ENOUGH: f64 = 100.0;
    if safety >= ENOUGH { "over 100".to_owned() } else { format!("{:.2}", (safety * 100.0).floor() / 100.0) }
}

fn lowercase(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
