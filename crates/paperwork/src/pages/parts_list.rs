//! The parts list: every part by its dimensions, never by a maker's number.

use axle::{BrakeKind, DimensionKind, PartKind, Retainer};
use drawing::Closeness;
use serde::Serialize;

use super::confirmation::bearing_kind;
use crate::job::Job;
use crate::wording::{closeness, fitted, limits, size};

/// The parts list.
#[derive(Debug, Clone, Serialize)]
pub struct PartsList {
    /// The parts.
    pub rows: Vec<PartRow>,
    /// What is to be found out before parts are bought, one sentence each.
    pub open: Vec<String>,
}

/// One part.
#[derive(Debug, Clone, Serialize)]
pub struct PartRow {
    /// How many; none where it is not known.
    pub quantity: Option<usize>,
    /// What it is.
    pub what: String,
    /// Its dimensions, one line each.
    pub dimensions: Vec<String>,
    /// Who supplies it.
    pub by: &'static str,
    /// What to look at.
    pub note: String,
}

fn supplier(by_shop: Option<bool>) -> &'static str {
    match by_shop {
        Some(true) => "shop",
        Some(false) => "customer",
        None => "not agreed",
    }
}

impl PartsList {
    /// The parts list of a job.
    #[must_use]
    pub fn of(job: &Job<'_>) -> Self {
        let sides = job.sides();
        let pieces = sides.len();
        let mut rows: Vec<PartRow> = sides
            .into_iter()
            .map(|side| {
                let length = job.review.dimension(DimensionKind::OverallLength, Some(side));
                let length = length.map_or_else(
                    || "overall length not known".to_owned(),
                    |one| format!("overall length {}", size(one.cut, Closeness::Turned, &job.style())),
                );
                PartRow {
                    quantity: Some(1),
                    what: format!("Axle shaft, {}", side.words()),
                    dimensions: vec![length],
                    by: "shop",
                    note: "Made to the shop drawing.".to_owned(),
                }
            })
            .collect();
        rows.push(bearing(job, pieces));
        rows.push(lock_ring(job, pieces));
        rows.push(seal(job, pieces));
        rows.push(studs(job, pieces));
        rows.push(retainer(job, pieces));
        rows.push(retainer_bolts(job));
        let mut open = Vec::new();
        for identified in &job.review.identified {
            if !identified.decided && matches!(identified.kind, PartKind::Bearing | PartKind::Stud) {
                open.push(format!(
                    "The {} is not settled: look before it is bought.",
                    crate::wording::part_words(identified.kind)
                ));
            }
        }
        if job.sheet.parts.stud.is_none() {
            open.push("The thread of the studs is not known.".to_owned());
        }
        open.push(
            "The seal bore of the housing is not read for the shafts: measure it before seals are bought.".to_owned(),
        );
        Self { rows, open }
    }
}

fn bearing(job: &Job<'_>, pieces: usize) -> PartRow {
    let style = job.style();
    let found = &job.review.fitted.bearing;
    let each = |size| fitted(Some(size), Closeness::Ground, &style);
    let wide = |size| fitted(Some(size), Closeness::Turned, &style);
    let mut dimensions = vec![
        format!("bore {}", each(&found.bore)),
        format!("outside {}", each(&found.outside)),
        format!("width {} inner, {} outer", wide(&found.inner_width), wide(&found.outer_width)),
    ];
    dimensions.extend(found.name.iter().cloned());
    PartRow {
        quantity: Some(pieces),
        what: found
            .kind
            .map_or_else(|| "Wheel bearing".to_owned(), |kind| format!("Wheel bearing, on {}", bearing_kind(kind))),
        dimensions,
        by: supplier(job.sheet.fitting.bearings_by_shop),
        note: "Sealed. Press on the inner ring only.".to_owned(),
    }
}

fn lock_ring(job: &Job<'_>, pieces: usize) -> PartRow {
    let style = job.style();
    let seat = job.review.dimension(DimensionKind::RingSeatDiameter, None);
    let seat = seat.map_or_else(
        || "seat not known".to_owned(),
        |seat| format!("for a seat of {}", limits(seat.least, seat.most, closeness(seat.kind), &style)),
    );
    let width = format!("width {}", fitted(job.review.fitted.shaft.ring_width.as_ref(), Closeness::Turned, &style));
    let bore = job.sheet.loads.ring_bore.map_or_else(
        || "bore not stated: the interference decides whether it holds".to_owned(),
        |bore| format!("bore {}", size(bore, Closeness::Ground, &style)),
    );
    PartRow {
        quantity: Some(pieces),
        what: "Lock ring".to_owned(),
        dimensions: vec![seat, bore, width],
        by: supplier(job.sheet.fitting.bearings_by_shop),
        note: "New every time, pressed on dry. It alone keeps the shaft in the vehicle.".to_owned(),
    }
}

fn seal(job: &Job<'_>, pieces: usize) -> PartRow {
    let style = job.style();
    let journal = job.review.dimension(DimensionKind::SealJournalDiameter, None);
    let inside = journal.map_or_else(
        || "shaft not known".to_owned(),
        |one| format!("for a shaft of {}", limits(one.least, one.most, closeness(one.kind), &style)),
    );
    PartRow {
        quantity: Some(pieces),
        what: "Shaft seal".to_owned(),
        dimensions: vec![inside, "outside and width: as the housing".to_owned()],
        by: "not agreed",
        note: "Lip oiled, not dry.".to_owned(),
    }
}

fn studs(job: &Job<'_>, pieces: usize) -> PartRow {
    let style = job.style();
    let thread = job.sheet.parts.stud;
    let mut dimensions = vec![thread.map_or_else(|| "thread not known".to_owned(), |thread| thread.to_string())];
    if let Some(row) = thread.and_then(|thread| job.catalog.stud(thread)) {
        dimensions.push(format!("knurl {}", limits(row.knurl.0, row.knurl.1, Closeness::Turned, &style)));
    }
    if let Some(hole) = job.review.dimension(DimensionKind::StudHole, None) {
        dimensions.push(format!("for a hole of {}", limits(hole.least, hole.most, closeness(hole.kind), &style)));
    }
    PartRow {
        quantity: job.review.fitted.holes.map(|holes| holes as usize * pieces),
        what: "Wheel stud, pressed in".to_owned(),
        dimensions,
        by: supplier(job.sheet.fitting.studs_by_shop),
        note: "Length: flange, drum or rotor, wheel, and a full nut.".to_owned(),
    }
}

fn retainer(job: &Job<'_>, pieces: usize) -> PartRow {
    let style = job.style();
    let end = &job.review.fitted.housing_end;
    let bracket = job.sheet.parts.brake.retainer == Some(Retainer::CaliperBracket);
    let each = |size| fitted(Some(size), Closeness::Turned, &style);
    let brake = match job.review.fitted.brake.kind {
        BrakeKind::Drum => "drum brake",
        BrakeKind::Disc => "disc brake",
    };
    PartRow {
        quantity: Some(pieces),
        what: if bracket { "Caliper bracket as retainer".to_owned() } else { "Retainer plate".to_owned() },
        dimensions: vec![
            format!("holes {} by {}", each(&end.rectangle_long), each(&end.rectangle_short)),
            format!("trapped with it {}, {brake}", each(&job.review.fitted.brake.trapped)),
        ],
        by: if job.sheet.parts.brake.bracket_sent_in { "customer" } else { "not agreed" },
        note: "On the shaft before bearing and ring.".to_owned(),
    }
}

fn retainer_bolts(job: &Job<'_>) -> PartRow {
    let style = job.style();
    let hole = fitted(Some(&job.review.fitted.housing_end.bolt_hole), Closeness::Turned, &style);
    PartRow {
        quantity: None,
        what: "Bolts and nuts of the housing end".to_owned(),
        dimensions: vec![format!("for a hole of {hole}")],
        by: "customer",
        note: "Four to each end as a rule; self-locking nuts, new.".to_owned(),
    }
}
