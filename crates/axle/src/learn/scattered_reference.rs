//! Orders that scatter by an unknown multiple, against scipy 1.17.1 by the recipe in `validation/learning`: there the multiples and
//! slips are summed over, and the sum is climbed and curved numerically; here it is expectation-maximisation and Louis's identity.

use catalog::{MistakeKind, Scatter};
use quantity::millimetres;

use super::estimate::estimate;
use super::information::beliefs;
use super::observe::{Meaning, Observed, Order, Part, Unit};
use super::parameter::{Occasion, Parameters, Rate, Uncertainty, UncertaintyPart};

const READINGS: usize = 8;
const MULTIPLES: [(f64, f64); 3] = [(1.0, 0.7), (2.0, 0.2), (3.0, 0.1)];
/// Variances beforehand (mm²), what is known besides them, and what a slip adds; its size (mm).
const LIMIT: f64 = 0.04;
const SET_UP: f64 = 0.09;
const KNOWN: f64 = 0.01;
const SPREAD: f64 = 0.05;
const SLIP: f64 = 3.0;
const RATE: f64 = 0.02;
const RATE_WORTH: f64 = 400.0;

/// The rows of a file, without its heading.
fn rows(text: &str) -> Vec<Vec<f64>> {
    text.lines()
        .skip(1)
        .map(|line| line.split(',').map(|number| number.parse().unwrap_or(f64::NAN)).collect())
        .collect()
}

/// The readings of an order: the first half has a limit alone, the second half a set-up as well.
fn order(errors: &[f64]) -> Order {
    let reading = |(at, error): (usize, &f64)| {
        let mut parts = vec![Part { at: 0, factors: (0, Some(1)), own: LIMIT }];
        if at >= READINGS / 2 {
            parts.push(Part { at: 1, factors: (0, Some(2)), own: SET_UP });
        }
        let sound = Meaning { mistake: None, residual: *error, known: KNOWN, stretch: 1.0 };
        let slipped = Meaning { mistake: Some((0, 1.0)), residual: error - SLIP, known: KNOWN + SPREAD, stretch: 1.0 };
        Observed { weight: 1.0, parts, hand: None, meanings: vec![sound, slipped], rates: vec![(0, 1.0)] }
    };
    // Two topics, so that what an order has in common is gathered over both.
    let mut readings: Vec<Observed> = errors.iter().enumerate().map(reading).collect();
    let second = readings.split_off(READINGS / 2 - 1);
    Order { units: [readings, second].map(|readings| Unit { readings, ties: Vec::new() }).into() }
}

fn parameters() -> Parameters {
    let uncertainty = |part: UncertaintyPart, own: f64, factor: usize| Uncertainty {
        part,
        shipped: millimetres(own.sqrt()),
        factors: (0, Some(factor)),
    };
    Parameters {
        uncertainties: vec![
            uncertainty(UncertaintyPart::Limit("tape".to_owned()), LIMIT, 1),
            uncertainty(UncertaintyPart::SetUp(catalog::Measurand::OverallLength), SET_UP, 2),
        ],
        factors: vec![4.0, 8.0, 8.0],
        rates: vec![Rate { kind: MistakeKind::Anything, occasion: Occasion::Usual, shipped: RATE }],
    }
}

#[test]
fn scipy_mode_and_curvature_where_orders_scatter_by_an_unknown_multiple() {
    let known = rows(include_str!("../../../../validation/learning/scattered_orders.csv"));
    let expected = &rows(include_str!("../../../../validation/learning/scattered.csv"))[0];
    let orders: Vec<Order> = known.iter().map(|row| order(&row[..READINGS])).collect();
    let scatter = MULTIPLES.map(|(multiple, share)| Scatter { multiple, share });
    let found = estimate(&orders, &parameters(), RATE_WORTH, &scatter);
    assert!(found.settled);
    let beliefs = beliefs(&orders, &parameters(), RATE_WORTH, &found);
    let degrees = |at: usize| beliefs.uncertainties[at].0.degrees_of_freedom;
    let rate = beliefs.rates[0];
    let mut values = found.state.factors.clone();
    values.extend([found.state.rates[0], degrees(0), degrees(1), rate.first + rate.second]);
    assert_eq!(values.len(), expected.len());
    let mut worst = 0.0_f64;
    // Turns stop at a step of 1e-5, some of which are left to the end where they go slowly.
    for (value, expected) in values.iter().zip(expected) {
        worst = worst.max((value / expected - 1.0).abs());
        assert!((value / expected - 1.0).abs() < 1e-4, "{value}, expected {expected}");
    }
    let mut worst_chance = 0.0_f64;
    for (levels, row) in found.weighed.iter().zip(&known) {
        for (level, chance) in levels.iter().zip(&row[READINGS..]) {
            worst_chance = worst_chance.max((level.probability - chance).abs());
            assert!((level.probability - chance).abs() < 1e-4, "{}, expected {chance}", level.probability);
        }
    }
    println!(
        "scattered orders: {} numbers, the worst off by {worst:.1e}; {} chances of multiples, the worst off by {worst_chance:.1e}",
        values.len(),
        MULTIPLES.len() * known.len()
    );
}
