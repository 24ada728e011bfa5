//! The two conjugate distributions that learning rests on.
//!
//! A rate has a beta distribution and counts update it (Gelman, Carlin, Stern, Dunson, Vehtari and Rubin, *Bayesian Data
//! Analysis*, 3rd ed., section 2.4; several rates of one reading together are the Dirichlet distribution of section 3.4, whose
//! marginals are these betas). A variance has a scaled inverse chi-squared distribution and squared errors update it (section
//! 2.6).

use quantity::{beta_quantile, chi_squared_quantile};

/// What is believed of a rate: `Beta(first, second)`.
///
/// ```
/// use axle::learn::RateBelief;
/// // A rate of 0.5 % that is worth 400 readings, after 3 slips in 200 readings.
/// let after = RateBelief::worth(0.005, 400.0).after(3.0, 200.0);
/// assert!((after.mean() - 5.0 / 600.0).abs() < 1e-15);
/// let (least, most) = after.interval(0.95);
/// assert!(least < after.mean() && after.mean() < most);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RateBelief {
    /// Slips, those believed beforehand counted in.
    pub first: f64,
    /// Readings without the slip, likewise.
    pub second: f64,
}

impl RateBelief {
    /// A rate (0 to 1) that is worth so many readings.
    #[must_use]
    pub fn worth(rate: f64, readings: f64) -> Self {
        Self { first: rate * readings, second: (1.0 - rate) * readings }
    }

    /// The belief after so many slips in so many readings: `Beta(α + n, β + N − n)`. Expected counts need not be whole.
    #[must_use]
    pub fn after(self, slips: f64, readings: f64) -> Self {
        Self { first: self.first + slips, second: self.second + readings - slips }
    }

    /// Its mean, `α / (α + β)`; also where the density of the logarithm of the odds is largest.
    #[must_use]
    pub fn mean(self) -> f64 {
        self.first / (self.first + self.second)
    }

    /// The interval that holds the rate with this probability, with as much left out on either side. Where no quantile can be
    /// given, all from 0 to 1.
    #[must_use]
    pub fn interval(self, probability: f64) -> (f64, f64) {
        let tail = 0.5 * (1.0 - probability);
        let at = |share: f64| beta_quantile(share, self.first, self.second);
        (at(tail).unwrap_or(0.0), at(1.0 - tail).unwrap_or(1.0))
    }
}

/// What is believed of a variance: a scaled inverse chi-squared distribution.
///
/// ```
/// use axle::learn::VarianceBelief;
/// // Eight degrees of freedom for a variance of 1, after four errors whose squares sum to 10.
/// let after = VarianceBelief { scale: 1.0, degrees_of_freedom: 8.0 }.after(10.0, 4.0);
/// assert_eq!(after, VarianceBelief { scale: 1.5, degrees_of_freedom: 12.0 });
/// let (least, most) = after.interval(0.95);
/// assert!(least < 1.5 && 1.5 < most);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VarianceBelief {
    /// The scale s²; also where the density of the logarithm of the variance is largest.
    pub scale: f64,
    /// The degrees of freedom ν.
    pub degrees_of_freedom: f64,
}

impl VarianceBelief {
    /// The belief after errors with this sum of squares and so many of them: `s² = (ν₀ s₀² + Σ e²) / (ν₀ + n)`.
    #[must_use]
    pub fn after(self, squares: f64, errors: f64) -> Self {
        let degrees_of_freedom = self.degrees_of_freedom + errors;
        Self { scale: (self.degrees_of_freedom * self.scale + squares) / degrees_of_freedom, degrees_of_freedom }
    }

    /// The interval that holds the variance with this probability, `ν s² / χ²`, with as much left out on either side. Where no
    /// quantile can be given, everything above nought.
    #[must_use]
    pub fn interval(self, probability: f64) -> (f64, f64) {
        self.interval_of_product(self.degrees_of_freedom, probability)
    }

    /// The interval of a variance that is the product of two, which are worth so many degrees of freedom together: logarithms of
    /// independent variances add up, so the spread is that of these degrees of freedom and the skewness that of the larger number.
    /// Where the orders say more than was believed before, this is [`interval`](Self::interval).
    #[must_use]
    pub fn interval_of_product(self, together: f64, probability: f64) -> (f64, f64) {
        let tail = 0.5 * (1.0 - probability);
        // Past a million degrees of freedom the interval is a hair's breadth; that of a million covers it.
        let shape = self.degrees_of_freedom.max(together).min(1e6);
        let stretch = (shape / self.degrees_of_freedom.min(1e6)).sqrt();
        let at = |share: f64| {
            chi_squared_quantile(share, shape).map(|quantile| self.scale * (shape / quantile).powf(stretch))
        };
        (at(1.0 - tail).unwrap_or(0.0), at(tail).unwrap_or(f64::INFINITY))
    }
}
