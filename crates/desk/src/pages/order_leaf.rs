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
    /// The mark of the catalog that it was approved with, as far as it is known.
    pub catalog: Option<String>,
    /// Whether what was approved left the shop since.
    pub shipped: bool,
}

/// An order as its papers and drawings show it.
pub(crate) struct Printed {
    /// The order with the review that they follow.
    pub reviewed: ReviewedOrder,
    /// Who approved it.
    pub approved: Option<Approved>,
    /// Whether they follow the review that was approved and not that of the catalog as it stands.
    pub again: bool,
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

/// An order for its papers: reviewed as it stands, but one that was made and shipped as it was approved, whatever became of the
/// catalog since. That is tried only where the catalog was kept at the approval, and holds only where the same sizes come out.
///
/// # Errors
///
/// As for [`reviewed`].
pub(crate) async fn printed(desk: &Desk, number: i64, depth: Depth) -> Result<Printed, DeskError> {
    let order = desk.book().order(number).await?;
    let approved = approval(desk, &order.line).await?;
    if let Some(approved) = approved
        .as_ref()
        .filter(|approved| approved.shipped && matches!(order.line.state, State::Shipped | State::Closed))
        && let Some(reviewed) = as_approved(desk, &order, approved, depth).await?
    {
        return Ok(Printed { reviewed, approved: Some(approved.clone()), again: true });
    }
    Ok(Printed { reviewed: reviewed(desk, number, depth).await?, approved, again: false })
}

/// The order with the review that was approved; none where the catalog is the same, or that review cannot be made any more.
async fn as_approved(
    desk: &Desk,
    order: &Order,
    approved: &Approved,
    depth: Depth,
) -> Result<Option<ReviewedOrder>, DeskError> {
    let Some(mark) = approved.catalog.as_deref().filter(|mark| *mark != desk.shop().catalog().mark()) else {
        return Ok(None);
    };
    let Some(kept) = desk.book().kept_catalog(mark).await? else { return Ok(None) };
    let Ok(catalog) = catalog::Catalog::as_kept(&kept.shipped, &kept.own) else { return Ok(None) };
    let catalog = Arc::new(MarkedCatalog::new(catalog));
    let Ok(reviewed) = desk.reviewing().review(&order.line.reference, &order.sheet, &catalog, depth).await else {
        return Ok(None);
    };
    let the_same = approved.sizes.as_deref() == Some(reviewed.sizes_mark().as_str());
    let found = ReviewedOrder { order: order.clone(), reviewed, catalog };
    Ok(Some(found).filter(|found| the_same && counts(&found.reviewed, Some(approved))))
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
    let moved_to = |event: &book::Event, state: State| {
        event.kind == EventKind::Moved && event.body.get("to").and_then(|to| to.as_str()) == Some(state.key())
    };
    let found = events.iter().rev().find(|event| moved_to(event, State::Approved));
    Ok(found.map(|event| Approved {
        shipped: events.iter().any(|later| later.sequence > event.sequence && moved_to(later, State::Shipped)),
        name: event.who.clone(),
        overruling: line.overruled.clone(),
        sizes: event.body.get("sizes").and_then(|mark| mark.as_str()).map(str::to_owned),
        catalog: event.body.get("catalog").and_then(|mark| mark.as_str()).map(str::to_owned),
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
    let (catalog, texts) = desk.shop().catalog_in_texts();
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
    if request.to == State::Approved {
        desk.book().keep_catalog(&catalog, &texts, &person, now).await?;
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
