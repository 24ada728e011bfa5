//! What a review must say when a mistake is planted.

use axle::{Review, Side};
use catalog::{Measurand, MistakeKind};

/// A reading by what it reads and on which side.
type Place = (Measurand, Option<Side>);

/// The most probable explanation holds this mistake on these readings and no other, they are more likely mistaken than not,
/// and no other reading is.
pub fn assert_blamed(review: &Review, kind: MistakeKind, readings: &[Place]) {
    let likeliest = review.explanations.first().expect("a review has explanations");
    let found: Vec<(MistakeKind, Vec<Place>)> = likeliest
        .mistakes
        .iter()
        .map(|mistake| {
            let named = |at: &usize| (review.readings[*at].measurand, review.readings[*at].side);
            (mistake.kind, mistake.readings.iter().map(named).collect())
        })
        .collect();
    assert_eq!(found, [(kind, readings.to_vec())], "{:#?}", review.explanations);
    assert_only_blamed(review, readings);
}

/// These readings are more likely mistaken than not, and no other reading is.
pub fn assert_only_blamed(review: &Review, readings: &[Place]) {
    for reading in &review.readings {
        let planted = readings.contains(&(reading.measurand, reading.side));
        assert_eq!(
            reading.probability_mistaken >= 0.5,
            planted,
            "{} ({}): mistaken with {:.3}",
            reading.measurand.key(),
            reading.written,
            reading.probability_mistaken
        );
    }
}
