//! The likeliest explanations of the whole sheet, and what became of each reading.

use std::collections::BTreeMap;

use catalog::{Catalog, Measurand, Sides};
use quantity::millimetres;
use reconcile::{Classical, Model, classical};

use crate::block::{Block, Tag};
use crate::blocks::Blocks;
use crate::correction::corrections;
use crate::decide::{Decisions, Topic};
use crate::demand::Demand;
use crate::evidence::{Taken, planned_uncertainty};
use crate::geometry::Geometry;
use crate::review::{ExplanationReview, MistakeReview, ReadingReview, TakenAsReview};
use crate::sheet::{Reading, Sheet, Value};

/// Explanations of the whole sheet below this probability are not listed, and never more than so many.
const LISTED_FROM: f64 = 0.01;
const LISTED_MOST: usize = 6;

/// A reading checks another where it takes away at least this share of what is open about it.
const CHECKS_FROM: f64 = 0.75;

/// One topic's explanation with all its variants: the same mistakes, whatever parts and sizes of slip go with them.
struct Account {
    probability: f64,
    mistakes: Vec<MistakeReview>,
    parts: Vec<String>,
}

/// The likeliest explanations over all topics.
pub(crate) fn explanations(
    sheet: &Sheet,
    catalog: &Catalog,
    blocks: &Blocks<'_>,
    decisions: &Decisions<'_>,
) -> Vec<ExplanationReview> {
    let chain_parts = |model: usize| {
        let parts = blocks.chain.choice(model).parts;
        let bearing = parts.bearing.map(|row| format!("bearing {}", row.name));
        let end = parts.housing_end.map(|row| format!("housing end {}", row.name));
        bearing.into_iter().chain(end).collect()
    };
    let spline_parts =
        |model: usize| blocks.spline.choice(model).name().map(|name| format!("spline {name}")).into_iter().collect();
    let circle_parts = |model: usize| {
        let choice = blocks.circle.choice(model);
        let on = |row: &catalog::BoltCircleRow| {
            format!("{} holes on {}", row.holes, quantity::both(row.diameter, crate::leading(sheet)))
        };
        choice.row.map(on).into_iter().collect()
    };
    let on = |topic: Topic| demands_on(decisions, topic);
    let topics = [
        accounts(&blocks.chain, chain_parts, &on(Topic::Chain), sheet, catalog),
        accounts(&blocks.circle, circle_parts, &on(Topic::Circle), sheet, catalog),
        accounts(&blocks.spline, spline_parts, &[], sheet, catalog),
        accounts(&blocks.face, |_| Vec::new(), &on(Topic::Face), sheet, catalog),
    ];
    let mut all = vec![ExplanationReview { probability: 1.0, mistakes: Vec::new(), parts: Vec::new() }];
    for accounts in topics {
        all = all
            .iter()
            .flat_map(|so_far| {
                accounts.iter().map(|account| ExplanationReview {
                    probability: (so_far.probability * account.probability).min(1.0),
                    mistakes: so_far.mistakes.iter().chain(&account.mistakes).cloned().collect(),
                    parts: so_far.parts.iter().chain(&account.parts).cloned().collect(),
                })
            })
            .filter(|explanation| explanation.probability >= LISTED_FROM / 10.0)
            .collect();
    }
    all.sort_by(|one, other| other.probability.total_cmp(&one.probability));
    let listed = all.iter().take_while(|explanation| explanation.probability >= LISTED_FROM).count();
    all.truncate(listed.clamp(1, LISTED_MOST));
    all
}

/// The demands of one topic.
fn demands_on<'d>(decisions: &'d Decisions<'_>, topic: Topic) -> Vec<&'d Demand> {
    decisions.decided.iter().filter(|one| one.topic == topic).map(|one| &one.demand).collect()
}

/// The explanations of one topic, gathered by the mistakes they hold, the likeliest first.
///
/// A mistake that is unlikely and moves nothing that has to fit is not told apart from no mistake: it would only lengthen
/// the list.
fn accounts<C: Geometry>(
    block: &Block<'_, C>,
    parts: impl Fn(usize) -> Vec<String>,
    demands: &[&Demand],
    sheet: &Sheet,
    catalog: &Catalog,
) -> Vec<Account> {
    let blame = catalog.settings.thresholds.blame_at;
    let mistaken = block.mixture.mistaken();
    let told: Vec<bool> =
        (0..block.taken.len()).map(|at| mistaken[at] >= blame || matters(block, at, demands)).collect();
    let mut gathered: BTreeMap<Vec<Tag>, (f64, usize)> = BTreeMap::new();
    for (at, explanation) in block.mixture.explanations().iter().enumerate() {
        let told = |tag: &&Tag| tag.readings.iter().any(|reading| told[*reading]);
        let key: Vec<Tag> = block.mistakes_of(explanation).into_iter().filter(told).cloned().collect();
        gathered.entry(key).or_insert((0.0, at)).0 += explanation.probability;
    }
    let mut ranked: Vec<(f64, usize)> =
        gathered.into_values().filter(|(probability, _)| *probability >= LISTED_FROM / 10.0).collect();
    ranked.sort_by(|one, other| other.0.total_cmp(&one.0).then(one.1.cmp(&other.1)));
    ranked
        .into_iter()
        .take(2 * LISTED_MOST)
        .map(|(probability, at)| {
            let explanation = &block.mixture.explanations()[at];
            let mistakes = block
                .mistakes_of(explanation)
                .into_iter()
                .filter(|tag| tag.readings.iter().any(|reading| told[*reading]))
                .map(|tag| mistake(block, tag, explanation, sheet, catalog))
                .collect();
            Account { probability, mistakes, parts: parts(explanation.model) }
        })
        .collect()
}

fn mistake<C: Geometry>(
    block: &Block<'_, C>,
    tag: &Tag,
    explanation: &reconcile::Explanation,
    sheet: &Sheet,
    catalog: &Catalog,
) -> MistakeReview {
    let spoiled: Vec<&Taken<'_>> = tag.readings.iter().map(|at| &block.taken[*at]).collect();
    let names: Vec<String> = spoiled.iter().map(|one| name(one, sheet)).collect();
    let verb = if names.len() > 1 { "were" } else { "was" };
    let happened = &catalog.mistake(tag.kind).words;
    let said = tag.readings.first().and_then(|at| {
        let posterior = block.mixture.posterior(explanation)?;
        Some(posterior.mean_of(&block.choice(explanation.model).form_of(&block.taken[*at])?))
    });
    let (would_say, counted) = match (said, spoiled.first()) {
        (Some(said), Some(first)) if first.measurand.is_count() => (None, format!("; it should be {}", said.round())),
        (Some(said), Some(_)) => (Some(millimetres(said)), String::new()),
        _ => (None, String::new()),
    };
    MistakeReview {
        kind: tag.kind,
        readings: spoiled.iter().map(|one| one.index).collect(),
        words: format!("the {} {verb} {happened}{counted}", listed(&names)),
        would_say,
        corrections: corrections(block, tag, explanation, sheet),
    }
}

/// Several names in a sentence: `left overall length, the right overall length and the brake offset`.
fn listed(names: &[String]) -> String {
    match names {
        [first @ .., last] if !first.is_empty() => format!("{} and the {last}", first.join(", the ")),
        _ => names.concat(),
    }
}

/// What a reading is called in a sentence: `left overall length (31 5/16")`.
pub(crate) fn name(taken: &Taken<'_>, sheet: &Sheet) -> String {
    let side = taken.side.map(|side| format!("{} ", side.words())).unwrap_or_default();
    format!("{side}{} ({})", taken.row.words, counted(&sheet.readings[taken.index]))
}

/// What counts of a reading; where that is a correction, with what was written.
pub(crate) fn counted(reading: &Reading) -> String {
    match reading.taken_as.as_ref().and_then(|taken| taken.confirmed_by.as_deref()) {
        Some(_) => format!("{}, corrected from {}", written(reading.counts()), written(&reading.value)),
        None => written(&reading.value),
    }
}

/// What was written, with all repeats.
pub(crate) fn written(value: &Value) -> String {
    match value {
        Value::Count(count) => count.to_string(),
        Value::Length(repeats) => {
            let texts: Vec<&str> = repeats.iter().map(|one| one.text()).collect();
            texts.join(", ")
        }
    }
}

/// What became of each reading, in the order of the sheet.
pub(crate) fn readings(
    sheet: &Sheet,
    catalog: &Catalog,
    blocks: &Blocks<'_>,
    decisions: &Decisions<'_>,
) -> Vec<ReadingReview> {
    let mut all: Vec<(usize, ReadingReview)> = Vec::new();
    let on = |topic: Topic| demands_on(decisions, topic);
    gather(&blocks.chain, sheet, catalog, &on(Topic::Chain), &mut all);
    gather(&blocks.circle, sheet, catalog, &on(Topic::Circle), &mut all);
    gather(&blocks.spline, sheet, catalog, &[], &mut all);
    gather(&blocks.face, sheet, catalog, &on(Topic::Face), &mut all);
    all.sort_by_key(|(index, _)| *index);
    all.into_iter().map(|(_, reading)| reading).collect()
}

/// The reading that the likeliest explanation of a topic leaves furthest off, by its place in the block, with all normalised
/// residuals: the classical test once more, with every reading meaning what that explanation has it mean.
///
/// None where the explanation holds fewer mistakes than were allowed: one more was then weighed against it already.
pub(crate) fn left_unexplained<C: Geometry>(
    block: &Block<'_, C>,
    most_mistakes: usize,
) -> Option<(Option<usize>, Classical)> {
    let explanation = block.likeliest().filter(|explanation| explanation.mistakes.len() >= most_mistakes)?;
    let model = Model {
        readings: block.meanings(explanation),
        mistakes: Vec::new(),
        ..block.models[explanation.model].clone()
    };
    let test = classical(&model).ok()?;
    let size = |at: usize| test.normalised_residuals[at].unwrap_or(0.0).abs();
    let furthest = (0..block.taken.len()).max_by(|one, other| size(*one).total_cmp(&size(*other)));
    Some((furthest, test))
}

/// The classical test of a topic: of the parts in its likeliest explanation, every reading at its word.
pub(crate) fn tested<C: Geometry>(block: &Block<'_, C>) -> Option<Classical> {
    block.likeliest().and_then(|explanation| classical(&block.models[explanation.model]).ok())
}

fn gather<C: Geometry>(
    block: &Block<'_, C>,
    sheet: &Sheet,
    catalog: &Catalog,
    demands: &[&Demand],
    all: &mut Vec<(usize, ReadingReview)>,
) {
    let Some(likeliest) = block.likeliest() else { return };
    let residuals = tested(block).map(|test| test.normalised_residuals).unwrap_or_default();
    let redundancy = redundancy(block);
    let mistaken = block.mixture.mistaken();
    let blame = catalog.settings.thresholds.blame_at;
    let suspicions = block.suspicions();
    for (at, one) in block.taken.iter().enumerate() {
        let reading = &sheet.readings[one.index];
        let count = if let Value::Count(count) = reading.counts() { Some(*count) } else { None };
        let is_length = count.is_none();
        // What it should say, without the error of the hand that read it.
        let form = block.choice(likeliest.model).form_of(one);
        let reconciled = block.likeliest_posterior().zip(form).map(|((_, posterior), form)| posterior.mean_of(&form));
        // A sum of parts may pass one by its last bit.
        let probability_mistaken = mistaken[at].min(1.0);
        let suspicion = suspicions[at].first().copied().filter(|(_, p)| *p >= 0.02);
        // What is called mistaken was checked, whatever a reconciliation that takes it at its word makes of it.
        let unchecked = redundancy[at] < catalog.settings.thresholds.checked_at
            && probability_mistaken < blame
            && matters(block, at, demands);
        all.push((
            one.index,
            ReadingReview {
                measurand: one.measurand,
                side: one.side,
                written: written(&reading.value),
                taken_as: taken_as(reading),
                line: reading.position.line,
                value: is_length.then(|| millimetres(one.value)),
                count,
                standard_uncertainty: is_length.then(|| millimetres(one.standard_uncertainty)),
                reconciled: reconciled.filter(|_| is_length).map(millimetres),
                normalised_residual: residuals.get(at).copied().flatten(),
                redundancy: redundancy[at],
                probability_mistaken,
                likely_mistake: suspicion,
                remark: unchecked.then(|| unchecked_remark(block, at, catalog)),
            },
        ));
    }
}

/// What the sheet takes a reading to have meant.
fn taken_as(reading: &Reading) -> Option<TakenAsReview> {
    reading.taken_as.as_ref().map(|taken| TakenAsReview {
        written: written(&taken.value),
        taken_by: taken.taken_by.clone(),
        confirmed_by: taken.confirmed_by.clone(),
    })
}

/// Whether a reading moves a dimension that can spoil the fit, by a tenth of its own error or more, or is a count.
fn matters<C: Geometry>(block: &Block<'_, C>, at: usize, demands: &[&Demand]) -> bool {
    if block.taken[at].measurand.is_count() {
        return true;
    }
    let Some((explanation, posterior)) = block.likeliest_posterior() else {
        return true;
    };
    let evidence = &block.models[explanation.model].readings[at];
    let variance = evidence.standard_uncertainty * evidence.standard_uncertainty;
    demands
        .iter()
        .filter(|demand| demand.least.is_some() || demand.most.is_some())
        .any(|demand| posterior.covariance_of(&demand.ideal, &evidence.form).abs() >= 0.1 * variance)
}

/// Redundancy numbers where every reading is taken at its word with the parts of the likeliest explanation.
///
/// A count is no measurement: it is right or it is mistaken. What stands for its redundancy is how far the rest of the
/// sheet has moved the doubt about it, from the rate beforehand towards 0 or towards 1.
fn redundancy<C: Geometry>(block: &Block<'_, C>) -> Vec<f64> {
    let numbers = block.mixture.redundancy();
    let mistaken = block.mixture.mistaken();
    let of_count = |at: usize| {
        if !block.taken.iter().enumerate().any(|(other, one)| other != at && bears_on_count(one.measurand)) {
            return 0.0;
        }
        let before = block.rate_of_mistakes(at);
        let moved = mistaken[at] - before;
        let room = if moved > 0.0 { 1.0 - before } else { before };
        if room > 0.0 { (moved.abs() / room).min(1.0) } else { 0.0 }
    };
    let of_reading = |(at, one): (usize, &Taken<'_>)| {
        if one.measurand.is_count() { of_count(at) } else { numbers.get(at).copied().unwrap_or(0.0) }
    };
    block.taken.iter().enumerate().map(of_reading).collect()
}

/// Whether a reading of the same topic says something of a count: all but the size of a single hole or stud.
fn bears_on_count(measurand: Measurand) -> bool {
    !matches!(measurand, Measurand::StudHole | Measurand::KnurlDiameter)
}

/// The reading that shows best whether a count is right: a tooth more makes the spline larger, a hole more brings the holes
/// closer together.
fn checks_count(measurand: Measurand) -> Option<Measurand> {
    match measurand {
        Measurand::ToothCount => Some(Measurand::SplineMajorDiameter),
        Measurand::HoleCount => Some(Measurand::ChordAdjacent),
        _ => None,
    }
}

/// Says that nothing checks a reading, and which reading would.
fn unchecked_remark<C: Geometry>(block: &Block<'_, C>, at: usize, catalog: &Catalog) -> String {
    let nothing = "nothing on the sheet checks this reading: a mistake in it would go unseen";
    let again = "only taking it again would check it, by another person or with another instrument";
    let own = &block.taken[at];
    if let Some(other) = checks_count(own.measurand) {
        let read = block.taken.iter().any(|one| one.measurand == other);
        let words = &catalog.measurand(other).words;
        return if read { format!("{nothing}; {again}") } else { format!("{nothing}; the {words} would check it") };
    }
    let Some((explanation, posterior)) = block.likeliest_posterior() else {
        return nothing.to_owned();
    };
    let evidence = &block.models[explanation.model].readings[at];
    let choice = block.choice(explanation.model);
    let without = posterior.covariance_without(&evidence.form, evidence.standard_uncertainty);
    let mut best: Option<(f64, String)> = None;
    for row in catalog.measurands.iter().filter(|row| row.measurand != own.measurand && !row.measurand.is_count()) {
        let side = own.side.filter(|_| row.sides == Sides::Each);
        let Some(other) = choice.form(row.measurand, side) else { continue };
        let uncertainty = planned_uncertainty(row, catalog.usual_instrument(row));
        let share = without.variance_reduction(&evidence.form, &other, uncertainty);
        if best.as_ref().is_none_or(|(most, _)| share > *most) {
            let side = side.map(|side| format!("{} ", side.words())).unwrap_or_default();
            best = Some((share, format!("{side}{}", row.words)));
        }
    }
    match best {
        Some((share, words)) if share >= CHECKS_FROM => format!("{nothing}; the {words} would check it"),
        _ => format!("{nothing}; {again}"),
    }
}
