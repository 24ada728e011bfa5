//! How long the papers of an order take, from a review to the bytes of the file.

#![allow(clippy::unwrap_used, reason = "a benchmark fails by panicking")]

use axle::{Catalog, Review, Sheet};
use drawing::Units;
use paperwork::{Approval, Job, PAPERS, PageSize, Paper, Press, Shop, ShopDetails};
use placed::Date;
use rayon::iter::{IntoParallelIterator, ParallelIterator};

fn main() {
    divan::main();
}

fn reviewed(name: &str) -> (Catalog, Sheet, Review) {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/orders").join(name);
    let catalog = Catalog::shipped().unwrap();
    let sheet = axle::read_sheet(name, &std::fs::read_to_string(path).unwrap(), &catalog).unwrap();
    let review = axle::review(&sheet, &catalog).unwrap();
    (catalog, sheet, review)
}

fn job<'a>(order: &'a (Catalog, Sheet, Review), shop: &'a ShopDetails) -> Job<'a> {
    Job {
        sheet: &order.1,
        review: &order.2,
        catalog: &order.0,
        shop,
        date: Date::new(2026, 11, 25).unwrap(),
        revision: "1",
        page_size: PageSize::Letter,
        units: Units::Inch,
        approval: Approval::NotYet,
        found: &[],
    }
}

/// Orders in turn, as a desk has them: what is remembered of one is of little help for the next.
#[divan::bench]
fn packet_of_another_order_each_time(bencher: divan::Bencher<'_, '_>) {
    let orders =
        ["01-hay-truck.toml", "02-market-wagon.toml", "03-quarry-tug.toml", "04-firewood-hauler.toml"].map(reviewed);
    let shop = ShopDetails { name: "Ostermere Shaft Works".to_owned(), ..ShopDetails::default() };
    let press = Press::new(&Shop::default());
    let turn = std::sync::atomic::AtomicUsize::new(0);
    bencher.bench(|| {
        let at = turn.fetch_add(1, std::sync::atomic::Ordering::Relaxed) % orders.len();
        press.press(&job(&orders[at], &shop), &PAPERS).unwrap()
    });
}

#[divan::bench(args = PAPERS)]
fn one_paper(bencher: divan::Bencher<'_, '_>, paper: Paper) {
    let order = reviewed("02-market-wagon.toml");
    let shop = ShopDetails { name: "Ostermere Shaft Works".to_owned(), ..ShopDetails::default() };
    let press = Press::new(&Shop::default());
    bencher.bench(|| press.press(&job(&order, &shop), &[paper]).unwrap());
}

/// A hundred packets in one run, as a desk prints a week's orders.
#[divan::bench(sample_count = 3, sample_size = 1)]
fn a_hundred_packets_on_all_cores(bencher: divan::Bencher<'_, '_>) {
    let orders =
        ["01-hay-truck.toml", "02-market-wagon.toml", "03-quarry-tug.toml", "04-firewood-hauler.toml"].map(reviewed);
    let shop = ShopDetails { name: "Ostermere Shaft Works".to_owned(), ..ShopDetails::default() };
    let press = Press::new(&Shop::default());
    bencher.bench(|| {
        (0..100_usize)
            .into_par_iter()
            .map(|at| press.press(&job(&orders[at % orders.len()], &shop), &PAPERS).unwrap().pdf.len())
            .sum::<usize>()
    });
}

#[divan::bench]
fn a_press_is_made(bencher: divan::Bencher<'_, '_>) {
    bencher.bench(|| Press::new(&Shop::default()));
}
