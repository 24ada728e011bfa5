//! The operations as a page to read.

use axum::http::HeaderMap;
use axum::http::Method;
use axum::http::header::HOST;
use maud::{Markup, html};

use super::document::who;
use super::operation::{DOCUMENT, OPERATIONS, Operation};
use crate::shell::{self, Place};
use crate::viewer::Viewer;

pub(super) async fn page(viewer: Viewer, headers: HeaderMap) -> Markup {
    let host = headers.get(HOST).and_then(|host| host.to_str().ok()).unwrap_or("127.0.0.1:8017");
    let body = html! {
        h1 { "JSON interface" }
        p { "The same rules, roles and locking as the pages. A program signs in with the token of an integration in the header "
            code { "Authorization: Bearer" } ". Whoever changes an order names the revision that they saw; where somebody was first, "
            "the answer is 409 and nothing is written. Every refusal is a problem of RFC 9457 whose member " code { "accepted" }
            " says what would be taken." }
        p { a href=(DOCUMENT) { "The whole description as OpenAPI 3.1" } ", for programs that make programs." }
        div .scroll tabindex="0" role="group" aria-label="Operations, table" {
            table .operations {
                caption { "Operations" }
                thead { tr { th scope="col" { "Method" } th scope="col" { "Path" } th scope="col" { "What it does" } th scope="col" { "Who" } } }
                tbody {
                    @for operation in &OPERATIONS {
                        tr {
                            td { strong { (operation.method) } }
                            td { a href={ "#" (operation.name) } { code { (operation.path) } } }
                            td { (with_code(operation.summary)) }
                            td .soft { (who(operation.who)) }
                        }
                    }
                }
            }
        }
        @for operation in &OPERATIONS { (one(operation, host)) }
    };
    shell::page(&viewer, Place::Elsewhere, "JSON interface", &body)
}

fn one(operation: &Operation, host: &str) -> Markup {
    html! {
        section .card.operation id=(operation.name) {
            h2 { (operation.method) " " code { (operation.path) } }
            p { (with_code(operation.summary)) }
            @if !operation.query.is_empty() {
                dl {
                    @for (name, kind, about) in operation.query {
                        dt { code { (name) } span .soft { " " (kind) } }
                        dd { (with_code(about)) }
                    }
                }
            }
            pre .scroll tabindex="0" { (curl(operation, host)) }
        }
    }
}

/// A text in which names of members stand between backticks.
fn with_code(text: &str) -> Markup {
    html! { @for (at, part) in text.split('`').enumerate() { @if at % 2 == 1 { code { (part) } } @else { (part) } } }
}

/// A call that can be copied into a shell.
fn curl(operation: &Operation, host: &str) -> String {
    let path = operation.path.replace("{number}", "1").replace("{key}", "spline").replace("{kind}", "bearings");
    let query = if operation.path.ends_with("{key}") { "?teeth=30&pitch=24/48&angle=45" } else { "" };
    let mut call = format!("curl -H \"Authorization: Bearer $TOKEN\" 'http://{host}{path}{query}'");
    if operation.method == Method::POST {
        call.push_str(" \\\n  -H 'Content-Type: application/json' \\\n  -d '");
        call.push_str(operation.example);
        call.push('\'');
    }
    call
}
