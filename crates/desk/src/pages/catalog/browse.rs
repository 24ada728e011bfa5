//! The first page of the catalog: its kinds with their counts, and a search over all rows.

use axum::extract::{Query, State};
use axum::response::Redirect;
use maud::{Markup, html};
use serde::Deserialize;

use crate::desk::Desk;
use crate::error::DeskError;
use crate::rows::{KINDS, Kind, Layers, Row, Standing, shown_of};
use crate::shell::{self, Place};
use crate::shop;
use crate::viewer::Viewer;

use super::table::standing_mark;
use super::{address, shown_name};

/// So many hits are shown.
const SHOWN: usize = 60;

/// What was typed into the search.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Search {
    #[serde(default)]
    search: String,
}

/// The page.
pub(super) async fn page(
    State(desk): State<Desk>,
    viewer: Viewer,
    Query(search): Query<Search>,
) -> Result<Markup, DeskError> {
    let files = desk.shop().files();
    let kinds: Vec<(&Kind, Layers)> = KINDS.iter().map(|kind| (kind, Layers::of(kind, &files))).collect();
    let waiting = desk.book().waiting_for_rereview(&desk.shop().catalog()).await?;
    let words = search.search.trim();
    let body = html! {
        div .bar {
            h1 { "Catalog" }
            search {
                form .search action="/catalog" method="get" data-swap="catalog-found" {
                    label .unseen for="search" { "Search all rows" }
                    input #search name="search" type="search" value=(search.search) autocomplete="off" data-key="/"
                        placeholder="Search all rows: 80 mm, tapered, shop:";
                    button { "Search" }
                }
            }
            a .button .spring href="/catalog/rereviews" { "Reviews after changes" }
        }
        @if waiting > 0 {
            p .notice .warn { (waiting) " open " (if waiting == 1 { "order was" } else { "orders were" })
                " last reviewed with another catalog. " a href="/catalog/rereviews" { "Review them with this one" } "." }
        }
        div #catalog-found data-part="" {
            @if words.is_empty() { (overview(&kinds, &desk)) } @else { (found(words, &kinds)) }
        }
        @if viewer.works_the_desk() {
            section .card {
                h2 { "The shop's folder" }
                p { "The shop's own rows are text files in " code { (desk.shop().folder().join("catalog").display()) }
                    ". They may be changed by hand; what is saved here goes into the same files and keeps their comments." }
                @for warning in desk.shop().warnings() { p .soft { (warning) } }
                form method="post" action="/catalog/read-again" { button { "Read the folder again" } }
            }
        }
    };
    Ok(shell::page(&viewer, Place::Catalog, "Catalog", &body))
}

fn overview(kinds: &[(&Kind, Layers)], desk: &Desk) -> Markup {
    let count = |layers: &Layers, standing: Standing| layers.rows.iter().filter(|row| row.standing == standing).count();
    html! {
        p .soft { "Everything that a review goes by beside the readings. Every row says where it comes from; a row that is marked "
            q { "from memory, check" } ", or holds a part that is, is to be checked and to be replaced by what the shop has measured." }
        div .scroll tabindex="0" role="region" aria-label="Kinds" {
            table .catalog-kinds data-rows="" {
                thead { tr {
                    th { "Kind" } th .number { "Rows" } th .number { "Shop's own" } th .number { "Overriding" }
                    th .number { "Learned" } th .number { "To check" } th { "What for" }
                } }
                tbody {
                    @for (kind, layers) in kinds {
                        tr {
                            th scope="row" { a href={ "/catalog/" (kind.address) } { (kind.words) } }
                            td .number .rows { (layers.count()) span .of { " rows" } }
                            @for standing in [Standing::Own, Standing::Overriding, Standing::Learned] {
                                @let found = count(layers, standing);
                                td .number .none[found == 0] data-label=(standing.words()) { @if found > 0 { (found) } @else { span .soft { "–" } } }
                            }
                            @let check = layers.rows.iter().filter(|row| row.is_to_check()).count();
                            td .number .none[check == 0] data-label="to check" { @if check > 0 { (check) } @else { span .soft { "–" } } }
                            td { (kind.meaning) }
                        }
                    }
                    tr {
                        th scope="row" { a href="/settings" { "Settings" } }
                        td .number .rows colspan="5" { span .soft { "cut at " } (crate::words::percent(desk.shop().catalog().catalog().settings.thresholds.cut_at)) }
                        td { "The shop's own decisions: clearances, tolerances, losses, thresholds and beliefs." }
                    }
                }
            }
        }
    }
}

fn found(words: &str, kinds: &[(&Kind, Layers)]) -> Markup {
    let wanted: Vec<String> = words.to_lowercase().split_whitespace().map(str::to_owned).collect();
    let hits: Vec<(&Kind, &Row)> = kinds
        .iter()
        .flat_map(|(kind, layers)| layers.rows.iter().map(move |row| (*kind, row)))
        .filter(|(kind, row)| {
            let text = row_text(kind, row);
            wanted.iter().all(|word| text.contains(word.as_str()))
        })
        .collect();
    if hits.is_empty() {
        return html! {
            section .empty {
                h2 { "No row is like that" }
                p { "The search looks for every word in names, sizes, words and sources, as they are written: "
                    code { "3.15" } ", " code { "80 mm" } ", " code { "tapered" } ", " code { "from memory" } "." }
                p { a .button href="/catalog" { "Show all kinds" } }
            }
        };
    }
    html! {
        p .soft role="status" { (hits.len()) " " (if hits.len() == 1 { "row" } else { "rows" })
            @if hits.len() > SHOWN { ", the first " (SHOWN) " of them" } }
        div .scroll tabindex="0" role="group" aria-label="Rows that were found, table" {
            table data-rows="" {
                thead { tr { th { "Row" } th { "Kind" } th { "Standing" } th { "Source" } } }
                tbody {
                    @for (kind, row) in hits.iter().take(SHOWN) {
                        tr {
                            th scope="row" { a href=(address(kind, &row.name)) { (shown_name(kind, &row.name)) } }
                            td { (kind.one) }
                            td { (standing_mark(row.standing)) }
                            td .source { (row.source()) }
                        }
                    }
                }
            }
        }
    }
}

/// All words of a row, with every size in both units.
fn row_text(kind: &Kind, row: &Row) -> String {
    let mut text = format!("{} {} ", row.name, kind.one);
    for (key, value) in &row.fields {
        text.push_str(&format!("{key} {value} "));
        // What is shown is found: the other unit stands in no file.
        let tags = shown_of(key, value).into_string();
        let mut within = false;
        text.extend(tags.chars().filter(|character| {
            match character {
                '<' => within = true,
                '>' => within = false,
                _ => return !within,
            }
            false
        }));
        text.push(' ');
    }
    text.to_lowercase()
}

/// Reads the folder again, after files were changed by hand.
pub(super) async fn read_again(State(desk): State<Desk>, viewer: Viewer) -> Result<Redirect, DeskError> {
    let before = desk.shop().catalog();
    desk.shop().read_again().map_err(|problems| {
        let DeskError::Refused { problem, .. } = shop::refusal(&problems) else {
            return DeskError::failed(problems.to_string());
        };
        DeskError::refused(problem, "files without faults; until then the desk goes by what it has read before")
    })?;
    crate::folder_watch::note(&desk, &before, &viewer.person()).await?;
    crate::rereviewing::start(&desk, &viewer.person());
    Ok(Redirect::to("/catalog"))
}
