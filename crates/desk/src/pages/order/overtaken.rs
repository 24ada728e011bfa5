//! Two people changed one order. What was typed is laid on top of what stands, and both are shown field by field.

use std::collections::BTreeSet;

use book::Order;
use maud::{Markup, html};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::reviewing::Depth;
use crate::words::ago;

use super::entered::Entered;
use super::fields::called;
use super::screen::{Kept, Screen, differences};
use super::written::{Fields, Written};

/// The page with what was typed on top of what stands, and the comparison of both.
///
/// # Errors
///
/// The book refuses, or the catalog makes no sound model.
pub(super) async fn carried_over(
    desk: &Desk,
    order: Order,
    mut entered: Entered,
) -> Result<(Screen, Markup), DeskError> {
    let number = order.line.number;
    let base = desk.book().revision(number, entered.seen).await?;
    let theirs = desk.book().revision(number, order.line.revision).await?;
    entered.stands_on(&base.sheet);
    let contested = entered.contested();
    let own_text = entered.text();
    let (before, own, standing) = (Written::read(&base.sheet), Written::read(&own_text), Written::read(&order.sheet));
    let (before, standing) = (before.unwrap_or_default(), standing.unwrap_or_default());
    let own = own.map(|own| own.fields).unwrap_or_default();
    let mine = differences(&before, &own);
    let their = differences(&before, &standing.fields);
    let names: BTreeSet<&String> = mine.keys().chain(their.keys()).collect();
    let catalog = desk.shop().catalog();
    let notices = html! {
        div .notice.bad role="alert" {
            h2 { "Somebody was first" }
            p { (theirs.who) " wrote revision " (theirs.revision) " " (ago(theirs.at, desk.now())) " ago while you were on revision "
                (entered.seen) ": " (theirs.reason) ". Nothing of yours was written yet. The form below is their revision with what "
                "you changed on top; look at it and save again." }
            div .scroll tabindex="0" role="group" aria-label="Both versions, table" { table {
                thead { tr { th scope="col" { "Field" } th scope="col" { "Revision " (entered.seen) } th scope="col" { "Revision " (theirs.revision) }
                    th scope="col" { "Yours" } } }
                tbody {
                    @for name in names {
                        tr {
                            th scope="row" { a href={ "#" (name) } { (called(name, catalog.catalog())) }
                                @if mine.contains_key(name) && their.contains_key(name) { span .note { "changed by both" } } }
                            td { (field(&before.fields, name)) }
                            td { @if their.contains_key(name) { strong { (field(&standing.fields, name)) } } @else { (field(&standing.fields, name)) } }
                            td { @if mine.contains_key(name) { strong { (field(&own, name)) } } @else { "as it stands" } }
                        }
                    }
                }
            } }
            @for (name, (form, text)) in &contested {
                p { strong { (called(name, catalog.catalog())) } ": the form said " q { (form) } " and the sheet as text " q { (text) }
                    ". The text is taken here; look which of the two is meant." }
            }
            p { a href={ "/orders/" (number) } { "Leave what you typed and look at revision " (theirs.revision) } }
        }
    };
    let mut carried = entered;
    let asked =
        |typed: &str, base: &str, stands: &str| if typed.trim() == base { stands.to_owned() } else { typed.to_owned() };
    let due = |due: Option<jiff::civil::Date>| due.map(|due| due.to_string()).unwrap_or_default();
    carried.customer = asked(&carried.customer, &base.details.customer, &theirs.details.customer);
    carried.contact = asked(&carried.contact, &base.details.contact, &theirs.details.contact);
    carried.vehicle = asked(&carried.vehicle, &base.details.vehicle, &theirs.details.vehicle);
    carried.due = asked(&carried.due, &due(base.details.due), &due(theirs.details.due));
    carried.base = order.sheet.clone();
    carried.seen = order.line.revision;
    carried.text = None;
    carried.fields = mine.into_iter().map(|(name, (_, typed))| (name, typed)).collect();
    let kept = Kept { text: order.sheet, details: order.line.details.clone() };
    let screen = Screen::of(desk, Some(order.line), &kept, carried, Depth::WithoutQuestions).await?;
    Ok((screen, notices))
}

fn field<'f>(fields: &'f Fields, name: &str) -> &'f str {
    fields.get(name).map_or("", String::as_str)
}
