//! Things on the paper, sorted into square cells, so that each is held only against what is near it.

use crate::point::Rectangle;

/// Things by the cells that they touch. What lies beyond the field is counted to its outermost cells.
#[derive(Debug, Clone)]
pub(crate) struct Cells<T> {
    field: Rectangle,
    /// Side of a cell, in millimetres.
    side: f64,
    columns: usize,
    rows: usize,
    things: Vec<Vec<T>>,
}

impl<T: Copy> Cells<T> {
    /// Empty cells of that side over a field.
    pub(crate) fn over(field: Rectangle, side: f64) -> Self {
        let count = |length: f64| (length / side).ceil().max(1.0) as usize;
        let (columns, rows) = (count(field.width()), count(field.height()));
        Self { field, side, columns, rows, things: vec![Vec::new(); columns * rows] }
    }

    /// Adds what takes up that room.
    pub(crate) fn add(&mut self, room: &Rectangle, thing: T) {
        for cell in self.touched(room) {
            self.things[cell].push(thing);
        }
    }

    /// Whether anything in the cells that a room touches is so. A thing may be asked about more than once.
    pub(crate) fn any_near(&self, room: &Rectangle, mut is_so: impl FnMut(&T) -> bool) -> bool {
        self.touched(room).any(|cell| self.things[cell].iter().any(&mut is_so))
    }

    fn touched(&self, room: &Rectangle) -> impl Iterator<Item = usize> + use<T> {
        let index = |from: f64, edge: f64, count: usize| (((from - edge) / self.side).max(0.0) as usize).min(count - 1);
        let (left, right) =
            (index(room.left, self.field.left, self.columns), index(room.right, self.field.left, self.columns));
        let (bottom, top) =
            (index(room.bottom, self.field.bottom, self.rows), index(room.top, self.field.bottom, self.rows));
        let columns = self.columns;
        (bottom..=top).flat_map(move |row| (left..=right).map(move |column| row * columns + column))
    }
}

#[cfg(test)]
mod tests {
    use super::Cells;
    use crate::point::{Rectangle, at};

    #[test]
    fn a_room_finds_whatever_overlaps_it_beyond_the_field_too() {
        let mut cells = Cells::over(Rectangle::around(at(0.0, 0.0), at(100.0, 50.0)), 8.0);
        let room = |x: f64, y: f64| Rectangle::around(at(x, y), at(x + 9.0, y + 3.0));
        let places: Vec<(f64, f64)> = (-3..16)
            .flat_map(|column| (-3..9).map(move |row| (f64::from(column) * 7.3, f64::from(row) * 7.1)))
            .collect();
        for (x, y) in &places {
            cells.add(&room(*x, *y), room(*x, *y));
        }
        for (x, y) in places {
            let asked = room(x + 1.0, y + 1.0);
            assert!(cells.any_near(&asked, |thing| *thing == room(x, y)), "{x}, {y}");
        }
        assert!(!cells.any_near(&room(500.0, 500.0), |thing| thing.overlaps(&room(500.0, 500.0))));
    }
}
