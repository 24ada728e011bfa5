//! An invented flanged shaft, by its main dimensions in millimetres. The wheel face is at z = 0.

use std::f64::consts::{PI, TAU};

use solid::{AxialHole, HoleEnd, Profile, RevolvedPart, SplineTeeth, Turn};

const FLANGE_THICKNESS: f64 = 10.0;
/// Invented places along the shaft.
const SHOULDER: f64 = 42.0;
const RING_SEAT_END: f64 = 82.0;
const SPLINE_LENGTH: f64 = 55.0;

/// Inch teeth of 24/48 pitch.
#[derive(Debug, Clone, Copy)]
pub struct Inch {
    pub teeth: u32,
    pub pressure_angle_deg: f64,
}

impl Inch {
    fn millimetres(teeth_and_more: f64) -> f64 {
        teeth_and_more / 24.0 * 25.4
    }

    pub fn tip_radius(self) -> f64 {
        Self::millimetres(f64::from(self.teeth) + 1.0) / 2.0
    }

    /// Flat root: 1.35, 1.3 or 1 below the number of teeth, which keeps clear of the base circle.
    pub fn root_radius(self) -> f64 {
        let below = match self.pressure_angle_deg {
            angle if angle < 35.0 => 1.35,
            angle if angle < 40.0 => 1.3,
            _ => 1.0,
        };
        Self::millimetres(f64::from(self.teeth) - below) / 2.0
    }

    pub fn over(self, from_z_mm: f64, to_z_mm: f64) -> SplineTeeth {
        SplineTeeth {
            teeth: self.teeth,
            pitch_diameter_mm: Self::millimetres(f64::from(self.teeth)),
            pressure_angle_deg: self.pressure_angle_deg,
            tooth_thickness_mm: PI / 48.0 * 25.4,
            root_diameter_mm: 2.0 * self.root_radius(),
            from_z_mm,
            to_z_mm,
        }
    }
}

/// What differs from shaft to shaft.
#[derive(Debug, Clone, Copy)]
pub struct Shaft {
    pub overall_length: f64,
    pub holes: u32,
    pub access_hole: bool,
    pub spline: Inch,
    /// Cut the teeth, or leave a cylinder of their tips.
    pub teeth: bool,
    /// Radius of the body where it meets the spline.
    pub body_radius: f64,
}

impl Shaft {
    pub fn part(&self) -> RevolvedPart {
        let tip = self.spline.tip_radius();
        let end = self.overall_length;
        let (spline_start, below_root) = (end - SPLINE_LENGTH, self.spline.root_radius() - 0.6);
        let profile = Profile::starting_at(-14.0, 0.0)
            // Wheel pilot with its chamfer, register, flange.
            .line_to(-14.0, 33.65)
            .line_to(-12.5, 35.15)
            .line_to(-6.0, 35.15)
            .line_to(-6.0, 38.9)
            .line_to(0.0, 38.9)
            .line_to(0.0, 81.5)
            .line_to(1.0, 82.5)
            .line_to(FLANGE_THICKNESS, 82.5)
            // The back of the flange runs into the shoulder's collar through a fillet.
            .line_to(FLANGE_THICKNESS, 31.0)
            .arc_to(FLANGE_THICKNESS + 6.0, 25.0, 6.0, Turn::Anticlockwise)
            .line_to(SHOULDER, 25.0)
            .line_to(SHOULDER, 21.5)
            .arc_to(SHOULDER + 1.5, 20.0, 1.5, Turn::Anticlockwise)
            // Journal and ring seat, seal journal, the taper to the body.
            .line_to(RING_SEAT_END, 20.0)
            .line_to(RING_SEAT_END + 1.0, 19.6)
            .line_to(RING_SEAT_END + 14.0, 19.6)
            .arc_to(RING_SEAT_END + 18.0, 18.5, 8.363_636_363_636_363, Turn::Clockwise)
            .line_to(RING_SEAT_END + 40.0, 16.5)
            .line_to(spline_start, self.body_radius)
            .line_to(spline_start, tip)
            .line_to(end - 2.0, tip)
            .line_to(end - 2.0, below_root)
            .line_to(end, below_root - 1.5)
            .line_to(end, 0.0);
        let splines = if self.teeth { vec![self.spline.over(spline_start, end - 2.0)] } else { Vec::new() };
        RevolvedPart { profile, holes: self.drilled(), splines }
    }

    /// Stud holes on a circle of 114.3 mm, and an access hole between two of them.
    fn drilled(&self) -> Vec<AxialHole> {
        let hole = |angle: f64, circle_radius: f64, diameter_mm: f64| AxialHole {
            x_mm: circle_radius * libm::cos(angle),
            y_mm: circle_radius * libm::sin(angle),
            diameter_mm,
            from_z_mm: 0.0,
            to_z_mm: FLANGE_THICKNESS,
            end: HoleEnd::Through,
        };
        let pitch = TAU / f64::from(self.holes);
        let mut holes: Vec<AxialHole> =
            (0..self.holes).map(|place| hole(pitch * f64::from(place), 57.15, 12.5)).collect();
        if self.access_hole {
            holes.push(hole(pitch / 2.0, 60.0, 26.0));
        }
        holes
    }
}
