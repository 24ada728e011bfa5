//! Whether the stated chances come true: what was published, and small simulations with the catalog of this shop.

mod chart;
mod published;
mod tables;

use axle::simulate::{People, Zeal};
use axum::extract::{Form, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;

use crate::desk::Desk;
use crate::error::DeskError;
use crate::routes::{Routes, Who};
use crate::shell::{self, Place};
use crate::simulating::{ORDERS, Run, Standing, Wanted};
use crate::viewer::Viewer;
use crate::words::time;

/// Registers the simulator.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes.get("/simulator", Who::Readers, show).post("/simulator", Who::Desk, begin).post(
        "/simulator/stop",
        Who::Desk,
        stop,
    )
}

/// Which simulation is to be seen.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Seen {
    run: Option<String>,
}

/// What was filled in.
#[derive(Debug, Clone, Deserialize)]
#[serde(default)]
struct Filled {
    orders: String,
    seed: String,
    sheets: String,
    errors: String,
    mistakes: String,
    unknown: String,
}

impl Default for Filled {
    fn default() -> Self {
        let text = str::to_owned;
        Self {
            orders: text("200"),
            seed: text("1"),
            sheets: text("full"),
            errors: text("1"),
            mistakes: text("1"),
            unknown: text("0"),
        }
    }
}

/// A fault: which field, what is wrong and what would be accepted.
type FieldFault = (&'static str, String);

const ZEALS: [(&str, Zeal, &str); 3] = [
    ("full", Zeal::Full, "full: nearly everything measured"),
    ("usual", Zeal::Usual, "usual"),
    ("lean", Zeal::Lean, "lean: only what cannot be left out"),
];

impl Filled {
    fn wanted(&self) -> Result<Wanted, Vec<FieldFault>> {
        let mut faults = Vec::new();
        let orders = self.orders.trim().parse().ok().filter(|orders| ORDERS.contains(orders));
        if orders.is_none() {
            faults.push(("orders", format!("a whole number from {} to {}", ORDERS.start(), ORDERS.end())));
        }
        let seed = self.seed.trim().parse().ok();
        if seed.is_none() {
            faults.push(("seed", "a whole number from 0 on".to_owned()));
        }
        let zeal = ZEALS.iter().find(|(word, ..)| *word == self.sheets).map(|(_, zeal, _)| *zeal);
        if zeal.is_none() {
            faults.push(("sheets", "full, usual or lean".to_owned()));
        }
        let mut within = |field, text: &str, least: f64, most: f64| {
            let read = text.trim().parse().ok().filter(|value| (least..=most).contains(value));
            if read.is_none() {
                faults.push((field, format!("a number from {least} to {most}")));
            }
            read
        };
        let noise = within("errors", &self.errors, 0.1, 10.0);
        let rate = within("mistakes", &self.mistakes, 0.0, 10.0);
        let gross = within("unknown", &self.unknown, 0.0, 0.2);
        match (orders, seed, zeal, noise, rate, gross) {
            (Some(orders), Some(seed), Some(zeal), Some(noise), Some(rate), Some(gross)) => {
                Ok(Wanted { orders, seed, zeal, people: People { noise, rate, gross } })
            }
            _ => Err(faults),
        }
    }
}

async fn show(State(desk): State<Desk>, viewer: Viewer, Query(seen): Query<Seen>) -> Markup {
    page(&desk, &viewer, seen.run.as_deref(), &Filled::default(), &[])
}

async fn begin(State(desk): State<Desk>, viewer: Viewer, Form(filled): Form<Filled>) -> Result<Response, DeskError> {
    let wanted = match filled.wanted() {
        Ok(wanted) => wanted,
        Err(faults) => {
            let page = page(&desk, &viewer, None, &filled, &faults);
            return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
        }
    };
    let run = desk.simulating().begin(wanted, &viewer.person().name, desk.now(), desk.shop().catalog())?;
    Ok(Redirect::to(&format!("/simulator?run={}#run", run.number)).into_response())
}

async fn stop(State(desk): State<Desk>) -> Redirect {
    for run in desk.simulating().runs() {
        run.stop();
    }
    Redirect::to("/simulator#run")
}

fn page(desk: &Desk, viewer: &Viewer, seen: Option<&str>, filled: &Filled, faults: &[FieldFault]) -> Markup {
    let runs = desk.simulating().runs();
    let wanted = seen.and_then(|text| text.parse::<usize>().ok());
    let shown = runs.iter().find(|run| wanted.is_none_or(|number| number == run.number));
    let body = html! {
        h1 { "Do the stated chances come true?" }
        p { "Vehicles whose truth is known are drawn from the catalog and measured with its instruments and its mistakes; the sheets are "
            "reviewed and the shafts tried in the vehicle. Of the orders said to fit with 90 %, 90 % ought to fit. Beside the review stand a "
            "desk that cuts where the classical tests find nothing and one that checks nothing." }
        section #own aria-labelledby="own-title" {
            h2 #own-title { "With the catalog of this shop" }
            div .calculator {
                @if viewer.works_the_desk() { (form(filled, faults, runs.iter().any(|run| run.is_running()))) }
                div {
                    @match shown {
                        Some(run) => (result(run, viewer)),
                        None => div .empty { h3 { "Nothing has been simulated yet" }
                            p { "A simulation runs beside the desk and takes nothing from the book. Two hundred orders take some seconds, two "
                                "thousand some minutes. The same seed with the same catalog gives the same orders." } },
                    }
                    @if runs.len() > 1 {
                        nav aria-label="Simulations since the desk was opened" {
                            h3 { "Since the desk was opened" }
                            ul {
                                @for run in &runs {
                                    li { a href={ "/simulator?run=" (run.number) "#run" } { "Simulation " (run.number) } ", " (describes(&run.wanted)) }
                                }
                            }
                        }
                    }
                }
            }
        }
        (published::section())
    };
    shell::page(viewer, Place::Simulator, "Simulator", &body)
}

fn describes(wanted: &Wanted) -> String {
    let zeal = ZEALS.iter().find(|(_, zeal, _)| *zeal == wanted.zeal).map_or("", |(word, ..)| word);
    format!("{} orders, {zeal} sheets, seed {}", wanted.orders, wanted.seed)
}

fn result(run: &Run, viewer: &Viewer) -> Markup {
    let (standing, tally) = run.outcome();
    let running = matches!(standing, Standing::Running);
    html! {
        div #run .card.printed data-part data-poll=[running.then_some("1000")] {
            h3 { "Simulation " (run.number) ": " (describes(&run.wanted)) }
            p .soft {
                (time(run.at)) ", " (run.who) ". Errors × " (run.wanted.people.noise) " and mistakes × " (run.wanted.people.rate)
                " of what the catalog says. Catalog " code { (run.catalog_mark.get(..12).unwrap_or_default()) } "."
            }
            @match &standing {
                Standing::Running => {
                    p {
                        label for="progress" { (run.done()) " of " (run.wanted.orders) " orders tried" }
                        " " progress #progress value=(run.done()) max=(run.wanted.orders) {}
                    }
                    @if viewer.works_the_desk() { form method="post" action="/simulator/stop" { button { "Stop it" } } }
                    p .soft { "The page keeps itself up to date; without scripts, load it again." }
                }
                Standing::Failed(why) => p .notice.bad { "It could not go on: " (why) },
                Standing::Stopped => p .notice.warn { "It was stopped after " (run.done()) " orders. What had been counted by then:" },
                Standing::Finished => {}
            }
            @if !running && tally.orders > 0 { (tables::of_tally(&tally)) }
        }
    }
}

fn form(filled: &Filled, faults: &[FieldFault], running: bool) -> Markup {
    let fault = |field: &str| faults.iter().find(|(known, _)| *known == field).map(|(_, accepted)| accepted.as_str());
    let fields = [
        ("orders", "Orders", &filled.orders, "20 to 2000"),
        ("seed", "Seed", &filled.seed, "the same seed gives the same orders"),
        ("errors", "Errors", &filled.errors, "times what the catalog says of the instruments"),
        ("mistakes", "Mistakes", &filled.mistakes, "times what the catalog says"),
        ("unknown", "Wrong in no known way", &filled.unknown, "share of the readings, 0 to 0.2"),
    ];
    html! {
        form .sheet-form method="post" action="/simulator" {
            fieldset {
                legend { "A simulation" }
                div .fields {
                    @for (id, label, text, hint) in fields {
                        div .field {
                            label for=(id) { (label) }
                            input id=(id) name=(id) value=(text) inputmode="decimal" autocomplete="off" maxlength="20"
                                aria-describedby={ (id) "-hint" } aria-invalid=[fault(id).map(|_| "true")];
                            span .hint id={ (id) "-hint" } {
                                (hint)
                                @if let Some(accepted) = fault(id) { br; span .fault { "This cannot be used. Accepted: " (accepted) } }
                            }
                        }
                    }
                    div .field.wide {
                        label for="sheets" { "Sheets" }
                        select #sheets name="sheets" {
                            @for (word, _, words) in ZEALS { option value=(word) selected[word == filled.sheets] { (words) } }
                        }
                        @if let Some(accepted) = fault("sheets") { span .fault { "Accepted: " (accepted) } }
                    }
                }
            }
            // Follows the simulation, so that the next one can begin once this one has ended.
            div #begin data-part {
                button .main disabled[running] { "Begin" }
                @if running { " " span .soft { "One runs; there is one at a time." } }
            }
        }
    }
}
