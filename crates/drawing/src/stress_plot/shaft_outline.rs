//! The shaft above the curves: each section at its place, its diameters to a scale of their own.

use axle::StationProof;

use super::distance_axis::DistanceAxis;
use super::svg::{Point, Svg};

/// Half of the height that the journal takes.
const JOURNAL_HALF: f64 = 17.0;

/// Half of the height that the flange takes: it is cut off, for its diameter says nothing about stress.
pub const FLANGE_HALF: f64 = 38.0;

/// A step of the outline that is so low is drawn so high all the same, or it would not be seen.
const LEAST_STEP: f64 = 1.6;

/// A stretch of the shaft.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Stretch {
    from_mm: f64,
    to_mm: f64,
    half: f64,
}

/// Draws the shaft about its axis at `middle`. `end_mm` is its inner end.
pub fn draw(svg: &mut Svg, stations: &[StationProof], axis: &DistanceAxis, end_mm: f64, middle: f64) {
    let stretches = stretches(stations, end_mm);
    let upper = outline(&stretches, axis, middle, -1.0);
    let mut around = upper.clone();
    around.extend(outline(&stretches, axis, middle, 1.0).into_iter().rev());
    svg.polygon("shaft", &around);
    for pair in stretches.windows(2) {
        let x = axis.x(pair[1].from_mm);
        let half = pair[0].half.max(pair[1].half);
        svg.line("edge", (x, middle - half), (x, middle + half));
    }
    if let Some(spline) = stretches.last().filter(|_| stretches.len() > 1) {
        // Teeth are shown as a drawing shows them: by a thin line along their roots.
        for side in [-1.0, 1.0] {
            let y = middle + side * (spline.half - 3.5);
            svg.line("leader", (axis.x(spline.from_mm), y), (axis.x(spline.to_mm), y));
        }
    }
    svg.line("axis", (axis.x(0.0) - 14.0, middle), (axis.x(end_mm) + 14.0, middle));
    if let Some(x) = axis.change() {
        draw_break(svg, x, middle);
    }
}

/// The stretches between the steps of the shaft, as far as the sections give them.
fn stretches(stations: &[StationProof], end_mm: f64) -> Vec<Stretch> {
    let find = |name: &str| stations.iter().find(|one| one.section == name);
    let journal = find("bearing seat").or(stations.first()).map_or(1.0, |one| one.diameter_mm);
    let half = |diameter_mm: f64| JOURNAL_HALF * diameter_mm / journal;
    let mut starts: Vec<(f64, f64)> = vec![(0.0, FLANGE_HALF)];
    if let Some(fillet) = find("flange fillet") {
        // Between flange and shoulder the shaft is thicker than the journal; how much is not known.
        starts.push((fillet.at_mm, 1.25 * half(fillet.diameter_mm)));
    }
    if let Some(shoulder) = find("bearing shoulder") {
        starts.push((shoulder.at_mm, half(shoulder.diameter_mm)));
    }
    if let (Some(ring), Some(step)) = (find("ring seat"), find("step to the seal journal")) {
        // The section stands in the middle of the ring.
        starts.push((2.0 * ring.at_mm - step.at_mm, half(ring.diameter_mm)));
        starts.push((step.at_mm, half(step.diameter_mm)));
    }
    for name in ["body, wheel end", "spline roots"] {
        if let Some(one) = find(name) {
            starts.push((one.at_mm, half(one.diameter_mm)));
        }
    }
    starts.sort_by(|one, other| one.0.total_cmp(&other.0));
    let ends = starts.iter().skip(1).map(|start| start.0).chain([end_mm]);
    let mut stretches: Vec<Stretch> = Vec::new();
    for (&(from_mm, wanted), to_mm) in starts.iter().zip(ends) {
        let half = match stretches.last() {
            Some(before) if (before.half - wanted).abs() < LEAST_STEP => before.half - LEAST_STEP,
            _ => wanted,
        };
        stretches.push(Stretch { from_mm, to_mm: to_mm.max(from_mm), half });
    }
    stretches
}

fn outline(stretches: &[Stretch], axis: &DistanceAxis, middle: f64, side: f64) -> Vec<Point> {
    let mut points = Vec::new();
    for one in stretches {
        points.push((axis.x(one.from_mm), middle + side * one.half));
        points.push((axis.x(one.to_mm), middle + side * one.half));
    }
    points
}

/// Two strokes with a gap between them, where the scale changes.
fn draw_break(svg: &mut Svg, x: f64, middle: f64) {
    let stroke = |shift: f64| {
        [
            (x + shift + 3.0, middle - JOURNAL_HALF - 8.0),
            (x + shift - 2.0, middle - 4.0),
            (x + shift + 2.0, middle + 4.0),
            (x + shift - 3.0, middle + JOURNAL_HALF + 8.0),
        ]
    };
    svg.polyline("break gap", &stroke(0.0));
    svg.polyline("break", &stroke(-3.0));
    svg.polyline("break", &stroke(3.0));
}
