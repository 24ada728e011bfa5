//! Metric splines to DIN 5480.

use axle::CAUTIONS;
use elements::involute_spline::{Din5480Spline, PressureAngle, RootCut, SplineClass, SplineError};
use quantity::{Leading, Length, LengthExt, LengthUnit, WrittenLength, millimetres};

use super::measured::{MeasuredWidth, Member, measured_block};
use super::pins::{PinSeat, pin_block};
use super::reading::{joined, read_angle, refuse_foreign, settled};
use super::{Asked, take};
use crate::{Block, Calculation, Inputs, Quantity, Refusals};

const SOURCE: &str = "DIN 5480-1:2006";

const WITHOUT_LIMITS: &str =
    "the tolerances of DIN 5480 are not held: how far it is from the nominal width is all that is said";

/// Computes the spline.
///
/// # Errors
///
/// Every argument that cannot be used.
pub fn compute(asked: &Asked<'_>, mut inputs: Inputs) -> Result<Calculation, Refusals> {
    let arguments = asked.arguments;
    for (argument, text) in [
        ("--fit", arguments.fit.clone()),
        ("--root", arguments.root.clone()),
        ("--class", arguments.class.clone()),
        ("--deviation", arguments.deviation.clone()),
        ("--length", joined(&arguments.length)),
    ] {
        refuse_foreign(&mut inputs, argument, text.as_deref(), "DIN 5480 as it is held here (no tolerances)");
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
    let root = |cut| Quantity::Size(millimetres(spline.root_external_mm(cut)));
    both.range(
        "shaft_root_diameter",
        root(RootCut::Shaped),
        root(RootCut::Hobbed),
        "shaped to hobbed; the deeper for strength (from memory, check)",
    );
    both.size("hub_root_diameter", millimetres(spline.root_internal_mm(RootCut::Broached)), "broached");
    both.note("tolerances of DIN 5480 are not held: no public text gives the formulas behind its tables");

    let nominal_mm = spline.tooth_thickness_mm();
    let flanks = spline.flanks();
    let seat = |key, argument, pin, standard: Option<f64>, ideal_pin: Result<f64, SplineError>| PinSeat {
        key,
        argument,
        pin,
        standard_pin: standard.map(millimetres),
        pin_remark: "the usual one",
        ideal_pin: ideal_pin.ok().map(millimetres),
        limits: None,
        basic: nominal_mm,
        length: millimetres,
        source: format!("{SOURCE}, measurement with pins; usual pins of 2 m and 1.75 m from memory, check"),
    };
    let pitch_mm = spline.pitch_diameter_mm();
    let (shaft_pin, hub_pin) = (spline.external_pin_mm(), spline.internal_pin_mm());
    let ideal = flanks.external_pin_touching(nominal_mm, pitch_mm);
    let over = seat("over_pins", "--pin", asked.pin.as_ref(), shaft_pin, ideal);
    let ideal = flanks.internal_pin_touching(nominal_mm, pitch_mm);
    let between = seat("between_pins", "--hub-pin", asked.hub_pin.as_ref(), hub_pin, ideal);
    let over = pin_block(&over, &mut inputs, |width, pin: Length| spline.over_pins(width, pin.millimetres()));
    let between = pin_block(&between, &mut inputs, |width, pin: Length| spline.between_pins(width, pin.millimetres()));
    let own_pin = |pin: &Option<WrittenLength>, usual: Option<f64>| {
        pin.as_ref().map(WrittenLength::value).or(usual.map(millimetres))
    };
    let mut measured = |member, written: &Option<WrittenLength>, pin| {
        let written = written.as_ref()?;
        let class = SplineClass::Five;
        let width = MeasuredWidth {
            member,
            written,
            pin,
            class,
            basic: nominal_mm,
            length: millimetres,
            without_limits: WITHOUT_LIMITS,
        };
        measured_block(&width, flanks, &mut inputs, |_| None)
    };
    let measured_tooth = measured(Member::Shaft, &asked.over_pins, own_pin(&asked.pin, shaft_pin));
    let measured_space = measured(Member::Hub, &asked.between_pins, own_pin(&asked.hub_pin, hub_pin));
    inputs.settle()?;
    let mut blocks = vec![both, over, between];
    blocks.extend(measured_tooth.into_iter().chain(measured_space));
    Ok(Calculation {
        command: "spline",
        subject: format!("{reference_mm} × {module_mm} × {teeth}, 30°, {SOURCE}"),
        leading: Leading::Millimetres,
        taken,
        blocks,
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
