//! The inspection report: one row for each characteristic, with the number of its balloon on the drawing, its requirement, a
//! gauge, and room for what was found.

use axle::{Dimension, DimensionKind, FigureKind, Side};
use drawing::{Closeness, Roughness, ShaftShape, Size, Style, at_most_in_words, in_words, limits_in_words};
use quantity::{LoadKind, both_load, capitalised};
use serde::Serialize;

use super::shop_drawing::Drawings;
use crate::found::{self, Found, FoundWhat};
use crate::job::Job;
use crate::wording::{closeness, limits, over_pins, roughness, size};

/// The inspection report.
#[derive(Debug, Clone, Serialize)]
pub struct InspectionReport {
    /// One form for each shaft.
    pub shafts: Vec<InspectedShaft>,
}

/// The form of one shaft.
#[derive(Debug, Clone, Serialize)]
pub struct InspectedShaft {
    /// `left` or `right`.
    pub side: &'static str,
    /// The heat of its steel, where it was written down.
    pub heat: Option<String>,
    /// What is inspected.
    pub rows: Vec<Characteristic>,
}

/// One characteristic.
#[derive(Debug, Clone, Serialize)]
pub struct Characteristic {
    /// The number of its balloon, or of the one that it shares; none where the drawing says it in a table or not at all.
    pub number: Option<u32>,
    /// What it is.
    pub what: String,
    /// The requirement with its limits.
    pub requirement: String,
    /// The gauge.
    pub gauge: &'static str,
    /// Whether the requirement was assumed.
    pub assumed: bool,
    /// Why it can neither pass nor fail, in a few words; none where it can.
    pub unjudged: Option<&'static str>,
    /// What was found, the latest first; nothing where it is still to be filled in.
    pub found: Vec<FoundEntry>,
    /// What it is kept under.
    #[serde(skip)]
    kept_as: Option<FoundWhat>,
}

/// One thing that was found.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FoundEntry {
    /// As it was written.
    pub words: String,
    /// Whether it lies within its limits; none where nothing is required, or it cannot be held against what is.
    pub passes: Option<bool>,
    /// Who wrote it down, and when.
    pub by: String,
}

impl FoundEntry {
    fn of(found: &Found) -> Self {
        Self { words: found.words.clone(), passes: found.passes, by: format!("{}, {}", found.who, found.day) }
    }
}

/// Sizes that have the closeness of a ground seat.
const GROUND: [&str; 6] = [
    "register_diameter",
    "wheel_pilot_diameter",
    "journal_diameter",
    "ring_seat_diameter",
    "seal_journal_diameter",
    "stud_hole",
];

/// Closer than this in all, in millimetres, a caliper does not do. Common practice, no source.
const MICROMETER_BELOW_MM: f64 = 0.1;

/// Longer than this, in millimetres, a length is past a caliper. Common practice, no source.
const CALIPER_UP_TO_MM: f64 = 300.0;

impl InspectionReport {
    /// The report of a job, with the balloons of its drawings.
    #[must_use]
    pub fn of(job: &Job<'_>, drawings: &Drawings) -> Self {
        let shafts = job
            .sides()
            .into_iter()
            .map(|side| {
                let heat = found::of(job.found, FoundWhat::HeatNumber, side).next();
                let mut rows = rows(job, drawings, side);
                fill_in(job, side, &mut rows);
                InspectedShaft { side: side.words(), heat: heat.map(|heat| heat.words.clone()), rows }
            })
            .collect();
        Self { shafts }
    }
}

/// Names of rows that more than one place has to know.
const OVER_PINS: &str = "Spline over pins";
const BEARING_FORCE: &str = "Press force of the bearing";
const RING_FORCE: &str = "Press force of the lock ring";

/// The least force that the lock ring must take, where the proof knows it.
pub(super) fn ring_force(job: &Job<'_>) -> String {
    let figure = job.review.proof.figures.iter().find(|figure| figure.kind == FigureKind::RingPressOn);
    figure.map_or_else(
        || "written down; the least one is not known".to_owned(),
        |figure| format!("{} at least", both_load(figure.harsh, LoadKind::Force, axle::leading(job.sheet))),
    )
}

/// Puts what was found into the rows. What no row asks for gets one of its own, so that nothing that was kept is left out.
fn fill_in(job: &Job<'_>, side: Side, rows: &mut Vec<Characteristic>) {
    let style = job.style();
    for row in rows.iter_mut() {
        if let Some(what) = row.kept_as {
            row.found = found::of(job.found, what, side).map(FoundEntry::of).collect();
        }
    }
    for one in job.found.iter().filter(|one| one.is_of(side) && one.what != FoundWhat::HeatNumber) {
        if rows.iter().any(|row| row.kept_as == Some(one.what)) {
            continue;
        }
        let (what, requirement) = match one.what {
            FoundWhat::Size(kind) => {
                let of = |wanted: Option<Side>| job.review.dimension(kind, wanted);
                let limits_of = |found: &Dimension| limits(found.least, found.most, closeness(kind), &style);
                let requirement = of(Some(side)).or_else(|| of(None)).map_or_else(|| "not known".to_owned(), limits_of);
                (capitalised(kind.words()), requirement)
            }
            FoundWhat::OverPins => (OVER_PINS.to_owned(), "not known".to_owned()),
            FoundWhat::BearingPressForce => (BEARING_FORCE.to_owned(), "written down, no limit".to_owned()),
            FoundWhat::RingPressForce => (RING_FORCE.to_owned(), ring_force(job)),
            FoundWhat::HeatNumber => continue,
        };
        rows.push(Characteristic {
            number: None,
            what,
            requirement,
            gauge: "as on the bench",
            assumed: false,
            found: found::of(job.found, one.what, side).map(FoundEntry::of).collect(),
            kept_as: Some(one.what),
            unjudged: None,
        });
    }
}

fn rows(job: &Job<'_>, drawings: &Drawings, side: Side) -> Vec<Characteristic> {
    let style = job.style();
    let shape = ShaftShape::of(job.review, side);
    let sizes = shape.sizes();
    let own = drawings.sheets.iter().filter(|sheet| sheet.side.is_none_or(|of| of == side));
    let mut balloons: Vec<_> = own.flat_map(|sheet| &sheet.balloons).collect();
    balloons.sort_by_key(|balloon| balloon.number);
    balloons.dedup_by_key(|balloon| balloon.number);
    let mut said = in_words_only(job, &shape, &style);
    let mut rows = Vec::new();
    for balloon in balloons {
        let found = sizes.iter().find(|size| size.name == balloon.name).copied();
        let note = said.iter().position(|one| one.own == balloon.name);
        rows.push(match note.map(|at| said.remove(at).row) {
            Some(row) => Characteristic { number: Some(balloon.number), ..row },
            None => {
                let (requirement, unjudged) = match found {
                    Some(size) => requirement(size, &style),
                    None => {
                        let words = chord(&balloon.name, &shape, &style);
                        (
                            words.unwrap_or_else(|| for_reference(&balloon.words.replace(['(', ')'], ""))),
                            Some(NO_LIMITS),
                        )
                    }
                };
                Characteristic {
                    number: Some(balloon.number),
                    what: found.map_or_else(|| unlisted(&balloon.name), |size| capitalised(size.words)),
                    requirement,
                    gauge: found.map_or("caliper", gauge),
                    assumed: found.is_some_and(|size| size.basis == drawing::SizeBasis::Assumed),
                    unjudged,
                    found: Vec::new(),
                    kept_as: DimensionKind::from_key(&balloon.name).map(FoundWhat::Size),
                }
            }
        });
        // What the same label says besides the size has the same number.
        let (beside, rest) = said.into_iter().partition(|one: &Said| one.beside == balloon.name);
        said = rest;
        let numbered = |one: Said| Characteristic { number: Some(balloon.number), ..one.row };
        rows.extend(Vec::into_iter(beside).map(numbered));
    }
    let has_stud_hole = rows.iter().any(|row| row.what == "Stud hole");
    let unnumbered = said.into_iter().map(|one| one.row);
    rows.extend(unnumbered.filter(|row| !(has_stud_hole && row.what == "Stud holes")));
    rows
}

/// A characteristic that the drawing says in a note or a table.
struct Said {
    /// The name of the note.
    own: &'static str,
    /// The dimension whose label says it, too.
    beside: &'static str,
    row: Characteristic,
}

/// Of a size for reference, which is only written down.
const NO_LIMITS: &str = "no limits";

/// What a size is held to, and why it can neither pass nor fail where it cannot.
fn requirement(size: &Size, style: &Style) -> (String, Option<&'static str>) {
    let Some(value) = size.value_mm else { return ("not known".to_owned(), None) };
    let close = if GROUND.contains(&size.name) { Closeness::Ground } else { Closeness::Turned };
    match size.limits_mm {
        _ if size.name == "bolt_circle" => (format!("{}, exact", in_words(value, close, style)), Some("by the zone")),
        Some((least, most)) => (limits_in_words(least, most, close, style), None),
        None => (for_reference(&in_words(value, close, style)), Some(NO_LIMITS)),
    }
}

fn for_reference(words: &str) -> String {
    format!("{words}, reference")
}

/// A chord of the bolt circle: reference, since the position of the holes is held by its own zone.
fn chord(name: &str, shape: &ShaftShape, style: &Style) -> Option<String> {
    let holes = shape.holes.filter(|holes| *holes >= 2)?;
    let steps = match name {
        "chord_adjacent" => 1,
        "chord_alternate" => 2,
        "chord_opposite" => holes / 2,
        _ => return None,
    };
    let half_angle = std::f64::consts::PI * f64::from(steps) / f64::from(holes);
    let chord = shape.bolt_circle.value_mm? * half_angle.sin();
    Some(for_reference(&in_words(chord, Closeness::Turned, style)))
}

/// The name of a dimension that is no size of the shaft's own.
fn unlisted(name: &str) -> String {
    match name {
        "chord_adjacent" => "Chord between neighbours".to_owned(),
        "chord_alternate" => "Chord, next but one".to_owned(),
        "chord_opposite" => "Chord across the circle".to_owned(),
        other => capitalised(&other.replace('_', " ")),
    }
}

fn gauge(size: &Size) -> &'static str {
    let width = size.limits_mm.map_or(f64::INFINITY, |(least, most)| most - least);
    match (width, size.value_mm) {
        _ if size.name == "stud_hole" => "plug gauge",
        (width, _) if width < MICROMETER_BELOW_MM => "micrometer",
        (_, Some(value)) if value > CALIPER_UP_TO_MM => "length bar",
        _ if size.name.contains("fillet") => "radius gauge",
        _ if size.name.ends_with("_height") || size.name.contains("distance") => "depth gauge",
        _ => "caliper",
    }
}

/// What the drawing says in its notes and tables and not with a dimension.
fn in_words_only(job: &Job<'_>, shape: &ShaftShape, style: &Style) -> Vec<Said> {
    let mut rows = Vec::new();
    let mut add = |(own, beside), what: &str, requirement: String, gauge, assumed| {
        let kept_as = match what {
            "Stud holes" => Some(FoundWhat::Size(DimensionKind::StudHole)),
            pins if pins.starts_with(OVER_PINS) => Some(FoundWhat::OverPins),
            BEARING_FORCE => Some(FoundWhat::BearingPressForce),
            RING_FORCE => Some(FoundWhat::RingPressForce),
            _ => None,
        };
        let found = Vec::new();
        let row = Characteristic {
            number: None,
            what: what.to_owned(),
            requirement,
            gauge,
            assumed,
            unjudged: None,
            found,
            kept_as,
        };
        rows.push(Said { own, beside, row });
    };
    let nowhere = ("", "");
    for fillet in [&shape.flange_fillet, &shape.shoulder_fillet] {
        if let Some(value) = fillet.value_mm {
            let assumed = fillet.basis == drawing::SizeBasis::Assumed;
            add(
                (fillet.name, ""),
                &capitalised(fillet.words),
                format!("radius {}", in_words(value, Closeness::Turned, style)),
                "radius gauge",
                assumed,
            );
        }
    }
    add(
        ("face_runout", ""),
        "Runout, wheel face to journal",
        format!("{} at most", at_most_in_words(drawing::FACE_RUNOUT_MM, Closeness::Turned, style)),
        "dial indicator",
        false,
    );
    if let (Some(holes), Some((least, most))) = (shape.holes, shape.stud_hole.limits_mm) {
        let limits = limits_in_words(least, most, Closeness::Ground, style);
        add(nowhere, "Stud holes", format!("{holes} of {limits}"), "plug gauge", false);
    }
    add(
        ("", "stud_hole"),
        "Position of the stud holes",
        format!("within a zone of Ø {}", at_most_in_words(shape.hole_position_mm, Closeness::Turned, style)),
        "hole gauge",
        false,
    );
    if let Some(spline) = &job.review.fitted.spline {
        if let Some(over) = spline.over_pins {
            add(
                nowhere,
                &format!("{OVER_PINS} of {}", size(over.pin, Closeness::Ground, style)),
                over_pins(spline, &over, style),
                "pins, micrometer",
                false,
            );
        }
        add(nowhere, "Spline, number of teeth", spline.teeth.to_string(), "count", false);
    }
    if let Some(case) = &shape.case {
        let hardness = format!("{} HRC at least", case.rockwell_c);
        add(("case_hardness", ""), "Hardness of the case", hardness, "Rockwell C", false);
        for (depth, what) in
            [(&case.depth, "Depth of the case in the body"), (&case.spline_depth, "Depth of the case under the spline")]
        {
            if let Some(value) = depth.value_mm {
                let assumed = depth.basis == drawing::SizeBasis::Assumed;
                let words = in_words(value, Closeness::Turned, style);
                add(("", "case_hardness"), what, words, "test piece", assumed);
            }
        }
    }
    let ground = format!("{} at most", roughness(Roughness::Ground, style));
    let under_seal = roughness(Roughness::UnderSeal, style);
    for (beside, what, requirement) in [
        ("journal_diameter", "Finish of the journal", ground.clone()),
        ("ring_seat_diameter", "Finish of the ring seat", ground),
        ("seal_journal_diameter", "Finish of the seal journal", under_seal),
    ] {
        add(("", beside), what, requirement, "roughness tester", false);
    }
    if job.sheet.fitting.bearings_by_shop != Some(false) {
        add(nowhere, BEARING_FORCE, "written down, no limit".to_owned(), "press gauge", false);
        add(nowhere, RING_FORCE, ring_force(job), "press gauge", false);
    }
    add(nowhere, "Cracks", "no indication".to_owned(), "magnetic particles", false);
    add(
        nowhere,
        "Mark of the side and the order",
        format!("{}, {}", job.review.reference, shape.side.words()),
        "eye",
        false,
    );
    rows
}
