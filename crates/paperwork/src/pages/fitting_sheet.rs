//! The fitting sheet: the usual steps in order, and the cautions.

use axle::{BrakeKind, Side};
use drawing::{Closeness, in_words};
use quantity::LengthExt;
use serde::Serialize;

use crate::job::Job;
use crate::wording::{fitted, with_side};

/// The fitting sheet.
#[derive(Debug, Clone, Serialize)]
pub struct FittingSheet {
    /// The steps in order.
    pub steps: Vec<FittingStep>,
    /// Sizes to check while fitting, with room for what was found.
    pub checks: Vec<(String, String)>,
}

/// One step.
#[derive(Debug, Clone, Serialize)]
pub struct FittingStep {
    /// What to do, in a few words.
    pub what: &'static str,
    /// How, in sentences.
    pub how: String,
}

fn step(what: &'static str, how: impl Into<String>) -> FittingStep {
    FittingStep { what, how: how.into() }
}

impl FittingSheet {
    /// The fitting sheet of a job. The steps are common practice without a source.
    #[must_use]
    pub fn of(job: &Job<'_>) -> Self {
        let by_shop = job.sheet.fitting.bearings_by_shop;
        let drum = match job.review.fitted.brake.kind {
            BrakeKind::Drum => "drum",
            BrakeKind::Disc => "rotor",
        };
        let mut steps = vec![
            step(
                "Make safe",
                "Wheels chocked, housing on rated stands, brakes released. Drain the oil or be ready for it.",
            ),
            step(
                "Compare",
                "Lay the new shaft beside the old one: length, spline, flange, holes. Stop if anything differs that this paper does not explain.",
            ),
            step(
                "Clean and look",
                "Housing end, bearing bore and seal bore free of burrs, paint and rust. Vent of the housing open.",
            ),
        ];
        if by_shop != Some(true) {
            let before =
                if by_shop.is_none() { "If bearing and lock ring are not on the shaft yet: put" } else { "Put" };
            steps.push(step(
                "Retainer first",
                format!("{before} the retainer, and all else that is trapped behind the bearing, on before them."),
            ));
            steps.push(step(
                "Bearing",
                "Press on the inner ring only, behind a shield, until it touches the shoulder all around.",
            ));
            steps.push(step(
                "Lock ring",
                "A new one, dry, pressed against the bearing without a gap. No torch near ring or bearing.",
            ));
        }
        steps.extend([
            step("Seal", "New seal, lip oiled. Carry the shaft past it without touching the lip with the spline."),
            step("Slide in", "Turn until the spline finds the side gear. It goes home by hand; never pull it in with the bolts."),
            step("Look at the end", "The shaft must not touch the cross pin or block. With the retainer home it must have the clearance below."),
            step("Retainer", "New nuts, crosswise, to the torque that the housing's maker states. The shaft turns freely, without axial play."),
            step("Brake", format!("The {drum} sits flat on the wheel face and turns without rubbing.")),
            step("Wheel", "The wheel seats on its pilot. Nuts crosswise, to the torque that the wheel's maker states."),
            step("Oil and test", "Oil to its level. Drive slowly, brake, listen, look for oil at both ends."),
            step("Again", "Re-torque the wheel nuts after 50 to 100 miles (80 to 160 km), and look at both retainers."),
        ]);
        Self { steps, checks: checks(job) }
    }
}

fn checks(job: &Job<'_>) -> Vec<(String, String)> {
    let style = job.style();
    let mut rows = Vec::new();
    let sides: Vec<Side> = job.sides();
    for side in sides {
        let Some(found) = job.review.fitted.differential.sides.iter().find(|one| one.side == side) else { continue };
        let half_pin = &job.review.fitted.differential.half_pin;
        let clearance = found.end_gap.as_ref().map_or_else(
            || "not known".to_owned(),
            |gap| {
                let clear = (gap.size - half_pin.size).millimetres();
                let words = in_words(clear.abs(), Closeness::Turned, &style);
                // Below nought it is no size to check but a reason not to fit the shaft.
                if clear < 0.0 { format!("none as things stand: {words} too long") } else { words }
            },
        );
        rows.push((with_side("Clearance of the inner end to the cross pin", Some(side)), clearance));
        let engaged = fitted(found.engagement.as_ref(), Closeness::Turned, &style);
        rows.push((with_side("Spline in the side gear", Some(side)), engaged));
    }
    if let Some(offset) = job.review.dimension(axle::DimensionKind::BrakeOffset, None) {
        let words = crate::wording::limits(offset.least, offset.most, Closeness::Turned, &style);
        rows.push(("Brake offset: wheel face to housing end".to_owned(), words));
    }
    rows
}
