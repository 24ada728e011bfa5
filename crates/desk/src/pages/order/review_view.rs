//! What the review says, part by part. Each part has an id, so that it can be put in the place of the one before.

mod asking;
mod proof;
mod sizes;
mod suspicions;

use axle::{PartKind, Review};
use maud::{Markup, html};
use serde_json::json;

use crate::marks;
use crate::words::{percent, unbroken};

use super::screen::Screen;
use super::written::{field_name, reading_name};

pub(super) use proof::{checks, proof};
pub(super) use sizes::{conditions, sizes};
pub(super) use suspicions::suspicions;

use asking::asking;

/// Where the buttons of a part send the form: `/orders/12` or `/orders/new`.
pub(super) type Address<'a> = &'a str;

/// The verdict with the chance of a fit and every reason.
pub(super) fn verdict(screen: &Screen) -> Markup {
    let threshold = screen.catalog.catalog().settings.thresholds.cut_at;
    html! {
        section #verdict class={ "verdict verdict-" (screen.reviewed.as_ref().map_or("none", |reviewed| book::Judgement::from(reviewed.review.verdict).words())) } data-part aria-live="polite" {
            h2 .unseen { "Verdict" }
            @if let Some(reviewed) = &screen.reviewed {
                @let review = &reviewed.review;
                p .outcome {
                    (marks::verdict(review.verdict))
                    (marks::fit(review.fit_probability.map(|fit| fit.value), threshold, review.verdict.into()))
                    @if review.fit_probability.is_some() {
                        span .soft { "chance that the shafts fit the first time" }
                    }
                }
                ul .reasons {
                    @for reason in &review.reasons {
                        (told(reason))
                    }
                }
            } @else if screen.faults.is_empty() {
                p .outcome { strong { "No review yet." } " The answer stands here as soon as the sheet says what it needs to." }
            } @else {
                p .outcome { strong { "No review: the sheet holds faults." } " Each stands beside its field."
                    noscript { " Drawing, sizes and proof come back with the next review, once the faults are mended." } }
            }
            @if !screen.needs.is_empty() {
                p { strong { "Still needed: " }
                    @for (place, need) in screen.needs.iter().enumerate() {
                        @if place > 0 { ", " }
                        a href={ "#" (need.field.as_deref().unwrap_or_default()) } { (need_words(screen, need)) }
                    }
                }
            }
            (unplaced(screen))
        }
    }
}

/// A reason. What speaks for cutting and still has a remedy is a check that stays open, which is no proof: it gets the sign and
/// the word of what is to be asked, and not those of what holds.
fn told(reason: &axle::Reason) -> Markup {
    let open = reason.verdict == axle::Verdict::Cut && reason.remedy.is_some();
    let class = if open { "open" } else { book::Judgement::from(reason.verdict).words() };
    html! {
        li class={ "reason-" (class) } {
            @if open { span .still-open { "open" } " " }
            (unbroken(&reason.words))
            @if let Some(remedy) = &reason.remedy { " " (remedied(remedy)) }
        }
    }
}

/// A remedy, with the way to the questions where it speaks of them.
fn remedied(remedy: &str) -> Markup {
    const QUESTIONS: &str = "The questions below";
    html! {
        span .soft {
            @match remedy.strip_prefix(QUESTIONS) {
                Some(rest) => { a href="#questions" { (QUESTIONS) } (rest) },
                None => (remedy),
            }
        }
    }
}

fn need_words(screen: &Screen, need: &super::entered::FieldFault) -> String {
    need.field
        .as_deref()
        .map_or_else(|| need.problem.clone(), |name| super::fields::called(name, screen.catalog.catalog()))
}

/// The faults in a list: those that have no field with their line, the others with the way to their field.
fn unplaced(screen: &Screen) -> Markup {
    html! {
        @if !screen.faults.is_empty() {
            ul .faults role="alert" {
                @for fault in &screen.faults {
                    li .fault {
                        @match &fault.field {
                            Some(field) => a href={ "#" (field) } { (super::fields::called(field, screen.catalog.catalog())) },
                            None => a href="#text" { "sheet as text" @if let Some(line) = fault.line { ", line " (line) } },
                        }
                        ": " (fault.problem) "." span .accepted { " Accepted: " (fault.accepted) }
                    }
                }
            }
        }
    }
}

pub(super) fn explanations(review: &Review) -> Markup {
    let told = review.explanations.iter().any(|explanation| !explanation.mistakes.is_empty());
    html! {
        @if told || review.explanations.len() > 1 {
            details #explanations {
                summary { "Every explanation of the sheet that is worth naming (" (review.explanations.len()) ")" }
                table {
                    thead { tr { th scope="col" .number { "Likely" } th scope="col" { "What happened" } th scope="col" { "Parts" } } }
                    tbody {
                        @for explanation in &review.explanations {
                            tr {
                                td .number { (percent(explanation.probability)) }
                                td {
                                    @if explanation.mistakes.is_empty() { "Every reading means what it says." }
                                    @for mistake in &explanation.mistakes { p { (unbroken(&mistake.words)) "." } }
                                }
                                td { (explanation.parts.join(", ")) }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// What to ask next, the most helpful first; nothing yet where they were not worked out.
pub(super) fn questions(screen: &Screen, whole: bool, address: Address<'_>, writes: bool) -> Markup {
    html! {
        section #questions data-part data-pending[!whole] data-absent=[screen.absent()] {
            h2 { "What to ask next" }
            @match (&screen.reviewed, whole) {
                (None, _) => p .soft { "Questions follow once the sheet can be reviewed." },
                (Some(_), false) => p .pending {
                    span .soft { "Ranked by how much each would raise the chance of a fit. " }
                    button formaction={ (address) "/review?questions=1" } { "Work the questions out" }
                },
                (Some(reviewed), true) => {
                    @if reviewed.review.questions.is_empty() { p .soft { "Nothing that is worth the effort." } }
                    ol .asks {
                        @for (place, question) in reviewed.review.questions.iter().enumerate() {
                            (ask(screen, place, question, address, writes))
                        }
                    }
                }
            }
        }
    }
}

fn ask(screen: &Screen, place: usize, question: &axle::Question, address: Address<'_>, writes: bool) -> Markup {
    let catalog = screen.catalog.catalog();
    let fields: Vec<String> = question
        .measurand
        .map(|measurand| (measurand, question.side))
        .into_iter()
        .chain(question.with.iter().copied())
        .map(|(measurand, side)| reading_name(side.map_or("shared", axle::Side::words), measurand.key(), 0))
        .collect();
    html! {
        li {
            p { strong { (question.words) } " " (question.how) }
            p .buttons {
                span .number {
                    @if question.required { "needed" } @else { "+" (percent(question.gain)) }
                    ", " (format!("{:.0}", question.effort_minutes)) " min"
                }
                @if writes {
                    @for field in &fields { a .button href={ "#" (field) } data-enter=(field) { "Enter the " (super::fields::called(field, catalog)) } }
                }
            }
            @if writes && address != "/orders/new" {
                (asking(address, &format!("question.{place}"), Some(&question.words), &format!("{} {}", question.words, question.how)))
            }
        }
    }
}

/// The parts that the evidence points to.
pub(super) fn parts(screen: &Screen, address: Address<'_>, writes: bool) -> Markup {
    let identified = screen.reviewed.as_ref().map_or(&[][..], |reviewed| reviewed.review.identified.as_slice());
    html! {
        section #found data-part data-absent=[screen.absent()] {
            @if !identified.is_empty() {
                h2 { "Parts that the readings point to" }
                div .columns {
                    @for part in identified {
                        article .part {
                            h3 { (kind_words(part.kind)) @if !part.decided { span .soft { ", not sure yet" } } }
                            @if let Some(remark) = &part.remark { p { (remark) } }
                            ul .choices {
                                @for candidate in &part.candidates {
                                    @let field = claim(part.kind);
                                    @let claimed = field.as_deref().is_some_and(|field| screen.value(field) == candidate.name);
                                    li {
                                        span .number { (percent(candidate.probability)) } " "
                                        span title=(candidate.source) { (candidate.name) }
                                        @if claimed { span .note { "in the sheet" } }
                                        @if let (Some(field), false, true) = (&field, claimed, writes) {
                                            @let why = format!("{} {} claimed, {} likely by the readings",
                                                kind_words(part.kind).to_lowercase(), candidate.name, percent(candidate.probability));
                                            " " button .quiet formaction={ (address) "/accept" } name="chosen"
                                                value=(json!({ "set": [(field, &candidate.name)], "why": why }))
                                                aria-label={ "Claim " (candidate.name) } { "Claim" }
                                        }
                                    }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn kind_words(kind: PartKind) -> &'static str {
    match kind {
        PartKind::Bearing => "Bearing",
        PartKind::HousingEnd => "Housing end",
        PartKind::Spline => "Spline",
        PartKind::BoltCircle => "Bolt circle",
        PartKind::Stud => "Stud",
    }
}

/// The field in which a part of that kind is claimed.
fn claim(kind: PartKind) -> Option<String> {
    match kind {
        PartKind::Bearing => Some(field_name("bearing", "row")),
        PartKind::HousingEnd => Some(field_name("housing_end", "row")),
        PartKind::Stud => Some(field_name("stud", "thread")),
        PartKind::Spline | PartKind::BoltCircle => None,
    }
}
