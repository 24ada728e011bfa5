//! The section of involute teeth against mpmath, which integrates the definition of the involute at 40 digits: see
//! `validation/solid/README.md`.

#![allow(clippy::unwrap_used, reason = "a test that cannot read its reference must fail")]

use solid::{Profile, RevolvedPart, Solid, SplineTeeth};

const SECTIONS: &str = include_str!("../../../validation/solid/sections.csv");
const LENGTH: f64 = 25.0;

#[test]
fn area_and_perimeter_are_mpmaths() {
    let mut worst: f64 = 0.0;
    let mut compared = 0;
    for line in SECTIONS.lines().filter(|line| !line.starts_with('#')).skip(1) {
        let row: Vec<f64> = line.split(',').map(|field| field.parse().unwrap()).collect();
        let [teeth, angle, pitch, thickness, root, tip, area, perimeter] = row[..] else {
            panic!("{line}");
        };
        let spline = SplineTeeth {
            teeth: teeth as u32,
            pitch_diameter_mm: pitch,
            pressure_angle_deg: angle,
            tooth_thickness_mm: thickness,
            root_diameter_mm: root,
            from_z_mm: 0.0,
            to_z_mm: LENGTH,
        };
        let profile =
            Profile::starting_at(0.0, 0.0).line_to(0.0, tip / 2.0).line_to(LENGTH, tip / 2.0).line_to(LENGTH, 0.0);
        let solid = Solid::new(&RevolvedPart { profile, holes: Vec::new(), splines: vec![spline] }).unwrap();
        for (found, expected) in
            [(solid.volume_mm3(), area * LENGTH), (solid.area_mm2(), 2.0 * area + perimeter * LENGTH)]
        {
            worst = worst.max((found / expected - 1.0).abs());
            compared += 1;
        }
    }
    println!("{compared} compared, {worst:.1e} off at worst");
    assert_eq!(compared, 2 * 39);
    // The closed forms lose a few digits where root and tip are close to each other.
    assert!(worst < 1e-12, "{worst:e}");
}
