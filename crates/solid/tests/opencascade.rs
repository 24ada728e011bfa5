//! STEP files as OpenCascade reads them: see `validation/solid/README.md`.

#![allow(clippy::unwrap_used, reason = "a test that cannot read its reference must fail")]

#[path = "../examples/parts/named.rs"]
mod named;
#[path = "../examples/parts/shaft.rs"]
mod shaft;

use std::collections::BTreeMap;

use solid::{RevolvedPart, Solid, StepHeader, Surface};

const MEASURED: &str = include_str!("../../../validation/solid/measured.csv");
const CYLINDERS: &str = include_str!("../../../validation/solid/cylinders.csv");
const PARTS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../validation/solid/parts");

fn rows(text: &str) -> impl Iterator<Item = Vec<&str>> {
    text.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| line.split(',').collect())
}

fn number(text: &str) -> f64 {
    text.parse().unwrap()
}

fn parts() -> BTreeMap<String, RevolvedPart> {
    named::parts().into_iter().collect()
}

/// Keeps the worst and the usual of the differences it is told, for the test's report.
fn report(what: &str, mut differences: Vec<f64>) -> f64 {
    differences.sort_by(f64::total_cmp);
    let (usual, worst) = (differences[differences.len() / 2], differences[differences.len() - 1]);
    println!("{what}: {} compared, usually {usual:.1e} off, {worst:.1e} at worst", differences.len());
    worst
}

#[test]
fn volume_and_area_are_opencascades() {
    let parts = parts();
    let [mut plain, mut toothed] = [Vec::new(), Vec::new()];
    for row in rows(MEASURED) {
        let part = &parts[row[0]];
        let solid = Solid::new(part).unwrap();
        let off = if part.splines.is_empty() { &mut plain } else { &mut toothed };
        off.push((solid.volume_mm3() / number(row[1]) - 1.0).abs());
        off.push((solid.area_mm2() / number(row[2]) - 1.0).abs());
    }
    assert_eq!((plain.len() + toothed.len()) / 2, parts.len());
    assert!(report("without teeth", plain) < 1e-12);
    // OpenCascade's own ways of integrating over flanks differ by more than this from each other.
    assert!(report("with teeth", toothed) < 2e-6);
}

#[test]
fn opencascade_counts_the_faces_that_were_written() {
    let parts = parts();
    for row in rows(MEASURED) {
        let shell = Solid::new(&parts[row[0]]).unwrap().shell();
        let mut counts = [0; 7];
        for face in &shell.faces {
            counts[match face.surface {
                Surface::Plane { .. } => 0,
                Surface::Cylinder { .. } => 1,
                Surface::Cone { .. } => 2,
                Surface::Sphere { .. } => 3,
                Surface::Torus { .. } => 4,
                Surface::Turned { .. } => 5,
                Surface::Moved { .. } => 6,
            }] += 1;
        }
        let read: Vec<usize> = row[5..12].iter().map(|count| count.parse().unwrap()).collect();
        assert_eq!(counts.as_slice(), read, "{}", row[0]);
    }
}

#[test]
fn opencascade_allows_for_no_gap_between_neighbours() {
    // 1e-7 mm is what it gives every edge and corner to begin with.
    assert!(rows(MEASURED).all(|row| number(row[4]) <= 1e-7));
}

#[test]
fn opencascade_finds_every_hole_where_it_was_asked_for() {
    let mut read: BTreeMap<&str, Vec<[f64; 5]>> = BTreeMap::new();
    for row in rows(CYLINDERS) {
        read.entry(row[0]).or_default().push([1, 2, 3, 4, 5].map(|column| number(row[column])));
    }
    let mut off = Vec::new();
    for (name, part) in parts() {
        let found = read.remove(name.as_str()).unwrap_or_default();
        assert_eq!(found.len(), part.holes.len(), "{name}");
        for hole in &part.holes {
            let (low, high) = (hole.from_z_mm.min(hole.to_z_mm), hole.from_z_mm.max(hole.to_z_mm));
            let asked = [hole.x_mm, hole.y_mm, hole.diameter_mm, low, high];
            let distance = |found: &[f64; 5]| found.iter().zip(asked).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            off.push(found.iter().map(distance).fold(f64::INFINITY, f64::min));
        }
    }
    assert!(read.is_empty(), "holes in parts that are not there: {read:?}");
    // A millionth of a micrometre: what is left is rounding.
    assert!(report("holes, in mm", off) < 1e-9);
}

/// A regression test: the files that OpenCascade has read are those that are written now.
#[test]
fn the_files_are_still_written_byte_for_byte() {
    let mut files: Vec<String> =
        std::fs::read_dir(PARTS).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    files.sort();
    let expected: Vec<String> = parts().keys().map(|name| format!("{name}.step")).collect();
    assert_eq!(files, expected);
    for (name, part) in parts() {
        let header = StepHeader { name: &name, time_stamp: "2026-01-31T08:30:00", ..StepHeader::default() };
        let written = Solid::new(&part).unwrap().to_step(&header).unwrap();
        let committed = std::fs::read_to_string(format!("{PARTS}/{name}.step")).unwrap();
        assert!(written == committed, "{name}.step differs; write it again and run the recipe if that is meant");
    }
}
