//! Parts that can be bought or met: bearings, housing ends, splines, bolt circles, studs, brakes, differentials, steels.

use quantity::{Length, Thread};

use crate::provenance::Source;

/// A size with the standard deviation by which parts of one row differ.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// The expected size.
    pub mean: Length,
    /// The standard deviation.
    pub standard_deviation: Length,
}

/// How a wheel bearing carries its load.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum BearingKind {
    /// Sealed deep-groove ball unit.
    Ball,
    /// Tapered roller unit with its own outer seal.
    Tapered,
}

/// A wheel bearing, one row of `bearings.toml`.
#[derive(Debug, Clone)]
pub struct Bearing {
    /// The row's name: bore, outside and width with the kind, as `40x80x18 ball`.
    pub name: String,
    /// How it carries its load.
    pub kind: BearingKind,
    /// Bore of the inner ring.
    pub bore: Length,
    /// Outside of the outer ring.
    pub outside: Length,
    /// Width of the inner ring.
    pub inner_width: Length,
    /// Width of the outer ring, with its outer seal where it has one.
    pub outer_width: Length,
    /// `δ`: outer-ring (or outer-seal) outboard face minus inner-ring outboard face, inboard positive.
    pub race_offset: Spread,
    /// Standard deviation of the two widths from unit to unit.
    pub width_deviation: Length,
    /// Limits of the interference of the inner ring on its journal, on diameter.
    pub seat_interference: (Length, Length),
    /// What the bearing carries; none where nobody has entered it.
    pub rating: Option<BearingRating>,
    /// How often the row is met, relative to the other rows.
    pub weight: f64,
    /// Where the row comes from.
    pub source: Source,
}

/// What a bearing carries, by ISO 281 and ISO 76.
#[derive(Debug, Clone, PartialEq)]
pub struct BearingRating {
    /// Basic dynamic load rating `C` in kN.
    pub dynamic_kn: f64,
    /// Basic static load rating `C0` in kN.
    pub static_kn: f64,
    /// Factor `f0` of a ball bearing.
    pub f0: Option<f64>,
    /// Limit `e` of a tapered bearing.
    pub e: Option<f64>,
    /// Axial factor `Y` of a tapered bearing.
    pub y: Option<f64>,
    /// Static axial factor `Y0` of a tapered bearing.
    pub y0: Option<f64>,
    /// Where the numbers come from.
    pub source: Source,
}

/// A housing end, one row of `housing_ends.toml`.
#[derive(Debug, Clone)]
pub struct HousingEnd {
    /// The row's name, by its dimensions.
    pub name: String,
    /// Long side of the bolt rectangle, hole centre to hole centre.
    pub bolt_rectangle_long: Length,
    /// Short side of the bolt rectangle.
    pub bolt_rectangle_short: Length,
    /// Bolt hole diameter.
    pub bolt_hole: Length,
    /// Diameter of the bearing bore.
    pub bore_diameter: Length,
    /// Depth of the bearing bore.
    pub bore_depth: Spread,
    /// How often the row is met, relative to the other rows.
    pub weight: f64,
    /// Where the row comes from.
    pub source: Source,
}

/// A spline series, one row of `splines.toml`: a pitch or module with its form, and the counts that are met.
#[derive(Debug, Clone)]
pub struct SplineSeries {
    /// The row's name: `24/48, 45°, fillet root`.
    pub name: String,
    /// The system with its pitch or module.
    pub system: SplineSystem,
    /// Pressure angle in degrees.
    pub pressure_angle_degrees: f64,
    /// The counts that are met.
    pub counts: Vec<SplineCount>,
    /// By how much the major diameter of real parts stays under the basic size.
    pub undersize: Spread,
    /// How often the row is met, relative to the other rows.
    pub weight: f64,
    /// Where the row comes from.
    pub source: Source,
}

/// A tooth count that is met in a series.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SplineCount {
    /// Number of teeth.
    pub teeth: u32,
    /// The reference diameter of DIN 5480, which that standard's designation states; none in the other systems.
    pub reference_diameter: Option<Length>,
    /// How often the count is met, relative to the other counts of the series.
    pub weight: f64,
}

/// The system of a spline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SplineSystem {
    /// ANSI B92.1: diametral pitch and stub pitch, teeth per inch of pitch diameter; fillet or flat root.
    Inch {
        /// Diametral pitch `P`.
        pitch: f64,
        /// Stub pitch, `2P`.
        stub_pitch: f64,
        /// Whether the root is a full fillet.
        fillet_root: bool,
    },
    /// ISO 4156: module in millimetres.
    Iso4156 {
        /// Module `m` in mm.
        module_mm: f64,
    },
    /// DIN 5480: module in millimetres; each count states its reference diameter.
    Din5480 {
        /// Module `m` in mm.
        module_mm: f64,
    },
}

/// A wheel bolt circle, one row of `bolt_circles.toml`.
#[derive(Debug, Clone)]
pub struct BoltCircleRow {
    /// Number of holes.
    pub holes: u32,
    /// Circle diameter.
    pub diameter: Length,
    /// How often the row is met, relative to the other rows.
    pub weight: f64,
    /// Where the row comes from.
    pub source: Source,
}

/// A press-in wheel stud, one row of `studs.toml`.
#[derive(Debug, Clone)]
pub struct Stud {
    /// The thread.
    pub thread: Thread,
    /// Knurl crest diameter, smallest and largest.
    pub knurl: (Length, Length),
    /// Diameter of the hole to drill, smallest and largest.
    pub hole: (Length, Length),
    /// Where the row comes from.
    pub source: Source,
}

/// Drum or disc brake.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BrakeKind {
    /// A drum with shoes.
    Drum,
    /// A rotor with a caliper.
    Disc,
}

/// A brake, one row of `brakes.toml`.
#[derive(Debug, Clone)]
pub struct Brake {
    /// The row's name, by its dimensions.
    pub name: String,
    /// Drum or disc.
    pub kind: BrakeKind,
    /// The brake offset that its maker requires.
    pub required_offset: Length,
    /// Bore of drum or rotor, that the register enters.
    pub bore: Length,
    /// Inside diameter that the flange has to clear.
    pub inside: Length,
    /// Where the row comes from.
    pub source: Source,
}

/// How the differential drives its shafts, one row of `differentials.toml`.
#[derive(Debug, Clone)]
pub struct Differential {
    /// The name that a sheet uses.
    pub name: String,
    /// Half of the cross pin or centre block: differential centre to the surface the shaft must not touch.
    pub half_pin: Spread,
    /// Distance from that surface to the inner end of the shaft in a sound axle.
    pub end_clearance: Spread,
    /// Distance from that surface to the outer end of the side gear's spline.
    pub gear_reach: Spread,
    /// Whether one shaft may be given more than half of the torque, as by a limited-slip, a locker or a spool.
    pub locks: bool,
    /// Where the row comes from.
    pub source: Source,
}

/// A steel for shafts, one row of `steels.toml`.
#[derive(Debug, Clone)]
pub struct Steel {
    /// Grade by SAE or ISO number.
    pub grade: String,
    /// Heat treatment in words.
    pub treatment: String,
    /// Tensile strength in MPa.
    pub tensile_strength_mpa: f64,
    /// Yield strength in MPa.
    pub yield_strength_mpa: f64,
    /// Where the row comes from.
    pub source: Source,
}
