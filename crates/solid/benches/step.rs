//! Times of checking a shaft and of writing it as a STEP file, without teeth and with them.

#[path = "../examples/parts/named.rs"]
mod named;
#[path = "../examples/parts/shaft.rs"]
mod shaft;

use divan::Bencher;
use solid::{RevolvedPart, Solid, StepHeader};

fn main() {
    divan::main();
}

const PARTS: [&str; 3] = ["shaft_5_holes", "shaft_28_teeth_30", "shaft_40_teeth_45"];

fn part(name: &str) -> Option<RevolvedPart> {
    named::parts().into_iter().find(|(found, _)| found == name).map(|(_, part)| part)
}

#[divan::bench(args = PARTS)]
fn check(bencher: Bencher, name: &str) {
    let part = part(name);
    bencher.bench(|| divan::black_box(&part).as_ref().map(Solid::new));
}

#[divan::bench(args = PARTS)]
fn check_and_write(bencher: Bencher, name: &str) {
    let part = part(name);
    let header = StepHeader { name, time_stamp: "2026-01-31T08:30:00", ..StepHeader::default() };
    bencher.bench(|| {
        let solid = divan::black_box(&part).as_ref().and_then(|part| Solid::new(part).ok());
        solid.map(|solid| solid.to_step(&header))
    });
}
