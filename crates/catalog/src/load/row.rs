//! One row of a catalog file, read key by key, on top of an earlier row of the same name where there is one.

use std::ops::RangeInclusive;

use placed::{Item, TableReader};
use quantity::{Length, LengthExt, millimetres, read_length};

use crate::parts::Spread;
use crate::provenance::Source;
use crate::settings::Window;

/// A row as it stands in a file.
pub(super) struct Row<'d> {
    table: TableReader<'d>,
}

/// Which lengths a key takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Size {
    /// Larger than nothing.
    Positive,
    /// Nothing or larger.
    NotNegative,
    /// Any, with its sign.
    Signed,
}

/// No size in a catalog of axle parts is larger; a larger one is a slip of unit or point.
const LARGEST_IN: f64 = 200.0;

/// A name stands in a cell of a table, on a drawing and in an address.
const LONGEST_NAME: usize = 80;
/// Words and sources are a sentence or a few.
const LONGEST_WORDS: usize = 1000;

/// The largest weight: weights are relative, and beyond this one row would drown the others.
const LARGEST_WEIGHT: f64 = 1000.0;

impl<'d> Row<'d> {
    pub(super) fn new(table: TableReader<'d>) -> Self {
        Self { table }
    }

    /// Whether the file gives this key.
    pub(super) fn gives(&self, key: &str) -> bool {
        self.table.optional(key).is_some()
    }

    /// The item of a key, where the file gives it.
    pub(super) fn item(&self, key: &str) -> Option<Item<'d>> {
        self.table.optional(key)
    }

    /// Records a fault at a key where the row gives it, else at the row.
    pub(super) fn fault_at(&self, key: &str, problem: impl Into<String>, accepted: impl Into<String>) {
        match self.table.optional(key) {
            Some(item) => item.fault(problem, accepted),
            None => self.table.fault(problem, accepted),
        }
    }

    /// Records a fault at the row.
    pub(super) fn fault(&self, problem: impl Into<String>, accepted: impl Into<String>) {
        self.table.fault(problem, accepted);
    }

    /// Ends the row: every key that nobody asked for is a fault.
    pub(super) fn finish(self) {
        self.table.finish();
    }

    /// The value of a key, or the inherited one where the row does not give it; without either, its absence is a fault.
    pub(super) fn value<T>(
        &self,
        key: &str,
        inherited: Option<T>,
        read: impl FnOnce(Item<'d>) -> Option<T>,
    ) -> Option<T> {
        if inherited.is_some() && !self.gives(key) {
            return inherited;
        }
        self.table.required(key).and_then(read)
    }

    /// The value of a key that may be left out, with what it then is.
    pub(super) fn value_or<T>(
        &self,
        key: &str,
        inherited: Option<T>,
        otherwise: T,
        read: impl FnOnce(Item<'d>) -> Option<T>,
    ) -> Option<T> {
        match self.table.optional(key) {
            Some(item) => read(item),
            None => inherited.or(Some(otherwise)),
        }
    }

    /// A length.
    pub(super) fn length(&self, key: &str, inherited: Option<Length>, size: Size) -> Option<Length> {
        self.value(key, inherited, |item| length(&item, size))
    }

    /// A smallest and a largest length, `["0.5 mm", "1 mm"]`.
    pub(super) fn range(&self, key: &str, inherited: Option<(Length, Length)>, size: Size) -> Option<(Length, Length)> {
        self.value(key, inherited, |item| {
            let (least, most) = pair(&item, |item| length(item, size))?;
            in_order(&item, least, most)
        })
    }

    /// A mean with its standard deviation, `{ mean = "1 mm", deviation = "0.1 mm" }`.
    pub(super) fn spread(&self, key: &str, inherited: Option<Spread>, size: Size) -> Option<Spread> {
        self.value(key, inherited, |item| {
            let inner = Self::new(item.table()?);
            let mean = inner.length("mean", inherited.map(|spread| spread.mean), size);
            let deviation =
                inner.length("deviation", inherited.map(|spread| spread.standard_deviation), Size::Positive);
            inner.finish();
            Some(Spread { mean: mean?, standard_deviation: deviation? })
        })
    }

    /// A window, a table of its own with `least`, `most` and `source`.
    pub(super) fn window(&self, key: &str, inherited: Option<&Window>) -> Option<Window> {
        self.value(key, inherited.cloned(), |item| {
            let inner = Self::new(item.table()?);
            let least = inner.length("least", inherited.map(|window| window.least), Size::Signed);
            let most = inner.length("most", inherited.map(|window| window.most), Size::Signed);
            let source = inner.source();
            let (least, most) = (least?, most?);
            if least > most {
                inner.fault_at("least", "the least is larger than the most", "least ≤ most");
                return None;
            }
            inner.finish();
            Some(Window { least, most, source: source? })
        })
    }

    /// A number within a range.
    pub(super) fn number(&self, key: &str, inherited: Option<f64>, range: RangeInclusive<f64>) -> Option<f64> {
        self.value(key, inherited, |item| item.number_in(range))
    }

    /// A number larger than nothing.
    pub(super) fn positive(&self, key: &str, inherited: Option<f64>, most: f64) -> Option<f64> {
        self.value(key, inherited, |item| positive(&item, most))
    }

    /// How often a row is met, relative to the others.
    pub(super) fn weight(&self, inherited: Option<f64>) -> Option<f64> {
        self.positive("weight", inherited, LARGEST_WEIGHT)
    }

    /// Words, with something in them and no more than a page can show.
    pub(super) fn words(&self, key: &str, inherited: Option<&String>) -> Option<String> {
        let most = if matches!(key, "words" | "how") { LONGEST_WORDS } else { LONGEST_NAME };
        self.value(key, inherited.cloned(), |item| item.plain_text(most).map(str::to_owned))
    }

    /// Where the row comes from. Never inherited: the source of the old value does not vouch for the new one.
    pub(super) fn source(&self) -> Option<Source> {
        let item = self.table.required("source")?;
        match Source::from_text(item.plain_text(LONGEST_WORDS)?) {
            Source::Shop(said) if said.is_empty() => {
                item.fault(
                    "nothing stands behind `shop:`",
                    "the shop's own words, as in \"shop: measured on the bench\"",
                );
                None
            }
            source => Some(source),
        }
    }
}

/// A number larger than nothing.
pub(super) fn positive(item: &Item<'_>, most: f64) -> Option<f64> {
    let number = item.number()?;
    if number > 0.0 && number <= most {
        return Some(number);
    }
    item.fault(format!("{number} is out of range"), format!("a number larger than 0, up to {most}"));
    None
}

/// A length with its unit, and with its sign where the key takes one.
pub(super) fn length(item: &Item<'_>, size: Size) -> Option<Length> {
    let value = if size == Size::Signed { signed(item)? } else { item.length(None)?.value() };
    if size == Size::Positive && value.value <= 0.0 {
        item.fault("a size of nothing", "a length larger than 0");
        return None;
    }
    if value.inches().abs() > LARGEST_IN {
        item.fault("larger than anything in a catalog of axle parts", format!("a length up to {LARGEST_IN} in"));
        return None;
    }
    Some(value)
}

/// A length that may stand behind a sign.
fn signed(item: &Item<'_>) -> Option<Length> {
    let text = item.text()?;
    let bare = text.trim_start_matches(['+', '-', '−']);
    let sign = match text.strip_suffix(bare).unwrap_or_default() {
        "" | "+" => 1.0,
        "-" | "−" => -1.0,
        _ => {
            item.fault("more than one sign", "one sign or none, as in \"-1/16 in\"");
            return None;
        }
    };
    match read_length(bare, None) {
        Ok(written) => Some(written.value() * sign),
        Err(error) => {
            let before = text.len() - bare.len();
            let at = error.range();
            item.fault_within(at.start + before..at.end + before, error.to_string(), error.accepted());
            None
        }
    }
}

/// A count, held as that many millimetres so that one type serves counts and lengths.
pub(super) fn count_as_length(item: &Item<'_>) -> Option<Length> {
    item.count().map(|count| millimetres(f64::from(count)))
}

/// The two entries of a list of two.
pub(super) fn pair<T>(item: &Item<'_>, read: impl Fn(&Item<'_>) -> Option<T>) -> Option<(T, T)> {
    let list = item.list()?;
    let [first, second] = list.as_slice() else {
        item.fault(format!("a list of {}", list.len()), "a list of two: the smallest and the largest");
        return None;
    };
    let (first, second) = (read(first), read(second));
    Some((first?, second?))
}

/// A smallest and a largest size, if they are in this order.
pub(super) fn in_order(item: &Item<'_>, least: Length, most: Length) -> Option<(Length, Length)> {
    if least > most {
        item.fault("the smallest is larger than the largest", "the smallest first, then the largest");
        return None;
    }
    Some((least, most))
}
