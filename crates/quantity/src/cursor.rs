//! A place in a text that moves forward while the text is read.

use std::ops::Range;

/// Reads a text piece by piece and knows the bytes of each.
#[derive(Clone)]
pub(crate) struct Cursor<'t> {
    text: &'t str,
    at: usize,
}

impl<'t> Cursor<'t> {
    pub(crate) fn new(text: &'t str) -> Cursor<'t> {
        Cursor { text, at: 0 }
    }

    pub(crate) fn at(&self) -> usize {
        self.at
    }

    pub(crate) fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or_default()
    }

    pub(crate) fn is_at_end(&self) -> bool {
        self.rest().is_empty()
    }

    pub(crate) fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    /// Moves over the next character if it is one of these.
    pub(crate) fn skip_if(&mut self, wanted: impl Fn(char) -> bool) -> bool {
        match self.peek() {
            Some(character) if wanted(character) => {
                self.at += character.len_utf8();
                true
            }
            _ => false,
        }
    }

    pub(crate) fn skip_blanks(&mut self) {
        self.take_while(char::is_whitespace);
    }

    pub(crate) fn skip_bytes(&mut self, bytes: usize) {
        self.at += bytes;
    }

    pub(crate) fn take_while(&mut self, wanted: impl Fn(char) -> bool) -> &'t str {
        let rest = self.rest();
        let length = rest.find(|character| !wanted(character)).unwrap_or(rest.len());
        self.at += length;
        rest.get(..length).unwrap_or_default()
    }

    pub(crate) fn digits(&mut self) -> &'t str {
        self.take_while(|character| character.is_ascii_digit())
    }

    /// The bytes from here to the next blank, or to the end.
    pub(crate) fn word_ahead(&self) -> Range<usize> {
        let mut ahead = self.clone();
        ahead.take_while(|character| !character.is_whitespace());
        self.at..ahead.at
    }

    /// The bytes from here to the last character that is not blank.
    pub(crate) fn rest_without_blanks(&self) -> Range<usize> {
        self.at..self.at + self.rest().trim_end().len()
    }

    pub(crate) fn slice(&self, range: Range<usize>) -> &'t str {
        self.text.get(range).unwrap_or_default()
    }
}
