//! The routes, each with who may use it. What is not registered here cannot be reached.

use axum::Router;
use axum::extract::{DefaultBodyLimit, Request, State};
use axum::handler::Handler;
use axum::http::header::{ACCEPT, AUTHORIZATION, COOKIE};
use axum::http::{HeaderMap, Method};
use axum::middleware::{self, Next};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get, post};
use book::Role;

use crate::desk::Desk;
use crate::error::DeskError;
use crate::measuring::Asker;
use crate::pages;
use crate::shell;
use crate::viewer::{Through, Viewer};

/// Who may use a route.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Who {
    /// Everybody, signed in or not.
    Anyone,
    /// Everybody with an account.
    Readers,
    /// Floor, desk and owner.
    Floor,
    /// Desk and owner.
    Desk,
    /// The owner alone.
    Owner,
}

impl Who {
    /// The roles that may; none means that nobody has to sign in.
    #[must_use]
    pub fn roles(self) -> Option<&'static [Role]> {
        match self {
            Self::Anyone => None,
            Self::Readers => Some(&Role::ALL),
            Self::Floor => Some(&[Role::Owner, Role::Desk, Role::Floor]),
            Self::Desk => Some(&[Role::Owner, Role::Desk]),
            Self::Owner => Some(&[Role::Owner]),
        }
    }
}

/// One registered route.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// `GET` or `POST`.
    pub method: Method,
    /// The path, with `{name}` for what varies.
    pub path: &'static str,
    /// Who may use it.
    pub who: Who,
}

/// Routes being registered.
pub(crate) struct Routes {
    desk: Desk,
    router: Router<Desk>,
    table: Vec<Entry>,
}

impl Routes {
    /// A page to look at. It must not change anything.
    pub fn get<H: Handler<T, Desk>, T: 'static>(self, path: &'static str, who: Who, handler: H) -> Self {
        self.add(Method::GET, path, who, get(handler))
    }

    /// A form that changes something.
    pub fn post<H: Handler<T, Desk>, T: 'static>(self, path: &'static str, who: Who, handler: H) -> Self {
        self.add(Method::POST, path, who, post(handler))
    }

    /// A form with files, which may be longer than other forms: so many bytes in all.
    pub fn upload<H: Handler<T, Desk>, T: 'static>(
        self,
        path: &'static str,
        who: Who,
        most: usize,
        handler: H,
    ) -> Self {
        self.add(Method::POST, path, who, post(handler).layer(DefaultBodyLimit::max(most)))
    }

    fn add(mut self, method: Method, path: &'static str, who: Who, handler: MethodRouter<Desk>) -> Self {
        let guarded = handler.route_layer(middleware::from_fn_with_state((self.desk.clone(), who), guard));
        self.router = self.router.route(path, guarded);
        self.table.push(Entry { method, path, who });
        self
    }

    /// The router, with a page for whatever is not there.
    pub fn into_router(self) -> Router {
        let not_found = |viewer: Viewer, headers: HeaderMap, uri: axum::http::Uri| async move {
            shell::refusal(&viewer, &headers, &DeskError::none(format!("page {}", uri.path())))
        };
        self.router.fallback(not_found).with_state(self.desk)
    }
}

/// Every route of the desk.
pub(crate) fn all(desk: Desk) -> Routes {
    let mut routes = Routes { desk, router: Router::new(), table: Vec::new() };
    for topic in pages::TOPICS {
        routes = topic(routes);
    }
    routes
}

/// Every route of a desk with who may use it, in the order of registration.
#[must_use]
pub fn table(desk: Desk) -> Vec<Entry> {
    all(desk).table
}

/// The name of the cookie that holds a session.
pub(crate) const SESSION_COOKIE: &str = "axlewright_session";

/// Finds out who asks, and lets through who may.
async fn guard(State((desk, who)): State<(Desk, Who)>, mut request: Request, next: Next) -> Response {
    let viewer = match viewer_of(&desk, request.headers()).await {
        Ok(viewer) => viewer,
        Err(error) => return shell::refusal(&Viewer::stranger(), request.headers(), &error),
    };
    if let Some(asker) = request.extensions().get::<Asker>() {
        asker.set(viewer.number());
    }
    if let Some(roles) = who.roles() {
        if viewer.account.is_none() {
            return must_sign_in(&request);
        }
        if !viewer.is_one_of(roles) {
            let words: Vec<&str> = roles.iter().map(|role| role.words()).collect();
            let error = DeskError::NotAllowed {
                problem: "your account may not do this".to_owned(),
                accepted: format!("somebody with the role {}", words.join(" or ")),
            };
            return shell::refusal(&viewer, request.headers(), &error);
        }
    }
    request.extensions_mut().insert(viewer.clone());
    let headers = request.headers().clone();
    let response = next.run(request).await;
    match response.extensions().get::<shell::Refused>() {
        Some(refused) => shell::refusal(&viewer, &headers, &refused.0),
        None => response,
    }
}

/// Who asks: by the open door, the token of an integration, or the cookie of a session.
async fn viewer_of(desk: &Desk, headers: &HeaderMap) -> Result<Viewer, DeskError> {
    if let Some(host) = desk.host() {
        return Ok(Viewer { account: Some(host.clone()), through: Through::OpenDoor });
    }
    if headers.contains_key(AUTHORIZATION) {
        return Ok(Viewer::stranger());
    }
    let Some(token) = cookie(headers, SESSION_COOKIE) else { return Ok(Viewer::stranger()) };
    let account = desk.book().session(token, desk.now()).await?;
    let through = if account.is_some() { Through::Session } else { Through::Nothing };
    Ok(Viewer { account, through })
}

/// The value of a cookie.
pub(crate) fn cookie<'h>(headers: &'h HeaderMap, name: &str) -> Option<&'h str> {
    headers
        .get_all(COOKIE)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .find(|(key, _)| *key == name)
        .map(|(_, value)| value)
}

/// A page sends to the sign-in and back; the JSON interface says what is missing.
fn must_sign_in(request: &Request) -> Response {
    if shell::wants_json(request.headers(), request.uri()) {
        let error = DeskError::NotAllowed {
            problem: "nobody is signed in".to_owned(),
            accepted: "the header `Authorization: Bearer` with the token of an integration".to_owned(),
        };
        return (axum::http::StatusCode::UNAUTHORIZED, shell::problem_json(&error)).into_response();
    }
    let back = request.uri().path_and_query().map_or("/", |path| path.as_str());
    let back = if request.method() == Method::GET { back } else { "/" };
    Redirect::to(&format!("/sign-in?back={}", shell::query_encoded(back))).into_response()
}

/// Whether a page of HTML is asked for.
pub(crate) fn accepts_html(headers: &HeaderMap) -> bool {
    headers
        .get(ACCEPT)
        .and_then(|value| value.to_str().ok())
        .is_none_or(|accept| accept.contains("text/html") || accept.contains("*/*"))
}
