//! The lines of a report: headings, wrapped words, hanging items and tables.

use textwrap::{Options, WordSeparator, WordSplitter, WrapAlgorithm};
use unicode_width::UnicodeWidthStr;

use super::ink::Ink;
use super::table::Table;

/// Stands for a space that no line may break at; it is written out as a plain one.
const JOINED: char = '\u{a0}';

/// What stands under a heading is set in by this much.
pub const INDENT: usize = 2;

/// A report in the making.
#[derive(Debug)]
pub struct Lines {
    columns: usize,
    text: String,
}

impl Lines {
    /// An empty report that wide.
    pub fn new(columns: usize) -> Self {
        Self { columns, text: String::new() }
    }

    /// Columns of the page.
    pub fn columns(&self) -> usize {
        self.columns
    }

    /// An empty line.
    pub fn gap(&mut self) {
        self.text.push('\n');
    }

    /// A rule across the page.
    pub fn rule(&mut self) {
        let rule = "─".repeat(self.columns);
        self.push(&Ink::Faint.paint(&rule));
    }

    /// The heading of a section, with an empty line before it.
    pub fn heading(&mut self, words: &str) {
        self.gap();
        for line in wrapped(words, self.columns) {
            self.push(&Ink::Strong.paint(&line));
        }
    }

    /// Words under a heading.
    pub fn words(&mut self, words: &str, ink: Ink) {
        self.hanging(INDENT, "", Ink::Plain, words, ink);
    }

    /// Words that hang on a marker: a number, a verdict, a probability.
    pub fn item(&mut self, marker: &str, marker_ink: Ink, words: &str, ink: Ink) {
        self.hanging(INDENT, marker, marker_ink, words, ink);
    }

    /// Words set in by so many columns, under an item.
    pub fn under(&mut self, indent: usize, words: &str, ink: Ink) {
        self.hanging(indent, "", Ink::Plain, words, ink);
    }

    /// A table under a heading.
    pub fn table(&mut self, table: &Table) {
        for line in table.lines(self.columns.saturating_sub(INDENT)) {
            let line = format!("{:INDENT$}{line}", "");
            self.push(&line);
        }
    }

    /// The report.
    pub fn into_text(self) -> String {
        self.text
    }

    fn hanging(&mut self, indent: usize, marker: &str, marker_ink: Ink, words: &str, ink: Ink) {
        let marker = with_plain_spaces(&plain(marker));
        if marker.width() > self.columns / 2 {
            // Nothing can hang on so long a marker: it takes lines of its own.
            for line in wrapped(&marker, self.columns.saturating_sub(indent)) {
                self.push(&format!("{:indent$}{}", "", marker_ink.paint(&line)));
            }
            return self.hanging(indent + 2, "", Ink::Plain, words, ink);
        }
        let hang = if marker.is_empty() { indent } else { indent + marker.width() + 2 };
        for (number, line) in wrapped(words, self.columns.saturating_sub(hang)).iter().enumerate() {
            let lead = match number {
                0 if !marker.is_empty() => format!("{:indent$}{}  ", "", marker_ink.paint(&marker)),
                _ => " ".repeat(hang),
            };
            self.push(&format!("{lead}{}", ink.paint(line)));
        }
    }

    fn push(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }
}

/// Breaks words into lines of at most so many columns; a word that is longer is broken itself.
pub fn wrapped(words: &str, columns: usize) -> Vec<String> {
    let options = Options::new(columns.max(8))
        .word_separator(WordSeparator::AsciiSpace)
        .word_splitter(WordSplitter::NoHyphenation)
        .wrap_algorithm(WrapAlgorithm::FirstFit)
        .break_words(true);
    textwrap::wrap(&joined(&plain(words)), options).iter().map(|line| with_plain_spaces(line)).collect()
}

/// The words with plain spaces where no line was to break.
pub fn with_plain_spaces(words: &str) -> String {
    words.replace(JOINED, " ")
}

/// Text from outside on one line: no control characters that could move the cursor, and none that turn the direction
/// of writing.
pub fn plain(text: &str) -> String {
    text.chars()
        .map(|character| match character {
            '\n' | '\r' | '\t' => ' ',
            other if is_unprintable(other) => char::REPLACEMENT_CHARACTER,
            other => other,
        })
        .collect()
}

/// Text from outside in its own lines, as harmless as [`plain`] makes it.
pub fn plain_block(text: &str) -> String {
    text.chars()
        .map(|character| match character {
            '\n' | '\t' => character,
            other if is_unprintable(other) => char::REPLACEMENT_CHARACTER,
            other => other,
        })
        .collect()
}

fn is_unprintable(character: char) -> bool {
    character.is_control()
        || matches!(character, '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

/// Joins what belongs to one size, so that `31 5/16"` and `31.313 in (795.35 mm)` stay on one line.
fn joined(text: &str) -> String {
    let mut joined = String::with_capacity(text.len());
    let mut last: Option<&str> = None;
    for word in text.split(' ') {
        if let Some(last) = last {
            joined.push(if belong_together(last, word) { JOINED } else { ' ' });
        }
        joined.push_str(word);
        last = Some(word);
    }
    joined
}

fn belong_together(first: &str, second: &str) -> bool {
    let after_number = first.ends_with(|last: char| last.is_ascii_digit());
    let bare = second.trim_end_matches([',', '.', ';', ':', ')']);
    let is_unit = matches!(
        bare,
        "in" | "mm" | "%" | "min" | "µm" | "kg" | "lb" | "kN" | "lbf" | "N·m" | "lb·ft" | "km" | "mi" | "MPa" | "ksi"
    );
    let is_fraction = second.starts_with(|initial: char| initial.is_ascii_digit()) && second.contains('/');
    // `in` is a word, too, but after a number it is nearly always the unit; at worst a line ends a word early.
    after_number && (is_unit || is_fraction) || first == "±"
}

#[cfg(test)]
mod tests {
    use super::{plain, plain_block, wrapped};

    #[test]
    fn sizes_stay_on_one_line() {
        assert_eq!(wrapped("it says 31 5/16\" there", 14), ["it says", "31 5/16\" there"]);
        assert_eq!(wrapped("slip at 618 lb·ft", 12), ["slip at", "618 lb·ft"]);
        assert_eq!(wrapped("so 31.313 in of it", 11), ["so", "31.313 in", "of it"]);
    }

    #[test]
    fn a_word_longer_than_the_line_is_broken() {
        assert_eq!(wrapped("a 1234567890123", 10), ["a", "1234567890", "123"]);
    }

    #[test]
    fn no_text_can_move_the_cursor() {
        assert_eq!(plain("a\u{1b}[2Jb\nc\u{202e}d"), "a\u{fffd}[2Jb c\u{fffd}d");
        assert_eq!(plain_block("a\r\n\tb\u{9b}"), "a\u{fffd}\n\tb\u{fffd}");
    }
}
