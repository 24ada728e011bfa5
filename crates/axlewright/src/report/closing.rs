//! What stands at the end: the count of orders and the cautions.

use axle::CAUTIONS;

use super::ink::Ink;
use super::lines::Lines;

/// Points from one order at the cautions that stand at the end of everything.
pub fn point_at_cautions(lines: &mut Lines) {
    lines.gap();
    lines.words(CAUTIONS[0], Ink::Plain);
    lines.words("The cautions at the end bear on this order.", Ink::Plain);
    lines.gap();
}

/// The cautions in full.
pub fn cautions_report(columns: usize) -> String {
    let mut lines = Lines::new(columns);
    lines.rule();
    for line in super::lines::wrapped("Cautions", columns) {
        lines.under(0, &line, Ink::Strong);
    }
    for caution in CAUTIONS {
        lines.item("-", Ink::Plain, caution, Ink::Plain);
    }
    lines.into_text()
}

/// How many orders got which verdict.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Tally {
    /// Orders to cut.
    pub cut: usize,
    /// Orders to ask about.
    pub ask: usize,
    /// Orders to stop.
    pub stop: usize,
    /// Sheets that could not be reviewed.
    pub unread: usize,
}

impl Tally {
    /// All sheets together.
    pub fn sheets(&self) -> usize {
        self.cut + self.ask + self.stop + self.unread
    }
}

/// Stands for a sheet that could not be reviewed; its faults are on the error output.
pub fn not_reviewed_report(name: &str, faults: usize, columns: usize) -> String {
    let mut lines = Lines::new(columns);
    lines.rule();
    let faults = if faults == 1 { "1 fault".to_owned() } else { format!("{faults} faults") };
    lines.item(name, Ink::Strong, &format!("NOT REVIEWED: {faults}, listed on the error output"), Ink::Bad);
    lines.rule();
    lines.gap();
    lines.into_text()
}

/// The count in a line.
pub fn tally_report(tally: Tally, columns: usize) -> String {
    let mut lines = Lines::new(columns);
    lines.rule();
    let unread = match tally.unread {
        0 => String::new(),
        count => format!(", {count} could not be read"),
    };
    let words = format!("{} sheets: {} cut, {} ask, {} stop{unread}", tally.sheets(), tally.cut, tally.ask, tally.stop);
    lines.under(0, &words, Ink::Strong);
    lines.into_text()
}
