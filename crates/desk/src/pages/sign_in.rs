//! Signing in and out, and the first run, which makes the owner's account.

use axum::Form;
use axum::extract::{Query, State};
use axum::http::header::{HeaderValue, RETRY_AFTER, SET_COOKIE};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Redirect, Response};
use book::BookError;
use maud::{Markup, html};
use serde::Deserialize;

use crate::desk::{Access, Desk};
use crate::error::DeskError;
use crate::routes::{Routes, Who, cookie, session_cookie};
use crate::shell::{self, Place};
use crate::viewer::{Peer, Through, Viewer};

/// Registers the pages of the door.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes
        .get("/sign-in", Who::Anyone, page)
        .post("/sign-in", Who::Anyone, sign_in)
        .post("/sign-out", Who::Anyone, sign_out)
        .get("/first-run", Who::Anyone, first_run)
        .post("/first-run", Who::Anyone, make_owner)
}

/// A browser keeps the cookie for so many seconds: as long as the longest session.
const KEPT: u32 = 7 * 24 * 60 * 60;

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Back {
    back: String,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Entered {
    name: String,
    password: String,
    back: String,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct FirstRun {
    code: String,
    name: String,
    password: String,
    again: String,
}

/// A way back that stays on this desk. Anything that a browser could read as another place leads to the list.
pub(crate) fn safe_way_back(wanted: &str) -> &str {
    let is_a_path = wanted.starts_with('/') && !wanted.starts_with("//");
    let is_plain = wanted.bytes().all(|byte| (0x21..=0x7e).contains(&byte) && byte != b'\\');
    let leads_around = ["/sign-in", "/sign-out", "/first-run"].iter().any(|door| wanted.starts_with(door));
    if is_a_path && is_plain && !leads_around && wanted.len() <= 2_000 { wanted } else { "/" }
}

/// The cookie that holds a session; an empty token takes it away.
pub(crate) fn set_cookie(desk: &Desk, token: &str) -> Result<HeaderValue, DeskError> {
    let name = session_cookie(desk);
    let secure = if desk.access() == (Access::Accounts { secure: true }) { "; Secure" } else { "" };
    let age = if token.is_empty() { 0 } else { KEPT };
    HeaderValue::from_str(&format!("{name}={token}; Path=/; HttpOnly; SameSite=Lax; Max-Age={age}{secure}"))
        .map_err(|error| DeskError::failed(format!("the session cannot be kept in a cookie: {error}")))
}

async fn page(State(desk): State<Desk>, viewer: Viewer, Query(query): Query<Back>) -> Result<Response, DeskError> {
    let back = safe_way_back(&query.back);
    if viewer.account.is_some() {
        return Ok(Redirect::to(back).into_response());
    }
    if desk.door().code().is_some() && desk.book().is_first_run().await? {
        return Ok(Redirect::to("/first-run").into_response());
    }
    Ok(form(&viewer, "", back, None).into_response())
}

fn form(viewer: &Viewer, name: &str, back: &str, fault: Option<&str>) -> Markup {
    let body = html! {
        section .door {
            h1 { "Sign in" }
            @if let Some(fault) = fault { p #fault .notice.bad role="alert" { (fault) } }
            form method="post" action="/sign-in" {
                input type="hidden" name="back" value=(back);
                div .field {
                    label for="name" { "Name" }
                    input #name name="name" value=(name) autocomplete="username" autocapitalize="none" spellcheck="false"
                        required autofocus[fault.is_none()] aria-describedby=[fault.map(|_| "fault")];
                }
                div .field {
                    label for="password" { "Password" }
                    input #password name="password" type="password" autocomplete="current-password" required
                        autofocus[fault.is_some()];
                }
                p { button .main type="submit" { "Sign in" } }
            }
            p .soft { "No account? The owner makes one. Password forgotten? The owner gives another one; the owner's own is set in "
                "the terminal of the desk's machine with " code { "axlewright book owner NAME" } "." }
        }
    };
    shell::page(viewer, Place::Elsewhere, "Sign in", &body)
}

/// An answer with a status of its own, and for how long to wait before another attempt.
fn again(status: StatusCode, page: Markup, wait: Option<i64>) -> Response {
    let mut response = (status, page).into_response();
    if let Some(wait) = wait {
        response.headers_mut().insert(RETRY_AFTER, HeaderValue::from(wait));
    }
    response
}

fn must_wait(wait: i64) -> String {
    format!("Too many wrong attempts came from this address. Try again in {wait} s.")
}

/// What is wrong with what was entered; every other failure is a page of its own.
pub(crate) fn told(error: BookError) -> Result<String, DeskError> {
    match error {
        BookError::Refused { problem, accepted } => {
            let mut letters = problem.chars();
            let first: String = letters.next().into_iter().flat_map(char::to_uppercase).collect();
            Ok(format!("{first}{}. Accepted: {accepted}.", letters.as_str()))
        }
        other => Err(other.into()),
    }
}

async fn sign_in(
    State(desk): State<Desk>,
    viewer: Viewer,
    Peer(peer): Peer,
    headers: HeaderMap,
    Form(entered): Form<Entered>,
) -> Result<Response, DeskError> {
    let back = safe_way_back(&entered.back);
    if viewer.through == Through::OpenDoor {
        return Ok(Redirect::to(back).into_response());
    }
    let now = desk.now();
    if let Err(wait) = desk.door().attempt(peer, now) {
        let page = form(&viewer, &entered.name, back, Some(&must_wait(wait)));
        return Ok(again(StatusCode::TOO_MANY_REQUESTS, page, Some(wait)));
    }
    let book = desk.book().clone();
    let (name, password, address) = (entered.name.clone(), entered.password, peer.to_string());
    let outcome = desk.door().hashing(async move { book.sign_in(&name, &password, &address, now).await }).await?;
    let session = match outcome {
        Ok(session) => session,
        Err(error) => {
            let fault = told(error)?;
            tracing::warn!(name = entered.name, address = %peer, "a sign-in was refused");
            let page = form(&viewer, &entered.name, back, Some(&fault));
            return Ok(again(StatusCode::UNPROCESSABLE_ENTITY, page, None));
        }
    };
    desk.door().right(peer);
    tracing::info!(account = session.account.name, address = %peer, "signed in");
    // Whoever was signed in with this browser before is signed out; the new session never has an old token.
    if let Some(old) = cookie(&headers, session_cookie(&desk)) {
        desk.book().sign_out(old, &peer.to_string(), now).await?;
    }
    Ok(([(SET_COOKIE, set_cookie(&desk, &session.token)?)], Redirect::to(back)).into_response())
}

async fn sign_out(State(desk): State<Desk>, Peer(peer): Peer, headers: HeaderMap) -> Result<Response, DeskError> {
    if let Some(token) = cookie(&headers, session_cookie(&desk)) {
        desk.book().sign_out(token, &peer.to_string(), desk.now()).await?;
    }
    Ok(([(SET_COOKIE, set_cookie(&desk, "")?)], Redirect::to("/sign-in")).into_response())
}

async fn first_run(State(desk): State<Desk>, viewer: Viewer) -> Result<Response, DeskError> {
    if !desk.book().is_first_run().await? {
        return Ok(Redirect::to("/sign-in").into_response());
    }
    Ok(first_form(&viewer, &FirstRun::default(), None).into_response())
}

fn first_form(viewer: &Viewer, entered: &FirstRun, fault: Option<&str>) -> Markup {
    let body = html! {
        section .door {
            h1 { "The first account" }
            p { "Nobody has an account in this book yet. The first one is the owner's: it makes all the others." }
            @if let Some(fault) = fault { p #fault .notice.bad role="alert" { (fault) } }
            form method="post" action="/first-run" {
                div .field {
                    label for="code" { "Code" }
                    input #code name="code" value=(entered.code) autocomplete="off" autocapitalize="none" spellcheck="false"
                        required aria-describedby="code-hint";
                    span #code-hint .hint { "The program has written it on the terminal that it was started from." }
                }
                div .field {
                    label for="name" { "Your name" }
                    input #name name="name" value=(entered.name) autocomplete="username" required maxlength="60"
                        aria-describedby="name-hint";
                    span #name-hint .hint { "It stands beside everything that you do." }
                }
                div .field {
                    label for="password" { "Password" }
                    input #password name="password" type="password" autocomplete="new-password" required minlength="10"
                        aria-describedby="password-hint";
                    span #password-hint .hint { "At least 10 characters; a few words in a row are easy to keep in mind." }
                }
                div .field {
                    label for="again" { "The same password again" }
                    input #again name="again" type="password" autocomplete="new-password" required;
                }
                p { button .main type="submit" { "Make the account" } }
            }
        }
    };
    shell::page(viewer, Place::Elsewhere, "The first account", &body)
}

async fn make_owner(
    State(desk): State<Desk>,
    viewer: Viewer,
    Peer(peer): Peer,
    Form(entered): Form<FirstRun>,
) -> Result<Response, DeskError> {
    if desk.door().code().is_none() || !desk.book().is_first_run().await? {
        return Ok(Redirect::to("/sign-in").into_response());
    }
    let refuse = |fault: &str| {
        let page = first_form(&viewer, &entered, Some(fault));
        again(StatusCode::UNPROCESSABLE_ENTITY, page, None)
    };
    let now = desk.now();
    if let Err(wait) = desk.door().attempt(peer, now) {
        let page = first_form(&viewer, &entered, Some(&must_wait(wait)));
        return Ok(again(StatusCode::TOO_MANY_REQUESTS, page, Some(wait)));
    }
    if !desk.door().is_code(&entered.code) {
        return Ok(refuse(
            "That is not the code. Accepted: the sixteen letters and digits that stand on the terminal.",
        ));
    }
    desk.door().right(peer);
    if entered.password != entered.again {
        return Ok(refuse("The two passwords differ. Accepted: the same password twice."));
    }
    let book = desk.book().clone();
    let (name, password, address) = (entered.name.clone(), entered.password.clone(), peer.to_string());
    let made = desk.door().hashing(async move {
        book.make_owner(&name, &password, now).await?;
        book.sign_in(&name, &password, &address, now).await
    });
    match made.await? {
        Ok(session) => {
            tracing::info!(account = session.account.name, "the owner's account was made");
            Ok(([(SET_COOKIE, set_cookie(&desk, &session.token)?)], Redirect::to("/")).into_response())
        }
        Err(error) => Ok(refuse(&told(error)?)),
    }
}

#[cfg(test)]
mod tests {
    use super::safe_way_back;

    #[test]
    fn the_way_back_stays_on_this_desk() {
        for kept in ["/", "/orders/12", "/?search=hay%20truck&state=in-work", "/orders/12#readings"] {
            assert_eq!(safe_way_back(kept), kept);
        }
        for lost in [
            "",
            "orders",
            "//elsewhere.example",
            "/\\elsewhere.example",
            "/\t/elsewhere.example",
            "https://elsewhere.example",
            "javascript:alert(1)",
            "/orders\r\nset-cookie: a=b",
            "/ü",
            "/sign-in?back=/",
            "/sign-out",
        ] {
            assert_eq!(safe_way_back(lost), "/", "{lost:?}");
        }
        assert_eq!(safe_way_back(&format!("/{}", "a".repeat(2_000))), "/");
    }
}
