//! Notes on a leader, diameters on a stem, feature control frames and datums.

use axle::Side;

use crate::arrow::{arrowhead, dot};
use crate::dimension::Block;
use crate::ink::Ink;
use crate::item::{Dimension, Item, Measure, Stand, line, polyline, rectangle, text};
use crate::label::Label;
use crate::lettering;
use crate::point::{Point, Rectangle, at};
use crate::shape::Size;
use crate::style::Style;

/// Between a shelf and the text on it.
const LIFT: f64 = 1.0;

/// What a leader ends with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LeaderEnd {
    /// An arrow, on an outline.
    Arrow,
    /// A dot, on a surface.
    Dot,
}

/// A text with a line from it to a point. `knee` is where the shelf begins; it runs away from the tip.
#[must_use]
pub fn leader(style: &Style, tip: Point, knee: Point, end: LeaderEnd, label: &Label) -> Vec<Item> {
    let block = Block::of(label, style);
    let sign = if knee.x >= tip.x { 1.0 } else { -1.0 };
    let degrees = (knee.y - tip.y).atan2(knee.x - tip.x).to_degrees();
    let head = match end {
        LeaderEnd::Arrow => arrowhead(style, tip, degrees),
        LeaderEnd::Dot => dot(style, tip),
    };
    let mut items = vec![head];
    items.extend(shelf(style, vec![tip], knee, sign, block, label).0);
    items
}

/// The line up to a knee, its shelf and the text there; returns the middle of the text, too.
pub fn shelf(
    style: &Style,
    mut way: Vec<Point>,
    knee: Point,
    sign: f64,
    block: Block,
    label: &Label,
) -> (Vec<Item>, Point) {
    way.push(knee);
    let middle = if style.text_above_line() {
        way.push(knee.by(sign * (block.width + LIFT), 0.0));
        knee.by(sign * 0.5 * (block.width + LIFT), LIFT + 0.5 * block.height)
    } else {
        way.push(knee.by(sign * 3.0, 0.0));
        knee.by(sign * (3.0 + LIFT + 0.5 * block.width), 0.0)
    };
    let mut items = vec![polyline(Ink::Dimension, way)];
    items.extend(block.items(label, middle, false, style));
    (items, middle)
}

/// A diameter whose line crosses the part upright and runs on to a shelf with the text.
#[derive(Debug, Clone)]
pub struct Stem<'a> {
    /// The style.
    pub style: &'a Style,
    /// The size.
    pub size: &'a Size,
    /// The side, where a drawing shows both.
    pub side: Option<Side>,
    /// Its text.
    pub label: Label,
    /// The lower end of the diameter.
    pub bottom: Point,
    /// The upper end.
    pub top: Point,
    /// Paper millimetres for one of the part; none where the line does not stand where the size is meant.
    pub scale: Option<f64>,
}

impl Stem<'_> {
    /// The dimension with its shelf at this height, above or below the part, to the right or to the left.
    #[must_use]
    pub fn at(&self, shelf_at: f64, to_the_right: bool) -> Vec<Item> {
        let style = self.style;
        let block = Block::of(&self.label, style);
        let mut items = Vec::new();
        let room = self.top.y - self.bottom.y;
        let inside = room >= 2.0 * style.arrow + 1.5;
        let (low, high) = if inside { (90.0, 270.0) } else { (270.0, 90.0) };
        items.push(arrowhead(style, self.bottom, low));
        items.push(arrowhead(style, self.top, high));
        let tail = if inside { 0.0 } else { 2.0 * style.arrow };
        let up = shelf_at > self.top.y;
        let far = if up { self.bottom.by(0.0, -tail) } else { self.top.by(0.0, tail) };
        let knee = at(self.top.x, shelf_at);
        let sign = if to_the_right { 1.0 } else { -1.0 };
        let (rest, text_middle) = shelf(style, vec![far], knee, sign, block, &self.label);
        items.extend(rest);
        vec![Item::Dimension(Dimension {
            name: self.size.name.to_owned(),
            side: self.side,
            measure: Measure::Upright { line: self.top.x },
            between: (self.bottom, self.top),
            size_mm: self.size.value_mm,
            scale: self.scale,
            basis: self.size.basis,
            words: self.label.words(),
            text_middle,
            items,
        })]
    }
}

/// A feature control frame with its lower left corner at a point; returns its width, too.
#[must_use]
pub fn control_frame(style: &Style, corner: Point, cells: &[&str]) -> (Vec<Item>, f64) {
    let height = 2.0 * style.lettering;
    let mut items = Vec::new();
    let mut left = corner.x;
    for words in cells {
        let width = (lettering::width(words, style.lettering) + style.lettering).max(height);
        let room = Rectangle::around(at(left, corner.y), at(left + width, corner.y + height));
        items.push(rectangle(Ink::Dimension, room));
        let foot = at(left + 0.5 * width, corner.y + 0.5 * (height - style.lettering));
        items.push(Item::Text(text(Ink::Dimension, foot, style.lettering, Stand::Middle, *words)));
        left += width;
    }
    (items, left - corner.x)
}

/// A datum: a letter in a box on a line to a filled triangle that stands on a line of the part or of a dimension.
/// `degrees` is the direction from the foot of the triangle to the box.
#[must_use]
pub fn datum(style: &Style, foot: Point, degrees: f64, distance: f64, letter: &str) -> Vec<Item> {
    let side = style.lettering;
    let height = 2.0 * style.lettering;
    let tip = foot.towards(degrees, 0.87 * side);
    let middle = foot.towards(degrees, distance);
    let edge = foot.towards(degrees, distance - 0.5 * height);
    let points = vec![foot.towards(degrees + 90.0, 0.5 * side), foot.towards(degrees - 90.0, 0.5 * side), tip];
    let room = Rectangle::around(middle, middle).grown(0.5 * height);
    vec![
        Item::Fill { ink: Ink::Dimension, points },
        line(Ink::Dimension, tip, edge),
        rectangle(Ink::Dimension, room),
        Item::Text(text(
            Ink::Dimension,
            middle.by(0.0, -0.5 * style.lettering),
            style.lettering,
            Stand::Middle,
            letter,
        )),
    ]
}
