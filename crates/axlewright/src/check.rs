//! `axlewright check`: reviews order sheets.

use std::io;

use axle::Verdict;
use catalog::Catalog;

use crate::arguments::{CheckArguments, Format};
use crate::exit_status::ExitStatus;
use crate::intake::{self, Order};
use crate::report::{Page, Tally, cautions_report, not_reviewed_report, order_report, tally_report};
use crate::streams::Streams;

/// Reviews the sheets and prints what came of it.
///
/// # Errors
///
/// A stream takes no more.
pub fn check(arguments: &CheckArguments, streams: &mut Streams) -> io::Result<ExitStatus> {
    let Some(catalog) = streams.catalog(arguments.common.catalog.as_deref())? else {
        return Ok(ExitStatus::Unusable);
    };
    let orders = intake::take_in(&arguments.sheets, &catalog);
    match arguments.common.format {
        Format::Text => print_text(&orders, &catalog, streams)?,
        Format::Json => print_json(&orders, streams)?,
    }
    Ok(exit_status(&orders))
}

fn exit_status(orders: &[Order]) -> ExitStatus {
    let tally = tally(orders);
    if tally.unread > 0 {
        ExitStatus::Unusable
    } else if tally.cut < tally.sheets() {
        ExitStatus::NotAllCut
    } else {
        ExitStatus::AllCut
    }
}

fn tally(orders: &[Order]) -> Tally {
    let mut tally = Tally::default();
    for order in orders {
        match order.outcome.as_ref().map(|reviewed| reviewed.review.verdict) {
            Ok(Verdict::Cut) => tally.cut += 1,
            Ok(Verdict::Ask) => tally.ask += 1,
            Ok(Verdict::Stop) => tally.stop += 1,
            Err(_) => tally.unread += 1,
        }
    }
    tally
}

fn print_text(orders: &[Order], catalog: &Catalog, streams: &mut Streams) -> io::Result<()> {
    let several = orders.len() > 1;
    let columns = streams.columns();
    for order in orders {
        match &order.outcome {
            Ok(reviewed) => {
                let page = Page {
                    columns,
                    leading: axle::leading(&reviewed.sheet),
                    checked_at: catalog.settings.thresholds.checked_at,
                };
                streams.print(&order_report(&order.name, &reviewed.review, &page))?;
            }
            Err(unread) => {
                if several {
                    // A report that is kept in a file must not read as if the sheet had never been there.
                    streams.print(&not_reviewed_report(&order.name, unread.count(), columns))?;
                }
                streams.complain_of_sheet(&order.name, unread)?;
            }
        }
    }
    let tally = tally(orders);
    if several {
        streams.print(&tally_report(tally, columns))?;
    }
    if tally.unread < tally.sheets() {
        streams.print(&cautions_report(columns))?;
    }
    Ok(())
}

fn print_json(orders: &[Order], streams: &mut Streams) -> io::Result<()> {
    let mut outputs = Vec::with_capacity(orders.len());
    for order in orders {
        outputs.push(match &order.outcome {
            Ok(reviewed) => wire::SheetOutput::Review(Box::new(wire::review(&order.name, &reviewed.review))),
            Err(unread) => {
                streams.complain_of_sheet(&order.name, unread)?;
                wire::SheetOutput::Unread(unread.on_the_wire(&order.name))
            }
        });
    }
    let output = match <[wire::SheetOutput; 1]>::try_from(outputs) {
        Ok([only]) => wire::Output::Sheet(only),
        Err(several) => wire::Output::Several(several),
    };
    streams.print(&output.text().map_err(io::Error::other)?)
}
