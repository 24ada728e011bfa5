//! The paper that is entered a second time: what somebody keyed from it first, and what the order came to say on purpose since then.
//!
//! The second entry is held against the first keying and not against the order as it stands: a value that was changed later, for a
//! reason, is no slip of the first hand.

use axle::{Reading, Side, Value};
use book::Revision;
use catalog::Catalog;
use quantity::{LengthExt, LengthUnit};

use super::keyed::{Keyed, same};
use crate::desk::Desk;
use crate::error::DeskError;
use crate::pages::order::place_on_the_form;
use crate::pages::order_leaf::ReviewedOrder;
use crate::words::pin_size;

/// A paper that was keyed into the order.
pub(super) struct Paper {
    /// The revision that keyed it.
    pub revision: Revision,
    /// The unit of what is written without one.
    pub unit: Option<LengthUnit>,
    /// The readings that were keyed from it.
    pub slots: Vec<Slot>,
    /// The other revisions that keyed readings.
    pub others: Vec<Revision>,
}

/// One reading that was keyed from the paper.
#[derive(Debug, Clone)]
pub(super) struct Slot {
    /// Its name with its side.
    pub words: String,
    /// The reading as it was keyed first.
    pub reading: Reading,
    /// What became of it.
    pub now: Now,
}

/// What became of a reading after it was keyed.
#[derive(Debug, Clone)]
pub(super) enum Now {
    /// The order says the same; the reading is this one of those of the same thing on the same side.
    Same(usize),
    /// A later revision changed it on purpose.
    Changed(Since),
}

/// A change on purpose.
#[derive(Debug, Clone)]
pub(super) struct Since {
    pub revision: i64,
    pub who: String,
    pub reason: String,
    /// What the order says now.
    pub becomes: Keyed,
}

impl Since {
    /// `27 7/16" since revision 2 (Wenna Tarrow: read again)`.
    pub fn words(&self) -> String {
        let what = match &self.becomes {
            Keyed::Nothing => "taken out".to_owned(),
            other => other.words(),
        };
        format!("{what} since revision {} ({}: {})", self.revision, self.who, self.reason.trim_end_matches('.'))
    }
}

impl Slot {
    /// What was keyed first.
    pub fn first(&self) -> Keyed {
        Keyed::of(&self.reading.value)
    }

    /// The change on purpose, where there was one.
    pub fn since(&self) -> Option<&Since> {
        match &self.now {
            Now::Same(_) => None,
            Now::Changed(since) => Some(since),
        }
    }
}

impl Paper {
    /// The paper that a revision keyed.
    ///
    /// # Errors
    ///
    /// There is no such revision, it keyed no reading, or its sheet can no longer be read.
    pub async fn of(desk: &Desk, reviewed: &ReviewedOrder, keyed: i64) -> Result<Self, DeskError> {
        let line = &reviewed.order.line;
        let catalog = reviewed.catalog.catalog();
        let mut revisions = desk.book().revisions(line.number).await?;
        let readings: Vec<Option<Vec<Reading>>> = revisions
            .iter()
            .map(|one| axle::read_sheet(&line.reference, &one.sheet, catalog).ok().map(|sheet| sheet.readings))
            .collect();
        let place = revisions.iter().position(|one| one.revision == keyed);
        let Some(place) = place else { return Err(DeskError::none(format!("revision {keyed} of {}", line.reference))) };
        let sheet =
            axle::read_sheet(&line.reference, &revisions[place].sheet, catalog).map_err(book::BookError::from)?;
        let keyed_then = keyed_with(&readings, place);
        if keyed_then.is_empty() {
            return Err(DeskError::refused(
                format!("revision {keyed} keyed no reading"),
                "a revision that brought readings in or changed them",
            ));
        }
        let standing = &reviewed.reviewed.sheet.readings;
        let slots = keyed_then
            .into_iter()
            .map(|at| Slot {
                words: words(&sheet.readings, at, catalog),
                reading: sheet.readings[at].clone(),
                now: now(&sheet.readings, at, standing, &readings[place + 1..], &revisions[place + 1..]),
            })
            .collect();
        let unit = sheet.unit;
        let keys: Vec<bool> = (0..revisions.len()).map(|at| !keyed_with(&readings, at).is_empty()).collect();
        let revision = revisions[place].clone();
        let mut at = 0..;
        revisions.retain(|one| at.next().is_some_and(|at: usize| keys[at]) && one.revision != keyed);
        Ok(Self { revision, unit, slots, others: revisions })
    }

    /// The places of the readings in the order of the form that they were keyed into first; readings of one thing stay as the
    /// sheet has them.
    pub fn as_on_the_form(&self) -> Vec<usize> {
        let mut places: Vec<usize> = (0..self.slots.len()).collect();
        places.sort_by_key(|&at| {
            let reading = &self.slots[at].reading;
            (place_on_the_form(reading.measurand), reading.side.map(Side::words))
        });
        places
    }

    /// Every change on purpose, one reading each.
    pub fn changed_since(&self) -> impl Iterator<Item = (&Slot, &Since)> {
        self.slots.iter().filter_map(|slot| slot.since().map(|since| (slot, since)))
    }
}

/// Whether both are readings of the same thing.
fn alike(one: &Reading, other: &Reading) -> bool {
    let pin = |reading: &Reading| reading.pin_diameter.map(|pin| (pin.millimetres() * 1e6).round());
    one.measurand == other.measurand && one.side == other.side && pin(one) == pin(other)
}

fn says_the_same(one: &Reading, other: &Reading) -> bool {
    alike(one, other) && same(&Keyed::of(&one.value), &Keyed::of(&other.value))
}

/// Which one it is of the readings of the same thing on the same side.
fn nth(readings: &[Reading], at: usize) -> usize {
    let of = &readings[at];
    readings[..at].iter().filter(|one| one.measurand == of.measurand && one.side == of.side).count()
}

/// The places of the readings that a revision keyed: all of the first one, and of a later one those that were not there before.
fn keyed_with(readings: &[Option<Vec<Reading>>], place: usize) -> Vec<usize> {
    let Some(Some(of)) = readings.get(place) else { return Vec::new() };
    let before = readings[..place].last().and_then(Option::as_ref);
    let is_new = |one: &Reading| before.is_none_or(|before| !before.iter().any(|old| says_the_same(old, one)));
    of.iter().enumerate().filter(|(_, one)| is_new(one)).map(|(at, _)| at).collect()
}

/// What became of a reading, and with which of the later revisions.
fn now(
    keyed: &[Reading],
    at: usize,
    standing: &[Reading],
    later: &[Option<Vec<Reading>>],
    revisions: &[Revision],
) -> Now {
    let reading = &keyed[at];
    if let Some(at) = standing.iter().position(|one| says_the_same(one, reading)) {
        return Now::Same(nth(standing, at));
    }
    let nth_alike = keyed[..at].iter().filter(|one| alike(one, reading)).count();
    let value = |readings: &[Reading]| {
        let mut alike = readings.iter().filter(|one| alike(one, reading)).map(|one| Keyed::of(&one.value));
        alike.nth(nth_alike).unwrap_or(Keyed::Nothing)
    };
    let becomes = value(standing);
    // The first of those revisions at the end that all say what the order says now.
    let stands = |one: &Option<Vec<Reading>>| one.as_ref().is_none_or(|readings| same(&value(readings), &becomes));
    let agreeing = later.iter().rev().take_while(|one| stands(one)).count();
    let by = revisions.get(revisions.len().saturating_sub(agreeing.max(1)));
    Now::Changed(Since {
        revision: by.map_or(0, |by| by.revision),
        who: by.map_or_else(String::new, |by| by.who.clone()),
        reason: by.map_or_else(String::new, |by| by.reason.clone()),
        becomes,
    })
}

/// The name of a slot: `left overall length, reading 2`.
fn words(readings: &[Reading], at: usize, catalog: &Catalog) -> String {
    let reading = &readings[at];
    let same = |one: &&Reading| one.measurand == reading.measurand && one.side == reading.side;
    let side = reading.side.map(|side| format!("{} ", Side::words(side))).unwrap_or_default();
    let several = readings.iter().filter(same).count() > 1;
    let more = if several { format!(", reading {}", nth(readings, at) + 1) } else { String::new() };
    let inches_first =
        !matches!(&reading.value, Value::Length(all) if all.iter().any(|one| one.unit() != LengthUnit::Inch));
    let pins = reading.pin_diameter.map(|pin| format!(", pins {}", pin_size(pin, inches_first))).unwrap_or_default();
    format!("{side}{}{more}{pins}", catalog.measurand(reading.measurand).words)
}

/// Whether a reading is a count.
pub(super) fn is_count(slot: &Slot) -> bool {
    matches!(slot.reading.value, Value::Count(_))
}
