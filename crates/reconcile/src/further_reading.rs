//! What a further reading may bring, and what would be known after it.

use crate::projection::{Part, Projection, place};

/// A reading that is yet to be taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FurtherReading {
    /// Which form it is of, by its place in the projection; its covariance with the others must be kept.
    pub form: usize,
    /// Its standard uncertainty.
    pub standard_uncertainty: f64,
    /// The probability that it will be mistaken.
    pub mistaken: f64,
    /// Standard deviation of a mistaken one.
    pub usual: f64,
}

/// Parts of a smaller weight are dropped after a further reading.
const NEXT_TO_NOTHING: f64 = 1e-4;

/// Nodes and weights of Gauss-Hermite quadrature for the standard normal density (M. Abramowitz and I. A. Stegun, *Handbook of
/// Mathematical Functions*, table 25.10, the abscissas times √2 and the weights over √π).
const SEVEN_NODES: [(f64, f64); 7] = [
    (0.0, 0.457_142_857_142_857),
    (1.154_405_394_739_968, 0.240_123_178_605_013),
    (-1.154_405_394_739_968, 0.240_123_178_605_013),
    (2.366_759_410_734_541, 0.030_757_123_967_586),
    (-2.366_759_410_734_541, 0.030_757_123_967_586),
    (3.750_439_717_725_742, 0.000_548_268_855_972),
    (-3.750_439_717_725_742, 0.000_548_268_855_972),
];
const THREE_NODES: [(f64, f64); 3] = [
    (0.0, 0.666_666_666_666_667),
    (1.732_050_807_568_877, 0.166_666_666_666_667),
    (-1.732_050_807_568_877, 0.166_666_666_666_667),
];
const ONE_NODE: [(f64, f64); 1] = [(0.0, 1.0)];

impl Projection {
    /// What would be known after a further reading of the form `read` with this standard uncertainty had come out as `value`.
    /// With the probability `mistaken` the reading would be worth nothing: it is then spread over `usual` more. Only the
    /// first `kept` forms are kept.
    #[must_use]
    pub fn after(&self, further: &FurtherReading, value: f64, kept: usize) -> Self {
        let read = further.form;
        let own = further.standard_uncertainty * further.standard_uncertainty;
        let ln_density = |part: &Part, more: f64| {
            let variance = part.variance(read) + own + more;
            let off = value - part.mean[read];
            -0.5 * (variance.ln() + off * off / variance)
        };
        let wide = further.usual * further.usual;
        let mut weights = Vec::with_capacity(self.parts.len());
        for part in &self.parts {
            let gain = 1.0 / (part.variance(read) + own);
            let off = value - part.mean[read];
            let ln_sound = ((1.0 - further.mistaken) * part.weight).ln() + ln_density(part, 0.0);
            let ln_wrong = (further.mistaken * part.weight).ln() + ln_density(part, wide);
            weights.push((ln_sound, ln_wrong, part, gain, off));
        }
        let top = weights.iter().fold(f64::NEG_INFINITY, |top, (sound, wrong, ..)| top.max(*sound).max(*wrong));
        let weight = |ln_weight: f64| (ln_weight - top).exp();
        let sum: f64 = weights.iter().map(|(sound, wrong, ..)| weight(*sound) + weight(*wrong)).sum();
        // What weighs next to nothing is left out, and the rest is as good as all.
        let mut parts = Vec::with_capacity(weights.len());
        for (ln_sound, ln_wrong, part, gain, off) in weights {
            let (sound, wrong) = (weight(ln_sound) / sum, weight(ln_wrong) / sum);
            if sound > NEXT_TO_NOTHING {
                parts.push(Part { weight: sound, ..part.conditioned(read, gain, off, kept) });
            }
            if wrong > NEXT_TO_NOTHING {
                parts.push(Part { weight: wrong, ..part.first(kept) });
            }
        }
        Self::of_parts(parts, self.pruned)
    }

    /// The values that a further reading may bring, with their weights: Gauss-Hermite nodes of every part that counts. The
    /// weights sum to one at most; the rest is that of parts that hardly count.
    #[must_use]
    pub fn foreseen(&self, further: &FurtherReading) -> Vec<(f64, f64)> {
        let mut values = Vec::new();
        for part in self.gathered(further.form).parts() {
            let deviation = part.standard_deviation.hypot(further.standard_uncertainty);
            let nodes: &[(f64, f64)] = match part.weight {
                weight if weight > 0.1 => &SEVEN_NODES,
                weight if weight > 0.03 => &THREE_NODES,
                weight if weight > 0.004 => &ONE_NODE,
                _ => &[],
            };
            values.extend(nodes.iter().map(|(node, share)| (part.mean + node * deviation, share * part.weight)));
        }
        values
    }
}

impl Projection {
    /// The covariance of two forms over the whole mixture, within and between its parts.
    #[must_use]
    pub fn overall_covariance(&self, one: usize, other: usize) -> f64 {
        let mean = |form: usize| self.parts.iter().map(|part| part.weight * part.mean[form]).sum::<f64>();
        let (first, second) = (mean(one), mean(other));
        let of_part = |part: &Part| {
            part.weight * (part.covariance(one, other) + (part.mean[one] - first) * (part.mean[other] - second))
        };
        self.parts.iter().map(of_part).sum()
    }

    /// The first `kept` forms and some others, all of which must be seen together.
    #[must_use]
    pub fn with_forms(&self, kept: usize, others: &[usize]) -> Self {
        let forms: Vec<usize> = (0..kept).chain(others.iter().copied()).collect();
        let narrowed = |part: &Part| {
            let mut spread = Vec::with_capacity(place(forms.len(), 0));
            for (row, one) in forms.iter().enumerate() {
                spread.extend(forms[..=row].iter().map(|other| part.covariance(*one, *other)));
            }
            let mean = forms.iter().map(|form| part.mean[*form]).collect();
            Part { weight: part.weight, model: part.model, mean, spread }
        };
        Self::of_parts(self.parts.iter().map(narrowed).collect(), self.pruned)
    }

    /// The part in which the sum of the weights passes `place`, 0 to 1: the parts in their order, each as often as it weighs.
    #[must_use]
    pub fn part_at(&self, place: f64) -> Option<&Part> {
        let mut sum = 0.0;
        let found = self.parts.iter().find(|part| {
            sum += part.weight;
            sum > place
        });
        found.or(self.parts.last())
    }
}

impl Part {
    /// The same part once a further reading has come out as `value`.
    #[must_use]
    pub fn conditioned_on(&self, further: &FurtherReading, value: f64) -> Self {
        let read = further.form;
        let gain = 1.0 / (self.variance(read) + further.standard_uncertainty * further.standard_uncertainty);
        self.conditioned(read, gain, value - self.mean[read], self.mean.len())
    }

    /// The first forms alone.
    fn first(&self, kept: usize) -> Self {
        let spread = self.spread[..place(kept, 0)].to_vec();
        Self { weight: self.weight, model: self.model, mean: self.mean[..kept].to_vec(), spread }
    }

    /// The first forms once a reading of the form `read` lies `off` its mean; `gain` is one over its variance.
    fn conditioned(&self, read: usize, gain: f64, off: f64, kept: usize) -> Self {
        let mut part = self.first(kept);
        let towards = |form: usize| self.covariance(form, read);
        for row in 0..kept {
            let along = towards(row) * gain;
            part.mean[row] += along * off;
            for column in 0..=row {
                part.spread[place(row, column)] -= along * towards(column);
            }
        }
        part
    }
}
