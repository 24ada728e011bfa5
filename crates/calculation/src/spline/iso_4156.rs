//! Metric splines to ISO 4156.

use axle::CAUTIONS;
use elements::involute_spline::{Iso4156Spline, PinContact, RootForm, SplineClass, SplineError, ToothDeviation};
use quantity::{Leading, Length, LengthExt, LengthUnit, WrittenLength, millimetres};

use super::measured::{MeasuredWidth, Member, measured_block};
use super::pins::{PinSeat, pin_block};
use super::reading::{miss_teeth, read_angle, refuse_foreign, settled};
use super::{Asked, take, width_block};
use crate::{Block, Calculation, Inputs, Refusals};

const SOURCE: &str = "ISO 4156-1:2005";

const PINS: &str = "pins from R 40 of ISO 3 (ISO 4156-3, from memory, check)";

const WITHOUT_LIMITS: &str = "give --length, which the tolerances go by, to have it judged";

/// Computes the spline.
///
/// # Errors
///
/// Every argument that cannot be used.
pub fn compute(asked: &Asked<'_>, mut inputs: Inputs) -> Result<Calculation, Refusals> {
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
        standard_pin: spline.external_pin_mm(effective_mm).ok().map(millimetres),
        pin_remark: "the usual one",
        ideal_pin: flanks.external_pin_touching(effective_mm, spline.pitch_diameter_mm()).ok().map(millimetres),
        limits: thickness.map(|limits| (limits.actual_min, limits.actual_max)),
        basic: effective_mm,
        length: millimetres,
        source: format!("{SOURCE}; geometry of the involute; {PINS}"),
    };
    let between = PinSeat {
        key: "between_pins",
        argument: "--hub-pin",
        pin: asked.hub_pin.as_ref(),
        standard_pin: spline.internal_pin_mm(basic_mm).ok().map(millimetres),
        pin_remark: "the usual one",
        ideal_pin: flanks.internal_pin_touching(basic_mm, spline.pitch_diameter_mm()).ok().map(millimetres),
        limits: width.map(|limits| (limits.actual_min, limits.actual_max)),
        basic: basic_mm,
        length: millimetres,
        source: format!("{SOURCE}; geometry of the involute; {PINS}"),
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
    let class = asked.class.unwrap_or(SplineClass::Five);
    let own_pin = |pin: &Option<WrittenLength>, standard: Result<f64, SplineError>| {
        pin.as_ref().map(WrittenLength::value).or(standard.ok().map(millimetres))
    };
    let measured_tooth = asked.over_pins.as_ref().and_then(|written| {
        let pin = own_pin(&asked.pin, spline.external_pin_mm(effective_mm));
        let tooth = MeasuredWidth {
            member: Member::Shaft,
            written,
            pin,
            class,
            basic: effective_mm,
            length: millimetres,
            without_limits: WITHOUT_LIMITS,
        };
        measured_block(&tooth, flanks, &mut inputs, |class| {
            spline.tooth_thickness_limits(class, deviation, length?).ok()
        })
    });
    let measured_space = asked.between_pins.as_ref().and_then(|written| {
        let pin = own_pin(&asked.hub_pin, spline.internal_pin_mm(basic_mm));
        let space = MeasuredWidth {
            member: Member::Hub,
            written,
            pin,
            class,
            basic: basic_mm,
            length: millimetres,
            without_limits: WITHOUT_LIMITS,
        };
        measured_block(&space, flanks, &mut inputs, |class| spline.space_width_limits(class, length?).ok())
    });
    inputs.settle()?;
    let mut blocks = vec![shaft, hub, thickness_block, width_block, over, between];
    blocks.extend(measured_tooth.into_iter().chain(measured_space));
    Ok(Calculation {
        command: "spline",
        subject: format!("{teeth} teeth module {module_mm} {angle}, {root}, side fit{class_words}, {SOURCE}"),
        leading: Leading::Millimetres,
        taken,
        blocks,
        cautions: &CAUTIONS[..1],
    })
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
