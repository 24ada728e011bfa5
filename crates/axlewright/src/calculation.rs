//! The calculations alone, for the shop floor: `axlewright spline`, `fit`, `bolt-circle`, `bearing` and `stud`.
//!
//! Each command reads its arguments as people write them, asks the crate `elements` (which holds every formula), and puts
//! the answer into blocks, each with its source. The blocks are printed as text or as JSON.

pub mod bearing;
pub mod bolt_circle;
pub mod fit;
mod inputs;
mod press;
mod quantity_text;
mod result;
pub mod spline;
pub mod stud;
mod units;

use std::io;

use clap::Args;

use crate::arguments::Format;
use crate::exit_status::ExitStatus;
use crate::report::calculation_report;
use crate::streams::Streams;
use crate::wire;

pub use inputs::{Inputs, Refusals, Words};
pub use quantity_text::{
    FAHRENHEIT_PER_KELVIN, KSI_MPA, MILE_KM, NumberText, POUND_FOOT_NM, POUND_FORCE_N, Quantity, SQUARE_INCH_MM2,
};
pub use result::{Amount, Block, Calculation, Entry};

/// The arguments that every calculation takes.
#[derive(Debug, Args)]
pub struct CalculationArguments {
    /// Unit of the lengths that are written without one: in or mm
    #[arg(long, value_name = "UNIT")]
    pub unit: Option<String>,

    /// How to print
    #[arg(long, value_enum, default_value_t = Format::Text, value_name = "FORMAT")]
    pub format: Format,
}

/// Prints the outcome of a calculation, or why its input cannot be used.
///
/// # Errors
///
/// A stream takes no more.
pub fn print(outcome: Result<Calculation, Refusals>, format: Format, streams: &mut Streams) -> io::Result<ExitStatus> {
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
