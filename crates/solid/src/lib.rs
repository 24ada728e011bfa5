//! A turned part with holes along its axis and spline teeth, as a solid: exact volume and area, boundary model, STEP.
//!
//! The part is described by what a turner reads off a drawing: a [`Profile`] of lines and arcs that is turned about the
//! axis, [`AxialHole`]s parallel to the axis, and [`SplineTeeth`] on outer cylinders. [`Solid::new`] checks it, and says
//! what is wrong and where; everything after that cannot fail for the shape's sake.
//!
//! ```
//! use solid::{AxialHole, HoleEnd, Profile, RevolvedPart, Solid, StepHeader};
//! // A disc of 165 mm by 10 mm with one hole of 12 mm, 57 mm from the axis.
//! let profile = Profile::starting_at(0.0, 0.0).line_to(0.0, 82.5).line_to(10.0, 82.5).line_to(10.0, 0.0);
//! let hole = AxialHole {
//!     x_mm: 57.0,
//!     y_mm: 0.0,
//!     diameter_mm: 12.0,
//!     from_z_mm: 0.0,
//!     to_z_mm: 10.0,
//!     end: HoleEnd::Through,
//! };
//! let solid = Solid::new(&RevolvedPart { profile, holes: vec![hole], splines: Vec::new() })?;
//! let expected = std::f64::consts::PI * (82.5 * 82.5 - 6.0 * 6.0) * 10.0;
//! assert!((solid.volume_mm3() - expected).abs() < 1e-9 * expected);
//!
//! let header = StepHeader { name: "Disc 165 × 10", time_stamp: "2026-01-31T08:30:00", ..StepHeader::default() };
//! let step = solid.to_step(&header)?;
//! assert!(step.starts_with("ISO-10303-21;\n"));
//! assert!(step.contains("'Disc 165 \\X2\\00D7\\X0\\ 10'"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # What the solid is
//!
//! - Coordinates that differ by less than [`SAME_MM`] are taken for the same. Features stay at least [`LEAST_GAP_MM`] apart.
//! - Lengths are millimetres; a file may be written in inches. `z` is the axis of the part; seams lie on the positive x side.
//! - Every surface is exact: planes, cylinders, cones, spheres and tori. Only the flanks of teeth are approximated, by a
//!   cubic spline that lies within [`FLANK_TOLERANCE_MM`] of the involute. Volume and area are those of the exact part.
//! - The boundary is one closed shell. Each edge lies between two faces, or is the seam of one.
//! - Teeth are straight and end in planes; fillets at the root and the run-out of the cutter are left out. Holes have flat
//!   bottoms and do not open into each other: there are no counterbores.
//! - Nothing is read from outside, the time stamp included. The same part and header give the same bytes on every machine:
//!   sine and cosine come from `libm`.
//!
//! # What follows which standard
//!
//! | what | follows |
//! |---|---|
//! | text of the file, strings and numbers | ISO 10303-21:2002 |
//! | curves, surfaces and topology | ISO 10303-42 |
//! | units, product, file schema | ISO 10303-214, `automotive_design` |
//! | involute | ISO 21771:2007 |

mod curve;
mod error;
mod holes;
mod marks;
mod measure;
mod outline;
mod part;
mod profile;
mod revolve;
mod shell;
mod solid;
mod step;
mod strips;
mod teeth;
mod toothed;

pub use error::{PartError, StepError};
pub use part::{AxialHole, HoleEnd, RevolvedPart, SplineTeeth};
pub use profile::{Place, Profile, Segment, Turn};
pub use shell::{Edge, Face, Flank, Path, Shell, Side, Surface, Triple};
pub use solid::Solid;
pub use step::{StepHeader, StepUnit};
pub use teeth::FLANK_TOLERANCE_MM;

/// The least length of a segment and the least distance between two features, in millimetres.
pub const LEAST_GAP_MM: f64 = 0.001;

/// Coordinates that differ by less than this, in millimetres, are the same: they were rounded on different ways.
pub const SAME_MM: f64 = 1e-9;

/// The largest coordinate accepted, in millimetres: a hundred metres, past every shaft.
pub const LARGEST_MM: f64 = 100_000.0;
