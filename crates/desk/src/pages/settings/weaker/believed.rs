//! Tolerances, beliefs and costs: what moves the chance of a fit without anybody measuring better.

use catalog::{Settings, ShopTolerances, Spread};
use quantity::{Length, LengthExt};

/// A number that may only grow, or only shrink, for a review to stay as careful as it is.
struct Held {
    what: &'static str,
    was: f64,
    becomes: f64,
}

const fn held(what: &'static str, was: f64, becomes: f64) -> Held {
    Held { what, was, becomes }
}

fn lengths(what: &'static str, was: Length, becomes: Length) -> Held {
    held(what, was.millimetres(), becomes.millimetres())
}

fn spreads(what: &'static str, was: &Spread, becomes: &Spread) -> Held {
    lengths(what, was.standard_deviation, becomes.standard_deviation)
}

/// Tolerances of the shop. A finer one promises what the machines may not hold, a coarser one lets more pass at the bench.
pub(super) fn tolerances(was: &ShopTolerances, becomes: &ShopTolerances) -> Vec<String> {
    let all = [
        lengths("overall length", was.overall_length, becomes.overall_length),
        lengths("shoulder distance", was.shoulder_distance, becomes.shoulder_distance),
        lengths("register and wheel pilot", was.register_diameter, becomes.register_diameter),
        lengths("ring seat and seal journal", was.seat_diameter, becomes.seat_diameter),
        lengths("sizes that nothing fits against", was.free_size, becomes.free_size),
        lengths("hole position", was.hole_position, becomes.hole_position),
    ];
    all.iter()
        .filter(|one| one.was != one.becomes)
        .map(|Held { what, was, becomes }| {
            if becomes < was {
                format!(
                    "Reviews take it that the shop holds {what} within {becomes:.4} mm, where it was {was:.4}: more shafts are called \
                     fitting, and no machine has become finer for it."
                )
            } else {
                format!("The bench lets {what} be off by {becomes:.4} mm, where it was {was:.4}.")
            }
        })
        .collect()
}

/// What is believed before any evidence, and what a wrong size costs.
pub(super) fn beliefs(now: &Settings, then: &Settings) -> Vec<String> {
    let mut found = Vec::new();
    let (was, becomes) = (&now.beliefs, &then.beliefs);
    let grown = [
        held("how often a claimed part is the one that is there", was.claim_right, becomes.claim_right),
        held(
            "below which likelihood a choice of parts is not weighed in full",
            was.implausible_below,
            becomes.implausible_below,
        ),
    ];
    for Held { what, was, becomes } in grown.iter().filter(|one| one.becomes > one.was) {
        found.push(format!("Reviews raise {what} from {was} to {becomes}, so they doubt less."));
    }
    let shrunk = [
        held("how often a part is in no row of the catalog", was.unlisted_part, becomes.unlisted_part),
        spreads(
            "the spread of the race offset of a bearing in no row, mm",
            &was.unlisted_race_offset,
            &becomes.unlisted_race_offset,
        ),
        spreads(
            "the spread of the interference of a bearing in no row, mm",
            &was.unlisted_interference,
            &becomes.unlisted_interference,
        ),
        lengths("how far a bearing may be from its row, mm", was.ring_deviation, becomes.ring_deviation),
        lengths(
            "how far the bore of a housing end may be from its row, mm",
            was.housing_bore_deviation,
            becomes.housing_bore_deviation,
        ),
        lengths(
            "how far a bolt rectangle may be from its row, mm",
            was.hole_pattern_deviation,
            becomes.hole_pattern_deviation,
        ),
        lengths("how far a bolt hole may be from its row, mm", was.bolt_hole_deviation, becomes.bolt_hole_deviation),
        lengths(
            "how far a bolt circle may be from its row, mm",
            was.bolt_circle_deviation,
            becomes.bolt_circle_deviation,
        ),
        lengths("how far a brake may be from its row, mm", was.brake_deviation, becomes.brake_deviation),
        spreads("the spread of the thinning of real teeth, mm", &was.tooth_thinning, &becomes.tooth_thinning),
        held("how much a set-up suffers through the access hole", was.access_hole_factor, becomes.access_hole_factor),
        held("what readings of one hand have in common", was.same_hand_share, becomes.same_hand_share),
        held("by how much whole sheets may scatter", scatter(&was.scatter), scatter(&becomes.scatter)),
    ];
    let (was, becomes) = (&now.stray, &then.stray);
    let stray = [
        spreads("the spread of a drum's web, mm", &was.drum_web, &becomes.drum_web),
        spreads("the spread of a brake plate, mm", &was.brake_plate, &becomes.brake_plate),
        spreads("the spread of a caliper bracket, mm", &was.caliper_bracket, &becomes.caliper_bracket),
        spreads("the spread of a lock ring's width, mm", &was.lock_ring, &becomes.lock_ring),
        spreads("the spread of the fillet at the shoulder, mm", &was.shoulder_fillet, &becomes.shoulder_fillet),
        spreads("the spread of the step to the ring seat, mm", &was.ring_seat_step, &becomes.ring_seat_step),
        spreads("the spread of the step to the seal journal, mm", &was.seal_journal_step, &becomes.seal_journal_step),
        spreads("the spread of the pinion's offset, mm", &was.pinion_offset, &becomes.pinion_offset),
        lengths(
            "how far one side of an old axle may differ from the other, mm",
            was.side_to_side,
            becomes.side_to_side,
        ),
    ];
    for Held { what, was, becomes } in shrunk.iter().chain(&stray).filter(|one| one.becomes < one.was) {
        found.push(format!("Reviews lower {what} from {was} to {becomes}, so they doubt less."));
    }
    let (was, becomes) = (&now.losses, &then.losses);
    if becomes.scrap / becomes.rework < was.scrap / was.rework {
        found.push(format!(
            "A scrapped shaft counts as {:.2} of rework, where it was {:.2}: sizes to cut stay less far from the side that cannot be \
             mended.",
            becomes.scrap / becomes.rework,
            was.scrap / was.rework
        ));
    }
    found
}

/// The mean square of the multiples, by their shares.
fn scatter(all: &[catalog::Scatter]) -> f64 {
    all.iter().map(|one| one.share * one.multiple * one.multiple).sum()
}
