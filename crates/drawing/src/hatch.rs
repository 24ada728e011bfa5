//! Section lining: parallel lines clipped to a shape.

use crate::item::Item;
use crate::point::{Point, at};

/// Lines at an angle and a distance from each other within shapes; a shape within a shape is a hole.
#[must_use]
pub fn hatch(shapes: &[Vec<Point>], degrees: f64, apart: f64) -> Item {
    let (sine, cosine) = degrees.to_radians().sin_cos();
    // Turned so that the lines are level.
    let level = |point: &Point| at(point.x * cosine + point.y * sine, point.y * cosine - point.x * sine);
    let back = |x: f64, y: f64| at(x * cosine - y * sine, x * sine + y * cosine);
    let turned: Vec<Vec<Point>> = shapes.iter().map(|shape| shape.iter().map(level).collect()).collect();
    let heights = || turned.iter().flatten().map(|point| point.y);
    let (least, most) = (heights().fold(f64::INFINITY, f64::min), heights().fold(f64::NEG_INFINITY, f64::max));
    let mut lines = Vec::new();
    if !(least.is_finite() && most.is_finite() && apart > 0.0) {
        return Item::Hatch { lines };
    }
    // Lines lie on one lattice all over the paper, so that the pieces of one part agree.
    let mut number = (least / apart).ceil();
    let mut crossings: Vec<f64> = Vec::new();
    while number * apart < most {
        // A hair beside the lattice, so that no line runs along a side.
        let height = number * apart + 1e-6;
        number += 1.0;
        crossings.clear();
        for shape in &turned {
            for (index, from) in shape.iter().enumerate() {
                let to = shape[(index + 1) % shape.len()];
                if (from.y > height) != (to.y > height) {
                    crossings.push(from.x + (height - from.y) / (to.y - from.y) * (to.x - from.x));
                }
            }
        }
        crossings.sort_by(f64::total_cmp);
        for pair in crossings.chunks_exact(2) {
            if pair[1] - pair[0] > 0.05 {
                lines.push((back(pair[0], height), back(pair[1], height)));
            }
        }
    }
    Item::Hatch { lines }
}

#[cfg(test)]
mod tests {
    use super::hatch;
    use crate::item::Item;
    use crate::point::at;

    #[test]
    fn lines_fill_the_shape_and_spare_the_hole() {
        let square = |half: f64| vec![at(-half, -half), at(half, -half), at(half, half), at(-half, half)];
        let Item::Hatch { lines } = hatch(&[square(10.0), square(5.0)], 45.0, 0.5) else {
            unreachable!("a hatch is a hatch");
        };
        let length: f64 = lines.iter().map(|(from, to)| from.distance(*to)).sum();
        // Length of lines times their distance is the area.
        assert!((length * 0.5 - 300.0).abs() < 3.0, "{length}");
    }
}
