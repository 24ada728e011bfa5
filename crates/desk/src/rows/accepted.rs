//! What an entry of a form takes: its unit and how it is written, and the faults of a file in the words of the screen.

use quantity::read_length;

use super::kinds::{Field, Shape};

/// What a size looks like; every size carries its unit.
const SIZE: &str = "a size with its unit, such as 1 9/16\", 1.5625 in or 40 mm";

/// What a form says of numbers that have a unit or bounds.
const NUMBERS: [(&str, &str); 14] = [
    ("weight", "a number without unit: 4 is met twice as often as 2"),
    ("pressure_angle", "a number in degrees, such as 30"),
    ("tensile_strength", "a number in MPa, such as 1000"),
    ("yield_strength", "a number in MPa, such as 850"),
    ("effort_minutes", "a number in minutes, such as 5"),
    ("rate", "a share from 0 to 0.2: 0.01 is one reading in a hundred"),
    ("together", "a share from 0 to 0.2: 0.01 is one order in a hundred"),
    ("holes", "a whole number, such as 5"),
    ("dynamic_kn", "a number in kN, such as 30.7"),
    ("static_kn", "a number in kN, such as 17.8"),
    ("f0", "a number without unit, such as 14"),
    ("e", "a number without unit, such as 0.37"),
    ("y", "a number without unit, such as 1.6"),
    ("y0", "a number without unit, such as 0.9"),
];

/// What a form says of texts that are no size.
const TEXTS: [(&str, &str); 10] = [
    ("name", "a few words by which sheets name it"),
    ("grade", "a few words, such as 4340 or 1541H"),
    ("treatment", "a few words, such as normalised"),
    ("words", "a few words"),
    ("thread", "a thread, such as 1/2-20 or M12x1.5"),
    ("pitch", "two whole numbers, such as 24/48"),
    ("module", "the module in mm, such as 1.25"),
    ("instrument", "the name of an instrument of the catalog, such as caliper"),
    ("better_instrument", "the name of an instrument of the catalog, such as micrometer"),
    ("input", "the name of a load as it stands in the list of loads"),
];

/// Keys of the rows that hold one size each.
const SIZES: [&str; 20] = [
    "bore",
    "outside",
    "inner_width",
    "outer_width",
    "width_deviation",
    "bolt_rectangle_long",
    "bolt_rectangle_short",
    "bolt_hole",
    "bore_diameter",
    "diameter",
    "required_offset",
    "inside",
    "standard_uncertainty",
    "half_width",
    "half_width_per_metre",
    "step",
    "repeatability",
    "set_up",
    "spread",
    "undersize",
];

/// Whether a key holds words, which are no size even where they could be read as one: the steel `300M`.
pub(super) fn holds_words(key: &str) -> bool {
    key != "module" && TEXTS.iter().any(|(known, _)| *known == key)
}

/// Unit and form of what an entry takes; none where its description says everything. `sample` is a value that stands or stood there.
pub(crate) fn accepted_form(field: &Field, sample: &str) -> Option<&'static str> {
    let of =
        |table: &[(&str, &'static str)]| table.iter().find(|(known, _)| *known == field.key).map(|(_, words)| *words);
    let is_size = |text: &str| read_length(text, None).is_ok();
    match field.shape {
        Shape::Number => Some(of(&NUMBERS).unwrap_or("a number without unit")),
        Shape::Text if SIZES.contains(&field.key) || is_size(sample) => Some(SIZE),
        Shape::Text if field.key == "source" => {
            Some("a publication with its edition, one of the fixed phrases, or shop: and your own words")
        }
        Shape::Text => of(&TEXTS),
        Shape::NumberOrText => {
            Some("a number, or with its unit where it has one, such as 1850 lb, 320 lb·ft or 2.5 in")
        }
        Shape::Spread => Some("a size with its unit in each, such as 0.075\" and 0.05 mm"),
        Shape::Range if matches!(field.key, "accepted" | "usual") => {
            Some("two sizes with their unit, such as 20 in and 45 in; of a count two whole numbers")
        }
        Shape::Range => Some("two sizes with their unit, such as 0.0005\" and 0.0015\""),
        Shape::List => Some("one a line"),
        Shape::Entries => Some("one a line, as in: teeth = 28, weight = 6"),
        Shape::Shares => Some("one a line, as in: rusty = 0.1"),
        Shape::Words => Some("words, in whole sentences where they are read as such"),
        Shape::Choice(_) | Shape::Flag | Shape::Part(_) => None,
    }
}

/// How a file says what it would accept, and how a form says it.
const ACCEPTED: [(&str, &str); 6] = [
    ("a number without quotation marks", "a number, such as 12 or 0.5"),
    ("a number without decimals", "a whole number"),
    ("text that is not empty", "a few words"),
    ("a list in brackets, such as [1, 2]", "the values, one a line"),
    ("text in quotation marks", "a few words"),
    ("true or false", "yes or no"),
];

/// A fault of a file as a form says it: the name of the entry in place of the key, and nothing of quotation marks and brackets.
pub(super) fn on_screen(problem: &str, accepted: &str) -> (String, String) {
    let problem = named(problem)
        .replace(", but here stands text", ", and here stand words")
        .replace(", but here stands", ", and here stands")
        .replace("must be a table", "must be given with all its entries")
        .replace("a table", "several values");
    let accepted = match ACCEPTED.iter().find(|(file, _)| *file == accepted) {
        Some((_, words)) => (*words).to_owned(),
        None if accepted.starts_with("a table under [") => "a value in each of its entries, or in none".to_owned(),
        None => named(accepted),
    };
    (problem, accepted)
}

/// Keys in backticks as labels: `outer_width` becomes outer width.
fn named(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for (at, part) in text.split('`').enumerate() {
        let is_key = at % 2 == 1
            && part.chars().all(|one| one.is_ascii_lowercase() || one.is_ascii_digit() || "_.".contains(one));
        match (at % 2 == 1, is_key) {
            (true, true) => out.push_str(&part.replace('_', " ")),
            (true, false) => out.push_str(&format!("“{part}”")),
            (false, _) => out.push_str(part),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{accepted_form, on_screen};
    use crate::rows::{KINDS, Shape};

    #[test]
    fn every_entry_says_its_unit_or_form_unless_it_is_chosen() {
        for kind in &KINDS {
            for field in kind.fields {
                let chosen = matches!(field.shape, Shape::Choice(_) | Shape::Flag | Shape::Part(_));
                assert_eq!(accepted_form(field, "").is_none(), chosen, "{} of {}", field.key, kind.words);
            }
        }
    }

    #[test]
    fn faults_speak_of_entries_and_not_of_files() {
        let (problem, accepted) =
            on_screen("`outer_width` must be a number, but here stands text", "a number without quotation marks");
        assert_eq!(problem, "outer width must be a number, and here stand words");
        assert_eq!(accepted, "a number, such as 12 or 0.5");
        let (_, accepted) =
            on_screen("`rating` must be a table, but here stands text", "a table under [rating], or in braces");
        assert_eq!(accepted, "a value in each of its entries, or in none");
    }
}
