//! A part that has been checked, and what can be had from it.

use crate::error::{PartError, StepError};
use crate::holes::{self, Hole};
use crate::measure;
use crate::outline::Outline;
use crate::part::RevolvedPart;
use crate::revolve;
use crate::shell::Shell;
use crate::step::{self, StepHeader};
use crate::strips::Strips;

/// A checked part.
#[derive(Debug, Clone, PartialEq)]
pub struct Solid {
    outline: Outline,
    strips: Strips,
    holes: Vec<Hole>,
}

impl Solid {
    /// Checks a part.
    ///
    /// # Errors
    ///
    /// [`PartError`] names the first segment, hole or spline that cannot be, and what would be accepted: a profile that
    /// is open, crosses itself or the axis; a hole that begins in no plane face, leaves the material or runs into
    /// another; teeth that lie on no outer cylinder or have no width.
    ///
    /// ```
    /// use solid::{PartError, Profile, RevolvedPart, Solid};
    /// let profile = Profile::starting_at(0.0, 0.0).line_to(0.0, 20.0).line_to(50.0, 20.0);
    /// let error = Solid::new(&RevolvedPart { profile, holes: Vec::new(), splines: Vec::new() }).unwrap_err();
    /// assert!(matches!(error, PartError::NotClosed { to_r_mm: 20.0, .. }));
    /// assert!(error.to_string().contains("must begin and end on the axis"));
    /// ```
    pub fn new(part: &RevolvedPart) -> Result<Self, PartError> {
        let outline = Outline::of(&part.profile)?;
        let strips = Strips::of(&outline, &part.splines)?;
        let holes = holes::check(&part.holes, &outline, &strips)?;
        Ok(Self { outline, strips, holes })
    }

    /// Volume in cubic millimetres, exact to rounding: Pappus for the turned body, less holes and the spaces between
    /// involute teeth.
    ///
    /// ```
    /// use solid::{Profile, RevolvedPart, Solid, Turn};
    /// // A ball of 20 mm diameter.
    /// let profile = Profile::starting_at(-10.0, 0.0).arc_to(10.0, 0.0, 10.0, Turn::Clockwise);
    /// let ball = Solid::new(&RevolvedPart { profile, holes: Vec::new(), splines: Vec::new() })?;
    /// assert!((ball.volume_mm3() - 4188.790_204_786_391).abs() < 1e-9);
    /// # Ok::<(), solid::PartError>(())
    /// ```
    #[must_use]
    pub fn volume_mm3(&self) -> f64 {
        measure::volume(&self.outline, &self.strips, &self.holes)
    }

    /// Area of the whole surface in square millimetres, exact to rounding; walls and bottoms of holes and all faces of
    /// the teeth are counted.
    ///
    /// ```
    /// use solid::{AxialHole, HoleEnd, Profile, RevolvedPart, Solid};
    /// // A cylinder of 40 mm by 30 mm; a blind hole adds its wall and nothing else.
    /// let profile = Profile::starting_at(0.0, 0.0).line_to(0.0, 20.0).line_to(30.0, 20.0).line_to(30.0, 0.0);
    /// let hole = AxialHole {
    ///     x_mm: 0.0, y_mm: 0.0, diameter_mm: 8.0, from_z_mm: 30.0, to_z_mm: 18.0, end: HoleEnd::FlatBottom,
    /// };
    /// let solid = Solid::new(&RevolvedPart { profile, holes: vec![hole], splines: Vec::new() })?;
    /// let expected = std::f64::consts::PI * (2.0 * 400.0 + 40.0 * 30.0 + 8.0 * 12.0);
    /// assert!((solid.area_mm2() - expected).abs() < 1e-9);
    /// # Ok::<(), solid::PartError>(())
    /// ```
    #[must_use]
    pub fn area_mm2(&self) -> f64 {
        measure::area(&self.outline, &self.strips, &self.holes)
    }

    /// The boundary: corners, edges and faces.
    ///
    /// ```
    /// use solid::{Profile, RevolvedPart, Solid};
    /// let profile = Profile::starting_at(0.0, 0.0).line_to(0.0, 20.0).line_to(30.0, 20.0).line_to(30.0, 0.0);
    /// let shell = Solid::new(&RevolvedPart { profile, holes: Vec::new(), splines: Vec::new() })?.shell();
    /// // Two discs and a cylinder; two circles and the cylinder's seam.
    /// assert_eq!((shell.faces.len(), shell.edges.len(), shell.corners.len()), (3, 3, 2));
    /// # Ok::<(), solid::PartError>(())
    /// ```
    #[must_use]
    pub fn shell(&self) -> Shell {
        revolve::shell(&self.strips, &self.holes, self.outline.closed)
    }

    /// The text of a STEP file, ISO 10303-21 with the schema of ISO 10303-214 (AP214, `automotive_design`): one manifold
    /// solid in millimetres.
    ///
    /// # Errors
    ///
    /// [`StepError`] where the header has no name or a time stamp that is none.
    pub fn to_step(&self, header: &StepHeader<'_>) -> Result<String, StepError> {
        step::write(&self.shell(), header)
    }
}
