//! What the floor writes down beside the sizes of a shaft: which heat the steel is of, what its spline measures over pins, and what
//! bearing and lock ring took to press on.

use axle::Side;
use jiff::Timestamp;
use quantity::{Length, LengthExt, millimetres};
use serde_json::{Value as Json, json};

use crate::Book;
use crate::database::{Row, Transaction, Value};
use crate::error::BookError;
use crate::placing::{LONGEST_WORDS, must_be_short};
use crate::reviewed::nanometres;

/// What is written down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum RecordKind {
    /// The heat number of the steel.
    HeatNumber,
    /// The size of the spline over two pins.
    SizeOverPins,
    /// The force that the bearing took to press on.
    BearingPressForce,
    /// The force that the lock ring took to press on.
    RingPressForce,
}

impl RecordKind {
    /// Every kind, in the order of the work.
    pub const ALL: [Self; 4] = [Self::HeatNumber, Self::SizeOverPins, Self::BearingPressForce, Self::RingPressForce];

    /// The key by which files and databases name it.
    ///
    /// ```
    /// use book::RecordKind;
    ///
    /// assert_eq!(RecordKind::HeatNumber.key(), "heat_number");
    /// assert_eq!(RecordKind::from_key("heat_number"), Some(RecordKind::HeatNumber));
    /// ```
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::HeatNumber => "heat_number",
            Self::SizeOverPins => "size_over_pins",
            Self::BearingPressForce => "bearing_press_force",
            Self::RingPressForce => "ring_press_force",
        }
    }

    /// What it is called in a sentence.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::HeatNumber => "heat number of the steel",
            Self::SizeOverPins => "spline over two pins",
            Self::BearingPressForce => "press force of the bearing",
            Self::RingPressForce => "press force of the lock ring",
        }
    }

    /// The kind that a key names.
    #[must_use]
    pub fn from_key(text: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.key() == text)
    }
}

/// How much of it there is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// A size, with the pins that it was measured over.
    OverPins {
        /// The size.
        size: Length,
        /// The diameter of the pins.
        pin: Length,
    },
    /// A force in newtons.
    Newtons(f64),
    /// Nothing that can be counted: a heat number.
    None,
}

/// One thing that is written down.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkRecord {
    /// What.
    pub kind: RecordKind,
    /// Of which shaft; none where it is of all of them.
    pub side: Option<Side>,
    /// As it was written.
    pub written: String,
    /// What that is.
    pub amount: Amount,
    /// Whether it is as the review asks; none where the review asks nothing, or it cannot be held against that.
    pub passed: Option<bool>,
}

/// What was written down, as the book keeps it.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptRecord {
    /// The revision that was made.
    pub revision: i64,
    /// When it was written down.
    pub at: Timestamp,
    /// By whom.
    pub who: String,
    /// What.
    pub record: WorkRecord,
}

/// The columns of the table.
pub(crate) const COLUMNS: &[&str] =
    &["order_number", "position", "revision", "at", "who", "kind", "side", "written", "amount", "pin", "passed"];

/// Newtons in whole thousandths.
#[expect(clippy::cast_possible_truncation, reason = "a press has some 10^6 N, an i64 holds 10^18")]
fn millinewtons(newtons: f64) -> i64 {
    (newtons * 1e3).round() as i64
}

impl WorkRecord {
    /// Refuses what cannot be kept.
    pub(crate) fn must_be_whole(&self) -> Result<(), BookError> {
        must_be_short(self.kind.words(), &self.written, LONGEST_WORDS)?;
        let fits = match (self.kind, self.amount) {
            (RecordKind::HeatNumber, Amount::None) => true,
            (RecordKind::SizeOverPins, Amount::OverPins { size, pin }) => size > pin && pin > millimetres(0.0),
            (RecordKind::BearingPressForce | RecordKind::RingPressForce, Amount::Newtons(newtons)) => {
                newtons.is_finite() && newtons > 0.0
            }
            _ => false,
        };
        if fits && !self.written.trim().is_empty() {
            return Ok(());
        }
        Err(BookError::refused(
            format!("`{}` is no {}", self.written, self.kind.words()),
            "a heat number as words, a size that is larger than its pins, or a force above nought",
        ))
    }

    /// The row of the table after its first two columns.
    pub(crate) fn row(&self, order: i64, position: i64, revision: i64, at: Timestamp, who: &str) -> Vec<Value> {
        let (amount, pin) = match self.amount {
            Amount::None => (None, None),
            Amount::Newtons(newtons) => (Some(millinewtons(newtons)), None),
            Amount::OverPins { size, pin } => {
                (Some(nanometres(size.millimetres())), Some(nanometres(pin.millimetres())))
            }
        };
        vec![
            order.into(),
            position.into(),
            revision.into(),
            at.into(),
            who.into(),
            self.kind.key().into(),
            self.side.map_or("", Side::words).into(),
            (&self.written).into(),
            amount.into(),
            pin.into(),
            self.passed.map(i64::from).into(),
        ]
    }

    /// How an event tells of it.
    pub(crate) fn told(&self) -> Json {
        let pin = match self.amount {
            Amount::OverPins { pin, .. } => Some(pin.millimetres()),
            _ => None,
        };
        json!({
            "kind": self.kind.key(),
            "side": self.side.map_or("", Side::words),
            "written": self.written,
            "pin_mm": pin,
            "passed": self.passed,
        })
    }
}

#[expect(clippy::cast_precision_loss, reason = "an f64 holds the nanometres and millinewtons of any shaft exactly")]
fn kept(row: &Row) -> Result<KeptRecord, BookError> {
    let key = row.text(3)?;
    let kind = RecordKind::from_key(&key)
        .ok_or_else(|| BookError::Unexpected { problem: format!("a record of the kind `{key}`") })?;
    let side = row.text(4)?;
    let (amount, pin) = (row.maybe_integer(6)?, row.maybe_integer(7)?);
    let amount = match (kind, amount, pin) {
        (RecordKind::HeatNumber, _, _) => Amount::None,
        (RecordKind::SizeOverPins, Some(size), Some(pin)) => {
            Amount::OverPins { size: millimetres(size as f64 / 1e6), pin: millimetres(pin as f64 / 1e6) }
        }
        (RecordKind::BearingPressForce | RecordKind::RingPressForce, Some(force), _) => {
            Amount::Newtons(force as f64 / 1e3)
        }
        _ => return Err(BookError::Unexpected { problem: format!("a record `{key}` without its amount") }),
    };
    Ok(KeptRecord {
        revision: row.integer(0)?,
        at: row.time(1)?,
        who: row.text(2)?,
        record: WorkRecord {
            kind,
            side: [Side::Left, Side::Right].into_iter().find(|one| one.words() == side),
            written: row.text(5)?,
            amount,
            passed: row.maybe_integer(8)?.map(|passed| passed != 0),
        },
    })
}

/// Writes what was written down; gives back the position of the first.
pub(crate) async fn write(
    transaction: &mut Transaction,
    order: i64,
    revision: i64,
    records: &[WorkRecord],
    who: &str,
    now: Timestamp,
) -> Result<i64, BookError> {
    let row = transaction
        .row("SELECT COALESCE(MAX(position), 0) FROM work_record WHERE order_number = $1", &[order.into()])
        .await?;
    let first = row.map_or(Ok(0), |row| row.integer(0))? + 1;
    let rows: Vec<Vec<Value>> =
        records.iter().zip(first..).map(|(record, position)| record.row(order, position, revision, now, who)).collect();
    transaction.insert("work_record", COLUMNS, &rows).await?;
    Ok(first)
}

impl Book {
    /// What the floor wrote down beside the sizes of an order, the first first.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn work_records(&self, order: i64) -> Result<Vec<KeptRecord>, BookError> {
        let rows = self
            .database
            .rows(
                "SELECT revision, at, who, kind, side, written, amount, pin, passed FROM work_record \
                 WHERE order_number = $1 ORDER BY position",
                &[order.into()],
            )
            .await?;
        rows.iter().map(kept).collect()
    }
}
