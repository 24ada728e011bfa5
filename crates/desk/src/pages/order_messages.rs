//! Messages and photos of an order: what the customer wrote, what went to them, and notes among ourselves.

use axum::Form;
use axum::extract::{Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use book::{Direction, Message, OrderLine, Photo};
use maud::{Markup, html};
use serde::Deserialize;

use super::order_head::Leaf;
use super::order_leaf;
use super::order_move::{Moved, just_moved};
use super::order_photos;
use crate::desk::Desk;
use crate::error::DeskError;
use crate::routes::{Routes, Who};
use crate::viewer::Viewer;
use crate::words::moment;

/// Registers the leaf.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes.get("/orders/{number}/messages", Who::Readers, leaf).post("/orders/{number}/messages", Who::Floor, write)
}

/// A message as it is typed.
#[derive(Debug, Default, Deserialize)]
struct Typed {
    #[serde(default)]
    direction: String,
    #[serde(default)]
    words: String,
}

async fn leaf(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Query(typed): Query<Typed>,
    Query(moved): Query<Moved>,
) -> Result<Markup, DeskError> {
    let line = desk.book().order(number).await?.line;
    let top = just_moved(&viewer, &line, &moved);
    page(&desk, &viewer, &line, &typed, &top).await
}

/// The leaf with something above it and something typed already.
async fn page(
    desk: &Desk,
    viewer: &Viewer,
    line: &OrderLine,
    typed: &Typed,
    top: &Markup,
) -> Result<Markup, DeskError> {
    let messages = desk.book().messages(line.number).await?;
    let photos = desk.book().photos(line.number).await?;
    let writes = order_photos::may_add(viewer);
    let body = html! {
        (top)
        div .columns {
            section {
                h2 { "Messages" }
                (thread(&messages))
                @if writes { (form(line.number, typed)) }
            }
            (pictures(viewer, line.number, &photos, &html! {}))
        }
    };
    Ok(order_leaf::page(desk, viewer, line, Leaf::Messages, &body))
}

/// The leaf with the photos alone changed, for an upload that was refused in part.
pub(crate) async fn page_with_faults(
    desk: &Desk,
    viewer: &Viewer,
    line: &OrderLine,
    faults: &Markup,
) -> Result<Markup, DeskError> {
    page(desk, viewer, line, &Typed::default(), faults).await
}

fn thread(messages: &[Message]) -> Markup {
    html! {
        @if messages.is_empty() {
            p .empty { "Nothing has been written yet. What the customer writes or says on the telephone belongs here, and what is asked of them." }
        }
        ol .thread {
            @for message in messages {
                li class={ "message " (class(message.direction)) } #{ "message-" (message.number) } {
                    p .said { strong { (heading(message.direction)) } " " span .soft { (message.who) ", " (moment(message.at)) } }
                    @for line in message.words.lines() { p { (line) } }
                }
            }
        }
    }
}

fn class(direction: Direction) -> &'static str {
    match direction {
        Direction::FromCustomer => "from",
        Direction::ToCustomer => "to",
        Direction::Note => "note-among-us",
    }
}

fn heading(direction: Direction) -> &'static str {
    match direction {
        Direction::FromCustomer => "← From the customer",
        Direction::ToCustomer => "To the customer →",
        Direction::Note => "Note, among ourselves",
    }
}

fn form(number: i64, typed: &Typed) -> Markup {
    let chosen = Direction::read(&typed.direction).unwrap_or(Direction::Note);
    html! {
        form .card method="post" action={ "/orders/" (number) "/messages" } {
            h3 { "Write down a message" }
            fieldset .plain {
                legend .unseen { "Which way it went" }
                @for direction in Direction::ALL {
                    label .choice { input type="radio" name="direction" value=(direction.words()) checked[direction == chosen]; " " (heading(direction)) }
                }
            }
            div .field {
                label for="words" { "What it says" }
                textarea #words name="words" required maxlength="20000" { (typed.words) }
                p .hint { "The desk sends nothing by itself. What is written down is never changed and never removed." }
            }
            button .main { "Write down" }
        }
    }
}

fn pictures(viewer: &Viewer, number: i64, photos: &[Photo], faults: &Markup) -> Markup {
    html! {
        section {
            h2 { "Photos" }
            (faults)
            @if photos.is_empty() { p .empty { "No photos yet. A photo of the scale in its place says what a number alone cannot." } }
            ul .photos {
                @for photo in photos {
                    @let base = format!("/orders/{number}/photos/{}", photo.number);
                    li {
                        a href=(base) {
                            img src={ (base) "/thumbnail" } alt={ @if photo.caption.is_empty() { (photo.name) } @else { (photo.caption) } } loading="lazy";
                        }
                        @if !photo.caption.is_empty() { p { (photo.caption) } }
                        p .soft { (photo.name) ", " (photo.who) ", " (moment(photo.at)) }
                    }
                }
            }
            @if order_photos::may_add(viewer) { (order_photos::form(number)) }
        }
    }
}

async fn write(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Form(typed): Form<Typed>,
) -> Result<Response, DeskError> {
    let written = match Direction::read(&typed.direction) {
        Ok(direction) => desk.book().write_message(number, direction, &typed.words, &viewer.person(), desk.now()).await,
        Err(error) => Err(error),
    };
    let error = match written {
        Ok(message) => {
            return Ok(Redirect::to(&format!("/orders/{number}/messages#message-{}", message.number)).into_response());
        }
        Err(error) => DeskError::from(error),
    };
    if error.status() != axum::http::StatusCode::UNPROCESSABLE_ENTITY {
        return Err(error);
    }
    let line = desk.book().order(number).await?.line;
    let (problem, accepted) = error.parts();
    let top = html! {
        div .notice.bad role="alert" { p .fault { (problem) } @if let Some(accepted) = accepted { p { "Accepted: " (accepted) } } }
    };
    Ok((error.status(), page(&desk, &viewer, &line, &typed, &top).await?).into_response())
}
