//! The rows of one kind as a table.

use axum::extract::{Path, State};
use catalog::LoadInput;
use maud::{Markup, html};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::rows::{
    Field, Kind, Layers, Row, Shape, Standing, label, other_unit, shown_in_column, shown_load, shown_of, unit_of,
};
use crate::shell::{self, Place};
use crate::viewer::Viewer;
use crate::words::{capitalised, with_article};

use super::{address, key_words, kind_or_none, shown_name};

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
                @if kind.is_open() {
                    a .button .main href={ "/catalog/add/" (kind.address) } data-key="n" { "Add " (with_article(kind.one)) }
                    a .button href={ "/catalog/import/" (kind.address) } { "Import a table" }
                }
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
                    @for field in &columns {
                        th .number[is_number(field)] { (label(field.key)) @if let Some(unit) = unit_of(field.key) { ", " (unit) } }
                    }
                    th { "Standing" } th { "Source" }
                } }
                tbody {
                    @let decimals: Vec<usize> = columns.iter().map(|field| most_decimals(&layers, field)).collect();
                    @for row in &layers.rows { (line(kind, &columns, &decimals, row)) }
                }
            }
        }
    };
    Ok(shell::page(&viewer, Place::Catalog, kind.words, &body))
}

fn heading(kind: &Kind) -> String {
    let keys: Vec<String> = kind.keys().iter().map(|key| key_words(key)).collect();
    capitalised(&if keys.is_empty() { kind.one.to_owned() } else { keys.join(", ") })
}

fn is_number(field: &Field) -> bool {
    matches!(field.shape, Shape::Number)
}

/// The decimals of a number as it is written.
fn decimals(number: &str) -> usize {
    number.split_once('.').map_or(0, |(_, decimals)| decimals.len())
}

fn most_decimals(layers: &Layers, field: &Field) -> usize {
    let numbers = layers.rows.iter().filter_map(|row| row.value(field.key)).filter(|value| value.is_float());
    numbers.map(|value| decimals(&value.to_string())).max().unwrap_or(0)
}

fn line(kind: &Kind, columns: &[&Field], most: &[usize], row: &Row) -> Markup {
    html! {
        tr .taken-out[!row.counts()] {
            th scope="row" {
                a href=(address(kind, &row.name)) { (shown_name(kind, &row.name)) }
                @if let Some(meant) = row.text("input").filter(|_| kind.address == "loads").and_then(load_words) {
                    " " span .remark { (meant) }
                }
                // What a row is known by may be a size, which then stands in its name in one unit.
                @for other in kind.keys().iter().filter_map(|key| other_unit(key, row.value(key)?)) {
                    " " span .size { span .other { (other) } }
                }
            }
            @for (field, most) in columns.iter().zip(most) {
                @match row.value(field.key) {
                    None => td {},
                    Some(value) if is_number(field) => td .number {
                        (shown_in_column(field.key, value))
                        // The points stand under each other: what a number lacks of the longest one is there and not seen.
                        @let missing = missing(&value.to_string(), *most);
                        @if !matches!(unit_of(field.key), Some("MPa")) && !missing.is_empty() { span .filled aria-hidden="true" { (missing) } }
                    },
                    // A measurand is mostly called what its key says.
                    Some(value) if field.key == "words" && value.as_str() == Some(key_words(&row.name).as_str()) => td {},
                    Some(value) => td {
                        @match row.text("input").filter(|_| kind.address == "loads" && field.key != "input") {
                            Some(input) => (shown_load(input, value)),
                            None => (shown_of(field.key, value)),
                        }
                    },
                }
            }
            td { (standing_mark(row.standing)) }
            td .source { (row.source()) }
        }
    }
}

/// What the input of a load is, in words: its key alone does not say of what it is.
fn load_words(input: &str) -> Option<&'static str> {
    LoadInput::all().find(|one| one.key() == input).map(LoadInput::words).filter(|words| *words != key_words(input))
}

/// What a number lacks of the longest decimals of its column.
fn missing(number: &str, most: usize) -> String {
    let number = number.trim();
    let lacks = most.saturating_sub(decimals(number));
    let point = if lacks > 0 && !number.contains('.') { "." } else { "" };
    format!("{point}{}", "0".repeat(lacks))
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
