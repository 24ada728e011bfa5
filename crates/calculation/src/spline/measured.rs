//! What a measured size over or between pins says of the tooth or the space.

use elements::involute_spline::{InvoluteFlanks, SplineClass, WidthLimits};
use quantity::{Length, LengthExt, WrittenLength};

use crate::{Block, Inputs, Quantity};

/// Which member was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Member {
    /// Over pins.
    Shaft,
    /// Between pins.
    Hub,
}

/// A measured member.
pub struct MeasuredWidth<'a> {
    /// Which.
    pub member: Member,
    /// The size that was measured.
    pub written: &'a WrittenLength,
    /// The pin that it was measured with, where it is known.
    pub pin: Option<Length>,
    /// The class that it is held against.
    pub class: SplineClass,
    /// The basic width, in the unit of `length`.
    pub basic: f64,
    /// Makes a length of a number in the spline's own unit.
    pub length: fn(f64) -> Length,
    /// What is said where there are no limits to judge it by.
    pub without_limits: &'static str,
}

/// The block of a measured member. `limits` gives the limits of a class, in the spline's own unit, where they are held.
pub fn measured_block(
    measured: &MeasuredWidth<'_>,
    flanks: &InvoluteFlanks,
    inputs: &mut Inputs,
    limits: impl Fn(SplineClass) -> Option<WidthLimits>,
) -> Option<Block> {
    let (key, argument, pin_argument, size_key, width_key) = match measured.member {
        Member::Shaft => ("measured_tooth", "--over-pins", "--pin", "size_over_pins", "tooth_thickness"),
        Member::Hub => ("measured_space", "--between-pins", "--hub-pin", "size_between_pins", "space_width"),
    };
    let Some(pin) = measured.pin else {
        inputs.miss(pin_argument, "a measured size takes the pin that it was measured with", "the pin's diameter");
        return None;
    };
    let unit = (measured.length)(1.0).millimetres();
    let own = |length: Length| length.millimetres() / unit;
    let (size, pin_size) = (own(measured.written.value()), own(pin));
    let found = match measured.member {
        Member::Shaft => flanks.thickness_from_over_pins(size, pin_size),
        Member::Hub => flanks.width_from_between_pins(size, pin_size),
    };
    let width = match found {
        Ok(width) => width,
        Err(error) => {
            inputs.refuse(argument, measured.written.text(), error.to_string(), "a size of this spline with this pin");
            return None;
        }
    };
    let source = "the size over or between pins, solved for the width; limits as above";
    let mut block = Block::new(key, source);
    block.size(size_key, measured.written.value(), "as measured");
    block.size("pin", pin, "");
    block.size(width_key, (measured.length)(width), "actual, at the pitch circle");
    let from_basic = width - measured.basic;
    let words = match (measured.member, from_basic > 0.0) {
        (Member::Shaft, true) => "thicker than the largest that a hub takes",
        (Member::Shaft, false) => "thinner than the largest that a hub takes",
        (Member::Hub, true) => "wider than the least that a shaft needs",
        (Member::Hub, false) => "narrower than the least that a shaft needs",
    };
    block.one("from_basic", Quantity::Deviation((measured.length)(from_basic.abs())), words);
    match limits(measured.class) {
        None => block.note(measured.without_limits),
        Some(held) => judge(&mut block, measured, width, &held, &limits),
    }
    Some(block)
}

fn judge(
    block: &mut Block,
    measured: &MeasuredWidth<'_>,
    width: f64,
    held: &WidthLimits,
    limits: &impl Fn(SplineClass) -> Option<WidthLimits>,
) {
    let class = measured.class;
    let variation = held.effective_max - held.actual_max;
    let (variation, effective) = match measured.member {
        Member::Shaft => (variation, width + variation),
        Member::Hub => (held.actual_min - held.effective_min, width - (held.actual_min - held.effective_min)),
    };
    block.one(
        "effective_variation",
        Quantity::Deviation((measured.length)(variation)),
        format!("what {class} allows for form, spacing and lead"),
    );
    block.size("effective", (measured.length)(effective), "what the mating part would feel with all of that");
    let past = |excess: f64| {
        let deviation = Quantity::Deviation((measured.length)(excess));
        let (inch, metric) = (deviation.in_inch_units(), deviation.in_metric_units());
        format!("{} {} ({} {})", inch.number, inch.unit, metric.number, metric.unit)
    };
    let actual = match measured.member {
        Member::Shaft if width < held.actual_min => format!("too thin, by {}", past(held.actual_min - width)),
        Member::Hub if width > held.actual_max => format!("too wide, by {}", past(width - held.actual_max)),
        _ => "not past its limit".to_owned(),
    };
    block.words("actual_limit", actual, format!("of {class}: wear and play"));
    let fits = match measured.member {
        Member::Shaft if width > held.effective_max => {
            format!("too thick for any hub, by {}", past(width - held.effective_max))
        }
        Member::Shaft if width > held.actual_max => "only a ring gauge can tell whether it goes in".to_owned(),
        Member::Hub if width < held.effective_min => {
            format!("too narrow for any shaft, by {}", past(held.effective_min - width))
        }
        Member::Hub if width < held.actual_min => "only a plug gauge can tell whether it goes in".to_owned(),
        _ => "not past its limit".to_owned(),
    };
    block.words("effective_limit", fits, format!("of {class}: whether it goes together"));
    let holds = |limits: &WidthLimits| (limits.actual_min..=limits.actual_max).contains(&width);
    let met = SplineClass::ALL.into_iter().find(|class| limits(*class).is_some_and(|limits| holds(&limits)));
    let met = met.map_or_else(|| "none".to_owned(), |class| class.to_string());
    block.words("closest_class_that_it_meets", met, "by its actual width");
}
