//! Random models with a fixed seed, for tests that hold for every model.

use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};
use reconcile::{Evidence, Form, Mistake, Model, Prior};

/// The models of one random order: they share the unknowns and the values that were read, and differ in priors, forms and
/// mistakes. Priors are up to a hundred times as wide as a reading; some readings depend on one another for their unknowns.
pub fn order(seed: u64, models: usize) -> Vec<Model> {
    let mut random = StdRng::seed_from_u64(seed);
    let unknowns = random.random_range(1..=6);
    let readings = random.random_range(1..=7);
    let priors: Vec<Prior> = (0..unknowns)
        .map(|_| Prior {
            mean: random.random_range(-50.0..50.0),
            standard_deviation: 10.0_f64.powf(random.random_range(-0.5..1.5)),
            firm: random.random_bool(0.2),
        })
        .collect();
    let truth: Vec<f64> =
        priors.iter().map(|prior| prior.mean + prior.standard_deviation * random.random_range(-1.5..1.5)).collect();
    let first: Vec<Evidence> = (0..readings)
        .map(|_| {
            let form = form(&mut random, unknowns);
            let standard_uncertainty = 10.0_f64.powf(random.random_range(-1.0..0.5));
            let value = form.at(&truth) + standard_uncertainty * random.random_range(-4.0..4.0);
            Evidence { form, value, standard_uncertainty }
        })
        .collect();
    (0..models)
        .map(|index| Model {
            weight: random.random_range(0.1..3.0),
            priors: priors
                .iter()
                .map(|prior| Prior { mean: prior.mean + random.random_range(-1.0..1.0), ..*prior })
                .collect(),
            readings: first
                .iter()
                .map(|reading| Evidence {
                    form: if index > 0 && random.random_bool(0.3) {
                        form(&mut random, unknowns)
                    } else {
                        reading.form.clone()
                    },
                    ..reading.clone()
                })
                .collect(),
            mistakes: (0..random.random_range(0..=7)).map(|_| mistake(&mut random, &first, unknowns)).collect(),
        })
        .collect()
}

fn form(random: &mut StdRng, unknowns: usize) -> Form {
    let terms = random.random_range(1..=3.min(unknowns));
    let terms: Vec<(usize, f64)> = (0..terms)
        .map(|_| {
            let coefficient = if random.random_bool(0.5) { 1.0 } else { random.random_range(-2.0..2.0) };
            (random.random_range(0..unknowns), coefficient)
        })
        .collect();
    Form::new(terms, random.random_range(-5.0..5.0))
}

fn mistake(random: &mut StdRng, readings: &[Evidence], unknowns: usize) -> Mistake {
    let most = readings.len().min(3);
    let several = most >= 2 && random.random_bool(0.35);
    let count = if several { random.random_range(2..=most) } else { 1 };
    let mut spoiled: Vec<usize> = Vec::new();
    while spoiled.len() < count {
        let reading = random.random_range(0..readings.len());
        if !spoiled.contains(&reading) {
            spoiled.push(reading);
        }
    }
    spoiled.sort_unstable();
    let spoils = spoiled
        .into_iter()
        .map(|reading| {
            let sound = &readings[reading];
            let meaning = match random.random_range(0..3) {
                0 => Evidence { form: sound.form.offset_by(random.random_range(-30.0..30.0)), ..sound.clone() },
                1 => Evidence { standard_uncertainty: sound.standard_uncertainty * 20.0, ..sound.clone() },
                _ => Evidence { form: form(random, unknowns), ..sound.clone() },
            };
            (reading, meaning)
        })
        .collect();
    Mistake { rate: random.random_range(0.001..0.1), spoils }
}
