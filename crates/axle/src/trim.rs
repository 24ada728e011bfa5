//! Cutting long and trimming at fitting, where that is the wiser plan.
//!
//! A length that is known too badly is either too short, which is scrap, or has to be asked about. Somebody who fits the shaft
//! himself can also be sent one that is surely long enough: it is tried in, marked, and cut down. That costs an hour with an
//! abrasive saw on a hardened end, and the spline must run far enough out for any length that may come of it.

use catalog::Catalog;
use quantity::millimetres;

use crate::blocks::Blocks;
use crate::decide::{Decisions, Topic, major_diameter};
use crate::review::{DimensionKind, TrimPlan};

/// A shaft that is cut long is longer than this share of what may be needed, and is trimmed to no less than the rest.
const SURELY: f64 = 0.99;

/// The plan for each length where it loses less than cutting to size.
pub(crate) fn trim_plans(blocks: &Blocks<'_>, decisions: &Decisions<'_>, catalog: &Catalog) -> Vec<TrimPlan> {
    let losses = &catalog.settings.losses;
    let projection = &decisions.outlooks.of(Topic::Chain).projection;
    let engagement = catalog.settings.clearances.engagement_ratio * major_diameter(blocks, decisions.spline.0);
    let lengths = decisions.decided.iter().filter(|one| one.demand.kind == DimensionKind::OverallLength && !one.open);
    let plan = |one: &crate::decide::Decided| {
        let loss_to_size = one.aim.expected_loss(projection, one.size, losses.nuisance);
        let ideal = one.aim.ideal_gathered(projection);
        let (low, high) = (ideal.quantile(1.0 - SURELY), ideal.quantile(SURELY));
        let cut = high + one.demand.tolerance;
        // What is still too short is scrap; all others are trimmed to what the vehicle itself shows.
        let loss_trimmed = losses.trim + losses.scrap * one.aim.too_short(projection, cut);
        (loss_trimmed < loss_to_size).then(|| TrimPlan {
            side: one.demand.side,
            cut: millimetres(cut),
            least: millimetres(low),
            spline: millimetres(engagement + cut - low),
            loss_to_size,
            loss_trimmed,
        })
    };
    lengths.filter_map(plan).collect()
}
