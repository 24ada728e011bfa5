//! Inch splines to ANSI B92.1.

use axle::CAUTIONS;
use elements::involute_spline::{InchSpline, RootForm, SplineClass, SplineError, SplineFit, WidthLimits};
use quantity::{Leading, Length, LengthExt, WrittenLength, inches};

use super::measured::{MeasuredWidth, Member, measured_block};
use super::pins::{PinSeat, pin_block};
use super::reading::{joined, miss_teeth, read_angle, read_pitch, refuse_foreign, refuse_spline, settled};
use super::{Asked, take, width_block};
use crate::{Block, Calculation, Inputs, Quantity, Refusals};

const SOURCE: &str = "ANSI B92.1-1970 (R1993)";

const WITHOUT_LIMITS: &str =
    "the class tolerances of this spline are not held: how far it is from the basic width is all that is said";

/// Computes the spline.
///
/// # Errors
///
/// Every argument that cannot be used.
pub fn compute(asked: &Asked<'_>, mut inputs: Inputs) -> Result<Calculation, Refusals> {
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
        pin_remark: "the standard's",
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
        pin_remark: "the standard's",
        ideal_pin: spline.flanks().internal_pin_touching(basic_in, spline.pitch_diameter_in()).ok().map(inches),
        limits: width.map(|limits| (limits.actual_min, limits.actual_max)),
        basic: basic_in,
        length: inches,
        source: format!("{SOURCE}, measurement between pins, pin 1.728/P or at 45° 1.92/P (one transcription)"),
    };
    let over = pin_block(&over, &mut inputs, |width, pin: Length| spline.over_pins(width, pin.inches()));
    let between = pin_block(&between, &mut inputs, |width, pin: Length| spline.between_pins(width, pin.inches()));
    let classes = |class| spline.tooth_thickness_limits(class).ok();
    let shaft_pin = asked.pin.as_ref().map_or(inches(spline.external_pin_in()), WrittenLength::value);
    let measured_tooth = asked.over_pins.as_ref().and_then(|written| {
        let tooth = MeasuredWidth {
            member: Member::Shaft,
            written,
            pin: Some(shaft_pin),
            class,
            basic: basic_in,
            length: inches,
            without_limits: WITHOUT_LIMITS,
        };
        measured_block(&tooth, spline.flanks(), &mut inputs, classes)
    });
    let classes = |class| spline.space_width_limits(class).ok();
    let hub_pin = asked.hub_pin.as_ref().map_or(inches(spline.internal_pin_in()), WrittenLength::value);
    let measured_space = asked.between_pins.as_ref().and_then(|written| {
        let space = MeasuredWidth {
            member: Member::Hub,
            written,
            pin: Some(hub_pin),
            class,
            basic: basic_in,
            length: inches,
            without_limits: WITHOUT_LIMITS,
        };
        measured_block(&space, spline.flanks(), &mut inputs, classes)
    });
    inputs.settle()?;
    let mut blocks = vec![shaft, hub, thickness_block, width_block, over, between];
    blocks.extend(measured_tooth.into_iter().chain(measured_space));
    Ok(Calculation {
        command: "spline",
        subject: format!("{teeth} teeth {pitch} {angle}, {root}, {fit}, {class}, {SOURCE}"),
        leading: Leading::Inches,
        taken,
        blocks,
        cautions: &CAUTIONS[..1],
    })
}
