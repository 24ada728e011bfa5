//! What is missing and what to ask.

use axle::{Missing, Question, Review};

use calculation::key_in_words;
use quantity::{capitalised, sentence};

use super::ink::Ink;
use super::lines::{INDENT, Lines};

/// Writes the section.
pub fn write(lines: &mut Lines, review: &Review) {
    write_missing(lines, review);
    write_questions(lines, &review.questions);
}

fn write_missing(lines: &mut Lines, review: &Review) {
    // A gap is usually a reason as well, and is then said among the reasons with what would fill it.
    let said = |words: &str| review.reasons.iter().any(|reason| sentence(&reason.words) == sentence(words));
    let unsaid: Vec<&Missing> = review.missing.iter().filter(|missing| !said(&missing.words)).collect();
    if unsaid.is_empty() {
        return;
    }
    lines.heading("What is missing");
    for missing in unsaid {
        lines.words(&sentence(&missing.words), Ink::Doubtful);
        if !missing.measurands.is_empty() {
            let ways: Vec<String> = missing.measurands.iter().map(|measurand| key_in_words(measurand.key())).collect();
            lines.under(4, &format!("Any of these would fill the gap: {}.", ways.join("; ")), Ink::Plain);
        }
    }
}

fn write_questions(lines: &mut Lines, questions: &[Question]) {
    if questions.is_empty() {
        return;
    }
    lines.heading("What to ask next, the most helpful first");
    let digits = questions.len().to_string().len();
    for (number, question) in (1..).zip(questions) {
        let required = if question.required { " (The order cannot be cut without it.)" } else { "" };
        lines.item(&format!("{number:>digits$}"), Ink::Strong, &format!("{}{required}", question.words), Ink::Strong);
        let indent = INDENT + digits + 2;
        lines.under(indent, &question.how, Ink::Plain);
        lines.under(indent, &cost_and_gain(question), Ink::Faint);
    }
}

/// `Steel tape, 5 min; raises the chance of a fit by 6.4 points, to be expected.`
fn cost_and_gain(question: &Question) -> String {
    let effort = format!("{:.0} min", question.effort_minutes);
    let cost = match &question.instrument {
        Some(instrument) => format!("{}, {effort}", capitalised(instrument)),
        None => format!("About {effort}"),
    };
    // What is required is not weighed against anything else.
    if question.required {
        format!("{cost}.")
    } else {
        format!("{cost}; expected to raise the chance of a fit by {:.1} points.", 100.0 * question.gain)
    }
}
