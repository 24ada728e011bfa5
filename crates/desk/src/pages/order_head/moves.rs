//! Where an order may go from here: one button a move, with room for a reason where the move asks for one.

use book::{Judgement, Move, Need, OrderLine, State};
use maud::{Markup, html};

use crate::viewer::Viewer;

/// What a move asks for, as the order stands.
enum Asks {
    Nothing,
    Reason(&'static str),
    /// A reason where something is not as it should be.
    Maybe(&'static str),
    /// It cannot be done, and why.
    Never(&'static str),
}

/// The moves that this viewer may make.
pub(super) fn forms(viewer: &Viewer, line: &OrderLine) -> Markup {
    let person = viewer.person();
    let open: Vec<&Move> = line.state.moves().filter(|one| person.is_one_of(one.roles)).collect();
    if open.is_empty() {
        return html! {};
    }
    html! {
        div .moves role="group" aria-label="Where this order may go" {
            @for one in open { (form(line, one)) }
        }
    }
}

/// One move as a form. It carries what its sender has seen.
pub(crate) fn form(line: &OrderLine, one: &Move) -> Markup {
    let words = words(one);
    let is_main = is_forward(one);
    let address = format!("/orders/{}/move", line.number);
    let seen = html! {
        input type="hidden" name="revision" value=(line.revision);
        input type="hidden" name="from" value=(one.from.key());
        input type="hidden" name="to" value=(one.to.key());
        input type="hidden" name="verdict" value=(line.judgement.words());
    };
    match asks(line, one) {
        Asks::Nothing => html! {
            form method="post" action=(address) { (seen) button .main[is_main] { (words) } }
        },
        Asks::Reason(label) | Asks::Maybe(label) => {
            let must = matches!(asks(line, one), Asks::Reason(_));
            let id = format!("reason-{}", one.to.key());
            html! {
                details .move {
                    summary .button { (words) " …" }
                    form .card method="post" action=(address) {
                        (seen)
                        div .field {
                            label for=(id) { (label) }
                            textarea #(id) name="reason" rows="2" required[must] maxlength="4000" {}
                            p .hint { "It is written down with your name and stays in the book." }
                        }
                        button .main { (words) }
                    }
                }
            }
        }
        Asks::Never(why) => html! { p .never { strong { (words) ": " } (why) } },
    }
}

fn asks(line: &OrderLine, one: &Move) -> Asks {
    const STOP: &str = "not while the review says stop. Nobody can overrule that; only another revision changes it.";
    match (one.needs, line.judgement) {
        (Need::Nothing, _) => Asks::Nothing,
        (Need::Reason, _) => {
            Asks::Reason(if one.to == State::Remade { "What has to be made again, and why" } else { "Why" })
        }
        (Need::NoStop | Need::Measured | Need::Verdict, Judgement::Stop) => Asks::Never(STOP),
        (Need::NoStop | Need::Measured | Need::Verdict, Judgement::Unreadable) => {
            Asks::Never("the sheet names rows that the catalog no longer holds. Another revision has to name others.")
        }
        (Need::NoStop | Need::Measured, Judgement::Ask) if line.overruled.is_none() => {
            Asks::Reason("The review would ask by now. Why go on all the same")
        }
        (Need::Verdict, Judgement::Ask) => Asks::Reason("The review would ask first. Why cut all the same"),
        (Need::Measured, _) => Asks::Maybe("Why, where sizes are out of their limits or were not measured"),
        (Need::NoStop, _) | (Need::Verdict, Judgement::Cut) => Asks::Nothing,
    }
}

/// Whether the move is the next step of an order that goes well.
fn is_forward(one: &Move) -> bool {
    use State as S;
    matches!(
        (one.from, one.to),
        (_, S::Approved)
            | (S::Approved, S::InWork)
            | (S::InWork, S::Inspected)
            | (S::Inspected, S::Shipped)
            | (S::Shipped, S::Closed)
    )
}

/// What the button says.
pub(crate) fn words(one: &Move) -> &'static str {
    use State as S;
    match (one.from, one.to) {
        (_, S::Approved) => "Approve to cut",
        (S::Received | S::Remade, S::Questioned) => "The customer is asked",
        (S::Approved, S::Questioned) => "Take the approval back",
        (_, S::Questioned) => "Stop the work and ask",
        (_, S::Received) => "The answers are in",
        (S::Inspected, S::InWork) => "Back to work",
        (_, S::InWork) => "Begin the work",
        (_, S::Inspected) => "The shafts are inspected",
        (_, S::Shipped) => "The shafts are shipped",
        (_, S::Closed) => "Close",
        (_, S::Remade) => "Make once more",
    }
}
