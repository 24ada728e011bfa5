//! The record: who signed in or tried to, and the end of the log.

use axum::extract::State;
use book::{Event, SignIn, SignInOutcome};
use maud::{Markup, html};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::shell::{self, Place};
use crate::viewer::Viewer;
use crate::words;

/// So many of each are shown.
const SHOWN: i64 = 100;
/// So many letters of the particulars of an event.
const PARTICULARS: usize = 160;

pub(super) async fn page(State(desk): State<Desk>, viewer: Viewer) -> Result<Markup, DeskError> {
    let sign_ins = desk.book().sign_ins(SHOWN, &viewer.person()).await?;
    let events = desk.book().latest_events(SHOWN).await?;
    let body = html! {
        div .bar { h1 { "Who signed in, what happened" } a .button href="/accounts" { "Accounts" } }
        section .card {
            h2 { "Sign-ins" }
            @if sign_ins.is_empty() { p .soft { "Nobody has signed in yet." } } @else {
                div .scroll tabindex="0" role="group" aria-label="Sign-ins, table" { table {
                    thead { tr { th { "When" } th { "Name" } th { "From" } th { "What became of it" } } }
                    tbody { @for one in &sign_ins { (sign_in(one)) } }
                } }
            }
        }
        section .card {
            h2 { "The end of the log" }
            p .soft { "Every event is chained to the one before it; " code { "axlewright book check" } " walks the chain. Times are universal." }
            div .scroll tabindex="0" role="group" aria-label="End of the log, table" { table {
                thead { tr { th .number { "No." } th { "When" } th { "Who" } th { "What" } th { "Order" } th { "Particulars" } } }
                tbody { @for one in &events { (event(one)) } }
            } }
        }
    };
    Ok(shell::page(&viewer, Place::Settings, "Who signed in, what happened", &body))
}

fn sign_in(one: &SignIn) -> Markup {
    let refused = !matches!(one.outcome, SignInOutcome::SignedIn | SignInOutcome::SignedOut);
    html! {
        tr {
            td .moment { (words::time(one.at)) }
            td { (one.name) }
            td { (one.address) }
            td { @if refused { span .fault { (one.outcome.words()) } } @else { (one.outcome.words()) } }
        }
    }
}

fn event(one: &Event) -> Markup {
    let whole = one.body.to_string();
    let mut particulars: String = whole.chars().take(PARTICULARS).collect();
    if particulars.len() < whole.len() {
        particulars.push('…');
    }
    html! {
        tr {
            td .number { (one.sequence) }
            td .moment { (words::time(one.at)) }
            td { (one.who) }
            td { (one.kind.words()) }
            td .number { @if let Some(order) = one.order { a href={ "/orders/" (order) } { (order) } } }
            td .particulars { (particulars) }
        }
    }
}
