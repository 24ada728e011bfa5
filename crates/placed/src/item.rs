//! One value of a document and the plain ways to read it.

use std::ops::{Range, RangeInclusive};

use quantity::nearest_word;

use crate::date::Date;
use crate::document::Document;
use crate::node::{Entry, Kind, Node};
use crate::position::Position;
use crate::string_places::place_in_source;
use crate::table_reader::{Origin, TableReader};

/// One value of a document.
///
/// Every method that reads it gives nothing and records a fault if the value is of another kind. A
/// value whose line has wrong syntax gives nothing either, without a second fault.
#[derive(Clone, Debug)]
pub struct Item<'d> {
    document: &'d Document,
    node: &'d Node,
    key: &'d str,
    key_span: Range<usize>,
}

impl<'d> Item<'d> {
    pub(crate) fn of_entry(document: &'d Document, entry: &'d Entry) -> Item<'d> {
        Item { document, node: &entry.value, key: &entry.name, key_span: entry.key_span.clone() }
    }

    pub(crate) fn node(&self) -> &'d Node {
        self.node
    }

    /// The key of the value; of a value in a list the key of the list.
    pub fn key(&self) -> &'d str {
        self.key
    }

    /// The bytes of the value in the whole text.
    pub fn span(&self) -> Range<usize> {
        self.node.span.clone()
    }

    /// Where the value begins.
    pub fn position(&self) -> Position {
        self.document.position(self.node.span.start)
    }

    /// The value exactly as it stands in the file: `31.50` keeps its nought, text its quotation marks.
    pub fn raw(&self) -> &'d str {
        self.document.slice(self.span())
    }

    /// Whether the value is text.
    pub fn is_text(&self) -> bool {
        matches!(self.node.kind, Kind::Text(_))
    }

    /// Whether the value is a number, whole or with decimals.
    pub fn is_number(&self) -> bool {
        matches!(self.node.kind, Kind::Integer { .. } | Kind::Float(_))
    }

    /// Whether the value is a list.
    pub fn is_list(&self) -> bool {
        matches!(self.node.kind, Kind::List(_))
    }

    /// Whether the value is a table.
    pub fn is_table(&self) -> bool {
        matches!(self.node.kind, Kind::Table(_))
    }

    /// The value as text.
    pub fn text(&self) -> Option<&'d str> {
        match &self.sound()?.kind {
            Kind::Text(text) => Some(text),
            _ => self.wrong_kind("text", "text in quotation marks"),
        }
    }

    /// The value as text that holds more than blanks, without the blanks around it.
    pub fn filled_text(&self) -> Option<&'d str> {
        let text = self.text()?.trim();
        if text.is_empty() {
            self.fault(format!("`{}` is empty", self.key), "text that is not empty");
            return None;
        }
        Some(text)
    }

    /// The value as filled text of one line that every page and paper can show: at most so many letters, and none that controls a
    /// terminal, breaks the line or turns the direction of writing around.
    pub fn plain_text(&self, most: usize) -> Option<&'d str> {
        let text = self.filled_text()?;
        let turns = |letter: char| matches!(letter, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
        let breaks = |letter: char| letter.is_control() || matches!(letter, '\u{2028}' | '\u{2029}' | '\u{feff}');
        if let Some(letter) = text.chars().find(|letter| turns(*letter) || breaks(*letter)) {
            self.fault(
                format!("`{}` holds the character U+{:04X}, which is no letter", self.key, u32::from(letter)),
                "letters, digits, signs and blanks, on one line",
            );
            return None;
        }
        let count = text.chars().count();
        if count > most {
            self.fault(format!("`{}` has {count} letters", self.key), format!("at most {most} letters"));
            return None;
        }
        Some(text)
    }

    /// The value as a finite number, written with or without decimals.
    pub fn number(&self) -> Option<f64> {
        let number = match &self.sound()?.kind {
            Kind::Float(text) => text.parse::<f64>().ok(),
            Kind::Integer { digits, radix } => {
                // Every digit up to the sixteenth or so is kept; an `f64` holds no more.
                i128::from_str_radix(digits, *radix).ok().map(|number| number as f64)
            }
            _ => return self.wrong_kind("a number", "a number without quotation marks"),
        };
        match number {
            Some(number) if number.is_finite() => Some(number),
            _ => {
                self.fault(format!("`{}` is not a finite number", self.key), "a finite number");
                None
            }
        }
    }

    /// The value as a number between two limits, both included.
    pub fn number_in(&self, limits: RangeInclusive<f64>) -> Option<f64> {
        let number = self.number()?;
        if limits.contains(&number) {
            return Some(number);
        }
        self.outside(&format!("{} to {}", limits.start(), limits.end()))
    }

    /// The value as a whole number.
    pub fn integer(&self) -> Option<i64> {
        let Kind::Integer { digits, radix } = &self.sound()?.kind else {
            return self.wrong_kind("a whole number", "a number without decimals");
        };
        let number = i64::from_str_radix(digits, *radix).ok();
        if number.is_none() {
            self.fault(format!("`{}` has too many digits", self.key), "a whole number of at most 18 digits");
        }
        number
    }

    /// The value as a whole number between two limits, both included.
    pub fn integer_in(&self, limits: RangeInclusive<i64>) -> Option<i64> {
        let number = self.integer()?;
        if limits.contains(&number) {
            return Some(number);
        }
        self.outside(&format!("{} to {}", limits.start(), limits.end()))
    }

    /// The value as true or false.
    pub fn boolean(&self) -> Option<bool> {
        match self.sound()?.kind {
            Kind::Boolean(boolean) => Some(boolean),
            _ => self.wrong_kind("true or false", "true or false without quotation marks"),
        }
    }

    /// The values of a list.
    pub fn list(&self) -> Option<Vec<Item<'d>>> {
        let Kind::List(nodes) = &self.sound()?.kind else {
            return self.wrong_kind("a list", "a list in brackets, such as [1, 2]");
        };
        let items = nodes.iter().map(|node| Item { node, ..self.clone() });
        Some(items.collect())
    }

    /// A reader for a table.
    pub fn table(&self) -> Option<TableReader<'d>> {
        match &self.sound()?.kind {
            Kind::Table(table) => Some(TableReader::new(self.document, table, Origin::Value(self.node))),
            _ => self.wrong_kind("a table", &format!("a table under [{}], or in braces", self.key)),
        }
    }

    /// The value as a date without a time; the date may stand in quotation marks.
    pub fn date(&self) -> Option<Date> {
        let date = match &self.sound()?.kind {
            Kind::Date { date, alone: true } => *date,
            Kind::Text(text) => Date::read(text.trim()),
            _ => None,
        };
        if date.is_none() {
            self.fault(format!("`{}` is not a date", self.key), "year, month and day, such as 2026-11-25");
        }
        date
    }

    /// The value that stands for one of several words.
    pub fn one_of<T: Clone>(&self, choices: &[(&str, T)]) -> Option<T> {
        let text = self.text()?;
        if let Some((_, value)) = choices.iter().find(|(word, _)| *word == text) {
            return Some(value.clone());
        }
        let words: Vec<&str> = choices.iter().map(|(word, _)| *word).collect();
        let hint = nearest_word(text, words.iter().copied())
            .map_or_else(String::new, |word| format!(", did you mean {word:?}?"));
        let quoted: Vec<String> = words.iter().map(|word| format!("{word:?}")).collect();
        self.fault(format!("{text:?} is not known for `{}`{hint}", self.key), quoted.join(", "));
        None
    }

    /// Records a fault of the value.
    pub fn fault(&self, problem: impl Into<String>, accepted: impl Into<String>) {
        if !self.node.damaged {
            self.document.fault(self.span(), problem, accepted);
        }
    }

    /// Records a fault of a part of a text; the range counts bytes of what [`Item::text`] gives. Of a
    /// value that is no text the range counts bytes of what stands in the file.
    pub fn fault_within(&self, range: Range<usize>, problem: impl Into<String>, accepted: impl Into<String>) {
        if self.node.damaged {
            return;
        }
        let start = self.node.span.start;
        let place = match &self.node.kind {
            Kind::Text(text) => place_in_source(self.raw(), start, text, range),
            _ => {
                let end = range.end.min(self.raw().len());
                start + range.start.min(end)..start + end
            }
        };
        self.document.fault(place, problem, accepted);
    }

    /// Records a fault of the key that the value stands under.
    pub fn fault_at_key(&self, problem: impl Into<String>, accepted: impl Into<String>) {
        self.document.fault(self.key_span.clone(), problem, accepted);
    }

    /// The value, unless its line has wrong syntax.
    pub(crate) fn sound(&self) -> Option<&'d Node> {
        (!self.node.damaged).then_some(self.node)
    }

    pub(crate) fn wrong_kind<T>(&self, wanted: &str, accepted: &str) -> Option<T> {
        let found = self.node.kind.name();
        self.fault(format!("`{}` must be {wanted}, but here stands {found}", self.key), accepted);
        None
    }

    fn outside<T>(&self, limits: &str) -> Option<T> {
        self.fault(format!("`{}` lies outside its limits", self.key), limits);
        None
    }
}
