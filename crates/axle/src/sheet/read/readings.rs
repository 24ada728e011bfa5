//! The sections `[shared]`, `[left]` and `[right]`: what was measured.

use catalog::{CONDITIONS, Catalog, Condition, MEASURANDS, Measurand, MeasurandRow, Sides};
use placed::{Item, TableReader};
use quantity::{Length, LengthExt, WrittenLength, both, nearest_word};

use super::filled;
use super::known_name::known_name;
use super::size::{SheetUnit, UnitEvidence, read_size, size};
use crate::sheet::{Reading, Side, TakenAs, Value};

/// The sections that hold readings, with the side that each speaks of.
pub(super) const SECTIONS: [(&str, Option<Side>); 3] =
    [("shared", None), ("left", Some(Side::Left)), ("right", Some(Side::Right))];

/// Every reading of the sheet, in the order in which they stand in it.
pub(super) fn readings(
    root: &TableReader<'_>,
    unit: SheetUnit,
    evidence: &UnitEvidence,
    catalog: &Catalog,
) -> Vec<Reading> {
    let mut readings = Vec::new();
    for (section, side) in SECTIONS {
        let Some(table) = root.table(section) else {
            continue;
        };
        for (key, item) in table.entries() {
            if let Some(row) = row_of(key, &item, catalog) {
                check_section(&item, row, side);
                EntryReader { row, side, unit, evidence, catalog }.read(&item, &mut readings);
            }
        }
        table.finish();
    }
    readings.sort_by_key(|reading: &Reading| (reading.position.line, reading.position.column));
    readings
}

/// The row of the measurand that a key names.
pub(super) fn row_of<'c>(key: &str, item: &Item<'_>, catalog: &'c Catalog) -> Option<&'c MeasurandRow> {
    let Some(measurand) = Measurand::from_key(key) else {
        let nearest = nearest_word(key, MEASURANDS.iter().map(|(_, key)| *key));
        let hint = nearest.map_or_else(String::new, |nearest| format!(", did you mean `{nearest}`?"));
        item.fault_at_key(
            format!("`{key}` is not known as a reading{hint}"),
            format!(
                "the key of a reading, such as {}; docs/order-sheet.md lists all {}",
                some_keys(),
                MEASURANDS.len()
            ),
        );
        return None;
    };
    Some(catalog.measurand(measurand))
}

/// A few keys, to show what they look like.
fn some_keys() -> String {
    MEASURANDS.iter().take(4).map(|(_, key)| format!("`{key}`")).collect::<Vec<_>>().join(", ")
}

/// Faults a reading that stands in a section that cannot hold it.
pub(super) fn check_section(item: &Item<'_>, row: &MeasurandRow, side: Option<Side>) {
    let key = row.measurand.key();
    match (row.sides, side) {
        (Sides::Each, None) => item.fault_at_key(
            format!("{} differs from side to side, and [shared] names no side", row.words),
            format!("`{key}` in [left] or [right]"),
        ),
        (Sides::Whole, Some(side)) => item.fault_at_key(
            format!("{} belongs to the whole axle, and [{}] is one side of it", row.words, side.words()),
            format!("`{key}` in [shared]"),
        ),
        (Sides::Each, Some(_)) | (Sides::Whole, None) | (Sides::Either, _) => {}
    }
}

/// Where a value comes from.
#[derive(Debug, Clone, Copy)]
enum Told {
    /// Somebody read it off.
    Read,
    /// The desk takes a reading to have meant it.
    Meant,
}

/// What one entry of a section is read with.
struct EntryReader<'c> {
    row: &'c MeasurandRow,
    side: Option<Side>,
    unit: SheetUnit,
    evidence: &'c UnitEvidence,
    catalog: &'c Catalog,
}

impl EntryReader<'_> {
    /// Reads an entry: one value, repeats, one reading as a table, or separate readings as a list of tables.
    fn read(&self, item: &Item<'_>, readings: &mut Vec<Reading>) {
        if item.is_table() {
            readings.extend(self.described(item));
            return;
        }
        if !item.is_list() {
            readings.extend(self.bare(item));
            return;
        }
        let Some(entries) = item.list() else {
            return;
        };
        let Some(first) = entries.first() else {
            self.fault_empty_list(item);
            return;
        };
        let separate = first.is_table();
        if let Some(odd) = entries.iter().find(|entry| entry.is_table() != separate) {
            odd.fault(
                "the list mixes repeats with separate readings",
                "only values (repeats by one hand with one instrument), or only tables such as \
                 `{ value = …, instrument = … }` (separate readings)",
            );
            // The entries are still read, so that what else is wrong with them is said in the same go.
            for entry in &entries {
                let _ = if entry.is_table() {
                    self.described(entry).is_some()
                } else {
                    self.value(entry, Told::Read).is_some()
                };
            }
        } else if separate {
            readings.extend(entries.iter().filter_map(|entry| self.described(entry)));
        } else {
            readings.extend(self.bare(item));
        }
    }

    /// A reading that is nothing but its value or its repeats.
    fn bare(&self, item: &Item<'_>) -> Option<Reading> {
        let value = self.value(item, Told::Read);
        if self.needs_pin() {
            item.fault(
                format!("{} means nothing without the diameter of the pins", self.row.words),
                format!("the pins beside it, as `{{ value = {}, pin = \"…\" }}`", item.raw().trim()),
            );
            return None;
        }
        Some(Reading {
            measurand: self.row.measurand,
            side: self.side,
            value: value?,
            instrument: None,
            conditions: Vec::new(),
            by: None,
            pin_diameter: None,
            taken_as: None,
            position: item.position(),
        })
    }

    /// A reading that says how it was taken.
    fn described(&self, item: &Item<'_>) -> Option<Reading> {
        let table = item.table()?;
        let value = table.required("value").and_then(|item| self.value(&item, Told::Read));
        let instrument = table.optional("instrument").and_then(|item| {
            known_name(&item, "instrument", self.catalog.instruments.iter().map(|row| row.name.as_str()))
        });
        let conditions = table.optional("conditions").map_or(Vec::new(), |item| conditions(&item));
        let by = table.optional("by").and_then(|item| filled(&item));
        let pin_diameter = if self.needs_pin() {
            table.required("pin").and_then(|item| self.pin(&item, value.as_ref()))
        } else {
            // Only asked for where it stands, so that no fault lists it among the keys that would be accepted.
            if let Some(pin) = table.has("pin").then(|| table.optional("pin")).flatten() {
                pin.fault_at_key(
                    format!("{} is not measured over pins", self.row.words),
                    format!("`pin` only in `{}`", Measurand::SplineOverPins.key()),
                );
            }
            None
        };
        let taken_as = self.taken_as(&table);
        let position = item.position();
        table.finish();
        Some(Reading {
            measurand: self.row.measurand,
            side: self.side,
            value: value?,
            instrument,
            conditions,
            by,
            pin_diameter,
            taken_as,
            position,
        })
    }

    /// What the reading is taken to have meant, who takes it so and who confirmed it.
    fn taken_as(&self, table: &TableReader<'_>) -> Option<TakenAs> {
        let item = table.optional("taken_as");
        let person = |key: &str, does: &str| {
            let named = table.optional(key)?;
            if item.is_none() {
                named.fault_at_key(
                    format!("`{key}` says who {does}, and this reading has no correction"),
                    "`taken_as` beside it, with what the reading is taken to have meant; without a correction leave it out",
                );
            }
            filled(&named)
        };
        let taken_by = person("taken_by", "made a correction");
        let confirmed_by = person("confirmed_by", "confirmed a correction");
        let value = self.value(&item?, Told::Meant)?;
        Some(TakenAs { value, taken_by, confirmed_by })
    }

    /// A count, or a length with its repeats. Only what was read tells of the unit of the sheet.
    fn value(&self, item: &Item<'_>, told: Told) -> Option<Value> {
        if self.row.measurand.is_count() {
            return self.count(item).map(Value::Count);
        }
        let size = |item: &Item<'_>| match told {
            Told::Read => read_size(item, self.unit, self.row, self.evidence),
            Told::Meant => size(item, self.unit, self.row),
        };
        if !item.is_list() {
            return size(item).map(|written| Value::Length(vec![written]));
        }
        let entries = item.list()?;
        if entries.is_empty() {
            self.fault_empty_list(item);
            return None;
        }
        let sizes: Vec<Option<WrittenLength>> = entries.iter().map(size).collect();
        // A reading from which a repeat was dropped would look surer than it is.
        sizes.into_iter().collect::<Option<Vec<_>>>().map(Value::Length)
    }

    /// A count in the accepted range.
    fn count(&self, item: &Item<'_>) -> Option<u32> {
        if item.is_list() {
            item.fault(
                format!("{} is a count, and a count has no repeats to average", self.row.words),
                "one whole number; two people's counts are separate readings, as \
                 `[{ value = 31, by = \"…\" }, { value = 30, by = \"…\" }]`",
            );
            return None;
        }
        count_in_range(item, self.row)
    }

    /// The diameter of the pins under a size over pins. With 6 to 80 teeth and pins of 1.44 to 1.92 over the pitch, which
    /// is what touches the flanks of an involute spline (ANSI B92.1), the pin is 0.017 to 0.22 of the size over pins.
    fn pin(&self, item: &Item<'_>, value: Option<&Value>) -> Option<Length> {
        let pin = self.unit.length(item)?;
        let over_pins = match value {
            Some(Value::Length(repeats)) => repeats.first()?.value(),
            Some(Value::Count(_)) | None => return None,
        };
        let (least, most) = (over_pins / 100.0, over_pins / 4.0);
        if self.unit.within(&pin, least, most) {
            return Some(pin.value());
        }
        let leading = self.unit.leading(&pin);
        item.fault(
            format!("a pin of {} does not go with this size over pins", both(pin.value(), leading)),
            format!("a diameter from {} to {}", both(least, leading), both(most, leading)),
        );
        None
    }

    /// Whether the reading is a size over pins.
    fn needs_pin(&self) -> bool {
        self.row.measurand == Measurand::SplineOverPins
    }

    /// Faults a list that holds nothing.
    fn fault_empty_list(&self, item: &Item<'_>) {
        item.fault(
            format!("the list for {} is empty", self.row.words),
            "at least one value; leave the key out where nothing was measured",
        );
    }
}

/// A count in the accepted range of a measurand.
pub(super) fn count_in_range(item: &Item<'_>, row: &MeasurandRow) -> Option<u32> {
    let count = item.count()?;
    // The catalog holds the range of a count as plain numbers of millimetres.
    let (least, most) = (row.accepted.0.millimetres(), row.accepted.1.millimetres());
    if (least..=most).contains(&f64::from(count)) {
        return Some(count);
    }
    item.fault(format!("{} cannot be {count}", row.words), format!("a whole number from {least:.0} to {most:.0}"));
    None
}

/// The conditions that a reading is marked with.
fn conditions(item: &Item<'_>) -> Vec<Condition> {
    let phrases = CONDITIONS.map(|(condition, phrase)| (phrase, condition));
    let mut conditions = Vec::new();
    for entry in item.list().unwrap_or_default() {
        match entry.one_of(&phrases) {
            Some(condition) if conditions.contains(&condition) => {
                entry.fault(format!("the condition {} is named twice", entry.raw()), "each condition once");
            }
            Some(condition) => conditions.push(condition),
            None => {}
        }
    }
    conditions
}
