//! What stands around every page: the head, the way to the other pages, and how a refusal looks.

use std::sync::Arc;

use axum::http::header::{CONTENT_TYPE, HOST, REFERER};
use axum::http::{HeaderMap, StatusCode, Uri};
use axum::response::{IntoResponse, Response};
use book::Role;
use maud::{DOCTYPE, Markup, html};
use serde_json::json;

use crate::assets;
use crate::error::DeskError;
use crate::routes::accepts_html;
use crate::viewer::{Through, Viewer};
use crate::words::{end_of_sentence, quoted, sentence};

/// The part of the desk that a page belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Place {
    Orders,
    NewOrder,
    Catalog,
    Calculators,
    Simulator,
    Settings,
    /// Outside of all of them: signing in, a refusal.
    Elsewhere,
}

/// The ways through the desk: place, address, words, and the key that goes there after `g`.
const WAYS: [(Place, &str, &str, &str); 6] = [
    (Place::Orders, "/", "Orders", "o"),
    (Place::NewOrder, "/orders/new", "New order", "n"),
    (Place::Catalog, "/catalog", "Catalog", "c"),
    (Place::Calculators, "/calculators", "Calculators", "k"),
    (Place::Simulator, "/simulator", "Simulator", "m"),
    (Place::Settings, "/settings", "Settings", "s"),
];

/// A page. The body stands inside `main` and brings its own `h1`.
pub(crate) fn page(viewer: &Viewer, place: Place, title: &str, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) " · Axlewright" }
                link rel="stylesheet" href=(assets::address("desk.css"));
                link rel="icon" href="data:,";
                script src=(assets::address("desk.js")) defer {}
            }
            body {
                a .skip href="#main" { "To the content" }
                header .top {
                    a .brand href="/" { "Axlewright" }
                    @if viewer.account.is_some() {
                        nav aria-label="Desk" {
                            ul {
                                @for (way, address, words, key) in WAYS {
                                    li {
                                        a href=(address) data-go=(key) aria-current=[(way == place).then_some("page")] { (words) }
                                    }
                                }
                            }
                        }
                        (who(viewer))
                    }
                }
                @if let Some(notice) = &viewer.notice { p .notice.told #told data-part role="status" { (notice) } }
                main #main tabindex="-1" { (body) }
                footer .foot {
                    p { (axle::CAUTIONS[0]) " " (axle::CAUTIONS[1]) }
                    @if viewer.account.is_some() {
                        p { button .quiet type="button" data-tells-keys data-key="?" hidden { "Single keys (?)" } }
                    }
                }
                div #announce .unseen role="status" aria-live="polite" {}
            }
        }
    }
}

/// Who is signed in, and the way out.
fn who(viewer: &Viewer) -> Markup {
    let Some(account) = &viewer.account else { return html! {} };
    html! {
        div .who {
            @if viewer.through == Through::OpenDoor {
                span title="Everybody who reaches this desk works as its owner" { "open desk" }
            } @else {
                @if account.role == Role::Owner { a href="/accounts" { "Accounts" } }
                a href="/account" { (account.name) }
                span .role { (account.role.words()) }
                form method="post" action="/sign-out" { button .quiet { "Sign out" } }
            }
        }
    }
}

/// A refusal on its way to the guard of the routes, which knows who asked.
#[derive(Clone)]
pub(crate) struct Refused(pub Arc<DeskError>);

impl IntoResponse for DeskError {
    fn into_response(self) -> Response {
        let mut response = self.status().into_response();
        response.extensions_mut().insert(Refused(Arc::new(self)));
        response
    }
}

/// Whether an answer is for a program.
pub(crate) fn wants_json(headers: &HeaderMap, uri: &Uri) -> bool {
    uri.path().starts_with("/api/") || !accepts_html(headers)
}

/// A refusal for whoever asked: a page for people, a problem in JSON for programs.
pub(crate) fn refusal(viewer: &Viewer, headers: &HeaderMap, error: &DeskError) -> Response {
    refusal_as(error.status(), viewer, headers, error)
}

/// An answer of the frame around the handlers, such as that a form could not be read or is too long, in the same dress as every
/// other refusal. Everything else stays as it is.
pub(crate) fn dressed(viewer: &Viewer, headers: &HeaderMap, response: Response) -> Response {
    let status = response.status();
    let kind = response.headers().get(CONTENT_TYPE).and_then(|kind| kind.to_str().ok()).unwrap_or_default();
    let is_bare = kind.is_empty() || kind.starts_with("text/plain");
    if !is_bare || !(status.is_client_error() || status.is_server_error()) {
        return response;
    }
    let (problem, accepted) = match status {
        StatusCode::METHOD_NOT_ALLOWED => ("this address does not take what was sent to it", "a form of the desk"),
        StatusCode::PAYLOAD_TOO_LARGE => {
            ("what was sent is too long", "a form of at most 2 MiB, a photo of at most 20 MiB")
        }
        StatusCode::UNSUPPORTED_MEDIA_TYPE => {
            ("what was sent is not of the kind that is taken here", "a form of the desk")
        }
        StatusCode::REQUEST_TIMEOUT => {
            ("what was sent did not come whole in time", "the same over a better connection")
        }
        status if status.is_server_error() => {
            ("the desk could not answer; nothing was half written", "the same once more")
        }
        _ => ("what was sent cannot be read", "a form of the desk, with every field that stands in it"),
    };
    refusal_as(status, viewer, headers, &DeskError::refused(problem, accepted))
}

fn refusal_as(status: StatusCode, viewer: &Viewer, headers: &HeaderMap, error: &DeskError) -> Response {
    if status.is_server_error() {
        tracing::error!(status = status.as_u16(), problem = %error, "a request failed");
    }
    if !accepts_html(headers) {
        return problem_as(status, error);
    }
    let (problem, accepted) = error.parts();
    let heading = match status.as_u16() {
        401 | 403 => "Not allowed",
        404 => "Not here",
        409 => "Somebody was first",
        422 => "This cannot be used",
        503 | 507 => "Not now",
        _ => "That went wrong",
    };
    let body = html! {
        section .refusal role="alert" {
            h1 { (heading) }
            @for line in problem.lines() { p { (quoted(&sentence(line))) } }
            @if let Some(accepted) = accepted { p { strong { "Accepted: " } (quoted(&end_of_sentence(&accepted))) } }
            p {
                @if let Some(before) = page_before(headers) { a href=(before) { "Back to where you were" } " · " }
                a href="/" { "To the orders" }
            }
        }
    };
    (status, page(viewer, Place::Elsewhere, heading, &body)).into_response()
}

/// The page of this desk that somebody came from, as the browser tells it.
fn page_before(headers: &HeaderMap) -> Option<String> {
    let text = |name| headers.get(name).and_then(|value| value.to_str().ok());
    let (before, host) = (text(REFERER)?, text(HOST)?);
    let (_, rest) = before.split_once("://")?;
    let path = rest.strip_prefix(host).filter(|path| path.starts_with('/') && !path.starts_with("//"))?;
    Some(path.to_owned())
}

/// A refusal as RFC 9457 writes problems, with a status that may say more than the error does.
pub(crate) fn problem_as(status: StatusCode, error: &DeskError) -> Response {
    let (problem, accepted) = error.parts();
    let body = json!({
        "title": status.canonical_reason(),
        "status": status.as_u16(),
        "detail": problem,
        "accepted": accepted,
    });
    (status, [(CONTENT_TYPE, "application/problem+json")], body.to_string()).into_response()
}

/// A text as it stands behind the `=` of an address.
pub(crate) fn query_encoded(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for byte in text.bytes() {
        match byte {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'_' | b'.' | b'~' | b'/' => out.push(char::from(byte)),
            _ => out.push_str(&format!("%{byte:02X}")),
        }
    }
    out
}
