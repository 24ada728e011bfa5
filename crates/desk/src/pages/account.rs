//! One's own account: who one is here, and another password.

use axum::Form;
use axum::extract::State;
use axum::http::StatusCode;
use axum::http::header::SET_COOKIE;
use axum::response::{IntoResponse, Redirect, Response};
use book::{Account, Role};
use maud::{Markup, html};
use serde::Deserialize;

use crate::desk::Desk;
use crate::error::DeskError;
use crate::pages::sign_in::{set_cookie, told};
use crate::routes::{Routes, Who};
use crate::shell::{self, Place};
use crate::viewer::{Peer, Through, Viewer};

/// Registers the page.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes.get("/account", Who::Readers, page).post("/account/password", Who::Readers, change)
}

#[derive(Debug, Deserialize)]
struct Passwords {
    #[serde(default)]
    current: String,
    #[serde(default)]
    password: String,
    #[serde(default)]
    again: String,
}

async fn page(viewer: Viewer) -> Markup {
    shown(&viewer, None)
}

/// What somebody with a role does here.
pub(super) fn meaning(role: Role) -> &'static str {
    match role {
        Role::Owner => "everything, accounts and the shop's settings as well",
        Role::Desk => "orders from the first word to the shipment, and the catalog",
        Role::Floor => "makes and measures what was approved",
        Role::ReadOnly => "looks on and changes nothing",
    }
}

fn shown(viewer: &Viewer, fault: Option<&str>) -> Markup {
    let body = html! {
        @if let Some(account) = &viewer.account {
            section .door {
                h1 { (account.name) }
                p { "Role: " strong { (account.role.words()) } ", which " (does(account.role)) "." }
                @if viewer.through == Through::Session {
                    h2 { "Another password" }
                    @if let Some(fault) = fault { p #fault .notice.bad role="alert" { (fault) } }
                    form method="post" action="/account/password" {
                        input type="hidden" name="username" value=(account.name) autocomplete="username";
                        (password("current", "The password until now", "current-password", None))
                        (password("password", "The new password", "new-password",
                            Some("At least 10 characters; a few words in a row are easy to keep in mind.")))
                        (password("again", "The new password again", "new-password", None))
                        p { button .main type="submit" { "Change the password" } }
                    }
                    p .soft { "Wherever else you are signed in, you will be signed out." }
                } @else {
                    p { "Nobody signs in here, so there is no password." }
                }
                @if viewer.is_one_of(&[Role::Owner]) { p { a .button href="/accounts" { "All accounts" } } }
            }
        }
    };
    shell::page(viewer, Place::Settings, "Account", &body)
}

fn does(role: Role) -> String {
    match role {
        Role::Owner => format!("may do {}", meaning(role)),
        Role::Desk => format!("takes care of {}", meaning(role)),
        Role::Floor | Role::ReadOnly => meaning(role).to_owned(),
    }
}

fn password(id: &str, words: &str, autocomplete: &str, hint: Option<&str>) -> Markup {
    html! {
        div .field {
            label for=(id) { (words) }
            input id=(id) name=(id) type="password" autocomplete=(autocomplete) required
                aria-describedby=[hint.map(|_| format!("{id}-hint"))];
            @if let Some(hint) = hint { span .hint id={ (id) "-hint" } { (hint) } }
        }
    }
}

async fn change(
    State(desk): State<Desk>,
    viewer: Viewer,
    Peer(peer): Peer,
    Form(entered): Form<Passwords>,
) -> Result<Response, DeskError> {
    let account = whose(&viewer)?.clone();
    let refuse = |fault: &str| (StatusCode::UNPROCESSABLE_ENTITY, shown(&viewer, Some(fault))).into_response();
    if entered.password != entered.again {
        return Ok(refuse("The two new passwords differ. Accepted: the same password twice."));
    }
    let now = desk.now();
    if let Err(wait) = desk.door().attempt(peer, now) {
        return Ok(refuse(&format!("Too many wrong attempts came from this address. Try again in {wait} s.")));
    }
    let book = desk.book().clone();
    let address = peer.to_string();
    let changed = desk.door().hashing(async move {
        // The password until now is asked for, so that a desk that somebody left open is not theirs to take over.
        book.sign_in(&account.name, &entered.current, &address, now).await?;
        book.set_password(account.number, &entered.password, &account.person(), now).await?;
        book.sign_in(&account.name, &entered.password, &address, now).await
    });
    match changed.await? {
        Ok(session) => {
            desk.door().right(peer);
            Ok(([(SET_COOKIE, set_cookie(&desk, &session.token)?)], Redirect::to("/account")).into_response())
        }
        Err(error) => Ok(refuse(&told(error)?)),
    }
}

/// The account of somebody who has signed in; programs and an open desk have no password to change.
fn whose(viewer: &Viewer) -> Result<&Account, DeskError> {
    match (&viewer.account, viewer.through) {
        (Some(account), Through::Session) => Ok(account),
        _ => Err(DeskError::NotAllowed {
            problem: "there is no password to change".to_owned(),
            accepted: "somebody who has signed in with name and password".to_owned(),
        }),
    }
}
