//! The choices of parts that are weighed: what the catalog holds, what the sheet claims, and parts that are in no row.
//!
//! A claim is evidence like any other: a claimed part is taken with the probability that such claims are right, and the
//! readings may speak against it.

use catalog::{Bearing, Catalog, Differential, HousingEnd};
use quantity::LengthExt;

use crate::block::Weighted;
use crate::chain::{Chain, ChainParts};
use crate::circle::Circle;
use crate::evidence::Taken;
use crate::geometry::Geometry;
use crate::sheet::{Sheet, Side};
use crate::spline::Spline;

/// Bearing outside and housing bore of a choice may differ by this much at most: nothing else goes together.
/// Common practice, no source: 5 thousandths made a bearing that does not go in.
const BORE_MISMATCH_MM: f64 = 0.2;

/// The share of the readings of the parts that is taken to be mistaken when choices are only screened.
const SCREENED_AS_MISTAKEN: f64 = 0.05;

/// How many more times a claimed part is believed than its weight alone would have it: the claimed share over the rest.
fn claimed<T>(catalog: &Catalog, claim: Option<&T>, matches: impl Fn(&T) -> bool) -> f64 {
    let right = catalog.settings.beliefs.claim_right;
    match claim {
        None => 1.0,
        Some(claim) if matches(claim) => right,
        Some(_) => 1.0 - right,
    }
}

/// The differential that the sheet names, or one that stands for them all.
pub(crate) fn differential(sheet: &Sheet, catalog: &Catalog) -> Differential {
    let named = sheet.differential.as_deref().and_then(|name| catalog.differential(name));
    named.cloned().unwrap_or_else(|| catalog.any_differential())
}

/// Bearings with housing ends, those that the readings of the parts do not rule out.
pub(crate) fn chains<'a>(
    sheet: &Sheet,
    catalog: &'a Catalog,
    differential: &'a Differential,
    taken: &[Taken<'a>],
) -> Vec<Weighted<Chain<'a>>> {
    let first_side = sheet.wanted.first().copied().unwrap_or(Side::Left);
    let mut choices = Vec::new();
    for (bearing, bearing_weight) in bearings(sheet, catalog) {
        for (housing_end, end_weight) in housing_ends(sheet, catalog) {
            let goes_in = match (bearing, housing_end) {
                (Some(bearing), Some(end)) => {
                    (bearing.outside - end.bore_diameter).millimetres().abs() <= BORE_MISMATCH_MM
                }
                _ => true,
            };
            if goes_in {
                let parts = ChainParts { bearing, housing_end };
                let choice = Chain { parts, differential, catalog, first_side };
                choices.push(Weighted { weight: bearing_weight * end_weight, choice });
            }
        }
    }
    screen(choices, taken, catalog.settings.beliefs.implausible_below)
}

fn bearings<'a>(sheet: &Sheet, catalog: &'a Catalog) -> Vec<(Option<&'a Bearing>, f64)> {
    let unlisted = catalog.settings.beliefs.unlisted_part;
    let total: f64 = catalog.bearings.iter().map(|row| row.weight).sum();
    let listed = catalog.bearings.iter().map(|row| {
        let by_name = claimed(catalog, sheet.parts.bearing.as_ref(), |name| *name == row.name);
        let by_kind = claimed(catalog, sheet.parts.bearing_kind.as_ref(), |kind| *kind == row.kind);
        (Some(row), (1.0 - unlisted) * row.weight / total * by_name * by_kind)
    });
    let not_claimed = claimed(catalog, sheet.parts.bearing.as_ref(), |_| false);
    listed.chain([(None, unlisted * not_claimed)]).collect()
}

fn housing_ends<'a>(sheet: &Sheet, catalog: &'a Catalog) -> Vec<(Option<&'a HousingEnd>, f64)> {
    let unlisted = catalog.settings.beliefs.unlisted_part;
    let total: f64 = catalog.housing_ends.iter().map(|row| row.weight).sum();
    let listed = catalog.housing_ends.iter().map(|row| {
        let by_name = claimed(catalog, sheet.parts.housing_end.as_ref(), |name| *name == row.name);
        (Some(row), (1.0 - unlisted) * row.weight / total * by_name)
    });
    let not_claimed = claimed(catalog, sheet.parts.housing_end.as_ref(), |_| false);
    listed.chain([(None, unlisted * not_claimed)]).collect()
}

/// Keeps the choices that the readings of the parts themselves do not rule out.
///
/// A row fixes its bore, widths, outside and bolt pattern so closely that, given the row, readings of them are all but
/// independent; each is taken as sound or, seldom, as anything in its usual range. What falls below the catalog's bound
/// against the best could not change a probability in any digit that is shown.
fn screen<'a>(choices: Vec<Weighted<Chain<'a>>>, taken: &[Taken<'a>], bound: f64) -> Vec<Weighted<Chain<'a>>> {
    let scores: Vec<f64> = choices
        .iter()
        .map(|Weighted { weight, choice }| {
            let priors = choice.priors();
            let score = taken.iter().filter_map(|one| {
                let form = choice.form_of(one).filter(|_| Chain::is_of_the_parts(one.measurand))?;
                let mean = form.constant() + form.terms().iter().map(|(at, a)| a * priors[*at].mean).sum::<f64>();
                let spread = form.terms().iter().map(|(at, a)| (a * priors[*at].standard_deviation).powi(2));
                let variance = spread.sum::<f64>() + one.standard_uncertainty.powi(2);
                let sound = (-0.5 * (one.value - mean).powi(2) / variance).exp() / variance.sqrt();
                let (least, most) = one.row.usual;
                let anything = 1.0 / (most - least).millimetres();
                Some(((1.0 - SCREENED_AS_MISTAKEN) * sound + SCREENED_AS_MISTAKEN * anything).ln())
            });
            weight.ln() + score.sum::<f64>()
        })
        .collect();
    let best = scores.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    choices.into_iter().zip(scores).filter(|(_, score)| *score >= best + bound.ln()).map(|(choice, _)| choice).collect()
}

/// Bolt circles: those of the catalog, and any other with a count that is met.
pub(crate) fn circles<'a>(catalog: &'a Catalog, taken: &[Taken<'a>]) -> Vec<Weighted<Circle<'a>>> {
    let unlisted = catalog.settings.beliefs.unlisted_part;
    let total: f64 = catalog.bolt_circles.iter().map(|row| row.weight).sum();
    let mut counts: Vec<(u32, f64)> = Vec::new();
    let mut choices: Vec<Weighted<Circle<'a>>> = Vec::new();
    for row in &catalog.bolt_circles {
        match counts.iter_mut().find(|(holes, _)| *holes == row.holes) {
            Some((_, weight)) => *weight += row.weight / total,
            None => counts.push((row.holes, row.weight / total)),
        }
        let choice = Circle { holes: row.holes, row: Some(row), catalog };
        choices.push(Weighted { weight: (1.0 - unlisted) * row.weight / total, choice });
    }
    // A count that is read and that no row has is still a count.
    for one in taken.iter().filter(|one| one.measurand == catalog::Measurand::HoleCount) {
        let holes = one.value as u32;
        if !counts.iter().any(|(known, _)| *known == holes) {
            counts.push((holes, unlisted));
        }
    }
    let any = counts
        .into_iter()
        .map(|(holes, weight)| Weighted { weight: unlisted * weight, choice: Circle { holes, row: None, catalog } });
    choices.extend(any);
    choices
}

/// Splines: every count of every series that the standards allow, and one that is in none.
pub(crate) fn splines<'a>(sheet: &Sheet, catalog: &'a Catalog) -> Vec<Weighted<Spline<'a>>> {
    let unlisted = catalog.settings.beliefs.unlisted_part;
    let total: f64 = catalog.splines.iter().map(|row| row.weight).sum();
    let mut choices = Vec::new();
    for series in &catalog.splines {
        let by_name = claimed(catalog, sheet.parts.spline_series.as_ref(), |name| *name == series.name);
        let counts: f64 = series.counts.iter().map(|count| count.weight).sum();
        for count in &series.counts {
            if let Some(choice) = Spline::listed(series, *count, catalog) {
                let weight = (1.0 - unlisted) * series.weight / total * count.weight / counts * by_name;
                choices.push(Weighted { weight, choice });
            }
        }
    }
    let not_claimed = claimed(catalog, sheet.parts.spline_series.as_ref(), |_| false);
    choices.push(Weighted { weight: unlisted * not_claimed, choice: Spline { listed: None, catalog } });
    choices
}
