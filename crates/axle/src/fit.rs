//! The fit conditions of the decided shafts, and the chance that they hold together.
//!
//! Conditions of one topic are correlated and are integrated together over its mixture; topics are independent, so their
//! probabilities multiply. A condition whose failure is but a nuisance, mended with a shim or left as it is, is reported
//! and does not count: the shafts themselves need no rework for it.

use catalog::{BearingKind, Catalog, Measurand, Window};
use quantity::LengthExt;
use reconcile::{Between, Joint, Seen};

use crate::blocks::Blocks;
use crate::chain;
use crate::decide::{Decisions, Topic};
use crate::demands::words;
use crate::review::{ConditionReview, Consequence, Probability};
use crate::sheet::Side;

/// The fit of an order: the chance of a first-time fit and each condition with its own, the least certain first.
pub(crate) struct Fit {
    pub probability: Probability,
    pub conditions: Vec<ConditionReview>,
}

/// A condition that is a bound on the unknowns of a topic.
struct Bound {
    topic: Topic,
    words: &'static str,
    side: Option<Side>,
    consequence: Consequence,
    between: Between,
}

/// Weighs the decided sizes against the fit conditions.
pub(crate) fn fit(blocks: &Blocks<'_>, decisions: &Decisions<'_>, catalog: &Catalog) -> Fit {
    let bounds: Vec<Bound> = decisions
        .decided
        .iter()
        .flat_map(|one| {
            let limits = [&one.demand.least, &one.demand.most].into_iter().flatten();
            limits.zip(one.aim.between(one.size)).map(|(limit, between)| Bound {
                topic: one.topic,
                words: limit.words,
                side: one.demand.side,
                consequence: limit.consequence,
                between,
            })
        })
        .collect();
    let retainer_read = blocks.chain.taken.iter().any(|one| one.measurand == Measurand::TrappedThickness);
    let of = |topic: Topic| -> Vec<Between> {
        let on_topic = decisions.decided.iter().filter(|one| one.topic == topic);
        on_topic.flat_map(|one| one.aim.together(one.size)).collect()
    };

    let bearing = decisions.bearing.0.map(|row| &row.name);
    let right_bearing =
        |model: usize| bearing.is_some() && blocks.chain.choice(model).parts.bearing.map(|row| &row.name) == bearing;
    let holes = blocks.circle.choices[decisions.circle.0].holes;
    let right_count = |model: usize| blocks.circle.choice(model).holes == holes;
    let (spline, spline_probability) = decisions.spline;
    let listed = blocks.spline.choices[spline].listed.is_some();
    let splines = if listed { spline_probability } else { 0.0 };

    let seen = |topic: Topic| &decisions.outlooks.of(topic).projection;
    let chain_bounds = of(Topic::Chain);
    let circle_bounds = of(Topic::Circle);
    let face_bounds = of(Topic::Face);
    // Topics are independent but for the scatter of the readings, which they share: within each scatter they are.
    let within = |level: usize| {
        let chain = seen(Topic::Chain).joint_probability(|model| {
            (blocks.chain.scatter_at(model) == level && right_bearing(model)).then(|| chain_bounds.clone())
        });
        let circle = seen(Topic::Circle).joint_probability(|model| {
            (blocks.circle.scatter_at(model) == level && right_count(model)).then(|| circle_bounds.clone())
        });
        let face = seen(Topic::Face)
            .joint_probability(|model| (blocks.face.scatter_at(model) == level).then(|| face_bounds.clone()));
        let of_spline = blocks.spline.mixture.model_probabilities()[level * blocks.spline.choices.len() + spline];
        let spline = Joint { probability: if listed { of_spline } else { 0.0 }, error: 0.0 };
        [chain, circle, spline, face]
    };
    let levels: Vec<(f64, [Joint; 4])> =
        blocks.scatter.iter().enumerate().map(|(level, probability)| (*probability, within(level))).collect();

    let left_out = [Topic::Chain, Topic::Circle, Topic::Face].map(|topic| seen(topic).pruned()).iter().sum::<f64>()
        + blocks.spline.mixture.pruned();

    let mut conditions = Vec::new();
    let mut add = |words: &str, side: Option<Side>, probability: f64, consequence| {
        let words = side.map_or_else(|| words.to_owned(), |side| format!("{words}, {}", side.words()));
        conditions.push(ConditionReview { words, side, probability: probability.clamp(0.0, 1.0), consequence });
    };
    for bound in &bounds {
        let alone = seen(bound.topic).probability_between(&bound.between);
        add(bound.words, bound.side, alone, bound.consequence);
    }
    add(words::BEARING, None, if bearing.is_some() { decisions.bearing.1 } else { 0.0 }, Consequence::Scrap);
    add(words::SPLINE, None, splines, Consequence::Scrap);
    let models = blocks.circle.mixture.model_probabilities().iter().enumerate();
    let counted = models.filter(|(model, _)| right_count(*model)).map(|(_, probability)| probability).sum();
    add(words::HOLES, None, counted, Consequence::Scrap);
    if retainer_read {
        add(words::RETAINER, None, retainer_holds(blocks, catalog), Consequence::Nuisance);
    }
    conditions.sort_by(|one, other| one.probability.total_cmp(&other.probability).then(one.words.cmp(&other.words)));
    Fit { probability: over_all(&levels, left_out), conditions }
}

/// The chance that the retainer clears the flange as its bearing wants it. It is but a nuisance, so that explanations below a
/// millionth need no look.
fn retainer_holds(blocks: &Blocks<'_>, catalog: &Catalog) -> f64 {
    let clearances = &catalog.settings.clearances;
    let is_tapered =
        |model: usize| blocks.chain.choice(model).parts.bearing.is_some_and(|row| row.kind == BearingKind::Tapered);
    let window = |model: usize| match is_tapered(model) {
        true => &clearances.retainer_tapered,
        false => &clearances.retainer_ball,
    };
    let seen = Seen { told_apart: 1, together: 1, least_probability: 1e-6 };
    let clearance = blocks.chain.mixture.project_by_model(
        |_| vec![chain::retainer_clearance()],
        seen,
        |model| usize::from(is_tapered(model)),
    );
    let held = clearance.joint_probability(|model| {
        let Window { least, most, .. } = window(model);
        Some(vec![Between { form: 0, least: least.millimetres(), most: most.millimetres(), own_variance: 0.0 }])
    });
    held.probability
}

/// The probability that all topics fit, out of that of each scatter of the readings and those that it holds and a topic fits.
/// What is `left_out` of the topics may fail.
fn over_all(levels: &[(f64, [Joint; 4])], left_out: f64) -> Probability {
    let possible = || levels.iter().filter(|(level, _)| *level > 0.0);
    let fits = |(level, topics): &(f64, [Joint; 4])| {
        level * topics.iter().map(|joint| (joint.probability / level).clamp(0.0, 1.0)).product::<f64>()
    };
    let error: f64 = possible().flat_map(|(_, topics)| topics).map(|joint| joint.error).sum();
    Probability { value: possible().map(fits).sum(), error: (error + left_out).min(1.0) }
}
