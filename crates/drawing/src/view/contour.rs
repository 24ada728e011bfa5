//! The outline of a shaft seen from the side.

use super::axis::Axis;
use crate::hatch::hatch;
use crate::ink::Ink;
use crate::item::{Item, line, outline, polyline};
use crate::point::{Point, Rectangle, at};
use crate::shape::{END_CHAMFER_MM, OutlinePiece, PILOT_CHAMFER_MM, ShaftShape, Step, StepKind};

/// What the outline of a shaft is drawn with.
pub struct Contour<'a> {
    /// Where it lies.
    pub axis: &'a Axis,
    /// The shape.
    pub shape: &'a ShaftShape,
    /// Its steps.
    pub steps: &'a [Step],
}

impl Contour<'_> {
    /// The step of that kind.
    #[must_use]
    pub fn step(&self, kind: StepKind) -> Option<&Step> {
        self.steps.iter().find(|step| step.kind == kind)
    }

    /// Outline, edges, spline, axis and break.
    #[must_use]
    pub fn items(&self) -> Vec<Item> {
        let mut items = Vec::new();
        for sign in [1.0, -1.0] {
            for points in self.run(sign) {
                items.push(polyline(Ink::Outline, points));
            }
        }
        items.extend(self.ends());
        items.extend(self.edges());
        items.extend(self.spline());
        items.extend(self.breaks());
        items.extend(self.centre_line());
        items
    }

    /// The upper or lower contour, from the outboard to the inboard end, in one piece or two.
    fn run(&self, sign: f64) -> Vec<Vec<Point>> {
        let mut run: Vec<(f64, f64)> = Vec::new();
        for piece in self.shape.outline(self.steps) {
            match piece {
                OutlinePiece::Line { place_mm, radius_mm } => run.push((place_mm, radius_mm)),
                OutlinePiece::Fillet { place_mm, radius_mm, fillet_mm } => {
                    let centre = at(place_mm + fillet_mm, radius_mm + fillet_mm);
                    let turned = (0..=6).map(|part| centre.towards(180.0 + 15.0 * f64::from(part), fillet_mm));
                    run.extend(turned.map(|point| (point.x, point.y)));
                }
            }
        }
        let mut pieces = vec![Vec::new()];
        let mut before: Option<(f64, f64)> = None;
        for (distance, radius) in run {
            if let (Some((start, end)), Some((last, last_radius))) = (self.axis.left_out, before)
                && last <= start
                && distance >= end
            {
                let radius_at = |place: f64| last_radius + (radius - last_radius) * (place - last) / (distance - last);
                if let Some(piece) = pieces.last_mut() {
                    piece.push(self.axis.point(start, sign * radius_at(start)));
                }
                pieces.push(vec![self.axis.point(end, sign * radius_at(end))]);
            }
            if let Some(piece) = pieces.last_mut() {
                piece.push(self.axis.point(distance, sign * radius));
            }
            before = Some((distance, radius));
        }
        pieces
    }

    /// The room of every step.
    pub fn silhouette(&self) -> impl Iterator<Item = Rectangle> {
        self.steps.iter().map(|step| {
            let radius = 0.5 * step.outer_mm.max(step.inner_mm);
            Rectangle::around(self.axis.point(step.from_mm, radius), self.axis.point(step.to_mm, -radius))
        })
    }

    fn across(&self, ink: Ink, distance: f64, radius: f64) -> Item {
        line(ink, self.axis.point(distance, radius), self.axis.point(distance, -radius))
    }

    /// The two ends of the shaft.
    fn ends(&self) -> Vec<Item> {
        let mut items = Vec::new();
        if let Some(first) = self.steps.first() {
            items.push(self.across(Ink::Outline, first.from_mm, (0.5 * first.outer_mm - PILOT_CHAMFER_MM).max(0.1)));
            items.push(self.across(Ink::Outline, first.from_mm + PILOT_CHAMFER_MM, 0.5 * first.outer_mm));
        }
        if let Some(last) = self.steps.last() {
            items.push(self.across(Ink::Outline, last.to_mm, 0.5 * last.inner_mm - END_CHAMFER_MM));
            items.push(self.across(Ink::Outline, last.to_mm - END_CHAMFER_MM, 0.5 * last.inner_mm));
        }
        items
    }

    /// The edges where one step meets the next: thick where the step can be seen on the paper, thin where it is a hair.
    fn edges(&self) -> Vec<Item> {
        let seam = |pair: &[Step]| {
            let (before, after) = (0.5 * pair[0].inner_mm, 0.5 * pair[1].outer_mm);
            let seen = (before - after).abs() * self.axis.scale > 0.35;
            let ink = if seen { Ink::Outline } else { Ink::Edge };
            // The larger of the two faces is what is seen.
            self.across(ink, pair[1].from_mm, before.max(after))
        };
        self.steps.windows(2).map(seam).collect()
    }

    /// ISO 6413: tips thick, roots thin, a thin line where the full teeth end.
    fn spline(&self) -> Vec<Item> {
        let Some(step) = self.step(StepKind::Spline) else { return Vec::new() };
        let root = 0.5 * self.shape.spline_minor_diameter.drawn(step.outer_mm - 2.2);
        let run_out = 0.12 * (step.to_mm - step.from_mm);
        let mut items = Vec::new();
        for sign in [1.0, -1.0] {
            let from = self.axis.point(step.from_mm, sign * 0.5 * step.outer_mm);
            let full = self.axis.point(step.from_mm + run_out, sign * root);
            items.push(polyline(Ink::Edge, vec![from, full, self.axis.point(step.to_mm, sign * root)]));
        }
        items.push(self.across(Ink::Edge, step.from_mm + run_out, 0.5 * step.outer_mm));
        items
    }

    /// The two ends of a break, each with the section of a round bar that it lays open.
    fn breaks(&self) -> Vec<Item> {
        let Some((start, end)) = self.axis.left_out else { return Vec::new() };
        let Some(body) = self.step(StepKind::Body) else { return Vec::new() };
        let radius_at = |place: f64| {
            let share = (place - body.from_mm) / (body.to_mm - body.from_mm);
            0.5 * (body.outer_mm + (body.inner_mm - body.outer_mm) * share)
        };
        let mut items = Vec::new();
        for (place, sign) in [(start, 1.0), (end, -1.0)] {
            let radius = radius_at(place) * self.axis.scale;
            let middle = self.axis.point(place, 0.0);
            let bulge = (0.16 * radius).min(2.7) * self.axis.direction;
            // From the rim to the middle and back: a parabola on either side of the straight way.
            let half = |up: f64, out: f64| -> Vec<Point> {
                (0..=8)
                    .map(|part| {
                        let share = f64::from(part) / 8.0;
                        let off = 1.0 - (2.0 * share - 1.0).powi(2);
                        middle.by(out * bulge * off, up * radius * (1.0 - share))
                    })
                    .collect()
            };
            let mut lens = half(sign, 1.0);
            lens.extend(half(sign, -1.0).into_iter().rev().skip(1));
            lens.pop();
            items.push(polyline(Ink::Break, half(-sign, sign)));
            items.push(hatch(std::slice::from_ref(&lens), 45.0, 1.6));
            items.push(outline(Ink::Break, lens));
        }
        items
    }

    fn centre_line(&self) -> Vec<Item> {
        let (Some(first), Some(last)) = (self.steps.first(), self.steps.last()) else { return Vec::new() };
        let beyond = 5.0 * self.axis.direction;
        let from = self.axis.point(first.from_mm, 0.0).by(-beyond, 0.0);
        let to = self.axis.point(last.to_mm, 0.0).by(beyond, 0.0);
        match self.axis.left_out {
            None => vec![line(Ink::Centre, from, to)],
            Some((start, end)) => vec![
                line(Ink::Centre, from, self.axis.point(start, 0.0).by(0.5 * self.axis.direction, 0.0)),
                line(Ink::Centre, self.axis.point(end, 0.0).by(-0.5 * self.axis.direction, 0.0), to),
            ],
        }
    }

    /// The surface that is hardened: a thick chain line beside the lower contour, from the flange fillet to the end of the
    /// spline (ISO 128-2, line 04.2).
    #[must_use]
    pub fn hardened(&self) -> Vec<Item> {
        let off = 1.3 / self.axis.scale;
        let mut pieces: Vec<Vec<Point>> = vec![Vec::new()];
        let kinds = self.steps.iter().filter(|step| step.kind >= StepKind::Shoulder);
        for step in kinds {
            let from = if step.kind == StepKind::Shoulder { step.from_mm + off } else { step.from_mm };
            let mut add = |place: f64, radius: f64| {
                if let Some(piece) = pieces.last_mut() {
                    piece.push(self.axis.point(place, -radius - off));
                }
            };
            add(from, 0.5 * step.outer_mm);
            if let (StepKind::Body, Some((start, end))) = (step.kind, self.axis.left_out) {
                let share = |place: f64| (place - step.from_mm) / (step.to_mm - step.from_mm);
                let radius = |place: f64| 0.5 * (step.outer_mm + (step.inner_mm - step.outer_mm) * share(place));
                add(start, radius(start));
                pieces.push(Vec::new());
                if let Some(piece) = pieces.last_mut() {
                    piece.push(self.axis.point(end, -radius(end) - off));
                }
            }
            if let Some(piece) = pieces.last_mut() {
                piece.push(self.axis.point(step.to_mm, -0.5 * step.inner_mm - off));
            }
        }
        pieces.into_iter().filter(|piece| piece.len() > 1).map(|piece| polyline(Ink::Treatment, piece)).collect()
    }

    /// A piece of the flange's upper half cut open to show a stud hole.
    #[must_use]
    pub fn stud_hole(&self) -> Vec<Item> {
        let (Some(circle), Some(hole), Some(flange), Some(register)) = (
            self.shape.bolt_circle.value_mm,
            self.shape.stud_hole.value_mm,
            self.step(StepKind::Flange),
            self.step(StepKind::Register),
        ) else {
            return Vec::new();
        };
        let (middle, half) = (0.5 * circle, 0.5 * hole);
        let rim = 0.5 * flange.outer_mm;
        let low = middle - half - 6.0;
        if middle + half >= rim || low <= 0.5 * register.outer_mm {
            return Vec::new();
        }
        let (near, far) = (flange.from_mm, flange.to_mm);
        let wave = |share: f64| low + 0.9 * (share * 9.0).sin();
        let torn: Vec<(f64, f64)> = (0..=10)
            .map(|part| f64::from(part) / 10.0)
            .map(|share| (near + share * (far - near), wave(share)))
            .collect();
        let on_paper = |points: &[(f64, f64)]| -> Vec<Point> {
            points.iter().map(|(place, radius)| self.axis.point(*place, *radius)).collect()
        };
        let mut below = torn.clone();
        below.extend([(far, middle - half), (near, middle - half)]);
        let above = [(near, middle + half), (far, middle + half), (far, rim), (near, rim)];
        let mut items = vec![
            hatch(&[on_paper(&below)], 45.0, 2.0),
            hatch(&[on_paper(&above)], 45.0, 2.0),
            polyline(Ink::Break, on_paper(&torn)),
        ];
        for radius in [middle - half, middle + half] {
            items.push(line(Ink::Outline, self.axis.point(near, radius), self.axis.point(far, radius)));
        }
        let beyond = 3.0 * self.axis.direction;
        items.push(line(
            Ink::Centre,
            self.axis.point(near, middle).by(-beyond, 0.0),
            self.axis.point(far, middle).by(beyond, 0.0),
        ));
        items
    }
}
