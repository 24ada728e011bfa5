//! The STEP file of one shaft: what its product is called, and what its head tells of it.

use axle::{Review, Side, Verdict};
use quantity::LengthExt;
use solid::{StepHeader, StepUnit};

use super::{SolidRefusal, SolidShaft};
use crate::shape::{ShaftShape, SizeBasis};

/// The time stamp of a file that is not dated: a fixed one, since nothing here reads a clock.
const NOT_DATED: &str = "1970-01-01T00:00:00";

/// The program that wrote a file.
const WRITTEN_BY: &str = concat!("Axlewright ", env!("CARGO_PKG_VERSION"));

/// What is wanted of a STEP file.
#[derive(Debug, Clone, Copy)]
pub struct StepRequest<'a> {
    /// Which shaft.
    pub side: Side,
    /// Whether the teeth of the spline are cut, or left as a cylinder over their tips.
    pub teeth: bool,
    /// The unit of the lengths in the file.
    pub unit: StepUnit,
    /// A date such as `2026-01-31`, or a time stamp such as `2026-01-31T08:30:00`; none for a file that is not dated.
    pub date: Option<&'a str>,
    /// The revision.
    pub revision: &'a str,
    /// Whether somebody has approved the shaft for manufacture. It is never believed of an order that stops.
    pub approved: bool,
}

/// The text of a STEP file of one shaft, AP214, with what had to be left out of it.
///
/// # Errors
///
/// [`SolidRefusal`] where the review does not hold a whole shaft, or where the date is none.
///
/// ```
/// use drawing::{StepRequest, StepUnit};
/// let catalog = axle::Catalog::shipped()?;
/// let text = "[order]\nreference = \"KB-0001\"\nuse = \"street\"\nunit = \"in\"\nsides = [\"left\"]\n";
/// let review = axle::review(&axle::read_sheet("sheet.toml", text, &catalog)?, &catalog)?;
/// let request = StepRequest {
///     side: axle::Side::Left,
///     teeth: false,
///     unit: StepUnit::Millimetre,
///     date: None,
///     revision: "1",
///     approved: false,
/// };
/// let refusal = drawing::step(&review, &request).unwrap_err();
/// assert!(refusal.to_string().contains("accepted: a reading of wheel_pilot_diameter or wheel_bore"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn step(review: &Review, request: &StepRequest<'_>) -> Result<(String, Vec<String>), SolidRefusal> {
    let shape = ShaftShape::of(review, request.side);
    let shaft = SolidShaft::of(&shape, request.teeth)?;
    let solid = shaft.solid()?;
    let side = request.side.words();
    let name = format!("{} axle shaft {side}, {}", review.reference, spline_words(&shape, request));
    let notes = notes(review, &shape, &shaft, request);
    let notes: Vec<&str> = notes.iter().map(String::as_str).collect();
    let time_stamp = request.date.map_or_else(|| NOT_DATED.to_owned(), whole_stamp);
    let header = StepHeader {
        name: &name,
        id: &format!("{}-{side}", review.reference),
        notes: &notes,
        unit: request.unit,
        time_stamp: &time_stamp,
        written_by: WRITTEN_BY,
        ..StepHeader::default()
    };
    Ok((solid.to_step(&header)?, shaft.left_out))
}

/// A date without a time is its midnight.
fn whole_stamp(date: &str) -> String {
    if date.contains('T') { date.to_owned() } else { format!("{date}T00:00:00") }
}

/// The spline as the name of the product tells it.
fn spline_words(shape: &ShaftShape, request: &StepRequest<'_>) -> String {
    let size = |millimetres: f64| match request.unit {
        StepUnit::Millimetre => format!("{millimetres:.3} mm"),
        StepUnit::Inch => format!("{:.4} in", millimetres / 25.4),
    };
    let major = shape.spline_major_diameter.value_mm.map_or_else(|| "not known".to_owned(), size);
    let Some(spline) = &shape.spline else {
        return format!("spline as a cylinder of {major}, teeth not known");
    };
    let settled = if spline.decided { "" } else { ", not settled by the readings" };
    let drawn = if request.teeth { "with teeth" } else { "as a cylinder" };
    format!(
        "spline {drawn}: {} {} teeth, {}, {} deg, major {major}, minor {}{settled}",
        spline.standard,
        spline.teeth,
        spline.pitch,
        spline.pressure_angle_degrees,
        size(spline.minor_diameter.millimetres()),
    )
}

/// What a reader of the file has to know, a sentence or two each.
fn notes(review: &Review, shape: &ShaftShape, shaft: &SolidShaft, request: &StepRequest<'_>) -> Vec<String> {
    let dated = request.date.map_or_else(|| "not dated".to_owned(), |date| format!("dated {date}"));
    let verdict = match review.verdict {
        Verdict::Cut => "may be cut",
        Verdict::Ask => "ask first",
        Verdict::Stop => "stopped, this must not be made",
    };
    let status = if request.approved && review.verdict != Verdict::Stop {
        "Approved for manufacture."
    } else {
        "Not for manufacture."
    };
    let mut notes = vec![
        format!("Order {}, revision {}, {dated}. Review: {verdict}. {status}", review.reference, request.revision),
        "Sizes are those to cut, without their limits. The wheel face lies at z = 0 and z runs inboard.".to_owned(),
        if request.teeth {
            "The teeth are straight, of middle thickness, and run to the inner end without its chamfer; root fillets and \
             run-out are left out."
                .to_owned()
        } else {
            "The spline is a cylinder of its major diameter; its teeth stand in the name.".to_owned()
        },
    ];
    if shape.spline.as_ref().is_some_and(|spline| !spline.decided) {
        notes.push("The spline is the likeliest one; the evidence does not settle it.".to_owned());
    }
    let steel = if shape.steel_is_stated { "" } else { ", assumed" };
    notes.push(format!("Steel: {}{steel}.", shape.steel));
    notes.push(format!("Assumed: {}.", shaft.assumed.join("; ")));
    if !shaft.left_out.is_empty() {
        notes.push(format!("Left out. {}", shaft.left_out.join(" ")));
    }
    if shape.has_access_hole.is_none() {
        notes.push("Nothing says whether the flange has an access hole; there is none in the solid.".to_owned());
    }
    if shape.has_access_hole == Some(true) && shape.access_hole_circle.basis == SizeBasis::Assumed {
        notes.push("The access hole is taken to lie on the bolt circle.".to_owned());
    }
    notes.push("This file supports and does not replace the judgement of a qualified person.".to_owned());
    notes
}
