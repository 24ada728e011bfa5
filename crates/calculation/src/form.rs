//! A calculation filled in field by field: what its fields are, and what is said when one cannot be used.

use catalog::Catalog;
use clap::Arg;
use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::parser::ValueSource;
use quantity::capitalised;

use super::calculator::Calculator;
use super::{Calculation, Refusal, Refusals, key_in_words};

/// What was filled in: the argument's name with underscores, and the text.
pub type Fields = Vec<(String, String)>;

/// One field of a form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Field {
    /// The argument's name, with underscores.
    pub id: String,
    /// What stands beside it.
    pub label: String,
    /// What it is, out of the help of the command line.
    pub help: String,
    /// How a value looks; empty where the choices say it.
    pub shape: &'static str,
    /// The values it takes, where they are fixed.
    pub choices: Choices,
    /// Whether nothing can be computed without it.
    pub required: bool,
}

/// The values that a field takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Choices {
    /// Whatever can be read.
    Free,
    /// One of these; each with the words that are shown.
    Words(Vec<(String, String)>),
}

/// An example of a calculation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Example {
    /// What it shows.
    pub words: String,
    /// The fields as they are filled in.
    pub fields: Fields,
    /// The same on the command line.
    pub command_line: String,
}

/// Arguments that take one of some words: calculation, argument, words.
const FIXED: &[(&str, &str, &[&str])] = &[
    ("spline", "angle", &["30", "37.5", "45"]),
    ("spline", "root", &["fillet", "flat"]),
    ("spline", "fit", &["side", "major-diameter"]),
    ("spline", "class", &["4", "5", "6", "7"]),
    ("spline", "deviation", &["d", "e", "f", "h"]),
    ("fit", "finish", &["ground", "turned"]),
    ("bolt_circle", "edges_of", &["adjacent", "alternate", "opposite"]),
    ("bearing", "kind", &["ball", "tapered"]),
    ("bearing", "reliability", &["90", "95", "96", "97", "98", "99"]),
    ("bearing", "edition", &["1990", "2007"]),
    ("stud", "grade", &["2", "5", "8", "8.8", "10.9", "12.9"]),
];

/// Labels of arguments whose name alone says too little.
const LABELS: &[(&str, &str)] = &[
    ("f0", "Factor f0"),
    ("e", "Limit e"),
    ("y", "Factor Y"),
    ("y0", "Static factor Y0"),
    ("dynamic", "Dynamic rating"),
    ("static_rating", "Static rating"),
    ("hole", "Diameter of a hole"),
    ("poisson", "Poisson's ratio"),
    ("hub_poisson", "Poisson's ratio of the hub"),
];

/// How values look, by the name that the help gives them.
const SHAPES: &[(&str, &str)] = &[
    ("LENGTH", "1.5625 in, 1 9/16\" or 39.7 mm"),
    ("FORCE", "4.0 kN or 900 lbf"),
    ("STRESS", "830 MPa or 120 ksi"),
    ("MODULUS", "207 GPa or 30 Mpsi"),
    ("DISTANCE", "160000 km or 100000 mi"),
    ("P/2P", "24/48"),
    ("MODULE", "1.25 mm"),
    ("COUNT", "a whole number"),
    ("THREAD", "1/2-20 or M12x1.5"),
    ("SIZE [ZONES]", "40 H7/m6 or 1.5625 in H7/m6"),
    ("FRICTION", "0.10 0.20 (least and most, without unit)"),
    ("RATIO", "0.29 (without unit)"),
    ("FACTOR", "a number without unit"),
    ("LIMIT", "0.37 (without unit)"),
    ("SHARE", "0.75 (1 is all of it)"),
    ("REVOLUTIONS", "700 (a minute)"),
];

const PIN: &str = "0.080 in or 2 mm";
const SMALL: &str = "0.002 in or 0.05 mm";
const THICKNESS: &str = "0.44 in or 11 mm";

/// How the values of some arguments look where the name that the help gives them says too little of their order of size:
/// calculation, argument, words.
const OWN_SHAPES: &[(&str, &str, &str)] = &[
    ("spline", "pin", PIN),
    ("spline", "reference_diameter", "40 mm"),
    ("spline", "length", "1 1/2\" or 38 mm"),
    ("spline", "hub_pin", PIN),
    ("spline_identification", "pin", PIN),
    ("spline_identification", "uncertainty", SMALL),
    ("spline_identification", "tip_wear", SMALL),
    ("spline_identification", "flank_wear", SMALL),
    ("fit", "interference", SMALL),
    ("fit", "assembly_clearance", SMALL),
    ("bolt_circle", "hole", "1/2\" or 12 mm"),
    ("bolt_circle", "uncertainty", SMALL),
    ("bearing", "tyre_radius", "13 in or 330 mm"),
    ("stud", "circle", "4 1/2\" or 114.3 mm"),
    ("stud", "knurl", "0.62 in or 15.7 mm"),
    ("stud", "flange", THICKNESS),
    ("stud", "drum", "0.10 in or 2.5 mm"),
    ("stud", "wheel", THICKNESS),
    ("stud", "nut", THICKNESS),
    ("stud", "friction", "0.15 (without unit)"),
    ("stud", "scatter", "0.25 (1 is all of it)"),
    ("stud", "nut_factor", "0.20 (without unit)"),
];

impl Calculator {
    /// A field by the name of its argument.
    #[must_use]
    pub fn field(&self, id: &str, catalog: &Catalog) -> Option<Field> {
        let command = (self.command)();
        let arg = command.get_arguments().find(|arg| arg.get_id() == id)?;
        Some(Field {
            id: id.to_owned(),
            label: label(id),
            help: self.in_labels(&arg.get_help().map(ToString::to_string).unwrap_or_default()),
            shape: self.shape(arg),
            choices: self.choices(id, catalog),
            required: arg.is_required_set(),
        })
    }

    /// The names of its fields, in the order of the form.
    pub fn field_ids(&self) -> impl Iterator<Item = &'static str> {
        self.groups.iter().flat_map(|group| group.fields.iter().copied())
    }

    fn choices(&self, id: &str, catalog: &Catalog) -> Choices {
        let same = |name: &str| (name.to_owned(), name.to_owned());
        if id == "unit" {
            let words = [("in", "inch"), ("mm", "millimetre")];
            return Choices::Words(words.map(|(value, shown)| (value.to_owned(), shown.to_owned())).to_vec());
        }
        if self.key == "bearing" && id == "bearing" {
            let rated = catalog.bearings.iter().filter(|row| row.rating.is_some());
            return Choices::Words(rated.map(|row| same(&row.name)).collect());
        }
        if self.key == "bolt_circle" && id == "instrument" {
            return Choices::Words(catalog.instruments.iter().map(|row| same(&row.name)).collect());
        }
        FIXED
            .iter()
            .find(|(key, name, _)| *key == self.key && *name == id)
            .map_or(Choices::Free, |(_, _, words)| Choices::Words(words.iter().map(|word| same(word)).collect()))
    }

    /// Computes what was filled in. Empty fields count as left out.
    ///
    /// # Errors
    ///
    /// Every field that cannot be used.
    pub fn compute(&self, fields: &[(String, String)], catalog: &Catalog) -> Result<Calculation, Refusals> {
        let command = (self.command)();
        let mut words = Vec::new();
        let mut behind = Vec::new();
        words.extend(self.always.map(|switch| format!("--{switch}")));
        for (id, text) in fields {
            let text = text.trim();
            if text.is_empty() || !self.field_ids().any(|known| known == id) {
                continue;
            }
            let Some(arg) = command.get_arguments().find(|arg| arg.get_id() == id.as_str()) else { continue };
            match arg.get_long() {
                // One word with its option, so that no text can pass for another option.
                Some(long) => words.push(format!("--{long}={text}")),
                None => behind.push(text.to_owned()),
            }
        }
        if !behind.is_empty() {
            words.push("--".to_owned());
            words.extend(behind);
        }
        let refused = |error: clap::Error| self.refusals(&error, fields);
        let matches = command.try_get_matches_from(words).map_err(refused)?;
        (self.from_matches)(&matches, catalog).map_err(refused)?
    }

    /// What the command line says of arguments that exclude or need each other, at their fields.
    fn refusals(&self, error: &clap::Error, fields: &[(String, String)]) -> Refusals {
        let named = |kind| match error.get(kind) {
            Some(ContextValue::String(one)) => vec![first_word(one)],
            Some(ContextValue::Strings(several)) => several.iter().map(|one| first_word(one)).collect(),
            _ => Vec::new(),
        };
        let others = named(ContextKind::PriorArg).join(", ");
        let blamed = named(ContextKind::InvalidArg).into_iter().map(|argument| {
            let field = self.field_of(&argument);
            let written = fields.iter().find(|(name, _)| Some(name) == field.as_ref());
            let text = written.map_or_else(String::new, |(_, text)| text.trim().to_owned());
            let (text, problem, accepted) = match error.kind() {
                ErrorKind::ArgumentConflict => {
                    (text, format!("this and {others} exclude each other"), "one of them".to_owned())
                }
                ErrorKind::MissingRequiredArgument => {
                    (String::new(), "this is not given".to_owned(), self.shape_of(field.as_deref()).to_owned())
                }
                _ => (text, "this cannot be used".to_owned(), self.shape_of(field.as_deref()).to_owned()),
            };
            Refusal { argument, at: 0..text.len(), text, problem, accepted }
        });
        let mut refusals: Vec<Refusal> = blamed.collect();
        if refusals.is_empty() {
            refusals.push(Refusal {
                argument: self.subcommand.to_owned(),
                text: String::new(),
                at: 0..0,
                problem: error.kind().as_str().unwrap_or("the fields cannot be used together").to_owned(),
                accepted: "the fields of one of the examples".to_owned(),
            });
        }
        Refusals(refusals)
    }

    /// The field that a refusal speaks of, by the argument that it names; none where it speaks of the whole.
    #[must_use]
    pub fn field_of(&self, argument: &str) -> Option<String> {
        let command = (self.command)();
        let mut arguments = command.get_arguments();
        // Some refusals name two arguments, the first of which stands for both.
        let first = first_word(argument);
        let found = match first.strip_prefix("--") {
            Some(long) => arguments.find(|arg| arg.get_long() == Some(long)),
            // Nominal size and zones share the one field that has no option.
            None => arguments.find(|arg| arg.is_positional() && first != self.subcommand),
        };
        found.map(|arg| arg.get_id().to_string()).filter(|id| self.field_ids().any(|known| known == id))
    }

    fn shape_of(&self, id: Option<&str>) -> &'static str {
        let command = (self.command)();
        let arg = command.get_arguments().find(|arg| Some(arg.get_id().as_str()) == id);
        arg.map_or("", |arg| self.shape(arg))
    }

    /// How a value of an argument looks.
    fn shape(&self, arg: &Arg) -> &'static str {
        let id = arg.get_id().as_str();
        let name = value_name(arg);
        let own = OWN_SHAPES.iter().find(|(key, known, _)| *key == self.key && *known == id);
        own.map(|(_, _, words)| *words)
            .or_else(|| SHAPES.iter().find(|(known, _)| *known == name).map(|(_, words)| *words))
            .unwrap_or("")
    }

    /// A text with the labels of this form for the options of the command line.
    #[must_use]
    pub fn in_labels(&self, text: &str) -> String {
        let command = (self.command)();
        let mut out = String::with_capacity(text.len());
        let mut rest = text;
        while let Some(at) = rest.find("--") {
            let (before, option) = rest.split_at(at);
            out.push_str(before);
            let name = option.trim_start_matches("--");
            let end = name.find(|c: char| !(c.is_ascii_alphanumeric() || c == '-')).unwrap_or(name.len());
            let (name, behind) = name.split_at(end);
            match command.get_arguments().find(|arg| arg.get_long() == Some(name)) {
                Some(arg) => out.push_str(&format!("\u{201c}{}\u{201d}", label(arg.get_id().as_str()))),
                None => out.push_str(&format!("--{name}")),
            }
            rest = behind;
        }
        out.push_str(rest);
        out
    }

    /// The examples of the command line's help that this form can show.
    #[must_use]
    pub fn examples(&self) -> Vec<Example> {
        let mut lines = self.examples.lines().map(str::trim);
        let mut examples = Vec::new();
        let start = format!("axlewright {} ", self.subcommand);
        while let Some(line) = lines.next() {
            let Some(words) = line.strip_prefix(&start) else { continue };
            let Some(fields) = self.fields_of(words) else { continue };
            let words = lines.next().unwrap_or_default().to_owned();
            examples.push(Example { words: self.in_labels(&words), fields, command_line: line.to_owned() });
        }
        examples
    }

    /// A command line as the fields of this form; none where the form has not all of them.
    fn fields_of(&self, words: &str) -> Option<Fields> {
        let command = (self.command)();
        let matches = command.clone().try_get_matches_from(words.split_whitespace()).ok()?;
        let given = |id: &str| matches.value_source(id) == Some(ValueSource::CommandLine);
        if self.always.is_some_and(|switch| !given(switch)) {
            return None;
        }
        let mut fields = Fields::new();
        for arg in command.get_arguments().filter(|arg| given(arg.get_id().as_str())) {
            let id = arg.get_id().as_str();
            if self.always == Some(id) {
                continue;
            }
            self.field_ids().find(|known| *known == id)?;
            let text: Vec<String> = matches.get_raw(id)?.map(|word| word.to_string_lossy().into_owned()).collect();
            fields.push((id.to_owned(), text.join(" ")));
        }
        Some(fields)
    }
}

fn first_word(usage: &str) -> String {
    usage.split_whitespace().next().unwrap_or_default().trim_matches(['<', '>']).to_owned()
}

fn label(id: &str) -> String {
    if let Some((_, symbol)) = LABELS.iter().find(|(known, _)| *known == id) {
        return (*symbol).to_owned();
    }
    capitalised(&key_in_words(id))
}

fn value_name(arg: &Arg) -> String {
    arg.get_value_names().and_then(|names| names.first()).map(ToString::to_string).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use catalog::Catalog;

    use super::super::{CALCULATORS, calculator};
    use super::{Choices, FIXED, Fields};

    fn fields(filled: &[(&str, &str)]) -> Fields {
        filled.iter().map(|(id, text)| ((*id).to_owned(), (*text).to_owned())).collect()
    }

    #[test]
    fn every_field_is_an_argument_and_every_argument_is_in_a_form() {
        let catalog = Catalog::shipped().unwrap();
        for calculator in &CALCULATORS {
            for id in calculator.field_ids() {
                let field = calculator.field(id, &catalog).unwrap_or_else(|| panic!("{} has no {id}", calculator.key));
                assert!(!field.label.is_empty() && !field.help.is_empty(), "{id}");
            }
            for arg in (calculator.command)().get_arguments() {
                let id = arg.get_id().as_str();
                let with_same = CALCULATORS.iter().filter(|other| other.subcommand == calculator.subcommand);
                let mut forms = with_same.filter(|form| form.always == Some(id) || form.field_ids().any(|f| f == id));
                assert!(forms.next().is_some(), "no form of {} takes {id}", calculator.subcommand);
            }
        }
    }

    #[test]
    fn every_fixed_word_is_accepted_by_its_calculation() {
        let catalog = Catalog::shipped().unwrap();
        for (key, id, words) in FIXED {
            let calculator = calculator(key).unwrap();
            for word in *words {
                // Deviations are those of the metric standard, which a module asks for.
                let mut filled = vec![(*id, *word)];
                filled.extend((*id == "deviation").then_some(("module", "1.25")));
                let refused = calculator.compute(&fields(&filled), &catalog).unwrap_err();
                for refusal in refused.iter() {
                    // A stud's grade belongs to a kind of thread, which is not given here.
                    assert_ne!(calculator.field_of(&refusal.argument).as_deref(), Some(*id), "{word}: {refusal:?}");
                }
            }
        }
    }

    #[test]
    fn what_the_hint_of_a_field_shows_is_accepted_in_it() {
        let catalog = Catalog::shipped().unwrap();
        for calculator in &CALCULATORS {
            for id in calculator.field_ids() {
                let field = calculator.field(id, &catalog).unwrap();
                // Kinds of numbers are told in words, which nobody types.
                if field.shape.is_empty() || matches!(field.shape, "a number without unit" | "a whole number") {
                    continue;
                }
                // What stands in brackets says what the number is.
                let samples = field.shape.split(" (").next().unwrap().replace(" or ", ", ");
                let has_unit = samples.chars().any(char::is_alphabetic) || samples.contains(['"', '/']);
                assert!(has_unit || field.shape.contains(" ("), "{} {id}: {}", calculator.key, field.shape);
                for sample in samples.split(", ") {
                    // What goes with it is missing, which is said of other fields, or of this one without its text.
                    let refused = match calculator.compute(&fields(&[(id, sample)]), &catalog) {
                        Ok(_) => continue,
                        Err(refused) => refused,
                    };
                    for refusal in
                        refused.iter().filter(|one| calculator.field_of(&one.argument).as_deref() == Some(id))
                    {
                        let of_another = [
                            "has no meaning for",
                            "this has no use",
                            "the catalog has",
                            "zones and a measured",
                            "no size over pins",
                            "gap and span",
                        ];
                        let needs_another = of_another.iter().any(|words| refusal.problem.contains(words));
                        assert!(
                            refusal.text.is_empty() || needs_another,
                            "{} {id} {sample}: {refusal:?}",
                            calculator.key
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn the_examples_of_the_help_come_out_of_the_form_as_on_the_command_line() {
        let catalog = Catalog::shipped().unwrap();
        for calculator in &CALCULATORS {
            let examples = calculator.examples();
            assert!(!examples.is_empty(), "{}", calculator.key);
            for example in examples {
                let words = example.command_line.split_whitespace().skip(2);
                let matches = (calculator.command)().try_get_matches_from(words).unwrap();
                let by_command_line = (calculator.from_matches)(&matches, &catalog).unwrap().unwrap();
                assert_eq!(calculator.compute(&example.fields, &catalog).unwrap(), by_command_line);
                assert!(!example.words.is_empty());
            }
        }
    }

    #[test]
    fn faults_are_placed_at_their_fields_and_no_text_passes_for_an_option() {
        let catalog = Catalog::shipped().unwrap();
        let spline = calculator("spline").unwrap();
        let both = fields(&[("teeth", "30"), ("pitch", "24/48"), ("module", "1.25")]);
        let refused = spline.compute(&both, &catalog).unwrap_err();
        let places: Vec<_> = refused.iter().map(|refusal| spline.field_of(&refusal.argument)).collect();
        assert!(places.iter().all(Option::is_some), "{refused:?}");
        let circle = calculator("bolt_circle").unwrap();
        for hostile in ["--help", "-h", "--", "-1", "NaN", "1e999", "\u{0}", "\u{202e}5", "inf", "5 --hole 3"] {
            let refused =
                circle.compute(&fields(&[("holes", hostile), ("adjacent", "2.793 in")]), &catalog).unwrap_err();
            assert!(
                refused.iter().all(|refusal| circle.field_of(&refusal.argument).is_some()),
                "{hostile}: {refused:?}"
            );
        }
        let missing = circle.compute(&fields(&[("adjacent", "2.793 in")]), &catalog).unwrap_err();
        let first = missing.iter().next().unwrap();
        assert_eq!(circle.field_of(&first.argument).as_deref(), Some("holes"));
        assert!(first.text.is_empty() && !first.accepted.is_empty());
    }

    #[test]
    fn texts_speak_of_labels_instead_of_options() {
        let bearing = calculator("bearing").unwrap();
        assert_eq!(
            bearing.in_labels("give --tyre-radius, or --e"),
            "give \u{201c}Tyre radius\u{201d}, or \u{201c}Limit e\u{201d}"
        );
        let catalog = Catalog::shipped().unwrap();
        let named = bearing.field("bearing", &catalog).unwrap();
        assert!(matches!(named.choices, Choices::Words(names) if !names.is_empty()));
    }
}
