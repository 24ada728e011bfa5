//! Where one size comes from: its trace, step by step.

use axle::{Dimension, Review, TraceStep, Verdict};

use super::cut_list::{basis_word, name};
use super::headline::verdict_word;
use super::ink::Ink;
use super::lines::{INDENT, Lines};
use super::page::Page;
use super::size::{Fineness, Unit, both, both_uncertain, limits};

/// The report on the origin of some dimensions of a review.
pub fn origin_report(review: &Review, dimensions: &[&Dimension], page: &Page) -> String {
    let mut lines = Lines::new(page.columns);
    for dimension in dimensions {
        write(&mut lines, review, dimension, page);
    }
    lines.gap();
    lines.into_text()
}

fn write(lines: &mut Lines, review: &Review, dimension: &Dimension, page: &Page) {
    let fineness = Fineness::of_dimension(dimension.kind);
    lines.rule();
    let cut = both(dimension.cut, page.leading, fineness);
    let verb = if review.verdict == Verdict::Cut { "cut" } else { "would be cut" };
    let both_sides = if dimension.side.is_none() { ", both sides alike" } else { "" };
    let words = format!("{}{both_sides}: {verb} {cut}", name(dimension));
    lines.item(&review.reference, Ink::Strong, &words, Ink::Strong);
    if review.verdict != Verdict::Cut {
        let words = format!("Not released: the verdict on the order is {}.", verdict_word(review.verdict));
        lines.words(&words, Ink::of(review.verdict));
    }
    lines.rule();
    lines.words(&limits_sentence(dimension, page, fineness), Ink::Plain);
    let mean = both(dimension.mean, page.leading, fineness);
    let spread = both_uncertain(dimension.standard_uncertainty, page.leading, fineness);
    lines.words(&format!("What it should be: {mean} with a standard uncertainty of {spread}."), Ink::Plain);
    lines.words(&format!("Basis: {}.", basis_word(dimension.basis)), Ink::Plain);
    write_steps(lines, &dimension.trace, page, fineness);
}

fn limits_sentence(dimension: &Dimension, page: &Page, fineness: Fineness) -> String {
    let [first, second] = Unit::ordered(page.leading)
        .map(|unit| format!("{} {}", limits(dimension.least, dimension.most, unit, fineness), unit.symbol()));
    format!("Limits: {first} ({second}).")
}

fn write_steps(lines: &mut Lines, steps: &[TraceStep], page: &Page, fineness: Fineness) {
    lines.heading("How the size came about");
    if steps.is_empty() {
        lines.words("No steps were recorded.", Ink::Doubtful);
    }
    let weighted = "A weight says by how much the size would move if that number alone moved by one.";
    lines.words(weighted, Ink::Faint);
    let digits = steps.len().to_string().len();
    for (number, step) in (1..).zip(steps) {
        lines.item(&format!("{number:>digits$}"), Ink::Strong, &step_sentence(step, page, fineness), Ink::Plain);
        lines.under(INDENT + digits + 2, &format!("from {}", step.source), Ink::Faint);
    }
}

fn step_sentence(step: &TraceStep, page: &Page, fineness: Fineness) -> String {
    let value = step.value.map(|size| both(size, page.leading, fineness));
    let spread = step.standard_uncertainty.map(|size| both_uncertain(size, page.leading, fineness));
    match (value, spread) {
        (Some(value), Some(spread)) => format!("{}: {value} ± {spread}", step.words),
        (Some(value), None) => format!("{}: {value}", step.words),
        (None, Some(spread)) => format!("{}: ± {spread}", step.words),
        (None, None) => step.words.clone(),
    }
}
