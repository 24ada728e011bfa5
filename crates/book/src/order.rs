//! An order as it stands now, and its history.

use jiff::Timestamp;
use jiff::civil::Date;

use crate::Book;
use crate::database::{Row, Transaction, Value};
use crate::error::BookError;
use crate::event::{EVENT_COLUMNS, Event};
use crate::judgement::Judgement;
use crate::state::State;

/// What stands beside the sheet: who ordered, for what, until when.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Details {
    /// Who ordered.
    pub customer: String,
    /// How to reach them.
    pub contact: String,
    /// The vehicle, as its owner calls it.
    pub vehicle: String,
    /// When it is wanted.
    pub due: Option<Date>,
}

/// One line of a list of orders.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderLine {
    /// The number that the book gave; it never changes.
    pub number: i64,
    /// The shop's reference, from the sheet.
    pub reference: String,
    /// Who ordered, for what, until when.
    pub details: Details,
    /// What the sheet calls the axle.
    pub axle: String,
    /// Where it stands.
    pub state: State,
    /// Since when.
    pub state_since: Timestamp,
    /// The revision that stands. Whoever changes the order names the revision that they saw.
    pub revision: i64,
    /// The revision that was approved to cut, from the approval until it is withdrawn.
    pub approved_revision: Option<i64>,
    /// The reason with which `ask` was overruled at the approval.
    pub overruled: Option<String>,
    /// What the latest review says.
    pub judgement: Judgement,
    /// The chance that the shafts fit; none while something is missing.
    pub fit: Option<f64>,
    /// The reading that is most to be doubted.
    pub doubt: Option<String>,
    /// The mark of the catalog that the latest review went by.
    pub catalog_mark: String,
    /// When that was.
    pub reviewed_at: Timestamp,
    /// When the order came in.
    pub placed_at: Timestamp,
    /// Who took it in.
    pub placed_by: String,
    /// When it last changed.
    pub changed_at: Timestamp,
}

/// The columns of a line, as [`OrderLine::of_row`] reads them. They come from `orders o`.
pub(crate) const LINE_COLUMNS: &str = "o.number, o.reference, o.customer, o.contact, o.vehicle, o.due, o.axle, o.state, \
     o.state_since, o.revision, o.approved_revision, o.overruled, o.verdict, o.fit, o.doubt, o.catalog_mark, \
     o.reviewed_at, o.placed_at, o.placed_by, o.changed_at";

impl OrderLine {
    pub(crate) fn of_row(row: &Row) -> Result<Self, BookError> {
        Ok(Self {
            number: row.integer(0)?,
            reference: row.text(1)?,
            details: Details {
                customer: row.text(2)?,
                contact: row.text(3)?,
                vehicle: row.text(4)?,
                due: read_date(row.maybe_text(5)?)?,
            },
            axle: row.text(6)?,
            state: kept(State::read(&row.text(7)?))?,
            state_since: row.time(8)?,
            revision: row.integer(9)?,
            approved_revision: row.maybe_integer(10)?,
            overruled: row.maybe_text(11)?,
            judgement: kept(Judgement::read(&row.text(12)?))?,
            fit: row.maybe_real(13)?,
            doubt: row.maybe_text(14)?,
            catalog_mark: row.text(15)?,
            reviewed_at: row.time(16)?,
            placed_at: row.time(17)?,
            placed_by: row.text(18)?,
            changed_at: row.time(19)?,
        })
    }
}

/// A word in the database that is none of ours is a fault of the book, not of the person who looks at it.
fn kept<T>(read: Result<T, BookError>) -> Result<T, BookError> {
    read.map_err(|error| BookError::Unexpected { problem: error.to_string() })
}

pub(crate) fn read_date(text: Option<String>) -> Result<Option<Date>, BookError> {
    text.map(|text| {
        text.parse::<Date>().map_err(|error| BookError::Unexpected { problem: format!("the date `{text}`: {error}") })
    })
    .transpose()
}

/// An order with its sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Order {
    /// How it stands.
    pub line: OrderLine,
    /// The sheet of the revision that stands, as it was written.
    pub sheet: String,
}

/// One revision of an order.
#[derive(Debug, Clone, PartialEq)]
pub struct Revision {
    /// Its number, counted from one within the order.
    pub revision: i64,
    /// The revision that it was built on; 0 for the first.
    pub base: i64,
    /// When.
    pub at: Timestamp,
    /// Who.
    pub who: String,
    /// Why.
    pub reason: String,
    /// Who ordered, for what, until when.
    pub details: Details,
    /// The sheet as it was written.
    pub sheet: String,
}

/// One value that a reading took, and with which revision.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingChange {
    /// The revision that changed it.
    pub revision: i64,
    /// When.
    pub at: Timestamp,
    /// Who.
    pub who: String,
    /// Why.
    pub reason: String,
    /// Which reading: the key of a measurand.
    pub measurand: String,
    /// `left`, `right` or nothing.
    pub side: String,
    /// What it said before; none where it is new.
    pub was: Option<String>,
    /// What it says from then on; none where it was taken out.
    pub becomes: Option<String>,
}

impl Book {
    /// An order by its number.
    ///
    /// # Errors
    ///
    /// There is none of that number, or the database refuses.
    pub async fn order(&self, number: i64) -> Result<Order, BookError> {
        let statement = format!(
            "SELECT {LINE_COLUMNS}, r.sheet FROM orders o \
             JOIN revision r ON r.order_number = o.number AND r.revision = o.revision WHERE o.number = $1"
        );
        let row = self
            .database
            .row(&statement, &[number.into()])
            .await?
            .ok_or_else(|| BookError::none(format!("order {number}")))?;
        Ok(Order { line: OrderLine::of_row(&row)?, sheet: row.text(20)? })
    }

    /// An order by its reference, however it is spelled: `q-0101` finds `Q-0101`.
    ///
    /// # Errors
    ///
    /// There is none, or the database refuses.
    pub async fn order_by_reference(&self, reference: &str) -> Result<Order, BookError> {
        let key = crate::search::words::reference_key(reference);
        let row = self
            .database
            .row("SELECT number FROM orders WHERE reference_key = $1", &[key.into()])
            .await?
            .ok_or_else(|| BookError::none(format!("order {reference}")))?;
        self.order(row.integer(0)?).await
    }

    /// Every revision of an order, the first one first.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn revisions(&self, number: i64) -> Result<Vec<Revision>, BookError> {
        let rows = self
            .database
            .rows(
                &format!("SELECT {REVISION_COLUMNS} FROM revision WHERE order_number = $1 ORDER BY revision"),
                &[number.into()],
            )
            .await?;
        rows.iter().map(Revision::of_row).collect()
    }

    /// One revision of an order.
    ///
    /// # Errors
    ///
    /// There is none of that number, or the database refuses.
    pub async fn revision(&self, number: i64, revision: i64) -> Result<Revision, BookError> {
        let row = self
            .database
            .row(
                &format!("SELECT {REVISION_COLUMNS} FROM revision WHERE order_number = $1 AND revision = $2"),
                &[number.into(), revision.into()],
            )
            .await?
            .ok_or_else(|| BookError::none(format!("revision {revision} of order {number}")))?;
        Revision::of_row(&row)
    }

    /// Every value that every reading of an order ever had, the first one first: who, when and why.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn reading_history(&self, number: i64) -> Result<Vec<ReadingChange>, BookError> {
        let rows = self
            .database
            .rows(
                "SELECT c.revision, r.at, r.who, r.reason, c.measurand, c.side, c.was, c.becomes FROM reading_change c \
                 JOIN revision r ON r.order_number = c.order_number AND r.revision = c.revision \
                 WHERE c.order_number = $1 ORDER BY c.revision, c.position",
                &[number.into()],
            )
            .await?;
        rows.iter()
            .map(|row| {
                Ok(ReadingChange {
                    revision: row.integer(0)?,
                    at: row.time(1)?,
                    who: row.text(2)?,
                    reason: row.text(3)?,
                    measurand: row.text(4)?,
                    side: row.text(5)?,
                    was: row.maybe_text(6)?,
                    becomes: row.maybe_text(7)?,
                })
            })
            .collect()
    }

    /// Everything that happened to an order, the first event first.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn events(&self, number: i64) -> Result<Vec<Event>, BookError> {
        let rows = self
            .database
            .rows(
                &format!("SELECT {EVENT_COLUMNS} FROM event WHERE order_number = $1 ORDER BY sequence"),
                &[number.into()],
            )
            .await?;
        rows.iter().map(Event::of_row).collect()
    }

    /// The latest events of the whole book, the newest first.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn latest_events(&self, at_most: i64) -> Result<Vec<Event>, BookError> {
        let rows = self
            .database
            .rows(&format!("SELECT {EVENT_COLUMNS} FROM event ORDER BY sequence DESC LIMIT $1"), &[at_most.into()])
            .await?;
        rows.iter().map(Event::of_row).collect()
    }
}

const REVISION_COLUMNS: &str = "revision, base, at, who, reason, customer, contact, vehicle, due, sheet";

impl Revision {
    fn of_row(row: &Row) -> Result<Self, BookError> {
        Ok(Self {
            revision: row.integer(0)?,
            base: row.integer(1)?,
            at: row.time(2)?,
            who: row.text(3)?,
            reason: row.text(4)?,
            details: Details {
                customer: row.text(5)?,
                contact: row.text(6)?,
                vehicle: row.text(7)?,
                due: read_date(row.maybe_text(8)?)?,
            },
            sheet: row.text(9)?,
        })
    }
}

/// The line of an order inside a transaction that is about to change it.
pub(crate) async fn line_in(transaction: &mut Transaction, number: i64) -> Result<OrderLine, BookError> {
    let row = transaction
        .row(&format!("SELECT {LINE_COLUMNS} FROM orders o WHERE o.number = $1"), &[number.into()])
        .await?
        .ok_or_else(|| BookError::none(format!("order {number}")))?;
    OrderLine::of_row(&row)
}

/// Lets a change through that was built on the revision that stands; says who was first where it was not.
pub(crate) async fn must_have_seen(
    transaction: &mut Transaction,
    line: &OrderLine,
    seen: i64,
) -> Result<(), BookError> {
    if seen == line.revision {
        return Ok(());
    }
    let by = transaction
        .row(
            "SELECT who FROM revision WHERE order_number = $1 AND revision = $2",
            &[line.number.into(), line.revision.into()],
        )
        .await?
        .map_or(Ok(String::new()), |row| row.text(0))?;
    Err(BookError::Overtaken { reference: line.reference.clone(), seen, now: line.revision, by })
}

/// The next number of a kind.
pub(crate) async fn next_number(transaction: &mut Transaction, kind: &str) -> Result<i64, BookError> {
    let values: [Value; 1] = [kind.into()];
    let row = transaction
        .row(
            "INSERT INTO counter (name, value) VALUES ($1, 1) \
             ON CONFLICT (name) DO UPDATE SET value = counter.value + 1 RETURNING value",
            &values,
        )
        .await?
        .ok_or_else(|| BookError::Unexpected { problem: format!("no counter of {kind}s") })?;
    row.integer(0)
}
