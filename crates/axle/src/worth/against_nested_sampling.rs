//! What readings are worth, against drawing them: nested Monte Carlo, the textbook way to an expected value of sample
//! information (H. Raiffa and R. Schlaifer, *Applied Statistical Decision Theory*, 1961, chapter 4).
//!
//! An explanation is drawn from the mixture, then what the further reading would bring under it, mistaken as often as the
//! catalog says; the longer sheet is explained anew, the sizes are decided anew, and the fit probability is integrated
//! anew, all by the code that reviews an order and none of it by that which foresees. What is averaged is the fit
//! probability with the new sizes less that with the sizes of today: the latter must average to the fit probability of today
//! (a posterior averages to its prior), which is tested beside it, so that leaving its scatter out takes nothing away.

use std::fs;
use std::path::Path;
use std::sync::LazyLock;

use catalog::{Catalog, Differential, Measurand, MistakeRow, Sides};
use quantity::{LengthExt, normal_quantile};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};
use reconcile::{Evidence, Explanation, Form, Mixture, Options};

use super::{Planned, Worth, as_taken};
use crate::block::Block;
use crate::blocks::Blocks;
use crate::decide::{Decisions, decide};
use crate::evidence::{Taken, take_in};
use crate::fit::fit;
use crate::geometry::Geometry;
use crate::sheet::{Sheet, Side};
use crate::simulate::Chance;
use crate::slips::slips;
use crate::{choices, read_sheet};

static SHIPPED: LazyLock<Catalog> = LazyLock::new(|| Catalog::shipped().expect("the shipped catalog has no fault"));

const SEED: u64 = 20_240_613;
const DRAWS: usize = 120;
/// Steps of a lattice in two directions: the golden ratio, and what follows it in two dimensions.
const STEPS: [f64; 2] = [0.618_033_988_749_895, 0.754_877_666_246_693];

/// An order of the demo, and the readings that are asked for: one, or two together.
struct Case {
    order: &'static str,
    asked: &'static [&'static [Asked]],
}

/// A reading, on a side, with the better instrument or the usual one.
type Asked = (Measurand, Option<Side>, bool);

const LEFT: Option<Side> = Some(Side::Left);
const RIGHT: Option<Side> = Some(Side::Right);

const CASES: [Case; 2] = [
    // One shaft, with little to check its length by.
    Case {
        order: "10-feed-van",
        asked: &[
            &[(Measurand::ShoulderToEnd, RIGHT, false)],
            &[(Measurand::Reach, RIGHT, false)],
            &[(Measurand::OverallLength, RIGHT, true)],
            &[(Measurand::BrakeOffset, None, false)],
            &[(Measurand::ShoulderDistance, None, true)],
            &[(Measurand::ShoulderToEnd, RIGHT, false), (Measurand::BrakeOffset, None, false)],
        ],
    },
    // A plate left on the housing end, and an engagement that is close to its least.
    Case {
        order: "14-ranch-hauler",
        asked: &[
            &[(Measurand::SplineContactLength, None, false)],
            &[(Measurand::Reach, LEFT, true)],
            &[(Measurand::OverallLength, LEFT, true)],
            &[(Measurand::Reach, RIGHT, true)],
            &[(Measurand::ShoulderToEnd, LEFT, false)],
            &[(Measurand::SplineContactLength, None, false), (Measurand::Reach, LEFT, true)],
        ],
    },
];

/// An order with all that is known of it today.
struct Today<'a> {
    sheet: &'a Sheet,
    taken: &'a [Taken<'a>],
    differential: &'a Differential,
    blocks: Blocks<'a>,
    decisions: Decisions<'a>,
    fits: f64,
}

/// Draws from a part of the explanations, with their probability.
struct Stratum {
    weight: f64,
    values: Vec<Vec<f64>>,
}

/// What nested sampling finds for some readings together.
struct Nested {
    gain: f64,
    standard_error: f64,
    /// The mean fit probability with the sizes of today, less the fit probability of today, and its standard error.
    drift: (f64, f64),
}

impl<'a> Today<'a> {
    fn of(sheet: &'a Sheet, taken: &'a [Taken<'a>], differential: &'a Differential) -> Self {
        let blocks = Blocks::explain(sheet, &SHIPPED, differential, taken, &Options::default()).expect("sound models");
        let decisions = decide(sheet, &SHIPPED, &blocks);
        let fits = fit(&blocks, &decisions, &SHIPPED).probability.value;
        Self { sheet, taken, differential, blocks, decisions, fits }
    }

    /// Draws what the readings would bring and reviews the longer sheet, over and over. All readings are of the chain.
    fn nested(&mut self, planned: &[Planned<'a>], chance: &mut Chance<'_>) -> Nested {
        let mut readings: Vec<Taken<'a>> = planned.iter().map(as_taken).collect();
        // Another person reads, so that no instrument's own error is shared with what was read before.
        readings.iter_mut().for_each(|one| one.by = Some("somebody else"));
        // Where the likeliest explanation holds and all readings are sound, one draw is much like the other. What happens
        // seldom and matters gets more draws than its share: other explanations, and readings that are mistaken.
        let likeliest = self.blocks.chain.mixture.explanations()[0].probability;
        let choice = &self.blocks.chain.choices[0];
        let sound: f64 =
            readings.iter().map(|one| 1.0 - meanings(choice, one).iter().map(|(rate, _)| rate).sum::<f64>()).product();
        let strata = [
            (0.0, likeliest, false, DRAWS / 5),
            (likeliest, 1.0 - likeliest, false, DRAWS * 2 / 5),
            (0.0, 1.0, true, DRAWS * 2 / 5),
        ];
        let of = |(from, share, mistaken, draws): (f64, f64, bool, usize)| -> Stratum {
            // Explanations come evenly over their probabilities, and what the readings bring evenly over theirs: a lattice
            // with a random shift. The standard errors that are stated are those of plain draws, which scatter more.
            let shifts: [f64; 3] = std::array::from_fn(|_| chance.even());
            let values = (0..draws).map(|draw| {
                let place = from + share * (draw as f64 + shifts[2]) / draws as f64;
                let normals: Vec<f64> = STEPS
                    .iter()
                    .zip(shifts)
                    .map(|(step, shift)| normal_quantile((draw as f64 * step + shift).fract()).unwrap_or(0.0))
                    .collect();
                let explanation = explanation_at(&self.blocks.chain.mixture, place);
                drawn_values(&self.blocks.chain, explanation, &readings, mistaken, &normals, chance)
            });
            let values = values.collect();
            Stratum { weight: share * if mistaken { 1.0 - sound } else { sound }, values }
        };
        let strata = strata.map(of);
        let found = strata.map(|stratum| (stratum.weight, self.reviewed(&mut readings, stratum.values)));
        let of = |which: usize| {
            let sums = found.iter().map(|(weight, numbers)| {
                let (mean, error) = mean_and_error(&numbers[which]);
                (weight * mean, weight * error)
            });
            sums.fold((0.0, 0.0_f64), |(mean, error), one| (mean + one.0, error.hypot(one.1)))
        };
        let (gain, standard_error) = of(0);
        Nested { gain, standard_error, drift: of(1) }
    }

    /// For each draw of values the fit probability of the longer sheet less that with the sizes of today, and the latter less
    /// that of today.
    fn reviewed(&mut self, readings: &mut [Taken<'a>], drawn: Vec<Vec<f64>>) -> [Vec<f64>; 2] {
        let (mut gains, mut drifts) = (Vec::new(), Vec::new());
        for values in drawn {
            readings.iter_mut().zip(&values).for_each(|(one, value)| one.value = *value);
            let longer: Vec<Taken<'a>> = self.taken.iter().chain(readings.iter()).cloned().collect();
            let choices = choices::chains(self.sheet, &SHIPPED, self.differential, &longer);
            let chain = Block::explain(&longer, choices, &SHIPPED, &Options::default()).expect("sound models");
            let before = std::mem::replace(&mut self.blocks.chain, chain);
            let mut decisions = decide(self.sheet, &SHIPPED, &self.blocks);
            let anew = fit(&self.blocks, &decisions, &SHIPPED).probability.value;
            decisions.bearing.0 = self.decisions.bearing.0;
            for one in &mut decisions.decided {
                let same = |old: &&crate::decide::Decided| {
                    old.demand.kind == one.demand.kind && old.demand.side == one.demand.side
                };
                let old = self.decisions.decided.iter().find(same).expect("the same dimensions are decided");
                (one.aim, one.size) = (old.aim.clone(), old.size);
            }
            let as_today = fit(&self.blocks, &decisions, &SHIPPED).probability.value;
            self.blocks.chain = before;
            gains.push(anew - as_today);
            drifts.push(as_today - self.fits);
        }
        [gains, drifts]
    }
}

fn mean_and_error(of: &[f64]) -> (f64, f64) {
    let count = of.len() as f64;
    let mean = of.iter().sum::<f64>() / count;
    let square = of.iter().map(|one| (one - mean).powi(2)).sum::<f64>();
    (mean, (square / (count - 1.0) / count).sqrt())
}

/// The explanation in which the sum of the probabilities passes `place`.
fn explanation_at(mixture: &Mixture, place: f64) -> &Explanation {
    let mut sum = 0.0;
    let found = mixture.explanations().iter().find(|one| {
        sum += one.probability;
        sum > place
    });
    found.unwrap_or(&mixture.explanations()[0])
}

/// What readings would bring under an explanation, all of them sound or at least one mistaken.
fn drawn_values<C: Geometry>(
    block: &Block<'_, C>,
    explanation: &Explanation,
    readings: &[Taken<'_>],
    mistaken: bool,
    normals: &[f64],
    chance: &mut Chance<'_>,
) -> Vec<f64> {
    let posterior = block.mixture.posterior(explanation).expect("its numbers are not too far apart");
    let choice = &block.choices[explanation.model];
    let sound = |one: &Taken<'_>| says(choice.form_of(one).expect("a reading of the topic"), one, 0.0);
    let meant: Vec<Evidence> = if mistaken {
        loop {
            let drawn: Vec<Option<Evidence>> = readings.iter().map(|one| drawn_mistake(choice, one, chance)).collect();
            if drawn.iter().any(Option::is_some) {
                break drawn
                    .into_iter()
                    .zip(readings)
                    .map(|(one, reading)| one.unwrap_or_else(|| sound(reading)))
                    .collect();
            }
        }
    } else {
        readings.iter().map(sound).collect()
    };
    // What the readings bring is jointly normal: drawn one after the other, each given those before.
    let mut values: Vec<f64> = Vec::new();
    let mut roots: Vec<Vec<f64>> = Vec::new();
    for one in &meant {
        let mut row: Vec<f64> = Vec::new();
        for (root, other) in roots.iter().zip(&meant) {
            let common: f64 = row.iter().zip(root).map(|(a, b)| a * b).sum();
            row.push((posterior.covariance_of(&one.form, &other.form) - common) / root[row.len()]);
        }
        let variance = posterior.variance_of(&one.form) + one.standard_uncertainty * one.standard_uncertainty;
        row.push((variance - row.iter().map(|entry| entry * entry).sum::<f64>()).sqrt());
        let off: f64 = row.iter().zip(normals).map(|(entry, normal)| entry * normal).sum();
        values.push(posterior.mean_of(&one.form) + off);
        roots.push(row);
    }
    values
}

fn says(form: Form, reading: &Taken<'_>, spread: f64) -> Evidence {
    Evidence { form, value: reading.value, standard_uncertainty: reading.standard_uncertainty.hypot(spread) }
}

/// What a reading may mean where it is mistaken, with the rates of the catalog.
fn meanings(choice: &impl Geometry, reading: &Taken<'_>) -> Vec<(f64, Evidence)> {
    let form = choice.form_of(reading).expect("a reading of the topic");
    let of = |row: &MistakeRow| match choice.mistaken(row.kind, reading) {
        Some(form) => vec![(row.rate, says(form, reading, row.spread.millimetres()))],
        None => slips(row, reading, &form).into_iter().map(|(share, meaning)| (row.rate * share, meaning)).collect(),
    };
    SHIPPED.mistakes.iter().flat_map(of).collect()
}

/// A mistake as often as the catalog says, or none.
fn drawn_mistake(choice: &impl Geometry, reading: &Taken<'_>, chance: &mut Chance<'_>) -> Option<Evidence> {
    let mut left = chance.even();
    let found = meanings(choice, reading).into_iter().find(|(rate, _)| {
        left -= rate;
        left < 0.0
    });
    found.map(|(_, meaning)| meaning)
}

fn planned((measurand, side, better): &Asked) -> Planned<'static> {
    let row = SHIPPED.measurand(*measurand);
    assert!(side.is_some() == (row.sides == Sides::Each), "{measurand:?}");
    let instrument = if *better { SHIPPED.better_instrument(row) } else { SHIPPED.usual_instrument(row) };
    Planned { row, side: *side, instrument, pin_diameter: None }
}

fn sheet(case: &Case) -> Sheet {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/orders").join(case.order);
    let text = fs::read_to_string(path.with_extension("toml")).expect("the order is there");
    read_sheet(case.order, &text, &SHIPPED).expect("the sheet can be read")
}

/// The gain that is foreseen may differ from the one that is drawn by a point, or by what chance explains. The fit probability
/// with the sizes of today must not drift by more than chance.
#[test]
fn the_expected_gain_is_that_of_drawing_the_reading_and_reviewing_the_longer_sheet() {
    let mut differences: Vec<f64> = Vec::new();
    for case in &CASES {
        let sheet = sheet(case);
        let taken = take_in(&sheet, &SHIPPED);
        let differential = choices::differential(&sheet, &SHIPPED);
        let mut today = Today::of(&sheet, &taken, &differential);
        let all: Vec<Planned<'static>> = case.asked.iter().copied().flatten().map(planned).collect();
        let worth = Worth::new(&today.blocks, &today.decisions, &all, &SHIPPED);
        println!("{}: fits {:.4}, by its worth {:.4}", case.order, today.fits, worth.now());
        let mut first = 0;
        for asked in case.asked {
            let chosen: Vec<usize> = (first..first + asked.len()).collect();
            first += asked.len();
            let gain = worth.gain(&chosen);
            // The same chance for every reading, so that they can be compared.
            let mut source = StdRng::seed_from_u64(SEED);
            let mut even = || source.random_range(f64::EPSILON..1.0);
            let nested = today.nested(&all[chosen[0]..first], &mut Chance::new(&mut even));
            let names: Vec<String> = asked.iter().map(|(measurand, ..)| format!("{measurand:?}")).collect();
            let (drift, drift_error) = nested.drift;
            println!(
                "  {}: gain {gain:.4}, drawn {:.4} ± {:.4}, drift {drift:+.4} ± {drift_error:.4}",
                names.join(" and "),
                nested.gain,
                nested.standard_error
            );
            let off = gain - nested.gain;
            assert!(off.abs() < (3.0 * nested.standard_error).max(0.01), "{names:?}: {off}");
            // What is drawn once in thousands may be missing altogether; then there is no scatter to tell by.
            assert!(drift.abs() < (4.0 * drift_error).max(0.01), "{names:?}: {drift} ± {drift_error}");
            differences.push(off);
        }
    }
    let count = differences.len() as f64;
    let mean = differences.iter().sum::<f64>() / count;
    let worst = differences.iter().fold(0.0_f64, |worst, one| worst.max(one.abs()));
    println!("{count} questions, worst difference {:.2} points, mean {:+.2}", 100.0 * worst, 100.0 * mean);
    assert!(mean.abs() < 0.005, "{mean}");
}
