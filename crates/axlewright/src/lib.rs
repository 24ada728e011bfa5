//! The command-line program of the order desk, and the place where everything is put together.
//!
//! Files, the terminal and threads are touched here and nowhere below: sheets and catalog are read, [`axle::review`] is
//! asked, and its answer is shown as text or as JSON.

mod arguments;
mod book;
mod calculate;
mod check;
mod desk;
mod draw;
mod exit_status;
mod explain;
mod intake;
mod learn;
mod papers;
mod plot;
mod reference_pages;
mod report;
mod simulate;
mod streams;
mod today;

use std::ffi::OsString;
use std::io;

use clap::Parser;

use arguments::{Arguments, Command};
use streams::Streams;

pub use exit_status::ExitStatus;

pub use report::{Page, cautions_report, order_report, origin_report};

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
        Command::Desk(opened) => desk::desk(opened, &mut streams),
        Command::Draw(drawn) => draw::draw(drawn, &mut streams),
        Command::Papers(wanted) => papers::papers(wanted, &mut streams),
        Command::Completions { shell } => reference_pages::completions(*shell, &mut streams),
        Command::Man { command } => reference_pages::man(command.as_deref(), &mut streams),
        Command::Bearing(bearing) => {
            calculate::calculate_by_catalog(bearing, calculation::bearing::compute, &mut streams)
        }
        Command::BoltCircle(circle) => {
            calculate::calculate_by_catalog(circle, calculation::bolt_circle::compute, &mut streams)
        }
        Command::Fit(fit) => calculate::calculate(fit, calculation::fit::compute, &mut streams),
        Command::Spline(spline) => calculate::calculate(spline, calculation::spline::compute, &mut streams),
        Command::Learn(learned) => learn::learn(learned, &mut streams),
        Command::Simulate(simulated) => simulate::simulate(simulated, &mut streams),
        Command::Stud(stud) => calculate::calculate_by_catalog(stud, calculation::stud::compute, &mut streams),
        Command::Schema { of } => reference_pages::schema(*of, &mut streams),
    };
    outcome.unwrap_or_else(|error| streams.cannot_write(&error))
}
