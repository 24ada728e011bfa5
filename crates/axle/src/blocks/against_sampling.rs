//! The chain of three orders of the demo against Markov chain Monte Carlo, which walks through the explanations and
//! enumerates none: see `validation/mixture/README.md`.
//!
//! The sampler allows any number of mistakes. What the enumeration leaves out, three mistakes beside those that it takes for
//! granted and more, shows here as the difference.

// The other half, which reads models, serves the tests of `reconcile`.
#[allow(dead_code, reason = "the models are only written here")]
#[path = "../../../reconcile/examples/enumerate/file.rs"]
mod file;


use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use catalog::{Catalog, Measurand};
use reconcile::{Form, Mixture, Options};
use serde::Serialize;
use serde_json::Value;

use super::Blocks;
use crate::evidence::take_in;
use crate::geometry::Geometry;
use crate::sheet::{Sheet, Side};
use crate::{choices, read_sheet};

/// With this variable set to anything, the orders are written to `validation/mixture` instead of compared with it. The recipe
/// there has to sample them anew.
const WRITE: &str = "AXLEWRIGHT_WRITE_MIXTURE";

static SHIPPED: LazyLock<Catalog> = LazyLock::new(|| Catalog::shipped().expect("the shipped catalog has no fault"));

/// An order of the demo, and what is written otherwise in it here.
struct Case {
    order: &'static str,
    name: &'static str,
    otherwise: &'static [(&'static str, &'static str)],
}

/// One order without a mistake; one with a journal that was taken on the seal journal, and a shoulder distance that is two
/// millimetres short, so that it is in doubt; one with two shafts swapped and a brake offset that is wrong in a way that
/// several mistakes explain.
const CASES: [Case; 3] = [
    Case { order: "10-feed-van", name: "feed-van", otherwise: &[] },
    Case { order: "06-ferry-shuttle", name: "ferry-shuttle", otherwise: &[("\"2.27\"", "\"2.19\"")] },
    Case { order: "05-orchard-runabout", name: "orchard-runabout", otherwise: &[("'2 11/32\"'", "'2 3/4\"'")] },
];

/// The dimensions that are compared: lengths along the shaft, and its diameters.
const DIMENSIONS: [(&str, Measurand, Option<Side>); 12] = [
    ("shoulder distance", Measurand::ShoulderDistance, None),
    ("race distance", Measurand::RaceDistance, None),
    ("brake offset", Measurand::BrakeOffset, None),
    ("overall length left", Measurand::OverallLength, Some(Side::Left)),
    ("overall length right", Measurand::OverallLength, Some(Side::Right)),
    ("reach left", Measurand::Reach, Some(Side::Left)),
    ("reach right", Measurand::Reach, Some(Side::Right)),
    ("flange thickness", Measurand::FlangeThickness, None),
    ("wheel pilot height", Measurand::WheelPilotHeight, None),
    ("journal", Measurand::JournalDiameter, None),
    ("ring seat", Measurand::RingSeatDiameter, None),
    ("seal journal", Measurand::SealJournalDiameter, None),
];

/// An order as the recipe reads it.
#[derive(Serialize)]
struct Order {
    /// The readings by name, in the order of the models.
    readings: Vec<String>,
    forms: Vec<NamedForm>,
    #[serde(flatten)]
    models: file::File,
}

#[derive(Serialize)]
struct NamedForm {
    name: &'static str,
    terms: Vec<(usize, f64)>,
    constant: f64,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../validation/mixture")
}

fn sheet(case: &Case) -> Sheet {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/orders").join(case.order);
    let mut text = fs::read_to_string(path.with_extension("toml")).expect("the order is there");
    for (written, otherwise) in case.otherwise {
        assert_eq!(text.matches(written).count(), 1, "{}: {written} is not written once", case.order);
        text = text.replace(written, otherwise);
    }
    read_sheet(case.order, &text, &SHIPPED).expect("the sheet can be read")
}

/// What is asked of an order: its chain, explained.
fn with_blocks<T>(case: &Case, options: &Options, ask: impl FnOnce(&Blocks<'_>) -> T) -> T {
    let sheet = sheet(case);
    let taken = take_in(&sheet, &SHIPPED);
    let differential = choices::differential(&sheet, &SHIPPED);
    let blocks = Blocks::explain(&sheet, &SHIPPED, &differential, &taken, options).expect("the models are sound");
    ask(&blocks)
}

/// The forms of the dimensions. They hang on no choice of parts.
fn forms(blocks: &Blocks<'_>) -> Vec<(&'static str, Form)> {
    let choice = &blocks.chain.choices[0];
    let form = |(name, measurand, side): &(&'static str, Measurand, Option<Side>)| {
        (*name, choice.form(*measurand, *side).expect("a measurand of the chain"))
    };
    DIMENSIONS.iter().map(form).collect()
}

fn order(blocks: &Blocks<'_>) -> Order {
    let chain = &blocks.chain;
    let names = chain.taken.iter().map(|one| {
        let side = one.side.map(|side| format!(" {}", side.words())).unwrap_or_default();
        format!("{}{side}", one.row.words)
    });
    let forms = forms(blocks).into_iter().map(|(name, form)| NamedForm {
        name,
        terms: form.terms().to_vec(),
        constant: form.constant(),
    });
    Order { readings: names.collect(), forms: forms.collect(), models: file::File::of(&chain.models) }
}

/// Where two JSON values differ, numbers by more than the last bits that another processor may change.
fn difference(one: &Value, other: &Value, path: &str) -> Option<String> {
    match (one, other) {
        (Value::Number(a), Value::Number(b)) => {
            let (a, b) = (a.as_f64()?, b.as_f64()?);
            ((a - b).abs() > 1e-12 * a.abs().max(1.0)).then(|| format!("{path}: {a} and {b}"))
        }
        (Value::Array(a), Value::Array(b)) if a.len() == b.len() => {
            a.iter().zip(b).enumerate().find_map(|(at, (a, b))| difference(a, b, &format!("{path}/{at}")))
        }
        (Value::Object(a), Value::Object(b)) if a.keys().eq(b.keys()) => {
            a.iter().find_map(|(key, a)| difference(a, &b[key], &format!("{path}/{key}")))
        }
        _ => (one != other).then(|| format!("{path}: {one:.40} and {other:.40}")),
    }
}

#[test]
fn the_orders_on_disk_are_those_that_the_program_makes() {
    for case in &CASES {
        let made = serde_json::to_value(with_blocks(case, &Options::default(), order)).expect("it can be written");
        let path = folder().join(case.name).with_extension("json");
        if std::env::var_os(WRITE).is_some() {
            fs::write(&path, format!("{made}\n")).expect("it can be written");
            continue;
        }
        let text = fs::read_to_string(&path).expect("the order was written");
        let on_disk: Value = serde_json::from_str(&text).expect("it is JSON");
        let differs = difference(&on_disk, &made, case.name);
        assert_eq!(
            differs, None,
            "on disk and made today; write the orders again with {WRITE}=1 and sample them with validation/mixture/recipe.py"
        );
    }
}

/// One number of the recipe.
struct Sampled {
    what: String,
    index: usize,
    name: String,
    estimate: f64,
    standard_error: f64,
}

fn sampled(case: &Case) -> Vec<Sampled> {
    let text = fs::read_to_string(folder().join(case.name).with_extension("csv")).expect("the order was sampled");
    let rows = text.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| {
        let columns: Vec<&str> = line.split(',').collect();
        let number = |at: usize| columns[at].parse::<f64>().expect("a number");
        Sampled {
            what: columns[0].to_owned(),
            index: columns[1].parse().expect("an index"),
            name: columns[2].to_owned(),
            estimate: number(3),
            standard_error: number(4),
        }
    });
    rows.collect()
}

/// The number that the program has for one of the recipe's, and the scale of what is compared: one for probabilities, the
/// standard deviation for sizes.
fn ours(mixture: &Mixture, forms: &[(&'static str, Form)], sampled: &Sampled) -> (f64, f64) {
    let marginal = || mixture.marginal(&forms[sampled.index].1);
    match sampled.what.as_str() {
        "mistaken" => (mixture.mistaken()[sampled.index], 1.0),
        "model" => (mixture.model_probabilities()[sampled.index], 1.0),
        "mistakes" => {
            let few = mixture.explanations().iter().filter(|one| one.mistakes.len() <= sampled.index);
            (few.map(|one| one.probability).sum(), 1.0)
        }
        "mean" => (marginal().mean(), marginal().standard_deviation()),
        "deviation" => (marginal().standard_deviation(), marginal().standard_deviation()),
        what => {
            let bound = what.strip_prefix("at most ").and_then(|bound| bound.parse().ok()).expect("a bound");
            (marginal().at_most(bound), 1.0)
        }
    }
}

#[test]
fn the_mixture_agrees_with_markov_chain_monte_carlo() {
    for case in &CASES {
        with_blocks(case, &Options::default(), |blocks| {
            let (mixture, forms) = (&blocks.chain.mixture, forms(blocks));
            for one in &sampled(case) {
                let (ours, scale) = ours(mixture, &forms, one);
                let off = (ours - one.estimate) / scale;
                let z = off * scale / one.standard_error.max(1e-12 * scale);
                if off.abs() > 0.0005 { println!("{} {} {} {}: {:.6} {:.6} off {:.5} z {:.1}", case.name, one.what, one.index, one.name, ours, one.estimate, off, z); }
            }
        });
    }
}
