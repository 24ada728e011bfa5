//! Turns the strips of an outline into faces about the axis, and drills the holes.
//!
//! The material is on the right of the outline, so that for each strip `turning direction × direction of the outline`
//! points out of the material. Each circle between two strips is run with the turn by the strip behind it and against
//! the turn by the strip before it, which makes the boundary closed by construction.

use std::collections::BTreeMap;

use crate::curve::{Curve, Flat, Round};
use crate::holes::Hole;
use crate::shell::{Face, Path, Shell, Side, Surface, Triple};
use crate::strips::{Kind, Strip, Strips};
use crate::toothed::{self, End};

const UP: Triple = [0.0, 0.0, 1.0];
const DOWN: Triple = [0.0, 0.0, -1.0];
/// Where seams lie: the half plane of the profile.
const SEAM: Triple = [1.0, 0.0, 0.0];

/// What lies between two strips.
#[derive(Debug, Clone)]
enum Bound {
    /// Edges about the axis; where a seam begins or ends, the first begins at the seam.
    Ring(Vec<usize>),
    /// The corner in which a cone or a sphere closes.
    Point(usize),
    /// Nothing: a plane goes through the axis.
    Nothing,
}

/// Builds the boundary of the whole part.
pub(crate) fn shell(strips: &Strips, holes: &[Hole], closed: bool) -> Shell {
    let mut shell = Shell::default();
    let ends: Vec<[End; 2]> = strips.toothed.iter().map(|toothed| toothed::add(&mut shell, toothed)).collect();
    let bounds = bounds(&mut shell, &strips.strips, &ends, closed);
    let mut mouths = mouths(&mut shell, holes);
    let count = strips.strips.len();
    for (place, strip) in strips.strips.iter().enumerate() {
        let (before, behind) = (&bounds[place], &bounds[if closed { (place + 1) % count } else { place + 1 }]);
        match strip.kind {
            Kind::Plain { curve, .. } if !curve.is_across() => {
                let face = around(&mut shell, &curve, before, behind);
                shell.faces.push(face);
            }
            Kind::Plain { index, .. } => {
                let mut face = plane(strip, before, behind);
                face.loops.extend(mouths.remove(&index).unwrap_or_default());
                shell.faces.push(face);
            }
            Kind::Wall { toothed, high } => {
                let whole = ends[toothed][usize::from(high)].ring.is_none();
                let all = &strips.toothed[toothed];
                let wall = if high { all.high_wall } else { all.low_wall };
                if let (true, Some(index)) = (whole, wall.curve) {
                    let mut face = plane(strip, before, behind);
                    face.loops.extend(mouths.remove(&index).unwrap_or_default());
                    shell.faces.push(face);
                }
            }
            Kind::Teeth { .. } => {}
        }
    }
    shell
}

/// What lies before each strip and, for a chain from axis to axis, behind the last.
fn bounds(shell: &mut Shell, strips: &[Strip], ends: &[[End; 2]], closed: bool) -> Vec<Bound> {
    let count = strips.len();
    let places = if closed { count } else { count + 1 };
    let mut bounds = Vec::with_capacity(places);
    for place in 0..places {
        let before = if closed { strips.get((place + count - 1) % count) } else { strips.get(place.wrapping_sub(1)) };
        let behind = strips.get(place);
        let kinds = [before, behind].map(|strip| strip.map(|strip| strip.kind));
        let at = behind.map(|strip| strip.from).or(before.map(|strip| strip.to));
        let teeth = kinds.iter().enumerate().find_map(|(side, kind)| match kind {
            // Teeth that lie before the bound end in it with their high end.
            Some(Kind::Teeth { toothed }) => Some(Bound::Ring(ends[*toothed][1 - side].edges())),
            _ => None,
        });
        let pieces = kinds.iter().find_map(|kind| match kind {
            Some(Kind::Wall { toothed, high }) => ends[*toothed][usize::from(*high)].ring.clone().map(Bound::Ring),
            _ => None,
        });
        let closes_in_a_point = kinds.iter().flatten().any(|kind| match kind {
            Kind::Plain { curve, .. } => !curve.is_across(),
            _ => false,
        });
        bounds.push(match (teeth.or(pieces), at) {
            (Some(ring), _) => ring,
            (None, Some(at)) if at.r > 0.0 => Bound::Ring(vec![circle(shell, 0.0, 0.0, at.z, at.r)]),
            (None, Some(at)) if closes_in_a_point => Bound::Point(shell.corner([0.0, 0.0, at.z])),
            _ => Bound::Nothing,
        });
    }
    bounds
}

/// A whole circle about an axis along z, with its corner on the side of the seams.
fn circle(shell: &mut Shell, x: f64, y: f64, z: f64, radius: f64) -> usize {
    let corner = shell.corner([x + radius, y, z]);
    shell.edge(corner, corner, Path::Circle { centre: [x, y, z], axis: UP, zero: SEAM, radius })
}

fn run(bound: &Bound, forward: bool) -> Vec<Side> {
    let Bound::Ring(edges) = bound else {
        return Vec::new();
    };
    if forward {
        edges.iter().copied().map(Side::along).collect()
    } else {
        edges.iter().rev().copied().map(Side::against).collect()
    }
}

/// The plane face of a strip across the axis.
fn plane(strip: &Strip, before: &Bound, behind: &Bound) -> Face {
    let rises = strip.to.r > strip.from.r;
    let (inner, outer) =
        if rises { (run(before, true), run(behind, false)) } else { (run(behind, false), run(before, true)) };
    let normal = if rises { DOWN } else { UP };
    let loops = [outer, inner].into_iter().filter(|sides| !sides.is_empty()).collect();
    Face { surface: Surface::Plane { point: [0.0, 0.0, strip.from.z], normal }, outward: true, loops }
}

/// The face of a strip that goes round the axis with a seam.
fn around(shell: &mut Shell, curve: &Curve, before: &Bound, behind: &Bound) -> Face {
    let corner = |shell: &mut Shell, bound: &Bound, at: Flat| match bound {
        Bound::Ring(edges) => shell.edges[edges[0]].from,
        Bound::Point(corner) => *corner,
        Bound::Nothing => shell.corner([at.r, 0.0, at.z]),
    };
    let (from, to) = (corner(shell, before, curve.from), corner(shell, behind, curve.to));
    let seam = match curve.round {
        None => shell.straight(from, to),
        Some(round) => shell.edge(from, to, circle_of(curve, &round)),
    };
    let mut sides = run(before, true);
    sides.push(Side::along(seam));
    sides.extend(run(behind, false));
    sides.push(Side::against(seam));
    let (surface, outward) = surface(curve);
    Face { surface, outward, loops: vec![sides] }
}

/// The circle of an arc in the half plane of the profile, run the way of the arc.
fn circle_of(curve: &Curve, round: &Round) -> Path {
    // Angles of the profile turn from z to x, which is anticlockwise about y.
    let turn = if round.sweep > 0.0 { 1.0 } else { -1.0 };
    let zero = [(curve.from.r - round.centre.r) / round.radius, 0.0, (curve.from.z - round.centre.z) / round.radius];
    let length = libm::hypot(zero[0], zero[2]);
    Path::Circle {
        centre: [round.centre.r, 0.0, round.centre.z],
        axis: [0.0, turn, 0.0],
        zero: zero.map(|part| part / length + 0.0),
        radius: round.radius,
    }
}

/// The surface of a strip that goes round the axis, and whether its normal points out of the material.
fn surface(curve: &Curve) -> (Surface, bool) {
    let along = curve.to.z > curve.from.z;
    let Some(round) = curve.round else {
        let (low, high) = if curve.from.r <= curve.to.r { (curve.from, curve.to) } else { (curve.to, curve.from) };
        let point = [0.0, 0.0, low.z];
        if low.r == high.r {
            return (Surface::Cylinder { point, radius: low.r }, along);
        }
        // The wider end never lies on the axis, where a cone would have no radius.
        let half_angle = libm::atan2(high.r - low.r, (high.z - low.z).abs());
        let point = [0.0, 0.0, high.z];
        return (Surface::Cone { point, widens_upward: high.z > low.z, radius: high.r, half_angle }, along);
    };
    let centre = [0.0, 0.0, round.centre.z];
    // An arc that turns right, as the outline does round its material, bulges out of it.
    let bulges = round.sweep < 0.0;
    if round.centre.r == 0.0 {
        (Surface::Sphere { centre, radius: round.radius }, bulges)
    } else if round.centre.r > round.radius {
        (Surface::Torus { centre, major_radius: round.centre.r, minor_radius: round.radius }, bulges)
    } else {
        (Surface::Turned { circle: circle_of(curve, &round) }, true)
    }
}

/// Adds the walls and bottoms of all holes; returns the loops by which they open plane faces, by curve of the outline.
fn mouths(shell: &mut Shell, holes: &[Hole]) -> BTreeMap<usize, Vec<Vec<Side>>> {
    let mut mouths: BTreeMap<usize, Vec<Vec<Side>>> = BTreeMap::new();
    for hole in holes {
        let low = circle(shell, hole.x, hole.y, hole.low_z, hole.radius);
        let high = circle(shell, hole.x, hole.y, hole.high_z, hole.radius);
        let seam = shell.straight(shell.edges[low].from, shell.edges[high].from);
        let wall = vec![Side::along(high), Side::against(seam), Side::against(low), Side::along(seam)];
        let surface = Surface::Cylinder { point: [hole.x, hole.y, hole.low_z], radius: hole.radius };
        shell.faces.push(Face { surface, outward: false, loops: vec![wall] });
        // A bottom looks back to the mouth: the low one up, the high one down.
        for (face, side, z, normal) in [
            (hole.low_face, Side::along(low), hole.low_z, UP),
            (hole.high_face, Side::against(high), hole.high_z, DOWN),
        ] {
            match face {
                Some(face) => mouths.entry(face).or_default().push(vec![side]),
                None => shell.faces.push(Face {
                    surface: Surface::Plane { point: [hole.x, hole.y, z], normal },
                    outward: true,
                    loops: vec![vec![side]],
                }),
            }
        }
    }
    mouths
}
