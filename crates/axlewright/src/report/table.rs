//! Tables whose numbers stand under each other.

use unicode_width::UnicodeWidthStr;

use super::ink::Ink;
use super::lines::{plain, with_plain_spaces, wrapped};

/// Columns between two columns of a table.
const GUTTER: usize = 2;

/// How the cells of a column stand under each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Alignment {
    /// Words.
    Left,
    /// Numbers with the same decimals, percentages.
    Right,
    /// By this character: the decimal point, or the dash of a range.
    By(char),
    /// Words that take what the others leave, and wrap.
    Rest,
}

/// One column.
#[derive(Debug, Clone)]
struct Column {
    heading: String,
    alignment: Alignment,
}

/// One cell: its words and how they are set.
#[derive(Debug, Clone)]
pub struct Cell {
    words: String,
    ink: Ink,
}

impl Cell {
    /// A cell in plain ink.
    pub fn new(words: impl AsRef<str>) -> Self {
        Self::inked(words, Ink::Plain)
    }

    /// A cell in that ink.
    pub fn inked(words: impl AsRef<str>, ink: Ink) -> Self {
        Self { words: plain(words.as_ref()), ink }
    }
}

/// A table.
#[derive(Debug, Clone, Default)]
pub struct Table {
    columns: Vec<Column>,
    rows: Vec<Vec<Cell>>,
}

impl Table {
    /// Adds a column.
    pub fn column(&mut self, heading: &str, alignment: Alignment) {
        self.columns.push(Column { heading: heading.to_owned(), alignment });
    }

    /// Adds a row: one cell for each column.
    pub fn row(&mut self, cells: Vec<Cell>) {
        self.rows.push(cells);
    }

    /// Whether it has no rows.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The table's lines, its headings first where it has any.
    pub fn lines(&self, columns: usize) -> Vec<String> {
        let (set, widths) = self.fitted(columns);
        let mut lines = Vec::new();
        if self.columns.iter().any(|column| !column.heading.is_empty()) {
            let headings: Vec<(Vec<String>, Ink)> = self
                .columns
                .iter()
                .zip(&widths)
                .map(|(column, width)| match column.alignment {
                    Alignment::Rest => (wrapped(&column.heading, *width), Ink::Faint),
                    _ => (vec![column.heading.clone()], Ink::Faint),
                })
                .collect();
            lines.extend(self.row_lines(&headings, &widths));
        }
        for (number, row) in self.rows.iter().enumerate() {
            let cells: Vec<(Vec<String>, Ink)> = row
                .iter()
                .zip(&self.columns)
                .enumerate()
                .map(|(index, (cell, column))| {
                    let lines = match column.alignment {
                        Alignment::Rest => wrapped(&cell.words, widths[index]),
                        _ => set[index][number].clone(),
                    };
                    (lines, cell.ink)
                })
                .collect();
            lines.extend(self.row_lines(&cells, &widths));
        }
        lines
    }

    /// The cells of every column and the columns' widths. Columns of words are narrowed until the table fits and the column
    /// that takes the rest has room.
    fn fitted(&self, columns: usize) -> (Vec<Vec<Vec<String>>>, Vec<usize>) {
        const LONGEST_WORDS: [usize; 6] = [44, 36, 30, 24, 18, 12];
        const ROOM_FOR_REST: usize = 22;
        const NARROWEST_REST: usize = 10;
        let rest = self.columns.iter().position(|column| column.alignment == Alignment::Rest);
        let mut fitted = (Vec::new(), Vec::new());
        for longest in LONGEST_WORDS {
            let set: Vec<Vec<Vec<String>>> =
                (0..self.columns.len()).map(|index| self.set_column(index, longest)).collect();
            let mut widths: Vec<usize> =
                self.columns.iter().zip(&set).map(|(column, cells)| natural_width(column, cells)).collect();
            let gutters = GUTTER * widths.len().saturating_sub(1);
            let wanted = rest.map_or(0, |rest| widths[rest]);
            let taken = widths.iter().sum::<usize>() + gutters - wanted;
            let left = columns.saturating_sub(taken);
            if let Some(rest) = rest {
                widths[rest] = wanted.min(left.max(NARROWEST_REST));
            }
            fitted = (set, widths);
            if taken <= columns && left >= wanted.min(ROOM_FOR_REST) {
                break;
            }
        }
        fitted
    }

    /// The cells of one column, set under each other; each is a list of lines.
    fn set_column(&self, index: usize, longest: usize) -> Vec<Vec<String>> {
        let words: Vec<&str> =
            self.rows.iter().map(|row| row.get(index).map_or("", |cell| cell.words.as_str())).collect();
        match self.columns[index].alignment {
            Alignment::By(mark) => {
                under_each_other(&words, mark).into_iter().map(|line| vec![with_plain_spaces(&line)]).collect()
            }
            Alignment::Left => words.iter().map(|words| wrapped(words, longest)).collect(),
            Alignment::Right | Alignment::Rest => words.iter().map(|words| vec![with_plain_spaces(words)]).collect(),
        }
    }

    fn row_lines(&self, cells: &[(Vec<String>, Ink)], widths: &[usize]) -> Vec<String> {
        let height = cells.iter().map(|(lines, _)| lines.len()).max().unwrap_or(0);
        (0..height)
            .map(|number| {
                let mut line = String::new();
                // Padding is held back until something follows it, so that no line ends in spaces.
                let mut owed = 0;
                for (((lines, ink), column), width) in cells.iter().zip(&self.columns).zip(widths) {
                    let words = lines.get(number).map_or("", String::as_str);
                    let padding = width.saturating_sub(words.width());
                    let (before, after) = match column.alignment {
                        Alignment::Right | Alignment::By(_) => (padding, 0),
                        Alignment::Left | Alignment::Rest => (0, padding),
                    };
                    let bare = words.trim_end();
                    if bare.is_empty() {
                        owed += width + GUTTER;
                        continue;
                    }
                    line.push_str(&" ".repeat(owed + before));
                    line.push_str(&ink.paint(bare));
                    owed = words.width() - bare.width() + after + GUTTER;
                }
                line
            })
            .collect()
    }
}

fn natural_width(column: &Column, cells: &[Vec<String>]) -> usize {
    let widest = cells.iter().flatten().map(|line| line.width()).max().unwrap_or(0);
    widest.max(column.heading.width())
}

/// Sets words so that their first `mark` stands in one column; words without it end where it would stand.
fn under_each_other(words: &[&str], mark: char) -> Vec<String> {
    let halves: Vec<(&str, &str)> =
        words.iter().map(|words| words.find(mark).map_or((*words, ""), |place| words.split_at(place))).collect();
    let before = halves.iter().map(|(before, _)| before.width()).max().unwrap_or(0);
    let after = halves.iter().map(|(_, after)| after.width()).max().unwrap_or(0);
    halves
        .iter()
        .map(|(head, tail)| {
            let left = " ".repeat(before - head.width());
            let right = " ".repeat(after - tail.width());
            format!("{left}{head}{tail}{right}")
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{Alignment, Cell, Table};

    #[test]
    fn numbers_stand_under_each_other_by_their_point() {
        let mut table = Table::default();
        table.column("size", Alignment::By('.'));
        table.column("what", Alignment::Rest);
        table.row(vec![Cell::new("31.313"), Cell::new("a length that needs two lines")]);
        table.row(vec![Cell::new("1.5750"), Cell::new("a seat")]);
        table.row(vec![Cell::new("5"), Cell::new("")]);
        assert_eq!(
            table.lines(26),
            [
                "   \u{1b}[2msize\u{1b}[0m  \u{1b}[2mwhat\u{1b}[0m",
                "31.313   a length that",
                "         needs two lines",
                " 1.5750  a seat",
                " 5",
            ]
            .map(str::to_owned)
        );
    }
}
