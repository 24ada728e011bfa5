//! A model: what is known beforehand, what was read, and what a reading may mean instead.

use crate::form::Form;

/// What is known of one unknown before any reading: a normal distribution.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prior {
    /// Its mean.
    pub mean: f64,
    /// Its standard deviation, positive.
    pub standard_deviation: f64,
    /// Whether it is knowledge that a classical test may count as a reading (a size from a table of parts), and not merely
    /// the range of what is usual.
    pub firm: bool,
}

/// One piece of evidence: `value = form + error`, the error normal with mean zero and this standard uncertainty.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence {
    /// Which linear form of the unknowns the reading claims to be.
    pub form: Form,
    /// The value that was read.
    pub value: f64,
    /// Standard uncertainty, positive, in the unit of the value.
    pub standard_uncertainty: f64,
}

/// A mistake: one or several readings that mean something else than they say, together.
#[derive(Debug, Clone, PartialEq)]
pub struct Mistake {
    /// Probability of the mistake beforehand, in (0, 1).
    pub rate: f64,
    /// The readings it spoils, by index and ascending, each with what it then means.
    pub spoils: Vec<(usize, Evidence)>,
}

/// One choice of parts, with all that it implies.
///
/// All models that are weighed against each other share the unknowns and the values that were read; what differs are the
/// priors (sizes of the parts), the forms, and the prior probability of the choice.
#[derive(Debug, Clone, PartialEq)]
pub struct Model {
    /// Prior probability of the choice, relative to the other models, positive.
    pub weight: f64,
    /// One prior for each unknown.
    pub priors: Vec<Prior>,
    /// The readings, each taken at its word.
    pub readings: Vec<Evidence>,
    /// The mistakes that are considered.
    pub mistakes: Vec<Mistake>,
}

/// Why a model cannot be weighed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[expect(missing_docs, reason = "the messages say what the fields are")]
pub enum ModelError {
    #[error("there is no model to weigh")]
    NoModel,
    #[error("model {model} has {found} unknowns and {readings} readings, the first has {unknowns} and {expected}")]
    Shape { model: usize, found: usize, readings: usize, unknowns: usize, expected: usize },
    #[error("model {model}: the {what} of number {index} is {value}; it must be finite{bound}")]
    Number { model: usize, what: &'static str, index: usize, value: f64, bound: &'static str },
    #[error("model {model}: {what} {index} names an unknown or a reading that is not there")]
    Index { model: usize, what: &'static str, index: usize },
    #[error("model {model}: the mistakes of reading {reading} have rates that sum to {sum}; they must stay under 1")]
    Rates { model: usize, reading: usize, sum: f64 },
    #[error("model {model} could not be factorised; its numbers are too far apart")]
    Singular { model: usize },
}

impl Model {
    /// The logarithm of the probability that no mistake was made at all, and for each mistake the logarithm of the odds by
    /// which making it changes that.
    ///
    /// The mistakes of one single reading exclude each other: the reading is sound with probability one minus their sum.
    /// A mistake that spoils several readings together is an event of its own.
    pub(crate) fn prior_odds(&self) -> PriorOdds {
        let mut sound = vec![1.0; self.readings.len()];
        for mistake in &self.mistakes {
            if let [(reading, _)] = mistake.spoils.as_slice() {
                sound[*reading] -= mistake.rate;
            }
        }
        let mut ln_sound = sound.iter().map(|share| share.ln()).sum::<f64>();
        let mut events: Vec<f64> = sound.iter().map(|share| 1.0 - share).collect();
        let mut ln_odds = Vec::with_capacity(self.mistakes.len());
        for mistake in &self.mistakes {
            match mistake.spoils.as_slice() {
                [(reading, _)] => ln_odds.push((mistake.rate / sound[*reading]).ln()),
                _ => {
                    ln_sound += (1.0 - mistake.rate).ln();
                    events.push(mistake.rate);
                    ln_odds.push((mistake.rate / (1.0 - mistake.rate)).ln());
                }
            }
        }
        PriorOdds { ln_sound, ln_odds, events }
    }

    /// Whether two of these mistakes cannot be made together, since each is one of the things that a single reading may mean.
    pub(crate) fn exclude_each_other(&self, mistakes: &[usize]) -> bool {
        let single = |mistake: &usize| match self.mistakes[*mistake].spoils.as_slice() {
            [(reading, _)] => Some(*reading),
            _ => None,
        };
        let twice = |(at, mistake): (usize, &usize)| {
            single(mistake).is_some_and(|reading| mistakes[..at].iter().any(|other| single(other) == Some(reading)))
        };
        mistakes.iter().enumerate().any(twice)
    }

    pub(crate) fn check(&self, index: usize, first: &Self) -> Result<(), ModelError> {
        if self.priors.len() != first.priors.len() || self.readings.len() != first.readings.len() {
            return Err(ModelError::Shape {
                model: index,
                found: self.priors.len(),
                readings: self.readings.len(),
                unknowns: first.priors.len(),
                expected: first.readings.len(),
            });
        }
        let number = |what, at, value: f64, sound: bool, bound| {
            if value.is_finite() && sound {
                Ok(())
            } else {
                Err(ModelError::Number { model: index, what, index: at, value, bound })
            }
        };
        number("weight", index, self.weight, self.weight > 0.0, " and positive")?;
        for (at, prior) in self.priors.iter().enumerate() {
            number("prior mean", at, prior.mean, true, "")?;
            let deviation = prior.standard_deviation;
            number("prior standard deviation", at, deviation, deviation > 0.0, " and positive")?;
        }
        let evidence = |what, at, evidence: &Evidence| {
            number("value", at, evidence.value, true, "")?;
            number("constant", at, evidence.form.constant(), true, "")?;
            let uncertainty = evidence.standard_uncertainty;
            number("standard uncertainty", at, uncertainty, uncertainty > 0.0, " and positive")?;
            for (_, coefficient) in evidence.form.terms() {
                number("coefficient", at, *coefficient, true, "")?;
            }
            if evidence.form.last_unknown().is_some_and(|last| last >= self.priors.len()) {
                return Err(ModelError::Index { model: index, what, index: at });
            }
            Ok(())
        };
        for (at, reading) in self.readings.iter().enumerate() {
            evidence("reading", at, reading)?;
        }
        let mut spoiled = vec![0.0; self.readings.len()];
        for (at, mistake) in self.mistakes.iter().enumerate() {
            let rate = mistake.rate;
            number("rate", at, rate, rate > 0.0 && rate < 1.0, " and between 0 and 1")?;
            let ascending = mistake.spoils.is_sorted_by(|one, next| one.0 < next.0);
            let inside = mistake.spoils.iter().all(|(reading, _)| *reading < self.readings.len());
            if mistake.spoils.is_empty() || !ascending || !inside {
                return Err(ModelError::Index { model: index, what: "mistake", index: at });
            }
            for (_, meaning) in &mistake.spoils {
                evidence("mistake", at, meaning)?;
            }
            if let [(reading, _)] = mistake.spoils.as_slice() {
                spoiled[*reading] += rate;
            }
        }
        match spoiled.iter().position(|sum| *sum >= 1.0) {
            Some(reading) => Err(ModelError::Rates { model: index, reading, sum: spoiled[reading] }),
            None => Ok(()),
        }
    }
}

/// The prior of making mistakes.
pub(crate) struct PriorOdds {
    /// Logarithm of the probability that every reading is sound.
    pub ln_sound: f64,
    /// For each mistake, the logarithm of the odds against that.
    pub ln_odds: Vec<f64>,
    /// Probabilities of the independent events "something is mistaken here".
    events: Vec<f64>,
}

impl PriorOdds {
    /// Probability that more than `most` of the independent events happen: what an enumeration up to `most` leaves out.
    ///
    /// This is the tail of a Poisson-binomial distribution, summed exactly.
    pub fn beyond(&self, most: usize) -> f64 {
        let mut at = vec![0.0; most + 1];
        at[0] = 1.0;
        let mut beyond = 0.0;
        for probability in &self.events {
            beyond += at[most] * probability;
            for count in (0..=most).rev() {
                let from_below = if count > 0 { at[count - 1] * probability } else { 0.0 };
                at[count] = at[count] * (1.0 - probability) + from_below;
            }
        }
        beyond
    }
}
