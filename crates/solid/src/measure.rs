//! Exact volume and area of a part, without its boundary model.
//!
//! The turned body by Pappus: `V = π ∫ r² dz`, `A = 2π ∫ r ds` along the outline, in closed form for lines and to the last
//! digits for arcs. A hole takes `π d²/4` of its depth away and adds its wall; through holes take their mouths away at both
//! ends, a flat bottom replaces its mouth. Teeth replace a disc of the tip diameter by the section of [`crate::teeth`].

use std::f64::consts::{PI, TAU};

use crate::curve::Curve;
use crate::holes::Hole;
use crate::outline::Outline;
use crate::strips::{Strips, Wall};
use crate::teeth::Teeth;

pub(crate) fn volume(outline: &Outline, strips: &Strips, holes: &[Hole]) -> f64 {
    let turned: f64 = outline.curves.iter().map(Curve::volume_below).sum();
    let drilled: f64 = holes.iter().map(|hole| PI * hole.radius * hole.radius * hole.depth()).sum();
    let cut: f64 = strips
        .toothed
        .iter()
        .map(|toothed| {
            (disc(toothed.teeth.tip_radius) - toothed.teeth.section_area()) * (toothed.high_z - toothed.low_z)
        })
        .sum();
    turned - drilled - cut
}

pub(crate) fn area(outline: &Outline, strips: &Strips, holes: &[Hole]) -> f64 {
    let turned: f64 = outline.curves.iter().map(Curve::surface).sum();
    let drilled: f64 = holes
        .iter()
        .map(|hole| {
            let mouths = if hole.low_face.is_some() && hole.high_face.is_some() { 2.0 } else { 0.0 };
            TAU * hole.radius * hole.depth() - mouths * disc(hole.radius)
        })
        .sum();
    let cut: f64 = strips
        .toothed
        .iter()
        .map(|toothed| {
            let teeth = &toothed.teeth;
            let around = (teeth.perimeter() - TAU * teeth.tip_radius) * (toothed.high_z - toothed.low_z);
            around + added_by_wall(teeth, toothed.low_wall) + added_by_wall(teeth, toothed.high_wall)
        })
        .sum();
    turned + drilled + cut
}

fn disc(radius: f64) -> f64 {
    PI * radius * radius
}

/// How much larger the plane at an end of teeth is than the plane of the outline, from its radius to the tips.
fn added_by_wall(teeth: &Teeth, wall: Wall) -> f64 {
    let (root, tip) = (teeth.root_radius, teeth.tip_radius);
    let level = wall.radius.clamp(root, tip);
    let ends_of_teeth = teeth.area_between(level, tip);
    let ends_of_spaces = disc(level) - disc(root) - teeth.area_between(root, level);
    // What lies between the radius and the nearer of root and tips is in both.
    ends_of_teeth + ends_of_spaces - (disc(tip) - disc(level))
}
