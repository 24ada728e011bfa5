//! The probability that several correlated normals stay within bounds together.
//!
//! A. Genz, "Numerical computation of multivariate normal probabilities", *Journal of Computational and Graphical
//! Statistics* 1 (1992) 141–149: the integral is turned into one over the unit cube by the triangular root of the
//! covariance, the narrowest condition first (Gibson, Glasbey and Elston 1994), and summed over a lattice whose generators
//! are square roots of primes (Richtmyer), with several fixed shifts so that their scatter tells the error. There is no
//! randomness: the same conditions give the same number.

use nalgebra::DMatrix;

use crate::form::Form;
use crate::normal::{cumulative, quantile};
use crate::posterior::Normal;

/// A form with bounds; either may be infinite.
#[derive(Debug, Clone, PartialEq)]
pub struct Bounded {
    /// The form.
    pub form: Form,
    /// It must be at least this.
    pub least: f64,
    /// It must be at most this.
    pub most: f64,
    /// Variance of an error of its own, independent of everything else.
    pub own_variance: f64,
}

/// A probability and the error of its numerical evaluation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Joint {
    /// The probability.
    pub probability: f64,
    /// Three standard errors of the numerical sum, plus what was left out.
    pub error: f64,
}

/// The least and the most that a condition permits.
type Between = (f64, f64);

/// Conditions that fail with a smaller probability than this are taken to hold; their sum enters the error.
const NEGLIGIBLE: f64 = 1e-9;
const SHIFTS: usize = 8;
/// What is left of a unit variance, given the other conditions, where a condition is taken to follow from them. The error
/// is the probability of lying within a hundred-thousandth of a standard deviation of a bound.
const DEPENDENT: f64 = 1e-10;

/// The probability that all conditions hold. `weight` says how much the result counts, so that little effort goes into
/// parts of a mixture that hardly matter.
pub(crate) fn joint_probability(normal: &Normal, conditions: &[Bounded], weight: f64) -> Joint {
    let mut error = 0.0;
    let mut open = Vec::new();
    for condition in conditions {
        let mean = normal.mean_of(&condition.form);
        let deviation = (normal.variance_of(&condition.form) + condition.own_variance).sqrt();
        let (least, most) = (condition.least - mean, condition.most - mean);
        let fails = if deviation > 0.0 {
            cumulative(least / deviation) + cumulative(-most / deviation)
        } else if least <= 0.0 && most >= 0.0 {
            0.0
        } else {
            1.0
        };
        if fails >= 1.0 - NEGLIGIBLE || least > most {
            return Joint { probability: 0.0, error: NEGLIGIBLE };
        }
        if fails > NEGLIGIBLE {
            open.push((condition, least, most));
        } else {
            error += fails;
        }
    }
    let covariance = DMatrix::from_fn(open.len(), open.len(), |i, j| {
        let own = if i == j { open[i].0.own_variance } else { 0.0 };
        normal.covariance_of(&open[i].0.form, &open[j].0.form) + own
    });
    let bounds: Vec<Between> = open.iter().map(|(_, least, most)| (*least, *most)).collect();
    let joint = rectangle_probability(&covariance, &bounds, points_for(weight));
    Joint { probability: joint.probability, error: joint.error + error }
}

/// Lattice points for a part of this weight, so that its share of the error stays near 1e-4.
fn points_for(weight: f64) -> usize {
    if weight > 0.1 {
        512
    } else if weight > 0.01 {
        128
    } else {
        32
    }
}

/// The probability that a normal vector with mean zero stays within the bounds.
pub(crate) fn rectangle_probability(covariance: &DMatrix<f64>, bounds: &[Between], points: usize) -> Joint {
    let none = Joint { probability: 0.0, error: 0.0 };
    let Some((mut correlation, mut bounds)) = standardised(covariance, bounds) else { return none };
    let dimensions = bounds.len();
    match bounds.as_slice() {
        [] => return Joint { probability: 1.0, error: 0.0 },
        [(least, most)] => return Joint { probability: between(*least, *most, 1.0), error: 0.0 },
        _ => {}
    }
    let root = ordered_root(&mut correlation, &mut bounds);

    // The last condition integrates out exactly, so the lattice has one dimension less.
    let generators: Vec<f64> = primes().take(dimensions - 1).map(f64::sqrt).collect();
    let mut sums = [0.0; SHIFTS];
    for (shift, sum) in sums.iter_mut().enumerate() {
        let mut heights = vec![0.0; dimensions];
        for point in 1..=points {
            let mut probability = 1.0;
            for row in 0..dimensions {
                let below: f64 = (0..row).map(|at| root[(row, at)] * heights[at]).sum();
                let diagonal = root[(row, row)];
                let (least, most) = (bounds[row].0 - below, bounds[row].1 - below);
                if diagonal <= 0.0 {
                    // This condition follows from the earlier ones: it holds or it does not.
                    if least > 0.0 || most < 0.0 {
                        probability = 0.0;
                        break;
                    }
                    continue;
                }
                let low = cumulative(least / diagonal);
                let width = cumulative(most / diagonal) - low;
                probability *= width;
                if width <= 0.0 {
                    probability = 0.0;
                    break;
                }
                if row + 1 < dimensions {
                    let step = point as f64 + (shift as f64 + 0.5) / SHIFTS as f64;
                    let place = (step * generators[row]).fract();
                    // The baker's fold makes the integrand periodic, which a lattice rule wants.
                    let place = 1.0 - (2.0 * place - 1.0).abs();
                    heights[row] = quantile((low + place * width).clamp(1e-300, 1.0 - 1e-16));
                }
            }
            *sum += probability;
        }
        *sum /= points as f64;
    }
    let mean = sums.iter().sum::<f64>() / SHIFTS as f64;
    let scatter = sums.iter().map(|sum| (sum - mean) * (sum - mean)).sum::<f64>();
    let standard_error = (scatter / (SHIFTS * (SHIFTS - 1)) as f64).sqrt();
    Joint { probability: mean, error: 3.0 * standard_error }
}

/// The prime numbers.
fn primes() -> impl Iterator<Item = f64> {
    (2_u32..).filter(|number| (2..*number).take_while(|d| d * d <= *number).all(|d| number % d != 0)).map(f64::from)
}

/// The same conditions in standard deviations: their correlation and bounds. A condition without variance is decided at
/// once, and of those that are the same but for scale and sign one is left, with the bounds of all; none where some cannot
/// hold.
fn standardised(covariance: &DMatrix<f64>, bounds: &[Between]) -> Option<(DMatrix<f64>, Vec<Between>)> {
    let deviation = |at: usize| covariance[(at, at)].max(0.0).sqrt();
    let correlation = |one: usize, other: usize| covariance[(one, other)] / (deviation(one) * deviation(other));
    let mut kept: Vec<(usize, Between)> = Vec::with_capacity(bounds.len());
    for (at, (least, most)) in bounds.iter().enumerate() {
        if deviation(at) == 0.0 {
            if *least > 0.0 || *most < 0.0 {
                return None;
            }
            continue;
        }
        let (least, most) = (least / deviation(at), most / deviation(at));
        let same = kept.iter_mut().find(|(other, _)| 1.0 - correlation(at, *other).powi(2) <= DEPENDENT);
        match same {
            Some((other, bounds)) => {
                let turned = correlation(at, *other) < 0.0;
                let (least, most) = if turned { (-most, -least) } else { (least, most) };
                *bounds = (bounds.0.max(least), bounds.1.min(most));
                if bounds.0 > bounds.1 {
                    return None;
                }
            }
            None => kept.push((at, (least, most))),
        }
    }
    let matrix =
        DMatrix::from_fn(kept.len(), kept.len(), |i, j| if i == j { 1.0 } else { correlation(kept[i].0, kept[j].0) });
    Some((matrix, kept.into_iter().map(|(_, bounds)| bounds).collect()))
}

fn between(least: f64, most: f64, deviation: f64) -> f64 {
    if deviation > 0.0 {
        (cumulative(most / deviation) - cumulative(least / deviation)).max(0.0)
    } else if least <= 0.0 && most >= 0.0 {
        1.0
    } else {
        0.0
    }
}

/// The lower triangular root of a correlation that may be singular, with rows brought into the order in which the
/// conditions are most restrictive; `bounds` is reordered along.
fn ordered_root(correlation: &mut DMatrix<f64>, bounds: &mut [Between]) -> DMatrix<f64> {
    let count = bounds.len();
    let mut root = DMatrix::zeros(count, count);
    let mut heights: Vec<f64> = Vec::with_capacity(count);
    for at in 0..count {
        let conditional = |row: usize, root: &DMatrix<f64>| {
            let explained: f64 = (0..at).map(|k| root[(row, k)] * root[(row, k)]).sum();
            (correlation[(row, row)] - explained).max(0.0).sqrt()
        };
        let shift = |row: usize, root: &DMatrix<f64>, heights: &[f64]| {
            (0..at).map(|k| root[(row, k)] * heights[k]).sum::<f64>()
        };
        let mut narrowest = (at, f64::INFINITY);
        for (row, (least, most)) in bounds.iter().enumerate().skip(at) {
            let below = shift(row, &root, &heights);
            let chance = between(least - below, most - below, conditional(row, &root));
            if chance < narrowest.1 {
                narrowest = (row, chance);
            }
        }
        let chosen = narrowest.0;
        correlation.swap_rows(at, chosen);
        correlation.swap_columns(at, chosen);
        root.swap_rows(at, chosen);
        bounds.swap(at, chosen);

        let explained: f64 = (0..at).map(|k| root[(at, k)] * root[(at, k)]).sum();
        let remaining = correlation[(at, at)] - explained;
        let below = (0..at).map(|k| root[(at, k)] * heights[k]).sum::<f64>();
        if remaining > DEPENDENT {
            let diagonal = remaining.sqrt();
            root[(at, at)] = diagonal;
            for row in at + 1..count {
                let common: f64 = (0..at).map(|k| root[(row, k)] * root[(at, k)]).sum();
                root[(row, at)] = (correlation[(row, at)] - common) / diagonal;
            }
            heights.push(truncated_mean((bounds[at].0 - below) / diagonal, (bounds[at].1 - below) / diagonal));
        } else {
            heights.push(0.0);
        }
    }
    root
}

/// Mean of a standard normal that is known to lie between two bounds.
fn truncated_mean(least: f64, most: f64) -> f64 {
    let width = cumulative(most) - cumulative(least);
    if width > 1e-300 {
        (crate::normal::density(least) - crate::normal::density(most)) / width
    } else {
        0.5 * (least.clamp(-40.0, 40.0) + most.clamp(-40.0, 40.0))
    }
}
