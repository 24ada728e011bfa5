//! Times of weighing all explanations of an invented order, of the usual and of the full size.

#[path = "../examples/enumerate/order.rs"]
mod order;

use divan::Bencher;
use reconcile::{Options, explain};

use crate::order::{FULL, USUAL, order};

fn main() {
    divan::main();
}

#[divan::bench(args = [0, 1, 2])]
fn usual(bencher: Bencher, most_mistakes: usize) {
    let models = order(USUAL);
    bencher.bench(|| explain(divan::black_box(&models), &Options { most_mistakes, ..Options::default() }));
}

#[divan::bench(args = [0, 1, 2])]
fn full(bencher: Bencher, most_mistakes: usize) {
    let models = order(FULL);
    bencher.bench(|| explain(divan::black_box(&models), &Options { most_mistakes, ..Options::default() }));
}
