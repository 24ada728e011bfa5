//! `axlewright plot`: draws stress and safety along the shaft of one order.

use std::io;

use crate::arguments::PlotArguments;
use crate::exit_status::ExitStatus;
use crate::intake::{self, Reviewed};
use crate::streams::Streams;
use drawing::stress_plot;

/// Reviews the sheet and prints the picture.
///
/// # Errors
///
/// A stream takes no more.
pub fn plot(arguments: &PlotArguments, streams: &mut Streams) -> io::Result<ExitStatus> {
    let Some(catalog) = streams.catalog(arguments.catalog.as_deref())? else {
        return Ok(ExitStatus::Unusable);
    };
    let order = intake::take_in_one(&arguments.sheet, &catalog);
    let Reviewed { sheet, review } = match &order.outcome {
        Ok(reviewed) => reviewed,
        Err(unread) => {
            streams.complain_of_sheet(&order.name, unread)?;
            return Ok(ExitStatus::Unusable);
        }
    };
    match stress_plot(review, axle::leading(sheet)) {
        Some(picture) => {
            streams.print(&picture)?;
            Ok(ExitStatus::AllCut)
        }
        None => {
            let mut message =
                format!("{}: the shaft of {} is not known well enough to have stresses", order.name, review.reference);
            for one in &review.proof.not_proved {
                message.push_str(&format!("\n  {} needs {}", one.what, one.needs));
            }
            message.push_str("\n  accepted: a sheet from which the shaft can be cut");
            streams.complain(&message)?;
            Ok(ExitStatus::Unusable)
        }
    }
}
