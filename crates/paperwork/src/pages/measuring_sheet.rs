//! The measuring sheet: what is still to be measured, how, and room to write it down.

use axle::{Measurand, Side};
use quantity::{capitalised, sentence};
use serde::Serialize;

use super::confirmation::CHANGED_FROM;
use crate::job::Job;
use crate::wording::with_side;

/// The measuring sheet.
#[derive(Debug, Clone, Serialize)]
pub struct MeasuringSheet {
    /// Which readings these are.
    pub purpose: Purpose,
    /// The readings by the picture that shows them.
    pub groups: Vec<MeasuringGroup>,
}

/// Which readings a measuring sheet holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Purpose {
    /// Nothing is read yet: all that a shop wants to know of an axle.
    Everything,
    /// What the review lacks and what it would ask.
    Asked,
    /// Nothing is asked: what is worth a second look before anybody signs.
    SecondLook,
}

/// Readings that one picture shows.
#[derive(Debug, Clone, Serialize)]
pub struct MeasuringGroup {
    /// Name of the picture: `shaft`, `flange`, `housing-end`, `differential`, `spline`; none for questions about parts.
    pub picture: Option<&'static str>,
    /// Heading.
    pub heading: &'static str,
    /// The readings that the picture points out, by key.
    pub shown: Vec<&'static str>,
    /// The readings.
    pub rows: Vec<MeasuringRow>,
}

/// One reading to take.
#[derive(Debug, Clone, Serialize)]
pub struct MeasuringRow {
    /// Its number on this sheet.
    pub number: usize,
    /// What to read.
    pub what: String,
    /// How to take it.
    pub how: String,
    /// What could be read in its place; empty where nothing could.
    pub instead: String,
    /// What to read it with.
    pub instrument: String,
    /// Whether the order cannot be cut without it.
    pub required: bool,
    /// Whether it is a count, which has no unit.
    pub count: bool,
}

/// What a shop wants to know of any axle, in the order in which it is measured.
const USUAL: [Measurand; 34] = [
    Measurand::OverallLength,
    Measurand::ShoulderDistance,
    Measurand::RaceDistance,
    Measurand::BrakeOffset,
    Measurand::FlangeThickness,
    Measurand::FlangeDiameter,
    Measurand::RegisterDiameter,
    Measurand::RegisterHeight,
    Measurand::WheelPilotDiameter,
    Measurand::WheelPilotHeight,
    Measurand::JournalDiameter,
    Measurand::RingSeatDiameter,
    Measurand::SealJournalDiameter,
    Measurand::BearingOutside,
    Measurand::BearingOuterWidth,
    Measurand::HoleCount,
    Measurand::BoltCircle,
    Measurand::EdgeSpan,
    Measurand::EdgeGap,
    Measurand::StudHole,
    Measurand::HousingBoreDiameter,
    Measurand::HousingBoreDepth,
    Measurand::TrappedThickness,
    Measurand::BoltRectangleLong,
    Measurand::BoltRectangleShort,
    Measurand::HousingBoltHole,
    Measurand::HousingWidth,
    Measurand::Reach,
    Measurand::DrumBore,
    Measurand::DrumInside,
    Measurand::ToothCount,
    Measurand::SplineMajorDiameter,
    Measurand::SplineOverPins,
    Measurand::SplineContactLength,
];

/// The length of a shaft, read on one: the first two tell it alone.
const SHAFT_LENGTHS: [Measurand; 3] = [Measurand::OverallLength, Measurand::ShoulderToEnd, Measurand::ShoulderDistance];

/// The length of a shaft, read on its housing.
const HOUSING_LENGTHS: [Measurand; 3] = [Measurand::HousingWidth, Measurand::HalfWidth, Measurand::Reach];

/// Pictures with their headings, in the order of the sheet.
const PICTURES: [(&str, &str); 5] = [
    ("shaft", "Along the shaft"),
    ("flange", "The flange from outboard"),
    ("housing-end", "The housing end, the bearing and the drum"),
    ("differential", "Through the open housing end"),
    ("spline", "The spline"),
];

/// Which picture shows a reading.
fn picture(measurand: Measurand) -> &'static str {
    match measurand {
        Measurand::OverallLength
        | Measurand::ShoulderDistance
        | Measurand::RaceDistance
        | Measurand::BrakeOffset
        | Measurand::ShoulderToEnd
        | Measurand::FlangeThickness
        | Measurand::RegisterHeight
        | Measurand::WheelPilotHeight
        | Measurand::JournalDiameter
        | Measurand::RingSeatDiameter
        | Measurand::SealJournalDiameter => "shaft",
        Measurand::FlangeDiameter
        | Measurand::RegisterDiameter
        | Measurand::WheelPilotDiameter
        | Measurand::BoltCircle
        | Measurand::ChordAdjacent
        | Measurand::ChordAlternate
        | Measurand::ChordOpposite
        | Measurand::EdgeGap
        | Measurand::EdgeSpan
        | Measurand::CentreToFarEdge
        | Measurand::StudHole
        | Measurand::HoleCount
        | Measurand::KnurlDiameter => "flange",
        Measurand::HousingBoreDepth
        | Measurand::TrappedThickness
        | Measurand::BearingBore
        | Measurand::BearingOutside
        | Measurand::BearingInnerWidth
        | Measurand::BearingOuterWidth
        | Measurand::HousingBoreDiameter
        | Measurand::BoltRectangleLong
        | Measurand::BoltRectangleShort
        | Measurand::BoltRectangleDiagonal
        | Measurand::HousingBoltHole
        | Measurand::DrumBore
        | Measurand::DrumInside
        | Measurand::WheelBore => "housing-end",
        Measurand::Reach | Measurand::HalfWidth | Measurand::HousingWidth | Measurand::FaceToFace => "differential",
        Measurand::ToothCount
        | Measurand::SplineMajorDiameter
        | Measurand::SplineOverPins
        | Measurand::SplineContactLength => "spline",
    }
}

/// A reading that is wanted, before it has its number.
struct Wanted {
    measurand: Measurand,
    side: Option<Side>,
    instrument: Option<String>,
    required: bool,
    /// Readings that would do in its place.
    instead: Vec<Measurand>,
}

impl MeasuringSheet {
    /// The sheet of a job.
    #[must_use]
    pub fn of(job: &Job<'_>) -> Self {
        let questions: Vec<&axle::Question> =
            job.review.questions.iter().filter(|question| question.measurand.is_none()).collect();
        let asked = asked(job);
        let (purpose, wanted) = if job.review.readings.is_empty() {
            (Purpose::Everything, everything(job, asked))
        } else if asked.is_empty() && questions.is_empty() {
            (Purpose::SecondLook, second_look(job))
        } else {
            (Purpose::Asked, asked)
        };
        let mut groups = Vec::new();
        let mut number = 0;
        for (name, heading) in PICTURES {
            let mut rows = Vec::new();
            let mut shown = Vec::new();
            for one in wanted.iter().filter(|one| picture(one.measurand) == name) {
                number += 1;
                if !shown.contains(&one.measurand.key()) {
                    shown.push(one.measurand.key());
                }
                rows.push(row(job, one, number));
            }
            if !rows.is_empty() {
                groups.push(MeasuringGroup { picture: Some(name), heading, shown, rows });
            }
        }
        if !questions.is_empty() {
            let rows = questions
                .into_iter()
                .map(|question| {
                    number += 1;
                    MeasuringRow {
                        number,
                        what: capitalised(&question.words),
                        how: sentence(&question.how),
                        instead: String::new(),
                        instrument: question.instrument.clone().unwrap_or_default(),
                        required: question.required,
                        count: true,
                    }
                })
                .collect();
            groups.push(MeasuringGroup { picture: None, heading: "About the parts", shown: Vec::new(), rows });
        }
        Self { purpose, groups }
    }
}

/// What the review lacks and what it would ask.
fn asked(job: &Job<'_>) -> Vec<Wanted> {
    let mut wanted: Vec<Wanted> = Vec::new();
    for missing in &job.review.missing {
        if let Some((measurand, instead)) = missing.measurands.split_first() {
            let row = add(&mut wanted, *measurand, missing.side);
            row.required = true;
            row.instead = instead.to_vec();
        }
    }
    for question in &job.review.questions {
        let Some(measurand) = question.measurand else { continue };
        for (measurand, side) in std::iter::once(&(measurand, question.side)).chain(&question.with) {
            let row = add(&mut wanted, *measurand, *side);
            row.required |= question.required;
            row.instrument = row.instrument.take().or_else(|| question.instrument.clone());
        }
    }
    wanted
}

/// The row of a reading; a new one where there is none.
fn add(wanted: &mut Vec<Wanted>, measurand: Measurand, side: Option<Side>) -> &mut Wanted {
    let at = wanted.iter().position(|one| one.measurand == measurand && one.side == side).unwrap_or(wanted.len());
    if at == wanted.len() {
        wanted.push(Wanted { measurand, side, instrument: None, required: false, instead: Vec::new() });
    }
    &mut wanted[at]
}

/// The usual readings in their order, with what the review says of them; then what else it asks.
fn everything(job: &Job<'_>, asked: Vec<Wanted>) -> Vec<Wanted> {
    let mut wanted = Vec::new();
    for measurand in USUAL {
        for side in sides_of(job, measurand) {
            add(&mut wanted, measurand, side);
        }
    }
    for one in asked {
        let row = add(&mut wanted, one.measurand, one.side);
        row.required |= one.required;
        row.instrument = one.instrument;
    }
    wanted
}

/// The lengths that were read, since a shaft that is too short is scrap, and the readings that were not taken at their word.
/// Where there was no shaft to read, its length comes from the housing.
fn second_look(job: &Job<'_>) -> Vec<Wanted> {
    let has_shaft = job.review.readings.iter().any(|reading| SHAFT_LENGTHS[..2].contains(&reading.measurand));
    let lengths = if has_shaft { SHAFT_LENGTHS } else { HOUSING_LENGTHS };
    let mut wanted = Vec::new();
    for reading in &job.review.readings {
        if lengths.contains(&reading.measurand) || reading.probability_mistaken > CHANGED_FROM {
            add(&mut wanted, reading.measurand, reading.side);
        }
    }
    wanted
}

fn sides_of(job: &Job<'_>, measurand: Measurand) -> Vec<Option<Side>> {
    let each = job.catalog.measurand(measurand).sides == axle::Sides::Each;
    if each { job.sides().into_iter().map(Some).collect() } else { vec![None] }
}

fn row(job: &Job<'_>, wanted: &Wanted, number: usize) -> MeasuringRow {
    let row = job.catalog.measurand(wanted.measurand);
    let instead: Vec<&str> =
        wanted.instead.iter().map(|measurand| job.catalog.measurand(*measurand).words.as_str()).collect();
    MeasuringRow {
        number,
        what: capitalised(&with_side(&row.words, wanted.side)),
        how: row.how.clone(),
        instead: instead.join(", or "),
        instrument: wanted.instrument.clone().unwrap_or_else(|| row.instrument.clone()),
        required: wanted.required,
        count: wanted.measurand.is_count(),
    }
}
