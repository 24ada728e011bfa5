//! Linear dimensions: along the shaft and across it, with extension lines, arrows and text.
//!
//! ISO 129-1 puts the text above the unbroken line, read from below or from the right; ASME Y14.5 breaks the line for a level
//! text. Where there is no room between the arrows these go outside, and the text beside one of them.

use axle::Side;

use crate::arrow::arrowhead;
use crate::ink::Ink;
use crate::item::{Dimension, Item, Measure, Stand, Text, line, rectangle, text};
use crate::label::Label;
use crate::lettering;
use crate::point::{Point, Rectangle, at};
use crate::shape::Size;
use crate::style::Style;

/// Where the text of a dimension stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TextPlace {
    /// Between the extension lines.
    Between,
    /// There, too, with the arrows outside to make room.
    Tight,
    /// Left of the first, or below it where the dimension is upright.
    Before,
    /// Right of the second, or above it.
    After,
}

/// A linear dimension, level or upright, before it is laid out.
#[derive(Debug, Clone)]
pub struct Linear<'a> {
    /// The style.
    pub style: &'a Style,
    /// The size.
    pub size: &'a Size,
    /// The side, where a drawing shows both.
    pub side: Option<Side>,
    /// Its text.
    pub label: Label,
    /// Whether it is measured upright.
    pub upright: bool,
    /// The lower or left point.
    pub from: Point,
    /// The upper or right point.
    pub to: Point,
    /// Paper millimetres for one of the part; none across a break.
    pub scale: Option<f64>,
}

/// Between a line and the text on it.
const LIFT: f64 = 1.0;

impl Linear<'_> {
    /// The dimension with its line at this height, or at this x where it is upright.
    #[must_use]
    pub fn at(&self, line_at: f64, place: TextPlace) -> Vec<Item> {
        let style = self.style;
        // The dimension is laid out level, `u` along it and `v` across it, and turned at the end.
        let (u1, v1, u2, v2) = if self.upright {
            (self.from.y, -self.from.x, self.to.y, -self.to.x)
        } else {
            (self.from.x, self.from.y, self.to.x, self.to.y)
        };
        let v = if self.upright { -line_at } else { line_at };
        let turned = |u: f64, w: f64| if self.upright { at(-w, u) } else { at(u, w) };
        let along = if self.upright { 90.0 } else { 0.0 };
        let mut items = Vec::new();
        for (u, start) in [(u1, v1), (u2, v2)] {
            let way = v - start;
            if way.abs() > style.gap + style.arrow_half {
                let sign = way.signum();
                items.push(line(
                    Ink::Dimension,
                    turned(u, start + sign * style.gap),
                    turned(u, v + sign * style.overshoot),
                ));
            }
        }
        let block = Block::of(&self.label, style);
        // A level text on an upright line takes its height along the line.
        let level_on_upright = self.upright && !style.text_above_line();
        let taken = if level_on_upright { block.height } else { block.width };
        let room = u2 - u1;
        let inside = place != TextPlace::Tight && room >= 2.0 * style.arrow + 1.5;
        if inside {
            items.push(arrowhead(style, turned(u1, v), along));
            items.push(arrowhead(style, turned(u2, v), along + 180.0));
        } else {
            items.push(arrowhead(style, turned(u1, v), along + 180.0));
            items.push(arrowhead(style, turned(u2, v), along));
        }
        let tail = 2.0 * style.arrow;
        // From where to where the dimension line runs.
        let (mut begin, mut end) = if inside { (u1, u2) } else { (u1 - tail, u2 + tail) };
        let middle_u = match place {
            TextPlace::Between | TextPlace::Tight => 0.5 * (u1 + u2),
            TextPlace::Before => (if inside { u1 - style.arrow } else { begin }) - LIFT - 0.5 * taken,
            TextPlace::After => (if inside { u2 + style.arrow } else { end }) + LIFT + 0.5 * taken,
        };
        let breaks = !style.text_above_line();
        let middle = if breaks { turned(middle_u, v) } else { turned(middle_u, v + LIFT + 0.5 * block.height) };
        if breaks && matches!(place, TextPlace::Between | TextPlace::Tight) {
            let (left, right) = (middle_u - 0.5 * taken - LIFT, middle_u + 0.5 * taken + LIFT);
            items.push(line(Ink::Dimension, turned(begin, v), turned(left, v)));
            items.push(line(Ink::Dimension, turned(right, v), turned(end, v)));
        } else {
            let reach = if breaks { LIFT } else { -taken };
            match place {
                TextPlace::Before => begin = begin.min(middle_u + 0.5 * taken + reach),
                TextPlace::After => end = end.max(middle_u - 0.5 * taken - reach),
                TextPlace::Between | TextPlace::Tight => {}
            }
            items.push(line(Ink::Dimension, turned(begin, v), turned(end, v)));
        }
        items.extend(block.items(&self.label, middle, self.upright && !breaks, style));
        let measure = if self.upright { Measure::Upright { line: line_at } } else { Measure::Level { line: line_at } };
        vec![Item::Dimension(Dimension {
            name: self.size.name.to_owned(),
            side: self.side,
            measure,
            between: (self.from, self.to),
            size_mm: self.size.value_mm,
            scale: self.scale,
            basis: self.size.basis,
            words: self.label.words(),
            text_middle: middle,
            items,
        })]
    }

    /// The ways to lay it out: for each place of the text in turn, with the line at each of these places.
    pub fn ways<'w>(
        &'w self,
        lines: impl Iterator<Item = f64> + Clone + 'w,
        places: &'w [TextPlace],
    ) -> impl Iterator<Item = Vec<Item>> + 'w {
        places
            .iter()
            .filter(|place| match place {
                TextPlace::Between => self.has_room_between(2.0 * self.style.arrow + 3.0),
                TextPlace::Tight => self.has_room_between(2.5),
                TextPlace::Before | TextPlace::After => true,
            })
            .flat_map(move |place| lines.clone().map(move |line_at| self.at(line_at, *place)))
    }

    /// Whether the text and so much besides go between the extension lines.
    fn has_room_between(&self, besides: f64) -> bool {
        let block = Block::of(&self.label, self.style);
        let level_on_upright = self.upright && !self.style.text_above_line();
        let taken = if level_on_upright { block.height } else { block.width };
        let room = if self.upright { self.to.y - self.from.y } else { self.to.x - self.from.x };
        room >= taken + besides
    }
}

/// Several lines of text as one block.
#[derive(Debug, Clone, Copy)]
pub struct Block {
    /// Width of the widest line.
    pub width: f64,
    /// From the foot of the lowest line to the head of the highest.
    pub height: f64,
}

impl Block {
    /// The block of a label.
    #[must_use]
    pub fn of(label: &Label, style: &Style) -> Self {
        let width = label.lines.iter().map(|line| lettering::width(line, style.lettering)).fold(0.0, f64::max);
        let height = style.lettering + (label.lines.len().saturating_sub(1)) as f64 * style.line_pitch();
        let boxed = if label.boxed { style.lettering } else { 0.0 };
        Self { width: width + boxed, height: height + boxed }
    }

    /// The lines around their middle, level or upwards.
    #[must_use]
    pub fn items(self, label: &Label, middle: Point, upwards: bool, style: &Style) -> Vec<Item> {
        let mut items = Vec::new();
        let inner = self.height - if label.boxed { style.lettering } else { 0.0 };
        for (number, words) in label.lines.iter().enumerate() {
            // From the middle of the block down to the foot of this line.
            let down = style.lettering - 0.5 * inner + number as f64 * style.line_pitch();
            let level = text(Ink::Dimension, at(0.0, -down), style.lettering, Stand::Middle, words.clone());
            let foot =
                if upwards { middle.by(-level.foot.y, level.foot.x) } else { middle.by(level.foot.x, level.foot.y) };
            items.push(Item::Text(Text { foot, upwards, ..level }));
        }
        if label.boxed {
            let (half_width, half_height) = if upwards { (self.height, self.width) } else { (self.width, self.height) };
            let corner = |sign: f64| middle.by(0.5 * sign * half_width, 0.5 * sign * half_height);
            items.push(rectangle(Ink::Dimension, Rectangle::around(corner(-1.0), corner(1.0))));
        }
        items
    }
}
