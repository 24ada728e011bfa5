//! `axlewright learn`: learns from finished orders, shows what was learned, and writes it where it is told to.

mod finished_orders;
mod learned_folder;

use std::io;

use axle::learn::learned_files;

use crate::arguments::LearnArguments;
use crate::exit_status::ExitStatus;
use crate::report::learning_report;
use crate::streams::Streams;

/// Learns from the orders and shows what they teach; with a folder to write into, writes it too.
///
/// # Errors
///
/// A stream takes no more.
pub fn learn(arguments: &LearnArguments, streams: &mut Streams) -> io::Result<ExitStatus> {
    if let Some(out) = &arguments.out
        && let Err(refused) = learned_folder::may_be_written(out, arguments.catalog.as_deref())
    {
        streams.complain_of_file(&refused.name, &refused.why)?;
        return Ok(ExitStatus::Unusable);
    }
    let Some(catalog) = streams.catalog_by_hand(arguments.catalog.as_deref())? else {
        return Ok(ExitStatus::Unusable);
    };
    let Some(orders) = finished_orders::read(&arguments.orders, &catalog, streams)? else {
        return Ok(ExitStatus::Unusable);
    };
    let learned = match axle::learn::learn(&orders.finished, &catalog) {
        Ok(learned) => learned,
        Err(error) => {
            streams.complain(&format!("The catalog cannot be used: {error}."))?;
            return Ok(ExitStatus::Unusable);
        }
    };
    let prior = match &arguments.catalog {
        Some(_) => "the shop's own catalog",
        None => "the shipped catalog",
    };
    let files = learned_files(&learned, &catalog, prior);
    let mut closing = Vec::new();
    if let Some(out) = &arguments.out {
        match learned_folder::write(out, arguments.catalog.as_deref(), &files) {
            Ok(said) => closing = said,
            Err(refused) => {
                streams.complain_of_file(&refused.name, &refused.why)?;
                return Ok(ExitStatus::Unusable);
            }
        }
    } else if !files.is_empty() {
        closing.push("Nothing was written. --out FOLDER writes what changed as files of a catalog.".to_owned());
    }
    streams.print(&learning_report(&learned, &catalog, prior, orders.without_truth, &closing, streams.columns()))?;
    Ok(ExitStatus::AllCut)
}
