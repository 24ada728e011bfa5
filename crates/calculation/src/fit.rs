//! `axlewright fit`: ISO 286 limits, kind of fit, and what a press fit holds.

use axle::CAUTIONS;
use clap::Args;
use elements::interference_fit::InterferenceError;
use elements::limits_fits::{Feature, Fit, FitClearance, FitError, FitKind, SizeLimits, Zone};
use quantity::{Leading, LengthExt, LengthUnit, WrittenLength, millimetres};

use super::press::{Press, PressInputs, press_blocks};
use super::{Block, Calculation, CalculationArguments, Inputs, Quantity, Refusals};

/// Examples for the help.
pub const EXAMPLES: &str = "\
Examples:
  axlewright fit 40 H7/m6
      limits and kind of fit; a nominal size without a unit is in mm, as ISO 286 writes it
  axlewright fit 1.5625 in H7/m6
      the same from inches
  axlewright fit 40 m6
      the limits of one zone
  axlewright fit 40 H7/s6 --hub-outside 80 mm --length 40 mm
      with pressure, stress, force to press and force that holds
  axlewright fit 40 mm --interference 0.023 mm --hub-outside 48 mm --length 18 mm --friction 0.12
      from a measured interference instead of a zone

Exit status:
  0  the fit was computed
  2  an argument could not be used";

/// The arguments of `fit`.
#[derive(Debug, Args)]
pub struct FitArguments {
    /// Nominal size, and behind it the zones of hole and shaft or one zone
    #[arg(required = true, num_args = 1..=5, value_name = "SIZE [ZONES]")]
    size: Vec<String>,

    /// Measured interference on the diameter, instead of zones
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    interference: Option<Vec<String>>,

    /// Outside diameter of the hub or ring: gives pressure and stress
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    hub_outside: Option<Vec<String>>,

    /// Length of contact: gives the forces
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    length: Option<Vec<String>>,

    /// Bore of the shaft, where it is hollow
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    bore: Option<Vec<String>>,

    /// Friction of the joint, the least and the most
    #[arg(long, value_name = "FRICTION", num_args = 1..=2)]
    friction: Option<Vec<String>>,

    /// Elastic modulus of the shaft
    #[arg(long, value_name = "MODULUS", num_args = 1..=2)]
    modulus: Option<Vec<String>>,

    /// Elastic modulus of the hub
    #[arg(long, value_name = "MODULUS", num_args = 1..=2)]
    hub_modulus: Option<Vec<String>>,

    /// Poisson's ratio of the shaft
    #[arg(long, value_name = "RATIO")]
    poisson: Option<String>,

    /// Poisson's ratio of the hub
    #[arg(long, value_name = "RATIO")]
    hub_poisson: Option<String>,

    /// Finish of the seat, whose peaks pressing smooths: ground or turned
    #[arg(long, value_name = "FINISH")]
    finish: Option<String>,

    /// Clearance wanted for assembly of the heated hub
    #[arg(long, value_name = "LENGTH", num_args = 1..=3)]
    assembly_clearance: Option<Vec<String>>,

    /// The unit.
    #[command(flatten)]
    pub common: CalculationArguments,
}

/// What stands behind the nominal size.
enum Zones {
    Fit(Fit),
    One(Zone),
}

/// Computes the fit.
///
/// # Errors
///
/// Every argument that cannot be used.
pub fn compute(arguments: &FitArguments) -> Result<Calculation, Refusals> {
    let mut inputs = Inputs::new(arguments.common.unit.as_deref());
    let mut taken = Vec::new();
    let words: Vec<String> = arguments.size.join(" ").split_whitespace().map(str::to_owned).collect();
    let (size, zones) = parted(&words);
    let nominal = read_nominal(size, &mut inputs, &mut taken);
    let interference = inputs.length("--interference", &arguments.interference);
    let zones = read_zones(zones, arguments.interference.is_some(), &mut inputs);
    let press = PressInputs {
        hub_outside: inputs.length("--hub-outside", &arguments.hub_outside),
        length: inputs.length("--length", &arguments.length),
        bore: inputs.length("--bore", &arguments.bore),
        friction: arguments.friction.clone(),
        modulus: inputs.modulus("--modulus", &arguments.modulus),
        hub_modulus: inputs.modulus("--hub-modulus", &arguments.hub_modulus),
        poisson: inputs.number("--poisson", arguments.poisson.as_deref(), "a number from 0 to below 0.5"),
        hub_poisson: inputs.number("--hub-poisson", arguments.hub_poisson.as_deref(), "a number from 0 to below 0.5"),
        finish: arguments.finish.clone(),
        assembly_clearance: inputs.length("--assembly-clearance", &arguments.assembly_clearance),
    };
    if arguments.hub_outside.is_none() {
        refuse_without_hub(arguments, &mut inputs);
    }
    inputs.settle()?;
    let Some(nominal) = nominal else { return Err(inputs.take_refusals()) };
    let nominal_mm = nominal.value().millimetres();

    let mut blocks = Vec::new();
    let clearance = match &zones {
        None => None,
        Some(Zones::One(zone)) => {
            blocks.push(zone_block(*zone, &limits(*zone, nominal_mm, &words, &mut inputs)?));
            None
        }
        Some(Zones::Fit(fit)) => {
            let hole = limits(fit.hole(), nominal_mm, &words, &mut inputs)?;
            let shaft = limits(fit.shaft(), nominal_mm, &words, &mut inputs)?;
            blocks.push(zone_block(fit.hole(), &hole));
            blocks.push(zone_block(fit.shaft(), &shaft));
            blocks.push(fit_block(&hole, &shaft));
            Some(FitClearance::of(&hole, &shaft))
        }
    };
    let pressing = arguments.hub_outside.is_some();
    if pressing {
        let (least_mm, most_mm) = match (&interference, clearance) {
            (Some(measured), _) => (measured.value().millimetres(), measured.value().millimetres()),
            // What is loose at the least interference holds nothing there.
            (None, Some(clearance)) => {
                ((-clearance.largest_um).max(0.0) / 1000.0, (-clearance.smallest_um).max(0.0) / 1000.0)
            }
            (None, None) => {
                let problem = "one zone alone has no interference";
                inputs.refuse(
                    "--hub-outside",
                    &joined(&arguments.hub_outside),
                    problem,
                    "both zones, or --interference",
                );
                (0.0, 0.0)
            }
        };
        if clearance.is_some_and(|clearance| clearance.kind() == FitKind::Clearance) {
            let problem = "a clearance fit has no pressure";
            let accepted = "a transition or an interference fit, or no --hub-outside";
            inputs.refuse("--hub-outside", &joined(&arguments.hub_outside), problem, accepted);
        }
        inputs.settle()?;
        let joint = Press { nominal_mm, least_mm, most_mm };
        blocks.extend(press_blocks(&joint, &press, &mut inputs, &mut taken)?);
    }
    let what = match (&zones, &interference) {
        (Some(Zones::Fit(fit)), _) => format!("{nominal_mm} mm {fit}"),
        (Some(Zones::One(zone)), _) => format!("{nominal_mm} mm {zone}"),
        (None, Some(measured)) => format!("{nominal_mm} mm with an interference of {}", measured.text()),
        (None, None) => format!("{nominal_mm} mm"),
    };
    let metric = nominal.unit().is_metric();
    Ok(Calculation {
        command: "fit",
        subject: if metric { what } else { format!("{} = {what}", nominal.text()) },
        leading: if metric { Leading::Millimetres } else { Leading::Inches },
        taken,
        blocks,
        cautions: if pressing { &CAUTIONS } else { &CAUTIONS[..1] },
    })
}

/// The words of the size, and the word of the zones where there is one: a letter first and a digit somewhere.
fn parted(words: &[String]) -> (&[String], Option<&str>) {
    match words.split_last() {
        Some((last, size)) if last.starts_with(char::is_alphabetic) && last.contains(|c: char| c.is_ascii_digit()) => {
            (size, Some(last))
        }
        _ => (words, None),
    }
}

fn read_nominal(size: &[String], inputs: &mut Inputs, taken: &mut Vec<String>) -> Option<WrittenLength> {
    if size.is_empty() {
        inputs.miss("SIZE", "the nominal size is not given", "a size and zones, such as 40 H7/m6 or 1.5625 in H7/m6");
        return None;
    }
    let unit = inputs.unit().unwrap_or(LengthUnit::Millimetre);
    let nominal = inputs.length_or_in("SIZE", &Some(size.to_vec()), Some(unit))?;
    let bare = nominal.text().ends_with(|last: char| last.is_ascii_digit());
    if bare && inputs.unit().is_none() {
        taken.push("a nominal size in millimetres, as ISO 286 writes it".to_owned());
    }
    Some(nominal)
}

fn read_zones(text: Option<&str>, measured: bool, inputs: &mut Inputs) -> Option<Zones> {
    const ACCEPTED: &str = "the zones of hole and shaft, such as H7/m6, or one zone, such as m6";
    let Some(text) = text else {
        if !measured {
            inputs.miss("ZONES", "neither zones nor a measured interference are given", ACCEPTED);
        }
        return None;
    };
    if measured {
        inputs.refuse("ZONES", text, "zones and a measured interference exclude each other", "one of the two");
        return None;
    }
    let zones = if text.contains('/') { Fit::parse(text).map(Zones::Fit) } else { Zone::parse(text).map(Zones::One) };
    match zones {
        Ok(zones) => Some(zones),
        Err(error) => {
            inputs.refuse("ZONES", text, error.to_string(), ACCEPTED);
            None
        }
    }
}

fn refuse_without_hub(arguments: &FitArguments, inputs: &mut Inputs) {
    const ACCEPTED: &str = "--hub-outside beside it";
    for (argument, text) in [
        ("--interference", joined(&arguments.interference)),
        ("--length", joined(&arguments.length)),
        ("--bore", joined(&arguments.bore)),
        ("--friction", joined(&arguments.friction)),
        ("--modulus", joined(&arguments.modulus)),
        ("--hub-modulus", joined(&arguments.hub_modulus)),
        ("--poisson", arguments.poisson.clone().unwrap_or_default()),
        ("--hub-poisson", arguments.hub_poisson.clone().unwrap_or_default()),
        ("--finish", arguments.finish.clone().unwrap_or_default()),
        ("--assembly-clearance", joined(&arguments.assembly_clearance)),
    ] {
        if !text.is_empty() {
            inputs.refuse(argument, &text, "without the outside of the hub this has no use", ACCEPTED);
        }
    }
}

pub(super) fn joined(words: &Option<Vec<String>>) -> String {
    words.as_ref().map(|words| words.join(" ")).unwrap_or_default()
}

fn limits(zone: Zone, nominal_mm: f64, words: &[String], inputs: &mut Inputs) -> Result<SizeLimits, Refusals> {
    zone.limits(nominal_mm).map_err(|error| {
        let (size, zones) = parted(words);
        match error {
            FitError::Size { .. } => inputs.refuse("SIZE", &size.join(" "), error.to_string(), ""),
            _ => {
                let accepted = "a zone that the standard defines at this size";
                inputs.refuse("ZONES", zones.unwrap_or_default(), error.to_string(), accepted);
            }
        }
        inputs.take_refusals()
    })
}

fn zone_block(zone: Zone, limits: &SizeLimits) -> Block {
    let key = match zone.feature {
        Feature::Hole => "hole",
        Feature::Shaft => "shaft",
    };
    let mut block = Block::new(key, "ISO 286-1:2010, standard tolerances and fundamental deviations");
    block.words("zone", zone.to_string(), "");
    let deviation = |um: f64| Quantity::Deviation(millimetres(um / 1000.0));
    block.one("upper_deviation", deviation(limits.upper_um), "");
    block.one("lower_deviation", deviation(limits.lower_um), "");
    block.size("largest", millimetres(limits.largest_mm()), "");
    block.size("smallest", millimetres(limits.smallest_mm()), "");
    block
}

fn fit_block(hole: &SizeLimits, shaft: &SizeLimits) -> Block {
    let clearance = FitClearance::of(hole, shaft);
    let probable = FitClearance::probable(hole, shaft);
    let mut block = Block::new("fit", "ISO 286-1:2010, definitions; probable by the root of the sum of squares");
    let kind = match clearance.kind() {
        FitKind::Clearance => "clearance",
        FitKind::Transition => "transition",
        FitKind::Interference => "interference",
    };
    block.words("kind", kind, "");
    let deviation = |um: f64| Quantity::Deviation(millimetres(um / 1000.0));
    let (least, most) = (clearance.smallest_um, clearance.largest_um);
    block.range("clearance", deviation(least), deviation(most), "negative is interference");
    let (least, most) = (probable.smallest_um, probable.largest_um);
    block.range("probable_clearance", deviation(least), deviation(most), "of nearly all pairs");
    block
}

/// Puts an error of the press fit on the argument that it speaks of.
pub(super) fn refuse_press(inputs: &mut Inputs, press: &PressInputs, nominal_mm: f64, error: &InterferenceError) {
    let text = |written: &Option<WrittenLength>| written.as_ref().map_or_else(String::new, |one| one.text().to_owned());
    match error {
        InterferenceError::OutsideTooSmall { .. } => {
            let accepted = format!("an outside diameter above the seat, {nominal_mm} mm");
            inputs.refuse("--hub-outside", &text(&press.hub_outside), "the hub has no wall on this seat", accepted);
        }
        InterferenceError::BoreTooLarge { .. } => {
            let accepted = format!("a bore below the seat, {nominal_mm} mm");
            inputs.refuse("--bore", &text(&press.bore), "the bore leaves nothing of the shaft", accepted);
        }
        InterferenceError::Friction { .. } => {
            inputs.refuse("--friction", &joined(&press.friction), error.to_string(), "such as 0.10 0.20");
        }
        InterferenceError::Poisson { .. } => {
            inputs.miss(
                "--poisson or --hub-poisson",
                error.to_string(),
                "a ratio without unit from 0 to below 0.5, such as 0.29",
            );
        }
        _ => inputs.miss("--modulus or --hub-modulus", error.to_string(), "such as 207 GPa"),
    }
}
