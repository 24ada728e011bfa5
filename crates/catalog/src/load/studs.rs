//! Reads `studs.toml`.

use quantity::Thread;

use crate::parts::Stud;

use super::row::{Row, Size};
use super::rows::KeyedRow;

impl KeyedRow for Stud {
    const TABLE: &'static str = "stud";
    type Key = Thread;

    fn read_key(row: &Row<'_>) -> Option<Thread> {
        row.value("thread", None, |item| item.thread())
    }

    fn is(&self, key: &Thread) -> bool {
        self.thread == *key
    }

    fn read(row: &Row<'_>, thread: Thread, old: Option<&Self>) -> Option<Self> {
        let knurl = row.range("knurl", old.map(|old| old.knurl), Size::Positive);
        let hole = row.range("hole", old.map(|old| old.hole), Size::Positive);
        let source = row.source();
        let stud = Self { thread, knurl: knurl?, hole: hole?, source: source? };
        if stud.knurl.0 <= stud.thread.diameter() {
            row.fault_at(
                "knurl",
                "the knurl is not larger than the thread",
                "a knurl that the thread passes inside of",
            );
            return None;
        }
        if stud.hole.1 >= stud.knurl.0 {
            row.fault_at(
                "hole",
                "the largest hole would not hold the smallest knurl",
                "holes smaller than every knurl",
            );
            return None;
        }
        Some(stud)
    }
}
