//! The traveler: the operations in order, each with the sizes that it makes, its stock and gauges, and room to sign it off.
//!
//! The order of the operations is common practice without a source: the spline is cut while the shaft is soft, one hardening
//! runs from the flange fillet to the end of the spline, and the seats are ground after it.

use axle::{BrakeKind, DimensionKind, Retainer, Side};
use drawing::{Closeness, Roughness};
use quantity::capitalised;
use serde::Serialize;

use crate::job::Job;
use crate::wording::{aimed_at, at_most, cut_long, held_to, over_pins, roughness, size, with_side};

/// The traveler.
#[derive(Debug, Clone, Serialize)]
pub struct Traveler {
    /// What is made: `axle shafts, left and right`.
    pub what: String,
    /// The sides that are made.
    pub sides: Vec<&'static str>,
    /// How many.
    pub quantity: usize,
    /// The steel, with `assumed` where nobody has stated it.
    pub steel: String,
    /// What the stock must hold at least.
    pub stock: Vec<String>,
    /// The operations.
    pub operations: Vec<Operation>,
}

/// One operation.
#[derive(Debug, Clone, Serialize)]
pub struct Operation {
    /// Its number, in tens, so that others go between.
    pub number: usize,
    /// What is done.
    pub what: &'static str,
    /// How, and what to look at.
    pub notes: Vec<String>,
    /// The sizes that it makes, each with its limits.
    pub sizes: Vec<(String, String)>,
    /// The gauges.
    pub gauges: &'static str,
    /// Whether the work may not go on before an inspector has looked.
    pub hold: bool,
}

impl Traveler {
    /// The traveler of a job.
    #[must_use]
    pub fn of(job: &Job<'_>) -> Self {
        let sides = job.sides();
        let words: Vec<&'static str> = sides.iter().map(|side| side.words()).collect();
        let shaft = &job.review.fitted.shaft;
        let stated = if shaft.steel_is_stated { "" } else { " (assumed)" };
        let mut operations = route(job, &sides);
        for (at, operation) in operations.iter_mut().enumerate() {
            operation.number = 10 * (at + 1);
        }
        Self {
            what: format!("Axle shaft, {}", words.join(" and ")),
            sides: words,
            quantity: sides.len(),
            steel: format!("{}{stated}", shaft.steel),
            stock: stock(job, &sides),
            operations,
        }
    }
}

/// The largest size that each piece must yield; the allowance for machining is the shop's.
fn stock(job: &Job<'_>, sides: &[Side]) -> Vec<String> {
    let style = job.style();
    let mut lines = Vec::new();
    for side in sides {
        if let Some(length) = job.review.dimension(DimensionKind::OverallLength, Some(*side)) {
            let words = with_side("finished length", Some(*side));
            lines.push(format!("{words}, {} plus wheel pilot", size(length.cut, Closeness::Turned, &style)));
        }
    }
    if let Some(flange) = job.review.dimension(DimensionKind::FlangeDiameter, None) {
        lines.push(format!("flange Ø {}", size(flange.cut, Closeness::Turned, &style)));
    }
    lines
}

/// These dimensions on these sides, each with what it is held to.
fn sizes(job: &Job<'_>, sides: &[Side], kinds: &[DimensionKind]) -> Vec<(String, String)> {
    let style = job.style();
    let mut rows = Vec::new();
    for kind in kinds {
        let found: Vec<_> = job
            .review
            .dimensions
            .iter()
            .filter(|one| one.kind == *kind && one.side.is_none_or(|side| sides.contains(&side)))
            .collect();
        if found.is_empty() {
            rows.push((capitalised(kind.words()), "not known".to_owned()));
        }
        for one in found {
            rows.push((capitalised(&with_side(kind.words(), one.side)), held_to(one, &style)));
        }
    }
    rows
}

fn operation(what: &'static str, gauges: &'static str) -> Operation {
    Operation { number: 0, what, notes: Vec::new(), sizes: Vec::new(), gauges, hold: false }
}

fn route(job: &Job<'_>, sides: &[Side]) -> Vec<Operation> {
    use DimensionKind as D;
    let style = job.style();
    let of = |kinds: &[D]| sizes(job, sides, kinds);
    let note = |words: &str| words.to_owned();
    let shaft = &job.review.fitted.shaft;
    let mut all = vec![
        Operation {
            notes: vec![note("Write down the heat number. Without it nothing is started.")],
            ..operation("Take the blank", "tape")
        },
        Operation {
            notes: std::iter::once(note("Centres in both ends; they stay until the seats are ground."))
                .chain(job.review.trims.iter().map(|plan| cut_long(plan, &style)))
                .collect(),
            sizes: of(&[D::OverallLength]),
            ..operation("Cut and centre", "length bar")
        },
        Operation {
            notes: vec![
                note("Grinding allowance on the three seats: ________"),
                note("Shoulder, body, fillets and the ends of the seats as the drawing has them."),
            ],
            sizes: of(&[
                D::FlangeDiameter,
                D::FlangeThickness,
                D::RegisterDiameter,
                D::RegisterHeight,
                D::WheelPilotDiameter,
                D::WheelPilotHeight,
                D::ShoulderDistance,
            ]),
            ..operation("Turn journals, flange, register and pilot", "caliper, depth gauge")
        },
        spline(job),
    ];
    if let Some(hardness) = shaft.case_hardness {
        all.push(Operation {
            notes: vec![
                note(
                    "In one run from the flange fillet to the end of the spline. A gap in the case is a crack to come.",
                ),
                format!("Hardness {hardness} HRC at least."),
            ],
            sizes: vec![
                (note("Depth in the body, target"), aimed_at(shaft.case_depth.as_ref(), Closeness::Turned, &style)),
                (
                    note("Depth under the spline roots, target"),
                    aimed_at(shaft.spline_case_depth.as_ref(), Closeness::Turned, &style),
                ),
            ],
            hold: true,
            ..operation("Induction harden", "Rockwell C, test piece")
        });
    }
    all.extend([
        Operation {
            notes: vec![note(
                "Temper before anything else. Straighten cold, on the press: no heat to straighten a shaft.",
            )],
            ..operation("Temper and straighten", "V-blocks, dial indicator")
        },
        Operation {
            notes: vec![format!(
                "{} at most on bearing and ring seat, {} on the seal journal.",
                roughness(Roughness::Ground, &style),
                roughness(Roughness::UnderSeal, &style)
            )],
            sizes: of(&[D::JournalDiameter, D::RingSeatDiameter, D::SealJournalDiameter]),
            hold: true,
            ..operation("Grind the seats", "micrometer, roughness tester")
        },
        Operation {
            notes: vec![format!(
                "Between centres. Runout on the journal {} at most.",
                drawing::at_most_in_words(drawing::FACE_RUNOUT_MM, Closeness::Turned, &style)
            )],
            ..operation("Finish the flange face", "dial indicator")
        },
        Operation {
            notes: vec![job.review.fitted.holes.map_or_else(
                || note("The number of holes is not known."),
                |holes| {
                    format!(
                        "{holes} holes, position within Ø {} of a circle that is exact on the drawing.",
                        at_most(shaft.hole_position, Closeness::Turned, &style)
                    )
                },
            )],
            sizes: of(&[D::BoltCircle, D::StudHole]),
            ..operation("Drill and ream", "plug gauge, caliper over holes")
        },
        Operation {
            notes: vec![note("Whole shaft, the flange fillet and the spline roots above all. Demagnetise.")],
            hold: true,
            ..operation("Magnetic-particle inspection", "field indicator")
        },
    ]);
    if job.sheet.fitting.studs_by_shop != Some(false) {
        let thread = job.sheet.parts.stud.map_or_else(|| "thread not known".to_owned(), |thread| thread.to_string());
        all.push(Operation {
            notes: vec![format!("{thread}. Press home, head flat on the flange.")],
            ..operation("Press in the studs", "eye, square")
        });
    }
    all.push(assembly(job, sides));
    all.push(Operation {
        notes: vec![
            note("By the inspection report. Mark order and side on the flange rim."),
            note("Left and right are those of one who faces forward."),
        ],
        hold: true,
        ..operation("Inspect and mark", "see the report")
    });
    all.push(Operation {
        notes: vec![note("Seats and spline oiled and wrapped. Spline end capped.")],
        ..operation("Protect and crate", "eye")
    });
    all
}

fn spline(job: &Job<'_>) -> Operation {
    let style = job.style();
    let mut one = operation("Cut the spline, while soft", "pins and micrometer");
    match &job.review.fitted.spline {
        Some(spline) => {
            one.notes.push(format!(
                "{}: {} teeth, {}, {}°, {}.",
                spline.standard, spline.teeth, spline.pitch, spline.pressure_angle_degrees, spline.root
            ));
            if !spline.decided {
                one.notes.push("The likeliest one; the evidence does not settle it. Do not cut by it.".to_owned());
            }
            if let Some(over) = spline.over_pins {
                let pin = size(over.pin, Closeness::Ground, &style);
                one.sizes.push((format!("Over two pins of {pin}"), over_pins(spline, &over, &style)));
                one.notes.push(
                    "The size over pins is that of the finished spline; allow for growth in hardening.".to_owned(),
                );
            }
            one.sizes
                .push(("Major diameter, at most".to_owned(), size(spline.major_diameter, Closeness::Turned, &style)));
        }
        None => one.notes.push("The spline is in no series that is known.".to_owned()),
    }
    one
}

/// What is trapped goes on first; what carries is pressed by its inner ring.
fn assembly(job: &Job<'_>, sides: &[Side]) -> Operation {
    let bracket = job.sheet.parts.brake.retainer == Some(Retainer::CaliperBracket);
    let first = if bracket { "Caliper bracket" } else { "Retainer plate" };
    let by_shop = job.sheet.fitting.bearings_by_shop;
    let mut one = match by_shop {
        Some(false) => operation("Retainer on the shaft", "eye"),
        _ => operation("Retainer first, bearing, lock ring", "feeler gauge, press gauge"),
    };
    one.notes.push(format!("{first} on first: it cannot go on after the bearing."));
    if job.review.fitted.brake.kind == BrakeKind::Drum {
        one.notes.push("Whatever else is trapped behind the bearing goes on now, too.".to_owned());
    }
    if by_shop.is_none() {
        one.notes.push("Who fits bearing and lock ring is not agreed: ask before they are pressed on.".to_owned());
    }
    if by_shop != Some(false) {
        one.notes.push("Press on the inner ring only, behind a shield, until it touches the shoulder.".to_owned());
        one.notes
            .push("A new lock ring, pressed on dry, against the bearing. No torch near ring or bearing.".to_owned());
        one.notes.push("Press forces, written down: bearing ________ lock ring ________".to_owned());
        one.sizes = sizes(job, sides, &[DimensionKind::RaceDistance]);
        one.hold = true;
    } else {
        one.notes.push("Bearing and lock ring are the customer's to fit: pack the shaft without them.".to_owned());
    }
    one
}
