//! Times of weighing all explanations of an invented order, of the usual and of the full size, and of the probability that
//! some conditions hold together.

#[path = "../examples/enumerate/order.rs"]
mod order;

use divan::Bencher;
use reconcile::{Bounded, Form, Model, Options, Prior, explain};

use crate::order::{FULL, USUAL, order};

fn main() {
    divan::main();
}

/// Every explanation with up to so many mistakes.
fn weighing_all(bencher: Bencher, models: &[Model], most_mistakes: usize) {
    let options = Options { most_mistakes, grown_from: None, negligible: 0.0 };
    bencher.bench(|| explain(divan::black_box(models), &options));
}

#[divan::bench(args = [0, 1, 2])]
fn usual(bencher: Bencher, most_mistakes: usize) {
    weighing_all(bencher, &order(USUAL), most_mistakes);
}

#[divan::bench(args = [0, 1, 2])]
fn full(bencher: Bencher, most_mistakes: usize) {
    weighing_all(bencher, &order(FULL), most_mistakes);
}

/// As orders are reviewed: without what a bound shows to be negligible, and with three mistakes grown from the best two.
#[divan::bench]
fn usual_pruned_and_grown(bencher: Bencher) {
    let models = order(USUAL);
    bencher.bench(|| explain(divan::black_box(&models), &Options::default()));
}

/// Likewise, of the full size.
#[divan::bench]
fn full_pruned_and_grown(bencher: Bencher) {
    let models = order(FULL);
    bencher.bench(|| explain(divan::black_box(&models), &Options::default()));
}

/// Conditions that share one error, each of which holds with 84 % (one standard deviation) or 99.9 % (three).
fn conditions_together(bencher: Bencher, count: usize, deviations: f64) {
    let unit = Prior { mean: 0.0, standard_deviation: 1.0, firm: false };
    let model = Model { weight: 1.0, priors: vec![unit; count + 1], readings: vec![], mistakes: vec![] };
    let form = |at: usize| Form::new([(0, 0.6), (at + 1, 0.8)], 0.0);
    let condition = |at| Bounded { form: form(at), least: -deviations, most: f64::INFINITY, own_variance: 0.0 };
    let conditions: Vec<Bounded> = (0..count).map(condition).collect();
    let Ok(mixture) = explain(&[model], &Options::default()) else { return };
    bencher.bench(|| mixture.joint_probability(|_| Some(divan::black_box(conditions.clone()))));
}

#[divan::bench(args = [2, 4, 8])]
fn doubtful_conditions(bencher: Bencher, count: usize) {
    conditions_together(bencher, count, 1.0);
}

#[divan::bench(args = [2, 4, 8])]
fn likely_conditions(bencher: Bencher, count: usize) {
    conditions_together(bencher, count, 3.0);
}
