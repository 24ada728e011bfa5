//! The routes, each with who may use it. What is not registered here cannot be reached.

use axum::Router;
use axum::extract::{DefaultBodyLimit, Request, State};
use axum::handler::Handler;
use axum::http::header::{ACCEPT, AUTHORIZATION, COOKIE, WWW_AUTHENTICATE};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode};
use axum::middleware::{self, Next};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get, post};
use book::{Account, Role};

use crate::desk::{Access, Desk};
use crate::error::DeskError;
use crate::folder_watch;
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

/// The name of the cookie that holds a session. Over TLS the browser itself sees to it that nobody but this very host has set it.
pub(crate) fn session_cookie(desk: &Desk) -> &'static str {
    match desk.access() {
        Access::Accounts { secure: true } => "__Host-axlewright_session",
        Access::Accounts { secure: false } | Access::Open => "axlewright_session",
    }
}

/// Finds out who asks, and lets through who may.
async fn guard(State((desk, who)): State<(Desk, Who)>, mut request: Request, next: Next) -> Response {
    if who.roles().is_some()
        && desk.shop().has_changed()
        && let Err(error) = folder_watch::look_again(&desk).await
    {
        return shell::refusal(&Viewer::stranger(), request.headers(), &error);
    }
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
        None => shell::dressed(&viewer, &headers, response),
    }
}

/// Who asks: by the open door, the token of an integration, or the cookie of a session.
async fn viewer_of(desk: &Desk, headers: &HeaderMap) -> Result<Viewer, DeskError> {
    if let Some(host) = desk.host() {
        return Ok(Viewer { account: Some(host.clone()), through: Through::OpenDoor, notice: desk.notice() });
    }
    let (account, through) = if let Some(sent) = headers.get(AUTHORIZATION) {
        (program(desk, sent).await?, Through::Token)
    } else if let Some(token) = cookie(headers, session_cookie(desk)) {
        (desk.book().session(token, desk.now()).await?, Through::Session)
    } else {
        (None, Through::Nothing)
    };
    let through = if account.is_some() { through } else { Through::Nothing };
    Ok(Viewer { account, through, notice: desk.notice() })
}

/// The program behind a token, as an account that keeps nothing of its own; none where the token is worth nothing.
async fn program(desk: &Desk, sent: &HeaderValue) -> Result<Option<Account>, DeskError> {
    let Some((scheme, secret)) = sent.to_str().ok().and_then(|sent| sent.split_once(' ')) else { return Ok(None) };
    if !scheme.eq_ignore_ascii_case("bearer") {
        return Ok(None);
    }
    let token = desk.book().token(secret.trim(), desk.now()).await?;
    Ok(token.map(|token| Account {
        number: 0,
        name: token.person().name,
        role: token.role,
        active: true,
        created_at: token.made_at,
    }))
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
    // A program that sends a token is never sent to a page, and hears what its token is worth.
    if request.headers().contains_key(AUTHORIZATION) || shell::wants_json(request.headers(), request.uri()) {
        let error = DeskError::NotAllowed {
            problem: "nobody is signed in, or the token is worth nothing".to_owned(),
            accepted: "the header `Authorization: Bearer` with the token of an integration".to_owned(),
        };
        let mut response = shell::problem_as(StatusCode::UNAUTHORIZED, &error);
        response.headers_mut().insert(WWW_AUTHENTICATE, HeaderValue::from_static("Bearer realm=\"axlewright\""));
        return response;
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
