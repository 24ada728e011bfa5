//! The page of an order, put together.

use book::State;
use maud::{Markup, html};

use crate::assets;
use crate::marks;
use crate::pages::order_head::{self, Leaf};
use crate::shell::{self, Place};
use crate::viewer::Viewer;

use super::doubts::{Doubt, doubts};
use super::screen::Screen;
use super::{figure, form_view, review_view};

/// What a page says above everything else.
pub(super) struct Around {
    /// Notices: what was saved, a draft that was found, who was first.
    pub notices: Markup,
    /// Whether the questions were worked out.
    pub whole: bool,
}

impl Around {
    /// Nothing to say.
    pub fn nothing() -> Self {
        Self { notices: html! {}, whole: false }
    }

    /// Something to say.
    pub fn saying(notices: Markup) -> Self {
        Self { notices, whole: false }
    }
}

/// The suspected readings of a screen.
pub(super) fn doubts_of(screen: &Screen) -> Vec<Doubt> {
    screen.reviewed.as_ref().map(|reviewed| doubts(reviewed, screen.catalog.catalog())).unwrap_or_default()
}

/// The address that the form goes to.
pub(super) fn address(screen: &Screen) -> String {
    screen.line.as_ref().map_or_else(|| "/orders/new".to_owned(), |line| format!("/orders/{}", line.number))
}

/// The whole page; the script fetches the drawing.
pub(super) fn page(viewer: &Viewer, screen: &Screen, around: &Around) -> Markup {
    page_with(viewer, screen, around, None)
}

/// The whole page, with its drawing where there is one already.
pub(super) fn page_with(viewer: &Viewer, screen: &Screen, around: &Around, drawn: Option<&Markup>) -> Markup {
    let stands_still = stands_still(screen);
    let writes = may_write(viewer, screen);
    let address = address(screen);
    let doubts = doubts_of(screen);
    let threshold = screen.catalog.catalog().settings.thresholds.cut_at;
    let body = html! {
        link rel="stylesheet" href=(assets::address("drawing.css"));
        script src=(assets::address("order.js")) defer {}
        div .order-page {
            @match &screen.line {
                Some(line) => (order_head::head(viewer, line, Leaf::Sheet, threshold)),
                None => (new_head()),
            }
            (around.notices)
            @if let Some(state) = stands_still {
                p .notice { "The order is " (state.words()) ", so its sheet stands still. "
                    @if viewer.works_the_desk() { "To change it, move the order to be made once more." } }
            }
            div #presence data-part aria-live="polite" {}
            div #offline .notice.warn hidden { "The desk does not answer. What you type is kept in this browser and sent when it is back." }
            form #sheet method="post" action=(address) data-address=(address) data-writes[writes] autocomplete="off" {
                button .unseen formaction={ (address) "/review" } tabindex="-1" aria-hidden="true" { "Review" }
                input type="hidden" name="seen" value=(screen.entered.seen);
                @if let Some(base) = &screen.built_on { input type="hidden" name="base" value=(base); }
                @else if !screen.is_as_kept { input type="hidden" name="base" value=(screen.entered.base); }
                @if screen.line.is_none() {
                    input type="hidden" name="draft" value=(screen.entered.draft);
                    input type="hidden" name="carried" value=(screen.entered.carried);
                }
                (review_view::verdict(screen))
                (review_view::suspicions(screen, &doubts, &address, writes))
                div .two {
                    div .written {
                        (form_view::fields(screen, &doubts, writes))
                        (as_text(screen, &address, writes))
                        @if writes { (saving(screen, &address)) }
                    }
                    div .drawn { (figure::stand(screen, &address, drawn)) }
                }
                (review_view::questions(screen, around.whole, &address, writes))
                (review_view::parts(screen, &address, writes))
                (review_view::sizes(screen))
                (review_view::conditions(screen))
                (review_view::proof(screen))
                (review_view::checks(screen))
            }
        }
    };
    let (place, title) = match &screen.line {
        Some(line) => (Place::Orders, line.reference.clone()),
        None => (Place::NewOrder, "New order".to_owned()),
    };
    shell::page(viewer, place, &title, &body)
}

/// The state of an order whose sheet can no longer be changed; the book refuses it as well.
fn stands_still(screen: &Screen) -> Option<State> {
    screen.line.as_ref().map(|line| line.state).filter(|state| is_still(*state))
}

/// Whether the sheet of an order can no longer be changed in this state.
pub(super) fn is_still(state: State) -> bool {
    matches!(state, State::Inspected | State::Shipped | State::Closed)
}

/// Whether this viewer may change the sheet.
pub(super) fn may_write(viewer: &Viewer, screen: &Screen) -> bool {
    viewer.works_the_desk() && stands_still(screen).is_none()
}

fn new_head() -> Markup {
    html! {
        header .order-head {
            h1 { "New order" }
            p { "Enter the readings as they were written: " code { "31 5/16\"" } ", " code { "2.36" } ", " code { "795.3 mm" }
                "; repeats by the same hand with commas between them: " code { "2.262, 2.265, 2.264" }
                ". Nothing has to be complete. What does not agree, what is missing and what to ask next is said while you type." }
            p { "Is there a sheet already? " a href="#text" { "Paste it as text" } "." }
        }
    }
}

fn as_text(screen: &Screen, address: &str, writes: bool) -> Markup {
    let unreadable = screen.written.is_none();
    html! {
        details #as-text .more open[unreadable] {
            summary { "The sheet as text" }
            p .soft { "The order sheet in TOML. What is changed here goes into the form at the next review or when it is saved; "
                "comments and whatever the form does not show are kept as they are." }
            label .unseen for="text" { "Sheet as text" }
            // A line end at the beginning of a text field is dropped by the browser, so it gets one.
            textarea #text name="text" rows="18" spellcheck="false" disabled[!writes] { "\n" (screen.entered.base) }
            @if writes { p { button formaction={ (address) "/review" } { "Put the text into the form" } } }
        }
    }
}

/// The bar with which the sheet is reviewed and saved.
fn saving(screen: &Screen, address: &str) -> Markup {
    html! {
        div .saving {
            (standing(screen))
            @if screen.line.is_some() {
                div .field {
                    label for="reason" { "Reason for the change" }
                    input #reason name="reason" type="text" value=(screen.entered.reason) autocomplete="off" aria-describedby="suggested";
                    (suggested(screen))
                }
            }
            div .buttons {
                button formaction={ (address) "/review" } { "Review" }
                button .main { @if screen.line.is_some() { "Save revision " (screen.entered.seen + 1) } @else { "Take the order in" } }
            }
        }
    }
}

/// Where the sheet stands, in the bar that stays in sight while one types: verdict, fit, and how much is doubted or faulty.
fn standing(screen: &Screen) -> Markup {
    let threshold = screen.catalog.catalog().settings.thresholds.cut_at;
    let doubts = doubts_of(screen).iter().filter(|doubt| doubt.is_strong).count();
    let faults = screen.faults.len();
    html! {
        div #standing .glance data-part {
            @match &screen.reviewed {
                Some(reviewed) => {
                    a href="#verdict" { (marks::verdict(reviewed.review.verdict)) span .unseen { ": to the verdict and its reasons" } }
                    (marks::fit(reviewed.review.fit_probability.map(|fit| fit.value), threshold, reviewed.review.verdict.into()))
                    @match doubts {
                        0 => span .soft { "no strong doubt" },
                        1 => a href="#doubts" { "1 reading in doubt" },
                        several => a href="#doubts" { (several) " readings in doubt" },
                    }
                },
                None => a href="#verdict" { "no review" },
            }
            @match faults {
                0 => {},
                1 => a .fault href="#verdict" { "1 fault" },
                several => a .fault href="#verdict" { (several) " faults" },
            }
        }
    }
}

/// The reason that is written where nobody gives one.
pub(super) fn suggested(screen: &Screen) -> Markup {
    let words = screen.suggested_reason();
    html! {
        span #suggested .hint data-part data-changed[!screen.changed.is_empty()] {
            @if screen.line.is_some() && !words.is_empty() { "If it is left empty: " (words) }
        }
    }
}

/// The parts that follow while one types.
pub(super) fn live(viewer: &Viewer, screen: &Screen) -> Markup {
    let writes = may_write(viewer, screen);
    let doubts = doubts_of(screen);
    let address = address(screen);
    html! {
        (review_view::verdict(screen))
        (review_view::suspicions(screen, &doubts, &address, writes))
        (review_view::parts(screen, &address, writes))
        (review_view::sizes(screen))
        (review_view::conditions(screen))
        (review_view::proof(screen))
        (review_view::checks(screen))
        (suggested(screen))
        (standing(screen))
        @for doubt in &doubts { (form_view::note(screen, &doubts, &doubt.field)) }
        @for (place, fault) in screen.faults.iter().enumerate() {
            @if let Some(field) = &fault.field {
                @let told = screen.faults[..place].iter().any(|before| before.field == fault.field)
                    || doubts.iter().any(|doubt| doubt.field == *field);
                @if !told { (form_view::note(screen, &doubts, field)) }
            }
        }
        textarea #text-now data-text { "\n" (screen.entered.base) }
    }
}
