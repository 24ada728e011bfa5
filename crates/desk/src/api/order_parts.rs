//! What belongs to an order: messages, photos, inspections, history.

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use book::Direction;

use super::answer::{Answer, ApiError, Sent, number};
use super::forms::NewMessage;
use super::order_forms::{History, MessageWritten, PhotoKept, RecordWritten, SizeInspected};
use crate::desk::Desk;
use crate::viewer::Viewer;

/// The number of an order that is there.
async fn known(desk: &Desk, text: &str) -> Result<i64, ApiError> {
    Ok(desk.book().order(number("order", text)?).await?.line.number)
}

pub(super) async fn messages(State(desk): State<Desk>, Path(order): Path<String>) -> Answer<Vec<MessageWritten>> {
    let order = known(&desk, &order).await?;
    Ok(Json(desk.book().messages(order).await?.into_iter().map(MessageWritten::from).collect()))
}

pub(super) async fn write_message(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(order): Path<String>,
    Sent(new): Sent<NewMessage>,
) -> Result<(StatusCode, Json<MessageWritten>), ApiError> {
    let order = number("order", &order)?;
    let direction = Direction::read(&new.direction)?;
    let written = desk.book().write_message(order, direction, &new.words, &viewer.person(), desk.now()).await?;
    Ok((StatusCode::CREATED, Json(written.into())))
}

pub(super) async fn photos(State(desk): State<Desk>, Path(order): Path<String>) -> Answer<Vec<PhotoKept>> {
    let order = known(&desk, &order).await?;
    Ok(Json(desk.book().photos(order).await?.into_iter().map(PhotoKept::from).collect()))
}

pub(super) async fn inspections(State(desk): State<Desk>, Path(order): Path<String>) -> Answer<Vec<SizeInspected>> {
    let order = known(&desk, &order).await?;
    Ok(Json(desk.book().inspections(order).await?.into_iter().map(SizeInspected::from).collect()))
}

pub(super) async fn records(State(desk): State<Desk>, Path(order): Path<String>) -> Answer<Vec<RecordWritten>> {
    let order = known(&desk, &order).await?;
    Ok(Json(desk.book().work_records(order).await?.into_iter().map(RecordWritten::from).collect()))
}

pub(super) async fn history(State(desk): State<Desk>, Path(order): Path<String>) -> Answer<History> {
    let order = known(&desk, &order).await?;
    let book = desk.book();
    Ok(Json(History {
        revisions: book.revisions(order).await?.into_iter().map(Into::into).collect(),
        readings: book.reading_history(order).await?.into_iter().map(Into::into).collect(),
        events: book.events(order).await?.into_iter().map(Into::into).collect(),
    }))
}
