//! A true vehicle: parts of the catalog, and a size for every unknown.

use catalog::{BrakeKind, Catalog, Differential, Measurand};
use quantity::LengthExt;
use reconcile::Prior;

use super::chance::Chance;
use crate::chain::{self, Chain, ChainParts};
use crate::circle::Circle;
use crate::demands;
use crate::face::{self, Face};
use crate::geometry::Geometry;
use crate::sheet::Side;
use crate::spline::Spline;

/// A usual size is drawn from its range and half as much again on either side.
const USUAL_WITHIN: f64 = 1.5;
/// Sizes of parts and clearances are drawn within so many standard deviations.
const MADE_WITHIN: f64 = 2.5;
/// Vehicles whose own shafts would not work are drawn again, so often at most.
const TRIES: usize = 500;

/// A true vehicle with the shafts that fit it.
pub struct Vehicle<'a> {
    pub(crate) chain: Chain<'a>,
    pub(crate) circle: Circle<'a>,
    pub(crate) spline: Spline<'a>,
    pub(crate) face: Face<'a>,
    pub(crate) along: Vec<f64>,
    pub(crate) on_circle: Vec<f64>,
    pub(crate) on_spline: Vec<f64>,
    pub(crate) on_face: Vec<f64>,
}

/// Draws a vehicle whose own shafts work: every part passes over what lies inboard of it, and every fit condition holds.
/// None where the catalog allows none.
pub fn draw_vehicle<'a>(
    catalog: &'a Catalog,
    differential: &'a Differential,
    chance: &mut Chance<'_>,
) -> Option<Vehicle<'a>> {
    (0..TRIES).find_map(|_| draw(catalog, differential, chance).filter(|vehicle| works(vehicle, catalog)))
}

fn draw<'a>(catalog: &'a Catalog, differential: &'a Differential, chance: &mut Chance<'_>) -> Option<Vehicle<'a>> {
    let bearing = chance.weighted(&catalog.bearings, |row| row.weight)?;
    let suits = |bore: f64| (bearing.outside.millimetres() - bore).abs() <= 0.2;
    let end = chance
        .weighted(&catalog.housing_ends, |row| if suits(row.bore_diameter.millimetres()) { row.weight } else { 0.0 })?;
    let parts = ChainParts { bearing: Some(bearing), housing_end: Some(end) };
    let chain = Chain { parts, differential, catalog, first_side: Side::Left };

    let row = chance.weighted(&catalog.bolt_circles, |row| row.weight)?;
    let circle = Circle { holes: row.holes, row: Some(row), catalog };
    let series = chance.weighted(&catalog.splines, |row| row.weight)?;
    let count = chance.weighted(&series.counts, |count| count.weight)?;
    let spline = Spline::listed(series, *count, catalog)?;
    let kind = if chance.happens(0.5) { BrakeKind::Drum } else { BrakeKind::Disc };
    let face = Face { brake_changed: false, brake: None, kind, catalog };

    let mut sizes = |priors: Vec<Prior>| -> Vec<f64> {
        let size = |prior: &Prior| {
            let reach = if prior.firm { MADE_WITHIN } else { USUAL_WITHIN };
            chance.normal_within(prior.mean, prior.standard_deviation, reach)
        };
        priors.iter().map(size).collect()
    };
    let along = sizes(chain.priors());
    let mut on_circle = sizes(circle.priors());
    on_circle[crate::circle::COUNT] = f64::from(circle.holes);
    let mut on_spline = sizes(spline.priors());
    on_spline[crate::spline::TEETH] = f64::from(count.teeth);
    let on_face = sizes(face.priors());
    Some(Vehicle { chain, circle, spline, face, along, on_circle, on_spline, on_face })
}

/// Whether the vehicle's own shafts meet every condition that a new pair will be held to.
fn works(vehicle: &Vehicle<'_>, catalog: &Catalog) -> bool {
    let clearances = &catalog.settings.clearances;
    let at = |form: reconcile::Form| form.at(&vehicle.along);
    let major = crate::spline::major_diameter().at(&vehicle.on_spline);
    let seats = [at(chain::journal()), at(chain::ring_seat()), at(chain::seal_journal()), major];
    if !seats.is_sorted_by(|outer, inner| outer >= inner) {
        return false;
    }
    let shoulder = at(chain::shoulder());
    let long_enough = [Side::Left, Side::Right].into_iter().all(|side| {
        let demand = demands::overall_length(side, shoulder, vehicle.spline_major(), catalog);
        let size = demand.ideal.at(&vehicle.along);
        demand.least.is_none_or(|limit| limit.form.at(&vehicle.along) <= size)
            && demand.most.is_none_or(|limit| limit.form.at(&vehicle.along) >= size)
    });
    let on = |form: reconcile::Form| form.at(&vehicle.on_face);
    let flange = on(face::flange());
    let circle = crate::circle::diameter().at(&vehicle.on_circle);
    let hole = vehicle.on_circle[crate::circle::HOLE];
    let edge = 0.5 * (flange - circle - hole);
    let room = on(face::drum_inside()) - flange;
    let pilot = on(face::wheel_pilot());
    long_enough
        && edge >= clearances.hole_to_edge.millimetres() + 1.0
        && room >= clearances.flange_in_drum.millimetres() + 1.0
        && on(face::register()) > pilot + 0.5
        && circle - hole > on(face::register()) + 4.0
}

impl Vehicle<'_> {
    /// The topic that knows a measurand, with the true sizes of its unknowns.
    pub(crate) fn topic_of(&self, measurand: Measurand, side: Option<Side>) -> Option<(&dyn Geometry, &[f64])> {
        let topics: [(&dyn Geometry, &[f64]); 4] = [
            (&self.chain, &self.along),
            (&self.circle, &self.on_circle),
            (&self.spline, &self.on_spline),
            (&self.face, &self.on_face),
        ];
        topics.into_iter().find(|(geometry, _)| geometry.form(measurand, side).is_some())
    }

    /// Basic major diameter of the true spline.
    pub(crate) fn spline_major(&self) -> f64 {
        self.spline.listed.as_ref().map_or(0.0, |(_, _, basic)| basic.major_diameter)
    }
}
