//! The page of an order and of a new one: the sheet as a form, the drawing beside it, and what the review says of what was typed.
//!
//! The form carries the text that it was made from, so what comes back changes only what somebody changed; see [`rewrite`]. Parts
//! of the page follow while one types (`/live`, `/drawing`, `/questions`); without the script a button does the same.

mod beside;
mod doubts;
mod drafts;
mod entered;
mod faults;
mod fields;
mod figure;
mod form_view;
mod overtaken;
mod page;
mod review_view;
mod rewrite;
mod save;
mod screen;
mod written;

use axum::extract::{Path, Query, State};
use book::Order;
use maud::{Markup, html};
use serde::Deserialize;

use crate::desk::Desk;
use crate::error::DeskError;
use crate::reviewing::Depth;
use crate::routes::{Routes, Who};
use crate::viewer::Viewer;
use crate::words::moment;

pub(crate) use fields::place_on_the_form;
pub(crate) use rewrite::CORRECTION;

use entered::{Entered, Posted};
use page::Around;
use screen::{BLANK, Kept, Screen};

/// Registers the pages.
pub(crate) fn routes(routes: Routes) -> Routes {
    let routes = routes
        .get("/orders/new", Who::Desk, new)
        .post("/orders/new", Who::Desk, save::place)
        .post("/orders/new/review", Who::Desk, new_review)
        .post("/orders/new/live", Who::Desk, new_live)
        .post("/orders/new/questions", Who::Desk, new_questions)
        .post("/orders/new/drawing", Who::Desk, new_drawing)
        .post("/orders/new/accept", Who::Desk, save::accept_new)
        .post("/orders/new/draft", Who::Desk, drafts::keep_new)
        .post("/orders/new/draft/drop", Who::Desk, drafts::drop_new);
    routes
        .get("/orders/{number}", Who::Readers, show)
        .post("/orders/{number}", Who::Desk, save::revise)
        .post("/orders/{number}/review", Who::Readers, review)
        .post("/orders/{number}/live", Who::Readers, live)
        .post("/orders/{number}/questions", Who::Readers, questions)
        .post("/orders/{number}/drawing", Who::Readers, drawing)
        .post("/orders/{number}/accept", Who::Desk, save::accept)
        .post("/orders/{number}/undo", Who::Desk, save::undo)
        .post("/orders/{number}/ask", Who::Desk, beside::ask)
        .post("/orders/{number}/presence", Who::Readers, beside::presence)
        .post("/orders/{number}/draft", Who::Desk, drafts::keep)
        .post("/orders/{number}/draft/drop", Who::Desk, drafts::drop_kept)
}

/// What the address of a page may say.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default)]
struct Said {
    /// The revision that was just written.
    saved: Option<i64>,
    /// Whether a question was just written down.
    asked: Option<u8>,
    /// Whether to carry on with the draft.
    draft: Option<u8>,
    /// With which of several.
    of: Option<String>,
    /// Whether to work the questions out at once.
    questions: Option<u8>,
    /// Whether a part of the page is enough.
    part: Option<u8>,
}

impl Said {
    fn depth(&self) -> Depth {
        if self.questions.is_some() { Depth::Whole } else { Depth::WithoutQuestions }
    }
}

/// The revision that somebody saw, of an order as it stands.
async fn kept(desk: &Desk, order: &Order, seen: i64) -> Result<Kept, DeskError> {
    if seen == order.line.revision {
        return Ok(Kept { text: order.sheet.clone(), details: order.line.details.clone() });
    }
    let revision = desk.book().revision(order.line.number, seen).await?;
    Ok(Kept { text: revision.sheet, details: revision.details })
}

async fn show(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Query(said): Query<Said>,
) -> Result<Markup, DeskError> {
    let order = desk.book().order(number).await?;
    let draft = if viewer.works_the_desk() {
        drafts::of(&desk, &viewer, &drafts::topic(Some(number), "")).await?
    } else {
        None
    };
    if let (Some(draft), true) = (&draft, said.draft.is_some()) {
        let entered = Entered::of_pairs(draft.pairs.clone());
        if entered.seen == order.line.revision {
            let kept = kept(&desk, &order, entered.seen).await?;
            let screen = Screen::of(&desk, Some(order.line), &kept, entered, said.depth()).await?;
            let notices = html! { (saved(&said, &screen)) (drafts::carried_on(draft, &page::address(&screen), "")) };
            return Ok(page::page(&viewer, &screen, &Around { notices, whole: said.questions.is_some() }));
        }
        let (screen, notices) = overtaken::carried_over(&desk, order, entered).await?;
        return Ok(page::page(&viewer, &screen, &Around::saying(notices)));
    }
    let entered = Entered::untouched(&order.sheet, order.line.revision, &order.line.details);
    let kept = Kept { text: order.sheet, details: order.line.details.clone() };
    let screen = Screen::of(&desk, Some(order.line), &kept, entered, said.depth()).await?;
    let notices = html! {
        (saved(&said, &screen))
        @if let Some(draft) = &draft { (drafts::offered(draft, &page::address(&screen))) }
    };
    Ok(page::page(&viewer, &screen, &Around { notices, whole: said.questions.is_some() }))
}

/// What was just done, and the way back.
fn saved(said: &Said, screen: &Screen) -> Markup {
    let Some(line) = &screen.line else { return html! {} };
    html! {
        @if said.asked.is_some() {
            p .notice role="status" { "The question is written down under "
                a href={ "/orders/" (line.number) "/messages" } { "messages" } ", to be sent. The order is " (line.state.words()) "." }
        }
        @if let Some(revision) = said.saved.filter(|revision| *revision == line.revision) {
            form .notice method="post" action={ "/orders/" (line.number) "/undo" } role="status" {
                "Revision " (revision) " is written, at " (moment(line.changed_at)) ". "
                @if revision > 1 {
                    input type="hidden" name="seen" value=(revision);
                    button .quiet { "Undo: back to what revision " (revision - 1) " said" }
                } @else {
                    a href={ "/orders/" (line.number) "/second-entry" } { "From a paper? Let somebody else enter it a second time" }
                }
            }
        }
    }
}

async fn new(State(desk): State<Desk>, viewer: Viewer, Query(said): Query<Said>) -> Result<Markup, DeskError> {
    let drafts = drafts::of_new(&desk, &viewer).await?;
    let asked = drafts::mark_of(said.of.as_deref().unwrap_or_default());
    let carried = drafts.iter().find(|draft| said.draft.is_some() && (said.of.is_none() || draft.mark == asked));
    // Carried on with or not, this page keeps a draft of its own, for the other one may still be open.
    let draft = drafts::fresh_mark()?;
    let (entered, notices) = match carried {
        Some(found) => {
            let entered =
                Entered { draft, carried: drafts::carried_from(found), ..Entered::of_pairs(found.found.pairs.clone()) };
            (entered, drafts::carried_on(&found.found, "/orders/new", &found.mark))
        }
        None => (Entered { base: BLANK.to_owned(), draft, ..Entered::default() }, drafts::offered_new(&drafts)),
    };
    let screen = Screen::of(&desk, None, &blank(), entered, said.depth()).await?;
    Ok(page::page(&viewer, &screen, &Around { notices, whole: said.questions.is_some() }))
}

fn blank() -> Kept {
    Kept { text: BLANK.to_owned(), ..Kept::default() }
}

/// What was typed into the page of an order.
///
/// Who only reads has fields that are not sent, so that they see what stands in the book.
async fn typed(desk: &Desk, viewer: &Viewer, number: i64, posted: Posted, depth: Depth) -> Result<Screen, DeskError> {
    let order = desk.book().order(number).await?;
    let mut entered = Entered::of(posted)?;
    // Fields that cannot be typed into are not sent either.
    if !viewer.works_the_desk() || page::is_still(order.line.state) {
        let stands = Entered::untouched(&order.sheet, order.line.revision, &order.line.details);
        entered = Entered { view: entered.view, units: entered.units, ..stands };
    }
    let kept = kept(desk, &order, entered.seen).await?;
    Screen::of(desk, Some(order.line), &kept, entered, depth).await
}

async fn typed_new(desk: &Desk, posted: Posted, depth: Depth) -> Result<Screen, DeskError> {
    Screen::of(desk, None, &blank(), Entered::of(posted)?, depth).await
}

async fn review(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Query(said): Query<Said>,
    posted: Posted,
) -> Result<Markup, DeskError> {
    let screen = typed(&desk, &viewer, number, posted, said.depth()).await?;
    Ok(page::page(&viewer, &screen, &Around { notices: html! {}, whole: said.questions.is_some() }))
}

async fn new_review(
    State(desk): State<Desk>,
    viewer: Viewer,
    Query(said): Query<Said>,
    posted: Posted,
) -> Result<Markup, DeskError> {
    let screen = typed_new(&desk, posted, said.depth()).await?;
    Ok(page::page(&viewer, &screen, &Around { notices: html! {}, whole: said.questions.is_some() }))
}

async fn live(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    posted: Posted,
) -> Result<Markup, DeskError> {
    Ok(page::live(&viewer, &typed(&desk, &viewer, number, posted, Depth::WithoutQuestions).await?))
}

async fn new_live(State(desk): State<Desk>, viewer: Viewer, posted: Posted) -> Result<Markup, DeskError> {
    Ok(page::live(&viewer, &typed_new(&desk, posted, Depth::WithoutQuestions).await?))
}

async fn questions(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    posted: Posted,
) -> Result<Markup, DeskError> {
    let screen = typed(&desk, &viewer, number, posted, Depth::Whole).await?;
    Ok(review_view::questions(&screen, true, &page::address(&screen), page::may_write(&viewer, &screen)))
}

async fn new_questions(State(desk): State<Desk>, viewer: Viewer, posted: Posted) -> Result<Markup, DeskError> {
    let screen = typed_new(&desk, posted, Depth::Whole).await?;
    Ok(review_view::questions(&screen, true, &page::address(&screen), page::may_write(&viewer, &screen)))
}

async fn drawing(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Query(said): Query<Said>,
    posted: Posted,
) -> Result<Markup, DeskError> {
    let screen = typed(&desk, &viewer, number, posted, Depth::WithoutQuestions).await?;
    with_drawing(&desk, &viewer, &screen, &said).await
}

async fn new_drawing(
    State(desk): State<Desk>,
    viewer: Viewer,
    Query(said): Query<Said>,
    posted: Posted,
) -> Result<Markup, DeskError> {
    let screen = typed_new(&desk, posted, Depth::WithoutQuestions).await?;
    with_drawing(&desk, &viewer, &screen, &said).await
}

/// The drawing for the script, or the whole page with it.
async fn with_drawing(desk: &Desk, viewer: &Viewer, screen: &Screen, said: &Said) -> Result<Markup, DeskError> {
    let drawn = figure::drawn(desk, screen).await?;
    if said.part.is_some() {
        return Ok(drawn);
    }
    Ok(page::page_with(viewer, screen, &Around::nothing(), Some(&drawn)))
}
