//! Arrowheads, and the lines that carry them.

use crate::ink::Ink;
use crate::item::Item;
use crate::point::Point;
use crate::style::Style;

/// A filled arrowhead with its tip at a point; `degrees` is the direction from the tip back along the line.
#[must_use]
pub fn arrowhead(style: &Style, tip: Point, degrees: f64) -> Item {
    let back = tip.towards(degrees, style.arrow);
    let points =
        vec![tip, back.towards(degrees + 90.0, style.arrow_half), back.towards(degrees - 90.0, style.arrow_half)];
    Item::Fill { ink: Ink::Dimension, points }
}

/// The dot that ends a leader on a surface.
#[must_use]
pub fn dot(style: &Style, centre: Point) -> Item {
    let radius = 0.12 * style.lettering;
    let points = (0..8).map(|part| centre.towards(45.0 * f64::from(part), radius)).collect();
    Item::Fill { ink: Ink::Dimension, points }
}
