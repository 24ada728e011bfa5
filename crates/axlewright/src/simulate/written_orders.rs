//! Writes simulated orders as files: each sheet, and what its axle really measures.

use std::io;
use std::path::Path;

use axle::simulate::{Chance, People, Zeal, draw_finished, sheet_text, truth_text};
use catalog::Catalog;

use super::even_numbers;
use crate::arguments::SimulateArguments;
use crate::exit_status::ExitStatus;
use crate::streams::Streams;

/// Draws the orders that the same arguments would review, and writes them into a folder.
///
/// # Errors
///
/// A stream takes no more.
pub fn write(
    folder: &Path,
    arguments: &SimulateArguments,
    catalog: &Catalog,
    zeal: Zeal,
    people: &People,
    streams: &mut Streams,
) -> io::Result<ExitStatus> {
    let mut written = 0;
    for order in 0..arguments.orders {
        let reference = format!("S-{}-{:04}", arguments.seed, order + 1);
        let mut even = even_numbers(arguments.seed, order);
        let Some(finished) = draw_finished(catalog, zeal, people, &reference, &mut Chance::new(&mut even)) else {
            continue;
        };
        let files = [
            (format!("{reference}.toml"), sheet_text(&finished.sheet)),
            (format!("{reference}.truth.toml"), truth_text(&finished.truth)),
        ];
        for (name, text) in files {
            if let Err(unwritable) = shop_folder::write(&folder.join(&name), &text) {
                streams.complain_of_file(&folder.join(name).display().to_string(), &unwritable)?;
                return Ok(ExitStatus::Unusable);
            }
        }
        written += 1;
    }
    streams.print(&format!("{written} orders and their truths written into {}.\n", folder.display()))?;
    Ok(ExitStatus::AllCut)
}
