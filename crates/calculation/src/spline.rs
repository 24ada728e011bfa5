//! `axlewright spline`: every diameter, width and size over pins of an involute spline; what a measured size over pins means;
//! and which spline a worn shaft was.

mod ansi_b92_1;
mod din_5480;
mod identification;
mod iso_4156;
mod measured;
mod pins;
mod reading;

use clap::Args;
use elements::involute_spline::{RootForm, SplineClass, WidthLimits};
use quantity::{Length, WrittenLength};

use super::{Block, Calculation, CalculationArguments, Inputs, Quantity, Refusals};

/// Examples for the help.
pub const EXAMPLES: &str = "\
Examples:
  axlewright spline --teeth 30 --pitch 24/48 --angle 45
      ANSI B92.1, fillet root, side fit, class 5, the standard's pins
  axlewright spline --teeth 30 --pitch 24/48 --angle 45 --class 6 --pin 0.080 in
      another class, and a pin of one's own over the shaft
  axlewright spline --teeth 24 --module 1.25 --angle 30 --length 30 mm --pin 2.5 mm
      ISO 4156
  axlewright spline --reference-diameter 40 mm --module 2 --teeth 18 --pin 4 mm --hub-pin 3.5 mm
      DIN 5480
  axlewright spline --teeth 30 --pitch 24/48 --angle 45 --over-pins 1.3815 in
      what a measured size over pins says of the tooth: its thickness, and whether it is within the limits
  axlewright spline --identify --teeth 30 --major-diameter 1.280 in --over-pins 1.3825 in --pin 0.080 in
      which standard spline a worn shaft was; any of the three may be left out but not both sizes

Exit status:
  0  the spline was computed
  2  an argument could not be used";

/// The arguments of `spline`.
#[derive(Debug, Args)]
pub struct SplineArguments {
    /// Number of teeth
    #[arg(long, value_name = "COUNT")]
    teeth: Option<String>,

    /// Diametral and stub pitch, as 24/48: a spline to ANSI B92.1
    #[arg(long, value_name = "P/2P", conflicts_with = "module")]
    pitch: Option<String>,

    /// Module in mm: a spline to ISO 4156, or with --reference-diameter to DIN 5480
    #[arg(long, value_name = "MODULE", num_args = 1..=2, action = clap::ArgAction::Set)]
    module: Option<Vec<String>>,

    /// Reference diameter of DIN 5480
    #[arg(long, value_name = "LENGTH", num_args = 1..=3, action = clap::ArgAction::Set, requires = "module")]
    reference_diameter: Option<Vec<String>>,

    /// Pressure angle in degrees: 30, 37.5 or 45
    #[arg(long, value_name = "DEGREES")]
    angle: Option<String>,

    /// Root: fillet or flat
    #[arg(long, value_name = "ROOT")]
    root: Option<String>,

    /// What centres the members of ANSI B92.1: side or major-diameter
    #[arg(long, value_name = "FIT")]
    fit: Option<String>,

    /// Tolerance class: 4, 5, 6 or 7
    #[arg(long, value_name = "CLASS")]
    class: Option<String>,

    /// Clearance of ISO 4156 by its letter: d, e, f or h
    #[arg(long, value_name = "LETTER")]
    deviation: Option<String>,

    /// Length of the spline, which the tolerances of ISO 4156 go by
    #[arg(long, value_name = "LENGTH", num_args = 1..=3, action = clap::ArgAction::Set)]
    length: Option<Vec<String>>,

    /// Pin over the shaft
    #[arg(long, value_name = "LENGTH", num_args = 1..=3, action = clap::ArgAction::Set)]
    pin: Option<Vec<String>>,

    /// Pin in the hub
    #[arg(long, value_name = "LENGTH", num_args = 1..=3, action = clap::ArgAction::Set)]
    hub_pin: Option<Vec<String>>,

    /// Size over two pins as measured on a shaft
    #[arg(long, value_name = "LENGTH", num_args = 1..=3, action = clap::ArgAction::Set)]
    over_pins: Option<Vec<String>>,

    /// Size between two pins as measured in a hub
    #[arg(long, value_name = "LENGTH", num_args = 1..=3, action = clap::ArgAction::Set, conflicts_with = "identify")]
    between_pins: Option<Vec<String>>,

    /// Tell which standard spline a shaft was, from --teeth, --major-diameter and --over-pins with --pin
    #[arg(long, conflicts_with_all = [
        "pitch", "module", "reference_diameter", "angle", "root", "fit", "class", "deviation", "length", "hub_pin",
    ])]
    identify: bool,

    /// Size over the tips as measured with a caliper
    #[arg(long, value_name = "LENGTH", num_args = 1..=3, action = clap::ArgAction::Set, requires = "identify")]
    major_diameter: Option<Vec<String>>,

    /// Standard uncertainty of the measured sizes
    #[arg(long, value_name = "LENGTH", num_args = 1..=3, action = clap::ArgAction::Set, requires = "identify")]
    uncertainty: Option<Vec<String>>,

    /// By how much the major diameter may be worn or turned small
    #[arg(long, value_name = "LENGTH", num_args = 1..=3, action = clap::ArgAction::Set, requires = "identify")]
    tip_wear: Option<Vec<String>>,

    /// By how much a tooth may be worn thin
    #[arg(long, value_name = "LENGTH", num_args = 1..=3, action = clap::ArgAction::Set, requires = "identify")]
    flank_wear: Option<Vec<String>>,

    /// The unit.
    #[command(flatten)]
    pub common: CalculationArguments,
}

/// What is asked of any spline, read from the arguments.
struct Asked<'a> {
    arguments: &'a SplineArguments,
    teeth: Option<u32>,
    root: Option<RootForm>,
    class: Option<SplineClass>,
    pin: Option<WrittenLength>,
    hub_pin: Option<WrittenLength>,
    over_pins: Option<WrittenLength>,
    between_pins: Option<WrittenLength>,
}

/// Computes the spline.
///
/// # Errors
///
/// Every argument that cannot be used.
pub fn compute(arguments: &SplineArguments) -> Result<Calculation, Refusals> {
    let mut inputs = Inputs::new(arguments.common.unit.as_deref());
    let roots = [("fillet", RootForm::Fillet), ("flat", RootForm::Flat)];
    let classes = SplineClass::ALL.map(|class| (["4", "5", "6", "7"][class as usize], class));
    let asked = Asked {
        arguments,
        teeth: inputs.count("--teeth", arguments.teeth.as_deref(), "a whole number from 6 to 100"),
        root: arguments.root.as_deref().and_then(|text| inputs.one_of("--root", text, &roots)),
        class: arguments.class.as_deref().and_then(|text| inputs.one_of("--class", text, &classes)),
        pin: inputs.length("--pin", &arguments.pin),
        hub_pin: inputs.length("--hub-pin", &arguments.hub_pin),
        over_pins: inputs.length("--over-pins", &arguments.over_pins),
        between_pins: inputs.length("--between-pins", &arguments.between_pins),
    };
    if arguments.identify {
        identification::compute(&asked, inputs)
    } else if arguments.reference_diameter.is_some() {
        din_5480::compute(&asked, inputs)
    } else if arguments.module.is_some() {
        iso_4156::compute(&asked, inputs)
    } else {
        ansi_b92_1::compute(&asked, inputs)
    }
}

fn width_block(
    key: &'static str,
    limits: Option<&WidthLimits>,
    length: fn(f64) -> Length,
    basic: Length,
    source: String,
) -> Block {
    let mut block = Block::new(key, source);
    block.size("basic", basic, "on the pitch circle, along the arc");
    if let Some(limits) = limits {
        let size = |width: f64| Quantity::Size(length(width));
        let (effective, actual) = (limits.effective_min, limits.actual_min);
        block.range("effective", size(effective), size(limits.effective_max), "what the whole mating part feels");
        block.range("actual", size(actual), size(limits.actual_max), "what is measured at one place");
    }
    block
}

/// Takes a value for what was not said, and says so.
fn take<T>(taken: &mut Vec<String>, value: T, words: impl Into<String>) -> T {
    taken.push(words.into());
    value
}
