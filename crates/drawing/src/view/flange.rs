//! The flange from outboard: bolt circle, chords, holes, register and wheel pilot.

use super::shaft::fan;
use super::{Patience, Picture, Placing};
use crate::arrow::arrowhead;
use crate::dimension::Block;
use crate::dimension::{Linear, TextPlace};
use crate::ink::Ink;
use crate::item::{Dimension, Item, Measure, Stand, circle, line, polyline, text};
use crate::label::{Closeness, DIAMETER, Label, Manner, at_most_in_words, label};
use crate::leader::{LeaderEnd, control_frame, datum, shelf};
use crate::point::{Point, Rectangle, at};
use crate::shape::{ShaftShape, Size, SizeBasis};
use crate::style::Style;

/// The flange at a scale.
pub(super) fn picture(shape: &ShaftShape, style: &Style, scale: f64, room: Rectangle, patience: Patience) -> Picture {
    let field =
        Rectangle::around(at(-0.5 * room.width(), -0.5 * room.height()), at(0.5 * room.width(), 0.5 * room.height()));
    let mut view = Flange { shape, style, scale, placing: Placing::new(field, patience) };
    view.outlines();
    view.chords();
    view.diameters();
    view.holes();
    view.access_hole();
    view.foot();
    view.placing.finish()
}

struct Flange<'a> {
    shape: &'a ShaftShape,
    style: &'a Style,
    scale: f64,
    placing: Placing,
}

/// Chord between two holes of a bolt circle: `D sin(kπ/n)`.
pub(super) fn chord(circle_mm: f64, holes: u32, rank: u32) -> f64 {
    circle_mm * (std::f64::consts::PI * f64::from(rank) / f64::from(holes)).sin()
}

impl Flange<'_> {
    const CENTRE: Point = at(0.0, 0.0);

    /// Number of holes, circle and hole, where all are known.
    fn pattern(&self) -> Option<(u32, f64, f64)> {
        Some((
            self.shape.holes.filter(|holes| *holes > 1)?,
            self.shape.bolt_circle.value_mm?,
            self.shape.stud_hole.drawn(12.0),
        ))
    }

    /// How far the access hole lies from the axis, and its radius, on the paper; none where it is not known.
    fn access(&self) -> Option<(f64, f64)> {
        self.shape.has_access_hole.filter(|there| *there)?;
        let (hole, circle) = (self.shape.access_hole.value_mm?, self.shape.access_hole_circle.value_mm?);
        Some((0.5 * circle * self.scale, 0.5 * hole * self.scale))
    }

    fn flange_radius(&self) -> f64 {
        0.5 * self.shape.flange_diameter.drawn(150.0) * self.scale
    }

    fn outlines(&mut self) {
        let scale = self.scale;
        let centre = Self::CENTRE;
        let rim = self.flange_radius();
        let register = 0.5 * self.shape.register_diameter.drawn(70.0) * scale;
        let pilot = 0.5 * self.shape.wheel_pilot_diameter.drawn(65.0) * scale;
        for radius in [rim, register, pilot, pilot - scale] {
            self.placing.board.draw(circle(Ink::Outline, centre, radius));
        }
        let reach = rim + 5.0;
        self.placing.board.draw(line(Ink::Centre, centre.by(-reach, 0.0), centre.by(reach, 0.0)));
        self.placing.board.draw(line(Ink::Centre, centre.by(0.0, -reach), centre.by(0.0, reach)));
        self.placing.board.part_lies_at(Rectangle::around(centre, centre).grown(0.72 * rim));
        if let Some((on, half)) = self.access() {
            let middle = centre.towards(ShaftShape::ACCESS_HOLE_DIRECTION, on);
            self.placing.board.draw(circle(Ink::Outline, middle, half));
            // The upright centre line runs through it already.
            let reach = half + 3.0;
            self.placing.board.draw(line(Ink::Centre, middle.by(-reach, 0.0), middle.by(reach, 0.0)));
        }
        let Some((holes, bolt_circle, hole)) = self.pattern() else { return };
        let (on, half) = (0.5 * bolt_circle * scale, 0.5 * hole * scale);
        self.placing.board.draw(circle(Ink::Centre, centre, on));
        for number in 0..holes {
            let direction = ShaftShape::hole_direction(holes, number);
            let middle = centre.towards(direction, on);
            self.placing.board.draw(circle(Ink::Outline, middle, half));
            let mark = [middle.towards(direction, -half - 3.0), middle.towards(direction, half + 3.0)];
            self.placing.board.draw(line(Ink::Centre, mark[0], mark[1]));
        }
    }

    /// The chord between neighbours below, the one between next but one above where it lies level.
    fn chords(&mut self) {
        let Some((holes, bolt_circle, _)) = self.pattern() else { return };
        let on = 0.5 * bolt_circle * self.scale;
        let basis =
            if self.shape.bolt_circle.basis == SizeBasis::Assumed { SizeBasis::Assumed } else { SizeBasis::Derived };
        let size = |name, words, rank| Size {
            name,
            words,
            value_mm: Some(chord(bolt_circle, holes, rank)),
            limits_mm: None,
            basis,
            source: "bolt circle × sin(rank × 180° / number of holes)".to_owned(),
        };
        let mut rows = vec![(size("chord_adjacent", "chord between neighbours", 1), 1, -1.0)];
        if holes % 2 == 1 && holes > 4 {
            rows.push((size("chord_alternate", "chord between next but one", 2), 2, 1.0));
        }
        for (size, rank, sign) in rows {
            let half = 180.0 / f64::from(holes) * f64::from(rank);
            let side = |turn: f64| Self::CENTRE.towards(sign * 90.0 + sign * turn, on);
            let (from, to) = (side(if sign > 0.0 { half } else { -half }), side(if sign > 0.0 { -half } else { half }));
            let linear = Linear {
                style: self.style,
                size: &size,
                side: None,
                label: label(&size, "", Manner::Reference, Closeness::Turned, self.style),
                upright: false,
                from: if from.x < to.x { from } else { to },
                to: if from.x < to.x { to } else { from },
                scale: Some(self.scale),
            };
            let first = sign * (self.flange_radius() + self.style.first_row);
            let rows = (0..60).map(|step| first + sign * f64::from(step));
            self.placing.dimension(&size, linear.ways(rows, &[TextPlace::Between, TextPlace::After]));
        }
    }

    /// Flange, register, wheel pilot and bolt circle, each on a line towards its middle.
    fn diameters(&mut self) {
        let shape = self.shape;
        let rows: [(&Size, f64, Manner, Closeness); 4] = [
            (&shape.flange_diameter, 150.0, Manner::Limits, Closeness::Turned),
            (&shape.register_diameter, 70.0, Manner::Limits, Closeness::Ground),
            (&shape.wheel_pilot_diameter, 65.0, Manner::Limits, Closeness::Ground),
            (&shape.bolt_circle, 120.0, Manner::Exact, Closeness::Turned),
        ];
        for (size, stand_in, manner, closeness) in rows {
            if size.name == "bolt_circle" && self.pattern().is_none() {
                continue;
            }
            let words = label(size, DIAMETER, manner, closeness, self.style);
            let radius = 0.5 * size.drawn(stand_in) * self.scale;
            let rim = self.flange_radius();
            let directions =
                [146.0, 34.0, -30.0, -150.0, 18.0, 162.0, -18.0, -162.0, 50.0, 130.0, -50.0, -130.0, 8.0, 172.0];
            let (words, style, scale) = (&words, self.style, self.scale);
            let ways = (0..24).flat_map(|ring| {
                let out = rim + 8.0 + 3.0 * f64::from(ring);
                directions.into_iter().map(move |direction| radial(style, scale, size, (radius, direction, out), words))
            });
            self.placing.dimension(size, ways);
        }
    }

    /// The note on the holes, with the frame that says where they must lie.
    fn holes(&mut self) {
        let Some((holes, bolt_circle, hole)) = self.pattern() else { return };
        let style = self.style;
        let size = &self.shape.stud_hole;
        let mut words = label(size, DIAMETER, Manner::Limits, Closeness::Ground, style);
        if let Some(first) = words.lines.first_mut() {
            first.insert_str(0, &format!("{holes} × "));
        }
        words = words.with_line("EQUALLY SPACED");
        let zone = at_most_in_words(self.shape.hole_position_mm, Closeness::Turned, style)
            .replace(" mm", "")
            .replace(" in", "");
        let zone = format!("{DIAMETER}{zone}");
        let (on, half) = (0.5 * bolt_circle * self.scale, 0.5 * hole * self.scale);
        let said =
            format!("{}, {holes} HOLES", label(size, DIAMETER, Manner::Limits, Closeness::Ground, style).words());
        let (words, said, scale) = (&words, &said, self.scale);
        let ways = (0..holes).flat_map(|number| {
            let direction = ShaftShape::hole_direction(holes, number);
            let middle = Self::CENTRE.towards(direction, on);
            let right = middle.x >= 0.0;
            let outward = if right { direction } else { 180.0 - direction }.clamp(-75.0, 75.0);
            let outward = [if right { outward } else { 180.0 - outward }];
            let between = (middle.towards(direction, half), middle.towards(direction, -half));
            let notes: Vec<_> = fan(style, between.0, words, LeaderEnd::Arrow, &outward)
                .map(|way| hole_dimension(size, said, scale, between, with_frame(style, way, &zone)))
                .collect();
            notes
        });
        self.placing.dimension(size, ways);
    }

    /// The note on the access hole.
    fn access_hole(&mut self) {
        let (size, circle, style, scale) =
            (&self.shape.access_hole, &self.shape.access_hole_circle, self.style, self.scale);
        let Some((on, half)) = self.access() else { return };
        let mut words = label(size, DIAMETER, Manner::Exact, Closeness::Turned, style);
        words.boxed = false;
        let said = words.words();
        words.lines.insert(0, "ACCESS HOLE".to_owned());
        words = words.with_line("MIDWAY BETWEEN HOLES");
        words = if circle.basis == SizeBasis::Assumed {
            words.with_line("ON THE BOLT CIRCLE, ASSUMED")
        } else {
            let on = label(circle, DIAMETER, Manner::Exact, Closeness::Turned, style);
            words.with_line(format!("ON A CIRCLE OF {}", on.words()))
        };
        let middle = Self::CENTRE.towards(ShaftShape::ACCESS_HOLE_DIRECTION, on);
        let (words, said) = (&words, &said);
        let ways = [-150.0, -160.0, -30.0, -20.0, -140.0, -40.0, -120.0, -60.0, -105.0, -75.0].into_iter().flat_map(
            |direction| {
                let between = (middle.towards(direction, half), middle.towards(direction, -half));
                fan(style, between.0, words, LeaderEnd::Arrow, &[direction])
                    .map(|way| hole_dimension(size, said, scale, between, way))
                    .collect::<Vec<_>>()
            },
        );
        self.placing.dimension(size, ways);
    }

    /// From where the flange is seen.
    fn foot(&mut self) {
        let style = self.style;
        let foot = at(0.0, self.flange_radius() + 9.0);
        let ways = (0..60).map(|step| {
            let words =
                text(Ink::Note, foot.by(0.0, f64::from(step)), style.lettering, Stand::Middle, "SEEN FROM OUTBOARD");
            vec![Item::Text(words)]
        });
        self.placing.note("where it is seen from", ways);
    }
}

/// A diameter: an arrow on the circle from a shelf outside of the flange.
fn radial(
    style: &Style,
    scale: f64,
    size: &Size,
    (radius, direction, out): (f64, f64, f64),
    words: &Label,
) -> Vec<Item> {
    let centre = Flange::CENTRE;
    let (tip, knee) = (centre.towards(direction, radius), centre.towards(direction, out));
    let sign = if knee.x >= 0.0 { 1.0 } else { -1.0 };
    let block = Block::of(words, style);
    let (mut items, text_middle) = shelf(style, vec![tip], knee, sign, block, words);
    items.push(arrowhead(style, tip, direction));
    if size.name == "register_diameter" {
        // Its axis is what the holes are positioned from: the symbol belongs to the size (ISO 5459, ASME Y14.5).
        let below = if style.text_above_line() { knee.y } else { text_middle.y - 0.5 * block.height - 1.0 };
        items.extend(datum(style, at(text_middle.x, below), -90.0, 8.5, "C"));
    }
    vec![Item::Dimension(Dimension {
        name: size.name.to_owned(),
        side: None,
        measure: Measure::Diameter,
        between: (tip, centre.towards(direction + 180.0, radius)),
        size_mm: size.value_mm,
        scale: Some(scale),
        basis: size.basis,
        words: words.words(),
        text_middle,
        items,
    })]
}

/// A note on a hole as the dimension of the hole, so that it can be found by its name.
fn hole_dimension(size: &Size, said: &str, scale: f64, between: (Point, Point), items: Vec<Item>) -> Vec<Item> {
    let text_middle = text_room(&items).map_or(between.0, |room| room.middle());
    vec![Item::Dimension(Dimension {
        name: size.name.to_owned(),
        side: None,
        measure: Measure::Diameter,
        between,
        size_mm: size.value_mm,
        scale: Some(scale),
        basis: size.basis,
        words: said.to_owned(),
        text_middle,
        items,
    })]
}

/// The room of all texts together.
fn text_room(items: &[Item]) -> Option<Rectangle> {
    let mut room: Option<Rectangle> = None;
    for item in items {
        item.each_text(&mut |text| {
            let own = text.room();
            room = Some(room.map_or(own, |room| room.with(&own)));
        });
    }
    room
}

/// The position frame below a note: size and position belong together.
fn with_frame(style: &Style, mut way: Vec<Item>, zone: &str) -> Vec<Item> {
    if let Some(room) = text_room(&way) {
        let below = if style.text_above_line() { 3.0 } else { 2.0 } + 2.0 * style.lettering;
        let (items, width) = control_frame(style, at(0.0, 0.0), &["⌖", zone, "B", "C"]);
        let shift = room.middle().x - 0.5 * width;
        way.extend(items.into_iter().map(|item| crate::moved::moved(item, shift, room.bottom - below)));
    }
    way
}

/// The arrow that says which way the vehicle faces.
pub(super) fn forward(style: &Style, foot: Point) -> Vec<Item> {
    let tip = foot.by(0.0, 14.0);
    vec![
        polyline(Ink::Outline, vec![foot, tip.by(0.0, -style.arrow)]),
        arrowhead(style, tip, -90.0),
        Item::Text(text(Ink::Note, foot.by(3.0, 4.0), style.lettering, Stand::Left, "FORWARD")),
    ]
}
