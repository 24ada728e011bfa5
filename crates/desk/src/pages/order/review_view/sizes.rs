//! The dimensions to cut, each with its limits and where it comes from, and the fit conditions.

use axle::{Basis, Consequence, Dimension, Side};
use drawing::{Closeness, Standard, Style, Units};
use maud::{Markup, html};
use paperwork::{closeness, held_to, size};
use quantity::{Leading, Length, LengthExt, inches, millimetres};

use crate::pages::order::screen::Screen;
use crate::words::{minus, percent, unbroken};

/// The dimensions to cut.
pub(in crate::pages::order) fn sizes(screen: &Screen) -> Markup {
    html! {
        section #sizes data-part data-absent=[screen.absent()] {
            @if let Some(reviewed) = screen.reviewed.as_ref().filter(|reviewed| !reviewed.review.dimensions.is_empty()) {
                @let written = Written::of(axle::leading(&reviewed.sheet));
                @let length = |length| {
                    let [leading, other] = [&written.leading, &written.other].map(|style| size(length, Closeness::Turned, style));
                    format!("{leading} ({other})")
                };
                h2 { "Dimensions to cut" }
                @for trim in &reviewed.review.trims {
                    p .notice.warn {
                        "If the length" (trim.side.map(|side| format!(" of the {} shaft", side.words())).unwrap_or_default())
                        " cannot be had better: cut it to " strong { (length(trim.cut)) }
                        " and trim it at fitting; it may need to be as short as " (length(trim.least))
                        ". Spline at full depth: " (length(trim.spline)) "."
                    }
                }
                div .scroll tabindex="0" role="group" aria-label="Dimensions to cut, table" {
                    table .sizes {
                        thead { tr {
                            th scope="col" { "Dimension" } th scope="col" .number { "Cut" } th scope="col" .number { "Limits" }
                            th scope="col" .number { "Mean" }
                            th scope="col" .number { "Standard uncertainty" } th scope="col" { "Basis" }
                        } }
                        tbody { @for dimension in &reviewed.review.dimensions { (row(dimension, written)) } }
                    }
                }
            }
        }
    }
}

fn row(dimension: &Dimension, written: Written) -> Markup {
    let side = dimension.side.map(Side::words);
    let close = closeness(dimension.kind);
    let in_words = |length: Length| written.cell(|style| minus(&size(length, close, style)));
    let basis = match dimension.basis {
        Basis::Measured => "measured",
        Basis::Derived => "follows from other readings or parts",
        Basis::Assumed => "assumed",
    };
    html! {
        tr data-shows=(dimension.kind.key()) data-side=[side] {
            th scope="row" {
                details id={ "why-" (dimension.kind.key()) "-" (side.unwrap_or("both")) } {
                    summary { (dimension.kind.words()) @if let Some(side) = side { ", " (side) } span .unseen { ": why this number" } }
                    ol .trace {
                        @for step in &dimension.trace {
                            li {
                                (unbroken(&step.words))
                                @if let Some(value) = step.value { ": " b { (fine(value, &written.leading)) } }
                                @if let Some(uncertainty) = step.standard_uncertainty { " ± " (spread(uncertainty, &written.leading)) }
                                " " i { (step.source) }
                            }
                        }
                    }
                }
            }
            td .number .its-cut { (in_words(dimension.cut)) }
            td .number { (written.cell(|style| held_to(dimension, style))) }
            td .number { (minus(&size(dimension.mean, close, &written.leading))) }
            td .number { (spread(dimension.standard_uncertainty, &written.leading)) }
            td { (basis) }
        }
    }
}

/// A number in both units, the one that leads above.
#[derive(Clone, Copy)]
struct Written {
    leading: Style,
    other: Style,
}

impl Written {
    /// As the drawing and the papers write each of the units.
    fn of(leading: Leading) -> Self {
        let inch = Style::of(Standard::Asme, Units::Inch);
        let metric = Style::of(Standard::Iso, Units::Millimetre);
        match leading {
            Leading::Inches => Self { leading: inch, other: metric },
            Leading::Millimetres => Self { leading: metric, other: inch },
        }
    }

    fn cell(self, words: impl Fn(&Style) -> String) -> Markup {
        html! { (words(&self.leading)) small { (words(&self.other)) } }
    }
}

/// A step of a trace, as close as anything is measured.
fn fine(length: Length, style: &Style) -> String {
    minus(&size(length, Closeness::Ground, style))
}

/// An uncertainty; what is too small for its last decimal is none of nought.
fn spread(length: Length, style: &Style) -> String {
    let step = if style.units.leads_with_inches() { inches(0.0001) } else { millimetres(0.001) };
    if length.millimetres() <= 0.0 {
        "–".to_owned()
    } else if length < step / 2.0 {
        format!("< {}", fine(step, style))
    } else {
        fine(length, style)
    }
}

/// The fit conditions, the least certain first.
pub(in crate::pages::order) fn conditions(screen: &Screen) -> Markup {
    html! {
        section #conditions-of-fit data-part data-absent=[screen.absent()] {
            @if let Some(reviewed) = &screen.reviewed {
                @let nuisances = reviewed.review.conditions.iter().any(|one| one.consequence == Consequence::Nuisance);
                h2 { "Conditions of the fit" }
                @if nuisances {
                    p { "The chance of a fit counts what ends in scrap or rework. A nuisance is mended with a shim or left as it is, "
                        "so it does not count." }
                }
                table {
                    thead { tr { th scope="col" { "Condition" } th scope="col" .number { "Holds" } th scope="col" { "Where it does not" } } }
                    tbody {
                        @for condition in &reviewed.review.conditions {
                            tr {
                                th scope="row" { (condition.words) }
                                td .number { (percent(condition.probability)) }
                                td { (match condition.consequence {
                                    Consequence::Scrap => "scrap",
                                    Consequence::Rework => "rework",
                                    Consequence::Nuisance => "nuisance, does not count",
                                }) }
                            }
                        }
                    }
                }
            }
        }
    }
}
