//! One order from sheet to review: the walk through the core, in its order.

use catalog::Catalog;
use quantity::millimetres;
use reconcile::{ModelError, Options};

use crate::blocks::Blocks;
use crate::checks::{classical_checks, explained_check, firm_checks};
use crate::choices;
use crate::confirm::to_confirm;
use crate::decide::{Decided, Decisions, Topic, decide};
use crate::demands::required_offset;
use crate::evidence::take_in;
use crate::explanations;
use crate::fit::fit;
use crate::fitted::fitted;
use crate::identify::identify;
use crate::missing::missing;
use crate::proof;
use crate::questions::questions;
use crate::review::{Dimension, Review, Verdict};
use crate::scatter::{caveat, scatter};
use crate::sheet::Sheet;
use crate::trace::{decided_trace, following_trace};
use crate::trim::trim_plans;
use crate::verdict::verdict;

/// Reviews one order: weighs its readings against each other, the parts and the mistakes that people make, and says what to
/// cut, what to doubt and what to ask.
///
/// The same sheet and catalog give the same review, whatever the order of the readings.
///
/// # Errors
/// [`ModelError`] where the numbers of the catalog make no sound model, such as mistakes whose rates sum past one. A sheet
/// alone cannot cause it.
///
/// ```
/// let catalog = catalog::Catalog::shipped()?;
/// let text = r#"
///     [order]
///     reference = "KB-0001"
///     use = "street"
///     unit = "in"
///     sides = ["left", "right"]
///
///     [left]
///     overall_length = '31 5/16"'
/// "#;
/// let sheet = axle::read_sheet("sheet.toml", text, &catalog)?;
/// let review = axle::review(&sheet, &catalog)?;
/// // One length does not make a shaft: the review asks for the rest.
/// assert_eq!(review.verdict, axle::Verdict::Ask);
/// assert!(review.questions.iter().any(|question| question.required));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn review(sheet: &Sheet, catalog: &Catalog) -> Result<Review, ModelError> {
    weigh(sheet, catalog, Asking::Questions)
}

/// The review without its questions, which take longer than all the rest: for somebody who is still typing, and for batches.
///
/// # Errors
/// As of [`review`].
///
/// ```
/// let catalog = catalog::Catalog::shipped()?;
/// let text = "[order]\nreference = 'KB-0001'\nuse = 'street'\nunit = 'in'\nsides = ['left']\n";
/// let sheet = axle::read_sheet("sheet.toml", text, &catalog)?;
/// let review = axle::review_without_questions(&sheet, &catalog)?;
/// assert!(review.questions.is_empty() && !review.missing.is_empty());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn review_without_questions(sheet: &Sheet, catalog: &Catalog) -> Result<Review, ModelError> {
    weigh(sheet, catalog, Asking::Nothing)
}

/// Whether a review goes on to what should be asked, which takes longer than all the rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Asking {
    Questions,
    Nothing,
}

/// The review, with its questions or without.
pub(crate) fn weigh(sheet: &Sheet, catalog: &Catalog, asking: Asking) -> Result<Review, ModelError> {
    let taken = take_in(sheet, catalog);
    let differential = choices::differential(sheet, catalog);
    let options = Options::default();
    let blocks = Blocks::explain(sheet, catalog, &differential, &taken, &options)?;

    let decisions = decide(sheet, catalog, &blocks);
    let identified = identify(sheet, catalog, &blocks);
    let missing = missing(sheet, catalog, &blocks, &decisions, &identified);
    let fit = fit(&blocks, &decisions, catalog);
    let dimensions = dimensions(sheet, catalog, &blocks, &decisions);

    let mut checks = classical_checks(&blocks, catalog);
    let mut against = Vec::new();
    let explained = explained_check(sheet, catalog, &blocks, options.most_mistakes + 1);
    for firm in explained.into_iter().chain(firm_checks(sheet, catalog, &dimensions)) {
        checks.push(firm.check);
        against.extend(firm.reason);
    }
    let proof = proof::prove(sheet, catalog, &blocks, &decisions, &dimensions);
    for (check, stop) in proof::stops(&proof) {
        checks.push(check);
        against.push(stop);
    }
    let fitted = fitted(sheet, catalog, &blocks, &decisions, &dimensions);
    let readings = explanations::readings(sheet, catalog, &blocks, &decisions);
    let confirm = to_confirm(sheet, catalog, &taken, &readings, &dimensions, &identified);
    against.extend(confirm.iter().map(|one| one.reason.clone()));
    let again: Vec<usize> = confirm.iter().filter_map(|one| one.reading).collect();
    let fit_probability = missing.is_empty().then_some(fit.probability);
    let (verdict, mut reasons) = verdict(catalog, against, &missing, &identified, fit_probability);
    reasons.extend(proof::caveat(&proof));
    let scatter = scatter(&blocks, catalog);
    reasons.extend(caveat(&scatter));
    // Questions go with what has to be asked; what would lift a stop stands beside it.
    let questions = if asking == Asking::Questions && reasons.iter().any(|reason| reason.verdict == Verdict::Ask) {
        questions(sheet, catalog, &blocks, &decisions, &missing, &identified, &again)
    } else {
        Vec::new()
    };

    // What the enumeration leaves out in one topic or another is no more than the sum.
    let prior_left_out = blocks.chain.mixture.prior_left_out()
        + blocks.circle.mixture.prior_left_out()
        + blocks.spline.mixture.prior_left_out()
        + blocks.face.mixture.prior_left_out();
    Ok(Review {
        reference: sheet.reference.clone(),
        verdict,
        reasons,
        fit_probability,
        conditions: fit.conditions,
        readings,
        explanations: explanations::explanations(sheet, catalog, &blocks, &decisions),
        prior_left_out: prior_left_out.min(1.0),
        scatter,
        trims: trim_plans(&blocks, &decisions, catalog),
        dimensions,
        questions,
        identified,
        checks,
        missing,
        proof,
        fitted,
    })
}

/// The dimensions to cut, in the order of a shop drawing: along the shaft, then diameters.
fn dimensions(sheet: &Sheet, catalog: &Catalog, blocks: &Blocks<'_>, decisions: &Decisions<'_>) -> Vec<Dimension> {
    let brake_rules = required_offset(sheet, catalog).is_some();
    let trace = |one: &Decided| match one.topic {
        Topic::Chain => decided_trace(one, &blocks.chain, sheet, catalog, brake_rules),
        Topic::Circle => decided_trace(one, &blocks.circle, sheet, catalog, brake_rules),
        Topic::Face => decided_trace(one, &blocks.face, sheet, catalog, brake_rules),
    };
    let decided = decisions.decided.iter().filter(|one| !is_unknown(one)).map(|one| Dimension {
        kind: one.demand.kind,
        side: one.demand.side,
        cut: millimetres(one.size),
        least: millimetres(one.size - one.demand.tolerance),
        most: millimetres(one.size + one.demand.tolerance),
        mean: millimetres(one.mean),
        standard_uncertainty: millimetres(one.deviation),
        basis: one.basis,
        trace: trace(one),
    });
    let following = decisions.following.iter().map(|one| Dimension {
        kind: one.kind,
        side: None,
        cut: one.size,
        least: one.least,
        most: one.most,
        mean: millimetres(one.mean),
        standard_uncertainty: millimetres(one.deviation),
        basis: one.basis,
        trace: following_trace(one),
    });
    let mut all: Vec<Dimension> = decided.chain(following).collect();
    all.sort_by_key(|dimension| (dimension.kind, dimension.side));
    all
}

/// A dimension that nothing determines and that a shaft cannot do without is missing, not to be cut to a usual size.
fn is_unknown(one: &Decided) -> bool {
    one.open && (one.demand.least.is_some() || one.demand.most.is_some())
}
