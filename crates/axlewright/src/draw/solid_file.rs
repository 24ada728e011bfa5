//! `axlewright draw --format step`: each shaft as a solid in a file of its own.

use std::io;
use std::path::{Path, PathBuf};

use axle::{Review, Sheet, Side, Verdict};
use drawing::{SolidRefusal, StepError, StepRequest, StepUnit};

use super::{inches_lead, to_file_or_output};
use crate::arguments::{DrawArguments, DrawUnits};
use crate::exit_status::ExitStatus;
use crate::streams::Streams;

/// Writes the shaft of the side that is asked for, or of every side that the order wants.
pub(super) fn write(
    arguments: &DrawArguments,
    sheet: &Sheet,
    review: &Review,
    streams: &mut Streams,
) -> io::Result<ExitStatus> {
    let sides = arguments.side.map_or_else(|| sheet.wanted.clone(), |side| vec![Side::from(side)]);
    if sides.len() > 1 && arguments.out.is_none() {
        streams.complain(
            "the order wants both shafts, and a STEP file holds one\n  accepted: --side left, --side right, or --out with the \
             name of a file, to which -left and -right are added",
        )?;
        return Ok(ExitStatus::Unusable);
    }
    let mut status = ExitStatus::AllCut;
    for side in &sides {
        let request = StepRequest {
            side: *side,
            teeth: arguments.teeth,
            unit: unit(arguments, sheet),
            date: arguments.date.as_deref(),
            revision: &arguments.revision,
            approved: arguments.approved && review.verdict == Verdict::Cut,
        };
        let place = format!("{}, {} shaft", review.reference, side.words());
        let (text, left_out) = match drawing::step(review, &request) {
            Ok(made) => made,
            Err(refusal) => {
                streams.complain(&format!("{place}: {}", in_words(&refusal)))?;
                status = ExitStatus::Unusable;
                continue;
            }
        };
        let out =
            arguments.out.as_deref().map(|out| if sides.len() > 1 { of_side(out, *side) } else { out.to_owned() });
        let written = to_file_or_output(&text, &format!("Axle shaft, {place}"), out.as_deref(), streams)?;
        if written != ExitStatus::AllCut {
            status = written;
        }
        for what in left_out {
            streams.complain(&format!("{place}: left out. {what}"))?;
        }
    }
    Ok(status)
}

/// The refusal, with the date as this program takes it.
fn in_words(refusal: &SolidRefusal) -> String {
    match refusal {
        SolidRefusal::File(StepError::TimeStamp { .. }) => {
            "--date: that is no date for a STEP file\n  accepted: a date such as 2026-01-31, or a time stamp such as \
             2026-01-31T08:30:00, with or without an offset such as +01:00"
                .to_owned()
        }
        other => other.to_string(),
    }
}

fn unit(arguments: &DrawArguments, sheet: &Sheet) -> StepUnit {
    match arguments.units {
        Some(DrawUnits::Inch) => StepUnit::Inch,
        Some(DrawUnits::Millimetre) => StepUnit::Millimetre,
        _ if inches_lead(sheet) => StepUnit::Inch,
        _ => StepUnit::Millimetre,
    }
}

/// `shaft.step` becomes `shaft-left.step`.
fn of_side(out: &Path, side: Side) -> PathBuf {
    let stem = out.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let ending = out.extension().map(|ending| format!(".{}", ending.to_string_lossy())).unwrap_or_default();
    out.with_file_name(format!("{stem}-{}{ending}", side.words()))
}
