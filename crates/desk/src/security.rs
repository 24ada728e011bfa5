//! What every answer carries and every request has to pass, whatever page it is for.
//!
//! * The content policy lets nothing in but the desk's own files: no script and no style inside a page.
//! * A request that changes something must come from a page of the desk: the browser says so in `Sec-Fetch-Site`, or else in
//!   `Origin`. A request that carries neither is no browser's and can carry no cookie that a browser holds.
//! * An open desk answers only to the names of this machine, so that no page elsewhere can reach it under a name of its own.

use axum::Router;
use axum::extract::{DefaultBodyLimit, Request, State};
use axum::http::header::{
    CACHE_CONTROL, CONTENT_SECURITY_POLICY, HOST, HeaderName, HeaderValue, ORIGIN, REFERRER_POLICY,
    STRICT_TRANSPORT_SECURITY, X_CONTENT_TYPE_OPTIONS, X_FRAME_OPTIONS,
};
use axum::http::{HeaderMap, Method};
use axum::middleware::{self, Next};
use axum::response::Response;
use tower_http::catch_panic::CatchPanicLayer;

use crate::desk::{Access, Desk};
use crate::error::DeskError;
use crate::shell;
use crate::viewer::Viewer;

/// The longest form. Uploads have a limit of their own.
pub(crate) const LONGEST_FORM: usize = 2 * 1024 * 1024;

const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; \
     connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'; manifest-src 'self'";

/// Puts the layers around the pages.
pub(crate) fn layered(desk: Desk, router: Router) -> Router {
    router
        .layer(DefaultBodyLimit::max(LONGEST_FORM))
        .layer(CatchPanicLayer::new())
        .layer(middleware::from_fn_with_state(desk, gate))
}

async fn gate(State(desk): State<Desk>, request: Request, next: Next) -> Response {
    let refused = refused(&desk, request.method(), request.headers());
    let mut response = match refused {
        Some(error) => shell::refusal(&Viewer::stranger(), request.headers(), &error),
        None => {
            let headers = request.headers().clone();
            shell::dressed(&Viewer::stranger(), &headers, next.run(request).await)
        }
    };
    let headers = response.headers_mut();
    let mut set = |name: HeaderName, value: &'static str| {
        headers.entry(name).or_insert(HeaderValue::from_static(value));
    };
    set(CONTENT_SECURITY_POLICY, POLICY);
    set(X_CONTENT_TYPE_OPTIONS, "nosniff");
    set(X_FRAME_OPTIONS, "DENY");
    set(REFERRER_POLICY, "same-origin");
    set(CACHE_CONTROL, "no-store");
    set(HeaderName::from_static("cross-origin-opener-policy"), "same-origin");
    set(HeaderName::from_static("cross-origin-resource-policy"), "same-origin");
    set(HeaderName::from_static("permissions-policy"), "camera=(self), geolocation=(), microphone=()");
    if matches!(desk.access(), Access::Accounts { secure: true }) {
        set(STRICT_TRANSPORT_SECURITY, "max-age=31536000");
    }
    response
}

/// Why a request is not even looked at.
fn refused(desk: &Desk, method: &Method, headers: &HeaderMap) -> Option<DeskError> {
    let host = headers.get(HOST).and_then(|value| value.to_str().ok()).unwrap_or_default();
    if desk.access() == Access::Open && !is_this_machine(host) {
        return Some(DeskError::NotAllowed {
            problem: format!("this desk is open and answers only on its own machine, not as {host:?}"),
            accepted: "127.0.0.1, localhost or [::1] as the address".to_owned(),
        });
    }
    if matches!(*method, Method::GET | Method::HEAD | Method::OPTIONS) || comes_from_here(host, headers) {
        return None;
    }
    Some(DeskError::NotAllowed {
        problem: "the form was sent from a page that is not one of this desk".to_owned(),
        accepted: "the same form on a page of this desk".to_owned(),
    })
}

fn comes_from_here(host: &str, headers: &HeaderMap) -> bool {
    if let Some(site) = headers.get("sec-fetch-site") {
        return site == "same-origin" || site == "none";
    }
    match headers.get(ORIGIN).map(HeaderValue::to_str) {
        None => true,
        Some(Ok(origin)) => origin.split_once("://").is_some_and(|(_, from)| from == host),
        Some(Err(_)) => false,
    }
}

fn is_this_machine(host: &str) -> bool {
    let name = match host.rsplit_once(':') {
        Some((name, port)) if port.bytes().all(|byte| byte.is_ascii_digit()) => name,
        _ => host,
    };
    matches!(name, "127.0.0.1" | "localhost" | "[::1]")
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use axum::Router;
    use axum::body::Body;
    use axum::http::{Request, StatusCode};
    use axum::routing::get;
    use http_body_util::BodyExt;
    use jiff::Timestamp;
    use tower::ServiceExt;

    use crate::desk::{Access, Desk, DeskOptions};

    async fn breaks() -> &'static str {
        if Timestamp::now() > Timestamp::UNIX_EPOCH {
            panic!("the page about weir yards is broken");
        }
        "whole"
    }

    #[tokio::test]
    async fn a_page_that_breaks_is_a_page_and_the_desk_goes_on() {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("orders.db").display().to_string();
        let book = book::Book::open(&place, Timestamp::UNIX_EPOCH);
        let shop_folder = folder.path().join("shop");
        let clock = Arc::new(|| Timestamp::UNIX_EPOCH);
        let options =
            DeskOptions { book: book.await.unwrap(), shop_folder, clock, access: Access::Open, behind: Vec::new() };
        let desk = Desk::open(options).await.unwrap();
        let pages = Router::new().route("/breaks", get(breaks)).route("/whole", get(async || "whole"));
        let router = super::layered(desk, pages);
        for _ in 0..3 {
            let request = Request::get("/breaks").header("host", "localhost").body(Body::empty()).unwrap();
            let answer = router.clone().oneshot(request).await.unwrap();
            assert_eq!(answer.status(), StatusCode::INTERNAL_SERVER_ERROR);
            assert!(answer.headers().contains_key("content-security-policy"));
            let page = String::from_utf8(answer.into_body().collect().await.unwrap().to_bytes().to_vec()).unwrap();
            assert!(page.contains("The desk could not answer") && !page.contains("weir yards"), "{page}");
            let request = Request::get("/whole").header("host", "localhost").body(Body::empty()).unwrap();
            assert_eq!(router.clone().oneshot(request).await.unwrap().status(), StatusCode::OK);
        }
    }
}
