//! The chart of stated chances against what came true.

use maud::{Markup, html};

use super::tables::Tenth;

/// The side of the square that holds the chances, and the margins left and below it.
const SIDE: f64 = 300.0;
const LEFT: f64 = 46.0;
const TOP: f64 = 14.0;
/// Half the length of the stroke at the end of a band.
const STROKE: f64 = 4.0;

/// A square: across what was stated, upward what came true, the line where both are the same, and for each tenth a point with its
/// band. Points of tenths with few orders are hollow, so that shape says it and not colour alone.
pub(super) fn chart(tenths: &[Tenth]) -> Markup {
    let x = |percent: f64| format!("{:.1}", LEFT + SIDE * percent / 100.0);
    let y = |percent: f64| format!("{:.1}", TOP + SIDE * (1.0 - percent / 100.0));
    let beside = |at: f64, by: f64| format!("{:.1}", LEFT + SIDE * at / 100.0 + by);
    html! {
        svg .chart viewBox="0 0 360 372" role="img" aria-label="Stated chance across, share that came true upward; the numbers stand in the table" {
            rect .frame x=(x(0.0)) y=(y(100.0)) width=(SIDE) height=(SIDE) {}
            @for step in (20..100).step_by(20) {
                @let at = f64::from(step);
                path .grid d={ "M" (x(at)) " " (y(0.0)) "V" (y(100.0)) "M" (x(0.0)) " " (y(at)) "H" (x(100.0)) } {}
            }
            @for step in (0..=100).step_by(20) {
                @let at = f64::from(step);
                text x=(x(at)) y="330" text-anchor="middle" { (step) }
                text x="37" y=(format!("{:.1}", TOP + SIDE * (1.0 - at / 100.0) + 4.0)) text-anchor="end" { (step) }
            }
            text x=(x(50.0)) y="350" text-anchor="middle" { "stated, %" }
            text x="12" y=(y(50.0)) text-anchor="middle" transform={ "rotate(-90 12 " (y(50.0)) ")" } { "came true, %" }
            path .same d={ "M" (x(0.0)) " " (y(0.0)) "L" (x(100.0)) " " (y(100.0)) } {}
            @for tenth in tenths {
                @let (low, high) = tenth.band;
                path .band d={
                    "M" (x(tenth.stated)) " " (y(low)) "V" (y(high))
                    "M" (beside(tenth.stated, -STROKE)) " " (y(low)) "H" (beside(tenth.stated, STROKE))
                    "M" (beside(tenth.stated, -STROKE)) " " (y(high)) "H" (beside(tenth.stated, STROKE))
                } {}
                circle .point.few[tenth.off.is_none()] cx=(x(tenth.stated)) cy=(y(tenth.came_true)) r="4.5" {
                    title { (tenth.orders) " orders stated " (format!("{:.1}", tenth.stated)) " %, " (format!("{:.1}", tenth.came_true)) " % came true" }
                }
            }
            circle .point cx="60" cy="364" r="4.5" {} text x="70" y="368" { "200 orders and more" }
            circle .point.few cx="220" cy="364" r="4.5" {} text x="230" y="368" { "fewer" }
        }
    }
}
