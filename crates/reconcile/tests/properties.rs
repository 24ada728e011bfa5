//! What holds for every model: nothing depends on the order or the unit in which things are written down, evidence never
//! does harm, and probabilities are all accounted for. The models are random with fixed seeds.

#![expect(clippy::unwrap_used, reason = "a test that cannot weigh its models must fail")]

mod random_model;

use reconcile::{Evidence, Explanation, Form, Mixture, Model, Options, Prior, classical, explain};

const ALL: Options = Options { most_mistakes: 2, grown_from: None, negligible: 0.0 };
const SEEDS: std::ops::Range<u64> = 5000..5200;

fn order(seed: u64) -> Vec<Model> {
    random_model::order(seed, 1 + seed as usize % 3)
}

fn close(one: f64, other: f64, tolerance: f64) -> bool {
    one == other || (one - other).abs() <= tolerance * one.abs().max(other.abs()).max(1.0)
}

fn find<'a>(mixture: &'a Mixture, model: usize, mistakes: &[usize]) -> &'a Explanation {
    mixture.explanations().iter().find(|e| e.model == model && *e.mistakes == *mistakes).unwrap()
}

/// The same things in reverse, with every index turned accordingly.
fn reversed(models: &[Model]) -> Vec<Model> {
    let readings = models[0].readings.len();
    let mut turned: Vec<Model> = models.to_vec();
    turned.reverse();
    for model in &mut turned {
        model.readings.reverse();
        model.mistakes.reverse();
        for mistake in &mut model.mistakes {
            mistake.spoils.reverse();
            for (reading, _) in &mut mistake.spoils {
                *reading = readings - 1 - *reading;
            }
        }
    }
    turned
}

#[test]
fn the_order_of_models_readings_and_mistakes_changes_nothing_but_indices() {
    for seed in SEEDS {
        let models = order(seed);
        let (one, other) = (explain(&models, &ALL).unwrap(), explain(&reversed(&models), &ALL).unwrap());
        assert_eq!(one.explanations().len(), other.explanations().len());
        assert!(close(one.ln_evidence(), other.ln_evidence(), 1e-10));
        assert!(close(one.prior_left_out(), other.prior_left_out(), 1e-12));
        for explanation in one.explanations() {
            let count = models[explanation.model].mistakes.len();
            let mistakes: Vec<usize> = explanation.mistakes.iter().rev().map(|at| count - 1 - at).collect();
            let twin = find(&other, models.len() - 1 - explanation.model, &mistakes);
            assert!(close(explanation.ln_weight, twin.ln_weight, 1e-9), "seed {seed}: {explanation:?} and {twin:?}");
            assert!(close(explanation.probability, twin.probability, 1e-9));
        }
        let turned: Vec<f64> = other.mistaken().iter().rev().copied().collect();
        assert!(one.mistaken().iter().zip(&turned).all(|(a, b)| close(*a, *b, 1e-9)));
        let form = Form::new((0..models[0].priors.len()).map(|at| (at, 1.0 + at as f64)), 0.5);
        assert!(close(one.marginal(&form).mean(), other.marginal(&form).mean(), 1e-8));
        let deviations = [&one, &other].map(|mixture| mixture.marginal(&form).standard_deviation());
        assert!(close(deviations[0], deviations[1], 1e-8));
    }
}

#[test]
fn another_unit_of_length_changes_nothing_but_the_scale() {
    const INCH: f64 = 25.4;
    for seed in SEEDS {
        let models = order(seed);
        let mut scaled = models.clone();
        let scale = |evidence: &mut Evidence| {
            evidence.form = Form::new(evidence.form.terms().to_vec(), evidence.form.constant() * INCH);
            evidence.value *= INCH;
            evidence.standard_uncertainty *= INCH;
        };
        for model in &mut scaled {
            for prior in &mut model.priors {
                *prior =
                    Prior { mean: prior.mean * INCH, standard_deviation: prior.standard_deviation * INCH, ..*prior };
            }
            model.readings.iter_mut().for_each(scale);
            let meanings = model.mistakes.iter_mut().flat_map(|mistake| &mut mistake.spoils);
            meanings.for_each(|(_, meaning)| scale(meaning));
        }
        let (one, other) = (explain(&models, &ALL).unwrap(), explain(&scaled, &ALL).unwrap());
        // Densities are per unit of each reading.
        let shift = models[0].readings.len() as f64 * INCH.ln();
        assert!(close(one.ln_evidence(), other.ln_evidence() + shift, 1e-10));
        for explanation in one.explanations() {
            let twin = find(&other, explanation.model, &explanation.mistakes);
            assert!(close(explanation.probability, twin.probability, 1e-9));
        }
        for unknown in 0..models[0].priors.len() {
            let [small, large] = [&one, &other].map(|mixture| mixture.marginal(&Form::of(unknown)));
            assert!(close(small.mean() * INCH, large.mean(), 1e-9));
            assert!(close(small.standard_deviation() * INCH, large.standard_deviation(), 1e-9));
        }
    }
}

#[test]
fn another_origin_of_the_unknowns_shifts_them_and_nothing_else() {
    for seed in SEEDS {
        let models = order(seed);
        let shift = |unknown: usize| 100.0 + 37.0 * unknown as f64;
        let mut moved = models.clone();
        let compensate = |evidence: &mut Evidence| {
            let by: f64 = evidence.form.terms().iter().map(|(unknown, a)| a * shift(*unknown)).sum();
            evidence.form = evidence.form.offset_by(-by);
        };
        for model in &mut moved {
            for (unknown, prior) in model.priors.iter_mut().enumerate() {
                prior.mean += shift(unknown);
            }
            model.readings.iter_mut().for_each(compensate);
            let meanings = model.mistakes.iter_mut().flat_map(|mistake| &mut mistake.spoils);
            meanings.for_each(|(_, meaning)| compensate(meaning));
        }
        let (one, other) = (explain(&models, &ALL).unwrap(), explain(&moved, &ALL).unwrap());
        assert!(close(one.ln_evidence(), other.ln_evidence(), 1e-8));
        for explanation in one.explanations() {
            let twin = find(&other, explanation.model, &explanation.mistakes);
            assert!(close(explanation.probability, twin.probability, 1e-8));
        }
        for unknown in 0..models[0].priors.len() {
            let [here, there] = [&one, &other].map(|mixture| mixture.marginal(&Form::of(unknown)));
            assert!(close(here.mean() + shift(unknown), there.mean(), 1e-8));
            assert!(close(here.standard_deviation(), there.standard_deviation(), 1e-8));
        }
    }
}

/// Some forms of the unknowns.
fn forms(unknowns: usize) -> Vec<Form> {
    let mut forms: Vec<Form> = (0..unknowns).map(Form::of).collect();
    forms.push(Form::new((0..unknowns).map(|at| (at, 1.0 - 0.7 * at as f64)), 0.0));
    forms.push(Form::new((0..unknowns).map(|at| (at, 1.0)), 3.0));
    forms
}

#[test]
fn a_further_reading_never_widens_a_form_and_narrows_it_by_as_much_as_foretold() {
    let mut compared = 0;
    for seed in SEEDS {
        let models = order(seed);
        let further = Evidence {
            standard_uncertainty: 0.7,
            ..models[0].readings[seed as usize % models[0].readings.len()].clone()
        };
        let more: Vec<Model> = models
            .iter()
            .map(|model| {
                let mut model = model.clone();
                model.readings.push(further.clone());
                model
            })
            .collect();
        let (before, after) = (explain(&models, &ALL).unwrap(), explain(&more, &ALL).unwrap());
        for explanation in before.explanations() {
            let twin = find(&after, explanation.model, &explanation.mistakes);
            let (wide, narrow) = (before.posterior(explanation).unwrap(), after.posterior(twin).unwrap());
            for form in forms(models[0].priors.len()) {
                let (one, other) = (wide.variance_of(&form), narrow.variance_of(&form));
                assert!(other <= one * (1.0 + 1e-7), "seed {seed}: {one} widened to {other}");
                // The conditional variance of a normal: what is left is one minus the squared correlation with the reading.
                let read = wide.variance_of(&further.form) + further.standard_uncertainty.powi(2);
                let left = one - wide.covariance_of(&form, &further.form).powi(2) / read;
                assert!((other - left).abs() <= 1e-6 * one, "seed {seed}: {other} instead of {left}");
                let foretold = wide.variance_reduction(&form, &further.form, further.standard_uncertainty);
                assert!((other - one * (1.0 - foretold)).abs() <= 1e-6 * one, "seed {seed}");
                // And back again: without the further reading it is as wide as before.
                let undone = narrow.covariance_without(&further.form, further.standard_uncertainty);
                let again = undone.variance_of(&form);
                assert!((again - one).abs() <= 1e-6 * one, "seed {seed}: {again} instead of {one}");
                compared += 1;
            }
        }
        // With one explanation alone, the mixture is that normal, and foretells the same.
        let sound = Options { most_mistakes: 0, ..ALL };
        let (before, after) = (explain(&models[..1], &sound).unwrap(), explain(&more[..1], &sound).unwrap());
        for form in forms(models[0].priors.len()) {
            let [one, other] = [&before, &after].map(|mixture| mixture.overall().unwrap().variance_of(&form));
            let foretold =
                before.overall().unwrap().variance_reduction(&form, &further.form, further.standard_uncertainty);
            assert!(close(other, one * (1.0 - foretold), 1e-8), "seed {seed}");
        }
    }
    println!("{compared} variances compared");
    assert!(compared > 10_000);
}

#[test]
fn probabilities_sum_to_one_and_agree_with_each_other() {
    for seed in SEEDS {
        let models = order(seed);
        let mixture = explain(&models, &ALL).unwrap();
        let listed: f64 = mixture.explanations().iter().map(|explanation| explanation.probability).sum();
        assert!(close(listed, 1.0, 1e-12));
        assert_eq!(mixture.pruned(), 0.0);
        assert!(close(mixture.model_probabilities().iter().sum(), 1.0, 1e-12));
        for (reading, mistaken) in mixture.mistaken().iter().enumerate() {
            let holds = |e: &&Explanation| mixture.readings_spoiled(e).contains(&reading);
            let sum: f64 = mixture.explanations().iter().filter(holds).map(|e| e.probability).sum();
            assert!(close(*mistaken, sum, 1e-12));
        }
        let descending = |pair: &[Explanation]| pair[0].ln_weight >= pair[1].ln_weight;
        assert!(mixture.explanations().windows(2).all(descending));
    }
}

/// Probability beforehand of everything that an enumeration of up to `most` mistakes does not weigh, counted through all
/// sets of mistakes: too many, or two that spoil the same reading though both can be made.
fn left_out(model: &Model, most: usize) -> f64 {
    let mut left_out = 0.0;
    let mut all = 0.0;
    for set in 0_u32..1 << model.mistakes.len() {
        let made: Vec<usize> = (0..model.mistakes.len()).filter(|at| set & (1 << at) != 0).collect();
        let mut probability = 1.0;
        let mut own = vec![(1.0, 0); model.readings.len()];
        for (at, mistake) in model.mistakes.iter().enumerate() {
            match (mistake.spoils.as_slice(), made.contains(&at)) {
                ([(reading, _)], true) => own[*reading] = (mistake.rate, own[*reading].1 + 1),
                ([(reading, _)], false) if own[*reading].1 == 0 => own[*reading].0 -= mistake.rate,
                ([_], false) => {}
                (_, true) => probability *= mistake.rate,
                (_, false) => probability *= 1.0 - mistake.rate,
            }
        }
        // A single reading has at most one mistake of its own.
        if own.iter().any(|(_, count)| *count > 1) {
            continue;
        }
        probability *= own.iter().map(|(share, _)| share).product::<f64>();
        all += probability;
        let spoiled: Vec<usize> = made.iter().flat_map(|at| &model.mistakes[*at].spoils).map(|(at, _)| *at).collect();
        let twice = spoiled.iter().enumerate().any(|(at, reading)| spoiled[..at].contains(reading));
        if made.len() > most || twice {
            left_out += probability;
        }
    }
    assert!(close(all, 1.0, 1e-12), "the counting itself is wrong: {all}");
    left_out
}

#[test]
fn the_prior_left_out_is_that_of_all_sets_that_are_not_weighed() {
    let mut overlapping = 0;
    for seed in SEEDS {
        let models = order(seed);
        let total: f64 = models.iter().map(|model| model.weight).sum();
        for most_mistakes in 0..=3 {
            let found = explain(&models, &Options { most_mistakes, ..ALL }).unwrap().prior_left_out();
            let expected: f64 = models.iter().map(|model| model.weight / total * left_out(model, most_mistakes)).sum();
            assert!((found - expected).abs() <= 1e-12, "seed {seed}, {most_mistakes}: {found} instead of {expected}");
            overlapping += usize::from(most_mistakes == 3 && expected > 1e-3);
        }
    }
    assert!(overlapping > 20);
}

#[test]
fn deleting_a_reading_lowers_chi_squared_by_its_squared_normalised_residual() {
    // Narasimhan and Jordache 2000, chapter 7: the measurement test and the deletion of a measurement are one.
    let mut compared = 0;
    for model in SEEDS.flat_map(order) {
        let tested = classical(&model).unwrap();
        for reading in 0..model.readings.len() {
            let mut less = model.clone();
            less.mistakes.clear();
            less.readings.remove(reading);
            let left = classical(&less).unwrap();
            match tested.normalised_residuals[reading] {
                Some(z) => {
                    assert!(close(left.chi_squared, tested.chi_squared - z * z, 1e-8));
                    assert_eq!(left.degrees_of_freedom + 1, tested.degrees_of_freedom);
                    compared += 1;
                }
                None => {
                    assert!(close(left.chi_squared, tested.chi_squared, 1e-8));
                    assert_eq!(left.degrees_of_freedom, tested.degrees_of_freedom);
                }
            }
        }
    }
    println!("{compared} deletions compared");
    assert!(compared > 500);
}

#[test]
fn redundancy_is_one_minus_the_share_of_the_reading_in_its_own_reconciled_value() {
    for seed in SEEDS {
        let models = order(seed);
        let mixture = explain(&models[..1], &Options { most_mistakes: 0, ..ALL }).unwrap();
        let posterior = mixture.posterior(&mixture.explanations()[0]).unwrap();
        for (reading, redundancy) in models[0].readings.iter().zip(mixture.redundancy()) {
            let share = posterior.variance_of(&reading.form) / reading.standard_uncertainty.powi(2);
            assert!((redundancy - (1.0 - share)).abs() <= 1e-8);
        }
    }
}
