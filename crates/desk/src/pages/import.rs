//! Orders come in from files: sheets, CSV and XLSX. What would come in is shown before anything is written.

mod incoming;

use axum::extract::{Multipart, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::marks;
use crate::routes::{Routes, Who};
use crate::shell::{self, Place};
use crate::viewer::Viewer;
use crate::words::quoted;

use incoming::{Carried, Incoming};

/// The longest upload, in bytes. An order has 4000; a table of ten thousand fits.
const LONGEST: usize = 48 * 1024 * 1024;

/// Registers the import.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes.get("/orders/import", Who::Desk, form).upload("/orders/import", Who::Desk, LONGEST, preview).upload(
        "/orders/import/save",
        Who::Desk,
        LONGEST,
        save,
    )
}

async fn form(viewer: Viewer) -> Markup {
    page(&viewer, &html! {})
}

fn page(viewer: &Viewer, preview: &Markup) -> Markup {
    let body = html! {
        h1 { "Import orders" }
        (preview)
        form .card method="post" action="/orders/import" enctype="multipart/form-data" {
            div .field {
                label for="files" { "Files" }
                input #files type="file" name="files" multiple required accept=".toml,.csv,.tsv,.txt,.xlsx";
                p .hint { "Order sheets as TOML, one order each; tables as CSV or XLSX, one order a row, the headings in the first row. "
                    "Nothing is written before you have seen what would come in." }
            }
            button .main { "Look at what would come in" }
        }
        section .card {
            h2 { "The headings of a table" }
            p { code { "reference" } ", " code { "customer" } ", " code { "contact" } ", " code { "vehicle" } ", " code { "due" } ", " code { "use" } ", "
                code { "sides" } ", " code { "unit" } ", and a column for each reading as " code { "left overall length" } " or " code { "register diameter" }
                "; beside it " code { "left overall length by" } ", " code { "instrument" } " and " code { "conditions" } " in the same way. "
                "Whatever the form of an order calls a reading does as well, in capitals or not. "
                "Repeats of one reading have semicolons between them." }
        }
        @if viewer.is_one_of(&[book::Role::Owner]) {
            section .card {
                h2 { "Out of the book" }
                p { "Everything that the book holds of every order, as JSON: sheets with every revision, messages, measurements and the log. Photos lie beside their orders." }
                p { a .button href="/export" { "orders.json" } }
            }
        }
    };
    shell::page(viewer, Place::Orders, "Import orders", &body)
}

fn broken(error: &axum::extract::multipart::MultipartError) -> DeskError {
    DeskError::refused(format!("the files cannot be taken in: {}", error.body_text()), "files of at most 48 MB in all")
}

async fn preview(State(desk): State<Desk>, viewer: Viewer, mut form: Multipart) -> Result<Response, DeskError> {
    let mut incoming: Vec<Incoming> = Vec::new();
    while let Some(field) = form.next_field().await.map_err(|error| broken(&error))? {
        let name = field.file_name().unwrap_or_default().to_owned();
        let bytes = field.bytes().await.map_err(|error| broken(&error))?;
        if name.is_empty() && bytes.is_empty() {
            continue;
        }
        let catalog = desk.shop().catalog();
        incoming.extend(desk.printing().work(move || Ok(incoming::read(&name, &bytes, &catalog))).await?);
    }
    if incoming.is_empty() {
        return Err(DeskError::refused(
            "no file was chosen, or the files hold no order",
            "sheets in TOML, tables in CSV or XLSX",
        ));
    }
    incoming::mark_taken(&desk, &mut incoming).await?;
    let threshold = desk.shop().catalog().catalog().settings.thresholds.cut_at;
    let good: Vec<Carried> = incoming.iter().filter_map(Incoming::carried).collect();
    let faulty = incoming.len() - good.len();
    let carried = serde_json::to_string(&good).map_err(|error| DeskError::failed(error.to_string()))?;
    let shown = html! {
        section .card {
            h2 { (good.len()) " can come in" @if faulty > 0 { ", " (faulty) " cannot" } }
            div .scroll tabindex="0" role="group" aria-label="Orders of the files, table" {
                table .incoming {
                    thead { tr { th scope="col" { "From" } th scope="col" { "Reference" } th scope="col" { "Customer" } th scope="col" { "Verdict" } th scope="col" { "Fit" } } }
                    tbody {
                        @for one in &incoming {
                            tr .differs[!one.faults.is_empty()] {
                                // What is wrong stands beside where it stands, so that it is in sight on a phone.
                                td .origin { (one.origin)
                                    @for (problem, accepted) in &one.faults { p .fault { (quoted(problem)) } p .soft { "Accepted: " (quoted(accepted)) } } }
                                th scope="row" { (one.reference()) }
                                td data-label="customer" { @if one.details.customer.is_empty() { "–" } @else { (one.details.customer) } }
                                @match one.reviewed.as_ref().filter(|_| one.faults.is_empty()) {
                                    // A verdict on what stays outside would look as if it came in.
                                    Some(reviewed) => {
                                        td { (marks::verdict(reviewed.review.verdict)) }
                                        td { (marks::fit(reviewed.review.fit_probability.map(|fit| fit.value), threshold, reviewed.review.verdict.into())) }
                                    },
                                    None => { td .soft { "stays outside" } td { "–" } },
                                }
                            }
                        }
                    }
                }
            }
            @if !good.is_empty() {
                form .take-in method="post" action="/orders/import/save" enctype="multipart/form-data" {
                    input type="hidden" name="orders" value=(carried);
                    button .main { "Take " (good.len()) @if good.len() == 1 { " order in" } @else { " orders in" } }
                    @if faulty > 0 { " " span .soft { "Those with faults stay outside; mend them in their file and import it again." } }
                }
            }
        }
    };
    let status = if good.is_empty() { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    Ok((status, page(&viewer, &shown)).into_response())
}

async fn save(State(desk): State<Desk>, viewer: Viewer, mut form: Multipart) -> Result<Response, DeskError> {
    let mut carried: Vec<Carried> = Vec::new();
    while let Some(field) = form.next_field().await.map_err(|error| broken(&error))? {
        if field.name() == Some("orders") {
            let text = field.text().await.map_err(|error| broken(&error))?;
            carried = serde_json::from_str(&text).map_err(|error| {
                DeskError::refused(format!("the orders of the form cannot be read: {error}"), "the form of the preview")
            })?;
        }
    }
    let catalog = desk.shop().catalog();
    let orders = desk.printing().work(move || incoming::to_save(carried, &catalog)).await?;
    if orders.is_empty() {
        return Err(DeskError::refused("no order is to come in", "at least one order"));
    }
    desk.book().import(&orders, &viewer.person(), desk.now()).await?;
    Ok(Redirect::to("/").into_response())
}
