//! What a report has to know beside the review.

use quantity::Leading;

/// The page that a report is set on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Page {
    /// Columns of the page, at least [`Page::NARROWEST`].
    pub columns: usize,
    /// The unit that stands first.
    pub leading: Leading,
    /// The least redundancy number, 0 to 1, at which a reading counts as checked by the others.
    pub checked_at: f64,
}

impl Page {
    /// The narrowest page that the tables fit on.
    pub const NARROWEST: usize = 80;

    /// From this width on, tables have room for what is good to know beside what has to be known.
    pub const WIDE: usize = 96;

    /// The widest page that a line is still easily read on.
    pub const WIDEST: usize = 100;
}
