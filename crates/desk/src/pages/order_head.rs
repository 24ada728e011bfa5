//! The head of every page of one order: what it is, where it stands, the way to its other leaves, and where it may go from here.

pub(crate) mod moves;

use book::OrderLine;
use maud::{Markup, html};

use crate::marks;
use crate::viewer::Viewer;

/// A leaf of an order: one page of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Leaf {
    /// The readings beside the drawing.
    Sheet,
    /// Papers, drawings and solids.
    Papers,
    /// Revisions, moves, values of readings.
    History,
    /// What was written and sent.
    Messages,
    /// What the floor measured.
    Floor,
}

impl Leaf {
    /// What it is called.
    pub(crate) fn words(self) -> &'static str {
        LEAVES.iter().find(|(leaf, _, _)| *leaf == self).map_or("", |(_, _, words)| words)
    }
}

/// The leaves: which, the end of the address, words.
const LEAVES: [(Leaf, &str, &str); 5] = [
    (Leaf::Sheet, "", "Sheet and review"),
    (Leaf::Papers, "/papers", "Papers"),
    (Leaf::History, "/history", "History"),
    (Leaf::Messages, "/messages", "Messages and photos"),
    (Leaf::Floor, "/floor", "Floor"),
];

/// The head of a page of an order.
pub(crate) fn head(viewer: &Viewer, line: &OrderLine, leaf: Leaf, threshold: f64) -> Markup {
    let details = &line.details;
    html! {
        header .order-head {
            div .bar {
                h1 { (line.reference) }
                span .soft { @if details.vehicle.is_empty() { (line.axle) } @else { (details.vehicle) } }
                @if !details.customer.is_empty() { span { (details.customer) } }
                (marks::judgement(line.judgement))
                (marks::fit(line.fit, threshold, line.judgement))
                span .state { (line.state.words()) }
                span .soft { "revision " (line.revision) }
            }
            (moves::forms(viewer, line))
            nav .leaves aria-label={ "Order " (line.reference) } {
                ul {
                    @for (which, end, words) in LEAVES {
                        li {
                            a href={ "/orders/" (line.number) (end) } aria-current=[(which == leaf).then_some("page")] { (words) }
                        }
                    }
                }
            }
        }
    }
}
