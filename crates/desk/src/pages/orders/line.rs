//! The lines of the list.

use book::{OrderLine, State};
use jiff::Timestamp;
use maud::{Markup, html};

use crate::marks;
use crate::words::{ago, time, unbroken};

/// The lines as a table; on a phone each becomes a card.
pub(super) fn table(lines: &[OrderLine], threshold: f64, now: Timestamp) -> Markup {
    html! {
        table .lines data-rows {
            thead {
                tr {
                    th scope="col" { "Order" }
                    th scope="col" { "Customer and vehicle" }
                    th scope="col" { "Verdict" }
                    th scope="col" { "Fit" }
                    th scope="col" { "Doubt" }
                    th scope="col" { "State" }
                    th scope="col" { "Due" }
                    th scope="col" { "Changed" }
                }
            }
            tbody {
                @for line in lines { (row(line, threshold, now)) }
            }
        }
    }
}

fn row(line: &OrderLine, threshold: f64, now: Timestamp) -> Markup {
    let details = &line.details;
    html! {
        tr {
            th scope="row" { a href={ "/orders/" (line.number) } { (line.reference) } }
            td .its-what {
                @if !details.customer.is_empty() { span .customer { (details.customer) } }
                span .vehicle { @if details.vehicle.is_empty() { (line.axle) } @else { (details.vehicle) } }
            }
            td .its-verdict { (marks::judgement(line.judgement)) }
            td .its-fit { (marks::fit(line.fit, threshold, line.judgement)) }
            td .its-doubt { (unbroken(line.doubt.as_deref().unwrap_or_default())) }
            td .its-state { (state(line)) }
            td .its-due { @if let Some(due) = details.due { (due.to_string()) } }
            td .its-changed { time datetime=(line.changed_at.to_string()) title=(time(line.changed_at)) { (ago(line.changed_at, now)) } }
        }
    }
}

fn state(line: &OrderLine) -> Markup {
    html! {
        (line.state.words())
        @if line.state == State::Approved && line.overruled.is_some() { " " span .note { "overruled" } }
    }
}
