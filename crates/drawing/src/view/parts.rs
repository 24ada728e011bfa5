//! The parts around a shaft, in section, for their place only: thin outlines, so that the shaft stands out.

use super::axis::Axis;
use super::contour::Contour;
use crate::hatch::hatch;
use crate::ink::Ink;
use crate::item::{Item, circle, line, outline, polyline};
use crate::point::{Point, Rectangle};
use crate::shape::{ShaftShape, StepKind, Surroundings};

/// Everything that lies around one shaft.
pub(super) struct Parts<'a> {
    pub axis: &'a Axis,
    pub shape: &'a ShaftShape,
    pub around: &'a Surroundings,
    pub contour: &'a Contour<'a>,
}

/// Wall of the lock ring, thickness of the retainer plate, the housing's flange and tube, wall of the drum: for the picture
/// alone.
const RING_WALL: f64 = 7.0;
const RETAINER: f64 = 3.5;
const HOUSING_FLANGE: f64 = 10.0;
const TUBE_WALL: f64 = 6.5;
const DRUM_WALL: f64 = 6.0;

/// The places along a shaft that the parts and their dimensions share, in millimetres from the wheel face.
#[derive(Debug, Clone, Copy)]
pub(super) struct Places {
    pub shoulder: f64,
    pub race: f64,
    pub outer_end: f64,
    pub housing: f64,
    pub bore_floor: f64,
    pub centre: f64,
    pub pin: f64,
    pub gear: f64,
    pub spline: f64,
    pub shaft_end: f64,
}

impl Places {
    /// The places; stand-ins where a size is not known.
    pub fn of(shape: &ShaftShape, around: &Surroundings) -> Self {
        let shoulder = shape.shoulder_distance.drawn(60.0);
        let race = around.race_distance.drawn(shoulder + 1.0);
        let outer_end = race + around.outer_width.drawn(20.0);
        let housing = around.brake_offset.drawn(outer_end - around.bore_depth.drawn(18.0));
        let steps = shape.steps();
        let shaft_end = steps.last().map_or(750.0, |step| step.to_mm);
        let half_pin = around.half_pin.drawn(10.0);
        let centre = match around.end_gap.value_mm {
            Some(gap) => shaft_end + gap,
            None => housing + around.half_width.drawn(shaft_end - housing + 14.0),
        };
        let pin = centre - half_pin;
        Self {
            shoulder,
            race,
            outer_end,
            housing,
            bore_floor: housing + around.bore_depth.drawn(18.0),
            centre,
            pin,
            spline: steps.last().map_or(690.0, |step| step.from_mm),
            gear: pin - around.gear_reach.drawn(45.0),
            shaft_end,
        }
    }
}

/// How far from the axis the places can be seen from below, in millimetres.
#[derive(Debug, Clone, Copy)]
pub(super) struct Radii {
    pub journal: f64,
    pub bearing: f64,
    pub rim: f64,
    pub plate: f64,
    pub neck: f64,
    pub gear: f64,
    pub spline: f64,
    pub pin: f64,
}

impl Parts<'_> {
    /// Where extension lines begin.
    pub fn radii(&self) -> Radii {
        let root = 0.5 * self.shape.spline_major_diameter.drawn(33.0);
        Radii {
            journal: self.journal(),
            bearing: 0.5 * self.around.bearing_outside.drawn(80.0),
            rim: self.end_radius(),
            plate: self.end_radius() + 14.0,
            neck: self.tube() + TUBE_WALL,
            gear: root + 7.0,
            spline: root,
            pin: self.around.half_pin.drawn(10.0) + 14.0 / self.axis.scale,
        }
    }

    /// A shape above the axis and its mirror below, both hatched.
    fn section(&self, corners: &[(f64, f64)], degrees: f64, apart: f64) -> Vec<Item> {
        let mut items = Vec::new();
        for sign in [1.0, -1.0] {
            let points: Vec<Point> =
                corners.iter().map(|(place, radius)| self.axis.point(*place, sign * radius)).collect();
            items.push(hatch(std::slice::from_ref(&points), degrees, apart));
            items.push(outline(Ink::Edge, points));
        }
        items
    }

    /// Everything at the wheel end.
    pub fn wheel_end(&self, places: &Places, with_drum: bool) -> Vec<Item> {
        let mut items = self.bearing(places);
        items.extend(self.lock_ring(places));
        items.extend(self.housing_end(places));
        items.extend(self.retainer(places));
        if with_drum {
            items.extend(self.drum());
        }
        items
    }

    fn journal(&self) -> f64 {
        0.5 * self.contour.step(StepKind::Journal).map_or(38.0, |step| step.outer_mm)
    }

    fn bearing(&self, places: &Places) -> Vec<Item> {
        let (inside, outside) = (self.journal(), 0.5 * self.around.bearing_outside.drawn(80.0));
        let wall = outside - inside;
        if wall < 4.0 {
            return Vec::new();
        }
        let (race, end) = (places.race, places.outer_end);
        let (inner, inner_end) = (places.shoulder, places.shoulder + self.around.inner_width.drawn(end - race));
        let ring = 0.2 * wall;
        let mut items = self.section(
            &[(inner, inside), (inner_end, inside), (inner_end, inside + ring), (inner, inside + ring)],
            45.0,
            1.6,
        );
        items.extend(self.section(
            &[(race, outside - ring), (end, outside - ring), (end, outside), (race, outside)],
            -45.0,
            1.6,
        ));
        let middle = 0.5 * (race + end);
        let pitch = 0.5 * (inside + outside);
        for sign in [1.0, -1.0] {
            if self.around.tapered {
                let (half, thick) = (0.36 * (end - race), 0.2 * wall);
                let corners = [(-half, -0.7), (half, -1.3), (half, 0.7), (-half, 1.3)];
                let points =
                    corners.map(|(along, across)| self.axis.point(middle + along, sign * (pitch + across * thick)));
                items.push(outline(Ink::Edge, points.to_vec()));
            } else {
                let ball = (0.3 * wall).min(0.42 * (end - race));
                items.push(circle(Ink::Edge, self.axis.point(middle, sign * pitch), ball * self.axis.scale));
            }
        }
        items
    }

    fn lock_ring(&self, places: &Places) -> Vec<Item> {
        let from = places.shoulder + self.around.inner_width.drawn(places.outer_end - places.race);
        let to = from + self.around.ring_width.drawn(12.0);
        let inside = self.journal();
        self.section(&[(from, inside), (to, inside), (to, inside + RING_WALL), (from, inside + RING_WALL)], -45.0, 1.3)
    }

    /// The half of the housing end's long side, with the material outside of its bolt.
    fn end_radius(&self) -> f64 {
        0.5 * self.around.rectangle_long.drawn(86.0) + self.around.bolt_hole.drawn(11.0)
    }

    fn tube(&self) -> f64 {
        0.5 * self.around.housing_bore.drawn(80.0)
    }

    fn housing_end(&self, places: &Places) -> Vec<Item> {
        let (bore, rim) = (self.tube(), self.end_radius());
        let neck = bore + TUBE_WALL;
        let rim = rim.max(neck + 2.0);
        let inside = bore - 7.0;
        let face = places.housing;
        let tube_from = places.bore_floor + 14.0;
        let end = self.axis.left_out.map_or(tube_from + 20.0, |(from, _)| from.max(tube_from + 1.0));
        let mut items = self.section(
            &[
                (face, bore),
                (face, rim),
                (face + HOUSING_FLANGE, rim),
                (face + HOUSING_FLANGE, neck),
                (places.bore_floor + 6.0, neck),
                (tube_from, inside + TUBE_WALL),
                (end, inside + TUBE_WALL),
                (end, inside),
                (places.bore_floor, inside),
                (places.bore_floor, bore),
            ],
            45.0,
            2.6,
        );
        for sign in [1.0, -1.0] {
            let bolt = sign * 0.5 * self.around.rectangle_long.drawn(86.0);
            let beyond = 4.0 * self.axis.direction;
            items.push(line(
                Ink::Centre,
                self.axis.point(places.race - RETAINER, bolt).by(-beyond, 0.0),
                self.axis.point(face + HOUSING_FLANGE, bolt).by(beyond, 0.0),
            ));
        }
        items
    }

    fn retainer(&self, places: &Places) -> Vec<Item> {
        let (bore, rim) = (self.tube(), self.end_radius());
        let outside = 0.5 * self.around.bearing_outside.drawn(80.0);
        let mut items = self.section(
            &[
                (places.race - RETAINER, outside - 5.0),
                (places.race, outside - 5.0),
                (places.race, rim),
                (places.race - RETAINER, rim),
            ],
            -45.0,
            1.3,
        );
        let trapped = self.around.trapped.drawn(2.5).min((places.housing - places.race).max(0.8));
        items.extend(self.section(
            &[
                (places.housing - trapped, bore),
                (places.housing, bore),
                (places.housing, rim + 14.0),
                (places.housing - trapped, rim + 14.0),
            ],
            45.0,
            1.0,
        ));
        items
    }

    fn drum(&self) -> Vec<Item> {
        let web = self.around.drum_web.drawn(6.0);
        let (bore, inside) = (0.5 * self.around.drum_bore.drawn(70.5), 0.5 * self.around.drum_inside.drawn(165.0));
        let end = 0.6 * self.shape.shoulder_distance.drawn(60.0);
        self.section(
            &[
                (-web, bore),
                (-web, inside + DRUM_WALL),
                (end, inside + DRUM_WALL),
                (end, inside),
                (0.0, inside),
                (0.0, bore),
            ],
            -45.0,
            2.6,
        )
    }

    /// The side gear with the end of its hub.
    pub fn side_gear(&self, places: &Places) -> Vec<Item> {
        let root = 0.5 * self.shape.spline_major_diameter.drawn(33.0);
        let (hub, gear) = (root + 7.0, root + 24.0);
        let face = places.pin - 3.0;
        let back = places.gear + 0.45 * (face - places.gear);
        self.section(
            &[
                (places.gear, root),
                (places.gear, hub),
                (back, hub),
                (back + 3.0, gear),
                (face - 7.0, gear - 2.0),
                (face, root + 9.0),
                (face, root),
            ],
            -45.0,
            2.2,
        )
    }

    /// The cross pin or centre block, seen along it, with the differential's centre line.
    pub fn cross_pin(&self, places: &Places) -> Vec<Item> {
        let half = self.around.half_pin.drawn(10.0) * self.axis.scale;
        let centre = self.axis.point(places.centre, 0.0);
        let around: Vec<Point> = (0..24).map(|part| centre.towards(15.0 * f64::from(part), half)).collect();
        vec![
            hatch(&[around], 45.0, 1.8),
            circle(Ink::Edge, centre, half),
            polyline(Ink::Centre, vec![centre.by(0.0, half + 14.0), centre.by(0.0, -half - 14.0)]),
        ]
    }

    /// Where the parts lie, so that no text stands on them.
    pub fn silhouettes(&self, places: &Places) -> Vec<Rectangle> {
        let rim = self.end_radius() + 14.0;
        let room = |from: f64, to: f64, radius: f64| {
            Rectangle::around(self.axis.point(from, radius), self.axis.point(to, -radius))
        };
        let root = 0.5 * self.shape.spline_major_diameter.drawn(33.0);
        vec![room(places.race - RETAINER, places.bore_floor + 30.0, rim), room(places.gear, places.centre, root + 24.0)]
    }
}
