//! Photos come in, several at once, and are shown.

use axum::extract::{Multipart, Path, State};
use axum::http::header::{CACHE_CONTROL, CONTENT_SECURITY_POLICY, CONTENT_TYPE, X_CONTENT_TYPE_OPTIONS};
use axum::response::{IntoResponse, Redirect, Response};
use book::{LARGEST_UPLOAD, Photo, Picture, Role};
use maud::{Markup, html};

use super::order_head::Leaf;
use super::{order_leaf, order_messages};
use crate::desk::Desk;
use crate::error::DeskError;
use crate::routes::{Routes, Who};
use crate::viewer::Viewer;
use crate::words::moment;

/// So many photos of the largest size may come at once.
const AT_ONCE: usize = 6;
/// The longest form with photos, in bytes: the photos and what stands around them.
const LONGEST: usize = AT_ONCE * LARGEST_UPLOAD + 64 * 1024;

/// Registers the photos.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes
        .upload("/orders/{number}/photos", Who::Floor, LONGEST, add)
        .get("/orders/{number}/photos/{photo}", Who::Readers, full)
        .get("/orders/{number}/photos/{photo}/picture", Who::Readers, picture)
        .get("/orders/{number}/photos/{photo}/thumbnail", Who::Readers, thumbnail)
}

/// Whether a viewer may add photos and messages.
pub(crate) fn may_add(viewer: &Viewer) -> bool {
    viewer.is_one_of(&[Role::Owner, Role::Desk, Role::Floor])
}

/// The form for photos.
pub(crate) fn form(number: i64) -> Markup {
    html! {
        form .card method="post" action={ "/orders/" (number) "/photos" } enctype="multipart/form-data" {
            h3 { "Add photos" }
            div .field {
                label for="caption" { "What they show" }
                input #caption name="caption" maxlength="2000" autocomplete="off";
            }
            div .field {
                label for="photos" { "Photos" }
                input #photos type="file" name="photos" accept="image/jpeg,image/png,image/webp" multiple required;
                p .hint { "JPEG, PNG or WebP, 20 MB each at most, " (AT_ONCE) " large ones at once. Place, time and camera are taken out of the file." }
            }
            button .main { "Add" }
        }
    }
}

/// A photo of an order; that of another order is not there.
async fn photo_of(desk: &Desk, number: i64, photo: i64) -> Result<Photo, DeskError> {
    let found = desk.book().photo(photo).await?;
    if found.order == number { Ok(found) } else { Err(DeskError::none(format!("photo {photo} of order {number}"))) }
}

async fn add(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    mut form: Multipart,
) -> Result<Response, DeskError> {
    let line = desk.book().order(number).await?.line;
    let mut caption = String::new();
    let mut pictures: Vec<(String, Picture)> = Vec::new();
    let mut faults: Vec<(String, DeskError)> = Vec::new();
    let broken = |error: axum::extract::multipart::MultipartError| {
        DeskError::refused(
            format!("the photos cannot be taken in: {}", error.body_text()),
            format!("photos of at most 20 MB each, {AT_ONCE} of that size at once"),
        )
    };
    while let Some(field) = form.next_field().await.map_err(broken)? {
        if field.name() == Some("caption") {
            caption = field.text().await.map_err(broken)?;
            continue;
        }
        if field.name() != Some("photos") {
            continue;
        }
        let name = field.file_name().unwrap_or_default().to_owned();
        let bytes = field.bytes().await.map_err(broken)?;
        if name.is_empty() && bytes.is_empty() {
            continue;
        }
        match desk.printing().work(move || Ok(Picture::read(&bytes)?)).await {
            Ok(picture) => pictures.push((name, picture)),
            Err(error) => faults.push((name, error)),
        }
    }
    let mut added = 0;
    for (name, picture) in &pictures {
        match desk.book().add_photo(number, picture, name, caption.trim(), &viewer.person(), desk.now()).await {
            Ok(_) => added += 1,
            Err(error) => faults.push((name.clone(), error.into())),
        }
    }
    if faults.is_empty() && added > 0 {
        return Ok(Redirect::to(&format!("/orders/{number}/messages")).into_response());
    }
    if faults.is_empty() {
        faults.push((String::new(), DeskError::refused("no photo was chosen", "one photo or several")));
    }
    let status = faults.first().map_or(axum::http::StatusCode::UNPROCESSABLE_ENTITY, |(_, error)| error.status());
    let words = html! {
        section .notice.bad role="alert" {
            p { strong { @if added > 0 { (added) " came in; these did not:" } @else { "Nothing came in." } } }
            @for (name, error) in &faults {
                @let (problem, accepted) = error.parts();
                p .fault { @if !name.is_empty() { (name) ": " } (problem) }
                @if let Some(accepted) = accepted { p { "Accepted: " (accepted) } }
            }
        }
    };
    Ok((status, order_messages::page_with_faults(&desk, &viewer, &line, &words).await?).into_response())
}

async fn full(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path((number, photo)): Path<(i64, i64)>,
) -> Result<Markup, DeskError> {
    let line = desk.book().order(number).await?.line;
    let photo = photo_of(&desk, number, photo).await?;
    let all = desk.book().photos(number).await?;
    let at = all.iter().position(|one| one.number == photo.number);
    let beside = |step: isize| at.and_then(|at| at.checked_add_signed(step)).and_then(|at| all.get(at));
    let words = if photo.caption.is_empty() { &photo.name } else { &photo.caption };
    let body = html! {
        figure .card .picture {
            img src={ "/orders/" (number) "/photos/" (photo.number) "/picture" } width=(photo.width) height=(photo.height) alt=(words);
            figcaption {
                p { strong { (words) } }
                p .soft { (photo.name) ", " (photo.width) " by " (photo.height) " pixels, from " (photo.who) ", " (moment(photo.at)) }
            }
        }
        nav .bar aria-label="Photos" {
            @if let Some(one) = beside(-1) { a .button rel="prev" href={ "/orders/" (number) "/photos/" (one.number) } { "The one before" } }
            @if let Some(one) = beside(1) { a .button rel="next" href={ "/orders/" (number) "/photos/" (one.number) } { "The next" } }
            a .button href={ "/orders/" (number) "/messages" } { "All photos" }
        }
    };
    Ok(order_leaf::page(&desk, &viewer, &line, Leaf::Messages, &body))
}

async fn picture(State(desk): State<Desk>, Path((number, photo)): Path<(i64, i64)>) -> Result<Response, DeskError> {
    let photo = photo_of(&desk, number, photo).await?;
    let bytes = desk.book().photo_picture(photo.number).await?;
    Ok(bytes_of(if photo.media_type == "image/png" { "image/png" } else { "image/jpeg" }, bytes))
}

async fn thumbnail(State(desk): State<Desk>, Path((number, photo)): Path<(i64, i64)>) -> Result<Response, DeskError> {
    let photo = photo_of(&desk, number, photo).await?;
    Ok(bytes_of("image/jpeg", desk.book().photo_thumbnail(photo.number).await?))
}

/// A picture is never changed, so a browser may keep it; nothing in it may run.
fn bytes_of(media_type: &'static str, bytes: Vec<u8>) -> Response {
    let headers = [
        (CONTENT_TYPE, media_type),
        (X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (CONTENT_SECURITY_POLICY, "default-src 'none'; sandbox"),
        (CACHE_CONTROL, "private, max-age=31536000, immutable"),
    ];
    (headers, bytes).into_response()
}
