//! What was typed goes into the book: a new order, a revision, a correction that was accepted, and the way back.

use axum::Form;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use book::{BookError, Order};
use maud::html;
use serde::Deserialize;

use crate::desk::Desk;
use crate::error::DeskError;
use crate::reviewing::Depth;
use crate::viewer::Viewer;

use super::entered::{Entered, Posted};
use super::page::{Around, page};
use super::screen::Screen;
use super::{blank, drafts, kept, overtaken};

/// A correction or a part that was chosen with one click.
#[derive(Debug, Clone, Deserialize)]
struct Chosen {
    /// Fields and what they are to say.
    set: Vec<(String, String)>,
    /// Why, in words.
    why: String,
    /// Readings whose correction stands in the sheet already and is now confirmed.
    #[serde(default)]
    readings: Vec<String>,
    /// The field beside the button that says who confirmed it, for a correction that somebody confirmed.
    #[serde(default)]
    confirmed: Option<String>,
}

/// The form again, with what keeps it from being saved.
fn again(viewer: &Viewer, screen: &Screen, problem: Option<&DeskError>) -> Response {
    let said = problem.map(DeskError::parts);
    let notices = html! {
        div .notice.bad role="alert" {
            p { strong { "Nothing was written yet." } " What you typed is still here." }
            @if let Some((problem, accepted)) = &said {
                p { (problem) "." @if let Some(accepted) = accepted { " Accepted: " (accepted) } }
            } @else if !screen.needs.is_empty() {
                p { "The sheet still needs something before it can be kept; it is named below." }
            } @else {
                p { "The faults stand below and beside their fields." }
            }
        }
    };
    (StatusCode::UNPROCESSABLE_ENTITY, page(viewer, screen, &Around::saying(notices))).into_response()
}

/// Takes a new order in.
pub(super) async fn place(State(desk): State<Desk>, viewer: Viewer, posted: Posted) -> Result<Response, DeskError> {
    let screen = Screen::of(&desk, None, &blank(), Entered::of(posted)?, Depth::WithoutQuestions).await?;
    let (Some(reviewed), Ok(details), true) = (&screen.reviewed, screen.entered.details(), screen.may_be_kept()) else {
        return Ok(again(&viewer, &screen, None));
    };
    match desk.book().place(reviewed, &details, &viewer.person(), desk.now()).await {
        Ok(line) => {
            drafts::drop_of(&desk, &viewer, &screen.entered).await?;
            Ok(Redirect::to(&format!("/orders/{}?saved=1", line.number)).into_response())
        }
        Err(error @ (BookError::Refused { .. } | BookError::Sheet(_))) => {
            Ok(again(&viewer, &screen, Some(&DeskError::Book(error))))
        }
        Err(error) => Err(error.into()),
    }
}

/// Puts a choice into the form of a new order.
pub(super) async fn accept_new(
    State(desk): State<Desk>,
    viewer: Viewer,
    posted: Posted,
) -> Result<Response, DeskError> {
    let mut entered = Entered::of(posted)?;
    let chosen = chosen(&entered, &viewer)?;
    entered.fields.extend(chosen.set);
    let screen = Screen::of(&desk, None, &blank(), entered, Depth::WithoutQuestions).await?;
    let notices = html! { p .notice role="status" { (chosen.why) } };
    Ok(page(&viewer, &screen, &Around::saying(notices)).into_response())
}

/// Writes what was typed as a new revision.
pub(super) async fn revise(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    posted: Posted,
) -> Result<Response, DeskError> {
    let order = desk.book().order(number).await?;
    write(&desk, &viewer, order, Entered::of(posted)?, None).await
}

/// Writes a correction or a part that was chosen as a new revision, with what else was typed.
pub(super) async fn accept(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    posted: Posted,
) -> Result<Response, DeskError> {
    let order = desk.book().order(number).await?;
    let mut entered = Entered::of(posted)?;
    let chosen = chosen(&entered, &viewer)?;
    entered.fields.extend(chosen.set.clone());
    write(&desk, &viewer, order, entered, Some(chosen)).await
}

/// What was chosen. A correction gets the name of whoever makes it, and of whoever confirmed it.
fn chosen(entered: &Entered, viewer: &Viewer) -> Result<Chosen, DeskError> {
    let mut chosen = serde_json::from_str(&entered.chosen)
        .ok()
        .filter(|chosen: &Chosen| {
            let of_the_sheet = |field: &String| field.starts_with("r.") || field.starts_with("f.");
            chosen.set.iter().map(|(field, _)| field).chain(&chosen.readings).all(of_the_sheet)
        })
        .ok_or_else(|| {
            DeskError::refused("nothing was chosen", "one of the buttons beside a suspected reading or a part")
        })?;
    let confirmer = match &chosen.confirmed {
        None => None,
        Some(field) => {
            Some(entered.said.get(field).map(|who| who.trim()).filter(|who| !who.is_empty()).ok_or_else(|| {
                DeskError::refused(
                    "a correction was to be confirmed, and nobody is named who confirmed it",
                    "who confirmed it beside the button, such as `customer`",
                )
            })?)
        }
    };
    let corrected: Vec<String> = chosen
        .set
        .iter()
        .filter(|(_, becomes)| !becomes.is_empty())
        .filter_map(|(field, _)| field.strip_suffix(".taken_as").map(str::to_owned))
        .collect();
    let name = viewer.person().name;
    chosen.set.extend(corrected.iter().map(|reading| (format!("{reading}.taken_by"), name.clone())));
    if let Some(who) = confirmer {
        let confirmed = corrected.iter().chain(&chosen.readings);
        let fields: Vec<(String, String)> =
            confirmed.map(|reading| (format!("{reading}.confirmed_by"), who.to_owned())).collect();
        chosen.set.extend(fields);
        chosen.why = format!("confirmed by {who}: {}", chosen.why);
    }
    Ok(chosen)
}

async fn write(
    desk: &Desk,
    viewer: &Viewer,
    order: Order,
    entered: Entered,
    chosen: Option<Chosen>,
) -> Result<Response, DeskError> {
    let number = order.line.number;
    let seen = entered.seen;
    let kept = kept(desk, &order, seen).await?;
    if seen != order.line.revision {
        return conflict(desk, viewer, order, entered).await;
    }
    let screen = Screen::of(desk, Some(order.line), &kept, entered, Depth::WithoutQuestions).await?;
    let (Some(reviewed), Ok(details), true) = (&screen.reviewed, screen.entered.details(), screen.may_be_kept()) else {
        return Ok(again(viewer, &screen, None));
    };
    let mut reason = screen.reason();
    if let Some(chosen) = chosen {
        // What was chosen is one of the changes; the others keep their words.
        let typed = screen.entered.reason.trim();
        let others = if !typed.is_empty() || screen.changed.len() > chosen.set.len() {
            format!(" ({reason})")
        } else {
            String::new()
        };
        reason = format!("{}{others}", chosen.why);
    }
    match desk.book().revise(number, seen, reviewed, &details, &reason, &viewer.person(), desk.now()).await {
        Ok(line) => {
            desk.book().drop_draft(viewer.number(), &drafts::topic(Some(number), "")).await?;
            Ok(Redirect::to(&format!("/orders/{number}?saved={}", line.revision)).into_response())
        }
        Err(BookError::Overtaken { .. }) => {
            let order = desk.book().order(number).await?;
            conflict(desk, viewer, order, screen.entered).await
        }
        Err(error @ (BookError::Refused { .. } | BookError::Sheet(_))) => {
            Ok(again(viewer, &screen, Some(&DeskError::Book(error))))
        }
        Err(error) => Err(error.into()),
    }
}

/// Somebody was first: both versions field by field, and the form with what was typed on top of what stands.
async fn conflict(desk: &Desk, viewer: &Viewer, order: Order, entered: Entered) -> Result<Response, DeskError> {
    let (screen, notices) = overtaken::carried_over(desk, order, entered).await?;
    Ok((StatusCode::CONFLICT, page(viewer, &screen, &Around::saying(notices))).into_response())
}

/// The revision that is to be undone.
#[derive(Debug, Clone, Copy, Deserialize)]
pub(super) struct Undone {
    seen: i64,
}

/// Writes a new revision that says what the one before the last said.
pub(super) async fn undo(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Form(undone): Form<Undone>,
) -> Result<Redirect, DeskError> {
    if undone.seen < 2 {
        return Err(DeskError::refused(
            format!("before revision {} there is nothing to go back to", undone.seen),
            "the number of the revision that stands, from 2 on",
        ));
    }
    let before = desk.book().revision(number, undone.seen - 1).await?;
    let catalog = desk.shop().catalog();
    let reviewed = desk.reviewing().review("sheet", &before.sheet, &catalog, Depth::WithoutQuestions).await?;
    let reason = format!("undoes revision {}: back to what revision {} said", undone.seen, before.revision);
    let who = viewer.person();
    let line = desk.book().revise(number, undone.seen, &reviewed, &before.details, &reason, &who, desk.now()).await?;
    Ok(Redirect::to(&format!("/orders/{number}?saved={}", line.revision)))
}
