//! What lies on the paper already, sorted into square cells, so that a place is held only against what is near it.

use crate::item::Item;
use crate::point::{Point, Rectangle};

/// Side of a cell, in millimetres: about that of a balloon with its leader.
const CELL: f64 = 8.0;

/// Texts and strokes within a field.
pub(super) struct Taken {
    field: Rectangle,
    columns: usize,
    rows: usize,
    texts: Vec<Vec<Rectangle>>,
    strokes: Vec<Vec<(Point, Point)>>,
}

impl Taken {
    /// What these items take up of a field.
    pub(super) fn by(items: &[Item], field: Rectangle) -> Self {
        let count = |length: f64| (length / CELL).ceil().max(1.0) as usize;
        let (columns, rows) = (count(field.width()), count(field.height()));
        let cells = columns * rows;
        let mut taken = Self { field, columns, rows, texts: vec![Vec::new(); cells], strokes: vec![Vec::new(); cells] };
        for item in items {
            item.each_text(&mut |text| taken.add_text(text.room()));
            item.each_stroke(&mut |from, to| taken.add_stroke(from, to));
        }
        taken
    }

    /// A text, or what is to be as free of others as one.
    pub(super) fn add_text(&mut self, room: Rectangle) {
        for cell in self.cells(&room) {
            self.texts[cell].push(room);
        }
    }

    /// A straight line.
    pub(super) fn add_stroke(&mut self, from: Point, to: Point) {
        for cell in self.cells(&Rectangle::around(from, to)) {
            self.strokes[cell].push((from, to));
        }
    }

    /// Whether a room lies within the field and holds nothing.
    pub(super) fn is_free(&self, room: &Rectangle) -> bool {
        self.field.holds(room)
            && self.cells(room).all(|cell| {
                !self.texts[cell].iter().any(|text| text.overlaps(room))
                    && !self.strokes[cell].iter().any(|(from, to)| room.is_crossed(*from, *to))
            })
    }

    /// Whether a room reaches into a text that does not lie within another room.
    pub(super) fn holds_text_beside(&self, room: &Rectangle, own: &Rectangle) -> bool {
        self.cells(room).any(|cell| self.texts[cell].iter().any(|text| text.overlaps(room) && !own.holds(text)))
    }

    /// Whether a line runs through no text.
    pub(super) fn is_free_of_texts(&self, (from, to): (Point, Point)) -> bool {
        self.cells(&Rectangle::around(from, to))
            .all(|cell| !self.texts[cell].iter().any(|text| text.is_crossed(from, to)))
    }

    /// The cells that a room touches; what lies beyond the field is counted to its outermost cells.
    fn cells(&self, room: &Rectangle) -> impl Iterator<Item = usize> + use<> {
        let index = |from: f64, edge: f64, count: usize| (((from - edge) / CELL).max(0.0) as usize).min(count - 1);
        let (left, right) =
            (index(room.left, self.field.left, self.columns), index(room.right, self.field.left, self.columns));
        let (bottom, top) =
            (index(room.bottom, self.field.bottom, self.rows), index(room.top, self.field.bottom, self.rows));
        let columns = self.columns;
        (bottom..=top).flat_map(move |row| (left..=right).map(move |column| row * columns + column))
    }
}
