//! Words and numbers as they stand on the papers.

use axle::{Basis, Dimension, DimensionKind, FittedSize, FittedSpline, OverPins, PartKind, Side, TrimPlan, Verdict};
use drawing::{Closeness, Roughness, SizeBasis, Style, Units, at_most_in_words, in_words, limits_in_words};
use quantity::{Length, LengthExt};

/// How close a dimension is made: what is ground or fits a part gets a decimal more.
#[must_use]
pub fn closeness(kind: DimensionKind) -> Closeness {
    match kind {
        DimensionKind::RegisterDiameter
        | DimensionKind::WheelPilotDiameter
        | DimensionKind::JournalDiameter
        | DimensionKind::RingSeatDiameter
        | DimensionKind::SealJournalDiameter
        | DimensionKind::StudHole => Closeness::Ground,
        _ => Closeness::Turned,
    }
}

/// The words with `left` or `right` where the sides differ.
pub fn with_side(words: &str, side: Option<Side>) -> String {
    match side {
        Some(side) => format!("{words}, {}", side.words()),
        None => words.to_owned(),
    }
}

/// A size and its unit.
#[must_use]
pub fn size(length: Length, closeness: Closeness, style: &Style) -> String {
    in_words(length.millimetres(), closeness, style)
}

/// The most that may be, rounded down.
pub fn at_most(length: Length, closeness: Closeness, style: &Style) -> String {
    at_most_in_words(length.millimetres(), closeness, style)
}

/// Limits, rounded inwards.
pub fn limits(least: Length, most: Length, closeness: Closeness, style: &Style) -> String {
    limits_in_words(least.millimetres(), most.millimetres(), closeness, style)
}

/// What a dimension is held to: its limits, written alike on every paper and every page.
#[must_use]
pub fn held_to(dimension: &Dimension, style: &Style) -> String {
    limits(dimension.least, dimension.most, closeness(dimension.kind), style)
}

/// A size of a part; `not known` where it is none.
pub fn fitted(found: Option<&FittedSize>, closeness: Closeness, style: &Style) -> String {
    found.map_or_else(|| "not known".to_owned(), |found| size(found.size, closeness, style))
}

/// A size of a part that is aimed at, with how it came about, as the drawing says it: `.197 in, assumed`.
pub fn aimed_at(found: Option<&FittedSize>, closeness: Closeness, style: &Style) -> String {
    let came_about = found.map_or_else(String::new, |found| format!(", {}", basis(found.basis)));
    format!("{}{came_about}", fitted(found, closeness, style))
}

/// How a size came about, in one word.
pub fn basis(basis: Basis) -> &'static str {
    SizeBasis::from(basis).word()
}

/// The size over two pins, with its limits where the standard of the spline gives them.
#[must_use]
pub fn over_pins(spline: &FittedSpline, over: &OverPins, style: &Style) -> String {
    if spline.class.is_some() {
        limits(over.least, over.most, Closeness::Ground, style)
    } else {
        format!("{}, nominal: the limits are the shop's", size(over.most, Closeness::Ground, style))
    }
}

/// The roughness of a surface, as the drawing has it: `Ra 32 µin`.
pub fn roughness(of: Roughness, style: &Style) -> String {
    let one = |units| {
        let style = Style::of(style.standard, units);
        format!("{} {}", style.roughness(of).replace(" TO ", "–"), style.roughness_unit())
    };
    match style.units {
        Units::Dual { inches_first } => {
            let (inch, metric) = (one(Units::Inch), one(Units::Millimetre));
            let (first, second) = if inches_first { (inch, metric) } else { (metric, inch) };
            format!("{first} [{}]", second.trim_start_matches("Ra "))
        }
        units => one(units),
    }
}

/// That a shaft had better be cut long, with the lengths.
pub fn cut_long(plan: &TrimPlan, style: &Style) -> String {
    let length = |length| size(length, Closeness::Turned, style);
    let side = plan.side.map(|side| format!(" of the {} shaft", side.words())).unwrap_or_default();
    format!(
        "If the length{side} cannot be had better: cut it to {} and trim it at fitting, to {} at the least. The spline must then be \
         {} long at full depth from the inner end. Trim with an abrasive saw, cold: the end is hardened.",
        length(plan.cut),
        length(plan.least),
        length(plan.spline)
    )
}

/// A part in words.
pub fn part_words(kind: PartKind) -> &'static str {
    match kind {
        PartKind::Bearing => "wheel bearing",
        PartKind::HousingEnd => "housing end",
        PartKind::Spline => "spline",
        PartKind::BoltCircle => "bolt circle",
        PartKind::Stud => "wheel stud",
    }
}

/// What the review says, in words.
pub fn verdict_words(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Cut => "the shafts may be cut",
        Verdict::Ask => "something has to be asked first",
        Verdict::Stop => "this must not be made",
    }
}

/// The first of several sentences.
pub fn first_sentence(words: &str) -> &str {
    let starts = words.match_indices(". ").map(|(at, _)| at + 1);
    let mut ends = starts.filter(|end| words[*end..].trim_start().starts_with(char::is_uppercase));
    ends.next().map_or(words, |end| &words[..end])
}

#[cfg(test)]
mod tests {
    use drawing::{Roughness, Standard, Style, Units};

    use super::{first_sentence, roughness};

    #[test]
    fn a_roughness_has_the_units_of_the_paper() {
        let both = Units::Dual { inches_first: true };
        assert_eq!(roughness(Roughness::Ground, &Style::of(Standard::Asme, Units::Inch)), "Ra 32 µin");
        assert_eq!(roughness(Roughness::UnderSeal, &Style::of(Standard::Iso, Units::Millimetre)), "Ra 0.2–0.5 µm");
        assert_eq!(roughness(Roughness::UnderSeal, &Style::of(Standard::Asme, both)), "Ra 8–20 µin [0.2–0.5 µm]");
    }

    #[test]
    fn the_first_sentence_ends_where_the_next_begins() {
        assert_eq!(
            first_sentence("Safety 0.40; at least 1.00 is wanted. Shear under the roots."),
            "Safety 0.40; at least 1.00 is wanted."
        );
        assert_eq!(first_sentence("One of 1.5 in. is enough"), "One of 1.5 in. is enough");
    }
}
