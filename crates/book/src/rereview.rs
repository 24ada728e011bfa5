//! Reviews all open orders once more after a change of the catalog, and keeps which verdicts that changed.

use std::future::Future;

use jiff::Timestamp;
use serde_json::json;

use crate::Book;
use crate::database::{Row, Transaction, Value};
use crate::error::BookError;
use crate::event::{EventKind, LogEnd};
use crate::judgement::Judgement;
use crate::order::{line_in, next_number};
use crate::person::Person;
use crate::placing::write_summary;
use crate::reviewed::{MarkedCatalog, ReviewedSheet, Summary};
use crate::role::Role;
use crate::state::State;

/// So many orders are reviewed between two writes: so few that whoever else writes never waits long, and so many that those who
/// read seldom find that what they have in memory of the book is no longer so.
const BATCH: i64 = 20;

/// One run over all open orders.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rereview {
    /// Its number.
    pub number: i64,
    /// When it began.
    pub started_at: Timestamp,
    /// When it ended; none while it runs, or where it was broken off.
    pub finished_at: Option<Timestamp>,
    /// Who asked for it.
    pub who: String,
    /// The mark of the catalog.
    pub catalog_mark: String,
    /// How many orders were open and not reviewed with this catalog.
    pub orders: i64,
    /// How many of them are done.
    pub done: i64,
}

/// An order whose verdict changed.
#[derive(Debug, Clone, PartialEq)]
pub struct RereviewChange {
    /// The order.
    pub order: i64,
    /// Its reference.
    pub reference: String,
    /// Where it stands now.
    pub state: State,
    /// When it was reviewed.
    pub at: Timestamp,
    /// The verdict before.
    pub was: Judgement,
    /// The verdict since.
    pub becomes: Judgement,
    /// The chance that the shafts fit, before.
    pub fit_was: Option<f64>,
    /// And since.
    pub fit_becomes: Option<f64>,
    /// The weightiest reason of the new review, or the first fault of the sheet.
    pub why: String,
}

/// An order that waits for its review.
#[derive(Debug)]
struct Waiting {
    number: i64,
    revision: i64,
    reference: String,
    sheet: String,
}

const COLUMNS: &str = "number, started_at, finished_at, who, catalog_mark, orders, done";

impl Rereview {
    fn of_row(row: &Row) -> Result<Self, BookError> {
        Ok(Self {
            number: row.integer(0)?,
            started_at: row.time(1)?,
            finished_at: row.maybe_time(2)?,
            who: row.text(3)?,
            catalog_mark: row.text(4)?,
            orders: row.integer(5)?,
            done: row.integer(6)?,
        })
    }
}

/// The condition under which an order is open, spelled as the index `orders_open_by_mark` spells it: SQLite takes that index for no
/// other words. It names the states that are not open, since for those that are SQLite would rather read by the state, and then
/// every open order.
fn open_condition() -> String {
    let closed = State::ALL.iter().filter(|state| !State::OPEN.contains(state));
    let closed: Vec<String> = closed.map(|state| format!("'{}'", state.key())).collect();
    format!("state NOT IN ({})", closed.join(", "))
}

/// Counts the open orders that were reviewed with another catalog than that of the mark `$1`. Below and above it, the index leads
/// there; where it says "another one", every open order would be read.
fn count_statement() -> String {
    let open = open_condition();
    format!(
        "SELECT (SELECT COUNT(*) FROM orders o WHERE {open} AND o.catalog_mark < $1) \
         + (SELECT COUNT(*) FROM orders o WHERE {open} AND o.catalog_mark > $1)"
    )
}

/// The next open orders that were reviewed with another catalog than that of the mark `$1`, behind an order `$3` with the mark `$2`,
/// in the order of the index.
fn batch_statement() -> String {
    format!(
        "SELECT o.number, o.catalog_mark FROM orders o WHERE {} AND o.catalog_mark <> $1 \
         AND (o.catalog_mark, o.number) > ($2, $3) ORDER BY o.catalog_mark, o.number LIMIT $4",
        open_condition()
    )
}

impl Book {
    /// How many open orders were not yet reviewed with a catalog.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn waiting_for_rereview(&self, catalog: &MarkedCatalog) -> Result<i64, BookError> {
        let row = self.database.row(&count_statement(), &[catalog.mark().into()]).await?;
        row.map_or(Ok(0), |row| row.integer(0))
    }

    /// Reviews every open order that was not yet reviewed with this catalog. It may run in the background for as long as it takes:
    /// it reviews one order at a time on a thread for such work, writes a few orders at a time, and leaves alone what is revised
    /// meanwhile. `clock` says what time it is; `progress` hears how many orders of how many are done; `give_way` is waited for
    /// before each order and each write, so that whoever asks for the run can hold it up while there is something more urgent.
    ///
    /// What was reviewed stays reviewed when the run is broken off; the next run goes on with the rest.
    ///
    /// # Errors
    ///
    /// The person may not, the catalog makes no sound model, or the database refuses.
    pub async fn rereview<Way: Future<Output = ()> + Send>(
        &self,
        catalog: &MarkedCatalog,
        who: &Person,
        clock: impl Fn() -> Timestamp + Send + Sync,
        progress: impl Fn(i64, i64) + Send + Sync,
        give_way: impl Fn() -> Way + Send + Sync,
    ) -> Result<Rereview, BookError> {
        who.must_be("review all open orders", &[Role::Owner, Role::Desk])?;
        let orders = self.waiting_for_rereview(catalog).await?;
        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        let run = next_number(&mut transaction, "re-review").await?;
        transaction
            .write(
                "INSERT INTO rereview (number, started_at, who, catalog_mark, orders, done) VALUES ($1, $2, $3, $4, $5, 0)",
                &[run.into(), clock().into(), (&who.name).into(), catalog.mark().into(), orders.into()],
            )
            .await?;
        let body = json!({"rereview": run, "catalog": catalog.mark(), "orders": orders});
        log.append(&mut transaction, clock(), who, EventKind::RereviewBegun, None, &body).await?;
        transaction.commit().await?;

        let mut behind = (String::new(), 0);
        let mut done = 0;
        while let Some(batch) = self.waiting(catalog, &mut behind).await? {
            let mut reviewed = Vec::with_capacity(batch.len());
            for waiting in batch {
                give_way().await;
                let reviewing = catalog.clone();
                let one = tokio::task::spawn_blocking(move || review_again(waiting, &reviewing))
                    .await
                    .map_err(|error| BookError::Unexpected { problem: format!("a review ended early: {error}") })??;
                reviewed.push(one);
            }
            give_way().await;
            let mut transaction = self.database.write().await?;
            let mut log = LogEnd::take(&mut transaction).await?;
            for (waiting, summary, why) in reviewed {
                self.keep_review(&mut transaction, &mut log, run, &waiting, &summary, &why, who, clock()).await?;
                done += 1;
            }
            transaction.write("UPDATE rereview SET done = $2 WHERE number = $1", &[run.into(), done.into()]).await?;
            transaction.commit().await?;
            progress(done, orders);
        }

        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        transaction
            .write("UPDATE rereview SET finished_at = $2 WHERE number = $1", &[run.into(), clock().into()])
            .await?;
        let changed = transaction
            .row("SELECT COUNT(*) FROM rereview_change WHERE rereview_number = $1", &[run.into()])
            .await?
            .map_or(Ok(0), |row| row.integer(0))?;
        let body = json!({"rereview": run, "done": done, "verdicts_changed": changed});
        log.append(&mut transaction, clock(), who, EventKind::RereviewFinished, None, &body).await?;
        transaction.commit().await?;
        let row =
            self.database.row(&format!("SELECT {COLUMNS} FROM rereview WHERE number = $1"), &[run.into()]).await?;
        Rereview::of_row(&row.ok_or_else(|| BookError::none(format!("re-review {run}")))?)
    }

    /// The latest runs, the newest first.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn rereviews(&self, at_most: i64) -> Result<Vec<Rereview>, BookError> {
        let statement = format!("SELECT {COLUMNS} FROM rereview ORDER BY number DESC LIMIT $1");
        self.database.rows(&statement, &[at_most.into()]).await?.iter().map(Rereview::of_row).collect()
    }

    /// The verdicts that a run has changed so far, by order.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn rereview_changes(&self, run: i64) -> Result<Vec<RereviewChange>, BookError> {
        let rows = self
            .database
            .rows(
                "SELECT c.order_number, o.reference, o.state, c.at, c.verdict_was, c.verdict_becomes, c.fit_was, \
                 c.fit_becomes, c.why FROM rereview_change c JOIN orders o ON o.number = c.order_number \
                 WHERE c.rereview_number = $1 ORDER BY c.order_number",
                &[run.into()],
            )
            .await?;
        rows.iter()
            .map(|row| {
                Ok(RereviewChange {
                    order: row.integer(0)?,
                    reference: row.text(1)?,
                    state: State::read(&row.text(2)?)?,
                    at: row.time(3)?,
                    was: Judgement::read(&row.text(4)?)?,
                    becomes: Judgement::read(&row.text(5)?)?,
                    fit_was: row.maybe_real(6)?,
                    fit_becomes: row.maybe_real(7)?,
                    why: row.text(8)?,
                })
            })
            .collect()
    }

    /// The next orders that wait, behind the mark and the number up to which they were read, which move on; none at the end.
    async fn waiting(
        &self,
        catalog: &MarkedCatalog,
        behind: &mut (String, i64),
    ) -> Result<Option<Vec<Waiting>>, BookError> {
        let values: [Value; 4] = [catalog.mark().into(), behind.0.as_str().into(), behind.1.into(), BATCH.into()];
        let rows = self.database.rows(&batch_statement(), &values).await?;
        let (any, mut batch) = (!rows.is_empty(), Vec::with_capacity(rows.len()));
        for row in rows {
            *behind = (row.text(1)?, row.integer(0)?);
            // One by one, since a plan for all of them together may read every sheet of the book before it takes the first few.
            let statement = "SELECT o.number, o.revision, o.reference, r.sheet FROM orders o \
                             JOIN revision r ON r.order_number = o.number AND r.revision = o.revision WHERE o.number = $1";
            let Some(row) = self.database.row(statement, &[behind.1.into()]).await? else { continue };
            batch.push(Waiting {
                number: row.integer(0)?,
                revision: row.integer(1)?,
                reference: row.text(2)?,
                sheet: row.text(3)?,
            });
        }
        Ok(any.then_some(batch))
    }

    #[expect(clippy::too_many_arguments, reason = "one run, one order, one review")]
    async fn keep_review(
        &self,
        transaction: &mut Transaction,
        log: &mut LogEnd,
        run: i64,
        waiting: &Waiting,
        summary: &Summary,
        why: &str,
        who: &Person,
        now: Timestamp,
    ) -> Result<(), BookError> {
        let line = line_in(transaction, waiting.number).await?;
        if line.revision != waiting.revision || !State::OPEN.contains(&line.state) {
            // Somebody has revised it meanwhile, and that revision has its own review; or it was shipped or closed as it was.
            return Ok(());
        }
        write_summary(transaction, waiting.number, summary, now).await?;
        if line.judgement == summary.judgement {
            return Ok(());
        }
        transaction
            .write(
                "INSERT INTO rereview_change (rereview_number, order_number, at, verdict_was, verdict_becomes, fit_was, \
                 fit_becomes, why) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)",
                &[
                    run.into(),
                    waiting.number.into(),
                    now.into(),
                    line.judgement.words().into(),
                    summary.judgement.words().into(),
                    line.fit.into(),
                    summary.fit.into(),
                    why.into(),
                ],
            )
            .await?;
        transaction
            .write("UPDATE orders SET changed_at = $2 WHERE number = $1", &[waiting.number.into(), now.into()])
            .await?;
        let body = json!({
            "rereview": run,
            "revision": line.revision,
            "verdict_was": line.judgement.words(),
            "verdict": summary.judgement.words(),
            "fit_was": line.fit,
            "fit": summary.fit,
            "why": why,
        });
        log.append(transaction, now, who, EventKind::Reviewed, Some(waiting.number), &body).await
    }
}

/// Reviews an order. A sheet that can no longer be read is no failure of the run: it is what the run has to find.
fn review_again(waiting: Waiting, catalog: &MarkedCatalog) -> Result<(Waiting, Summary, String), BookError> {
    match ReviewedSheet::read(&waiting.reference, &waiting.sheet, catalog) {
        Ok(reviewed) => {
            let why = reviewed.review.reasons.first().map(|reason| reason.words.clone()).unwrap_or_default();
            Ok((waiting, reviewed.summary, why))
        }
        Err(BookError::Sheet(faults)) => {
            let why = faults.iter().next().map(|fault| fault.problem.clone()).unwrap_or_default();
            Ok((waiting, Summary::unreadable(catalog), why))
        }
        Err(other) => Err(other),
    }
}

#[cfg(test)]
mod tests {
    use super::{batch_statement, count_statement, open_condition};
    use crate::Book;
    use crate::migration::STEPS;

    #[test]
    fn the_index_over_open_orders_is_spelled_as_the_statements_are() {
        let index =
            format!("CREATE INDEX orders_open_by_mark ON orders (catalog_mark, number) WHERE {}", open_condition());
        assert!(STEPS[4].contains(&index), "{index}");
    }

    /// Counting and taking the next few costs as much as there is to find, however many orders the book holds.
    #[test]
    fn what_waits_is_found_by_the_index_alone() {
        tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap().block_on(async {
            let folder = tempfile::tempdir().unwrap();
            let place = folder.path().join("orders.db").display().to_string();
            let book = Book::open(&place, jiff::Timestamp::UNIX_EPOCH).await.unwrap();
            for (statement, reads) in [(count_statement(), 2), (batch_statement(), 1)] {
                let explained = format!("EXPLAIN QUERY PLAN {statement}");
                let values = ["m".into(), "a".into(), 7.into(), 20.into()];
                let asked = statement.matches("$4").count() * 3 + 1;
                let rows = book.database.rows(&explained, &values[..asked]).await.unwrap();
                let plan: Vec<String> = rows.iter().map(|row| row.text(3).unwrap()).collect();
                let by_index = plan.iter().filter(|step| step.contains("INDEX orders_open_by_mark (")).count();
                assert_eq!(by_index, reads, "{plan:?}");
                assert!(
                    !plan.iter().any(|step| step.contains("TEMP B-TREE") || step.starts_with("SCAN o")),
                    "{plan:?}"
                );
            }
            book.close().await;
        });
    }
}
