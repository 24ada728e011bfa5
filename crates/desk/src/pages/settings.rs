//! The settings: what the shop has decided, its letterhead, and how the desk looks.

mod letterhead;
mod sections;
mod weaker;

pub(crate) use weaker::weakened;

use axum::extract::{DefaultBodyLimit, State};
use axum::handler::Handler;
use maud::{Markup, html};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::routes::{Routes, Who};
use crate::shell::{self, Place};
use crate::viewer::Viewer;

/// The largest form with a logo in it.
const LARGEST_FORM: usize = 5 * 1024 * 1024;

/// Registers the settings.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes
        .get("/settings", Who::Readers, page)
        .get("/settings/change/{section}", Who::Owner, sections::change)
        .post("/settings/change/{section}", Who::Owner, sections::enter)
        .post("/settings/drop/{section}", Who::Owner, sections::drop_own)
        .post("/settings/undo", Who::Owner, sections::undo)
        .get("/settings/letterhead", Who::Owner, letterhead::page)
        .post("/settings/letterhead", Who::Owner, letterhead::enter.layer(DefaultBodyLimit::max(LARGEST_FORM)))
}

async fn page(State(desk): State<Desk>, viewer: Viewer) -> Result<Markup, DeskError> {
    let is_owner = viewer.is_one_of(&[book::Role::Owner]);
    let body = html! {
        div .bar { h1 { "Settings" } @if !is_owner { span .soft { "The owner changes them; everybody may read them." } } }
        div .columns {
            (letterhead::summary(&desk, is_owner))
            (look())
            section .card {
                h2 { "Accounts" }
                p { "Who may use this desk, and as what." }
                p { a .button href="/accounts" { "Accounts" } }
            }
        }
        (sections::all(&desk, is_owner))
    };
    Ok(shell::page(&viewer, Place::Settings, "Settings", &body))
}

/// How the desk looks on this machine. It stays in the browser, which is why it needs the script.
fn look() -> Markup {
    html! {
        section .card {
            h2 { "On this machine" }
            div .field {
                label for="theme" { "Light or dark" }
                select #theme data-remember="desk-theme" {
                    option value="" { "as the system" }
                    option value="light" { "light" }
                    option value="dark" { "dark" }
                }
            }
            div .field {
                label for="keys" { "Single keys" }
                select #keys data-remember="desk-keys" aria-describedby="hint-keys" {
                    option value="" { "on" }
                    option value="off" { "off" }
                }
                span .hint #hint-keys { "/ to search, j and k through rows, g and a letter to go somewhere, ? shows them all." }
            }
            p .soft { "These two are kept by this browser alone, and need its scripts switched on." }
        }
    }
}
