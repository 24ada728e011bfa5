//! The wheel bearing: its seat, its static safety and its life.

use std::f64::consts::PI;

use catalog::{BearingKind, BearingRating, LoadInput};
use elements::bearing_seat::interference_lost_mm;
use elements::interference_fit::{SeatFinish, effective_interference_mm};
use elements::rolling_bearing::{
    BearingLoad, DutyStep, RollingElement, ball_equivalent, ball_static_equivalent, mean_load, opposed_axial_loads,
    rating_life, static_safety, tapered_equivalent, tapered_induced, tapered_static_equivalent,
};
use elements::vehicle_load::{BearingReaction, bearing_reaction};
use quantity::{LengthExt, both_fine, both_fine_range, both_lives, millimetres};

use super::LoadCase;
use super::facts::Facts;
use super::figure::{Figure, Gap, force_text};
use super::inputs::Values;
use super::loads::{Case, Cases, Loading};
use super::sections::Beam;

pub(super) const SEAT_SOURCE: &str = "fits under load and seat smoothing by bearing catalogues (from memory, check)";
pub(super) const STATIC_SOURCE: &str = "ISO 76:2006, static safety";
pub(super) const LIFE_SOURCE: &str = "ISO 281:2007, basic rating life; mean load by the Palmgren-Miner sum";

fn reaction(loading: &Loading, beam: &Beam) -> Result<BearingReaction, Gap> {
    bearing_reaction(&loading.force, loading.wheel, beam.arm_m(), beam.span / 1000.0, beam.tyre_radius_m)
        .map_err(Gap::formula)
}

fn rating<'a>(facts: &Facts<'a>) -> Result<(&'a BearingRating, BearingKind), Gap> {
    let bearing = facts.bearing()?;
    let rating = bearing.rating.as_ref();
    let rating = rating.ok_or_else(|| {
        Gap(format!(
            "the load ratings of the {}: enter them in its row of the catalog, from its maker's sheet",
            bearing.name
        ))
    })?;
    Ok((rating, bearing.kind))
}

/// The load of the bearing in one case: of what comes once, or of what repeats.
///
/// A tapered bearing makes a thrust by itself. The two wheel bearings of an axle are taken to be set against each other through
/// the shafts, the side force on the one in question; each pushes the other.
fn bearing_load(
    case: &Case,
    cases: &Cases,
    beam: &Beam,
    (rating, kind): (&BearingRating, BearingKind),
    of: impl Fn(&Case) -> Option<Loading>,
) -> Result<Option<BearingLoad>, Gap> {
    let Some(loading) = of(case) else { return Ok(None) };
    let own = reaction(&loading, beam)?;
    if own.radial_n <= 0.0 {
        return Ok(None);
    }
    let axial = match kind {
        BearingKind::Ball => own.axial_n,
        BearingKind::Tapered => {
            let y = factor(rating.y, "Y")?;
            let across = match case.case {
                LoadCase::CornerOuter => LoadCase::CornerInner,
                LoadCase::CornerInner => LoadCase::CornerOuter,
                // Only one wheel meets the bump.
                LoadCase::Bump => LoadCase::Straight,
                other => other,
            };
            let other = cases.cases.iter().find(|one| one.case == across).and_then(&of);
            let other_radial =
                other.map_or(Ok(0.0), |loading| reaction(&loading, beam).map(|forces| forces.radial_n))?;
            let induced = |radial| tapered_induced(radial, y).map_err(Gap::formula);
            let loads = opposed_axial_loads(induced(own.radial_n)?, induced(other_radial)?, own.axial_n);
            loads.map_err(Gap::formula)?.pushed
        }
    };
    Ok(Some(BearingLoad { radial: own.radial_n, axial }))
}

/// What is said of a tapered bearing beside its load.
fn thrust_words(kind: BearingKind) -> &'static str {
    match kind {
        BearingKind::Ball => "",
        BearingKind::Tapered => ", with the thrust that the rollers of both wheels make,",
    }
}

/// Least interference of the inner ring over what the load at rest takes off it.
pub(super) fn seat(facts: &Facts<'_>, cases: &Cases, beam: &Beam) -> Result<Figure, Gap> {
    let bearing = facts.bearing()?;
    let bore = bearing.bore.millimetres();
    let (least, most) = bearing.seat_interference;
    let straight = cases.cases.iter().find(|case| case.case == LoadCase::Straight);
    let straight = straight.ok_or_else(|| Gap::size("load at rest"))?;
    let radial = reaction(&straight.limit, beam)?.radial_n;
    let lost = interference_lost_mm(bore, bearing.inner_width.millimetres(), radial).map_err(Gap::formula)?;
    let effective = effective_interference_mm(least.millimetres(), bore, SeatFinish::Ground).map_err(Gap::formula)?;
    Ok(Figure {
        safety: effective / lost,
        detail: format!(
            "the journal grips the inner ring by {}, {} at least after pressing on; {} at rest take {} off",
            both_fine_range(least, most, facts.leading),
            both_fine(millimetres(effective), facts.leading),
            force_text(radial, facts.leading),
            both_fine(millimetres(lost), facts.leading),
        ),
        remedy: "A journal towards its upper limit, or a wider inner ring.".to_owned(),
    })
}

/// Static rating over the worst equivalent static load of all cases.
pub(super) fn at_rest(facts: &Facts<'_>, cases: &Cases, beam: &Beam) -> Result<Figure, Gap> {
    let (rating, kind) = rating(facts)?;
    let mut worst: Option<(f64, &'static str)> = None;
    for case in &cases.cases {
        let Some(load) = bearing_load(case, cases, beam, (rating, kind), |case| Some(case.limit))? else { continue };
        let equivalent = match kind {
            BearingKind::Ball => ball_static_equivalent(load),
            BearingKind::Tapered => tapered_static_equivalent(load, factor(rating.y0, "Y0")?),
        }
        .map_err(Gap::formula)?;
        if worst.is_none_or(|(most, _)| equivalent > most) {
            worst = Some((equivalent, case.case.words()));
        }
    }
    let (equivalent, words) = worst.ok_or_else(|| Gap::size("load on the bearing"))?;
    Ok(Figure {
        safety: static_safety(1000.0 * rating.static_kn, equivalent).map_err(Gap::formula)?,
        detail: format!(
            "worst in the case \"{words}\": {}{} against a static rating of {}",
            force_text(equivalent, facts.leading),
            thrust_words(kind),
            force_text(1000.0 * rating.static_kn, facts.leading)
        ),
        remedy: "A bearing with a higher static rating, or a load plane nearer to it.".to_owned(),
    })
}

/// Rating life over the life of the shaft.
pub(super) fn life(values: &Values, facts: &Facts<'_>, cases: &Cases, beam: &Beam) -> Result<Figure, Gap> {
    let (rating, kind) = rating(facts)?;
    let element = match kind {
        BearingKind::Ball => RollingElement::Ball,
        BearingKind::Tapered => RollingElement::Roller,
    };
    let mut steps = Vec::new();
    for case in cases.cases.iter().filter(|case| case.share > 0.0) {
        let repeated = |case: &Case| case.repeated.map(|(loading, _)| loading);
        let Some(load) = bearing_load(case, cases, beam, (rating, kind), repeated)? else { continue };
        let equivalent = match kind {
            BearingKind::Ball => ball_equivalent(load, 1000.0 * rating.static_kn, factor(rating.f0, "f0")?),
            BearingKind::Tapered => tapered_equivalent(load, factor(rating.e, "e")?, factor(rating.y, "Y")?),
        }
        .map_err(Gap::formula)?;
        // The shares are of the revolutions, so every step has the same speed.
        steps.push(DutyStep { load: equivalent, speed_rev_per_min: 1.0, time: case.share });
    }
    let mean = mean_load(&steps, element).map_err(Gap::formula)?;
    let million = rating_life(1000.0 * rating.dynamic_kn, mean.load, element).map_err(Gap::formula)?;
    let kilometres = million * 1e6 * 2.0 * PI * beam.tyre_radius_m / 1000.0;
    Ok(Figure {
        safety: million * 1e6 / cases.revolutions,
        detail: format!(
            "a mean load of {}{} gives {}; the shaft is to last {}",
            force_text(mean.load, facts.leading),
            thrust_words(kind),
            both_lives(kilometres, facts.leading),
            LoadInput::Distance.text(values.get(LoadInput::Distance)?, facts.leading),
        ),
        remedy: "A bearing with a higher dynamic rating, or a load plane nearer to it.".to_owned(),
    })
}

fn factor(value: Option<f64>, name: &str) -> Result<f64, Gap> {
    value.ok_or_else(|| Gap(format!("the factor {name} in the bearing's row of bearings.toml")))
}
