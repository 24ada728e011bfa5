//! Faces of a toothed length: tips, flanks and roots, and the walls in which the teeth end.

use crate::shell::{Face, Flank, Path, Shell, Side, Surface};
use crate::strips::{Toothed, Wall};
use crate::teeth::Teeth;
use std::f64::consts::TAU;

/// The edges of one end of a toothed length, all anticlockwise about the axis.
pub(crate) struct End {
    /// For each tooth its tip, the flank down, the root of the space behind it and the flank up to the next tooth.
    sides: Vec<Vec<usize>>,
    /// The circle at which the part goes on, from the seam on, where it runs between root and tips.
    pub ring: Option<Vec<usize>>,
}

/// Corners of one tooth at one end, on the side of lesser and of greater angles.
struct Tooth {
    tip: [usize; 2],
    root: [usize; 2],
    /// Where the circle at which the part goes on crosses the flanks; tip or root where it touches those.
    ring: [usize; 2],
}

/// What is the same for all teeth of a toothed length.
struct Section<'a> {
    teeth: &'a Teeth,
    /// Curve of the flank on the side of greater angles, from tip to root, at the middle of the first tooth.
    falling: Flank,
    /// Curve of the flank on the other side, from root to tip.
    rising: Flank,
}

impl End {
    /// All edges in their order.
    pub fn edges(&self) -> Vec<usize> {
        self.sides.concat()
    }
}

/// Adds both ends, the faces between them and the pieces of the walls; returns the low and the high end.
pub(crate) fn add(shell: &mut Shell, toothed: &Toothed) -> [End; 2] {
    let section = Section::of(toothed);
    let low = section.end(shell, toothed.low_z, toothed.low_wall, false);
    let high = section.end(shell, toothed.high_z, toothed.high_wall, true);
    section.sides(shell, &low, &high);
    [low, high]
}

impl<'a> Section<'a> {
    fn of(toothed: &'a Toothed) -> Self {
        let teeth = &toothed.teeth;
        let joints = teeth.joints(&[toothed.low_wall.radius, toothed.high_wall.radius]);
        let point = |u: f64| {
            let [x, y] = teeth.flank_point(u);
            [x, y, 0.0]
        };
        let mut poles = vec![point(joints[0])];
        for pair in joints.windows(2) {
            let third = (pair[1] - pair[0]) / 3.0;
            for (u, step) in [(pair[0], third), (pair[1], -third)] {
                let ([x, y], [slope_x, slope_y]) = (teeth.flank_point(u), teeth.flank_slope(u));
                poles.push([x + step * slope_x, y + step * slope_y, 0.0]);
            }
        }
        poles.push(point(joints[joints.len() - 1]));
        let first = joints[0];
        let rising = Flank {
            poles: poles.iter().map(|pole| [pole[0], -pole[1], 0.0]).collect(),
            knots: joints.iter().map(|u| u - first).collect(),
        };
        let last = joints[joints.len() - 1];
        let falling =
            Flank { poles: poles.into_iter().rev().collect(), knots: joints.iter().rev().map(|u| last - u).collect() };
        Self { teeth, falling, rising }
    }

    /// Angle of the middle of a tooth.
    fn middle(&self, tooth: usize) -> f64 {
        TAU * (tooth % self.count()) as f64 / f64::from(self.teeth.count)
    }

    fn count(&self) -> usize {
        self.teeth.count as usize
    }

    /// Corners and edges of one end, and the pieces of its wall.
    fn end(&self, shell: &mut Shell, z: f64, wall: Wall, high: bool) -> End {
        let (root, tip) = (self.teeth.root_radius, self.teeth.tip_radius);
        let in_pieces = wall.is_pieces(self.teeth);
        let teeth: Vec<Tooth> = (0..self.count()).map(|tooth| self.corners(shell, tooth, z, wall)).collect();
        let seam = in_pieces.then(|| shell.corner([wall.radius, 0.0, z]));
        let mut sides = Vec::with_capacity(4 * teeth.len());
        let mut under_teeth = Vec::with_capacity(teeth.len());
        let mut over_spaces = Vec::with_capacity(teeth.len());
        for (index, tooth) in teeth.iter().enumerate() {
            let next = &teeth[(index + 1) % teeth.len()];
            let seam = seam.filter(|_| index == 0);
            let tip_edges = arcs(shell, z, tip, tooth.tip, seam.filter(|_| wall.radius == tip));
            let fall = self.flank(shell, index, true, z, [tooth.tip[1], tooth.ring[1], tooth.root[1]]);
            let root_edges = arcs(shell, z, root, [tooth.root[1], next.root[0]], None);
            let rise = self.flank(shell, index + 1, false, z, [next.root[0], next.ring[0], next.tip[0]]);
            if in_pieces {
                under_teeth.push(if wall.radius == tip {
                    tip_edges.clone()
                } else {
                    arcs(shell, z, wall.radius, tooth.ring, seam)
                });
                over_spaces.push(if wall.radius == root {
                    root_edges.clone()
                } else {
                    arcs(shell, z, wall.radius, [tooth.ring[1], next.ring[0]], None)
                });
            }
            sides.extend([tip_edges, fall, root_edges, rise]);
        }
        let ring = in_pieces.then(|| {
            let mut ring = under_teeth[0][1..].to_vec();
            for (index, space) in over_spaces.iter().enumerate() {
                ring.extend(space);
                let next = (index + 1) % under_teeth.len();
                ring.extend(if next == 0 { &under_teeth[0][..1] } else { &under_teeth[next][..] });
            }
            ring
        });
        let end = End { sides, ring };
        if in_pieces {
            self.pieces(shell, &end, [&under_teeth, &over_spaces], z, wall, high);
        }
        end
    }

    fn corners(&self, shell: &mut Shell, tooth: usize, z: f64, wall: Wall) -> Tooth {
        let (root, tip) = (self.teeth.root_radius, self.teeth.tip_radius);
        let middle = self.middle(tooth);
        let mut pair = |radius: f64| {
            let half = self.teeth.half_angle(radius);
            [-half, half].map(|half| {
                let (sine, cosine) = libm::sincos(middle + half);
                shell.corner([radius * cosine, radius * sine, z])
            })
        };
        let (tip_corners, root_corners) = (pair(tip), pair(root));
        let ring = if wall.radius <= root {
            root_corners
        } else if wall.radius >= tip {
            tip_corners
        } else {
            pair(wall.radius)
        };
        Tooth { tip: tip_corners, root: root_corners, ring }
    }

    /// The edge of a flank, or two of them where the middle corner is another one.
    fn flank(&self, shell: &mut Shell, tooth: usize, falls: bool, z: f64, corners: [usize; 3]) -> Vec<usize> {
        let path = Path::Flank(self.flank_curve(tooth, falls, z));
        corners
            .windows(2)
            .filter(|pair| pair[0] != pair[1])
            .map(|pair| shell.edge(pair[0], pair[1], path.clone()))
            .collect()
    }

    fn flank_curve(&self, tooth: usize, falls: bool, z: f64) -> Flank {
        let (sine, cosine) = libm::sincos(self.middle(tooth));
        let curve = if falls { &self.falling } else { &self.rising };
        let poles = curve.poles.iter().map(|[x, y, _]| [x * cosine - y * sine, x * sine + y * cosine, z]).collect();
        Flank { poles, knots: curve.knots.clone() }
    }

    /// The pieces of a wall: ends of teeth outside the circle at which the part goes on, ends of spaces within it.
    fn pieces(
        &self,
        shell: &mut Shell,
        end: &End,
        [under_teeth, over_spaces]: [&[Vec<usize>]; 2],
        z: f64,
        wall: Wall,
        high: bool,
    ) {
        let (root, tip) = (self.teeth.root_radius, self.teeth.tip_radius);
        let count = self.count();
        let mut add = |arcs: &[usize], back: Vec<usize>, upward: bool| {
            let mut sides: Vec<Side> = arcs.iter().copied().map(Side::along).collect();
            sides.extend(back.into_iter().rev().map(Side::against));
            let upward = upward != high;
            let normal = [0.0, 0.0, if upward { 1.0 } else { -1.0 }];
            if high {
                sides = sides.into_iter().rev().map(Side::turned).collect();
            }
            shell.faces.push(Face {
                surface: Surface::Plane { point: [0.0, 0.0, z], normal },
                outward: true,
                loops: vec![sides],
            });
        };
        for index in 0..count {
            let side = |offset: usize| &end.sides[(4 * index + offset) % (4 * count)];
            let rise_to_tooth = &end.sides[(4 * (index + count) - 1) % (4 * count)];
            // Of a flank in two pieces, the first is the one towards its beginning.
            let split = |flank: &[usize]| (flank[0], flank[flank.len() - 1]);
            if wall.radius < tip {
                let back = [vec![split(rise_to_tooth).1], side(0).clone(), vec![split(side(1)).0]].concat();
                add(&under_teeth[index], back, false);
            }
            if wall.radius > root {
                let back = [vec![split(side(1)).1], side(2).clone(), vec![split(side(3)).0]].concat();
                add(&over_spaces[index], back, true);
            }
        }
    }

    /// Tips, flanks and roots between the two ends.
    fn sides(&self, shell: &mut Shell, low: &End, high: &End) {
        let count = low.sides.len();
        let first_corner = |shell: &Shell, side: &[usize]| shell.edges[side[0]].from;
        let risers: Vec<usize> = (0..count)
            .map(|side| {
                let (from, to) = (first_corner(shell, &low.sides[side]), first_corner(shell, &high.sides[side]));
                shell.straight(from, to)
            })
            .collect();
        for side in 0..count {
            let surface = match (side % 4, &shell.edges[low.sides[side][0]].path) {
                (1 | 3, Path::Flank(flank)) => Surface::Moved { flank: flank.clone() },
                (offset, _) => {
                    let radius = if offset == 0 { self.teeth.tip_radius } else { self.teeth.root_radius };
                    let z = shell.corners[shell.edges[low.sides[side][0]].from][2];
                    Surface::Cylinder { point: [0.0, 0.0, z], radius }
                }
            };
            let mut sides: Vec<Side> = low.sides[side].iter().copied().map(Side::along).collect();
            sides.push(Side::along(risers[(side + 1) % count]));
            sides.extend(high.sides[side].iter().rev().copied().map(Side::against));
            sides.push(Side::against(risers[side]));
            shell.faces.push(Face { surface, outward: true, loops: vec![sides] });
        }
    }
}

/// An arc about the axis from one corner to another, or two with the seam between them.
fn arcs(shell: &mut Shell, z: f64, radius: f64, [from, to]: [usize; 2], seam: Option<usize>) -> Vec<usize> {
    let path = Path::Circle { centre: [0.0, 0.0, z], axis: [0.0, 0.0, 1.0], zero: [1.0, 0.0, 0.0], radius };
    match seam {
        Some(seam) => vec![shell.edge(from, seam, path.clone()), shell.edge(seam, to, path)],
        None => vec![shell.edge(from, to, path)],
    }
}
