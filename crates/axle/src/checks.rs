//! The classical tests of the readings, and the checks of parts and sizes against each other.

use catalog::Catalog;
use quantity::{Leading, Length, both, capitalised, decimal_inches, millimetres_text};
use reconcile::Classical;

use crate::blocks::Blocks;
use crate::decide::measurand_of;
use crate::evidence::Taken;
use crate::explanations::{left_unexplained, name, tested};
use crate::review::{Basis, Check, Dimension, DimensionKind, Reason, Verdict};
use crate::sheet::{Retainer, Sheet};

const METHOD: &str =
    "weighted least squares; S. Narasimhan and C. Jordache, Data Reconciliation and Gross Error Detection (2000)";

/// The classical global test over all topics, and the largest normalised residual.
pub(crate) fn classical_checks(blocks: &Blocks<'_>, catalog: &Catalog) -> Vec<Check> {
    let tests: Vec<Classical> =
        [tested(&blocks.chain), tested(&blocks.circle), tested(&blocks.spline), tested(&blocks.face)]
            .into_iter()
            .flatten()
            .collect();
    let whole = Classical {
        chi_squared: tests.iter().map(|test| test.chi_squared).sum(),
        degrees_of_freedom: tests.iter().map(|test| test.degrees_of_freedom).sum(),
        residuals: Vec::new(),
        normalised_residuals: tests.iter().flat_map(|test| test.normalised_residuals.iter().copied()).collect(),
    };
    let significance = catalog.settings.thresholds.significance;
    let mut checks = Vec::new();
    if let Some(limit) = whole.global_limit(significance) {
        checks.push(Check {
            words: "all readings, at their word, agree (global chi-square test)".to_owned(),
            passed: whole.chi_squared <= limit,
            statistic: Some(whole.chi_squared),
            limit: Some(limit),
            degrees_of_freedom: Some(whole.degrees_of_freedom as f64),
            source: METHOD.to_owned(),
        });
    }
    if let Some(limit) = whole.residual_limit(significance) {
        let largest = whole.normalised_residuals.iter().flatten().fold(0.0_f64, |most, z| most.max(z.abs()));
        checks.push(Check {
            words: "no single reading stands out (largest normalised residual)".to_owned(),
            passed: largest <= limit,
            statistic: Some(largest),
            limit: Some(limit),
            degrees_of_freedom: None,
            source: METHOD.to_owned(),
        });
    }
    checks
}

/// Whether the likeliest explanation leaves a reading out that no mistake which was weighed explains together with the rest.
/// Then there is more wrong with the sheet than was weighed, and no probability that follows from it can be relied on. Only
/// topics whose likeliest explanation holds as many mistakes as were allowed are in question.
pub(crate) fn explained_check(
    sheet: &Sheet,
    catalog: &Catalog,
    blocks: &Blocks<'_>,
    most_mistakes: usize,
) -> Option<Firm> {
    let off = |residual: Option<f64>| residual.map_or(0.0, f64::abs);
    let mut furthest: Option<(f64, String)> = None;
    let mut residuals: Vec<Option<f64>> = Vec::new();
    let mut gather = |taken: &[Taken<'_>], (at, test): (Option<usize>, Classical)| {
        if let Some(at) = at {
            let size = off(test.normalised_residuals[at]);
            if furthest.as_ref().is_none_or(|(most, _)| size > *most) {
                furthest = Some((size, name(&taken[at], sheet)));
            }
        }
        residuals.extend(test.normalised_residuals);
    };
    left_unexplained(&blocks.chain, most_mistakes).into_iter().for_each(|left| gather(&blocks.chain.taken, left));
    left_unexplained(&blocks.circle, most_mistakes).into_iter().for_each(|left| gather(&blocks.circle.taken, left));
    left_unexplained(&blocks.spline, most_mistakes).into_iter().for_each(|left| gather(&blocks.spline.taken, left));
    left_unexplained(&blocks.face, most_mistakes).into_iter().for_each(|left| gather(&blocks.face.taken, left));

    let whole =
        Classical { chi_squared: 0.0, degrees_of_freedom: 0, residuals: Vec::new(), normalised_residuals: residuals };
    let limit = whole.residual_limit(catalog.settings.thresholds.significance)?;
    let (largest, reading) = furthest?;
    let passed = largest <= limit;
    let reason = (!passed).then(|| Reason {
        verdict: Verdict::Ask,
        words: format!(
            "Even the likeliest explanation leaves the {reading} out by {largest:.1} standard deviations: more is wrong \
             with the sheet than was weighed."
        ),
        remedy: Some("Take it again, by another person if there is one, and what else is doubted with it.".to_owned()),
    });
    let check = Check {
        words: "the likeliest explanation leaves no reading out (largest normalised residual)".to_owned(),
        passed,
        statistic: Some(largest),
        limit: Some(limit),
        degrees_of_freedom: None,
        source: METHOD.to_owned(),
    };
    Some(Firm { check, reason })
}

/// A check that must not fail, with the reason against cutting where it does.
pub(crate) struct Firm {
    pub check: Check,
    pub reason: Option<Reason>,
}

/// The checks of parts and sizes against each other.
pub(crate) fn firm_checks(sheet: &Sheet, catalog: &Catalog, dimensions: &[Dimension]) -> Vec<Firm> {
    let leading = crate::leading(sheet);
    // A size that is only assumed must not stop an order.
    let known: Vec<&Dimension> = dimensions.iter().filter(|dimension| dimension.basis != Basis::Assumed).collect();
    let cut =
        |kind: DimensionKind| known.iter().find(|dimension| dimension.kind == kind).map(|dimension| dimension.cut);
    let mut all: Vec<Firm> = bracket(sheet).into_iter().collect();
    all.extend(slides_on(&known, leading));
    if let (Some(flange), Some(circle), Some(hole)) =
        (cut(DimensionKind::FlangeDiameter), cut(DimensionKind::BoltCircle), cut(DimensionKind::StudHole))
    {
        let edge = (flange - circle - hole) * 0.5;
        let least = catalog.settings.clearances.hole_to_edge;
        let words = format!(
            "the flange leaves {} outside the stud holes and must leave {} at least",
            both(edge, leading),
            both(least, leading)
        );
        let remedy = "A larger flange, a smaller bolt circle, or another brake.";
        all.push(judged(words, edge >= least, "the flange is too small for its bolt circle", remedy));
    }
    if let (Some(register), Some(pilot)) =
        (cut(DimensionKind::RegisterDiameter), cut(DimensionKind::WheelPilotDiameter))
    {
        let words = format!(
            "the register, {}, must be larger than the wheel pilot, {}",
            both(register, leading),
            both(pilot, leading)
        );
        let remedy = "Read register and wheel pilot again: the larger centres the drum, the smaller the wheel.";
        all.push(judged(words, register >= pilot, "the drum would not pass over the wheel pilot", remedy));
    }
    all.extend(known.iter().filter_map(|dimension| possible(dimension, catalog, leading)));
    all
}

/// Faults a size that no shaft has, as contradictory readings or an impossible brake offset make it: one that a sheet could
/// not even state.
fn possible(dimension: &Dimension, catalog: &Catalog, leading: Leading) -> Option<Firm> {
    let row = catalog.measurand(measurand_of(dimension.kind)?);
    let (least, most) = row.accepted;
    if (least..=most).contains(&dimension.cut) {
        return None;
    }
    let words = format!(
        "the {} would be {}, and must be from {} to {}",
        row.words,
        both(dimension.cut, leading),
        both(least, leading),
        both(most, leading)
    );
    let remedy = "Read again what it follows from, or settle what the brake requires.";
    Some(judged(words, false, "no shaft can be made so", remedy))
}

/// Judges a rule. The words say what must be, so that they are true whether it is or not.
fn judged(words: String, passed: bool, fault: &str, remedy: &str) -> Firm {
    let reason = (!passed).then(|| Reason {
        verdict: Verdict::Stop,
        words: format!("{}: {words}.", capitalised(fault)),
        remedy: Some(remedy.to_owned()),
    });
    let check = Check {
        words,
        passed,
        statistic: None,
        limit: None,
        degrees_of_freedom: None,
        source: "common practice, no source".to_owned(),
    };
    Firm { check, reason }
}

/// A caliper bracket that is itself the retainer has to be on the shaft before the bearing is pressed on.
fn bracket(sheet: &Sheet) -> Option<Firm> {
    let brake = &sheet.parts.brake;
    let is_retainer = brake.retainer? == Retainer::CaliperBracket;
    let clash = is_retainer && sheet.fitting.bearings_by_shop == Some(true) && !brake.bracket_sent_in;
    Some(judged(
        "what is trapped behind the bearing must be there before the bearing is pressed on".to_owned(),
        !clash,
        "the caliper bracket is itself the retainer and cannot go on after the bearing",
        "Have the brackets sent in before the bearings are pressed on, or send shafts, bearings and lock rings loose.",
    ))
}

/// Every part slides on over what lies inboard of it: seat ≥ ring seat ≥ seal journal ≥ spline. Sizes whose limits overlap
/// are not told apart: old seats step by less than a caliper sees.
fn slides_on(known: &[&Dimension], leading: Leading) -> Vec<Firm> {
    let row = [
        (DimensionKind::JournalDiameter, "journal"),
        (DimensionKind::RingSeatDiameter, "ring seat"),
        (DimensionKind::SealJournalDiameter, "seal journal"),
        (DimensionKind::SplineMajorDiameter, "spline"),
    ];
    let sizes: Vec<(&str, &Dimension)> = row
        .into_iter()
        .filter_map(|(kind, words)| {
            known.iter().find(|dimension| dimension.kind == kind).map(|dimension| (words, *dimension))
        })
        .collect();
    sizes
        .windows(2)
        .map(|pair| {
            let (outer, inner) = (pair[0], pair[1]);
            let words = format!(
                "the {}, {}, must be no smaller than the {}, {}, that its part slides over",
                outer.0,
                closely(outer.1.cut, leading),
                inner.0,
                closely(inner.1.cut, leading)
            );
            let passed = outer.1.most >= inner.1.least;
            let fault = format!("what sits on the {} does not pass over the {}", outer.0, inner.0);
            judged(words, passed, &fault, "Read both diameters again, with a micrometer, on clean metal.")
        })
        .collect()
}

/// A diameter in both units, so close that two that differ by a hair do not look alike.
fn closely(diameter: Length, leading: Leading) -> String {
    leading.pair(&decimal_inches(diameter, 3), &millimetres_text(diameter, 2))
}
