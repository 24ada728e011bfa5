//! Both shafts with the differential between them.

use axle::Side;

use super::axis::Axis;
use super::contour::Contour;
use super::flange::forward;
use super::parts::{Parts, Places, Radii};
use super::{Patience, Picture, Placing};
use crate::dimension::{Linear, TextPlace};
use crate::ink::Ink;
use crate::item::{Item, Stand, text};
use crate::label::{Closeness, Manner, label};
use crate::point::{Point, Rectangle, at};
use crate::shape::{ShaftShape, Size, SizeBasis, Step, StepKind, Surroundings};
use crate::style::Style;

/// One side as it is drawn.
struct Half<'a> {
    shape: &'a ShaftShape,
    around: &'a Surroundings,
    steps: Vec<Step>,
    places: Places,
    axis: Axis,
    radii: Radii,
}

/// Both sides, left first, at a scale.
pub(super) fn picture(
    sides: [(&ShaftShape, &Surroundings); 2],
    style: &Style,
    scale: f64,
    room: Rectangle,
    patience: Patience,
) -> Picture {
    let [left, right] = sides;
    let left = half(left, scale, at(0.0, 0.0), 1.0);
    // The centres of both sides are one: the right wheel face lies as far beyond it as the right side is long.
    let centre = left.axis.x(left.places.centre);
    let mut right = half(right, scale, at(0.0, 0.0), -1.0);
    let reach = right.axis.x(right.places.centre);
    right.axis.origin = at(centre - reach, 0.0);
    let middle = 0.5 * right.axis.origin.x;
    let field = Rectangle::around(at(middle - 0.5 * room.width(), -400.0), at(middle + 0.5 * room.width(), 400.0));
    let mut placing = Placing::new(field, patience);
    for half in [&left, &right] {
        let contour = Contour { axis: &half.axis, shape: half.shape, steps: &half.steps };
        let parts = Parts { axis: &half.axis, shape: half.shape, around: half.around, contour: &contour };
        placing.board.draw_all(contour.items());
        placing.board.draw_all(parts.wheel_end(&half.places, false));
        placing.board.draw_all(parts.side_gear(&half.places));
        for room in contour.silhouette().chain(parts.silhouettes(&half.places)) {
            placing.board.part_lies_at(room);
        }
        if half.shape.side == Side::Left {
            placing.board.draw_all(parts.cross_pin(&half.places));
        }
    }
    // What is too wide without a single dimension goes to the next scale at once.
    if right.axis.origin.x - left.axis.origin.x > room.width() {
        return placing.finish();
    }
    dimensions(&mut placing, style, &left, &right);
    labels(&mut placing, style, &left, &right);
    placing.finish()
}

fn half<'a>(
    (shape, around): (&'a ShaftShape, &'a Surroundings),
    scale: f64,
    origin: Point,
    direction: f64,
) -> Half<'a> {
    let steps = shape.steps();
    let places = Places::of(shape, around);
    let seal_end = steps.iter().find(|step| step.kind == StepKind::SealJournal).map_or(120.0, |step| step.to_mm);
    let axis = Axis { origin, scale, direction, left_out: None };
    let axis = axis.leaving_out(seal_end.max(places.bore_floor + 20.0), places.gear.min(places.spline), (4.0, 4.0));
    let contour = Contour { axis: &axis, shape, steps: &steps };
    let radii = Parts { axis: &axis, shape, around, contour: &contour }.radii();
    Half { shape, around, places, axis, radii, steps }
}

/// The sum of two sizes, as sure as the less sure of them.
fn sum(name: &'static str, words: &'static str, parts: &[&Size]) -> Size {
    let basis = parts.iter().map(|part| part.basis).max().unwrap_or(SizeBasis::Unknown).max(SizeBasis::Derived);
    Size {
        name,
        words,
        value_mm: parts.iter().map(|part| part.value_mm).sum(),
        limits_mm: None,
        basis,
        source: parts.iter().map(|part| part.words).collect::<Vec<_>>().join(" + "),
    }
}

fn dimensions(placing: &mut Placing, style: &Style, left: &Half<'_>, right: &Half<'_>) {
    let scale = left.axis.scale;
    let flange = left.shape.flange_diameter.drawn(150.0).max(right.shape.flange_diameter.drawn(150.0));
    let low = -0.5 * flange * scale;
    let housing_width = sum("housing_width", "housing width", &[&left.around.half_width, &right.around.half_width]);
    let face_to_face = sum(
        "face_to_face",
        "wheel face to wheel face",
        &[&housing_width, &left.around.brake_offset, &right.around.brake_offset],
    );
    let mut row = |size: &Size, side: Option<Side>, ends: (Point, Point), manner: Manner, broken: bool| {
        let sign = ends.0.y.signum();
        let start = sign * low.abs();
        let (from, to) = if ends.0.x < ends.1.x { ends } else { (ends.1, ends.0) };
        let linear = Linear {
            style,
            size,
            side,
            label: label(size, "", manner, Closeness::Turned, style),
            upright: false,
            from,
            to,
            scale: (!broken).then_some(scale),
        };
        let rows = (0..110).map(|step| start + sign * (style.first_row + f64::from(step)));
        let places: &[TextPlace] = match side {
            Some(Side::Right) => &[TextPlace::Between, TextPlace::After, TextPlace::Before],
            _ => &[TextPlace::Between, TextPlace::Before, TextPlace::After],
        };
        placing.dimension(size, linear.ways(rows, places));
    };
    for half in [left, right] {
        let (axis, places, side) = (&half.axis, &half.places, Some(half.shape.side));
        let (starts, rim) = (half.radii, 0.5 * half.shape.flange_diameter.drawn(150.0));
        let broken = axis.left_out.is_some();
        let end = axis.point(places.shaft_end, -starts.spline);
        let gap = (end, axis.point(places.centre, -starts.pin));
        row(&half.around.end_gap, side, gap, Manner::Reference, false);
        row(&half.shape.overall_length, side, (axis.point(0.0, -rim), end), Manner::PlusMinusOrLimits, broken);
        let housing = axis.point(places.housing, starts.plate);
        row(&half.around.brake_offset, side, (axis.point(0.0, rim), housing), Manner::PlusMinusOrLimits, false);
        let centre = axis.point(places.centre, starts.pin);
        row(&half.around.half_width, side, (housing, centre), Manner::Reference, broken);
    }
    let broken = left.axis.left_out.is_some() || right.axis.left_out.is_some();
    let place = |half: &Half<'_>, place: f64, radius: f64| half.axis.point(place, radius);
    let housings =
        (place(left, left.places.housing, left.radii.plate), place(right, right.places.housing, right.radii.plate));
    row(&housing_width, None, housings, Manner::Reference, broken);
    let rim = |half: &Half<'_>| place(half, 0.0, 0.5 * half.shape.flange_diameter.drawn(150.0));
    row(&face_to_face, None, (rim(left), rim(right)), Manner::Reference, broken);
}

fn labels(placing: &mut Placing, style: &Style, left: &Half<'_>, right: &Half<'_>) {
    for half in [left, right] {
        let middle = 0.5 * (half.axis.x(0.0) + half.axis.x(half.places.centre));
        let words = format!("{} SHAFT", half.shape.side.words().to_uppercase());
        let start = 0.5 * half.shape.journal_diameter.drawn(38.0) * half.axis.scale + 10.0;
        let ways = (0..80).map(|step| {
            let foot = at(middle, start + f64::from(step));
            vec![Item::Text(text(Ink::Note, foot, 1.3 * style.lettering, Stand::Middle, words.clone()))]
        });
        placing.note(&words, ways);
    }
    let centre = left.axis.x(left.places.centre);
    let start = 0.5 * left.shape.flange_diameter.drawn(150.0) * left.axis.scale;
    let ways = (0..110).map(|step| forward(style, at(centre, start + 30.0 + f64::from(step))));
    placing.note("the way the vehicle faces", ways);
}
