//! The profile that is turned about the axis, as the caller writes it down.

/// A place in the half plane of the profile, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Along the axis.
    pub z_mm: f64,
    /// From the axis outward; never negative in a sound profile.
    pub r_mm: f64,
}

/// Which way an arc turns in a picture with the axis to the right and the radius upward.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turn {
    /// Against the hands of a clock.
    Anticlockwise,
    /// With the hands of a clock.
    Clockwise,
}

/// One piece of a profile, from the end of the piece before.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Segment {
    /// A straight line. Across the axis it turns into a plane, along it into a cylinder, else into a cone.
    Line {
        /// Where it ends.
        to: Place,
    },
    /// An arc of at most half a circle. It turns into a torus, such as a fillet, or into a sphere where its centre is
    /// on the axis.
    Arc {
        /// Where it ends.
        to: Place,
        /// Radius of the arc in millimetres.
        radius_mm: f64,
        /// Which way it turns.
        turn: Turn,
    },
}

impl Segment {
    /// Where the segment ends.
    #[must_use]
    pub fn to(self) -> Place {
        match self {
            Self::Line { to } | Self::Arc { to, .. } => to,
        }
    }
}

/// A chain of lines and arcs: either it begins and ends on the axis, or it ends where it began and is a ring.
///
/// The chain may run either way round. What lies between it and the axis, or within the ring, is the material.
///
/// ```
/// use solid::{Profile, Turn};
/// // A plain shaft of 40 mm with a collar of 60 mm and a fillet of 3 mm between the two.
/// let profile = Profile::starting_at(0.0, 0.0)
///     .line_to(0.0, 30.0)
///     .line_to(10.0, 30.0)
///     .line_to(10.0, 23.0)
///     .arc_to(13.0, 20.0, 3.0, Turn::Anticlockwise)
///     .line_to(100.0, 20.0)
///     .line_to(100.0, 0.0);
/// assert_eq!(profile.segments.len(), 6);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    /// Where the first segment begins.
    pub start: Place,
    /// The segments, each from the end of the one before.
    pub segments: Vec<Segment>,
}

impl Profile {
    /// A profile without segments yet; both coordinates in millimetres.
    #[must_use]
    pub fn starting_at(z_mm: f64, r_mm: f64) -> Self {
        Self { start: Place { z_mm, r_mm }, segments: Vec::new() }
    }

    /// Adds a straight line to this place, in millimetres.
    #[must_use]
    pub fn line_to(mut self, z_mm: f64, r_mm: f64) -> Self {
        self.segments.push(Segment::Line { to: Place { z_mm, r_mm } });
        self
    }

    /// Adds an arc of at most half a circle to this place; all lengths in millimetres.
    #[must_use]
    pub fn arc_to(mut self, z_mm: f64, r_mm: f64, radius_mm: f64, turn: Turn) -> Self {
        self.segments.push(Segment::Arc { to: Place { z_mm, r_mm }, radius_mm, turn });
        self
    }
}
