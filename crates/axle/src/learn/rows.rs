//! What was learned as rows of a catalog: three files that lie in a shop's folder beside its own and can be read, compared and
//! deleted.

use std::fmt::Write as _;

use catalog::{CONDITIONS, Catalog, Condition, MeasurandRow, MistakeRow};
use quantity::{Instrument, Length, LengthExt, Limit, decimal_inches, millimetres_text};

use super::{Learned, LearnedRate, LearnedUncertainty, Occasion, UncertaintyPart};

/// The first line of every learned file. A file without it was written by hand.
pub const LEARNED_BY: &str = "# Learned from finished orders by `axlewright learn`.";

/// Digits of a learned value: more than its interval is worth, so that reading it back changes nothing that is shown.
const DIGITS: i32 = 4;

/// The files that hold what was learned, by name; a file that would hold no row is left out. `prior` says what was believed
/// before, such as `the shipped catalog`.
///
/// A row is written where a value of it changed by the share that the catalog's settings name, and it holds only what changed so;
/// everything else stays as the row below it has it.
#[must_use]
pub fn learned_files(learned: &Learned, catalog: &Catalog, prior: &str) -> Vec<(&'static str, String)> {
    let writer = Writer { learned, written_from: catalog.settings.learning.written_from, prior };
    let instruments: Vec<String> = catalog.instruments.iter().filter_map(|row| writer.instrument(row)).collect();
    let measurands: Vec<String> =
        catalog.measurands.iter().filter_map(|row| writer.measurand(row, catalog.usual_instrument(row))).collect();
    let mistakes: Vec<String> = catalog.mistakes.iter().filter_map(|row| writer.mistake(row)).collect();
    [
        ("learned_instruments.toml", instruments),
        ("learned_measurands.toml", measurands),
        ("learned_mistakes.toml", mistakes),
    ]
    .into_iter()
    .filter(|(_, rows)| !rows.is_empty())
    .map(|(name, rows)| (name, format!("{}{}", writer.head(), rows.concat())))
    .collect()
}

impl LearnedUncertainty {
    /// Whether the value changed by this share of it or more.
    #[must_use]
    pub fn changed_by(&self, share: f64) -> bool {
        (self.factor() - 1.0).abs() >= share
    }
}

impl LearnedRate {
    /// Whether the rate changed by this share of it or more.
    #[must_use]
    pub fn changed_by(&self, share: f64) -> bool {
        (self.after / self.before - 1.0).abs() >= share
    }
}

struct Writer<'a> {
    learned: &'a Learned,
    written_from: f64,
    prior: &'a str,
}

impl Writer<'_> {
    fn head(&self) -> String {
        format!(
            "{LEARNED_BY}\n#\n# Each run writes this file anew, so put nothing of your own here. To undo what was learned, delete \
             it.\n# From {} readings of {} finished orders, on top of {}.\n",
            self.learned.readings, self.learned.orders, self.prior
        )
    }

    /// An uncertainty that changed enough to be written.
    fn uncertainty(&self, part: &UncertaintyPart) -> Option<&LearnedUncertainty> {
        let found = self.learned.uncertainties.iter().find(|one| one.part == *part);
        found.filter(|one| one.changed_by(self.written_from))
    }

    fn source(&self, readings: usize) -> String {
        format!(
            "source = \"shop: learned from {readings} readings of {} finished orders; before: {}\"\n",
            self.learned.orders, self.prior
        )
    }

    fn instrument(&self, row: &Instrument) -> Option<String> {
        let limit = self.uncertainty(&UncertaintyPart::Limit(row.name.clone()));
        let repeatability = self.uncertainty(&UncertaintyPart::Repeatability(row.name.clone()));
        let readings = limit.iter().chain(&repeatability).map(|one| one.readings).max()?;
        let size = |length: Length| size_text(length, row);
        let mut text = String::from("\n[[instrument]]\n");
        for (what, found) in [("limit", limit), ("repeatability", repeatability)] {
            if let Some(found) = found {
                text += &comment(what, found, row);
            }
        }
        // A TOML text in quotation marks of its own kind: a name may hold an inch mark.
        let _ = writeln!(text, "name = {}", quoted(&row.name));
        if let Some(found) = limit {
            let factor = found.factor();
            match row.limit {
                Limit::HalfWidth { constant, per_metre, .. } => {
                    let _ = writeln!(text, "half_width = \"{}\"", size(constant * factor));
                    if per_metre.millimetres() > 0.0 {
                        let _ = writeln!(text, "half_width_per_metre = \"{}\"", size(per_metre * factor));
                    }
                }
                Limit::Standard(standard) => {
                    let _ = writeln!(text, "standard_uncertainty = \"{}\"", size(standard * factor));
                }
            }
            if row.set_up.millimetres() > 0.0 {
                let _ = writeln!(text, "set_up = \"{}\"", size(row.set_up * factor));
            }
        }
        if let Some(found) = repeatability {
            let _ = writeln!(text, "repeatability = \"{}\"", size(found.after));
        }
        text += &self.source(readings);
        Some(text)
    }

    fn measurand(&self, row: &MeasurandRow, usual: &Instrument) -> Option<String> {
        let found = self.uncertainty(&UncertaintyPart::SetUp(row.measurand))?;
        Some(format!(
            "\n[{}]\n{}set_up = \"{}\"\n{}",
            row.measurand.key(),
            comment("set-up", found, usual),
            size_text(found.after, usual),
            self.source(found.readings)
        ))
    }

    fn mistake(&self, row: &MistakeRow) -> Option<String> {
        let found = |occasion: Occasion| {
            let known = |one: &&LearnedRate| one.kind == row.kind && one.occasion == occasion;
            self.learned.rates.iter().find(known).filter(|one| one.changed_by(self.written_from))
        };
        let (usual, throughout) = (found(Occasion::Usual), found(Occasion::Throughout));
        let under: Vec<Option<&LearnedRate>> =
            row.rate_when.iter().map(|(at, _)| found(Occasion::Marked(*at))).collect();
        let all = || usual.iter().chain(under.iter().flatten()).chain(&throughout);
        let readings = all().map(|one| one.readings).fold(0.0, f64::max);
        if readings == 0.0 {
            return None;
        }
        let mut text = format!("\n[{}]\n", row.kind.key());
        for found in all() {
            text += &rate_comment(found);
        }
        let rate = usual.map_or(row.rate, |found| permitted(found.after));
        if usual.is_some() {
            let _ = writeln!(text, "rate = {}", rounded(rate));
        }
        if let Some(found) = throughout {
            let _ = writeln!(text, "together = {}", rounded(permitted(found.after)));
        }
        // A rate under a condition below the usual one would never apply, so the usual one lifts it.
        let lifted: Vec<(Condition, f64)> = row
            .rate_when
            .iter()
            .zip(&under)
            .map(|((condition, shipped), found)| {
                (*condition, found.map_or(*shipped, |found| permitted(found.after)).max(rate))
            })
            .collect();
        if lifted != row.rate_when {
            let entries: Vec<String> =
                lifted.iter().map(|(at, rate)| format!("{} = {}", quoted(phrase(*at)), rounded(*rate))).collect();
            let _ = writeln!(text, "rate_when = {{ {} }}", entries.join(", "));
        }
        text += &self.source(readings.round() as usize);
        Some(text)
    }
}

/// What changed, as a comment.
fn comment(what: &str, found: &LearnedUncertainty, instrument: &Instrument) -> String {
    let size = |length: Length| size_text(length, instrument);
    format!(
        "# {what}: {} before, {} now, from {} to {}; {} readings spoke\n",
        size(found.before),
        size(found.after),
        size(found.interval.0),
        size(found.interval.1),
        found.readings
    )
}

fn rate_comment(found: &LearnedRate) -> String {
    let (what, of) = match found.occasion {
        Occasion::Usual => ("rate".to_owned(), "readings"),
        Occasion::Marked(condition) => (format!("rate where marked {}", quoted(phrase(condition))), "readings"),
        Occasion::Throughout => ("together".to_owned(), "chances to be made"),
    };
    let held = if found.after > MistakeRow::LARGEST_RATE { ", held at what a catalog takes" } else { "" };
    format!(
        "# {what}: {} before, {} now{held}, from {} to {}; about {:.1} of {:.0} {of}\n",
        rounded(found.before),
        rounded(found.after),
        rounded(found.interval.0),
        rounded(found.interval.1),
        found.spoilt,
        found.readings
    )
}

/// A rate that a catalog takes.
fn permitted(rate: f64) -> f64 {
    rate.min(MistakeRow::LARGEST_RATE)
}

fn phrase(condition: Condition) -> &'static str {
    CONDITIONS.iter().find(|(known, _)| *known == condition).map_or("", |(_, phrase)| phrase)
}

/// A TOML text. Names of the catalog hold no line breaks; whatever they hold otherwise is escaped.
fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

/// A length in the unit of the instrument's scale.
fn size_text(length: Length, instrument: &Instrument) -> String {
    let step = instrument.step.millimetres();
    let metric = step >= 0.1 && (10.0 * step - (10.0 * step).round()).abs() < 1e-6;
    if metric {
        millimetres_text(length, places(length.millimetres()))
    } else {
        decimal_inches(length, places(length.inches()))
    }
}

/// A number with as many digits as learned values have.
fn rounded(number: f64) -> String {
    let text = format!("{number:.*}", places(number));
    let bare = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    bare.to_owned()
}

/// Decimals that show a number with so many digits.
fn places(number: f64) -> usize {
    if number > 0.0 && number.is_finite() {
        usize::try_from(DIGITS - 1 - number.log10().floor() as i32).unwrap_or(0).min(12)
    } else {
        1
    }
}

#[cfg(test)]
mod tests {
    use super::{places, quoted, rounded};

    #[test]
    fn numbers_keep_four_digits() {
        assert_eq!(rounded(0.004_123_4), "0.004123");
        assert_eq!(rounded(0.15), "0.15");
        assert_eq!(rounded(0.0), "0");
        assert_eq!(rounded(12_345.6), "12346");
        assert_eq!(places(0.03125), 5);
        assert_eq!(places(0.0), 1);
    }

    #[test]
    fn a_name_may_hold_an_inch_mark() {
        assert_eq!(quoted("72\" tape"), "\"72\\\" tape\"");
    }
}
