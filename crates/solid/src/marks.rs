//! Coordinates that a caller has worked out in two ways are the same coordinate.

use crate::SAME_MM;

/// The coordinates of a profile. One that lies within [`SAME_MM`] of an earlier one is taken for it, so that a face is
/// across or along the axis when rounding alone says that it is not.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Marks {
    z: Vec<f64>,
    r: Vec<f64>,
}

impl Marks {
    /// No places yet, but the axis.
    pub fn new() -> Self {
        Self { z: Vec::new(), r: vec![0.0] }
    }

    /// Adds a place along the axis, or finds it.
    pub fn add_z(&mut self, z: f64) -> f64 {
        let mark = self.z(z);
        self.z.push(mark);
        mark
    }

    /// Adds a distance from the axis, or finds it.
    pub fn add_r(&mut self, r: f64) -> f64 {
        let mark = self.r(r);
        self.r.push(mark);
        mark
    }

    /// The place along the axis that this one is, or itself.
    pub fn z(&self, z: f64) -> f64 {
        self.z.iter().copied().find(|mark| (mark - z).abs() < SAME_MM).unwrap_or(z)
    }

    /// The distance from the axis that this one is, or itself.
    pub fn r(&self, r: f64) -> f64 {
        self.r.iter().copied().find(|mark| (mark - r).abs() < SAME_MM).unwrap_or(r)
    }
}
