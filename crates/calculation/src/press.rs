//! What a press fit does: pressure, stress, forces and heating.

use elements::interference_fit::{
    Elastic, FrictionRange, InterferenceError, PressFit, SeatFinish, effective_interference_mm, heating_rise,
    holding_force, holding_torque,
};
use quantity::{Length, LengthExt, WrittenLength, millimetres};

use super::fit::refuse_press;
use super::{Block, Inputs, Quantity, Refusals};

/// The joint: its seat and its interference on the diameter, in millimetres.
pub struct Press {
    /// Diameter of the seat.
    pub nominal_mm: f64,
    /// Least interference.
    pub least_mm: f64,
    /// Most interference.
    pub most_mm: f64,
}

/// What was said about the press fit.
pub struct PressInputs {
    /// Outside diameter of the hub.
    pub hub_outside: Option<WrittenLength>,
    /// Length of contact.
    pub length: Option<WrittenLength>,
    /// Bore of the shaft.
    pub bore: Option<WrittenLength>,
    /// Friction, one number or two.
    pub friction: Option<Vec<String>>,
    /// Elastic modulus of the shaft, MPa.
    pub modulus: Option<f64>,
    /// Elastic modulus of the hub, MPa.
    pub hub_modulus: Option<f64>,
    /// Poisson's ratio of the shaft.
    pub poisson: Option<f64>,
    /// Poisson's ratio of the hub.
    pub hub_poisson: Option<f64>,
    /// Finish of the seat.
    pub finish: Option<String>,
    /// Clearance for assembly by heat.
    pub assembly_clearance: Option<WrittenLength>,
}

/// Carbon steel. Source: Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th edition, table A-5 (from memory,
/// check).
const STEEL_MPA: f64 = 207_000.0;
const STEEL_POISSON: f64 = 0.292;

/// Expansion of carbon steel per kelvin; bearing steel has about 12e-6 (from memory, check).
const STEEL_EXPANSION: f64 = 11.7e-6;

/// Clearance for assembly where none is asked for: common practice, no source.
const USUAL_CLEARANCE_MM: f64 = 0.020;

/// Friction where none is said: common practice, no source.
const USUAL_FRICTION: (f64, f64) = (0.10, 0.20);

/// Pressure and stress, then forces where the length is known, then heating.
///
/// # Errors
///
/// Everything that cannot be used.
pub fn press_blocks(
    joint: &Press,
    press: &PressInputs,
    inputs: &mut Inputs,
    taken: &mut Vec<String>,
) -> Result<Vec<Block>, Refusals> {
    let friction = read_friction(press, inputs, taken);
    let finish = match press.finish.as_deref() {
        None => None,
        Some(text) => {
            inputs.one_of("--finish", text, &[("ground", SeatFinish::Ground), ("turned", SeatFinish::Turned)])
        }
    };
    inputs.settle()?;
    computed(joint, press, friction, finish, taken).map_err(|error| {
        refuse_press(inputs, press, joint.nominal_mm, &error);
        inputs.take_refusals()
    })
}

fn read_friction(press: &PressInputs, inputs: &mut Inputs, taken: &mut Vec<String>) -> (f64, f64) {
    const ACCEPTED: &str = "one or two numbers above 0 and up to 1, such as 0.10 0.20";
    let Some(words) = &press.friction else {
        if press.length.is_some() {
            taken.push("friction from 0.10 to 0.20 (common practice, no source)".to_owned());
        }
        return USUAL_FRICTION;
    };
    let numbers: Vec<f64> = words
        .iter()
        .flat_map(|text| text.split_whitespace())
        .filter_map(|text| inputs.number("--friction", Some(text), ACCEPTED))
        .collect();
    match numbers[..] {
        [one] => (one, one),
        [least, most] => (least, most),
        [] => USUAL_FRICTION,
        [..] => {
            inputs.refuse("--friction", &words.join(" "), "these are more than two numbers", ACCEPTED);
            USUAL_FRICTION
        }
    }
}

fn computed(
    joint: &Press,
    press: &PressInputs,
    friction: (f64, f64),
    finish: Option<SeatFinish>,
    taken: &mut Vec<String>,
) -> Result<Vec<Block>, InterferenceError> {
    let mm = |written: &Option<WrittenLength>| written.as_ref().map_or(0.0, |one| one.value().millimetres());
    if press.modulus.is_none() || press.hub_modulus.is_none() {
        taken.push("steel, elastic modulus 207 GPa, where no modulus is given".to_owned());
    }
    if press.poisson.is_none() || press.hub_poisson.is_none() {
        taken.push("Poisson's ratio 0.292 where none is given".to_owned());
    }
    let steel = |modulus: Option<f64>, poisson: Option<f64>| {
        Elastic::new(modulus.unwrap_or(STEEL_MPA), poisson.unwrap_or(STEEL_POISSON))
    };
    let shaft = steel(press.modulus, press.poisson)?;
    let hub = steel(press.hub_modulus, press.hub_poisson)?;
    let fit = PressFit::new(mm(&press.bore), joint.nominal_mm, mm(&press.hub_outside), shaft, hub)?;
    let effective = |measured_mm: f64| match finish {
        Some(finish) => effective_interference_mm(measured_mm, joint.nominal_mm, finish),
        None => Ok(measured_mm),
    };
    let (least_mm, most_mm) = (effective(joint.least_mm)?, effective(joint.most_mm)?);
    let pressures = (fit.pressure(least_mm)?, fit.pressure(most_mm)?);

    let mut blocks = vec![pressure_block(joint, &fit, finish.is_some(), (least_mm, most_mm), pressures)];
    let length_mm = mm(&press.length);
    if press.length.is_some() {
        blocks.push(force_block(joint, length_mm, pressures, FrictionRange::new(friction.0, friction.1)?)?);
    } else {
        blocks[0].note("the forces need the length of contact: give --length");
    }
    let clearance_mm = press.assembly_clearance.as_ref().map_or(USUAL_CLEARANCE_MM, |one| one.value().millimetres());
    if press.assembly_clearance.is_none() {
        taken.push("an assembly clearance of 0.020 mm (common practice, no source)".to_owned());
    }
    blocks.push(heating_block(joint, clearance_mm)?);
    Ok(blocks)
}

fn pressure_block(
    joint: &Press,
    fit: &PressFit,
    smoothed: bool,
    (least_mm, most_mm): (f64, f64),
    (least, most): (f64, f64),
) -> Block {
    let source = "Lamé's thick cylinders; Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th edition, \
                  sections 3-14 and 3-16";
    let mut block = Block::new("press_fit", source);
    let deviation = |number_mm: f64| Quantity::Deviation(millimetres(number_mm));
    let size_of = |length: Length| Quantity::Deviation(length);
    block.range("interference", deviation(joint.least_mm), deviation(joint.most_mm), "on the diameter");
    if smoothed {
        let remark = "after the peaks are smoothed (from memory, check)";
        block.range("effective_interference", deviation(least_mm), deviation(most_mm), remark);
    }
    block.range("pressure", Quantity::Stress(least), Quantity::Stress(most), "");
    let mut stress = |key: &str, of: &dyn Fn(f64) -> f64, remark: &str| {
        let (one, other) = (of(least), of(most));
        block.range(key, Quantity::Stress(one.min(other)), Quantity::Stress(one.max(other)), remark);
    };
    stress("hub_hoop_stress_at_bore", &|pressure| fit.hub_bore_hoop(pressure), "tension");
    stress("hub_hoop_stress_at_outside", &|pressure| fit.hub_outside_hoop(pressure), "tension");
    stress("hub_equivalent_stress", &|pressure| fit.hub_equivalent(pressure), "von Mises, at the bore");
    stress("shaft_hoop_stress_at_seat", &|pressure| fit.shaft_surface_hoop(pressure), "negative is compression");
    stress("shaft_equivalent_stress", &|pressure| fit.shaft_equivalent(pressure), "von Mises, at the seat");
    let growth = |pressure: f64| size_of(millimetres(fit.outside_growth(pressure)));
    block.range("growth_of_outside", growth(least), growth(most), "what a raceway loses of its clearance");
    if joint.least_mm <= 0.0 {
        block.note("at the loose end of the tolerances nothing presses and nothing holds");
    }
    block.note("hold the equivalent stress of the hub against the yield strength of its steel: none is asked for here");
    block
}

fn force_block(
    joint: &Press,
    length_mm: f64,
    (least, most): (f64, f64),
    friction: FrictionRange,
) -> Result<Block, InterferenceError> {
    let source =
        "Coulomb friction; Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th edition, section 7-8";
    let mut block = Block::new("forces", source);
    let hold = holding_force(least, joint.nominal_mm, length_mm, friction)?;
    let press = holding_force(most, joint.nominal_mm, length_mm, friction)?;
    let torque = holding_torque(least, joint.nominal_mm, length_mm, friction)?;
    let force = Quantity::Force;
    block.range("force_that_holds", force(hold.lowest), force(hold.highest), "at the least interference");
    block.range("force_to_press", force(press.lowest), force(press.highest), "at the most interference");
    // Newton millimetres to newton metres.
    let newton_metres = |value: f64| Quantity::Torque(value / 1000.0);
    let remark = "at the least interference";
    block.range("torque_that_holds", newton_metres(torque.lowest), newton_metres(torque.highest), remark);
    block.note("count on the least force that holds, and have the press for the greatest force to press");
    Ok(block)
}

fn heating_block(joint: &Press, clearance_mm: f64) -> Result<Block, InterferenceError> {
    /// The usual limit of bearing rings, as a rise above a shop at 20 °C (from memory, check).
    const RINGS_STAY_BELOW_K: f64 = 100.0;
    let rise = heating_rise(joint.most_mm, clearance_mm, joint.nominal_mm, STEEL_EXPANSION)?;
    let mut block = Block::new("heating", "linear expansion of steel, 11.7e-6 per kelvin (from memory, check)");
    block.one("assembly_clearance", Quantity::Deviation(millimetres(clearance_mm)), "");
    block.one("rise_of_hub", Quantity::Rise(rise), "above the shaft, at the most interference");
    if rise > RINGS_STAY_BELOW_K {
        block.note("too hot for a bearing ring, which is usually kept below 120 °C (from memory, check)");
    }
    Ok(block)
}
