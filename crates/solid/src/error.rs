//! Why a part cannot be made into a solid.

use thiserror::Error;

use crate::LEAST_GAP_MM;

/// What is wrong with a part, and where. Segments, holes and splines are counted from 1.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum PartError {
    /// A number is infinite or no number.
    #[error("{place}: {what} is {value}, which is no length; a finite number is accepted")]
    NotFinite {
        /// Which segment, hole or spline.
        place: String,
        /// Which number.
        what: &'static str,
        /// Value that was given.
        value: f64,
    },
    /// A coordinate is so large that the part cannot be held to a micrometre.
    #[error("{place}: {what} is {value} mm; from {least} to {most} mm is accepted", least = -crate::LARGEST_MM, most = crate::LARGEST_MM)]
    TooLarge {
        /// Which segment, hole or spline.
        place: String,
        /// Which number.
        what: &'static str,
        /// Value that was given.
        value: f64,
    },
    /// The profile is empty.
    #[error("the profile has no segments; lines and arcs from axis to axis, or round a ring, are accepted")]
    NoSegments,
    /// The profile neither runs from axis to axis nor returns to its beginning.
    #[error(
        "the profile begins at z = {from_z_mm} mm, r = {from_r_mm} mm and ends at z = {to_z_mm} mm, r = {to_r_mm} mm; it \
         must begin and end on the axis (r = 0), or end where it began"
    )]
    NotClosed {
        /// Where it begins, along the axis.
        from_z_mm: f64,
        /// Where it begins, from the axis.
        from_r_mm: f64,
        /// Where it ends, along the axis.
        to_z_mm: f64,
        /// Where it ends, from the axis.
        to_r_mm: f64,
    },
    /// A segment is shorter than what can be told apart.
    #[error(
        "segment {segment} at z = {z_mm} mm, r = {r_mm} mm is {length_mm} mm long; at least {LEAST_GAP_MM} mm is accepted"
    )]
    SegmentTooShort {
        /// Which segment.
        segment: usize,
        /// Where it begins, along the axis.
        z_mm: f64,
        /// Where it begins, from the axis.
        r_mm: f64,
        /// Its length.
        length_mm: f64,
    },
    /// A line is across or along the axis, but not quite.
    #[error(
        "segment {segment} runs {direction} the axis but for {off_mm} mm; none, or 0.000001 mm and more, is accepted"
    )]
    AlmostSquare {
        /// Which segment.
        segment: usize,
        /// The direction that it nearly has: across or along.
        direction: &'static str,
        /// How far it leaves it from end to end.
        off_mm: f64,
    },
    /// An arc's radius cannot reach from one end to the other.
    #[error("segment {segment} is an arc of radius {radius_mm} mm over a chord of {chord_mm} mm; {accepted}",
        accepted = radius_accepted(*chord_mm))]
    ArcRadius {
        /// Which segment.
        segment: usize,
        /// Radius that was given.
        radius_mm: f64,
        /// Distance between its ends.
        chord_mm: f64,
    },
    /// A segment reaches beyond the axis or touches it where the profile does not begin or end.
    #[error(
        "segment {segment} comes to r = {r_mm} mm at z = {z_mm} mm; only the ends of the profile may lie on the axis, and \
         all else at least {LEAST_GAP_MM} mm from it"
    )]
    MeetsAxis {
        /// Which segment.
        segment: usize,
        /// Where it comes closest, along the axis.
        z_mm: f64,
        /// Its least distance from the axis; negative beyond it.
        r_mm: f64,
    },
    /// An arc closes the part in a point that is neither round nor a cone's.
    #[error(
        "segment {segment} is an arc that ends on the axis at z = {z_mm} mm with its centre at r = {centre_r_mm} mm; only an \
         arc whose centre is on the axis may end there, or a line"
    )]
    ArcEndsOnAxis {
        /// Which segment.
        segment: usize,
        /// Where it meets the axis.
        z_mm: f64,
        /// Distance of its centre from the axis; negative beyond it.
        centre_r_mm: f64,
    },
    /// Two segments cross, touch or come too close.
    #[error(
        "segments {first} and {second} cross or touch near z = {z_mm} mm, r = {r_mm} mm; they must stay at least \
         {LEAST_GAP_MM} mm apart"
    )]
    ProfileCrosses {
        /// The earlier segment.
        first: usize,
        /// The later one.
        second: usize,
        /// Where they meet, along the axis.
        z_mm: f64,
        /// Where they meet, from the axis.
        r_mm: f64,
    },
    /// Two neighbouring segments leave no material, or no space, between them.
    #[error(
        "segments {first} and {second} turn straight back at z = {z_mm} mm, r = {r_mm} mm and leave an edge of no width"
    )]
    TurnsBack {
        /// The earlier segment.
        first: usize,
        /// The later one.
        second: usize,
        /// Where they join, along the axis.
        z_mm: f64,
        /// Where they join, from the axis.
        r_mm: f64,
    },
    /// A size that must be positive is not.
    #[error("{place}: {what} is {value_mm} mm; at least {LEAST_GAP_MM} mm is accepted")]
    TooSmall {
        /// Which hole or spline.
        place: String,
        /// Which size.
        what: &'static str,
        /// Value that was given.
        value_mm: f64,
    },
    /// A hole begins or ends where there is no plane face for it.
    #[error(
        "hole {hole} needs a plane face at z = {z_mm} mm that reaches from r = {from_r_mm} mm to r = {to_r_mm} mm and \
         {LEAST_GAP_MM} mm beyond; {found}"
    )]
    NoFaceForHole {
        /// Which hole.
        hole: usize,
        /// Where it begins or ends, along the axis.
        z_mm: f64,
        /// Its edge towards the axis.
        from_r_mm: f64,
        /// Its edge away from the axis.
        to_r_mm: f64,
        /// The plane faces that are there.
        found: String,
    },
    /// A hole cuts another surface of the part on its way.
    #[error(
        "hole {hole} cuts segment {segment} of the profile between z = {from_z_mm} mm and z = {to_z_mm} mm; it must stay \
         {LEAST_GAP_MM} mm within the material"
    )]
    HoleLeavesMaterial {
        /// Which hole.
        hole: usize,
        /// The segment that it cuts.
        segment: usize,
        /// Where the hole begins.
        from_z_mm: f64,
        /// Where it ends.
        to_z_mm: f64,
    },
    /// A hole cuts into spline teeth.
    #[error("hole {hole} comes into the teeth of spline {spline}; it must stay {LEAST_GAP_MM} mm below their roots")]
    HoleCutsTeeth {
        /// Which hole.
        hole: usize,
        /// Which spline.
        spline: usize,
    },
    /// Two holes run into each other.
    #[error(
        "holes {first} and {second} are {distance_mm} mm apart from centre to centre; more than {least_mm} mm keeps them \
         apart"
    )]
    HolesOverlap {
        /// The earlier hole.
        first: usize,
        /// The later one.
        second: usize,
        /// Distance of their centres.
        distance_mm: f64,
        /// Sum of their radii and the least gap.
        least_mm: f64,
    },
    /// A spline does not lie on one outer cylinder of the profile.
    #[error(
        "spline {spline} runs from z = {from_z_mm} mm to z = {to_z_mm} mm, but the profile has no single outer cylinder \
         over that length; {found}"
    )]
    NoCylinderForSpline {
        /// Which spline.
        spline: usize,
        /// Where it begins.
        from_z_mm: f64,
        /// Where it ends.
        to_z_mm: f64,
        /// The outer cylinders that are there.
        found: String,
    },
    /// The number of teeth cannot be a spline's.
    #[error("spline {spline} has {teeth} teeth; {FEWEST_TEETH} to {MOST_TEETH} are accepted")]
    Teeth {
        /// Which spline.
        spline: usize,
        /// Number that was given.
        teeth: u32,
    },
    /// The pressure angle is outside what involute teeth have.
    #[error("spline {spline} has a pressure angle of {angle_deg} degrees; more than 0 and at most 60 are accepted")]
    PressureAngle {
        /// Which spline.
        spline: usize,
        /// Angle that was given.
        angle_deg: f64,
    },
    /// The root lies where there is no involute, or not below the tips.
    #[error(
        "spline {spline} has a root diameter of {root_mm} mm; from {base_mm} mm, the base circle, to below {tip_mm} mm, \
         the tips, is accepted"
    )]
    RootDiameter {
        /// Which spline.
        spline: usize,
        /// Diameter that was given.
        root_mm: f64,
        /// Diameter of the base circle.
        base_mm: f64,
        /// Diameter of the tips.
        tip_mm: f64,
    },
    /// A tooth or a space has no width left.
    #[error(
        "spline {spline}: a tooth thickness of {thickness_mm} mm on the pitch circle leaves {left_mm} mm for the {what}; at \
         least {LEAST_GAP_MM} mm must be left"
    )]
    ToothThickness {
        /// Which spline.
        spline: usize,
        /// Thickness that was given.
        thickness_mm: f64,
        /// What has too little: the tip of a tooth or the bottom of a space.
        what: &'static str,
        /// What is left of it, as an arc; negative where flanks cross.
        left_mm: f64,
    },
    /// Two splines meet or share an end face.
    #[error("splines {first} and {second} overlap or end in the same plane face; leave a plain length between them")]
    SplinesMeet {
        /// The earlier spline.
        first: usize,
        /// The later one.
        second: usize,
    },
    /// The spaces between teeth cut through the part.
    #[error(
        "spline {spline} cuts segment {segment} of the profile below its teeth; {LEAST_GAP_MM} mm of material must be left"
    )]
    TeethLeaveMaterial {
        /// Which spline.
        spline: usize,
        /// The segment that lies in the way.
        segment: usize,
    },
    /// The part goes on beyond a spline's end close to the root circle, but not on it.
    #[error(
        "spline {spline} ends at z = {z_mm} mm, where the part goes on with a radius of {radius_mm} mm; that must be the          root radius {root_mm} mm exactly, or {LEAST_GAP_MM} mm away from it"
    )]
    SplineEnd {
        /// Which spline.
        spline: usize,
        /// Which end.
        z_mm: f64,
        /// Radius at which the part goes on.
        radius_mm: f64,
        /// Radius of the root circle.
        root_mm: f64,
    },
}

/// The fewest teeth of a spline.
pub(crate) const FEWEST_TEETH: u32 = 4;

/// The most teeth accepted; a larger number is a slip of the pen.
pub(crate) const MOST_TEETH: u32 = 400;

fn radius_accepted(chord_mm: f64) -> String {
    format!("from {} mm, half the chord, to {} mm is accepted", chord_mm / 2.0, crate::LARGEST_MM)
}

/// Why a STEP file cannot be written.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum StepError {
    /// The time stamp is not one.
    #[error(
        "`{given}` is no time stamp; one such as 2026-01-31T08:30:00, with or without an offset such as +01:00, is \
         accepted"
    )]
    TimeStamp {
        /// Text that was given.
        given: String,
    },
    /// The part has no name.
    #[error("the part has no name; a name such as `Shaft left` is accepted")]
    NoName,
}
