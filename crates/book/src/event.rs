//! The log: everything that happens, one event after the other, each chained to the one before it.
//!
//! ```text
//! hash of event n = SHA-256( hash of event n-1, 32 bytes, then the fields of event n )
//! ```
//!
//! Each field is written as its length in bytes in decimal digits, a colon and the bytes, so that no two events have the same
//! bytes. The fields are: sequence, time in microseconds since 1970 in UTC, who, kind, number of the order or nothing, body.
//! The first event follows on 32 bytes of nought.

use jiff::Timestamp;
use serde_json::Value as Json;
use sha2::{Digest, Sha256};

use crate::database::{Row, Transaction};
use crate::digest::hexadecimal;
use crate::error::BookError;
use crate::person::Person;

/// What an event can be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each variant says what its name says")]
pub enum EventKind {
    Placed,
    Revised,
    Moved,
    Message,
    Photo,
    Reviewed,
    Inspected,
    AccountMade,
    AccountChanged,
    TokenMade,
    TokenRevoked,
    RereviewBegun,
    RereviewFinished,
    Restored,
    TakenOver,
    CatalogKept,
    CatalogChanged,
}

impl EventKind {
    /// Every kind.
    pub const ALL: [Self; 17] = [
        Self::Placed,
        Self::Revised,
        Self::Moved,
        Self::Message,
        Self::Photo,
        Self::Reviewed,
        Self::Inspected,
        Self::AccountMade,
        Self::AccountChanged,
        Self::TokenMade,
        Self::TokenRevoked,
        Self::RereviewBegun,
        Self::RereviewFinished,
        Self::Restored,
        Self::TakenOver,
        Self::CatalogKept,
        Self::CatalogChanged,
    ];

    /// The word that the log holds.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Placed => "placed",
            Self::Revised => "revised",
            Self::Moved => "moved",
            Self::Message => "message",
            Self::Photo => "photo",
            Self::Reviewed => "reviewed",
            Self::Inspected => "inspected",
            Self::AccountMade => "account made",
            Self::AccountChanged => "account changed",
            Self::TokenMade => "token made",
            Self::TokenRevoked => "token revoked",
            Self::RereviewBegun => "re-review begun",
            Self::RereviewFinished => "re-review finished",
            Self::Restored => "restored",
            Self::TakenOver => "taken over",
            Self::CatalogKept => "catalog kept",
            Self::CatalogChanged => "catalog changed",
        }
    }

    fn read(word: &str) -> Result<Self, BookError> {
        Self::ALL
            .into_iter()
            .find(|kind| kind.words() == word)
            .ok_or_else(|| BookError::Unexpected { problem: format!("an event of the kind `{word}`") })
    }
}

/// One event of the log.
#[derive(Debug, Clone, PartialEq)]
pub struct Event {
    /// Its place in the log, counted from one.
    pub sequence: i64,
    /// When.
    pub at: Timestamp,
    /// Who.
    pub who: String,
    /// What happened.
    pub kind: EventKind,
    /// To which order.
    pub order: Option<i64>,
    /// The particulars, as JSON.
    pub body: Json,
    /// The hash that chains it to the one before.
    pub hash: String,
}

/// The columns of an event, as [`Event::of_row`] reads them.
pub(crate) const EVENT_COLUMNS: &str = "sequence, at, who, kind, order_number, body, hash";

impl Event {
    pub(crate) fn of_row(row: &Row) -> Result<Self, BookError> {
        let body = row.text(5)?;
        Ok(Self {
            sequence: row.integer(0)?,
            at: row.time(1)?,
            who: row.text(2)?,
            kind: EventKind::read(&row.text(3)?)?,
            order: row.maybe_integer(4)?,
            body: serde_json::from_str(&body)
                .map_err(|error| BookError::Unexpected { problem: format!("an event that is no JSON: {error}") })?,
            hash: row.text(6)?,
        })
    }
}

/// The fields of an event as they are hashed.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Fields<'a> {
    pub sequence: i64,
    pub at_microseconds: i64,
    pub who: &'a str,
    pub kind: &'a str,
    pub order: Option<i64>,
    pub body: &'a str,
}

/// The hash that stands before the first event.
pub(crate) const BEGINNING: &str = "0000000000000000000000000000000000000000000000000000000000000000";

/// The hash of an event, as the header of this file gives it.
pub(crate) fn chained(previous: &str, fields: &Fields) -> String {
    let mut hasher = Sha256::new();
    hasher.update(from_hexadecimal(previous));
    let order = fields.order.map(|number| number.to_string()).unwrap_or_default();
    for field in [
        fields.sequence.to_string().as_str(),
        fields.at_microseconds.to_string().as_str(),
        fields.who,
        fields.kind,
        order.as_str(),
        fields.body,
    ] {
        hasher.update(field.len().to_string().as_bytes());
        hasher.update(b":");
        hasher.update(field.as_bytes());
    }
    hexadecimal(&hasher.finalize())
}

/// The bytes that hexadecimal digits stand for. A text that is none, which only a changed book can hold, stands for itself; the
/// chain is broken there either way.
fn from_hexadecimal(text: &str) -> Vec<u8> {
    let digits = text.as_bytes();
    let pairs = digits.chunks(2).map(|pair| {
        let pair = std::str::from_utf8(pair).ok()?;
        if pair.len() == 2 { u8::from_str_radix(pair, 16).ok() } else { None }
    });
    pairs.collect::<Option<Vec<u8>>>().unwrap_or_else(|| digits.to_vec())
}

/// Appends an event. This is the first thing that a change does: it takes the end of the log, so that whoever writes at the
/// same time waits here, and what is read afterwards cannot change under the writer.
#[derive(Debug)]
pub(crate) struct LogEnd {
    sequence: i64,
    hash: String,
}

impl LogEnd {
    /// Takes the end of the log.
    pub async fn take(transaction: &mut Transaction) -> Result<Self, BookError> {
        let row = transaction
            .row("UPDATE log_end SET sequence = sequence WHERE one = 1 RETURNING sequence, hash", &[])
            .await?
            .ok_or_else(|| BookError::Unexpected { problem: "no end of the log".to_owned() })?;
        Ok(Self { sequence: row.integer(0)?, hash: row.text(1)? })
    }

    /// Appends an event behind it.
    pub async fn append(
        &mut self,
        transaction: &mut Transaction,
        at: Timestamp,
        who: &Person,
        kind: EventKind,
        order: Option<i64>,
        body: &Json,
    ) -> Result<(), BookError> {
        let body = body.to_string();
        let sequence = self.sequence + 1;
        let fields = Fields {
            sequence,
            at_microseconds: at.as_microsecond(),
            who: &who.name,
            kind: kind.words(),
            order,
            body: &body,
        };
        let hash = chained(&self.hash, &fields);
        transaction
            .write(
                "INSERT INTO event (sequence, at, who, kind, order_number, body, hash) VALUES ($1, $2, $3, $4, $5, $6, $7)",
                &[
                    sequence.into(),
                    at.into(),
                    (&who.name).into(),
                    kind.words().into(),
                    order.into(),
                    body.into(),
                    (&hash).into(),
                ],
            )
            .await?;
        transaction
            .write("UPDATE log_end SET sequence = $1, hash = $2 WHERE one = 1", &[sequence.into(), (&hash).into()])
            .await?;
        self.sequence = sequence;
        self.hash = hash;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::{BEGINNING, Fields, chained};

    /// The hash is that of Python's `hashlib.sha256(bytes(32) + b'1:1' b'1:5' b'2:ab' b'1:c' b'0:' b'2:{}')`.
    #[test]
    fn a_field_cannot_pass_for_its_neighbour() {
        let one = Fields { sequence: 1, at_microseconds: 5, who: "ab", kind: "c", order: None, body: "{}" };
        let other = Fields { who: "a", kind: "bc", ..one };
        assert_ne!(chained(BEGINNING, &one), chained(BEGINNING, &other));
        assert_eq!(chained(BEGINNING, &one), "a80be495b8fc941ed1830d34968f8ec824a5f0aadd94bd380736bb85d5283f16");
    }
}
