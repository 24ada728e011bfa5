//! The tokens of other programs.

use axum::Form;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use book::{Role, Token};
use maud::{Markup, html};
use serde::Deserialize;

use super::{Said, must_have_accounts, refused, roles, shown};
use crate::desk::Desk;
use crate::error::DeskError;
use crate::pages::sign_in::told;
use crate::viewer::Viewer;
use crate::words;

/// The roles that a program may have.
const ROLES: [Role; 3] = [Role::Desk, Role::Floor, Role::ReadOnly];

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct NewToken {
    name: String,
    role: String,
}

/// The part of the page about tokens.
pub(super) fn section(tokens: &[Token], said: &Said, open: bool) -> Markup {
    html! {
        section .card #tokens {
            h2 { "Other programs" }
            p { "A program that takes orders in or reads them sends a token in the header " code { "Authorization: Bearer" }
                ". Give each program its own, so that one can be revoked without the others." }
            @if let Some((name, secret)) = &said.token {
                div .notice role="status" {
                    p { "The token of " strong { (name) } ". Copy it now: it is shown this once, and the book keeps only its digest." }
                    p { code .secret { (secret) } }
                }
            }
            @if !tokens.is_empty() {
                div .scroll tabindex="0" role="group" aria-label="Tokens, table" {
                    table .accounts {
                        thead { tr { th { "Name" } th { "Role" } th { "Made" } th .number { "Last used" } th { "" } } }
                        tbody { @for token in tokens { (row(token)) } }
                    }
                }
            }
            @if !open { (new_token(&said.token_name)) }
        }
    }
}

fn row(token: &Token) -> Markup {
    html! {
        tr {
            th scope="row" { (token.name) }
            td { (token.role.words()) }
            td data-label="made" { (words::time(token.made_at)) " by " (token.made_by) }
            td .number data-label="last used" { @match token.used_on { Some(day) => { (day) } None => { "never" } } }
            td {
                @match token.revoked_at {
                    Some(at) => { span .note { "revoked " (words::time(at)) } }
                    None => {
                        form .inline method="post" action={ "/tokens/" (token.number) "/revoke" } {
                            button .danger { "Revoke" span .unseen { " the token " (token.name) } }
                        }
                    }
                }
            }
        }
    }
}

fn new_token(name: &str) -> Markup {
    html! {
        h3 { "Another token" }
        form .inline.grow method="post" action="/tokens" {
            div .field { label for="token-name" { "Program" }
                input #token-name name="name" value=(name) maxlength="60" autocomplete="off" required; }
            div .field { label for="token-role" { "Role" } select #token-role name="role" { (roles(&ROLES, Role::ReadOnly)) } }
            button .main { "Make the token" }
        }
    }
}

pub(super) async fn make(
    State(desk): State<Desk>,
    viewer: Viewer,
    Form(entered): Form<NewToken>,
) -> Result<Response, DeskError> {
    must_have_accounts(&desk)?;
    let role = Role::read(&entered.role)?;
    match desk.book().make_token(&entered.name, role, &viewer.person(), desk.now()).await {
        Ok((token, secret)) => {
            let said = Said { token: Some((token.name, secret)), ..Said::default() };
            Ok(shown(&desk, &viewer, &said).await?.into_response())
        }
        Err(error) => {
            let said = Said { fault: Some(told(error)?), token_name: entered.name, ..Said::default() };
            refused(&desk, &viewer, said).await
        }
    }
}

pub(super) async fn revoke(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
) -> Result<Response, DeskError> {
    must_have_accounts(&desk)?;
    match desk.book().revoke_token(number, &viewer.person(), desk.now()).await {
        Ok(_) => Ok(Redirect::to("/accounts#tokens").into_response()),
        Err(error) => refused(&desk, &viewer, Said { fault: Some(told(error)?), ..Said::default() }).await,
    }
}
