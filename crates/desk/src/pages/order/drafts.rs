//! What was typed and not saved: kept while one types, and offered again.

use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::Redirect;
use jiff::Timestamp;
use maud::{Markup, html};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::viewer::Viewer;
use crate::words::moment;

use super::entered::{Entered, Posted};

/// A draft that was found.
pub(super) struct Found {
    /// What was typed, as the form names it.
    pub pairs: Vec<(String, String)>,
    /// When.
    pub at: Timestamp,
}

/// What the draft of an order is kept under. Every page of a new order has a mark of its own, so that two of them do not write
/// over each other.
pub(super) fn topic(number: Option<i64>, mark: &str) -> String {
    match (number, mark) {
        (Some(number), _) => format!("order {number}"),
        (None, "") => NEW.to_owned(),
        (None, mark) => format!("{NEW} {mark}"),
    }
}

/// What the topics of new orders begin with.
const NEW: &str = "new order";
/// The longest mark that an address or a form may give.
const LONGEST_MARK: usize = 40;

/// A mark that no other page has.
///
/// # Errors
///
/// The operating system gives no random bytes.
pub(super) fn fresh_mark() -> Result<String, DeskError> {
    crate::shop::Proposals::fresh_id()
}

/// A mark as it came back, or none where it is none.
pub(super) fn mark_of(text: &str) -> &str {
    let sound = text.len() <= LONGEST_MARK && text.bytes().all(|byte| byte.is_ascii_alphanumeric());
    if sound { text } else { "" }
}

/// A draft of a new order.
pub(super) struct FoundNew {
    /// The mark of the page that it was typed into; empty where it had none.
    pub mark: String,
    /// The draft.
    pub found: Found,
}

/// Every draft of a new order, the last kept first.
///
/// # Errors
///
/// The book refuses.
pub(super) async fn of_new(desk: &Desk, viewer: &Viewer) -> Result<Vec<FoundNew>, DeskError> {
    let drafts = desk.book().drafts(viewer.number()).await?;
    let new = drafts.into_iter().filter_map(|draft| {
        let mark = match draft.topic.strip_prefix(NEW)? {
            "" => "",
            rest => rest.strip_prefix(' ')?,
        };
        let found = Found { pairs: serde_json::from_str(&draft.words).ok()?, at: draft.saved_at };
        Some(FoundNew { mark: mark.to_owned(), found })
    });
    Ok(new.collect())
}

/// Lets the draft of a new order go, and the one that it was carried on from, unless somebody typed into that one again.
///
/// # Errors
///
/// The book refuses.
pub(super) async fn drop_of(desk: &Desk, viewer: &Viewer, entered: &Entered) -> Result<(), DeskError> {
    desk.book().drop_draft(viewer.number(), &topic(None, mark_of(&entered.draft))).await?;
    drop_carried(desk, viewer, entered).await
}

/// What a page says of the draft that it carries on with: its mark, and when it was kept last.
pub(super) fn carried_from(draft: &FoundNew) -> String {
    format!("{}@{}", draft.mark, draft.found.at.as_microsecond())
}

async fn drop_carried(desk: &Desk, viewer: &Viewer, entered: &Entered) -> Result<(), DeskError> {
    let Some((mark, at)) = entered.carried.split_once('@') else { return Ok(()) };
    let topic = topic(None, mark_of(mark));
    let stands = desk.book().draft(viewer.number(), &topic).await?;
    if stands.is_some_and(|draft| draft.saved_at.as_microsecond().to_string() == at) {
        desk.book().drop_draft(viewer.number(), &topic).await?;
    }
    Ok(())
}

/// What was typed into a page, in short: `reference Q-0107, Weir Dairy, 4 fields`.
fn in_short(found: &Found) -> String {
    let entered = Entered::of_pairs(found.pairs.clone());
    let named = super::written::Written::read(&entered.base);
    let reference = match &named {
        Some(written) => entered.value(written, "f.order.reference").trim().to_owned(),
        None => String::new(),
    };
    let readings =
        entered.fields.iter().filter(|(name, value)| name.starts_with("r.") && !value.trim().is_empty()).count();
    let mut words = Vec::new();
    if !reference.is_empty() {
        words.push(format!("reference {reference}"));
    }
    words.extend([&entered.customer, &entered.vehicle].into_iter().filter(|one| !one.trim().is_empty()).cloned());
    match readings {
        0 => {}
        1 => words.push("1 reading".to_owned()),
        several => words.push(format!("{several} readings")),
    }
    if words.is_empty() { "without a reference yet".to_owned() } else { words.join(", ") }
}

/// The offer to carry on with new orders that were begun.
pub(super) fn offered_new(drafts: &[FoundNew]) -> Markup {
    html! {
        @if !drafts.is_empty() {
            div .notice.warn {
                p { @if drafts.len() == 1 { "A new order was begun and is not saved yet." }
                    @else { (drafts.len()) " new orders were begun and are not saved yet." }
                    " Another page may still have it open; this one is a new order of its own." }
                ul .entries {
                    @for draft in drafts {
                        li { form method="post" action="/orders/new/draft/drop" {
                            "Typed at " (moment(draft.found.at)) ": " (in_short(&draft.found)) ". "
                            input type="hidden" name="draft" value=(draft.mark);
                            a .button href={ "/orders/new?draft=1&of=" (draft.mark) } { "Carry on with it" } " "
                            button .quiet { "Discard it" }
                        } }
                    }
                }
            }
        }
    }
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
    let topic = topic(number, mark_of(&entered.draft));
    desk.book().keep_draft(viewer.number(), &topic, &words, entered.seen, desk.now()).await?;
    if number.is_none() {
        drop_carried(desk, viewer, entered).await?;
    }
    Ok(())
}

/// The offer to carry on with a draft.
pub(super) fn offered(draft: &Found, address: &str) -> Markup {
    html! {
        form .notice.warn method="post" action={ (address) "/draft/drop" } {
            "You typed something at " (moment(draft.at)) " that is not saved yet. "
            a .button href={ (address) "?draft=1" } { "Carry on with it" } " "
            button .quiet { "Discard it" }
        }
    }
}

/// What stands above a draft that is carried on with.
pub(super) fn carried_on(draft: &Found, address: &str, mark: &str) -> Markup {
    html! {
        form .notice method="post" action={ (address) "/draft/drop" } {
            input type="hidden" name="draft" value=(mark);
            "This is what you typed at " (moment(draft.at)) ", not saved yet. " button .quiet { "Discard it" }
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
    desk.book().drop_draft(viewer.number(), &topic(Some(number), "")).await?;
    Ok(Redirect::to(&format!("/orders/{number}")))
}

pub(super) async fn drop_new(State(desk): State<Desk>, viewer: Viewer, posted: Posted) -> Result<Redirect, DeskError> {
    let entered = Entered::of(posted)?;
    desk.book().drop_draft(viewer.number(), &topic(None, mark_of(&entered.draft))).await?;
    Ok(Redirect::to("/orders/new"))
}
