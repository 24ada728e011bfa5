//! Points and rectangles on the paper, in millimetres; y runs up.

/// A point on the paper, in millimetres from its lower left corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
}

/// The point at these coordinates.
#[must_use]
pub const fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

impl Point {
    /// The point moved by so much.
    #[must_use]
    pub fn by(self, x: f64, y: f64) -> Self {
        at(self.x + x, self.y + y)
    }

    /// The point so far away in a direction, in degrees from the x axis against the clock.
    #[must_use]
    pub fn towards(self, degrees: f64, distance: f64) -> Self {
        let (sine, cosine) = degrees.to_radians().sin_cos();
        self.by(cosine * distance, sine * distance)
    }

    /// Distance to another point.
    #[must_use]
    pub fn distance(self, other: Self) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }
}

/// A rectangle with sides along the axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rectangle {
    /// Left side.
    pub left: f64,
    /// Lower side.
    pub bottom: f64,
    /// Right side.
    pub right: f64,
    /// Upper side.
    pub top: f64,
}

impl Rectangle {
    /// The smallest rectangle around two corners.
    #[must_use]
    pub fn around(one: Point, other: Point) -> Self {
        Self {
            left: one.x.min(other.x),
            bottom: one.y.min(other.y),
            right: one.x.max(other.x),
            top: one.y.max(other.y),
        }
    }

    /// The smallest rectangle around both.
    #[must_use]
    pub fn with(&self, other: &Self) -> Self {
        Self {
            left: self.left.min(other.left),
            bottom: self.bottom.min(other.bottom),
            right: self.right.max(other.right),
            top: self.top.max(other.top),
        }
    }

    /// The rectangle with every side moved out by so much; inwards where it is negative.
    #[must_use]
    pub fn grown(self, by: f64) -> Self {
        Self { left: self.left - by, bottom: self.bottom - by, right: self.right + by, top: self.top + by }
    }

    /// Whether the insides of the two have a point in common.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right && other.left < self.right && self.bottom < other.top && other.bottom < self.top
    }

    /// Whether the other lies within this one.
    #[must_use]
    pub fn holds(&self, other: &Self) -> bool {
        self.left <= other.left && other.right <= self.right && self.bottom <= other.bottom && other.top <= self.top
    }

    /// Whether a straight line passes through the inside.
    #[must_use]
    pub fn is_crossed(&self, from: Point, to: Point) -> bool {
        // Most lines lie wholly to one side.
        if from.x.max(to.x) <= self.left
            || from.x.min(to.x) >= self.right
            || from.y.max(to.y) <= self.bottom
            || from.y.min(to.y) >= self.top
        {
            return false;
        }
        // Liang and Barsky: the part of the line that lies within each pair of sides.
        let (mut first, mut last) = (0.0_f64, 1.0_f64);
        let sides = [(from.x, to.x - from.x, self.left, self.right), (from.y, to.y - from.y, self.bottom, self.top)];
        for (start, run, least, most) in sides {
            if run == 0.0 {
                if start <= least || start >= most {
                    return false;
                }
                continue;
            }
            let (one, other) = ((least - start) / run, (most - start) / run);
            first = first.max(one.min(other));
            last = last.min(one.max(other));
        }
        first < last
    }

    /// Width.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Height.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.top - self.bottom
    }

    /// The point in the middle.
    #[must_use]
    pub fn middle(&self) -> Point {
        at(0.5 * (self.left + self.right), 0.5 * (self.bottom + self.top))
    }
}

#[cfg(test)]
mod tests {
    use super::{Rectangle, at};

    #[test]
    fn a_line_crosses_where_it_passes_through_the_inside() {
        let rectangle = Rectangle::around(at(0.0, 0.0), at(10.0, 4.0));
        assert!(rectangle.is_crossed(at(-1.0, 2.0), at(11.0, 2.0)));
        assert!(rectangle.is_crossed(at(5.0, 2.0), at(6.0, 3.0)));
        assert!(rectangle.is_crossed(at(-1.0, 3.0), at(2.0, 5.0)));
        assert!(!rectangle.is_crossed(at(-1.0, 4.0), at(11.0, 4.0)));
        assert!(!rectangle.is_crossed(at(-3.0, 3.0), at(1.0, 7.5)));
        assert!(!rectangle.is_crossed(at(11.0, 0.0), at(12.0, 4.0)));
    }
}
