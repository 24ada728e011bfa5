//! The sections of `settings.toml`: every value with the shipped one beside it, where it comes from and what it does.

use std::collections::BTreeMap;

use axum::Form;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::pages::catalog::{
    Entered, faults_elsewhere, field_entry, key_words, own_fields, propose, segment, source_choices, standing_mark,
    undo_file,
};
use crate::rows::{
    Change, Field, Fields, Layers, PlacedFaults, Row, SETTINGS, Standing, field_of_texts, label, paths_of,
    section_words, settings_fields, shown_of, shown_range, texts_of, value_in,
};
use crate::shell::{self, Place};
use crate::viewer::Viewer;
use crate::words::{capitalised, unbroken};

/// What the sections are, and what it means to move them.
const MEANINGS: [(&str, &str); 8] = [
    (
        "clearances",
        "When an assembled axle fits. A wider window calls more shafts fitting than will be; a narrower one asks for more readings.",
    ),
    (
        "tolerances",
        "The limits that the shop holds when it makes a shaft: half widths, the size is made within ± this. What the shop cannot hold must not stand here.",
    ),
    (
        "losses",
        "What a wrong size costs, in units of one scrapped shaft. The sizes to cut are those with the least expected loss.",
    ),
    (
        "thresholds",
        "When the desk may cut, and when it calls a reading mistaken. A lower threshold cuts sooner and scraps more; a higher one asks more questions and holds back good orders.",
    ),
    ("stray", "Sizes of parts that get measured along by mistake, where the sheet does not give them."),
    (
        "beliefs",
        "What is believed before any evidence: how far claims are trusted, how closely parts keep to their rows.",
    ),
    (
        "proof",
        "What a proof of strength goes by. A shaft below one of the least safeties is not made; a lower one lets weaker shafts pass, and a broken shaft takes the wheel with it.",
    ),
    ("learning", "How finished orders change the catalog, and how much the catalog counts against them."),
];

fn layers(desk: &Desk) -> Layers {
    Layers::of(&SETTINGS, &desk.shop().files())
}

/// All sections.
pub(super) fn all(desk: &Desk, is_owner: bool) -> Markup {
    let layers = layers(desk);
    html! {
        @if is_owner && desk.shop().former(SETTINGS.file).is_some() {
            form .undo method="post" action="/settings/undo" {
                span .soft { "The last change of the settings can be taken back." } " " button { "Undo the last change" }
            }
        }
        @for (name, meaning) in MEANINGS {
            @if let Some(row) = layers.row(name) { (section(&layers, row, meaning, is_owner)) }
        }
    }
}

fn section(layers: &Layers, row: &Row, meaning: &str, is_owner: bool) -> Markup {
    let within = format!("{}.", row.name);
    html! {
        section .card id=(row.name) {
            div .bar {
                h2 { (capitalised(&row.name)) }
                (standing_mark(row.standing))
                @if is_owner { a .button .spring href={ "/settings/change/" (row.name) } { "Change" } }
            }
            p { (meaning) }
            div .scroll tabindex="0" role="region" aria-label=(row.name) {
                table .settings {
                    thead { tr { th { "What" } th { "Now" } th { "Shipped" } th { "What it does" } th { "Source" } } }
                    tbody {
                        @let words = section_words(&row.name);
                        @for (key, value) in row.fields.iter().filter(|(key, _)| key != "source") {
                            @let shipped = row.shipped.as_ref().and_then(|fields| value_in(fields, key));
                            tr {
                                th scope="row" { (label(key)) }
                                td { (shown_of(key, value)) }
                                td { (beside(key, shipped, value)) }
                                td .soft { (unbroken(words.iter().find(|(known, _)| known == key).map(|(_, words)| words.as_str()).unwrap_or_default())) }
                                td .source { (unbroken(row.source())) }
                            }
                        }
                        @for inner in layers.rows.iter().filter(|inner| inner.name.starts_with(&within)) { (nested(inner, &within, is_owner)) }
                    }
                }
            }
        }
    }
}

/// A table within a section, as one line.
fn nested(row: &Row, within: &str, is_owner: bool) -> Markup {
    let words: Vec<String> =
        section_words(&row.name).into_iter().map(|(_, words)| words).filter(|words| !words.is_empty()).collect();
    let key = row.name.strip_prefix(within).unwrap_or(&row.name);
    let text = |fields: &Fields| {
        let values: Vec<&toml_edit::Value> =
            fields.iter().filter(|(key, _)| key != "source").map(|(_, value)| value).collect();
        shown_range(key, &values)
    };
    let differs =
        row.shipped.as_ref().is_some_and(|shipped| text(shipped).into_string() != text(&row.fields).into_string());
    html! {
        tr {
            th scope="row" {
                @let name = label(key);
                @if is_owner { a href={ "/settings/change/" (segment(&row.name)) } { (name) } } @else { (name) }
            }
            td { (text(&row.fields)) }
            td { @if differs { @if let Some(shipped) = &row.shipped { (text(shipped)) } } @else { span .soft { "the same" } } }
            td .soft { (unbroken(&words.join(" "))) }
            td .source { (unbroken(row.source())) }
        }
    }
}

fn beside(key: &str, shipped: Option<&toml_edit::Value>, value: &toml_edit::Value) -> Markup {
    html! {
        @match shipped {
            Some(shipped) if !crate::rows::same_value(shipped, value) => (shown_of(key, shipped)),
            Some(_) => span .soft { "the same" },
            None => span .soft { "–" },
        }
    }
}

fn row_of(layers: &Layers, section: &str) -> Result<Row, DeskError> {
    layers.row(section).cloned().ok_or_else(|| DeskError::none("such section of the settings"))
}

/// The form of a section.
pub(super) async fn change(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(section): Path<String>,
) -> Result<Markup, DeskError> {
    let row = row_of(&layers(&desk), &section)?;
    let mut entered: Entered = settings_fields(&row.name)
        .iter()
        .flat_map(|field| paths_of(field).into_iter().zip(texts_of(field, row.value(field.key))))
        .collect();
    if row.own.is_none() {
        entered.insert("source".to_owned(), String::new());
    }
    Ok(form(&viewer, &row, &entered, &PlacedFaults::default()))
}

fn form(viewer: &Viewer, row: &Row, entered: &Entered, faults: &PlacedFaults) -> Markup {
    let fields = settings_fields(&row.name);
    let paths: Vec<String> =
        fields.iter().flat_map(|field| paths_of(field).into_iter().chain([field.key.to_owned()])).collect();
    let words = section_words(&row.name);
    let top = row.name.split('.').next().unwrap_or_default();
    let meaning = MEANINGS.iter().find(|(name, _)| *name == top).map(|(_, meaning)| *meaning).unwrap_or_default();
    let title = format!("Change {}", key_words(&row.name.replace('.', ", ")));
    let meaning_of = |field: &Field| {
        words.iter().find(|(key, words)| key == field.key && !words.is_empty()).map(|(_, words)| words.as_str())
    };
    let body = html! {
        nav .trail aria-label="Place" { a href="/settings" { "Settings" } " › " }
        div .bar { h1 { (title) } }
        p { (meaning) }
        (faults_elsewhere(faults, &row.name, &paths))
        form .row-form method="post" action={ "/settings/change/" (segment(&row.name)) } {
            (source_choices())
            div .entries-grid {
                @for field in &fields {
                    (field_entry(field, entered, meaning_of(field), row.shipped.as_ref().and_then(|shipped| value_in(shipped, field.key)), faults, &row.name))
                }
            }
            p .bar { button .main { "See what would change" } a .button href={ "/settings#" (top) } { "Back" }
                span .soft { "Nothing is saved yet: first you see what this does to the open orders." } }
        }
        @if row.standing == Standing::Overriding {
            form method="post" action={ "/settings/drop/" (segment(&row.name)) } { button .danger { "Go back to the shipped values" } }
        }
    };
    shell::page(viewer, Place::Settings, &title, &body)
}

/// Takes the form of a section in.
pub(super) async fn enter(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(section): Path<String>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, DeskError> {
    let row = row_of(&layers(&desk), &section)?;
    let entered: Entered = pairs.into_iter().collect::<BTreeMap<_, _>>();
    let text = |path: &str| entered.get(path).map(String::as_str);
    let fields: Fields = settings_fields(&row.name)
        .iter()
        .filter_map(|field| Some((field.key.to_owned(), field_of_texts(field, &text)?)))
        .collect();
    let own = own_fields(&SETTINGS, Some(&row), fields);
    let words = format!("Change {} of the settings", key_words(&row.name.replace('.', ", ")));
    let change = Change::Set { row: row.name.clone(), fields: own };
    Ok(match propose(&desk, &SETTINGS, vec![change], words, back(&row.name)).await? {
        Ok(address) => Redirect::to(&address).into_response(),
        Err(faults) => (StatusCode::UNPROCESSABLE_ENTITY, form(&viewer, &row, &entered, &faults)).into_response(),
    })
}

fn back(section: &str) -> String {
    format!("/settings#{}", section.split('.').next().unwrap_or_default())
}

/// Goes back to the shipped values of a section.
pub(super) async fn drop_own(State(desk): State<Desk>, Path(section): Path<String>) -> Result<Redirect, DeskError> {
    let row = row_of(&layers(&desk), &section)?;
    let words = format!("Go back to the shipped {} of the settings", key_words(&row.name.replace('.', ", ")));
    let change = Change::Drop { row: row.name.clone() };
    match propose(&desk, &SETTINGS, vec![change], words, back(&row.name)).await? {
        Ok(address) => Ok(Redirect::to(&address)),
        Err(faults) => {
            let problems: Vec<String> = faults.placed.iter().map(|fault| fault.problem.clone()).collect();
            Err(DeskError::refused(problems.join("\n"), "settings that go together"))
        }
    }
}

/// Takes the last change back.
pub(super) async fn undo(State(desk): State<Desk>) -> Result<Redirect, DeskError> {
    undo_file(&desk, &SETTINGS, "/settings".to_owned()).await
}
