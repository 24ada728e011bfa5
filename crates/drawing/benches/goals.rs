//! How long the files of every order of the demo take, from a review to the last byte, beside the goal of each: the median of
//! several runs, over all orders, the usual one and the slowest. Beside them stands the slowest order by its fastest run, which
//! other work on the machine cannot lengthen.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "a benchmark fails by panicking and prints what it found")]
#![allow(clippy::disallowed_types, reason = "a benchmark reads the clock")]

use std::hint::black_box;
use std::time::{Duration, Instant};

use axle::{Catalog, Review, Sheet};
use drawing::{Request, Standard, StepRequest, StepUnit, Units, View, draw, dxf, step, svg};

const RUNS: usize = 15;

const VIEWS: [View; 4] = [View::Shaft, View::Flange, View::Housing, View::Pair];

const LOOKS: [(&str, Standard, Units); 4] = [
    ("ISO, millimetre", Standard::Iso, Units::Millimetre),
    ("ISO, both", Standard::Iso, Units::Dual { inches_first: false }),
    ("ASME, inch", Standard::Asme, Units::Inch),
    ("ASME, both", Standard::Asme, Units::Dual { inches_first: true }),
];

fn reviewed() -> Vec<(Sheet, Review)> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/orders");
    let catalog = Catalog::shipped().unwrap();
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    let read = |path: &std::path::PathBuf| {
        let text = std::fs::read_to_string(path).unwrap();
        let sheet = axle::read_sheet("order.toml", &text, &catalog).unwrap();
        let review = axle::review_without_questions(&sheet, &catalog).unwrap();
        (sheet, review)
    };
    files.iter().map(read).collect()
}

/// The median time of one order, and the least.
fn timed(mut work: impl FnMut() -> String) -> (Duration, Duration) {
    let mut times: Vec<Duration> = (0..RUNS)
        .map(|_| {
            let begun = Instant::now();
            black_box(work());
            begun.elapsed()
        })
        .collect();
    times.sort();
    (times[RUNS / 2], times[0])
}

/// One line: the usual and the slowest order against the goal.
fn line(what: &str, goal_ms: f64, mut times: Vec<((Duration, Duration), String)>) {
    times.sort();
    let least = times.iter().map(|((_, least), _)| *least).max().unwrap();
    let in_ms = |time: Duration| 1000.0 * time.as_secs_f64();
    let (usual, (slowest, order)) = (in_ms(times[times.len() / 2].0.0), times.pop().unwrap());
    let (slowest, least) = (in_ms(slowest.0), in_ms(least));
    let verdict = if slowest <= goal_ms { "" } else { "  MISSED" };
    println!(
        "{what:<34} {usual:>9.3} {slowest:>9.3} {least:>9.3} {goal_ms:>7.0}   {:>6.2}   {order}{verdict}",
        slowest / goal_ms
    );
}

fn main() {
    let orders = reviewed();
    println!(
        "{:<34} {:>9} {:>9} {:>9} {:>7}   {:>6}   slowest order",
        "median of a file, ms", "usual", "slowest", "its least", "goal", "ratio"
    );
    for (format, goal_ms, write) in [("SVG", 2.0, svg as fn(&drawing::Drawing) -> String), ("DXF", 5.0, dxf)] {
        for view in VIEWS {
            for (look, standard, units) in LOOKS {
                let time = |(sheet, review): &(Sheet, Review)| {
                    let side = sheet.wanted[0];
                    let request =
                        Request { view, side, standard, units, date: "2026-11-25", revision: "1", approved: false };
                    (timed(|| write(&draw(sheet, review, &request))), review.reference.clone())
                };
                line(&format!("{format}, {view:?}, {look}"), goal_ms, orders.iter().map(time).collect());
            }
        }
    }
    for teeth in [false, true] {
        let time = |(sheet, review): &(Sheet, Review)| {
            let side = sheet.wanted[0];
            let request =
                StepRequest { side, teeth, unit: StepUnit::Millimetre, date: None, revision: "1", approved: false };
            let write = || step(review, &request).map(|(text, _)| text).unwrap_or_default();
            (timed(write), review.reference.clone())
        };
        let what = if teeth { "STEP, with teeth" } else { "STEP" };
        line(what, 200.0, orders.iter().map(time).collect());
    }
}
