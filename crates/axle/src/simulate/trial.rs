//! One simulated order, from a true vehicle to what became of its shafts.

use catalog::{Catalog, MistakeKind};
use reconcile::ModelError;

use super::answer::answered;
use super::chance::Chance;
use super::judge::judge;
use super::measure::{People, Zeal, measure};
use super::vehicle::{Vehicle, draw_vehicle};
use crate::assemble::{Asking, weigh};
use crate::review::{Question, Review, Verdict};
use crate::sheet::Sheet;

/// What is tried.
#[derive(Debug, Clone)]
pub struct Trials {
    /// The catalog of the desk.
    pub catalog: Catalog,
    /// The same catalog, knowing of no mistake: the desk that takes every reading at its word.
    trusting: Catalog,
    /// How much gets measured.
    pub zeal: Zeal,
    /// How the people who measure differ from what the catalog says of them.
    pub people: People,
}

/// What one way of working did with an order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Handling {
    /// Whether it would cut.
    pub cuts: bool,
    /// Whether shafts cut to its dimensions fit the first time.
    pub fits: bool,
}

/// One simulated order.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    /// The fit probability that the review states; none where something that the shafts need was missing.
    pub stated: Option<f64>,
    /// What the review did.
    pub reviewed: Handling,
    /// What a desk did that checks nothing and cuts whatever is complete.
    pub unchecked: Handling,
    /// What a desk did that cuts where the classical tests find nothing.
    pub classical: Handling,
    /// Mistakes that were made, and of those the ones whose reading was called mistaken, and whose kind was named too.
    pub planted: Blame,
    /// Readings that were sound and were called mistaken.
    pub wronged: usize,
    /// What became of it once its questions were answered; none where nobody asked.
    pub asked: Option<Asked>,
}

/// What became of an order whose questions were answered truthfully, one after the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Asked {
    /// How many questions were answered.
    pub questions: usize,
    /// What the review did in the end.
    pub handling: Handling,
}

/// No order is asked about more often than this.
const MOST_QUESTIONS: usize = 8;

/// How mistakes were blamed.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Blame {
    /// How many mistakes there were.
    pub made: usize,
    /// How many of them were blamed on the right reading.
    pub reading_found: usize,
    /// How many of those were called by their name.
    pub named: usize,
}

impl Trials {
    /// Trials of this desk with these people.
    #[must_use]
    pub fn new(catalog: Catalog, zeal: Zeal, people: People) -> Self {
        let mut trusting = catalog.clone();
        for row in &mut trusting.mistakes {
            row.rate = 0.0;
            row.together = 0.0;
            row.rate_when.clear();
        }
        Self { catalog, trusting, zeal, people }
    }

    /// Draws one order, reviews it and tries the shafts; where `ask` is set, its questions are answered as well, the first each
    /// time, until it may be cut. None where the catalog allows no vehicle that works.
    ///
    /// # Errors
    /// [`ModelError`] as of [`crate::review`].
    pub fn run(&self, ask: bool, chance: &mut Chance<'_>) -> Result<Option<Trial>, ModelError> {
        let catalog = &self.catalog;
        let Some(differential) = chance.weighted(&catalog.differentials, |_| 1.0) else { return Ok(None) };
        let Some(vehicle) = draw_vehicle(catalog, differential, chance) else { return Ok(None) };
        let measured = measure(&vehicle, catalog, self.zeal, &self.people, chance);
        let sheet = &measured.sheet;
        let asking = if ask { Asking::Questions } else { Asking::Nothing };
        let reviewed = weigh(sheet, catalog, asking)?;
        let trusting = weigh(sheet, &self.trusting, Asking::Nothing)?;
        let mut fits = |review: &Review| judge(&vehicle, sheet, catalog, review, chance).fits;
        let complete = trusting.missing.is_empty();
        let at_its_word = fits(&trusting);
        let tests_pass = trusting.checks.iter().filter(|check| check.statistic.is_some()).all(|check| check.passed);
        let blame_at = catalog.settings.thresholds.blame_at;
        let mut planted = Blame::default();
        let mut spoiled = vec![false; sheet.readings.len()];
        for mistake in &measured.planted {
            planted.made += 1;
            let found = mistake.readings.iter().all(|at| reviewed.readings[*at].probability_mistaken >= blame_at);
            let named = |kind: MistakeKind| {
                let first = mistake.readings.first();
                first.and_then(|at| reviewed.readings[*at].likely_mistake).is_some_and(|(likely, _)| likely == kind)
            };
            planted.reading_found += usize::from(found);
            planted.named += usize::from(found && named(mistake.kind));
            for at in &mistake.readings {
                spoiled[*at] = true;
            }
        }
        let wronged = reviewed
            .readings
            .iter()
            .zip(&spoiled)
            .filter(|(reading, spoiled)| !**spoiled && reading.probability_mistaken >= blame_at)
            .count();
        let handled = Handling { cuts: reviewed.verdict == Verdict::Cut, fits: fits(&reviewed) };
        let asked = if ask { Some(self.ask(&vehicle, sheet, &reviewed, handled, chance)?) } else { None };
        Ok(Some(Trial {
            stated: reviewed.fit_probability.map(|probability| probability.value),
            reviewed: handled,
            unchecked: Handling { cuts: complete, fits: at_its_word },
            classical: Handling { cuts: complete && tests_pass, fits: at_its_word },
            planted,
            wronged,
            asked,
        }))
    }

    /// Answers the first question of each review until the order may be cut, or nothing more can be asked.
    fn ask(
        &self,
        vehicle: &Vehicle<'_>,
        sheet: &Sheet,
        first: &Review,
        handled: Handling,
        chance: &mut Chance<'_>,
    ) -> Result<Asked, ModelError> {
        let mut asked = Asked { questions: 0, handling: handled };
        let (mut sheet, mut questions, mut verdict) = (sheet.clone(), first.questions.clone(), first.verdict);
        while verdict == Verdict::Ask && asked.questions < MOST_QUESTIONS {
            let longer = |question: &Question| answered(&sheet, question, vehicle, &self.catalog, chance);
            let Some(longer) = questions.iter().find_map(longer) else { break };
            sheet = longer;
            asked.questions += 1;
            let review = weigh(&sheet, &self.catalog, Asking::Questions)?;
            let fits = judge(vehicle, &sheet, &self.catalog, &review, chance).fits;
            asked.handling = Handling { cuts: review.verdict == Verdict::Cut, fits };
            (questions, verdict) = (review.questions, review.verdict);
        }
        Ok(asked)
    }
}
