//! The probability that several correlated normals stay within bounds together.
//!
//! A. Genz, "Numerical computation of multivariate normal probabilities", *Journal of Computational and Graphical
//! Statistics* 1 (1992) 141–149: the integral is turned into one over the unit cube by the triangular root of the
//! covariance, the narrowest condition first (Gibson, Glasbey and Elston 1994), and summed over a lattice with several fixed
//! shifts, whose scatter tells the error; a finer lattice follows until that is small enough. Conditions that
//! follow from others narrow the last variable that they depend on (A. Genz and K.-S. Kwong, *Journal of Statistical
//! Computation and Simulation* 68 (2000) 1–21). There is no randomness: the same conditions give the same number.

use nalgebra::DMatrix;

use crate::form::Form;
use crate::normal::{cumulative, quantile};
use crate::projection::{Between, Part, covariance_of};

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
    /// Three standard errors of the numerical sum, plus what was left out. The sum goes on until this is below 3e-4, but not
    /// without end: many conditions that are all in doubt leave up to 1e-3.
    pub error: f64,
}

/// The least and the most that a condition permits.
type Interval = (f64, f64);

/// Conditions that fail with a smaller probability than this are taken to hold; their sum enters the error.
const NEGLIGIBLE: f64 = 1e-9;
/// What a part of a mixture may add to the error of the whole without being integrated.
const CLOSE_ENOUGH: f64 = 2e-6;
const SHIFTS: usize = 8;
const LEAST_POINTS: usize = 4;
const MOST_POINTS: usize = 512;
/// A lattice that is not fine enough is followed by one with so many times the points, which contains it.
const FINER: usize = 2;
/// Generators of lattices of 32, 64, 128, 256 and 512 points at once, from a search component by component for the smallest
/// product of their worst-case errors in the Korobov space of smoothness 2, with the weight of each direction eight tenths of
/// the one before (after R. Cools, F. Y. Kuo and D. Nuyens, *SIAM Journal on Scientific Computing* 28 (2006) 2162–2188). The
/// test below makes the search. Further directions go on with square roots of primes.
const GENERATORS: [u16; 16] = [1, 151, 189, 99, 11, 247, 119, 35, 29, 9, 157, 227, 125, 3, 131, 253];
/// What is left of a unit variance, given the other conditions, where a condition is taken to follow from them. The error
/// is the probability of lying within a hundred-thousandth of a standard deviation of a bound.
const DEPENDENT: f64 = 1e-10;

/// The probability that all conditions hold in a part of a mixture. Little effort goes into parts whose weight hardly matters.
pub(crate) fn joint_probability(part: &Part, conditions: &[Between]) -> Joint {
    let weight = part.weight;
    let mut error = 0.0;
    let (mut any_fails, mut worst_fails) = (0.0, 0.0_f64);
    let mut open = Vec::new();
    for condition in conditions {
        let mean = part.mean[condition.form];
        let deviation = (part.variance(condition.form) + condition.own_variance).sqrt();
        let (least, most) = (condition.least - mean, condition.most - mean);
        let fails = if deviation > 0.0 {
            let below = if least == f64::NEG_INFINITY { 0.0 } else { cumulative(least / deviation) };
            let above = if most == f64::INFINITY { 0.0 } else { cumulative(-most / deviation) };
            below + above
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
            any_fails += fails;
            worst_fails = fails.max(worst_fails);
        } else {
            error += fails;
        }
    }
    // However the conditions hang together, the chance that one of them fails lies between that of the worst and the sum
    // of all (Boole and Fréchet). Where that is close enough for what the part weighs, there is nothing to integrate.
    let (most, least) = (1.0 - worst_fails, (1.0 - any_fails).max(0.0));
    let half_gap = 0.5 * (most - least);
    if weight * half_gap <= CLOSE_ENOUGH {
        return Joint { probability: least + half_gap, error: half_gap + error };
    }
    let conditions: Vec<&Between> = open.iter().map(|(condition, _, _)| *condition).collect();
    let covariance = covariance_of(part, &conditions);
    let bounds: Vec<Interval> = open.iter().map(|(_, least, most)| (*least, *most)).collect();
    let joint = rectangle_probability(&covariance, &bounds, effort_for(weight));
    Joint { probability: joint.probability, error: joint.error + error }
}

/// How far the sum over the lattice goes.
#[derive(Clone, Copy)]
struct Effort {
    /// It stops as soon as its error is below this,
    error: f64,
    /// and at the latest with so many points: [`LEAST_POINTS`] times a power of [`FINER`], up to [`MOST_POINTS`].
    most_points: usize,
}

/// The effort for a part of a mixture, by its weight: parts that hardly matter get little, and the error of the whole stays
/// near 1e-4, three standard errors of it below 3e-4.
fn effort_for(weight: f64) -> Effort {
    let most_points = if weight > 0.1 {
        MOST_POINTS
    } else if weight > 0.01 {
        MOST_POINTS / 4
    } else {
        MOST_POINTS / 16
    };
    Effort { error: 3e-4 / weight.sqrt(), most_points }
}

/// The probability that a normal vector with mean zero stays within the bounds.
fn rectangle_probability(covariance: &DMatrix<f64>, bounds: &[Interval], effort: Effort) -> Joint {
    let Some((mut correlation, mut bounds)) = standardised(covariance, bounds) else {
        return Joint { probability: 0.0, error: 0.0 };
    };
    let root = ordered_root(&mut correlation, &mut bounds);
    let steps = steps(&root, &bounds);
    let Some(further) = steps.len().checked_sub(1) else { return Joint { probability: 1.0, error: 0.0 } };

    if further == 0 {
        return Joint { probability: chance(&steps, &mut vec![0.0; bounds.len()], |_| 0.0), error: 0.0 };
    }

    // The last step integrates out exactly, so the lattice has one dimension less.
    let generators = generators(further);
    let shifts: Vec<Vec<f64>> =
        (0..SHIFTS).map(|shift| (0..further).map(|at| scattered(shift, at)).collect()).collect();
    let mut heights = vec![0.0; bounds.len()];
    let mut sums = [0.0; SHIFTS];
    let mut points = LEAST_POINTS;
    loop {
        // The points of the next lattice that are not those of the last one.
        let stride = MOST_POINTS / points;
        let fresh = (0..points).filter(|point| points == LEAST_POINTS || point % FINER != 0);
        for point in fresh.map(|point| (point * stride) as f64) {
            for (sum, shifts) in sums.iter_mut().zip(&shifts) {
                *sum += chance(&steps, &mut heights, |at| {
                    let place = (point * generators[at] + shifts[at]).fract();
                    // The baker's fold makes the integrand periodic, which a lattice rule wants.
                    1.0 - (2.0 * place - 1.0).abs()
                });
            }
        }
        let mean = sums.iter().sum::<f64>() / (SHIFTS * points) as f64;
        let scatter = sums.iter().map(|sum| (sum / points as f64 - mean).powi(2)).sum::<f64>();
        let error = 3.0 * (scatter / (SHIFTS * (SHIFTS - 1)) as f64).sqrt();
        if error <= effort.error || points >= effort.most_points {
            return Joint { probability: mean, error };
        }
        points *= FINER;
    }
}

/// The chance that all conditions hold, where every normal but the last lies at a given place, 0 to 1, of the interval that
/// the earlier ones leave it.
fn chance(steps: &[Step], heights: &mut [f64], place: impl Fn(usize) -> f64) -> f64 {
    let mut chance = 1.0;
    for (at, step) in steps.iter().enumerate() {
        let (least, most) = step.interval(heights);
        let low = cumulative(least);
        let width = cumulative(most) - low;
        if width <= 0.0 {
            return 0.0;
        }
        chance *= width;
        if at + 1 < steps.len() {
            heights[step.column] = quantile((low + place(at) * width).clamp(1e-300, 1.0 - 1e-16));
        }
    }
    chance
}

/// One of the independent standard normals that the conditions are made of, with all conditions that it decides once the
/// earlier ones are known: its own, and those that depend on nothing later.
struct Step {
    column: usize,
    conditions: Vec<Decided>,
}

/// A condition that is decided by one last independent normal.
struct Decided {
    /// Coefficients of the earlier normals.
    before: Vec<f64>,
    coefficient: f64,
    bounds: Interval,
}

impl Step {
    /// Between which values it must lie, given the earlier ones.
    fn interval(&self, heights: &[f64]) -> Interval {
        let mut interval = (f64::NEG_INFINITY, f64::INFINITY);
        for condition in &self.conditions {
            let below: f64 = condition.before.iter().zip(heights).map(|(a, height)| a * height).sum();
            let one = (condition.bounds.0 - below) / condition.coefficient;
            let other = (condition.bounds.1 - below) / condition.coefficient;
            interval = (interval.0.max(one.min(other)), interval.1.min(one.max(other)));
        }
        interval
    }
}

/// The independent normals behind a lower root, each with the conditions that it decides.
fn steps(root: &DMatrix<f64>, bounds: &[Interval]) -> Vec<Step> {
    let mut steps: Vec<Step> = Vec::new();
    for (row, between) in bounds.iter().enumerate() {
        // Smaller coefficients are the rounding of what is not there.
        let last = (0..=row).rev().find(|column| root[(row, *column)].abs() > DEPENDENT.sqrt());
        let Some(column) = last else { continue };
        let condition = Decided {
            before: (0..column).map(|at| root[(row, at)]).collect(),
            coefficient: root[(row, column)],
            bounds: *between,
        };
        match steps.iter_mut().find(|step| step.column == column) {
            Some(step) => step.conditions.push(condition),
            None => steps.push(Step { column, conditions: vec![condition] }),
        }
    }
    steps
}

/// The steps of the lattice in each direction, as shares of the unit.
fn generators(directions: usize) -> Vec<f64> {
    let primes = (2_u32..)
        .filter(|number| (2..*number).take_while(|d| d * d <= *number).all(|d| number % d != 0))
        .map(f64::from);
    let table = GENERATORS.iter().map(|generator| f64::from(*generator) / MOST_POINTS as f64);
    table.chain(primes.map(f64::sqrt)).take(directions).collect()
}

/// A number between 0 and 1 for each shift and direction, scattered as if by chance but always the same: the finaliser of
/// the generator `SplitMix` (G. L. Steele, D. Lea and C. H. Flood 2014).
fn scattered(shift: usize, direction: usize) -> f64 {
    let mut bits = ((shift as u64) << 32 | direction as u64).wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    ((bits ^ (bits >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
}

/// The same conditions in standard deviations: their correlation and bounds. A condition without variance is decided at
/// once; none where it does not hold.
fn standardised(covariance: &DMatrix<f64>, bounds: &[Interval]) -> Option<(DMatrix<f64>, Vec<Interval>)> {
    let deviations: Vec<f64> = covariance.diagonal().iter().map(|variance| variance.max(0.0).sqrt()).collect();
    let (open, decided): (Vec<usize>, Vec<usize>) = (0..bounds.len()).partition(|at| deviations[*at] > 0.0);
    if decided.iter().any(|at| bounds[*at].0 > 0.0 || bounds[*at].1 < 0.0) {
        return None;
    }
    let correlation = DMatrix::from_fn(open.len(), open.len(), |i, j| {
        if i == j { 1.0 } else { covariance[(open[i], open[j])] / (deviations[open[i]] * deviations[open[j]]) }
    });
    Some((
        correlation,
        open.iter().map(|at| (bounds[*at].0 / deviations[*at], bounds[*at].1 / deviations[*at])).collect(),
    ))
}

/// The chance that a normal with mean zero lies between two bounds.
pub(crate) fn between(least: f64, most: f64, deviation: f64) -> f64 {
    if deviation > 0.0 {
        // What lies nine standard deviations beyond a bound adds nothing that a double holds.
        let below = |bound: f64| if bound < -9.0 { 0.0 } else { cumulative(bound) };
        (below(most / deviation) - below(least / deviation)).max(0.0)
    } else if least <= 0.0 && most >= 0.0 {
        1.0
    } else {
        0.0
    }
}

/// The lower triangular root of a correlation that may be singular, with rows brought into the order in which the
/// conditions are most restrictive; `bounds` is reordered along.
fn ordered_root(correlation: &mut DMatrix<f64>, bounds: &mut [Interval]) -> DMatrix<f64> {
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

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::{FINER, GENERATORS, MOST_POINTS};

    /// The worst-case errors of a lattice with these products so far, once a direction with a generator is added.
    fn products_with(products: &[f64], generator: usize, weight: f64) -> Vec<f64> {
        let points = products.len();
        let kernel = |point: usize| {
            let x = (point * generator % points) as f64 / points as f64;
            1.0 + weight * 2.0 * PI * PI * (x * x - x + 1.0 / 6.0)
        };
        products.iter().enumerate().map(|(point, product)| product * kernel(point)).collect()
    }

    #[test]
    fn the_generators_come_from_a_search_component_by_component() {
        // The shorter lattices, for what hardly matters, are the first points of these.
        let sizes = std::iter::successors(Some(32), |size| Some(size * FINER));
        let sizes = sizes.take_while(|size| *size <= MOST_POINTS);
        let mut products: Vec<Vec<f64>> = sizes.map(|size| vec![1.0; size]).collect();
        let mut weight = 1.0;
        for (direction, generator) in GENERATORS.iter().enumerate() {
            let merit = |candidate: usize| {
                let ln_error = |products: &Vec<f64>| {
                    let next = products_with(products, candidate, weight);
                    (next.iter().sum::<f64>() / next.len() as f64 - 1.0).ln()
                };
                products.iter().map(ln_error).sum::<f64>()
            };
            // A generator and its negative give the same lattice, and no two directions may go in step.
            let fresh =
                |candidate: &usize| !GENERATORS[..direction].iter().any(|used| usize::from(*used) == *candidate);
            let candidates = if direction == 0 { 1..2 } else { 1..MOST_POINTS / 2 };
            let merits = candidates.step_by(2).filter(fresh).map(|candidate| (candidate, merit(candidate)));
            let best = merits.fold((0, f64::INFINITY), |best, next| if next.1 < best.1 - 1e-12 { next } else { best });
            assert_eq!(usize::from(*generator), best.0, "direction {direction}");
            products = products.iter().map(|product| products_with(product, best.0, weight)).collect();
            weight *= 0.8;
        }
    }
}
