//! The drawing beside the form. It is fetched on its own, since it weighs as much as all the rest.

use axle::Side;
use drawing::{Request, Standard, Units, View};
use maud::{Markup, PreEscaped, html};
use quantity::Leading;

use crate::desk::Desk;
use crate::error::DeskError;
use crate::pages::order_leaf;
use crate::words::time;

use super::page::doubts_of;
use super::screen::Screen;

/// The views: key and words.
const VIEWS: [(&str, &str); 8] = [
    ("shaft-left", "left shaft"),
    ("shaft-right", "right shaft"),
    ("flange", "flange"),
    ("housing-left", "left housing"),
    ("housing-right", "right housing"),
    ("pair", "both shafts"),
    ("stress", "stress along the shaft"),
    ("none", "no drawing"),
];

const UNITS: [(&str, &str); 4] =
    [("", "as the sheet"), ("inch", "inches"), ("millimetre", "millimetres"), ("dual", "both units")];

/// Where the drawing stands: what to show, and the drawing itself once it is fetched.
pub(super) fn stand(screen: &Screen, address: &str, drawn: Option<&Markup>) -> Markup {
    let wanted = view(screen);
    let units = &screen.entered.units;
    html! {
        section .figure {
            h2 .unseen { "Drawing" }
            div .bar {
                label for="view" { "Drawing" }
                select #view name="view" {
                    @for (key, words) in VIEWS { option value=(key) selected[key == wanted] { (words) } }
                }
                span .its-units {
                    label for="units" { "in" }
                    select #units name="units" {
                        @for (key, words) in UNITS { option value=(key) selected[key == units] { (words) } }
                    }
                }
                button type="button" data-wide aria-pressed="false" hidden { "Larger" }
                button .without-script formaction={ (address) "/drawing" } { "Draw" }
            }
            @if let Some(drawn) = drawn { (drawn) } @else { div #drawing data-part data-pending { p .soft { "The drawing to scale stands here once it is asked for." } } }
        }
    }
}

/// The view that is asked for, or that of the first shaft that is wanted.
fn view(screen: &Screen) -> &str {
    let asked = screen.entered.view.as_str();
    if VIEWS.iter().any(|(key, _)| *key == asked) {
        return asked;
    }
    let wanted = screen.reviewed.as_ref().and_then(|reviewed| reviewed.sheet.wanted.first().copied());
    if wanted == Some(Side::Right) { "shaft-right" } else { "shaft-left" }
}

/// The drawing of what was typed.
///
/// # Errors
///
/// The drawing broke off.
pub(super) async fn drawn(desk: &Desk, screen: &Screen) -> Result<Markup, DeskError> {
    let Some(reviewed) = screen.reviewed.clone() else {
        return Ok(
            html! { div #drawing data-part data-absent=[screen.absent()] { p .soft { "The drawing follows once the sheet can be reviewed." } } },
        );
    };
    let leading = axle::leading(&reviewed.sheet);
    let units = match (screen.entered.units.as_str(), leading) {
        ("inch", _) | ("", Leading::Inches) => Units::Inch,
        ("dual", Leading::Inches) => Units::Dual { inches_first: true },
        ("dual", Leading::Millimetres) => Units::Dual { inches_first: false },
        _ => Units::Millimetre,
    };
    let view_key = view(screen).to_owned();
    let date = time(desk.now());
    let revision = if screen.changed.is_empty() { screen.entered.seen.to_string() } else { "draft".to_owned() };
    let approval =
        match screen.line.as_ref().filter(|line| line.revision == screen.entered.seen && screen.changed.is_empty()) {
            Some(line) => order_leaf::approval(desk, line).await?,
            None => None,
        };
    let approved = order_leaf::counts(&reviewed, approval.as_ref());
    let asked = view_key.clone();
    let picture = tokio::task::spawn_blocking(move || {
        let (view, side) = match asked.as_str() {
            "none" => return Some(String::new()),
            "stress" => return drawing::stress_figure(&reviewed.review, leading, "stress-"),
            "shaft-right" => (View::Shaft, Side::Right),
            "flange" => (View::Flange, reviewed.sheet.wanted.first().copied().unwrap_or(Side::Left)),
            "housing-left" => (View::Housing, Side::Left),
            "housing-right" => (View::Housing, Side::Right),
            "pair" => (View::Pair, Side::Left),
            _ => (View::Shaft, Side::Left),
        };
        let standard = if units.leads_with_inches() { Standard::Asme } else { Standard::Iso };
        let date = date.split(' ').next().unwrap_or_default();
        let request = Request { view, side, standard, units, date, revision: &revision, approved };
        Some(drawing::svg_figure(&drawing::draw(&reviewed.sheet, &reviewed.review, &request), "sheet-"))
    })
    .await
    .map_err(|error| DeskError::failed(format!("the drawing broke off: {error}")))?;
    let Some(mut picture) = picture else {
        return Ok(html! { div #drawing data-part {
            p .soft { "Nothing to plot: the shaft is not known well enough to have stresses, or its loads are not." }
        } });
    };
    let doubts = doubts_of(screen);
    let marked: Vec<&super::doubts::Doubt> = doubts.iter().filter(|doubt| doubt.is_strong).collect();
    let mut named = Vec::new();
    // A drawing of one shaft does not name the side with each size.
    let drawn = match view_key.as_str() {
        "shaft-left" | "housing-left" => Some(Side::Left),
        "shaft-right" | "housing-right" => Some(Side::Right),
        _ => None,
    };
    for doubt in &marked {
        let sided = doubt.side.map(|side| format!("-{}", side.words()));
        let alone = (doubt.side.is_none() || doubt.side == drawn).then(String::new);
        for end in sided.into_iter().chain(alone) {
            let plain = format!("<g id=\"sheet-dimension-{}{end}\" ", doubt.measurand);
            let doubted = format!("{plain}class=\"doubted\" ");
            if picture.contains(&plain) {
                if !picture.contains(&doubted) {
                    picture = picture.replace(&plain, &doubted);
                }
                named.push(doubt.called.clone());
                break;
            }
        }
    }
    Ok(html! {
        div #drawing data-part {
            figure {
                div .paper-sheet tabindex="0" role="group" aria-label="Drawing to scale" { (PreEscaped(picture)) }
                @if !named.is_empty() {
                    figcaption {
                        "Marked, because " (if named.len() > 1 { "their readings are" } else { "its reading is" })
                        " in doubt: " (named.join(", ")) "."
                    }
                }
            }
        }
    })
}
