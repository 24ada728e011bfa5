//! Joint probabilities and marginals against quadrature with numpy and scipy, closed forms, and mpmath: see
//! `validation/joint_normal/README.md`.

#![expect(clippy::unwrap_used, reason = "a test that cannot read its reference must fail")]

use reconcile::{Bounded, Form, Marginal, MarginalPart, Model, Options, Prior, explain};

const RECTANGLES: &str = include_str!("../../../validation/joint_normal/rectangles.csv");
const MARGINALS: &str = include_str!("../../../validation/joint_normal/marginals.csv");

fn rows(text: &str) -> Vec<Vec<&str>> {
    text.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| line.split(',').collect()).collect()
}

fn numbers(text: &str) -> Vec<f64> {
    text.split_whitespace().map(|number| number.parse().unwrap()).collect()
}

/// The joint probability of conditions on independent unit normals.
fn joint(forms: &[Vec<f64>], own_variance: &[f64], least: &[f64], most: &[f64]) -> reconcile::Joint {
    let unit = Prior { mean: 0.0, standard_deviation: 1.0, firm: false };
    let model = Model { weight: 1.0, priors: vec![unit; forms[0].len()], readings: vec![], mistakes: vec![] };
    let mixture = explain(&[model], &Options::default()).unwrap();
    let conditions: Vec<Bounded> = (0..forms.len())
        .map(|at| Bounded {
            form: Form::new(forms[at].iter().copied().enumerate(), 0.0),
            least: least[at],
            most: most[at],
            own_variance: own_variance[at],
        })
        .collect();
    mixture.joint_probability(|_| Some(conditions.clone()))
}

#[test]
fn rectangles_agree_with_quadrature_and_closed_forms() {
    let mut worst = (0.0, "");
    let mut deviations = Vec::new();
    let mut beyond_stated = Vec::new();
    for row in rows(RECTANGLES) {
        let forms: Vec<Vec<f64>> = row[1].split(';').map(numbers).collect();
        let expected: f64 = row[5].parse().unwrap();
        let found = joint(&forms, &numbers(row[2]), &numbers(row[3]), &numbers(row[4]));
        let deviation = (found.probability - expected).abs();
        deviations.push(deviation);

        if deviation > worst.0 {
            worst = (deviation, row[0]);
        }
        if deviation > found.error + 1e-9 {
            beyond_stated.push((row[0], deviation, found.error));
        }
        assert!(deviation <= 1e-3, "{}: {} instead of {expected}", row[0], found.probability);
        assert!(found.error <= 3e-3, "{}: the stated error {} is of no use", row[0], found.error);
    }
    deviations.sort_by(f64::total_cmp);
    let cases = deviations.len();
    println!("{cases} rectangles: worst deviation {:.1e} ({}), median {:.1e}", worst.0, worst.1, deviations[cases / 2]);
    println!("beyond the stated error: {beyond_stated:?}");
    assert!(cases >= 60);
    // Three standard errors from eight shifts: Student's t with 7 degrees of freedom leaves out 2 %.
    assert!(beyond_stated.len() * 50 <= cases * 2, "the stated error is too small too often: {beyond_stated:?}");
}

#[test]
fn the_order_of_conditions_changes_no_more_than_the_stated_error() {
    for row in rows(RECTANGLES) {
        let mut forms: Vec<Vec<f64>> = row[1].split(';').map(numbers).collect();
        let (mut own, mut least, mut most) = (numbers(row[2]), numbers(row[3]), numbers(row[4]));
        let first = joint(&forms, &own, &least, &most);
        forms.reverse();
        for vector in [&mut own, &mut least, &mut most] {
            vector.reverse();
        }
        let second = joint(&forms, &own, &least, &most);
        let difference = (first.probability - second.probability).abs();
        assert!(difference <= first.error + second.error + 1e-6, "{}: {first:?} and {second:?}", row[0]);
    }
}

#[test]
fn marginals_agree_with_mpmath() {
    let mut worst = [0.0_f64; 2];
    for row in rows(MARGINALS) {
        let part =
            |numbers: Vec<f64>| MarginalPart { weight: numbers[0], mean: numbers[1], standard_deviation: numbers[2] };
        let marginal = Marginal::of_parts(row[1].split(';').map(|text| part(numbers(text))).collect());
        let bound: f64 = row[2].parse().unwrap();
        for (at, found) in [marginal.at_most(bound), marginal.mean_excess(bound)].into_iter().enumerate() {
            let expected: f64 = row[3 + at].parse().unwrap();
            let deviation = if expected == 0.0 { found.abs() } else { (found / expected - 1.0).abs() };
            worst[at] = worst[at].max(deviation);

            assert!(deviation <= 1e-12, "mixture {} at {bound}: {found} instead of {expected}", row[0]);
        }
    }
    println!("marginals: worst relative deviation {:.1e} at most, {:.1e} mean excess", worst[0], worst[1]);
}
