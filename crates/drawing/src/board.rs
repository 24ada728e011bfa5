//! The paper while it is drawn on: it knows what lies where, so that nothing is written over anything.

use crate::item::Item;
use crate::point::{Point, Rectangle};

/// Room that is kept around every text, in millimetres.
const CLEAR: f64 = 0.35;

/// Items with what they take up.
#[derive(Debug, Clone)]
pub struct Board {
    field: Rectangle,
    items: Vec<Item>,
    texts: Vec<Rectangle>,
    strokes: Vec<(Point, Point)>,
}

impl Board {
    /// An empty board; what is placed must stay within the field.
    #[must_use]
    pub fn new(field: Rectangle) -> Self {
        Self { field, items: Vec::new(), texts: Vec::new(), strokes: Vec::new() }
    }

    /// Draws whatever it is, wherever it is.
    pub fn draw(&mut self, item: Item) {
        item.each_stroke(&mut |from, to| self.strokes.push((from, to)));
        item.each_text(&mut |text| self.texts.push(text.room()));
        self.items.push(item);
    }

    /// Draws several.
    pub fn draw_all(&mut self, items: impl IntoIterator<Item = Item>) {
        items.into_iter().for_each(|item| self.draw(item));
    }

    /// Whether these can be drawn without a text over a text, a line through a text, or anything outside of the field.
    #[must_use]
    pub fn takes(&self, items: &[Item]) -> bool {
        let mut texts = Vec::new();
        let mut strokes = Vec::new();
        for item in items {
            item.each_text(&mut |text| texts.push(text.room().grown(CLEAR)));
            item.each_stroke(&mut |from, to| strokes.push((from, to)));
        }
        texts.iter().all(|room| {
            self.field.holds(room)
                && !self.texts.iter().any(|other| room.overlaps(other))
                && !self.strokes.iter().any(|(from, to)| room.is_crossed(*from, *to))
        }) && strokes.iter().all(|(from, to)| {
            let around = Rectangle::around(*from, *to);
            self.field.holds(&around) && !self.texts.iter().any(|room| room.grown(CLEAR).is_crossed(*from, *to))
        })
    }

    /// Draws the first of several ways to draw one thing that the board takes; says whether there was one.
    pub fn place(&mut self, ways: impl IntoIterator<Item = Vec<Item>>) -> bool {
        for way in ways {
            if self.takes(&way) {
                self.draw_all(way);
                return true;
            }
        }
        false
    }

    /// The items.
    #[must_use]
    pub fn into_items(self) -> Vec<Item> {
        self.items
    }
}
