//! The signs of the desk. Each has a shape and a word, so that colour is never the only sign.

use axle::Verdict;
use book::Judgement;
use maud::{Markup, html};

use crate::words;

/// A verdict, or that there is none: shape and word.
pub(crate) fn judgement(judgement: Judgement) -> Markup {
    let word = judgement.words();
    html! {
        span class={ "mark mark-" (word) } {
            svg viewBox="0 0 16 16" aria-hidden="true" focusable="false" { (shape(judgement)) }
            (word)
        }
    }
}

/// A verdict: shape and word.
pub(crate) fn verdict(verdict: Verdict) -> Markup {
    judgement(verdict.into())
}

/// A filled disc with a tick, a ring with a stroke of a question, an octagon with a bar, a torn square.
fn shape(judgement: Judgement) -> Markup {
    html! {
        @match judgement {
            Judgement::Cut => {
                circle .solid cx="8" cy="8" r="7" {}
                path .cutout d="M4.5 8.2 7 10.7 11.5 5.6" {}
            }
            Judgement::Ask => {
                circle .ring cx="8" cy="8" r="6.2" {}
                path .ring d="M5.9 6.3a2.1 2.1 0 1 1 3 1.9c-.6.3-.9.7-.9 1.3" {}
                circle .dot cx="8" cy="11.6" r="1" {}
            }
            Judgement::Stop => {
                path .solid d="M5.1 1h5.8L15 5.1v5.8L10.9 15H5.1L1 10.9V5.1Z" {}
                path .cutout d="M4.5 8h7" {}
            }
            Judgement::Unreadable => {
                path .ring d="M2.5 2h11v11l-1.8-1.8-1.8 1.8L8 11.2 6.1 13l-1.8-1.8L2.5 13Z" {}
            }
        }
    }
}

/// The chance of a fit as a bar with its number and a line at the threshold of the shop. What must not be made looks good with no
/// chance, however large.
pub(crate) fn fit(chance: Option<f64>, threshold: f64, judgement: Judgement) -> Markup {
    let Some(chance) = chance else { return html! { span .fit-none { "not yet" } } };
    let width = (chance * 100.0).clamp(0.0, 100.0);
    let class = match judgement {
        Judgement::Stop => "fit fit-stopped",
        _ if chance >= threshold => "fit fit-enough",
        _ => "fit fit-short",
    };
    html! {
        span class=(class) {
            svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true" focusable="false" {
                rect .ground x="0" y="3" width="100" height="4" {}
                rect .level x="0" y="1" width=(format!("{width:.1}")) height="8" {}
                rect .threshold x=(format!("{:.1}", threshold * 100.0 - 0.5)) y="0" width="1" height="10" {}
            }
            span .number { (words::percent(chance)) }
        }
    }
}
