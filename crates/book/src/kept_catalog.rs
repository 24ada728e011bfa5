//! Catalogs with which something was approved, kept so that its papers can be printed again as they were.
//!
//! A catalog stands in the log, once for each mark, so that the chain vouches for it as for everything else that was approved.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use serde_json::json;

use crate::Book;
use crate::error::BookError;
use crate::event::{EventKind, LogEnd};
use crate::person::Person;
use crate::placing::{LONGEST_WORDS, must_be_short};
use crate::reviewed::MarkedCatalog;

/// The texts that a catalog was read from, each with the name of its file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptCatalog {
    /// The files that came with the program.
    pub shipped: Vec<(String, String)>,
    /// The shop's own, in the order in which they apply.
    pub own: Vec<(String, String)>,
}

/// A change of the shop's own files that was saved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CatalogChange<'a> {
    /// The file.
    pub file: &'a str,
    /// The change in words.
    pub words: &'a str,
    /// What is held to less strictly than before, in a sentence each.
    pub less_careful: &'a [String],
    /// Why that was wanted.
    pub reason: &'a str,
    /// The mark of the catalog with it.
    pub mark: &'a str,
}

/// A body begins with the mark, by which a kept catalog is found.
fn beginning(mark: &str) -> String {
    format!("{{\"mark\":{},", json!(mark))
}

impl Book {
    /// Keeps the texts of a catalog under its mark, unless they are kept already.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn keep_catalog(
        &self,
        catalog: &MarkedCatalog,
        texts: &KeptCatalog,
        who: &Person,
        now: Timestamp,
    ) -> Result<(), BookError> {
        if self.kept_catalog(catalog.mark()).await?.is_some() {
            return Ok(());
        }
        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        let body = json!({"mark": catalog.mark(), "shipped": texts.shipped, "own": texts.own});
        log.append(&mut transaction, now, who, EventKind::CatalogKept, None, &body).await?;
        transaction.commit().await
    }

    /// Writes down that a change of the catalog was saved, by whom and why.
    ///
    /// # Errors
    ///
    /// The reason is too long, or the database refuses.
    pub async fn note_catalog_change(
        &self,
        change: &CatalogChange<'_>,
        who: &Person,
        now: Timestamp,
    ) -> Result<(), BookError> {
        must_be_short("reason", change.reason, LONGEST_WORDS)?;
        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        let body = json!({
            "file": change.file,
            "words": change.words,
            "less_careful": change.less_careful,
            "reason": change.reason,
            "catalog": change.mark,
        });
        log.append(&mut transaction, now, who, EventKind::CatalogChanged, None, &body).await?;
        transaction.commit().await
    }

    /// The catalog that was kept under a mark; none where there is none.
    ///
    /// # Errors
    ///
    /// The database refuses, or what was kept is no catalog.
    pub async fn kept_catalog(&self, mark: &str) -> Result<Option<KeptCatalog>, BookError> {
        let begins = beginning(mark);
        let length = i64::try_from(begins.chars().count()).unwrap_or(i64::MAX);
        let row = self
            .database
            .row(
                "SELECT body FROM event WHERE order_number IS NULL AND kind = $1 AND substr(body, 1, $2) = $3 \
                 ORDER BY sequence LIMIT 1",
                &[EventKind::CatalogKept.words().into(), length.into(), begins.into()],
            )
            .await?;
        let Some(row) = row else { return Ok(None) };
        serde_json::from_str(&row.text(0)?)
            .map(Some)
            .map_err(|error| BookError::Unexpected { problem: format!("a kept catalog that is none: {error}") })
    }
}
