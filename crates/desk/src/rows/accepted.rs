//! What an entry of a form takes: its unit and how it is written, and the faults of a file in the words of the screen.

use quantity::{LengthExt, read_length};

use super::kinds::{Field, Shape};

/// What a size of a part looks like; every size carries its unit.
const SIZE: &str = "a size with its unit, such as 1 9/16\", 1.5625 in or 40 mm";
/// What a play or a step between two parts looks like.
const STEP: &str = "a size with its unit, such as 1/16\", 0.060 in or 1.5 mm";
/// What a spread or a tolerance looks like.
const SPREAD: &str = "a size with its unit, such as 0.002 in or 0.05 mm";
/// What the bounds of a hole and of the knurl in it look like.
const KNURL: &str = "two sizes with their unit, such as 0.490 in and 0.495 in, or 12.45 mm and 12.60 mm";
/// What the bounds of an interference look like.
const INTERFERENCE: &str = "two sizes with their unit, such as 0.0005 in and 0.0015 in, or 0.013 mm and 0.038 mm";

/// Sizes up to this many millimetres are spreads, and up to that many they are steps.
const MOST_OF_A_SPREAD_MM: f64 = 0.5;
const MOST_OF_A_STEP_MM: f64 = 6.0;

/// What a form says of numbers that have a unit or bounds.
const NUMBERS: [(&str, &str); 16] = [
    ("weight", "a number without unit: 4 is met twice as often as 2"),
    ("pressure_angle", "a number in degrees, such as 30"),
    ("tensile_strength", "a number in MPa, such as 1000 (145 ksi)"),
    ("yield_strength", "a number in MPa, such as 850 (123 ksi)"),
    ("effort_minutes", "a number in minutes, such as 5"),
    ("rate", "a share from 0 to 0.2: 0.01 is one reading in a hundred"),
    ("together", "a share from 0 to 0.2: 0.01 is one order in a hundred"),
    ("holes", "a whole number, such as 5"),
    ("dynamic_kn", "a number in kN, such as 30.7 (6900 lbf)"),
    ("static_kn", "a number in kN, such as 17.8 (4000 lbf)"),
    ("launch_metres", "a number in m, such as 15 (49 ft)"),
    ("case_hardness", "a number in HRC, such as 52"),
    ("f0", "a number without unit, such as 14"),
    ("e", "a number without unit, such as 0.37"),
    ("y", "a number without unit, such as 1.6"),
    ("y0", "a number without unit, such as 0.9"),
];

/// What a form says of texts that are no size.
const TEXTS: [(&str, &str); 11] = [
    ("source", "a publication with its edition, one of the fixed phrases, or shop: and your own words"),
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

/// Keys of the rows that hold one size each, with what it looks like.
const SIZES: [(&str, &str); 20] = [
    ("bore", SIZE),
    ("outside", "a size with its unit, such as 3.15 in or 80 mm"),
    ("inner_width", "a size with its unit, such as 0.71 in or 18 mm"),
    ("outer_width", "a size with its unit, such as 0.71 in or 18 mm"),
    ("width_deviation", SPREAD),
    ("bolt_rectangle_long", "a size with its unit, such as 3 5/32\", 3.150 in or 80 mm"),
    ("bolt_rectangle_short", "a size with its unit, such as 2\", 2.000 in or 50.8 mm"),
    ("bolt_hole", "a size with its unit, such as 3/8\", 0.375 in or 9.5 mm"),
    ("bore_diameter", "a size with its unit, such as 3.15 in or 80 mm"),
    ("diameter", "a size with its unit, such as 4 1/2\", 4.5 in or 114.3 mm"),
    ("required_offset", "a size with its unit, such as 2 23/64\", 2.36 in or 60 mm"),
    ("inside", "a size with its unit, such as 10\", 10.0 in or 254 mm"),
    ("standard_uncertainty", SPREAD),
    ("half_width", SPREAD),
    ("half_width_per_metre", SPREAD),
    ("step", "a size with its unit, such as 1/16\", 0.001 in or 1 mm"),
    ("repeatability", SPREAD),
    ("set_up", SPREAD),
    ("spread", SPREAD),
    ("undersize", SPREAD),
];

/// Whether a key holds words, which are no size even where they could be read as one: the steel `300M`.
pub(super) fn holds_words(key: &str) -> bool {
    key != "module" && TEXTS.iter().any(|(known, _)| *known == key)
}

/// Unit and form of what an entry takes; none where its description says everything. `sample` is a value that stands or stood there.
pub(crate) fn accepted_form(field: &Field, sample: &str) -> Option<&'static str> {
    let of =
        |table: &[(&str, &'static str)]| table.iter().find(|(known, _)| *known == field.key).map(|(_, words)| *words);
    match field.shape {
        Shape::Number => Some(of(&NUMBERS).unwrap_or("a number without unit")),
        Shape::Text => match of(&SIZES) {
            // From tape to micrometer steps and spreads differ a thousandfold.
            Some(own) if own != SPREAD && field.key != "step" => Some(own),
            own => of(&TEXTS).or_else(|| size_like(sample)).or(own),
        },
        Shape::NumberOrText => Some(
            "a number, or with its unit where it has one, such as 1850 lb or 840 kg, 320 lb·ft or 430 N·m, 2.5 in or 64 mm",
        ),
        Shape::Spread => Some("a size with its unit in each, such as 0.075 in and 0.002 in, or 1.9 mm and 0.05 mm"),
        Shape::Range if matches!(field.key, "accepted" | "usual") => Some(
            "two sizes with their unit, such as 20 in and 45 in, or 500 mm and 1150 mm; of a count two whole numbers",
        ),
        Shape::Range if matches!(field.key, "knurl" | "hole") => Some(KNURL),
        Shape::Range => Some(INTERFERENCE),
        Shape::List => Some("one a line"),
        Shape::Entries => Some("one a line, as in: teeth = 28, weight = 6"),
        Shape::Shares => Some("one a line, as in: rusty = 0.1"),
        Shape::Words => Some("words, in whole sentences where they are read as such"),
        Shape::Choice(_) | Shape::Flag | Shape::Part(_) => None,
    }
}

/// What a size of the same order looks like as one that stands or stood there; none where that is no size.
fn size_like(sample: &str) -> Option<&'static str> {
    let bare = sample.trim_start_matches(['+', '-', '−']);
    let size = read_length(bare, None).ok()?.value().millimetres();
    Some(if size <= MOST_OF_A_SPREAD_MM {
        SPREAD
    } else if size <= MOST_OF_A_STEP_MM {
        STEP
    } else {
        SIZE
    })
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
    use quantity::{LengthExt, read_length};

    use super::{accepted_form, on_screen};
    use crate::rows::{Field, KINDS, Layers, Shape};

    #[test]
    fn every_entry_says_its_unit_or_form_unless_it_is_chosen() {
        for kind in &KINDS {
            for field in kind.fields {
                let chosen = matches!(field.shape, Shape::Choice(_) | Shape::Flag | Shape::Part(_));
                assert_eq!(accepted_form(field, "").is_none(), chosen, "{} of {}", field.key, kind.words);
            }
        }
    }

    /// The first size that a hint gives as an example, in millimetres.
    fn example_mm(hint: &str) -> f64 {
        let example = hint.split_once("such as ").unwrap().1;
        let first = example.split([',', ';']).next().unwrap().split(" or ").next().unwrap();
        read_length(first.split(" and ").next().unwrap(), None).unwrap().value().millimetres()
    }

    #[test]
    fn the_examples_of_sizes_are_of_the_order_of_the_shipped_ones_and_in_both_units() {
        for kind in &KINDS {
            let rows = Layers::of(kind, &[]).rows;
            for field in kind.fields.iter().filter(|field| matches!(field.shape, Shape::Text | Shape::Range)) {
                let texts: Vec<&str> = rows.iter().filter_map(|row| row.text(field.key)).collect();
                for text in texts.iter().copied().chain([""]) {
                    let hint = accepted_form(field, text).unwrap_or_default();
                    if !hint.contains("with its unit") && !hint.contains("with their unit") {
                        continue;
                    }
                    assert!(hint.contains(" mm") && hint.contains(" in"), "{}: {hint}", field.key);
                    let size = read_length(text, None).map_or(0.0, |written| written.value().millimetres());
                    if size <= 0.0 {
                        continue;
                    }
                    let times = example_mm(hint) / size;
                    assert!((0.01..=100.0).contains(&times), "{} of {}: {size} mm, {hint}", field.key, kind.words);
                }
            }
        }
        let width_deviation = KINDS.iter().flat_map(|kind| kind.fields).find(|field| field.key == "width_deviation");
        assert!(example_mm(accepted_form(width_deviation.unwrap(), "").unwrap()) < 0.1);
    }

    #[test]
    fn a_hint_of_the_settings_follows_the_size_that_stands_there() {
        let field = Field { key: "least", shape: Shape::Text, optional: false, column: true };
        let of = |sample| example_mm(accepted_form(&field, sample).unwrap());
        assert!(of("0.002\"") < 0.1 && of("-1/16\"") < 2.0 && of("45 mm") > 30.0);
        assert_eq!(accepted_form(&field, "4340"), None);
        let grade = Field { key: "grade", ..field };
        assert_eq!(accepted_form(&grade, "300M"), Some("a few words, such as 4340 or 1541H"));
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
