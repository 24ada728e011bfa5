//! What somebody keyed into the readings of a paper, and where it differs from what was keyed first.

use axle::Value;
use quantity::{LengthExt, LengthUnit, WrittenLength, read_length};

use super::paper::{Slot, is_count};

/// What was keyed for one reading.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Keyed {
    /// The paper does not have it.
    Nothing,
    /// A count.
    Count(u32),
    /// A length with its repeats.
    Lengths(Vec<WrittenLength>),
}

/// The repeats of a reading as they were typed, between commas or semicolons, as on the page of the order.
pub(super) fn repeats(text: &str) -> impl Iterator<Item = &str> {
    text.split([';', ',']).map(str::trim).filter(|one| !one.is_empty())
}

impl Keyed {
    /// What a sheet says.
    pub fn of(value: &Value) -> Self {
        match value {
            Value::Count(count) => Self::Count(*count),
            Value::Length(lengths) => Self::Lengths(lengths.clone()),
        }
    }

    /// Reads what was typed.
    ///
    /// # Errors
    ///
    /// It is no count or length; the words say what would be accepted.
    pub fn read(text: &str, slot: &Slot, unit: Option<LengthUnit>) -> Result<Self, String> {
        if text.is_empty() {
            return Ok(Self::Nothing);
        }
        if is_count(slot) {
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

    /// In words, each length with its unit.
    pub fn words(&self) -> String {
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

/// Whether two entries say the same. How a length is written makes no difference, its value does.
pub(super) fn same(first: &Keyed, second: &Keyed) -> bool {
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

/// The places of the readings where what was keyed now differs from what was keyed first.
pub(super) fn differing(slots: &[Slot], entered: &[Keyed]) -> Vec<usize> {
    let differs = |(_, (slot, keyed)): &(usize, (&Slot, &Keyed))| !same(&slot.first(), keyed);
    slots.iter().zip(entered).enumerate().filter(differs).map(|(at, _)| at).collect()
}
