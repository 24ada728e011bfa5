//! The list of orders: what needs somebody first, search as one types, filters, saved views.

mod counts;
mod filter;
mod line;
mod waiting;

use axum::extract::{Query, State};
use book::{Cursor, OrderList, Role};
use maud::{Markup, html};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::routes::{Routes, Who};
use crate::shell::{self, Place};
use crate::viewer::Viewer;

use filter::Filter;

/// Registers the list.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes.get("/", Who::Readers, list).post("/views", Who::Readers, keep_view).post(
        "/views/drop",
        Who::Readers,
        drop_view,
    )
}

/// What the list shows where nobody has asked for anything: the first page of each group that waits for somebody.
async fn list(State(desk): State<Desk>, viewer: Viewer, Query(filter): Query<Filter>) -> Result<Markup, DeskError> {
    let mut list = desk.book().list(&filter.request()?).await?;
    let mut groups = Vec::new();
    if filter.is_untouched() {
        list = OrderList { lines: Vec::new(), next: None, cut_short: false };
        for group in waiting::groups(&viewer) {
            groups.push((group, desk.book().list(&group.request()).await?));
        }
    }
    let counts = desk.book().count_by_state().await?;
    let views = desk.book().views(viewer.number()).await?;
    let now = desk.now();
    let threshold = desk.shop().catalog().catalog().settings.thresholds.cut_at;
    let body = html! {
        div .orders {
            div .bar {
                h1 { "Orders" }
                (filter::search_form(&filter))
                @if viewer.works_the_desk() {
                    a .button.main href="/orders/new" data-key="n" { "New order" }
                    a .button href="/orders/import" { "Import" }
                }
                @if viewer.is_one_of(&[Role::Owner]) { a .button href="/export" { "Export" } }
            }
            (counts::chips(&filter, &counts))
            (filter::views(&filter, &views))
            div #list {
                @if list.lines.is_empty() && groups.iter().all(|(_, found)| found.lines.is_empty()) {
                    (nothing(&filter, counts.iter().all(|(_, count)| *count == 0)))
                }
                @for (group, found) in &groups {
                    @if !found.lines.is_empty() {
                        section {
                            div .group { h2 { (group.words) } p .soft { (group.meaning) } }
                            (line::table(&found.lines, threshold, now))
                            @if found.next.is_some() { p .further { a .button href=(group.address()) { "All of these" } } }
                        }
                    }
                }
                @if !list.lines.is_empty() {
                    (line::table(&list.lines, threshold, now))
                    (further(&filter, &list))
                }
            }
        }
    };
    Ok(shell::page(&viewer, Place::Orders, "Orders", &body))
}

/// What an empty list teaches.
fn nothing(filter: &Filter, empty_book: bool) -> Markup {
    html! {
        section .empty {
            @if empty_book {
                h2 { "The book is empty" }
                p { "An order begins with what somebody measured: a pair of worn shafts, a bare housing, a drum. Enter the readings as "
                    "they were written, with the instrument and the hand that took them. What does not agree will be said at once." }
                p { a .button.main href="/orders/new" { "Enter the first order" } " "
                    a .button href="/orders/import" { "Import sheets, CSV or XLSX" } }
            } @else {
                h2 { "No order is like that" }
                p { "The search looks at the beginnings of words in reference, customer, vehicle, axle and parts, and at decided sizes: "
                    code { "shoulder 2.85" } ", " code { "overall left 27.4" } ", " code { "journal 35 mm" } "." }
                @if !filter.is_plain() { p { a .button href="/" { "Show all orders" } } }
            }
        }
    }
}

fn further(filter: &Filter, list: &OrderList) -> Markup {
    let Some(next) = list.next.map(Cursor::text) else { return html! {} };
    html! {
        p .further {
            @if list.cut_short { span { "Not every order has been looked at for this page. " } }
            a .button href=(filter.address_from(&next)) rel="next" { @if list.cut_short { "Look further" } @else { "Older orders" } }
        }
    }
}

async fn keep_view(
    State(desk): State<Desk>,
    viewer: Viewer,
    axum::Form(named): axum::Form<filter::NamedView>,
) -> Result<axum::response::Redirect, DeskError> {
    let view = named.view()?;
    desk.book().keep_view(viewer.number(), &view).await?;
    Ok(axum::response::Redirect::to(&named.filter().address()))
}

async fn drop_view(
    State(desk): State<Desk>,
    viewer: Viewer,
    axum::Form(named): axum::Form<filter::NamedView>,
) -> Result<axum::response::Redirect, DeskError> {
    desk.book().drop_view(viewer.number(), &named.name).await?;
    Ok(axum::response::Redirect::to("/"))
}
