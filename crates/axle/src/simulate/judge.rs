//! Whether shafts that are cut to a review fit the true vehicle.

use catalog::Catalog;
use quantity::LengthExt;
use reconcile::Form;

use super::chance::Chance;
use super::vehicle::Vehicle;
use crate::demand::Demand;
use crate::demands;
use crate::review::{Consequence, DimensionKind, PartKind, Review};
use crate::sheet::{Sheet, Side};

/// What became of shafts that were cut to a review.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// Whether they fit the first time.
    pub fits: bool,
    /// The conditions that failed, in words.
    pub failed: Vec<String>,
}

/// Makes shafts to the dimensions of a review, off by what the shop's tolerances allow, and tries them in the vehicle.
pub fn judge(
    vehicle: &Vehicle<'_>,
    sheet: &Sheet,
    catalog: &Catalog,
    review: &Review,
    chance: &mut Chance<'_>,
) -> Outcome {
    let mut failed = Vec::new();
    let cut = |kind, side| review.dimension(kind, side).map(|dimension| dimension.cut.millimetres());

    let mut made = |kind: DimensionKind, side: Option<Side>, tolerance: f64| {
        cut(kind, side).map(|size| size + tolerance * (2.0 * chance.even() - 1.0))
    };
    let mut hold = |demand: &Demand, size: Option<f64>, truth: &[f64]| {
        let Some(size) = size else {
            failed.push(format!("{:?} was not given", demand.kind));
            return;
        };
        let beyond = |form: &Form| form.at(truth);
        for limit in demand.least.iter().filter(|limit| size < beyond(&limit.form)) {
            if limit.consequence != Consequence::Nuisance {
                failed.push(limit.words.to_owned());
            }
        }
        for limit in demand.most.iter().filter(|limit| size > beyond(&limit.form)) {
            if limit.consequence != Consequence::Nuisance {
                failed.push(limit.words.to_owned());
            }
        }
    };

    let shoulder_demand = demands::shoulder(sheet, catalog);
    let shoulder = made(DimensionKind::ShoulderDistance, None, shoulder_demand.tolerance);
    hold(&shoulder_demand, shoulder, &vehicle.along);
    for side in &sheet.wanted {
        let demand = demands::overall_length(*side, shoulder.unwrap_or(0.0), vehicle.spline_major(), catalog);
        let size = made(DimensionKind::OverallLength, Some(*side), demand.tolerance);
        hold(&demand, size, &vehicle.along);
    }
    let register = demands::register(&vehicle.face, catalog);
    let size = made(DimensionKind::RegisterDiameter, None, register.tolerance);
    hold(&register, size, &vehicle.on_face);
    let pilot = demands::wheel_pilot(catalog);
    let size = made(DimensionKind::WheelPilotDiameter, None, pilot.tolerance);
    hold(&pilot, size, &vehicle.on_face);
    let flange = demands::flange_in_drum(catalog);
    let size = made(DimensionKind::FlangeDiameter, None, flange.tolerance);
    hold(&flange, size, &vehicle.on_face);
    let circle = demands::bolt_circle(catalog);
    let size = made(DimensionKind::BoltCircle, None, circle.tolerance);
    hold(&circle, size, &vehicle.on_circle);

    let named = |kind: PartKind| {
        let part = review.identified.iter().find(|part| part.kind == kind)?;
        part.candidates.first().map(|candidate| candidate.name.clone())
    };
    if named(PartKind::Bearing) != vehicle.chain.parts.bearing.map(|row| row.name.clone()) {
        failed.push(demands::words::BEARING.to_owned());
    }
    if named(PartKind::Spline) != vehicle.spline.name() {
        failed.push(demands::words::SPLINE.to_owned());
    }
    Outcome { fits: failed.is_empty(), failed }
}
