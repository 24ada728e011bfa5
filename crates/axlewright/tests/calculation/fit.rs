//! `axlewright fit`.

use crate::program::{assert_numbers, assert_refused, json, page, quantity};

/// Rows D3-08 to D3-12. Source: the PyPI package `pressfit` 0.1.0, checked against a public transcription of JIS B 0401 (the
/// numbers of ISO 286-2). Exact; the JSON rounds to a millionth of a millimetre.
#[test]
fn pressfit_kinds_and_clearances_of_usual_fits() {
    for (row, line, kind, (least, most), hole, shaft) in [
        ("D3-08", "40 H7/k6", "transition", (-18.0, 23.0), (40.0, 40.025), (40.002, 40.018)),
        ("D3-09", "40 H7/m6", "transition", (-25.0, 16.0), (40.0, 40.025), (40.009, 40.025)),
        ("D3-10", "60 H7/p6", "interference", (-51.0, -2.0), (60.0, 60.03), (60.032, 60.051)),
        ("D3-11", "38 mm H8/f7", "clearance", (25.0, 89.0), (38.0, 38.039), (37.95, 37.975)),
        ("D3-12", "2.8 cm H7/k6", "transition", (-15.0, 19.0), (28.0, 28.021), (28.002, 28.015)),
    ] {
        let output = json(&format!("fit {line}"));
        assert_eq!(quantity(&output, "fit", "kind")["words"], kind, "{row}");
        let expected = [
            ("fit/clearance/least/millimetres", least / 1000.0),
            ("fit/clearance/most/millimetres", most / 1000.0),
            ("hole/smallest/value/millimetres", hole.0),
            ("hole/largest/value/millimetres", hole.1),
            ("shaft/smallest/value/millimetres", shaft.0),
            ("shaft/largest/value/millimetres", shaft.1),
        ];
        assert_numbers(row, &output, &expected, 1e-9);
    }
}

/// Row D3-07. Source: Budynas & Nisbett, solution manual, problem 7-23: 1.000 in H8/f7. Printed to 0.0001 in.
#[test]
fn budynas_7_23_a_fit_in_inches() {
    let output = json("fit 1.000 in H8/f7");
    assert_eq!(output["leading_unit"], "in");
    let expected = [
        ("hole/smallest/value/inches", 1.0),
        ("hole/largest/value/inches", 1.0013),
        ("shaft/smallest/value/inches", 0.9984),
        ("shaft/largest/value/inches", 0.9992),
    ];
    assert_numbers("D3-07", &output, &expected, 5e-5);
}

/// Row D4-06. Source: a public worked example of a press fit after Lamé, to 0.1 %: 50 mm solid shaft, 80 mm hub, 0.04 mm.
#[test]
fn lame_a_worked_press_fit() {
    let line = "fit 50 mm --interference 0.04 mm --hub-outside 80 mm --length 40 mm --friction 0.12 \
                --modulus 210 GPa --hub-modulus 210 GPa";
    let output = json(line);
    let near = |place: &str, value: f64| assert_numbers("D4-06", &output, &[(place, value)], value * 1e-3);
    near("press_fit/pressure/most/megapascals", 51.19);
    near("press_fit/hub_hoop_stress_at_bore/most/megapascals", 116.8);
    near("forces/force_that_holds/least/newtons", 38_590.0);
    near("forces/torque_that_holds/least/newton_metres", 964.9);
}

/// Rows D4-04 (Budynas & Nisbett, solution manual, problem 7-24, psi printed to 10), D4-07 and D4-11 (formulas of the same
/// book, computed by hand).
#[test]
fn budynas_7_24_and_rows_with_unlike_materials_and_heat() {
    let line = "fit 1.5 in --interference 0.0023 in --hub-outside 2.5 in --modulus 30 Mpsi --hub-modulus 30 Mpsi";
    let expected = [
        ("press_fit/pressure/most/kips_per_square_inch", 14.720),
        ("press_fit/hub_hoop_stress_at_bore/most/kips_per_square_inch", 31.280),
        ("press_fit/shaft_equivalent_stress/most/kips_per_square_inch", 14.720),
    ];
    assert_numbers("D4-04", &json(line), &expected, 0.010);

    let line = "fit 60 mm --interference 0.05 mm --hub-outside 110 mm --length 45 mm --friction 0.12 --modulus 207 GPa \
                --poisson 0.29 --hub-modulus 110 GPa --hub-poisson 0.25";
    let output = json(line);
    assert_numbers("D4-07", &output, &[("press_fit/pressure/most/megapascals", 37.047)], 0.037);
    assert_numbers("D4-07", &output, &[("forces/force_to_press/most/newtons", 37_709.0)], 38.0);

    let line = "fit 40 mm --interference 0.037 mm --hub-outside 52 mm --assembly-clearance 0.020 mm";
    let output = json(line);
    assert_numbers("D4-11", &output, &[("heating/rise_of_hub/value/kelvin", 121.79)], 0.1);
    assert!(page(line).contains("Too hot for a bearing ring"));
}

/// Row D4-14, from memory and not validated: 30 µm on a ground seat of 40 mm.
#[test]
fn from_memory_a_seat_is_smoothed() {
    let line = "fit 40 mm --interference 0.030 mm --hub-outside 52 mm --finish ground";
    let expected = [("press_fit/effective_interference/most/millimetres", 0.028_57)];
    assert_numbers("D4-14", &json(line), &expected, 1e-5);
}

#[test]
fn a_size_without_a_unit_is_in_millimetres_and_says_so() {
    let text = page("fit 40 H7/m6");
    assert!(text.contains("Taken, because nothing was said: a nominal size in millimetres"), "{text}");
    assert!(!page("fit 40 mm H7/m6").contains("Taken"));
    assert!(page("fit 1.5 H7/m6 --unit in").contains("1.5 = 38.1 mm H7/m6"));
    assert!(page("fit 40 m6").contains("40 mm m6"));
}

#[test]
fn pressing_carries_every_caution() {
    let text = page("fit 40 H7/s6 --hub-outside 80 mm");
    for caution in axle::CAUTIONS {
        assert!(text.contains(caution), "{caution} is not in\n{text}");
    }
    assert!(text.contains("give --length"), "{text}");
}

#[test]
fn what_cannot_be_used_is_placed_and_answered() {
    assert_refused("fit 40", &["ZONES: neither zones nor", "accepted: the zones of hole and shaft"]);
    assert_refused("fit H7/m6", &["SIZE: the nominal size is not given"]);
    assert_refused("fit 40 H7/q6", &["ZONES: ", "  ZONES H7/q6\n        ^^^^^\n  accepted: "]);
    assert_refused("fit 40 m6/H7", &["ZONES: m6 and H7 do not make a fit"]);
    assert_refused(
        "fit 600 H7/m6",
        &["SIZE: a nominal size of 600 mm is outside the tables; above 0 and up to 500 mm"],
    );
    assert_refused("fit 0 H7/m6", &["SIZE: a length of nought"]);
    assert_refused("fit 40 furlongs H7/m6", &["SIZE: ", "  SIZE 40 furlongs\n          ^^^^^^^^"]);
    assert_refused("fit 40 H7/m6 --length 40 mm", &["--length: without the outside of the hub"]);
    assert_refused("fit 40 H7/f7 --hub-outside 80 mm", &["--hub-outside: a clearance fit has no pressure"]);
    assert_refused("fit 40 m6 --hub-outside 80 mm", &["--hub-outside: one zone alone has no interference"]);
    assert_refused("fit 40 H7/s6 --hub-outside 38 mm", &["the hub has no wall", "accepted: an outside diameter above"]);
    assert_refused("fit 40 H7/s6 --hub-outside 80", &["--hub-outside: ", "or --unit in or --unit mm"]);
    assert_refused("fit 40 H7/s6 --hub-outside 80 mm --bore 41 mm", &["--bore: the bore leaves nothing"]);
    assert_refused(
        "fit 40 H7/s6 --hub-outside 80 mm --length 40 mm --friction 0.3 0.1",
        &["--friction: friction from 0.3 to 0.1 cannot be"],
    );
    assert_refused(
        "fit 40 H7/s6 --hub-outside 80 mm --modulus 207 kN",
        &["--modulus: the unit \"kN\" is not known here"],
    );
    assert_refused("fit 40 H7/s6 --hub-outside 80 mm --modulus 207", &["--modulus: the number has no unit"]);
    assert_refused("fit 40 H7/s6 --hub-outside 80 mm --poisson 0.5", &["Poisson's ratio is 0.5"]);
    assert_refused("fit 40 H7/s6 --interference 0.02 mm --hub-outside 80 mm", &["exclude each other"]);
    assert_refused("fit 40 H7/s6 --hub-outside 80 mm --finish rough", &["--finish: ", "accepted: ground, turned"]);
    assert_refused("fit 40 H7/m6 --unit cubit", &["--unit: this is no unit of length"]);
}

/// Regression: the shape of pages that were looked at and found good.
#[test]
fn the_page_keeps_its_shape() {
    insta::assert_snapshot!("fit_press", page("fit 40 H7/s6 --hub-outside 80 mm --length 40 mm"));
    insta::assert_snapshot!("fit_inch", page("fit 1.5625 in H7/m6"));
}
