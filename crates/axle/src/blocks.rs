//! All topics of an order, each explained.

use catalog::{BrakeKind, Catalog, Differential};
use reconcile::{ModelError, Options};

use crate::block::{Block, Weighted};
use crate::chain::Chain;
use crate::choices;
use crate::circle::Circle;
use crate::evidence::Taken;
use crate::face::Face;
use crate::scatter::together;
use crate::sheet::Sheet;
use crate::spline::Spline;

/// The four topics of an order.
pub(crate) struct Blocks<'a> {
    pub chain: Block<'a, Chain<'a>>,
    pub circle: Block<'a, Circle<'a>>,
    pub spline: Block<'a, Spline<'a>>,
    pub face: Block<'a, Face<'a>>,
    /// The probability of each scatter of the readings that the catalog believes in.
    pub scatter: Vec<f64>,
}

impl<'a> Blocks<'a> {
    /// Explains the readings of a sheet, topic by topic.
    pub fn explain(
        sheet: &Sheet,
        catalog: &'a Catalog,
        differential: &'a Differential,
        taken: &[Taken<'a>],
        options: &Options,
    ) -> Result<Self, ModelError> {
        let brake = sheet.parts.brake.row.as_deref().and_then(|name| catalog.brake(name));
        let kind = sheet.parts.brake.kind.or(brake.map(|brake| brake.kind)).unwrap_or(BrakeKind::Drum);
        let face = Face { brake_changed: sheet.parts.brake.changed, brake, kind, catalog };
        let chains = choices::chains(sheet, catalog, differential, taken);
        let chain = Block::explain(taken, chains, catalog, options)?;
        let circle = Block::explain(taken, choices::circles(catalog, taken), catalog, options)?;
        let spline = Block::explain(taken, choices::splines(sheet, catalog), catalog, options)?;
        let face = Block::explain(taken, vec![Weighted { weight: 1.0, choice: face }], catalog, options)?;
        // Whoever measures carelessly does so everywhere: what one topic says of the scatter, the others have to hear.
        let shares: Vec<f64> = catalog.settings.beliefs.scatter.iter().map(|scatter| scatter.share).collect();
        let scatter = together(
            &shares,
            &[
                chain.scatter_probabilities(),
                circle.scatter_probabilities(),
                spline.scatter_probabilities(),
                face.scatter_probabilities(),
            ],
        );
        Ok(Self {
            chain: chain.with_scatter(&scatter)?,
            circle: circle.with_scatter(&scatter)?,
            spline: spline.with_scatter(&scatter)?,
            face: face.with_scatter(&scatter)?,
            scatter,
        })
    }
}

#[cfg(test)]
mod against_sampling;
