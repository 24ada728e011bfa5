//! The shaft alone: what the turner, the grinder and the inspector work from.

use super::axis::Axis;
use super::contour::Contour;
use super::{Patience, Picture, Placing};
use crate::dimension::{Linear, TextPlace};
use crate::item::Item;
use crate::label::{Closeness, DIAMETER, Label, Manner, RADIUS, at_most_in_words, label};
use crate::leader::{LeaderEnd, Stem, control_frame, datum, leader};
use crate::point::{Point, Rectangle, at};
use crate::shape::{ShaftShape, Size, Step, StepKind};
use crate::style::{Roughness, Style};

/// Runout of the wheel face against the journal, in millimetres: 0.003 in. Common practice, no source.
pub const FACE_RUNOUT_MM: f64 = 0.0762;

/// The shaft at a scale.
pub(super) fn picture(shape: &ShaftShape, style: &Style, scale: f64, room: Rectangle, patience: Patience) -> Picture {
    let steps = shape.steps();
    let mut axis = Axis { origin: at(0.0, 0.0), scale, direction: 1.0, left_out: None };
    let body = steps.iter().find(|step| step.kind == StepKind::Body);
    if let Some(body) = body {
        axis = axis.leaving_out(body.from_mm, body.to_mm, (20.0, 14.0));
    }
    let contour = Contour { axis: &axis, shape, steps: &steps };
    // How far the picture grows to the left shows with the diameters there, how high it grows at the end.
    let mut placing = Placing::new(Rectangle::around(at(-400.0, -400.0), at(400.0, 400.0)), patience);
    placing.board.draw_all(contour.items());
    placing.board.draw_all(contour.stud_hole());
    if shape.case.is_some() {
        placing.board.draw_all(contour.hardened());
    }
    for room in contour.silhouette() {
        placing.board.part_lies_at(room);
    }
    let mut view = Shaft { shape, style, axis, steps: &steps, placing };
    view.diameters();
    view.placing.board.ends_right_at(room.width());
    view.across();
    view.outboard();
    view.along();
    view.controls();
    view.notes();
    view.placing.finish()
}

/// A diameter on a stem: the size, its place, its diameter on the picture, how it is written, its finish.
type Across<'a> = (&'a Size, f64, f64, Manner, Closeness, Option<&'a str>);

struct Shaft<'a> {
    shape: &'a ShaftShape,
    style: &'a Style,
    axis: Axis,
    steps: &'a [Step],
    placing: Placing,
}

impl Shaft<'_> {
    fn step(&self, kind: StepKind) -> Step {
        let none = Step { kind, from_mm: 0.0, to_mm: 0.0, outer_mm: 0.0, inner_mm: 0.0 };
        self.steps.iter().find(|step| step.kind == kind).copied().unwrap_or(none)
    }

    /// The point on the upper contour of a step at a distance, or on the lower one.
    fn on(&self, distance: f64, diameter: f64, sign: f64) -> Point {
        self.axis.point(distance, 0.5 * sign * diameter)
    }

    /// Diameters of the journals, the body and the spline: on stems above the shaft, the innermost lowest.
    fn across(&mut self) {
        let (shape, style) = (self.shape, self.style);
        let (spline, body) = (self.step(StepKind::Spline), self.step(StepKind::Body));
        let (seal, ring) = (self.step(StepKind::SealJournal), self.step(StepKind::RingSeat));
        let (journal, shoulder) = (self.step(StepKind::Journal), self.step(StepKind::Shoulder));
        let middle = |step: &Step| 0.5 * (step.from_mm + step.to_mm);
        let (outer, inner) = match self.axis.left_out {
            Some((from, to)) => (0.6 * body.from_mm + 0.4 * from, 0.5 * (to + body.to_mm)),
            None => (0.8 * body.from_mm + 0.2 * body.to_mm, 0.2 * body.from_mm + 0.8 * body.to_mm),
        };
        let wide = |place: f64| {
            body.outer_mm + (body.inner_mm - body.outer_mm) * (place - body.from_mm) / (body.to_mm - body.from_mm)
        };
        let ground = format!("GROUND, {}", style.roughness(Roughness::Ground));
        let under_seal = format!("GROUND, {}", style.roughness(Roughness::UnderSeal));
        let (ground, under_seal) = (ground.as_str(), under_seal.as_str());
        let stems: [Across<'_>; 7] = [
            (&shape.spline_major_diameter, middle(&spline), spline.outer_mm, Manner::Limits, Closeness::Turned, None),
            (&shape.body_inner, inner, wide(inner), Manner::Reference, Closeness::Turned, None),
            (&shape.body_outer, outer, wide(outer), Manner::Reference, Closeness::Turned, None),
            (
                &shape.seal_journal_diameter,
                middle(&seal),
                seal.outer_mm,
                Manner::Limits,
                Closeness::Ground,
                Some(under_seal),
            ),
            (&shape.ring_seat_diameter, middle(&ring), ring.outer_mm, Manner::Limits, Closeness::Ground, Some(ground)),
            (
                &shape.journal_diameter,
                middle(&journal),
                journal.outer_mm,
                Manner::Limits,
                Closeness::Ground,
                Some(ground),
            ),
            (
                &shape.shoulder_diameter,
                middle(&shoulder),
                shoulder.outer_mm,
                Manner::Reference,
                Closeness::Turned,
                None,
            ),
        ];
        for (size, place, diameter, manner, closeness, finish) in stems {
            let in_line = manner == Manner::Limits && self.style.units.is_dual();
            let manner = if in_line { Manner::LimitsInLine } else { manner };
            let mut words = label(size, DIAMETER, manner, closeness, self.style);
            if let Some(finish) = finish {
                words = words.with_line(finish);
            }
            let stem = Stem {
                style: self.style,
                size,
                side: None,
                label: words,
                bottom: self.on(place, diameter, -1.0),
                top: self.on(place, diameter, 1.0),
                // The sizes of the body are those of its two ends, where there is no room for a line.
                scale: (!size.name.starts_with("body")).then_some(self.axis.scale),
            };
            let lowest = stem.top.y + 7.0;
            let ways = [true, false]
                .into_iter()
                .flat_map(|right| (0..90).map(move |step| (right, lowest + 1.5 * f64::from(step))))
                .map(|(right, shelf)| stem.at(shelf, right));
            self.placing.dimension(size, ways);
        }
    }

    /// Thickness and heights at the wheel face, above the flange.
    fn outboard(&mut self) {
        let shape = self.shape;
        let (pilot, register) = (self.step(StepKind::WheelPilot), self.step(StepKind::Register));
        let flange = self.step(StepKind::Flange);
        let face = self.on(0.0, flange.outer_mm, 1.0);
        let top = face.y + self.style.first_row;
        let above = move |steps: i32| (0..steps).map(move |step| top + 1.0 * f64::from(step));
        let rows: [(&Size, Point, Point); 3] = [
            (&shape.flange_thickness, face, self.on(flange.to_mm, flange.outer_mm, 1.0)),
            (&shape.wheel_pilot_height, self.on(pilot.from_mm, pilot.outer_mm - 2.0, 1.0), face),
            (&shape.register_height, self.on(register.from_mm, register.outer_mm, 1.0), face),
        ];
        for (size, from, to) in rows {
            let linear = self.linear(size, false, from, to, Manner::PlusMinus, Closeness::Turned, "");
            let places: &[TextPlace] = if std::ptr::eq(size, &shape.flange_thickness) {
                &[TextPlace::Between, TextPlace::After, TextPlace::Before]
            } else {
                &[TextPlace::Between, TextPlace::Before]
            };
            self.placing.dimension(size, linear.ways(above(130), places));
        }
    }

    #[expect(clippy::too_many_arguments, reason = "a dimension is made of that many things")]
    fn linear<'s>(
        &self,
        size: &'s Size,
        upright: bool,
        from: Point,
        to: Point,
        manner: Manner,
        closeness: Closeness,
        mark: &str,
    ) -> Linear<'s>
    where
        Self: 's,
    {
        let scale = if upright { Some(self.axis.scale) } else { self.scale_of(from, to) };
        let label = label(size, mark, manner, closeness, self.style);
        Linear { style: self.style, size, side: None, label, upright, from, to, scale }
    }

    fn scale_of(&self, from: Point, to: Point) -> Option<f64> {
        let broken = self
            .axis
            .left_out
            .is_some_and(|(start, end)| from.x <= self.axis.x(start) + 1e-9 && to.x >= self.axis.x(end) - 1e-9);
        (!broken).then_some(self.axis.scale)
    }

    /// Every distance from the wheel face, below the shaft, the shortest nearest.
    fn along(&mut self) {
        let shape = self.shape;
        let flange = self.step(StepKind::Flange);
        let face = self.on(0.0, flange.outer_mm, -1.0);
        let mut lowest = face.y - self.style.first_row;
        let rows: [(&Size, StepKind, Manner); 6] = [
            (&shape.shoulder_distance, StepKind::Shoulder, Manner::PlusMinus),
            (&shape.journal_end, StepKind::Journal, Manner::Reference),
            (&shape.ring_seat_end, StepKind::RingSeat, Manner::Reference),
            (&shape.seal_journal_end, StepKind::SealJournal, Manner::Reference),
            (&shape.spline_start, StepKind::Body, Manner::Reference),
            (&shape.overall_length, StepKind::Spline, Manner::PlusMinus),
        ];
        for (size, kind, manner) in rows {
            let step = self.step(kind);
            let chamfer = if kind == StepKind::Spline { 3.0 } else { 0.0 };
            let to = self.on(step.to_mm, step.inner_mm - chamfer, -1.0);
            let linear = self.linear(size, false, face, to, manner, Closeness::Turned, "");
            // Below the row before, so that no extension line crosses a dimension line that lies nearer to the shaft.
            let below = (0..170).map(|step| lowest - f64::from(step));
            let places = [TextPlace::Between, TextPlace::Tight, TextPlace::Before];
            self.placing.dimension(size, linear.ways(below, &places));
            lowest = self.placing.board.last_level().map_or(lowest, |line| lowest.min(line));
        }
    }

    /// Pilot, register and flange, left of the wheel face, the smallest nearest.
    fn diameters(&mut self) {
        let shape = self.shape;
        let (pilot, register) = (self.step(StepKind::WheelPilot), self.step(StepKind::Register));
        let flange = self.step(StepKind::Flange);
        let nearest = self.axis.x(pilot.from_mm) - self.style.first_row;
        let columns: [(&Size, f64, f64, Closeness); 3] = [
            (&shape.wheel_pilot_diameter, pilot.from_mm + 1.0, pilot.outer_mm, Closeness::Ground),
            (&shape.register_diameter, register.from_mm, register.outer_mm, Closeness::Ground),
            (&shape.flange_diameter, 0.0, flange.outer_mm, Closeness::Turned),
        ];
        for (size, place, diameter, closeness) in columns {
            let (from, to) = (self.on(place, diameter, -1.0), self.on(place, diameter, 1.0));
            let linear = self.linear(size, true, from, to, Manner::Limits, closeness, DIAMETER);
            let left = (0..110).map(|step| nearest - f64::from(step));
            let places = [TextPlace::Between, TextPlace::Tight, TextPlace::After];
            self.placing.dimension(size, linear.ways(left, &places));
        }
    }

    /// Datums, and the runout of the wheel face.
    fn controls(&mut self) {
        let style = self.style;
        let (journal, flange) = (self.step(StepKind::Journal), self.step(StepKind::Flange));
        let register = self.step(StepKind::Register);
        let on_journal = self.on(0.5 * (journal.from_mm + journal.to_mm), journal.outer_mm, -1.0);
        let off = if self.shape.case.is_some() { 13.0 } else { 11.0 };
        let ways = (0..60).map(|step| datum(style, on_journal, -90.0, off + f64::from(step), "A"));
        self.placing.note("datum A, the journal", ways);
        let gap = 0.5 * (flange.outer_mm - register.outer_mm);
        let axis = self.axis;
        let ways = (0..220).map(|step| {
            let (row, shift) = (step % 22, step / 22);
            let sign = if row % 2 == 0 { -1.0 } else { 1.0 };
            let diameter = register.outer_mm + gap * (0.3 + 0.15 * f64::from(row / 2));
            let foot = axis.point(0.0, 0.5 * sign * diameter);
            datum(style, foot, 180.0, 9.0 + 2.0 * f64::from(shift), "B")
        });
        self.placing.note("datum B, the wheel face", ways);
        let tolerance = at_most_in_words(FACE_RUNOUT_MM, Closeness::Turned, style);
        let tolerance = tolerance.replace(" mm", "").replace(" in", "");
        // On solid metal: between a stud hole and the rim, where the picture shows a hole.
        let free = match (self.shape.bolt_circle.value_mm, self.shape.stud_hole.value_mm) {
            (Some(circle), Some(hole)) if circle + hole < flange.outer_mm => 0.5 * (circle + hole + flange.outer_mm),
            _ => register.outer_mm + 1.1 * gap,
        };
        let high = self.on(0.0, free, 1.0);
        let ways = (0..160).map(|step| {
            let (row, shift) = (step % 16, step / 16);
            let corner = at(high.x - 8.0 - 4.0 * f64::from(shift), high.y - 8.0 + 1.5 * f64::from(row));
            let (_, width) = control_frame(style, corner, &["↗", &tolerance, "A"]);
            let (mut items, _) = control_frame(style, corner.by(-width, 0.0), &["↗", &tolerance, "A"]);
            let start = corner.by(0.0, style.lettering);
            items.push(crate::item::polyline(crate::ink::Ink::Dimension, vec![start, start.by(2.5, 0.0), high]));
            items.push(crate::arrow::arrowhead(
                style,
                high,
                (start.y - high.y).atan2(start.x + 2.5 - high.x).to_degrees(),
            ));
            items
        });
        self.placing.named_note("face_runout", "runout of the wheel face", ways);
    }

    /// Fillets and the hard case.
    fn notes(&mut self) {
        let style = self.style;
        let (flange, shoulder) = (self.step(StepKind::Flange), self.step(StepKind::Shoulder));
        let journal = self.step(StepKind::Journal);
        let corner = |place: f64, radius: f64, fillet: f64, axis: &Axis| {
            let inside = 0.29 * fillet;
            axis.point(place + inside, -(radius + inside))
        };
        let fillets = [
            (
                &self.shape.flange_fillet,
                corner(flange.to_mm, 0.5 * shoulder.outer_mm, self.shape.flange_fillet.drawn(4.0), &self.axis),
            ),
            (
                &self.shape.shoulder_fillet,
                corner(journal.from_mm, 0.5 * journal.outer_mm, self.shape.shoulder_fillet.drawn(1.5), &self.axis),
            ),
        ];
        for (size, tip) in fillets {
            let words = label(size, RADIUS, Manner::Exact, Closeness::Turned, style);
            let words = Label { boxed: false, ..words };
            let ways = fan(style, tip, &words, LeaderEnd::Arrow, &[-60.0, -45.0, -70.0, -30.0, -20.0, -110.0, -130.0]);
            self.placing.named_note(size.name, size.words, ways);
        }
        if self.shape.case.is_some() {
            let spline = self.step(StepKind::Spline);
            let words = Label { lines: vec!["INDUCTION HARDENED".to_owned()], boxed: false };
            let place = |share: f64| spline.from_mm + share * (spline.to_mm - spline.from_mm);
            let tips = [0.5, 0.1, 0.9].map(|share| self.on(place(share), spline.outer_mm, -1.0).by(0.0, -1.3));
            let ways = tips.iter().flat_map(|tip| fan(style, *tip, &words, LeaderEnd::Arrow, &DOWNWARDS));
            self.placing.named_note("case_hardness", "hard case", ways);
        }
    }
}

/// Directions downwards, away from a part above the point.
pub(super) const DOWNWARDS: [f64; 8] = [-60.0, -120.0, -45.0, -135.0, -75.0, -105.0, -30.0, -150.0];

/// Ways to put a note around a point in these directions, the nearest first.
pub(super) fn fan<'a>(
    style: &'a Style,
    tip: Point,
    words: &'a Label,
    end: LeaderEnd,
    directions: &'a [f64],
) -> impl Iterator<Item = Vec<Item>> + 'a {
    (0..40).flat_map(move |ring| {
        let far = 8.0 + 2.0 * f64::from(ring);
        directions.iter().map(move |degrees| leader(style, tip, tip.towards(*degrees, far), end, words))
    })
}
