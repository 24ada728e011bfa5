//! The column beside the picture: tables and notes from the top down.

use crate::ink::Ink;
use crate::item::{Item, Stand, line, text};
use crate::lettering;
use crate::point::{Rectangle, at};
use crate::style::Style;

/// From the side of the column to its text.
const INDENT: f64 = 3.0;

/// A column that fills from the top.
#[derive(Debug)]
pub struct Column<'a> {
    style: &'a Style,
    room: Rectangle,
    /// The foot of the last line.
    cursor: f64,
    items: Vec<Item>,
    /// A heading that waits for something to stand under it.
    heading: Option<String>,
    /// Whether something found no room.
    full: bool,
}

impl<'a> Column<'a> {
    /// An empty column. Its lowest line is kept for saying that something found no room.
    #[must_use]
    pub fn new(style: &'a Style, room: Rectangle) -> Self {
        Self { style, room, cursor: room.top - 1.5, items: Vec::new(), heading: None, full: false }
    }

    /// Text at the foot of the column, which nothing above it can push off.
    pub fn foot(&mut self, words: &str) {
        let lines = broken(words, self.width(), self.style.small);
        let top = self.room.bottom + lines.len() as f64 * self.pitch() + 3.0;
        let rule = line(Ink::Frame, at(self.room.left, top), at(self.room.right, top));
        self.items.push(rule);
        for (number, words) in lines.into_iter().enumerate() {
            let foot = at(self.room.left + INDENT, top - 0.8 - (number + 1) as f64 * self.pitch());
            self.items.push(Item::Text(text(Ink::Note, foot, self.style.small, Stand::Left, words)));
        }
        self.room.bottom = top;
    }

    fn pitch(&self) -> f64 {
        1.62 * self.style.small
    }

    /// Whether so many lines find room, with the heading that waits for them, which is then written.
    fn takes(&mut self, lines: usize, before: f64) -> bool {
        let heading = self.heading.take();
        let needed = before + lines as f64 * self.pitch();
        let above = heading.as_ref().map_or(0.0, |_| self.height_of_heading());
        // A heading is not begun with room for less than two lines below it.
        let least = heading.as_ref().map_or(0.0, |_| 3.0 + 3.0 * self.pitch());
        // What comes after something that found no room would stand under a heading that is not its own.
        let fits = !self.full && self.cursor - least.max(above + needed) > self.room.bottom + self.pitch() + 1.5;
        self.full |= !fits;
        if fits && let Some(words) = heading {
            self.write_heading(&words);
        }
        fits
    }

    /// From the foot of what stands above a heading to the foot of that heading, with the gap below it.
    fn height_of_heading(&self) -> f64 {
        let gap = if self.is_begun() { 2.6 } else { 0.0 };
        gap + self.pitch() + 0.6 + 0.8
    }

    fn is_begun(&self) -> bool {
        self.cursor < self.room.top - 2.0
    }

    fn width(&self) -> f64 {
        self.room.width() - 2.0 * INDENT
    }

    /// A heading with a line above it. It is written with the first thing below it, and not at all where that finds no room.
    pub fn heading(&mut self, words: &str) {
        self.heading = Some(words.to_owned());
    }

    fn write_heading(&mut self, words: &str) {
        if self.is_begun() {
            self.cursor -= 2.6;
            let rule = line(Ink::Frame, at(self.room.left, self.cursor), at(self.room.right, self.cursor));
            self.items.push(rule);
        }
        self.cursor -= self.pitch() + 0.6;
        let foot = at(self.room.left + INDENT, self.cursor);
        self.items.push(Item::Text(text(Ink::Note, foot, self.style.small, Stand::Left, words.to_uppercase())));
        self.cursor -= 0.8;
    }

    /// A row of a table: what it is, and how much.
    pub fn row(&mut self, what: &str, value: &str) {
        let half = lettering::width(what, self.style.small) + lettering::width(value, self.style.small) + 3.0;
        if half > self.width() {
            self.paragraph(&format!("{what}: {value}"));
            return;
        }
        if !self.takes(1, 0.0) {
            return;
        }
        self.cursor -= self.pitch();
        let small = self.style.small;
        let left = at(self.room.left + INDENT, self.cursor);
        let right = at(self.room.right - INDENT, self.cursor);
        self.items.push(Item::Text(text(Ink::Note, left, small, Stand::Left, what)));
        self.items.push(Item::Text(text(Ink::Note, right, small, Stand::Right, value)));
    }

    /// Text that is broken into lines.
    pub fn paragraph(&mut self, words: &str) {
        let lines = broken(words, self.width(), self.style.small);
        if !self.takes(lines.len(), 0.8) {
            return;
        }
        for words in lines {
            self.cursor -= self.pitch();
            let foot = at(self.room.left + INDENT, self.cursor);
            self.items.push(Item::Text(text(Ink::Note, foot, self.style.small, Stand::Left, words)));
        }
        self.cursor -= 0.8;
    }

    /// The items, with a word where something found no room.
    #[must_use]
    pub fn into_items(mut self) -> Vec<Item> {
        if self.full {
            let foot = at(self.room.left + INDENT, self.room.bottom + 2.0);
            let words = "More stands in the review of the order.";
            self.items.push(Item::Text(text(Ink::Note, foot, self.style.small, Stand::Left, words)));
        }
        self.items
    }
}

/// Words broken into lines of at most a width. A word that is wider is cut.
#[must_use]
pub fn broken(words: &str, width: f64, height: f64) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in words.split_whitespace() {
        let mut word = word.to_owned();
        while let Some(last) = lines.last_mut() {
            let joined = if last.is_empty() { word.clone() } else { format!("{last} {word}") };
            if lettering::width(&joined, height) <= width {
                *last = joined;
                break;
            }
            if !last.is_empty() {
                lines.push(String::new());
                continue;
            }
            // Alone and still too wide.
            let mut head = String::new();
            for character in word.chars() {
                head.push(character);
                if lettering::width(&head, height) > width && head.chars().count() > 1 {
                    head.pop();
                    break;
                }
            }
            word = word[head.len()..].to_owned();
            *last = head;
            if word.is_empty() {
                break;
            }
            lines.push(String::new());
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::{Column, broken};
    use crate::item::Item;
    use crate::lettering::width;
    use crate::point::Rectangle;
    use crate::style::{Standard, Style, Units};

    #[test]
    fn a_heading_stands_only_above_something() {
        let style = Style::of(Standard::Iso, Units::Millimetre);
        let written = |height: f64| {
            let mut column = Column::new(&style, Rectangle { left: 0.0, right: 60.0, bottom: 0.0, top: height });
            column.heading("notes");
            column.paragraph(&"a note that goes on and on ".repeat(12));
            let is_heading = |item: &Item| matches!(item, Item::Text(text) if text.words == "NOTES");
            let items = column.into_items();
            (items.iter().any(is_heading), items.len())
        };
        let (is_there, items) = written(200.0);
        assert!(is_there && items > 4, "{items}");
        // Room for a heading and two lines, but not for the paragraph: only that more stands elsewhere.
        assert_eq!(written(30.0), (false, 1));
    }

    #[test]
    fn no_line_is_too_wide_and_no_letter_is_lost() {
        let words = "a spline of thirty-one teeth, incomprehensibilities and all";
        for room in [6.0, 12.0, 30.0, 200.0] {
            let lines = broken(words, room, 2.5);
            assert!(lines.iter().all(|line| width(line, 2.5) <= room), "{lines:?}");
            let plain = |text: String| text.replace(' ', "");
            assert_eq!(plain(lines.concat()), plain(words.to_owned()));
        }
        assert_eq!(broken("wheel face", 200.0, 2.5), ["wheel face"]);
    }
}
