//! A paper is entered a second time by somebody who does not see what was keyed first. Where the two differ the paper decides,
//! reading by reading; nothing is ever made to agree.

mod decided;
mod keyed;

use axum::Form;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use book::{Direction, Order};
use maud::{Markup, html};

use super::order_head::Leaf;
use super::order_leaf::{self, ReviewedOrder};
use crate::desk::{Access, Desk};
use crate::error::DeskError;
use crate::reviewing::Depth;
use crate::routes::{Routes, Who};
use crate::shell::query_encoded;
use crate::viewer::Viewer;

use decided::{Decision, decide};
use keyed::{Difference, Keyed, Slot};

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

async fn blank(State(desk): State<Desk>, viewer: Viewer, Path(number): Path<i64>) -> Result<Markup, DeskError> {
    let reviewed = ready(&desk, &viewer, number).await?;
    Ok(form(&desk, &viewer, &reviewed, &Vec::new(), &[]))
}

/// The form with names and units alone, and with what was typed and is faulty.
fn form(desk: &Desk, viewer: &Viewer, reviewed: &ReviewedOrder, fields: &Fields, faults: &[(usize, String)]) -> Markup {
    let line = &reviewed.order.line;
    let slots = keyed::slots(reviewed);
    let unit = reviewed.reviewed.sheet.unit.map_or_else(
        || "each with its unit".to_owned(),
        |unit| format!("where no unit is written it is taken as {unit}"),
    );
    let body = html! {
        section .second-entry {
            h2 { "Enter the paper a second time" }
            @if desk.access() == Access::Open {
                div .notice.warn { p { strong { "This desk is open" } ", so it cannot tell who keyed first. Let somebody else key this, from the paper and not from the screen." } }
            }
            @if !faults.is_empty() { div .notice.bad role="alert" { p .fault { (faults.len()) " of the readings cannot be read; they are marked below." } } }
            p { "Key what stands on the paper, as it stands there, " (unit) ". What was keyed first is not shown. Leave a reading empty that the paper does not have. "
                "Repeats of one reading have commas or semicolons between them." }
            form .card method="post" action={ "/orders/" (line.number) "/second-entry" } autocomplete="off" {
                input type="hidden" name="revision" value=(line.revision);
                div .keyed {
                    @for (at, slot) in slots.iter().enumerate() {
                        @let name = format!("r{at}");
                        @let fault = faults.iter().find(|(faulty, _)| *faulty == at);
                        div .field {
                            label for=(name) { (slot.words) }
                            input #(name) name=(name) value=(of(fields, &name)) autocomplete="off" aria-describedby=[fault.map(|_| format!("{name}-fault"))];
                            @if let Some((_, words)) = fault { p .fault #{ (name) "-fault" } { (words) } }
                        }
                    }
                }
                div .field {
                    label for="also" { "On the paper, and not asked for here" }
                    textarea #also name="also" rows="2" maxlength="4000" { (of(fields, "also")) }
                }
                button .main { "Compare with what was keyed first" }
            }
        }
    };
    order_leaf::page(desk, viewer, line, Leaf::History, &body)
}

async fn enter(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Form(fields): Form<Fields>,
) -> Result<Response, DeskError> {
    let reviewed = ready(&desk, &viewer, number).await?;
    must_stand(&reviewed.order, &fields)?;
    let slots = keyed::slots(&reviewed);
    let mut entered = Vec::new();
    let mut faults = Vec::new();
    for (at, slot) in slots.iter().enumerate() {
        match Keyed::read(of(&fields, &format!("r{at}")), slot, reviewed.reviewed.sheet.unit) {
            Ok(keyed) => entered.push(keyed),
            Err(problem) => faults.push((at, problem)),
        }
    }
    if !faults.is_empty() {
        let page = form(&desk, &viewer, &reviewed, &fields, &faults);
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
    }
    if entered.iter().all(|one| *one == Keyed::Nothing) {
        return Err(DeskError::refused("nothing was keyed", "the readings as they stand on the paper"));
    }
    let differences = keyed::differences(&slots, &entered);
    let note = remembered(&reviewed.order, slots.len(), &differences, of(&fields, "also"));
    desk.book().write_message(number, Direction::Note, &note, &viewer.person(), desk.now()).await?;
    if differences.is_empty() {
        return Ok(Redirect::to(&format!("/orders/{number}/messages")).into_response());
    }
    Ok(to_decide(&desk, &viewer, &reviewed.order, &differences).into_response())
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
fn remembered(order: &Order, readings: usize, differences: &[Difference], also: &str) -> String {
    let mut words = format!(
        "Second entry of revision {}, keyed without seeing the first: {readings} readings, ",
        order.line.revision
    );
    if differences.is_empty() {
        words.push_str("all as they were keyed first.");
    } else {
        words.push_str(&format!("{} differ.", differences.len()));
    }
    for one in differences {
        words.push_str(&format!("\n{}: first {}, second {}", one.words, one.first, one.second));
    }
    if !also.is_empty() {
        words.push_str(&format!("\nOn the paper besides: {also}"));
    }
    words
}

/// The differences, each to be settled against the paper.
fn to_decide(desk: &Desk, viewer: &Viewer, order: &Order, differences: &[Difference]) -> Markup {
    let line = &order.line;
    let body = html! {
        section .second-entry {
            h2 { (differences.len()) @if differences.len() == 1 { " reading differs" } @else { " readings differ" } }
            p { "Look at the paper again for each of them. The paper decides, not the likelier number; what it does not say clearly is asked." }
            form .card method="post" action={ "/orders/" (line.number) "/second-entry/decide" } {
                input type="hidden" name="revision" value=(line.revision);
                @for one in differences {
                    fieldset {
                        legend { (one.words) }
                        input type="hidden" name={ "second" (one.at) } value=(one.second_text);
                        @for decision in Decision::ALL {
                            label .choice {
                                input type="radio" name={ "decide" (one.at) } value=(decision.key()) required; " "
                                @match decision {
                                    Decision::First => { "The paper says " strong { (one.first) } ", as was keyed first" },
                                    Decision::Second => { "The paper says " strong { (one.second) } ", as was keyed now" },
                                    Decision::Unclear => "The paper is unclear: ask the customer",
                                }
                            }
                        }
                    }
                }
                button .main { "Settle" }
            }
        }
    };
    order_leaf::page(desk, viewer, line, Leaf::History, &body)
}

async fn settle(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Form(fields): Form<Fields>,
) -> Result<Response, DeskError> {
    let reviewed = ready(&desk, &viewer, number).await?;
    must_stand(&reviewed.order, &fields)?;
    let slots = keyed::slots(&reviewed);
    let settled = decide(&reviewed, &slots, |name| of(&fields, name))?;
    let who = viewer.person();
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

/// A slot is one reading of the sheet; both parts of this page go by its place.
type Slots = [Slot];
