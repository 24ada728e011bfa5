//! `axlewright spline`: every diameter, width and size over pins of an involute spline.

use axle::CAUTIONS;
use clap::Args;
use elements::involute_spline::{
    Din5480Spline, InchSpline, Iso4156Spline, PinContact, Pitch, PressureAngle, RootForm, SplineClass, SplineError,
    SplineFit, ToothDeviation, WidthLimits,
};
use quantity::{Leading, Length, LengthExt, LengthUnit, WrittenLength, inches, millimetres};

use super::spline_pins::{PinSeat, pin_block};
use super::{Block, Calculation, CalculationArguments, Inputs, Quantity, Refusals, Words};

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

    /// Unit and format.
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
    };
    if arguments.reference_diameter.is_some() {
        din_5480(&asked, inputs)
    } else if arguments.module.is_some() {
        iso_4156(&asked, inputs)
    } else {
        ansi_b92_1(&asked, inputs)
    }
}

fn ansi_b92_1(asked: &Asked<'_>, mut inputs: Inputs) -> Result<Calculation, Refusals> {
    const SOURCE: &str = "ANSI B92.1-1970 (R1993)";
    let arguments = asked.arguments;
    refuse_foreign(&mut inputs, "--deviation", arguments.deviation.as_deref(), "ANSI B92.1");
    refuse_foreign(&mut inputs, "--length", joined(&arguments.length).as_deref(), "ANSI B92.1");
    let pitch = read_pitch(arguments, &mut inputs);
    let angle = read_angle(arguments, &mut inputs, true);
    let fits = [("side", SplineFit::Side), ("major-diameter", SplineFit::MajorDiameter)];
    let fit = arguments.fit.as_deref().and_then(|text| inputs.one_of("--fit", text, &fits));
    miss_teeth(asked, &mut inputs);
    inputs.settle()?;
    let (Some(teeth), Some(pitch), Some(angle)) = (asked.teeth, pitch, angle) else {
        return Err(inputs.take_refusals());
    };

    let mut taken = Vec::new();
    let root = asked.root.unwrap_or_else(|| take(&mut taken, RootForm::Fillet, "fillet root"));
    let fit = fit.unwrap_or_else(|| take(&mut taken, SplineFit::Side, "side fit"));
    let class = asked.class.unwrap_or_else(|| take(&mut taken, SplineClass::Five, "class 5"));
    let spline = settled(InchSpline::new(teeth, pitch, angle, root, fit), arguments, &mut inputs)?;

    let (external, internal) = (spline.external(), spline.internal());
    let mut shaft = Block::new("shaft_diameters", format!("{SOURCE}, table of symbols and relations"));
    shaft.size("pitch_diameter", inches(spline.pitch_diameter_in()), "");
    shaft.size("base_diameter", inches(spline.base_diameter_in()), "");
    shaft.size("major_diameter", inches(external.major_in), "over the tips, the largest allowed");
    shaft.size("form_diameter", inches(external.form_in), "true flanks down to here");
    shaft.size("minor_diameter", inches(external.minor_in), "at the root, the largest allowed");
    let mut hub = Block::new("hub_diameters", format!("{SOURCE}, table of symbols and relations"));
    hub.size("major_diameter", inches(internal.major_in), "at the root, the smallest allowed");
    hub.size("form_diameter", inches(internal.form_in), "true flanks out to here");
    hub.size("minor_diameter", inches(internal.minor_in), "over the tips, the smallest allowed");

    // What the copies of the standard leave open is said where the class was only taken, and refused where it was asked for.
    let mut unheld = |limits: Result<WidthLimits, SplineError>| match limits {
        Ok(limits) => Ok((Some(limits), None)),
        Err(error) if asked.class.is_none() => Ok((None, Some(error.to_string()))),
        Err(error) => {
            refuse_spline(&mut inputs, arguments, &error);
            inputs.settle().map(|()| (None, None))
        }
    };
    let (thickness, no_thickness) = unheld(spline.tooth_thickness_limits(class))?;
    let (width, no_width) = unheld(spline.space_width_limits(class))?;
    let source = format!("{SOURCE} and -1996, class tolerances, {class}");
    let basic = inches(spline.basic_width_in());
    let mut thickness_block = width_block("tooth_thickness", thickness.as_ref(), inches, basic, source.clone());
    thickness_block.notes.extend(no_thickness);
    let mut width_block = width_block("space_width", width.as_ref(), inches, basic, source);
    if let Ok(tolerance) = spline.tolerance(class) {
        let deviation = |width_in: f64| Quantity::Deviation(inches(width_in));
        width_block.one("machining_tolerance", deviation(tolerance.machining_in), "of tooth and space alike");
        width_block.one("effective_variation", deviation(tolerance.variation_in), "form, spacing and lead together");
    }
    width_block.notes.extend(no_width);

    let basic_in = spline.basic_width_in();
    let over = PinSeat {
        key: "over_pins",
        argument: "--pin",
        pin: asked.pin.as_ref(),
        standard_pin: Some(inches(spline.external_pin_in())),
        ideal_pin: spline.flanks().external_pin_touching(basic_in, spline.pitch_diameter_in()).ok().map(inches),
        limits: thickness.map(|limits| (limits.actual_min, limits.actual_max)),
        basic: basic_in,
        length: inches,
        source: format!("{SOURCE}, measurement over pins, pin 1.92/P"),
    };
    let between = PinSeat {
        key: "between_pins",
        argument: "--hub-pin",
        pin: asked.hub_pin.as_ref(),
        standard_pin: Some(inches(spline.internal_pin_in())),
        ideal_pin: spline.flanks().internal_pin_touching(basic_in, spline.pitch_diameter_in()).ok().map(inches),
        limits: width.map(|limits| (limits.actual_min, limits.actual_max)),
        basic: basic_in,
        length: inches,
        source: format!("{SOURCE}, measurement between pins, pin 1.728/P or at 45° 1.92/P (one transcription)"),
    };
    let over = pin_block(&over, &mut inputs, |width, pin: Length| spline.over_pins(width, pin.inches()));
    let between = pin_block(&between, &mut inputs, |width, pin: Length| spline.between_pins(width, pin.inches()));
    inputs.settle()?;
    Ok(Calculation {
        command: "spline",
        subject: format!("{teeth} teeth {pitch} {angle}, {root}, {fit}, {class}, {SOURCE}"),
        leading: Leading::Inches,
        taken,
        blocks: vec![shaft, hub, thickness_block, width_block, over, between],
        cautions: &CAUTIONS[..1],
    })
}

fn iso_4156(asked: &Asked<'_>, mut inputs: Inputs) -> Result<Calculation, Refusals> {
    const SOURCE: &str = "ISO 4156-1:2005";
    let arguments = asked.arguments;
    refuse_foreign(&mut inputs, "--fit", arguments.fit.as_deref(), "ISO 4156");
    let module = inputs.length_or_in("--module", &arguments.module, Some(LengthUnit::Millimetre));
    let angle = read_angle(arguments, &mut inputs, true);
    let letters =
        [("d", ToothDeviation::D), ("e", ToothDeviation::E), ("f", ToothDeviation::F), ("h", ToothDeviation::H)];
    let deviation = arguments.deviation.as_deref().and_then(|text| inputs.one_of("--deviation", text, &letters));
    let length = inputs.length("--length", &arguments.length).map(|length| length.value().millimetres());
    miss_teeth(asked, &mut inputs);
    if asked.class.is_some() && arguments.length.is_none() {
        let problem = "the tolerances of ISO 4156 go by the length of the spline";
        inputs.miss("--length", problem, "the length of the spline, such as --length 30 mm");
    }
    inputs.settle()?;
    let (Some(teeth), Some(module), Some(angle)) = (asked.teeth, module, angle) else {
        return Err(inputs.take_refusals());
    };

    let mut taken = Vec::new();
    let root = asked.root.unwrap_or_else(|| take(&mut taken, RootForm::Fillet, "fillet root"));
    let deviation = deviation.unwrap_or_else(|| take(&mut taken, ToothDeviation::H, "deviation h, no clearance"));
    let module_mm = module.value().millimetres();
    let spline = settled(Iso4156Spline::new(teeth, module_mm, angle, root), arguments, &mut inputs)?;
    let mut class_words = String::new();
    let limits = match length {
        None => None,
        Some(length_mm) => {
            let class = asked.class.unwrap_or_else(|| take(&mut taken, SplineClass::Five, "class 5"));
            class_words = format!(", {class}");
            let thickness = spline.tooth_thickness_limits(class, deviation, length_mm);
            let thickness = settled(thickness, arguments, &mut inputs)?;
            let width = settled(spline.space_width_limits(class, length_mm), arguments, &mut inputs)?;
            Some((thickness, width))
        }
    };

    let mut shaft = Block::new("shaft_diameters", format!("{SOURCE}, formulae for dimensions"));
    shaft.size("pitch_diameter", millimetres(spline.pitch_diameter_mm()), "");
    shaft.size("base_diameter", millimetres(spline.base_diameter_mm()), "");
    shaft.size(
        "major_diameter",
        millimetres(spline.major_external_mm(deviation)),
        "over the tips, the largest allowed",
    );
    shaft.size("form_diameter", millimetres(spline.form_external_mm(deviation)), "true flanks down to here");
    shaft.size("minor_diameter", millimetres(spline.minor_external_mm(deviation)), "at the root, the largest allowed");
    let mut hub = Block::new("hub_diameters", format!("{SOURCE}, formulae for dimensions"));
    hub.size("major_diameter", millimetres(spline.major_internal_mm()), "at the root, the smallest allowed");
    hub.size("form_diameter", millimetres(spline.form_internal_mm()), "true flanks out to here");
    hub.size("minor_diameter", millimetres(spline.minor_internal_mm()), "over the tips, the smallest allowed");

    let (thickness, width) = limits.unzip();
    let source = format!("{SOURCE}, total tolerance and deviation allowance{class_words}");
    let basic = millimetres(spline.basic_width_mm());
    let mut thickness_block = width_block("tooth_thickness", thickness.as_ref(), millimetres, basic, source.clone());
    let width_block = width_block("space_width", width.as_ref(), millimetres, basic, source);
    if limits.is_none() {
        thickness_block.note("the limits need the length of the spline: give --length");
    }

    let effective_mm = spline.basic_width_mm() + spline.deviation_um(deviation) / 1000.0;
    let basic_mm = spline.basic_width_mm();
    let flanks = spline.flanks();
    let over = PinSeat {
        key: "over_pins",
        argument: "--pin",
        pin: asked.pin.as_ref(),
        standard_pin: None,
        ideal_pin: flanks.external_pin_touching(effective_mm, spline.pitch_diameter_mm()).ok().map(millimetres),
        limits: thickness.map(|limits| (limits.actual_min, limits.actual_max)),
        basic: effective_mm,
        length: millimetres,
        source: format!("{SOURCE}; geometry of the involute"),
    };
    let between = PinSeat {
        key: "between_pins",
        argument: "--hub-pin",
        pin: asked.hub_pin.as_ref(),
        standard_pin: None,
        ideal_pin: flanks.internal_pin_touching(basic_mm, spline.pitch_diameter_mm()).ok().map(millimetres),
        limits: width.map(|limits| (limits.actual_min, limits.actual_max)),
        basic: basic_mm,
        length: millimetres,
        source: format!("{SOURCE}; geometry of the involute"),
    };
    let shaft_flank = (spline.form_external_mm(deviation), spline.major_external_mm(deviation));
    let hub_flank = (spline.minor_internal_mm(), spline.form_internal_mm());
    let over = pin_block(&over, &mut inputs, |width, pin: Length| {
        let contact = flanks.over_pins(width, pin.millimetres())?;
        on_flank(contact, shaft_flank, |end| flanks.external_pin_touching(width, end))
    });
    let between = pin_block(&between, &mut inputs, |width, pin: Length| {
        let contact = flanks.between_pins(width, pin.millimetres())?;
        on_flank(contact, hub_flank, |end| flanks.internal_pin_touching(width, end))
    });
    inputs.settle()?;
    Ok(Calculation {
        command: "spline",
        subject: format!("{teeth} teeth module {module_mm} {angle}, {root}, side fit{class_words}, {SOURCE}"),
        leading: Leading::Millimetres,
        taken,
        blocks: vec![shaft, hub, thickness_block, width_block, over, between],
        cautions: &CAUTIONS[..1],
    })
}

fn din_5480(asked: &Asked<'_>, mut inputs: Inputs) -> Result<Calculation, Refusals> {
    const SOURCE: &str = "DIN 5480-1:2006";
    let arguments = asked.arguments;
    for (argument, text) in [
        ("--fit", arguments.fit.clone()),
        ("--root", arguments.root.clone()),
        ("--class", arguments.class.clone()),
        ("--deviation", arguments.deviation.clone()),
        ("--length", joined(&arguments.length)),
    ] {
        refuse_foreign(&mut inputs, argument, text.as_deref(), "DIN 5480 as it is held here (no roots, no tolerances)");
    }
    let millimetre = Some(LengthUnit::Millimetre);
    let reference = inputs.length_or_in("--reference-diameter", &arguments.reference_diameter, millimetre);
    let module = inputs.length_or_in("--module", &arguments.module, millimetre);
    if read_angle(arguments, &mut inputs, false).is_some_and(|angle| angle != PressureAngle::Thirty) {
        let text = arguments.angle.as_deref().unwrap_or_default();
        inputs.refuse("--angle", text, "a spline to DIN 5480 has a pressure angle of 30°", "30, or no --angle");
    }
    inputs.settle()?;
    let (Some(reference), Some(module)) = (reference, module) else { return Err(inputs.take_refusals()) };
    let (reference_mm, module_mm) = (reference.value().millimetres(), module.value().millimetres());
    let mut taken = Vec::new();
    let teeth = match asked.teeth {
        Some(teeth) => teeth,
        None => only_count(reference_mm, module_mm, &mut taken, &mut inputs)?,
    };
    let spline = settled(Din5480Spline::new(reference_mm, module_mm, teeth), arguments, &mut inputs)?;

    let mut both = Block::new("diameters", format!("{SOURCE}, dimensions"));
    both.size("reference_diameter", millimetres(reference_mm), "");
    both.size("pitch_diameter", millimetres(spline.pitch_diameter_mm()), "");
    both.size("base_diameter", millimetres(spline.base_diameter_mm()), "");
    both.size("profile_shift", millimetres(spline.profile_shift_mm()), "");
    both.size("shaft_tip_diameter", millimetres(spline.tip_external_mm()), "");
    both.size("hub_tip_diameter", millimetres(spline.tip_internal_mm()), "");
    both.size("tooth_thickness", millimetres(spline.tooth_thickness_mm()), "and space width of the hub, nominal");
    both.note("roots and tolerances of DIN 5480 are not held");

    let nominal_mm = spline.tooth_thickness_mm();
    let flanks = spline.flanks();
    let seat = |key, argument, pin, ideal_pin: Result<f64, SplineError>| PinSeat {
        key,
        argument,
        pin,
        standard_pin: None,
        ideal_pin: ideal_pin.ok().map(millimetres),
        limits: None,
        basic: nominal_mm,
        length: millimetres,
        source: format!("{SOURCE}, measurement with pins"),
    };
    let pitch_mm = spline.pitch_diameter_mm();
    let over = seat("over_pins", "--pin", asked.pin.as_ref(), flanks.external_pin_touching(nominal_mm, pitch_mm));
    let between =
        seat("between_pins", "--hub-pin", asked.hub_pin.as_ref(), flanks.internal_pin_touching(nominal_mm, pitch_mm));
    let over = pin_block(&over, &mut inputs, |width, pin: Length| spline.over_pins(width, pin.millimetres()));
    let between = pin_block(&between, &mut inputs, |width, pin: Length| spline.between_pins(width, pin.millimetres()));
    inputs.settle()?;
    Ok(Calculation {
        command: "spline",
        subject: format!("{reference_mm} × {module_mm} × {teeth}, 30°, {SOURCE}"),
        leading: Leading::Millimetres,
        taken,
        blocks: vec![both, over, between],
        cautions: &CAUTIONS[..1],
    })
}

/// The number of teeth that belongs to a diameter and module of DIN 5480, where only one does.
fn only_count(
    reference_mm: f64,
    module_mm: f64,
    taken: &mut Vec<String>,
    inputs: &mut Inputs,
) -> Result<u32, Refusals> {
    let fitting: Vec<u32> =
        (6..=82).filter(|&teeth| Din5480Spline::new(reference_mm, module_mm, teeth).is_ok()).collect();
    if let [only] = fitting[..] {
        return Ok(take(taken, only, format!("{only} teeth, the only count that belongs to this diameter and module")));
    }
    let counts: Vec<String> = fitting.iter().map(u32::to_string).collect();
    let (problem, accepted) = if fitting.is_empty() {
        ("no number of teeth belongs to this diameter and module".to_owned(), "another diameter or module".to_owned())
    } else {
        ("more than one number of teeth belongs to this diameter and module".to_owned(), counts.join(" or "))
    };
    inputs.miss("--teeth", problem, accepted);
    inputs.settle().map(|()| 0)
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

/// The contact, once it is sure that it lies on the flank.
fn on_flank(
    contact: PinContact,
    (lowest, highest): (f64, f64),
    pin_touching: impl Fn(f64) -> Result<f64, SplineError>,
) -> Result<PinContact, SplineError> {
    if (lowest..=highest).contains(&contact.contact_diameter) {
        return Ok(contact);
    }
    let (one, other) = (pin_touching(lowest)?, pin_touching(highest)?);
    Err(SplineError::PinOffFlank {
        pin: contact.pin,
        contact: contact.contact_diameter,
        lowest,
        highest,
        smallest_pin: one.min(other),
        largest_pin: one.max(other),
    })
}

fn read_pitch(arguments: &SplineArguments, inputs: &mut Inputs) -> Option<Pitch> {
    const ACCEPTED: &str = "a pair such as 24/48, or --module for a metric spline";
    let Some(text) = &arguments.pitch else {
        inputs.miss("--pitch", "neither the pitch nor the module is given", ACCEPTED);
        return None;
    };
    let numbers = text
        .split_once('/')
        .and_then(|(diametral, stub)| Some((diametral.trim().parse::<f64>().ok()?, stub.trim().parse::<f64>().ok()?)));
    let Some((diametral, stub)) = numbers else {
        inputs.refuse("--pitch", text, "this is no pair of pitches", ACCEPTED);
        return None;
    };
    match Pitch::new(diametral, stub) {
        Ok(pitch) => Some(pitch),
        Err(error) => {
            refuse_spline(inputs, arguments, &error);
            None
        }
    }
}

fn read_angle(arguments: &SplineArguments, inputs: &mut Inputs, required: bool) -> Option<PressureAngle> {
    const ACCEPTED: &str = "30, 37.5 or 45";
    if arguments.angle.is_none() && required {
        inputs.miss("--angle", "the pressure angle is not given", ACCEPTED);
    }
    let text = arguments.angle.as_deref().map(|text| text.trim_end_matches('°'));
    let degrees = inputs.number("--angle", text, ACCEPTED)?;
    match PressureAngle::from_degrees(degrees) {
        Ok(angle) => Some(angle),
        Err(error) => {
            refuse_spline(inputs, arguments, &error);
            None
        }
    }
}

fn miss_teeth(asked: &Asked<'_>, inputs: &mut Inputs) {
    if asked.arguments.teeth.is_none() {
        inputs.miss("--teeth", "the number of teeth is not given", "a whole number from 6 to 100");
    }
}

fn refuse_foreign(inputs: &mut Inputs, argument: &'static str, text: Option<&str>, standard: &str) {
    if let Some(text) = text {
        inputs.refuse(argument, text, format!("this has no meaning for a spline to {standard}"), "no such argument");
    }
}

fn joined(words: &Words) -> Option<String> {
    words.as_ref().map(|words| words.join(" "))
}

/// Takes a value for what was not said, and says so.
fn take<T>(taken: &mut Vec<String>, value: T, words: impl Into<String>) -> T {
    taken.push(words.into());
    value
}

fn settled<T>(
    outcome: Result<T, SplineError>,
    arguments: &SplineArguments,
    inputs: &mut Inputs,
) -> Result<T, Refusals> {
    outcome.map_err(|error| {
        refuse_spline(inputs, arguments, &error);
        inputs.take_refusals()
    })
}

/// Puts an error of the spline on the argument that it speaks of.
fn refuse_spline(inputs: &mut Inputs, arguments: &SplineArguments, error: &SplineError) {
    let (argument, text) = match error {
        SplineError::NoSuchPitch { .. } | SplineError::PitchNotInForm { .. } | SplineError::ToleranceNotHeld { .. } => {
            ("--pitch", arguments.pitch.clone())
        }
        SplineError::NoSuchAngle { .. } => ("--angle", arguments.angle.clone()),
        SplineError::NoSuchForm { .. } if arguments.root.is_some() => ("--root", arguments.root.clone()),
        SplineError::NoSuchForm { .. } => ("--fit", arguments.fit.clone()),
        SplineError::MajorDiameterLimits => ("--fit", arguments.fit.clone()),
        SplineError::NoSuchClass { .. } => ("--class", arguments.class.clone()),
        SplineError::Range { what, .. } if what.contains("profile shift") => {
            ("--reference-diameter", joined(&arguments.reference_diameter))
        }
        SplineError::Range { what, .. } | SplineError::NotPositive { what, .. } if what.contains("module") => {
            ("--module", joined(&arguments.module))
        }
        SplineError::Range { what, .. } | SplineError::NotPositive { what, .. } if what.contains("spline length") => {
            ("--length", joined(&arguments.length))
        }
        _ => ("--teeth", arguments.teeth.clone()),
    };
    // The words of the error say what would be accepted.
    inputs.refuse(argument, text.as_deref().unwrap_or_default(), error.to_string(), "");
}
