//! Whether the shafts carry their load, and the checks.

use axle::{CAUTIONS, Outcome};
use maud::{Markup, html};

use crate::pages::order::screen::Screen;
use crate::words::unbroken;

/// The proof of strength.
pub(in crate::pages::order) fn proof(screen: &Screen) -> Markup {
    html! {
        section #proof data-part data-absent=[screen.absent()] {
            @if let Some(reviewed) = &screen.reviewed {
                @let proof = &reviewed.review.proof;
                h2 { "Proof of strength" }
                @if !proof.checks.is_empty() {
                    div .scroll tabindex="0" role="group" aria-label="Proof of strength, table" { table .proof {
                        thead { tr {
                            th scope="col" { "Check" } th scope="col" { "Outcome" } th scope="col" .number { "Safety, harsh to mild" }
                            th scope="col" .number { "Needed" } th scope="col" { "Where, and what would help" }
                        } }
                        tbody {
                            @for check in &proof.checks {
                                tr {
                                    th scope="row" { (check.words) }
                                    td { (outcome(check.outcome)) }
                                    td .number { (two(check.safety.harsh)) " to " (two(check.safety.mild)) }
                                    td .number { (two(check.required)) }
                                    td { (unbroken(&check.detail)) @if check.outcome != Outcome::Holds { ". " strong { (unbroken(&check.remedy)) } }
                                        span .soft { " (" (unbroken(&check.source)) ")" } }
                                }
                            }
                        }
                    } }
                    p { a href="#drawing" data-view="stress" { "Stress and safety along the shaft, as a picture" } }
                }
                @if !proof.sensitivity.is_empty() {
                    p { "What moves the weakest safety most"
                        @if let Some(weakest) = proof.checks.first() { ", that of \"" (weakest.words) "\" against the " (two(weakest.required)) " it needs" }
                        ": "
                        @for (place, one) in proof.sensitivity.iter().enumerate() {
                            @if place > 0 { "; " } (unbroken(&one.words)) ", " (two(one.from)) " to " (two(one.to))
                        } "." }
                }
                @if !proof.figures.is_empty() {
                    h3 { "Also worked out" }
                    ul .figures { @for figure in &proof.figures { li { (unbroken(&figure.words)) span .soft { " (" (unbroken(&figure.source)) ")" } } } }
                }
                @if !proof.not_proved.is_empty() {
                    h3 { "Not proved" }
                    ul .figures { @for open in &proof.not_proved { li { strong { (open.what) } ": needs " (unbroken(&open.needs)) } } }
                }
                @if !proof.assumed.is_empty() {
                    details #assumed {
                        summary { "Assumed, because the sheet does not say (" (proof.assumed.len()) ")" }
                        table {
                            thead { tr { th scope="col" { "What" } th scope="col" { "Mild" } th scope="col" { "Harsh" } th scope="col" { "From" } } }
                            tbody { @for one in &proof.assumed {
                                tr { th scope="row" { (one.words) } td .number { (one.mild) } td .number { (one.harsh) } td .soft { (one.source) } }
                            } }
                        }
                    }
                }
            }
        }
    }
}

fn outcome(outcome: Outcome) -> Markup {
    let (class, words) = match outcome {
        Outcome::Holds => ("holds", "holds"),
        Outcome::Unconfirmed => ("open", "open inputs decide"),
        Outcome::Fails => ("fails", "fails"),
    };
    html! { span class={ "outcome-" (class) } { (words) } }
}

/// Cut off and not rounded, so that 1.499 does not pass for 1.5.
fn two(number: f64) -> String {
    format!("{:.2}", (number * 100.0).floor() / 100.0)
}

/// The classical tests, the checks of parts against each other, and the cautions.
pub(in crate::pages::order) fn checks(screen: &Screen) -> Markup {
    html! {
        section #checks data-part data-absent=[screen.absent()] {
            @if let Some(reviewed) = screen.reviewed.as_ref().filter(|reviewed| !reviewed.review.checks.is_empty()) {
                h2 { "Checks" }
                ul .checks {
                    @for check in &reviewed.review.checks {
                        li .passed[check.passed] .failed[!check.passed] {
                            span .sign { @if check.passed { "passed" } @else { "not passed" } } " "
                            div { (unbroken(&check.words))
                            @if let (Some(statistic), Some(limit)) = (check.statistic, check.limit) {
                                span .number { " " (two(statistic)) " of " (two(limit)) }
                            }
                            span .soft { " (" (unbroken(&check.source)) ")" } }
                        }
                    }
                }
            }
            h2 { "Cautions" }
            ul .cautions { @for caution in CAUTIONS { li { (caution) } } }
        }
    }
}
