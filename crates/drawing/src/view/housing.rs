//! The shaft in its housing end and its side gear, to scale.

use axle::{BrakeKind, Retainer, Review, Sheet};

use super::axis::Axis;
use super::contour::Contour;
use super::parts::{Parts, Places};
use super::shaft::fan;
use super::{Patience, Picture, Placing};
use crate::dimension::{Linear, TextPlace};
use crate::label::{Closeness, Label, Manner, label};
use crate::leader::LeaderEnd;
use crate::point::{Point, Rectangle, at};
use crate::shape::{ShaftShape, Size, StepKind, Surroundings};
use crate::style::Style;

/// A place along the shaft, and how far from the axis it is seen.
type Seen = (f64, f64);

/// The shaft with everything around it at a scale.
pub(super) fn picture(
    shape: &ShaftShape,
    around: &Surroundings,
    trapped: Trapped,
    (style, scale): (&Style, f64),
    room: Rectangle,
    patience: Patience,
) -> Picture {
    let steps = shape.steps();
    let places = Places::of(shape, around);
    let mut axis = Axis { origin: at(0.0, 0.0), scale, direction: 1.0, left_out: None };
    let seal_end = steps.iter().find(|step| step.kind == StepKind::SealJournal).map_or(120.0, |step| step.to_mm);
    axis = axis.leaving_out(seal_end, places.gear.min(places.spline), (14.0, 8.0));
    let contour = Contour { axis: &axis, shape, steps: &steps };
    let parts = Parts { axis: &axis, shape, around, contour: &contour };
    let pilot = steps.first().map_or(0.0, |step| axis.x(step.from_mm));
    let left = pilot - 38.0;
    let mut placing = Placing::new(Rectangle::around(at(left, -400.0), at(left + room.width(), 400.0)), patience);
    placing.board.draw_all(contour.items());
    placing.board.draw_all(parts.wheel_end(&places, true));
    placing.board.draw_all(parts.side_gear(&places));
    placing.board.draw_all(parts.cross_pin(&places));
    for room in contour.silhouette().chain(parts.silhouettes(&places)) {
        placing.board.part_lies_at(room);
    }
    let view = Rows { style, axis: &axis };
    let inside = 0.5 * around.drum_inside.drawn(165.0).max(shape.flange_diameter.drawn(150.0)) + 6.0;
    let first = -inside * scale - style.first_row;
    // Each extension line begins where its place can be seen.
    let starts = parts.radii();
    let face = 0.5 * shape.flange_diameter.drawn(150.0);
    let below: [(&Size, Seen, Seen, Manner); 7] = [
        (&shape.shoulder_distance, (0.0, face), (places.shoulder, starts.journal), Manner::PlusMinusOrLimits),
        (&around.engagement, (places.gear, starts.gear), (places.shaft_end, starts.spline), Manner::Reference),
        (&around.end_gap, (places.shaft_end, starts.spline), (places.centre, starts.pin), Manner::Reference),
        (&around.race_distance, (0.0, face), (places.race, starts.bearing), Manner::PlusMinusOrLimits),
        (&around.brake_offset, (0.0, face), (places.housing, starts.plate), Manner::PlusMinusOrLimits),
        (&around.half_width, (places.housing, starts.plate), (places.centre, starts.pin), Manner::Reference),
        (&shape.overall_length, (0.0, face), (places.shaft_end, starts.spline), Manner::PlusMinusOrLimits),
    ];
    for (size, from, to, manner) in below {
        let points = (axis.point(from.0, -from.1), axis.point(to.0, -to.1));
        view.below(&mut placing, size, points, first, manner);
    }
    let above: [(&Size, Seen, Seen); 2] = [
        (&around.bore_depth, (places.housing, starts.plate), (places.bore_floor, starts.neck)),
        (&around.outer_width, (places.race, starts.rim), (places.outer_end, starts.neck)),
    ];
    for (size, from, to) in above {
        let points = (axis.point(from.0, from.1), axis.point(to.0, to.1));
        view.above(&mut placing, size, points, -first);
    }
    names(&mut placing, (style, &axis, &places), (around, shape), trapped);
    placing.finish()
}

/// Rows of level dimensions.
pub(super) struct Rows<'a> {
    pub style: &'a Style,
    pub axis: &'a Axis,
}

impl Rows<'_> {
    fn linear<'s>(&self, size: &'s Size, points: (Point, Point), manner: Manner) -> Linear<'s>
    where
        Self: 's,
    {
        // Where sizes are not known, stand-ins may change the order of two places.
        let (from, to) = if points.0.x <= points.1.x { points } else { (points.1, points.0) };
        let broken = self.axis.left_out.is_some_and(|(start, end)| {
            let (one, other) = (self.axis.x(start), self.axis.x(end));
            from.x <= one.min(other) + 1e-9 && to.x >= one.max(other) - 1e-9
        });
        Linear {
            style: self.style,
            size,
            side: None,
            label: label(size, "", manner, Closeness::Turned, self.style),
            upright: false,
            from,
            to,
            scale: (!broken).then_some(self.axis.scale),
        }
    }

    /// Places a dimension below a height.
    pub fn below(&self, placing: &mut Placing, size: &Size, points: (Point, Point), first: f64, manner: Manner) {
        let linear = self.linear(size, points, manner);
        let rows = (0..110).map(|step| first - f64::from(step));
        placing.dimension(size, linear.ways(rows, &[TextPlace::Between, TextPlace::Before, TextPlace::After]));
    }

    /// Places a dimension above a height.
    pub fn above(&self, placing: &mut Placing, size: &Size, points: (Point, Point), first: f64) {
        let linear = self.linear(size, points, Manner::Reference);
        let rows = (0..110).map(|step| first + f64::from(step));
        placing.dimension(size, linear.ways(rows, &[TextPlace::Between, TextPlace::After, TextPlace::Before]));
    }
}

/// What the two parts outboard of the bearing are called.
#[derive(Debug, Clone, Copy)]
pub(super) struct Trapped {
    /// What bolts to the housing end.
    pub retainer: &'static str,
    /// What lies between it and the housing end.
    pub between: &'static str,
}

impl Trapped {
    /// What they are on this order.
    pub fn of(sheet: &Sheet, review: &Review) -> Self {
        let retainer = match sheet.parts.brake.retainer {
            Some(Retainer::CaliperBracket) => "caliper bracket",
            Some(Retainer::Plate) | None => "retainer plate",
        };
        let between = match review.fitted.brake.kind {
            BrakeKind::Drum => "brake plate",
            BrakeKind::Disc => "trapped parts",
        };
        Self { retainer, between }
    }
}

/// What each part is.
fn names(
    placing: &mut Placing,
    (style, axis, places): (&Style, &Axis, &Places),
    (around, shape): (&Surroundings, &ShaftShape),
    trapped: Trapped,
) {
    let outside = 0.5 * around.bearing_outside.drawn(80.0);
    let journal = 0.5 * shape.journal_diameter.drawn(38.0);
    let ring = places.shoulder + around.inner_width.drawn(20.0) + 0.5 * around.ring_width.drawn(12.0);
    let rim = 0.5 * around.rectangle_long.drawn(86.0) + around.bolt_hole.drawn(11.0);
    let root = 0.5 * shape.spline_major_diameter.drawn(33.0);
    let parts: [(&str, f64, f64); 7] = [
        ("bearing", 0.5 * (places.race + places.outer_end), 0.5 * (outside + journal)),
        ("lock ring", ring, journal + 4.0),
        ("housing end", places.housing + 5.0, rim - 2.0),
        (trapped.retainer, places.race - 1.5, rim - 4.0),
        (trapped.between, places.housing - 0.4, rim + 11.0),
        ("side gear", 0.4 * places.gear + 0.6 * places.pin, root + 12.0),
        ("cross pin", places.centre, 0.0),
    ];
    for (words, place, radius) in parts {
        let words = Label { lines: vec![words.to_uppercase()], boxed: false };
        let tip = axis.point(place, radius);
        // The pin lies right of everything: on its upper left its name would cross that of the gear.
        let apart: &[&[f64]] =
            if radius > 0.0 { &[] } else { &[&[60.0, 45.0, 30.0, 75.0], &[-120.0, -135.0, -105.0, -60.0, -75.0]] };
        let usual: &[f64] = &[60.0, 45.0, 30.0, 75.0, 120.0, 135.0, 105.0];
        let ways = apart.iter().chain([&usual]).flat_map(|way| fan(style, tip, &words, LeaderEnd::Dot, way));
        placing.note(&words.words(), ways);
    }
}
