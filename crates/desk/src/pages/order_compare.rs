//! Two revisions of an order, or an order and a past one, side by side. Differences carry a sign and a word, not a colour alone.

mod beside;
mod standing;

use axum::extract::{Path, Query, State};
use book::{OrderLine, Revision};
use maud::{Markup, html};
use serde::Deserialize;
use similar::{ChangeTag, TextDiff};

use super::order_head::Leaf;
use super::order_history::Names;
use super::order_leaf;
use crate::desk::Desk;
use crate::error::DeskError;
use crate::routes::{Routes, Who};
use crate::viewer::Viewer;
use crate::words::{kept_reading, moment};

/// Registers the comparison.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes.get("/orders/{number}/compare", Who::Readers, compare)
}

/// What is compared with what.
#[derive(Debug, Deserialize)]
struct Asked {
    from: Option<i64>,
    to: Option<i64>,
    other: Option<String>,
}

async fn compare(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Query(asked): Query<Asked>,
) -> Result<Markup, DeskError> {
    let line = desk.book().order(number).await?.line;
    let body = match (asked.from, asked.to, asked.other.as_deref().map(str::trim).filter(|other| !other.is_empty())) {
        (_, _, Some(other)) => beside::orders(&desk, number, other).await?,
        (Some(from), Some(to), None) => revisions(&desk, &line, from, to).await?,
        _ => {
            return Err(DeskError::refused(
                "nothing is named to compare with",
                "two revisions as ?from=1&to=2, or the reference of another order as ?other=Q-0101",
            ));
        }
    };
    Ok(order_leaf::page(&desk, &viewer, &line, Leaf::History, &body))
}

async fn revisions(desk: &Desk, line: &OrderLine, from: i64, to: i64) -> Result<Markup, DeskError> {
    let book = desk.book();
    let (old, new) = (book.revision(line.number, from).await?, book.revision(line.number, to).await?);
    let changes = book.reading_history(line.number).await?;
    let catalog = desk.shop().catalog();
    let names = Names(catalog.catalog());
    let rows = standing::pairs(&standing::at(&changes, from), &standing::at(&changes, to));
    let differing = rows.iter().filter(|row| row.was != row.becomes).count();
    Ok(html! {
        div .bar { h2 { "Revision " (from) " and revision " (to) } span .soft { (differing) " of " (rows.len()) " readings differ" } }
        (beside_the_sheet(&old, &new))
        div .scroll tabindex="0" role="group" aria-label="What changed, table" {
            table .compared {
                thead { tr {
                    th scope="col" { "Reading" } th scope="col" { span .unseen { "Difference" } }
                    th scope="col" { "Revision " (from) ", " (old.who) ", " (moment(old.at)) }
                    th scope="col" { "Revision " (to) ", " (new.who) ", " (moment(new.at)) }
                } }
                tbody {
                    @for row in &rows {
                        tr .differs[row.was != row.becomes] {
                            th scope="row" { (names.reading(&row.measurand, &row.side)) }
                            td { (sign(row.was.as_deref(), row.becomes.as_deref())) }
                            @for (revision, said) in [(from, &row.was), (to, &row.becomes)] {
                                td data-label={ "revision " (revision) } { @match said { Some(said) => (kept_reading(said)), None => span .soft { "–" } } }
                            }
                        }
                    }
                }
            }
        }
        details .text { summary .button { "The sheets line by line" } (text(&old.sheet, &new.sheet)) }
    })
}

/// The sign of a difference, with its word.
fn sign(was: Option<&str>, becomes: Option<&str>) -> Markup {
    html! {
        @match (was, becomes) {
            (Some(was), Some(becomes)) if was == becomes => span .soft { "=" span .unseen { " the same" } },
            (Some(_), Some(_)) => strong { "≠ differs" },
            (None, _) => strong { "+ new" },
            (_, None) => strong { "− gone" },
        }
    }
}

/// What stands beside the sheet, where it differs.
fn beside_the_sheet(old: &Revision, new: &Revision) -> Markup {
    let due = |revision: &Revision| revision.details.due.map(|date| date.to_string()).unwrap_or_default();
    let rows = [
        ("Customer", old.details.customer.clone(), new.details.customer.clone()),
        ("Contact", old.details.contact.clone(), new.details.contact.clone()),
        ("Vehicle", old.details.vehicle.clone(), new.details.vehicle.clone()),
        ("Wanted by", due(old), due(new)),
    ];
    html! {
        @for (words, was, becomes) in rows.iter().filter(|(_, was, becomes)| was != becomes) {
            p { strong { (words) " ≠ " } del { (was) } " → " ins { (becomes) } }
        }
    }
}

/// Two texts line by line, with a few lines around what differs.
fn text(old: &str, new: &str) -> Markup {
    let diff = TextDiff::from_lines(old, new);
    let groups = diff.grouped_ops(3);
    html! {
        @if groups.is_empty() { p .soft { "Not a character differs." } }
        @for group in &groups {
            pre .diff { @for op in group { @for change in diff.iter_changes(op) {
                @let line = change.value().trim_end_matches(['\n', '\r']);
                @match change.tag() {
                    ChangeTag::Delete => del { "− " (line) "\n" },
                    ChangeTag::Insert => ins { "+ " (line) "\n" },
                    ChangeTag::Equal => span { "  " (line) "\n" },
                }
            } } }
        }
    }
}
