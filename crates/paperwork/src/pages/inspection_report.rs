//! The inspection report: one row for each characteristic, with the number of its balloon on the drawing, its requirement, a
//! gauge, and room for what was found.

use axle::Side;
use drawing::{Closeness, Roughness, ShaftShape, Size, Style, in_words, limits_in_words};
use serde::Serialize;

use super::shop_drawing::Drawings;
use crate::job::Job;
use crate::wording::{capitalised, over_pins, roughness, size};

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
            .map(|side| InspectedShaft { side: side.words(), rows: rows(job, drawings, side) })
            .collect();
        Self { shafts }
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
            None => Characteristic {
                number: Some(balloon.number),
                what: found.map_or_else(|| unlisted(&balloon.name), |size| capitalised(size.words)),
                requirement: match found {
                    Some(size) => requirement(size, &style).unwrap_or_else(|| "not known".to_owned()),
                    None => chord(&balloon.name, &shape, &style)
                        .unwrap_or_else(|| format!("{}, reference", balloon.words.replace(['(', ')'], ""))),
                },
                gauge: found.map_or("caliper", gauge),
                assumed: found.is_some_and(|size| size.basis == drawing::SizeBasis::Assumed),
            },
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

fn requirement(size: &Size, style: &Style) -> Option<String> {
    if size.name == "bolt_circle" {
        return Some(format!("{}, exact", in_words(size.value_mm?, Closeness::Turned, style)));
    }
    let close = if GROUND.contains(&size.name) { Closeness::Ground } else { Closeness::Turned };
    match (size.value_mm?, size.limits_mm) {
        (_, Some((least, most))) => Some(limits_in_words(least, most, close, style)),
        (value, None) => Some(format!("{}, reference", in_words(value, close, style))),
    }
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
    Some(format!("{}, reference", in_words(chord, Closeness::Turned, style)))
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
        let row = Characteristic { number: None, what: what.to_owned(), requirement, gauge, assumed };
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
        format!("{} at most", in_words(drawing::FACE_RUNOUT_MM, Closeness::Turned, style)),
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
        format!("within a zone of Ø {}", in_words(shape.hole_position_mm, Closeness::Turned, style)),
        "hole gauge",
        false,
    );
    if let Some(spline) = &job.review.fitted.spline {
        if let Some(over) = spline.over_pins {
            add(
                nowhere,
                &format!("Spline over pins of {}", size(over.pin, Closeness::Ground, style)),
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
        let depth = in_words(case.depth.drawn(0.0), Closeness::Turned, style);
        if case.depth.is_known() {
            let assumed = case.depth.basis == drawing::SizeBasis::Assumed;
            add(("", "case_hardness"), "Depth of the case in the body", depth, "test piece", assumed);
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
