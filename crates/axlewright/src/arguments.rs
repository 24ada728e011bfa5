//! The command line.

mod papers;

use std::path::PathBuf;

use anstream::ColorChoice;
use clap::builder::{PossibleValuesParser, TypedValueParser};
use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;

use crate::book::BookArguments;
use crate::desk::DeskArguments;
use calculation::bearing::BearingArguments;
use calculation::bolt_circle::BoltCircleArguments;
use calculation::fit::FitArguments;
use calculation::spline::SplineArguments;
use calculation::stud::StudArguments;
pub use papers::{PapersArguments, PapersPage};

const EXAMPLES: &str = "\
Examples:
  axlewright check order.toml
      review one order and say what to cut, what to doubt and what to ask
  axlewright check orders/*.toml --format json > reviews.json
      review a folder of orders for another program
  axlewright explain order.toml overall_length --side left
      show where one size comes from
  axlewright spline --teeth 30 --pitch 24/48 --angle 45
      every diameter, width and size over pins of a spline
  axlewright desk
      open the order desk of an invented shop in a browser
  axlewright help check
      show everything about one command";

const CHECK_EXAMPLES: &str = "\
Examples:
  axlewright check order.toml
      one order, in text
  axlewright check order.toml --colour always | less -R
      the same in a pager, with colour
  axlewright check orders/*.toml
      several orders; a sheet that cannot be read does not hide the others
  axlewright check order.toml --format json
      one JSON object; several sheets give an array (`axlewright schema` describes both)
  axlewright check order.toml --catalog our-catalog
      with the shop's own catalog

Exit status:
  0  every order may be cut
  1  at least one order is to be asked about or stopped
  2  at least one input could not be used: a sheet, the catalog or the command line";

const EXPLAIN_EXAMPLES: &str = "\
Examples:
  axlewright explain order.toml overall_length
      where the overall length of either side comes from
  axlewright explain order.toml overall_length --side left
      the left side only
  axlewright explain order.toml journal_diameter --format json
      the same for another program

Exit status:
  0  the size was explained, whatever the verdict on the order is
  2  the sheet, the catalog or the command line could not be used, or the order has no such size";

const PLOT_EXAMPLES: &str = "\
Examples:
  axlewright plot order.toml > stress.svg
      stress and safety along the shaft, for a browser or a paper
  axlewright plot order.toml --catalog our-catalog > stress.svg
      with the shop's own catalog

Exit status:
  0  the picture was drawn, whatever the verdict on the order is
  2  the sheet, the catalog or the command line could not be used, or the shaft is not known well enough";

const DRAW_EXAMPLES: &str = "\
Examples:
  axlewright draw order.toml --out shaft.svg
      the left shaft, for the shop floor
  axlewright draw order.toml --side right --format dxf > right.dxf
      the right shaft for a CAD program
  axlewright draw order.toml --view pair --units dual --standard iso --out pair.svg
      both shafts with the differential, in millimetres and inches, by ISO
  axlewright draw order.toml --format step --teeth --out shaft.step
      each shaft as a solid with its teeth: shaft-left.step and shaft-right.step

Without --standard and --units they follow the unit of the order: inch and ASME, or millimetre and ISO.

Exit status:
  0  the drawing was made, whatever the verdict on the order is; what is not known stands on its face
  2  the sheet, the catalog, the command line or the file could not be used, or a solid lacks a size of its shaft";

const SIMULATE_EXAMPLES: &str = "\
Examples:
  axlewright simulate --orders 20000
      are 95 of 100 orders right that are said to fit with 95 %?
  axlewright simulate --orders 2000 --zeal lean
      the same for sheets that hold little more than they must
  axlewright simulate --orders 2000 --noise 2 --rate 3
      people who measure twice as badly and slip three times as often as the catalog says
  axlewright simulate --orders 2000 --gross 0.02
      two readings in a hundred wrong in a way that no mistake describes";

const LEARN_EXAMPLES: &str = "\
Examples:
  axlewright learn finished/
      show what the finished orders of a folder teach, and write nothing
  axlewright learn finished/ --out our-catalog --catalog our-catalog
      write it into the shop's own catalog, as files of their own; delete learned_*.toml to undo it
  axlewright simulate --orders 200 --noise 2 --write simulated/ && axlewright learn simulated/
      try it on people who measure twice as badly as the catalog says

Each order is two files, found by the order's reference: the sheet as it came in, and the truth that was found afterwards.

Exit status:
  0  the orders were learned from
  2  at least one file, the catalog or the command line could not be used; nothing was written";

const COMPLETIONS_EXAMPLES: &str = "\
Examples:
  axlewright completions bash > ~/.local/share/bash-completion/completions/axlewright
  axlewright completions fish > ~/.config/fish/completions/axlewright.fish";

const MAN_EXAMPLES: &str = "\
Examples:
  axlewright man > axlewright.1
  axlewright man check > axlewright-check.1";

const SCHEMA_EXAMPLES: &str = "\
Examples:
  axlewright schema > review.schema.json
  axlewright schema calculation > calculation.schema.json";

/// Weighs the readings of an order for two axle shafts against each other, and says what to cut, what to doubt and what
/// to ask
#[derive(Debug, Parser)]
#[command(name = "axlewright", version, after_long_help = EXAMPLES)]
pub struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,

    /// When to use colour; the environment variable NO_COLOR turns `auto` off
    #[arg(long, global = true, value_enum, default_value_t = Colour::Auto, value_name = "WHEN", alias = "color")]
    pub colour: Colour,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Review order sheets
    #[command(after_long_help = CHECK_EXAMPLES)]
    Check(CheckArguments),

    /// Show where one size of an order comes from
    #[command(after_long_help = EXPLAIN_EXAMPLES)]
    Explain(ExplainArguments),

    /// Draw stress and safety along the shaft of an order, as SVG
    #[command(after_long_help = PLOT_EXAMPLES)]
    Plot(PlotArguments),

    /// Draw the shafts of an order
    #[command(after_long_help = DRAW_EXAMPLES)]
    Draw(DrawArguments),

    /// Set the papers of an order as PDF
    #[command(after_long_help = papers::EXAMPLES)]
    Papers(PapersArguments),

    /// Compute a spline: diameters, widths, sizes over and between pins
    #[command(after_long_help = calculation::spline::EXAMPLES)]
    Spline(Printed<SplineArguments>),

    /// Compute a fit: limits, clearance or interference, pressure, forces, heating
    #[command(after_long_help = calculation::fit::EXAMPLES)]
    Fit(Printed<FitArguments>),

    /// Compute a bolt circle from distances of its holes
    #[command(after_long_help = calculation::bolt_circle::EXAMPLES)]
    BoltCircle(PrintedByCatalog<BoltCircleArguments>),

    /// Compute a bearing: equivalent load, rating life, static safety
    #[command(after_long_help = calculation::bearing::EXAMPLES)]
    Bearing(PrintedByCatalog<BearingArguments>),

    /// Compute a wheel stud: strength, torque, clamp, slip, hole and length
    #[command(after_long_help = calculation::stud::EXAMPLES)]
    Stud(PrintedByCatalog<StudArguments>),

    /// Draw orders whose truth is known, review them, and see how far the reviews come true
    #[command(after_long_help = SIMULATE_EXAMPLES)]
    Simulate(SimulateArguments),

    /// Learn from finished orders how well people measure and how often they slip
    #[command(after_long_help = LEARN_EXAMPLES)]
    Learn(LearnArguments),

    /// Open the order desk in a browser
    #[command(after_long_help = crate::desk::EXAMPLES)]
    Desk(DeskArguments),

    /// Keep orders in a book: import, list, check, back up, review again
    #[command(after_long_help = crate::book::EXAMPLES)]
    Book(BookArguments),

    /// Print a completion script for a shell
    #[command(after_long_help = COMPLETIONS_EXAMPLES)]
    Completions {
        /// The shell
        shell: Shell,
    },

    /// Print the manual page of the program or of one command, in roff
    #[command(after_long_help = MAN_EXAMPLES)]
    Man {
        /// The command; without it, the page of the whole program
        #[arg(value_parser = ["check", "explain", "draw", "plot", "spline", "fit", "bolt-circle", "bearing", "stud", "simulate", "learn", "desk", "book", "completions", "man", "schema"])]
        command: Option<String>,
    },

    /// Print the JSON Schema of what the program prints as JSON
    #[command(after_long_help = SCHEMA_EXAMPLES)]
    Schema {
        /// Of which output
        #[arg(value_enum, default_value_t = SchemaOf::Review)]
        of: SchemaOf,
    },
}

/// What to simulate.
#[derive(Debug, Args)]
pub struct SimulateArguments {
    /// How many orders to draw
    #[arg(long, default_value_t = 1000, value_name = "COUNT")]
    pub orders: usize,

    /// The seed: the same seed gives the same orders
    #[arg(long, default_value_t = 1, value_name = "NUMBER")]
    pub seed: u64,

    /// How much of a vehicle gets measured
    #[arg(long, value_enum, default_value_t = SimulatedZeal::Full)]
    pub zeal: SimulatedZeal,

    /// People's errors, as a multiple of what the catalog says of the instruments (0.1 to 10)
    #[arg(long, default_value_t = 1.0, value_name = "TIMES", value_parser = multiple)]
    pub noise: f64,

    /// People's mistakes, as a multiple of the catalog's rates (0 to 10)
    #[arg(long, default_value_t = 1.0, value_name = "TIMES", value_parser = multiple_or_none)]
    pub rate: f64,

    /// How often a reading is wrong in a way that no mistake describes (0 to 0.5)
    #[arg(long, default_value_t = 0.0, value_name = "SHARE", value_parser = gross_share)]
    pub gross: f64,

    /// Write the sheets and what their axles really measure into this folder, and review nothing
    #[arg(long, value_name = "DIR", value_hint = clap::ValueHint::DirPath)]
    pub write: Option<PathBuf>,

    /// A folder with the shop's own catalog
    #[arg(long, value_name = "DIR")]
    pub catalog: Option<PathBuf>,
}

/// What to learn from.
#[derive(Debug, Args)]
pub struct LearnArguments {
    /// Finished orders: sheets and truths, TOML files or folders of them
    #[arg(required = true, value_name = "ORDERS", value_hint = clap::ValueHint::AnyPath)]
    pub orders: Vec<PathBuf>,

    /// Folder to write what was learned into, as learned_*.toml; without it, nothing is written
    #[arg(long, value_name = "DIR", value_hint = clap::ValueHint::DirPath)]
    pub out: Option<PathBuf>,

    /// Folder of the shop's own catalog, which is then what was believed before; what was learned into it earlier is left out
    #[arg(long, value_name = "DIR", value_hint = clap::ValueHint::DirPath)]
    pub catalog: Option<PathBuf>,
}

/// How much of a simulated vehicle gets measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SimulatedZeal {
    /// What a shaft cannot do without
    Lean,
    /// What a desk usually gets
    Usual,
    /// Nearly everything
    Full,
}

fn multiple(text: &str) -> Result<f64, String> {
    number_between(text, 0.1, 10.0)
}

fn multiple_or_none(text: &str) -> Result<f64, String> {
    number_between(text, 0.0, 10.0)
}

fn gross_share(text: &str) -> Result<f64, String> {
    number_between(text, 0.0, 0.5)
}

fn number_between(text: &str, least: f64, most: f64) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(number) if (least..=most).contains(&number) => Ok(number),
        _ => Err(format!("accepted: a number from {least} to {most}")),
    }
}

/// What a schema is asked of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SchemaOf {
    /// Of what `check` and `explain` print
    Review,
    /// Of what the calculations print: `spline`, `fit`, `bolt-circle`, `bearing` and `stud`
    Calculation,
}

/// The arguments of `check`.
#[derive(Debug, Args)]
pub struct CheckArguments {
    /// Order sheets, TOML files
    #[arg(required = true, value_name = "SHEET", value_hint = clap::ValueHint::FilePath)]
    pub sheets: Vec<PathBuf>,

    /// Where the catalog is and how to print.
    #[command(flatten)]
    pub common: CommonArguments,
}

/// The arguments of `explain`.
#[derive(Debug, Args)]
pub struct ExplainArguments {
    /// Order sheet, a TOML file
    #[arg(value_name = "SHEET", value_hint = clap::ValueHint::FilePath)]
    pub sheet: PathBuf,

    /// The size to explain
    #[arg(value_name = "DIMENSION", value_parser = dimension_parser())]
    pub dimension: axle::DimensionKind,

    /// Only this side, where the sides differ
    #[arg(long, value_enum, value_name = "SIDE")]
    pub side: Option<Side>,

    /// Where the catalog is and how to print.
    #[command(flatten)]
    pub common: CommonArguments,
}

/// The arguments of `plot`.
#[derive(Debug, Args)]
pub struct PlotArguments {
    /// Order sheet, a TOML file
    #[arg(value_name = "SHEET", value_hint = clap::ValueHint::FilePath)]
    pub sheet: PathBuf,

    /// Folder of the shop's own catalog, *.toml files whose rows extend or override the shipped ones
    #[arg(long, value_name = "DIR", value_hint = clap::ValueHint::DirPath)]
    pub catalog: Option<PathBuf>,
}

/// The arguments of `draw`.
#[derive(Debug, Args)]
pub struct DrawArguments {
    /// Order sheet, a TOML file
    #[arg(value_name = "SHEET", value_hint = clap::ValueHint::FilePath)]
    pub sheet: PathBuf,

    /// What to show; without it, the shaft. A STEP file holds the shaft itself and takes no other
    #[arg(long, value_enum, value_name = "VIEW")]
    pub view: Option<DrawView>,

    /// Which shaft; without it, the first that the order wants, or with step each of them in a file of its own
    #[arg(long, value_enum, value_name = "SIDE")]
    pub side: Option<Side>,

    /// The format of the file; without it, the one that the name of the file ends with, or svg
    #[arg(long, value_enum, value_name = "FORMAT")]
    pub format: Option<DrawFormat>,

    /// The standard that lines, lettering and tolerances follow
    #[arg(long, value_enum, value_name = "STANDARD")]
    pub standard: Option<DrawStandard>,

    /// The units of the numbers on the face; of a STEP file the one unit of its lengths
    #[arg(long, value_enum, value_name = "UNITS")]
    pub units: Option<DrawUnits>,

    /// Cut the teeth of the spline; without it, a STEP file holds a cylinder over their tips
    #[arg(long)]
    pub teeth: bool,

    /// The date for the title block, as it is to be printed; for a STEP file a date such as 2026-01-31
    #[arg(long, value_name = "DATE")]
    pub date: Option<String>,

    /// The revision for the title block
    #[arg(long, value_name = "REVISION", default_value = "1")]
    pub revision: String,

    /// Say that the drawing is approved; it is believed only of an order that may be cut
    #[arg(long)]
    pub approved: bool,

    /// The file to write; without it, the drawing goes to the output. Where both shafts go to STEP files, `-left` and
    /// `-right` are added to its name
    #[arg(long, value_name = "FILE", value_hint = clap::ValueHint::FilePath)]
    pub out: Option<PathBuf>,

    /// Folder of the shop's own catalog, *.toml files whose rows extend or override the shipped ones
    #[arg(long, value_name = "DIR", value_hint = clap::ValueHint::DirPath)]
    pub catalog: Option<PathBuf>,
}

/// What a drawing shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum DrawView {
    /// One shaft, for the shop floor
    Shaft,
    /// The outboard face of its flange
    Flange,
    /// The shaft in its housing end and its side gear
    Housing,
    /// Both shafts with the differential between them
    Pair,
}

/// The format of a drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum DrawFormat {
    /// For screens and printers
    Svg,
    /// For CAD programs: the sheet
    Dxf,
    /// For CAD programs: the shaft as a solid, STEP AP214
    Step,
}

/// The standard of a drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum DrawStandard {
    /// ISO 128, ISO 129, ISO 1101; A3, first-angle projection
    Iso,
    /// ASME Y14.2, Y14.5; size B, third-angle projection
    Asme,
}

/// The units of a drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum DrawUnits {
    /// Inches
    Inch,
    /// Millimetres
    Millimetre,
    /// Both: the unit of the order first, the other in brackets
    Dual,
}

/// The arguments that `check` and `explain` share.
#[derive(Debug, Args)]
pub struct CommonArguments {
    /// Folder of the shop's own catalog, *.toml files whose rows extend or override the shipped ones
    #[arg(long, value_name = "DIR", value_hint = clap::ValueHint::DirPath)]
    pub catalog: Option<PathBuf>,

    /// How to print
    #[arg(long, value_enum, default_value_t = Format::Text, value_name = "FORMAT")]
    pub format: Format,
}

/// The arguments of a calculation, and how to print it.
#[derive(Debug, Args)]
pub struct Printed<A: Args> {
    /// What to compute.
    #[command(flatten)]
    pub calculation: A,

    /// How to print
    #[arg(long, value_enum, default_value_t = Format::Text, value_name = "FORMAT")]
    pub format: Format,
}

/// The arguments of a calculation that looks things up, and how to print it.
#[derive(Debug, Args)]
pub struct PrintedByCatalog<A: Args> {
    /// What to compute, and how to print it.
    #[command(flatten)]
    pub printed: Printed<A>,

    /// Folder of the shop's own catalog
    #[arg(long, value_name = "DIR", value_hint = clap::ValueHint::DirPath)]
    pub catalog: Option<PathBuf>,
}

/// How to print.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people
    Text,
    /// For other programs
    Json,
}

/// When to use colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Colour {
    /// On a terminal
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}

impl From<Colour> for ColorChoice {
    fn from(colour: Colour) -> Self {
        match colour {
            Colour::Auto => Self::Auto,
            Colour::Always => Self::Always,
            Colour::Never => Self::Never,
        }
    }
}

/// A side of the axle, seen from behind and facing forward.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Side {
    /// The left one, seen from behind and facing forward
    Left,
    /// The right one
    Right,
}

impl From<Side> for axle::Side {
    fn from(side: Side) -> Self {
        match side {
            Side::Left => Self::Left,
            Side::Right => Self::Right,
        }
    }
}

/// Takes the key of a dimension; the keys are also what a shell completes.
fn dimension_parser() -> impl TypedValueParser<Value = axle::DimensionKind> {
    let keys = axle::DimensionKind::all().map(axle::DimensionKind::key);
    PossibleValuesParser::new(keys)
        .try_map(|key| axle::DimensionKind::from_key(&key).ok_or("no dimension has that key"))
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::Arguments;

    #[test]
    fn the_command_line_contradicts_itself_nowhere() {
        Arguments::command().debug_assert();
    }
}
