//! The distance from the wheel face, across the picture.
//!
//! Most sections stand within a hand's breadth of the wheel face, the rest of the shaft is long. Where one gap between two
//! sections is longer than all the others together, the scale changes in it, so that the crowded end can be read.

/// A stretch of the axis with one scale.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Part {
    from_mm: f64,
    to_mm: f64,
    from_x: f64,
    to_x: f64,
}

impl Part {
    fn x(&self, at_mm: f64) -> f64 {
        self.from_x + (at_mm - self.from_mm) * self.pixels_per_mm()
    }

    fn pixels_per_mm(&self) -> f64 {
        (self.to_x - self.from_x) / (self.to_mm - self.from_mm)
    }
}

/// Millimetres to pixels.
#[derive(Debug, Clone, PartialEq)]
pub struct DistanceAxis {
    parts: Vec<Part>,
}

/// A tick with its label.
#[derive(Debug, Clone, PartialEq)]
pub struct Tick {
    /// Where it stands.
    pub at: f64,
    /// What it says.
    pub label: String,
}

/// The crowded end takes this share of the width.
const CROWDED_SHARE: f64 = 0.64;

/// So far into the long gap the scale changes.
const INTO_GAP: f64 = 0.06;

/// Labels of neighbouring ticks stand no closer.
const LEAST_BETWEEN_TICKS: f64 = 42.0;

impl DistanceAxis {
    /// An axis from the wheel face to `end_mm` over the sections, which stand in order.
    pub fn over(sections_mm: &[f64], end_mm: f64, left: f64, right: f64) -> Self {
        let longest = sections_mm
            .windows(2)
            .map(|pair| (pair[0], pair[1] - pair[0]))
            .reduce(|longest, next| if next.1 > longest.1 { next } else { longest });
        let whole = Part { from_mm: 0.0, to_mm: end_mm, from_x: left, to_x: right };
        let Some((before_mm, gap_mm)) = longest.filter(|(before_mm, gap_mm)| *gap_mm > *before_mm) else {
            return Self { parts: vec![whole] };
        };
        let change_mm = before_mm + INTO_GAP * gap_mm;
        let change_x = left + CROWDED_SHARE * (right - left);
        Self {
            parts: vec![
                Part { to_mm: change_mm, to_x: change_x, ..whole },
                Part { from_mm: change_mm, from_x: change_x, ..whole },
            ],
        }
    }

    /// Where a distance stands.
    pub fn x(&self, at_mm: f64) -> f64 {
        let part = self.parts.iter().find(|part| at_mm <= part.to_mm).or(self.parts.last());
        part.map_or(0.0, |part| part.x(at_mm))
    }

    /// Where the scale changes, if it does.
    pub fn change(&self) -> Option<f64> {
        self.parts.get(1).map(|part| part.from_x)
    }

    /// Ticks at round numbers of a unit that is so many millimetres long.
    pub fn ticks(&self, unit_mm: f64) -> Vec<Tick> {
        let mut ticks: Vec<Tick> = Vec::new();
        for part in &self.parts {
            let least_units = LEAST_BETWEEN_TICKS / (part.pixels_per_mm() * unit_mm);
            let step = round_step(least_units);
            let first = (part.from_mm / unit_mm / step).ceil() as u32;
            let last = (part.to_mm / unit_mm / step).floor() as u32;
            for count in first..=last {
                let value = f64::from(count) * step;
                let at = part.x(value * unit_mm);
                let clear = self.change().is_none_or(|change| (at - change).abs() >= LEAST_BETWEEN_TICKS / 2.0);
                if clear && ticks.last().is_none_or(|before| at - before.at >= LEAST_BETWEEN_TICKS) {
                    ticks.push(Tick { at, label: trimmed(value) });
                }
            }
        }
        ticks
    }
}

/// The least of 1, 2 and 5 times a power of ten that is no smaller.
pub fn round_step(least: f64) -> f64 {
    let power = 10_f64.powf(least.log10().floor());
    [1.0, 2.0, 5.0, 10.0].into_iter().map(|times| times * power).find(|step| *step >= least).unwrap_or(10.0 * power)
}

/// A round number without idle noughts behind the point.
pub fn trimmed(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::{DistanceAxis, round_step, trimmed};

    #[test]
    fn the_scale_changes_in_the_long_gap_and_the_axis_stays_in_one_piece() {
        let axis = DistanceAxis::over(&[9.0, 54.0, 92.0, 389.0, 652.0], 697.0, 100.0, 700.0);
        let change = axis.change().unwrap();
        assert!(axis.x(92.0) < change && axis.x(389.0) > change);
        assert!((axis.x(0.0) - 100.0).abs() < 1e-9 && (axis.x(697.0) - 700.0).abs() < 1e-9);
        let steps: Vec<f64> = (0..=697).map(|mm| axis.x(f64::from(mm))).collect();
        assert!(steps.windows(2).all(|pair| pair[1] > pair[0]));
    }

    #[test]
    fn evenly_spread_sections_keep_one_scale() {
        let axis = DistanceAxis::over(&[100.0, 200.0, 300.0], 400.0, 0.0, 400.0);
        assert_eq!(axis.change(), None);
        assert!((axis.x(250.0) - 250.0).abs() < 1e-9);
    }

    #[test]
    fn ticks_are_round_in_either_unit() {
        let axis = DistanceAxis::over(&[100.0, 200.0, 300.0], 400.0, 0.0, 400.0);
        let labels = |unit_mm| axis.ticks(unit_mm).into_iter().map(|tick| tick.label).collect::<Vec<_>>();
        assert_eq!(labels(1.0), ["0", "50", "100", "150", "200", "250", "300", "350", "400"]);
        assert_eq!(labels(25.4), ["0", "2", "4", "6", "8", "10", "12", "14"]);
        assert!((round_step(0.03) - 0.05).abs() < 1e-12);
        assert_eq!(trimmed(0.5), "0.5");
    }
}
