//! The sheet as a form.

use catalog::{Measurand, MeasurandRow, Sides};
use maud::{Markup, html};

use super::doubts::Doubt;
use super::fields::{Control, Field, GROUPS, load_fields, order_fields, part_fields};
use super::rewrite::CORRECTION;
use super::screen::Screen;
use super::written::{SECTIONS, reading_name};

/// How many characters of a reading are surely seen in its field.
const LONGEST_IN_SIGHT: usize = 14;

/// The whole form but for the buttons; fields cannot be typed into where `writes` is false.
pub(super) fn fields(screen: &Screen, doubts: &[Doubt], writes: bool) -> Markup {
    let catalog = screen.catalog.catalog();
    html! {
        datalist #instruments { @for one in &catalog.instruments { option value=(one.name) {} } }
        datalist #conditions { @for (_, words) in catalog::CONDITIONS { option value=(words) {} } }
        (template())
        fieldset .plain disabled[!writes] {
            legend .unseen { "The sheet" }
            @if screen.line.is_none() { (order(screen, doubts)) }
            @for group in &GROUPS { (readings(screen, doubts, group.words, group.measurands)) }
            @for (words, fields) in part_fields(catalog) {
                section .block {
                    h2 { (words) }
                    div .pairs { @for field in &fields { (control(screen, field)) } }
                }
            }
            @if screen.line.is_some() { (order(screen, doubts)) }
            (loads(screen))
        }
    }
}

/// What the order is, and for whom.
fn order(screen: &Screen, doubts: &[Doubt]) -> Markup {
    let catalog = screen.catalog.catalog();
    html! {
        section .block {
            h2 { "Order" }
            div .pairs {
                @for field in order_fields(catalog) { (control(screen, &field)) }
                (beside("customer", "Customer", &screen.entered.customer))
                (beside("contact", "Contact", &screen.entered.contact))
                (beside("vehicle", "Vehicle", &screen.entered.vehicle))
                div .field {
                    label for="due" { "Due" }
                    input #due name="due" inputmode="numeric" placeholder="such as 2026-03-14" value=(screen.entered.due);
                    (note(screen, doubts, "due"))
                }
            }
        }
    }
}

fn loads(screen: &Screen) -> Markup {
    let fields = load_fields(screen.catalog.catalog());
    let (stated, open): (Vec<Field>, Vec<Field>) =
        fields.into_iter().partition(|field| !screen.value(&field.name).is_empty());
    html! {
        section .block {
            h2 { "Loads and steel" }
            div .pairs { @for field in &stated { (control(screen, field)) } }
            details .more {
                summary { "State a load, a size of the body or the steel (" (open.len()) " open)" }
                p .soft { "What is not stated is taken between two bounds, and the proof says so." }
                div .pairs { @for field in &open { (control(screen, field)) } }
            }
        }
    }
}

fn beside(name: &str, words: &str, value: &str) -> Markup {
    html! {
        div .field {
            label for=(name) { (words) }
            input id=(name) name=(name) value=(value);
        }
    }
}

/// The faults and doubts of a field, beside it; nothing where there are none. The script puts those that come later there.
pub(super) fn note(screen: &Screen, doubts: &[Doubt], name: &str) -> Markup {
    let doubt = doubts.iter().find(|doubt| doubt.field == name);
    if doubt.is_none() && screen.faults_of(name).next().is_none() {
        return html! {};
    }
    html! {
        span .about id={ "about-" (name) } data-about=(name) {
            @for fault in screen.faults_of(name) {
                span .fault { (fault.problem) "." span .accepted { " Accepted: " (fault.accepted) } }
            }
            @if let Some(doubt) = doubt {
                a .doubtful data-strong[doubt.is_strong] href={ "#doubt-" (doubt.index) } { (doubt.short) }
            }
        }
    }
}

/// The value of a field, or nothing where it is empty.
fn filled<'s>(screen: &'s Screen, name: &str) -> Option<&'s str> {
    Some(screen.value(name)).filter(|value| !value.is_empty())
}

fn control(screen: &Screen, field: &Field) -> Markup {
    let name = &field.name;
    let value = screen.value(name);
    let required = matches!(name.as_str(), "f.order.reference" | "f.order.use" | "f.order.sides");
    html! {
        div .field {
            label for=(name) { (field.words) @if required { span .required { " required" } } }
            @match &field.control {
                Control::Text(like) => {
                    input id=(name) name=(name) value=[filled(screen, name)] placeholder={ "such as " (like) };
                }
                Control::Choice(options) => {
                    select id=(name) name=(name) {
                        option value="" { "not stated" }
                        @for (option, words) in options {
                            option value=[(option != words).then_some(option)] selected[option == value] { (words) }
                        }
                        @if !value.is_empty() && options.iter().all(|(option, _)| option != value) {
                            option value=(value) selected { (value) }
                        }
                    }
                }
            }
            (note(screen, &[], name))
        }
    }
}

fn readings(screen: &Screen, doubts: &[Doubt], words: &str, measurands: &[Measurand]) -> Markup {
    let catalog = screen.catalog.catalog();
    let asked: Vec<Measurand> = screen
        .reviewed
        .iter()
        .flat_map(|reviewed| reviewed.review.missing.iter().filter_map(|gap| gap.measurands.first().copied()))
        .collect();
    let shown = |measurand: Measurand| {
        asked.contains(&measurand)
            || SECTIONS.iter().any(|section| !screen.value(&reading_name(section, measurand.key(), 0)).is_empty())
    };
    let (there, open): (Vec<Measurand>, Vec<Measurand>) =
        measurands.iter().copied().partition(|measurand| shown(*measurand));
    let table = |rows: &[Measurand]| {
        html! {
            table .readings {
                caption .unseen { (words) }
                thead { tr {
                    th scope="col" { "Reading" } th scope="col" { "Left" } th scope="col" { "Right" } th scope="col" { "Alike or whole" }
                } }
                tbody {
                    @for measurand in rows {
                        (row(screen, doubts, catalog.measurand(*measurand), asked.contains(measurand)))
                    }
                }
            }
        }
    };
    html! {
        section .block {
            h2 { (words) }
            @if !there.is_empty() { (table(&there)) }
            @if !open.is_empty() {
                // A new order begins with its first readings.
                details .more open[screen.line.is_none() && words == GROUPS[0].words] {
                    summary {
                        "Add a reading: "
                        @for (place, measurand) in open.iter().enumerate() {
                            @if place > 0 { ", " }
                            (catalog.measurand(*measurand).words)
                        }
                    }
                    (table(&open))
                }
            }
        }
    }
}

fn row(screen: &Screen, doubts: &[Doubt], row: &MeasurandRow, asked: bool) -> Markup {
    let key = row.measurand.key();
    let explained = explained(screen, key);
    html! {
        tr data-shows=(key) data-usual=(row.instrument) {
            th scope="row" {
                (row.words) @if asked { span .asked { " needed" } }
                // It stands there while one types into the row; the style sheet sees to that.
                @if explained { small id={ "how-to-" (key) } { (row.how) } }
            }
            @for (section, words) in [("left", "left"), ("right", "right"), ("shared", "alike or whole")] {
                td data-side=[(section != "shared").then_some(section)] {
                    @if may_stand(row.sides, section) { (cell(screen, doubts, row, section, words)) }
                }
            }
        }
    }
}

/// How to take a reading is told where it is not taken yet.
fn explained(screen: &Screen, key: &str) -> bool {
    SECTIONS.iter().all(|section| screen.value(&reading_name(section, key, 0)).is_empty())
}

fn may_stand(sides: Sides, section: &str) -> bool {
    match sides {
        Sides::Each => section != "shared",
        Sides::Whole => section == "shared",
        Sides::Either => true,
    }
}

fn cell(screen: &Screen, doubts: &[Doubt], row: &MeasurandRow, section: &str, words: &str) -> Markup {
    let key = row.measurand.key();
    let there = screen.written.as_ref().map_or(0, |written| written.entries(section, key));
    let usual = row.sides != Sides::Either || section == "shared";
    let explained = explained(screen, key);
    html! {
        @for entry in 0..there.max(1) {
            @let name = reading_name(section, key, entry);
            @let label = format!("{} {words}{}", row.words, if entry > 0 { format!(", reading {}", entry + 1) } else { String::new() });
            @let doubted = doubts.iter().any(|doubt| doubt.field == name && doubt.is_strong);
            div .entry {
                // What may not fit into its field can be read whole at it.
                input id=(name) class=[doubted.then_some("doubted")] name=(name) value=[filled(screen, &name)]
                    title=[filled(screen, &name).filter(|value| value.chars().count() > LONGEST_IN_SIGHT)] aria-label=(label)
                    aria-describedby=[(explained && usual).then(|| format!("how-to-{key}"))];
                @if row.measurand == Measurand::SplineOverPins && (usual || there > 0) {
                    (property(screen, &name, "pin", "pins", "0.080 in", None))
                }
                @if told(screen, &name) { (how_taken(screen, row, section, &name, entry, there)) }
                @else if usual && screen.line.is_none() {
                    noscript { label { "with" input name={ (name) ".instrument" } list="instruments"; } }
                }
                (note(screen, doubts, &name))
            }
        }
    }
}

/// Whether anything is said of a reading. Only then its fold-out is written for everybody; the script makes the others when they are
/// needed. Where scripts are blocked the instrument has its field from the beginning on a new order; the rest, and the fold-out of a
/// reading that comes later, is there after the next review.
fn told(screen: &Screen, name: &str) -> bool {
    let own = ["", ".instrument", ".conditions", ".by", ".taken_as", ".taken_by", ".confirmed_by"];
    own.iter().any(|end| !screen.value(&format!("{name}{end}")).is_empty())
}

/// The fold-out of a reading: how it was taken, and another reading of the same thing.
fn how_taken(screen: &Screen, row: &MeasurandRow, section: &str, name: &str, entry: usize, there: usize) -> Markup {
    let told: Vec<&str> = ["instrument", "conditions", "by"]
        .iter()
        .map(|property| screen.value(&format!("{name}.{property}")))
        .filter(|value| !value.is_empty())
        .collect();
    let of_correction = |property: &str| screen.value(&format!("{name}.{property}"));
    let is_corrected = CORRECTION.iter().any(|property| !of_correction(property).is_empty());
    html! {
        details .how {
            summary {
                @if told.is_empty() { (row.instrument) "?" } @else { (told.join(", ")) }
                @if is_corrected {
                    span .taken-as { ", taken as " (of_correction("taken_as"))
                        @match of_correction("confirmed_by") { "" => { ", not confirmed" }, who => { ", confirmed by " (who) } } }
                }
            }
            div .how-fields {
                (property(screen, name, "instrument", "instrument", &row.instrument, Some("instruments")))
                (property(screen, name, "conditions", "conditions", "rusty, worn", Some("conditions")))
                (property(screen, name, "by", "by whom", "owner", None))
                @if is_corrected {
                    (property(screen, name, "taken_as", "taken as", "", None))
                    (property(screen, name, "taken_by", "taken so by", "", None))
                    (property(screen, name, "confirmed_by", "confirmed by", "", None))
                }
                @if there > 0 && entry + 1 == there {
                    @let next = reading_name(section, row.measurand.key(), there);
                    label { "another reading of it"
                        input name=(next) id=(next) value=[filled(screen, &next)];
                    }
                    (property(screen, &next, "instrument", "with", &row.better_instrument, Some("instruments")))
                    @if row.measurand == Measurand::SplineOverPins {
                        (property(screen, &next, "pin", "pins", "0.080 in", None))
                    }
                    (note(screen, &[], &next))
                }
            }
        }
    }
}

fn property(screen: &Screen, name: &str, property: &str, words: &str, like: &str, list: Option<&str>) -> Markup {
    let name = format!("{name}.{property}");
    html! {
        label { (words) input name=(name) value=[filled(screen, &name)] placeholder=(like) list=[list]; }
        (note(screen, &[], &name))
    }
}

/// The fold-out that the script puts under a reading that is being typed.
fn template() -> Markup {
    html! {
        template #how-taken {
            details .how {
                summary { "how it was taken" }
                div .how-fields {
                    label { "instrument" input data-property="instrument" list="instruments"; }
                    label { "conditions" input data-property="conditions" placeholder="rusty, worn" list="conditions"; }
                    label { "by whom" input data-property="by" placeholder="owner"; }
                }
            }
        }
    }
}
