//! The standard normal distribution.

use std::f64::consts::{PI, SQRT_2};

use statrs::function::erf;

/// Its cumulative probability. Values far in the tail keep their relative precision.
pub(crate) fn cumulative(z: f64) -> f64 {
    // From here on the double nearest to it is one.
    if z > 8.5 { 1.0 } else { 0.5 * libm::erfc(-z / SQRT_2) }
}

/// Its density.
pub(crate) fn density(z: f64) -> f64 {
    (-0.5 * z * z).exp() / (2.0 * PI).sqrt()
}

/// Its quantile, for a probability in (0, 1).
pub(crate) fn quantile(probability: f64) -> f64 {
    -SQRT_2 * erf::erfc_inv(2.0 * probability)
}
