//! Orders: list, take in, read, change, move.

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use book::{Cursor, Details, Judgement, ListRequest, MoveRequest, Sort, State as OrderState};
use jiff::civil::Date;

use super::answer::{Answer, ApiError, Asked, Sent, number};
use super::forms::{AskedMove, ChangedOrder, NewOrder, OrdersAsked};
use super::order_forms::{OrderPage, OrderSummary, OrderWithSheet};
use crate::desk::Desk;
use crate::pages::order_leaf;
use crate::reviewing::Depth;
use crate::viewer::Viewer;

/// The longest page.
const LONGEST_PAGE: usize = 200;

pub(super) async fn list(State(desk): State<Desk>, Asked(asked): Asked<OrdersAsked>) -> Answer<OrderPage> {
    let words = |text: &str| -> Vec<String> {
        text.split(',').map(str::trim).filter(|word| !word.is_empty()).map(str::to_owned).collect()
    };
    let sort = match asked.sort.as_str() {
        "" | "newest" => Sort::Newest,
        "changed" => Sort::LastChanged,
        other => {
            let problem = format!("orders cannot be sorted by {other:?}");
            return Err(ApiError::new(StatusCode::BAD_REQUEST, problem, "newest or changed"));
        }
    };
    let at_most = asked.at_most.unwrap_or(50);
    if !(1..=LONGEST_PAGE).contains(&at_most) {
        let accepted = format!("a whole number from 1 to {LONGEST_PAGE}");
        return Err(ApiError::new(StatusCode::BAD_REQUEST, format!("a page of {at_most} orders"), accepted));
    }
    let states = words(&asked.state).iter().map(|word| OrderState::read(word)).collect::<Result<_, _>>()?;
    let judgements = words(&asked.verdict).iter().map(|word| Judgement::read(word)).collect::<Result<_, _>>()?;
    let after = if asked.from.is_empty() { None } else { Some(Cursor::read(&asked.from)?) };
    let request = ListRequest { search: asked.search, states, judgements, sort, after, at_most };
    Ok(Json(desk.book().list(&request).await?.into()))
}

pub(super) async fn place(
    State(desk): State<Desk>,
    viewer: Viewer,
    Sent(new): Sent<NewOrder>,
) -> Result<(StatusCode, Json<OrderSummary>), ApiError> {
    let catalog = desk.shop().catalog();
    let reviewed = desk.reviewing().review("sheet", &new.sheet, &catalog, Depth::WithoutQuestions).await?;
    let due = new.due.as_deref().map_or(Ok(None), date)?;
    let details = Details { customer: new.customer, contact: new.contact, vehicle: new.vehicle, due };
    let line = desk.book().place(&reviewed, &details, &viewer.person(), desk.now()).await?;
    Ok((StatusCode::CREATED, Json(line.into())))
}

/// A date; none where the text is empty.
fn date(text: &str) -> Result<Option<Date>, ApiError> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    text.parse().map(Some).map_err(|_| {
        let problem = format!("`due` is no date: {text:?}");
        ApiError::new(StatusCode::UNPROCESSABLE_ENTITY, problem, "year, month and day, such as 2026-04-01")
    })
}

pub(super) async fn read(State(desk): State<Desk>, Path(order): Path<String>) -> Answer<OrderWithSheet> {
    Ok(Json(desk.book().order(number("order", &order)?).await?.into()))
}

pub(super) async fn revise(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(order): Path<String>,
    Sent(changed): Sent<ChangedOrder>,
) -> Answer<OrderSummary> {
    let order = desk.book().order(number("order", &order)?).await?;
    let was = order.line.details;
    let details = Details {
        customer: changed.customer.unwrap_or(was.customer),
        contact: changed.contact.unwrap_or(was.contact),
        vehicle: changed.vehicle.unwrap_or(was.vehicle),
        due: changed.due.as_deref().map_or(Ok(was.due), date)?,
    };
    let sheet = changed.sheet.unwrap_or(order.sheet);
    let catalog = desk.shop().catalog();
    let reviewed = desk.reviewing().review("sheet", &sheet, &catalog, Depth::WithoutQuestions).await?;
    let (seen, reason, who) = (changed.seen_revision, changed.reason, viewer.person());
    let line = desk.book().revise(order.line.number, seen, &reviewed, &details, &reason, &who, desk.now()).await?;
    Ok(Json(line.into()))
}

pub(super) async fn move_order(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(order): Path<String>,
    Sent(asked): Sent<AskedMove>,
) -> Answer<OrderSummary> {
    let request = MoveRequest {
        seen_revision: asked.seen_revision,
        from: OrderState::read(&asked.from)?,
        to: OrderState::read(&asked.to)?,
        reason: asked.reason.as_deref(),
    };
    let line = order_leaf::move_order(&desk, &viewer, number("order", &order)?, request, None).await?;
    Ok(Json(line.into()))
}
