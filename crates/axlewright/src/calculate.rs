//! `axlewright spline`, `fit`, `bolt-circle`, `bearing` and `stud`: prints a calculation alone.

use std::io;

use calculation::{Calculation, Refusals};
use catalog::Catalog;
use clap::Args;

use crate::arguments::{Format, Printed, PrintedByCatalog};
use crate::exit_status::ExitStatus;
use crate::report::calculation_report;
use crate::streams::Streams;

/// Prints a calculation, or why its arguments cannot be used.
///
/// # Errors
///
/// A stream takes no more.
pub fn calculate<A: Args>(
    arguments: &Printed<A>,
    compute: impl FnOnce(&A) -> Result<Calculation, Refusals>,
    streams: &mut Streams,
) -> io::Result<ExitStatus> {
    print(compute(&arguments.calculation), arguments.format, streams)
}

/// Prints a calculation that looks things up in a catalog, or why its arguments cannot be used.
///
/// # Errors
///
/// A stream takes no more.
pub fn calculate_by_catalog<A: Args>(
    arguments: &PrintedByCatalog<A>,
    compute: impl FnOnce(&A, &Catalog) -> Result<Calculation, Refusals>,
    streams: &mut Streams,
) -> io::Result<ExitStatus> {
    let Some(catalog) = streams.catalog(arguments.catalog.as_deref())? else {
        return Ok(ExitStatus::Unusable);
    };
    print(compute(&arguments.printed.calculation, &catalog), arguments.printed.format, streams)
}

fn print(outcome: Result<Calculation, Refusals>, format: Format, streams: &mut Streams) -> io::Result<ExitStatus> {
    let calculation = match outcome {
        Ok(calculation) => calculation,
        Err(refusals) => {
            streams.complain(&refusals.to_string())?;
            return Ok(ExitStatus::Unusable);
        }
    };
    match format {
        Format::Text => streams.print(&calculation_report(&calculation, streams.columns()))?,
        Format::Json => streams.print(&wire::calculation(&calculation).text().map_err(io::Error::other)?)?,
    }
    Ok(ExitStatus::AllCut)
}
