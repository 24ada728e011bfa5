//! How long a drawing takes, from a review to the bytes of its file.

#![allow(clippy::unwrap_used, reason = "a benchmark fails by panicking")]

use axle::{Catalog, Review, Sheet};
use drawing::{Numbers, Request, Standard, Units, View, draw, dxf, svg, with_balloons};

fn main() {
    divan::main();
}

const VIEWS: [View; 4] = [View::Shaft, View::Flange, View::Housing, View::Pair];

fn reviewed() -> (Sheet, Review) {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/orders/01-hay-truck.toml");
    let catalog = Catalog::shipped().unwrap();
    let text = std::fs::read_to_string(path).unwrap();
    let sheet = axle::read_sheet("01-hay-truck.toml", &text, &catalog).unwrap();
    let review = axle::review(&sheet, &catalog).unwrap();
    (sheet, review)
}

fn request(view: View, sheet: &Sheet) -> Request<'static> {
    let (standard, units) = (Standard::Asme, Units::Inch);
    Request { view, side: sheet.wanted[0], standard, units, date: "2026-11-25", revision: "1", approved: false }
}

#[divan::bench(args = VIEWS)]
fn svg_from_a_review(bencher: divan::Bencher<'_, '_>, view: View) {
    let (sheet, review) = reviewed();
    bencher.bench(|| svg(&draw(&sheet, &review, &request(view, &sheet))));
}

#[divan::bench(args = VIEWS)]
fn dxf_from_a_review(bencher: divan::Bencher<'_, '_>, view: View) {
    let (sheet, review) = reviewed();
    bencher.bench(|| dxf(&draw(&sheet, &review, &request(view, &sheet))));
}

#[divan::bench(args = VIEWS)]
fn svg_with_balloons_from_a_review(bencher: divan::Bencher<'_, '_>, view: View) {
    let (sheet, review) = reviewed();
    bencher.bench(|| {
        let mut drawn = draw(&sheet, &review, &request(view, &sheet));
        let balloons = with_balloons(&mut drawn, &mut Numbers::default());
        (balloons, svg(&drawn))
    });
}
