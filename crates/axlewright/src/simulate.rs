//! `axlewright simulate`: orders whose truth is known, to see how far the reviews come true.

mod written_orders;

use std::io;

use axle::simulate::{Chance, People, Tally, Trials, Zeal};
use desk::even_numbers;
use indicatif::{ProgressBar, ProgressStyle};
use rayon::prelude::*;

use crate::arguments::{SimulateArguments, SimulatedZeal};
use crate::exit_status::ExitStatus;
use crate::report::simulation_report;
use crate::streams::Streams;

/// Orders that are tried before the count goes on, so that the progress shows.
const BATCH: usize = 200;
/// The questions of one order in so many are answered: they take far longer than the review itself.
const ASKED_OF: usize = 20;

/// Draws orders, reviews them and prints how far the reviews came true.
///
/// # Errors
///
/// A stream takes no more.
pub fn simulate(arguments: &SimulateArguments, streams: &mut Streams) -> io::Result<ExitStatus> {
    let Some(catalog) = streams.catalog(arguments.catalog.as_deref())? else {
        return Ok(ExitStatus::Unusable);
    };
    let zeal = match arguments.zeal {
        SimulatedZeal::Lean => Zeal::Lean,
        SimulatedZeal::Usual => Zeal::Usual,
        SimulatedZeal::Full => Zeal::Full,
    };
    let people = People { noise: arguments.noise, rate: arguments.rate, gross: arguments.gross };
    if let Some(folder) = &arguments.write {
        return written_orders::write(folder, arguments, &catalog, zeal, &people, streams);
    }
    let trials = Trials::new(catalog, zeal, people);
    let bar = ProgressBar::new(arguments.orders as u64).with_style(ProgressStyle::default_bar()).with_message("orders");
    let mut tally = Tally::default();
    let mut first = 0;
    while first < arguments.orders {
        let batch = BATCH.min(arguments.orders - first);
        // Every order has a chance of its own, so the count does not depend on how many cores there are.
        let tried: Vec<_> = (first..first + batch)
            .into_par_iter()
            .map(|order| {
                let mut even = even_numbers(arguments.seed, order);
                trials.run(order % ASKED_OF == 0, &mut Chance::new(&mut even))
            })
            .collect();
        for trial in tried {
            match trial {
                Ok(Some(trial)) => tally.add(&trial),
                Ok(None) => {}
                Err(error) => {
                    streams.complain(&format!("The catalog cannot be used: {error}."))?;
                    return Ok(ExitStatus::Unusable);
                }
            }
        }
        first += batch;
        bar.set_position(first as u64);
    }
    bar.finish_and_clear();
    streams.print(&simulation_report(&tally, arguments, streams.columns()))?;
    Ok(ExitStatus::AllCut)
}
