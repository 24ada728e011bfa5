//! What a view has drawn, and what found no room.

use crate::board::Board;
use crate::item::Item;
use crate::moved::{moved, room_of};
use crate::point::{Rectangle, at};
use crate::shape::Size;

/// A board that remembers what it could not take.
pub(super) struct Placing {
    pub board: Board,
    left_off: Vec<String>,
}

/// A finished picture, around a point of its own.
#[derive(Debug, Default)]
pub(super) struct Picture {
    items: Vec<Item>,
    /// What found no room, in words.
    pub left_off: Vec<String>,
}

impl Placing {
    pub fn new() -> Self {
        // The picture grows where it needs to; whether it fits on the paper is seen at the end.
        let everywhere = Rectangle::around(at(-1e4, -1e4), at(1e4, 1e4));
        Self { board: Board::new(everywhere), left_off: Vec::new() }
    }

    /// Places the dimension of a size in the first way that clears everything else.
    pub fn dimension(&mut self, size: &Size, ways: impl IntoIterator<Item = Vec<Item>>) {
        self.note(size.words, ways);
    }

    /// Places a note in the first way that clears everything else.
    pub fn note(&mut self, what: &str, ways: impl IntoIterator<Item = Vec<Item>>) {
        if !self.board.place(ways) {
            self.left_off.push(what.to_owned());
        }
    }

    pub fn finish(self) -> Picture {
        Picture { items: self.board.into_items(), left_off: self.left_off }
    }
}

impl Picture {
    /// Whether it goes into a room, with everything that belongs on it.
    pub fn fits(&self, room: Rectangle) -> bool {
        let own = room_of(&self.items);
        self.left_off.is_empty() && own.is_some_and(|own| own.width() <= room.width() && own.height() <= room.height())
    }

    /// The picture in the middle of a room.
    pub fn centred(&mut self, room: Rectangle) -> Vec<Item> {
        let items = std::mem::take(&mut self.items);
        let Some(own) = room_of(&items) else { return items };
        let (from, to) = (own.middle(), room.middle());
        items.into_iter().map(|item| moved(item, to.x - from.x, to.y - from.y)).collect()
    }
}
