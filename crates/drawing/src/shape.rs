//! The geometry of one shaft, as the review has it, each size with how it came about.
//!
//! Distances run from the wheel face, inboard positive. What the review lacks and a shaft cannot do without is taken from a
//! documented assumption and marked so, or is not known and marked so: then [`Size::drawn`] gives a stand-in for the picture
//! alone.

mod of_review;
mod outline;
mod profile;
mod surroundings;

use axle::{Basis, FittedSpline, Side};

pub use outline::{END_CHAMFER_MM, OutlinePiece, PILOT_CHAMFER_MM};
pub use profile::{Step, StepKind};
pub use surroundings::Surroundings;

/// How a size came about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SizeBasis {
    /// Read by somebody.
    Measured,
    /// Follows from readings, parts or other sizes.
    Derived,
    /// A usual size, because nothing says otherwise.
    Assumed,
    /// Not known.
    Unknown,
}

impl SizeBasis {
    /// In one word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Derived => "derived",
            Self::Assumed => "assumed",
            Self::Unknown => "unknown",
        }
    }
}

impl From<Basis> for SizeBasis {
    fn from(basis: Basis) -> Self {
        match basis {
            Basis::Measured => Self::Measured,
            Basis::Derived => Self::Derived,
            Basis::Assumed => Self::Assumed,
        }
    }
}

/// One size of a shaft.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// Its name for programs: `overall_length`.
    pub name: &'static str,
    /// Its name for people: `overall length`.
    pub words: &'static str,
    /// The size to make in millimetres; none where it is not known.
    pub value_mm: Option<f64>,
    /// The smallest and the largest that pass; none where it has no limits of its own.
    pub limits_mm: Option<(f64, f64)>,
    /// How it came about.
    pub basis: SizeBasis,
    /// Where it comes from, in words.
    pub source: String,
}

impl Size {
    /// The size, or a stand-in for the picture where it is not known.
    #[must_use]
    pub fn drawn(&self, stand_in_mm: f64) -> f64 {
        self.value_mm.unwrap_or(stand_in_mm)
    }

    /// Whether it is known, be it by assumption.
    #[must_use]
    pub fn is_known(&self) -> bool {
        self.value_mm.is_some()
    }
}

/// The hard case of a shaft that is hardened by induction from the flange fillet to the end of the spline.
#[derive(Debug, Clone, PartialEq)]
pub struct HardCase {
    /// Depth in the body.
    pub depth: Size,
    /// Depth under the roots of the spline.
    pub spline_depth: Size,
    /// Least hardness, Rockwell C.
    pub rockwell_c: f64,
}

/// The geometry of one shaft.
#[derive(Debug, Clone, PartialEq)]
pub struct ShaftShape {
    /// Which shaft.
    pub side: Side,
    /// Wheel face to inner end.
    pub overall_length: Size,
    /// Wheel face to bearing shoulder.
    pub shoulder_distance: Size,
    /// Diameter of the flange.
    pub flange_diameter: Size,
    /// Thickness of the flange.
    pub flange_thickness: Size,
    /// Diameter of the register.
    pub register_diameter: Size,
    /// Height of the register above the wheel face.
    pub register_height: Size,
    /// Diameter of the wheel pilot.
    pub wheel_pilot_diameter: Size,
    /// Height of the wheel pilot above the wheel face.
    pub wheel_pilot_height: Size,
    /// Diameter of the bolt circle.
    pub bolt_circle: Size,
    /// Number of stud holes; none where nothing was read of the circle.
    pub holes: Option<u32>,
    /// Diameter of a stud hole.
    pub stud_hole: Size,
    /// Diameter of the zone in which the centre of a hole must lie.
    pub hole_position_mm: f64,
    /// Whether the flange has an access hole; none where nothing says.
    pub has_access_hole: Option<bool>,
    /// Diameter of the access hole.
    pub access_hole: Size,
    /// Diameter of the circle that its centre lies on, midway between two stud holes.
    pub access_hole_circle: Size,
    /// Diameter between flange and bearing shoulder.
    pub shoulder_diameter: Size,
    /// Fillet between flange and shaft.
    pub flange_fillet: Size,
    /// Fillet at the bearing shoulder.
    pub shoulder_fillet: Size,
    /// Diameter of the journal.
    pub journal_diameter: Size,
    /// Wheel face to the inboard end of the journal.
    pub journal_end: Size,
    /// Diameter of the ring seat.
    pub ring_seat_diameter: Size,
    /// Wheel face to the inboard end of the ring seat.
    pub ring_seat_end: Size,
    /// Diameter of the seal journal.
    pub seal_journal_diameter: Size,
    /// Wheel face to the inboard end of the seal journal.
    pub seal_journal_end: Size,
    /// Diameter of the body where it begins.
    pub body_outer: Size,
    /// Diameter of the body where the spline begins.
    pub body_inner: Size,
    /// Length of the spline.
    pub spline_length: Size,
    /// Wheel face to the outboard end of the spline.
    pub spline_start: Size,
    /// Major diameter of the spline.
    pub spline_major_diameter: Size,
    /// Minor diameter of the spline.
    pub spline_minor_diameter: Size,
    /// The spline in full; none where it is in no series.
    pub spline: Option<FittedSpline>,
    /// The hard case; none where the shaft is not hardened.
    pub case: Option<HardCase>,
    /// Steel and treatment.
    pub steel: String,
    /// Whether the sheet states the steel.
    pub steel_is_stated: bool,
}

impl ShaftShape {
    /// Every size, in the order in which they stand along the shaft; those of the access hole where there is one.
    #[must_use]
    pub fn sizes(&self) -> Vec<&Size> {
        let mut sizes = vec![
            &self.overall_length,
            &self.shoulder_distance,
            &self.flange_diameter,
            &self.flange_thickness,
            &self.register_diameter,
            &self.register_height,
            &self.wheel_pilot_diameter,
            &self.wheel_pilot_height,
            &self.bolt_circle,
            &self.stud_hole,
            &self.shoulder_diameter,
            &self.flange_fillet,
            &self.shoulder_fillet,
            &self.journal_diameter,
            &self.journal_end,
            &self.ring_seat_diameter,
            &self.ring_seat_end,
            &self.seal_journal_diameter,
            &self.seal_journal_end,
            &self.body_outer,
            &self.body_inner,
            &self.spline_start,
            &self.spline_length,
            &self.spline_major_diameter,
            &self.spline_minor_diameter,
        ];
        if self.has_access_hole == Some(true) {
            sizes.extend([&self.access_hole, &self.access_hole_circle]);
        }
        sizes
    }

    /// Direction of a stud hole from the axis in degrees, seen from outboard and counted against the hands of a clock from
    /// the right: two holes lie level at the bottom.
    #[must_use]
    pub fn hole_direction(holes: u32, number: u32) -> f64 {
        let step = 360.0 / f64::from(holes);
        -90.0 + 0.5 * step + step * f64::from(number)
    }

    /// Direction of the access hole: midway between the two stud holes at the bottom.
    pub const ACCESS_HOLE_DIRECTION: f64 = -90.0;
}
