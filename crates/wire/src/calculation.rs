//! A calculation on the wire.

use quantity::Leading;
use schemars::{JsonSchema, schema_for};
use serde::Serialize;

use super::number::{Length, plain};
use calculation::Quantity;

/// What the commands `spline`, `fit`, `bolt-circle`, `bearing` and `stud` print with `--format json`.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Calculation {
    /// The command: `spline`, `fit`, `bolt_circle`, `bearing` or `stud`.
    pub calculation: String,
    /// What was computed, in a line.
    pub subject: String,
    /// The unit of the input, which the text puts first: `in` or `mm`.
    pub leading_unit: String,
    /// What was taken because nothing was said.
    pub taken: Vec<String>,
    /// The blocks, in the order of the text.
    pub blocks: Vec<Block>,
    /// The cautions that bear on it.
    pub cautions: Vec<String>,
}

/// Quantities that follow the same source.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Block {
    /// The block.
    pub block: String,
    /// Standard with its edition, or handbook with its section.
    pub source: String,
    /// The quantities.
    pub quantities: Vec<Entry>,
    /// What has to be known to use them.
    pub notes: Vec<String>,
}

/// One quantity. It has a `value`, or `least` and `most`, or `words`; the others are null.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// The quantity.
    pub quantity: String,
    /// The value, where there is one.
    pub value: Option<Value>,
    /// The least value, where there is a range.
    pub least: Option<Value>,
    /// The most, where there is a range.
    pub most: Option<Value>,
    /// What is said in words, where it is.
    pub words: Option<String>,
    /// What the quantity is for; may be empty.
    pub remark: String,
}

/// A value in both systems of units, or a number that both write the same.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
#[serde(untagged, deny_unknown_fields)]
pub enum Value {
    /// A length.
    Length(Length),
    /// A force.
    Force { newtons: f64, pounds_force: f64 },
    /// A torque.
    Torque { newton_metres: f64, pound_force_feet: f64 },
    /// A stress or pressure.
    Stress { megapascals: f64, kips_per_square_inch: f64 },
    /// An area.
    Area { square_millimetres: f64, square_inches: f64 },
    /// A rise of temperature.
    Rise { kelvin: f64, degrees_fahrenheit: f64 },
    /// A distance travelled.
    Distance { kilometres: f64, miles: f64 },
    /// A number with its unit, which is empty for a ratio.
    Number { number: f64, unit: &'static str },
}

impl Calculation {
    /// The JSON text, indented, with a line break at its end.
    ///
    /// # Errors
    ///
    /// None that these types can give rise to; the serialiser's own error type is passed on.
    pub fn text(&self) -> Result<String, serde_json::Error> {
        let mut text = serde_json::to_string_pretty(self)?;
        text.push('\n');
        Ok(text)
    }
}

/// The JSON Schema (draft 2020-12) of [`Calculation`] as indented text, with a line break at its end.
///
/// # Errors
///
/// None that a schema can give rise to; the serialiser's own error type is passed on.
pub fn calculation_schema_text() -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(&schema_for!(Calculation))?;
    text.push('\n');
    Ok(text)
}

/// Puts a calculation on the wire.
pub fn calculation(calculation: &calculation::Calculation) -> Calculation {
    Calculation {
        calculation: calculation.command.to_owned(),
        subject: calculation.subject.clone(),
        leading_unit: match calculation.leading {
            Leading::Inches => "in".to_owned(),
            Leading::Millimetres => "mm".to_owned(),
        },
        taken: calculation.taken.clone(),
        blocks: calculation.blocks.iter().map(block).collect(),
        cautions: calculation.cautions.iter().map(|&words| words.to_owned()).collect(),
    }
}

fn block(block: &calculation::Block) -> Block {
    Block {
        block: block.key.to_owned(),
        source: block.source.clone(),
        quantities: block.entries.iter().map(entry).collect(),
        notes: block.notes.clone(),
    }
}

fn entry(entry: &calculation::Entry) -> Entry {
    let (value, least, most, words) = match &entry.amount {
        calculation::Amount::One(quantity) => (Some(Value::from(*quantity)), None, None, None),
        calculation::Amount::Range(least, most) => (None, Some((*least).into()), Some((*most).into()), None),
        calculation::Amount::Words(words) => (None, None, None, Some(words.clone())),
    };
    Entry { quantity: entry.key.clone(), value, least, most, words, remark: entry.remark.clone() }
}

impl From<Quantity> for Value {
    fn from(quantity: Quantity) -> Self {
        match quantity {
            Quantity::Size(length) | Quantity::Deviation(length) => Self::Length(length.into()),
            Quantity::Force(newtons) | Quantity::ScatteredForce(newtons) => {
                Self::Force { newtons: plain(newtons), pounds_force: plain(newtons / quantity::POUND_FORCE_N) }
            }
            Quantity::Torque(newton_metres) | Quantity::ScatteredTorque(newton_metres) => Self::Torque {
                newton_metres: plain(newton_metres),
                pound_force_feet: plain(newton_metres / quantity::POUND_FOOT_NM),
            },
            Quantity::Stress(megapascals) => Self::Stress {
                megapascals: plain(megapascals),
                kips_per_square_inch: plain(megapascals / quantity::KSI_MPA),
            },
            Quantity::Area(square_millimetres) => Self::Area {
                square_millimetres: plain(square_millimetres),
                square_inches: plain(square_millimetres / quantity::SQUARE_INCH_MM2),
            },
            Quantity::Rise(kelvin) => Self::Rise {
                kelvin: plain(kelvin),
                degrees_fahrenheit: plain(kelvin * quantity::FAHRENHEIT_PER_KELVIN),
            },
            Quantity::Distance(kilometres) | Quantity::LifeDistance(kilometres) => {
                Self::Distance { kilometres: plain(kilometres), miles: plain(kilometres / quantity::MILE_KM) }
            }
            Quantity::Number { value, unit, .. } | Quantity::Life { value, unit, .. } => {
                Self::Number { number: plain(value), unit }
            }
        }
    }
}
