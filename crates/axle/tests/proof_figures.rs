//! The figures beside the checks of a proof: hand-worked, and held to what has to be true of them.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may fail where it stands")]

mod support {
    pub mod repository;
}

use axle::{FigureKind, Outcome, ProofFigure, ProofKind, Review, read_sheet, review};
use catalog::{BearingRating, Catalog};

use support::repository::toml_files;

fn shipped() -> Catalog {
    Catalog::shipped().expect("the shipped catalog has no fault")
}

/// An order of the demo by its number, with sections put before its readings.
fn order(number: &str, sections: &str) -> String {
    let orders = toml_files("demo/orders");
    let (_, text) = orders.iter().find(|(name, _)| name.starts_with(number)).expect("the demo has the order");
    text.replacen("[shared]", &format!("{sections}\n[shared]"), 1)
}

fn reviewed(text: &str, catalog: &Catalog) -> Review {
    let sheet = read_sheet("order.toml", text, catalog).unwrap_or_else(|faults| panic!("{faults}"));
    review(&sheet, catalog).expect("the shipped catalog makes sound models")
}

fn figure(review: &Review, kind: FigureKind) -> &ProofFigure {
    review.proof.figures.iter().find(|figure| figure.kind == kind).expect("the figure was worked out")
}

#[track_caller]
fn assert_near(got: f64, expected: f64, share: f64) {
    assert!((got - expected).abs() <= share * expected.abs(), "{got}, expected {expected}");
}

const VEHICLE: &str = "
[vehicle]
axle_load = \"820 kg\"
centre_of_gravity_height = \"0.55 m\"
track = \"1.45 m\"
";

/// By hand: 820 kg weigh 8041.45 N; at 1 g the outer wheel takes 4020.73 + 8041.45 × 0.55/1.45 = 7070.93 N and is pushed with
/// as much; 2.5 times that are 17 677 N or 3974 lbf.
#[test]
fn statics_by_hand_the_ring_must_take_what_it_has_to_hold() {
    let review = reviewed(&order("01", VEHICLE), &shipped());
    let press_on = figure(&review, FigureKind::RingPressOn);
    assert_near(press_on.harsh, 17_677.3, 1e-5);
    assert_near(press_on.mild, press_on.harsh, 1e-12);
    assert!(press_on.words.contains("at least 3974 lbf (17.7 kN) to press on"), "{}", press_on.words);
    assert!(!press_on.words.contains("lightest"), "{}", press_on.words);
}

/// What the press shows decides where the friction is open: a ring holds with the wanted safety just where the force that it
/// holds, as the check words it, is the force that it had to take.
#[test]
fn a_ring_that_takes_the_force_passes_the_check_whatever_its_friction() {
    let mut passed = 0;
    for friction in ["0.10", "0.12", "0.15", "0.20"] {
        let ring = format!(
            "{VEHICLE}[lock_ring]\nfriction = {friction}\ninterference = \"0.11 mm\"\nwall = \"6 mm\"\nwidth = \"12 mm\"\n"
        );
        let review = reviewed(&order("01", &ring), &shipped());
        let check = review.proof.checks.iter().find(|check| check.kind == ProofKind::LockRing).expect("it was checked");
        let (_, after) = check.detail.split_once(" hold ").expect("the check says what the ring holds");
        let pounds: f64 = after.split(' ').next().and_then(|word| word.parse().ok()).expect("a number");
        let wanted = figure(&review, FigureKind::RingPressOn).harsh / quantity::POUND_FORCE_N;
        assert!((pounds - wanted).abs() > 1.0, "too close to tell at the printed precision");
        assert_eq!(pounds >= wanted, check.outcome == Outcome::Holds, "{friction}: {pounds} against {wanted}");
        passed += usize::from(pounds >= wanted);
    }
    assert!((1..4).contains(&passed), "the friction decides: {passed} of 4 pass");
}

#[test]
fn twice_the_distance_takes_twice_the_life() {
    let at = |kilometres: &str| {
        let text = order("01", &format!("[life]\ndistance = \"{kilometres} km\"\n"));
        figure(&reviewed(&text, &shipped()), FigureKind::FatigueDamage).harsh
    };
    let (once, twice) = (at("60000"), at("120000"));
    assert!(once > 0.0);
    assert_near(twice, 2.0 * once, 1e-9);
}

/// With 9 to 32 µm on 35 mm, less 2/37 for smoothing, the raceway of 42.4 mm grows by 7.03 to 24.99 µm; a new bearing of normal
/// clearance over 30 and up to 40 mm has 6 to 20 µm.
#[test]
fn lame_by_hand_a_pressed_on_ring_takes_the_clearance() {
    let review = reviewed(&order("02", ""), &shipped());
    let clearance = figure(&review, FigureKind::BearingClearance);
    assert_near(clearance.harsh, 6.0 - 32.0 * 35.0 / 37.0 * 35.0 / 42.4, 1e-9);
    assert_near(clearance.mild, 20.0 - 9.0 * 35.0 / 37.0 * 35.0 / 42.4, 1e-9);
    assert!(clearance.words.contains("CN −0.0007 to 0.0005 in (−19 to 13 µm)"), "{}", clearance.words);
}

/// The rollers push by themselves: with a smaller Y they push harder, and the bearing lasts no longer.
#[test]
fn the_thrust_of_tapered_rollers_counts() {
    let life = |y: f64| {
        let mut catalog = shipped();
        let source = catalog.bearings[0].source.clone();
        for row in &mut catalog.bearings {
            if row.name == "1.5625 in x 80 x 25 tapered" {
                row.rating = Some(BearingRating {
                    dynamic_kn: 61.6,
                    static_kn: 68.0,
                    f0: None,
                    e: Some(0.37),
                    y: Some(y),
                    y0: Some(0.9),
                    source: source.clone(),
                });
            }
        }
        let review = reviewed(&order("12", ""), &catalog);
        let check =
            review.proof.checks.iter().find(|check| check.kind == ProofKind::BearingStatic).expect("it was checked");
        assert!(check.detail.contains("the thrust that the rollers of both wheels make"), "{}", check.detail);
        check.safety.harsh
    };
    let (steep, flat) = (life(0.5), life(4.0));
    assert!(steep < flat, "{steep} against {flat}");
}

/// A thin hub bursts before the shaft shears: with `S = T tan φ/(π D tw L) + 4T/(D² L Y)`, the handbook's formula, half of the wall
/// gives more stress. A thick one changes nothing.
#[test]
fn a_stated_hub_counts_where_it_is_the_weakest() {
    let with = |hub: &str| {
        let text = order("01", "").replacen("[spline]", &format!("[spline]\n{hub}"), 1);
        let proof = reviewed(&text, &shipped()).proof;
        proof.checks.into_iter().find(|check| check.kind == ProofKind::Spline).expect("it was checked")
    };
    let without = with("");
    let thick = with("hub_outside = \"3 in\"");
    assert_eq!(without.safety, thick.safety);
    let thin = with("hub_outside = \"1.42 in\"");
    let thinner = with("hub_outside = \"1.40 in\"");
    assert!(thin.safety.harsh < without.safety.harsh && thinner.safety.harsh < thin.safety.harsh);
    assert!(thinner.detail.starts_with("weakest in bursting of the side gear's hub"), "{}", thinner.detail);
}
