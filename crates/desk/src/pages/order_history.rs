//! The history of an order in one column: revisions, moves, messages, photos, inspections; and every value of every reading.

use std::collections::BTreeMap;

use axum::extract::{Path, Query, State};
use book::{Event, EventKind, OrderLine, ReadingChange, Revision, State as Standing};
use catalog::{Catalog, Measurand};
use maud::{Markup, html};

use super::order_head::Leaf;
use super::order_leaf;
use super::order_move::{Moved, just_moved};
use crate::desk::Desk;
use crate::error::DeskError;
use crate::routes::{Routes, Who};
use crate::viewer::Viewer;
use crate::words::{kept_reading, moment, pin_size, time};

/// Registers the leaf.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes.get("/orders/{number}/history", Who::Readers, leaf)
}

async fn leaf(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Query(moved): Query<Moved>,
) -> Result<Markup, DeskError> {
    let book = desk.book();
    let line = book.order(number).await?.line;
    let revisions = book.revisions(number).await?;
    let changes = book.reading_history(number).await?;
    let events = book.events(number).await?;
    let catalog = desk.shop().catalog();
    let names = Names(catalog.catalog());
    let body = html! {
        (just_moved(&viewer, &line, &moved))
        div .columns.history {
            section {
                h2 { "What happened" }
                (happened(&line, &events, &changes, &names))
            }
            section {
                h2 { "Compare" }
                (revisions_form(&line, &revisions))
                (beside_form(&line))
                @if viewer.works_the_desk() { (second_entry(&line)) }
            }
        }
        section .values {
            h2 { "Every value that every reading had" }
            (values(&changes, &names))
        }
    };
    Ok(order_leaf::page(&desk, &viewer, &line, Leaf::History, &body))
}

/// The names of readings as the catalog words them.
pub(crate) struct Names<'c>(pub &'c Catalog);

impl Names<'_> {
    /// `left overall length`.
    pub fn reading(&self, key: &str, side: &str) -> String {
        let words = Measurand::from_key(key).map_or(key, |measurand| self.0.measurand(measurand).words.as_str());
        if side.is_empty() { words.to_owned() } else { format!("{side} {words}") }
    }
}

fn happened(line: &OrderLine, events: &[Event], changes: &[ReadingChange], names: &Names<'_>) -> Markup {
    html! {
        ol .happened reversed {
            @for event in events.iter().rev() {
                li {
                    p .said { strong { (heading(event)) } " " span .soft { (event.who) ", " (moment(event.at)) } }
                    (particulars(line, event))
                    @if let Some(revision) = revision_of(event) {
                        (changed(revision, changes, names))
                    }
                }
            }
        }
    }
}

fn text<'e>(event: &'e Event, key: &str) -> &'e str {
    event.body.get(key).and_then(|value| value.as_str()).unwrap_or_default()
}

fn state_words(key: &str) -> &str {
    Standing::read(key).map_or(key, |state| state.words())
}

/// The revision that an event wrote.
fn revision_of(event: &Event) -> Option<i64> {
    matches!(event.kind, EventKind::Placed | EventKind::Revised)
        .then(|| event.body.get("revision").and_then(serde_json::Value::as_i64))
        .flatten()
}

fn heading(event: &Event) -> String {
    match event.kind {
        EventKind::Placed => "Taken in, revision 1".to_owned(),
        EventKind::Revised => format!("Revision {}", revision_of(event).unwrap_or_default()),
        EventKind::Moved => format!("{} → {}", state_words(text(event, "from")), state_words(text(event, "to"))),
        EventKind::Message => format!("Message, {}", text(event, "direction")),
        EventKind::Photo => format!("Photo {}", text(event, "name")),
        EventKind::Reviewed => "Reviewed with another catalog".to_owned(),
        EventKind::Inspected => "Measured on the finished shafts".to_owned(),
        other => other.words().to_owned(),
    }
}

fn particulars(line: &OrderLine, event: &Event) -> Markup {
    let reason = text(event, "reason");
    let overruled = event.body.get("overruled").and_then(serde_json::Value::as_bool) == Some(true);
    html! {
        @match event.kind {
            EventKind::Placed | EventKind::Revised => p {
                @if event.kind == EventKind::Revised { q { (reason.trim_end_matches('.')) } ". " }
                "The review said " strong { (text(event, "verdict")) } "."
            },
            EventKind::Moved => {
                @if overruled { p { "The review would ask first. It was overruled: " q { (reason) } } }
                @else if !reason.is_empty() { p { q { (reason) } } }
            },
            EventKind::Message => p {
                @let number = event.body.get("message").and_then(serde_json::Value::as_i64).unwrap_or_default();
                a href={ "/orders/" (line.number) "/messages#message-" (number) } { "Read it" }
            },
            EventKind::Photo => p {
                @let number = event.body.get("photo").and_then(serde_json::Value::as_i64).unwrap_or_default();
                a href={ "/orders/" (line.number) "/photos/" (number) } { "See it" }
                @if !text(event, "caption").is_empty() { " " (text(event, "caption")) }
            },
            EventKind::Inspected => (measured(event)),
            _ => {},
        }
    }
}

fn measured(event: &Event) -> Markup {
    let sizes = event.body.get("sizes").and_then(|sizes| sizes.as_array()).cloned().unwrap_or_default();
    let words = |size: &serde_json::Value, key: &str| {
        size.get(key).and_then(|value| value.as_str()).unwrap_or_default().replace('_', " ")
    };
    html! {
        ul .plain {
            @for size in &sizes {
                @let passed = size.get("passed").and_then(serde_json::Value::as_bool) == Some(true);
                li { (words(size, "side")) " " (words(size, "kind")) " " strong { (words(size, "written")) } ": "
                    @if passed { "within its limits" } @else { strong .fault { "out of its limits" } } }
            }
            @for record in event.body.get("records").and_then(|records| records.as_array()).into_iter().flatten() {
                @let key = record.get("kind").and_then(|kind| kind.as_str()).unwrap_or_default();
                @let kind = book::RecordKind::from_key(key).map_or(key, |kind| kind.words());
                li { (words(record, "side")) " " (kind) " "
                    strong { (record.get("written").and_then(|written| written.as_str()).unwrap_or_default()) }
                    @if let Some(pin) = record.get("pin_mm").and_then(serde_json::Value::as_f64) {
                        " over pins of "
                        (pin_size(quantity::millimetres(pin), !words(record, "written").ends_with("mm")))
                    }
                    @match record.get("passed").and_then(serde_json::Value::as_bool) {
                        Some(true) => ": as it must be",
                        Some(false) => { ": " strong .fault { "not as it must be" } },
                        None => {},
                    }
                }
            }
        }
    }
}

/// The readings that a revision changed. What came in with the first one is the sheet itself.
fn changed(revision: i64, changes: &[ReadingChange], names: &Names<'_>) -> Markup {
    let of: Vec<&ReadingChange> = changes.iter().filter(|change| change.revision == revision).collect();
    html! {
        @if revision == 1 { p .soft { (of.len()) " readings" } }
        @else if of.is_empty() { p .soft { "No reading changed." } }
        @else {
            ul .plain {
                @for change in of {
                    li {
                        (names.reading(&change.measurand, &change.side)) ": "
                        @match (&change.was, &change.becomes) {
                            (Some(was), Some(becomes)) => { del { (kept_reading(was)) } " → " ins { (kept_reading(becomes)) } },
                            (None, Some(becomes)) => { "new, " ins { (kept_reading(becomes)) } },
                            (Some(was), None) => { "taken out, " del { (kept_reading(was)) } },
                            (None, None) => {},
                        }
                    }
                }
            }
        }
    }
}

fn revisions_form(line: &OrderLine, revisions: &[Revision]) -> Markup {
    let last = line.revision;
    html! {
        @if revisions.len() < 2 { p .soft { "There is one revision so far." } }
        @else {
            form .bar.compare method="get" action={ "/orders/" (line.number) "/compare" } {
                @for (name, label, at) in [("from", "Revision", last - 1), ("to", "with", last)] {
                    label { (label) " "
                        select name=(name) {
                            @for one in revisions {
                                option value=(one.revision) selected[one.revision == at] { (one.revision) ", " (one.who) ", " (time(one.at)) }
                            }
                        }
                    }
                }
                button { "Compare" }
            }
        }
    }
}

fn beside_form(line: &OrderLine) -> Markup {
    html! {
        form .bar.compare method="get" action={ "/orders/" (line.number) "/compare" } {
            label { "This order with the order " input name="other" required size="12" placeholder="its reference" autocomplete="off"; }
            button { "Set side by side" }
        }
    }
}

fn second_entry(line: &OrderLine) -> Markup {
    html! {
        p {
            a href={ "/orders/" (line.number) "/second-entry" } { "Enter the paper a second time" } " "
            span .soft { "without seeing what was keyed first; differences are settled against the paper." }
        }
    }
}

/// One row a reading, its values from the first to the last.
fn values(changes: &[ReadingChange], names: &Names<'_>) -> Markup {
    let mut readings: BTreeMap<(&str, &str), Vec<&ReadingChange>> = BTreeMap::new();
    for change in changes {
        readings.entry((&change.measurand, &change.side)).or_default().push(change);
    }
    let mut rows: Vec<_> = readings.into_iter().collect();
    // What changed most stands first; the rest in the order of the sheet.
    rows.sort_by_key(|((key, side), all)| {
        (std::cmp::Reverse(all.len()), Measurand::from_key(key).map_or(usize::MAX, Measurand::index), *side)
    });
    html! {
        div .scroll tabindex="0" role="group" aria-label="Values of the readings, table" {
            table .values {
                thead { tr { th scope="col" { "Reading" } th scope="col" { "Value" } th scope="col" .number { "Revision" } th scope="col" { "Who" } th scope="col" { "Why" } } }
                @for ((key, side), all) in rows {
                    tbody {
                        @for (at, change) in all.iter().enumerate() {
                            tr {
                                @if at == 0 { th scope="rowgroup" rowspan=(all.len()) { (names.reading(key, side)) } }
                                td { @match &change.becomes { Some(becomes) => (kept_reading(becomes)), None => em { "taken out" } } }
                                td .number { (change.revision) }
                                td { (change.who) }
                                td .why { (change.reason) }
                            }
                        }
                    }
                }
            }
        }
    }
}
