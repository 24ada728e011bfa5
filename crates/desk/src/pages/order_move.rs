//! An order moves, and the way back is offered.

use axum::Form;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use book::{Move, MoveRequest, OrderLine, State as Standing};
use maud::{Markup, html};
use serde::Deserialize;

use super::order_head::moves;
use super::order_head::{self, Leaf};
use super::order_leaf;
use crate::desk::Desk;
use crate::error::DeskError;
use crate::routes::{Routes, Who};
use crate::shell::{self, Place};
use crate::viewer::Viewer;

/// Registers the move.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes.post("/orders/{number}/move", Who::Floor, move_order)
}

#[derive(Debug, Deserialize)]
struct Asked {
    revision: i64,
    from: String,
    to: String,
    /// The verdict that stood beside the button.
    #[serde(default)]
    verdict: Option<String>,
    #[serde(default)]
    reason: String,
}

/// Where a page comes from that follows on a move.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Moved {
    /// The state before, by its key.
    #[serde(default)]
    pub was: Option<String>,
}

async fn move_order(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Form(asked): Form<Asked>,
) -> Result<Response, DeskError> {
    let (from, to) = (Standing::read(&asked.from)?, Standing::read(&asked.to)?);
    let request = MoveRequest { seen_revision: asked.revision, from, to, reason: Some(&asked.reason) };
    match order_leaf::move_order(&desk, &viewer, number, request, asked.verdict.as_deref()).await {
        Ok(line) => Ok(Redirect::to(&next_leaf(&line, from)).into_response()),
        Err(error) => refused(&desk, &viewer, number, &asked, error).await,
    }
}

/// The leaf that is wanted next: the papers of what is approved, the bench of what is made, the words of what is asked.
fn next_leaf(line: &OrderLine, from: Standing) -> String {
    let leaf = match line.state {
        Standing::Approved | Standing::Shipped => "papers",
        Standing::InWork | Standing::Inspected => "floor",
        Standing::Questioned => "messages",
        Standing::Received | Standing::Closed | Standing::Remade => "history",
    };
    format!("/orders/{}/{leaf}?was={}", line.number, from.key())
}

/// A refusal above the order as it stands, with what was typed.
async fn refused(
    desk: &Desk,
    viewer: &Viewer,
    number: i64,
    asked: &Asked,
    error: DeskError,
) -> Result<Response, DeskError> {
    let status = error.status();
    if !matches!(status.as_u16(), 409 | 422) {
        return Err(error);
    }
    let line = desk.book().order(number).await?.line;
    let threshold = desk.shop().catalog().catalog().settings.thresholds.cut_at;
    let (problem, accepted) = error.parts();
    let body = html! {
        section .notice.bad role="alert" {
            h2 { "The order has not moved" }
            @for line in problem.lines() { p { (line) } }
            @if let Some(accepted) = accepted { p { strong { "Accepted: " } (accepted) } }
            @if !asked.reason.trim().is_empty() { p { "You had written:" } blockquote { (asked.reason) } }
        }
        (order_head::head(viewer, &line, Leaf::History, threshold))
    };
    Ok((status, shell::page(viewer, Place::Orders, &line.reference, &body)).into_response())
}

/// What was just done, and the way back where the book allows one to this viewer.
pub(crate) fn just_moved(viewer: &Viewer, line: &OrderLine, moved: &Moved) -> Markup {
    let Some(was) = moved.was.as_deref().and_then(|key| Standing::read(key).ok()) else { return html! {} };
    if was == line.state || !was.moves().any(|one| one.to == line.state) {
        return html! {};
    }
    html! {
        section .notice .moved role="status" {
            p { strong { (line.reference) " is " (line.state.words()) " now." } " It was " (was.words()) "." }
            @match way_back(line.state, was) {
                Some(back) if viewer.is_one_of(back.roles) => {
                    div .moves { span .soft { "The way back:" } (moves::form(line, back)) }
                }
                _ => p .soft { "There is no direct way back from here." },
            }
        }
    }
}

/// The move that undoes a move: straight back, or out of an approval.
fn way_back(now: Standing, was: Standing) -> Option<&'static Move> {
    let to = |state: Standing| now.moves().find(|one| one.to == state);
    to(was).or_else(|| if now == Standing::Approved { to(Standing::Questioned) } else { None })
}
