//! What is known after a further reading, and what it may be expected to bring, against dense quadrature and brute force: see
//! `validation/further_reading/README.md`.

#![expect(clippy::unwrap_used, reason = "a test that cannot read its reference must fail")]

use reconcile::{Between, Form, FurtherReading, Model, Options, Prior, Projection, Seen, explain};
use serde::Deserialize;

const MIXTURE: &str = include_str!("../../../validation/further_reading/mixture.json");
const AFTER: &str = include_str!("../../../validation/further_reading/after.csv");
const EXPECTED: &str = include_str!("../../../validation/further_reading/expected.csv");

#[derive(Deserialize)]
struct Mixture {
    parts: Vec<PartEntry>,
    conditions: Vec<Condition>,
    readings: Vec<ReadingEntry>,
}

#[derive(Deserialize)]
struct PartEntry {
    weight: f64,
    mean: Vec<f64>,
    root: Vec<Vec<f64>>,
}

/// A form must stay within a size less `below` and the size more `above`.
#[derive(Deserialize)]
struct Condition {
    form: usize,
    below: f64,
    above: f64,
    own_variance: f64,
}

#[derive(Deserialize)]
struct ReadingEntry {
    form: usize,
    standard_uncertainty: f64,
    mistaken: f64,
    usual: f64,
}

/// The conditions bind the first forms.
const KEPT: usize = 2;

fn mixture() -> Mixture {
    serde_json::from_str(MIXTURE).unwrap()
}

/// The mixture as a projection: a model for each part, without a reading, whose forms are sums of independent unknowns.
fn projection(mixture: &Mixture) -> Projection {
    let unknowns = mixture.parts[0].mean.len();
    let prior = Prior { mean: 0.0, standard_deviation: 1.0, firm: true };
    let model = |part: &PartEntry| Model {
        weight: part.weight,
        priors: vec![prior; unknowns],
        readings: Vec::new(),
        mistakes: Vec::new(),
    };
    let models: Vec<Model> = mixture.parts.iter().map(model).collect();
    let explained = explain(&models, &Options::default()).unwrap();
    let forms = |model: usize| {
        let part = &mixture.parts[model];
        let of = |(mean, root): (&f64, &Vec<f64>)| Form::new(root.iter().copied().enumerate(), *mean);
        part.mean.iter().zip(&part.root).map(of).collect()
    };
    explained.project_by_model(forms, Seen::all_of(unknowns), |model| model)
}

fn further(entry: &ReadingEntry) -> FurtherReading {
    FurtherReading {
        form: entry.form,
        standard_uncertainty: entry.standard_uncertainty,
        mistaken: entry.mistaken,
        usual: entry.usual,
    }
}

/// The conditions about sizes that follow the means of what is known.
fn conditions(mixture: &Mixture, known: &Projection) -> Vec<Between> {
    let between = |condition: &Condition| {
        let size = known.marginal(condition.form).mean();
        Between {
            form: condition.form,
            least: size - condition.below,
            most: size + condition.above,
            own_variance: condition.own_variance,
        }
    };
    mixture.conditions.iter().map(between).collect()
}

/// The chance that both conditions hold, exactly and roughly.
fn within(mixture: &Mixture, known: &Projection) -> [f64; 2] {
    let conditions = conditions(mixture, known);
    let exact = known.joint_probability(|_| Some(conditions.clone())).probability;
    [exact, known.rough_probability(&conditions, |_| true)]
}

fn rows(text: &str) -> Vec<Vec<&str>> {
    text.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| line.split(',').collect()).collect()
}

fn numbers(text: &str) -> Vec<f64> {
    text.split_whitespace().map(|number| number.parse().unwrap()).collect()
}

/// The tolerances follow from what `after` says of itself: parts that weigh less than 1e-4 are dropped, and a mistaken reading
/// tells nothing at all, where the recipe lets it tell what little its wide error permits.
#[test]
fn what_is_known_after_a_reading_agrees_with_bayes_rule() {
    let mixture = mixture();
    let before = projection(&mixture);
    let mut worst = [0.0_f64; 5];
    for row in rows(AFTER) {
        let reading = further(&mixture.readings[row[0].parse::<usize>().unwrap()]);
        let known = before.after(&reading, row[1].parse().unwrap(), KEPT);
        let (means, deviations) = (numbers(row[2]), numbers(row[3]));
        let [exact, rough] = within(&mixture, &known);
        let probability: f64 = row[5].parse().unwrap();
        let covariance = known.overall_covariance(0, 1) - row[4].parse::<f64>().unwrap();
        let mut off = [0.0, 0.0, covariance.abs() / (deviations[0] * deviations[1]), 0.0, 0.0];
        for form in 0..KEPT {
            let marginal = known.marginal(form);
            off[0] = off[0].max((marginal.mean() - means[form]).abs() / deviations[form]);
            off[1] = off[1].max((marginal.standard_deviation() / deviations[form] - 1.0).abs());
        }
        (off[3], off[4]) = ((exact - probability).abs(), (rough - probability).abs());
        worst.iter_mut().zip(off).for_each(|(worst, off)| *worst = worst.max(off));
    }
    println!(
        "worst: mean {:.1e}, deviation {:.1e}, covariance {:.1e}, within {:.1e}, roughly {:.1e}",
        worst[0], worst[1], worst[2], worst[3], worst[4]
    );
    // A mistaken reading 15 off whose error is 40 moves a mean by 15 / 40² of a variance over a deviation.
    assert!(worst[0] < 1e-2 && worst[1] < 2e-3 && worst[2] < 2e-3, "{worst:?}");
    assert!(worst[3] < 2e-3 && worst[4] < 2e-3, "{worst:?}");
}

/// The mean over all that a reading may bring; where it is mistaken, what is known stays what it was, of value `now`.
fn expectation(known: &Projection, reading: &FurtherReading, now: f64, after: impl Fn(f64) -> f64) -> f64 {
    let foreseen = known.foreseen(reading);
    let sure: f64 = foreseen.iter().map(|(_, weight)| weight).sum();
    let sound = foreseen.iter().map(|(value, weight)| weight * after(*value)).sum::<f64>() + (1.0 - sure) * now;
    (1.0 - reading.mistaken) * sound + reading.mistaken * now
}

/// The expected chance after some readings: the second is foreseen from what is known after the first.
fn expected(mixture: &Mixture, known: &Projection, readings: &[FurtherReading], which: usize) -> f64 {
    let now = within(mixture, known)[which];
    match readings {
        [] => now,
        [one] => expectation(known, one, now, |value| within(mixture, &known.after(one, value, KEPT))[which]),
        [one, rest @ ..] => {
            let forms: Vec<usize> = rest.iter().map(|other| other.form).collect();
            let all = known.with_forms(KEPT, &[&[one.form], forms.as_slice()].concat());
            let own = FurtherReading { form: KEPT, ..*one };
            let rest: Vec<FurtherReading> =
                rest.iter().enumerate().map(|(at, other)| FurtherReading { form: KEPT + 1 + at, ..*other }).collect();
            let width = KEPT + 1 + rest.len();
            // After a mistaken first reading the second one is foreseen from what is known today.
            let without = expected(mixture, &all, &rest, which);
            expectation(&all, &own, without, |value| expected(mixture, &all.after(&own, value, width), &rest, which))
        }
    }
}

#[test]
fn what_readings_are_expected_to_bring_agrees_with_dense_quadrature() {
    let mixture = mixture();
    let before = projection(&mixture);
    let (mut worst, mut sum, mut count) = ([0.0_f64; 2], [0.0; 2], 0.0);
    for row in rows(EXPECTED) {
        let chosen = numbers(row[0]).into_iter().map(|at| further(&mixture.readings[at as usize])).collect::<Vec<_>>();
        let probability: f64 = row[1].parse().unwrap();
        let off = [0, 1].map(|which| expected(&mixture, &before, &chosen, which) - probability);
        println!(
            "readings {:5}: {probability:.4}, off {:+.4} with exact chances, {:+.4} with rough ones",
            row[0], off[0], off[1]
        );
        for which in 0..2 {
            worst[which] = worst[which].max(off[which].abs());
            sum[which] += off[which].abs();
        }
        count += 1.0;
    }
    println!("worst {:.4} and {:.4}, usual {:.4} and {:.4}", worst[0], worst[1], sum[0] / count, sum[1] / count);
    // A point is what a question may be off by. Most of it comes from parts of less than a tenth of the weight, to which
    // `foreseen` gives three nodes; with seven it would be 0.3 points.
    assert!(worst.iter().all(|worst| *worst < 1e-2), "{worst:?}");
}
