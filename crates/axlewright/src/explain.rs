//! `axlewright explain`: shows where one size of an order comes from.

use std::io;

use axle::{Dimension, Review};

use crate::arguments::{ExplainArguments, Format};
use crate::exit_status::ExitStatus;
use crate::intake::{self, Reviewed};
use crate::report::{Page, cautions_report, origin_report};
use crate::streams::Streams;

/// Reviews the sheet and prints the origin of one size.
///
/// # Errors
///
/// A stream takes no more.
pub fn explain(arguments: &ExplainArguments, streams: &mut Streams) -> io::Result<ExitStatus> {
    let Some(catalog) = streams.catalog(arguments.common.catalog.as_deref())? else {
        return Ok(ExitStatus::Unusable);
    };
    let order = intake::take_in_one(&arguments.sheet, &catalog);
    let Reviewed { sheet, review } = match &order.outcome {
        Ok(reviewed) => reviewed,
        Err(unread) => {
            streams.complain_of_sheet(&order.name, unread)?;
            if arguments.common.format == Format::Json {
                let output = wire::Output::Sheet(wire::SheetOutput::Unread(unread.on_the_wire(&order.name)));
                streams.print(&output.text().map_err(io::Error::other)?)?;
            }
            return Ok(ExitStatus::Unusable);
        }
    };
    let side = arguments.side.map(axle::Side::from);
    let chosen = chosen(review, arguments.dimension, side);
    if chosen.is_empty() {
        streams.complain(&absent(&order.name, review, arguments.dimension, side))?;
        return Ok(ExitStatus::Unusable);
    }
    match arguments.common.format {
        Format::Text => {
            let page = Page {
                columns: streams.columns(),
                leading: axle::leading(sheet),
                checked_at: catalog.settings.thresholds.checked_at,
            };
            streams.print(&origin_report(review, &chosen, &page))?;
            streams.print(&cautions_report(page.columns))?;
        }
        Format::Json => {
            let output = wire::Output::Explained(wire::explained(&order.name, review, &chosen));
            streams.print(&output.text().map_err(io::Error::other)?)?;
        }
    }
    Ok(ExitStatus::AllCut)
}

/// The dimensions of that kind: on that side where one is named; a dimension that is alike on both sides answers for
/// either.
fn chosen(review: &Review, kind: axle::DimensionKind, side: Option<axle::Side>) -> Vec<&Dimension> {
    review
        .dimensions
        .iter()
        .filter(|dimension| dimension.kind == kind)
        .filter(|dimension| side.is_none() || dimension.side.is_none() || dimension.side == side)
        .collect()
}

/// Says that the order has no such size, and which it has.
fn absent(name: &str, review: &Review, kind: axle::DimensionKind, side: Option<axle::Side>) -> String {
    let wanted = kind.words();
    let where_ = side.map_or_else(String::new, |side| format!(" on the {}", side.words()));
    let mut keys: Vec<&str> = review.dimensions.iter().map(|dimension| dimension.kind.key()).collect();
    keys.dedup();
    let mut message = format!("{name}: the review of {} holds no {wanted}{where_}", review.reference);
    for missing in &review.missing {
        message.push_str(&format!("\n  missing: {}", missing.words));
    }
    let accepted = if keys.is_empty() { "none, no size can be said yet".to_owned() } else { keys.join(", ") };
    message.push_str(&format!("\n  accepted: {accepted}"));
    message
}
