//! Posteriors against scipy 1.17.1, by the recipe in `validation/learning`.

use axle::learn::{FinishedOrder, RateBelief, VarianceBelief, learn};
use axle::{read_sheet, read_truth};
use catalog::{Catalog, MistakeKind};

/// The rows of a file, without its heading.
fn rows<const COLUMNS: usize>(text: &str) -> Vec<[f64; COLUMNS]> {
    text.lines()
        .skip(1)
        .map(|line| {
            let numbers: Vec<f64> = line.split(',').map(|number| number.parse().unwrap()).collect();
            numbers.try_into().unwrap()
        })
        .collect()
}

/// The largest and the usual deviation, as shares of the expected value.
#[derive(Default)]
struct Deviations(Vec<f64>);

impl Deviations {
    fn hold(&mut self, what: &str, found: f64, expected: f64, tolerance: f64) {
        let deviation = (found / expected - 1.0).abs();
        assert!(deviation <= tolerance, "{what}: {found}, expected {expected}");
        self.0.push(deviation);
    }

    fn print(mut self, what: &str) {
        self.0.sort_by(f64::total_cmp);
        let (worst, usual) = (self.0[self.0.len() - 1], self.0[self.0.len() / 2]);
        println!("{what}: {} numbers, the worst off by {worst:.1e}, usually {usual:.1e}", self.0.len());
    }
}

#[test]
fn scipy_beta_posteriors() {
    let mut deviations = Deviations::default();
    for [rate, worth, slips, readings, probability, mean, least, most] in
        rows(include_str!("../../../../validation/learning/rates.csv"))
    {
        let after = RateBelief::worth(rate, worth).after(slips, readings);
        let (low, high) = after.interval(probability);
        deviations.hold("mean", after.mean(), mean, 1e-12);
        deviations.hold("least", low, least, 1e-8);
        deviations.hold("most", high, most, 1e-8);
    }
    deviations.print("beta");
}

#[test]
fn scipy_scaled_inverse_chi_squared_posteriors() {
    let mut deviations = Deviations::default();
    for [scale, degrees, squares, errors, probability, scale_after, least, most] in
        rows(include_str!("../../../../validation/learning/variances.csv"))
    {
        let after = VarianceBelief { scale, degrees_of_freedom: degrees }.after(squares, errors);
        let (low, high) = after.interval(probability);
        deviations.hold("scale", after.scale, scale_after, 1e-12);
        deviations.hold("least", low, least, 1e-8);
        deviations.hold("most", high, most, 1e-8);
    }
    deviations.print("scaled inverse chi-squared");
}

#[test]
fn scipy_dirichlet_marginals() {
    let mut deviations = Deviations::default();
    for [rate, worth, slips, readings, mean, least, most] in
        rows(include_str!("../../../../validation/learning/shared.csv"))
    {
        let after = RateBelief::worth(rate, worth).after(slips, readings);
        let (low, high) = after.interval(0.95);
        deviations.hold("mean", after.mean(), mean, 1e-12);
        deviations.hold("least", low, least, 1e-8);
        deviations.hold("most", high, most, 1e-8);
    }
    deviations.print("Dirichlet");
}

/// Counts of holes, which have one mistake only (`anything`, which spoils every count) and no uncertainty that is learned: 200
/// orders of which three say six holes where there are five. The whole estimate has to end at the beta posterior of the recipe's
/// third row: 3 slips in 200 readings on a rate of 0.5 % that is worth 400.
#[test]
fn scipy_beta_posterior_at_the_end_of_the_whole_estimate() {
    let catalog = Catalog::shipped().unwrap();
    let [rate, worth, slips, readings, _, mean, least, most] =
        rows::<8>(include_str!("../../../../validation/learning/rates.csv"))[2];
    assert_eq!((rate, worth), (catalog.mistake(MistakeKind::Anything).rate, catalog.settings.learning.rates_are_worth));
    let head = "[order]\nreference = \"A\"\nuse = \"street\"\nsides = [\"left\"]\n[shared]\n";
    let truth = read_truth("truth.toml", "[truth]\norder = \"A\"\n[shared]\nhole_count = 5\n", &catalog).unwrap();
    let orders: Vec<FinishedOrder> = (0..readings as usize)
        .map(|number| {
            let holes = if number < slips as usize { 6 } else { 5 };
            let sheet = read_sheet("sheet.toml", &format!("{head}hole_count = {holes}\n"), &catalog).unwrap();
            FinishedOrder { sheet, truth: truth.clone() }
        })
        .collect();
    let learned = learn(&orders, &catalog).unwrap();
    let [found] = learned.rates.as_slice() else { panic!("one rate and no more: {:?}", learned.rates) };
    let mut deviations = Deviations::default();
    // A count that is right may still be a wrong one that came out right: "anything" is a hundred times as wide as a count, so each
    // of the 197 keeps a chance of 0.8 % of one in a hundred, together 0.016 of a slip beside the 5 that are counted.
    deviations.hold("mean", found.after, mean, 4e-3);
    deviations.hold("least", found.interval.0, least, 8e-3);
    deviations.hold("most", found.interval.1, most, 8e-3);
    deviations.print("beta, whole estimate");
}
