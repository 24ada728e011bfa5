//! Messages: what was written to the customer, what came back, and notes among ourselves.

use jiff::Timestamp;
use serde_json::json;

use crate::Book;
use crate::digest::sha256;
use crate::error::BookError;
use crate::event::{EventKind, LogEnd};
use crate::order::{line_in, next_number};
use crate::person::Person;
use crate::placing::{LONGEST_WORDS, must_be_short};
use crate::role::Role;

/// Which way a message went.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Direction {
    /// From the customer.
    FromCustomer,
    /// To the customer.
    ToCustomer,
    /// Among ourselves; the customer never sees it.
    Note,
}

impl Direction {
    /// Every direction.
    pub const ALL: [Self; 3] = [Self::FromCustomer, Self::ToCustomer, Self::Note];

    /// `from customer`, `to customer` or `note`.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::FromCustomer => "from customer",
            Self::ToCustomer => "to customer",
            Self::Note => "note",
        }
    }

    /// The direction that words name.
    ///
    /// # Errors
    ///
    /// There is no such direction.
    pub fn read(words: &str) -> Result<Self, BookError> {
        Self::ALL.into_iter().find(|one| one.words() == words).ok_or_else(|| {
            BookError::refused(format!("a message cannot go `{words}`"), "from customer, to customer or note")
        })
    }
}

/// A message.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Message {
    /// Its number in the book.
    pub number: i64,
    /// When.
    pub at: Timestamp,
    /// Who wrote it, or wrote it down.
    pub who: String,
    /// Which way it went.
    pub direction: Direction,
    /// What it says.
    pub words: String,
}

impl Book {
    /// Writes a message down. It is never changed and never removed.
    ///
    /// # Errors
    ///
    /// There is no such order, nothing is said, the person may not, or the database refuses.
    pub async fn write_message(
        &self,
        order: i64,
        direction: Direction,
        words: &str,
        who: &Person,
        now: Timestamp,
    ) -> Result<Message, BookError> {
        if who.role.is_some() || direction != Direction::FromCustomer {
            who.must_be("write a message", &[Role::Owner, Role::Desk, Role::Floor])?;
        }
        must_be_short("message", words, LONGEST_WORDS)?;
        let words = words.trim();
        if words.is_empty() {
            return Err(BookError::refused("the message is empty", "at least one word"));
        }
        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        line_in(&mut transaction, order).await?;
        let number = next_number(&mut transaction, "message").await?;
        transaction
            .write(
                "INSERT INTO message (number, order_number, at, who, direction, words) VALUES ($1, $2, $3, $4, $5, $6)",
                &[number.into(), order.into(), now.into(), (&who.name).into(), direction.words().into(), words.into()],
            )
            .await?;
        transaction.write("UPDATE orders SET changed_at = $2 WHERE number = $1", &[order.into(), now.into()]).await?;
        let body = json!({"message": number, "direction": direction.words(), "sha256": sha256(words.as_bytes())});
        log.append(&mut transaction, now, who, EventKind::Message, Some(order), &body).await?;
        transaction.commit().await?;
        Ok(Message { number, at: now, who: who.name.clone(), direction, words: words.to_owned() })
    }

    /// The messages of an order, the first one first.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn messages(&self, order: i64) -> Result<Vec<Message>, BookError> {
        let rows = self
            .database
            .rows(
                "SELECT number, at, who, direction, words FROM message WHERE order_number = $1 ORDER BY number",
                &[order.into()],
            )
            .await?;
        rows.iter()
            .map(|row| {
                Ok(Message {
                    number: row.integer(0)?,
                    at: row.time(1)?,
                    who: row.text(2)?,
                    direction: Direction::read(&row.text(3)?)
                        .map_err(|error| BookError::Unexpected { problem: error.to_string() })?,
                    words: row.text(4)?,
                })
            })
            .collect()
    }
}
