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

/// A claim on the sheet, held against the rows of the catalog.
struct Claim {
    /// How often such a claim is right.
    right: f64,
    /// The share of all parts that it fits.
    share: f64,
}

impl Claim {
    fn of(catalog: &Catalog, share: f64) -> Self {
        Self { right: catalog.settings.beliefs.claim_right, share }
    }

    /// The chance that the claim is made where a part is there that it fits or does not fit, `own_share` being the share of
    /// the parts that are like that one. A wrong claim falls on the other parts as often as they are met: to name a seldom
    /// row is still to mean that one, and of two kinds the wrong one is the other.
    fn made(&self, fits: bool, own_share: f64) -> f64 {
        match fits {
            true => self.right,
            false if self.share > 0.0 => (1.0 - self.right) * self.share / (1.0 - own_share),
            false => 1.0 - self.right,
        }
    }
}

/// The share of the rows that are so, by weight.
fn share<T>(rows: &[T], weight: impl Fn(&T) -> f64, is_so: impl Fn(&T) -> bool) -> f64 {
    let total: f64 = rows.iter().map(&weight).sum();
    rows.iter().filter(|row| is_so(row)).map(&weight).sum::<f64>() / total
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
    let share_of = |is_so: &dyn Fn(&Bearing) -> bool| share(&catalog.bearings, |row| row.weight, is_so);
    let name = sheet.parts.bearing.as_ref();
    let name_claim = name.map(|name| Claim::of(catalog, share_of(&|row| row.name == *name)));
    let kind = sheet.parts.bearing_kind;
    let kind_claim = kind.map(|kind| Claim::of(catalog, share_of(&|row| row.kind == kind)));
    let listed = catalog.bearings.iter().map(|row| {
        let own_share = share_of(&|other| other.name == row.name);
        let by_name = name_claim.as_ref().map_or(1.0, |claim| claim.made(name == Some(&row.name), own_share));
        let like_share = share_of(&|other| other.kind == row.kind);
        let by_kind = kind_claim.as_ref().map_or(1.0, |claim| claim.made(kind == Some(row.kind), like_share));
        (Some(row), (1.0 - unlisted) * own_share * by_name * by_kind)
    });
    // A row that is named is not the part that is in no row; what kind that one is nobody can say.
    let not_named = name_claim.as_ref().map_or(1.0, |claim| claim.made(false, 0.0));
    let of_kind = kind_claim.as_ref().map_or(1.0, |claim| if claim.share > 0.0 { claim.share } else { 1.0 });
    listed.chain([(None, unlisted * not_named * of_kind)]).collect()
}

fn housing_ends<'a>(sheet: &Sheet, catalog: &'a Catalog) -> Vec<(Option<&'a HousingEnd>, f64)> {
    let unlisted = catalog.settings.beliefs.unlisted_part;
    let share_of = |name: &str| share(&catalog.housing_ends, |row| row.weight, |row| row.name == name);
    let name = sheet.parts.housing_end.as_ref();
    let claim = name.map(|name| Claim::of(catalog, share_of(name)));
    let listed = catalog.housing_ends.iter().map(|row| {
        let own_share = share_of(&row.name);
        let by_name = claim.as_ref().map_or(1.0, |claim| claim.made(name == Some(&row.name), own_share));
        (Some(row), (1.0 - unlisted) * own_share * by_name)
    });
    let not_named = claim.as_ref().map_or(1.0, |claim| claim.made(false, 0.0));
    listed.chain([(None, unlisted * not_named)]).collect()
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
    let share_of = |name: &str| share(&catalog.splines, |row| row.weight, |row| row.name == name);
    let name = sheet.parts.spline_series.as_ref();
    let claim = name.map(|name| Claim::of(catalog, share_of(name)));
    let mut choices = Vec::new();
    for series in &catalog.splines {
        let own_share = share_of(&series.name);
        let by_name = claim.as_ref().map_or(1.0, |claim| claim.made(name == Some(&series.name), own_share));
        let counts: f64 = series.counts.iter().map(|count| count.weight).sum();
        for count in &series.counts {
            if let Some(choice) = Spline::listed(series, *count, catalog) {
                let weight = (1.0 - unlisted) * own_share * count.weight / counts * by_name;
                choices.push(Weighted { weight, choice });
            }
        }
    }
    let not_named = claim.as_ref().map_or(1.0, |claim| claim.made(false, 0.0));
    choices.push(Weighted { weight: unlisted * not_named, choice: Spline { listed: None, catalog } });
    choices
}
