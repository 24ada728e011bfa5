//! The whole book as one JSON text, written while it is read, so that its length is no matter.

use axum::body::Body;
use axum::extract::State;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use book::{BookError, Cursor, ListRequest, Sort};
use futures_util::stream;

use crate::desk::Desk;
use crate::files;
use crate::routes::{Routes, Who};

/// So many orders are read at once.
const AT_ONCE: usize = 20;

/// Registers the export.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes.get("/export", Who::Owner, export)
}

/// Where the writing stands.
enum Place {
    Beginning,
    After(Option<Cursor>),
    End,
}

async fn export(State(desk): State<Desk>) -> Response {
    let beginning = format!("{{\"exported_at\": \"{}\", \"orders\": [", desk.now());
    let parts = stream::try_unfold((desk, Place::Beginning, true), move |(desk, place, first)| {
        let beginning = beginning.clone();
        async move {
            Ok::<_, BookError>(match place {
                Place::Beginning => Some((beginning, (desk, Place::After(None), true))),
                Place::After(after) => {
                    let (text, next, first) = page(&desk, after, first).await?;
                    Some((text, (desk, next, first)))
                }
                Place::End => None,
            })
        }
    });
    let headers = [(CONTENT_TYPE, files::JSON), (CONTENT_DISPOSITION, "attachment; filename=\"orders.json\"")];
    (headers, Body::from_stream(parts)).into_response()
}

/// The next orders as text, and where they end.
async fn page(desk: &Desk, after: Option<Cursor>, mut first: bool) -> Result<(String, Place, bool), BookError> {
    let request = ListRequest { sort: Sort::Newest, after, at_most: AT_ONCE, ..ListRequest::default() };
    let list = desk.book().list(&request).await?;
    let mut text = String::new();
    for line in &list.lines {
        let order = desk.book().order(line.number).await?;
        text.push_str(if first { "\n" } else { ",\n" });
        text.push_str(&desk.book().order_json(&order).await?.to_string());
        first = false;
    }
    match list.next {
        Some(next) => Ok((text, Place::After(Some(next)), first)),
        None => {
            text.push_str("\n]}\n");
            Ok((text, Place::End, first))
        }
    }
}
