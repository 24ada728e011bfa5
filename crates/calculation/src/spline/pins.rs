//! Sizes over and between pins: the blocks that the inspector reads.

use elements::involute_spline::{PinContact, SplineError};
use quantity::{Length, WrittenLength};

use crate::{Block, Inputs, Quantity};

/// One member of a spline and the pin that it is measured with.
pub struct PinSeat<'a> {
    /// The block's name.
    pub key: &'static str,
    /// The argument that names the pin.
    pub argument: &'static str,
    /// The pin that was asked for.
    pub pin: Option<&'a WrittenLength>,
    /// The pin that the standard takes, where it names one.
    pub standard_pin: Option<Length>,
    /// What that pin is.
    pub pin_remark: &'static str,
    /// The pin that would touch on the pitch circle.
    pub ideal_pin: Option<Length>,
    /// Limits of the actual width, in the unit of `length`.
    pub limits: Option<(f64, f64)>,
    /// The basic width, in the unit of `length`.
    pub basic: f64,
    /// Makes a length of a number in the spline's own unit.
    pub length: fn(f64) -> Length,
    /// Where the formula comes from.
    pub source: String,
}

/// The block of one member; `size` gives the size with a pin at a width.
///
/// A pin that was asked for and does not rest on the flanks is refused; the standard's own pin that does not is told of.
pub fn pin_block(
    seat: &PinSeat<'_>,
    inputs: &mut Inputs,
    size: impl Fn(f64, Length) -> Result<PinContact, SplineError>,
) -> Block {
    let mut block = Block::new(seat.key, seat.source.clone());
    if let Some(ideal) = seat.ideal_pin {
        block.size("pin_on_pitch_circle", ideal, "would touch on the pitch circle at the basic width");
    }
    let (pin, remark) = match (seat.pin, seat.standard_pin) {
        (Some(pin), _) => (pin.value(), "as asked for"),
        (None, Some(pin)) => (pin, seat.pin_remark),
        (None, None) => {
            block.note(format!("no pin is held for this standard: give {} to have sizes with it", seat.argument));
            return block;
        }
    };
    block.size("pin", pin, remark);
    let (least, most) = seat.limits.unwrap_or((seat.basic, seat.basic));
    let contacts = size(least, pin).and_then(|least| Ok((least, size(most, pin)?)));
    let (first, second) = match contacts {
        Ok(contacts) => contacts,
        Err(error) => {
            if let Some(written) = seat.pin {
                refuse_pin(inputs, seat, written.text(), &error);
                return block;
            }
            block.note(format!("{}; give {} to have sizes with another pin", error, seat.argument));
            return block;
        }
    };
    let quantity = |number: f64| Quantity::Size((seat.length)(number));
    if seat.limits.is_some() {
        block.range("size", quantity(first.size), quantity(second.size), "at the limits of the actual width");
        if let Ok(basic) = size(seat.basic, pin) {
            block.one("size_at_basic_width", quantity(basic.size), "for reference");
        }
        let (one, other) = (first.contact_diameter, second.contact_diameter);
        block.range("contact_diameter", quantity(one.min(other)), quantity(one.max(other)), "where the pin touches");
    } else {
        block.one("size_at_basic_width", quantity(first.size), "no limits are held");
        block.one("contact_diameter", quantity(first.contact_diameter), "where the pin touches");
    }
    let change = Quantity::ratio(second.size_per_width, 3);
    block.one("size_per_width", change, "so much the size changes for each unit of width");
    block
}

fn refuse_pin(inputs: &mut Inputs, seat: &PinSeat<'_>, text: &str, error: &SplineError) {
    let both = |length: Length| {
        let quantity = Quantity::Size(length);
        let (inch, metric) = (quantity.in_inch_units(), quantity.in_metric_units());
        format!("{} {} ({} {})", inch.number, inch.unit, metric.number, metric.unit)
    };
    match error {
        SplineError::PinOffFlank { contact, lowest, highest, smallest_pin, largest_pin, .. } => {
            let at = |number: f64| both((seat.length)(number));
            let problem = format!(
                "the pin would touch at diameter {}, off the flank, which runs from {} to {}",
                at(*contact),
                at(*lowest),
                at(*highest)
            );
            let accepted = format!("a pin from {} to {}", at(*smallest_pin), at(*largest_pin));
            inputs.refuse(seat.argument, text, problem, accepted);
        }
        _ => {
            let accepted = seat.ideal_pin.map_or_else(String::new, |ideal| format!("a pin of about {}", both(ideal)));
            inputs.refuse(seat.argument, text, error.to_string(), accepted);
        }
    }
}
