//! Drafts: what somebody has typed and not yet saved. One for each account and topic; no draft is part of the log.

use jiff::Timestamp;

use crate::Book;
use crate::account::must_be_an_account;
use crate::error::BookError;
use crate::placing::must_be_short;

/// The longest draft, in bytes.
const LONGEST_DRAFT: usize = 400_000;

/// What somebody has typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Draft {
    /// What it is for: `new order`, `order 12`.
    pub topic: String,
    /// What was typed, in whatever form the page wants it back.
    pub words: String,
    /// The revision that was on the screen when the typing began; 0 for a new order.
    pub base: i64,
    /// When it was last kept.
    pub saved_at: Timestamp,
}

impl Book {
    /// Keeps a draft in place of the one before.
    ///
    /// # Errors
    ///
    /// It is too long, or the database refuses.
    pub async fn keep_draft(
        &self,
        account: i64,
        topic: &str,
        words: &str,
        base: i64,
        now: Timestamp,
    ) -> Result<(), BookError> {
        must_be_an_account(account)?;
        must_be_short("topic", topic, 200)?;
        must_be_short("draft", words, LONGEST_DRAFT)?;
        let mut transaction = self.database.write().await?;
        transaction
            .write(
                "INSERT INTO draft (account_number, topic, words, base, saved_at) VALUES ($1, $2, $3, $4, $5) \
                 ON CONFLICT (account_number, topic) DO UPDATE SET words = $3, base = $4, saved_at = $5",
                &[account.into(), topic.into(), words.into(), base.into(), now.into()],
            )
            .await?;
        transaction.commit().await
    }

    /// The draft of a topic.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn draft(&self, account: i64, topic: &str) -> Result<Option<Draft>, BookError> {
        Ok(self.drafts(account).await?.into_iter().find(|draft| draft.topic == topic))
    }

    /// Every draft of an account, the last kept first.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn drafts(&self, account: i64) -> Result<Vec<Draft>, BookError> {
        let rows = self
            .database
            .rows(
                "SELECT topic, words, base, saved_at FROM draft WHERE account_number = $1 ORDER BY saved_at DESC, topic",
                &[account.into()],
            )
            .await?;
        rows.iter()
            .map(|row| {
                Ok(Draft { topic: row.text(0)?, words: row.text(1)?, base: row.integer(2)?, saved_at: row.time(3)? })
            })
            .collect()
    }

    /// Throws a draft away, once it is saved or no longer wanted.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn drop_draft(&self, account: i64, topic: &str) -> Result<(), BookError> {
        let mut transaction = self.database.write().await?;
        transaction
            .write("DELETE FROM draft WHERE account_number = $1 AND topic = $2", &[account.into(), topic.into()])
            .await?;
        transaction.commit().await
    }
}
