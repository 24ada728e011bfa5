//! What a view has drawn, and what found no room.

use crate::board::Board;
use crate::item::Item;
use crate::moved::{moved, room_of};
use crate::point::Rectangle;
use crate::shape::Size;

/// A board that remembers what it could not take.
pub(super) struct Placing {
    pub board: Board,
    left_off: Vec<String>,
}

/// A finished picture, around a point of its own.
#[derive(Debug, Default)]
pub(super) struct Picture {
    pub items: Vec<Item>,
    /// What found no room, in words.
    pub left_off: Vec<String>,
}

impl Placing {
    pub fn new(field: Rectangle) -> Self {
        Self { board: Board::new(field), left_off: Vec::new() }
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
    /// How far it is from a whole picture within a room: nought where everything is on it.
    pub fn lack(&self, room: Rectangle) -> usize {
        let goes_in = room_of(&self.items)
            .is_some_and(|own| own.width() <= room.width() + 1e-6 && own.height() <= room.height() + 1e-6);
        // A picture that runs over the frame is worse than any that lacks a note.
        self.left_off.len() + if goes_in { 0 } else { 1000 }
    }

    /// The picture in the middle of a room.
    pub fn centred(&mut self, room: Rectangle) -> Vec<Item> {
        let items = std::mem::take(&mut self.items);
        let Some(own) = room_of(&items) else { return items };
        let (from, to) = (own.middle(), room.middle());
        items.into_iter().map(|item| moved(item, to.x - from.x, to.y - from.y)).collect()
    }
}
