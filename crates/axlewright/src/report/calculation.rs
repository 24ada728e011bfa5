//! A calculation alone, on the same page as a report.

use quantity::{Leading, capitalised, end_of_sentence, sentence};

use super::ink::Ink;
use super::lines::Lines;
use super::table::{Alignment, Cell, Table};
use calculation::{Amount, Block, Calculation, Entry, NumberText, Quantity, key_in_words};

/// The page of one calculation, so many columns wide.
pub fn calculation_report(calculation: &Calculation, columns: usize) -> String {
    let mut lines = Lines::new(columns);
    lines.rule();
    lines.item(&key_in_words(calculation.command), Ink::Strong, &calculation.subject, Ink::Strong);
    lines.rule();
    if !calculation.taken.is_empty() {
        let taken = end_of_sentence(&calculation.taken.join("; "));
        lines.words(&format!("Taken, because nothing was said: {taken}"), Ink::Doubtful);
    }
    for block in &calculation.blocks {
        write_block(&mut lines, block, calculation.leading);
    }
    lines.gap();
    lines.rule();
    for line in super::lines::wrapped("Cautions", columns) {
        lines.under(0, &line, Ink::Strong);
    }
    for caution in calculation.cautions {
        lines.item("-", Ink::Plain, caution, Ink::Plain);
    }
    lines.into_text()
}

fn write_block(lines: &mut Lines, block: &Block, leading: Leading) {
    lines.heading(&capitalised(&key_in_words(block.key)));
    let mut rows = Vec::new();
    for entry in &block.entries {
        if let Amount::Words(words) = &entry.amount {
            // Words stand in no column of numbers; they are written above the table or below it, in their order.
            flush(lines, &mut rows, leading);
            let remark = if entry.remark.is_empty() { String::new() } else { format!(" ({})", entry.remark) };
            lines.words(&format!("{}: {words}{remark}", capitalised(&key_in_words(&entry.key))), Ink::Strong);
            continue;
        }
        rows.push(entry);
    }
    flush(lines, &mut rows, leading);
    for note in &block.notes {
        lines.words(&sentence(note), Ink::Plain);
    }
    lines.words(&format!("Source: {}.", block.source), Ink::Faint);
}

/// Writes the rows that have been gathered as a table.
fn flush(lines: &mut Lines, entries: &mut Vec<&Entry>, leading: Leading) {
    if entries.is_empty() {
        return;
    }
    let amounts: Vec<(NumberText, NumberText)> =
        entries.iter().map(|entry| columns_of(&entry.amount, leading)).collect();
    let mut table = Table::default();
    table.column("", Alignment::Left);
    table.column("", alignment(amounts.iter().map(|(first, _)| first)));
    table.column("", Alignment::Left);
    table.column("", alignment(amounts.iter().map(|(_, second)| second)));
    table.column("", Alignment::Left);
    table.column("", Alignment::Rest);
    for (entry, (first, second)) in entries.iter().zip(amounts) {
        table.row(vec![
            Cell::new(key_in_words(&entry.key)),
            Cell::inked(first.number, Ink::Strong),
            Cell::new(first.unit),
            Cell::inked(second.number, Ink::Strong),
            Cell::new(second.unit),
            Cell::inked(&entry.remark, Ink::Faint),
        ]);
    }
    lines.table(&table);
    entries.clear();
}

/// Numbers stand under each other by their points, where every one has a point.
fn alignment<'n>(mut numbers: impl Iterator<Item = &'n NumberText>) -> Alignment {
    let pointed = |text: &NumberText| text.number.is_empty() || text.number.contains('.');
    if numbers.all(pointed) { Alignment::By('.') } else { Alignment::Right }
}

/// The amount in both systems, the leading one first; a number that is the same in both stands once.
fn columns_of(amount: &Amount, leading: Leading) -> (NumberText, NumberText) {
    let nothing = NumberText { number: String::new(), unit: "" };
    match amount {
        Amount::Words(_) => (nothing.clone(), nothing),
        Amount::One(quantity) if quantity.is_plain_number() => (quantity.in_metric_units(), nothing),
        Amount::Range(least, most) if least.is_plain_number() => {
            (between(least.in_metric_units(), &most.in_metric_units()), nothing)
        }
        Amount::One(quantity) => {
            let [first, second] = ordered(*quantity, leading);
            (first, second)
        }
        Amount::Range(least, most) => {
            let ([first, second], [to_first, to_second]) = (ordered(*least, leading), ordered(*most, leading));
            (between(first, &to_first), between(second, &to_second))
        }
    }
}

fn ordered(quantity: Quantity, leading: Leading) -> [NumberText; 2] {
    let (inch, metric) = (quantity.in_inch_units(), quantity.in_metric_units());
    match leading {
        Leading::Inches => [inch, metric],
        Leading::Millimetres => [metric, inch],
    }
}

/// `1.38222–1.38348`, and `-18.0 to 23.0` where a dash could be taken for a sign.
fn between(least: NumberText, most: &NumberText) -> NumberText {
    let signed = least.number.starts_with('-') || most.number.starts_with('-');
    let joint = if signed { " to " } else { "–" };
    NumberText { number: format!("{}{joint}{}", least.number, most.number), unit: least.unit }
}
