//! Where a place along a shaft lies on the paper, with a piece of the body left out.

use crate::point::{Point, at};

/// A shaft's axis on the paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Axis {
    /// The wheel face on the axis.
    pub origin: Point,
    /// Paper millimetres for one of the part.
    pub scale: f64,
    /// 1 where inboard is to the right, −1 where it is to the left.
    pub direction: f64,
    /// The piece that is left out, from one distance to another.
    pub left_out: Option<(f64, f64)>,
}

/// What is left open between the two ends of a break, on the paper.
pub const BREAK_GAP: f64 = 7.0;

impl Axis {
    /// Leaves out what is long and plain between two distances, so that so much of it stays on the paper at either end.
    #[must_use]
    pub fn leaving_out(mut self, from: f64, to: f64, stays: (f64, f64)) -> Self {
        let (from, to) = (from + stays.0 / self.scale, to - stays.1 / self.scale);
        if (to - from) * self.scale > 2.0 * BREAK_GAP {
            self.left_out = Some((from, to));
        }
        self
    }

    /// The x of a distance from the wheel face.
    #[must_use]
    pub fn x(&self, distance: f64) -> f64 {
        let along = match self.left_out {
            Some((from, to)) if distance >= to => from * self.scale + BREAK_GAP + (distance - to) * self.scale,
            Some((from, _)) if distance > from => from * self.scale,
            _ => distance * self.scale,
        };
        self.origin.x + self.direction * along
    }

    /// The point at a distance from the wheel face and so far from the axis, upwards positive.
    #[must_use]
    pub fn point(&self, distance: f64, radius: f64) -> Point {
        at(self.x(distance), self.origin.y + radius * self.scale)
    }
}
