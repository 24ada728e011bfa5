//! What to cut: the table that goes to the lathe.

use axle::{Basis, Dimension, Review, TrimPlan, Verdict};
use quantity::both;

use super::headline::verdict_word;
use super::ink::Ink;
use super::lines::Lines;
use super::page::Page;
use super::size::{Fineness, Unit, limits, number, uncertainty};
use super::table::{Alignment, Cell, Table};

/// Writes the table. Its heading says so where the sizes are not released.
pub fn write(lines: &mut Lines, review: &Review, page: &Page) {
    if review.dimensions.is_empty() {
        lines.heading("What to cut");
        lines.words("Nothing yet.", Ink::Plain);
        return;
    }
    let heading = match (review.verdict, review.missing.is_empty()) {
        (Verdict::Cut, _) => "What to cut".to_owned(),
        (verdict, true) => {
            format!("What would be cut as things stand (not released: the verdict is {})", verdict_word(verdict))
        }
        (verdict, false) => {
            format!("Sizes as far as they are known (not released: the verdict is {})", verdict_word(verdict))
        }
    };
    lines.heading(&heading);
    lines.table(&table(&review.dimensions, page, lines.columns() >= Page::WIDE));
    lines.words("± is one standard uncertainty of what the size should be.", Ink::Faint);
    write_trims(lines, &review.trims, page);
}

/// Says where cutting long and trimming at fitting is the wiser plan.
fn write_trims(lines: &mut Lines, trims: &[TrimPlan], page: &Page) {
    for plan in trims {
        let side = plan.side.map(|side| format!(" of the {} shaft", side.words())).unwrap_or_default();
        lines.words(
            &format!(
                "If the length{side} cannot be had better: cut it to {} and trim it at fitting, to {} at the least. The spline must \
                 then be {} long at full depth from the inner end. Expected loss {:.2} of a shaft instead of {:.2}. Trim with an \
                 abrasive saw, cold: the end is hardened.",
                both(plan.cut, page.leading),
                both(plan.least, page.leading),
                both(plan.spline, page.leading),
                plan.loss_trimmed,
                plan.loss_to_size
            ),
            Ink::Doubtful,
        );
    }
}

fn table(dimensions: &[Dimension], page: &Page, wide: bool) -> Table {
    let [first, second] = Unit::ordered(page.leading);
    let mut table = Table::default();
    table.column("dimension", Alignment::Left);
    table.column(&format!("cut, {}", first.symbol()), Alignment::By('.'));
    table.column(&format!("limits, {}", first.symbol()), Alignment::By('–'));
    table.column(&format!("±, {}", first.symbol()), Alignment::By('.'));
    table.column(&format!("cut, {}", second.symbol()), Alignment::By('.'));
    if wide {
        table.column(&format!("limits, {}", second.symbol()), Alignment::By('–'));
    }
    table.column("basis", Alignment::Left);
    for dimension in dimensions {
        let fineness = Fineness::of_dimension(dimension.kind);
        let mut row = vec![
            Cell::new(name(dimension)),
            Cell::inked(number(dimension.cut, first, fineness), Ink::Strong),
            Cell::new(limits(dimension.least, dimension.most, first, fineness)),
            Cell::new(uncertainty(dimension.standard_uncertainty, first, fineness)),
            Cell::inked(number(dimension.cut, second, fineness), Ink::Strong),
        ];
        if wide {
            row.push(Cell::new(limits(dimension.least, dimension.most, second, fineness)));
        }
        row.push(Cell::new(basis_word(dimension.basis)));
        table.row(row);
    }
    table
}

/// `overall length, left`.
pub fn name(dimension: &Dimension) -> String {
    let words = dimension.kind.words();
    match dimension.side {
        Some(side) => format!("{words}, {}", side.words()),
        None => words.to_owned(),
    }
}

/// How a dimension came about, in a word.
pub fn basis_word(basis: Basis) -> &'static str {
    match basis {
        Basis::Measured => "measured",
        Basis::Derived => "derived",
        Basis::Assumed => "assumed",
    }
}
