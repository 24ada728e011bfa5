//! The calculations alone, for the shop floor: spline, fit, bolt circle, bearing and stud.
//!
//! Each reads its arguments as people write them, asks the crate `elements` (which holds every formula), and puts the answer
//! into blocks, each with its source. The command line prints the blocks, the desk shows them, both from the same arguments. [`CALCULATORS`] lists them for whoever builds forms.

pub mod bearing;
pub mod bolt_circle;
mod calculator;
pub mod fit;
mod form;
mod inputs;
mod key_words;
mod press;
mod quantity_text;
mod result;
pub mod spline;
pub mod stud;
mod units;

use clap::Args;

pub use calculator::{CALCULATORS, Calculator, Group, calculator};
pub use form::{Choices, Example, Field, Fields};
pub use inputs::{Inputs, Refusal, Refusals, Words};
pub use key_words::key_in_words;
pub use quantity_text::{NumberText, Quantity};
pub use result::{Amount, Block, Calculation, Entry};

/// The arguments that every calculation takes.
#[derive(Debug, Args)]
pub struct CalculationArguments {
    /// Unit of the lengths that are written without one: in or mm
    #[arg(long, value_name = "UNIT")]
    pub unit: Option<String>,
}
