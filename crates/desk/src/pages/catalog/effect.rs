//! What a change would do to the open orders, before it is saved.

use std::sync::Arc;
use std::time::Duration;

use axum::Form;
use axum::extract::{Path, State};
use axum::http::header::REFRESH;
use axum::response::{IntoResponse, Redirect, Response};
use book::{CatalogChange, Judgement, MarkedCatalog, Role};
use catalog::Catalog;
use maud::{Markup, html};
use quantity::{decimal_inches, millimetres, millimetres_text};
use serde::Deserialize;

use crate::desk::Desk;
use crate::error::DeskError;
use crate::marks;
use crate::rows::{Change, Kind, Layers, PlacedFaults, changed_text, place_faults};
use crate::shell::{self, Place};
use crate::shop::{Effect, OrderEffect, Proposal, Proposals, SaveError};
use crate::viewer::Viewer;
use crate::words::percent;
use crate::{effects, rereviewing};

use super::super::settings::weakened;
use super::changed_values::{changed_values, layers_with};

/// So long a page waits for what comes at once.
const PATIENCE: Duration = Duration::from_millis(900);
/// A reason is a sentence or two.
const LONGEST_REASON: usize = 2_000;
const LOOK_EVERY: Duration = Duration::from_millis(30);

/// Enters a change: the shop's own file with it is held against the whole catalog, and what it would do to the open orders is
/// worked out. Comes back with the address of its page, or with every fault in its place.
///
/// # Errors
///
/// The shop's own file is no TOML.
pub(crate) async fn propose(
    desk: &Desk,
    kind: &'static Kind,
    changes: Vec<Change>,
    words: String,
    back: String,
) -> Result<Result<String, PlacedFaults>, DeskError> {
    build(desk, kind, changes, words, back, false).await
}

/// Enters the former text of a file, to take the last change of it back: it is asked about as every other change is.
///
/// # Errors
///
/// The catalog would hold faults with it.
pub(crate) async fn propose_former(
    desk: &Desk,
    kind: &'static Kind,
    former: String,
    words: String,
    back: String,
) -> Result<String, DeskError> {
    let seen = desk.shop().own_text(kind.file);
    let catalog = desk.shop().catalog_with(kind.file, &former)?;
    keep(desk, Built { kind, changes: None, seen, text: former, words, back, anew: false }, catalog)
}

/// A change with the text that it makes.
struct Built {
    kind: &'static Kind,
    changes: Option<Vec<Change>>,
    seen: String,
    text: String,
    words: String,
    back: String,
    anew: bool,
}

/// Keeps a change to be looked at, and comes back with its address.
fn keep(desk: &Desk, built: Built, catalog: Catalog) -> Result<String, DeskError> {
    let weakened = weakened(desk.shop().catalog().catalog(), &catalog);
    let catalog = MarkedCatalog::new(catalog);
    let effect = Arc::new(Effect::default());
    effects::start(desk, &catalog, &effect);
    let id = Proposals::fresh_id()?;
    let address = format!("/catalog/effect/{id}");
    let Built { kind, changes, seen, text, words, back, anew } = built;
    let proposal = Proposal { id, kind, changes, seen, text, words, back, catalog, weakened, anew, effect };
    desk.shop().proposals().keep(Arc::new(proposal));
    Ok(address)
}

async fn build(
    desk: &Desk,
    kind: &'static Kind,
    changes: Vec<Change>,
    words: String,
    back: String,
    anew: bool,
) -> Result<Result<String, PlacedFaults>, DeskError> {
    let seen = desk.shop().own_text(kind.file);
    let text = changed_text(kind, &seen, &changes)
        .map_err(|problem| DeskError::refused(problem, "a file that holds rows, as docs/catalog.md shows them"))?;
    let catalog = match desk.shop().catalog_with(kind.file, &text) {
        Ok(catalog) => catalog,
        Err(faults) => {
            let path = desk.shop().path_of(kind.file).display().to_string();
            return Ok(Err(place_faults(kind, &path, &text, &faults)));
        }
    };
    keep(desk, Built { kind, changes: Some(changes), seen, text, words, back, anew }, catalog).map(Ok)
}

fn proposal_of(desk: &Desk, id: &str) -> Result<Arc<Proposal>, DeskError> {
    desk.shop()
        .proposals()
        .get(id)
        .ok_or_else(|| DeskError::none("such change any more: it was saved, discarded, or the desk was started anew"))
}

/// The page.
pub(super) async fn page(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(id): Path<String>,
) -> Result<Response, DeskError> {
    let proposal = proposal_of(&desk, &id)?;
    let mut waited = Duration::ZERO;
    while proposal.effect.outcome().is_none() && waited < PATIENCE {
        tokio::time::sleep(LOOK_EVERY).await;
        waited += LOOK_EVERY;
    }
    let outcome = proposal.effect.outcome();
    let (done, total) = proposal.effect.progress();
    let threshold = proposal.catalog.catalog().settings.thresholds.cut_at;
    let same = proposal.catalog.mark() == desk.shop().catalog().mark();
    let files = desk.shop().files();
    let kind = proposal.kind;
    let is_settings = kind.address == "settings";
    let body = html! {
        nav .trail aria-label="Place" {
            @if is_settings { a href="/settings" { "Settings" } " › " }
            @else { a href="/catalog" { "Catalog" } " › " a href={ "/catalog/" (kind.address) } { (kind.words) } " › " }
        }
        div .bar { h1 { "What would change" } }
        p .lead { (proposal.words) }
        @if proposal.anew {
            p .notice .warn role="status" { "Somebody else has saved a change of the same file meanwhile. Theirs stays: this is your change on top of it, "
                "and nothing of yours is saved yet." }
        }
        @if same { p .notice { "The catalog would say the same as now." } }
        (changed_values(kind, &Layers::of(kind, &files), &layers_with(kind, &files, &proposal.text)))
        @match &outcome {
            None => (progress(done, total)),
            Some(Err(problem)) => p .notice .bad role="alert" { "The effect could not be worked out: " (problem) },
            Some(Ok(found)) => (told(found, total, threshold)),
        }
        (decide(&proposal, &viewer))
    };
    let place = if is_settings { Place::Settings } else { Place::Catalog };
    let page = shell::page(&viewer, place, "What would change", &body);
    Ok(if outcome.is_none() { ([(REFRESH, "1")], page).into_response() } else { page.into_response() })
}

fn progress(done: usize, total: usize) -> Markup {
    html! {
        section .card {
            p { label for="done" { "The open orders are being reviewed with the changed catalog: " (done) " of " (total) " done." } }
            progress #done max=(total.max(1)) value=(done) { (done) " of " (total) }
            p .soft { "Nothing is saved yet. You may save without waiting, or discard the change, which also stops this." }
        }
    }
}

/// What somebody has to answer for before the change is saved: what is held to less strictly, open orders that could be cut only with
/// it, and an effect that nobody has waited for.
fn to_answer_for(proposal: &Proposal) -> Vec<String> {
    let mut all = proposal.weakened.clone();
    match proposal.effect.outcome() {
        None => all.push("What it does to the open orders is not known yet.".to_owned()),
        Some(Err(_)) => all.push("What it does to the open orders could not be worked out.".to_owned()),
        Some(Ok(found)) => {
            let freed: Vec<&str> = found
                .iter()
                .filter(|one| leniency(one.becomes) > leniency(one.was))
                .map(|one| one.reference.as_str())
                .collect();
            if !freed.is_empty() {
                all.push(format!(
                    "Open orders of which the verdict becomes more lenient, with no reading taken again: {}.",
                    freed.join(", ")
                ));
            }
        }
    }
    all
}

fn leniency(judgement: Judgement) -> u8 {
    match judgement {
        Judgement::Stop | Judgement::Unreadable => 0,
        Judgement::Ask => 1,
        Judgement::Cut => 2,
    }
}

fn decide(proposal: &Proposal, viewer: &Viewer) -> Markup {
    let answered_for = to_answer_for(proposal);
    let is_known = proposal.effect.outcome().is_some();
    let may = proposal.weakened.is_empty() || viewer.is_one_of(&[Role::Owner]);
    html! {
        section .card .decide {
            @if may {
                form method="post" action={ "/catalog/effect/" (proposal.id) "/save" } {
                    @if !answered_for.is_empty() {
                        div .notice .bad {
                            h2 { "This makes the desk less careful, or may" }
                            ul { @for line in &answered_for { li { (line) } } }
                            p { (axle::CAUTIONS[0]) " " (axle::CAUTIONS[1]) }
                            div .field {
                                label for="reason" { "Reason, which is kept with your name" span .required { " required" } }
                                input #reason name="reason" type="text" required autocomplete="off";
                            }
                            p { label { input type="checkbox" name="understood" value="yes" required; " I have read this, and answer for it" } }
                        }
                    }
                    button .main { "Save" @if !is_known { " without waiting" } }
                }
            } @else {
                div .notice .bad {
                    h2 { "This makes the desk less careful" }
                    ul { @for line in &proposal.weakened { li { (line) } } }
                    p { "Only the owner may save it." }
                }
            }
            form method="post" action={ "/catalog/effect/" (proposal.id) "/discard" } { button { "Discard" } }
            span .soft { "The former text of " code { (proposal.kind.file) } " is kept, so that the change can be undone." }
        }
    }
}

fn told(found: &[OrderEffect], total: usize, threshold: f64) -> Markup {
    let verdicts = found.iter().filter(|one| one.was != one.becomes).count();
    let sizes = found.iter().filter(|one| !one.sizes.is_empty()).count();
    if found.is_empty() {
        return html! {
            p .notice role="status" { "Nothing would change in the open orders: " (total)
                (if total == 1 { " was" } else { " were" }) " reviewed with both catalogs." }
        };
    }
    html! {
        p role="status" { strong { (found.len()) " of " (total) " open orders would change: " }
            (how_many(verdicts)) " in the verdict, " (how_many(sizes)) " in the sizes to cut." }
        div .scroll tabindex="0" role="region" aria-label="Orders that would change" {
            table .effects data-rows="" {
                thead { tr { th { "Order" } th { "Verdict" } th { "Chance of a fit" } th { "Sizes to cut" } @if verdicts > 0 { th { "Why" } } } }
                tbody {
                    @for one in found {
                        tr data-order=(one.number) data-becomes=(one.becomes.words()) {
                            th scope="row" { a href={ "/orders/" (one.number) } { (one.reference) } }
                            td {
                                @if one.was == one.becomes { (marks::judgement(one.was)) }
                                @else { (marks::judgement(one.was)) " → " (marks::judgement(one.becomes)) }
                            }
                            td { (chances(one.fit_was, one.fit_becomes, threshold, one.becomes)) }
                            td { (moved(&one.sizes)) }
                            @if verdicts > 0 { td { @if one.was != one.becomes { (one.why) } } }
                        }
                    }
                }
            }
        }
    }
}

fn how_many(orders: usize) -> String {
    match orders {
        0 => "none".to_owned(),
        1 => "1 order".to_owned(),
        many => format!("{many} orders"),
    }
}

/// A chance before and after; once where it is the same.
pub(super) fn chances(was: Option<f64>, becomes: Option<f64>, threshold: f64, judgement: book::Judgement) -> Markup {
    html! {
        @if chance(was) != chance(becomes) { (chance(was)) " → " }
        (marks::fit(becomes, threshold, judgement))
    }
}

fn chance(fit: Option<f64>) -> String {
    fit.map_or_else(|| "not yet".to_owned(), percent)
}

fn moved(sizes: &[(String, Option<f64>, Option<f64>)]) -> Markup {
    let text = |size: &Option<f64>| match size {
        Some(size) => {
            html! { span .number { (decimal_inches(millimetres(*size), 4)) " · " (millimetres_text(millimetres(*size), 3)) } }
        }
        None => html! { "none" },
    };
    html! {
        @if sizes.is_empty() { span .soft { "as now" } } @else {
            ul .entries { @for (words, was, becomes) in sizes { li { (words) ": " (text(was)) " → " (text(becomes)) } } }
        }
    }
}

/// The form of the decision.
#[derive(Debug, Deserialize)]
pub(super) struct Decision {
    #[serde(default)]
    understood: String,
    #[serde(default)]
    reason: String,
}

/// Saves the change and has the open orders reviewed.
pub(super) async fn save(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(id): Path<String>,
    Form(decision): Form<Decision>,
) -> Result<Redirect, DeskError> {
    let proposal = proposal_of(&desk, &id)?;
    let is_settings = proposal.kind.address == "settings";
    if is_settings && !viewer.is_one_of(&[Role::Owner]) {
        return Err(DeskError::NotAllowed {
            problem: "your account may not change the settings".to_owned(),
            accepted: "somebody with the role owner".to_owned(),
        });
    }
    if !proposal.weakened.is_empty() && !viewer.is_one_of(&[Role::Owner]) {
        return Err(DeskError::NotAllowed {
            problem: format!("the change makes the desk less careful: {}", proposal.weakened.join(" ")),
            accepted: "somebody with the role owner".to_owned(),
        });
    }
    let answered_for = to_answer_for(&proposal);
    let reason = decision.reason.trim();
    if reason.len() > LONGEST_REASON {
        return Err(DeskError::refused("the reason is too long", format!("at most {LONGEST_REASON} letters")));
    }
    if !answered_for.is_empty() && (decision.understood != "yes" || reason.is_empty()) {
        return Err(DeskError::refused(
            format!(
                "the change makes the desk less careful, or may, and nobody has said that they know and why: {}",
                answered_for.join(" ")
            ),
            "the tick beside what becomes less careful, and a reason",
        ));
    }
    let saving = {
        let (desk, proposal) = (desk.clone(), proposal.clone());
        tokio::task::spawn_blocking(move || desk.shop().save(proposal.kind.file, &proposal.seen, &proposal.text))
    };
    let saved = saving.await.map_err(|error| DeskError::failed(format!("saving ended early: {error}")))?;
    match saved {
        Ok(()) => {}
        Err(SaveError::Overtaken) => return anew(&desk, &proposal).await,
        Err(SaveError::Refused(error)) => return Err(error),
    }
    desk.shop().proposals().let_go(&id);
    let change = CatalogChange {
        file: proposal.kind.file,
        words: &proposal.words,
        less_careful: &answered_for,
        reason,
        mark: proposal.catalog.mark(),
    };
    desk.book().note_catalog_change(&change, &viewer.person(), desk.now()).await?;
    rereviewing::start(&desk, &viewer.person());
    Ok(Redirect::to(&proposal.back))
}

/// Builds a change once more on the file as it stands now.
async fn anew(desk: &Desk, proposal: &Proposal) -> Result<Redirect, DeskError> {
    desk.shop().read_again().map_err(|problems| crate::shop::refusal(&problems))?;
    let Some(changes) = proposal.changes.clone() else {
        return Err(DeskError::refused(
            "somebody else has changed the file meanwhile, so that going back would lose what they wrote",
            "a look at the file as it stands now",
        ));
    };
    let (words, back) = (proposal.words.clone(), proposal.back.clone());
    match build(desk, proposal.kind, changes, words, back, true).await? {
        Ok(address) => {
            desk.shop().proposals().let_go(&proposal.id);
            Ok(Redirect::to(&address))
        }
        Err(faults) => {
            let problems: Vec<String> = faults
                .placed
                .iter()
                .map(|fault| format!("{} {}: {}", fault.row, fault.path, fault.problem))
                .chain(faults.elsewhere.iter().map(ToString::to_string))
                .collect();
            Err(DeskError::refused(
                format!(
                    "somebody else has changed the file meanwhile, and the change no longer goes with it\n{}",
                    problems.join("\n")
                ),
                "the change entered anew, on the file as it stands now",
            ))
        }
    }
}

/// Lets the change go.
pub(super) async fn discard(State(desk): State<Desk>, Path(id): Path<String>) -> Result<Redirect, DeskError> {
    let proposal = proposal_of(&desk, &id)?;
    desk.shop().proposals().let_go(&id);
    Ok(Redirect::to(&proposal.back))
}
