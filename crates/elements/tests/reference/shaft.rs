//! Stress concentration, fatigue, shaft strength and steels against textbooks and data pages.
//!
//! Addresses of the data: 4140 efunda.com, 4340 asm.matweb.com M434AP, 1050 scribd 403205949,
//! hardness studylib.net/doc/18154429.

use elements::fatigue::{
    Criterion, FatigueError, FatigueStrength, ShaftLoad, ShaftStress, SurfaceFinish, Yielding, cycles_at,
    finite_life_strength, load_factor, miner_damage, reliability_factor, reversed_stress, safety, shaft_diameter,
    shaft_stress, size_factor, surface_factor, uncorrected_endurance_mpa, yield_safety,
};
use elements::shaft_strength::{
    ShaftError, ShaftSection, least_case_depth, maximum_shear_equivalent, stiffness, von_mises, von_mises_plane,
};
use elements::steel::{hardness_rows, steel_conditions, torsional_yield_mpa};
use elements::stress_concentration::{
    ConcentrationError, Loading, fatigue_factor, highest_diameter_ratio, neuber_root_sqrt_in,
    neuber_root_tabulated_sqrt_in, notch_sensitivity, shoulder_factor, shoulder_fits,
};

use crate::table::{Standing, Table};

const SOURCE: &str = "Norton, Machine Design, appendix C and table 6-6, as a public source file \
     transcribes them; Shigley example 7-1; Budynas & Nisbett solution manual problem 7-2; \
     Wentzell, Machine Design, examples 5.5 and 5.6; Sadhu Singh, Machine Design, examples 4.3 \
     and 4.10; Beer & Johnston, sample problem 3.1 and example 3.02; Dieter, example 12.1; public \
     material data";

const KSI_MPA: f64 = 6.894_757;

/// Ratio of diameters, `A`, `b`.
type FitRow = (f64, f64, f64);

const PRINTED_FITS: [(&str, Loading, &[FitRow]); 4] = [
    (
        "D6-01",
        Loading::Bending,
        &[
            (6.0, 0.87868, -0.33243),
            (3.0, 0.89334, -0.30860),
            (2.0, 0.90879, -0.28598),
            (1.5, 0.93836, -0.25759),
            (1.2, 0.97098, -0.21796),
            (1.1, 0.95120, -0.23757),
        ],
    ),
    (
        "D6-02",
        Loading::Torsion,
        &[(2.0, 0.86331, -0.23865), (1.33, 0.84897, -0.23161), (1.2, 0.83425, -0.21649), (1.09, 0.90337, -0.12692)],
    ),
    (
        "D6-03",
        Loading::Axial,
        &[
            (2.0, 1.01470, -0.30035),
            (1.5, 0.99957, -0.28221),
            (1.3, 0.99682, -0.25751),
            (1.2, 0.96272, -0.25527),
            (1.1, 0.98450, -0.20818),
            (1.05, 1.00480, -0.17076),
        ],
    ),
    (
        "D6-04",
        Loading::Bending,
        &[
            (1.07, 0.97527, -0.20958),
            (1.05, 0.98137, -0.19653),
            (1.03, 0.98061, -0.18381),
            (1.02, 0.96048, -0.17711),
            (1.01, 0.91938, -0.17032),
        ],
    ),
];

fn notch_rows(table: &mut Table) {
    for (id, loading, rows) in PRINTED_FITS {
        for &(ratio, coefficient, exponent) in rows {
            let got = shoulder_fits(loading).iter().find(|fit| fit.diameter_ratio == ratio).unwrap();
            let what = format!("{loading:?} at {ratio}");
            let standing = Standing::Published;
            table.within(id, &what, got.coefficient, coefficient, 0.0, standing);
            table.within(id, &what, got.exponent, exponent, 0.0, standing);
        }
    }
    for (id, strengths, roots) in [
        ("D6-05", &[50.0, 60.0, 80.0, 100.0, 120.0][..], &[0.130, 0.108, 0.080, 0.062, 0.049][..]),
        ("D6-06", &[140.0, 160.0, 180.0, 200.0, 220.0, 240.0][..], &[0.039, 0.031, 0.024, 0.018, 0.013, 0.009][..]),
    ] {
        for (&strength, &expected) in strengths.iter().zip(roots) {
            let got = neuber_root_tabulated_sqrt_in(strength).unwrap();
            let what = format!("√a at {strength}");
            table.within(id, what, got, expected, 0.0, Standing::Published);
        }
    }
    for (id, loading, ratio, radius, expected) in [
        ("D6-07", Loading::Bending, 1.5, 0.10, 1.6981),
        ("D6-08", Loading::Torsion, 1.33, 0.05, 1.6991),
        ("D6-09", Loading::Axial, 1.2, 0.10, 1.7329),
    ] {
        let got = shoulder_factor(loading, 1.0, ratio, radius).unwrap();
        table.within(id, "Kt", got, expected, 1e-3, Standing::Computed);
    }
}

/// Shigley's shaft shoulder, example 7-1: the printed answers of the book, every step beside them.
fn shoulder_example(table: &mut Table) {
    let id = "D6-10";
    let computed = Standing::Computed;
    let bending_root = neuber_root_sqrt_in(105.0, Loading::Bending).unwrap();
    let torsion_root = neuber_root_sqrt_in(105.0, Loading::Torsion).unwrap();
    let q = notch_sensitivity(bending_root, 0.11).unwrap();
    let qs = notch_sensitivity(torsion_root, 0.11).unwrap();
    // The book rounds the sensitivities to two digits before it goes on.
    let kf = fatigue_factor(1.68, 0.85).unwrap();
    let kfs = fatigue_factor(1.42, 0.88).unwrap();
    let tensile_mpa = 105.0 * KSI_MPA;
    let ka = surface_factor(SurfaceFinish::Machined, tensile_mpa).unwrap();
    let kb = size_factor(1.1 * 25.4).unwrap();
    let ke = reliability_factor(99.0).unwrap();
    let endurance_ksi = ka * kb * ke * uncorrected_endurance_mpa(tensile_mpa).unwrap() / KSI_MPA;
    for (what, got, expected, tolerance) in [
        ("√a bending", bending_root, 0.0582, 5e-5),
        ("√a torsion", torsion_root, 0.0444, 5e-5),
        ("q", q, 0.85, 5e-3),
        ("qs", qs, 0.88, 5e-3),
        ("Kf", kf, 1.58, 5e-3),
        ("Kfs", kfs, 1.37, 5e-3),
        // The book's coefficient for ksi, 2.70, and ours for MPa, 4.51, are each rounded to three
        // digits, which is up to 0.2 % between them.
        ("ka", ka, 0.787, 0.002 * 0.787),
        ("kb", kb, 0.870, 5e-4),
        ("ke", ke, 0.814, 0.0),
        ("Se", endurance_ksi, 29.3, 0.05),
    ] {
        table.within(id, what, got, expected, tolerance, computed);
    }
    let load = ShaftLoad {
        alternating_moment: 1.260,
        mean_moment: 0.0,
        alternating_torque: 0.0,
        mean_torque: 1.100,
        bending_factor: 1.58,
        torsion_factor: 1.37,
    };
    let stress = shaft_stress(&load, 1.1).unwrap();
    table.within(id, "σa", stress.alternating, 15.24, 5e-3, computed);
    table.within(id, "σm", stress.mean, 9.99, 5e-3, computed);
    let strength = FatigueStrength { endurance: 29.3, tensile: 105.0, yield_strength: 82.0 };
    let memory = Standing::FromMemory;
    for (criterion, computed_apart, printed) in [
        (Criterion::Goodman, 1.626, 1.62),
        (Criterion::Gerber, 1.863, 1.87),
        (Criterion::AsmeElliptic, 1.872, 1.88),
        (Criterion::Soderberg, 1.558, 1.56),
    ] {
        let got = safety(criterion, stress, strength).unwrap();
        let what = format!("{criterion:?}");
        table.within(id, &what, got, computed_apart, 2e-3, computed);
        table.within(id, what + " as printed", got, printed, 0.02, memory);
        // The diameter that just reaches this safety is the one we started from.
        let back = shaft_diameter(criterion, &load, strength, got).unwrap();
        table.within(id, "diameter back", back, 1.1, 1e-12, computed);
    }
    let root = yield_safety(stress, 82.0, Yielding::RootSum).unwrap();
    let sum = yield_safety(stress, 82.0, Yielding::Sum).unwrap();
    table.within(id, "yield", root, 4.50, 5e-3, computed);
    table.within(id, "yield as printed", root, 4.50, 0.02, memory);
    table.within(id, "yield, sum", sum, 3.25, 5e-3, computed);
}

fn fatigue_rows(table: &mut Table) {
    let standing = Standing::Published;
    let load = ShaftLoad {
        alternating_moment: 70e3,
        mean_moment: 0.0,
        alternating_torque: 0.0,
        mean_torque: 45e3,
        bending_factor: 1.81,
        torsion_factor: 1.49,
    };
    let strength = FatigueStrength { endurance: 375.0, tensile: 1226.0, yield_strength: 1130.0 };
    let diameter = shaft_diameter(Criterion::AsmeElliptic, &load, strength, 2.5).unwrap();
    table.within("D6-11", "diameter", diameter, 20.6, 0.05, standing);
    let surface = surface_factor(SurfaceFinish::Machined, 1226.0).unwrap();
    table.within("D6-11", "ka", surface, 0.685, 5e-4, standing);
    table.within("D6-11", "kb", size_factor(22.0).unwrap(), 0.893, 5e-4, standing);

    // Torsion from 0 to 200 lbf·in: mean and amplitude are halves of the largest stress.
    let largest_psi = ShaftSection::solid(0.5).unwrap().shear_stress(200.0).unwrap();
    let endurance_psi = 0.5 * 80e3 * 0.85 * 0.88 * 0.6;
    table.within("D6-12", "τ", largest_psi, 8149.0, 1.0, standing);
    for (endurance, expected) in
        [(endurance_psi, 2.41), (finite_life_strength(endurance_psi, 1e5, 0.09).unwrap(), 2.80)]
    {
        let stress = ShaftStress { alternating: 1.32 * largest_psi / 2.0, mean: largest_psi / 2.0 };
        let strength = FatigueStrength { endurance, tensile: 80e3, yield_strength: 0.5 * 71e3 };
        let got = safety(Criterion::Soderberg, stress, strength).unwrap();
        table.within("D6-12", "safety", got, expected, 0.02, standing);
    }

    let factor = fatigue_factor(1.8, 0.86).unwrap();
    let limit =
        uncorrected_endurance_mpa(440.0).unwrap() * 0.82 * 0.85 * reliability_factor(95.0).unwrap() * 0.577 / factor;
    table.within("D6-13", "Kf", factor, 1.688, 5e-4, standing);
    table.within("D6-13", "Se", limit, 45.5, 0.1, standing);

    for (percent, expected) in [(50.0, 1.0), (90.0, 0.897), (95.0, 0.868), (99.0, 0.814), (99.9, 0.753), (99.99, 0.702)]
    {
        let got = reliability_factor(percent).unwrap();
        let what = format!("{percent} %");
        table.within("D6-14", what, got, expected, 0.0, standing);
    }
    // The coefficients are private; at a strength where none is capped each gives its own value.
    for (finish, coefficient, exponent) in [
        (SurfaceFinish::Ground, 1.58_f64, -0.085),
        (SurfaceFinish::Machined, 4.51, -0.265),
        (SurfaceFinish::HotRolled, 57.7, -0.718),
        (SurfaceFinish::Forged, 272.0, -0.995),
    ] {
        let got = surface_factor(finish, 1000.0).unwrap();
        let expected = coefficient * (exponent * 1000.0_f64.ln()).exp();
        let what = format!("{finish:?} at 1000 MPa");
        table.within("D6-15", what, got, expected, 1e-12, standing);
    }
    let machined = surface_factor(SurfaceFinish::Machined, 1000.0).unwrap();
    table.within("D6-15", "machined at 1000 MPa", machined, 0.7231, 1e-4, Standing::Computed);

    // 75/−25 kip axially, strength in ksi, the notch factor on the endurance limit only. The public
    // notebook prints 1.457 in: its integer division dropped the mean term.
    let per_area = ShaftStress { alternating: 50.0, mean: 25.0 };
    let strength = FatigueStrength { endurance: 75.0 / 2.5, tensile: 158.0, yield_strength: 158.0 };
    let area = 1.0 / safety(Criterion::Goodman, per_area, strength).unwrap();
    let diameter = (4.0 * area / std::f64::consts::PI).sqrt();
    table.within("D6-24", "area", area, 1.8249, 1e-4, Standing::Computed);
    table.within("D6-24", "diameter", diameter, 1.524, 1e-3, Standing::Computed);

    let stress = ShaftStress {
        alternating: von_mises_plane(25.0, 25.0, 0.0).unwrap(),
        mean: von_mises_plane(75.0, 45.0, 0.0).unwrap(),
    };
    let strength = FatigueStrength { endurance: 280.0, tensile: 600.0, yield_strength: 600.0 };
    let got = safety(Criterion::Goodman, stress, strength).unwrap();
    table.within("D6-25", "safety", got, 5.04, 0.01, standing);
}

fn shaft_rows(table: &mut Table) {
    let hollow = ShaftSection::hollow(120.0, 90.0).unwrap();
    let outer = hollow.shear_stress(20e6).unwrap();
    let inner = hollow.bore_shear_stress(20e6).unwrap();
    let moment_m4 = hollow.polar_moment() * 1e-12;
    table.within("D6-16", "outer", outer, 86.2, 0.1, Standing::Published);
    table.within("D6-16", "inner", inner, 64.7, 0.1, Standing::Published);
    table.within("D6-16", "J", moment_m4, 1.3916e-5, 5e-10, Standing::Computed);

    let torque_knm = stiffness(1.021e-6, 77e9, 1.5).unwrap() * 2_f64.to_radians() / 1000.0;
    table.within("D6-17", "torque", torque_knm, 1.8295, 1e-4, Standing::Published);

    let solid = ShaftSection::solid(33.0).unwrap();
    let rate = solid.torsional_stiffness(80e3, 800.0).unwrap();
    for (what, got, expected) in [
        ("shear", solid.shear_stress(2.5e6).unwrap(), 354.30),
        ("J", solid.polar_moment(), 116_427.5),
        ("stiffness", rate / 1e6, 11.6428),
        ("twist", (2.5e6 / rate).to_degrees(), 12.3029),
    ] {
        table.within_share("D6-18", what, got, expected, 5e-4, Standing::Computed);
    }
    let depth = least_case_depth(800.0, 303.0).unwrap();
    table.within("D6-23", "case depth", depth, 0.6213, 1e-4, Standing::Computed);
}

fn steel_rows(table: &mut Table) {
    let standing = Standing::Published;
    for (id, grade, condition, tensile, yields) in [
        ("D6-19", "4140", "tempered 205", 1772.0, 1641.0),
        ("D6-19", "4140", "tempered 315", 1551.0, 1434.0),
        ("D6-19", "4140", "tempered 425", 1248.0, 1138.0),
        ("D6-19", "4140", "tempered 540", 951.0, 834.0),
        ("D6-19", "4140", "tempered 650", 758.0, 655.0),
        ("D6-19", "4140", "annealed", 655.0, 417.0),
        ("D6-19", "4140", "normalized", 1020.0, 655.0),
        ("D6-20", "4340", "tempered 650", 931.0, 834.0),
        ("D6-21", "1050", "hot-rolled", 620.0, 338.0),
        ("D6-21", "1050", "cold-drawn", 690.0, 579.0),
        ("D6-21", "1050", "tempered 1300", 662.0, 421.0),
        ("D6-21", "1050", "tempered 400", 986.0, 758.0),
    ] {
        let found: Vec<_> = steel_conditions()
            .iter()
            .filter(|steel| steel.grade == grade && steel.condition.contains(condition))
            .collect();
        assert_eq!(found.len(), 1, "{grade} {condition}");
        let what = format!("{grade} {condition}");
        table.within(id, &what, found[0].tensile_mpa, tensile, 0.0, standing);
        table.within(id, &what, found[0].yield_mpa, yields, 0.0, standing);
    }
    // The same rows in ksi, as the scan prints them, to its own rounding of one ksi.
    for (condition, tensile_ksi, yield_ksi) in [
        ("hot-rolled", 90.0, 49.0),
        ("cold-drawn", 100.0, 84.0),
        ("tempered 1300", 96.0, 61.0),
        ("tempered 400", 143.0, 110.0),
    ] {
        let steel = steel_conditions()
            .iter()
            .find(|steel| steel.grade == "1050" && steel.condition.contains(condition))
            .unwrap();
        let what = format!("1050 {condition} in ksi");
        let (tensile, yields) = (steel.tensile_mpa / KSI_MPA, steel.yield_mpa / KSI_MPA);
        table.within("D6-21", &what, tensile, tensile_ksi, 0.5, standing);
        table.within("D6-21", &what, yields, yield_ksi, 0.5, standing);
    }
    let printed = [
        (52.0, 966.0, 1614.0, 514.0),
        (50.0, 917.0, 1524.0, 481.0),
        (40.0, 690.0, 1152.0, 371.0),
        (30.0, 503.0, 941.0, 286.0),
        (20.0, 366.0, 614.0, 226.0),
        (10.0, 303.0, 503.0, 187.0),
        (0.0, 221.0, 366.0, 150.0),
    ];
    assert_eq!(hardness_rows().len(), printed.len());
    for (rockwell, torsional, tensile, brinell) in printed {
        let row = hardness_rows().iter().find(|row| row.rockwell_c == rockwell).unwrap();
        let what = format!("{rockwell} HRC");
        let looked_up = torsional_yield_mpa(rockwell).unwrap();
        table.within("D6-22", &what, looked_up, torsional, 0.0, standing);
        table.within("D6-22", &what, row.tensile_yield_mpa, tensile, 0.0, standing);
        table.within("D6-22", &what, row.brinell, brinell, 0.0, standing);
        // The source's own rule, which its row at 30 HRC breaks.
        let ratio = row.torsional_yield_mpa / row.tensile_yield_mpa;
        assert_eq!((ratio - 0.6).abs() < 0.006, rockwell != 30.0, "{rockwell}");
    }
}

#[test]
fn shafts_and_steels_agree_with_textbooks_and_data_pages() {
    let mut table = Table::new("stress_concentration, fatigue, shaft_strength and steel", SOURCE);
    notch_rows(&mut table);
    shoulder_example(&mut table);
    fatigue_rows(&mut table);
    shaft_rows(&mut table);
    steel_rows(&mut table);
    table.finish(&[
        "D6-01", "D6-02", "D6-03", "D6-04", "D6-05", "D6-06", "D6-07", "D6-08", "D6-09", "D6-10", "D6-11", "D6-12",
        "D6-13", "D6-14", "D6-15", "D6-16", "D6-17", "D6-18", "D6-19", "D6-20", "D6-21", "D6-22", "D6-23", "D6-24",
        "D6-25",
    ]);
}

#[test]
fn between_two_printed_ratios_the_factor_lies_between_their_factors() {
    for loading in [Loading::Bending, Loading::Torsion, Loading::Axial] {
        for pair in shoulder_fits(loading).windows(2) {
            let (low, high) = (pair[0].diameter_ratio, pair[1].diameter_ratio);
            let at = |ratio| shoulder_factor(loading, 1.0, ratio, 0.1).unwrap();
            let middle = at((low + high) / 2.0);
            let mean = (at(low) + at(high)) / 2.0;
            assert!((middle - mean).abs() < 1e-12, "{loading:?} {low} to {high}");
        }
    }
}

#[test]
fn the_neuber_fit_follows_the_table_that_it_was_fitted_to() {
    // The cubic is a fit to the curve of the table: within 0.004 √in from 50 to 220 ksi.
    for strength in [50.0, 60.0, 80.0, 100.0, 120.0, 140.0, 160.0, 180.0, 200.0, 220.0] {
        let fit = neuber_root_sqrt_in(strength, Loading::Bending).unwrap();
        let tabulated = neuber_root_tabulated_sqrt_in(strength).unwrap();
        assert!((fit - tabulated).abs() < 0.004, "{strength}: {fit} {tabulated}");
    }
}

#[test]
fn the_torsion_factors_of_the_two_theories_are_one_half_and_0_577() {
    // A pure torsion yields at Sy/2 by the maximum shear theory and Sy/√3 by von Mises.
    assert_eq!(maximum_shear_equivalent(0.0, 100.0), Ok(200.0));
    let von_mises = von_mises(0.0, 100.0).unwrap();
    assert!((100.0 / von_mises - 0.577).abs() < 5e-4);
    assert_eq!(load_factor(Loading::Torsion), 0.59);
}

#[test]
fn numbers_outside_the_charts_are_refused() {
    assert!(matches!(shoulder_factor(Loading::Torsion, 40.0, 90.0, 4.0), Err(ConcentrationError::Range { .. })));
    assert_eq!(highest_diameter_ratio(Loading::Torsion), 2.0);
    assert!(matches!(shoulder_factor(Loading::Bending, 40.0, 40.0, 4.0), Err(ConcentrationError::Range { .. })));
    assert!(matches!(shoulder_factor(Loading::Bending, 40.0, 60.0, 0.1), Err(ConcentrationError::Range { .. })));
    assert!(matches!(neuber_root_sqrt_in(105.0, Loading::Axial), Err(ConcentrationError::NoAxialConstant)));
    let strength = FatigueStrength { endurance: 300.0, tensile: 900.0, yield_strength: 700.0 };
    let nothing = ShaftStress { alternating: 0.0, mean: 0.0 };
    assert_eq!(safety(Criterion::Gerber, nothing, strength), Err(FatigueError::NoLoad));
    // Gerber stays finite where one of the two stresses is missing.
    for (alternating, mean, expected) in [(0.0, 450.0, 2.0), (150.0, 0.0, 2.0)] {
        let stress = ShaftStress { alternating, mean };
        let got = safety(Criterion::Gerber, stress, strength).unwrap();
        assert!((got - expected).abs() < 1e-12);
    }
    assert!(matches!(reliability_factor(91.0), Err(FatigueError::Reliability { .. })));
    assert!(matches!(ShaftSection::hollow(30.0, 30.0), Err(ShaftError::Bore { .. })));
    for bad in [f64::NAN, f64::INFINITY] {
        assert!(ShaftSection::solid(bad).is_err());
        assert!(ShaftSection::solid(30.0).unwrap().shear_stress(bad).is_err());
        assert!(size_factor(bad).is_err());
        assert!(torsional_yield_mpa(bad).is_err());
        assert!(shoulder_factor(Loading::Bending, bad, 60.0, 4.0).is_err());
    }
    // A core that holds alone needs no case.
    assert_eq!(least_case_depth(200.0, 303.0), Ok(0.0));
}

/// By hand, from the line itself: at m = 0.1 the slope is 10, so that twice the endurance limit is borne 10⁶/1024 times; beyond
/// the knee the slope is 19 (2k − 1 after Haibach), so that half of the limit is borne 10⁶ · 2¹⁹ times.
#[test]
fn the_s_n_line_by_hand_and_the_sum_of_miner() {
    assert!((cycles_at(2.0, 0.1).unwrap() / (1e6 / 1024.0) - 1.0).abs() < 1e-12);
    assert!((cycles_at(0.5, 0.1).unwrap() / (1e6 * 524_288.0) - 1.0).abs() < 1e-12);
    assert!((cycles_at(1.0, 0.1).unwrap() - 1e6).abs() < 1e-6);
    let damage = miner_damage(&[(488.281_25, cycles_at(2.0, 0.1).unwrap()), (5e5, 1e6)]).unwrap();
    assert!((damage - 1.0).abs() < 1e-9);
    assert!(matches!(cycles_at(0.0, 0.1), Err(FatigueError::NotPositive { .. })));
    assert!(matches!(cycles_at(1.0, 0.5), Err(FatigueError::Range { .. })));
    assert!(matches!(miner_damage(&[(-1.0, 10.0)]), Err(FatigueError::Negative { .. })));
    assert!(matches!(miner_damage(&[(1.0, 0.0)]), Err(FatigueError::NotPositive { .. })));
    assert!(matches!(reversed_stress(10.0, 900.0, 900.0), Err(FatigueError::Range { .. })));
}
