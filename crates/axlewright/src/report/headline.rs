//! The head of a report: reference, verdict, fit probability, and the reasons.

use axle::{Probability, Review, Verdict};

use quantity::{percent, sentence};

use super::ink::Ink;
use super::lines::Lines;

/// Writes the head.
pub fn write(lines: &mut Lines, sheet: &str, review: &Review) {
    lines.rule();
    lines.item(&review.reference, Ink::Strong, &verdict_sentence(review.verdict), Ink::of(review.verdict));
    lines.words(&fit_sentence(review.fit_probability), Ink::Plain);
    lines.words(&format!("Sheet: {sheet}"), Ink::Faint);
    lines.rule();
    write_reasons(lines, review);
}

/// The word that a verdict is called by.
pub fn verdict_word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Cut => "CUT",
        Verdict::Ask => "ASK",
        Verdict::Stop => "STOP",
    }
}

fn verdict_sentence(verdict: Verdict) -> String {
    let meaning = match verdict {
        Verdict::Cut => "the shafts may be cut",
        Verdict::Ask => "something has to be asked first",
        Verdict::Stop => "something cannot work or must not be made",
    };
    format!("{}: {meaning}", verdict_word(verdict))
}

fn fit_sentence(fit: Option<Probability>) -> String {
    /// A numerical error below half of the last printed decimal changes nothing that is printed.
    const NEGLIGIBLE: f64 = 0.000_5;
    match fit {
        None => "Fit probability: none yet, something that the shafts need is missing".to_owned(),
        Some(fit) if fit.error < NEGLIGIBLE => format!("Fit probability {}", percent(fit.value)),
        Some(fit) => {
            // An error is never told smaller than it is.
            let within = (1000.0 * fit.error).ceil() / 10.0;
            format!("Fit probability {} (computed to within {within:.1}\u{a0}%)", percent(fit.value))
        }
    }
}

fn write_reasons(lines: &mut Lines, review: &Review) {
    if review.reasons.is_empty() {
        return;
    }
    lines.heading("Why");
    for reason in &review.reasons {
        // All markers are as wide as the widest, so that the words stand under each other.
        let marker = format!("{:<4}", verdict_word(reason.verdict).to_lowercase());
        lines.item(&marker, Ink::of(reason.verdict), &sentence(&reason.words), Ink::Plain);
        if let Some(remedy) = &reason.remedy {
            lines.under(8, &format!("What would change it: {}", sentence(remedy)), Ink::Plain);
        }
    }
}
