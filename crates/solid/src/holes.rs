//! Whether holes lie within the material, and which faces they open.

use crate::LEAST_GAP_MM;
use crate::curve::{Curve, Flat};
use crate::error::PartError;
use crate::outline::{Outline, length};
use crate::part::{AxialHole, HoleEnd};
use crate::strips::{Strips, Toothed};

/// A checked hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Hole {
    pub x: f64,
    pub y: f64,
    pub radius: f64,
    pub low_z: f64,
    pub high_z: f64,
    /// Curve of the outline whose plane face it opens at its low end; `None` where it has a bottom there.
    pub low_face: Option<usize>,
    /// The same at its high end.
    pub high_face: Option<usize>,
}

impl Hole {
    pub fn depth(&self) -> f64 {
        self.high_z - self.low_z
    }
}

/// Where a hole lies in the half plane of the profile: all that it sweeps when the part turns.
struct Reach {
    low_r: f64,
    high_r: f64,
    /// It covers the axis.
    covers_axis: bool,
}

/// Checks all holes against the outline, the teeth and each other.
pub(crate) fn check(given: &[AxialHole], outline: &Outline, strips: &Strips) -> Result<Vec<Hole>, PartError> {
    let mut holes: Vec<Hole> = Vec::with_capacity(given.len());
    for (index, hole) in given.iter().enumerate() {
        let checked = check_one(index + 1, hole, outline, strips)?;
        for (before, other) in holes.iter().enumerate() {
            let distance_mm = libm::hypot(checked.x - other.x, checked.y - other.y);
            let least_mm = checked.radius + other.radius + LEAST_GAP_MM;
            let beside = checked.low_z < other.high_z + LEAST_GAP_MM && other.low_z < checked.high_z + LEAST_GAP_MM;
            if beside && distance_mm < least_mm {
                return Err(PartError::HolesOverlap { first: before + 1, second: index + 1, distance_mm, least_mm });
            }
        }
        holes.push(checked);
    }
    Ok(holes)
}

fn check_one(number: usize, given: &AxialHole, outline: &Outline, strips: &Strips) -> Result<Hole, PartError> {
    let place = || format!("hole {number}");
    let x = length(place, "x", given.x_mm)?;
    let y = length(place, "y", given.y_mm)?;
    let diameter = length(place, "the diameter", given.diameter_mm)?;
    let from_z = outline.marks.z(length(place, "the beginning z", given.from_z_mm)?);
    let to_z = outline.marks.z(length(place, "the end z", given.to_z_mm)?);
    for (what, value_mm) in [("the diameter", diameter), ("the depth", (to_z - from_z).abs())] {
        if value_mm < LEAST_GAP_MM {
            return Err(PartError::TooSmall { place: place(), what, value_mm });
        }
    }
    let (distance, radius) = (libm::hypot(x, y), diameter / 2.0);
    let reach =
        Reach { low_r: (distance - radius).max(0.0), high_r: distance + radius, covers_axis: distance < radius };
    let rises = to_z > from_z;
    let entry = face_for(number, from_z, rises, &reach, outline, strips)?;
    let exit = match given.end {
        HoleEnd::Through => Some(face_for(number, to_z, !rises, &reach, outline, strips)?),
        HoleEnd::FlatBottom => None,
    };
    let passed = [Some(entry), exit];
    let sweep = swept(from_z.min(to_z), from_z.max(to_z), &reach);
    for (index, curve) in outline.curves.iter().enumerate() {
        if passed.contains(&Some(index)) {
            continue;
        }
        if sweep.iter().any(|side| side.closest(curve).0 < LEAST_GAP_MM) {
            let segment = outline.numbers[index];
            return Err(PartError::HoleLeavesMaterial { hole: number, segment, from_z_mm: from_z, to_z_mm: to_z });
        }
    }
    for toothed in &strips.toothed {
        let meets = |side: &Curve| depth_of(toothed).iter().any(|edge| side.closest(edge).0 < LEAST_GAP_MM);
        if sweep.iter().any(meets) {
            return Err(PartError::HoleCutsTeeth { hole: number, spline: toothed.number });
        }
    }
    let (low_face, high_face) = if rises { (Some(entry), exit) } else { (exit, Some(entry)) };
    Ok(Hole { x, y, radius, low_z: from_z.min(to_z), high_z: from_z.max(to_z), low_face, high_face })
}

/// The sides of the rectangle that a hole sweeps; the side on the axis is none where the hole covers the axis.
fn swept(low_z: f64, high_z: f64, reach: &Reach) -> Vec<Curve> {
    let at = |z: f64, r: f64| Flat { z, r };
    let mut sides = vec![
        Curve::line(at(low_z, reach.high_r), at(high_z, reach.high_r)),
        Curve::line(at(low_z, reach.low_r), at(low_z, reach.high_r)),
        Curve::line(at(high_z, reach.low_r), at(high_z, reach.high_r)),
    ];
    if !reach.covers_axis {
        sides.push(Curve::line(at(low_z, reach.low_r), at(high_z, reach.low_r)));
    }
    sides
}

/// The bounds of a toothed length towards the material.
fn depth_of(toothed: &Toothed) -> [Curve; 3] {
    let (root, tip) = (toothed.teeth.root_radius, toothed.teeth.tip_radius);
    let at = |z: f64, r: f64| Flat { z, r };
    [
        Curve::line(at(toothed.low_z, root), at(toothed.high_z, root)),
        Curve::line(at(toothed.low_z, root), at(toothed.low_z, tip)),
        Curve::line(at(toothed.high_z, root), at(toothed.high_z, tip)),
    ]
}

/// The curve of the outline whose plane face at `z` takes the hole, with the material on the side of greater `z` where
/// `faces_down`.
fn face_for(
    number: usize,
    z: f64,
    faces_down: bool,
    reach: &Reach,
    outline: &Outline,
    strips: &Strips,
) -> Result<usize, PartError> {
    let mut found = Vec::new();
    for (index, curve) in outline.curves.iter().enumerate() {
        // The material is on the right of the curve: one that rises from the axis has it at greater z.
        if !curve.is_across() || (curve.to.r > curve.from.r) != faces_down {
            continue;
        }
        let Some((low, high)) = strips.plain_width(index, curve) else {
            continue;
        };
        if curve.from.z == z {
            let above = if reach.covers_axis { low == 0.0 } else { low == 0.0 || reach.low_r >= low + LEAST_GAP_MM };
            if above && reach.high_r <= high - LEAST_GAP_MM {
                return Ok(index);
            }
        }
        found.push(format!("z = {} mm from r = {low} to {high} mm", curve.from.z));
    }
    found.sort();
    let found = if found.is_empty() {
        "there is no plane face for it".to_owned()
    } else {
        format!("plane faces that way round: {}", found.join("; "))
    };
    Err(PartError::NoFaceForHole { hole: number, z_mm: z, from_r_mm: reach.low_r, to_r_mm: reach.high_r, found })
}
