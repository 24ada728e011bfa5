//! The owner's page of accounts: who may sign in and as what, the tokens of other programs, and the record of what happened.

mod record;
mod tokens;

use axum::Form;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use book::{Account, Role};
use maud::{Markup, html};
use serde::Deserialize;

use crate::desk::{Access, Desk};
use crate::error::DeskError;
use crate::pages::account::meaning;
use crate::pages::sign_in::told;
use crate::routes::{Routes, Who};
use crate::shell::{self, Place};
use crate::viewer::Viewer;
use crate::words;

/// Registers the page and its forms.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes
        .get("/accounts", Who::Owner, page)
        .post("/accounts", Who::Owner, make)
        .post("/accounts/{number}", Who::Owner, change)
        .post("/accounts/{number}/password", Who::Owner, reset)
        .get("/accounts/record", Who::Owner, record::page)
        .post("/tokens", Who::Owner, tokens::make)
        .post("/tokens/{number}/revoke", Who::Owner, tokens::revoke)
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct NewAccount {
    name: String,
    role: String,
    password: String,
}

#[derive(Debug, Deserialize)]
struct Changed {
    role: String,
    #[serde(default)]
    active: Option<String>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct NewPassword {
    password: String,
}

/// What stands on the page beside what the book holds.
#[derive(Debug, Default)]
struct Said {
    fault: Option<String>,
    done: Option<String>,
    entered: NewAccount,
    token: Option<(String, String)>,
    token_name: String,
}

async fn page(State(desk): State<Desk>, viewer: Viewer) -> Result<Markup, DeskError> {
    shown(&desk, &viewer, &Said::default()).await
}

async fn shown(desk: &Desk, viewer: &Viewer, said: &Said) -> Result<Markup, DeskError> {
    let accounts = desk.book().accounts().await?;
    let tokens = desk.book().tokens(&viewer.person()).await?;
    let open = desk.access() == Access::Open;
    let body = html! {
        div .bar { h1 { "Accounts" } a .button href="/accounts/record" { "Who signed in, what happened" } }
        @if open {
            p .notice.warn { "This desk is open: everybody who reaches it works as its owner, and nobody signs in. Accounts are made on a "
                "desk that is started without " code { "--open" } " on a book of its own." }
        }
        @if let Some(fault) = &said.fault { p .notice.bad role="alert" { (fault) } }
        @if let Some(done) = &said.done { p .notice role="status" { (done) } }
        section .card {
            h2 { "People" }
            div .scroll tabindex="0" role="group" aria-label="People, table" { (table(&accounts, open)) }
            @if !open { (new_account(&said.entered)) }
        }
        (tokens::section(&tokens, said, open))
    };
    Ok(shell::page(viewer, Place::Settings, "Accounts", &body))
}

fn table(accounts: &[Account], open: bool) -> Markup {
    html! {
        table .accounts {
            thead { tr { th { "Name" } th { "Since" } th { (if open { "Role" } else { "Role and sign-in" }) } @if !open { th { "Another password" } } } }
            tbody {
                @for account in accounts {
                    tr {
                        th scope="row" { (account.name) @if !account.active { " " span .note { "may not sign in" } } }
                        td .moment data-label="since" { (words::time(account.created_at)) }
                        @if open {
                            td { (account.role.words()) }
                        } @else {
                            td { (role_form(account)) }
                            td data-label="another password" { (password_form(account)) }
                        }
                    }
                }
            }
        }
    }
}

fn role_form(account: &Account) -> Markup {
    let id = format!("role-{}", account.number);
    html! {
        form .inline method="post" action={ "/accounts/" (account.number) } {
            label .unseen for=(id) { "Role of " (account.name) }
            select id=(id) name="role" { (roles(&Role::ALL, account.role)) }
            label { input type="checkbox" name="active" value="yes" checked[account.active]; " may sign in" }
            button { "Keep" span .unseen { " for " (account.name) } }
        }
    }
}

fn password_form(account: &Account) -> Markup {
    let id = format!("password-{}", account.number);
    html! {
        form .inline method="post" action={ "/accounts/" (account.number) "/password" } {
            label .unseen for=(id) { "Another password for " (account.name) }
            input id=(id) name="password" type="password" autocomplete="new-password" minlength="10" required;
            button { "Set" span .unseen { " for " (account.name) } }
        }
    }
}

/// The options of a choice of roles.
fn roles(all: &[Role], chosen: Role) -> Markup {
    html! {
        @for role in all { option value=(role.words()) selected[*role == chosen] { (role.words()) } }
    }
}

fn new_account(entered: &NewAccount) -> Markup {
    let chosen = Role::read(&entered.role).unwrap_or(Role::Desk);
    html! {
        h3 { "Another account" }
        form .inline.grow method="post" action="/accounts" {
            div .field { label for="new-name" { "Name" }
                input #new-name name="name" value=(entered.name) maxlength="60" autocomplete="off" required; }
            div .field { label for="new-role" { "Role" } select #new-role name="role" { (roles(&Role::ALL, chosen)) } }
            div .field { label for="new-password" { "First password" }
                input #new-password name="password" type="password" autocomplete="new-password" minlength="10" required; }
            button .main { "Make the account" }
        }
        dl .meanings {
            @for role in Role::ALL { dt { (role.words()) } dd { (meaning(role)) } }
        }
    }
}

/// An open desk has no accounts to change: it would no longer be open the next time.
fn must_have_accounts(desk: &Desk) -> Result<(), DeskError> {
    if desk.access() == Access::Open {
        return Err(DeskError::refused(
            "this desk is open, so it has no accounts and no tokens",
            "a desk that is started without --open on a book of its own",
        ));
    }
    Ok(())
}

async fn refused(desk: &Desk, viewer: &Viewer, said: Said) -> Result<Response, DeskError> {
    Ok((StatusCode::UNPROCESSABLE_ENTITY, shown(desk, viewer, &said).await?).into_response())
}

async fn make(
    State(desk): State<Desk>,
    viewer: Viewer,
    Form(entered): Form<NewAccount>,
) -> Result<Response, DeskError> {
    must_have_accounts(&desk)?;
    let role = Role::read(&entered.role)?;
    let (book, who, now) = (desk.book().clone(), viewer.person(), desk.now());
    let (name, password) = (entered.name.clone(), entered.password.clone());
    let made = desk.door().hashing(async move { book.make_account(&name, &password, role, &who, now).await });
    match made.await? {
        Ok(account) => {
            tracing::info!(account = account.name, role = role.words(), "an account was made");
            Ok(Redirect::to("/accounts").into_response())
        }
        Err(error) => refused(&desk, &viewer, Said { fault: Some(told(error)?), entered, ..Said::default() }).await,
    }
}

async fn change(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Form(entered): Form<Changed>,
) -> Result<Response, DeskError> {
    must_have_accounts(&desk)?;
    let (role, active) = (Role::read(&entered.role)?, entered.active.is_some());
    match desk.book().change_account(number, role, active, &viewer.person(), desk.now()).await {
        Ok(_) => Ok(Redirect::to("/accounts").into_response()),
        Err(error) => refused(&desk, &viewer, Said { fault: Some(told(error)?), ..Said::default() }).await,
    }
}

async fn reset(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Form(entered): Form<NewPassword>,
) -> Result<Response, DeskError> {
    must_have_accounts(&desk)?;
    let (book, who, now) = (desk.book().clone(), viewer.person(), desk.now());
    let set = desk.door().hashing(async move { book.set_password(number, &entered.password, &who, now).await });
    match set.await? {
        // Whoever sets their own password here has ended their own session with it.
        Ok(()) if number == viewer.number() => Ok(Redirect::to("/sign-in").into_response()),
        Ok(()) => {
            let done = "The password is set. Whoever was signed in with that account is signed out.".to_owned();
            Ok(shown(&desk, &viewer, &Said { done: Some(done), ..Said::default() }).await?.into_response())
        }
        Err(error) => refused(&desk, &viewer, Said { fault: Some(told(error)?), ..Said::default() }).await,
    }
}
