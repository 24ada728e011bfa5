//! Rows of the catalog, of every kind that its pages show: each with its sizes, what else it says, and its source.

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use quantity::read_length;
use schemars::JsonSchema;
use serde::Serialize;

use super::answer::{Answer, ApiError};
use crate::desk::Desk;
use crate::rows::{KINDS, Kind, Layers, Row, kind_at, paths_of, texts_of};

/// The kinds of rows, and the mark of the catalog.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct CatalogKinds {
    /// The mark of the catalog; it changes when anything in it changes.
    pub catalog_mark: String,
    /// The kinds.
    pub kinds: Vec<CatalogKind>,
}

/// One kind of rows.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct CatalogKind {
    /// Its name in addresses.
    pub kind: &'static str,
    /// How many rows there are.
    pub rows: usize,
}

/// One row of the catalog.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct CatalogRow {
    /// Its name.
    pub name: String,
    /// Its sizes.
    pub sizes: Vec<NamedSize>,
    /// What else it says, as it is written in the catalog; lists have one entry a line.
    pub values: Vec<NamedValue>,
    /// Where the row comes from.
    pub source: String,
}

/// A size of a row.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct NamedSize {
    /// Which size; `…_deviation` is one standard deviation, `…_least` and `…_most` are limits.
    pub size: String,
    /// How large.
    pub value: wire::Length,
}

/// Something of a row that is no size.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct NamedValue {
    /// What.
    pub value: String,
    /// As it is written.
    pub text: String,
}

pub(super) async fn kinds(State(desk): State<Desk>) -> Answer<CatalogKinds> {
    let files = desk.shop().files();
    let count = |kind: &Kind| Layers::of(kind, &files).rows.iter().filter(|row| row.counts()).count();
    let kinds = KINDS.iter().map(|kind| CatalogKind { kind: kind.address, rows: count(kind) }).collect();
    Ok(Json(CatalogKinds { catalog_mark: desk.shop().catalog().mark().to_owned(), kinds }))
}

pub(super) async fn rows(State(desk): State<Desk>, Path(kind): Path<String>) -> Answer<Vec<CatalogRow>> {
    let Some(kind) = kind_at(&kind) else {
        let known: Vec<&str> = KINDS.iter().map(|kind| kind.address).collect();
        let problem = format!("the catalog has no rows of the kind {kind:?}");
        return Err(ApiError::new(StatusCode::NOT_FOUND, problem, known.join(", ")));
    };
    let layers = Layers::of(kind, &desk.shop().files());
    Ok(Json(layers.rows.iter().filter(|row| row.counts()).map(|row| row_of(kind, row)).collect()))
}

/// A row with everything that its page shows: what reads as a size as sizes, the rest as it is written.
fn row_of(kind: &Kind, row: &Row) -> CatalogRow {
    let mut sizes = Vec::new();
    let mut values = Vec::new();
    for field in kind.fields.iter().filter(|field| field.key != "source") {
        for (path, text) in paths_of(field).into_iter().zip(texts_of(field, row.value(field.key))) {
            // `bore_depth.mean` is the bore depth; what else a key holds says so behind it.
            let name = path.strip_suffix(".mean").unwrap_or(&path).replace('.', "_");
            match read_length(&text, None) {
                _ if text.is_empty() => {}
                Ok(size) => sizes.push(NamedSize { size: name, value: size.value().into() }),
                Err(_) => values.push(NamedValue { value: name, text }),
            }
        }
    }
    CatalogRow { name: row.name.clone(), sizes, values, source: row.source().to_owned() }
}
