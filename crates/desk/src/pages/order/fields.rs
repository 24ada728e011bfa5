//! What the form asks for, grouped as a person measures.

use catalog::{Catalog, LoadInput, LoadMeasure, Measurand};

use super::written::field_name;

/// Readings that are taken together.
pub(super) struct Group {
    /// Its heading.
    pub words: &'static str,
    /// What is measured, in the order in which one goes along the part.
    pub measurands: &'static [Measurand],
}

/// The readings, as a person goes about them.
pub(super) const GROUPS: [Group; 7] = {
    use Measurand as M;
    [
        Group {
            words: "Both shafts, from the wheel face",
            measurands: &[M::OverallLength, M::BrakeOffset, M::ShoulderDistance, M::RaceDistance, M::ShoulderToEnd],
        },
        Group {
            words: "Housing",
            measurands: &[
                M::Reach,
                M::HalfWidth,
                M::HousingWidth,
                M::FaceToFace,
                M::HousingBoreDiameter,
                M::HousingBoreDepth,
                M::TrappedThickness,
                M::BoltRectangleLong,
                M::BoltRectangleShort,
                M::BoltRectangleDiagonal,
                M::HousingBoltHole,
            ],
        },
        Group {
            words: "Flange and its pilots",
            measurands: &[
                M::FlangeDiameter,
                M::FlangeThickness,
                M::RegisterDiameter,
                M::RegisterHeight,
                M::WheelPilotDiameter,
                M::WheelPilotHeight,
            ],
        },
        Group { words: "Drum, rotor and wheel", measurands: &[M::DrumBore, M::DrumInside, M::WheelBore] },
        Group {
            words: "Wheel bolt circle",
            measurands: &[
                M::HoleCount,
                M::BoltCircle,
                M::ChordAdjacent,
                M::ChordAlternate,
                M::ChordOpposite,
                M::EdgeGap,
                M::EdgeSpan,
                M::CentreToFarEdge,
                M::StudHole,
                M::KnurlDiameter,
            ],
        },
        Group {
            words: "Bearing and its seats",
            measurands: &[
                M::JournalDiameter,
                M::RingSeatDiameter,
                M::SealJournalDiameter,
                M::BearingBore,
                M::BearingOutside,
                M::BearingInnerWidth,
                M::BearingOuterWidth,
            ],
        },
        Group {
            words: "Spline",
            measurands: &[M::ToothCount, M::SplineMajorDiameter, M::SplineOverPins, M::SplineContactLength],
        },
    ]
};

/// Where a reading stands on the form.
pub(crate) fn place_on_the_form(measurand: Measurand) -> usize {
    let mut all = GROUPS.iter().flat_map(|group| group.measurands);
    all.position(|one| *one == measurand).unwrap_or(usize::MAX)
}

/// How a field is filled in.
pub(super) enum Control {
    /// Free text; what it could look like.
    Text(&'static str),
    /// One of these: what the sheet says, and in words.
    Choice(Vec<(String, String)>),
}

/// One field that is no reading.
pub(super) struct Field {
    /// Its name in the form.
    pub name: String,
    /// What it is called.
    pub words: String,
    /// How it is filled in.
    pub control: Control,
}

fn text(section: &str, key: &str, words: &str, like: &'static str) -> Field {
    Field { name: field_name(section, key), words: words.to_owned(), control: Control::Text(like) }
}

fn choice(section: &str, key: &str, words: &str, options: &[(&str, &str)]) -> Field {
    let options = options.iter().map(|(value, words)| ((*value).to_owned(), (*words).to_owned())).collect();
    Field { name: field_name(section, key), words: words.to_owned(), control: Control::Choice(options) }
}

fn row<'n>(section: &str, key: &str, words: &str, names: impl Iterator<Item = &'n str>) -> Field {
    let mut options: Vec<(String, String)> = names.map(|name| (name.to_owned(), name.to_owned())).collect();
    options.dedup();
    Field { name: field_name(section, key), words: words.to_owned(), control: Control::Choice(options) }
}

/// What the order is for.
pub(super) fn order_fields(catalog: &Catalog) -> Vec<Field> {
    vec![
        text("order", "reference", "Reference of the shop", "Q-0131"),
        text("order", "axle", "Axle, as its owner calls it", "stout housing, drums"),
        choice(
            "order",
            "use",
            "Use of the vehicle",
            &[("street", "street"), ("tow", "tow"), ("off-road", "off-road"), ("competition", "competition")],
        ),
        choice("order", "unit", "Unit of numbers without one", &[("in", "inches"), ("mm", "millimetres")]),
        choice(
            "order",
            "sides",
            "Shafts wanted",
            &[("left, right", "left and right"), ("left", "left only"), ("right", "right only")],
        ),
        row("order", "differential", "Differential", catalog.differentials.iter().map(|row| row.name.as_str())),
        text("order", "note", "Note", ""),
    ]
}

const YES_NO: [(&str, &str); 2] = [("true", "yes"), ("false", "no")];
const WHO_FITS: [(&str, &str); 2] = [("shop", "the shop"), ("customer", "the customer")];

/// What is known or claimed of the parts, by heading.
pub(super) fn part_fields(catalog: &Catalog) -> Vec<(&'static str, Vec<Field>)> {
    vec![
        (
            "Bearing and housing end",
            vec![
                row("bearing", "row", "Bearing", catalog.bearings.iter().map(|row| row.name.as_str())),
                choice("bearing", "kind", "Kind of bearing", &[("ball", "ball"), ("tapered", "tapered roller")]),
                row("housing_end", "row", "Housing end", catalog.housing_ends.iter().map(|row| row.name.as_str())),
                choice(
                    "brake",
                    "retainer",
                    "What holds the bearing",
                    &[("plate", "retainer plate"), ("caliper bracket", "caliper bracket")],
                ),
            ],
        ),
        (
            "Brake",
            vec![
                row("brake", "row", "Brake", catalog.brakes.iter().map(|row| row.name.as_str())),
                choice("brake", "kind", "Kind of brake", &[("drum", "drum"), ("disc", "disc")]),
                choice("brake", "changed", "Another brake than the old shafts carried", &YES_NO),
                text("brake", "required_offset", "Brake offset its maker asks for", "2.36 in or 60 mm"),
                choice("brake", "bracket_sent_in", "Caliper bracket comes with the order", &YES_NO),
            ],
        ),
        (
            "Studs, flange and spline",
            vec![
                text("stud", "thread", "Stud thread", "1/2-20 or M12x1.5"),
                text("stud", "hole", "Stud hole wanted", "0.606 in or 15.4 mm"),
                text("flange", "access_hole", "Access hole", "1 in, 25 mm or none"),
                text("flange", "access_hole_circle", "Circle of the access hole", ""),
                row("spline", "series", "Spline series", catalog.splines.iter().map(|row| row.name.as_str())),
            ],
        ),
        (
            "Who fits what",
            vec![
                choice("fitting", "bearings", "Bearings and lock rings are pressed on by", &WHO_FITS),
                choice("fitting", "studs", "Studs are pressed in by", &WHO_FITS),
            ],
        ),
    ]
}

/// What the shafts will carry and what they are made of.
pub(super) fn load_fields(catalog: &Catalog) -> Vec<Field> {
    let mut fields: Vec<Field> = LoadInput::all()
        .map(|input| {
            let like = match input.measure() {
                LoadMeasure::Mass => "1850 lb or 840 kg",
                LoadMeasure::Torque => "300 lb·ft or 410 N·m",
                LoadMeasure::Distance => "100000 mi or 160000 km",
                LoadMeasure::Stress => "120 ksi or 830 MPa",
                LoadMeasure::SignedLength => "+1/2 in or +12 mm",
                LoadMeasure::Length => "a size",
                LoadMeasure::Number => "a number",
            };
            text(input.section(), input.key(), input.words(), like)
        })
        .collect();
    fields.push(text("lock_ring", "bore", "bore of the lock ring in hand", "1.526 in or 38.75 mm"));
    fields.push(row("steel", "grade", "grade of the steel", catalog.steels.iter().map(|row| row.grade.as_str())));
    let mut treatments: Vec<&str> = catalog.steels.iter().map(|row| row.treatment.as_str()).collect();
    treatments.sort_unstable();
    fields.push(row("steel", "treatment", "its heat treatment", treatments.into_iter()));
    fields.push(choice("steel", "hardening", "hard case", &[("induction", "by induction"), ("none", "none")]));
    fields
}

/// What a field is called in a sentence: `left overall length`, `instrument of the left overall length`.
pub(super) fn called(name: &str, catalog: &Catalog) -> String {
    let parts: Vec<&str> = name.split('.').collect();
    match parts.as_slice() {
        ["r", section, key, rest @ ..] => {
            let words = Measurand::from_key(key).map_or(*key, |measurand| catalog.measurand(measurand).words.as_str());
            let side = if *section == "shared" { String::new() } else { format!("{section} ") };
            let which = match rest.first() {
                Some(&"0") | None => String::new(),
                Some(entry) => entry.parse::<usize>().map_or(String::new(), |entry| format!(", reading {}", entry + 1)),
            };
            match rest.get(1) {
                Some(&"pin") => format!("pins of the {side}{words}{which}"),
                Some(&"taken_as") => format!("correction of the {side}{words}{which}"),
                Some(&"taken_by") => format!("who corrected the {side}{words}{which}"),
                Some(&"confirmed_by") => format!("who confirmed the correction of the {side}{words}{which}"),
                Some(property) => format!("{property} of the {side}{words}{which}"),
                None => format!("{side}{words}{which}"),
            }
        }
        ["f", section, key] => {
            let parts = part_fields(catalog).into_iter().flat_map(|(_, fields)| fields);
            let mut all = order_fields(catalog).into_iter().chain(parts).chain(load_fields(catalog));
            all.find(|field| field.name == name).map_or_else(
                || format!("{} of {}", key.replace('_', " "), section.replace('_', " ")),
                |field| {
                    let mut letters = field.words.chars();
                    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
                },
            )
        }
        _ => name.to_owned(),
    }
}
