//! What the leaves of an order share: the order with its review, and the page around a leaf.

use std::sync::Arc;

use book::{EventKind, MarkedCatalog, Order, OrderLine, ReviewedSheet, State};
use maud::{Markup, html};

use super::order_head::{self, Leaf};
use crate::desk::Desk;
use crate::error::DeskError;
use crate::reviewing::Depth;
use crate::shell::{self, Place};
use crate::viewer::Viewer;

/// An order with a fresh review of it.
pub(crate) struct ReviewedOrder {
    /// The order.
    pub order: Order,
    /// Its review.
    pub reviewed: Arc<ReviewedSheet>,
    /// What it was reviewed with.
    pub catalog: Arc<MarkedCatalog>,
}

/// Who approved an order to cut, and against what.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Approved {
    /// Who.
    pub name: String,
    /// The reason with which `ask` was overruled.
    pub overruling: Option<String>,
}

/// Reviews an order as it stands.
///
/// # Errors
///
/// There is no such order, or its sheet can no longer be read with the catalog.
pub(crate) async fn reviewed(desk: &Desk, number: i64, depth: Depth) -> Result<ReviewedOrder, DeskError> {
    let order = desk.book().order(number).await?;
    let catalog = desk.shop().catalog();
    let reviewed = desk.reviewing().review(&order.line.reference, &order.sheet, &catalog, depth).await?;
    Ok(ReviewedOrder { order, reviewed, catalog })
}

/// The approval of the revision that stands; none where there is none.
///
/// # Errors
///
/// The book refuses.
pub(crate) async fn approval(desk: &Desk, line: &OrderLine) -> Result<Option<Approved>, DeskError> {
    if line.approved_revision != Some(line.revision) {
        return Ok(None);
    }
    let events = desk.book().events(line.number).await?;
    let approving = |event: &&book::Event| {
        event.kind == EventKind::Moved && event.body.get("to").and_then(|to| to.as_str()) == Some(State::Approved.key())
    };
    let found = events.iter().rev().find(approving);
    Ok(found.map(|event| Approved { name: event.who.clone(), overruling: line.overruled.clone() }))
}

/// The page of a leaf.
pub(crate) fn page(desk: &Desk, viewer: &Viewer, line: &OrderLine, leaf: Leaf, body: &Markup) -> Markup {
    let threshold = desk.shop().catalog().catalog().settings.thresholds.cut_at;
    let whole = html! {
        (order_head::head(viewer, line, leaf, threshold))
        (body)
    };
    let title = match leaf {
        Leaf::Sheet => line.reference.clone(),
        other => format!("{}: {}", line.reference, other.words()),
    };
    shell::page(viewer, Place::Orders, &title, &whole)
}
