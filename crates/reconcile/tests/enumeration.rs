//! Whole orders against numpy, which weighs each explanation afresh, and against mpmath at 40 digits: see
//! `validation/enumeration/README.md`.

#![expect(clippy::unwrap_used, reason = "a test that cannot read its reference must fail")]

#[path = "../examples/enumerate/file.rs"]
mod file;
#[path = "../examples/enumerate/order.rs"]
mod order;

use std::collections::BTreeMap;

use reconcile::{Mixture, Model, Options, explain};

use crate::file::File;

const USUAL: &str = include_str!("../../../validation/enumeration/usual.json");
const FULL: &str = include_str!("../../../validation/enumeration/full.json");
const USUAL_PROBABILITIES: &str = include_str!("../../../validation/enumeration/usual.csv");
const FULL_PROBABILITIES: &str = include_str!("../../../validation/enumeration/full.csv");
const EXACT: &str = include_str!("../../../validation/enumeration/exact.csv");

fn models(json: &str) -> Vec<Model> {
    serde_json::from_str::<File>(json).unwrap().models()
}

fn rows(text: &str) -> Vec<Vec<&str>> {
    text.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| line.split(',').collect()).collect()
}

fn indices(text: &str) -> Vec<usize> {
    text.split_whitespace().map(|index| index.parse().unwrap()).collect()
}

fn numbers(text: &str) -> Vec<f64> {
    text.split_whitespace().map(|number| number.parse().unwrap()).collect()
}

fn all_explanations(models: &[Model], most_mistakes: usize) -> Mixture {
    explain(models, &Options { most_mistakes, grown_from: None, negligible: 0.0 }).unwrap()
}

fn compare_probabilities(json: &str, most_mistakes: usize, expected: &str) {
    let mixture = all_explanations(&models(json), most_mistakes);
    let found: BTreeMap<(usize, &[usize]), f64> =
        mixture.explanations().iter().map(|e| ((e.model, &e.mistakes[..]), e.probability)).collect();
    let expected = rows(expected);
    assert_eq!(found.len(), expected.len());
    let mut worst = 0.0_f64;
    for row in &expected {
        let probability: f64 = row[2].parse().unwrap();
        let key = (row[0].parse().unwrap(), &indices(row[1])[..]);
        worst = worst.max((found[&key] - probability).abs());
    }
    println!("{} probabilities, worst deviation from numpy {worst:.1e}", expected.len());
    assert!(worst <= 1e-9);
}

#[test]
fn the_usual_order_agrees_with_numpy_up_to_two_mistakes() {
    compare_probabilities(USUAL, 2, USUAL_PROBABILITIES);
}

#[test]
fn the_full_order_agrees_with_numpy_up_to_one_mistake() {
    compare_probabilities(FULL, 1, FULL_PROBABILITIES);
}

#[test]
fn the_orders_on_disk_are_those_that_the_program_makes() {
    for (json, size) in [(USUAL, order::USUAL), (FULL, order::FULL)] {
        let made = serde_json::to_string(&File::of(&order::order(size))).unwrap();
        assert!(made == json.trim(), "write validation/enumeration/*.json again with the example `enumerate`");
    }
}

/// The worst deviations of explanations with none or one, and with two mistakes.
#[derive(Default, Debug)]
struct Worst {
    ln_weight: [f64; 2],
    mean: [f64; 2],
    standard_deviation: [f64; 2],
}

/// Compares with the exact values, the priors that are not firm made `factor` times as wide.
fn compare_exactly(factor: f64) -> Worst {
    let mut models = models(USUAL);
    for prior in models.iter_mut().flat_map(|model| &mut model.priors).filter(|prior| !prior.firm) {
        prior.standard_deviation *= factor;
    }
    let mixture = all_explanations(&models, 2);
    let rows = rows(EXACT);
    let mut worst = Worst::default();
    let mut compared = 0;
    for row in rows.iter().filter(|row| row[0].parse() == Ok(factor)) {
        let mistakes = indices(row[1]);
        let kind = usize::from(mistakes.len() == 2);
        let found = mixture.explanations().iter().find(|e| e.model == 0 && *e.mistakes == mistakes).unwrap();
        let ln_weight: f64 = row[2].parse().unwrap();
        let deviation = (found.ln_weight - ln_weight).abs() / ln_weight.abs().max(1.0);
        worst.ln_weight[kind] = worst.ln_weight[kind].max(deviation);
        let posterior = mixture.posterior(found).unwrap();
        for (at, (mean, deviation)) in numbers(row[3]).into_iter().zip(numbers(row[4])).enumerate() {
            let found = posterior.covariance[(at, at)].sqrt();
            worst.mean[kind] = worst.mean[kind].max((posterior.mean[at] - mean).abs() / deviation);
            worst.standard_deviation[kind] = worst.standard_deviation[kind].max((found / deviation - 1.0).abs());
        }
        compared += 1;
    }
    println!("{compared} explanations with priors {factor} times as wide, none or one mistake and two: {worst:?}");
    assert!(compared > 100);
    worst
}

#[test]
fn usual_priors_agree_with_mpmath() {
    // Priors up to 600 times as wide as a reading.
    let worst = compare_exactly(1.0);
    for kind in 0..2 {
        assert!(worst.ln_weight[kind] <= 1e-11);
        assert!(worst.mean[kind] <= 1e-9);
        assert!(worst.standard_deviation[kind] <= 1e-9);
    }
}

/// How much is lost where priors are up to 2.4e5 times as wide as a reading. The weights hardly suffer. A posterior variance
/// may lose the square of that ratio times the rounding of a double, 1e-5: where a reading alone determines an unknown and is
/// exchanged, the covariance first grows to that of the prior and then shrinks again.
#[test]
fn very_wide_priors_agree_with_mpmath() {
    let worst = compare_exactly(400.0);
    for kind in 0..2 {
        assert!(worst.ln_weight[kind] <= 1e-9);
        assert!(worst.mean[kind] <= 1e-7);
        assert!(worst.standard_deviation[kind] <= 1e-6);
    }
}
