//! Lines and columns of a text.

use std::fmt;
use std::ops::Range;

/// A place in a text as an editor shows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Position {
    /// The line, counted from one.
    pub line: usize,
    /// The character in the line, counted from one; a tab counts as one character.
    pub column: usize,
}

impl fmt::Display for Position {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}:{}", self.line, self.column)
    }
}

/// The mark that some editors put before the first character of a file; it belongs to no column.
pub(crate) const BYTE_ORDER_MARK: char = '\u{feff}';

/// A text with the beginnings of its lines.
#[derive(Debug)]
pub(crate) struct Source {
    text: String,
    line_starts: Vec<usize>,
}

impl Source {
    pub(crate) fn new(text: &str) -> Source {
        let first = if text.starts_with(BYTE_ORDER_MARK) { BYTE_ORDER_MARK.len_utf8() } else { 0 };
        let behind_newlines = text.match_indices('\n').map(|(at, _)| at + 1);
        Source { text: text.to_owned(), line_starts: std::iter::once(first).chain(behind_newlines).collect() }
    }

    pub(crate) fn text(&self) -> &str {
        &self.text
    }

    pub(crate) fn slice(&self, range: Range<usize>) -> &str {
        self.text.get(range).unwrap_or_default()
    }

    /// The number of the line, counted from one, that holds a byte.
    pub(crate) fn line_of(&self, byte: usize) -> usize {
        self.line_starts.partition_point(|start| *start <= byte).max(1)
    }

    /// The bytes of a line, counted from one, without its end.
    pub(crate) fn line_range(&self, line: usize) -> Range<usize> {
        let start = self.line_starts.get(line.saturating_sub(1)).copied().unwrap_or(self.text.len());
        let end = self.line_starts.get(line).map_or(self.text.len(), |next| next - 1);
        let line = self.slice(start..end);
        start..start + line.strip_suffix('\r').unwrap_or(line).len()
    }

    pub(crate) fn line(&self, line: usize) -> &str {
        self.slice(self.line_range(line))
    }

    pub(crate) fn line_count(&self) -> usize {
        self.line_starts.len()
    }

    pub(crate) fn position(&self, byte: usize) -> Position {
        let line = self.line_of(byte);
        let start = self.line_range(line).start;
        let before = self.text.get(start..byte.max(start)).unwrap_or_default();
        Position { line, column: before.chars().count() + 1 }
    }
}

#[cfg(test)]
mod tests {
    use super::{Position, Source};

    fn position(text: &str, byte: usize) -> (usize, usize) {
        let Position { line, column } = Source::new(text).position(byte);
        (line, column)
    }

    #[test]
    fn columns_count_characters() {
        assert_eq!(position("", 0), (1, 1));
        assert_eq!(position("ab\ncd", 3), (2, 1));
        assert_eq!(position("ab\r\ncd", 5), (2, 2));
        assert_eq!(position("½ x", 3), (1, 3));
        assert_eq!(position("\tx", 1), (1, 2));
        assert_eq!(position("\u{feff}x = 1", 3), (1, 1));
        assert_eq!(position("\u{feff}x = 1", 7), (1, 5));
        assert_eq!(position("a\n", 2), (2, 1));
        assert_eq!(position("a", 99), (1, 1));
    }

    #[test]
    fn lines_come_without_their_ends() {
        let source = Source::new("\u{feff}one\r\ntwo\nthree\r\n");
        assert_eq!(source.line(1), "one");
        assert_eq!(source.line(2), "two");
        assert_eq!(source.line(3), "three");
        assert_eq!(source.line(4), "");
        assert_eq!(source.line(5), "");
        assert_eq!(source.line_count(), 4);
    }
}
