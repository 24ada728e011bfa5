//! What readings of one hand have in common: the error of the instrument that they were all taken with.
//!
//! A tape that is a little long is a little long in every reading that it takes. The limit of error of an instrument is
//! therefore split: one part of its variance, a setting of the catalog, belongs to the instrument in that hand and is an
//! unknown of its own, shared by all readings with it; the rest belongs to each reading.

use catalog::Catalog;
use quantity::{LengthExt, millimetres};
use reconcile::{Form, Prior};

use crate::evidence::Taken;

/// One instrument in one hand.
#[derive(Debug, Clone)]
pub(crate) struct Hand {
    /// Who read, where the sheet says so, and with what.
    pub words: String,
    /// The readings, by their place in the topic, each with the standard deviation of what they have in common.
    members: Vec<(usize, f64)>,
}

/// The instruments in hands that took several readings, by name.
pub(crate) fn hands(taken: &[Taken<'_>], catalog: &Catalog) -> Vec<Hand> {
    type Key<'k> = (Option<&'k str>, &'k str);
    let mut hands: Vec<(Key<'_>, Vec<(usize, f64)>)> = Vec::new();
    for (at, one) in taken.iter().enumerate().filter(|(_, one)| !one.measurand.is_count()) {
        let common = common_deviation(one, catalog);
        let key = (one.by, one.instrument.name.as_str());
        match hands.iter_mut().find(|(known, _)| *known == key) {
            Some((_, members)) => members.push((at, common)),
            None => hands.push((key, vec![(at, common)])),
        }
    }
    hands.retain(|(_, members)| members.len() > 1 && members.iter().all(|(_, common)| *common > 0.0));
    hands.sort_by_key(|(key, _)| *key);
    let words = |(by, instrument): Key<'_>| match by {
        Some(by) => format!("error of the {instrument} in the hand of {by}"),
        None => format!("error of the {instrument}, which all readings with it have in common"),
    };
    hands.into_iter().map(|(key, members)| Hand { words: words(key), members }).collect()
}

/// Standard deviation of the error that a reading shares with all others of that hand and instrument.
pub(crate) fn common_deviation(taken: &Taken<'_>, catalog: &Catalog) -> f64 {
    let limit = taken.instrument.limit.standard_uncertainty(millimetres(taken.value)).millimetres();
    // What a set-up adds is no error of the instrument, and no reading can share more than it has.
    (catalog.settings.beliefs.same_hand_share.sqrt() * limit).min(0.9 * taken.standard_uncertainty)
}

impl Hand {
    /// What is known of its error beforehand, in units of its standard deviation.
    pub fn prior() -> Prior {
        Prior { mean: 0.0, standard_deviation: 1.0, firm: true }
    }

    /// The standard deviation of the common error in a reading; none where that is not one of its own.
    fn common(&self, reading: usize) -> Option<f64> {
        self.members.iter().find(|(at, _)| *at == reading).map(|(_, common)| *common)
    }
}

/// What the hands add to a reading: the form of the common error, whose unknowns come after the first `unknowns`.
pub(crate) fn common(hands: &[Hand], unknowns: usize, reading: usize) -> Form {
    let own = hands.iter().enumerate().find_map(|(hand, one)| Some((unknowns + hand, one.common(reading)?)));
    own.map_or_else(Form::default, |term| Form::new([term], 0.0))
}

/// A form of a reading, where the errors of all hands, whose unknowns come after the first `unknowns`, are larger by a multiple.
pub(crate) fn with_larger_errors(form: &Form, unknowns: usize, multiple: f64) -> Form {
    if multiple == 1.0 || form.terms().iter().all(|(unknown, _)| *unknown < unknowns) {
        return form.clone();
    }
    let larger = |(unknown, a): &(usize, f64)| (*unknown, if *unknown < unknowns { *a } else { multiple * a });
    Form::new(form.terms().iter().map(larger), form.constant())
}

/// The standard uncertainty that is left to the reading itself, where errors are larger than the instruments' by a multiple; a
/// count is right or mistaken.
pub(crate) fn own_uncertainty(hands: &[Hand], taken: &[Taken<'_>], reading: usize, multiple: f64) -> f64 {
    let one = &taken[reading];
    let common = hands.iter().find_map(|hand| hand.common(reading)).unwrap_or(0.0);
    let own = (one.standard_uncertainty * one.standard_uncertainty - common * common).sqrt();
    if one.measurand.is_count() { own } else { multiple * own }
}
