//! The calculations alone, filled in as forms. What is filled in stands in the address, so that a result can be shared.

mod form;
mod outcome;

use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use calculation::{CALCULATORS, Calculator, Fields, Refusals, calculator};
use maud::{Markup, html};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::routes::{Routes, Who};
use crate::shell::{self, Place, query_encoded};
use crate::viewer::Viewer;

/// Registers the calculators.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes.get("/calculators", Who::Readers, overview).get("/calculators/{key}", Who::Readers, one)
}

/// What each calculation is for.
async fn overview(viewer: Viewer) -> Markup {
    let body = html! {
        h1 { "Calculators" }
        p .soft { "Each says what standard or handbook it follows, and gives inches and millimetres side by side. The command line "
            "computes the same." }
        ul .calculators {
            @for calculator in &CALCULATORS {
                li .card {
                    h2 { a href={ "/calculators/" (calculator.key) } { (calculator.title) } }
                    p { (calculator.purpose) }
                    ul .examples {
                        @for example in calculator.examples().iter().take(3) {
                            li { a href=(address(calculator, &example.fields)) { (example.words) } }
                        }
                    }
                }
            }
        }
    };
    shell::page(&viewer, Place::Calculators, "Calculators", &body)
}

/// One calculation with what was filled in.
async fn one(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(key): Path<String>,
    Query(fields): Query<Fields>,
) -> Result<Response, DeskError> {
    let calculator = calculator(&key).ok_or_else(|| DeskError::none(format!("calculator {key}")))?;
    let marked = desk.shop().catalog();
    let catalog = marked.catalog();
    let filled = fields.iter().any(|(_, text)| !text.trim().is_empty());
    let outcome = filled.then(|| calculator.compute(&fields, catalog));
    let refusals = match &outcome {
        Some(Err(refusals)) => Some(refusals),
        _ => None,
    };
    let body = html! {
        div .bar {
            h1 { (calculator.title) }
            nav .leaves-row aria-label="Calculators" {
                ul {
                    @for other in &CALCULATORS {
                        li { a href={ "/calculators/" (other.key) } aria-current=[(other.key == key).then_some("page")] { (other.title) } }
                    }
                }
            }
        }
        p { (calculator.purpose) }
        @if filled { p .to-result { a .button href="#outcome" { "To the result" } } }
        div .calculator {
            (form::form(calculator, &fields, refusals, catalog))
            section #outcome aria-label="Result" {
                @match &outcome {
                    None => (examples(calculator)),
                    Some(Ok(calculation)) => (outcome::calculation(calculator, calculation)),
                    Some(Err(refusals)) => (summary(calculator, refusals)),
                }
            }
        }
    };
    let status = if refusals.is_some() { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    Ok((status, shell::page(&viewer, Place::Calculators, calculator.title, &body)).into_response())
}

/// What stands where nothing has been filled in yet.
fn examples(calculator: &Calculator) -> Markup {
    html! {
        div .empty {
            h2 { "An example to begin with" }
            p { "Fill in what is known. Whatever may be left out is taken as the standard has it, and the result says what was taken." }
            ul .examples {
                @for example in calculator.examples() {
                    li {
                        a href=(address(calculator, &example.fields)) { (example.words) }
                        br;
                        code .soft { (command_line(&example.command_line)) }
                    }
                }
            }
        }
    }
}

/// A command line that breaks between its options and nowhere within one.
fn command_line(line: &str) -> Markup {
    let mut parts: Vec<String> = Vec::new();
    for word in line.split_whitespace() {
        match parts.last_mut() {
            Some(last) if last.starts_with("--") && !word.starts_with("--") => last.push_str(&format!(" {word}")),
            _ => parts.push(word.to_owned()),
        }
    }
    html! { @for (at, part) in parts.iter().enumerate() { @if at > 0 { " " } span .whole { (part) } } }
}

/// What is missing and what cannot be used, in one place; each also stands beside its field.
fn summary(calculator: &Calculator, refusals: &Refusals) -> Markup {
    let (missing, wrong): (Vec<_>, Vec<_>) = refusals.iter().partition(|refusal| refusal.text.is_empty());
    html! {
        div .notice.bad[!wrong.is_empty()].warn[wrong.is_empty()] role="alert" {
            h2 { @if wrong.is_empty() { "Not enough yet" } @else { "This cannot be used" } }
            ul {
                @for refusal in wrong.iter().chain(&missing) {
                    li {
                        @match calculator.field_of(&refusal.argument) {
                            Some(field) => a href={ "#" (field) } { (calculator.in_labels(&refusal.argument)) },
                            None => (calculator.in_labels(&refusal.argument)),
                        }
                        ": " (calculator.in_labels(&refusal.problem))
                        @if !refusal.accepted.is_empty() { br; span .soft { "accepted: " (calculator.in_labels(&refusal.accepted)) } }
                    }
                }
            }
        }
    }
}

/// The address of a calculation with its fields.
fn address(calculator: &Calculator, fields: &Fields) -> String {
    let parts: Vec<String> = fields.iter().map(|(id, text)| format!("{id}={}", query_encoded(text))).collect();
    format!("/calculators/{}?{}", calculator.key, parts.join("&"))
}
