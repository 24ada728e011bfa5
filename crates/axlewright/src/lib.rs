//! The command-line program of the order desk, and the place where everything is put together.
//!
//! Files, the terminal and threads are touched here and nowhere below: sheets and catalog are read, [`axle::review`] is
//! asked, and its answer is shown as text or as JSON.

mod arguments;
mod book;
mod calculation;
mod catalog_folder;
mod check;
mod draw;
mod exit_status;
mod explain;
mod intake;
mod key_words;
mod learn;
mod papers;
mod plot;
mod reference_pages;
mod report;
mod shop_folder;
mod simulate;
mod streams;
mod stress_plot;
mod text_file;
mod today;
pub mod wire;

use std::ffi::OsString;
use std::io;
use std::path::Path;

use catalog::Catalog;
use clap::Parser;

use arguments::{Arguments, Command, Format};
use calculation::{Calculation, Refusals};
use streams::Streams;

pub use exit_status::ExitStatus;
pub use stress_plot::stress_plot;

pub use report::{Page, cautions_report, order_report, origin_report};

/// Computes and prints what needs the catalog.
fn with_catalog(
    folder: Option<&Path>,
    format: Format,
    streams: &mut Streams,
    compute: impl FnOnce(&Catalog) -> Result<Calculation, Refusals>,
) -> io::Result<ExitStatus> {
    let Some(catalog) = catalog_folder::load(folder, streams)? else {
        return Ok(ExitStatus::Unusable);
    };
    calculation::print(compute(&catalog), format, streams)
}

/// Runs the program with the arguments of a command line, the program's own name first.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitStatus {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(message) => {
            // Help and version come as messages, too; they go to standard output and are no failure.
            let printed = message.print();
            return match (message.exit_code(), printed) {
                (0, Ok(())) => ExitStatus::AllCut,
                (0, Err(error)) if error.kind() == io::ErrorKind::BrokenPipe => ExitStatus::AllCut,
                _ => ExitStatus::Unusable,
            };
        }
    };
    let mut streams = Streams::new(arguments.colour.into());
    let outcome = match &arguments.command {
        Command::Book(kept) => book::book(kept, &mut streams),
        Command::Check(check) => check::check(check, &mut streams),
        Command::Explain(explain) => explain::explain(explain, &mut streams),
        Command::Plot(plotted) => plot::plot(plotted, &mut streams),
        Command::Draw(drawn) => draw::draw(drawn, &mut streams),
        Command::Papers(wanted) => papers::papers(wanted, &mut streams),
        Command::Completions { shell } => reference_pages::completions(*shell, &mut streams),
        Command::Man { command } => reference_pages::man(command.as_deref(), &mut streams),
        Command::Bearing(bearing) => {
            with_catalog(bearing.catalog.as_deref(), bearing.common.format, &mut streams, |catalog| {
                calculation::bearing::compute(bearing, catalog)
            })
        }
        Command::BoltCircle(circle) => {
            with_catalog(circle.catalog.as_deref(), circle.common.format, &mut streams, |catalog| {
                calculation::bolt_circle::compute(circle, catalog)
            })
        }
        Command::Fit(fit) => calculation::print(calculation::fit::compute(fit), fit.common.format, &mut streams),
        Command::Spline(spline) => {
            calculation::print(calculation::spline::compute(spline), spline.common.format, &mut streams)
        }
        Command::Learn(learned) => learn::learn(learned, &mut streams),
        Command::Simulate(simulated) => simulate::simulate(simulated, &mut streams),
        Command::Stud(stud) => with_catalog(stud.catalog.as_deref(), stud.common.format, &mut streams, |catalog| {
            calculation::stud::compute(stud, catalog)
        }),
        Command::Schema { of } => reference_pages::schema(*of, &mut streams),
    };
    outcome.unwrap_or_else(|error| streams.cannot_write(&error))
}
