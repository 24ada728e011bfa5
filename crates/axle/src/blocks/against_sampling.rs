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

use catalog::{Catalog, Measurand, Scatter};
use reconcile::{Form, Marginal, MarginalPart, Mixture, Options};
use serde::Serialize;
use serde_json::Value;

use crate::block::Block;
use crate::chain::Chain;
use crate::evidence::take_in;
use crate::geometry::Geometry;
use crate::sheet::{Sheet, Side};
use crate::{choices, read_sheet};

/// With this variable set to anything, the orders are written to `validation/mixture` instead of compared with it. The recipe
/// there has to sample them anew.
const WRITE: &str = "AXLEWRIGHT_WRITE_MIXTURE";

static SHIPPED: LazyLock<Catalog> = LazyLock::new(|| Catalog::shipped().expect("the shipped catalog has no fault"));

/// The shipped catalog, but for the scatter of readings: all sheets are as their instruments should be.
static ALL_CAREFUL: LazyLock<Catalog> = LazyLock::new(|| {
    let mut catalog = SHIPPED.clone();
    catalog.settings.beliefs.scatter = vec![Scatter { multiple: 1.0, share: 1.0 }];
    catalog
});

/// An order of the demo, and what is written otherwise in it here.
struct Case {
    order: &'static str,
    name: &'static str,
    otherwise: &'static [(&'static str, &'static str)],
    catalog: &'static LazyLock<Catalog>,
}

/// One order without a mistake; one with a journal that was taken on the seal journal, and a shoulder distance that is two
/// millimetres short, so that it is in doubt; one with two shafts swapped and a brake offset that is wrong in a way that
/// several mistakes explain. The first is sampled with every scatter of its readings; for the longer ones that would take hours.
const CASES: [Case; 3] = [
    Case { order: "10-feed-van", name: "feed-van", otherwise: &[], catalog: &SHIPPED },
    Case {
        order: "06-ferry-shuttle",
        name: "ferry-shuttle",
        otherwise: &[("\"2.27\"", "\"2.19\"")],
        catalog: &ALL_CAREFUL,
    },
    Case {
        order: "05-orchard-runabout",
        name: "orchard-runabout",
        otherwise: &[("'2 11/32\"'", "'2 3/4\"'")],
        catalog: &ALL_CAREFUL,
    },
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

/// What is asked of an order: its chain, explained, without what the other topics say of the scatter.
fn with_chain<T>(case: &Case, options: &Options, ask: impl FnOnce(&Block<'_, Chain<'_>>) -> T) -> T {
    let sheet = sheet(case);
    let taken = take_in(&sheet, case.catalog);
    let differential = choices::differential(&sheet, case.catalog);
    let chains = choices::chains(&sheet, case.catalog, &differential, &taken);
    ask(&Block::explain(&taken, chains, case.catalog, options).expect("the models are sound"))
}

/// The forms of the dimensions. They hang on no choice of parts.
fn forms(chain: &Block<'_, Chain<'_>>) -> Vec<(&'static str, Form)> {
    let choice = &chain.choices[0];
    let form = |(name, measurand, side): &(&'static str, Measurand, Option<Side>)| {
        (*name, choice.form(*measurand, *side).expect("a measurand of the chain"))
    };
    DIMENSIONS.iter().map(form).collect()
}

fn order(chain: &Block<'_, Chain<'_>>) -> Order {
    let names = chain.taken.iter().map(|one| {
        let side = one.side.map(|side| format!(" {}", side.words())).unwrap_or_default();
        format!("{}{side}", one.row.words)
    });
    let forms = forms(chain).into_iter().map(|(name, form)| NamedForm {
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
        (Value::Object(a), Value::Object(b)) if a.len() == b.len() && a.keys().all(|key| b.contains_key(key)) => {
            a.iter().find_map(|(key, a)| difference(a, &b[key], &format!("{path}/{key}")))
        }
        _ => (one != other).then(|| format!("{path}: {:.40} and {:.40}", one.to_string(), other.to_string())),
    }
}

#[test]
fn the_orders_on_disk_are_those_that_the_program_makes() {
    for case in &CASES {
        let made = serde_json::to_value(with_chain(case, &Options::default(), order)).expect("it can be written");
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
    /// Whether it holds given that there are two mistakes at most.
    of_few: bool,
    estimate: f64,
    standard_error: f64,
}

/// What was sampled of an order, and from how many states of the chains.
fn sampled(case: &Case) -> (Vec<Sampled>, f64) {
    let text = fs::read_to_string(folder().join(case.name).with_extension("csv")).expect("the order was sampled");
    let head: Vec<f64> =
        text.lines().next().unwrap_or_default().split(' ').filter_map(|word| word.parse().ok()).collect();
    let [.., chains, sweeps, _] = head.as_slice() else { panic!("the first line says how many chains there were") };
    let rows = text.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| {
        let columns: Vec<&str> = line.split(',').collect();
        let number = |at: usize| columns[at].parse::<f64>().expect("a number");
        Sampled {
            what: columns[0].to_owned(),
            index: columns[1].parse().expect("an index"),
            name: columns[2].to_owned(),
            of_few: columns[3] == "two at most",
            estimate: number(4),
            standard_error: number(5),
        }
    });
    (rows.collect(), chains * sweeps)
}

/// The number that the program has for one of the recipe's.
struct Ours {
    value: f64,
    /// The standard deviation, where it is the mean or the standard deviation of a size.
    scale: Option<f64>,
    /// Standard deviation of what a single state of a chain says of it, were the program's mixture the truth.
    of_one_state: f64,
}

fn ours(mixture: &Mixture, marginals: &[Marginal], sampled: &Sampled) -> Ours {
    let probability = |value: f64| {
        let share = value.clamp(0.0, 1.0);
        Ours { value, scale: None, of_one_state: (share * (1.0 - share)).sqrt() }
    };
    // A state says of a size what its explanation does.
    let size = |value: f64, says: &dyn Fn(&MarginalPart) -> f64| {
        let marginal = &marginals[sampled.index];
        let parts = marginal.parts();
        let mean: f64 = parts.iter().map(|part| part.weight * says(part)).sum();
        let variance: f64 = parts.iter().map(|part| part.weight * (says(part) - mean).powi(2)).sum();
        Ours { value, scale: Some(marginal.standard_deviation()), of_one_state: variance.sqrt() }
    };
    match sampled.what.as_str() {
        "mistaken" => probability(mixture.mistaken()[sampled.index]),
        "model" => probability(mixture.model_probabilities()[sampled.index]),
        "mistakes" => {
            let few = mixture.explanations().iter().filter(|one| one.mistakes.len() <= sampled.index);
            probability(few.map(|one| one.probability).sum())
        }
        "mean" => size(marginals[sampled.index].mean(), &|part| part.mean),
        "deviation" => {
            let (mean, deviation) = (marginals[sampled.index].mean(), marginals[sampled.index].standard_deviation());
            size(deviation, &|part| (part.standard_deviation.powi(2) + (part.mean - mean).powi(2)) / (2.0 * deviation))
        }
        what => {
            let bound = what.strip_prefix("at most ").and_then(|bound| bound.parse().ok()).expect("a bound");
            probability(marginals[sampled.index].at_most(bound))
        }
    }
}

/// The differences that matter: in standard errors, and as they are, of each number with what it is of.
struct Off {
    of: String,
    z: f64,
    probability: Option<f64>,
}

fn compare(case: &Case, options: &Options, of_few: bool) -> Vec<Off> {
    with_chain(case, options, |chain| {
        let mixture = &chain.mixture;
        let marginals: Vec<Marginal> = forms(chain).iter().map(|(_, form)| mixture.marginal(form)).collect();
        let (all, draws) = sampled(case);
        all.iter()
            .filter(|one| one.of_few == of_few)
            .map(|one| {
                let ours = ours(mixture, &marginals, one);
                let off = ours.value - one.estimate;
                // Chains that have not met with something rare do not know how uncertain they are of it, so the standard
                // error is no smaller than that of independent states. The program says of its own numbers by how much
                // they may be off.
                let unmet = ours.of_one_state / draws.sqrt();
                // Where all chains say the same of a size, what is left is how it is reckoned and written: parts of the
                // mixture that look alike are taken together, and nine digits stand in the file. So sizes are compared to a
                // thousandth of their standard deviation.
                let stated = ours.scale.map_or(mixture.pruned(), |deviation| deviation * mixture.pruned().max(1e-3));
                let z = off / one.standard_error.max(unmet).hypot(stated);
                let ours_is = ours.value;
                let of = format!(
                    "{}, {} {} {}: {ours_is:.5} and {:.5}",
                    case.name, one.what, one.index, one.name, one.estimate
                );
                Off { of, z, probability: (ours.scale.is_none() && one.what != "mistakes").then_some(off) }
            })
            .collect()
    })
}

/// Of all that hold two mistakes at most the enumeration leaves nothing out, so only chance is between the two. Of three
/// hundred numbers one lies beyond 4.5 standard errors in one of five hundred seeds.
#[test]
fn up_to_two_mistakes_the_mixture_agrees_with_markov_chain_monte_carlo() {
    let options = Options { grown_from: None, ..Options::default() };
    for case in &CASES {
        let mut all = compare(case, &options, true);
        all.sort_by(|one, other| one.z.abs().total_cmp(&other.z.abs()));
        let (worst, usual) = (&all[all.len() - 1], &all[all.len() / 2]);
        println!(
            "{} numbers, usual {:.1} standard errors, worst {:.1}: {}",
            all.len(),
            usual.z.abs(),
            worst.z,
            worst.of
        );
        assert!(worst.z.abs() < 4.5, "{:.1} standard errors: {}", worst.z, worst.of);
    }
}

/// What three mistakes and more are worth that the enumeration does not grow from a likely pair, in probability, and what
/// chance adds: under half a point where an order holds none or one. Where it holds two already, others take their place that
/// need three: the swapped shafts of the third order may be right, and both reaches and both half widths swapped instead.
#[test]
fn what_the_enumeration_leaves_out_is_less_than_a_point() {
    for case in &CASES {
        let mut all = compare(case, &Options::default(), false);
        all.retain(|one| one.probability.is_some());
        all.sort_by(|one, other| {
            let size = |one: &Off| one.probability.map_or(0.0, f64::abs);
            size(one).total_cmp(&size(other))
        });
        let worst = &all[all.len() - 1];
        let off = worst.probability.unwrap_or_default();
        println!("{} probabilities, worst off by {:+.2} points: {}", all.len(), 100.0 * off, worst.of);
        assert!(off.abs() < 0.01, "{}", worst.of);
    }
}
