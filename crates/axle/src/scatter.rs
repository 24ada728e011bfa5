//! How far the readings of a sheet scatter, against what the rows of their instruments say.
//!
//! Some people measure worse than their instruments allow, and a rusty axle spoils every reading on it. How much larger the
//! errors of a whole sheet are is not known beforehand: the catalog's beliefs have a few multiples, each with the share of
//! sheets that are so, and every explanation is weighed with each of them. Sheets that agree with themselves are then as sure as
//! ever; one on which everything is a little off is not explained by a mistake here and a mistake there.

use catalog::Catalog;

use crate::blocks::Blocks;
use crate::review::{Reason, ScatterReview, Verdict};

/// From here on it is said that readings scatter more than they should.
const SAID_FROM: f64 = 0.5;

/// What several topics together say of something that they share: each has said how likely the possibilities are, and all of
/// them began with the same shares, which count once.
pub(crate) fn together(shares: &[f64], said: &[Vec<f64>]) -> Vec<f64> {
    let weight = |at: usize| said.iter().map(|topic| topic[at] / shares[at]).product::<f64>() * shares[at];
    let weights: Vec<f64> = (0..shares.len()).map(weight).collect();
    let sum: f64 = weights.iter().sum();
    weights.iter().map(|weight| weight / sum).collect()
}

/// Each multiple with its probability.
pub(crate) fn scatter(blocks: &Blocks<'_>, catalog: &Catalog) -> Vec<ScatterReview> {
    let believed = catalog.settings.beliefs.scatter.iter().zip(&blocks.scatter);
    believed.map(|(level, probability)| ScatterReview { multiple: level.multiple, probability: *probability }).collect()
}

/// What to say where the readings scatter more than by the smallest multiple.
pub(crate) fn caveat(scatter: &[ScatterReview]) -> Option<Reason> {
    let (_, larger) = scatter.split_first()?;
    let more: f64 = larger.iter().map(|level| level.probability).sum();
    if more < SAID_FROM {
        return None;
    }
    let expected: f64 = larger.iter().map(|level| level.probability * level.multiple).sum::<f64>() / more;
    Some(Reason {
        verdict: Verdict::Cut,
        words: format!(
            "The readings scatter about {expected:.1} times as far as their instruments should, with {:.0} %: every size is \
             taken to be that much less certain.",
            (100.0 * more).floor()
        ),
        remedy: Some("The readings that matter most, taken again with care, or by another person.".to_owned()),
    })
}

#[cfg(test)]
mod tests {
    use super::together;

    #[test]
    fn shares_that_all_began_with_count_once() {
        // Two topics that know nothing leave the shares as they were.
        let shares = [0.9, 0.1];
        let known = together(&shares, &[vec![0.9, 0.1], vec![0.9, 0.1]]);
        assert!((known[1] - 0.1).abs() < 1e-12, "{known:?}");
        // Each of two topics finds the second nine times as likely as before: by Bayes' rule on the odds, 1/9 · 9 · 9 = 9.
        let known = together(&shares, &[vec![0.5, 0.5], vec![0.5, 0.5]]);
        assert!((known[1] / known[0] - 9.0).abs() < 1e-12, "{known:?}");
    }
}
