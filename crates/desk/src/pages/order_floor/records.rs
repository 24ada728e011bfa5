//! What is written down beside the sizes: heat number, spline over pins, press forces; read out of a form and held against the review.

use axle::{FigureKind, Review, Sheet, Side};
use book::{Amount, RecordKind, WorkRecord};
use drawing::Style;
use quantity::{
    Leading, Length, LengthExt, LengthUnit, LoadKind, both_load, decimal_inches, load_text, millimetres_text,
    read_length, read_load, read_written_load,
};

/// The longest heat number.
pub(super) const LONGEST_HEAT: usize = 40;

/// Pins whose diameters differ by no more than this, in millimetres, are the same pins: the nearest micrometre.
const SAME_PIN_MM: f64 = 0.000_6;

/// What was typed for one record.
#[derive(Debug, Clone)]
pub(super) struct TypedRecord {
    pub kind: RecordKind,
    pub side: Option<Side>,
    pub text: String,
    /// The diameter of the pins as it was typed.
    pub pin: String,
    /// What it is, or what is wrong and what would be accepted.
    pub entry: Result<WorkRecord, (String, String)>,
}

/// The name of a field.
pub(super) fn field_name(kind: RecordKind, side: Option<Side>) -> String {
    format!("record.{}.{}", kind.key(), side.map_or("both", Side::words))
}

/// The shafts that something is written down of.
pub(super) fn sides_of(sheet: &Sheet) -> Vec<Option<Side>> {
    if sheet.wanted.is_empty() { vec![None] } else { sheet.wanted.iter().copied().map(Some).collect() }
}

/// Everything that was typed, for each shaft in the order of the work.
pub(super) fn typed<'f>(sheet: &Sheet, review: &Review, field: impl Fn(&str) -> Option<&'f str>) -> Vec<TypedRecord> {
    let unit = sheet.unit.or(Some(LengthUnit::Inch));
    let places = RecordKind::ALL.into_iter().flat_map(|kind| sides_of(sheet).into_iter().map(move |side| (kind, side)));
    places
        .filter_map(|(kind, side)| {
            let name = field_name(kind, side);
            let text = field(&name).filter(|text| !text.is_empty())?;
            let pin = field(&format!("{name}.pin")).unwrap_or_default();
            let entry = amount(kind, text, pin, unit).map(|(amount, written)| WorkRecord {
                kind,
                side,
                written,
                amount,
                passed: judged(review, kind, amount).map(|(passes, _)| passes),
            });
            Some(TypedRecord { kind, side, text: text.to_owned(), pin: pin.to_owned(), entry })
        })
        .collect()
}

/// What was typed, and how it is kept: always with its unit.
fn amount(
    kind: RecordKind,
    text: &str,
    pin: &str,
    unit: Option<LengthUnit>,
) -> Result<(Amount, String), (String, String)> {
    let length = |text: &str| read_length(text, unit).map_err(|error| (error.to_string(), error.accepted()));
    match kind {
        RecordKind::HeatNumber if text.chars().count() > LONGEST_HEAT => Err((
            "the heat number is too long".to_owned(),
            format!("the number as it is stamped or written on the bar, at most {LONGEST_HEAT} characters"),
        )),
        RecordKind::HeatNumber => Ok((Amount::None, text.to_owned())),
        RecordKind::BearingPressForce | RecordKind::RingPressForce => {
            let accepted = || LoadKind::Force.accepted().to_owned();
            let newtons = read_load(text, LoadKind::Force).map_err(|error| (error.to_string(), accepted()))?;
            if newtons <= 0.0 {
                return Err(("a press that shows no force has pressed nothing".to_owned(), accepted()));
            }
            Ok((Amount::Newtons(newtons), text.to_owned()))
        }
        RecordKind::SizeOverPins => {
            let size = length(text)?;
            if pin.is_empty() {
                let accepted = "their diameter, such as 0.1200 in or 3.000 mm";
                return Err(("a size over pins says nothing without its pins".to_owned(), accepted.to_owned()));
            }
            let pins = length(pin).map_err(|(problem, accepted)| (format!("the pins: {problem}"), accepted))?;
            if size.value() <= pins.value() {
                return Err((
                    "the size is no larger than the pins that it lies over".to_owned(),
                    "the size over two pins, and their diameter".to_owned(),
                ));
            }
            let written = if size.text() == size.digits() {
                format!("{} {}", size.text(), size.unit())
            } else {
                size.text().to_owned()
            };
            Ok((Amount::OverPins { size: size.value(), pin: pins.value() }, written))
        }
    }
}

/// The least force that the lock ring must take, in newtons, where the proof knows it.
fn least_ring_force(review: &Review) -> Option<f64> {
    review.proof.figures.iter().find(|figure| figure.kind == FigureKind::RingPressOn).map(|figure| figure.harsh)
}

/// Whether it is as the review asks, with the words for it; none where the review asks nothing.
pub(super) fn judged(review: &Review, kind: RecordKind, amount: Amount) -> Option<(bool, &'static str)> {
    match (kind, amount) {
        (RecordKind::SizeOverPins, Amount::OverPins { size, pin }) => {
            let spline = review.fitted.spline.as_ref().filter(|spline| spline.class.is_some())?;
            let over = spline.over_pins.filter(|over| same_pin(over.pin, pin))?;
            Some(if size < over.least {
                (false, "too small: the teeth are too thin, scrap")
            } else if size > over.most {
                (false, "too big: the teeth can be cut again")
            } else {
                (true, "within limits")
            })
        }
        (RecordKind::RingPressForce, Amount::Newtons(newtons)) => least_ring_force(review).map(|least| {
            if newtons >= least {
                (true, "at least what it must take")
            } else {
                (false, "too little: fit a tighter ring")
            }
        }),
        _ => None,
    }
}

fn same_pin(one: Length, other: Length) -> bool {
    (one.millimetres() - other.millimetres()).abs() <= SAME_PIN_MM
}

/// What the review asks, in words.
pub(super) fn required(review: &Review, kind: RecordKind, style: &Style, leading: Leading) -> String {
    match kind {
        RecordKind::HeatNumber => "as stamped on the bar; one heat for each shaft".to_owned(),
        RecordKind::BearingPressForce => "written down, no limit".to_owned(),
        RecordKind::RingPressForce => least_ring_force(review).map_or_else(
            || "written down; the least one is not known".to_owned(),
            |least| format!("at least {}", both_load(least, LoadKind::Force, leading)),
        ),
        RecordKind::SizeOverPins => match review.fitted.spline.as_ref().and_then(|one| Some((one, one.over_pins?))) {
            Some((spline, over)) => paperwork::over_pins(spline, &over, style),
            None => "not known".to_owned(),
        },
    }
}

/// The diameter of the pins that the review asks for, as a field holds it.
pub(super) fn asked_pin(review: &Review, leading: Leading) -> Option<String> {
    let pin = review.fitted.spline.as_ref()?.over_pins?.pin;
    Some(match leading {
        Leading::Inches => format!("{} in", trimmed(pin.inches(), 5)),
        Leading::Millimetres => format!("{} mm", trimmed(pin.millimetres(), 4)),
    })
}

/// A number with so many decimals at most.
fn trimmed(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A size in the unit that leads, as close as a spline is measured.
fn size(of: Length, leading: Leading) -> String {
    if leading == Leading::Inches { decimal_inches(of, 4) } else { millimetres_text(of, 3) }
}

/// A record as it was written, with what it is in the other unit or over which pins.
pub(crate) fn words(record: &WorkRecord, leading: Leading) -> String {
    let written = &record.written;
    match record.amount {
        Amount::None => written.clone(),
        Amount::OverPins { pin, .. } => format!("{written} over pins of {}", size(pin, leading)),
        Amount::Newtons(newtons) => {
            let is_inch =
                read_written_load(written, LoadKind::Force).is_ok_and(|(_, system)| system == Leading::Inches);
            let other = if is_inch { Leading::Millimetres } else { Leading::Inches };
            format!("{written} ({})", load_text(newtons, LoadKind::Force, other))
        }
    }
}

/// Whether a record is as the review asks now; what it was judged by then where the review has changed since.
pub(crate) fn passes(review: &Review, record: &WorkRecord) -> Option<bool> {
    judged(review, record.kind, record.amount).map(|(passes, _)| passes)
}

#[cfg(test)]
mod tests {
    use book::RecordKind;
    use quantity::LengthUnit;

    use super::amount;

    #[test]
    fn what_is_typed_is_kept_with_its_unit_or_refused_with_what_is_accepted() {
        let of = |kind, text, pin| amount(kind, text, pin, Some(LengthUnit::Inch));
        let kept = |kind, text, pin| of(kind, text, pin).unwrap().1;
        assert_eq!(kept(RecordKind::SizeOverPins, "1.4226", "0.120"), "1.4226 in");
        assert_eq!(kept(RecordKind::SizeOverPins, "36.13 mm", "3 mm"), "36.13 mm");
        assert_eq!(kept(RecordKind::RingPressForce, "9000 lbf", ""), "9000 lbf");
        assert_eq!(kept(RecordKind::HeatNumber, "H-4711", ""), "H-4711");
        for (kind, text, pin, problem) in [
            (RecordKind::SizeOverPins, "1.4226", "", "says nothing without its pins"),
            (RecordKind::SizeOverPins, "0.1", "0.12", "no larger than the pins"),
            (RecordKind::RingPressForce, "9000", "", "has no unit"),
            (RecordKind::BearingPressForce, "0 kN", "", "has pressed nothing"),
        ] {
            let (said, accepted) = of(kind, text, pin).unwrap_err();
            assert!(said.contains(problem) && !accepted.is_empty(), "{said}");
        }
    }
}
