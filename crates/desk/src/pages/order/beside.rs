//! What goes on beside the sheet: questions to the customer, and who else has the order open.

use axum::Form;
use axum::extract::{Path, State};
use axum::response::Redirect;
use book::{Direction, MoveRequest, State as OrderState};
use maud::{Markup, html};
use serde::Deserialize;

use crate::desk::Desk;
use crate::error::DeskError;
use crate::reviewing::Depth;
use crate::viewer::Viewer;
use crate::words::ago;

use super::entered::{Entered, Posted};
use super::screen::Screen;
use super::{drafts, kept};

/// Writes a question to the customer down; an order that was only received is questioned from then on.
pub(super) async fn ask(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    posted: Posted,
) -> Result<Redirect, DeskError> {
    let entered = Entered::of(posted)?;
    let order = desk.book().order(number).await?;
    let who = viewer.person();
    // The words as somebody read them before they sent them, or the button's own.
    let words = entered.said.get(&entered.chosen).unwrap_or(&entered.chosen);
    desk.book().write_message(number, Direction::ToCustomer, words, &who, desk.now()).await?;
    if matches!(order.line.state, OrderState::Received | OrderState::Remade) {
        let asked = MoveRequest {
            seen_revision: order.line.revision,
            from: order.line.state,
            to: OrderState::Questioned,
            reason: None,
        };
        desk.book().move_order(number, asked, &who, desk.now()).await?;
    }
    let kept = kept(&desk, &order, entered.seen).await?;
    let screen = Screen::of(&desk, Some(order.line), &kept, entered, Depth::WithoutQuestions).await?;
    if screen.changed.is_empty() {
        return Ok(Redirect::to(&format!("/orders/{number}?asked=1")));
    }
    // What was typed and not saved is still there on the next page.
    drafts::keep_typed(&desk, &viewer, Some(number), &screen.entered).await?;
    Ok(Redirect::to(&format!("/orders/{number}?asked=1&draft=1")))
}

/// What a page says of itself.
#[derive(Debug, Clone, Copy, Deserialize)]
pub(super) struct Here {
    seen: i64,
}

/// Notes that somebody has the order open, and says who else has and what was written meanwhile.
pub(super) async fn presence(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Form(here): Form<Here>,
) -> Result<Markup, DeskError> {
    let now = desk.now();
    let line = desk.book().order(number).await?.line;
    let others = desk.presence().here(number, viewer.number(), &viewer.person().name, now);
    let newer = if line.revision > here.seen { Some(desk.book().revision(number, line.revision).await?) } else { None };
    Ok(html! {
        div #presence data-part aria-live="polite" {
            @if !others.is_empty() {
                p .notice { (others.join(" and ")) @if others.len() == 1 { " has" } @else { " have" } " this order open too." }
            }
            @if let Some(newer) = newer {
                p .notice.warn { "Revision " (newer.revision) " was written by " (newer.who) " " (ago(newer.at, now)) " ago: " (newer.reason) ". "
                    a href={ "/orders/" (number) } { "Look at it" } " or carry on; both are shown field by field when you save." }
            }
        }
    })
}
