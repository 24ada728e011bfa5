//! The book's own soundness, and how far the reviews follow the catalog.

use axum::Json;
use axum::extract::State;
use book::{BookCheck, Rereview, RereviewChange};
use schemars::JsonSchema;
use serde::Serialize;

use super::answer::Answer;
use crate::desk::Desk;

/// What a check of the book found.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct BookChecked {
    /// Whether nothing is wrong.
    pub sound: bool,
    /// How many events the log holds.
    pub events: i64,
    /// The hash of the last one. Kept elsewhere, it shows later that nothing before it was changed.
    pub end: String,
    /// How many orders were held against the log.
    pub orders: i64,
    /// Revisions.
    pub revisions: i64,
    /// Messages.
    pub messages: i64,
    /// Photos.
    pub photos: i64,
    /// What is not as it should be.
    pub faults: Vec<PlacedFault>,
}

/// Something that is not as the log says.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct PlacedFault {
    /// Where.
    pub place: String,
    /// What is wrong.
    pub problem: String,
}

/// How far the reviews of open orders follow the catalog.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct RereviewState {
    /// The mark of the catalog as it stands.
    pub catalog_mark: String,
    /// How many open orders were reviewed with another.
    pub waiting: i64,
    /// The latest runs, the newest first.
    pub runs: Vec<RereviewRun>,
}

/// One run over all open orders.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct RereviewRun {
    /// Its number.
    pub number: i64,
    /// When it began.
    pub started_at: String,
    /// When it ended; null while it runs, or where it was broken off.
    pub finished_at: Option<String>,
    /// Who asked for it.
    pub who: String,
    /// The mark of the catalog.
    pub catalog_mark: String,
    /// How many orders had to be reviewed.
    pub orders: i64,
    /// How many of them are done.
    pub done: i64,
    /// The verdicts that it changed.
    pub changes: Vec<VerdictChanged>,
}

/// An order whose verdict a run changed.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct VerdictChanged {
    /// The order.
    pub order: i64,
    /// Its reference.
    pub reference: String,
    /// The verdict before.
    pub was: &'static str,
    /// The verdict since.
    pub becomes: &'static str,
    /// The weightiest reason of the new review.
    pub why: String,
}

/// So many runs are listed.
const RUNS: i64 = 5;

pub(super) async fn check(State(desk): State<Desk>) -> Answer<BookChecked> {
    Ok(Json(desk.book().check(None).await?.into()))
}

pub(super) async fn rereview(State(desk): State<Desk>) -> Answer<RereviewState> {
    let catalog = desk.shop().catalog();
    let waiting = desk.book().waiting_for_rereview(&catalog).await?;
    let mut runs = Vec::new();
    for run in desk.book().rereviews(RUNS).await? {
        let changes = desk.book().rereview_changes(run.number).await?;
        runs.push(RereviewRun::of(run, changes));
    }
    Ok(Json(RereviewState { catalog_mark: catalog.mark().to_owned(), waiting, runs }))
}

impl From<BookCheck> for BookChecked {
    fn from(check: BookCheck) -> Self {
        Self {
            sound: check.is_sound(),
            events: check.events,
            end: check.end,
            orders: check.orders,
            revisions: check.revisions,
            messages: check.messages,
            photos: check.photos,
            faults: check
                .faults
                .into_iter()
                .map(|one| PlacedFault { place: one.place, problem: one.problem })
                .collect(),
        }
    }
}

impl RereviewRun {
    fn of(run: Rereview, changes: Vec<RereviewChange>) -> Self {
        let changes = changes.into_iter().map(|one| VerdictChanged {
            order: one.order,
            reference: one.reference,
            was: one.was.words(),
            becomes: one.becomes.words(),
            why: one.why,
        });
        Self {
            number: run.number,
            started_at: run.started_at.to_string(),
            finished_at: run.finished_at.map(|at| at.to_string()),
            who: run.who,
            catalog_mark: run.catalog_mark,
            orders: run.orders,
            done: run.done,
            changes: changes.collect(),
        }
    }
}
