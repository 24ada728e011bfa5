//! Learning from finished orders: how well the shop's customers measure, and what they get wrong how often.
//!
//! When an order is finished, somebody has the old shafts on a bench and knows what they really measure. Held against that, every
//! reading of the sheet shows an error, or a mistake. [`learn`] takes the catalog as what was believed before and gives what is to
//! be believed now: the uncertainty of each instrument and set-up and the rate of each mistake, each with an interval and with how
//! many readings spoke. [`learned_files`] writes them as rows of a catalog.
//!
//! What a reading means under a mistake is built by the same code that a review uses, so the two cannot drift apart.

mod conjugate;
mod estimate;
mod information;
mod observe;
mod parameter;
mod rows;
#[cfg(test)]
mod scattered_reference;
mod variance;
mod weigh;

use catalog::{Catalog, MistakeKind};
use quantity::Length;
use reconcile::ModelError;

pub use conjugate::{RateBelief, VarianceBelief};
pub use observe::{SkipReason, Skipped};
pub use parameter::{Occasion, UncertaintyPart};
pub use rows::{LEARNED_BY, learned_files};

use estimate::estimate;
use observe::{Order, observe};
use parameter::Parameters;

use crate::sheet::Sheet;
use crate::truth::Truth;

/// An order that is finished: the sheet as it came to the desk, and what the parts really measured.
#[derive(Debug, Clone)]
pub struct FinishedOrder {
    /// The sheet.
    pub sheet: Sheet,
    /// The truth.
    pub truth: Truth,
}

/// What finished orders teach.
#[derive(Debug, Clone, PartialEq)]
pub struct Learned {
    /// Every part of an uncertainty of which a reading spoke, in the order of the catalog.
    pub uncertainties: Vec<LearnedUncertainty>,
    /// Every rate that a reading could have shown, in the order of the catalog.
    pub rates: Vec<LearnedRate>,
    /// By how much the readings of the orders scatter, for each multiple that the catalog's beliefs have.
    pub scatter: Vec<LearnedScatter>,
    /// How many orders there were.
    pub orders: usize,
    /// How many readings had a known truth.
    pub readings: usize,
    /// The readings that teach nothing, and why, by order and line.
    pub skipped: Vec<Skipped>,
    /// How many turns the estimate took.
    pub turns: usize,
    /// Whether it settled; where it did not, the values are those of the last turn.
    pub settled: bool,
}

/// How many of the orders scatter by one of the multiples that the catalog's beliefs have. The shares themselves stay as they
/// are: they are believed and not learned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LearnedScatter {
    /// What all uncertainties of such an order are multiplied by, beside what was learned for everybody.
    pub multiple: f64,
    /// How many orders the catalog expects.
    pub expected: f64,
    /// How many there probably were: the sum of the chances.
    pub orders: f64,
}

/// A part of an uncertainty, before and after.
#[derive(Debug, Clone, PartialEq)]
pub struct LearnedUncertainty {
    /// Which part.
    pub part: UncertaintyPart,
    /// The value in the catalog: of a limit the half width at length 0, or the standard uncertainty where the row states one.
    pub before: Length,
    /// The value now.
    pub after: Length,
    /// The interval that holds it, with the probability that the catalog's settings name.
    pub interval: (Length, Length),
    /// How many readings spoke of it.
    pub readings: usize,
    /// What is believed of the square of `after / before`.
    pub belief: VarianceBelief,
}

impl LearnedUncertainty {
    /// What the value in the catalog is to be multiplied by.
    #[must_use]
    pub fn factor(&self) -> f64 {
        self.belief.scale.sqrt()
    }
}

/// A rate of a mistake, before and after.
#[derive(Debug, Clone, PartialEq)]
pub struct LearnedRate {
    /// Which mistake.
    pub kind: MistakeKind,
    /// Which of its rates.
    pub occasion: Occasion,
    /// The rate in the catalog.
    pub before: f64,
    /// The rate now.
    pub after: f64,
    /// The interval that holds it, with the probability that the catalog's settings name.
    pub interval: (f64, f64),
    /// How many readings the mistake could have spoilt; of a mistake made throughout, how often it could have been made.
    pub readings: f64,
    /// How many it probably did spoil, or how often it was made: the sum of the chances.
    pub spoilt: f64,
    /// What is believed of it.
    pub belief: RateBelief,
}

/// Learns from finished orders, with the catalog as what was believed before. The order of the orders does not matter, and
/// without any everything stays as it is.
///
/// # Errors
/// [`ModelError`] where the numbers of the catalog make no sound model. Orders alone cannot cause it.
///
/// ```
/// let catalog = catalog::Catalog::shipped()?;
/// let learned = axle::learn::learn(&[], &catalog)?;
/// assert!(learned.uncertainties.is_empty() && learned.rates.is_empty());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn learn(orders: &[FinishedOrder], catalog: &Catalog) -> Result<Learned, ModelError> {
    let settings = &catalog.settings.learning;
    let parameters = Parameters::of(catalog);
    let scatter = &catalog.settings.beliefs.scatter;
    let mut observed: Vec<Order> = Vec::new();
    let mut skipped = Vec::new();
    let mut readings = 0;
    for order in orders {
        let (order, with_truth) = observe(order, catalog, &parameters, &mut skipped)?;
        observed.push(order);
        readings += with_truth;
    }
    observed.sort_by(Order::by_content);
    skipped
        .sort_by(|one, other| (&one.order, one.line, one.measurand).cmp(&(&other.order, other.line, other.measurand)));

    let found = estimate(&observed, &parameters, settings.rates_are_worth, scatter);
    let beliefs = information::beliefs(&observed, &parameters, settings.rates_are_worth, &found);
    let mut spoke = vec![0; parameters.uncertainties.len()];
    for reading in observed.iter().flat_map(|order| &order.units).flat_map(|unit| &unit.readings) {
        for part in &reading.parts {
            spoke[part.at] += 1;
        }
    }
    let uncertainties = parameters
        .uncertainties
        .iter()
        .zip(&beliefs.uncertainties)
        .zip(spoke)
        .filter(|(_, spoke)| *spoke > 0)
        .map(|((uncertainty, (belief, beforehand)), readings)| {
            let (least, most) = belief.interval_of_product(*beforehand, settings.credible);
            let before = uncertainty.shipped;
            LearnedUncertainty {
                part: uncertainty.part.clone(),
                before,
                after: before * belief.scale.sqrt(),
                interval: (before * least.sqrt(), before * most.sqrt()),
                readings,
                belief: *belief,
            }
        })
        .collect();
    let rates = parameters
        .rates
        .iter()
        .zip(&beliefs.rates)
        .zip(&found.counts)
        .filter(|(_, (_, readings))| *readings > 0.0)
        .map(|((rate, belief), (spoilt, readings))| LearnedRate {
            kind: rate.kind,
            occasion: rate.occasion,
            before: rate.shipped,
            after: belief.mean(),
            interval: belief.interval(settings.credible),
            readings: *readings,
            spoilt: *spoilt,
            belief: *belief,
        })
        .collect();
    let by_multiple = scatter.iter().enumerate().map(|(at, level)| LearnedScatter {
        multiple: level.multiple,
        expected: level.share * orders.len() as f64,
        orders: found.weighed.iter().map(|levels| levels[at].probability).sum(),
    });
    Ok(Learned {
        uncertainties,
        rates,
        scatter: by_multiple.collect(),
        orders: orders.len(),
        readings,
        skipped,
        turns: found.turns,
        settled: found.settled,
    })
}
