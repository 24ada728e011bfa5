//! The result of a calculation, as a handbook prints tables: a block to a source, inch and millimetre side by side.

use calculation::{Amount, Block, Calculation, Calculator, Entry, NumberText, Quantity, key_in_words};
use maud::{Markup, html};
use quantity::Leading;

use crate::words::{capitalised, minus};

/// The whole result. What it says of options of the command line is said of the fields of its form.
pub(super) fn calculation(calculator: &Calculator, calculation: &Calculation) -> Markup {
    html! {
        div .card.printed {
            h2 { (capitalised(&calculation.subject)) }
            @if !calculation.taken.is_empty() {
                p .taken { strong { "Taken, because nothing was said: " } (calculator.in_labels(&calculation.taken.join("; "))) "." }
            }
            @for one in &calculation.blocks { (block(calculator, one, calculation.leading)) }
            section .cautions {
                h3 { "Cautions" }
                ul { @for caution in calculation.cautions { li { (caution) } } }
            }
        }
    }
}

fn block(calculator: &Calculator, block: &Block, leading: Leading) -> Markup {
    let (words, sizes): (Vec<&Entry>, Vec<&Entry>) =
        block.entries.iter().partition(|entry| matches!(entry.amount, Amount::Words(_)));
    let (first, second) = match leading {
        Leading::Inches => ("inch, pound", "millimetre, newton"),
        Leading::Millimetres => ("millimetre, newton", "inch, pound"),
    };
    let remarks = sizes.iter().any(|entry| !entry.remark.is_empty());
    html! {
        section {
            h3 { (capitalised(&key_in_words(block.key))) }
            @for entry in words {
                @if let Amount::Words(said) = &entry.amount {
                    p .said {
                        (capitalised(&key_in_words(&entry.key))) ": " strong { (said) }
                        @if !entry.remark.is_empty() { span .soft { " (" (entry.remark) ")" } }
                    }
                }
            }
            @if !sizes.is_empty() {
                div .scroll tabindex="0" role="group" aria-label={ (key_in_words(block.key)) ", table" } {
                    table .quantities.amounts {
                        // The columns of all tables of a result stand under each other.
                        colgroup { col .what; col .amount; col .unit; col .amount; col .unit; col .remark; }
                        thead {
                            tr {
                                th scope="col" { "Quantity" }
                                th scope="col" colspan="2" { (first) }
                                th scope="col" colspan="2" { (second) }
                                @if remarks { th scope="col" { "Remark" } }
                            }
                        }
                        tbody { @for entry in sizes { (row(entry, leading, remarks)) } }
                    }
                }
            }
            @for note in &block.notes { p .its-note { (capitalised(&calculator.in_labels(note))) "." } }
            p .source { "Source: " (block.source) "." }
        }
    }
}

fn row(entry: &Entry, leading: Leading, remarks: bool) -> Markup {
    html! {
        tr {
            th scope="row" { (capitalised(&key_in_words(&entry.key))) }
            @match columns(&entry.amount, leading) {
                [Some(alike), None] => td .alike colspan="4" { (alike.number) @if !alike.unit.is_empty() { " " span .soft { (alike.unit) } } },
                both => @for text in both.into_iter().flatten() { td .number { (text.number) } td .unit { (text.unit) } },
            }
            @if remarks { td .remark { (minus(&entry.remark)) } }
        }
    }
}

/// The amount in both systems, the leading one first; a number that both write the same stands once.
fn columns(amount: &Amount, leading: Leading) -> [Option<NumberText>; 2] {
    let both = |quantity: Quantity| {
        let shown = |text: NumberText| NumberText { number: minus(&text.number), ..text };
        let (inch, metric) = (shown(quantity.in_inch_units()), shown(quantity.in_metric_units()));
        match leading {
            Leading::Inches => [inch, metric],
            Leading::Millimetres => [metric, inch],
        }
    };
    match amount {
        Amount::Words(_) => [None, None],
        Amount::One(quantity) => {
            let [first, second] = both(*quantity);
            [Some(first), (!quantity.is_plain_number()).then_some(second)]
        }
        Amount::Range(least, most) => {
            let ([first, second], [to_first, to_second]) = (both(*least), both(*most));
            [Some(between(first, &to_first)), (!least.is_plain_number()).then(|| between(second, &to_second))]
        }
    }
}

/// `1.38222 – 1.38348`, and `−18.0 to 23.0` where a dash could be taken for a sign.
fn between(least: NumberText, most: &NumberText) -> NumberText {
    let signed = [&least, most].into_iter().any(|one| one.number.starts_with('\u{2212}'));
    let joint = if signed { " to " } else { "\u{2009}–\u{2009}" };
    NumberText { number: format!("{}{joint}{}", least.number, most.number), unit: least.unit }
}
