//! Walks the whole log and holds the book against it.

use std::fmt;
use std::sync::Arc;

use serde_json::Value as Json;

use crate::Book;
use crate::database::{Apart, Row, Transaction};
use crate::digest::sha256;
use crate::error::BookError;
use crate::event::{BEGINNING, EventKind, Fields, chained};
use crate::takeover;

/// So many rows are held at a time, and read before the check gives way again.
const PAGE: i64 = 50;
/// So many faults are listed; where one thing is broken, much follows from it.
const MOST_FAULTS: usize = 50;

/// What is said of an order that the log tells of and the table does not hold.
const GONE: &str = "is gone, and there was no way to remove it";

/// Something that is not as the log says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BookFault {
    /// Where: `event 17`, `order 4, revision 2`.
    pub place: String,
    /// What is wrong.
    pub problem: String,
}

impl fmt::Display for BookFault {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}: {}", self.place, self.problem)
    }
}

/// What a check found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BookCheck {
    /// How many events the log holds.
    pub events: i64,
    /// The hash of the last one: the end of the chain. Kept elsewhere, it shows later that nothing before it was changed.
    pub end: String,
    /// How many orders, revisions, messages and photos were held against it.
    pub orders: i64,
    /// Revisions.
    pub revisions: i64,
    /// Messages.
    pub messages: i64,
    /// Photos.
    pub photos: i64,
    /// Sizes that were measured, and what was written down beside them.
    pub measurements: i64,
    /// Orders that the log tells of.
    pub(crate) placed: i64,
    /// What is not as it should be, the first break of the chain first; empty where all is well.
    pub faults: Vec<BookFault>,
}

impl BookCheck {
    /// Whether nothing is wrong.
    #[must_use]
    pub fn is_sound(&self) -> bool {
        self.faults.is_empty()
    }

    pub(crate) fn fault(&mut self, place: impl Into<String>, problem: impl Into<String>) {
        if self.faults.len() < MOST_FAULTS {
            self.faults.push(BookFault { place: place.into(), problem: problem.into() });
        }
    }
}

/// The end of the chain as somebody kept it elsewhere.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeptEnd {
    /// How many events there were.
    pub events: i64,
    /// The hash of the last one.
    pub hash: String,
}

impl KeptEnd {
    /// Reads an end as a check prints it: `1234:` and 64 hexadecimal digits.
    ///
    /// ```
    /// let hash = "ab".repeat(32);
    /// assert_eq!(book::KeptEnd::read(&format!("12:{hash}")).unwrap(), book::KeptEnd { events: 12, hash });
    /// assert!(book::KeptEnd::read("12").is_err());
    /// ```
    ///
    /// # Errors
    ///
    /// The text is none.
    pub fn read(text: &str) -> Result<Self, BookError> {
        text.split_once(':')
            .filter(|(_, hash)| hash.len() == 64 && hash.bytes().all(|one| one.is_ascii_hexdigit()))
            .and_then(|(events, hash)| Some(Self { events: events.parse().ok()?, hash: hash.to_lowercase() }))
            .ok_or_else(|| {
                BookError::refused(
                    format!("`{text}` is no end of a log"),
                    "the number of events, a colon and 64 hexadecimal digits",
                )
            })
    }
}

impl Book {
    /// Walks the log from its beginning, and holds every revision, message, photo and state against it. Where the end of the
    /// chain was kept elsewhere at some time, the log is held against that as well.
    ///
    /// What that proves: nothing was changed, removed or put in between by hand or by a damaged disk. Somebody who can write to the
    /// database and computes every later hash anew is only caught by an end that was kept elsewhere.
    ///
    /// # Errors
    ///
    /// The database refuses, or its pages are damaged.
    pub async fn check(&self, kept: Option<&KeptEnd>) -> Result<BookCheck, BookError> {
        self.check_giving_way(kept, || {}).await
    }

    /// Checks the same as [`Book::check`], in the background for as long as it takes. `give_way` is called again and again, on a
    /// thread that may be held up, before each small piece of the work: as long as it does not come back, the check rests. A check
    /// that nobody waits for any more ends with that piece.
    ///
    /// # Errors
    ///
    /// The database refuses, or its pages are damaged.
    pub async fn check_giving_way(
        &self,
        kept: Option<&KeptEnd>,
        give_way: impl Fn() + Send + Sync + 'static,
    ) -> Result<BookCheck, BookError> {
        let apart = self.database.read_apart(Arc::new(give_way)).await?;
        let outcome = self.checked(kept, &apart).await;
        apart.close().await;
        outcome
    }

    async fn checked(&self, kept: Option<&KeptEnd>, apart: &Apart) -> Result<BookCheck, BookError> {
        let mut check = BookCheck {
            events: 0,
            end: BEGINNING.to_owned(),
            orders: 0,
            revisions: 0,
            messages: 0,
            photos: 0,
            measurements: 0,
            placed: 0,
            faults: Vec::new(),
        };
        let mut transaction = apart.begin().await?;
        check_pages(&mut transaction, &mut check).await?;
        let broken = walk_events(apart, &mut transaction, &mut check, kept).await?;
        if !broken {
            check_end(&mut transaction, &mut check, kept).await?;
        }
        count_rows(&mut transaction, &mut check).await?;
        check_orders(apart, &mut transaction, &mut check).await?;
        Ok(check)
    }
}

/// SQLite can look over its own pages; PostgreSQL reports a damaged one when it is read.
async fn check_pages(transaction: &mut Transaction, check: &mut BookCheck) -> Result<(), BookError> {
    if transaction.is_postgres() {
        return Ok(());
    }
    for row in transaction.rows("PRAGMA integrity_check(10)", &[]).await? {
        let words = row.text(0)?;
        if words != "ok" {
            check.fault("the file", words);
        }
    }
    Ok(())
}

/// Walks the chain; says whether it is broken.
async fn walk_events(
    apart: &Apart,
    transaction: &mut Transaction,
    check: &mut BookCheck,
    kept: Option<&KeptEnd>,
) -> Result<bool, BookError> {
    loop {
        apart.give_way().await?;
        let rows = transaction
            .rows(
                "SELECT sequence, at, who, kind, order_number, body, hash FROM event WHERE sequence > $1 \
                 ORDER BY sequence LIMIT $2",
                &[check.events.into(), PAGE.into()],
            )
            .await?;
        if rows.is_empty() {
            return Ok(false);
        }
        for row in rows {
            let sequence = row.integer(0)?;
            if sequence != check.events + 1 {
                check.fault(format!("event {}", check.events + 1), "is missing from the log");
                return Ok(true);
            }
            let (who, kind, body) = (row.text(2)?, row.text(3)?, row.text(5)?);
            let order = row.maybe_integer(4)?;
            let fields =
                Fields { sequence, at_microseconds: row.integer(1)?, who: &who, kind: &kind, order, body: &body };
            let hash = chained(&check.end, &fields);
            if hash != row.text(6)? {
                check.fault(
                    format!("event {sequence}"),
                    format!("the chain breaks here: the event ({kind}, by {who}) or its hash was changed, or one before it was"),
                );
                return Ok(true);
            }
            check.events = sequence;
            check.end = hash;
            if kept.is_some_and(|kept| kept.events == sequence && kept.hash != check.end) {
                check.fault(
                    format!("event {sequence}"),
                    "its hash is not the one that was kept: the log was written anew up to here",
                );
                return Ok(true);
            }
            check_subject(transaction, check, &row, &kind, order, &body).await?;
        }
    }
}

/// Holds what an event speaks of against its own table.
async fn check_subject(
    transaction: &mut Transaction,
    check: &mut BookCheck,
    event: &Row,
    kind: &str,
    order: Option<i64>,
    body: &str,
) -> Result<(), BookError> {
    let Ok(body) = serde_json::from_str::<Json>(body) else { return Ok(()) };
    let (Some(order), at) = (order, event.integer(1)?) else { return Ok(()) };
    let text = |key: &str| body[key].as_str().unwrap_or_default().to_owned();
    if kind == EventKind::Placed.words() || kind == EventKind::TakenOver.words() {
        check.placed += 1;
    }
    if kind == EventKind::Placed.words() || kind == EventKind::Revised.words() {
        let revision = body["revision"].as_i64().unwrap_or(0);
        let place = format!("order {order}, revision {revision}");
        let row = transaction
            .row(
                "SELECT sheet, customer, contact, vehicle, reason, who, at, due FROM revision \
                 WHERE order_number = $1 AND revision = $2",
                &[order.into(), revision.into()],
            )
            .await?;
        let Some(row) = row else {
            check.fault(place, "is gone");
            return Ok(());
        };
        check.revisions += 1;
        if sha256(row.text(0)?.as_bytes()) != text("sheet_sha256") {
            check.fault(&place, "its sheet is not the one that was written");
        }
        let beside = [(1, "customer"), (2, "contact"), (3, "vehicle"), (4, "reason")];
        for (column, key) in beside {
            if row.text(column)? != text(key) {
                check.fault(&place, format!("its {key} is not the one that was written"));
            }
        }
        if row.text(5)? != event.text(2)?
            || row.integer(6)? != at
            || row.maybe_text(7)?.unwrap_or_default() != text("due")
        {
            check.fault(&place, "its author, its time or its date is not the one that was written");
        }
    } else if kind == EventKind::TakenOver.words() {
        takeover::check(transaction, check, order, &body).await?;
    } else if kind == EventKind::Inspected.words() {
        let first = |key: &str| body[key].as_i64().unwrap_or(1);
        let (who, revision) = (event.text(2)?, body["revision"].as_i64().unwrap_or(0));
        for (list, table, first) in
            [("sizes", "inspected_size", first("first")), ("records", "work_record", first("first_record"))]
        {
            for (told, position) in body[list].as_array().into_iter().flatten().zip(first..) {
                let by = Measured { order, revision, position, who: &who, at };
                check_measured(transaction, check, table, &by, told).await?;
            }
        }
    } else if kind == EventKind::Message.words() {
        let number = body["message"].as_i64().unwrap_or(0);
        let place = format!("message {number}");
        let row = transaction.row("SELECT words, direction FROM message WHERE number = $1", &[number.into()]).await?;
        match row {
            None => check.fault(place, "is gone"),
            Some(row) => {
                check.messages += 1;
                if sha256(row.text(0)?.as_bytes()) != text("sha256") || row.text(1)? != text("direction") {
                    check.fault(place, "is not the one that was written");
                }
            }
        }
    } else if kind == EventKind::Photo.words() {
        let number = body["photo"].as_i64().unwrap_or(0);
        let place = format!("photo {number}");
        let row =
            transaction.row("SELECT picture FROM photo_picture WHERE photo_number = $1", &[number.into()]).await?;
        match row {
            None => check.fault(place, "is gone"),
            Some(row) => {
                check.photos += 1;
                if sha256(&row.bytes(0)?) != text("sha256") {
                    check.fault(place, "is not the one that was sent");
                }
            }
        }
    }
    Ok(())
}

/// Whose measurement it is, and where it stands.
pub(crate) struct Measured<'t> {
    pub order: i64,
    pub revision: i64,
    pub position: i64,
    pub who: &'t str,
    /// In microseconds.
    pub at: i64,
}

/// Holds one size or record against what an event tells of it.
pub(crate) async fn check_measured(
    transaction: &mut Transaction,
    check: &mut BookCheck,
    table: &str,
    by: &Measured<'_>,
    told: &Json,
) -> Result<(), BookError> {
    check.measurements += 1;
    let row = transaction
        .row(
            &format!(
                "SELECT kind, side, written, passed, revision, who, at FROM {table} \
                 WHERE order_number = $1 AND position = $2"
            ),
            &[by.order.into(), by.position.into()],
        )
        .await?;
    let what = if table == "work_record" { "record" } else { "measured size" };
    let place = format!("order {}, {what} {}", by.order, by.position);
    let Some(row) = row else {
        check.fault(place, "is gone");
        return Ok(());
    };
    let said = |key: &str| told[key].as_str().unwrap_or_default();
    let same = row.text(0)? == said("kind")
        && row.text(1)? == said("side")
        && row.text(2)? == said("written")
        && row.maybe_integer(3)?.map(|passed| passed != 0) == told["passed"].as_bool()
        && row.integer(4)? == by.revision
        && row.text(5)? == by.who
        && row.integer(6)? == by.at;
    if !same {
        check.fault(place, "is not the one that was written");
    }
    Ok(())
}

/// The end that the book itself keeps, and the one that was kept elsewhere.
async fn check_end(
    transaction: &mut Transaction,
    check: &mut BookCheck,
    kept: Option<&KeptEnd>,
) -> Result<(), BookError> {
    let row = transaction.row("SELECT sequence, hash FROM log_end WHERE one = 1", &[]).await?;
    let end = row.map(|row| Ok::<_, BookError>((row.integer(0)?, row.text(1)?))).transpose()?;
    if end != Some((check.events, check.end.clone())) {
        check.fault(format!("event {}", check.events + 1), "the log ends too early: its last events are gone");
    }
    if let Some(kept) = kept
        && kept.events > check.events
    {
        check.fault(
            format!("event {}", check.events + 1),
            format!("the log ends here, but it had {} events when its end was kept", kept.events),
        );
    }
    Ok(())
}

/// What stands in a table without an event was put there by hand.
async fn count_rows(transaction: &mut Transaction, check: &mut BookCheck) -> Result<(), BookError> {
    if !check.faults.is_empty() {
        return Ok(());
    }
    let tables = [("revision", check.revisions), ("message", check.messages), ("photo", check.photos)];
    for (table, told) in tables {
        let row = transaction.row(&format!("SELECT COUNT(*) FROM {table}"), &[]).await?;
        let there = row.map_or(Ok(0), |row| row.integer(0))?;
        if there != told {
            check.fault(format!("the table {table}"), format!("holds {there} rows, the log tells of {told}"));
        }
    }
    let statement = "SELECT (SELECT COUNT(*) FROM inspected_size) + (SELECT COUNT(*) FROM work_record)";
    let there = transaction.row(statement, &[]).await?.map_or(Ok(0), |row| row.integer(0))?;
    if there != check.measurements {
        let words = format!("hold {there} rows, the log tells of {}", check.measurements);
        check.fault("the tables inspected_size and work_record", words);
    }
    Ok(())
}

/// The state and the revision of each order, against the last event of their kind.
async fn check_orders(apart: &Apart, transaction: &mut Transaction, check: &mut BookCheck) -> Result<(), BookError> {
    let mut behind = 0;
    let mut gap = false;
    loop {
        apart.give_way().await?;
        let rows = transaction
            .rows(
                "SELECT o.number, o.state, o.revision, \
                 (SELECT e.body FROM event e WHERE e.order_number = o.number AND e.kind IN ('moved', 'taken over') \
                  ORDER BY e.sequence DESC LIMIT 1), \
                 (SELECT MAX(r.revision) FROM revision r WHERE r.order_number = o.number) \
                 FROM orders o WHERE o.number > $1 ORDER BY o.number LIMIT $2",
                &[behind.into(), PAGE.into()],
            )
            .await?;
        let Some(last) = rows.last() else {
            if !gap && check.orders < check.placed {
                check.fault(format!("order {}", check.orders + 1), GONE);
            }
            return Ok(());
        };
        behind = last.integer(0)?;
        for row in &rows {
            check.orders += 1;
            let number = row.integer(0)?;
            let place = format!("order {number}");
            if number != check.orders {
                // Said once; every later number would be off by as much.
                if !gap {
                    check.fault(format!("order {}", check.orders), GONE);
                }
                gap = true;
            }
            let state = row.text(1)?;
            let told = match row.maybe_text(3)? {
                None => "received".to_owned(),
                Some(body) => serde_json::from_str::<Json>(&body)
                    .ok()
                    .and_then(|body| body["to"].as_str().or_else(|| body["state"].as_str()).map(str::to_owned))
                    .unwrap_or_default(),
            };
            if state != told {
                check.fault(&place, format!("is {state}, the log says {told}"));
            }
            if row.maybe_integer(4)? != Some(row.integer(2)?) {
                check.fault(&place, "does not stand at its last revision");
            }
        }
    }
}
