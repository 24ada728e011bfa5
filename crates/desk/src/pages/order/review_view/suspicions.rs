//! The readings that are suspected, and those that the sheet takes as something else than was written.

use axle::{ReadingReview, TakenAsReview};
use maud::{Markup, html};
use serde_json::json;

use crate::words::unbroken;

use super::super::doubts::{Doubt, reading_fields};
use super::super::entered::WHO;
use super::super::fields::called;
use super::super::screen::Screen;
use super::asking::asking;
use super::{Address, explanations};

/// Below this doubt nobody is asked to act.
const ACTED_ON: f64 = 0.2;

/// The suspected readings, and the corrected ones.
pub(in super::super) fn suspicions(screen: &Screen, doubts: &[Doubt], address: Address<'_>, writes: bool) -> Markup {
    html! {
        section #doubts data-part data-absent=[screen.absent()] {
            @let (strong, slight): (Vec<&Doubt>, Vec<&Doubt>) =
                doubts.iter().partition(|doubt| doubt.is_strong || doubt.taken.is_some());
            @if !strong.is_empty() {
                h2 { "Readings in doubt" }
                div .columns { @for group in together(&strong) { (suspicion(&group, address, writes)) } }
            }
            (settled(screen, doubts, address, writes))
            @if !slight.is_empty() {
                details #slight-doubts {
                    summary { "Slight doubts, too small to act on (" (slight.len()) ")" }
                    div .columns { @for group in together(&slight) { (suspicion(&group, address, writes)) } }
                }
            }
            @if let Some(reviewed) = &screen.reviewed { (explanations(&reviewed.review)) }
        }
    }
}

/// The doubts that one explanation holds together, in the order of the first of each.
fn together<'d>(doubts: &[&'d Doubt]) -> Vec<Vec<&'d Doubt>> {
    let mut groups: Vec<Vec<&Doubt>> = Vec::new();
    for doubt in doubts.iter().copied() {
        match groups.iter_mut().find(|group| group.iter().any(|one| one.explained == doubt.explained)) {
            Some(group) => group.push(doubt),
            None => groups.push(vec![doubt]),
        }
    }
    groups
}

/// The names of several readings, short: the first, and how many more.
fn gathered<'n>(mut names: impl Iterator<Item = &'n str>) -> String {
    let first = names.next().unwrap_or_default();
    match names.count() {
        0 => first.to_owned(),
        more => format!("{first} and {more} more"),
    }
}

fn suspicion(group: &[&Doubt], address: Address<'_>, writes: bool) -> Markup {
    let Some(first) = group.first() else { return html! {} };
    let said = format!("{}: {}", first.explained, first.chances());
    let question = match group {
        [one] => one.question.clone(),
        several => {
            let named: Vec<&str> = several.iter().map(|doubt| doubt.called.as_str()).collect();
            let looks = first.happened.as_deref().unwrap_or("mistaken");
            format!("Please take these once more: {}. It looks as if they were {looks}.", named.join(", "))
        }
    };
    html! {
        article .doubt .strong[first.is_strong] {
            @for doubt in group {
                h3 id={ "doubt-" (doubt.index) } data-shows=(doubt.measurand) data-side=[doubt.side.map(axle::Side::words)] {
                    a href={ "#" (doubt.field) } { (doubt.called) } " " span .soft { (unbroken(&doubt.written)) }
                    @if doubt.taken.is_none() {
                        @if let Some(size) = &doubt.correction { " should say " (size) }
                        @else if let (Some(size), [_]) = (&doubt.others_make, group) { ", and the others make it " (size) }
                    }
                }
            }
            p { (unbroken(&said)) "." }
            @for doubt in group {
                @if let Some(taken) = &doubt.taken {
                    (stands(group.len(), &doubt.called, taken))
                    @if writes { (standing_buttons(address, doubt.index, &doubt.field, &doubt.called, &doubt.written, taken)) }
                }
            }
            @if writes && first.chance >= ACTED_ON {
                (offers(group, &said, address))
                @if address != "/orders/new" {
                    (asking(address, &format!("doubt.{}", first.index), None, &question))
                }
            }
        }
    }
}

/// What may be done with the corrections of a group: to take them as confirmed, or as not confirmed. The first changes what is
/// evidence, the second only says what the desk thinks.
fn offers(group: &[&Doubt], said: &str, address: Address<'_>) -> Markup {
    let offered: Vec<(&Doubt, &str)> = group
        .iter()
        .filter(|doubt| doubt.taken.is_none())
        .filter_map(|doubt| doubt.correction.as_deref().map(|size| (*doubt, size)))
        .collect();
    let Some((first, _)) = offered.first() else { return html! {} };
    let set: Vec<(String, &str)> =
        offered.iter().map(|(doubt, size)| (format!("{}.taken_as", doubt.field), *size)).collect();
    let meant: Vec<String> =
        offered.iter().map(|(doubt, size)| format!("{} {} taken as {size}", doubt.called, doubt.written)).collect();
    let meant = meant.join("; ");
    let which = gathered(offered.iter().map(|(doubt, _)| doubt.called.as_str()));
    let who = format!("{WHO}{}", first.index);
    html! {
        div .buttons {
            button formaction={ (address) "/accept" } name="chosen"
                value=(json!({ "set": set, "why": meant, "confirmed": who })) {
                @match offered.as_slice() {
                    [(_, size)] => { "They confirm it: " (size) }
                    several => { "They confirm these " (several.len()) }
                }
                span .unseen { ", " (which) }
            }
            (confirmer(&who))
            button formaction={ (address) "/accept" } name="chosen"
                value=(json!({ "set": set, "why": format!("not confirmed: {meant}. {said}") })) {
                @if offered.len() == 1 { "Take it so, not confirmed" } @else { "Take them so, not confirmed" }
            }
        }
    }
}

/// Who confirmed a correction.
fn confirmer(name: &str) -> Markup {
    html! {
        label .confirmer { "who confirmed " input name=(name) value="customer"; }
    }
}

/// Where a correction stands, in words.
fn stands(of: usize, called: &str, taken: &TakenAsReview) -> Markup {
    html! {
        p .stands {
            @if of > 1 { (called) ": taken as " } @else { "Taken as " }
            strong { (taken.written) }
            @if let Some(by) = &taken.taken_by { " by " (by) }
            @match &taken.confirmed_by {
                Some(who) => { ", confirmed by " (who) ", and weighed so." },
                None => { ", not confirmed. Until it is, the reading is weighed as it was written." },
            }
        }
    }
}

/// What may be done with a correction that stands in the sheet.
fn standing_buttons(
    address: Address<'_>,
    index: usize,
    field: &str,
    called: &str,
    written: &str,
    taken: &TakenAsReview,
) -> Markup {
    let who = format!("{WHO}{index}");
    html! {
        div .buttons {
            @if taken.confirmed_by.is_none() {
                button formaction={ (address) "/accept" } name="chosen" value=(json!({
                    "set": [], "readings": [field], "confirmed": who,
                    "why": format!("{called} {written} taken as {}", taken.written),
                })) { "They confirm it: " (taken.written) span .unseen { ", " (called) } }
                (confirmer(&who))
            }
            button .quiet formaction={ (address) "/accept" } name="chosen" value=(json!({
                "set": [(format!("{field}.taken_as"), "")],
                "why": format!("correction taken back: {called} counts as it was written, {written}"),
            })) { "Take back" span .unseen { " the correction of the " (called) } }
        }
    }
}

/// The corrected readings that nobody doubts as they now stand.
fn settled(screen: &Screen, doubts: &[Doubt], address: Address<'_>, writes: bool) -> Markup {
    let Some(reviewed) = &screen.reviewed else { return html! {} };
    let fields = reading_fields(&reviewed.review);
    let readings: Vec<(usize, &ReadingReview, &TakenAsReview)> = reviewed
        .review
        .readings
        .iter()
        .enumerate()
        .filter(|(index, _)| doubts.iter().all(|doubt| doubt.index != *index))
        .filter_map(|(index, one)| one.taken_as.as_ref().map(|taken| (index, one, taken)))
        .collect();
    let catalog = screen.catalog.catalog();
    html! {
        @if !readings.is_empty() {
            h2 { "Corrected readings" }
            div .columns {
                @for (index, one, taken) in readings {
                    @let field = fields[index].as_str();
                    @let named = called(field, catalog);
                    article .doubt .corrected {
                        h3 data-shows=(one.measurand.key()) data-side=[one.side.map(axle::Side::words)] {
                            a href={ "#" (field) } { (named) } " " span .soft { (one.written) }
                        }
                        (stands(1, &named, taken))
                        @if writes { (standing_buttons(address, index, field, &named, &one.written, taken)) }
                    }
                }
            }
        }
    }
}
