//! The part as the caller describes it: profile, holes and spline teeth.

use crate::profile::Profile;

/// A turned part with holes along its axis and spline teeth.
#[derive(Debug, Clone, PartialEq)]
pub struct RevolvedPart {
    /// What is turned about the axis.
    pub profile: Profile,
    /// Holes, in any order.
    pub holes: Vec<AxialHole>,
    /// Toothed lengths, in any order.
    pub splines: Vec<SplineTeeth>,
}

/// A round hole whose axis is parallel to the part's axis.
///
/// It begins in a plane face of the part and either goes through to another plane face or ends within the material on
/// a flat bottom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxialHole {
    /// Centre across the axis, in millimetres.
    pub x_mm: f64,
    /// Centre across the axis, in millimetres.
    pub y_mm: f64,
    /// Diameter in millimetres.
    pub diameter_mm: f64,
    /// Where along the axis it begins: the place of a plane face, in millimetres.
    pub from_z_mm: f64,
    /// Where along the axis it ends, in millimetres.
    pub to_z_mm: f64,
    /// How it ends.
    pub end: HoleEnd,
}

/// How a hole ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HoleEnd {
    /// In another plane face of the part.
    Through,
    /// In the material, on a flat bottom.
    FlatBottom,
}

/// External involute teeth of one shape over a length, cut into an outer cylinder of the profile.
///
/// The cylinder's radius is the radius of the tooth tips. The teeth are straight, run from one plane across the axis to
/// another, and meet the root circle in a sharp corner: fillets, chamfers and the run-out of the cutter are left out. The
/// first tooth stands with its middle on the positive x axis.
///
/// Where a toothed length ends, the part goes on with the radius that the profile has there. A profile that steps
/// straight down to the root or below leaves the spaces open; one that stays at the tips or above closes them with a
/// wall; one in between does either in part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SplineTeeth {
    /// Number of teeth.
    pub teeth: u32,
    /// Diameter of the pitch circle in millimetres.
    pub pitch_diameter_mm: f64,
    /// Pressure angle at the pitch circle, in degrees.
    pub pressure_angle_deg: f64,
    /// Thickness of a tooth, the arc on the pitch circle, in millimetres.
    pub tooth_thickness_mm: f64,
    /// Diameter at the bottom of the spaces in millimetres; not below the base circle.
    pub root_diameter_mm: f64,
    /// Where along the axis the teeth begin, in millimetres.
    pub from_z_mm: f64,
    /// Where along the axis they end, in millimetres.
    pub to_z_mm: f64,
}
