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

/// Where in a model something stands, by index.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// The model itself.
    Model,
    /// One of its priors.
    Prior(usize),
    /// One of its readings.
    Reading(usize),
    /// One of its mistakes.
    Mistake(usize),
    /// What a mistake makes a reading mean.
    Meaning {
        /// The mistake.
        mistake: usize,
        /// The reading that it spoils.
        reading: usize,
    },
}

impl std::fmt::Display for Place {
    fn fmt(&self, to: &mut std::fmt::Formatter) -> std::fmt::Result {
        match self {
            Self::Model => write!(to, "the model itself"),
            Self::Prior(at) => write!(to, "prior {at}"),
            Self::Reading(at) => write!(to, "reading {at}"),
            Self::Mistake(at) => write!(to, "mistake {at}"),
            Self::Meaning { mistake, reading } => write!(to, "mistake {mistake}, meaning of reading {reading}"),
        }
    }
}

/// Why a model cannot be weighed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[expect(missing_docs, reason = "the messages say what the fields are")]
pub enum ModelError {
    #[error("there is no model to weigh")]
    NoModel,
    #[error(
        "model {model} has {found_unknowns} unknowns and {found_readings} readings, the first has {unknowns} and \
         {readings}; all must have as many"
    )]
    Shape { model: usize, found_unknowns: usize, found_readings: usize, unknowns: usize, readings: usize },
    #[error("model {model}, {place}: the {what} is {value}; it must be finite{bound}")]
    Number { model: usize, place: Place, what: &'static str, value: f64, bound: &'static str },
    #[error("model {model}, {place}: it names unknown {unknown}, but there are only {unknowns}, counted from 0")]
    Unknown { model: usize, place: Place, unknown: usize, unknowns: usize },
    #[error(
        "model {model}, mistake {mistake}: it must spoil one or several of the {readings} readings, each once, by \
         ascending index from 0"
    )]
    Spoils { model: usize, mistake: usize, readings: usize },
    #[error("model {model}, reading {reading}: the rates of its mistakes sum to {sum}; they must stay under 1")]
    Rates { model: usize, reading: usize, sum: f64 },
    #[error("model {model} could not be factorised; its numbers are too far apart")]
    Singular { model: usize },
    #[error("explanations with up to {asked} mistakes are asked for; they can hold {most} at most")]
    Mistakes { asked: usize, most: usize },
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
        let (unknowns, readings) = (first.priors.len(), first.readings.len());
        if self.priors.len() != unknowns || self.readings.len() != readings {
            let (found_unknowns, found_readings) = (self.priors.len(), self.readings.len());
            return Err(ModelError::Shape { model: index, found_unknowns, found_readings, unknowns, readings });
        }
        let check = Check { model: index, unknowns };
        check.positive(Place::Model, "weight", self.weight)?;
        for (at, prior) in self.priors.iter().enumerate() {
            check.finite(Place::Prior(at), "mean", prior.mean)?;
            check.positive(Place::Prior(at), "standard deviation", prior.standard_deviation)?;
        }
        for (at, reading) in self.readings.iter().enumerate() {
            check.evidence(Place::Reading(at), reading)?;
        }
        let mut spoiled = vec![0.0; readings];
        for (at, mistake) in self.mistakes.iter().enumerate() {
            let rate = mistake.rate;
            check.number(Place::Mistake(at), "rate", rate, rate > 0.0 && rate < 1.0, " and between 0 and 1")?;
            let ascending = mistake.spoils.is_sorted_by(|one, next| one.0 < next.0);
            let inside = mistake.spoils.iter().all(|(reading, _)| *reading < readings);
            if mistake.spoils.is_empty() || !ascending || !inside {
                return Err(ModelError::Spoils { model: index, mistake: at, readings });
            }
            for (reading, meaning) in &mistake.spoils {
                check.evidence(Place::Meaning { mistake: at, reading: *reading }, meaning)?;
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

/// Checks of the numbers of one model.
struct Check {
    model: usize,
    unknowns: usize,
}

impl Check {
    fn number(
        &self,
        place: Place,
        what: &'static str,
        value: f64,
        sound: bool,
        bound: &'static str,
    ) -> Result<(), ModelError> {
        if value.is_finite() && sound {
            Ok(())
        } else {
            Err(ModelError::Number { model: self.model, place, what, value, bound })
        }
    }

    fn finite(&self, place: Place, what: &'static str, value: f64) -> Result<(), ModelError> {
        self.number(place, what, value, true, "")
    }

    fn positive(&self, place: Place, what: &'static str, value: f64) -> Result<(), ModelError> {
        self.number(place, what, value, value > 0.0, " and positive")
    }

    fn evidence(&self, place: Place, evidence: &Evidence) -> Result<(), ModelError> {
        self.finite(place, "value", evidence.value)?;
        self.finite(place, "constant", evidence.form.constant())?;
        self.positive(place, "standard uncertainty", evidence.standard_uncertainty)?;
        for (_, coefficient) in evidence.form.terms() {
            self.finite(place, "coefficient", *coefficient)?;
        }
        match evidence.form.last_unknown() {
            Some(unknown) if unknown >= self.unknowns => {
                Err(ModelError::Unknown { model: self.model, place, unknown, unknowns: self.unknowns })
            }
            _ => Ok(()),
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
