//! The parts and places that the shafts go with, as far as the review knows them: what a drawing needs beside the sizes to
//! cut.

mod access_hole;
mod spline;

use catalog::{BearingKind, BrakeKind, Catalog, LoadInput, Measurand, Sides};
use quantity::{Length, LengthExt, millimetres};
use reconcile::Form;

use crate::block::Block;
use crate::blocks::Blocks;
use crate::chain::{self, Place};
use crate::decide::Decisions;
use crate::face;
use crate::geometry::Geometry;
use crate::outlook::Outlook;
use crate::proof::shaft_detail;
use crate::review::{Basis, Dimension, DimensionKind};
use crate::sheet::{Sheet, Side};

pub use access_hole::FittedAccessHole;
pub use spline::{FittedSpline, OverPins};

/// A size of a part or a place that is not itself cut.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedSize {
    /// The size that is likeliest.
    pub size: Length,
    /// Its standard uncertainty, where the readings or the catalog give one.
    pub standard_uncertainty: Option<Length>,
    /// How it came about.
    pub basis: Basis,
    /// Where it comes from, in words.
    pub source: String,
}

/// The parts and places that the shafts go with.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// The wheel bearing.
    pub bearing: FittedBearing,
    /// The housing end.
    pub housing_end: FittedHousingEnd,
    /// Brake and retainer.
    pub brake: FittedBrake,
    /// The differential.
    pub differential: FittedDifferential,
    /// Number of holes in the bolt circle; none where nothing was read of the circle.
    pub holes: Option<u32>,
    /// The access hole of the flange.
    pub access_hole: FittedAccessHole,
    /// The spline; none where it is in no series.
    pub spline: Option<FittedSpline>,
    /// What is not read off an old shaft: fillets, ring, body, case.
    pub shaft: FittedShaft,
}

/// The wheel bearing with the likeliest row.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedBearing {
    /// Name of its row; none where it is in no row.
    pub name: Option<String>,
    /// How it carries its load, where the row says.
    pub kind: Option<BearingKind>,
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
#[derive(Debug, Clone, PartialEq)]
pub struct FittedHousingEnd {
    /// Name of its row; none where it is in no row.
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

/// Brake and retainer.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedBrake {
    /// Drum or disc.
    pub kind: BrakeKind,
    /// Bore of drum or rotor.
    pub bore: FittedSize,
    /// Inside of drum or rotor hat, that the flange clears.
    pub inside: FittedSize,
    /// Web of drum or rotor hat.
    pub web: FittedSize,
    /// What is trapped between bearing and retainer in all: brake plate and shims.
    pub trapped: FittedSize,
}

/// The differential with both sides of the housing.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedDifferential {
    /// Name of its row; none where the sheet names none.
    pub name: Option<String>,
    /// Half of the cross pin or centre block.
    pub half_pin: FittedSize,
    /// From the cross pin to the outer end of the side gear's spline.
    pub gear_reach: FittedSize,
    /// Both sides, left first.
    pub sides: [FittedSide; 2],
}

/// One side of the housing.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedSide {
    /// Which side.
    pub side: Side,
    /// Housing-end face to differential centre.
    pub half_width: FittedSize,
    /// Inner end of the new shaft to differential centre; none where no length is decided for the side.
    pub end_gap: Option<FittedSize>,
    /// Overlap of the new shaft's spline with the side gear's; none likewise.
    pub engagement: Option<FittedSize>,
}

/// What is not read off an old shaft.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedShaft {
    /// Fillet between flange and shaft.
    pub flange_fillet: Option<FittedSize>,
    /// Fillet at the bearing shoulder.
    pub shoulder_fillet: Option<FittedSize>,
    /// Width of the lock ring.
    pub ring_width: Option<FittedSize>,
    /// Diameter of the body, where the sheet states it.
    pub body_diameter: Option<FittedSize>,
    /// Depth of the hard case in the body; none where the shaft is not hardened.
    pub case_depth: Option<FittedSize>,
    /// Depth of the hard case under the roots of the spline; none likewise.
    pub spline_case_depth: Option<FittedSize>,
    /// Least hardness of the case, Rockwell C; none likewise.
    pub case_hardness: Option<f64>,
    /// Grade and treatment of the steel.
    pub steel: String,
    /// Whether the sheet states the steel.
    pub steel_is_stated: bool,
    /// Diameter of the zone in which the centre of a flange hole must lie.
    pub hole_position: Length,
}

/// Says what the shafts go with.
pub(crate) fn fitted(
    sheet: &Sheet,
    catalog: &Catalog,
    blocks: &Blocks<'_>,
    decisions: &Decisions<'_>,
    dimensions: &[Dimension],
) -> Fitted {
    let bearing = decisions.bearing.0;
    let end = blocks.chain.likeliest().and_then(|one| blocks.chain.choice(one.model).parts.housing_end);
    let from_bearing = bearing.map(|row| format!("bearing {}: {}", row.name, row.source));
    let from_end = end.map(|row| format!("housing end {}: {}", row.name, row.source));
    let named = sheet.differential.as_deref().and_then(|name| catalog.differential(name));
    let from_differential = named.map(|row| format!("differential {}: {}", row.name, row.source));
    let on_chain = Sizes::of(&blocks.chain, &chain_forms(dimensions));
    let of_bearing = |place, measurand| on_chain.size(&chain::place(place), measurand, None, &from_bearing);
    let of_end = |place, measurand| on_chain.size(&chain::place(place), measurand, None, &from_end);
    let of_chain = |place, measurand, row: &Option<String>| on_chain.size(&chain::place(place), measurand, None, row);
    let nothing = None;
    let half_pin = of_chain(Place::HalfPin, None, &from_differential);
    let gear_reach = of_chain(Place::GearReach, None, &from_differential);
    let brake_row = sheet.parts.brake.row.as_deref().and_then(|name| catalog.brake(name));
    let from_brake = brake_row.map(|row| format!("brake {}: {}", row.name, row.source));
    let drum_bore = blocks.face.choices.first().map_or_else(face::wheel_bore, |choice| choice.drum_bore());
    let on_face = Sizes::of(&blocks.face, &[drum_bore.clone(), face::drum_inside()]);
    let of_face = |form: &Form, measurand| on_face.size(form, Some(measurand), None, &from_brake);
    let side = |side| FittedSide {
        side,
        half_width: on_chain.size(&half_width(side), Some(Measurand::HalfWidth), Some(side), &nothing),
        end_gap: end_gap(dimensions, side).map(|form| on_chain.follows(&form, END_GAP)),
        engagement: engagement(dimensions, side).map(|form| on_chain.follows(&form, ENGAGEMENT)),
    };
    let detail = |input| shaft_detail(sheet, catalog, input);
    let hardened = sheet.loads.steel.induction_hardened.unwrap_or(catalog.settings.proof.induction_hardened);
    let case = |input| if hardened { detail(input) } else { None };
    let rules = &catalog.settings.proof;
    let steel = sheet.loads.steel.row.as_ref();
    let (grade, treatment) =
        steel.map_or((&rules.steel_grade, &rules.steel_treatment), |(grade, treatment)| (grade, treatment));
    Fitted {
        bearing: FittedBearing {
            name: bearing.map(|row| row.name.clone()),
            kind: bearing.map(|row| row.kind),
            bore: of_bearing(Place::BearingBore, Some(Measurand::BearingBore)),
            outside: of_bearing(Place::BearingOutside, Some(Measurand::BearingOutside)),
            inner_width: of_bearing(Place::InnerWidth, Some(Measurand::BearingInnerWidth)),
            outer_width: of_bearing(Place::OuterWidth, Some(Measurand::BearingOuterWidth)),
        },
        housing_end: FittedHousingEnd {
            name: end.map(|row| row.name.clone()),
            bore: of_end(Place::HousingBore, Some(Measurand::HousingBoreDiameter)),
            depth: of_end(Place::BoreDepth, Some(Measurand::HousingBoreDepth)),
            rectangle_long: of_end(Place::RectangleLong, Some(Measurand::BoltRectangleLong)),
            rectangle_short: of_end(Place::RectangleShort, Some(Measurand::BoltRectangleShort)),
            bolt_hole: of_end(Place::BoltHole, Some(Measurand::HousingBoltHole)),
        },
        brake: FittedBrake {
            kind: blocks.face.choices.first().map_or(BrakeKind::Drum, |choice| choice.kind),
            bore: of_face(&drum_bore, Measurand::DrumBore),
            inside: of_face(&face::drum_inside(), Measurand::DrumInside),
            web: of_chain(Place::DrumWeb, None, &nothing),
            trapped: of_chain(Place::Trapped, Some(Measurand::TrappedThickness), &nothing),
        },
        differential: FittedDifferential {
            name: named.map(|row| row.name.clone()),
            half_pin,
            gear_reach,
            sides: [side(Side::Left), side(Side::Right)],
        },
        holes: (!blocks.circle.taken.is_empty())
            .then(|| blocks.circle.choices.get(decisions.circle.0).map(|choice| choice.holes))
            .flatten(),
        access_hole: access_hole::fitted_access_hole(sheet, dimensions),
        spline: spline::fitted_spline(sheet, catalog, blocks, decisions),
        shaft: FittedShaft {
            flange_fillet: detail(LoadInput::FlangeFillet),
            shoulder_fillet: detail(LoadInput::ShoulderFillet),
            ring_width: detail(LoadInput::RingWidth),
            body_diameter: detail(LoadInput::BodyDiameter),
            case_depth: case(LoadInput::CaseDepth),
            spline_case_depth: case(LoadInput::SplineCaseDepth),
            case_hardness: hardened.then_some(rules.case_hardness.value),
            steel: format!("{grade}, {treatment}"),
            steel_is_stated: steel.is_some(),
            hole_position: catalog.settings.tolerances.hole_position,
        },
    }
}

const END_GAP: &str = "end gap = brake offset + half width − overall length";
const ENGAGEMENT: &str = "engagement = reach of the side gear − clearance of the end to the cross pin";

/// Every form of the chain that is asked for below.
fn chain_forms(dimensions: &[Dimension]) -> Vec<Form> {
    let places = [
        Place::BearingBore,
        Place::BearingOutside,
        Place::InnerWidth,
        Place::OuterWidth,
        Place::HousingBore,
        Place::BoreDepth,
        Place::RectangleLong,
        Place::RectangleShort,
        Place::BoltHole,
        Place::DrumWeb,
        Place::Trapped,
        Place::HalfPin,
        Place::GearReach,
    ];
    let of_sides = [Side::Left, Side::Right]
        .into_iter()
        .flat_map(|side| [Some(half_width(side)), end_gap(dimensions, side), engagement(dimensions, side)]);
    places.map(chain::place).into_iter().chain(of_sides.flatten()).collect()
}

/// The sizes of a topic, seen through its mixture all at once.
struct Sizes<'s, 'a, C> {
    block: &'s Block<'a, C>,
    outlook: Outlook,
    /// The readings that the likeliest explanation takes to be mistaken.
    spoiled: Vec<usize>,
}

impl<'s, 'a, C: Geometry> Sizes<'s, 'a, C> {
    fn of(block: &'s Block<'a, C>, forms: &[Form]) -> Self {
        let outlook = Outlook::in_all(&block.mixture, forms);
        let spoiled = block.likeliest().map(|one| block.mixture.readings_spoiled(one)).unwrap_or_default();
        Self { block, outlook, spoiled }
    }

    /// Mean and standard deviation of a form over all explanations.
    fn moments(&self, form: &Form) -> (f64, f64) {
        let marginal = self.outlook.marginal_given(form, |_| true);
        let marginal = marginal.unwrap_or_else(|| self.block.mixture.marginal(form));
        (marginal.mean(), marginal.standard_deviation())
    }

    /// A size over all explanations, with how it came about: read, out of a row of the catalog or out of other readings, or
    /// known no better than beforehand.
    fn size(&self, form: &Form, measurand: Option<Measurand>, side: Option<Side>, row: &Option<String>) -> FittedSize {
        let (mean, deviation) = self.moments(form);
        let is_read = self.block.taken.iter().enumerate().any(|(at, one)| {
            let same_side = one.row.sides != Sides::Each || one.side == side;
            Some(one.measurand) == measurand && same_side && !self.spoiled.contains(&at)
        });
        let before = self.block.models.first().map_or(0.0, |model| {
            let variance = |(at, a): &(usize, f64)| (a * model.priors[*at].standard_deviation).powi(2);
            form.terms().iter().map(variance).sum::<f64>().sqrt()
        });
        let (basis, source) = match (is_read, row) {
            (true, _) => (Basis::Measured, "order sheet, weighed with the other readings".to_owned()),
            (false, Some(row)) => (Basis::Derived, row.clone()),
            (false, None) if deviation < 0.5 * before => (Basis::Derived, "the other readings".to_owned()),
            (false, None) => (Basis::Assumed, "a usual size of the catalog".to_owned()),
        };
        FittedSize { size: millimetres(mean), standard_uncertainty: Some(millimetres(deviation)), basis, source }
    }

    /// A size that follows by a rule.
    fn follows(&self, form: &Form, rule: &str) -> FittedSize {
        let (mean, deviation) = self.moments(form);
        FittedSize {
            size: millimetres(mean),
            standard_uncertainty: Some(millimetres(deviation)),
            basis: Basis::Derived,
            source: rule.to_owned(),
        }
    }
}

fn cut_of(dimensions: &[Dimension], kind: DimensionKind, side: Option<Side>) -> Option<f64> {
    let found = dimensions.iter().find(|dimension| dimension.kind == kind && dimension.side == side);
    found.map(|dimension| dimension.cut.millimetres())
}

fn half_width(side: Side) -> Form {
    chain::reach(side).plus(&chain::place(Place::HalfPin))
}

/// The end clearance that the new shaft leaves as a form: `s + (δ + C − p) + reach − L`.
fn clearance(dimensions: &[Dimension], side: Side) -> Option<Form> {
    let length = cut_of(dimensions, DimensionKind::OverallLength, Some(side))?;
    let shoulder = cut_of(dimensions, DimensionKind::ShoulderDistance, None)?;
    Some(chain::shoulder_to_housing_end().plus(&chain::reach(side)).offset_by(shoulder - length))
}

/// `g = O + H − L`.
fn end_gap(dimensions: &[Dimension], side: Side) -> Option<Form> {
    Some(clearance(dimensions, side)?.plus(&chain::place(Place::HalfPin)))
}

/// Gear reach less the end clearance.
fn engagement(dimensions: &[Dimension], side: Side) -> Option<Form> {
    Some(chain::place(Place::GearReach).minus(&clearance(dimensions, side)?))
}
