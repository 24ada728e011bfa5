//! Where chance comes from.

use quantity::normal_quantile;

/// A stream of numbers even between 0 and 1, and what can be drawn with it.
pub struct Chance<'a> {
    even: &'a mut dyn FnMut() -> f64,
}

impl<'a> Chance<'a> {
    /// Chance from a source of numbers that are even in the open interval (0, 1).
    pub fn new(even: &'a mut dyn FnMut() -> f64) -> Self {
        Self { even }
    }

    /// A number even between 0 and 1.
    pub fn even(&mut self) -> f64 {
        (self.even)()
    }

    /// Whether something of this probability happens.
    pub fn happens(&mut self, probability: f64) -> bool {
        self.even() < probability
    }

    /// A normal number.
    pub fn normal(&mut self, mean: f64, standard_deviation: f64) -> f64 {
        // An even number outside (0, 1) has no quantile; it counts as the middle.
        mean + standard_deviation * normal_quantile(self.even()).unwrap_or(0.0)
    }

    /// A normal number that is drawn again until it lies within `reach` standard deviations.
    pub fn normal_within(&mut self, mean: f64, standard_deviation: f64, reach: f64) -> f64 {
        // One draw in three fails at one standard deviation, so a hundred failures mean a source that is stuck.
        for _ in 0..100 {
            let drawn = self.normal(mean, standard_deviation);
            if (drawn - mean).abs() <= reach * standard_deviation {
                return drawn;
            }
        }
        mean
    }

    /// One of several things, by weight; none where nothing has a weight.
    pub fn weighted<'t, T>(&mut self, things: &'t [T], weight: impl Fn(&T) -> f64) -> Option<&'t T> {
        let total: f64 = things.iter().map(&weight).sum();
        let mut left = self.even() * total;
        for thing in things {
            left -= weight(thing);
            if left < 0.0 {
                return Some(thing);
            }
        }
        things.iter().rev().find(|thing| weight(thing) > 0.0)
    }
}
