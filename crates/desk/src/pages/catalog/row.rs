//! One row with everything that it says, where it comes from, and what uses it.

use axum::extract::{Path, State};
use maud::{Markup, html};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::rows::{Kind, Layers, Row, Standing, called, header_words, label, shown_load, shown_of};
use crate::shell::{self, Place};
use crate::viewer::Viewer;

use super::table::{standing_mark, undo};
use super::{address, key_words, kind_or_none, segment, shown_name, uses};

/// The page.
pub(super) async fn page(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path((kind, name)): Path<(String, String)>,
) -> Result<Markup, DeskError> {
    let kind = kind_or_none(&kind)?;
    let files = desk.shop().files();
    let layers = Layers::of(kind, &files);
    let row = layers.row(&name).ok_or_else(|| DeskError::none(format!("{} of that name in the catalog", kind.one)))?;
    let orders = uses::orders(&desk, kind, row).await?;
    let rows = uses::rows(kind, row, &files);
    let may_change = viewer.works_the_desk();
    let title = shown_name(kind, &row.name);
    let body = html! {
        nav .trail aria-label="Place" {
            a href="/catalog" { "Catalog" } " › " a href={ "/catalog/" (kind.address) } { (kind.words) } " › "
        }
        div .bar {
            h1 { (title) }
            (standing_mark(row.standing))
            span .spring {}
            @if may_change { (actions(kind, row)) }
        }
        @if !row.comment.is_empty() { p { (row.comment) } }
        (undo(&desk, kind, may_change))
        div .columns.row-page {
            section .card {
                h2 { "What the row says" }
                (says(kind, row))
            }
            div {
                section .card {
                    h2 { "Where it comes from" }
                    p .source { (row.source()) }
                    p { (standing_words(kind, row)) }
                    @for part in row.parts_from_memory() {
                        p .notice .warn { "Nobody has seen its " (called(part)) " in print. Check it before an order leans on it, and put "
                            "the shop's own values in its place." }
                    }
                    @if row.is_from_memory() {
                        p .notice .warn { "Nobody has seen this in print. Check it before an order leans on it, and put the shop's own value in its place." }
                    }
                }
                (used(kind, &orders, &rows))
            }
        }
    };
    Ok(shell::page(&viewer, Place::Catalog, &title, &body))
}

fn actions(kind: &Kind, row: &Row) -> Markup {
    html! {
        a .button .main[row.counts()] href={ "/catalog/change/" (kind.address) "/" (segment(&row.name)) } {
            @match row.standing {
                Standing::Own | Standing::Overriding => "Change",
                Standing::TakenOut => "Put it back with other values",
                _ => "Put the shop's values in its place",
            }
        }
        @if kind.is_open() && row.counts() {
            a .button href={ "/catalog/add/" (kind.address) "?like=" (segment(&row.name)) } { "Copy as a new row" }
        }
        @if row.own.is_some() || (kind.is_open() && row.counts()) {
            form method="post" action={ "/catalog/remove/" (kind.address) } {
                input type="hidden" name="row" value=(row.name);
                // What puts the shipped row back takes nothing away.
                button .danger[row.standing != Standing::TakenOut] {
                    @match row.standing {
                        Standing::Own => "Remove",
                        Standing::Overriding | Standing::Learned if row.own.is_some() => "Drop the shop's values",
                        Standing::TakenOut => "Put it back as shipped",
                        _ => "Take out of the catalog",
                    }
                }
            }
        }
    }
}

fn says(kind: &Kind, row: &Row) -> Markup {
    let words = header_words(kind.file);
    html! {
        dl .says {
            @for field in kind.fields.iter().filter(|field| field.key != "source") {
                @if let Some(value) = row.value(field.key) {
                    div {
                        dt { (label(field.key)) }
                        dd {
                            span .value {
                                @match row.text("input").filter(|_| kind.address == "loads" && field.key != "input") {
                                    Some(input) => (shown_load(input, value)),
                                    None => (shown_of(field.key, value)),
                                }
                            }
                            @if let Some(below) = row.shipped.as_ref().and_then(|fields| fields.iter().find(|(key, _)| key == field.key)) {
                                @if below.1.to_string().trim() != value.to_string().trim() {
                                    span .below { "shipped: " (shown_of(field.key, &below.1)) }
                                }
                            }
                            @if let Some((_, meaning)) = words.iter().find(|(key, _)| key == field.key) { span .soft { (meaning) } }
                        }
                    }
                }
            }
        }
    }
}

fn standing_words(kind: &Kind, row: &Row) -> String {
    match row.standing {
        Standing::Shipped => format!("It came with the program, in {}.", kind.file),
        Standing::Own => format!("It is the shop's own, in its {}.", kind.file),
        Standing::Overriding => {
            format!("It came with the program, and the shop's own {} puts other values over it.", kind.file)
        }
        Standing::Learned => {
            format!(
                "What was learned from finished orders stands on top, in learned_{}. Deleting that file undoes it.",
                kind.file
            )
        }
        Standing::TakenOut => {
            format!(
                "It came with the program, and the shop's own {} takes it out. Reviews know nothing of it.",
                kind.file
            )
        }
    }
}

fn used(kind: &Kind, orders: &uses::Orders, rows: &[(&'static Kind, String, String)]) -> Markup {
    html! {
        section .card {
            h2 { "What uses it" }
            @if orders.found.is_empty() && rows.is_empty() {
                p .soft { "No open order and no other row goes by this " (kind.one) " at the moment." }
            }
            @if !orders.found.is_empty() {
                ul .uses {
                    @for one in &orders.found {
                        li { a href={ "/orders/" (one.number) } { (one.reference) } " " span .soft { (one.how) } }
                    }
                }
            }
            @if !rows.is_empty() {
                ul .uses {
                    @for (kind, name, key) in rows {
                        li {
                            @if kind.address == "settings" { a href="/settings" { "Settings, " (key_words(name)) } }
                            @else { a href=(address(kind, name)) { (shown_name(kind, name)) } }
                            " " span .soft { (kind.one) ", as " (key_words(key)) }
                        }
                    }
                }
            }
            @if orders.cut_short { p .soft { "Only the " (uses::LOOKED_AT) " newest open orders were looked at." } }
        }
    }
}
