//! `orders.json` as an export writes it, read back.
//!
//! A field that is not known is a fault and not left out: what this program does not know it would lose.

use std::fmt::Display;
use std::path::Path;
use std::str::FromStr;

use axle::{DimensionKind, Side};
use jiff::Timestamp;
use jiff::civil::Date;
use quantity::{LengthExt, millimetres, read_length};
use serde::{Deserialize, Deserializer};
use serde_json::Value as Json;

use crate::digest::sha256;
use crate::error::BookError;
use crate::message::Direction;
use crate::order::Details;
use crate::picture::Picture;
use crate::reviewed::{MarkedCatalog, ReviewedSheet, nanometres};
use crate::state::State;
use crate::work_record::{Amount, KeptRecord, RecordKind, WorkRecord};

/// Reads a time or a date out of its text.
fn parsed<'de, D: Deserializer<'de>, T: FromStr<Err: Display>>(deserializer: D) -> Result<T, D::Error> {
    let text = String::deserialize(deserializer)?;
    text.parse().map_err(|error| serde::de::Error::custom(format!("`{text}`: {error}")))
}

/// A date that may be missing.
fn maybe_date<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<Date>, D::Error> {
    let text = Option::<String>::deserialize(deserializer)?;
    text.map(|text| text.parse().map_err(|error| serde::de::Error::custom(format!("`{text}`: {error}")))).transpose()
}

const ACCEPTED: &str = "orders.json as `axlewright book export` wrote it, with its folder of photos beside it";

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WholeExport {
    #[serde(deserialize_with = "parsed")]
    exported_at: Timestamp,
    orders: Vec<WrittenOrder>,
}

/// An order as it is written. What follows from the sheet (axle, verdict, chance, doubt) is read and then worked out anew.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenOrder {
    number: i64,
    reference: String,
    customer: String,
    contact: String,
    vehicle: String,
    #[serde(deserialize_with = "maybe_date")]
    due: Option<Date>,
    #[serde(rename = "axle")]
    _axle: String,
    state: String,
    #[serde(deserialize_with = "parsed")]
    state_since: Timestamp,
    revision: i64,
    approved_revision: Option<i64>,
    overruled: Option<String>,
    #[serde(rename = "verdict")]
    _verdict: String,
    #[serde(rename = "fit")]
    _fit: Option<f64>,
    #[serde(rename = "doubt")]
    _doubt: Option<String>,
    #[serde(deserialize_with = "parsed")]
    placed_at: Timestamp,
    placed_by: String,
    #[serde(deserialize_with = "parsed")]
    changed_at: Timestamp,
    revisions: Vec<WrittenRevision>,
    readings: Vec<WrittenChange>,
    messages: Vec<WrittenMessage>,
    photos: Vec<WrittenPhoto>,
    inspections: Vec<WrittenInspection>,
    /// Exports of earlier versions have none.
    #[serde(default)]
    records: Vec<WrittenRecord>,
    events: Vec<Json>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenRevision {
    revision: i64,
    base: i64,
    #[serde(deserialize_with = "parsed")]
    at: Timestamp,
    who: String,
    reason: String,
    customer: String,
    contact: String,
    vehicle: String,
    #[serde(deserialize_with = "maybe_date")]
    due: Option<Date>,
    sheet: String,
}

/// A value that a reading took.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct WrittenChange {
    pub revision: i64,
    pub measurand: String,
    pub side: String,
    pub was: Option<String>,
    pub becomes: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenMessage {
    #[serde(deserialize_with = "parsed")]
    at: Timestamp,
    who: String,
    direction: String,
    words: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenPhoto {
    file: String,
    #[serde(deserialize_with = "parsed")]
    at: Timestamp,
    who: String,
    name: String,
    caption: String,
    sha256: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenInspection {
    revision: i64,
    #[serde(deserialize_with = "parsed")]
    at: Timestamp,
    who: String,
    dimension: String,
    side: Option<String>,
    written: String,
    size_mm: f64,
    passed: bool,
}

/// Something that was written down beside the sizes; its amount is in mm or N.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenRecord {
    revision: i64,
    #[serde(deserialize_with = "parsed")]
    at: Timestamp,
    who: String,
    kind: String,
    side: Option<String>,
    written: String,
    amount: Option<f64>,
    pin_mm: Option<f64>,
    passed: Option<bool>,
}

/// An order out of an export, looked over and reviewed, ready to be taken over.
#[derive(Debug, Clone)]
pub struct ExportedOrder {
    pub(crate) exported_at: Timestamp,
    /// The number that it had in the other book.
    pub(crate) number: i64,
    pub(crate) state: State,
    pub(crate) state_since: Timestamp,
    pub(crate) approved_revision: Option<i64>,
    pub(crate) overruled: Option<String>,
    pub(crate) placed_at: Timestamp,
    pub(crate) placed_by: String,
    pub(crate) changed_at: Timestamp,
    /// The sheet of the last revision.
    pub(crate) reviewed: ReviewedSheet,
    pub(crate) revisions: Vec<crate::order::Revision>,
    pub(crate) readings: Vec<WrittenChange>,
    pub(crate) messages: Vec<crate::message::Message>,
    pub(crate) photos: Vec<ExportedPhoto>,
    pub(crate) inspections: Vec<ExportedInspection>,
    pub(crate) records: Vec<KeptRecord>,
    /// The log that the other book kept of the order, word for word.
    pub(crate) events: Vec<Json>,
}

#[derive(Debug, Clone)]
pub(crate) struct ExportedPhoto {
    pub at: Timestamp,
    pub who: String,
    pub name: String,
    pub caption: String,
    /// SHA-256 of the file in the export.
    pub digest: String,
    pub picture: Picture,
}

#[derive(Debug, Clone)]
pub(crate) struct ExportedInspection {
    pub revision: i64,
    pub at: Timestamp,
    pub who: String,
    pub kind: DimensionKind,
    pub side: Option<Side>,
    pub written: String,
    /// In nanometres.
    pub size: i64,
    pub passed: bool,
}

impl ExportedOrder {
    /// The reference of the order.
    #[must_use]
    pub fn reference(&self) -> &str {
        &self.reviewed.sheet.reference
    }

    /// The state that it had in the other book.
    #[must_use]
    pub fn state(&self) -> State {
        self.state
    }

    /// Whether its approval holds with the review of this catalog: `cut`, or `ask` that was overruled with a reason, for the
    /// revision that stands.
    pub(crate) fn approval_holds(&self) -> bool {
        use crate::judgement::Judgement;
        let last = self.revisions.last().map(|one| one.revision);
        self.approved_revision == last
            && match self.reviewed.summary.judgement {
                Judgement::Cut => true,
                Judgement::Ask => self.overruled.is_some(),
                Judgement::Stop | Judgement::Unreadable => false,
            }
    }
}

/// Reads `orders.json`, in the order of the old numbers. `name` stands in front of faults; `photo` gives the bytes of a file that
/// the export names, relative to its folder. Every sheet that stands is reviewed, which takes some milliseconds an order.
///
/// ```
/// let catalog = book::MarkedCatalog::new(catalog::Catalog::shipped()?);
/// let none = |_: &str| Err("no photos here".to_owned());
/// let refused = book::read_export("orders.json", b"{\"orders\": 5}", &catalog, none).unwrap_err();
/// assert!(refused[0].starts_with("orders.json:1:12: invalid type"), "{refused:?}");
/// # Ok::<(), placed::Faults>(())
/// ```
///
/// # Errors
///
/// The text is no export, the parts of an order do not fit together, a sheet cannot be read with the catalog, or a photo is
/// missing or not the one that was exported. Every fault is named with the order that it is in.
pub fn read_export(
    name: &str,
    bytes: &[u8],
    catalog: &MarkedCatalog,
    mut photo: impl FnMut(&str) -> Result<Vec<u8>, String>,
) -> Result<Vec<ExportedOrder>, Vec<String>> {
    let export: WholeExport = serde_json::from_slice(bytes).map_err(|error| {
        let words = error.to_string();
        // The place stands in front, as everywhere else.
        let words = words.split(" at line ").next().unwrap_or(&words).to_owned();
        vec![format!("{name}:{}:{}: {words}\n  accepted: {ACCEPTED}", error.line(), error.column())]
    })?;
    let mut orders = Vec::with_capacity(export.orders.len());
    let mut faults = Vec::new();
    for written in export.orders {
        match whole(name, export.exported_at, written, catalog, &mut photo) {
            Ok(order) => orders.push(order),
            Err(fault) => faults.push(fault),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    orders.sort_by_key(|order| order.number);
    Ok(orders)
}

/// Looks an order over and makes it whole.
fn whole(
    name: &str,
    exported_at: Timestamp,
    written: WrittenOrder,
    catalog: &MarkedCatalog,
    photo: &mut impl FnMut(&str) -> Result<Vec<u8>, String>,
) -> Result<ExportedOrder, String> {
    let place = format!("{name}, order {}", written.reference);
    let refuse = |problem: &str, accepted: &str| format!("{place}: {problem}\n  accepted: {accepted}");
    let broken = |problem: &str| refuse(problem, ACCEPTED);
    let in_words = |error: BookError| format!("{place}: {error}");

    let counted = written.revisions.iter().zip(1..).all(|(one, number)| one.revision == number && one.base < number);
    let last = written.revisions.last().filter(|last| counted && last.revision == written.revision);
    let Some(last) = last else { return Err(broken("its revisions are not counted from 1 to the one that stands")) };
    let reviewed = ReviewedSheet::read(&format!("{place}, revision {}", last.revision), &last.sheet, catalog).map_err(
        |error| format!("{error}\n  An order is taken over with a catalog that can read its sheet; --catalog names it"),
    )?;
    let beside = (&last.customer, &last.contact, &last.vehicle, last.due);
    if reviewed.sheet.reference != written.reference
        || beside != (&written.customer, &written.contact, &written.vehicle, written.due)
    {
        return Err(broken("its head is not that of its last revision"));
    }
    let known = |revision: i64| (1..=written.revision).contains(&revision);
    if !written.readings.iter().all(|one| known(one.revision))
        || !written.inspections.iter().all(|one| known(one.revision))
        || !written.records.iter().all(|one| known(one.revision))
        || !written.approved_revision.is_none_or(known)
    {
        return Err(broken("it speaks of a revision that it does not have"));
    }

    let mut messages = Vec::with_capacity(written.messages.len());
    for one in written.messages {
        let direction = Direction::read(&one.direction).map_err(in_words)?;
        messages.push(crate::message::Message { number: 0, at: one.at, who: one.who, direction, words: one.words });
    }
    let mut photos = Vec::with_capacity(written.photos.len());
    for one in written.photos {
        if Path::new(&one.file).components().any(|part| !matches!(part, std::path::Component::Normal(_))) {
            return Err(refuse(&format!("the photo `{}` lies outside the export", one.file), ACCEPTED));
        }
        let bytes =
            photo(&one.file).map_err(|problem| refuse(&format!("the photo {}: {problem}", one.file), ACCEPTED))?;
        if sha256(&bytes) != one.sha256 {
            return Err(broken(&format!("the photo {} is not the one that was exported", one.file)));
        }
        let picture = Picture::read(&bytes).map_err(|error| format!("{place}: the photo {}: {error}", one.file))?;
        let (at, who, name, caption, digest) = (one.at, one.who, one.name, one.caption, one.sha256);
        photos.push(ExportedPhoto { at, who, name, caption, digest, picture });
    }
    let mut inspections = Vec::with_capacity(written.inspections.len());
    for one in written.inspections {
        let kind = DimensionKind::from_key(&one.dimension)
            .ok_or_else(|| broken(&format!("there is no dimension `{}`", one.dimension)))?;
        let side = side_of(one.side.as_deref()).map_err(|problem| broken(&problem))?;
        // A size that was written without its unit is told by the number beside it; one with its unit must agree with it.
        let size = nanometres(one.size_mm);
        let read = read_length(&one.written, None).ok().map(|read| nanometres(read.value().millimetres()));
        if read.is_some_and(|read| read != size) {
            return Err(broken(&format!("`{}` that was measured is not {} mm", one.written, one.size_mm)));
        }
        let (revision, at, who, passed) = (one.revision, one.at, one.who, one.passed);
        inspections.push(ExportedInspection { revision, at, who, kind, side, written: one.written, size, passed });
    }
    let mut records = Vec::with_capacity(written.records.len());
    for one in written.records {
        records.push(record_of(one).map_err(|problem| broken(&problem))?);
    }
    Ok(ExportedOrder {
        exported_at,
        number: written.number,
        state: State::read(&written.state).map_err(in_words)?,
        state_since: written.state_since,
        approved_revision: written.approved_revision,
        overruled: written.overruled,
        placed_at: written.placed_at,
        placed_by: written.placed_by,
        changed_at: written.changed_at,
        reviewed,
        revisions: written.revisions.into_iter().map(revision_of).collect(),
        readings: written.readings,
        messages,
        photos,
        inspections,
        records,
        events: written.events,
    })
}

fn side_of(words: Option<&str>) -> Result<Option<Side>, String> {
    let Some(words) = words.filter(|words| !words.is_empty()) else { return Ok(None) };
    let known = [Side::Left, Side::Right].into_iter().find(|side| side.words() == words);
    known.map(Some).ok_or_else(|| format!("there is no side `{words}`"))
}

fn record_of(one: WrittenRecord) -> Result<KeptRecord, String> {
    let kind = RecordKind::from_key(&one.kind).ok_or_else(|| format!("there is no record `{}`", one.kind))?;
    let amount = match (one.amount, one.pin_mm) {
        (Some(size), Some(pin)) => Amount::OverPins { size: millimetres(size), pin: millimetres(pin) },
        (Some(newtons), None) => Amount::Newtons(newtons),
        (None, _) => Amount::None,
    };
    let (written, passed) = (one.written, one.passed);
    let record = WorkRecord { kind, side: side_of(one.side.as_deref())?, written, amount, passed };
    record.must_be_whole().map_err(|error| error.to_string())?;
    Ok(KeptRecord { revision: one.revision, at: one.at, who: one.who, record })
}

fn revision_of(written: WrittenRevision) -> crate::order::Revision {
    crate::order::Revision {
        revision: written.revision,
        base: written.base,
        at: written.at,
        who: written.who,
        reason: written.reason,
        details: Details {
            customer: written.customer,
            contact: written.contact,
            vehicle: written.vehicle,
            due: written.due,
        },
        sheet: written.sheet,
    }
}
