//! The confirmation: what will be made, where each value comes from, and room to sign.

use axle::{Basis, BearingKind, Dimension, DimensionKind, Measurand, PartKind, ReadingReview};
use drawing::{Closeness, Style};
use quantity::{capitalised, percent, sentence};
use serde::Serialize;

use crate::job::Job;
use crate::wording::{basis, closeness, cut_long, fitted, limits, over_pins, part_words, size, with_side};

/// The confirmation.
#[derive(Debug, Clone, Serialize)]
pub struct Confirmation {
    /// The chance that the shafts fit the first time, in words.
    pub chance: String,
    /// The sizes.
    pub groups: Vec<Group>,
    /// The readings that were not taken at their word.
    pub changed: Vec<ChangedReading>,
    /// The parts that the shafts go with.
    pub parts: Vec<ConfirmedPart>,
    /// What was assumed of the loads and not stated, in one sentence; none where nothing was.
    pub assumed_loads: Option<String>,
    /// Which shafts had better be cut long and trimmed at fitting, one sentence each.
    pub cut_long: Vec<String>,
    /// What is not known, one sentence each.
    pub unknown: Vec<String>,
    /// What is to be thought of before it is signed: safety checks that are open.
    pub open_checks: Vec<String>,
}

/// Sizes that belong together.
#[derive(Debug, Clone, Serialize)]
pub struct Group {
    /// Heading.
    pub heading: &'static str,
    /// The sizes.
    pub sizes: Vec<ConfirmedSize>,
}

/// A size with where it comes from.
#[derive(Debug, Clone, Serialize)]
pub struct ConfirmedSize {
    /// What it is.
    pub what: String,
    /// The size.
    pub size: String,
    /// The limits; empty where there are none.
    pub limits: String,
    /// `measured`, `derived`, `assumed`, `changed by us` or `unknown`.
    pub mark: &'static str,
    /// What was written, where it was changed.
    pub before: Option<String>,
}

/// A reading that was changed.
#[derive(Debug, Clone, Serialize)]
pub struct ChangedReading {
    /// What was read.
    pub what: String,
    /// What was written.
    pub before: String,
    /// What it is taken to be.
    pub after: String,
    /// Why.
    pub why: String,
    /// How sure it is.
    pub sure: String,
}

/// A part that the shafts go with.
#[derive(Debug, Clone, Serialize)]
pub struct ConfirmedPart {
    /// What it is.
    pub what: String,
    /// Which.
    pub which: String,
    /// `derived`, `assumed`, `stated` or `unknown`.
    pub mark: &'static str,
    /// How sure it is.
    pub sure: String,
}

/// A reading is changed where it is more likely mistaken than not, or where the order desk takes it as something else.
pub(super) const CHANGED_FROM: f64 = 0.5;

/// Along the shaft, on the flange, where bearing and seal sit.
const GROUPS: [(&str, &[DimensionKind]); 3] = [
    (
        "Distances from the wheel face",
        &[
            DimensionKind::OverallLength,
            DimensionKind::ShoulderDistance,
            DimensionKind::RaceDistance,
            DimensionKind::BrakeOffset,
        ],
    ),
    (
        "Flange",
        &[
            DimensionKind::FlangeDiameter,
            DimensionKind::FlangeThickness,
            DimensionKind::RegisterDiameter,
            DimensionKind::RegisterHeight,
            DimensionKind::WheelPilotDiameter,
            DimensionKind::WheelPilotHeight,
            DimensionKind::BoltCircle,
            DimensionKind::StudHole,
        ],
    ),
    (
        "Seats and spline",
        &[
            DimensionKind::JournalDiameter,
            DimensionKind::RingSeatDiameter,
            DimensionKind::SealJournalDiameter,
            DimensionKind::SplineMajorDiameter,
        ],
    ),
];

impl Confirmation {
    /// The confirmation of a job.
    #[must_use]
    pub fn of(job: &Job<'_>) -> Self {
        let style = job.style();
        let review = job.review;
        let chance = review.fit_probability.map_or_else(
            || "The chance that the shafts fit the first time cannot be said while something is missing.".to_owned(),
            |chance| format!("The chance that the shafts fit the first time is {}.", percent(chance.value)),
        );
        let mut groups: Vec<Group> = GROUPS
            .iter()
            .map(|(heading, kinds)| Group {
                heading,
                sizes: kinds.iter().flat_map(|kind| sizes_of(job, *kind, &style)).collect(),
            })
            .collect();
        if let Some(first) = groups.first_mut() {
            first.sizes.extend(ends(job, &style));
        }
        if let Some(flange) = groups.get_mut(1) {
            flange.sizes.extend(chords(job, &style));
        }
        let changed =
            review.readings.iter().enumerate().filter_map(|(at, reading)| changed(job, at, reading, &style)).collect();
        let assumed: Vec<&str> = review.proof.assumed.iter().map(|one| one.words.as_str()).collect();
        let assumed_loads = (!assumed.is_empty()).then(|| assumed.join(", "));
        Self {
            chance,
            groups,
            changed,
            parts: parts(job, &style),
            assumed_loads,
            cut_long: review.trims.iter().map(|plan| cut_long(plan, &style)).collect(),
            unknown: review.missing.iter().map(|missing| sentence(&missing.words)).collect(),
            open_checks: review
                .proof
                .checks
                .iter()
                .filter(|check| check.outcome != axle::Outcome::Holds)
                .map(|check| check.words.clone())
                .collect(),
        }
    }
}

/// A dimension on every side that it has; one row that says it is not known where it has none.
fn sizes_of(job: &Job<'_>, kind: DimensionKind, style: &Style) -> Vec<ConfirmedSize> {
    let found: Vec<&Dimension> = job.review.dimensions.iter().filter(|dimension| dimension.kind == kind).collect();
    if found.is_empty() {
        return vec![ConfirmedSize {
            what: capitalised(kind.words()),
            size: "not known".to_owned(),
            limits: String::new(),
            mark: "unknown",
            before: None,
        }];
    }
    found.into_iter().map(|dimension| confirmed(job, dimension, style)).collect()
}

fn confirmed(job: &Job<'_>, dimension: &Dimension, style: &Style) -> ConfirmedSize {
    let close = closeness(dimension.kind);
    // A size that both sides share may have been read on each.
    let of_it = |reading: &&ReadingReview| {
        reading.measurand == dimension.kind.own_reading()
            && (dimension.side.is_none() || reading.side == dimension.side)
            && is_changed(reading)
    };
    let written: Vec<&str> = job.review.readings.iter().filter(of_it).map(|reading| reading.written.as_str()).collect();
    let before = (!written.is_empty()).then(|| written.join("; "));
    ConfirmedSize {
        what: capitalised(&with_side(dimension.kind.words(), dimension.side)),
        size: size(dimension.cut, close, style),
        limits: limits(dimension.least, dimension.most, close, style),
        mark: if before.is_some() { "changed by us" } else { basis(dimension.basis) },
        before,
    }
}

/// Whether what is made goes by something else than what was written.
fn is_changed(reading: &ReadingReview) -> bool {
    reading.probability_mistaken > CHANGED_FROM || confirmed_by(reading).is_some()
}

/// Who confirmed the correction of a reading.
fn confirmed_by(reading: &ReadingReview) -> Option<&str> {
    reading.taken_as.as_ref().and_then(|taken| taken.confirmed_by.as_deref())
}

/// End gap and engagement of the spline, on each side.
fn ends(job: &Job<'_>, style: &Style) -> Vec<ConfirmedSize> {
    let mut rows = Vec::new();
    for side in job.sides() {
        let Some(found) = job.review.fitted.differential.sides.iter().find(|one| one.side == side) else { continue };
        for (words, size) in [("end gap", &found.end_gap), ("spline engagement", &found.engagement)] {
            rows.push(ConfirmedSize {
                what: capitalised(&with_side(words, Some(side))),
                size: fitted(size.as_ref(), Closeness::Turned, style),
                limits: String::new(),
                mark: size.as_ref().map_or("unknown", |size| basis(size.basis)),
                before: None,
            });
        }
    }
    rows
}

/// The holes, and the distance between two neighbours, which anybody can check with a caliper.
fn chords(job: &Job<'_>, style: &Style) -> Vec<ConfirmedSize> {
    let circle = job.review.dimension(DimensionKind::BoltCircle, None);
    let (Some(holes), Some(circle)) = (job.review.fitted.holes, circle) else { return Vec::new() };
    if holes < 3 {
        return Vec::new();
    }
    let chord = circle.cut * (std::f64::consts::PI / f64::from(holes)).sin();
    vec![ConfirmedSize {
        what: format!("{holes} holes, chord between neighbours"),
        size: size(chord, Closeness::Turned, style),
        limits: String::new(),
        mark: "derived",
        before: None,
    }]
}

fn changed(job: &Job<'_>, at: usize, reading: &ReadingReview, style: &Style) -> Option<ChangedReading> {
    if !is_changed(reading) && reading.taken_as.is_none() {
        return None;
    }
    let words = &job.catalog.measurand(reading.measurand).words;
    let why = job
        .review
        .explanations
        .iter()
        .flat_map(|explanation| &explanation.mistakes)
        .find(|mistake| mistake.readings.contains(&at))
        .map_or_else(|| "it does not agree with the others".to_owned(), |mistake| mistake.words.clone());
    if let Some(taken) = &reading.taken_as {
        let what = capitalised(&with_side(words, reading.side));
        let (before, after) = (reading.written.clone(), taken.written.clone());
        return Some(match &taken.confirmed_by {
            Some(who) => ChangedReading {
                what,
                before,
                after,
                why: format!("Confirmed by {who}."),
                sure: "confirmed".to_owned(),
            },
            None => {
                let sure = percent(reading.probability_mistaken);
                let why =
                    "We take it so, and you have not confirmed it: until you do, we weigh what you wrote.".to_owned();
                ChangedReading { what, before, after, why, sure }
            }
        });
    }
    let counted = |known: Option<u32>| known.map_or_else(|| "not settled".to_owned(), |count| count.to_string());
    let after = match (reading.reconciled, reading.measurand) {
        (Some(length), _) => size(length, Closeness::Turned, style),
        (None, Measurand::ToothCount) => {
            counted(job.review.fitted.spline.as_ref().filter(|spline| spline.decided).map(|spline| spline.teeth))
        }
        (None, Measurand::HoleCount) => counted(job.review.fitted.holes),
        (None, _) => "not settled".to_owned(),
    };
    Some(ChangedReading {
        what: capitalised(&with_side(words, reading.side)),
        before: reading.written.clone(),
        after,
        why: sentence(&why),
        sure: percent(reading.probability_mistaken),
    })
}

fn parts(job: &Job<'_>, style: &Style) -> Vec<ConfirmedPart> {
    let mut parts: Vec<ConfirmedPart> = job
        .review
        .identified
        .iter()
        .map(|identified| {
            let first = identified.candidates.first();
            ConfirmedPart {
                what: capitalised(part_words(identified.kind)),
                which: first.map_or_else(|| "not known".to_owned(), |one| one.name.clone()),
                mark: match (first, identified.kind) {
                    (None, _) => "unknown",
                    (Some(_), PartKind::Stud) if job.sheet.parts.stud.is_some() => "stated",
                    (Some(_), _) => basis(Basis::Derived),
                },
                sure: first.map_or_else(String::new, |one| {
                    let sure = percent(one.probability);
                    if identified.decided { sure } else { format!("{sure}, not settled") }
                }),
            }
        })
        .collect();
    let bearing = &job.review.fitted.bearing;
    if let Some(kind) = bearing.kind {
        parts.push(ConfirmedPart {
            what: "Bearing carries its load on".to_owned(),
            which: bearing_kind(kind).to_owned(),
            mark: "derived",
            sure: String::new(),
        });
    }
    if let Some(spline) = &job.review.fitted.spline {
        let over = spline.over_pins.map(|over| {
            format!("; over pins of {}: {}", size(over.pin, Closeness::Ground, style), over_pins(spline, &over, style))
        });
        parts.push(ConfirmedPart {
            what: "Spline in full".to_owned(),
            which: format!(
                "{}, {} teeth, {}, {}°, {}{}",
                spline.standard,
                spline.teeth,
                spline.pitch,
                spline.pressure_angle_degrees,
                spline.root,
                over.unwrap_or_default()
            ),
            mark: "derived",
            sure: spline.class.map_or_else(String::new, |class| format!("class {class}, assumed")),
        });
    }
    let shaft = &job.review.fitted.shaft;
    parts.push(ConfirmedPart {
        what: "Steel".to_owned(),
        which: shaft.steel.clone(),
        mark: if shaft.steel_is_stated { "stated" } else { "assumed" },
        sure: String::new(),
    });
    parts
}

/// A kind of bearing, in words.
pub(super) fn bearing_kind(kind: BearingKind) -> &'static str {
    match kind {
        BearingKind::Ball => "balls",
        BearingKind::Tapered => "tapered rollers",
    }
}

#[cfg(test)]
mod tests {
    use super::GROUPS;

    #[test]
    fn every_dimension_stands_once_on_the_confirmation() {
        let mut kinds: Vec<_> = GROUPS.iter().flat_map(|(_, kinds)| kinds.iter().copied()).collect();
        kinds.sort_unstable();
        kinds.dedup();
        assert_eq!(kinds.len(), 16);
    }
}
