//! Arguments as people write them, and what is said when one cannot be used.

use std::fmt;
use std::ops::Range;

use quantity::{LengthUnit, WrittenLength, read_length};

/// The words that were written behind an option, such as `2.793` and `in`.
pub type Words = Option<Vec<String>>;

/// One argument that cannot be used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// The argument: `--pin`.
    pub argument: String,
    /// What was written; empty where the argument is missing.
    pub text: String,
    /// The bytes of the text that are to blame.
    pub at: Range<usize>,
    /// What is wrong with it.
    pub problem: String,
    /// What would be accepted; empty where the problem says it.
    pub accepted: String,
}

/// Every argument that cannot be used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusals(pub(crate) Vec<Refusal>);

impl Refusals {
    /// One refusal each, in the order in which the arguments were read.
    pub fn iter(&self) -> impl Iterator<Item = &Refusal> {
        self.0.iter()
    }
}

/// Reads arguments and collects what cannot be used, so that everything is said at once.
#[derive(Debug)]
pub struct Inputs {
    refusals: Vec<Refusal>,
    unit: Option<LengthUnit>,
}

impl Inputs {
    /// Inputs whose lengths are in that unit where they name none.
    pub fn new(unit: Option<&str>) -> Self {
        let mut inputs = Self { refusals: Vec::new(), unit: None };
        if let Some(text) = unit {
            inputs.unit = LengthUnit::from_spelling(text);
            if inputs.unit.is_none() {
                inputs.refuse("--unit", text, "this is no unit of length", "in or mm");
            }
        }
        inputs
    }

    /// The unit of lengths that name none.
    pub fn unit(&self) -> Option<LengthUnit> {
        self.unit
    }

    /// Refuses a whole argument.
    pub fn refuse(
        &mut self,
        argument: &'static str,
        text: &str,
        problem: impl Into<String>,
        accepted: impl Into<String>,
    ) {
        self.refuse_part(argument, text, 0..text.len(), problem, accepted);
    }

    /// Refuses a part of an argument.
    pub fn refuse_part(
        &mut self,
        argument: &'static str,
        text: &str,
        at: Range<usize>,
        problem: impl Into<String>,
        accepted: impl Into<String>,
    ) {
        self.refusals.push(Refusal {
            argument: argument.to_owned(),
            text: text.to_owned(),
            at,
            problem: problem.into(),
            accepted: accepted.into(),
        });
    }

    /// Refuses that an argument is missing.
    pub fn miss(&mut self, argument: &'static str, problem: impl Into<String>, accepted: impl Into<String>) {
        self.refuse(argument, "", problem, accepted);
    }

    /// Goes on where nothing was refused.
    ///
    /// # Errors
    ///
    /// Everything that was refused so far.
    pub fn settle(&mut self) -> Result<(), Refusals> {
        if self.refusals.is_empty() { Ok(()) } else { Err(self.take_refusals()) }
    }

    /// Everything that was refused so far.
    pub fn take_refusals(&mut self) -> Refusals {
        Refusals(std::mem::take(&mut self.refusals))
    }

    /// Reads a length above nought.
    pub fn length(&mut self, argument: &'static str, words: &Words) -> Option<WrittenLength> {
        self.length_or_in(argument, words, self.unit)
    }

    /// Reads a length above nought, in that unit where it names none.
    pub fn length_or_in(
        &mut self,
        argument: &'static str,
        words: &Words,
        unit: Option<LengthUnit>,
    ) -> Option<WrittenLength> {
        let text = words.as_ref()?.join(" ");
        match read_length(&text, unit) {
            Ok(length) if length.value().value > 0.0 => Some(length),
            Ok(_) => {
                self.refuse(argument, &text, "a length of nought cannot be used here", "a length above nought");
                None
            }
            Err(error) => {
                let mut accepted = error.accepted();
                if matches!(error, quantity::LengthTextError::NoUnit { .. }) {
                    accepted.push_str("; or --unit in or --unit mm for all lengths without one");
                }
                self.refuse_part(argument, &text, error.range(), error.to_string(), accepted);
                None
            }
        }
    }

    /// Reads a number without a unit.
    pub fn number(&mut self, argument: &'static str, text: Option<&str>, accepted: &str) -> Option<f64> {
        let text = text?;
        let value = plain_number(text.trim());
        if value.is_none() {
            self.refuse(argument, text, "this is no number", accepted);
        }
        value
    }

    /// Reads a count.
    pub fn count(&mut self, argument: &'static str, text: Option<&str>, accepted: &str) -> Option<u32> {
        let text = text?;
        let value = text.trim().parse().ok();
        if value.is_none() {
            self.refuse(argument, text, "this is no whole number", accepted);
        }
        value
    }

    /// Reads one of some words.
    pub fn one_of<T: Copy>(&mut self, argument: &'static str, text: &str, known: &[(&str, T)]) -> Option<T> {
        let found = known.iter().find(|(word, _)| word.eq_ignore_ascii_case(text.trim())).map(|(_, value)| *value);
        if found.is_none() {
            let words: Vec<&str> = known.iter().map(|(word, _)| *word).collect();
            let nearest = quantity::nearest_word(text, words.iter().copied());
            let meant = nearest.map_or_else(String::new, |word| format!(", did you mean {word:?}?"));
            self.refuse(argument, text, format!("{text:?} is not known here{meant}"), words.join(", "));
        }
        found
    }
}

/// A number of digits with a point at most: neither a sign nor an exponent, which nobody writes by mistake for anything
/// that is meant here.
pub fn plain_number(text: &str) -> Option<f64> {
    let plain = text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    text.parse().ok().filter(|value: &f64| plain && value.is_finite())
}

impl fmt::Display for Refusals {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, refusal) in self.0.iter().enumerate() {
            if index > 0 {
                writeln!(formatter)?;
            }
            let Refusal { argument, text, at, problem, accepted } = refusal;
            writeln!(formatter, "{argument}: {problem}")?;
            if !text.is_empty() {
                let before = text.get(..at.start).unwrap_or_default();
                let blamed = text.get(at.clone()).unwrap_or_default();
                // Tabs and the like would move the marks away from what they stand under.
                let shown: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
                let indent = argument.chars().count() + 1 + before.chars().count();
                writeln!(formatter, "  {argument} {shown}")?;
                writeln!(formatter, "  {:indent$}{}", "", "^".repeat(blamed.chars().count().max(1)))?;
            }
            if !accepted.is_empty() {
                writeln!(formatter, "  accepted: {accepted}")?;
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::{Inputs, Words};

    fn words(text: &str) -> Words {
        Some(text.split(' ').map(str::to_owned).collect())
    }

    #[test]
    fn everything_that_cannot_be_used_is_said_at_once_with_its_place() {
        let mut inputs = Inputs::new(None);
        assert_eq!(inputs.length("--pin", &words("0.08 furlongs")), None);
        assert_eq!(inputs.number("--speed", Some("-3"), "a speed"), None);
        let said = inputs.settle().unwrap_err().to_string();
        assert!(said.contains("  --pin 0.08 furlongs\n             ^^^^^^^^\n  accepted: "), "{said}");
        assert!(
            said.contains("--speed: this is no number\n  --speed -3\n          ^^\n  accepted: a speed\n"),
            "{said}"
        );
        assert_eq!(inputs.settle(), Ok(()));
    }
}
