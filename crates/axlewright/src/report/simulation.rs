//! The report on simulated orders.

use axle::simulate::{AskedCount, Count, Tally};

use super::ink::Ink;
use super::lines::Lines;
use super::table::{Alignment, Cell, Table};
use crate::arguments::SimulateArguments;

/// A tenth with fewer orders than this says little and is not judged.
const ENOUGH: usize = 200;

/// What the simulated orders came to.
pub fn simulation_report(tally: &Tally, arguments: &SimulateArguments, columns: usize) -> String {
    let mut lines = Lines::new(columns);
    lines.rule();
    let zeal = format!("{:?}", arguments.zeal).to_lowercase();
    lines.words(&format!("{} simulated orders, {zeal} sheets, seed {}", tally.orders, arguments.seed), Ink::Strong);
    lines.words(
        &format!(
            "Errors {} times, mistakes {} times what the catalog says; {} of readings wrong by something that no mistake \
             describes.",
            arguments.noise,
            arguments.rate,
            share(arguments.gross)
        ),
        Ink::Plain,
    );
    lines.rule();

    lines.heading("Do the stated probabilities come true?");
    lines.table(&calibration(tally));
    lines.words(
        &format!(
            "The band holds the true share with 95 % confidence. {} orders lacked something that the shafts need.",
            tally.incomplete
        ),
        Ink::Faint,
    );

    lines.heading("What is cut, and what is held back");
    lines.table(&handlings(tally));
    lines.words(
        "Wrong: cut, and at least one shaft needs rework or is scrap. Held back: its shafts would have fitted.",
        Ink::Faint,
    );

    write_asked(&mut lines, &tally.asked);

    lines.heading("Who is blamed");
    let blame = &tally.blame;
    lines.words(
        &format!(
            "{} mistakes were made. {} ({}) were blamed on the right reading, {} ({}) by their right name too. {} sound \
             readings were called mistaken.",
            blame.made,
            blame.reading_found,
            ratio(blame.reading_found, blame.made),
            blame.named,
            ratio(blame.named, blame.made),
            tally.wronged
        ),
        Ink::Plain,
    );
    lines.into_text()
}

/// What questions come to: of one order in twenty they are answered truthfully, the first of each review.
fn write_asked(lines: &mut Lines, asked: &AskedCount) {
    if asked.orders == 0 {
        return;
    }
    lines.heading("When the first question is answered each time");
    let mut table = Table::default();
    table.column("questions", Alignment::Right);
    table.column("cut after so many", Alignment::Right);
    table.column("cut by then", Alignment::Right);
    let mut so_far = 0;
    for (questions, cut) in asked.cut_after.iter().enumerate() {
        so_far += cut;
        table.row(vec![
            Cell::new(questions.to_string()),
            Cell::new(cut.to_string()),
            Cell::new(ratio(so_far, asked.orders)),
        ]);
    }
    lines.table(&table);
    let handled = &asked.handled;
    lines.words(
        &format!(
            "{} orders, {:.1} answers each. Of the {} cut in the end {} ({}) are wrong; of the {} good ones {} ({}) are held \
             back.",
            asked.orders,
            asked.answers as f64 / asked.orders as f64,
            handled.cut,
            handled.wrong,
            ratio(handled.wrong, handled.cut),
            handled.good,
            handled.held,
            ratio(handled.held, handled.good)
        ),
        Ink::Faint,
    );
}

fn calibration(tally: &Tally) -> Table {
    let mut table = Table::default();
    table.column("stated", Alignment::Left);
    table.column("orders", Alignment::Right);
    table.column("mean stated", Alignment::Right);
    table.column("came true", Alignment::Right);
    table.column("band", Alignment::Left);
    table.column("off by", Alignment::Right);
    for (at, tenth) in tally.tenths.iter().enumerate() {
        let (Some(stated), Some(fitted), Some((low, high))) = (tenth.mean_stated(), tenth.share_fitted(), tenth.band())
        else {
            continue;
        };
        let off = 100.0 * (fitted - stated);
        let judged = tenth.orders >= ENOUGH;
        let off = if judged { format!("{off:+.1} points") } else { "too few".to_owned() };
        table.row(vec![
            Cell::new(format!("{} to {} %", 10 * at, 10 * at + 10)),
            Cell::new(tenth.orders.to_string()),
            Cell::new(share(stated)),
            Cell::new(share(fitted)),
            Cell::new(format!("{} to {}", share(low), share(high))),
            Cell::new(off),
        ]);
    }
    table
}

fn handlings(tally: &Tally) -> Table {
    let mut table = Table::default();
    table.column("way of working", Alignment::Left);
    table.column("cut", Alignment::Right);
    table.column("of them wrong", Alignment::Right);
    table.column("good orders", Alignment::Right);
    table.column("held back", Alignment::Right);
    let ways: [(&str, &Count); 3] = [
        ("this review", &tally.reviewed),
        ("the classical tests", &tally.classical),
        ("no check at all", &tally.unchecked),
    ];
    for (name, count) in ways {
        table.row(vec![
            Cell::new(name),
            Cell::new(count.cut.to_string()),
            Cell::new(format!("{} ({})", count.wrong, ratio(count.wrong, count.cut))),
            Cell::new(count.good.to_string()),
            Cell::new(format!("{} ({})", count.held, ratio(count.held, count.good))),
        ]);
    }
    table
}

fn share(value: f64) -> String {
    format!("{:.1} %", 100.0 * value)
}

fn ratio(part: usize, whole: usize) -> String {
    if whole == 0 { "none".to_owned() } else { format!("{:.2} %", 100.0 * part as f64 / whole as f64) }
}
