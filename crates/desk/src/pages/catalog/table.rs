//! The rows of one kind as a table.

use axum::extract::{Path, State};
use maud::{Markup, html};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::rows::{Field, Kind, Layers, Row, Standing, shown};
use crate::shell::{self, Place};
use crate::viewer::Viewer;

use super::{address, key_words, kind_or_none};

/// Where a row stands, by shape and word.
pub(crate) fn standing_mark(standing: Standing) -> Markup {
    html! {
        span class={ "standing standing-" (standing.words().split([' ', '\'']).next().unwrap_or_default()) } {
            svg viewBox="0 0 12 12" aria-hidden="true" focusable="false" {
                @match standing {
                    Standing::Shipped => circle cx="6" cy="6" r="3.2" {},
                    Standing::Own => rect x="2" y="2" width="8" height="8" {},
                    Standing::Overriding => path d="M2 2h8v8H2ZM2 10 10 2" {},
                    Standing::Learned => path d="M1.5 9.5 5 5l2.5 2.5L10.5 2" {},
                    Standing::TakenOut => path d="M2.5 2.5l7 7m0-7-7 7" {},
                }
            }
            (standing.words())
        }
    }
}

/// The page.
pub(super) async fn page(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(kind): Path<String>,
) -> Result<Markup, DeskError> {
    let kind = kind_or_none(&kind)?;
    let layers = Layers::of(kind, &desk.shop().files());
    let columns: Vec<&Field> =
        kind.fields.iter().filter(|field| field.column && !kind.keys().contains(&field.key)).collect();
    let may_change = viewer.works_the_desk();
    let own = layers.rows.iter().filter(|row| row.standing != Standing::Shipped).count();
    let body = html! {
        nav .trail aria-label="Place" { a href="/catalog" { "Catalog" } " › " }
        div .bar {
            h1 { (kind.words) }
            span .soft { (layers.count()) " rows" @if own > 0 { ", " (own) " not as shipped" } }
            span .spring {}
            @if may_change {
                @if kind.is_open() { a .button .main href={ "/catalog/add/" (kind.address) } data-key="n" { "Add a " (kind.one) } }
                a .button href={ "/catalog/import/" (kind.address) } { "Import a table" }
            }
            a .button href={ "/catalog/export/" (kind.address) } { "Export as CSV" }
        }
        p .soft { (kind.meaning) }
        (undo(&desk, kind, may_change))
        @if own == 0 && may_change && kind.is_open() {
            p .notice { "All rows are as shipped. What the shop has measured itself is worth more than any of them: add a row of its own, "
                "or open one and put the shop's values in its place. The shipped rows stay underneath." }
        }
        div .scroll tabindex="0" role="region" aria-label=(kind.words) {
            table .catalog-rows data-rows="" {
                thead { tr {
                    th { (heading(kind)) }
                    @for field in &columns { th { (key_words(field.key)) } }
                    th { "standing" } th { "source" }
                } }
                tbody { @for row in &layers.rows { (line(kind, &columns, row)) } }
            }
        }
    };
    Ok(shell::page(&viewer, Place::Catalog, kind.words, &body))
}

fn heading(kind: &Kind) -> String {
    let keys: Vec<String> = kind.keys().iter().map(|key| key_words(key)).collect();
    if keys.is_empty() { kind.one.to_owned() } else { keys.join(", ") }
}

fn line(kind: &Kind, columns: &[&Field], row: &Row) -> Markup {
    html! {
        tr .taken-out[!row.counts()] {
            th scope="row" { a href=(address(kind, &row.name)) { (key_words_of_name(kind, &row.name)) } }
            @for field in columns { td { @if let Some(value) = row.value(field.key) { (shown(value)) } } }
            td { (standing_mark(row.standing)) }
            td .source { (row.source()) }
        }
    }
}

/// The names of mistakes and measurands are keys; the others are written as people write them.
fn key_words_of_name(kind: &Kind, name: &str) -> String {
    if kind.keys().is_empty() { key_words(name) } else { name.to_owned() }
}

/// The way back from the last change of a kind's file.
pub(super) fn undo(desk: &Desk, kind: &Kind, may_change: bool) -> Markup {
    if !may_change || desk.shop().former(kind.file).is_none() {
        return html! {};
    }
    html! {
        form .undo method="post" action={ "/catalog/undo/" (kind.address) } {
            span .soft { "The last change of these rows can be taken back." }
            " " button { "Undo the last change" }
        }
    }
}
