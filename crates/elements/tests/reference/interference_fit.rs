//! Interference fits and bearing seats against textbook solutions and seat tables.

use elements::bearing_seat::{BearingSeatError, SeatLoad, bore_limits, usual_zones};
use elements::interference_fit::{
    Elastic, FrictionRange, InterferenceError, PressFit, SeatFinish, effective_interference_mm, heating_rise,
    holding_force, holding_torque,
};
use elements::limits_fits::{FitClearance, Zone};

use crate::table::{Standing, Table};

const SOURCE: &str = "Budynas & Nisbett solution manual, problems 3-64, 3-65, 3-68, 5-35 and 7-24, \
     a public worked example of a press fit after Lamé, a public table of resultant fits of \
     bearing seats, and the formula worked out apart";

struct Joint {
    id: &'static str,
    bore: f64,
    diameter: f64,
    outside: f64,
    shaft: (f64, f64),
    hub: (f64, f64),
    interference: f64,
    pressure: f64,
    hub_bore_hoop: Option<f64>,
    tolerance: f64,
    standing: Standing,
}

const STEEL_MPA: (f64, f64) = (207e3, 0.29);
const STEEL_PSI: (f64, f64) = (30e6, 0.292);

/// The books print radial interference for the first three: the diametral one is twice that.
const JOINTS: [Joint; 13] = [
    Joint {
        id: "D4-01",
        bore: 0.0,
        diameter: 40.0,
        outside: 80.0,
        shaft: STEEL_MPA,
        hub: STEEL_MPA,
        interference: 2.0 * 0.0295,
        pressure: 114.5,
        hub_bore_hoop: None,
        tolerance: 0.1,
        standing: Standing::Published,
    },
    Joint {
        id: "D4-01",
        bore: 0.0,
        diameter: 40.0,
        outside: 80.0,
        shaft: STEEL_MPA,
        hub: STEEL_MPA,
        interference: 2.0 * 0.009,
        pressure: 34.9,
        hub_bore_hoop: None,
        tolerance: 0.1,
        standing: Standing::Published,
    },
    Joint {
        id: "D4-02",
        bore: 0.0,
        diameter: 1.5,
        outside: 3.0,
        shaft: STEEL_PSI,
        hub: STEEL_PSI,
        interference: 2.0 * 0.00115,
        pressure: 17_250.0,
        hub_bore_hoop: None,
        tolerance: 1.0,
        standing: Standing::Published,
    },
    Joint {
        id: "D4-02",
        bore: 0.0,
        diameter: 1.5,
        outside: 3.0,
        shaft: STEEL_PSI,
        hub: STEEL_PSI,
        interference: 2.0 * 0.00035,
        pressure: 5_250.0,
        hub_bore_hoop: None,
        tolerance: 1.0,
        standing: Standing::Published,
    },
    Joint {
        id: "D4-03",
        bore: 0.0,
        diameter: 1.0,
        outside: 2.0,
        shaft: STEEL_PSI,
        hub: STEEL_PSI,
        interference: 2.0 * 0.001,
        pressure: 22_500.0,
        hub_bore_hoop: Some(37_500.0),
        tolerance: 1.0,
        standing: Standing::Published,
    },
    Joint {
        id: "D4-04",
        bore: 0.0,
        diameter: 1.5,
        outside: 2.5,
        shaft: STEEL_PSI,
        hub: STEEL_PSI,
        interference: 0.0023,
        pressure: 14_720.0,
        hub_bore_hoop: Some(31_280.0),
        tolerance: 10.0,
        standing: Standing::Published,
    },
    Joint {
        id: "D4-04",
        bore: 0.0,
        diameter: 1.5,
        outside: 2.5,
        shaft: STEEL_PSI,
        hub: STEEL_PSI,
        interference: 0.0007,
        pressure: 4_480.0,
        hub_bore_hoop: None,
        tolerance: 10.0,
        standing: Standing::Published,
    },
    Joint {
        id: "D4-05",
        bore: 25.0,
        diameter: 50.0,
        outside: 75.0,
        shaft: STEEL_MPA,
        hub: STEEL_MPA,
        interference: 0.02,
        pressure: 19.41,
        hub_bore_hoop: Some(50.47),
        tolerance: 0.05,
        standing: Standing::Published,
    },
    Joint {
        id: "D4-06",
        bore: 0.0,
        diameter: 50.0,
        outside: 80.0,
        shaft: (210e3, 0.3),
        hub: (210e3, 0.3),
        interference: 0.04,
        pressure: 51.19,
        hub_bore_hoop: Some(116.8),
        tolerance: 0.05,
        standing: Standing::Published,
    },
    Joint {
        id: "D4-07",
        bore: 0.0,
        diameter: 60.0,
        outside: 110.0,
        shaft: STEEL_MPA,
        hub: (110e3, 0.25),
        interference: 0.05,
        pressure: 37.047,
        hub_bore_hoop: Some(68.43),
        tolerance: 0.037,
        standing: Standing::Computed,
    },
    Joint {
        id: "D4-08",
        bore: 0.0,
        diameter: 45.0,
        outside: 80.0,
        shaft: STEEL_MPA,
        hub: (71e3, 0.33),
        interference: 0.06,
        pressure: 37.878,
        hub_bore_hoop: Some(72.94),
        tolerance: 0.037,
        standing: Standing::Computed,
    },
    Joint {
        id: "D4-09",
        bore: 0.0,
        diameter: 40.0,
        outside: 48.0,
        shaft: STEEL_MPA,
        hub: STEEL_MPA,
        interference: 0.023,
        pressure: 18.184,
        hub_bore_hoop: Some(100.84),
        tolerance: 0.018,
        standing: Standing::Computed,
    },
    Joint {
        id: "D4-10",
        bore: 0.0,
        diameter: 45.0,
        outside: 54.0,
        shaft: STEEL_MPA,
        hub: STEEL_MPA,
        interference: 0.037,
        pressure: 26.003,
        hub_bore_hoop: Some(144.20),
        tolerance: 0.026,
        standing: Standing::Computed,
    },
];

impl Joint {
    fn fit(&self) -> PressFit {
        let elastic = |(modulus, poisson)| Elastic::new(modulus, poisson).unwrap();
        PressFit::new(self.bore, self.diameter, self.outside, elastic(self.shaft), elastic(self.hub)).unwrap()
    }

    fn computed_pressure(&self) -> f64 {
        self.fit().pressure(self.interference).unwrap()
    }
}

/// Id of a joint above, length, friction, force in newtons, torque in newton metres.
const HOLDING: [(&str, f64, f64, f64, f64); 4] = [
    ("D4-06", 40.0, 0.12, 38_590.0, 964.9),
    ("D4-07", 45.0, 0.12, 37_709.0, 1131.3),
    ("D4-09", 18.0, 0.12, 4_936.0, 98.72),
    ("D4-10", 19.0, 0.12, 8_381.0, 188.58),
];

/// Zone, greatest and least interference in micrometres, and the probable ones.
const RINGS_30_TO_50: [(&str, [f64; 2], [f64; 2]); 7] = [
    ("h6", [12.0, -16.0], [8.0, -12.0]),
    ("j5", [18.0, -5.0], [15.0, -2.0]),
    ("k5", [25.0, 2.0], [22.0, 5.0]),
    ("k6", [30.0, 2.0], [26.0, 6.0]),
    ("m5", [32.0, 9.0], [29.0, 12.0]),
    ("m6", [37.0, 9.0], [33.0, 13.0]),
    ("n5", [40.0, 17.0], [37.0, 20.0]),
];

fn joint_rows(table: &mut Table) {
    for joint in &JOINTS {
        let (id, tolerance, standing) = (joint.id, joint.tolerance, joint.standing);
        let fit = joint.fit();
        let pressure = joint.computed_pressure();
        table.within(id, "pressure", pressure, joint.pressure, tolerance, standing);
        if let Some(hoop) = joint.hub_bore_hoop {
            // The hoop stress is up to six times the pressure, and so is its rounding.
            let share = hoop / joint.pressure * tolerance;
            let got = fit.hub_bore_hoop(pressure);
            table.within(id, "hub hoop", got, hoop, share, standing);
        }
        let back = fit.interference(pressure).unwrap();
        assert!((back / joint.interference - 1.0).abs() < 1e-14);
    }
    let hollow = JOINTS.iter().find(|joint| joint.id == "D4-05").unwrap();
    let pressure = hollow.computed_pressure();
    let fit = hollow.fit();
    for (what, got, expected) in [
        ("shaft hoop", fit.shaft_surface_hoop(pressure), -32.35),
        ("shaft von Mises", fit.shaft_equivalent(pressure), 28.20),
        ("hub von Mises", fit.hub_equivalent(pressure), 62.48),
    ] {
        table.within("D4-05", what, got, expected, 0.05, Standing::Published);
    }
    let solid = JOINTS.iter().find(|joint| joint.id == "D4-04").unwrap();
    let equivalent = solid.fit().shaft_equivalent(solid.computed_pressure());
    let what = "shaft von Mises";
    table.within("D4-04", what, equivalent, 14_720.0, 10.0, Standing::Published);
    let what = "safety of the shaft";
    let safety = 57_000.0 / equivalent;
    table.within("D4-04", what, safety, 3.9, 0.05, Standing::Published);
}

fn holding_rows(table: &mut Table) {
    for (id, length, friction, force_n, torque_nm) in HOLDING {
        let joint = JOINTS.iter().find(|joint| joint.id == id).unwrap();
        let pressure = joint.computed_pressure();
        let friction = FrictionRange::exactly(friction).unwrap();
        let force = holding_force(pressure, joint.diameter, length, friction).unwrap();
        let torque = holding_torque(pressure, joint.diameter, length, friction).unwrap();
        assert_eq!(force.lowest, force.highest);
        let standing = joint.standing;
        table.within_share(id, "force", force.lowest, force_n, 1e-3, standing);
        let got_nm = torque.lowest / 1000.0;
        table.within_share(id, "torque", got_nm, torque_nm, 1e-3, standing);
    }
}

#[test]
fn press_fits_and_seats_agree_with_textbooks_and_seat_tables() {
    let mut table = Table::new("interference_fit and bearing_seat", SOURCE);
    joint_rows(&mut table);
    holding_rows(&mut table);
    let rise_k = heating_rise(0.037, 0.020, 40.0, 11.7e-6).unwrap();
    table.within("D4-11", "rise", rise_k, 121.79, 0.1, Standing::Computed);
    let bearing_rise_k = heating_rise(0.037, 0.020, 40.0, 12e-6).unwrap();
    let what = "share less with 12e-6";
    table.within("D4-11", what, 1.0 - bearing_rise_k / rise_k, 0.025, 5e-4, Standing::Computed);

    let bore = bore_limits(40.0).unwrap();
    for (zone, all, probable) in RINGS_30_TO_50 {
        let seat = Zone::parse(zone).unwrap().limits(40.0).unwrap();
        let got = FitClearance::of(&bore, &seat);
        let got_probable = FitClearance::probable(&bore, &seat);
        for (what, got, expected, tolerance) in [
            ("greatest", -got.smallest_um, all[0], 0.0),
            ("least", -got.largest_um, all[1], 0.0),
            ("greatest probable", -got_probable.smallest_um, probable[0], 1.0),
            ("least probable", -got_probable.largest_um, probable[1], 1.0),
        ] {
            let what = format!("{zone} {what}");
            table.within("D4-12", what, got, expected, tolerance, Standing::Published);
        }
    }
    for (load, bore_mm, zones) in [
        (SeatLoad::Light, 40.0, "j5 k5"),
        (SeatLoad::Normal, 40.0, "k5 k6 m5"),
        (SeatLoad::Normal, 70.0, "m5 m6"),
        (SeatLoad::Heavy, 70.0, "n6 p6"),
    ] {
        let got = usual_zones(load, bore_mm).unwrap().join(" ");
        let same = f64::from(u8::from(got == zones));
        let what = format!("{load} at {bore_mm} is {zones}");
        table.within("D4-13", what, same, 1.0, 0.0, Standing::Published);
    }
    for (finish, expected_um) in [(SeatFinish::Ground, 28.57), (SeatFinish::Turned, 27.91)] {
        let got_um = 1000.0 * effective_interference_mm(0.030, 40.0, finish).unwrap();
        let what = format!("{finish:?}");
        table.within("D4-14", what, got_um, expected_um, 0.01, Standing::FromMemory);
    }
    table.finish(&[
        "D4-01", "D4-02", "D4-03", "D4-04", "D4-05", "D4-06", "D4-07", "D4-08", "D4-09", "D4-10", "D4-11", "D4-12",
        "D4-13", "D4-14",
    ]);
}

#[test]
fn a_solid_shaft_of_one_material_passes_its_interference_on_by_the_ratio_of_diameters() {
    // From the two formulas together: growth = δ d/do, whatever modulus and Poisson's ratio are.
    let steel = Elastic::new(207e3, 0.29).unwrap();
    let ring = PressFit::new(0.0, 40.0, 47.0, steel, steel).unwrap();
    let pressure = ring.pressure(0.023).unwrap();
    let growth = ring.outside_growth(pressure);
    assert!((growth - 0.023 * 40.0 / 47.0).abs() < 1e-15);
    // A hollow shaft gives way itself, so the ring grows less.
    let hollow = PressFit::new(20.0, 40.0, 47.0, steel, steel).unwrap();
    let softer = hollow.outside_growth(hollow.pressure(0.023).unwrap());
    assert!(softer < growth);
}

#[test]
fn hoop_strain_of_hub_less_that_of_shaft_is_the_interference_over_the_diameter() {
    // Compatibility, with Hooke's law for plane stress written out here on its own.
    let (steel, iron) = ((207e3, 0.29), (110e3, 0.25));
    let shaft = Elastic::new(steel.0, steel.1).unwrap();
    let hub = Elastic::new(iron.0, iron.1).unwrap();
    let fit = PressFit::new(15.0, 60.0, 110.0, shaft, hub).unwrap();
    let pressure = fit.pressure(0.05).unwrap();
    let strain = |hoop: f64, (modulus, poisson): (f64, f64)| (hoop + poisson * pressure) / modulus;
    let gap = strain(fit.hub_bore_hoop(pressure), iron) - strain(fit.shaft_surface_hoop(pressure), steel);
    assert!((gap - 0.05 / 60.0).abs() < 1e-15);
}

#[test]
fn joints_that_cannot_be_are_refused() {
    let steel = Elastic::new(207e3, 0.29).unwrap();
    assert!(matches!(PressFit::new(40.0, 40.0, 60.0, steel, steel), Err(InterferenceError::BoreTooLarge { .. })));
    assert!(matches!(PressFit::new(0.0, 40.0, 40.0, steel, steel), Err(InterferenceError::OutsideTooSmall { .. })));
    assert!(matches!(Elastic::new(207e3, 0.5), Err(InterferenceError::Poisson { .. })));
    for (lowest, highest) in [(0.0, 0.1), (0.2, 0.1), (0.1, 1.1), (f64::NAN, 0.1)] {
        assert!(matches!(FrictionRange::new(lowest, highest), Err(InterferenceError::Friction { .. })));
    }
    let fit = PressFit::new(0.0, 40.0, 60.0, steel, steel).unwrap();
    for bad in [-0.01, f64::NAN, f64::INFINITY] {
        assert!(fit.pressure(bad).is_err());
        assert!(fit.interference(bad).is_err());
        assert!(heating_rise(bad, 0.0, 40.0, 12e-6).is_err());
        assert!(effective_interference_mm(bad, 40.0, SeatFinish::Ground).is_err());
        assert!(matches!(bore_limits(bad), Err(BearingSeatError::Bore { .. })));
        assert!(usual_zones(SeatLoad::Normal, bad).is_err());
    }
    assert!(usual_zones(SeatLoad::Heavy, 40.0).is_err());
}
