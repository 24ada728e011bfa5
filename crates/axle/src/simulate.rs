//! Orders whose truth is known: drawn from the catalog, measured by people who make mistakes, and judged.
//!
//! A review can only be trusted as far as its numbers come true. This module draws a true vehicle from the catalog's own
//! parts and ranges, measures it with the catalog's instruments and mistakes, and says afterwards whether shafts cut to a
//! review fit that vehicle. Chance comes in through an argument, so the same chance gives the same order.

mod answer;
mod chance;
mod finished;
mod judge;
mod measure;
mod tally;
mod trial;
mod vehicle;

pub use chance::Chance;
pub use finished::{draw_finished, sheet_text, truth_text};
pub use judge::{Outcome, judge};
pub use measure::{Measured, People, Planted, Zeal, measure};
pub use tally::{AskedCount, Count, Tally, Tenth, score_interval};
pub use trial::{Asked, Blame, Handling, Trial, Trials};
pub use vehicle::{Vehicle, draw_vehicle};
