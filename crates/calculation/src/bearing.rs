//! `axlewright bearing`: rating life and static safety of a wheel bearing.

mod clearance;

use axle::CAUTIONS;
use catalog::{Bearing, BearingKind, BearingRating, Catalog};
use clap::Args;
use elements::rolling_bearing::{
    BearingError, BearingLoad, LifeEdition, RollingElement, ball_equivalent, ball_factors, ball_static_equivalent,
    life_distance_km, life_hours, opposed_axial_loads, rating_for_life, rating_life, relative_axial_load,
    reliability_factor, revolutions_over, static_safety, tapered_equivalent, tapered_induced,
    tapered_static_equivalent,
};
use quantity::{Leading, LengthExt, WrittenLength};

use super::{Block, Calculation, CalculationArguments, Inputs, Quantity, Refusals};
use clearance::clearance_block;

/// Examples for the help.
pub const EXAMPLES: &str = "\
Examples:
  axlewright bearing --dynamic 30.7 kN --static 17.8 kN --f0 14.0 --radial 4.0 kN --axial 1.5 kN --speed 700
      a ball bearing by its ratings
  axlewright bearing --bearing 40x80x18 ball --radial 900 lbf --tyre-radius 13 in --distance 100000 mi
      a bearing of the catalog, its life in miles, and the rating needed for a distance
  axlewright bearing --kind tapered --dynamic 61.6 kN --e 0.37 --y 1.6 --radial 6.0 kN --axial 3.0 kN --speed 500
      a tapered bearing
  axlewright bearing --kind tapered --dynamic 61.6 kN --e 0.37 --y 1.6 --radial 6.0 kN --axial 3.0 kN --other-radial 4.0 kN
      the same set against a like one, each pushing the other
  axlewright bearing --bore 25 mm --kind ball --radial 2 kN --reliability 95 --edition 1990
      the catalog's only one of that bore and kind, at another reliability and by the older factors

Exit status:
  0  the bearing was computed
  2  an argument could not be used";

/// The arguments of `bearing`.
#[derive(Debug, Args)]
pub struct BearingArguments {
    /// Bore of a bearing of the catalog, which gives the ratings
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    bore: Option<Vec<String>>,

    /// Name of a bearing of the catalog, which gives the ratings
    #[arg(long, value_name = "NAME", num_args = 1..=6, conflicts_with = "bore")]
    bearing: Option<Vec<String>>,

    /// Kind: ball or tapered
    #[arg(long, value_name = "KIND")]
    kind: Option<String>,

    /// Basic dynamic load rating
    #[arg(long, value_name = "FORCE", num_args = 1..=2, conflicts_with_all = ["bore", "bearing"])]
    dynamic: Option<Vec<String>>,

    /// Basic static load rating
    #[arg(long = "static", value_name = "FORCE", num_args = 1..=2, conflicts_with_all = ["bore", "bearing"])]
    static_rating: Option<Vec<String>>,

    /// Factor f0 of a ball bearing
    #[arg(long, value_name = "FACTOR", conflicts_with_all = ["bore", "bearing"])]
    f0: Option<String>,

    /// Limit e of a tapered bearing
    #[arg(long, value_name = "LIMIT", conflicts_with_all = ["bore", "bearing"])]
    e: Option<String>,

    /// Axial factor Y of a tapered bearing
    #[arg(long, value_name = "FACTOR", conflicts_with_all = ["bore", "bearing"])]
    y: Option<String>,

    /// Static axial factor Y0 of a tapered bearing
    #[arg(long, value_name = "FACTOR", conflicts_with_all = ["bore", "bearing"])]
    y0: Option<String>,

    /// Radial load
    #[arg(long, value_name = "FORCE", num_args = 1..=2)]
    radial: Option<Vec<String>>,

    /// Radial load of a like tapered bearing that is set against this one; the axial load is then the outside force
    #[arg(long, value_name = "FORCE", num_args = 1..=2)]
    other_radial: Option<Vec<String>>,

    /// Axial load
    #[arg(long, value_name = "FORCE", num_args = 1..=2)]
    axial: Option<Vec<String>>,

    /// Speed in revolutions a minute: gives hours
    #[arg(long, value_name = "REVOLUTIONS")]
    speed: Option<String>,

    /// Radius with which the tyre rolls: gives kilometres and miles
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    tyre_radius: Option<Vec<String>>,

    /// Distance that the bearing is wanted to last: gives the rating needed for it
    #[arg(long, value_name = "DISTANCE", num_args = 1..=2, requires = "tyre_radius")]
    distance: Option<Vec<String>>,

    /// Reliability in percent: 90, 95, 96, 97, 98 or 99
    #[arg(long, value_name = "PERCENT")]
    reliability: Option<String>,

    /// Edition of ISO 281 whose reliability factors are used: 1990 or 2007
    #[arg(long, value_name = "YEAR")]
    edition: Option<String>,

    /// The unit.
    #[command(flatten)]
    pub common: CalculationArguments,
}

/// The bearing with its ratings, in newtons.
struct Rated {
    words: String,
    source: String,
    kind: BearingKind,
    dynamic_n: f64,
    static_n: Option<f64>,
    f0: Option<f64>,
    e: Option<f64>,
    y: Option<f64>,
    y0: Option<f64>,
    /// What pressing on leaves of its clearance, for a ball bearing of the catalog.
    clearance: Option<Block>,
}

/// What is wanted of it.
struct Wanted {
    load: BearingLoad,
    other_radial: Option<f64>,
    speed: Option<f64>,
    tyre_radius: Option<WrittenLength>,
    distance_km: Option<f64>,
    reliability: f64,
    edition: LifeEdition,
}

/// Computes the bearing.
///
/// # Errors
///
/// Every argument that cannot be used.
pub fn compute(arguments: &BearingArguments, catalog: &Catalog) -> Result<Calculation, Refusals> {
    let mut inputs = Inputs::new(arguments.common.unit.as_deref());
    let mut taken = Vec::new();
    let rated = read_rated(arguments, catalog, &mut inputs, &mut taken);
    let wanted = read_wanted(arguments, &mut inputs, &mut taken);
    inputs.settle()?;
    let (Some(rated), Some(wanted)) = (rated, wanted) else { return Err(inputs.take_refusals()) };
    check_factors(&rated, &wanted, &mut inputs);
    inputs.settle()?;
    let blocks = computed(&rated, &wanted).map_err(|error| {
        let (argument, text) = match &error {
            BearingError::Range { what, .. } if what.contains("f0·Fa/C0") => ("--axial", joined(&arguments.axial)),
            BearingError::Range { what, .. } if what.contains("f0") => ("--f0", arguments.f0.clone()),
            BearingError::Range { what, .. } if what.contains("Y0") => ("--y0", arguments.y0.clone()),
            BearingError::Range { what, .. } if what.contains("factor Y") => ("--y", arguments.y.clone()),
            BearingError::Range { .. } => ("--e", arguments.e.clone()),
            BearingError::Reliability { .. } => ("--reliability", arguments.reliability.clone()),
            _ => ("--radial", joined(&arguments.radial)),
        };
        inputs.refuse(argument, &text.unwrap_or_default(), error.to_string(), "");
        inputs.take_refusals()
    })?;
    let inch = joined(&arguments.radial).is_some_and(|text| text.ends_with("lbf") || text.ends_with("lb"));
    Ok(Calculation {
        command: "bearing",
        subject: rated.words,
        leading: if inch { Leading::Inches } else { Leading::Millimetres },
        taken,
        blocks,
        cautions: &CAUTIONS,
    })
}

fn joined(words: &Option<Vec<String>>) -> Option<String> {
    words.as_ref().map(|words| words.join(" "))
}

fn read_rated(
    arguments: &BearingArguments,
    catalog: &Catalog,
    inputs: &mut Inputs,
    taken: &mut Vec<String>,
) -> Option<Rated> {
    let kinds = [("ball", BearingKind::Ball), ("tapered", BearingKind::Tapered)];
    let kind = arguments.kind.as_deref().and_then(|text| inputs.one_of("--kind", text, &kinds));
    if arguments.bore.is_some() || arguments.bearing.is_some() {
        return from_catalog(arguments, kind, catalog, inputs);
    }
    let dynamic_n = inputs.force("--dynamic", &arguments.dynamic);
    if arguments.dynamic.is_none() {
        let accepted = "--dynamic with a force, or --bore or --bearing for one of the catalog";
        inputs.miss("--dynamic", "neither ratings nor a bearing of the catalog are given", accepted);
    }
    let static_n = inputs.force("--static", &arguments.static_rating);
    let factor = "a number, such as 14.0";
    let f0 = inputs.number("--f0", arguments.f0.as_deref(), factor);
    let e = inputs.number("--e", arguments.e.as_deref(), "a number, such as 0.37");
    let y = inputs.number("--y", arguments.y.as_deref(), "a number, such as 1.6");
    let y0 = inputs.number("--y0", arguments.y0.as_deref(), "a number, such as 0.9");
    let kind = kind.unwrap_or_else(|| {
        taken.push("a deep groove ball bearing".to_owned());
        BearingKind::Ball
    });
    let words = match kind {
        BearingKind::Ball => "ball bearing by its ratings",
        BearingKind::Tapered => "tapered bearing by its ratings",
    };
    let source = "the ratings as given".to_owned();
    Some(Rated {
        words: words.to_owned(),
        source,
        kind,
        dynamic_n: dynamic_n?,
        static_n,
        f0,
        e,
        y,
        y0,
        clearance: None,
    })
}

fn from_catalog(
    arguments: &BearingArguments,
    kind: Option<BearingKind>,
    catalog: &Catalog,
    inputs: &mut Inputs,
) -> Option<Rated> {
    /// Bores closer than this are the same: far below the tolerance of any bore.
    const SAME_MM: f64 = 0.01;
    let rated: Vec<(&Bearing, &BearingRating)> =
        catalog.bearings.iter().filter_map(|row| Some((row, row.rating.as_ref()?))).collect();
    let kind_fits = |row: &Bearing| kind.is_none_or(|kind| kind == row.kind);
    let (argument, text, found) = match joined(&arguments.bearing) {
        Some(name) => {
            let found: Vec<_> =
                rated.iter().filter(|(row, _)| row.name.eq_ignore_ascii_case(&name) && kind_fits(row)).collect();
            ("--bearing", name, found)
        }
        None => {
            let bore_mm = inputs.length("--bore", &arguments.bore)?.value().millimetres();
            let same = |row: &Bearing| (row.bore.millimetres() - bore_mm).abs() < SAME_MM;
            let found: Vec<_> = rated.iter().filter(|(row, _)| same(row) && kind_fits(row)).collect();
            ("--bore", joined(&arguments.bore).unwrap_or_default(), found)
        }
    };
    let names = |rows: &[&(&Bearing, &BearingRating)]| {
        let names: Vec<String> = rows.iter().map(|(row, _)| format!("{:?}", row.name)).collect();
        names.join(", ")
    };
    match found[..] {
        [(row, rating)] => Some(Rated {
            words: row.name.clone(),
            source: format!("the catalog: {}", rating.source),
            kind: row.kind,
            dynamic_n: rating.dynamic_kn * 1000.0,
            static_n: Some(rating.static_kn * 1000.0),
            f0: rating.f0,
            e: rating.e,
            y: rating.y,
            y0: rating.y0,
            clearance: clearance_block(row),
        }),
        [] => {
            let all: Vec<_> = rated.iter().collect();
            let accepted = format!("{}; or --dynamic with the rating", names(&all));
            inputs.refuse(argument, &text, "the catalog has no such bearing with its ratings", accepted);
            None
        }
        _ => {
            let accepted = format!("--bearing with one of {}", names(&found));
            inputs.refuse(argument, &text, "the catalog has several such bearings", accepted);
            None
        }
    }
}

fn read_wanted(arguments: &BearingArguments, inputs: &mut Inputs, taken: &mut Vec<String>) -> Option<Wanted> {
    const RELIABILITIES: &str = "90, 95, 96, 97, 98 or 99";
    let radial = inputs.force("--radial", &arguments.radial);
    if arguments.radial.is_none() {
        inputs.miss("--radial", "the radial load is not given", "a force, such as --radial 4.0 kN");
    }
    if radial == Some(0.0) {
        let text = joined(&arguments.radial).unwrap_or_default();
        inputs.refuse("--radial", &text, "a radial load of nought cannot be used here", "a force above 0");
    }
    let axial = match &arguments.axial {
        Some(_) => inputs.force("--axial", &arguments.axial),
        None => {
            taken.push("no axial load".to_owned());
            Some(0.0)
        }
    };
    let speed = inputs.number("--speed", arguments.speed.as_deref(), "revolutions a minute, such as 700");
    if speed == Some(0.0) {
        let text = arguments.speed.as_deref().unwrap_or_default();
        inputs.refuse("--speed", text, "a bearing that stands has no life", "a speed above 0");
    }
    let reliability = match arguments.reliability.as_deref() {
        None => {
            taken.push("a reliability of 90 %".to_owned());
            Some(90.0)
        }
        Some(text) => inputs.number("--reliability", Some(text.trim_end_matches('%')), RELIABILITIES),
    };
    let editions = [("2007", LifeEdition::Iso281Of2007), ("1990", LifeEdition::Iso281Of1990)];
    let edition = match arguments.edition.as_deref() {
        None => {
            taken.push("the reliability factors of ISO 281:2007".to_owned());
            Some(LifeEdition::Iso281Of2007)
        }
        Some(text) => inputs.one_of("--edition", text, &editions),
    };
    let tyre_radius = inputs.length("--tyre-radius", &arguments.tyre_radius);
    let distance_km = inputs.distance("--distance", &arguments.distance);
    let other_radial = inputs.force("--other-radial", &arguments.other_radial);
    Some(Wanted {
        load: BearingLoad { radial: radial?, axial: axial? },
        other_radial,
        speed,
        tyre_radius,
        distance_km,
        reliability: reliability?,
        edition: edition?,
    })
}

/// Refuses that the factors for an axial load are missing; without one they have no part in the life.
fn check_factors(rated: &Rated, wanted: &Wanted, inputs: &mut Inputs) {
    if wanted.other_radial.is_some() && rated.kind == BearingKind::Ball {
        let accepted = "no --other-radial: a ball bearing makes no axial load by itself";
        inputs.miss("--other-radial", "only tapered bearings push each other", accepted);
    }
    if wanted.load.axial <= 0.0 && wanted.other_radial.is_none() {
        return;
    }
    let why = "an axial load takes this number of the bearing";
    match rated.kind {
        BearingKind::Ball => {
            if rated.static_n.is_none() {
                inputs.miss("--static", why, "the basic static load rating, such as --static 17.8 kN");
            }
            if rated.f0.is_none() {
                inputs.miss("--f0", why, "the factor f0, 10 to 20, such as --f0 14.0");
            }
        }
        BearingKind::Tapered => {
            if rated.e.is_none() {
                inputs.miss("--e", why, "the limit e, such as --e 0.37");
            }
            if rated.y.is_none() {
                inputs.miss("--y", why, "the axial factor Y, such as --y 1.6");
            }
        }
    }
}

fn computed(rated: &Rated, wanted: &Wanted) -> Result<Vec<Block>, BearingError> {
    let mut ratings = Block::new("ratings", rated.source.clone());
    ratings.one("dynamic_load_rating", Quantity::Force(rated.dynamic_n), "");
    if let Some(static_n) = rated.static_n {
        ratings.one("static_load_rating", Quantity::Force(static_n), "");
    }
    let mut blocks = vec![ratings];
    let mut load = wanted.load;
    if let (BearingKind::Tapered, Some(other_radial), Some(y)) = (rated.kind, wanted.other_radial, rated.y) {
        let (block, axial) = pair_block(load, other_radial, y)?;
        blocks.push(block);
        load.axial = axial;
    }
    let (load_block, equivalent_n) = dynamic_block(rated, load, wanted.other_radial.is_some())?;
    blocks.push(load_block);
    blocks.push(life_block(rated, wanted, equivalent_n)?);
    blocks.push(static_block(rated, load)?);
    blocks.extend(rated.clearance.clone());
    Ok(blocks)
}

/// What two like tapered bearings that are set against each other push, and the axial load of the one in question.
fn pair_block(load: BearingLoad, other_radial: f64, y: f64) -> Result<(Block, f64), BearingError> {
    let (own, other) = (tapered_induced(load.radial, y)?, tapered_induced(other_radial, y)?);
    let loads = opposed_axial_loads(own, other, load.axial)?;
    let source =
        "bearing catalogues, paired single-row tapered roller bearings (from memory, check); statics of the shaft";
    let mut block = Block::new("pair", source);
    block.one("outside_axial_force", Quantity::Force(load.axial), "pushes on this bearing");
    block.one("induced_axial_load", Quantity::Force(own), "by this bearing, from the taper alone");
    block.one("induced_axial_load_of_the_other", Quantity::Force(other), "a like bearing with its own radial load");
    block.one("axial_load", Quantity::Force(loads.pushed), "of this bearing");
    block.one("axial_load_of_the_other", Quantity::Force(loads.other), "");
    block.note("without preload and without play: either changes what the two push");
    Ok((block, loads.pushed))
}

fn dynamic_block(rated: &Rated, load: BearingLoad, paired: bool) -> Result<(Block, f64), BearingError> {
    let mut block = Block::new("equivalent_load", "ISO 281:2007, dynamic equivalent radial load");
    block.one("radial_load", Quantity::Force(load.radial), "");
    block.one("axial_load", Quantity::Force(load.axial), "");
    let equivalent_n = match (rated.kind, rated.static_n, rated.f0, rated.e, rated.y) {
        (BearingKind::Ball, Some(static_n), Some(f0), ..) => {
            let relative = relative_axial_load(load.axial, static_n, f0)?;
            let factors = ball_factors(relative)?;
            block.one("relative_axial_load", Quantity::ratio(relative, 4), "f0 times axial load over static rating");
            block.one("limit_e", Quantity::ratio(factors.e, 4), "of axial over radial load");
            block.one("axial_factor", Quantity::ratio(factors.y, 4), "Y, beyond the limit");
            ball_equivalent(load, static_n, f0)?
        }
        (BearingKind::Tapered, _, _, Some(e), Some(y)) => {
            block.one("limit_e", Quantity::ratio(e, 4), "of axial over radial load");
            block.one("axial_factor", Quantity::ratio(y, 4), "Y, beyond the limit");
            if !paired {
                let induced = Quantity::Force(tapered_induced(load.radial, y)?);
                block.one("induced_axial_load", induced, "from the taper alone");
                block.note(
                    "the axial load has to hold what the other bearing of the pair pushes over: give --other-radial",
                );
            }
            tapered_equivalent(load, e, y)?
        }
        // Without an axial load the factors have no part in it; with one their absence was refused.
        _ => load.radial,
    };
    block.one("equivalent_dynamic_load", Quantity::Force(equivalent_n), "");
    Ok((block, equivalent_n))
}

/// A life beyond so many million revolutions is only said to be so: a hundred times what a wheel turns in the life of any vehicle.
const LONGEST_USEFUL_MREV: f64 = 1e5;

/// The same in hours, more than a century.
const LONGEST_USEFUL_HOURS: f64 = 1e6;

fn life_block(rated: &Rated, wanted: &Wanted, equivalent_n: f64) -> Result<Block, BearingError> {
    let element = match rated.kind {
        BearingKind::Ball => RollingElement::Ball,
        BearingKind::Tapered => RollingElement::Roller,
    };
    let edition = match wanted.edition {
        LifeEdition::Iso281Of1990 => "ISO 281:1990",
        LifeEdition::Iso281Of2007 => "ISO 281:2007",
    };
    let source = format!("ISO 281:2007, basic rating life; {edition}, reliability factor");
    let mut block = Block::new("life", source);
    let mrev = |value: f64| Quantity::Life { value, most: LONGEST_USEFUL_MREV, unit: "Mrev" };
    let basic = rating_life(rated.dynamic_n, equivalent_n, element)?;
    let factor = reliability_factor(wanted.reliability, wanted.edition)?;
    let life = factor * basic;
    block.one("basic_rating_life", mrev(basic), "at 90 %");
    block.one("reliability_factor", Quantity::ratio(factor, 2), format!("a1 at {} %", wanted.reliability));
    block.one("life", mrev(life), format!("at {} %", wanted.reliability));
    if let Some(speed) = wanted.speed {
        let hours = Quantity::Life { value: life_hours(life, speed)?, most: LONGEST_USEFUL_HOURS, unit: "h" };
        block.one("hours", hours, format!("at {speed} revolutions a minute"));
    }
    match &wanted.tyre_radius {
        Some(radius) => {
            let radius_m = radius.value().millimetres() / 1000.0;
            let distance = Quantity::LifeDistance(life_distance_km(life, radius_m)?);
            block.one("distance", distance, format!("on a tyre that rolls with a radius of {}", radius.text()));
            if let Some(distance_km) = wanted.distance_km {
                let revolutions = revolutions_over(distance_km, radius_m)?;
                let rating = rating_for_life(equivalent_n, revolutions / factor, element)?;
                block.one("wanted_distance", Quantity::Distance(distance_km), "");
                let turns = Quantity::Number { value: revolutions, places: 2, unit: "Mrev" };
                block.one("revolutions_over_it", turns, "");
                block.one("rating_needed_for_it", Quantity::Force(rating), "dynamic");
                let reached = if rating <= rated.dynamic_n { "reached" } else { "NOT reached" };
                block.words("the_wanted_distance", reached, "");
            }
        }
        None => block.note("the distance needs the tyre: give --tyre-radius"),
    }
    block.note("the life is one of fatigue alone: dirt, water and a loose or tight seat end a wheel bearing earlier");
    Ok(block)
}

fn static_block(rated: &Rated, load: BearingLoad) -> Result<Block, BearingError> {
    let mut block = Block::new("static_safety", "ISO 76:2006, static equivalent radial load");
    let equivalent_n = match (rated.kind, rated.y0) {
        (BearingKind::Ball, _) => Some(ball_static_equivalent(load)?),
        (BearingKind::Tapered, Some(y0)) => Some(tapered_static_equivalent(load, y0)?),
        (BearingKind::Tapered, None) => None,
    };
    match (equivalent_n, rated.static_n) {
        (Some(equivalent_n), Some(static_n)) => {
            block.one("equivalent_static_load", Quantity::Force(equivalent_n), "");
            block.one("static_safety", Quantity::ratio(static_safety(static_n, equivalent_n)?, 3), "");
        }
        (None, _) => block.note("a tapered bearing takes its static axial factor: give --y0"),
        (Some(_), None) => block.note("the static rating is needed: give --static"),
    }
    Ok(block)
}
