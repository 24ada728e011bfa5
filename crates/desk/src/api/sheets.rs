//! Reviews: of an order, and of a sheet that is not kept.

use axum::Json;
use axum::extract::{Path, State};
use schemars::JsonSchema;
use serde::Serialize;

use super::answer::{Answer, ApiError, Asked, Sent, number};
use super::forms::{ReviewAsked, SheetToReview};
use crate::desk::Desk;
use crate::reviewing::Depth;

/// A review with what it went by.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct Reviewed {
    /// The revision that was reviewed; null where the sheet is of no order.
    pub revision: Option<i64>,
    /// The mark of the catalog that it went by.
    pub catalog_mark: String,
    /// The review, as `axlewright check --format json` prints it.
    pub review: wire::Review,
}

async fn reviewed(desk: &Desk, revision: Option<i64>, name: &str, sheet: &str, questions: bool) -> Answer<Reviewed> {
    let depth = if questions { Depth::Whole } else { Depth::WithoutQuestions };
    let catalog = desk.shop().catalog();
    let found = desk.reviewing().review("sheet", sheet, &catalog, depth).await.map_err(ApiError::from)?;
    let review = wire::review(name, &found.review);
    Ok(Json(Reviewed { revision, catalog_mark: catalog.mark().to_owned(), review }))
}

pub(super) async fn of_order(
    State(desk): State<Desk>,
    Path(order): Path<String>,
    Asked(asked): Asked<ReviewAsked>,
) -> Answer<Reviewed> {
    let order = desk.book().order(number("order", &order)?).await?;
    reviewed(&desk, Some(order.line.revision), &order.line.reference, &order.sheet, asked.questions).await
}

pub(super) async fn of_sheet(State(desk): State<Desk>, Sent(sent): Sent<SheetToReview>) -> Answer<Reviewed> {
    reviewed(&desk, None, "sheet", &sent.sheet, sent.questions).await
}
