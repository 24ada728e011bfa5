//! A paper is entered a second time by somebody who does not see what was keyed first. Where the two differ the paper decides,
//! reading by reading; nothing is ever made to agree.

mod decided;
mod keyed;
mod paper;
mod screen;

use axum::Form;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use book::{Direction, Order};
use maud::Markup;
use serde::Deserialize;

use super::order_leaf::{self, ReviewedOrder};
use crate::desk::{Access, Desk};
use crate::error::DeskError;
use crate::reviewing::Depth;
use crate::routes::{Routes, Who};
use crate::shell::query_encoded;
use crate::viewer::Viewer;

use keyed::Keyed;
use paper::Paper;

/// Registers the second entry.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes
        .get("/orders/{number}/second-entry", Who::Desk, blank)
        .post("/orders/{number}/second-entry", Who::Desk, enter)
        .post("/orders/{number}/second-entry/decide", Who::Desk, settle)
}

/// What was typed, by the names of the fields.
type Fields = Vec<(String, String)>;

fn of<'f>(fields: &'f Fields, name: &str) -> &'f str {
    fields.iter().find(|(known, _)| known == name).map_or("", |(_, text)| text.trim())
}

/// The name of the field of a reading, on both pages.
fn field_name(at: usize) -> String {
    format!("r{at}")
}

/// The paper that is to be entered: the one that this revision keyed, the first where none is named.
#[derive(Debug, Deserialize)]
struct Asked {
    keyed: Option<i64>,
}

/// The order, if this viewer did not key it first.
async fn ready(desk: &Desk, viewer: &Viewer, number: i64) -> Result<ReviewedOrder, DeskError> {
    let reviewed = order_leaf::reviewed(desk, number, Depth::WithoutQuestions).await?;
    let own = viewer.person().name;
    let keyed = desk.book().revisions(number).await?.iter().any(|revision| revision.who == own);
    if keyed && desk.access() != Access::Open {
        return Err(DeskError::NotAllowed {
            problem: format!("{own} has keyed a revision of this order, so this would be no second pair of eyes"),
            accepted: "somebody of the desk who has not keyed this order yet".to_owned(),
        });
    }
    Ok(reviewed)
}

async fn blank(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Query(asked): Query<Asked>,
) -> Result<Markup, DeskError> {
    let reviewed = ready(&desk, &viewer, number).await?;
    let paper = Paper::of(&desk, &reviewed, asked.keyed.unwrap_or(1)).await?;
    Ok(screen::blank(&desk, &viewer, &reviewed, &paper, &Vec::new(), &[]))
}

/// A second entry beside the first.
struct Compared {
    reviewed: ReviewedOrder,
    paper: Paper,
    /// What was keyed now, a reading each.
    entered: Vec<Keyed>,
    /// The places of the readings that differ.
    differing: Vec<usize>,
}

/// What of a form cannot be read, by the places of its readings.
struct Faulty {
    reviewed: ReviewedOrder,
    paper: Paper,
    faults: Vec<(usize, String)>,
}

/// Reads what was keyed, and holds it against what was keyed first. Both forms carry the same fields.
async fn compare(
    desk: &Desk,
    viewer: &Viewer,
    number: i64,
    fields: &Fields,
) -> Result<Result<Compared, Faulty>, DeskError> {
    let reviewed = ready(desk, viewer, number).await?;
    must_stand(&reviewed.order, fields)?;
    let keyed = match of(fields, "keyed") {
        "" => 1,
        text => text.parse().map_err(|_| DeskError::refused(format!("`{text}` is no revision"), "a whole number"))?,
    };
    let paper = Paper::of(desk, &reviewed, keyed).await?;
    let mut entered = Vec::new();
    let mut faults = Vec::new();
    for (at, slot) in paper.slots.iter().enumerate() {
        match Keyed::read(of(fields, &field_name(at)), slot, paper.unit) {
            Ok(keyed) => entered.push(keyed),
            Err(problem) => faults.push((at, problem)),
        }
    }
    if !faults.is_empty() {
        return Ok(Err(Faulty { reviewed, paper, faults }));
    }
    if entered.iter().all(|one| *one == Keyed::Nothing) {
        return Err(DeskError::refused("nothing was keyed", "the readings as they stand on the paper"));
    }
    let differing = keyed::differing(&paper.slots, &entered);
    Ok(Ok(Compared { reviewed, paper, entered, differing }))
}

/// The form once more, with what cannot be read.
fn again(desk: &Desk, viewer: &Viewer, faulty: &Faulty, fields: &Fields) -> Response {
    let page = screen::blank(desk, viewer, &faulty.reviewed, &faulty.paper, fields, &faulty.faults);
    (StatusCode::UNPROCESSABLE_ENTITY, page).into_response()
}

async fn enter(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Form(fields): Form<Fields>,
) -> Result<Response, DeskError> {
    let compared = match compare(&desk, &viewer, number, &fields).await? {
        Ok(compared) => compared,
        Err(faulty) => return Ok(again(&desk, &viewer, &faulty, &fields)),
    };
    let note = remembered(&compared, of(&fields, "also"));
    desk.book().write_message(number, Direction::Note, &note, &viewer.person(), desk.now()).await?;
    if compared.differing.is_empty() {
        return Ok(Redirect::to(&format!("/orders/{number}/messages")).into_response());
    }
    Ok(screen::to_decide(&desk, &viewer, &compared, &fields).into_response())
}

/// The revision that was on the screen must still stand.
fn must_stand(order: &Order, fields: &Fields) -> Result<(), DeskError> {
    let seen = of(fields, "revision");
    if seen == order.line.revision.to_string() {
        return Ok(());
    }
    Err(DeskError::Book(book::BookError::Overtaken {
        reference: order.line.reference.clone(),
        seen: seen.parse().unwrap_or(0),
        now: order.line.revision,
        by: "somebody".to_owned(),
    }))
}

/// What the book remembers of a second entry, whatever is decided afterwards.
fn remembered(compared: &Compared, also: &str) -> String {
    let paper = &compared.paper;
    let mut words = format!(
        "Second entry of the paper that {} keyed with revision {}, without seeing the first: {} readings, ",
        paper.revision.who,
        paper.revision.revision,
        paper.slots.len()
    );
    if compared.differing.is_empty() {
        words.push_str("all as they were keyed first.");
    } else {
        words.push_str(&format!("{} differ.", compared.differing.len()));
    }
    for &at in &compared.differing {
        let slot = &paper.slots[at];
        let (first, second) = (slot.first().words(), compared.entered[at].words());
        words.push_str(&format!("\n{}: first {first}, second {second}", slot.words));
    }
    for (slot, since) in paper.changed_since() {
        words.push_str(&format!(
            "\nChanged on purpose since it was keyed: {}, from {} to {}",
            slot.words,
            slot.first().words(),
            since.words()
        ));
    }
    if !also.is_empty() {
        words.push_str(&format!("\nOn the paper besides: {also}"));
    }
    words
}

async fn settle(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Form(fields): Form<Fields>,
) -> Result<Response, DeskError> {
    let compared = match compare(&desk, &viewer, number, &fields).await? {
        Ok(compared) => compared,
        Err(faulty) => return Ok(again(&desk, &viewer, &faulty, &fields)),
    };
    let settled = decided::decide(&compared, |name| of(&fields, name))?;
    let who = viewer.person();
    let reviewed = &compared.reviewed;
    if let Some(text) = &settled.text {
        let line = &reviewed.order.line;
        let fresh = desk.reviewing().review(&line.reference, text, &reviewed.catalog, Depth::WithoutQuestions).await?;
        let reason = format!("second entry against the paper: {}", settled.changed.join("; "));
        desk.book().revise(number, line.revision, &fresh, &line.details, &reason, &who, desk.now()).await?;
    }
    let note = format!("Second entry settled against the paper.\n{}", settled.told.join("\n"));
    desk.book().write_message(number, Direction::Note, &note, &who, desk.now()).await?;
    let address = if settled.questions.is_empty() {
        format!("/orders/{number}/history")
    } else {
        let words = format!(
            "Would you please look once more, for we cannot read it with certainty:\n{}",
            settled.questions.join("\n")
        );
        format!(
            "/orders/{number}/messages?direction={}&words={}",
            query_encoded(Direction::ToCustomer.words()),
            query_encoded(&words)
        )
    };
    Ok(Redirect::to(&address).into_response())
}
