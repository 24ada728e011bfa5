//! What the order book prints: lists, checks and re-reviews.

use book::{BookCheck, Judgement, OrderList, Rereview, RereviewChange};

use quantity::percent;

use super::ink::Ink;
use super::lines::Lines;
use super::table::{Alignment, Cell, Table};

/// A page of a list of orders.
pub fn order_list_report(list: &OrderList, columns: usize) -> String {
    let mut lines = Lines::new(columns);
    if list.lines.is_empty() {
        lines.words("No order is found.", Ink::Plain);
    }
    let mut table = Table::default();
    let headings = [
        ("no.", Alignment::Right),
        ("reference", Alignment::Left),
        ("state", Alignment::Left),
        ("verdict", Alignment::Left),
        ("fits", Alignment::Right),
        ("customer, vehicle, axle", Alignment::Rest),
    ];
    for (heading, alignment) in headings {
        table.column(heading, alignment);
    }
    for line in &list.lines {
        let beside: Vec<&str> = [&line.details.customer, &line.details.vehicle, &line.axle]
            .into_iter()
            .map(String::as_str)
            .filter(|words| !words.is_empty())
            .collect();
        table.row(vec![
            Cell::new(line.number.to_string()),
            Cell::new(&line.reference),
            Cell::new(line.state.words()),
            Cell::inked(line.judgement.words(), ink_of(line.judgement)),
            Cell::new(line.fit.map_or("–".to_owned(), percent)),
            Cell::new(beside.join("; ")),
        ]);
    }
    if !table.is_empty() {
        lines.table(&table);
    }
    if let Some(next) = list.next {
        lines.gap();
        if list.cut_short {
            lines.words(
                "The words are common and seldom meet; only a part of the book was searched so far.",
                Ink::Plain,
            );
        }
        lines.words(&format!("More with --after {}", next.text()), Ink::Plain);
    }
    lines.into_text()
}

/// What a check found.
pub fn book_check_report(check: &BookCheck, engine: &str, columns: usize) -> String {
    let mut lines = Lines::new(columns);
    let counted = format!(
        "{engine}: {} events, {} orders, {} revisions, {} messages, {} photos",
        check.events, check.orders, check.revisions, check.messages, check.photos
    );
    lines.words(&counted, Ink::Plain);
    if check.is_sound() {
        lines.words("The book is as its log says.", Ink::Plain);
        lines.words(&format!("End of the log: {}:{}", check.events, check.end), Ink::Plain);
        lines.words(
            "Keep this line elsewhere: with --end it shows later that nothing before it was written anew.",
            Ink::Plain,
        );
    } else {
        lines.gap();
        for fault in &check.faults {
            lines.item("fault", Ink::of(axle::Verdict::Stop), &fault.to_string(), Ink::Plain);
        }
    }
    lines.into_text()
}

/// What a re-review changed.
pub fn rereview_report(run: &Rereview, changes: &[RereviewChange], columns: usize) -> String {
    let mut lines = Lines::new(columns);
    let changed = match changes.len() {
        0 => "no verdict changed".to_owned(),
        1 => "one verdict changed".to_owned(),
        several => format!("{several} verdicts changed"),
    };
    lines.words(&format!("{} open orders reviewed with this catalog, {changed}", run.done), Ink::Plain);
    let mut table = Table::default();
    for (heading, alignment) in [
        ("reference", Alignment::Left),
        ("state", Alignment::Left),
        ("was", Alignment::Left),
        ("is", Alignment::Left),
        ("fitted", Alignment::Right),
        ("fits", Alignment::Right),
        ("why", Alignment::Rest),
    ] {
        table.column(heading, alignment);
    }
    for change in changes {
        table.row(vec![
            Cell::new(&change.reference),
            Cell::new(change.state.words()),
            Cell::inked(change.was.words(), ink_of(change.was)),
            Cell::inked(change.becomes.words(), ink_of(change.becomes)),
            Cell::new(change.fit_was.map_or("–".to_owned(), percent)),
            Cell::new(change.fit_becomes.map_or("–".to_owned(), percent)),
            Cell::new(&change.why),
        ]);
    }
    if !table.is_empty() {
        lines.gap();
        lines.table(&table);
    }
    lines.into_text()
}

fn ink_of(judgement: Judgement) -> Ink {
    Ink::of(match judgement {
        Judgement::Cut => axle::Verdict::Cut,
        Judgement::Ask => axle::Verdict::Ask,
        Judgement::Stop | Judgement::Unreadable => axle::Verdict::Stop,
    })
}
