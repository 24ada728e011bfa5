//! What simulated orders came to, as tables beside a chart.

use axle::simulate::Tally;
use maud::{Markup, html};

use super::chart;
use crate::words::minus;

/// A tenth with fewer orders than this says little and is not judged.
const ENOUGH: usize = 200;

/// The orders that were stated to fit with a chance in one tenth.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Tenth {
    /// Where the tenth begins, in percent.
    pub from: usize,
    pub orders: usize,
    /// The mean of what was stated, in percent.
    pub stated: f64,
    /// How many came true, in percent.
    pub came_true: f64,
    /// The band that holds the true share with 95 % confidence, in percent.
    pub band: (f64, f64),
    /// By how many points the stated chance was off; none where too few orders say so.
    pub off: Option<f64>,
}

/// What one way of working did.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Way {
    pub name: String,
    pub cut: usize,
    pub wrong: usize,
    pub good: usize,
    pub held: usize,
}

/// The tables and the chart of what was counted.
pub(super) fn of_tally(tally: &Tally) -> Markup {
    let tenths: Vec<Tenth> = tally
        .tenths
        .iter()
        .enumerate()
        .filter_map(|(at, tenth)| {
            let (low, high) = tenth.band()?;
            let (stated, came_true) = (100.0 * tenth.mean_stated()?, 100.0 * tenth.share_fitted()?);
            let off = (tenth.orders >= ENOUGH).then_some(came_true - stated);
            Some(Tenth {
                from: 10 * at,
                orders: tenth.orders,
                stated,
                came_true,
                band: (100.0 * low, 100.0 * high),
                off,
            })
        })
        .collect();
    let way = |name: &str, count: &axle::simulate::Count| Way {
        name: name.to_owned(),
        cut: count.cut,
        wrong: count.wrong,
        good: count.good,
        held: count.held,
    };
    let ways = [
        way("this review", &tally.reviewed),
        way("the classical tests", &tally.classical),
        way("no check at all", &tally.unchecked),
    ];
    html! {
        (calibration(&tenths))
        (handlings(&ways))
        p .soft { (tally.incomplete) " of " (tally.orders) " orders lacked something that the shafts need. " (tally.blame.made)
            " mistakes were made, " (tally.blame.reading_found) " of them were blamed on the right reading; " (tally.wronged)
            " sound readings were called mistaken." }
    }
}

/// Stated against what came true: a chart and the same in numbers.
pub(super) fn calibration(tenths: &[Tenth]) -> Markup {
    html! {
        div .calibration {
            (chart::chart(tenths))
            div .scroll tabindex="0" role="group" aria-label="Stated chances, table" {
                table .quantities {
                    thead {
                        tr {
                            th scope="col" { "Stated" } th .number scope="col" { "Orders" } th .number scope="col" { "Mean" }
                            th .number scope="col" { "Came true" } th .number scope="col" { "Band" } th .number scope="col" { "Off by, points" }
                        }
                    }
                    tbody {
                        @for tenth in tenths {
                            tr {
                                th scope="row" { (tenth.from) "\u{202f}–\u{202f}" (tenth.from + 10) "\u{a0}%" }
                                td .number { (tenth.orders) }
                                td .number { (format!("{:.1}\u{a0}%", tenth.stated)) }
                                td .number { (format!("{:.1}\u{a0}%", tenth.came_true)) }
                                td .number { (format!("{:.1}\u{202f}–\u{202f}{:.1}\u{a0}%", tenth.band.0, tenth.band.1)) }
                                td .number {
                                    @match tenth.off {
                                        Some(off) => (minus(&format!("{off:+.1}"))),
                                        None => span .soft { "too few" },
                                    }
                                }
                            }
                        }
                    }
                }
            }
        }
        p .soft { "The band holds the true share with 95 % confidence. A tenth with fewer than " (ENOUGH) " orders is not judged." }
    }
}

/// What is cut, and what is held back.
pub(super) fn handlings(ways: &[Way]) -> Markup {
    html! {
        div .scroll tabindex="0" role="group" aria-label="What is cut, table" {
            table .quantities {
                thead {
                    tr {
                        th scope="col" { "Way of working" } th .number scope="col" { "Cut" } th .number scope="col" { "Of them wrong" }
                        th .number scope="col" { "Good orders" } th .number scope="col" { "Held back" }
                    }
                }
                tbody {
                    @for way in ways {
                        tr {
                            th scope="row" { (way.name) }
                            td .number { (way.cut) }
                            td .number { (way.wrong) (share(way.wrong, way.cut)) }
                            td .number { (way.good) }
                            td .number { (way.held) (share(way.held, way.good)) }
                        }
                    }
                }
            }
        }
        p .soft { "Wrong: cut, and at least one shaft needs rework or is scrap. Good: cut to the sizes that this way of working gives, the shafts "
            "fit; the ways give different sizes, so that their counts differ. Held back: good, and not cut." }
    }
}

/// A share in brackets; nothing where there is no whole.
fn share(part: usize, whole: usize) -> String {
    if whole == 0 { String::new() } else { format!(" ({:.2}\u{a0}%)", 100.0 * part as f64 / whole as f64) }
}
