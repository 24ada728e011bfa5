//! Stress and safety, up the picture.

use super::distance_axis::{Tick, round_step, trimmed};

/// Values to pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ValueAxis {
    least: f64,
    most: f64,
    bottom: f64,
    top: f64,
    /// Equal ratios, instead of equal differences, stand equally far apart.
    by_ratio: bool,
}

/// Ticks of a stress stand no closer.
const LEAST_BETWEEN_TICKS: f64 = 26.0;

/// Round safeties, of which a panel shows those that it reaches.
const SAFETIES: [f64; 12] = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0];

/// More than this is enough: it is not drawn to scale.
pub const ENOUGH_SAFETY: f64 = 20.0;

/// So far above the panel lies what is endless.
const ABOVE: f64 = 60.0;

impl ValueAxis {
    /// From nought to a round number above the largest value.
    pub fn from_nought(largest: f64, bottom: f64, top: f64) -> Self {
        let step = round_step((largest.max(1.0)) / 5.0);
        let most = (largest.max(1.0) / step).ceil() * step;
        Self { least: 0.0, most, bottom, top, by_ratio: false }
    }

    /// For safeties, the least of which is given.
    pub fn of_safeties(least: f64, bottom: f64, top: f64) -> Self {
        let below = SAFETIES.into_iter().rev().find(|round| *round < least.min(1.0));
        Self { least: below.unwrap_or(SAFETIES[0]), most: ENOUGH_SAFETY, bottom, top, by_ratio: true }
    }

    /// Where a value stands; what is far above the axis stands above the panel.
    pub fn y(&self, value: f64) -> f64 {
        let share = if self.by_ratio {
            (value.max(self.least / 10.0) / self.least).ln() / (self.most / self.least).ln()
        } else {
            (value - self.least) / (self.most - self.least)
        };
        (self.bottom - share * (self.bottom - self.top)).max(self.top - ABOVE)
    }

    /// Whether a value is within the panel.
    pub fn holds(&self, value: f64) -> bool {
        (self.least..=self.most).contains(&value)
    }

    /// Where the panel ends above.
    pub fn top(&self) -> f64 {
        self.top
    }

    /// Where the panel ends below.
    pub fn bottom(&self) -> f64 {
        self.bottom
    }

    /// Ticks at round numbers of a unit that is worth so much.
    pub fn ticks(&self, unit: f64) -> Vec<Tick> {
        let tick = |value: f64| Tick { at: self.y(value * unit), label: trimmed(value) };
        if self.by_ratio {
            return SAFETIES.into_iter().filter(|value| self.holds(*value)).map(tick).collect();
        }
        let most = self.most / unit;
        let step = round_step(LEAST_BETWEEN_TICKS * most / (self.bottom - self.top));
        let count = (most / step + 1e-9).floor() as u32;
        (0..=count).map(|number| tick(f64::from(number) * step)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::ValueAxis;

    #[test]
    fn a_stress_axis_begins_at_nought_and_ends_at_a_round_number() {
        let axis = ValueAxis::from_nought(773.0, 200.0, 0.0);
        let labels: Vec<String> = axis.ticks(1.0).into_iter().map(|tick| tick.label).collect();
        assert_eq!(labels, ["0", "200", "400", "600", "800"]);
        assert!((axis.y(400.0) - 100.0).abs() < 1e-9);
    }

    #[test]
    fn a_safety_axis_shows_ratios_and_lets_what_is_endless_run_off() {
        let axis = ValueAxis::of_safeties(0.73, 200.0, 0.0);
        assert!((axis.y(1.0) - axis.y(2.0) - (axis.y(5.0) - axis.y(10.0))).abs() < 1e-9);
        assert!(axis.y(f64::INFINITY) < 0.0 && !axis.holds(f64::INFINITY));
        assert_eq!(axis.ticks(1.0).first().map(|tick| tick.label.as_str()), Some("0.5"));
    }
}
