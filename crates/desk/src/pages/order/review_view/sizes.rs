//! The dimensions to cut, each with its limits and where it comes from, and the fit conditions.

use axle::{Basis, Consequence, Dimension, Side};
use drawing::{Standard, Style, Units, limits_in_words};
use maud::{Markup, html};
use quantity::{Leading, Length, LengthExt, decimal_inches, millimetres_text};

use crate::pages::order::screen::Screen;
use crate::words::percent;

/// The dimensions to cut.
pub(in crate::pages::order) fn sizes(screen: &Screen) -> Markup {
    html! {
        section #sizes data-part data-absent=[screen.absent()] {
            @if let Some(reviewed) = screen.reviewed.as_ref().filter(|reviewed| !reviewed.review.dimensions.is_empty()) {
                @let leading = axle::leading(&reviewed.sheet);
                h2 { "Dimensions to cut" }
                @for trim in &reviewed.review.trims {
                    p .notice.warn {
                        "Cut the " (trim.side.map_or("", Side::words)) " shaft to " strong { (written(trim.cut, leading)) }
                        " and trim it at fitting: it may need to be as short as " (written(trim.least, leading))
                        ". Spline at full depth: " (written(trim.spline, leading)) "."
                    }
                }
                div .scroll tabindex="0" role="group" aria-label="Dimensions to cut, table" {
                    table .sizes {
                        thead { tr {
                            th scope="col" { "Dimension" } th scope="col" .number { "Cut" } th scope="col" .number { "Limits" }
                            th scope="col" .number { (other_unit(leading)) } th scope="col" .number { "Mean" }
                            th scope="col" .number { "Standard uncertainty" } th scope="col" { "Basis" }
                        } }
                        tbody { @for dimension in &reviewed.review.dimensions { (size(dimension, leading)) } }
                    }
                }
            }
        }
    }
}

fn size(dimension: &Dimension, leading: Leading) -> Markup {
    let side = dimension.side.map(Side::words);
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
                                (step.words)
                                @if let Some(value) = step.value { ": " b { (fine(value, leading)) } }
                                @if let Some(spread) = step.standard_uncertainty { " ± " (fine(spread, leading)) }
                                " " i { (step.source) }
                            }
                        }
                    }
                }
            }
            td .number { strong { (written(dimension.cut, leading)) } }
            td .number { (limits(dimension, leading)) }
            td .number { (other(dimension.cut, leading)) }
            td .number { (plain(dimension.mean, leading)) }
            td .number { (fine(dimension.standard_uncertainty, leading)) }
            td { (basis) }
        }
    }
}

/// A size as the shop reads it.
fn written(length: Length, leading: Leading) -> String {
    match leading {
        Leading::Inches => decimal_inches(length, 3),
        Leading::Millimetres => millimetres_text(length, 2),
    }
}

/// The limits as the drawing and the papers have them: rounded inwards, so that none is wider than the one that was computed.
fn limits(dimension: &Dimension, leading: Leading) -> String {
    let style = match leading {
        Leading::Inches => Style::of(Standard::Asme, Units::Inch),
        Leading::Millimetres => Style::of(Standard::Iso, Units::Millimetre),
    };
    let closeness = paperwork::closeness(dimension.kind);
    limits_in_words(dimension.least.millimetres(), dimension.most.millimetres(), closeness, &style)
}

fn plain(length: Length, leading: Leading) -> String {
    let text = written(length, leading);
    text.split_once(' ').map_or(text.clone(), |(number, _)| number.to_owned())
}

fn fine(length: Length, leading: Leading) -> String {
    match leading {
        Leading::Inches => decimal_inches(length, 4),
        Leading::Millimetres => millimetres_text(length, 3),
    }
}

fn other(length: Length, leading: Leading) -> String {
    match leading {
        Leading::Inches => millimetres_text(length, 2),
        Leading::Millimetres => decimal_inches(length, 3),
    }
}

fn other_unit(leading: Leading) -> &'static str {
    match leading {
        Leading::Inches => "Millimetres",
        Leading::Millimetres => "Inches",
    }
}

/// The fit conditions, the least certain first.
pub(in crate::pages::order) fn conditions(screen: &Screen) -> Markup {
    html! {
        section #conditions-of-fit data-part data-absent=[screen.absent()] {
            @if let Some(reviewed) = &screen.reviewed {
                h2 { "Conditions of the fit" }
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
                                    Consequence::Nuisance => "nuisance",
                                }) }
                            }
                        }
                    }
                }
            }
        }
    }
}
