//! `axlewright bearing`.

use crate::program::{assert_numbers, assert_refused, json, page, quantity};

/// Holds numbers to a share of their size.
fn assert_near(row: &str, line: &str, expected: &[(&str, f64)], share: f64) {
    let output = json(line);
    for (place, value) in expected {
        assert_numbers(row, &output, &[(place, *value)], value * share);
    }
}

/// Rows D5-02 and D5-03. Source: numpy.interp on the table of X and Y of ISO 281:2007 in a public transcription, to 0.1 %.
#[test]
fn iso_281_deep_groove_ball_bearings() {
    let line = "bearing --dynamic 30.7 kN --static 17.8 kN --f0 14.0 --radial 4.0 kN --axial 1.5 kN --speed 700";
    let expected = [
        ("equivalent_load/relative_axial_load/value/number", 1.1798),
        ("equivalent_load/limit_e/value/number", 0.2886),
        ("equivalent_load/axial_factor/value/number", 1.5072),
        ("equivalent_load/equivalent_dynamic_load/value/newtons", 4500.8),
        ("life/basic_rating_life/value/number", 317.35),
        ("life/hours/value/number", 7556.0),
        ("static_safety/equivalent_static_load/value/newtons", 4000.0),
        ("static_safety/static_safety/value/number", 4.450),
    ];
    assert_near("D5-02", line, &expected, 1e-3);
    let line = "bearing --dynamic 33.2kN --static 20.4kN --f0 14.0 --radial 5.0kN --axial 600 N --speed 600";
    let expected = [
        ("equivalent_load/equivalent_dynamic_load/value/newtons", 5000.0),
        ("life/basic_rating_life/value/number", 292.75),
        ("life/hours/value/number", 8132.0),
        ("static_safety/static_safety/value/number", 4.080),
    ];
    assert_near("D5-03", line, &expected, 1e-3);
}

/// Rows D5-13 (formulas of a public page on tapered bearings, numbers computed) and D5-10 (Wentzell, Machine Design, example
/// 20.1, printed to 0.01 h).
#[test]
fn a_tapered_bearing_and_a_textbook_life() {
    let line = "bearing --kind tapered --dynamic 61.6 kN --e 0.37 --y 1.6 --radial 6.0 kN --axial 3.0 kN --speed 500";
    let expected = [
        ("equivalent_load/induced_axial_load/value/newtons", 1875.0),
        ("equivalent_load/equivalent_dynamic_load/value/newtons", 7200.0),
        ("life/basic_rating_life/value/number", 1280.84),
        ("life/hours/value/number", 42_695.0),
    ];
    assert_near("D5-13", line, &expected, 1e-3);
    let line = "bearing --dynamic 5050 lbf --radial 2400 lbf --speed 1750";
    assert_near("D5-10", line, &[("life/hours/value/number", 88.73)], 2e-4);
}

/// Rows D5-11 and D5-12. Source: ISO 281:2007 and ISO 281:1990, tables of a1, in public transcriptions. Exact.
#[test]
fn iso_281_reliability_factors_of_both_editions() {
    for (edition, factors) in
        [("2007", [1.0, 0.64, 0.55, 0.47, 0.37, 0.25]), ("1990", [1.0, 0.62, 0.53, 0.44, 0.33, 0.21])]
    {
        for (percent, factor) in [90, 95, 96, 97, 98, 99].into_iter().zip(factors) {
            let line = format!(
                "bearing --dynamic 30 kN --radial 3 kN --reliability {percent} --edition {edition} --kind ball"
            );
            let expected =
                [("life/reliability_factor/value/number", factor), ("life/life/value/number", 1000.0 * factor)];
            assert_numbers(edition, &json(&line), &expected, 1e-9);
        }
    }
}

/// By hand: a wheel of 0.5 m rolls π m a revolution, so a thousand million revolutions are π million kilometres.
#[test]
fn the_life_is_a_distance_of_the_wheel() {
    let line = "bearing --dynamic 30 kN --radial 3 kN --tyre-radius 0.5 m --distance 100000 km";
    let output = json(line);
    let revolutions = 1e8 / std::f64::consts::PI / 1e6;
    let expected = [
        ("life/distance/value/kilometres", 3_141_590.0),
        ("life/distance/value/miles", 1_952_095.0),
        ("life/revolutions_over_it/value/number", revolutions),
        ("life/rating_needed_for_it/value/newtons", 3000.0 * revolutions.cbrt()),
    ];
    for (place, value) in expected {
        assert_numbers("by hand", &output, &[(place, value)], value * 2e-6);
    }
    assert_eq!(quantity(&output, "life", "the_wanted_distance")["words"], "reached");
    let far = json("bearing --dynamic 3 kN --radial 3 kN --tyre-radius 0.5 m --distance 100000 km");
    assert_eq!(quantity(&far, "life", "the_wanted_distance")["words"], "NOT reached");
}

#[test]
fn a_bearing_of_the_catalog_brings_its_ratings_and_their_source() {
    let output = json("bearing --bearing 40x80x18 ball --radial 4.0 kN --axial 1.5 kN");
    let rating = ("ratings/dynamic_load_rating/value/newtons", 30_700.0);
    assert_numbers("catalog", &output, &[rating], 1e-6);
    let source = output["blocks"][0]["source"].as_str().unwrap();
    assert!(source.starts_with("the catalog: "), "{source}");
    assert!(page("bearing --bore 25 mm --kind ball --radial 2 kN").contains("25x52x15 ball"));
    assert_refused("bearing --bore 35 mm --radial 4.0 kN", &["--bore: the catalog has several such bearings", "ball"]);
    assert_refused("bearing --bore 99 mm --radial 4.0 kN", &["--bore: the catalog has no such bearing", "accepted: "]);
    assert_refused("bearing --bearing ours --radial 4.0 kN", &["--bearing: the catalog has no such bearing"]);
}

#[test]
fn what_cannot_be_used_is_placed_and_answered() {
    assert_refused("bearing", &["--dynamic: neither ratings", "--radial: the radial load is not given"]);
    assert_refused(
        "bearing --dynamic 30 --radial 4 kp",
        &[
            "--dynamic: the number has no unit",
            "--radial: the unit \"kp\" is not known here\n  --radial 4 kp\n             ^^",
        ],
    );
    assert_refused("bearing --dynamic 30 kN --radial 0 N", &["--radial: a radial load of nought"]);
    assert_refused(
        "bearing --dynamic 30 kN --radial 4 kN --axial 1 kN",
        &["--static: an axial load takes this number", "--f0: an axial load takes this number"],
    );
    assert_refused(
        "bearing --kind tapered --dynamic 30 kN --radial 4 kN --axial 1 kN",
        &["--e: an axial load takes", "--y: an axial load takes"],
    );
    assert_refused(
        "bearing --dynamic 30 kN --static 17 kN --f0 14 --radial 4 kN --axial 40 kN",
        &["--axial: the relative axial load f0·Fa/C0 is 32.9", "it must lie from 0 to 6.89"],
    );
    assert_refused(
        "bearing --dynamic 30 kN --static 17 kN --f0 40 --radial 4 kN --axial 1 kN",
        &["--f0: the factor f0 is 40; it must lie from 10 to 20"],
    );
    assert_refused("bearing --dynamic 30 kN --radial 4 kN --reliability 94", &["--reliability: no factor is printed"]);
    assert_refused("bearing --dynamic 30 kN --radial 4 kN --edition 2000", &["--edition: ", "accepted: 2007, 1990"]);
    assert_refused("bearing --dynamic 30 kN --radial 4 kN --speed 0", &["--speed: a bearing that stands has no life"]);
    assert_refused("bearing --dynamic 30 kN --radial 4 kN --distance 1000 km", &["--tyre-radius"]);
    assert_refused(
        "bearing --dynamic 30 kN --radial 4 kN --tyre-radius 0.3 m --distance 1000",
        &["--distance: the number has no unit", "accepted: a number with its unit: km or mi"],
    );
}

/// Regression: the shape of a page that was looked at and found good.
#[test]
fn the_page_keeps_its_shape() {
    let line = "bearing --dynamic 30.7 kN --static 17.8 kN --f0 14.0 --radial 4.0 kN --axial 1.5 kN --speed 700";
    insta::assert_snapshot!("bearing_ratings", page(line));
    let line = "bearing --kind tapered --dynamic 14000 lbf --static 15000 lbf --e 0.37 --y 1.6 --y0 0.9 --radial 1300 lbf \
                --axial 700 lbf --tyre-radius 13 in --distance 100000 mi --reliability 95";
    insta::assert_snapshot!("bearing_tapered", page(line));
}

/// Two like bearings with Y = 1.6: 6 kN make 1.875 kN (row D5-13, a public page on tapered roller bearings), 4 kN make 1.25 kN;
/// 3 kN from outside and 1.25 kN of the other are 4.25 kN.
#[test]
fn statics_by_hand_tapered_bearings_push_each_other() {
    let given = "bearing --kind tapered --dynamic 61.6 kN --static 68 kN --e 0.37 --y 1.6 --y0 0.9 --radial 6.0 kN";
    let output = json(&format!("{given} --axial 3.0 kN --other-radial 4.0 kN"));
    let expected = [
        ("pair/induced_axial_load/value/newtons", 1875.0),
        ("pair/induced_axial_load_of_the_other/value/newtons", 1250.0),
        ("pair/axial_load/value/newtons", 4250.0),
        ("equivalent_load/equivalent_dynamic_load/value/newtons", 0.4 * 6000.0 + 1.6 * 4250.0),
    ];
    assert_numbers("by hand", &output, &expected, 1e-6);
    // Without a force from outside the harder loaded bearing pushes the other.
    let output = json(&format!("{given} --other-radial 4.0 kN"));
    let expected = [("pair/axial_load/value/newtons", 1875.0), ("pair/axial_load_of_the_other/value/newtons", 1875.0)];
    assert_numbers("by hand", &output, &expected, 1e-6);
    assert_refused(
        "bearing --dynamic 30.7 kN --radial 4.0 kN --other-radial 1 kN",
        &["--other-radial: only tapered bearings push each other"],
    );
}

/// By hand for 40 × 80: m5 on a Normal bore is 9 to 32 µm (row D4-12), less 2/42 for smoothing; on a raceway of 48 mm they take 7.14 to
/// 25.40 µm off a normal clearance of 6 to 20 µm.
#[test]
fn lame_by_hand_a_bearing_of_the_catalog_says_what_pressing_on_leaves() {
    let output = json("bearing --bearing 40x80x18 ball --radial 4 kN");
    let expected = [
        ("clearance_pressed_on/inner_raceway/value/millimetres", 48.0),
        ("clearance_pressed_on/group_normal/least/millimetres", 0.006 - 0.032 * 40.0 / 42.0 * 40.0 / 48.0),
        ("clearance_pressed_on/group_normal/most/millimetres", 0.020 - 0.009 * 40.0 / 42.0 * 40.0 / 48.0),
    ];
    assert_numbers("by hand", &output, &expected, 1e-5);
    let tapered = json("bearing --bearing 35x72x18.25 tapered --radial 4 kN");
    assert!(tapered["blocks"].as_array().unwrap().iter().all(|block| block["block"] != "clearance_pressed_on"));
}
