//! The two pages of a second entry: the blind form, and the differences that the paper decides.

use maud::{Markup, html};

use super::decided::Decision;
use super::paper::{Paper, Since, Slot};
use super::{Compared, Fields, field_name, of};
use crate::desk::{Access, Desk};
use crate::pages::order_head::Leaf;
use crate::pages::order_leaf::{self, ReviewedOrder};
use crate::viewer::Viewer;
use crate::words::moment;

/// The form with names and units alone, and with what was typed and is faulty.
pub(super) fn blank(
    desk: &Desk,
    viewer: &Viewer,
    reviewed: &ReviewedOrder,
    paper: &Paper,
    fields: &Fields,
    faults: &[(usize, String)],
) -> Markup {
    let line = &reviewed.order.line;
    let unit = paper.unit.map_or_else(
        || "each size needs its unit".to_owned(),
        |unit| format!("the unit is the {} where none is written", unit.name()),
    );
    let body = html! {
        section .second-entry {
            h2 { "Enter the paper a second time" }
            @if desk.access() == Access::Open {
                div .notice.warn { p { strong { "This desk is open" } ", so it cannot tell who keyed first. Let somebody else key this, from the paper and not from the screen." } }
            }
            @if !faults.is_empty() { div .notice.bad role="alert" { p .fault { (faults.len()) " of the readings cannot be read; they are marked below." } } }
            p { "The paper is the one that " strong { (paper.revision.who) } " keyed with revision " (paper.revision.revision) ", "
                (moment(paper.revision.at)) ". What is keyed here is held against that, whatever was changed later." }
            (others(line.number, paper))
            p { "Key what stands on the paper, as it stands there; " (unit) ". What was keyed first is not shown. Leave a reading empty that the paper does not have. "
                "Repeats of one reading have commas or semicolons between them." }
            form .card method="post" action={ "/orders/" (line.number) "/second-entry" } autocomplete="off" {
                input type="hidden" name="revision" value=(line.revision);
                input type="hidden" name="keyed" value=(paper.revision.revision);
                div .keyed {
                    @for at in paper.as_on_the_form() {
                        @let (slot, name) = (&paper.slots[at], field_name(at));
                        @let fault = faults.iter().find(|(faulty, _)| *faulty == at);
                        div .field {
                            label for=(name) { (slot.words) }
                            input #(name) name=(name) value=(of(fields, &name)) autocomplete="off" aria-describedby=[fault.map(|_| format!("{name}-fault"))];
                            @if let Some((_, words)) = fault { p .fault #{ (name) "-fault" } { (words) } }
                        }
                    }
                }
                div .field {
                    label for="also" { "On the paper, and not asked for here" }
                    textarea #also name="also" rows="2" maxlength="4000" { (of(fields, "also")) }
                }
                button .main { "Compare with what was keyed first" }
            }
        }
    };
    order_leaf::page(desk, viewer, line, Leaf::History, &body)
}

/// The ways to the papers that other revisions keyed. Their reasons are not shown: they may tell a value.
fn others(number: i64, paper: &Paper) -> Markup {
    html! {
        @if !paper.others.is_empty() {
            p { "Another paper was keyed with "
                @for (at, one) in paper.others.iter().enumerate() {
                    @if at > 0 { ", " }
                    a href={ "/orders/" (number) "/second-entry?keyed=" (one.revision) } { "revision " (one.revision) } " by " (one.who)
                }
                "."
            }
        }
    }
}

/// The differences, each to be settled against the paper.
pub(super) fn to_decide(desk: &Desk, viewer: &Viewer, compared: &Compared, fields: &Fields) -> Markup {
    let line = &compared.reviewed.order.line;
    let (paper, differing) = (&compared.paper, &compared.differing);
    let agreeing: Vec<(&Slot, &Since)> = paper
        .slots
        .iter()
        .enumerate()
        .filter(|(at, _)| !differing.contains(at))
        .filter_map(|(_, slot)| slot.since().map(|since| (slot, since)))
        .collect();
    let body = html! {
        section .second-entry {
            h2 { (differing.len()) @if differing.len() == 1 { " reading differs" } @else { " readings differ" } }
            p { "Look at the paper again for each of them. The paper decides, not the likelier number; what it does not say clearly is asked." }
            form .card method="post" action={ "/orders/" (line.number) "/second-entry/decide" } {
                input type="hidden" name="revision" value=(line.revision);
                input type="hidden" name="keyed" value=(paper.revision.revision);
                @for at in 0..paper.slots.len() {
                    @let name = field_name(at);
                    input type="hidden" name=(name) value=(of(fields, &name));
                }
                @for at in paper.as_on_the_form().into_iter().filter(|at| differing.contains(at)) {
                    (difference(at, &paper.slots[at], &compared.entered[at].words()))
                }
                button .main { "Settle" }
            }
            @if !agreeing.is_empty() {
                h2 { "Changed on purpose since it was keyed" }
                p { "The paper was keyed alike both times; the order left what it says for a reason. Nothing is to be settled here." }
                ul .plain { @for (slot, since) in agreeing { li { (slot.words) ": keyed " (slot.first().words()) ", " (since.words()) } } }
            }
        }
    };
    order_leaf::page(desk, viewer, line, Leaf::History, &body)
}

fn difference(at: usize, slot: &Slot, second: &str) -> Markup {
    html! {
        fieldset {
            legend { (slot.words) }
            @for decision in Decision::ALL {
                label .choice {
                    input type="radio" name={ "decide" (at) } value=(decision.key()) required; " "
                    @match decision {
                        Decision::First => { "The paper says " strong { (slot.first().words()) } ", as was keyed first" },
                        Decision::Second => { "The paper says " strong { (second) } ", as was keyed now" },
                        Decision::Unclear => "The paper is unclear: ask the customer",
                    }
                }
            }
            @if let Some(since) = slot.since() {
                p .hint { "The order was changed on purpose meanwhile: " (since.words()) ". It stays so, whatever the paper says; its own page changes it." }
            }
        }
    }
}
