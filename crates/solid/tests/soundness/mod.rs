//! What every closed boundary must have, whatever the part.

use solid::{Path, Shell, Side, Surface, Triple};

/// Neighbours meet to rounding; coordinates are some hundred millimetres at most.
const CLOSE_MM: f64 = 1e-9;
/// A corner lies on a flank to rounding too: it is an end or a joint of its curve.
const PARALLEL: f64 = 1e-9;

/// Every fault of a shell, in words; `handles` is the number of holes through it.
pub fn faults(shell: &Shell, handles: usize) -> Vec<String> {
    let mut faults = sides(shell);
    faults.extend(loops(shell));
    faults.extend(euler(shell, handles));
    faults.extend(corners_on_edges(shell));
    faults.extend(corners_on_faces(shell));
    faults
}

/// Each edge is used twice, once each way.
fn sides(shell: &Shell) -> Vec<String> {
    let mut used: Vec<Side> = shell.faces.iter().flat_map(|face| face.loops.iter().flatten().copied()).collect();
    used.sort_unstable();
    let expected: Vec<Side> =
        (0..shell.edges.len()).flat_map(|edge| [Side { edge, forward: false }, Side { edge, forward: true }]).collect();
    if used == expected { Vec::new() } else { vec!["not every edge is used exactly once each way".to_owned()] }
}

/// Each loop runs from corner to corner and closes.
fn loops(shell: &Shell) -> Vec<String> {
    let mut faults = Vec::new();
    for (index, face) in shell.faces.iter().enumerate() {
        if face.loops.is_empty() {
            faults.push(format!("face {index} has no loop"));
        }
        for run in &face.loops {
            for (place, side) in run.iter().enumerate() {
                let next = run[(place + 1) % run.len()];
                if shell.ends(*side).1 != shell.ends(next).0 {
                    faults.push(format!("face {index}: the loop is broken behind side {place}"));
                }
            }
        }
    }
    faults
}

/// Euler and Poincaré: corners − edges + faces − inner loops = 2 (1 − handles), for one shell.
fn euler(shell: &Shell, handles: usize) -> Vec<String> {
    let count = |number: usize| i64::try_from(number).unwrap();
    let inner = count(shell.loop_count()) - count(shell.faces.len());
    let found = count(shell.corners.len()) - count(shell.edges.len()) + count(shell.faces.len()) - inner;
    let expected = 2 - 2 * count(handles);
    if found == expected { Vec::new() } else { vec![format!("Euler's sum is {found}, not {expected}")] }
}

fn less(a: Triple, b: Triple) -> Triple {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn dot(a: Triple, b: Triple) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn length(a: Triple) -> f64 {
    dot(a, a).sqrt()
}

/// The ends of each edge lie on its curve; of a flank, at a joint of its pieces.
fn corners_on_edges(shell: &Shell) -> Vec<String> {
    let mut faults = Vec::new();
    for (index, edge) in shell.edges.iter().enumerate() {
        for corner in [edge.from, edge.to] {
            let off = off_path(&edge.path, shell.corners[corner]);
            if off.is_nan() || off > CLOSE_MM {
                faults.push(format!("corner {corner} lies {off:.1e} mm off edge {index}"));
            }
        }
    }
    faults
}

fn off_path(path: &Path, place: Triple) -> f64 {
    match path {
        Path::Line { point, direction } => {
            let reach = less(place, *point);
            let along = dot(reach, *direction);
            length(less(reach, direction.map(|part| part * along))) + (length(*direction) - 1.0).abs()
        }
        Path::Circle { centre, axis, zero, radius } => {
            let reach = less(place, *centre);
            (length(reach) - radius).abs() + dot(reach, *axis).abs() + dot(*zero, *axis).abs()
        }
        Path::Flank(flank) => {
            // Joints lie halfway between their two neighbouring poles in a share of the knots' widths.
            let last = flank.poles.len() - 1;
            let mut joints = vec![flank.poles[0], flank.poles[last]];
            for piece in 1..flank.knots.len() - 1 {
                let (before, behind) = (flank.poles[2 * piece], flank.poles[2 * piece + 1]);
                let width = flank.knots[piece + 1] - flank.knots[piece - 1];
                let share = (flank.knots[piece] - flank.knots[piece - 1]) / width;
                joints.push([0, 1, 2].map(|axis| before[axis] + share * (behind[axis] - before[axis])));
            }
            joints.into_iter().map(|joint| length(less(place, joint))).fold(f64::INFINITY, f64::min)
        }
    }
}

/// The corners of each face lie on its surface.
fn corners_on_faces(shell: &Shell) -> Vec<String> {
    let mut faults = Vec::new();
    for (index, face) in shell.faces.iter().enumerate() {
        for side in face.loops.iter().flatten() {
            let off = off_surface(&face.surface, shell.corners[shell.ends(*side).0]);
            if off.is_nan() || off > CLOSE_MM {
                faults.push(format!("a corner lies {off:.1e} mm off face {index}, {:?}", face.surface));
            }
        }
    }
    faults
}

fn off_surface(surface: &Surface, place: Triple) -> f64 {
    let from_axis = |point: &Triple| (place[0] - point[0]).hypot(place[1] - point[1]);
    match surface {
        Surface::Plane { point, normal } => dot(less(place, *point), *normal).abs() + (length(*normal) - 1.0).abs(),
        Surface::Cylinder { point, radius } => (from_axis(point) - radius).abs(),
        Surface::Cone { point, widens_upward, radius, half_angle } => {
            let height = if *widens_upward { place[2] - point[2] } else { point[2] - place[2] };
            ((from_axis(point) - radius) * half_angle.cos() - height * half_angle.sin()).abs()
        }
        Surface::Sphere { centre, radius } => (length(less(place, *centre)) - radius).abs(),
        Surface::Torus { centre, major_radius, minor_radius } => {
            ((from_axis(centre) - major_radius).hypot(place[2] - centre[2]) - minor_radius).abs()
        }
        Surface::Turned { circle } => off_path(circle, [place[0].hypot(place[1]), 0.0, place[2]]),
        Surface::Moved { flank } => {
            let at_foot = [place[0], place[1], flank.poles[0][2]];
            off_path(&Path::Flank(flank.clone()), at_foot)
        }
    }
}

/// Loops of plane faces turn the right way: the outer one encloses material on its left as seen from outside.
pub fn plane_loops(shell: &Shell) -> Vec<String> {
    let mut faults = Vec::new();
    for (index, face) in shell.faces.iter().enumerate() {
        let Surface::Plane { normal, .. } = &face.surface else {
            continue;
        };
        for (place, run) in face.loops.iter().enumerate() {
            let area: f64 = run.iter().map(|side| swept(shell, *side)).sum::<f64>() * normal[2];
            if (area > 0.0) != (place == 0) || area.abs() < PARALLEL {
                faults.push(format!("face {index}: loop {place} turns the wrong way"));
            }
        }
    }
    faults
}

/// Twice the area that an edge sweeps about the z axis, positive anticlockwise. Flanks are taken by their poles, which
/// tells the sense and not the size.
fn swept(shell: &Shell, side: Side) -> f64 {
    let (from, to) = shell.ends(side);
    let (from, to) = (shell.corners[from], shell.corners[to]);
    let triangle = |from: Triple, to: Triple| from[0] * to[1] - from[1] * to[0];
    match &shell.edges[side.edge].path {
        Path::Circle { centre, radius, .. } => {
            let (a, b) = (less(from, *centre), less(to, *centre));
            let mut angle = b[1].atan2(b[0]) - a[1].atan2(a[0]);
            if side.forward && angle <= 0.0 {
                angle += std::f64::consts::TAU;
            } else if !side.forward && angle >= 0.0 {
                angle -= std::f64::consts::TAU;
            }
            radius * radius * angle + triangle(*centre, less(to, from))
        }
        _ => triangle(from, to),
    }
}
