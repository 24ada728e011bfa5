//! An order beside another one: readings, decided sizes and parts.

use axle::{Dimension, DimensionKind, Reading, ReadingReview, Review, Side};
use catalog::Catalog;
use drawing::{Closeness, Standard, Style, Units};
use maud::{Markup, html};
use paperwork::{closeness, size};
use quantity::{Leading, Length, LengthExt};

use super::sign;
use crate::desk::Desk;
use crate::error::DeskError;
use crate::marks;
use crate::pages::order_leaf::{self, ReviewedOrder};
use crate::reviewing::Depth;
use crate::words::{minus, unbroken};

/// A line of two orders: what it is, what the one says, what the other says, and by how much they differ.
struct Row {
    what: String,
    own: Option<String>,
    others: Option<String>,
    by: Option<String>,
}

/// Both orders.
pub(super) async fn orders(desk: &Desk, number: i64, other: &str) -> Result<Markup, DeskError> {
    let other = desk.book().order_by_reference(other).await?.line.number;
    if other == number {
        return Err(DeskError::refused("this is the same order", "the reference of another order"));
    }
    let own = order_leaf::reviewed(desk, number, Depth::WithoutQuestions).await?;
    let others = order_leaf::reviewed(desk, other, Depth::WithoutQuestions).await?;
    let catalog = own.catalog.catalog();
    Ok(html! {
        div .bar {
            h2 { (own.order.line.reference) " beside " a href={ "/orders/" (other) } { (others.order.line.reference) } }
            (marks::judgement(others.order.line.judgement))
            span .soft { (others.order.line.state.words()) ", " (others.order.line.axle) }
        }
        (table("Decided sizes", &own, &others, &sizes(&own, &others)))
        (table("Parts", &own, &others, &parts(&own.reviewed.review, &others.reviewed.review)))
        (table("Readings", &own, &others, &readings(&own, &others, catalog)))
    })
}

fn table(title: &str, own: &ReviewedOrder, others: &ReviewedOrder, rows: &[Row]) -> Markup {
    let differing = rows.iter().filter(|row| row.own != row.others).count();
    let measured = rows.iter().any(|row| row.by.is_some());
    let names = [&own.order.line.reference, &others.order.line.reference];
    html! {
        div .scroll tabindex="0" role="group" aria-label="Both orders, table" {
            table .compared {
                caption { (title) " " span .soft { (differing) " of " (rows.len()) " differ" } }
                thead { tr {
                    th scope="col" { "What" } th scope="col" { span .unseen { "Difference" } }
                    @for name in names { th scope="col" { (name) } }
                    @if measured { th scope="col" .number { "This one less the other" } }
                } }
                tbody {
                    @for row in rows {
                        tr .differs[row.own != row.others] {
                            th scope="row" { (row.what) }
                            td { (difference(row)) }
                            @for (side, name) in [&row.own, &row.others].into_iter().zip(names) {
                                td data-label=(name) { @match side { Some(words) => (unbroken(words)), None => span .soft { "–" } } }
                            }
                            @if measured { td .number data-label=[row.by.as_ref().map(|_| "this one less the other")] { @if let Some(by) = &row.by { (by) } } }
                        }
                    }
                }
            }
        }
    }
}

fn difference(row: &Row) -> Markup {
    match (&row.own, &row.others) {
        (Some(own), Some(others)) => sign(Some(others), Some(own)),
        (Some(_), None) => html! { strong { "only here" } },
        _ => html! { strong { "only there" } },
    }
}

fn sided(words: &str, side: Option<Side>) -> String {
    side.map_or_else(|| words.to_owned(), |side| format!("{} {words}", side.words()))
}

fn sizes(own: &ReviewedOrder, others: &ReviewedOrder) -> Vec<Row> {
    let leading = axle::leading(&own.reviewed.sheet);
    let standard = if leading == Leading::Inches { Standard::Asme } else { Standard::Iso };
    // As the drawing and the papers write them, so that sizes differ here where they differ there.
    let dual = Style::of(standard, Units::Dual { inches_first: leading == Leading::Inches });
    let (own, others) = (&own.reviewed.review, &others.reviewed.review);
    let mut rows = Vec::new();
    for kind in DimensionKind::all() {
        for side in [None, Some(Side::Left), Some(Side::Right)] {
            let (mine, theirs) = (own.dimension(kind, side), others.dimension(kind, side));
            if mine.is_none() && theirs.is_none() {
                continue;
            }
            let words = |one: &Dimension| size(one.cut, closeness(kind), &dual);
            let (said, said_there) = (mine.map(words), theirs.map(words));
            let by = mine.zip(theirs).filter(|_| said != said_there);
            rows.push(Row {
                what: sided(kind.words(), side),
                by: by.map(|(mine, theirs)| larger_by(mine.cut - theirs.cut, leading)),
                own: said,
                others: said_there,
            });
        }
    }
    rows
}

/// By how much, in the unit that leads in the order whose page this is.
fn larger_by(length: Length, leading: Leading) -> String {
    let style = match leading {
        Leading::Inches => Style::of(Standard::Asme, Units::Inch),
        Leading::Millimetres => Style::of(Standard::Iso, Units::Millimetre),
    };
    minus(&size(length, Closeness::Ground, &style))
}

fn parts(own: &Review, others: &Review) -> Vec<Row> {
    use axle::PartKind as P;
    let kinds = [
        (P::Bearing, "bearing"),
        (P::HousingEnd, "housing end"),
        (P::Spline, "spline"),
        (P::BoltCircle, "bolt circle"),
        (P::Stud, "stud"),
    ];
    let name = |review: &Review, kind: P| {
        let found = review.identified.iter().find(|one| one.kind == kind)?;
        found.candidates.first().map(|candidate| candidate.name.clone())
    };
    kinds
        .into_iter()
        .map(|(kind, words)| Row { what: words.to_owned(), own: name(own, kind), others: name(others, kind), by: None })
        .filter(|row| row.own.is_some() || row.others.is_some())
        .collect()
}

/// The readings of an order, each with what it says with its unit: two sheets may each mean another one by a bare number.
fn with_units(order: &ReviewedOrder) -> Vec<(&ReadingReview, String)> {
    let (sheet, review) = (&order.reviewed.sheet.readings, &order.reviewed.review.readings);
    let is_of = |one: &&Reading, of: &ReadingReview| one.measurand == of.measurand && one.side == of.side;
    let words = |at: usize, of: &ReadingReview| {
        let read = sheet.get(at).filter(|one| is_of(one, of));
        read.map_or_else(|| of.written.clone(), |one| book::value_text(&one.value))
    };
    review.iter().enumerate().map(|(at, one)| (one, words(at, one))).collect()
}

fn readings(own: &ReviewedOrder, others: &ReviewedOrder, catalog: &Catalog) -> Vec<Row> {
    let leading = axle::leading(&own.reviewed.sheet);
    let mut rows = Vec::new();
    let mut left = with_units(others);
    for (mine, words) in with_units(own) {
        let place = left.iter().position(|(one, _)| one.measurand == mine.measurand && one.side == mine.side);
        let theirs = place.map(|place| left.remove(place));
        let by = theirs.as_ref().and_then(|(theirs, _)| Some(mine.value? - theirs.value?));
        rows.push((
            mine.measurand,
            Row {
                what: sided(&catalog.measurand(mine.measurand).words, mine.side),
                own: Some(words),
                others: theirs.map(|(_, words)| words),
                by: by.filter(|by| by.millimetres() != 0.0).map(|by| larger_by(by, leading)),
            },
        ));
    }
    rows.extend(left.into_iter().map(|(theirs, words)| {
        let what = sided(&catalog.measurand(theirs.measurand).words, theirs.side);
        (theirs.measurand, Row { what, own: None, others: Some(words), by: None })
    }));
    rows.sort_by_key(|(measurand, row)| (measurand.index(), row.what.clone()));
    rows.into_iter().map(|(_, row)| row).collect()
}
