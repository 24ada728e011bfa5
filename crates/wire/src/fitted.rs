//! On the wire: the parts and places that the shafts go with.

use schemars::JsonSchema;
use serde::Serialize;

use super::number::Length;
use super::review::{Basis, BearingKind, Side};

/// The parts and places that the shafts go with.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Fitted {
    /// The wheel bearing.
    pub bearing: FittedBearing,
    /// The housing end.
    pub housing_end: FittedHousingEnd,
    /// Brake and retainer.
    pub brake: FittedBrake,
    /// The differential with both sides of the housing.
    pub differential: FittedDifferential,
    /// Number of holes in the bolt circle; null where nothing was read of the circle.
    pub holes: Option<u32>,
    /// The access hole of the flange.
    pub access_hole: FittedAccessHole,
    /// The spline in full; null where it is in no series.
    pub spline: Option<FittedSpline>,
    /// What is not read off an old shaft.
    pub shaft: FittedShaft,
}

/// The hole in the flange through which the nuts of the retainer plate are reached.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FittedAccessHole {
    /// Whether there is one; null where nothing says.
    pub there: Option<bool>,
    /// Its diameter; null where there is none or nothing says.
    pub diameter: Option<FittedSize>,
    /// Diameter of the circle that its centre lies on, midway between two stud holes; null likewise.
    pub circle: Option<FittedSize>,
}

/// A size of a part or a place that is not itself cut.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FittedSize {
    /// The size that is likeliest.
    pub size: Length,
    /// Its standard uncertainty; null where nothing gives one.
    pub standard_uncertainty: Option<Length>,
    /// How it came about.
    pub basis: Basis,
    /// Where it comes from, in words.
    pub source: String,
}

/// The wheel bearing.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FittedBearing {
    /// Name of its row; null where it is in no row.
    pub name: Option<String>,
    /// How it carries its load.
    pub bearing_kind: Option<BearingKind>,
    /// Bore of the inner ring.
    pub bore: FittedSize,
    /// Outside of the outer ring.
    pub outside: FittedSize,
    /// Width of the inner ring.
    pub inner_width: FittedSize,
    /// Width of the outer ring.
    pub outer_width: FittedSize,
}

/// The housing end.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FittedHousingEnd {
    /// Name of its row; null where it is in no row.
    pub name: Option<String>,
    /// Diameter of the bearing bore.
    pub bore: FittedSize,
    /// Depth of the bearing bore.
    pub depth: FittedSize,
    /// Long side of the bolt rectangle.
    pub rectangle_long: FittedSize,
    /// Short side of the bolt rectangle.
    pub rectangle_short: FittedSize,
    /// Bolt hole.
    pub bolt_hole: FittedSize,
}

/// A drum or a rotor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum BrakeKind {
    /// A drum with shoes.
    Drum,
    /// A rotor with a caliper.
    Disc,
}

/// Brake and retainer.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FittedBrake {
    /// Drum or disc.
    pub brake_kind: BrakeKind,
    /// Bore of drum or rotor.
    pub bore: FittedSize,
    /// Inside of drum or rotor hat.
    pub inside: FittedSize,
    /// Web of drum or rotor hat.
    pub web: FittedSize,
    /// What is trapped under the retainer in all.
    pub trapped: FittedSize,
}

/// The differential with both sides of the housing.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FittedDifferential {
    /// Name of its row; null where the sheet names none.
    pub name: Option<String>,
    /// Half of the cross pin or centre block.
    pub half_pin: FittedSize,
    /// From the cross pin to the outer end of the side gear's spline.
    pub gear_reach: FittedSize,
    /// Both sides, left first.
    pub sides: Vec<FittedSide>,
}

/// One side of the housing.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FittedSide {
    /// Which side.
    pub side: Side,
    /// Housing-end face to differential centre.
    pub half_width: FittedSize,
    /// Inner end of the new shaft to differential centre; null where no length is decided.
    pub end_gap: Option<FittedSize>,
    /// Overlap of the new shaft's spline with the side gear's; null likewise.
    pub engagement: Option<FittedSize>,
}

/// The spline in full.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FittedSpline {
    /// What people call it.
    pub name: String,
    /// The standard that it follows.
    pub standard: String,
    /// Whether the evidence is sure enough to go by.
    pub decided: bool,
    /// Number of teeth.
    pub teeth: u32,
    /// Diametral and stub pitch, or the module.
    pub pitch: String,
    /// Pressure angle in degrees.
    pub pressure_angle_degrees: f64,
    /// Shape of the root.
    pub root: String,
    /// Pitch diameter.
    pub pitch_diameter: Length,
    /// Base diameter.
    pub base_diameter: Length,
    /// Major diameter, the largest allowed.
    pub major_diameter: Length,
    /// Form diameter, the largest allowed; null where no formula is held.
    pub form_diameter: Option<Length>,
    /// Minor diameter, the largest allowed.
    pub minor_diameter: Length,
    /// Tolerance class, which is assumed; null where the standard's classes are not held.
    pub class: Option<u32>,
    /// Circular tooth thickness, least actual.
    pub tooth_thickness_least: Length,
    /// Circular tooth thickness, largest effective; the same where no class is held.
    pub tooth_thickness_most: Length,
    /// Size over two pins; null where no pin touches the flanks.
    pub over_pins: Option<OverPins>,
    /// Where the row comes from.
    pub source: String,
}

/// Size over two pins.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OverPins {
    /// Diameter of the pins.
    pub pin: Length,
    /// The smallest size that passes.
    pub least: Length,
    /// The largest size that passes; the same where no class is held.
    pub most: Length,
}

/// What is not read off an old shaft.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FittedShaft {
    /// Fillet between flange and shaft.
    pub flange_fillet: Option<FittedSize>,
    /// Fillet at the bearing shoulder.
    pub shoulder_fillet: Option<FittedSize>,
    /// Width of the lock ring.
    pub ring_width: Option<FittedSize>,
    /// Diameter of the body, where the sheet states it.
    pub body_diameter: Option<FittedSize>,
    /// Depth of the hard case in the body; null where the shaft is not hardened.
    pub case_depth: Option<FittedSize>,
    /// Depth of the hard case under the roots of the spline; null likewise.
    pub spline_case_depth: Option<FittedSize>,
    /// Least hardness of the case, Rockwell C; null likewise.
    pub case_hardness: Option<f64>,
    /// Grade and treatment of the steel.
    pub steel: String,
    /// Whether the sheet states the steel.
    pub steel_is_stated: bool,
    /// Diameter of the zone in which the centre of a flange hole must lie.
    pub hole_position: Length,
}
