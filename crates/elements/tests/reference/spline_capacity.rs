//! Spline capacity against Dudley's tables and the handbook equations worked out apart.

use elements::involute_spline::{InchSpline, Pitch, PressureAngle, RootForm, SplineFit};
use elements::spline_capacity::{
    DrivenLoad, FlankMotion, LoadFactors, PowerSource, SplineCapacityError, SplineHub, SplineMaterial, SplineTeeth,
    TorqueReversal, allowable_stress, application_factor, bursting, distribution_factor, fatigue_life_factor,
    flank_compression, pitch_line_shear, root_shear, straight_sided_torque, wear_life_factor,
};

use crate::table::{Standing, Table};

const SOURCE: &str = "Dudley 1957, tables I to VI, as a public page transcribes them; \
     Machinery's Handbook tables 9 and 10, equations 1 and 2; Wentzell, Machine Design, \
     example 15.2; the remaining handbook equations worked out apart";

const MATERIALS: [SplineMaterial; 6] = [
    SplineMaterial::Brinell160To200,
    SplineMaterial::Brinell230To260,
    SplineMaterial::Brinell302To351,
    SplineMaterial::SurfaceHardened48To53,
    SplineMaterial::CaseHardened58To63,
    SplineMaterial::ThroughHardened42To46,
];

struct Worked {
    id: &'static str,
    teeth: u32,
    diametral: f64,
    angle: PressureAngle,
    torque: f64,
    factors: LoadFactors,
    length: f64,
    bore: f64,
    outside: f64,
    speed: f64,
    /// External minor, chordal thickness, height, internal major.
    geometry: [f64; 4],
    /// Root shear, pitch-line shear, flank flexible, flank fixed, S1, S2, S3, St.
    stresses: [f64; 8],
}

const WORKED: [Worked; 3] = [
    Worked {
        id: "D2-08",
        teeth: 30,
        diametral: 24.0,
        angle: PressureAngle::FortyFive,
        torque: 12_000.0,
        factors: LoadFactors { application: 2.0, distribution: 1.0, fatigue_life: 0.5, wear_life: 2.0 },
        length: 1.25,
        bore: 0.0,
        outside: 2.25,
        speed: 1000.0,
        geometry: [1.20833, 0.07374, 0.04167, 1.30833],
        stresses: [138_564.0, 55_546.0, 12_288.0, 5_461.0, 5_192.0, 9.0, 16_384.0, 86_322.0],
    },
    Worked {
        id: "D2-09",
        teeth: 31,
        diametral: 24.0,
        angle: PressureAngle::FortyFive,
        torque: 20_000.0,
        factors: LoadFactors { application: 1.2, distribution: 1.0, fatigue_life: 1.0, wear_life: 2.8 },
        length: 1.5,
        bore: 0.0,
        outside: 2.5,
        speed: 600.0,
        geometry: [1.25000, 0.07374, 0.04167, 1.35000],
        stresses: [62_582.0, 21_674.0, 6_850.0, 2_131.0, 5_714.0, 4.0, 21_311.0, 32_435.0],
    },
    Worked {
        id: "D2-10",
        teeth: 16,
        diametral: 16.0,
        angle: PressureAngle::Thirty,
        torque: 6_000.0,
        factors: LoadFactors { application: 1.5, distribution: 1.5, fatigue_life: 0.4, wear_life: 1.4 },
        length: 1.0,
        bore: 0.375,
        outside: 1.75,
        speed: 3000.0,
        geometry: [0.87500, 0.09802, 0.06250, 1.11250],
        stresses: [177_024.0, 86_082.0, 19_286.0, 7_500.0, 3_459.0, 49.6, 16_000.0, 109_583.0],
    },
];

fn table_rows(table: &mut Table) {
    let shear = [20e3, 30e3, 40e3, 40e3, 50e3, 45e3];
    let straight = [1500.0, 2000.0, 3000.0, 4000.0, 5000.0];
    let crowned = [6000.0, 8000.0, 12_000.0, 16_000.0, 20_000.0];
    let tensile = [22e3, 32e3, 45e3, 45e3, 55e3, 50e3];
    for (place, material) in MATERIALS.into_iter().enumerate() {
        let got = allowable_stress(material);
        let what = format!("{material:?}");
        table.within("D2-01", &what, got.shear_psi, shear[place], 0.0, Standing::Published);
        table.within("D2-07", &what, got.tensile_psi, tensile[place], 0.0, Standing::FromMemory);
        if place < straight.len() {
            let got_straight = got.compressive_straight_psi.unwrap();
            let got_crowned = got.compressive_crowned_psi.unwrap();
            let standing = Standing::Published;
            table.within("D2-02", &what, got_straight, straight[place], 0.0, standing);
            table.within("D2-02", &what, got_crowned, crowned[place], 0.0, standing);
        } else {
            assert_eq!(got.compressive_straight_psi, None);
            assert_eq!(got.compressive_crowned_psi, None);
        }
    }
    let loads = [DrivenLoad::Uniform, DrivenLoad::LightShock, DrivenLoad::IntermittentShock, DrivenLoad::HeavyShock];
    for (source, row) in [
        (PowerSource::Uniform, [1.0, 1.2, 1.5, 1.8]),
        (PowerSource::LightShock, [1.2, 1.3, 1.8, 2.1]),
        (PowerSource::MediumShock, [2.0, 2.2, 2.4, 2.8]),
    ] {
        for (load, expected) in loads.into_iter().zip(row) {
            let got = application_factor(source, load);
            let what = format!("{source:?} on {load:?}");
            table.within("D2-03", what, got, expected, 0.0, Standing::Published);
        }
    }
    for (cycles, one_way, reversed) in
        [(1e3, 1.8, 1.8), (1e4, 1.0, 1.0), (1e5, 0.5, 0.4), (1e6, 0.4, 0.3), (1e7, 0.3, 0.2)]
    {
        for (reversal, expected) in
            [(TorqueReversal::Unidirectional, one_way), (TorqueReversal::FullyReversed, reversed)]
        {
            let got = fatigue_life_factor(cycles, reversal).unwrap();
            let what = format!("Kf at {cycles:e}, {reversal:?}");
            table.within("D2-04", what, got, expected, 0.0, Standing::Published);
        }
    }
    for (revolutions, expected) in [(1e4, 4.0), (1e5, 2.8), (1e6, 2.0), (1e7, 1.4), (1e8, 1.0), (1e9, 0.7), (1e10, 0.5)]
    {
        let got = wear_life_factor(revolutions).unwrap();
        let what = format!("Kw at {revolutions:e}");
        table.within("D2-05", what, got, expected, 0.0, Standing::Published);
    }
    for (misalignment, row) in [
        (0.001, [1.0, 1.0, 1.0, 1.5]),
        (0.002, [1.0, 1.0, 1.5, 2.0]),
        (0.004, [1.0, 1.5, 2.0, 2.5]),
        (0.008, [1.5, 2.0, 2.5, 3.0]),
    ] {
        for (face_in, expected) in [0.5, 1.0, 2.0, 4.0].into_iter().zip(row) {
            let got = distribution_factor(misalignment, face_in).unwrap();
            let what = format!("Km at {misalignment}, {face_in} in");
            table.within("D2-06", what, got, expected, 0.0, Standing::Published);
        }
    }
}

fn worked_rows(table: &mut Table) {
    for row in &WORKED {
        let pitch = Pitch::new(row.diametral, 2.0 * row.diametral).unwrap();
        let root = RootForm::Fillet;
        let spline = InchSpline::new(row.teeth, pitch, row.angle, root, SplineFit::Side).unwrap();
        let teeth = SplineTeeth {
            teeth: row.teeth,
            pitch_diameter_in: spline.pitch_diameter_in(),
            engaged_length_in: row.length,
            chordal_thickness_in: spline.flanks().chordal_thickness(spline.basic_width_in()).unwrap(),
            height_in: 1.0 / row.diametral,
        };
        let hub = SplineHub {
            outside_in: row.outside,
            internal_major_in: spline.internal().major_in,
            length_in: row.length,
            pressure_angle_rad: row.angle.radians(),
            form_factor: 1.5,
            speed_rev_per_min: row.speed,
        };
        let minor_in = spline.external().minor_in;
        let (id, torque, factors) = (row.id, row.torque, &row.factors);
        for (what, got, expected) in [
            ("external minor", minor_in, row.geometry[0]),
            ("chordal thickness", teeth.chordal_thickness_in, row.geometry[1]),
            ("height", teeth.height_in, row.geometry[2]),
            ("internal major", hub.internal_major_in, row.geometry[3]),
        ] {
            table.within(id, what, got, expected, 5e-6, Standing::Computed);
        }
        let burst = bursting(torque, factors, &teeth, &hub).unwrap();
        let flank = |motion| flank_compression(torque, factors, &teeth, motion).unwrap();
        let values = [
            ("root shear", root_shear(torque, factors, minor_in, row.bore).unwrap()),
            ("pitch-line shear", pitch_line_shear(torque, factors, &teeth).unwrap()),
            ("flexible flank", flank(FlankMotion::Flexible)),
            ("fixed flank", flank(FlankMotion::Fixed)),
            ("radial", burst.radial_psi),
            ("centrifugal", burst.centrifugal_psi),
            ("bending", burst.bending_psi),
            ("bursting", burst.total_psi),
        ];
        for ((what, got), expected) in values.into_iter().zip(row.stresses) {
            // The reference allows half a percent; the centrifugal stress is printed to 0.1 psi, so
            // that half a percent of four psi is less than its last digit.
            let tolerance = f64::max(0.005 * expected, 0.05);
            table.within(id, what, got, expected, tolerance, Standing::Computed);
        }
    }
}

#[test]
fn capacities_agree_with_dudleys_tables_and_the_handbook_equations() {
    let mut table = Table::new("spline_capacity", SOURCE);
    table_rows(&mut table);
    worked_rows(&mut table);
    let torque = straight_sided_torque(1000.0, 6, 2.0, 1.000, 0.810).unwrap();
    table.within("D2-11", "straight-sided", torque, 515.85, 0.01, Standing::Published);
    table.finish(&["D2-01", "D2-02", "D2-03", "D2-04", "D2-05", "D2-06", "D2-07", "D2-08", "D2-09", "D2-10", "D2-11"]);
}

#[test]
fn the_centrifugal_term_is_the_rotating_ring_of_steel() {
    // Timoshenko's ring: σ = ρω²/4 [(3+ν) ro² + (1−ν) ri²] at the bore, with γ = 0.283 lb/in³ and
    // g = 386.09 in/s². The handbook rounds its constants to three digits.
    let (outside, major, speed) = (2.5_f64, 1.35_f64, 3000.0_f64);
    let omega = speed * std::f64::consts::TAU / 60.0;
    let (outer, inner) = (outside / 2.0, major / 2.0);
    let ring = 0.283 / 386.09 * omega.powi(2) / 4.0 * (3.3 * outer.powi(2) + 0.7 * inner.powi(2));
    let worked = &WORKED[0];
    let teeth = SplineTeeth {
        teeth: 31,
        pitch_diameter_in: 1.2917,
        engaged_length_in: 1.5,
        chordal_thickness_in: 0.0737,
        height_in: 0.0417,
    };
    let hub = SplineHub {
        outside_in: outside,
        internal_major_in: major,
        length_in: 1.5,
        pressure_angle_rad: 0.785,
        form_factor: 1.5,
        speed_rev_per_min: speed,
    };
    let got = bursting(0.0, &worked.factors, &teeth, &hub).unwrap().centrifugal_psi;
    assert!((got / ring - 1.0).abs() < 2e-3, "{got} against {ring}");
}

#[test]
fn what_lies_past_the_tables_is_refused() {
    assert!(matches!(
        fatigue_life_factor(1.1e7, TorqueReversal::Unidirectional),
        Err(SplineCapacityError::PastTable { .. })
    ));
    assert!(matches!(wear_life_factor(f64::NAN), Err(SplineCapacityError::NotPositive { .. })));
    assert!(matches!(distribution_factor(0.009, 1.0), Err(SplineCapacityError::PastTable { .. })));
    assert!(matches!(distribution_factor(-0.001, 1.0), Err(SplineCapacityError::Negative { .. })));
    let factors = &WORKED[0].factors;
    assert!(matches!(root_shear(1000.0, factors, 1.0, 1.0), Err(SplineCapacityError::NotLarger { .. })));
    let no_life = LoadFactors { fatigue_life: 0.0, ..*factors };
    assert!(matches!(root_shear(1000.0, &no_life, 1.0, 0.0), Err(SplineCapacityError::NotPositive { .. })));
    assert!(root_shear(f64::NAN, factors, 1.0, 0.0).is_err());
    assert!(straight_sided_torque(1000.0, 6, 2.0, 0.8, 0.9).is_err());
}
