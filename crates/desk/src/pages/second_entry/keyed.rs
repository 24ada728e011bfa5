//! The readings of a sheet as slots without values, and what somebody keyed into them.

use axle::{Reading, Side, Value};
use quantity::{LengthExt, LengthUnit, WrittenLength, read_length};

use crate::pages::order_leaf::ReviewedOrder;

/// One reading of the sheet.
#[derive(Debug, Clone)]
pub(super) struct Slot {
    /// Its name with its side.
    pub words: String,
    /// The reading.
    pub reading: Reading,
    /// Which one it is of those of the same thing on the same side.
    pub nth: usize,
}

/// What was keyed into a slot.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Keyed {
    /// The paper does not have it.
    Nothing,
    /// A count.
    Count(u32),
    /// A length with its repeats.
    Lengths(Vec<WrittenLength>),
}

/// Where the second entry differs from the first.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Difference {
    /// The place of the slot.
    pub at: usize,
    /// Its name.
    pub words: String,
    /// What was keyed first.
    pub first: String,
    /// What was keyed now, in words.
    pub second: String,
    /// What was keyed now, as it was typed.
    pub second_text: String,
}

/// The repeats of a reading as they were typed, between commas or semicolons, as on the page of the order.
pub(super) fn repeats(text: &str) -> impl Iterator<Item = &str> {
    text.split([';', ',']).map(str::trim).filter(|one| !one.is_empty())
}

/// The slots of an order, in the order of its sheet.
pub(super) fn slots(reviewed: &ReviewedOrder) -> Vec<Slot> {
    let catalog = reviewed.catalog.catalog();
    let readings = &reviewed.reviewed.sheet.readings;
    readings
        .iter()
        .enumerate()
        .map(|(at, reading)| {
            let same = |one: &&Reading| one.measurand == reading.measurand && one.side == reading.side;
            let nth = readings[..at].iter().filter(same).count();
            let side = reading.side.map(|side| format!("{} ", Side::words(side))).unwrap_or_default();
            let more =
                if readings.iter().filter(same).count() > 1 { format!(", reading {}", nth + 1) } else { String::new() };
            let pins = reading.pin_diameter.map(|pin| format!(", pins {} mm", pin.millimetres())).unwrap_or_default();
            let words = format!("{side}{}{more}{pins}", catalog.measurand(reading.measurand).words);
            Slot { words, reading: reading.clone(), nth }
        })
        .collect()
}

impl Keyed {
    /// Reads what was typed.
    ///
    /// # Errors
    ///
    /// It is no count or length; the words say what would be accepted.
    pub fn read(text: &str, slot: &Slot, unit: Option<LengthUnit>) -> Result<Self, String> {
        if text.is_empty() {
            return Ok(Self::Nothing);
        }
        if matches!(slot.reading.value, Value::Count(_)) {
            return text
                .parse()
                .map(Self::Count)
                .map_err(|_| format!("`{text}` is no count. Accepted: a whole number"));
        }
        let mut lengths = Vec::new();
        for one in repeats(text) {
            let fault = |error: quantity::LengthTextError| {
                format!("{error}. Accepted: {}; repeats with commas or semicolons between them", error.accepted())
            };
            lengths.push(read_length(one, unit).map_err(fault)?);
        }
        Ok(if lengths.is_empty() { Self::Nothing } else { Self::Lengths(lengths) })
    }

    fn words(&self) -> String {
        match self {
            Self::Nothing => "nothing".to_owned(),
            Self::Count(count) => count.to_string(),
            Self::Lengths(lengths) => lengths.iter().map(words_of).collect::<Vec<_>>().join("; "),
        }
    }
}

fn words_of(one: &WrittenLength) -> String {
    if one.text() == one.digits() { format!("{} {}", one.text(), one.unit()) } else { one.text().to_owned() }
}

/// What the sheet says.
fn first_of(slot: &Slot) -> Keyed {
    match &slot.reading.value {
        Value::Count(count) => Keyed::Count(*count),
        Value::Length(lengths) => Keyed::Lengths(lengths.clone()),
    }
}

/// Whether two entries say the same. How a length is written makes no difference, its value does.
fn same(first: &Keyed, second: &Keyed) -> bool {
    match (first, second) {
        (Keyed::Lengths(first), Keyed::Lengths(second)) => {
            let close = |(one, other): (&WrittenLength, &WrittenLength)| {
                (one.value().millimetres() - other.value().millimetres()).abs() < 1e-9
            };
            first.len() == second.len() && first.iter().zip(second).all(close)
        }
        _ => first == second,
    }
}

/// Every slot where what was keyed differs from the sheet.
pub(super) fn differences(slots: &[Slot], entered: &[Keyed]) -> Vec<Difference> {
    slots
        .iter()
        .zip(entered)
        .enumerate()
        .filter(|(_, (slot, keyed))| !same(&first_of(slot), keyed))
        .map(|(at, (slot, keyed))| Difference {
            at,
            words: slot.words.clone(),
            first: first_of(slot).words(),
            second: keyed.words(),
            second_text: match keyed {
                Keyed::Nothing => String::new(),
                Keyed::Count(count) => count.to_string(),
                Keyed::Lengths(lengths) => {
                    lengths.iter().map(|one| one.text().to_owned()).collect::<Vec<_>>().join("; ")
                }
            },
        })
        .collect()
}
