//! The readings that are suspected, each with its explanation in words, the correction, and the question for the customer.

use axle::{Review, Side, TakenAsReview};
use book::ReviewedSheet;
use catalog::Catalog;
use quantity::{Leading, Length, decimal_inches, millimetres_text};

use crate::words::percent;

use super::written::reading_name;

/// A doubt below this is not worth a word.
const WORTH_A_WORD: f64 = 0.05;

/// A reading that is suspected.
pub(super) struct Doubt {
    /// Its place in the review.
    pub index: usize,
    /// Its field in the form.
    pub field: String,
    /// What it is called: `left overall length`.
    pub called: String,
    /// What was written.
    pub written: String,
    /// The chance that it is mistaken.
    pub chance: f64,
    /// Whether it is called mistaken.
    pub is_strong: bool,
    /// A few words, beside the field.
    pub short: String,
    /// What happened, in words; several readings may have the same explanation.
    pub explained: String,
    /// The chance of that explanation.
    pub likely: f64,
    /// What happened, as it follows `it was`.
    pub happened: Option<String>,
    /// What it should have said if the mistake is undone and nothing else, as it would be written. Where the mistake has no name there
    /// is no such thing: what the other readings make of this one says nothing that they do not say already.
    pub correction: Option<String>,
    /// What the other readings make of it, to be known and not to be written.
    pub others_make: Option<String>,
    /// What the sheet takes it as.
    pub taken: Option<TakenAsReview>,
    /// The question for the customer.
    pub question: String,
    /// Key and side of what it measures, as the drawing names them.
    pub measurand: &'static str,
    /// The side.
    pub side: Option<Side>,
}

impl Doubt {
    /// How likely the reading is mistaken, as the list says it, and how likely this is how it came about:
    /// `99.9 % likely mistaken, 95.7 % in this way`.
    pub fn chances(&self) -> String {
        let (mistaken, in_this_way) = (percent(self.chance), percent(self.likely));
        if mistaken == in_this_way {
            format!("{mistaken} likely mistaken")
        } else {
            format!("{mistaken} likely mistaken, {in_this_way} in this way")
        }
    }
}

/// The fields of the readings of a review, in its order: separate readings of one thing are counted.
pub(super) fn reading_fields(review: &Review) -> Vec<String> {
    let readings = &review.readings;
    (0..readings.len())
        .map(|at| {
            let one = &readings[at];
            let alike = |other: &&axle::ReadingReview| other.measurand == one.measurand && other.side == one.side;
            let entry = readings[..at].iter().filter(alike).count();
            reading_name(one.side.map_or("shared", Side::words), one.measurand.key(), entry)
        })
        .collect()
}

/// The suspected readings, the most suspected first.
pub(super) fn doubts(reviewed: &ReviewedSheet, catalog: &Catalog) -> Vec<Doubt> {
    let review = &reviewed.review;
    let leading = axle::leading(&reviewed.sheet);
    let fields = reading_fields(review);
    let blame = catalog.settings.thresholds.blame_at;
    let mut all: Vec<Doubt> = review
        .readings
        .iter()
        .enumerate()
        .filter(|(_, one)| one.probability_mistaken >= WORTH_A_WORD)
        .map(|(index, one)| {
            let side = one.side.map(|side| format!("{} ", side.words())).unwrap_or_default();
            let row = catalog.measurand(one.measurand);
            let called = format!("{side}{}", row.words);
            let kind = one.likely_mistake.map(|(kind, _)| kind);
            let told = review
                .explanations
                .iter()
                .flat_map(|explanation| &explanation.mistakes)
                .find(|mistake| Some(mistake.kind) == kind && mistake.readings.contains(&index));
            let happened = kind.map(|kind| catalog.mistake(kind).words.clone());
            let words = match (told, &happened) {
                (Some(mistake), _) => format!("The {}", mistake.words.trim_start_matches("the ")),
                (None, Some(happened)) => format!("The {called} ({}) was {happened}", one.written),
                (None, None) => format!("The {called} ({}) does not agree with the others", one.written),
            };
            let correction = told
                .and_then(|mistake| mistake.corrections.iter().find(|correction| correction.reading == index))
                .map(|correction| correction.written.clone());
            let others_make = one.reconciled.filter(|_| one.probability_mistaken >= blame && correction.is_none());
            let likely = one.likely_mistake.map_or(one.probability_mistaken, |(_, chance)| chance);
            let looks = happened.as_ref().map_or_else(
                || "it does not agree with your other measurements".to_owned(),
                |happened| format!("it looks as if it was {happened}"),
            );
            Doubt {
                index,
                field: fields[index].clone(),
                question: format!(
                    "Please take the {called} once more. You wrote {}, and {looks}. {}",
                    one.written, row.how
                ),
                called,
                written: one.written.clone(),
                chance: one.probability_mistaken,
                is_strong: one.probability_mistaken >= blame,
                short: format!("{} {}", percent(likely), happened.as_deref().unwrap_or("mistaken")),
                explained: words,
                likely,
                happened,
                correction,
                others_make: others_make.map(|length| size(length, leading)),
                taken: one.taken_as.clone(),
                measurand: one.measurand.key(),
                side: one.side,
            }
        })
        .collect();
    all.sort_by(|one, other| other.chance.total_cmp(&one.chance).then(one.index.cmp(&other.index)));
    all
}

/// A size as it is told.
fn size(length: Length, leading: Leading) -> String {
    match leading {
        Leading::Inches => decimal_inches(length, 3),
        Leading::Millimetres => millimetres_text(length, 2),
    }
}
