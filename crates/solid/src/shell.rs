//! The boundary of a solid: corners, edges and faces, each edge between two faces.
//!
//! Coordinates are millimetres; `z` is the axis of the part, and the profile stands on the positive x axis, where the
//! seams of its surfaces lie.

/// A point or a direction.
pub type Triple = [f64; 3];

/// A closed boundary. Edges and faces refer to corners and edges by their place in these lists.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Shell {
    /// Corners.
    pub corners: Vec<Triple>,
    /// Edges between corners.
    pub edges: Vec<Edge>,
    /// Faces between edges.
    pub faces: Vec<Face>,
}

/// A piece of a curve from one corner to another, along the curve.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    /// Corner at which it begins.
    pub from: usize,
    /// Corner at which it ends; the same one for a whole circle.
    pub to: usize,
    /// The curve that it is a piece of.
    pub path: Path,
}

/// The curve of an edge.
#[derive(Debug, Clone, PartialEq)]
pub enum Path {
    /// A straight line through a point.
    Line {
        /// A point on it.
        point: Triple,
        /// Its direction, of length one.
        direction: Triple,
    },
    /// A circle, run anticlockwise about its axis.
    Circle {
        /// Its centre.
        centre: Triple,
        /// Its axis, of length one.
        axis: Triple,
        /// From the centre to where its angle is zero, of length one.
        zero: Triple,
        /// Its radius.
        radius: f64,
    },
    /// A flank of a tooth.
    Flank(Flank),
}

/// A cubic B-spline curve made of Bézier pieces that join with the same direction: two knots at each joint.
#[derive(Debug, Clone, PartialEq)]
pub struct Flank {
    /// Poles: four for the first piece, then two for each further one, and the last point; joints are not poles.
    pub poles: Vec<Triple>,
    /// Values of the parameter at the joints, both ends among them.
    pub knots: Vec<f64>,
}

/// A piece of a surface within one or more loops of edges.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// The surface that it is a piece of.
    pub surface: Surface,
    /// Whether the normal of the surface points out of the material.
    pub outward: bool,
    /// Loops of edges, the outer one first. Seen from outside the material, the face lies on the left of each edge.
    pub loops: Vec<Vec<Side>>,
}

/// One of the two sides of an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Side {
    /// Which edge.
    pub edge: usize,
    /// Whether it is run from its beginning to its end.
    pub forward: bool,
}

/// The surface of a face.
#[derive(Debug, Clone, PartialEq)]
pub enum Surface {
    /// A plane.
    Plane {
        /// A point in it.
        point: Triple,
        /// Its normal, of length one.
        normal: Triple,
    },
    /// A cylinder about the z direction; its normal points away from its axis.
    Cylinder {
        /// A point on its axis.
        point: Triple,
        /// Its radius.
        radius: f64,
    },
    /// A cone about the axis of the part; its normal points away from the axis.
    Cone {
        /// The point of the axis at which the radius is measured.
        point: Triple,
        /// Whether it widens towards positive z.
        widens_upward: bool,
        /// Its radius at the point.
        radius: f64,
        /// Half of the angle at its tip, in radians.
        half_angle: f64,
    },
    /// A sphere with its centre on the axis of the part; its normal points away from the centre.
    Sphere {
        /// Its centre.
        centre: Triple,
        /// Its radius.
        radius: f64,
    },
    /// A torus about the axis of the part; its normal points away from the circle of centres.
    Torus {
        /// The centre of the circle of centres.
        centre: Triple,
        /// Radius of the circle of centres.
        major_radius: f64,
        /// Radius of the turned circle.
        minor_radius: f64,
    },
    /// A circle turned about the axis of the part that would make a torus which meets itself. Its normal points to the
    /// left of the circle as seen with the axis to the right.
    Turned {
        /// The circle, in the half plane of the profile.
        circle: Path,
    },
    /// A flank moved along the axis of the part; its normal points to the right of the flank, seen along the axis.
    Moved {
        /// The flank.
        flank: Flank,
    },
}

impl Shell {
    pub(crate) fn corner(&mut self, place: Triple) -> usize {
        self.corners.push(place);
        self.corners.len() - 1
    }

    pub(crate) fn edge(&mut self, from: usize, to: usize, path: Path) -> usize {
        self.edges.push(Edge { from, to, path });
        self.edges.len() - 1
    }

    /// A straight edge between two corners.
    pub(crate) fn straight(&mut self, from: usize, to: usize) -> usize {
        let (point, end) = (self.corners[from], self.corners[to]);
        let reach = [end[0] - point[0], end[1] - point[1], end[2] - point[2]];
        let length = (reach[0] * reach[0] + reach[1] * reach[1] + reach[2] * reach[2]).sqrt();
        let direction = reach.map(|part| part / length + 0.0);
        self.edge(from, to, Path::Line { point, direction })
    }

    /// Corners that an edge runs from and to when taken by this side.
    #[must_use]
    pub fn ends(&self, side: Side) -> (usize, usize) {
        let edge = &self.edges[side.edge];
        if side.forward { (edge.from, edge.to) } else { (edge.to, edge.from) }
    }

    /// Number of loops of all faces together.
    #[must_use]
    pub fn loop_count(&self) -> usize {
        self.faces.iter().map(|face| face.loops.len()).sum()
    }
}

impl Side {
    pub(crate) fn along(edge: usize) -> Self {
        Self { edge, forward: true }
    }

    pub(crate) fn against(edge: usize) -> Self {
        Self { edge, forward: false }
    }

    pub(crate) fn turned(self) -> Self {
        Self { forward: !self.forward, ..self }
    }
}
