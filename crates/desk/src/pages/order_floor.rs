//! The bench: the operations as on the traveler, each with the sizes that it makes and room for what was measured.

mod bench;
mod limits;
pub(crate) mod records;

use axum::Form;
use axum::extract::{Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use book::{InspectedSize, KeptInspection, OrderLine, State as Standing};
use maud::{Markup, html};
use quantity::read_length;

use super::order_head::{Leaf, moves};
use super::order_leaf::{self, ReviewedOrder};
use super::order_move::{Moved, just_moved};
use super::order_papers::{self, Choice};
use super::order_photos::may_add;
use crate::desk::Desk;
use crate::error::DeskError;
use crate::reviewing::Depth;
use crate::routes::{Routes, Who};
use crate::viewer::Viewer;

use bench::{Bench, Entries, Entry, Typed};
use records::TypedRecord;

/// Registers the leaf.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes.get("/orders/{number}/floor", Who::Readers, leaf).post("/orders/{number}/floor", Who::Floor, write)
}

/// What was typed, by the names of the fields.
type Fields = Vec<(String, String)>;

async fn leaf(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Query(fields): Query<Fields>,
    Query(moved): Query<Moved>,
) -> Result<Markup, DeskError> {
    page(&desk, &viewer, number, &fields, &moved, &html! {}).await
}

async fn page(
    desk: &Desk,
    viewer: &Viewer,
    number: i64,
    fields: &Fields,
    moved: &Moved,
    top: &Markup,
) -> Result<Markup, DeskError> {
    let reviewed = order_leaf::reviewed(desk, number, Depth::WithoutQuestions).await?;
    let line = &reviewed.order.line;
    let entries = Entries {
        sizes: typed(&reviewed, fields),
        records: typed_records(&reviewed, fields),
        kept_sizes: desk.book().inspections(number).await?,
        kept_records: desk.book().work_records(number).await?,
    };
    let approved = order_leaf::approval(desk, line).await?;
    let chosen = Choice::default().chosen(&reviewed.reviewed.sheet, &desk.shop().papers().details)?;
    let shop = desk.shop().papers();
    let revision = line.revision.to_string();
    let date = order_papers::today(desk)?;
    let job = order_papers::job(&reviewed, &shop.details, date, &revision, &chosen, approved.as_ref(), &[]);
    let bench = Bench::of(&job, &entries, line.revision);
    let writes = may_add(viewer) && matches!(line.state, Standing::InWork | Standing::Inspected);
    let body = html! {
        (just_moved(viewer, line, moved))
        (top)
        (standing(line, order_papers::counts(&reviewed, approved.as_ref())))
        @if writes {
            form .bench method="post" action={ "/orders/" (number) "/floor" } data-answer={ "/orders/" (number) "/floor" } {
                input type="hidden" name="revision" value=(line.revision);
                (bench.table(true))
                div .bar.stay { button .main { "Write down what was measured" } (bench.tally()) }
            }
            (inspected(line, viewer))
        } @else {
            div .bench { (bench.table(false)) }
        }
    };
    Ok(order_leaf::page(desk, viewer, line, Leaf::Floor, &body))
}

/// Whether there is anything to make and measure.
fn standing(line: &OrderLine, approved: bool) -> Markup {
    html! {
        @if !approved && !matches!(line.state, Standing::Shipped | Standing::Closed) {
            div .notice.bad.to-the-bench role="alert" {
                p { strong { "Not for manufacture. " } "Revision " (line.revision) " is not approved to cut as it is reviewed now. Make nothing by these sizes." }
            }
        } @else if line.state == Standing::Approved {
            div .notice { p { "Approved to cut. What is measured can be written down once the work has begun." } }
        }
    }
}

/// The end of the bench: the move. How much is measured stands in the bar above it.
fn inspected(line: &OrderLine, viewer: &Viewer) -> Markup {
    let found = line.state.moves().find(|one| one.to == Standing::Inspected);
    html! {
        @if let Some(one) = found.filter(|one| viewer.is_one_of(one.roles)) {
            section .card {
                h2 { "When everything is measured" }
                (moves::form(line, one))
            }
        }
    }
}

/// The name of a field.
fn field_name(kind: axle::DimensionKind, side: Option<axle::Side>) -> String {
    format!("size.{}.{}", kind.key(), side.map_or("both", axle::Side::words))
}

/// What was typed for each dimension: a size, or what is wrong with it.
fn typed(reviewed: &ReviewedOrder, fields: &Fields) -> Vec<Typed> {
    let unit = reviewed.reviewed.sheet.unit.or(Some(quantity::LengthUnit::Inch));
    let of = |name: &str| fields.iter().find(|(known, _)| known == name).map(|(_, text)| text.trim());
    let sheet = &reviewed.reviewed.sheet;
    let places = reviewed.reviewed.review.dimensions.iter();
    places
        .flat_map(|dimension| bench::sides_of(sheet, dimension).into_iter().map(|side| (dimension.kind, side)))
        .filter_map(|(kind, side)| {
            let text = of(&field_name(kind, side)).filter(|text| !text.is_empty())?;
            let entry = match read_length(text, unit) {
                Ok(written) => Entry::Size(written),
                Err(error) => Entry::Fault(error.to_string(), error.accepted()),
            };
            Some(Typed { kind, side, text: text.to_owned(), entry })
        })
        .collect()
}

/// What was typed beside the sizes.
fn typed_records(reviewed: &ReviewedOrder, fields: &Fields) -> Vec<TypedRecord> {
    let of = |name: &str| fields.iter().find(|(known, _)| known == name).map(|(_, text)| text.trim());
    records::typed(&reviewed.reviewed.sheet, &reviewed.reviewed.review, of)
}

async fn write(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(number): Path<i64>,
    Form(fields): Form<Fields>,
) -> Result<Response, DeskError> {
    let revision = fields.iter().find(|(name, _)| name == "revision").and_then(|(_, text)| text.parse::<i64>().ok());
    let revision = revision.ok_or_else(|| DeskError::refused("the form names no revision", "the form of the page"))?;
    let reviewed = order_leaf::reviewed(&desk, number, Depth::WithoutQuestions).await?;
    let (typed, typed_records) = (typed(&reviewed, &fields), typed_records(&reviewed, &fields));
    let again = |words: String| {
        let top = html! { div .notice.bad role="alert" { p .fault { (words) } p { "Nothing was written down yet; what was typed is still here." } } };
        let (desk, viewer, fields) = (desk.clone(), viewer.clone(), fields.clone());
        async move {
            let page = page(&desk, &viewer, number, &fields, &Moved::default(), &top).await?;
            Ok((axum::http::StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
    };
    if typed.is_empty() && typed_records.is_empty() {
        return again("Nothing was entered.".to_owned()).await;
    }
    let mut records = Vec::new();
    for one in typed_records {
        match one.entry {
            Err((problem, _)) => return again(format!("{}, {}: {problem}", one.kind.words(), one.text)).await,
            Ok(record) => records.push(record),
        }
    }
    let mut sizes = Vec::new();
    for one in &typed {
        match &one.entry {
            Entry::Fault(problem, _) => return again(format!("{}: {problem}", one.text)).await,
            Entry::Size(written) => {
                let review = &reviewed.reviewed.review;
                let dimension = review.dimension(one.kind, one.side).or_else(|| review.dimension(one.kind, None));
                let passed = dimension.is_some_and(|limits| limits::judged(limits, written.value()).is_inside());
                sizes.push(InspectedSize { kind: one.kind, side: one.side, written: written.clone(), passed });
            }
        }
    }
    desk.book().inspect(number, revision, &sizes, &records, &viewer.person(), desk.now()).await?;
    Ok(Redirect::to(&format!("/orders/{number}/floor")).into_response())
}

/// Whether a size lies within the limits that the review gives now; as it was judged then where the review has no such dimension.
pub(crate) fn passes(reviewed: &ReviewedOrder, kept: &KeptInspection) -> bool {
    let review = &reviewed.reviewed.review;
    let dimension = review.dimension(kept.kind, kept.side).or_else(|| review.dimension(kept.kind, None));
    dimension.map_or(kept.passed, |limits| limits::judged(limits, kept.size).is_inside())
}

/// The measurements of one dimension on one shaft, the latest first; one that names no shaft is of both.
fn earlier(
    kept: &[KeptInspection],
    kind: axle::DimensionKind,
    side: Option<axle::Side>,
) -> impl Iterator<Item = &KeptInspection> {
    kept.iter().rev().filter(move |one| one.kind == kind && (one.side == side || one.side.is_none()))
}
