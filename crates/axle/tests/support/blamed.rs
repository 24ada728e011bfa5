//! What a review must say when mistakes are planted.

use axle::{Review, Side};
use catalog::{Measurand, MistakeKind};

/// A reading by what it reads and on which side.
type Place = (Measurand, Option<Side>);

/// The most probable explanation holds this mistake on these readings and no other, they are more likely mistaken than not,
/// and no other reading is.
#[allow(dead_code, reason = "not every test that shares this file plants a single mistake")]
pub fn assert_blamed(review: &Review, kind: MistakeKind, readings: &[Place]) {
    let place = |at: &usize| (review.readings[*at].measurand, review.readings[*at].side);
    let all: Vec<usize> = (0..review.readings.len()).filter(|at| readings.contains(&place(at))).collect();
    assert_all_blamed(review, &[(kind, all)]);
}

/// The most probable explanation holds these mistakes, each on these readings (by their place in the sheet), and no other; the
/// readings are more likely mistaken than not, and no other reading is.
pub fn assert_all_blamed(review: &Review, planted: &[(MistakeKind, Vec<usize>)]) {
    let likeliest = review.explanations.first().expect("a review has explanations");
    let in_order = |mistakes: &mut Vec<(MistakeKind, Vec<usize>)>| {
        mistakes.iter_mut().for_each(|(_, readings)| readings.sort_unstable());
        mistakes.sort();
    };
    let mut found: Vec<(MistakeKind, Vec<usize>)> =
        likeliest.mistakes.iter().map(|mistake| (mistake.kind, mistake.readings.clone())).collect();
    let mut expected = planted.to_vec();
    in_order(&mut found);
    in_order(&mut expected);
    assert_eq!(found, expected, "{}: {:#?}", review.reference, review.explanations);
    let readings: Vec<usize> = planted.iter().flat_map(|(_, readings)| readings.clone()).collect();
    assert_only_blamed_at(review, &readings);
}

/// These readings are more likely mistaken than not, and no other reading is.
#[allow(dead_code, reason = "not every test that shares this file plants a single mistake")]
pub fn assert_only_blamed(review: &Review, readings: &[Place]) {
    let place = |at: &usize| (review.readings[*at].measurand, review.readings[*at].side);
    let all: Vec<usize> = (0..review.readings.len()).filter(|at| readings.contains(&place(at))).collect();
    assert_only_blamed_at(review, &all);
}

fn assert_only_blamed_at(review: &Review, readings: &[usize]) {
    for (at, reading) in review.readings.iter().enumerate() {
        assert_eq!(
            reading.probability_mistaken >= 0.5,
            readings.contains(&at),
            "{}: {} ({}): mistaken with {:.3}",
            review.reference,
            reading.measurand.key(),
            reading.written,
            reading.probability_mistaken
        );
    }
}
