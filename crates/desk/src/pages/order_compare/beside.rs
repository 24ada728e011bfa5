//! An order beside another one: readings, decided sizes and parts.

use axle::{DimensionKind, Review, Side};
use catalog::Catalog;
use maud::{Markup, html};
use quantity::{Leading, LengthExt, both, decimal_inches, millimetres_text};

use super::sign;
use crate::desk::Desk;
use crate::error::DeskError;
use crate::marks;
use crate::pages::order_leaf::{self, ReviewedOrder};
use crate::reviewing::Depth;

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
    html! {
        div .scroll tabindex="0" role="group" aria-label="Both orders, table" {
            table .compared {
                caption { (title) " " span .soft { (differing) " of " (rows.len()) " differ" } }
                thead { tr {
                    th scope="col" { "What" } th scope="col" { span .unseen { "Difference" } }
                    th scope="col" { (own.order.line.reference) } th scope="col" { (others.order.line.reference) }
                    th scope="col" .number { "This one is larger by" }
                } }
                tbody {
                    @for row in rows {
                        tr .differs[row.own != row.others] {
                            th scope="row" { (row.what) }
                            td { (difference(row)) }
                            @for side in [&row.own, &row.others] { td { @match side { Some(words) => (words), None => span .soft { "–" } } } }
                            td .number { @if let Some(by) = &row.by { (by) } }
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
    let (own, others) = (&own.reviewed.review, &others.reviewed.review);
    let mut rows = Vec::new();
    for kind in DimensionKind::all() {
        for side in [None, Some(Side::Left), Some(Side::Right)] {
            let (mine, theirs) = (own.dimension(kind, side), others.dimension(kind, side));
            if mine.is_none() && theirs.is_none() {
                continue;
            }
            let by = mine.zip(theirs).map(|(mine, theirs)| {
                let length = mine.cut - theirs.cut;
                if leading == Leading::Inches { decimal_inches(length, 4) } else { millimetres_text(length, 2) }
            });
            rows.push(Row {
                what: sided(kind.words(), side),
                own: mine.map(|one| both(one.cut, leading)),
                others: theirs.map(|one| both(one.cut, leading)),
                by,
            });
        }
    }
    rows
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

fn readings(own: &ReviewedOrder, others: &ReviewedOrder, catalog: &Catalog) -> Vec<Row> {
    let mut rows = Vec::new();
    let mut left: Vec<_> = others.reviewed.review.readings.iter().collect();
    for mine in &own.reviewed.review.readings {
        let place = left.iter().position(|one| one.measurand == mine.measurand && one.side == mine.side);
        let theirs = place.map(|place| left.remove(place));
        let by = theirs.and_then(|theirs| Some(mine.value? - theirs.value?)).filter(|by| by.millimetres() != 0.0);
        rows.push((
            mine.measurand,
            Row {
                what: sided(&catalog.measurand(mine.measurand).words, mine.side),
                own: Some(mine.written.clone()),
                others: theirs.map(|theirs| theirs.written.clone()),
                by: by.map(|by| decimal_inches(by, 4)),
            },
        ));
    }
    rows.extend(left.into_iter().map(|theirs| {
        let what = sided(&catalog.measurand(theirs.measurand).words, theirs.side);
        (theirs.measurand, Row { what, own: None, others: Some(theirs.written.clone()), by: None })
    }));
    rows.sort_by_key(|(measurand, row)| (measurand.index(), row.what.clone()));
    rows.into_iter().map(|(_, row)| row).collect()
}
