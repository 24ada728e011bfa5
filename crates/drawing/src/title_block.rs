//! The title block: what the drawing is, whose, how far it may be trusted.

use crate::ink::Ink;
use crate::item::{Item, Stand, circle, line, outline, polyline, rectangle, text};
use crate::lettering;
use crate::point::{Point, Rectangle, at};
use crate::style::{Standard, Style};

/// What a title block says.
#[derive(Debug, Clone)]
pub struct Title<'a> {
    /// What the drawing shows: `axle shaft, left`.
    pub what: String,
    /// The shop's reference of the order.
    pub reference: &'a str,
    /// The revision of the drawing.
    pub revision: &'a str,
    /// The date, in words.
    pub date: &'a str,
    /// The scale: `1:2`.
    pub scale: String,
    /// What the review says of the order.
    pub verdict: &'static str,
    /// Whether somebody has approved the drawing.
    pub approved: bool,
}

/// Height of a title block.
pub const HEIGHT: f64 = 54.0;

/// The title block in a room of [`HEIGHT`].
#[must_use]
pub fn title_block(style: &Style, room: Rectangle, title: &Title<'_>) -> Vec<Item> {
    let mut block = Cells { style, items: vec![rectangle(Ink::Outline, room)] };
    let Rectangle { left, bottom, right, top } = room;
    let third = room.width() / 3.0;
    let cut = |from: f64, to: f64| Rectangle::around(at(left + third * from, 0.0), at(left + third * to, 0.0));
    let band = |across: Rectangle, high: f64, low: f64| Rectangle { top: top - high, bottom: top - low, ..across };
    let status = if title.approved { "approved for manufacture" } else { "not for manufacture" };
    block.cell(band(cut(0.0, 3.0), 0.0, 14.0), "title", &title.what, 4.0);
    block.cell(band(cut(0.0, 1.4), 14.0, 25.0), "reference", title.reference, 3.5);
    block.cell(band(cut(1.4, 2.0), 14.0, 25.0), "revision", title.revision, 3.5);
    block.cell(band(cut(2.0, 3.0), 14.0, 25.0), "date", title.date, 3.0);
    block.cell(band(cut(0.0, 0.6), 25.0, 36.0), "scale", &title.scale, 3.0);
    block.cell(band(cut(0.6, 2.0), 25.0, 36.0), "units", style.units.words(), 3.0);
    block.cell(band(cut(2.0, 3.0), 25.0, 36.0), "projection", "", 3.0);
    let symbol = band(cut(2.0, 3.0), 25.0, 36.0);
    block.items.extend(projection(style, at(symbol.right - 13.0, 0.5 * (symbol.top + symbol.bottom) - 0.4)));
    block.cell(band(cut(0.0, 2.0), 36.0, 47.0), "status", &status.to_uppercase(), 3.5);
    block.cell(band(cut(2.0, 3.0), 36.0, 47.0), "review", title.verdict, 3.0);
    if !title.approved {
        let around = band(cut(0.0, 2.0), 36.0, 47.0).grown(-0.9);
        block.items.push(rectangle(Ink::Outline, around));
    }
    let standard = match style.standard {
        Standard::Iso => "ISO 128, ISO 129, ISO 1101",
        Standard::Asme => "ASME Y14.2, Y14.5",
    };
    let foot = at(left + 2.0, bottom + 2.2);
    let words = format!("{standard}; paper {}; Axlewright", style.paper_name);
    block.items.push(Item::Text(text(Ink::Note, foot, 2.2, Stand::Left, words)));
    block.items.push(line(Ink::Frame, at(left, top - 47.0), at(right, top - 47.0)));
    block.items
}

struct Cells<'a> {
    style: &'a Style,
    items: Vec<Item>,
}

impl Cells<'_> {
    /// A cell with a small heading and its words, made smaller until they fit and cut where even that does not help.
    fn cell(&mut self, room: Rectangle, heading: &str, words: &str, height: f64) {
        self.items.push(rectangle(Ink::Frame, room));
        let head = at(room.left + 2.0, room.top - 2.0 - 1.8);
        self.items.push(Item::Text(text(Ink::Note, head, 1.8, Stand::Left, heading)));
        let wide = room.width() - 4.0;
        let mut height = height.max(self.style.small);
        while height > 2.0 && lettering::width(words, height) > wide {
            height -= 0.25;
        }
        let mut shown = words.to_owned();
        while lettering::width(&shown, height) > wide && shown.pop().is_some() {}
        if !shown.is_empty() {
            let foot = at(room.left + 2.0, room.bottom + 2.0);
            self.items.push(Item::Text(text(Ink::Note, foot, height, Stand::Left, shown)));
        }
    }
}

/// The symbol of the projection: a blunt cone and its view from the small end, which lies on the left of the cone in third
/// angle and on its right in first angle (ISO 5456-2).
fn projection(style: &Style, middle: Point) -> Vec<Item> {
    let first_angle = style.standard == Standard::Iso;
    let (cone, eye) = if first_angle { (-6.5, 5.0) } else { (2.0, -5.0) };
    let (small, large, long) = (1.6, 3.2, 6.0);
    let start = middle.by(cone, 0.0);
    let eye = middle.by(eye, 0.0);
    vec![
        outline(
            Ink::Outline,
            vec![start.by(0.0, small), start.by(long, large), start.by(long, -large), start.by(0.0, -small)],
        ),
        circle(Ink::Outline, eye, small),
        circle(Ink::Outline, eye, large),
        polyline(Ink::Centre, vec![middle.by(-9.5, 0.0), middle.by(9.5, 0.0)]),
        line(Ink::Centre, eye.by(0.0, -large - 1.0), eye.by(0.0, large + 1.0)),
    ]
}
