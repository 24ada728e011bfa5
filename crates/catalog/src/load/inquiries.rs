//! Reads `inquiries.toml`.

use crate::inquiry::Inquiry;

use super::mistakes::spoilt;
use super::row::Row;
use super::rows::KeyedRow;

/// Nobody takes more than a working day over one question.
const LONGEST_MINUTES: f64 = 480.0;

impl KeyedRow for Inquiry {
    const TABLE: &'static str = "inquiry";
    type Key = String;

    fn read_key(row: &Row<'_>) -> Option<String> {
        row.words("name", None)
    }

    fn is(&self, key: &String) -> bool {
        self.name == *key
    }

    fn read(row: &Row<'_>, name: String, old: Option<&Self>) -> Option<Self> {
        let words = row.words("words", old.map(|old| &old.words));
        let how = row.words("how", old.map(|old| &old.how));
        let readings = row.value("readings", old.map(|old| old.readings.clone()), |item| spoilt(&item));
        let needs_old_shaft =
            row.value_or("needs_old_shaft", old.map(|old| old.needs_old_shaft), false, |item| item.boolean());
        let effort_minutes = row.number("effort_minutes", old.map(|old| old.effort_minutes), 0.0..=LONGEST_MINUTES);
        let source = row.source();
        let readings = readings?;
        if readings.is_empty() {
            row.fault_at("readings", "an inquiry that gives no reading", "one measurand or several");
            return None;
        }
        Some(Self {
            name,
            words: words?,
            how: how?,
            readings,
            needs_old_shaft: needs_old_shaft?,
            effort_minutes: effort_minutes?,
            source: source?,
        })
    }
}
