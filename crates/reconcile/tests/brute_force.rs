//! Every explanation of random models, weighed again each by itself: the readings are jointly normal with covariance
//! `A P Aᵀ + V`, and the posterior follows from the textbook formulas of the conditional normal distribution.

#![expect(clippy::unwrap_used, reason = "a test that cannot weigh its models must fail")]

mod random_model;

use std::collections::BTreeMap;

use nalgebra::{DMatrix, DVector};
use reconcile::{Evidence, Model, Options, explain};

const LN_TWO_PI: f64 = 1.837_877_066_409_345_3;

struct Dense {
    ln_evidence: f64,
    mean: DVector<f64>,
    covariance: DMatrix<f64>,
}

fn dense(model: &Model, readings: &[Evidence]) -> Dense {
    let prior_mean = DVector::from_iterator(model.priors.len(), model.priors.iter().map(|prior| prior.mean));
    let variances = model.priors.iter().map(|prior| prior.standard_deviation.powi(2));
    let prior = DMatrix::from_diagonal(&DVector::from_iterator(model.priors.len(), variances));
    let mut forms = DMatrix::zeros(readings.len(), model.priors.len());
    for (at, reading) in readings.iter().enumerate() {
        for (unknown, coefficient) in reading.form.terms() {
            forms[(at, *unknown)] = *coefficient;
        }
    }
    let errors = readings.iter().map(|reading| reading.standard_uncertainty.powi(2));
    let errors = DMatrix::from_diagonal(&DVector::from_iterator(readings.len(), errors));
    let values = readings.iter().map(|reading| reading.value - reading.form.constant());
    let surprise = DVector::from_iterator(readings.len(), values) - &forms * &prior_mean;
    let spread = (&forms * &prior * forms.transpose() + errors).cholesky().unwrap();
    let ln_root: f64 = spread.l().diagonal().iter().map(|entry| entry.ln()).sum();
    let solved = spread.solve(&surprise);
    let gain = spread.solve(&(&forms * &prior)).transpose();
    Dense {
        ln_evidence: -ln_root - 0.5 * surprise.dot(&solved) - 0.5 * readings.len() as f64 * LN_TWO_PI,
        mean: prior_mean + &gain * surprise,
        covariance: &prior - &gain * forms * &prior,
    }
}

/// Probability beforehand of just these mistakes: a reading has one of its own mistakes or none, and a mistake of several
/// readings is made or not.
fn prior(model: &Model, made: &[usize]) -> f64 {
    let own = |reading: usize| {
        let single =
            |at: &usize| matches!(model.mistakes[*at].spoils.as_slice(), [(spoiled, _)] if *spoiled == reading);
        let all: Vec<usize> = (0..model.mistakes.len()).filter(single).collect();
        match all.iter().find(|at| made.contains(at)) {
            Some(at) => model.mistakes[*at].rate,
            None => 1.0 - all.iter().map(|at| model.mistakes[*at].rate).sum::<f64>(),
        }
    };
    let several = (0..model.mistakes.len()).filter(|at| model.mistakes[*at].spoils.len() > 1);
    let several = several.map(|at| {
        let rate = model.mistakes[at].rate;
        if made.contains(&at) { rate } else { 1.0 - rate }
    });
    (0..model.readings.len()).map(own).product::<f64>() * several.product::<f64>()
}

/// The readings as these mistakes make them mean, or none where two spoil the same reading.
fn meant(model: &Model, made: &[usize]) -> Option<Vec<Evidence>> {
    let mut readings = model.readings.clone();
    let mut spoiled = Vec::new();
    for (reading, meaning) in made.iter().flat_map(|at| &model.mistakes[*at].spoils) {
        if spoiled.contains(reading) {
            return None;
        }
        spoiled.push(*reading);
        readings[*reading] = meaning.clone();
    }
    Some(readings)
}

/// All ascending sets of at most two.
fn sets(count: usize) -> Vec<Vec<usize>> {
    let mut sets = vec![vec![]];
    for one in 0..count {
        sets.push(vec![one]);
        sets.extend((one + 1..count).map(|other| vec![one, other]));
    }
    sets
}

#[derive(Default)]
struct Worst {
    ln_weight: f64,
    probability: f64,
    mean: f64,
    covariance: f64,
    explanations: [usize; 3],
    several_readings: usize,
}

/// Weighs an order both ways and takes down the worst deviations.
fn compare(models: &[Model], worst: &mut Worst) {
    let options = Options { most_mistakes: 2, least_probability: 0.0, least_listed: 0.0 };
    let mixture = explain(models, &options).unwrap();
    let total: f64 = models.iter().map(|model| model.weight).sum();
    let mut expected: BTreeMap<(usize, Vec<usize>), (f64, Dense)> = BTreeMap::new();
    for (index, model) in models.iter().enumerate() {
        for made in sets(model.mistakes.len()) {
            if let Some(readings) = meant(model, &made) {
                let dense = dense(model, &readings);
                let ln_weight = (model.weight / total * prior(model, &made)).ln() + dense.ln_evidence;
                expected.insert((index, made), (ln_weight, dense));
            }
        }
    }
    assert_eq!(mixture.explanations().len(), expected.len(), "each explanation once, and no other");
    let top = expected.values().map(|(ln_weight, _)| *ln_weight).fold(f64::NEG_INFINITY, f64::max);
    let sum: f64 = expected.values().map(|(ln_weight, _)| (ln_weight - top).exp()).sum();
    let ln_sum = top + sum.ln();
    worst.ln_weight = worst.ln_weight.max((mixture.ln_evidence() - ln_sum).abs() / ln_sum.abs().max(1.0));
    for explanation in mixture.explanations() {
        let (ln_weight, dense) = &expected[&(explanation.model, explanation.mistakes.clone())];
        let posterior = explanation.posterior.as_ref().unwrap();
        worst.explanations[explanation.mistakes.len()] += 1;
        let spoils = &models[explanation.model].mistakes;
        worst.several_readings += usize::from(explanation.mistakes.iter().any(|at| spoils[*at].spoils.len() > 1));
        let deviation = (explanation.ln_weight - ln_weight).abs() / ln_weight.abs().max(1.0);
        worst.ln_weight = worst.ln_weight.max(deviation);
        let probability = (ln_weight - ln_sum).exp();
        worst.probability = worst.probability.max((explanation.probability - probability).abs());
        for at in 0..posterior.mean.len() {
            // Means in posterior standard deviations, covariances in their product.
            let deviation = |at: usize| dense.covariance[(at, at)].sqrt();
            worst.mean = worst.mean.max((posterior.mean[at] - dense.mean[at]).abs() / deviation(at));
            for other in 0..posterior.mean.len() {
                let difference = (posterior.covariance[(at, other)] - dense.covariance[(at, other)]).abs();
                worst.covariance = worst.covariance.max(difference / (deviation(at) * deviation(other)));
                assert_eq!(posterior.covariance[(at, other)], posterior.covariance[(other, at)]);
            }
        }
    }
}

#[test]
fn every_explanation_of_random_models_agrees_with_a_dense_solve_of_its_own() {
    let mut worst = Worst::default();
    for seed in 0..1000 {
        compare(&random_model::order(seed, 1 + seed as usize % 3), &mut worst);
    }
    println!(
        "{:?} explanations with 0, 1 and 2 mistakes, {} with a mistake of several readings; worst deviations: logarithm \
         of the weight {:.1e} of its size, probability {:.1e}, mean {:.1e} and covariance {:.1e} in posterior standard \
         deviations",
        worst.explanations, worst.several_readings, worst.ln_weight, worst.probability, worst.mean, worst.covariance,
    );
    assert!(worst.explanations[2] > 2000 && worst.several_readings > 2000);
    assert!(worst.ln_weight <= 1e-9);
    assert!(worst.probability <= 1e-9);
    // The dense solve subtracts covariances that are up to a hundred thousand times as large as what is left, and shifts the
    // mean by hundreds of standard deviations where a mistake makes readings contradict each other.
    assert!(worst.mean <= 1e-8);
    assert!(worst.covariance <= 1e-8);
}
