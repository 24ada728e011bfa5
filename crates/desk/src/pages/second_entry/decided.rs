//! What the paper says of each difference, and the sheet that follows.

use axle::{Side, Value as Read};
use toml_edit::{Array, DocumentMut, Item, TableLike, Value};

use super::Compared;
use super::keyed::{self, Keyed, same};
use super::paper::{Now, Slot};
use crate::error::DeskError;
use crate::pages::order::CORRECTION;

/// What the paper says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Decision {
    /// What was keyed first.
    First,
    /// What was keyed now.
    Second,
    /// Nothing that can be read with certainty.
    Unclear,
}

impl Decision {
    /// Every decision.
    pub const ALL: [Self; 3] = [Self::First, Self::Second, Self::Unclear];

    /// The word in a form.
    pub fn key(self) -> &'static str {
        match self {
            Self::First => "first",
            Self::Second => "second",
            Self::Unclear => "unclear",
        }
    }
}

/// What was settled.
#[derive(Debug, Default)]
pub(super) struct Settled {
    /// The sheet that follows; none where it stays as it is.
    pub text: Option<String>,
    /// What changed, one reading each.
    pub changed: Vec<String>,
    /// Everything that was decided, one reading each.
    pub told: Vec<String>,
    /// What is to be asked, one reading each.
    pub questions: Vec<String>,
}

/// Reads the decisions out of a form.
///
/// # Errors
///
/// A difference is not decided, or the sheet does not hold its reading where it was found.
pub(super) fn decide<'f>(compared: &Compared, field: impl Fn(&str) -> &'f str) -> Result<Settled, DeskError> {
    let mut settled = Settled::default();
    let sheet = &compared.reviewed.order.sheet;
    let mut document: DocumentMut =
        sheet.parse().map_err(|error| DeskError::failed(format!("the sheet is no TOML any more: {error}")))?;
    // From the last to the first, so that taking one of several readings out does not move those before it.
    for &at in compared.differing.iter().rev() {
        let (slot, keyed) = (&compared.paper.slots[at], &compared.entered[at]);
        let (words, first, second) = (&slot.words, slot.first().words(), keyed.words());
        let word = field(&format!("decide{at}"));
        let decision = Decision::ALL.into_iter().find(|one| one.key() == word).ok_or_else(|| {
            let problem =
                if word.is_empty() { format!("{words} is not decided") } else { format!("`{word}` is no decision") };
            DeskError::refused(problem, "first, second or unclear for each difference")
        })?;
        match decision {
            Decision::First => settled.told.push(format!("{words}: the paper says {first}, as was keyed first")),
            Decision::Second => match &slot.now {
                Now::Same(nth) => {
                    put(&mut document, slot, *nth, keyed, field(&super::field_name(at)))?;
                    settled.changed.push(format!("{words} is {second} and not {first}"));
                    settled.told.push(format!("{words}: the paper says {second}, as was keyed second; the sheet follows"));
                }
                // Somebody had a reason to leave what the paper said; a slip that is found now does not undo that.
                Now::Changed(since) if same(&since.becomes, keyed) => settled.told.push(format!(
                    "{words}: the paper says {second}, as was keyed second; the order says so already, {}",
                    since.words()
                )),
                Now::Changed(since) => settled.told.push(format!(
                    "{words}: the paper says {second}, as was keyed second; the order was changed on purpose, {}, and stays so",
                    since.words()
                )),
            },
            Decision::Unclear => {
                settled.told.push(format!(
                    "{words}: the paper is unclear between {first} and {second}; the customer is to be asked"
                ));
                settled.questions.push(format!("{words}: is it {first} or {second}, or something else?"));
            }
        }
    }
    if settled.told.is_empty() {
        return Err(DeskError::refused("nothing differs, so there is nothing to settle", "the form of the page"));
    }
    settled.told.reverse();
    settled.changed.reverse();
    settled.questions.reverse();
    if !settled.changed.is_empty() {
        settled.text = Some(document.to_string());
    }
    Ok(settled)
}

/// Puts a value into the sheet, where the reading has its own, and leaves everything around it as it was written.
fn put(document: &mut DocumentMut, slot: &Slot, nth: usize, keyed: &Keyed, text: &str) -> Result<(), DeskError> {
    let lost = || DeskError::failed(format!("the sheet does not hold {} where it was read", slot.words));
    let section = slot.reading.side.map_or("shared", Side::words);
    let key = slot.reading.measurand.key();
    let table = document.get_mut(section).and_then(Item::as_table_like_mut).ok_or_else(lost)?;
    let fresh = value(slot, keyed, text);
    let Some(fresh) = fresh else { return take_out(table, key, nth).ok_or_else(lost) };
    let item = table.get_mut(key).ok_or_else(lost)?;
    let place: &mut Item = match item {
        Item::Value(Value::Array(array)) if array.get(nth).is_some_and(Value::is_inline_table) => {
            let one = array.get_mut(nth).and_then(Value::as_inline_table_mut).ok_or_else(lost)?;
            return put_described(one, fresh).ok_or_else(lost);
        }
        Item::Value(Value::InlineTable(one)) => return put_described(one, fresh).ok_or_else(lost),
        Item::Table(one) => return put_described(one, fresh).ok_or_else(lost),
        Item::ArrayOfTables(all) => {
            return all.get_mut(nth).and_then(|one| put_described(one, fresh)).ok_or_else(lost);
        }
        bare => bare,
    };
    replace(place.as_value_mut().ok_or_else(lost)?, fresh);
    Ok(())
}

/// Puts a value into a reading that says how it was taken. A correction was one of the value before, and goes with it.
fn put_described(reading: &mut dyn TableLike, fresh: Value) -> Option<()> {
    replace(reading.get_mut("value")?.as_value_mut()?, fresh);
    for key in CORRECTION {
        reading.remove(key);
    }
    Some(())
}

/// A value in place of another, with the blanks and comments that stood around it.
fn replace(old: &mut Value, mut fresh: Value) {
    *fresh.decor_mut() = old.decor().clone();
    *old = fresh;
}

/// What was keyed as a value of TOML; none where there is nothing.
fn value(slot: &Slot, keyed: &Keyed, text: &str) -> Option<Value> {
    match keyed {
        Keyed::Nothing => None,
        Keyed::Count(count) => Some(Value::from(i64::from(*count))),
        Keyed::Lengths(_) => {
            let parts: Vec<&str> = keyed::repeats(text).collect();
            match (parts.as_slice(), &slot.reading.value) {
                ([one], Read::Length(_)) => Some(Value::from(*one)),
                _ => Some(Value::Array(parts.into_iter().collect::<Array>())),
            }
        }
    }
}

/// Takes a reading out that the paper does not have.
fn take_out(table: &mut dyn TableLike, key: &str, nth: usize) -> Option<()> {
    match table.get_mut(key)? {
        Item::Value(Value::Array(array)) if array.len() > 1 && array.get(nth).is_some_and(Value::is_inline_table) => {
            array.remove(nth);
        }
        Item::ArrayOfTables(all) if all.len() > 1 => {
            all.remove(nth);
        }
        _ => {
            table.remove(key)?;
        }
    }
    Some(())
}
