//! Rows of the catalog: parts that can be bought or met, each with its sizes and its source.

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use catalog::Catalog;
use schemars::JsonSchema;
use serde::Serialize;

use super::answer::{Answer, ApiError};
use crate::desk::Desk;

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
    /// Where the row comes from.
    pub source: String,
}

/// A size of a row.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct NamedSize {
    /// Which size.
    pub size: &'static str,
    /// How large.
    pub value: wire::Length,
}

type Rows = fn(&Catalog) -> Vec<CatalogRow>;

/// The kinds with their rows.
const KINDS: [(&str, Rows); 7] = [
    ("bearings", bearings),
    ("housing-ends", housing_ends),
    ("brakes", brakes),
    ("differentials", differentials),
    ("bolt-circles", bolt_circles),
    ("studs", studs),
    ("instruments", instruments),
];

pub(super) async fn kinds(State(desk): State<Desk>) -> Answer<CatalogKinds> {
    let marked = desk.shop().catalog();
    let kinds = KINDS.iter().map(|(kind, rows)| CatalogKind { kind, rows: rows(marked.catalog()).len() }).collect();
    Ok(Json(CatalogKinds { catalog_mark: marked.mark().to_owned(), kinds }))
}

pub(super) async fn rows(State(desk): State<Desk>, Path(kind): Path<String>) -> Answer<Vec<CatalogRow>> {
    let Some((_, rows)) = KINDS.iter().find(|(known, _)| *known == kind) else {
        let known: Vec<&str> = KINDS.iter().map(|(known, _)| *known).collect();
        let problem = format!("the catalog has no rows of the kind {kind:?}");
        return Err(ApiError::new(StatusCode::NOT_FOUND, problem, known.join(", ")));
    };
    Ok(Json(rows(desk.shop().catalog().catalog())))
}

fn row(name: &str, sizes: &[(&'static str, quantity::Length)], source: impl ToString) -> CatalogRow {
    let sizes = sizes.iter().map(|(size, value)| NamedSize { size, value: (*value).into() }).collect();
    CatalogRow { name: name.to_owned(), sizes, source: source.to_string() }
}

fn bearings(catalog: &Catalog) -> Vec<CatalogRow> {
    let one = |it: &catalog::Bearing| {
        let widths = [("inner_width", it.inner_width), ("outer_width", it.outer_width)];
        row(&it.name, &[[("bore", it.bore), ("outside", it.outside)], widths].concat(), &it.source)
    };
    catalog.bearings.iter().map(one).collect()
}

fn housing_ends(catalog: &Catalog) -> Vec<CatalogRow> {
    let one = |it: &catalog::HousingEnd| {
        let sizes = [
            ("bolt_rectangle_long", it.bolt_rectangle_long),
            ("bolt_rectangle_short", it.bolt_rectangle_short),
            ("bolt_hole", it.bolt_hole),
            ("bore_diameter", it.bore_diameter),
            ("bore_depth", it.bore_depth.mean),
        ];
        row(&it.name, &sizes, &it.source)
    };
    catalog.housing_ends.iter().map(one).collect()
}

fn brakes(catalog: &Catalog) -> Vec<CatalogRow> {
    let one = |it: &catalog::Brake| {
        let sizes = [("required_offset", it.required_offset), ("bore", it.bore), ("inside", it.inside)];
        row(&it.name, &sizes, &it.source)
    };
    catalog.brakes.iter().map(one).collect()
}

fn differentials(catalog: &Catalog) -> Vec<CatalogRow> {
    let one = |it: &catalog::Differential| {
        let sizes = [
            ("half_pin", it.half_pin.mean),
            ("end_clearance", it.end_clearance.mean),
            ("gear_reach", it.gear_reach.mean),
        ];
        row(&it.name, &sizes, &it.source)
    };
    catalog.differentials.iter().map(one).collect()
}

fn bolt_circles(catalog: &Catalog) -> Vec<CatalogRow> {
    let one =
        |it: &catalog::BoltCircleRow| row(&format!("{} holes", it.holes), &[("diameter", it.diameter)], &it.source);
    catalog.bolt_circles.iter().map(one).collect()
}

fn studs(catalog: &Catalog) -> Vec<CatalogRow> {
    let one = |it: &catalog::Stud| {
        let knurl = [("knurl_least", it.knurl.0), ("knurl_most", it.knurl.1)];
        let hole = [("hole_least", it.hole.0), ("hole_most", it.hole.1)];
        row(&it.thread.to_string(), &[knurl, hole].concat(), &it.source)
    };
    catalog.studs.iter().map(one).collect()
}

fn instruments(catalog: &Catalog) -> Vec<CatalogRow> {
    let one = |it: &quantity::Instrument| {
        let sizes = [("step", it.step), ("set_up", it.set_up), ("repeatability", it.repeatability)];
        row(&it.name, &sizes, &it.source)
    };
    catalog.instruments.iter().map(one).collect()
}
