//! The outline cut into strips, each of which turns into faces of one kind: plain surfaces, toothed lengths, and the walls
//! at both ends of the teeth.

use crate::LEAST_GAP_MM;
use crate::curve::{Curve, Flat};
use crate::error::PartError;
use crate::outline::{Outline, length};
use crate::part::SplineTeeth;
use crate::teeth::Teeth;

/// A toothed length of an outer cylinder.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Toothed {
    /// The caller's count.
    pub number: usize,
    /// Curve of the outline that the teeth are cut into.
    pub curve: usize,
    pub low_z: f64,
    pub high_z: f64,
    pub teeth: Teeth,
    pub low_wall: Wall,
    pub high_wall: Wall,
}

/// The plane in which teeth end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Wall {
    /// Radius at which the part goes on beyond the plane; zero where it ends there.
    pub radius: f64,
    /// Curve of the outline that lies in the plane; `None` where the outline goes on from the tips.
    pub curve: Option<usize>,
}

/// One strip of the outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Strip {
    pub from: Flat,
    pub to: Flat,
    pub kind: Kind,
}

/// What a strip turns into.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Kind {
    /// One face; the curve is the whole of the outline's, or a piece of it beside teeth.
    Plain { curve: Curve, index: usize },
    /// Tips, flanks and roots of the toothed length with this place in the list.
    Teeth { toothed: usize },
    /// The end of teeth, at their low or high end.
    Wall { toothed: usize, high: bool },
}

/// All strips of an outline, in its order.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Strips {
    pub strips: Vec<Strip>,
    pub toothed: Vec<Toothed>,
}

impl Strips {
    pub fn of(outline: &Outline, splines: &[SplineTeeth]) -> Result<Self, PartError> {
        let mut toothed = Vec::with_capacity(splines.len());
        for (index, spline) in splines.iter().enumerate() {
            let checked = place(index + 1, spline, outline)?;
            check_depth(&checked, outline)?;
            check_beside(&toothed, &checked)?;
            toothed.push(checked);
        }
        let mut strips = Vec::new();
        for (index, curve) in outline.curves.iter().enumerate() {
            lay(&mut strips, index, curve, &toothed);
        }
        Ok(Self { strips, toothed })
    }

    /// From where to where a curve across the axis turns into one plain plane face, if it does.
    pub fn plain_width(&self, index: usize, curve: &Curve) -> Option<(f64, f64)> {
        let (low, high) = (curve.from.r.min(curve.to.r), curve.from.r.max(curve.to.r));
        let walls = self.toothed.iter().flat_map(|toothed| [(toothed.low_wall, toothed), (toothed.high_wall, toothed)]);
        for (wall, toothed) in walls {
            if wall.curve == Some(index) {
                let teeth = &toothed.teeth;
                return if wall.is_pieces(teeth) {
                    None
                } else if wall.radius < teeth.root_radius {
                    Some((low, teeth.root_radius))
                } else {
                    Some((teeth.tip_radius, high))
                };
            }
        }
        Some((low, high))
    }
}

impl Wall {
    /// Whether the part goes on between root and tips, both included, so that the wall falls into pieces.
    pub fn is_pieces(&self, teeth: &Teeth) -> bool {
        (teeth.root_radius..=teeth.tip_radius).contains(&self.radius)
    }
}

/// Finds the cylinder of a spline and what lies at its ends.
fn place(number: usize, given: &SplineTeeth, outline: &Outline) -> Result<Toothed, PartError> {
    let place = || format!("spline {number}");
    let from = outline.marks.z(length(place, "the beginning z", given.from_z_mm)?);
    let to = outline.marks.z(length(place, "the end z", given.to_z_mm)?);
    let (low_z, high_z) = (from.min(to), from.max(to));
    let too_small = |what: &'static str, value_mm: f64| PartError::TooSmall { place: place(), what, value_mm };
    if high_z - low_z < LEAST_GAP_MM {
        return Err(too_small("the length", high_z - low_z));
    }
    // The material is on the right of the outline: an outer cylinder runs towards greater z.
    let outer = |curve: &Curve| curve.is_along() && curve.to.z > curve.from.z;
    let cylinders = outline.curves.iter().enumerate().filter(|(_, curve)| outer(curve));
    let Some((index, curve)) = cylinders.clone().find(|(_, curve)| curve.from.z <= low_z && high_z <= curve.to.z)
    else {
        let mut found: Vec<String> =
            cylinders.map(|(_, curve)| format!("z = {} to {} mm", curve.from.z, curve.to.z)).collect();
        found.sort();
        let found = if found.is_empty() {
            "it has no outer cylinder at all".to_owned()
        } else {
            format!("outer cylinders: {}", found.join("; "))
        };
        return Err(PartError::NoCylinderForSpline { spline: number, from_z_mm: low_z, to_z_mm: high_z, found });
    };
    for beside in [low_z - curve.from.z, curve.to.z - high_z] {
        if beside != 0.0 && beside < LEAST_GAP_MM {
            return Err(too_small("the plain length beside the teeth", beside));
        }
    }
    let tip_radius = curve.from.r;
    let teeth = Teeth::of(number, given, tip_radius, &outline.marks)?;
    let count = outline.curves.len();
    let go_on = Wall { radius: tip_radius, curve: None };
    let step = |neighbour: usize, radius: f64| Wall { radius, curve: Some(neighbour) };
    let (before, behind) = ((index + count - 1) % count, (index + 1) % count);
    let low_wall = match &outline.curves[before] {
        across if low_z == curve.from.z && across.is_across() => step(before, across.from.r),
        _ => go_on,
    };
    let high_wall = match &outline.curves[behind] {
        across if high_z == curve.to.z && across.is_across() => step(behind, across.to.r),
        _ => go_on,
    };
    for (wall, z_mm) in [(low_wall, low_z), (high_wall, high_z)] {
        let beside = (wall.radius - teeth.root_radius).abs();
        if beside != 0.0 && beside < LEAST_GAP_MM {
            return Err(PartError::SplineEnd {
                spline: number,
                z_mm,
                radius_mm: wall.radius,
                root_mm: teeth.root_radius,
            });
        }
    }
    Ok(Toothed { number, curve: index, low_z, high_z, teeth, low_wall, high_wall })
}

/// The spaces between the teeth must have material below them and behind their walls.
fn check_depth(toothed: &Toothed, outline: &Outline) -> Result<(), PartError> {
    let (root, tip) = (toothed.teeth.root_radius, toothed.teeth.tip_radius);
    let at = |z: f64, r: f64| Flat { z, r };
    let mut bounds = vec![Curve::line(at(toothed.low_z, root), at(toothed.high_z, root))];
    for (wall, z) in [(toothed.low_wall, toothed.low_z), (toothed.high_wall, toothed.high_z)] {
        if wall.radius > root {
            bounds.push(Curve::line(at(z, root), at(z, wall.radius.min(tip))));
        }
    }
    let passed = [Some(toothed.curve), toothed.low_wall.curve, toothed.high_wall.curve];
    for (index, curve) in outline.curves.iter().enumerate().filter(|(index, _)| !passed.contains(&Some(*index))) {
        for bound in &bounds {
            let joint = [curve.from, curve.to].into_iter().find(|end| *end == bound.from || *end == bound.to);
            let meets = match joint {
                None => bound.closest(curve).0 < LEAST_GAP_MM,
                Some(joint) => bound.meetings(curve).iter().any(|point| point.distance(joint) > LEAST_GAP_MM / 1000.0),
            };
            if meets {
                return Err(PartError::TeethLeaveMaterial { spline: toothed.number, segment: outline.numbers[index] });
            }
        }
    }
    Ok(())
}

fn check_beside(others: &[Toothed], toothed: &Toothed) -> Result<(), PartError> {
    let walls = |toothed: &Toothed| [toothed.low_wall.curve, toothed.high_wall.curve];
    for other in others {
        let meets = other.curve == toothed.curve
            && other.low_z < toothed.high_z + LEAST_GAP_MM
            && toothed.low_z < other.high_z + LEAST_GAP_MM;
        let shares = walls(other).into_iter().flatten().any(|wall| walls(toothed).contains(&Some(wall)));
        if meets || shares {
            return Err(PartError::SplinesMeet { first: other.number, second: toothed.number });
        }
    }
    Ok(())
}

/// Lays the strips of one curve of the outline.
fn lay(strips: &mut Vec<Strip>, index: usize, curve: &Curve, all: &[Toothed]) {
    for (toothed, teeth) in all.iter().enumerate() {
        for (wall, high) in [(teeth.low_wall, false), (teeth.high_wall, true)] {
            if wall.curve == Some(index) {
                strips.push(Strip { from: curve.from, to: curve.to, kind: Kind::Wall { toothed, high } });
                return;
            }
        }
    }
    let mut on_curve: Vec<usize> = (0..all.len()).filter(|toothed| all[*toothed].curve == index).collect();
    if on_curve.is_empty() {
        strips.push(Strip { from: curve.from, to: curve.to, kind: Kind::Plain { curve: *curve, index } });
        return;
    }
    on_curve.sort_by(|a, b| all[*a].low_z.total_cmp(&all[*b].low_z));
    let plain = |strips: &mut Vec<Strip>, from: Flat, to: Flat| {
        if from != to {
            strips.push(Strip { from, to, kind: Kind::Plain { curve: Curve::line(from, to), index } });
        }
    };
    let mut reached = curve.from;
    for toothed in on_curve {
        let teeth = &all[toothed];
        let (low, high) = (Flat { z: teeth.low_z, ..reached }, Flat { z: teeth.high_z, ..reached });
        plain(strips, reached, low);
        if teeth.low_wall.curve.is_none() {
            strips.push(Strip { from: low, to: low, kind: Kind::Wall { toothed, high: false } });
        }
        strips.push(Strip { from: low, to: high, kind: Kind::Teeth { toothed } });
        if teeth.high_wall.curve.is_none() {
            strips.push(Strip { from: high, to: high, kind: Kind::Wall { toothed, high: true } });
        }
        reached = high;
    }
    plain(strips, reached, curve.to);
}
