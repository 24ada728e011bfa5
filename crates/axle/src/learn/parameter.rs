//! What is learned: the uncertainties and rates of a catalog, each with its place in the lists of an estimate.

use catalog::{Catalog, Condition, Measurand, MistakeKind};
use quantity::{Instrument, Length, LengthExt, Limit};

/// A part of the uncertainty of a reading that is learned.
///
/// What a reading was rounded to is not among them: the step of a scale is what it is. The limit of an instrument stays the
/// same from repeat to repeat and shows only against the truth; the repeatability shows in repeats as well; the set-up belongs
/// to what is measured.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum UncertaintyPart {
    /// Limit and set-up of the instrument of that name.
    Limit(String),
    /// Repeatability of the instrument of that name.
    Repeatability(String),
    /// Set-up of a measurand.
    SetUp(Measurand),
}

/// Every uncertainty and every rate of a catalog, in its order. One that is nought there is not learned: a shop that sets the
/// rate of a mistake to 0 says that it never happens.
pub(super) struct Parameters {
    /// The parts of uncertainties.
    pub uncertainties: Vec<Uncertainty>,
    /// What each of their factors is worth beforehand, in readings.
    pub factors: Vec<f64>,
    /// The rates of mistakes, without a condition and under each that has a rate of its own.
    pub rates: Vec<Rate>,
}

/// A part of an uncertainty with its value in the catalog and the factors that its variance is multiplied by.
pub(super) struct Uncertainty {
    pub part: UncertaintyPart,
    pub shipped: Length,
    pub factors: Factors,
}

/// The factors of a variance, by their places.
///
/// The first is that of the instrument: how far people who hold it fall short of what the catalog says of it, whatever they
/// measure. The second says how far this part, be it limit, repeatability or set-up, differs from that. So people who are twice
/// as careless all round move one factor and not fifty, and what a single reading cannot tell apart moves together until something
/// tells it apart: repeats, or the same instrument on another measurand.
pub(super) type Factors = (usize, Option<usize>);

/// Which of a mistake's rates.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Occasion {
    /// In a single reading.
    Usual,
    /// In a single reading that is marked with a condition.
    Marked(Condition),
    /// In all readings of one person that it can spoil.
    Throughout,
}

/// A rate of a mistake.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rate {
    pub kind: MistakeKind,
    pub occasion: Occasion,
    pub shipped: f64,
}

impl Parameters {
    /// The parameters of a catalog.
    pub fn of(catalog: &Catalog) -> Self {
        let mut uncertainties = Vec::new();
        let settings = &catalog.settings.learning;
        let (whole, part) = (settings.uncertainties_are_worth, settings.parts_are_worth);
        let mut factors = Vec::new();
        let mut next = |worth: f64| {
            factors.push(worth);
            factors.len() - 1
        };
        let mut hands = Vec::new();
        for row in &catalog.instruments {
            let hand = next(whole);
            hands.push((row.name.as_str(), hand));
            let limit = UncertaintyPart::Limit(row.name.clone());
            let factors = (hand, Some(next(part)));
            uncertainties.push(Uncertainty { part: limit, shipped: stated_limit(row), factors });
            if row.repeatability.millimetres() > 0.0 {
                let repeatability = UncertaintyPart::Repeatability(row.name.clone());
                uncertainties.push(Uncertainty {
                    part: repeatability,
                    shipped: row.repeatability,
                    factors: (hand, Some(next(part))),
                });
            }
        }
        for row in catalog.measurands.iter().filter(|row| !row.measurand.is_count() && row.set_up.millimetres() > 0.0) {
            let usual = &catalog.usual_instrument(row).name;
            let own = next(part);
            // An instrument that is no longer among the rows leaves the set-up to itself.
            let hand = hands.iter().find(|(name, _)| name == usual);
            let factors = hand.map_or((own, None), |(_, hand)| (*hand, Some(own)));
            uncertainties.push(Uncertainty {
                part: UncertaintyPart::SetUp(row.measurand),
                shipped: row.set_up,
                factors,
            });
        }
        let mut rates = Vec::new();
        for row in &catalog.mistakes {
            let mut add = |occasion: Occasion, shipped: f64| {
                if shipped > 0.0 {
                    rates.push(Rate { kind: row.kind, occasion, shipped });
                }
            };
            add(Occasion::Usual, row.rate);
            row.rate_when.iter().for_each(|(condition, shipped)| add(Occasion::Marked(*condition), *shipped));
            add(Occasion::Throughout, row.together);
        }
        Self { uncertainties, factors, rates }
    }

    /// The place of an uncertainty.
    pub fn uncertainty(&self, part: &UncertaintyPart) -> Option<usize> {
        self.uncertainties.iter().position(|known| known.part == *part)
    }

    /// The place of the rate that applies to a reading with these conditions: the largest, as in
    /// [`MistakeRow::rate_under`](catalog::MistakeRow::rate_under).
    pub fn rate(&self, kind: MistakeKind, conditions: &[Condition]) -> Option<usize> {
        let mut found: Option<usize> = None;
        for (at, rate) in self.rates.iter().enumerate().filter(|(_, rate)| rate.kind == kind) {
            let applies = match rate.occasion {
                Occasion::Usual => true,
                Occasion::Marked(condition) => conditions.contains(&condition),
                Occasion::Throughout => false,
            };
            if applies && found.is_none_or(|best| rate.shipped > self.rates[best].shipped) {
                found = Some(at);
            }
        }
        found
    }

    /// The place of the rate at which one person makes a mistake throughout.
    pub fn throughout(&self, kind: MistakeKind) -> Option<usize> {
        self.rates.iter().position(|rate| rate.kind == kind && rate.occasion == Occasion::Throughout)
    }
}

/// The number that stands for the limit of an instrument in its row: its half width, or its standard uncertainty.
pub(super) fn stated_limit(instrument: &Instrument) -> Length {
    match instrument.limit {
        Limit::HalfWidth { constant, .. } => constant,
        Limit::Standard(standard) => standard,
    }
}
