//! The catalog: what parts, instruments and mistakes the reviews go by, where each row comes from, and the shop's own rows.

mod browse;
mod change;
mod changed_values;
mod effect;
mod form;
mod import;
mod rereviews;
mod row;
mod table;
mod uses;

pub(crate) use change::{own_fields, undo_file};
pub(crate) use effect::{propose, propose_former};
pub(crate) use form::{Entered, faults_elsewhere, field_entry, source_choices};
pub(crate) use table::standing_mark;

use axum::extract::DefaultBodyLimit;
use axum::handler::Handler;

use crate::error::DeskError;
use crate::routes::{Routes, Who};
use crate::rows::{Kind, kind_at};

/// The largest table that is taken in.
const LARGEST_TABLE: usize = 4 * 1024 * 1024;

/// Registers the catalog.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes
        .get("/catalog", Who::Readers, browse::page)
        .post("/catalog/read-again", Who::Desk, browse::read_again)
        .get("/catalog/rereviews", Who::Readers, rereviews::page)
        .post("/catalog/rereviews", Who::Desk, rereviews::start)
        .get("/catalog/effect/{id}", Who::Desk, effect::page)
        .post("/catalog/effect/{id}/save", Who::Desk, effect::save)
        .post("/catalog/effect/{id}/discard", Who::Desk, effect::discard)
        .get("/catalog/add/{kind}", Who::Desk, change::add)
        .get("/catalog/change/{kind}/{row}", Who::Desk, change::change)
        .post("/catalog/change/{kind}", Who::Desk, change::enter)
        .post("/catalog/remove/{kind}", Who::Desk, change::remove)
        .post("/catalog/undo/{kind}", Who::Desk, change::undo)
        .get("/catalog/import/{kind}", Who::Desk, import::page)
        .post("/catalog/import/{kind}", Who::Desk, import::enter.layer(DefaultBodyLimit::max(LARGEST_TABLE)))
        .get("/catalog/export/{kind}", Who::Readers, import::export)
        .get("/catalog/{kind}", Who::Readers, table::page)
        .get("/catalog/{kind}/{row}", Who::Readers, row::page)
}

/// The kind of an address.
pub(crate) fn kind_or_none(address: &str) -> Result<&'static Kind, DeskError> {
    kind_at(address).ok_or_else(|| DeskError::none("such kind of rows in the catalog"))
}

/// A name as one segment of an address.
pub(crate) fn segment(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for byte in text.bytes() {
        match byte {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'_' | b'~' => out.push(char::from(byte)),
            _ => out.push_str(&format!("%{byte:02X}")),
        }
    }
    out
}

/// The address of a row.
pub(crate) fn address(kind: &Kind, row: &str) -> String {
    format!("/catalog/{}/{}", kind.address, segment(row))
}

/// The name of a row as pages write it: those of mistakes and measurands are keys, and a load is named by one.
pub(crate) fn shown_name(kind: &Kind, name: &str) -> String {
    if !kind.is_open() || kind.address == "loads" { key_words(name) } else { name.to_owned() }
}

/// A key as pages write it: `inner width`.
pub(crate) fn key_words(key: &str) -> String {
    key.replace('_', " ")
}
