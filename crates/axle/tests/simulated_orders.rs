//! Orders whose truth is known: what the review states has to come true.
//!
//! The seeds are fixed, so the counts are the same at every run. The bands are chosen beforehand: a chance that is honest
//! fails a test here once in a thousand seeds.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use axle::simulate::{Chance, People, Tally, Trials, Zeal};
use catalog::Catalog;
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

fn tally(trials: &Trials, orders: u64) -> Tally {
    let mut tally = Tally::default();
    for order in 0..orders {
        let mut source = StdRng::seed_from_u64(7_000 + order);
        let mut even = || source.random_range(f64::EPSILON..1.0);
        tally.add(&trials.run(order % 10 == 0, &mut Chance::new(&mut even)).unwrap().unwrap());
    }
    tally
}

#[test]
fn stated_chances_come_true_and_fewer_wrong_shafts_are_cut_than_by_the_classical_tests() {
    let tally = tally(&Trials::new(Catalog::shipped().unwrap(), Zeal::Full, People::default()), 250);
    let (mut stated, mut fitted, mut variance, mut orders) = (0.0, 0.0, 0.0, 0);
    for tenth in &tally.tenths {
        stated += tenth.stated;
        fitted += tenth.fitted as f64;
        orders += tenth.orders;
        if let Some(mean) = tenth.mean_stated() {
            variance += tenth.orders as f64 * mean * (1.0 - mean);
        }
    }
    // The number that fits is a sum of independent outcomes, so its deviation follows from the stated chances themselves;
    // 3.3 standard deviations are passed once in a thousand.
    let off = (fitted - stated) / variance.sqrt();
    println!("{orders} orders: {stated:.1} stated to fit, {fitted} fitted, {off:+.2} standard deviations");
    assert!(orders >= 200, "{orders}");
    assert!(off.abs() < 3.3, "{off}");

    let share = |count: axle::simulate::Count| count.wrong as f64 / count.cut.max(1) as f64;
    println!("reviewed {:?}, classical {:?}, unchecked {:?}", tally.reviewed, tally.classical, tally.unchecked);
    assert!(tally.reviewed.cut >= 50 && tally.classical.cut >= 50, "{tally:?}");
    assert!(share(tally.reviewed) < 0.5 * share(tally.classical), "{tally:?}");
    assert!(share(tally.classical) < share(tally.unchecked), "{tally:?}");
}
