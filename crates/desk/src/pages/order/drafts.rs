//! What was typed and not saved: kept while one types, and offered again.

use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::Redirect;
use jiff::Timestamp;
use maud::{Markup, html};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::viewer::Viewer;
use crate::words::time;

use super::entered::{Entered, Posted};

/// A draft that was found.
pub(super) struct Found {
    /// What was typed, as the form names it.
    pub pairs: Vec<(String, String)>,
    /// When.
    pub at: Timestamp,
}

/// What the draft of an order is kept under.
pub(super) fn topic(number: Option<i64>) -> String {
    number.map_or_else(|| "new order".to_owned(), |number| format!("order {number}"))
}

/// The draft of a topic.
///
/// # Errors
///
/// The book refuses.
pub(super) async fn of(desk: &Desk, viewer: &Viewer, topic: &str) -> Result<Option<Found>, DeskError> {
    let draft = desk.book().draft(viewer.number(), topic).await?;
    Ok(draft.and_then(|draft| {
        let pairs = serde_json::from_str(&draft.words).ok()?;
        Some(Found { pairs, at: draft.saved_at })
    }))
}

/// Keeps what was typed.
///
/// # Errors
///
/// It is too long, or the book refuses.
pub(super) async fn keep_typed(
    desk: &Desk,
    viewer: &Viewer,
    number: Option<i64>,
    entered: &Entered,
) -> Result<(), DeskError> {
    let words = serde_json::to_string(&entered.pairs())
        .map_err(|error| DeskError::failed(format!("the draft cannot be written: {error}")))?;
    desk.book().keep_draft(viewer.number(), &topic(number), &words, entered.seen, desk.now()).await?;
    Ok(())
}

/// The offer to carry on with a draft.
pub(super) fn offered(draft: &Found, address: &str) -> Markup {
    html! {
        form .notice.warn method="post" action={ (address) "/draft/drop" } {
            "You typed something at " (time(draft.at)) " that is not saved yet. "
            a .button href={ (address) "?draft=1" } { "Carry on with it" } " "
            button .quiet { "Discard it" }
        }
    }
}

/// What stands above a draft that is carried on with.
pub(super) fn carried_on(draft: &Found, address: &str) -> Markup {
    html! {
        form .notice method="post" action={ (address) "/draft/drop" } {
            "This is what you typed at " (time(draft.at)) ", not saved yet. " button .quiet { "Discard it" }
        }
    }
}

pub(super) async fn keep(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    posted: Posted,
) -> Result<StatusCode, DeskError> {
    desk.book().order(number).await?;
    keep_typed(&desk, &viewer, Some(number), &Entered::of(posted)?).await?;
    Ok(StatusCode::NO_CONTENT)
}

pub(super) async fn keep_new(
    State(desk): State<Desk>,
    viewer: Viewer,
    posted: Posted,
) -> Result<StatusCode, DeskError> {
    keep_typed(&desk, &viewer, None, &Entered::of(posted)?).await?;
    Ok(StatusCode::NO_CONTENT)
}

pub(super) async fn drop_kept(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
) -> Result<Redirect, DeskError> {
    desk.book().drop_draft(viewer.number(), &topic(Some(number))).await?;
    Ok(Redirect::to(&format!("/orders/{number}")))
}

pub(super) async fn drop_new(State(desk): State<Desk>, viewer: Viewer) -> Result<Redirect, DeskError> {
    desk.book().drop_draft(viewer.number(), &topic(None)).await?;
    Ok(Redirect::to("/orders/new"))
}
