//! What a dimension of the new shaft has to satisfy, and the size that satisfies it at the least expected loss.
//!
//! Each demand is written in the unknowns of its topic: the smallest and the largest size that still works, both uncertain,
//! and the ideal between them. A size outside costs: too small is as a rule scrap, too big can be recut.

use reconcile::Form;

use crate::review::{Consequence, DimensionKind};
use crate::sheet::Side;

/// What one dimension has to satisfy; all forms are of its topic's unknowns, in millimetres.
#[derive(Debug, Clone)]
pub(crate) struct Demand {
    pub kind: DimensionKind,
    pub side: Option<Side>,
    /// The size that would be best.
    pub ideal: Form,
    /// The smallest size that works, with the words for it and what it costs to be smaller.
    pub least: Option<Limit>,
    /// The largest size that works.
    pub most: Option<Limit>,
    /// The shop makes the size within ± this.
    pub tolerance: f64,
}

/// One end of what works.
#[derive(Debug, Clone)]
pub(crate) struct Limit {
    pub form: Form,
    /// The fit condition that the size must stay within it.
    pub words: &'static str,
    pub consequence: Consequence,
    /// Its loss, in scrapped shafts.
    pub loss: f64,
}
