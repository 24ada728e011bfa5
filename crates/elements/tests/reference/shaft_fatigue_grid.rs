//! Stress, safety and damage of shaft sections over a grid of steels, diameters, notches and loads, against mpmath.
//!
//! Recipe: `validation/shaft_fatigue/recipe.py`, which names library and version.

use std::collections::BTreeMap;

use elements::fatigue::{
    Criterion, FatigueStrength, ShaftLoad, cycles_at, miner_damage, reversed_stress, safety, shaft_stress,
};
use elements::shaft_strength::{ShaftSection, von_mises};

/// The lines of life raise numbers to powers of up to 14, and their rounding with them.
const RELATIVE_TOLERANCE: f64 = 1e-12;

#[test]
fn stress_safety_and_damage_agree_with_mpmath_over_a_grid() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../validation/shaft_fatigue/cases.csv");
    let text = std::fs::read_to_string(path).unwrap();
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let columns: Vec<&str> = lines.next().unwrap().split(',').collect();
    let (mut cases, mut values) = (0, 0);
    let mut worst = (0.0_f64, String::new());
    for line in lines {
        let numbers = line.split(',').map(|word| word.parse::<f64>().unwrap());
        let row: BTreeMap<&str, f64> = columns.iter().copied().zip(numbers).collect();
        let mut hold = |what: &str, got: f64, expected: f64| {
            values += 1;
            let deviation = if expected == 0.0 { got.abs() } else { ((got - expected) / expected).abs() };
            assert!(deviation <= RELATIVE_TOLERANCE, "case {cases} {what}: {got}, expected {expected}");
            if deviation > worst.0 {
                worst = (deviation, format!("case {cases} {what}"));
            }
        };
        let (diameter, tensile, endurance) = (row["diameter"], row["tensile"], row["endurance"]);
        let strength = FatigueStrength { endurance, tensile, yield_strength: row["yield"] };
        let section = ShaftSection::solid(diameter).unwrap();
        let mut loads = Vec::new();
        for number in 1..=3 {
            let at = |name: &str| row[format!("{name}_{number}").as_str()];
            let (moment, torque) = (1e3 * at("moment"), 1e3 * at("torque"));
            let normal = section.bending_stress(moment).unwrap();
            let shear = section.shear_stress(torque).unwrap();
            hold("von Mises", von_mises(normal, shear).unwrap(), at("von_mises"));
            let load = ShaftLoad {
                alternating_moment: moment,
                mean_moment: 0.0,
                alternating_torque: torque / 2.0,
                mean_torque: torque / 2.0,
                bending_factor: row["bending_factor"],
                torsion_factor: row["torsion_factor"],
            };
            let stress = shaft_stress(&load, diameter).unwrap();
            hold("alternating", stress.alternating, at("alternating"));
            hold("mean", stress.mean, at("mean"));
            hold("Goodman", safety(Criterion::Goodman, stress, strength).unwrap(), at("goodman"));
            hold("ASME-elliptic", safety(Criterion::AsmeElliptic, stress, strength).unwrap(), at("elliptic"));
            let reversed = reversed_stress(stress.alternating, stress.mean, tensile).unwrap();
            let borne = cycles_at(reversed / endurance, row["exponent"]).unwrap();
            hold("cycles borne", borne, at("borne"));
            loads.push((at("cycles"), borne));
        }
        hold("damage", miner_damage(&loads).unwrap(), row["damage"]);
        cases += 1;
    }
    crate::table::say(&format!(
        "shaft stress, fatigue and damage against mpmath: {cases} cases, {values} values; worst {} off by {:.1e}",
        worst.1, worst.0
    ));
    assert_eq!(cases, 72);
}
