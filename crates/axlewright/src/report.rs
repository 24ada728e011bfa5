//! The report in text, for somebody who has half a minute for it.
//!
//! Everything that colour says, a word says too, so that the report reads the same on paper.

mod asking;
mod calculation;
mod closing;
mod cut_list;
mod doubt;
mod headline;
mod ink;
mod learning;
mod lines;
mod order_book;
mod origin;
mod page;
mod parts;
mod proof;
mod simulation;
mod size;
mod strength;
mod table;

pub use calculation::calculation_report;
pub use closing::{Tally, cautions_report, not_reviewed_report, tally_report};
pub use learning::learning_report;
pub use lines::plain_block;
pub use order_book::{book_check_report, order_list_report, rereview_report};
pub use origin::origin_report;
pub use page::Page;
pub use simulation::simulation_report;

use lines::Lines;

/// The whole report on one order; `sheet` is the name of its sheet, whose lines the report speaks of.
///
/// The text holds colour as escape sequences; whoever writes it out strips them where no terminal reads them.
pub fn order_report(sheet: &str, review: &axle::Review, page: &Page) -> String {
    let mut lines = Lines::new(page.columns);
    headline::write(&mut lines, sheet, review);
    cut_list::write(&mut lines, review, page);
    doubt::write(&mut lines, review, page);
    asking::write(&mut lines, review);
    parts::write(&mut lines, review);
    proof::write(&mut lines, review);
    strength::write(&mut lines, &review.proof);
    closing::point_at_cautions(&mut lines);
    lines.into_text()
}
