//! The shaft from wheel face to spline, as sections.

use catalog::LoadInput;
use elements::fatigue::SurfaceFinish;
use elements::vehicle_load::bearing_moment;
use quantity::LengthExt;

use super::facts::Facts;
use super::figure::Gap;
use super::inputs::{End, Values};
use super::loads::Loading;
use crate::review::DimensionKind;

/// What raises the stress at a section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Notch {
    /// A fillet up to a larger diameter.
    Shoulder { larger: f64, radius: f64 },
    /// The edge of a ring that is pressed on.
    PressFit,
    /// The roots of the spline.
    SplineRoots,
    /// Nothing.
    Plain,
}

/// One section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Section {
    pub name: &'static str,
    /// Distance from the wheel face, mm.
    pub at: f64,
    pub diameter: f64,
    pub notch: Notch,
    pub finish: SurfaceFinish,
    /// Depth of the hard case there, where there is one.
    pub case_depth: Option<f64>,
}

/// The shaft as a beam: load plane, bearing plane, side gear.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Beam {
    pub sections: Vec<Section>,
    /// The bearing plane from the wheel face, mm.
    pub bearing_at: f64,
    /// From the bearing plane to the middle of the engaged spline, mm.
    pub span: f64,
    /// The load plane outboard of the wheel face, mm.
    pub offset: f64,
    pub tyre_radius_m: f64,
}

/// The larger diameter at the bearing shoulder over the journal: the shoulder stands about a tenth above it.
/// From memory, check.
const SHOULDER_RATIO: f64 = 1.1;

impl Beam {
    pub fn of(facts: &Facts<'_>, values: &Values) -> Result<Self, Gap> {
        use DimensionKind as D;
        let bearing = facts.bearing()?;
        let spline = facts.spline()?;
        let journal = facts.size(D::JournalDiameter, "journal diameter")?;
        let shoulder_at = facts.size(D::ShoulderDistance, "shoulder distance")?;
        let bearing_at = facts.size(D::RaceDistance, "race distance")? + bearing.outer_width.millimetres() / 2.0;
        let length = facts.size(D::OverallLength, "overall length")?;
        let span = length - facts.engagement / 2.0 - bearing_at;
        if span <= 0.0 {
            return Err(Gap("an overall length that reaches past the bearing".to_owned()));
        }
        let ring_seat_at = shoulder_at + bearing.inner_width.millimetres();
        let ring_width = values.get(LoadInput::RingWidth)?;
        let seal_journal = facts.size(D::SealJournalDiameter, "seal journal diameter")?;
        let ring_seat = facts.size(D::RingSeatDiameter, "ring seat diameter")?;
        let flange = facts.size(D::FlangeDiameter, "flange diameter")?;
        let depth = |input| if facts.hardened { values.get(input).map(Some) } else { Ok(None) };
        let (body_case, spline_case) = (depth(LoadInput::CaseDepth)?, depth(LoadInput::SplineCaseDepth)?);
        let step = values.get(LoadInput::ShoulderFillet)?;
        // Where nobody says, the body tapers: from the seal journal or the tips of the spline at its wheel end to the tips or
        // the roots of the spline at its inner end.
        let (thick, thin) = match values.end {
            End::Mild => (seal_journal, spline.major),
            End::Harsh => (spline.major, spline.minor),
        };
        let stated = values.optional(LoadInput::BodyDiameter);
        let (outer_body, inner_body) =
            (stated.unwrap_or(thick.min(seal_journal)), stated.unwrap_or(thin.min(seal_journal)));

        let section =
            |name, at, diameter, notch, finish, case_depth| Section { name, at, diameter, notch, finish, case_depth };
        let (ground, turned) = (SurfaceFinish::Ground, SurfaceFinish::Machined);
        let after_ring = ring_seat_at + ring_width;
        let sections = vec![
            // Between flange and shoulder the shaft is thicker than the journal; how much is not known, so the journal's
            // diameter is taken, the smallest that it can be.
            section(
                "flange fillet",
                facts.size(D::FlangeThickness, "flange thickness")?,
                journal,
                Notch::Shoulder { larger: flange, radius: values.get(LoadInput::FlangeFillet)? },
                turned,
                body_case,
            ),
            section(
                "bearing shoulder",
                shoulder_at,
                journal,
                Notch::Shoulder { larger: SHOULDER_RATIO * journal, radius: step },
                ground,
                body_case,
            ),
            section("bearing seat", bearing_at, journal, Notch::PressFit, ground, body_case),
            section("ring seat", ring_seat_at + ring_width / 2.0, ring_seat, Notch::PressFit, ground, body_case),
            section(
                "step to the seal journal",
                after_ring,
                seal_journal,
                Notch::Shoulder { larger: ring_seat, radius: step },
                ground,
                body_case,
            ),
            // The body begins where the seal journal ends; there its bending is largest.
            section("body, wheel end", after_ring + ring_width, outer_body, Notch::Plain, turned, body_case),
            section("body, middle", (after_ring + length) / 2.0, inner_body, Notch::Plain, turned, body_case),
            section("spline roots", length - facts.engagement, spline.minor, Notch::SplineRoots, turned, spline_case),
        ];
        Ok(Self {
            sections,
            bearing_at,
            span,
            offset: values.get(LoadInput::WheelOffset)?,
            tyre_radius_m: values.metres(LoadInput::TyreRadius)?,
        })
    }

    /// From the load plane to the bearing plane, m.
    pub fn arm_m(&self) -> f64 {
        (self.offset + self.bearing_at) / 1000.0
    }

    /// Bending moment at a distance from the wheel face, N·m: the forces of the wheel outboard of the bearing; inboard of it
    /// what is left on the straight way to the side gear.
    pub fn bending(&self, loading: &Loading, at: f64) -> Result<f64, Gap> {
        let outboard = at.min(self.bearing_at);
        let arm = (self.offset + outboard) / 1000.0;
        let moment = bearing_moment(&loading.force, loading.wheel, arm, self.tyre_radius_m).map_err(Gap::formula)?;
        let left = 1.0 - (at - outboard) / self.span;
        Ok(moment * left.max(0.0))
    }
}
