//! Papers of an order: each singly and all as a packet, on the paper and in the units that are wanted.

mod choice;
mod kept;

use axum::extract::{Path, Query, State};
use axum::response::Response;
use maud::{Markup, html};
use paperwork::{Approval, Found, Job, PAPERS, Paper};
use placed::Date;

use super::order_head::Leaf;
use super::order_leaf::{self, Approved, Printed, ReviewedOrder};
use super::order_move::{Moved, just_moved};
use crate::desk::Desk;
use crate::error::DeskError;
use crate::files::{self, Handing};
use crate::reviewing::Depth;
use crate::routes::{Routes, Who};
use crate::viewer::Viewer;

pub(crate) use choice::{Choice, Chosen};

/// Registers the leaf and its papers.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes.get("/orders/{number}/papers", Who::Readers, leaf).get(
        "/orders/{number}/papers/{paper}",
        Who::Readers,
        paper,
    )
}

/// The name of all papers in one file.
const PACKET: &str = "packet";

async fn leaf(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Query(choice): Query<Choice>,
    Query(moved): Query<Moved>,
) -> Result<Markup, DeskError> {
    let Printed { reviewed, approved, again } = order_leaf::printed(&desk, number, Depth::Whole).await?;
    let chosen = choice.chosen(&reviewed.reviewed.sheet, &desk.shop().papers().details)?;
    let line = &reviewed.order.line;
    let query = chosen.query();
    let base = format!("/orders/{number}");
    let body = html! {
        (just_moved(&viewer, line, &moved))
        (standing(&reviewed, approved.as_ref(), again))
        form .card .choice method="get" action={ (base) "/papers" } {
            (chosen.fields())
            button { "Show these" }
        }
        div .columns {
            section .card {
                h2 { "Papers" }
                p { a .button.main href={ (base) "/papers/" (PACKET) ".pdf?" (query) } data-key="p" { "All as one packet" } " " span .soft { "PDF" } }
                ol .papers {
                    @for paper in PAPERS {
                        li {
                            a href={ (base) "/papers/" (paper.key()) ".pdf?" (query) } { (paper.title()) }
                            span .soft { (purpose(paper)) }
                        }
                    }
                }
            }
            (super::order_drawings::list(&reviewed, &chosen))
        }
        (super::order_drawings::preview(&reviewed, &chosen))
    };
    Ok(order_leaf::page(&desk, &viewer, line, Leaf::Papers, &body))
}

/// Whether the papers may go to the floor, in words.
fn standing(reviewed: &ReviewedOrder, approved: Option<&Approved>, again: bool) -> Markup {
    let line = &reviewed.order.line;
    html! {
        @match (approved, counts(reviewed, approved)) {
            (Some(approved), true) => div .notice {
                p {
                    strong { "Approved for manufacture" } " by " (approved.name) ", revision " (line.revision) "."
                    @if let Some(reason) = &approved.overruling { " The review would ask first; it was overruled: " q { (reason) } }
                }
                @if again {
                    p {
                        "This order is " (line.state) ", and the catalog has changed since it was approved. Papers, drawings and solids \
                         here are those that were approved and made; the sheet shows what the catalog says today."
                    }
                }
            },
            (Some(approved), false) => div .notice.bad role="alert" {
                p {
                    strong { "Not for manufacture. " } "Revision " (line.revision) " was approved by " (approved.name)
                    ", but the catalog has changed since then: its review now says " (verdict_words(reviewed))
                    @if approved.sizes.as_ref().is_some_and(|mark| *mark != reviewed.reviewed.sizes_mark()) {
                        ", and its sizes or their limits are no longer those that were approved"
                    }
                    ". The papers say so on their face."
                }
            },
            (None, _) => div .notice.warn {
                p {
                    strong { "Not for manufacture. " } "Nobody has approved revision " (line.revision)
                    " to cut. Every paper says so on its face until somebody does."
                }
            },
        }
    }
}

fn verdict_words(reviewed: &ReviewedOrder) -> &'static str {
    book::Judgement::from(reviewed.reviewed.review.verdict).words()
}

/// Whether an approval counts with the review as it stands.
pub(crate) fn counts(reviewed: &ReviewedOrder, approved: Option<&Approved>) -> bool {
    order_leaf::counts(&reviewed.reviewed, approved)
}

/// What a paper is for.
fn purpose(paper: Paper) -> &'static str {
    match paper {
        Paper::MeasuringSheet => "what is still to be measured, to be filled in by hand",
        Paper::Confirmation => "what will be made, for the customer to sign",
        Paper::ShopDrawing => "the drawings, with balloons",
        Paper::Traveler => "the operations in order, with sign-off",
        Paper::InspectionReport => "one row a characteristic, with its balloon",
        Paper::Certificate => "material, hardness, crack detection",
        Paper::PartsList => "every part by its dimensions",
        Paper::FittingSheet => "how the shafts are fitted, with the cautions",
        Paper::PackingLabel => "the label of the crate",
    }
}

async fn paper(
    State(desk): State<Desk>,
    Path((number, file)): Path<(i64, String)>,
    Query(choice): Query<Choice>,
) -> Result<Response, DeskError> {
    let key = file.strip_suffix(".pdf").ok_or_else(|| DeskError::none(format!("paper {file}")))?.to_owned();
    let papers: Vec<Paper> = match Paper::from_key(&key) {
        Some(paper) => vec![paper],
        None if key == PACKET => PAPERS.to_vec(),
        None => return Err(DeskError::none(format!("paper {key}"))),
    };
    let Printed { reviewed, approved, again } = order_leaf::printed(&desk, number, Depth::Whole).await?;
    let chosen = choice.chosen(&reviewed.reviewed.sheet, &desk.shop().papers().details)?;
    let name = format!("{}-{key}.pdf", files::stem(&reviewed.order.line.reference));
    let setting = desk.clone();
    let date = today(&desk)?;
    let found = kept::found(&desk, &reviewed).await?;
    let pdf = desk
        .printing()
        .work(move || {
            let shop = setting.shop().papers();
            let press = setting.printing().press(&shop);
            let revision = reviewed.order.line.revision.to_string();
            let mut job = job(&reviewed, &shop.details, date, &revision, &chosen, approved.as_ref(), &found);
            if let Approval::By { name, overruling } = job.approval
                && again
            {
                job.approval = Approval::Made { name, overruling };
            }
            press.press(&job, &papers).map(|pressed| pressed.pdf).map_err(|error| {
                DeskError::refused(
                    error.to_string(),
                    "templates in the shop's folder that can be set, see docs/papers.md",
                )
            })
        })
        .await?;
    Ok(files::file(&name, files::PDF, Handing::Shown, pdf))
}

/// The order as a job for the press.
pub(crate) fn job<'a>(
    reviewed: &'a ReviewedOrder,
    shop: &'a paperwork::ShopDetails,
    date: Date,
    revision: &'a str,
    chosen: &Chosen,
    approved: Option<&'a Approved>,
    found: &'a [Found],
) -> Job<'a> {
    Job {
        sheet: &reviewed.reviewed.sheet,
        review: &reviewed.reviewed.review,
        catalog: reviewed.catalog.catalog(),
        shop,
        date,
        revision,
        page_size: chosen.page_size,
        units: chosen.units,
        approval: approved.map_or(Approval::NotYet, |approved| Approval::By {
            name: &approved.name,
            overruling: approved.overruling.as_deref(),
        }),
        found,
    }
}

/// The date of papers that are set now, in universal time.
pub(crate) fn today(desk: &Desk) -> Result<Date, DeskError> {
    let date = jiff::tz::TimeZone::UTC.to_datetime(desk.now()).date();
    let numbers = (u16::try_from(date.year()), u8::try_from(date.month()), u8::try_from(date.day()));
    match numbers {
        (Ok(year), Ok(month), Ok(day)) => Date::new(year, month, day),
        _ => None,
    }
    .ok_or_else(|| DeskError::failed("the desk's clock tells a date that no paper can carry"))
}
