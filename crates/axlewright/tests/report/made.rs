//! Reviews made by hand. The orders are invented.

use axle::{
    Basis, Candidate, Check, ConditionReview, Consequence, Correction, Dimension, DimensionKind, ExplanationReview,
    FigureKind, Identified, Missing, MistakeReview, NotProved, Outcome, PartKind, Probability, Proof, ProofCheck,
    ProofFigure, ProofKind, Question, ReadingReview, Reason, Review, SafetyRange, ScatterReview, Side, TakenAsReview,
    TraceStep, Verdict,
};
use catalog::{BearingKind, Measurand, MistakeKind};
use quantity::{Length, inches, millimetres};

/// A metric order without a doubt.
pub fn to_cut() -> Review {
    Review {
        reference: "KB-0102".to_owned(),
        verdict: Verdict::Cut,
        reasons: vec![Reason {
            verdict: Verdict::Cut,
            words: "The fit probability is above the shop's threshold of 95 %, nothing is missing and no check fails."
                .to_owned(),
            remedy: None,
        }],
        fit_probability: Some(Probability { value: 0.978_6, error: 0.000_02 }),
        conditions: vec![
            condition("inner end clears the cross pin, left", Some(Side::Left), 0.991_2, Consequence::Scrap),
            condition("brake offset suits the brake, right", Some(Side::Right), 0.996_1, Consequence::Rework),
            condition("wheel pilot enters the wheel", None, 0.999_2, Consequence::Rework),
            condition("flange clears the inside of the drum", None, 0.999_97, Consequence::Nuisance),
            condition("every part slides on over what lies inboard of it", None, 1.0, Consequence::Scrap),
        ],
        dimensions: vec![
            dimension(
                DimensionKind::OverallLength,
                Some(Side::Left),
                Sizes::millimetres(764.21, 0.8, 0.31),
                Basis::Derived,
            ),
            dimension(
                DimensionKind::OverallLength,
                Some(Side::Right),
                Sizes::millimetres(726.08, 0.8, 0.28),
                Basis::Derived,
            ),
            dimension(DimensionKind::ShoulderDistance, None, Sizes::millimetres(58.74, 0.13, 0.041), Basis::Measured),
            dimension(
                DimensionKind::BrakeOffset,
                Some(Side::Left),
                Sizes::millimetres(63.52, 0.25, 0.09),
                Basis::Measured,
            ),
            dimension(
                DimensionKind::JournalDiameter,
                None,
                Sizes::millimetres(40.0105, 0.0055, 0.0021),
                Basis::Derived,
            ),
            dimension(DimensionKind::FlangeThickness, None, Sizes::millimetres(10.0, 0.25, 1.2), Basis::Assumed),
        ],
        readings: vec![
            sound(Measurand::OverallLength, Some(Side::Left), "764", 21, millimetres(764.0), 0.92),
            sound(Measurand::OverallLength, Some(Side::Right), "726", 26, millimetres(726.0), 0.91),
            sound(Measurand::ShoulderDistance, None, "58.7", 15, millimetres(58.7), 0.66),
            ReadingReview {
                count: Some(31),
                value: None,
                standard_uncertainty: None,
                reconciled: None,
                normalised_residual: None,
                ..sound(Measurand::ToothCount, None, "31", 16, millimetres(31.0), 0.8)
            },
        ],
        explanations: vec![ExplanationReview {
            probability: 0.999_3,
            mistakes: Vec::new(),
            parts: vec!["bearing 40x80x18 ball".to_owned()],
        }],
        prior_left_out: 0.000_04,
        scatter: vec![ScatterReview { multiple: 1.0, probability: 1.0 }],
        questions: Vec::new(),
        identified: vec![
            Identified {
                kind: PartKind::Bearing,
                candidates: vec![Candidate {
                    name: "40x80x18 ball".to_owned(),
                    probability: 0.999_8,
                    bearing_kind: Some(BearingKind::Ball),
                    source: "ISO 15:2017, dimension series 02; race offset from memory, check".to_owned(),
                }],
                decided: true,
                remark: None,
            },
            Identified {
                kind: PartKind::Spline,
                candidates: vec![Candidate {
                    name: "24/48, 45°, fillet root, 31 teeth".to_owned(),
                    probability: 0.994,
                    bearing_kind: None,
                    source: "ANSI B92.1-1970".to_owned(),
                }],
                decided: true,
                remark: None,
            },
        ],
        checks: vec![
            chi_square(6.31, 14.07, 7.0, true),
            Check {
                words: "The journal and the bearing bore give an interference within the seat's limits.".to_owned(),
                passed: true,
                statistic: None,
                limit: None,
                degrees_of_freedom: None,
                source: "ISO 286-2:2010".to_owned(),
            },
        ],
        missing: Vec::new(),
        trims: Vec::new(),
        proof: proof(),
        fitted: fitted(),
    }
}

/// An order in inches where one reading was taken from the wrong face, and the bearing is not settled.
pub fn to_ask() -> Review {
    let words = "the left overall length (31 5/16\") was probably taken from the inboard face of the flange";
    let mut review = to_cut();
    review.reference = "KB-0101".to_owned();
    review.verdict = Verdict::Ask;
    review.reasons = vec![
        Reason {
            verdict: Verdict::Ask,
            words: "The left overall length is probably mistaken, and the right one is checked by nothing.".to_owned(),
            remedy: Some("read the left overall length again, from the wheel face".to_owned()),
        },
        Reason { verdict: Verdict::Ask, words: "The bearing is undecided between two rows.".to_owned(), remedy: None },
    ];
    review.fit_probability = Some(Probability { value: 0.621_4, error: 0.002_1 });
    review.conditions.insert(0, condition("retainer clamps the outer ring", None, 0.640_3, Consequence::Rework));
    review.dimensions = vec![
        dimension(
            DimensionKind::OverallLength,
            Some(Side::Left),
            Sizes::inches(31.703, 0.031_25, 0.042),
            Basis::Derived,
        ),
        dimension(
            DimensionKind::OverallLength,
            Some(Side::Right),
            Sizes::inches(29.812_5, 0.031_25, 0.031),
            Basis::Measured,
        ),
        dimension(DimensionKind::ShoulderDistance, None, Sizes::inches(2.313, 0.005, 0.002_1), Basis::Measured),
        dimension(DimensionKind::RegisterDiameter, None, Sizes::inches(2.780_4, 0.001, 0.000_06), Basis::Measured),
        dimension(DimensionKind::StudHole, None, Sizes::inches(0.612, 0.002, 0.000_9), Basis::Assumed),
        dimension(DimensionKind::SplineMajorDiameter, None, Sizes::inches(1.333, 0.002, 0.000_4), Basis::Derived),
    ];
    review.readings = vec![
        ReadingReview {
            reconciled: Some(inches(31.703)),
            normalised_residual: Some(-5.23),
            probability_mistaken: 0.871,
            likely_mistake: Some((MistakeKind::WrongFlangeFace, 0.712)),
            remark: Some("the sheet does not say from which face it was read.".to_owned()),
            taken_as: Some(TakenAsReview {
                written: "31.703 in".to_owned(),
                taken_by: Some("Wenna".to_owned()),
                confirmed_by: None,
            }),
            ..sound(Measurand::OverallLength, Some(Side::Left), "31 5/16\"", 18, inches(31.312_5), 0.83)
        },
        ReadingReview {
            taken_as: Some(TakenAsReview {
                written: "29 13/16\"".to_owned(),
                taken_by: None,
                confirmed_by: Some("customer".to_owned()),
            }),
            ..sound(Measurand::OverallLength, Some(Side::Right), "28 13/16\"", 31, inches(29.812_5), 0.0)
        },
        sound(Measurand::ShoulderDistance, None, "2.31, 2.32, 2.31", 9, inches(2.313), 0.71),
        ReadingReview {
            reconciled: Some(inches(2.780_4)),
            probability_mistaken: 0.114,
            likely_mistake: Some((MistakeKind::RustOrPaint, 0.081)),
            ..sound(Measurand::RegisterDiameter, None, "2.784", 12, inches(2.784), 0.02)
        },
    ];
    review.explanations = vec![
        explanation(0.662, &[(MistakeKind::WrongFlangeFace, 0, words, Some(inches(31.703)))], "bearing 40x80x18 ball"),
        explanation(
            0.209,
            &[
                (MistakeKind::WrongFlangeFace, 0, words, Some(inches(31.701))),
                (
                    MistakeKind::RustOrPaint,
                    3,
                    "the register diameter (2.784) was probably read over rust or paint",
                    None,
                ),
            ],
            "bearing 40x80x21 tapered",
        ),
        explanation(0.118, &[], "bearing 40x80x18 ball"),
        explanation(0.004, &[(MistakeKind::TickSlip, 1, "a tick slip", None)], "bearing 40x80x18 ball"),
        explanation(0.003, &[(MistakeKind::HookBent, 1, "a bent hook", None)], "bearing 40x80x18 ball"),
    ];
    review.prior_left_out = 0.012;
    review.questions = vec![
        Question {
            measurand: Some(Measurand::ShoulderToEnd),
            side: Some(Side::Left),
            words: "How far is it from the bearing shoulder to the inner end of the left shaft?".to_owned(),
            how: "Stand the shaft on its flange. Hold a steel rule along the body, its end against the shoulder, and read at \
                  the inner end; leave out the pilot."
                .to_owned(),
            instrument: Some("steel rule".to_owned()),
            required: false,
            with: Vec::new(),
            gain: 0.64,
            effort_minutes: 5.0,
        },
        Question {
            measurand: None,
            side: None,
            words: "Which number is stamped on the bearing?".to_owned(),
            how: "Wipe the outer ring and read what is stamped on its face.".to_owned(),
            instrument: None,
            required: true,
            with: Vec::new(),
            gain: 0.000_3,
            effort_minutes: 2.0,
        },
    ];
    review.identified[0].decided = false;
    review.identified[0].candidates = vec![
        Candidate { probability: 0.781, ..review.identified[0].candidates[0].clone() },
        Candidate {
            name: "40x80x21 tapered".to_owned(),
            probability: 0.209,
            bearing_kind: Some(BearingKind::Tapered),
            source: "invented for the demo".to_owned(),
        },
    ];
    for (name, probability) in [("35x80x21 ball", 0.006), ("45x85x19 ball", 0.003), ("35x72x17 ball", 0.001)] {
        let first = review.identified[0].candidates[0].clone();
        review.identified[0].candidates.push(Candidate { name: name.to_owned(), probability, ..first });
    }
    review.identified[0].remark = Some("its width settles it; the sheet gives none.".to_owned());
    review.checks[0] = chi_square(31.64, 12.59, 6.0, false);
    review
}

/// An order that cannot be made, and from which something is missing.
pub fn to_stop() -> Review {
    Review {
        reference: "KB-0103".to_owned(),
        verdict: Verdict::Stop,
        reasons: vec![
            Reason {
                verdict: Verdict::Stop,
                words: "The ring seat would be smaller than the seal journal, so the lock ring cannot be slid on."
                    .to_owned(),
                remedy: Some("another seal, or a smaller seal journal".to_owned()),
            },
            Reason {
                verdict: Verdict::Ask,
                words: "The overall length is missing on the right.".to_owned(),
                remedy: None,
            },
        ],
        fit_probability: None,
        conditions: Vec::new(),
        dimensions: Vec::new(),
        readings: Vec::new(),
        explanations: Vec::new(),
        prior_left_out: 0.0,
        scatter: Vec::new(),
        questions: Vec::new(),
        identified: vec![Identified {
            kind: PartKind::HousingEnd,
            candidates: Vec::new(),
            decided: false,
            remark: None,
        }],
        checks: vec![Check {
            words: "Every part slides on over what lies inboard of it.".to_owned(),
            passed: false,
            statistic: None,
            limit: None,
            degrees_of_freedom: None,
            source: "geometry".to_owned(),
        }],
        missing: vec![
            Missing {
                measurands: vec![Measurand::OverallLength, Measurand::ShoulderToEnd],
                side: Some(Side::Right),
                part: None,
                words: "the overall length is missing on the right".to_owned(),
            },
            Missing {
                measurands: Vec::new(),
                side: None,
                part: None,
                words: "the kind of differential is not given".to_owned(),
            },
        ],
        trims: Vec::new(),
        proof: Proof::default(),
        fitted: fitted(),
    }
}

/// An order whose words come from a stranger: escape sequences, and words longer than a line.
pub fn from_a_stranger() -> Review {
    let mut review = to_ask();
    review.reference = format!("KB\u{1b}[2J-\u{202e}{}", "9".repeat(130));
    review.reasons[0].words = format!("\u{1b}]0;title\u{7}{}", "long".repeat(60));
    review.readings[0].written = "31 5/16\"\nand\tmore \u{9b}31m".repeat(5);
    review.identified[0].candidates[0].name = "x".repeat(200);
    review.questions[0].words = String::new();
    review
}

/// A proof with a check of each outcome but the last. The numbers are invented.
fn proof() -> Proof {
    let check = |kind: ProofKind, harsh, mild, required, outcome| ProofCheck {
        kind,
        words: kind.words().to_owned(),
        safety: SafetyRange { harsh, mild },
        required,
        outcome,
        detail: "the numbers behind it".to_owned(),
        remedy: "A stronger part.".to_owned(),
        source: "a handbook".to_owned(),
    };
    Proof {
        checks: vec![
            check(ProofKind::LockRing, 1.149, 8.52, 2.5, Outcome::Unconfirmed),
            check(ProofKind::Spline, 1.3, 1.3, 1.0, Outcome::Holds),
        ],
        figures: vec![ProofFigure {
            kind: FigureKind::RingPressOn,
            harsh: 21_996.9,
            mild: 10_083.5,
            words: "At fitting the lock ring must take at least 22.0 kN (4945 lbf) to press on.".to_owned(),
            source: "a workshop".to_owned(),
        }],
        not_proved: vec![NotProved { what: "the life of the bearing".to_owned(), needs: "its ratings".to_owned() }],
        ..Proof::default()
    }
}

fn condition(words: &str, side: Option<Side>, probability: f64, consequence: Consequence) -> ConditionReview {
    ConditionReview { words: words.to_owned(), side, probability, consequence }
}

/// A size, the half width of its limits, and its standard uncertainty.
struct Sizes {
    size: Length,
    half_width: Length,
    uncertainty: Length,
}

impl Sizes {
    fn inches(size: f64, half_width: f64, uncertainty: f64) -> Self {
        Self { size: inches(size), half_width: inches(half_width), uncertainty: inches(uncertainty) }
    }

    fn millimetres(size: f64, half_width: f64, uncertainty: f64) -> Self {
        Self { size: millimetres(size), half_width: millimetres(half_width), uncertainty: millimetres(uncertainty) }
    }
}

fn dimension(kind: DimensionKind, side: Option<Side>, sizes: Sizes, basis: Basis) -> Dimension {
    let Sizes { size, half_width, uncertainty } = sizes;
    Dimension {
        kind,
        side,
        cut: size,
        least: size - half_width,
        most: size + half_width,
        mean: size - uncertainty / 4.0,
        standard_uncertainty: uncertainty,
        basis,
        trace: vec![
            TraceStep {
                words: "overall length = brake offset + half width − end gap".to_owned(),
                value: None,
                standard_uncertainty: None,
                source: "the dimension chain of one side".to_owned(),
            },
            TraceStep {
                words: "brake offset, left, read as 2 1/2".to_owned(),
                value: Some(inches(2.5)),
                standard_uncertainty: Some(inches(0.010_2)),
                source: "line 19 of the sheet".to_owned(),
            },
            TraceStep {
                words: "end clearance of an open differential".to_owned(),
                value: Some(inches(0.187_5)),
                standard_uncertainty: None,
                source: "differentials.toml, row open: common practice, no source".to_owned(),
            },
        ],
    }
}

fn sound(
    measurand: Measurand,
    side: Option<Side>,
    written: &str,
    line: usize,
    value: Length,
    redundancy: f64,
) -> ReadingReview {
    ReadingReview {
        measurand,
        side,
        written: written.to_owned(),
        taken_as: None,
        line,
        value: Some(value),
        count: None,
        standard_uncertainty: Some(inches(0.02)),
        reconciled: Some(value),
        normalised_residual: Some(0.4),
        redundancy,
        probability_mistaken: 0.003,
        likely_mistake: None,
        remark: None,
    }
}

fn explanation(
    probability: f64,
    mistakes: &[(MistakeKind, usize, &str, Option<Length>)],
    part: &str,
) -> ExplanationReview {
    ExplanationReview {
        probability,
        mistakes: mistakes
            .iter()
            .map(|(kind, reading, words, would_say)| MistakeReview {
                kind: *kind,
                readings: vec![*reading],
                words: (*words).to_owned(),
                would_say: *would_say,
                corrections: would_say
                    .map(|size| Correction {
                        reading: *reading,
                        written: quantity::decimal_inches(size, 3),
                        is_literal: false,
                    })
                    .into_iter()
                    .collect(),
            })
            .collect(),
        parts: vec![part.to_owned()],
    }
}

fn chi_square(statistic: f64, limit: f64, degrees_of_freedom: f64, passed: bool) -> Check {
    Check {
        words: "All readings at their word agree with each other (chi-square of the reconciled residuals).".to_owned(),
        passed,
        statistic: Some(statistic),
        limit: Some(limit),
        degrees_of_freedom: Some(degrees_of_freedom),
        source: "chi-square test at 5 %".to_owned(),
    }
}

/// The parts and places of an order that says next to nothing; no report shows them.
fn fitted() -> axle::Fitted {
    let catalog = catalog::Catalog::shipped().unwrap();
    let text = "[order]\nreference = \"KB-0001\"\nuse = \"street\"\nunit = \"in\"\nsides = [\"left\"]\n";
    let sheet = axle::read_sheet("made.toml", text, &catalog).unwrap();
    axle::review(&sheet, &catalog).unwrap().fitted
}
