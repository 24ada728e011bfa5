//! Drawings, solids, the picture of the stresses and the review as JSON, each as a file.

use axle::Side;
use axum::extract::{Path, Query, State};
use axum::response::Response;
use drawing::{Request, StepRequest, StepUnit, View};
use maud::{Markup, html};

use super::order_leaf::{self, Approved, Printed, ReviewedOrder};
use super::order_papers::{self, Choice, Chosen};
use crate::desk::Desk;
use crate::error::DeskError;
use crate::files::{self, Handing};
use crate::reviewing::Depth;
use crate::routes::{Routes, Who};

/// Registers the files.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes
        .get("/orders/{number}/drawing/{file}", Who::Readers, drawn)
        .get("/orders/{number}/solid/{file}", Who::Readers, solid)
        .get("/orders/{number}/stress.svg", Who::Readers, stress)
        .get("/orders/{number}/review.json", Who::Readers, json)
}

/// The views: key, words, which, and whether it is one of each side.
const VIEWS: [(&str, &str, View, bool); 4] = [
    ("shaft", "Shaft", View::Shaft, true),
    ("flange", "Outboard face of the flange", View::Flange, true),
    ("housing", "Shaft in its housing end", View::Housing, true),
    ("pair", "Both shafts with the differential", View::Pair, false),
];

/// The sides that an order wants.
fn sides(reviewed: &ReviewedOrder) -> Vec<Side> {
    let wanted = &reviewed.reviewed.sheet.wanted;
    if wanted.is_empty() { vec![Side::Left] } else { wanted.clone() }
}

/// Every drawing and solid with its files.
pub(crate) fn list(reviewed: &ReviewedOrder, chosen: &Chosen) -> Markup {
    let base = format!("/orders/{}", reviewed.order.line.number);
    let query = chosen.query();
    let sides = sides(reviewed);
    html! {
        section .card {
            h2 { "Drawings and solids" }
            table .files {
                thead { tr { th scope="col" { "What" } th scope="col" { "Side" } th scope="col" { "Files" } } }
                tbody {
                    @for (key, words, _, each) in VIEWS {
                        @for side in sides.iter().take(if each { 2 } else { 1 }) {
                            @let of = format!("{query}&side={}", side.words());
                            tr {
                                th scope="row" { (words) }
                                td { @if each { (side.words()) } @else { "both" } }
                                td {
                                    a href={ (base) "/drawing/" (key) ".svg?" (of) } aria-label={ (words) ", " (side.words()) ", SVG" } { "SVG" } " "
                                    a href={ (base) "/drawing/" (key) ".dxf?" (of) } aria-label={ (words) ", " (side.words()) ", DXF" } { "DXF" }
                                }
                            }
                        }
                    }
                    @for side in &sides {
                        tr {
                            th scope="row" { "Solid of the shaft" }
                            td { (side.words()) }
                            td {
                                a href={ (base) "/solid/" (side.words()) ".step?" (query) } aria-label={ "Solid, " (side.words()) ", STEP" } { "STEP" } " "
                                a href={ (base) "/solid/" (side.words()) ".step?" (query) "&teeth=yes" }
                                    aria-label={ "Solid, " (side.words()) ", STEP with teeth" } { "STEP with teeth" }
                            }
                        }
                    }
                    tr { th scope="row" { "Stress and safety along the shaft" } td {} td { a href={ (base) "/stress.svg" } { "SVG" } } }
                    tr { th scope="row" { "The whole review, for programs" } td {} td { a href={ (base) "/review.json" } { "JSON" } } }
                }
            }
        }
    }
}

/// The drawing of the first shaft, to be looked at before anything is printed.
pub(crate) fn preview(reviewed: &ReviewedOrder, chosen: &Chosen) -> Markup {
    let side = sides(reviewed).first().copied().unwrap_or(Side::Left);
    let number = reviewed.order.line.number;
    let address = format!("/orders/{number}/drawing/shaft.svg?{}&side={}", chosen.query(), side.words());
    html! {
        figure .card .drawn {
            a href=(address) { img src=(address) alt={ "Shop drawing of the " (side.words()) " shaft; its sizes stand in the table of the review" }; }
            figcaption .soft { "Shop drawing of the " (side.words()) " shaft" }
        }
    }
}

/// The side that an address asks for.
fn side_of(reviewed: &ReviewedOrder, word: Option<&str>) -> Result<Side, DeskError> {
    let wanted = sides(reviewed);
    let accepted: Vec<&str> = wanted.iter().map(|side| side.words()).collect();
    match word.filter(|word| !word.is_empty()) {
        None => Ok(wanted.first().copied().unwrap_or(Side::Left)),
        Some(word) => wanted.iter().copied().find(|side| side.words() == word).ok_or_else(|| {
            DeskError::refused(format!("the order wants no shaft on the side `{word}`"), accepted.join(" or "))
        }),
    }
}

async fn drawn(
    State(desk): State<Desk>,
    Path((number, file)): Path<(i64, String)>,
    Query(choice): Query<Choice>,
) -> Result<Response, DeskError> {
    let missing = || DeskError::none(format!("drawing {file}"));
    let (key, ending) = file.split_once('.').ok_or_else(missing)?;
    let view = VIEWS.iter().find(|(known, ..)| *known == key).map(|(_, _, view, _)| *view).ok_or_else(missing)?;
    let (write, media_type, handing): (fn(&drawing::Drawing) -> String, _, _) = match ending {
        "svg" => (drawing::svg, files::SVG, Handing::Shown),
        "dxf" => (drawing::dxf, files::DXF, Handing::Kept),
        _ => return Err(missing()),
    };
    let Printed { reviewed, approved, .. } = order_leaf::printed(&desk, number, Depth::WithoutQuestions).await?;
    let chosen = choice.chosen(&reviewed.reviewed.sheet, &desk.shop().papers().details)?;
    let side = side_of(&reviewed, choice.side.as_deref())?;
    let name = format!("{}-{key}-{}.{ending}", files::stem(&reviewed.order.line.reference), side.words());
    let made = Made::of(&desk, &reviewed, approved.as_ref())?;
    let text = desk
        .printing()
        .work(move || {
            let request = Request {
                view,
                side,
                standard: chosen.standard,
                units: chosen.units,
                date: &made.date,
                revision: &made.revision,
                approved: made.approved,
            };
            Ok(write(&drawing::draw(&reviewed.reviewed.sheet, &reviewed.reviewed.review, &request)))
        })
        .await?;
    Ok(files::file(&name, media_type, handing, text.into_bytes()))
}

/// What stands in the title block of whatever is made.
struct Made {
    date: String,
    revision: String,
    approved: bool,
}

impl Made {
    fn of(desk: &Desk, reviewed: &ReviewedOrder, approved: Option<&Approved>) -> Result<Self, DeskError> {
        let line = &reviewed.order.line;
        let counts = order_papers::counts(reviewed, approved);
        let date = order_papers::today(desk)?.to_string();
        Ok(Self { date, revision: line.revision.to_string(), approved: counts })
    }
}

async fn solid(
    State(desk): State<Desk>,
    Path((number, file)): Path<(i64, String)>,
    Query(choice): Query<Choice>,
) -> Result<Response, DeskError> {
    let word = file.strip_suffix(".step").ok_or_else(|| DeskError::none(format!("solid {file}")))?;
    let Printed { reviewed, approved, .. } = order_leaf::printed(&desk, number, Depth::WithoutQuestions).await?;
    let chosen = choice.chosen(&reviewed.reviewed.sheet, &desk.shop().papers().details)?;
    let side = side_of(&reviewed, Some(word))?;
    let teeth = choice.teeth.as_deref() == Some("yes");
    let ending = if teeth { "-with-teeth" } else { "" };
    let name = format!("{}-shaft-{word}{ending}.step", files::stem(&reviewed.order.line.reference));
    let made = Made::of(&desk, &reviewed, approved.as_ref())?;
    let text = desk
        .printing()
        .work(move || {
            let request = StepRequest {
                side,
                teeth,
                unit: if chosen.units.leads_with_inches() { StepUnit::Inch } else { StepUnit::Millimetre },
                date: Some(&made.date),
                revision: &made.revision,
                approved: made.approved,
            };
            drawing::step(&reviewed.reviewed.review, &request).map(|(text, _)| text).map_err(|refusal| {
                DeskError::refused(refusal.to_string(), "an order from whose sheet the whole shaft is known")
            })
        })
        .await?;
    Ok(files::file(&name, files::STEP, Handing::Kept, text.into_bytes()))
}

async fn stress(State(desk): State<Desk>, Path(number): Path<i64>) -> Result<Response, DeskError> {
    let reviewed = order_leaf::printed(&desk, number, Depth::WithoutQuestions).await?.reviewed;
    let review = &reviewed.reviewed.review;
    let picture = drawing::stress_plot(review, axle::leading(&reviewed.reviewed.sheet)).ok_or_else(|| {
        let mut problem = "the shaft is not known well enough to have stresses".to_owned();
        for one in &review.proof.not_proved {
            problem.push_str(&format!("\n{} needs {}", one.what, one.needs));
        }
        DeskError::refused(problem, "a sheet from which the shaft can be cut")
    })?;
    let name = format!("{}-stress.svg", files::stem(&reviewed.order.line.reference));
    Ok(files::file(&name, files::SVG, Handing::Shown, picture.into_bytes()))
}

async fn json(State(desk): State<Desk>, Path(number): Path<i64>) -> Result<Response, DeskError> {
    let reviewed = order_leaf::printed(&desk, number, Depth::Whole).await?.reviewed;
    let reference = &reviewed.order.line.reference;
    let review = wire::review(reference, &reviewed.reviewed.review);
    let text = wire::Output::Sheet(wire::SheetOutput::Review(Box::new(review)))
        .text()
        .map_err(|error| DeskError::failed(format!("the review cannot be written: {error}")))?;
    Ok(files::file(&format!("{}-review.json", files::stem(reference)), files::JSON, Handing::Shown, text.into_bytes()))
}
