//! The desk for programs: the same rules, roles and locking as the pages, in JSON. Every operation stands once in
//! [`operation::OPERATIONS`]; the routes, the OpenAPI document and the page `/api` all come out of that table.

mod answer;
mod calculators;
mod catalog_rows;
mod document;
mod forms;
mod operation;
mod order_forms;
mod order_parts;
mod orders;
mod page;
mod sheets;
mod upkeep;

use crate::routes::{Routes, Who};

/// Registers every operation, the document that describes them, and its page.
pub(crate) fn routes(routes: Routes) -> Routes {
    let routes = operation::OPERATIONS.iter().fold(routes, |routes, operation| (operation.register)(routes, operation));
    routes.get(operation::DOCUMENT, Who::Readers, document::document).get("/api", Who::Readers, page::page)
}
