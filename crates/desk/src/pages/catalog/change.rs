//! Adding, changing and taking out rows of the shop's own.

use std::collections::BTreeMap;

use axum::Form;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;

use crate::desk::Desk;
use crate::error::DeskError;
use crate::rows::{
    Change, Fields, Kind, Layers, PlacedFaults, Row, Standing, field_of_texts, header_words, name_of_row, paths_of,
    same_value, value_in,
};
use crate::shell::{self, Place};
use crate::viewer::Viewer;
use crate::words::with_article;

use super::form::{Entered, entered_of, faults_elsewhere, field_entry, source_choices};
use super::{address, kind_or_none, propose, propose_former, shown_name};

/// A row to begin from.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Like {
    #[serde(default)]
    like: String,
}

/// The form of a new row.
pub(super) async fn add(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(kind): Path<String>,
    Query(like): Query<Like>,
) -> Result<Markup, DeskError> {
    let kind = open_kind(&kind)?;
    let layers = Layers::of(kind, &desk.shop().files());
    let entered = match layers.row(&like.like) {
        Some(row) => {
            let mut entered = entered_of(kind, &row.fields);
            // Another row is vouched for anew.
            entered.insert("source".to_owned(), String::new());
            entered
        }
        None => Entered::new(),
    };
    Ok(form(&viewer, kind, None, &entered, &PlacedFaults::default()))
}

/// The form of a row that is there.
pub(super) async fn change(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path((kind, name)): Path<(String, String)>,
) -> Result<Markup, DeskError> {
    let kind = kind_or_none(&kind)?;
    let layers = Layers::of(kind, &desk.shop().files());
    let row = layers.row(&name).ok_or_else(|| DeskError::none(format!("{} of that name in the catalog", kind.one)))?;
    let mut entered = entered_of(kind, &row.fields);
    if row.own.is_none() || row.standing == Standing::TakenOut {
        entered.insert("source".to_owned(), String::new());
    }
    Ok(form(&viewer, kind, Some(row), &entered, &PlacedFaults::default()))
}

/// A kind whose rows can be added and taken out.
fn open_kind(address: &str) -> Result<&'static Kind, DeskError> {
    let kind = kind_or_none(address)?;
    if kind.is_open() {
        return Ok(kind);
    }
    Err(DeskError::refused(
        format!("{} are a closed list: the program has to know what each of them means", kind.words.to_lowercase()),
        "a change of one that is there",
    ))
}

fn form(viewer: &Viewer, kind: &Kind, row: Option<&Row>, entered: &Entered, faults: &PlacedFaults) -> Markup {
    let words = header_words(kind.file);
    let meaning = |key: &str| words.iter().find(|(known, _)| known == key).map(|(_, meaning)| meaning.as_str());
    let name = row.map_or_else(|| new_name(kind, entered), |row| row.name.clone());
    let below = |key: &str| row.and_then(|row| row.shipped.as_ref()).and_then(|fields| value_in(fields, key));
    let fields = || kind.fields.iter().filter(|field| row.is_none() || !kind.keys().contains(&field.key));
    let paths: Vec<String> =
        fields().flat_map(|field| paths_of(field).into_iter().chain([field.key.to_owned()])).collect();
    let title = match row {
        Some(_) => format!("Change {}", shown_name(kind, &name)),
        None => format!("Add {}", with_article(kind.one)),
    };
    let back = row.map_or_else(|| format!("/catalog/{}", kind.address), |row| address(kind, &row.name));
    let body = html! {
        nav .trail aria-label="Place" {
            a href="/catalog" { "Catalog" } " › " a href={ "/catalog/" (kind.address) } { (kind.words) } " › "
        }
        div .bar { h1 { (title) } }
        @if let Some(row) = row { (what_it_means(kind, row)) } @else {
            p .soft { "A new row of the shop's own. Sizes carry their unit and are written as people write them: "
                code { "1 9/16\"" } ", " code { "1.5625 in" } ", " code { "40 mm" } "." }
        }
        (faults_elsewhere(faults, &name, &paths))
        form .row-form method="post" action={ "/catalog/change/" (kind.address) } {
            @if let Some(row) = row { input type="hidden" name="row" value=(row.name); }
            (source_choices())
            div .entries-grid {
                @for field in fields() { (field_entry(field, entered, meaning(field.key), below(field.key), faults, &name)) }
            }
            p .bar { button .main { "See what would change" } a .button href=(back) { "Back" }
                span .soft { "Nothing is saved yet: first you see what this does to the open orders." } }
        }
    };
    shell::page(viewer, Place::Catalog, &title, &body)
}

fn what_it_means(kind: &Kind, row: &Row) -> Markup {
    html! {
        @match (&row.shipped, row.standing) {
            (Some(_), Standing::TakenOut) => p .soft { "The shop has taken this row out. Saved with values, it counts again." },
            (Some(_), _) => p .soft { "This row came with the program. What differs from it is written into the shop's own "
                code { (kind.file) } "; the rest follows the shipped row. The old source does not vouch for new values, so say where they come from." },
            (None, _) => p .soft { "A row of the shop's own. It keeps its name; under another name it is another row." },
        }
        @if row.learned {
            p .notice .warn { "What was learned from finished orders stands on top of this row. What is entered here shows once "
                code { "learned_" (kind.file) } " no longer gives it." }
        }
    }
}

fn new_name(kind: &Kind, entered: &Entered) -> String {
    name_of_row(kind, &fields_of(kind, entered))
}

/// The fields that the entries stand for.
pub(super) fn fields_of(kind: &Kind, entered: &Entered) -> Fields {
    let text = |path: &str| entered.get(path).map(String::as_str);
    kind.fields.iter().filter_map(|field| Some((field.key.to_owned(), field_of_texts(field, &text)?))).collect()
}

/// What the shop's own file has to say for a row: what differs from the row below, and what it is known by.
pub(crate) fn own_fields(kind: &Kind, row: Option<&Row>, entered: Fields) -> Fields {
    let Some(row) = row else { return entered };
    let Some(shipped) = &row.shipped else { return entered };
    let own = row.own.as_ref().filter(|_| row.standing != Standing::TakenOut);
    entered
        .into_iter()
        .filter_map(|(key, value)| {
            if kind.keys().contains(&key.as_str()) || key == "source" {
                return Some((key, value));
            }
            let below = value_in(shipped, &key);
            if let Some(given) = own.and_then(|own| value_in(own, &key)) {
                let stands = row.value(&key);
                // One of two values may have been given alone; it stays so where nothing was changed.
                if stands.is_some_and(|stands| same_value(stands, &value)) {
                    return Some((key, given.clone()));
                }
            }
            if below.is_some_and(|below| same_value(below, &value)) { None } else { Some((key, value)) }
        })
        .collect()
}

/// Takes a form in: the row is held against the whole catalog, and its effect is shown before anything is saved.
pub(super) async fn enter(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(kind): Path<String>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, DeskError> {
    let kind = kind_or_none(&kind)?;
    let mut entered: Entered = pairs.into_iter().collect::<BTreeMap<_, _>>();
    let changed = entered.remove("row").filter(|row| !row.is_empty());
    let layers = Layers::of(kind, &desk.shop().files());
    let row = match &changed {
        Some(name) => {
            Some(layers.row(name).ok_or_else(|| DeskError::none(format!("{} of that name in the catalog", kind.one)))?)
        }
        None => {
            open_kind(kind.address)?;
            None
        }
    };
    if let Some(row) = row {
        // What a row is known by is not asked for again.
        for field in kind.fields.iter().filter(|field| kind.keys().contains(&field.key)) {
            entered.extend(paths_of(field).into_iter().zip(crate::rows::texts_of(field, row.value(field.key))));
        }
    }
    let fields = fields_of(kind, &entered);
    let name = row.map_or_else(|| name_of_row(kind, &fields), |row| row.name.clone());
    if row.is_none()
        && let Some(there) = layers.same_as(kind, &fields).filter(|there| there.counts())
    {
        let key = kind.keys().first().copied().unwrap_or_default();
        let faults = PlacedFaults::at(
            &name,
            key,
            format!("the catalog holds {} already", there.name),
            "another name, or a change of the row that is there",
        );
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, form(&viewer, kind, None, &entered, &faults)).into_response());
    }
    let own = own_fields(kind, row, fields);
    let words = match row {
        Some(_) => format!("Change the {} {}", kind.one, shown_name(kind, &name)),
        None => format!("Add the {} {name}", kind.one),
    };
    let back = address(kind, &name);
    let change = Change::Set { row: name, fields: own };
    Ok(match propose(&desk, kind, vec![change], words, back).await? {
        Ok(address) => Redirect::to(&address).into_response(),
        Err(faults) => (StatusCode::UNPROCESSABLE_ENTITY, form(&viewer, kind, row, &entered, &faults)).into_response(),
    })
}

/// Which row.
#[derive(Debug, Deserialize)]
pub(super) struct Which {
    row: String,
}

/// Drops what the shop's own file gives of a row, or takes a shipped row out of the catalog.
pub(super) async fn remove(
    State(desk): State<Desk>,
    Path(kind): Path<String>,
    Form(which): Form<Which>,
) -> Result<Redirect, DeskError> {
    let kind = kind_or_none(&kind)?;
    let layers = Layers::of(kind, &desk.shop().files());
    let row =
        layers.row(&which.row).ok_or_else(|| DeskError::none(format!("{} of that name in the catalog", kind.one)))?;
    let name = shown_name(kind, &row.name);
    let (change, words) = if row.own.is_some() {
        let words = match row.standing {
            Standing::Own => format!("Remove the {} {name}", kind.one),
            Standing::TakenOut => format!("Put the {} {name} back as shipped", kind.one),
            _ => format!("Drop the shop's values of the {} {name}", kind.one),
        };
        (Change::Drop { row: row.name.clone() }, words)
    } else {
        open_kind(kind.address)?;
        let mut fields: Fields =
            row.fields.iter().filter(|(key, _)| kind.keys().contains(&key.as_str())).cloned().collect();
        fields.push(("remove".to_owned(), true.into()));
        (Change::Set { row: row.name.clone(), fields }, format!("Take the {} {name} out of the catalog", kind.one))
    };
    let back = format!("/catalog/{}", kind.address);
    match propose(&desk, kind, vec![change], words, back).await? {
        Ok(address) => Ok(Redirect::to(&address)),
        Err(faults) => {
            let (placed, elsewhere) = (faults.placed.iter(), faults.elsewhere.iter());
            let problems: Vec<String> = placed
                .map(|fault| format!("{}: {}", fault.row, fault.problem))
                .chain(elsewhere.map(|fault| format!("{}:{}: {}", fault.file, fault.line, fault.problem)))
                .collect();
            Err(DeskError::refused(
                format!("{name} cannot go\n{}", problems.join("\n")),
                "to change first what still goes by it",
            ))
        }
    }
}

/// Offers to put the text back that the last change of a file replaced.
pub(super) async fn undo(State(desk): State<Desk>, Path(kind): Path<String>) -> Result<Redirect, DeskError> {
    let kind = kind_or_none(&kind)?;
    undo_file(&desk, kind, format!("/catalog/{}", kind.address)).await
}

/// Leads to the page of what putting the former text of a file back would change.
pub(crate) async fn undo_file(desk: &Desk, kind: &'static Kind, back: String) -> Result<Redirect, DeskError> {
    let former = desk.shop().former(kind.file).ok_or_else(|| {
        DeskError::refused(
            "there is nothing to take back: the file was changed since, or never",
            "a change that was saved here last",
        )
    })?;
    let words = format!("Take back the last change of {}", kind.file);
    Ok(Redirect::to(&propose_former(desk, kind, former.text, words, back).await?))
}
