//! The probability that conditions hold together, reckoned quickly: exact for two, by pairs for more.
//!
//! With `Pᵢ` the chance that a condition holds and `Pᵢⱼ` that two do, each condition is tied to the one before it with which
//! it correlates most: `P ≈ Π Pᵢ · Π Pᵢⱼ / (Pᵢ Pⱼ)`, the best tree of pairs (C. K. Chow and C. N. Liu, *IEEE Transactions on
//! Information Theory* 14 (1968) 462–467) but for the order in which it grows. Both ends of an axle hang on the same side
//! gear, so that independence alone would count one doubt twice.

use std::f64::consts::PI;

use crate::joint::between;
use crate::projection::{Between, Part, Projection, together};

/// Conditions that hold or fail with less than this chance are tied to no other.
const IN_DOUBT_FROM: f64 = 1e-3;
/// Conditions that correlate less than this are independent.
const TIED_FROM: f64 = 0.05;
/// Correlations beyond this are taken to be this.
const CLOSEST: f64 = 0.999;

/// Nodes and weights of Gauss-Legendre quadrature between −1 and 1 (M. Abramowitz and I. A. Stegun, *Handbook of Mathematical
/// Functions*, table 25.4, eight points).
const NODES: [(f64, f64); 8] = [
    (0.183_434_642_495_65, 0.362_683_783_378_362),
    (-0.183_434_642_495_65, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887),
    (-0.525_532_409_916_329, 0.313_706_645_877_887),
    (0.796_666_477_413_627, 0.222_381_034_453_374),
    (-0.796_666_477_413_627, 0.222_381_034_453_374),
    (0.960_289_856_497_536, 0.101_228_536_290_376),
    (-0.960_289_856_497_536, 0.101_228_536_290_376),
];

/// A condition in a part, in standard deviations.
struct Held {
    form: usize,
    deviation: f64,
    least: f64,
    most: f64,
    chance: f64,
}

impl Projection {
    /// The probability that all conditions hold, in the parts whose model is permitted: close to
    /// [`Projection::joint_probability`] and far quicker. Of forms whose covariance is not kept the conditions are taken to be
    /// independent.
    #[must_use]
    pub fn rough_probability(&self, conditions: &[Between], permitted: impl Fn(usize) -> bool) -> f64 {
        let mut doubts = Vec::with_capacity(conditions.len());
        let of_part = |part: &Part| part.weight * hold_together(part, conditions, &mut doubts);
        self.parts.iter().filter(|part| permitted(part.model)).map(of_part).sum()
    }
}

/// The chance that all conditions hold in a part.
fn hold_together(part: &Part, conditions: &[Between], doubts: &mut Vec<Held>) -> f64 {
    doubts.clear();
    let mut chance = 1.0;
    let together = together(part.mean.len(), part.spread.len());
    for condition in conditions {
        let deviation = (part.variance(condition.form) + condition.own_variance).sqrt();
        let (least, most) = (condition.least - part.mean[condition.form], condition.most - part.mean[condition.form]);
        let own = between(least, most, deviation);
        chance *= own;
        let in_doubt = (IN_DOUBT_FROM..=1.0 - IN_DOUBT_FROM).contains(&own) && deviation > 0.0;
        if !in_doubt || condition.form >= together {
            continue;
        }
        let held =
            Held { form: condition.form, deviation, least: least / deviation, most: most / deviation, chance: own };
        let correlation = |other: &Held| part.covariance(held.form, other.form) / (held.deviation * other.deviation);
        let closest = doubts.iter().map(|other| (correlation(other), other));
        if let Some((correlation, other)) = closest.max_by(|one, other| one.0.abs().total_cmp(&other.0.abs()))
            && correlation.abs() > TIED_FROM
        {
            chance *= both(&held, other, correlation.clamp(-CLOSEST, CLOSEST)) / (held.chance * other.chance);
        }
        doubts.push(held);
    }
    chance
}

/// The chance that two conditions hold: `Φ₂(h, k; ρ) = Φ(h) Φ(k) + ∫₀^asin ρ exp(−(h² − 2 h k sin θ + k²) / 2 cos² θ) dθ / 2π`
/// at the four corners (R. L. Plackett, *Biometrika* 41 (1954) 351–360; Z. Drezner and G. O. Wesolowsky, *Journal of
/// Statistical Computation and Simulation* 35 (1990) 101–107).
fn both(one: &Held, other: &Held, correlation: f64) -> f64 {
    let half = 0.5 * correlation.asin();
    let mut sum = 0.0;
    for (node, weight) in NODES {
        let (sine, cosine) = (half * (1.0 + node)).sin_cos();
        let corner = |h: f64, k: f64| {
            if h.is_finite() && k.is_finite() {
                (-0.5 * (h * h - 2.0 * h * k * sine + k * k) / (cosine * cosine)).exp()
            } else {
                0.0
            }
        };
        let corners = corner(one.most, other.most) - corner(one.most, other.least) - corner(one.least, other.most)
            + corner(one.least, other.least);
        sum += weight * corners;
    }
    let product = one.chance * other.chance;
    let least = (one.chance + other.chance - 1.0).max(0.0);
    (product + half * sum / (2.0 * PI)).clamp(least, one.chance.min(other.chance))
}

#[cfg(test)]
mod tests {
    use super::{Held, both};
    use crate::normal::cumulative;

    fn held(least: f64, most: f64) -> Held {
        Held { form: 0, deviation: 1.0, least, most, chance: cumulative(most) - cumulative(least) }
    }

    /// Both positive: 1/4 + asin ρ / 2π in closed form (W. F. Sheppard, *Philosophical Transactions of the Royal Society A*
    /// 192 (1899) 101–167).
    #[test]
    fn two_conditions_hold_as_sheppard_has_it() {
        let positive = held(0.0, f64::INFINITY);
        let mut worst = 0.0_f64;
        for correlation in [-0.99_f64, -0.9, -0.5, 0.0, 0.3, 0.7, 0.95, 0.99] {
            let exact = 0.25 + correlation.asin() / (2.0 * std::f64::consts::PI);
            worst = worst.max((both(&positive, &positive, correlation) - exact).abs());
        }
        println!("worst {worst:.1e}");
        assert!(worst < 1e-12, "{worst}");
    }

    /// Two conditions that are nearly the same hold as often as the narrower one; integrals over one of them, close by.
    #[test]
    fn two_conditions_agree_with_an_integral_over_one_of_them() {
        let conditions = [held(-1.0, 2.0), held(-0.3, f64::INFINITY), held(f64::NEG_INFINITY, 1.7), held(-2.5, 0.4)];
        let mut worst = 0.0_f64;
        for one in &conditions {
            for other in &conditions {
                for correlation in [-0.95_f64, -0.6, 0.2, 0.8, 0.95] {
                    let left = (1.0 - correlation * correlation).sqrt();
                    let (low, high) = (one.least.max(-9.0), one.most.min(9.0));
                    let step = (high - low) / 4000.0;
                    let exact: f64 = (0..4000)
                        .map(|at| {
                            let x = low + step * (f64::from(at) + 0.5);
                            let within = cumulative((other.most - correlation * x) / left)
                                - cumulative((other.least - correlation * x) / left);
                            crate::normal::density(x) * within * step
                        })
                        .sum();
                    worst = worst.max((both(one, other, correlation) - exact).abs());
                }
            }
        }
        println!("worst {worst:.1e}");
        // What eight nodes leave of an integrand that is steep where the correlation is close to one.
        assert!(worst < 1e-3, "{worst}");
    }
}
