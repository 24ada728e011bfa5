//! What to cut: the parts that the evidence points to, and each dimension at the size of least expected loss.

use catalog::{Bearing, Catalog, Measurand, Sides};
use quantity::{Length, LengthExt, millimetres};
use reconcile::{Form, Model, Projection};

use crate::block::Block;
use crate::blocks::Blocks;
use crate::chain;
use crate::circle;
use crate::demand::Demand;
use crate::demands;
use crate::geometry::Geometry;
use crate::outlook::{Aim, Outlook, forms_of};
use crate::review::{Basis, DimensionKind};
use crate::sheet::{Sheet, Side};

/// Which topic a dimension belongs to; the spline is a part as a whole and has no dimension to decide.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Topic {
    Chain,
    Circle,
    Face,
}

/// A dimension that was decided by its demand.
#[derive(Debug, Clone)]
pub(crate) struct Decided {
    pub topic: Topic,
    pub demand: Demand,
    /// The demand as the outlook of its topic sees it.
    pub aim: Aim,
    pub size: f64,
    pub mean: f64,
    pub deviation: f64,
    pub basis: Basis,
    /// Whether neither readings nor parts determine it.
    pub open: bool,
    /// Mean and standard deviation of the smallest and of the largest size that works.
    pub limits: [Option<(f64, f64)>; 2],
}

/// A dimension that follows from a part or from other dimensions.
#[derive(Debug, Clone)]
pub(crate) struct Following {
    pub kind: DimensionKind,
    pub size: Length,
    pub least: Length,
    pub most: Length,
    pub mean: f64,
    pub deviation: f64,
    pub basis: Basis,
    /// The equation or rule in words, and where it comes from.
    pub rule: (String, String),
}

/// All decisions of an order.
pub(crate) struct Decisions<'a> {
    /// The likeliest bearing and its probability; none where it is in no row.
    pub bearing: (Option<&'a Bearing>, f64),
    /// The likeliest spline, by its place among the choices, and its probability.
    pub spline: (usize, f64),
    /// The likeliest circle, by its place among the choices, and its probability.
    pub circle: (usize, f64),
    pub decided: Vec<Decided>,
    pub following: Vec<Following>,
    pub outlooks: Outlooks,
}

/// The mixtures of the topics, seen through what has to fit.
pub(crate) struct Outlooks {
    pub chain: Outlook,
    pub circle: Outlook,
    pub face: Outlook,
}

impl Outlooks {
    /// The outlook of a topic.
    pub fn of(&self, topic: Topic) -> &Outlook {
        match topic {
            Topic::Chain => &self.chain,
            Topic::Circle => &self.circle,
            Topic::Face => &self.face,
        }
    }
}

/// For each model of the chain the first choice with the same bearing.
pub(crate) fn bearing_classes(blocks: &Blocks<'_>) -> Vec<usize> {
    let names: Vec<Option<&str>> =
        blocks.chain.choices.iter().map(|choice| choice.parts.bearing.map(|row| row.name.as_str())).collect();
    let first_like = |model: usize| {
        let own = blocks.chain.choice_at(model);
        names.iter().position(|other| *other == names[own]).unwrap_or(own)
    };
    (0..blocks.chain.models.len()).map(first_like).collect()
}

/// The forms that dimensions follow from once the bearing is decided.
const FOLLOWED: [fn() -> Form; 5] =
    [chain::race_offset, chain::shoulder_to_housing_end, chain::journal, chain::ring_seat, chain::seal_journal];

/// Decides every dimension of the new shafts.
pub(crate) fn decide<'a>(sheet: &Sheet, catalog: &'a Catalog, blocks: &Blocks<'a>) -> Decisions<'a> {
    let bearing = likeliest_bearing(blocks);
    let spline = likeliest_choice(&blocks.spline);
    let circle = likeliest_choice(&blocks.circle);
    let nuisance = catalog.settings.losses.nuisance;

    let chain_demands = |shoulder: f64, major: f64| {
        let lengths = sheet.wanted.iter().map(move |side| demands::overall_length(*side, shoulder, major, catalog));
        std::iter::once(demands::shoulder(sheet, catalog)).chain(lengths)
    };
    let reads = |measurand: Measurand| sheet.readings.iter().any(|reading| reading.measurand == measurand);
    let brake_row = sheet.parts.brake.row.as_deref().and_then(|name| catalog.brake(name));
    let inside_known = reads(Measurand::DrumInside) || brake_row.is_some();
    let mut on_face = vec![demands::flange(blocks, inside_known, catalog)];
    on_face.extend(blocks.face.choices.first().map(|choice| demands::register(choice, catalog)));
    on_face.push(demands::wheel_pilot(catalog));
    let circle_demand = demands::bolt_circle(catalog);
    let major = major_diameter(blocks, spline.0);
    let chain_forms = forms_of(&chain_demands(0.0, major).collect::<Vec<_>>());
    let free = [demands::flange_thickness(catalog), demands::wheel_pilot_height(catalog)];
    let mut along = forms_of(&free);
    along.extend(FOLLOWED.map(|form| form()));
    let height = demands::register_height(catalog);
    let bearings = bearing_classes(blocks);
    let holes = |model: usize| blocks.circle.choice(model).holes as usize;
    // The scatter of the readings is common to all topics: it has to be told apart for the chance that all of them fit.
    let levels = catalog.settings.beliefs.scatter.len();
    let of_chain = |model: usize| levels * bearings[model] + blocks.chain.scatter_at(model);
    let of_circle = |model: usize| levels * holes(model) + blocks.circle.scatter_at(model);
    let of_face = |model: usize| blocks.face.scatter_at(model);
    let outlooks = Outlooks {
        chain: Outlook::of(&blocks.chain.mixture, &chain_forms, &along, of_chain),
        circle: Outlook::of(&blocks.circle.mixture, &forms_of([&circle_demand]), &[], of_circle),
        face: Outlook::of(&blocks.face.mixture, &forms_of(&on_face), &forms_of([&height]), of_face),
    };

    let mut all: Vec<Decided> = Vec::new();
    let chain = |demand| decided(Topic::Chain, &blocks.chain, &outlooks.chain, demand, nuisance);
    let shoulder = chain(demands::shoulder(sheet, catalog));
    let shoulder_size = shoulder.as_ref().map_or(0.0, |one| one.size);
    let lengths = chain_demands(shoulder_size, major).skip(1).filter_map(chain).collect::<Vec<_>>();
    all.extend(lengths);
    all.extend(shoulder);
    let face = |demand| decided(Topic::Face, &blocks.face, &outlooks.face, demand, nuisance);
    all.extend(on_face.into_iter().filter_map(face));
    all.extend(free.into_iter().filter_map(chain));
    all.extend(face(height));
    let mut on_circle = decided(Topic::Circle, &blocks.circle, &outlooks.circle, circle_demand, nuisance);
    if let Some(row) = blocks.circle.choices[circle.0].row
        && circle.1 >= catalog.settings.thresholds.identified_at
        && let Some(on_circle) = &mut on_circle
    {
        on_circle.size = row.diameter.millimetres();
    }
    all.extend(on_circle);

    let following = following(sheet, catalog, blocks, &outlooks.chain, bearing.0, shoulder_size, spline);
    Decisions { bearing, spline, circle, decided: all, following, outlooks }
}

/// Major diameter of the likeliest spline, or of the spline as it was read where it is in no series.
pub(crate) fn major_diameter(blocks: &Blocks<'_>, choice: usize) -> f64 {
    match &blocks.spline.choices[choice].listed {
        Some((_, _, basic)) => basic.major_diameter,
        None => blocks.spline.mixture.marginal(&crate::spline::major_diameter()).mean(),
    }
}

/// The likeliest choice of parts of a topic, by its place, and its probability.
fn likeliest_choice<C: Geometry>(block: &Block<'_, C>) -> (usize, f64) {
    let likelier = |best: (usize, f64), next: (usize, f64)| if next.1 > best.1 { next } else { best };
    block.choice_probabilities().into_iter().enumerate().fold((0, 0.0), likelier)
}

/// The probability of each bearing over all choices of housing ends, the likeliest first.
pub(crate) fn bearing_probabilities<'a>(blocks: &Blocks<'a>) -> Vec<(Option<&'a Bearing>, f64)> {
    let mut bearings: Vec<(Option<&Bearing>, f64)> = Vec::new();
    for (choice, probability) in blocks.chain.choices.iter().zip(blocks.chain.choice_probabilities()) {
        let own = choice.parts.bearing;
        let same = |other: &Option<&Bearing>| other.map(|row| &row.name) == own.map(|row| &row.name);
        match bearings.iter_mut().find(|(other, _)| same(other)) {
            Some((_, sum)) => *sum += probability,
            None => bearings.push((own, probability)),
        }
    }
    bearings.sort_by(|one, other| other.1.total_cmp(&one.1));
    bearings
}

fn likeliest_bearing<'a>(blocks: &Blocks<'a>) -> (Option<&'a Bearing>, f64) {
    bearing_probabilities(blocks).into_iter().next().unwrap_or((None, 0.0))
}

fn decided<C: Geometry>(
    topic: Topic,
    block: &Block<'_, C>,
    outlook: &Outlook,
    demand: Demand,
    nuisance: f64,
) -> Option<Decided> {
    let aim = outlook.aim(&demand)?;
    let projection = &outlook.projection;
    let marginal = aim.ideal(projection);
    let likeliest =
        block.likeliest_posterior().map_or(f64::INFINITY, |(_, posterior)| posterior.variance_of(&demand.ideal).sqrt());
    let before = block.models.first().map_or(0.0, |model| prior_deviation(model, &demand.ideal));
    let scale = aim.scale(projection);
    // Known no better than beforehand, or so badly that no room is wide enough for it.
    let open = likeliest > scale && (likeliest > 0.5 * before || likeliest > 3.0 * scale);
    let basis = if open {
        Basis::Assumed
    } else if is_read(block, demand.kind, demand.side) && stays_as_read(block, &demand) {
        Basis::Measured
    } else {
        Basis::Derived
    };
    let (mean, deviation) = (marginal.mean(), marginal.standard_deviation());
    // What nothing has to fit stays as the likeliest explanation has it.
    let size = if demand.least.is_some() || demand.most.is_some() {
        size(&aim, projection, nuisance)
    } else {
        block.likeliest_posterior().map_or(mean, |(_, posterior)| posterior.mean_of(&demand.ideal))
    };
    let limits = aim.limits(projection).map(|limit| limit.map(|one| (one.mean(), one.standard_deviation())));
    Some(Decided { topic, size, mean, deviation, basis, open, demand, aim, limits })
}

/// The size to make. Where the explanations lie further apart than there is room, no size is safe: the order has to be asked
/// about, and what the likeliest explanation has is more use to the desk than the hedge between them.
pub(crate) fn size(aim: &Aim, projection: &Projection, nuisance: f64) -> f64 {
    let marginal = aim.ideal(projection);
    match marginal.parts().first() {
        Some(part) if marginal.standard_deviation() > aim.scale(projection) => part.mean,
        _ => aim.best(projection, nuisance),
    }
}

fn prior_deviation(model: &Model, form: &Form) -> f64 {
    let variance = |(at, a): &(usize, f64)| (a * model.priors[*at].standard_deviation).powi(2);
    form.terms().iter().map(variance).sum::<f64>().sqrt()
}

/// Whether the dimension itself was read, and the likeliest explanation takes a reading of it at its word.
fn is_read<C: Geometry>(block: &Block<'_, C>, kind: DimensionKind, side: Option<Side>) -> bool {
    let Some(measurand) = measurand_of(kind) else { return false };
    let spoiled = block.likeliest().map(|one| block.mixture.readings_spoiled(one)).unwrap_or_default();
    block.taken.iter().enumerate().any(|(at, one)| {
        let same_side = one.row.sides != Sides::Each || one.side == side;
        one.measurand == measurand && same_side && !spoiled.contains(&at)
    })
}

/// Whether the new shaft is to have what a reading of the dimension says, and not what a new brake requires or leaves.
fn stays_as_read<C: Geometry>(block: &Block<'_, C>, demand: &Demand) -> bool {
    let Some((explanation, posterior)) = block.likeliest_posterior() else { return false };
    let read = |measurand| block.choice(explanation.model).form(measurand, demand.side);
    measurand_of(demand.kind)
        .and_then(read)
        .is_some_and(|form| (posterior.mean_of(&demand.ideal) - posterior.mean_of(&form)).abs() <= demand.tolerance)
}

/// The measurand that reads a dimension directly. A stud hole of the new shaft follows from its stud, whatever was read.
pub(crate) fn measurand_of(kind: DimensionKind) -> Option<Measurand> {
    (kind != DimensionKind::StudHole).then(|| kind.own_reading())
}

/// The dimensions that follow from the parts and from those that were decided.
fn following(
    sheet: &Sheet,
    catalog: &Catalog,
    blocks: &Blocks<'_>,
    outlook: &Outlook,
    bearing: Option<&Bearing>,
    shoulder: f64,
    spline: (usize, f64),
) -> Vec<Following> {
    let tolerances = &catalog.settings.tolerances;
    let mut all = Vec::new();
    // These sizes are those of the shaft with the bearing that was decided on; how far the true ones may be from them is a
    // matter of all bearings that are possible.
    let name = bearing.map(|row| &row.name);
    let with_bearing = |model: usize| blocks.chain.choice(model).parts.bearing.map(|row| &row.name) == name;
    let of_chain = |form: &Form| {
        let seen = |permitted: &dyn Fn(usize) -> bool| {
            let watched = outlook.marginal_given(form, permitted);
            watched.unwrap_or_else(|| blocks.chain.mixture.marginal_given(form, permitted))
        };
        let (mean, all) = (seen(&with_bearing).mean(), seen(&|_| true));
        (mean, all.standard_deviation().hypot(all.mean() - mean))
    };
    let made = tolerances.shoulder_distance;
    let mut along = |kind, form: Form, words: &str| {
        let (mean, deviation) = of_chain(&form);
        let size = millimetres(mean);
        let rule = (words.to_owned(), "dimension chain".to_owned());
        let basis = Basis::Derived;
        all.push(Following { kind, size, least: size - made, most: size + made, mean, deviation, basis, rule });
    };
    along(
        DimensionKind::RaceDistance,
        chain::race_offset().offset_by(shoulder),
        "race distance = shoulder distance + race offset of the bearing",
    );
    along(
        DimensionKind::BrakeOffset,
        chain::shoulder_to_housing_end().offset_by(shoulder),
        "brake offset = race distance + outer-ring width − depth of the bearing bore",
    );
    if let Some(bearing) = bearing {
        // Bearings of either kind may go on the same journal.
        let same_seat =
            |other: &&Bearing| other.bore == bearing.bore && other.seat_interference == bearing.seat_interference;
        let sure: f64 = blocks
            .chain
            .choices
            .iter()
            .zip(blocks.chain.choice_probabilities())
            .filter(|(choice, _)| choice.parts.bearing.as_ref().is_some_and(same_seat))
            .map(|(_, probability)| probability)
            .sum();
        let is_sure = sure >= catalog.settings.thresholds.identified_at;
        let (mean, deviation) = of_chain(&chain::journal());
        let (least, most) = bearing.seat_interference;
        let (least, most) = (bearing.bore + least, bearing.bore + most);
        all.push(Following {
            kind: DimensionKind::JournalDiameter,
            size: (least + most) * 0.5,
            least,
            most,
            mean,
            deviation,
            basis: if is_sure { Basis::Derived } else { Basis::Assumed },
            rule: (
                format!("journal = bore of the {} + interference of its seat", bearing.name),
                bearing.source.to_string(),
            ),
        });
    }
    let seats = [
        (
            DimensionKind::RingSeatDiameter,
            chain::ring_seat(),
            "ring seat as on the old shaft; make it to the ring in hand",
        ),
        (DimensionKind::SealJournalDiameter, chain::seal_journal(), "seal journal as on the old shaft"),
    ];
    for (kind, form, words) in seats {
        let (mean, deviation) = of_chain(&form);
        let size = millimetres(mean);
        let (least, most) = (size - tolerances.seat_diameter, size + tolerances.seat_diameter);
        let basis = if is_read(&blocks.chain, kind, None) { Basis::Measured } else { Basis::Assumed };
        let rule = (words.to_owned(), tolerances.source.to_string());
        all.push(Following { kind, size, least, most, mean, deviation, basis, rule });
    }
    if let Some((series, _, basic)) = &blocks.spline.choices[spline.0].listed {
        let marginal = blocks.spline.mixture.marginal(&crate::spline::major_diameter());
        let most = millimetres(basic.major_diameter);
        let size = most - series.undersize.mean;
        let name = blocks.spline.choices[spline.0].name().unwrap_or_default();
        all.push(Following {
            kind: DimensionKind::SplineMajorDiameter,
            size,
            least: size - series.undersize.standard_deviation,
            most,
            mean: marginal.mean(),
            deviation: marginal.standard_deviation(),
            basis: Basis::Derived,
            rule: (
                format!("major diameter of {name}, basic size at most, less the usual undersize"),
                series.source.to_string(),
            ),
        });
    }
    let hole_read = sheet.readings.iter().any(|reading| reading.measurand == Measurand::StudHole);
    let hole_said = sheet.parts.stud.is_some() || sheet.parts.stud_hole.is_some();
    if hole_read && !hole_said {
        let marginal = blocks.circle.mixture.marginal(&circle::stud_hole());
        let (mean, deviation) = (marginal.mean(), marginal.standard_deviation());
        let (size, made) = (millimetres(mean), tolerances.register_diameter);
        all.push(Following {
            kind: DimensionKind::StudHole,
            size,
            least: size - made,
            most: size + made,
            mean,
            deviation,
            basis: Basis::Measured,
            rule: ("stud hole as in the old flange".to_owned(), tolerances.source.to_string()),
        });
    }
    if let Some((size, least, most, words, source)) = stud_hole(sheet, catalog) {
        all.push(Following {
            kind: DimensionKind::StudHole,
            size,
            least,
            most,
            mean: size.millimetres(),
            deviation: 0.0,
            basis: Basis::Derived,
            rule: (words, source),
        });
    }
    all
}

/// The stud hole: as the customer wants it, or as the knurl of the stud requires.
fn stud_hole(sheet: &Sheet, catalog: &Catalog) -> Option<(Length, Length, Length, String, String)> {
    let row = sheet.parts.stud.and_then(|thread| catalog.stud(thread));
    let band = row.map(|row| (row.hole.1 - row.hole.0) * 0.5);
    if let Some(wanted) = sheet.parts.stud_hole {
        let half = band.unwrap_or(catalog.settings.tolerances.seat_diameter);
        let words = "stud hole as the customer wants it".to_owned();
        return Some((wanted, wanted - half, wanted + half, words, "order sheet".to_owned()));
    }
    let row = row?;
    let size = (row.hole.0 + row.hole.1) * 0.5;
    let words = format!("stud hole for the knurl of a press-in stud {}", row.thread);
    Some((size, row.hole.0, row.hole.1, words, row.source.to_string()))
}
