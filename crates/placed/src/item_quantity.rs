//! Reads lengths, counts and threads from a value.

use std::ops::Range;

use quantity::{LengthUnit, LoadKind, Thread, WrittenLength, read_count, read_length, read_load, read_thread};

use crate::item::Item;
use crate::node::Kind;

impl Item<'_> {
    /// The value as a length: text such as `"31 5/16 in"`, or a bare number in the default unit.
    ///
    /// A bare number keeps the digits as they stand in the file.
    pub fn length(&self, default: Option<LengthUnit>) -> Option<WrittenLength> {
        let text = self.text_or_number("a length", "a length with its unit, such as \"31 5/16 in\"")?;
        match read_length(&text.text, default) {
            Ok(length) => Some(length),
            Err(error) => self.blame(&text, error.range(), error.to_string(), error.accepted()),
        }
    }

    /// The lengths in a list, or the only one if the value is no list.
    ///
    /// Every entry that is no length is a fault; then nothing is given.
    pub fn lengths(&self, default: Option<LengthUnit>) -> Option<Vec<WrittenLength>> {
        if !self.is_list() {
            return self.length(default).map(|length| vec![length]);
        }
        let items = self.list()?;
        if items.is_empty() {
            self.fault(format!("`{}` holds no length", self.key()), "one length or more");
            return None;
        }
        let lengths: Vec<Option<WrittenLength>> = items.iter().map(|item| item.length(default)).collect();
        lengths.into_iter().collect()
    }

    /// The value as a count of teeth or holes: a whole number, or text such as `"28 teeth"`.
    pub fn count(&self) -> Option<u32> {
        let text = self.text_or_number("a count", "a whole number")?;
        match read_count(&text.text) {
            Ok(count) => Some(count),
            Err(error) => self.blame(&text, error.range(), error.to_string(), error.accepted()),
        }
    }

    /// The value as a thread designation in text, such as `"M12x1.5"`.
    pub fn thread(&self) -> Option<Thread> {
        let text = self.text()?;
        match read_thread(text) {
            Ok(thread) => Some(thread),
            Err(error) => {
                self.fault_within(error.range(), error.to_string(), error.accepted());
                None
            }
        }
    }

    /// The value as a mass in kg, a torque in N·m or a distance in km: text with a number and its unit, such as `"1850 lb"`.
    pub fn load(&self, kind: LoadKind) -> Option<f64> {
        let text = self.text_or_number(&format!("a {} with its unit", kind.words()), kind.accepted())?;
        match read_load(&text.text, kind) {
            Ok(value) => Some(value),
            Err(error) => self.blame(&text, error.range(), error.to_string(), kind.accepted().to_owned()),
        }
    }

    fn text_or_number(&self, wanted: &str, accepted: &str) -> Option<Readable> {
        let raw = self.raw();
        match &self.sound()?.kind {
            Kind::Text(text) => Some(Readable { text: text.clone(), places_hold: true }),
            Kind::Integer { .. } | Kind::Float(_) => Some(Readable {
                // TOML lets digits be grouped with underscores, which nobody reads off a tape.
                text: raw.replace('_', ""),
                places_hold: !raw.contains('_'),
            }),
            _ => self.wrong_kind(wanted, accepted),
        }
    }

    fn blame<T>(&self, text: &Readable, range: Range<usize>, problem: String, accepted: String) -> Option<T> {
        if text.places_hold {
            self.fault_within(range, problem, accepted);
        } else {
            self.fault(problem, accepted);
        }
        None
    }
}

/// The text that a quantity is read from.
struct Readable {
    text: String,
    /// Whether a place in the text is the same place in the value.
    places_hold: bool,
}
