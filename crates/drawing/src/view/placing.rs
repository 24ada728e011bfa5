//! What a view has drawn, and what found no room.

use crate::board::Board;
use crate::item::{Item, Note};
use crate::moved::{moved, room_of};
use crate::point::Rectangle;
use crate::shape::Size;

/// How hard a view tries to place everything.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Patience {
    /// It gives up as soon as something finds no room or the picture outgrows this one: another scale is tried then.
    WholeOrNothing(Rectangle),
    /// It places whatever has room.
    AsMuchAsGoes,
}

/// A board that remembers what it could not take.
pub(super) struct Placing {
    pub board: Board,
    left_off: Vec<String>,
    patience: Patience,
}

/// A finished picture, around a point of its own.
#[derive(Debug, Default)]
pub(super) struct Picture {
    pub items: Vec<Item>,
    /// What found no room, in words.
    pub left_off: Vec<String>,
}

impl Placing {
    pub fn new(field: Rectangle, patience: Patience) -> Self {
        Self { board: Board::new(field), left_off: Vec::new(), patience }
    }

    /// Whether the picture cannot be whole any more, and nobody wants a part of it.
    fn has_given_up(&self) -> bool {
        match self.patience {
            Patience::WholeOrNothing(room) => !self.left_off.is_empty() || !self.board.goes_into(&room),
            Patience::AsMuchAsGoes => false,
        }
    }

    /// Places the dimension of a size in the first way that clears everything else.
    pub fn dimension(&mut self, size: &Size, ways: impl IntoIterator<Item = Vec<Item>>) {
        self.note(size.words, ways);
    }

    /// Places a note in the first way that clears everything else.
    pub fn note(&mut self, what: &str, ways: impl IntoIterator<Item = Vec<Item>>) {
        if self.has_given_up() || !self.board.place(ways) {
            self.left_off.push(what.to_owned());
        }
    }

    /// Places a note that asks for something, under a name.
    pub fn named_note(&mut self, name: &'static str, what: &str, ways: impl IntoIterator<Item = Vec<Item>>) {
        self.note(what, ways.into_iter().map(|items| vec![Item::Note(Note { name, items })]));
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
