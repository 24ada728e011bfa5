//! What lies on the paper already, for a balloon that seeks its place.

use crate::cells::Cells;
use crate::item::Item;
use crate::point::{Point, Rectangle};

/// Side of a cell, in millimetres: about that of a balloon with its leader.
const CELL: f64 = 8.0;

/// Texts and strokes within a field.
pub(super) struct Taken {
    field: Rectangle,
    texts: Cells<Rectangle>,
    strokes: Cells<(Point, Point)>,
}

impl Taken {
    /// What these items take up of a field.
    pub(super) fn by(items: &[Item], field: Rectangle) -> Self {
        let mut taken = Self { field, texts: Cells::over(field, CELL), strokes: Cells::over(field, CELL) };
        for item in items {
            item.each_text(&mut |text| taken.add_text(text.room()));
            item.each_stroke(&mut |from, to| taken.add_stroke(from, to));
        }
        taken
    }

    /// A text, or what is to be as free of others as one.
    pub(super) fn add_text(&mut self, room: Rectangle) {
        self.texts.add(&room, room);
    }

    /// A straight line.
    pub(super) fn add_stroke(&mut self, from: Point, to: Point) {
        self.strokes.add(&Rectangle::around(from, to), (from, to));
    }

    /// Whether a room lies within the field and holds nothing.
    pub(super) fn is_free(&self, room: &Rectangle) -> bool {
        self.field.holds(room)
            && !self.texts.any_near(room, |text| text.overlaps(room))
            && !self.strokes.any_near(room, |(from, to)| room.is_crossed(*from, *to))
    }

    /// Whether a room reaches into a text that does not lie within another room.
    pub(super) fn holds_text_beside(&self, room: &Rectangle, own: &Rectangle) -> bool {
        self.texts.any_near(room, |text| text.overlaps(room) && !own.holds(text))
    }

    /// Whether a line runs through no text.
    pub(super) fn is_free_of_texts(&self, (from, to): (Point, Point)) -> bool {
        !self.texts.any_near(&Rectangle::around(from, to), |text| text.is_crossed(from, to))
    }
}
