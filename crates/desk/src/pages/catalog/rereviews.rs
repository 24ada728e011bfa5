//! The runs over the open orders after changes of the catalog, and the verdicts that they changed.

use axum::extract::State;
use axum::http::header::REFRESH;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::marks;
use crate::rereviewing::{self, Progress};
use crate::shell::{self, Place};
use crate::viewer::Viewer;
use crate::words::time;

/// So many runs are shown.
const SHOWN: i64 = 10;

/// The page.
pub(super) async fn page(State(desk): State<Desk>, viewer: Viewer) -> Result<Response, DeskError> {
    let catalog = desk.shop().catalog();
    let progress = desk.shop().rereviewing().progress();
    let waiting = desk.book().waiting_for_rereview(&catalog).await?;
    let threshold = catalog.catalog().settings.thresholds.cut_at;
    let mut runs = Vec::new();
    for run in desk.book().rereviews(SHOWN).await? {
        let changes = desk.book().rereview_changes(run.number).await?;
        runs.push((run, changes));
    }
    let body = html! {
        nav .trail aria-label="Place" { a href="/catalog" { "Catalog" } " › " }
        div .bar { h1 { "Reviews after changes" } }
        (standing(&progress, waiting, viewer.works_the_desk()))
        @if runs.is_empty() {
            section .empty {
                h2 { "No run yet" }
                p { "When a row or a setting is saved, every open order is reviewed once more with the changed catalog. The orders whose "
                    "verdict that changes will stand here, each with its reason." }
            }
        }
        @for (run, changes) in &runs {
            section .card {
                h2 { (time(run.started_at)) " " span .soft { "by " (run.who) } }
                p { (run.done) " of " (run.orders) " orders reviewed"
                    @if run.finished_at.is_none() && !progress.running { ", then broken off; the rest wait" } ". "
                    @match changes.len() { 0 => "No verdict changed.", 1 => "One verdict changed:", many => { (many) " verdicts changed:" } } }
                @if !changes.is_empty() {
                    div .scroll tabindex="0" role="group" aria-label="Verdicts that changed, table" {
                        table data-rows="" {
                            thead { tr { th { "Order" } th { "State" } th { "Verdict" } th { "Chance of a fit" } th { "Why" } } }
                            tbody {
                                @for one in changes {
                                    tr data-order=(one.order) data-becomes=(one.becomes.words()) {
                                        th scope="row" { a href={ "/orders/" (one.order) } { (one.reference) } }
                                        td { (one.state.words()) }
                                        td { (marks::judgement(one.was)) " → " (marks::judgement(one.becomes)) }
                                        td { (super::effect::chances(one.fit_was, one.fit_becomes, threshold, one.becomes)) }
                                        td { (one.why) }
                                    }
                                }
                            }
                        }
                    }
                }
            }
        }
    };
    let page = shell::page(&viewer, Place::Catalog, "Reviews after changes", &body);
    Ok(if progress.running { ([(REFRESH, "1")], page).into_response() } else { page.into_response() })
}

fn standing(progress: &Progress, waiting: i64, may_start: bool) -> Markup {
    html! {
        @if progress.running {
            section .card {
                p { label for="done" { "A run is under way: " (progress.done) " of " (progress.orders) " orders done." } }
                progress #done max=(progress.orders.max(1)) value=(progress.done) { (progress.done) " of " (progress.orders) }
            }
        } @else if waiting > 0 {
            div .notice .warn {
                p { (waiting) (if waiting == 1 { " open order was" } else { " open orders were" }) " last reviewed with another catalog." }
                @if let Some(trouble) = &progress.trouble { p { "The last run ended early: " (trouble) } }
                @if may_start { form method="post" action="/catalog/rereviews" { button .main { "Review them now" } } }
            }
        } @else {
            p .notice role="status" { "Every open order is reviewed with the catalog as it stands." }
        }
    }
}

/// Starts a run.
pub(super) async fn start(State(desk): State<Desk>, viewer: Viewer) -> Result<Redirect, DeskError> {
    rereviewing::start(&desk, &viewer.person());
    Ok(Redirect::to("/catalog/rereviews"))
}
