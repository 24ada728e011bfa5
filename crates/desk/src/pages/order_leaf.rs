//! What the leaves of an order share: the order with its review, and the page around a leaf.

use std::sync::Arc;

use book::{EventKind, Judgement, MarkedCatalog, MoveRequest, Need, Order, OrderLine, ReviewedSheet, State};
use maud::{Markup, html};

use super::order_head::{self, Leaf};
use crate::desk::Desk;
use crate::error::DeskError;
use crate::reviewing::Depth;
use crate::shell::{self, Place};
use crate::viewer::{Through, Viewer};

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
    /// The mark of the sizes that were approved; none where the approval came from elsewhere.
    pub sizes: Option<String>,
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
    Ok(found.map(|event| Approved {
        name: event.who.clone(),
        overruling: line.overruled.clone(),
        sizes: event.body.get("sizes").and_then(|mark| mark.as_str()).map(str::to_owned),
    }))
}

/// Whether an approval counts with a review as it stands: the verdict carries it, and the sizes are those that were approved.
pub(crate) fn counts(reviewed: &ReviewedSheet, approved: Option<&Approved>) -> bool {
    approved.is_some_and(|approved| {
        let same_sizes = approved.sizes.as_ref().is_none_or(|mark| *mark == reviewed.sizes_mark());
        let carried = match reviewed.review.verdict {
            axle::Verdict::Cut => true,
            axle::Verdict::Ask => approved.overruling.is_some(),
            axle::Verdict::Stop => false,
        };
        same_sizes && carried
    })
}

/// Moves an order by a review that is made of it now. Approving for manufacture is for people: no program may.
///
/// # Errors
///
/// As for `Book::move_reviewed`; the verdict is no longer the one that was seen.
pub(crate) async fn move_order(
    desk: &Desk,
    viewer: &Viewer,
    number: i64,
    request: MoveRequest<'_>,
    seen: Option<&str>,
) -> Result<OrderLine, DeskError> {
    let (person, now) = (viewer.person(), desk.now());
    let needs = request.from.moves().find(|one| one.to == request.to).map(|one| one.needs);
    if !matches!(needs, Some(Need::Verdict | Need::NoStop | Need::Measured)) {
        return Ok(desk.book().move_order(number, request, &person, now).await?);
    }
    if needs == Some(Need::Verdict) && viewer.through == Through::Token {
        return Err(DeskError::NotAllowed {
            problem: "a program may not approve an order to cut".to_owned(),
            accepted: "a person who has looked at the review".to_owned(),
        });
    }
    let order = desk.book().order(number).await?;
    let catalog = desk.shop().catalog();
    let name = order.line.reference.clone();
    let reviewed = desk.reviewing().review(&name, &order.sheet, &catalog, Depth::WithoutQuestions).await?;
    let judgement = Judgement::from(reviewed.review.verdict);
    if seen.is_some_and(|seen| seen != judgement.words()) {
        return Err(DeskError::Changed {
            problem: format!(
                "the review of order {name} says {} by now, and said {} when this was asked",
                judgement.words(),
                seen.unwrap_or_default()
            ),
            accepted: "another look at the order".to_owned(),
        });
    }
    Ok(desk.book().move_reviewed(number, request, &reviewed, &person, now).await?)
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
