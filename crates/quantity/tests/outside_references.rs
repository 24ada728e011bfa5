//! Checks against published numbers, one table a source, ids kept from the project's list of
//! reference values. Every table prints its worst deviation.
//!
//! Sources:
//! * JCGM 100:2008 (GUM), annex H.1, end-gauge calibration, and table G.2, Student's t. The unrounded
//!   numbers beside the printed ones were made with GTC 1.5.1, see `validation/uncertainty`.
//! * OIML R 35-1 classes of material measures of length.
//! * scipy 1.17.1, `chi2.ppf`, `norm.ppf` and `t.ppf`, for quantiles, see `validation/uncertainty`.
//! * Plain formulas, worked by hand, where a row says so.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may fail where it stands")]

use std::collections::BTreeMap;

use quantity::{
    Budget, Component, Instrument, LengthExt, LengthUnit, Limit, SecondOrder, Shape, bow_excess, chi_squared_quantile,
    combine, inches, millimetres, normal_quantile, read_length, resolution, slant_excess, student_t_quantile, type_b,
    weighted_mean,
};

/// One row: id, what it is, what comes out, what the source says, how far apart they may be.
struct Row<'w> {
    id: &'static str,
    what: &'w str,
    found: f64,
    expected: f64,
    tolerance: f64,
}

fn row<'w>(id: &'static str, what: &'w str, found: f64, expected: f64, tolerance: f64) -> Row<'w> {
    Row { id, what, found, expected, tolerance }
}

/// Prints the worst and the usual deviation in units of the tolerance, and fails if any row is outside.
fn check(source: &str, rows: &[Row<'_>]) {
    let mut relative: Vec<(f64, &Row<'_>)> =
        rows.iter().map(|row| ((row.found - row.expected).abs() / row.tolerance, row)).collect();
    // What is not a number sorts last, as the worst.
    relative.sort_by(|(one, _), (other, _)| one.total_cmp(other));
    let usual = relative[relative.len() / 2].0;
    let (worst, row) = relative[relative.len() - 1];
    println!(
        "{source}: {} rows; usually {usual:.2} of the tolerance off, at worst {worst:.2} ({} {}: {} for {})",
        rows.len(),
        row.id,
        row.what,
        row.found,
        row.expected
    );
    let outside: Vec<String> = relative
        .iter()
        .filter(|(relative, _)| relative.is_nan() || *relative > 1.0)
        .map(|(_, row)| format!("{} {}: {} for {} ± {}", row.id, row.what, row.found, row.expected, row.tolerance))
        .collect();
    assert!(outside.is_empty(), "{}", outside.join("\n"));
}

/// The numbers of a file of `validation`, by what they are.
fn numbers(csv: &str) -> BTreeMap<&str, f64> {
    let rows = csv.lines().skip(1).map(|line| line.rsplit_once(',').unwrap());
    rows.map(|(what, value)| (what, value.parse().unwrap())).collect()
}

/// A component in nanometres.
fn component(name: &str, standard_uncertainty: f64, sensitivity: f64, degrees: f64) -> Component {
    Component { name: name.to_owned(), standard_uncertainty, sensitivity, degrees_of_freedom: degrees }
}

/// GUM H.1: an end gauge of 50 mm is compared with a standard; lengths in nanometres.
///
/// l = l_s + d − l_s (δα θ + α_s δθ), with δα and δθ both estimated as nought.
#[test]
fn jcgm_100_annex_h_1_end_gauge_d9_01() {
    const NANOMETRE: f64 = 1e-6; // in millimetres
    let l_s = 50.000_623 / NANOMETRE;
    let alpha_s = 11.5e-6;
    let theta = -0.1;

    // H.1.3.2: difference of the gauges, in three parts.
    let difference = Budget::new(vec![
        component("repeated observations", 5.8, 1.0, 24.0),
        component("random effects of the comparator", 3.9, 1.0, 5.0),
        component("systematic effects of the comparator", 6.7, 1.0, 8.0),
    ]);
    // H.1.3.4: temperature of the bed, mean and cyclic variation.
    let cyclic = type_b(0.5, Shape::Arcsine);
    let temperature = combine(&[0.2, cyclic]);
    let u_delta_alpha = type_b(1e-6, Shape::Rectangular);
    let u_alpha_s = type_b(2e-6, Shape::Rectangular);
    let u_delta_theta = type_b(0.05, Shape::Rectangular);

    let budget = |degrees_of_difference: f64| {
        Budget::new(vec![
            component("length of the standard", 25.0, 1.0, 18.0),
            component("difference of the gauges", difference.combined(), 1.0, degrees_of_difference),
            component("expansion of the standard", u_alpha_s, 0.0, f64::INFINITY),
            component("temperature of the bed", temperature, 0.0, f64::INFINITY),
            component("difference of expansion", u_delta_alpha, -l_s * theta, 50.0),
            component("difference of temperature", u_delta_theta, -l_s * alpha_s, 2.0),
        ])
    };
    // The Guide cuts the degrees of freedom of the difference to 25 on its way.
    let first_order = budget(difference.effective_degrees_of_freedom().floor());
    // H.1.7: both inputs of each product are nought or nearly so.
    let with_products = first_order
        .clone()
        .with_second_order(SecondOrder::product(
            "difference of expansion × temperature of the bed",
            l_s,
            u_delta_alpha,
            temperature,
        ))
        .with_second_order(SecondOrder::product(
            "expansion of the standard × difference of temperature",
            l_s,
            u_alpha_s,
            u_delta_theta,
        ));
    let expanded = first_order.expanded(0.99).unwrap();

    check(
        "JCGM 100:2008 H.1, printed digits",
        &[
            row("D9-01", "l / mm", (l_s + 215.0) * NANOMETRE, 50.000_838, 5e-10),
            row("D9-01", "u(d) / nm", difference.combined(), 9.7, 0.05),
            row("D9-01", "ν of u(d), cut", difference.effective_degrees_of_freedom().floor(), 25.0, 0.5),
            row("D9-01", "u(θ) / °C", temperature, 0.41, 0.005),
            row("D9-01", "u(δα) / 1e-6 per °C", u_delta_alpha * 1e6, 0.58, 0.005),
            row("D9-01", "u(δθ) / °C", u_delta_theta, 0.029, 0.0005),
            row("D9-01", "u_c / nm", first_order.combined(), 32.0, 0.5),
            row("D9-01", "ν_eff, cut", expanded.degrees_of_freedom, 16.0, 0.1),
            row("D9-01", "t99(16)", expanded.coverage_factor, 2.92, 0.005),
            row("D9-01", "U99 / nm", expanded.uncertainty, 93.0, 1.0),
            row("D9-01", "u_c with second order / nm", with_products.combined(), 34.0, 0.5),
        ],
    );
    let not_cut = budget(difference.effective_degrees_of_freedom());
    let gtc = numbers(include_str!("../../../validation/uncertainty/end_gauge.csv"));
    // GTC and this crate iterate separately for the factor; each stops at about 1e-9.
    let (same, iterated) = (1e-9, 1e-8);
    let rows: Vec<Row<'_>> = [
        ("uncertainty of the difference", difference.combined(), same),
        ("degrees of freedom of the difference", difference.effective_degrees_of_freedom(), same),
        ("uncertainty of the temperature", temperature, same),
        ("combined uncertainty", not_cut.combined(), same),
        ("effective degrees of freedom", not_cut.effective_degrees_of_freedom(), same),
        ("factor for 99 %", expanded.coverage_factor, iterated),
        ("expanded uncertainty", expanded.uncertainty, iterated),
        ("combined uncertainty with second order", with_products.combined(), same),
    ]
    .into_iter()
    .map(|(what, found, relative)| row("D9-01", what, found, gtc[what], relative * gtc[what]))
    .collect();
    assert_eq!(rows.len(), gtc.len());
    check("GTC 1.5.1, validation/uncertainty", &rows);
}

#[test]
fn scipy_quantile_grid() {
    let grid = numbers(include_str!("../../../validation/uncertainty/quantiles.csv"));
    let mut rows = Vec::new();
    for (what, expected) in &grid {
        let mut words = what.split(' ');
        let (Some(distribution), Some(probability), Some(degrees)) = (words.next(), words.next(), words.next()) else {
            panic!("{what} has three parts");
        };
        let probability: f64 = probability.parse().unwrap();
        let degrees: f64 = degrees.parse().unwrap();
        let found = match distribution {
            "normal" => normal_quantile(probability),
            "student" => student_t_quantile(probability, degrees),
            _ => chi_squared_quantile(probability, degrees),
        };
        let tolerance = 1e-8 * expected.abs().max(1e-3);
        rows.push(row("scipy", what, found.unwrap(), *expected, tolerance));
    }
    assert_eq!(rows.len(), 15 * (1 + 2 * 23));
    check("scipy 1.17.1 grid", &rows);
}

#[test]
fn jcgm_100_table_g_2_student_t() {
    // Degrees of freedom, t for 95 %, t for 99 %, as printed.
    let printed = [
        (1.0, 12.71, 63.66),
        (2.0, 4.30, 9.92),
        (3.0, 3.18, 5.84),
        (4.0, 2.78, 4.60),
        (5.0, 2.57, 4.03),
        (8.0, 2.31, 3.36),
        (10.0, 2.23, 3.17),
        (16.0, 2.12, 2.92),
        (20.0, 2.09, 2.85),
        (50.0, 2.01, 2.68),
        (100.0, 1.984, 2.626),
        (f64::INFINITY, 1.960, 2.576),
    ];
    let mut rows = Vec::new();
    for (degrees, t95, t99) in printed {
        let tolerance = if degrees >= 100.0 { 0.0005 } else { 0.005 };
        for (what, probability, expected) in [("t95", 0.95, t95), ("t99", 0.99, t99)] {
            let budget = Budget::new(vec![component("one", 1.0, 1.0, degrees)]);
            let expanded = budget.expanded(probability).unwrap();
            rows.push(row("G.2", what, expanded.coverage_factor, expected, tolerance));
        }
    }
    check("JCGM 100:2008 table G.2", &rows);
}

#[test]
fn scipy_quantiles_d9_05_and_d9_06() {
    let chi_squared = |p, degrees| chi_squared_quantile(p, degrees).unwrap();
    let normal = |p| normal_quantile(p).unwrap();
    let student = |degrees| student_t_quantile(0.975, degrees).unwrap();
    check(
        "scipy 1.17.1",
        &[
            row("D9-05", "χ² 95 %, 1", chi_squared(0.95, 1.0), 3.8415, 1e-4),
            row("D9-05", "χ² 95 %, 2", chi_squared(0.95, 2.0), 5.9915, 1e-4),
            row("D9-05", "χ² 95 %, 3", chi_squared(0.95, 3.0), 7.8147, 1e-4),
            row("D9-05", "χ² 95 %, 4", chi_squared(0.95, 4.0), 9.4877, 1e-4),
            row("D9-05", "χ² 95 %, 5", chi_squared(0.95, 5.0), 11.0705, 1e-4),
            row("D9-05", "χ² 95 %, 6", chi_squared(0.95, 6.0), 12.5916, 1e-4),
            row("D9-05", "χ² 99 %, 1", chi_squared(0.99, 1.0), 6.6349, 1e-4),
            row("D9-05", "χ² 99 %, 4", chi_squared(0.99, 4.0), 13.2767, 1e-4),
            row("D9-06", "normal 0.90", normal(0.90), 1.281_552, 1e-6),
            row("D9-06", "normal 0.95", normal(0.95), 1.644_854, 1e-6),
            row("D9-06", "normal 0.975", normal(0.975), 1.959_964, 1e-6),
            row("D9-06", "normal 0.995", normal(0.995), 2.575_829, 1e-6),
            row("D9-06", "t 0.975, 2", student(2.0), 4.3027, 1e-4),
            row("D9-06", "t 0.975, 4", student(4.0), 2.7764, 1e-4),
            row("D9-06", "t 0.975, 9", student(9.0), 2.2622, 1e-4),
        ],
    );
}

/// A tape of an OIML class: a + b L millimetres, L in metres, rounded up to whole ones.
fn tape(constant: f64, per_metre: f64) -> Limit {
    Limit::HalfWidth {
        constant: millimetres(constant),
        per_metre: millimetres(per_metre),
        whole_metres: true,
        shape: Shape::Rectangular,
    }
}

#[test]
fn oiml_r_35_tape_classes_d9_07() {
    let largest_error = |limit: Limit, metres: f64| {
        let uncertainty = limit.standard_uncertainty(millimetres(metres * 1000.0));
        uncertainty.millimetres() * 3_f64.sqrt()
    };
    let (one, two) = (tape(0.1, 0.1), tape(0.3, 0.2));
    let hair = 1e-12;
    check(
        "OIML R 35 classes",
        &[
            row("D9-07", "II, 3 m", largest_error(two, 3.0), 0.9, hair),
            row("D9-07", "II, 5 m", largest_error(two, 5.0), 1.3, hair),
            row("D9-07", "II, 8 m", largest_error(two, 8.0), 1.9, hair),
            row("D9-07", "I, 3 m", largest_error(one, 3.0), 0.4, hair),
            row("D9-07", "I, 5 m", largest_error(one, 5.0), 0.6, hair),
            row("D9-07", "I, 8 m", largest_error(one, 8.0), 0.9, hair),
            row("D9-07", "II, 0.7953 m counts as 1 m", largest_error(two, 0.7953), 0.5, hair),
            row("D9-07", "II, 1.001 m counts as 2 m", largest_error(two, 1.001), 0.7, hair),
            row(
                "D9-07",
                "u of class II at 1 m",
                two.standard_uncertainty(millimetres(1000.0)).millimetres(),
                0.289,
                0.0005,
            ),
        ],
    );
}

#[test]
fn caliper_budget_d9_08() {
    // Limits from memory of DIN 862 and JIS B 7507 (ISO 13385-1 leaves them to the maker); the
    // arithmetic is what is checked.
    let limit = Limit::HalfWidth {
        constant: millimetres(0.03),
        per_metre: millimetres(0.0),
        whole_metres: false,
        shape: Shape::Rectangular,
    };
    let caliper = Instrument {
        name: "digital caliper 150 mm".to_owned(),
        limit,
        step: millimetres(0.01),
        set_up: millimetres(0.0),
        repeatability: millimetres(0.01),
        source: "invented for this check".to_owned(),
    };
    let written = read_length("35.01 mm", Some(LengthUnit::Millimetre)).unwrap();
    let budget = caliper.budget(std::slice::from_ref(&written));
    let contribution = |index: usize| budget.components()[index].contribution();
    check(
        "caliper, by hand",
        &[
            row("D9-08", "limit", contribution(0), 0.0173, 5e-5),
            row("D9-08", "resolution", contribution(1), 0.0029, 5e-5),
            row("D9-08", "resolution alone", resolution(0.01), 0.0029, 5e-5),
            row("D9-08", "combined", budget.combined(), 0.0202, 5e-5),
        ],
    );
}

#[test]
fn cosine_error_d9_09_and_d9_10() {
    let angle = 1_f64.to_radians();
    let slant = |length: f64, offset: f64| slant_excess(millimetres(length), millimetres(offset)).millimetres();
    check(
        "cosine error, by formula",
        &[
            // The tape shows 800 mm along the slant.
            row("D9-09", "L (1 − cos θ)", slant(800.0 * angle.cos(), 800.0 * angle.sin()), 0.12184, 1e-5),
            // The thing is 800 mm long.
            row("D9-09", "L / cos θ − L", slant(800.0, 800.0 * angle.tan()), 0.12186, 1e-5),
            row("D9-10", "offset 5 mm at 750 mm", slant(750.0, 5.0), 0.01667, 1e-5),
            // 8 s² / 3 L with s = 1 in and L = 30 in is 4/45 in.
            row("bow", "sag 1 in at 30 in", bow_excess(inches(30.0), inches(1.0)).inches(), 4.0 / 45.0, 1e-12),
        ],
    );
}

#[test]
fn weighted_mean_d9_13() {
    let mean = weighted_mean(&[(35.012, 0.010), (35.020, 0.005), (34.996, 0.020)]).unwrap();
    check(
        "weighted mean, by formula",
        &[
            row("D9-13", "mean", mean.mean, 35.01733, 1e-5),
            row("D9-13", "standard uncertainty", mean.standard_uncertainty, 0.00436, 1e-5),
            row("D9-13", "χ²", mean.chi_squared, 1.7067, 1e-4),
            row("D9-13", "degrees of freedom", mean.degrees_of_freedom, 2.0, 1e-12),
        ],
    );
}
