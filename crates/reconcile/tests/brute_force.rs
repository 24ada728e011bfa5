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
    let options = Options { most_mistakes: 2, grown_from: None, negligible: 0.0 };
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
        let (ln_weight, dense) = &expected[&(explanation.model, explanation.mistakes.to_vec())];
        let posterior = mixture.posterior(explanation).unwrap();
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

/// The weight that pruning leaves out is within the bound that is stated, and what is left has its exact weight.
#[test]
fn what_is_pruned_weighs_no_more_than_its_bound() {
    let (mut pruned, mut whole, mut worst_share) = (0_usize, 0_usize, 0.0_f64);
    for seed in 0..600 {
        let models = random_model::order(seed, 1 + seed as usize % 3);
        let all = explain(&models, &Options { most_mistakes: 2, grown_from: None, negligible: 0.0 }).unwrap();
        for negligible in [1e-9, 1e-6, 1e-3] {
            let some = explain(&models, &Options { most_mistakes: 2, grown_from: None, negligible }).unwrap();
            let key = |e: &reconcile::Explanation| (e.model, e.mistakes);
            let weights: BTreeMap<_, f64> = all.explanations().iter().map(|e| (key(e), e.ln_weight)).collect();
            for explanation in some.explanations() {
                let exact = weights[&key(explanation)];
                assert!((explanation.ln_weight - exact).abs() <= 1e-9 * exact.abs().max(1.0), "seed {seed}");
            }
            let missing = 1.0 - (some.ln_evidence() - all.ln_evidence()).exp();
            // The bound is over the weight of what was weighed, the rest over that of all.
            let bound = some.pruned() / (1.0 + some.pruned());
            assert!(missing <= bound * (1.0 + 1e-9) + 1e-12, "seed {seed}, {negligible}: {missing} beyond {bound}");
            // What was likely enough was weighed.
            let likely =
                all.explanations().iter().filter(|e| e.ln_weight >= all.explanations()[0].ln_weight + negligible.ln());
            assert!(likely.count() <= some.explanations().len(), "seed {seed}");
            pruned += all.explanations().len() - some.explanations().len();
            whole += all.explanations().len();
            worst_share = worst_share.max(bound);
        }
    }
    println!("{pruned} of {whole} explanations pruned; the largest bound on their share {worst_share:.1e}");
    assert!(pruned * 10 > whole);
}

/// Three mistakes that are grown have the weight that a dense solve gives them.
#[test]
fn three_mistakes_grown_from_the_best_two_agree_with_a_dense_solve() {
    let (mut grown, mut worst) = (0, 0.0_f64);
    for seed in 0..300 {
        let models = random_model::order(seed, 1 + seed as usize % 3);
        let total: f64 = models.iter().map(|model| model.weight).sum();
        let two = explain(&models, &Options { grown_from: None, negligible: 0.0, ..Options::default() }).unwrap();
        let three =
            explain(&models, &Options { grown_from: Some(1e-9), negligible: 0.0, ..Options::default() }).unwrap();
        assert!(three.prior_left_out() <= two.prior_left_out());
        for explanation in three.explanations().iter().filter(|e| e.mistakes.len() == 3) {
            let model = &models[explanation.model];
            let readings = meant(model, &explanation.mistakes).unwrap();
            let dense = dense(model, &readings);
            let ln_weight = (model.weight / total * prior(model, &explanation.mistakes)).ln() + dense.ln_evidence;
            worst = worst.max((explanation.ln_weight - ln_weight).abs() / ln_weight.abs().max(1.0));
            grown += 1;
        }
    }
    println!("{grown} explanations with three mistakes, worst deviation of the logarithm of the weight {worst:.1e}");
    assert!(grown > 200);
    assert!(worst <= 1e-9);
}

/// A projection has the mean and the covariance that follow from the posterior of every explanation.
#[test]
fn a_projection_keeps_the_mean_and_the_covariance_of_the_mixture() {
    let mut worst = [0.0_f64; 2];
    for seed in 0..300 {
        let models = random_model::order(seed, 1 + seed as usize % 3);
        let mixture =
            explain(&models, &Options { grown_from: Some(1e-3), negligible: 0.0, ..Options::default() }).unwrap();
        let unknowns = models[0].priors.len();
        let forms: Vec<reconcile::Form> = (0..unknowns).map(reconcile::Form::of).collect();
        let projection = mixture.project(&forms, |_| 0);
        let (mut mean, mut square) = (DVector::zeros(unknowns), DMatrix::zeros(unknowns, unknowns));
        for explanation in mixture.explanations() {
            let posterior = mixture.posterior(explanation).unwrap();
            let own = DVector::from_vec(posterior.mean);
            square += (&posterior.covariance + &own * own.transpose()) * explanation.probability;
            mean += own * explanation.probability;
        }
        let covariance = &square - &mean * mean.transpose();
        let (mut seen, mut seen_square) = (DVector::zeros(unknowns), DMatrix::zeros(unknowns, unknowns));
        for part in projection.parts() {
            let own = DVector::from_vec(part.mean.clone());
            let within = DMatrix::from_fn(unknowns, unknowns, |one, other| part.covariance(one, other));
            seen_square += (within + &own * own.transpose()) * part.weight;
            seen += own * part.weight;
        }
        let seen_covariance = &seen_square - &seen * seen.transpose();
        for at in 0..unknowns {
            let deviation = covariance[(at, at)].sqrt();
            worst[0] = worst[0].max((seen[at] - mean[at]).abs() / deviation);
            worst[1] = worst[1].max((seen_covariance[(at, at)] / covariance[(at, at)] - 1.0).abs());
        }
    }
    println!("projections: worst deviation of a mean {:.1e} and of a variance {:.1e} of its size", worst[0], worst[1]);
    assert!(worst[0] <= 1e-8 && worst[1] <= 1e-7);
}
