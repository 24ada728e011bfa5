//! Many simulated orders, counted.

use super::trial::{Asked, Blame, Handling, Trial};

/// What many trials came to.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Tally {
    /// How many orders were drawn.
    pub orders: usize,
    /// How many of them lacked something that the shafts need.
    pub incomplete: usize,
    /// The stated fit probabilities by tenths, from 0 to 1.
    pub tenths: [Tenth; 10],
    /// What the review did with the orders.
    pub reviewed: Count,
    /// What checking nothing did.
    pub unchecked: Count,
    /// What the classical tests did.
    pub classical: Count,
    /// How the mistakes were blamed.
    pub blame: Blame,
    /// Sound readings that were called mistaken.
    pub wronged: usize,
    /// What became of the orders whose questions were answered.
    pub asked: AskedCount,
}

/// Orders whose questions were answered truthfully.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct AskedCount {
    /// How many there were.
    pub orders: usize,
    /// What the review did with them in the end.
    pub handled: Count,
    /// By the number of questions that were answered, how many were cut after just so many.
    pub cut_after: Vec<usize>,
    /// How many answers there were in all.
    pub answers: usize,
}

impl AskedCount {
    fn add(&mut self, asked: &Asked) {
        self.orders += 1;
        self.answers += asked.questions;
        self.handled.add(asked.handling);
        if asked.handling.cuts {
            if self.cut_after.len() <= asked.questions {
                self.cut_after.resize(asked.questions + 1, 0);
            }
            self.cut_after[asked.questions] += 1;
        }
    }
}

/// The orders whose stated fit probability lies in one tenth.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Tenth {
    /// How many.
    pub orders: usize,
    /// The sum of what was stated.
    pub stated: f64,
    /// How many of them fitted the first time.
    pub fitted: usize,
}

/// What one way of working did with many orders.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Count {
    /// Orders that it would cut.
    pub cut: usize,
    /// Orders that it would cut and that do not fit.
    pub wrong: usize,
    /// Orders whose shafts, cut to its dimensions, fit.
    pub good: usize,
    /// Orders whose shafts would fit and that it holds back.
    pub held: usize,
}

impl Tally {
    /// Counts one more order. The order of the trials changes nothing but the last bits of the stated sums.
    pub fn add(&mut self, trial: &Trial) {
        self.orders += 1;
        match trial.stated {
            None => self.incomplete += 1,
            Some(stated) => {
                let tenth = &mut self.tenths[((stated * 10.0) as usize).min(9)];
                tenth.orders += 1;
                tenth.stated += stated;
                tenth.fitted += usize::from(trial.reviewed.fits);
            }
        }
        self.reviewed.add(trial.reviewed);
        self.unchecked.add(trial.unchecked);
        self.classical.add(trial.classical);
        self.blame.made += trial.planted.made;
        self.blame.reading_found += trial.planted.reading_found;
        self.blame.named += trial.planted.named;
        self.wronged += trial.wronged;
        trial.asked.iter().for_each(|asked| self.asked.add(asked));
    }
}

impl Count {
    fn add(&mut self, handling: Handling) {
        self.cut += usize::from(handling.cuts);
        self.wrong += usize::from(handling.cuts && !handling.fits);
        self.good += usize::from(handling.fits);
        self.held += usize::from(handling.fits && !handling.cuts);
    }
}

impl Tenth {
    /// The mean of what was stated; none without orders.
    #[must_use]
    pub fn mean_stated(&self) -> Option<f64> {
        (self.orders > 0).then(|| self.stated / self.orders as f64)
    }

    /// The share that fitted; none without orders.
    #[must_use]
    pub fn share_fitted(&self) -> Option<f64> {
        (self.orders > 0).then(|| self.fitted as f64 / self.orders as f64)
    }

    /// The band in which the true share lies with 95 % confidence.
    #[must_use]
    pub fn band(&self) -> Option<(f64, f64)> {
        (self.orders > 0).then(|| score_interval(self.fitted, self.orders))
    }
}

/// The 95 % score interval of a proportion (E. B. Wilson, *Journal of the American Statistical Association* 22 (1927)
/// 209–212): `(p + z²/2n ± z √(p(1−p)/n + z²/4n²)) / (1 + z²/n)` with `z = 1.959964`.
///
/// ```
/// // 1 of 29: 0.0061 to 0.1718 (R. G. Newcombe, Statistics in Medicine 17 (1998) 857–872, table I, method 3).
/// let (low, high) = axle::simulate::score_interval(1, 29);
/// assert!((low - 0.0061).abs() < 5e-5 && (high - 0.1718).abs() < 5e-5);
/// ```
#[must_use]
pub fn score_interval(successes: usize, trials: usize) -> (f64, f64) {
    const QUANTILE: f64 = 1.959_963_984_540_054;
    let count = trials as f64;
    let share = successes as f64 / count;
    let square = QUANTILE * QUANTILE;
    let middle = share + square / (2.0 * count);
    let half = QUANTILE * (share * (1.0 - share) / count + square / (4.0 * count * count)).sqrt();
    let scale = 1.0 + square / count;
    (((middle - half) / scale).max(0.0), ((middle + half) / scale).min(1.0))
}
