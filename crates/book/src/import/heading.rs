//! Headings of a table, and where in a sheet their cells go.

use catalog::Measurand;
use quantity::nearest_word;

/// Where the cells of a column go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Place {
    /// Beside the sheet.
    Customer,
    Contact,
    Vehicle,
    Due,
    /// A key of a section.
    Key {
        section: &'static str,
        key: String,
    },
    /// A reading, or something that tells how it was taken.
    Reading {
        section: &'static str,
        measurand: &'static str,
        part: Part,
    },
}

/// What of a reading a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Part {
    Value,
    Instrument,
    By,
    Pin,
    Conditions,
}

const ORDER_KEYS: [&str; 7] = ["reference", "axle", "use", "unit", "differential", "sides", "note"];
/// Sections whose keys are not readings. What they may hold, the sheet itself knows.
const SECTIONS: [&str; 11] =
    ["fitting", "bearing", "housing_end", "brake", "stud", "spline", "vehicle", "life", "shaft", "steel", "lock_ring"];
const SIDES: [&str; 3] = ["shared", "left", "right"];
const PARTS: [(&str, Part); 4] =
    [("instrument", Part::Instrument), ("by", Part::By), ("pin", Part::Pin), ("conditions", Part::Conditions)];

/// What screens and papers call the readings whose keys are other words; a test holds it against the shipped catalog.
const SCREEN_WORDS: [(&str, &str); 30] = [
    ("shoulder to inner end", "shoulder_to_end"),
    ("length of the wear mark on the spline", "spline_contact_length"),
    ("half width of the housing", "half_width"),
    ("wheel face to wheel face", "face_to_face"),
    ("depth of the bearing bore", "housing_bore_depth"),
    ("thickness trapped under the retainer", "trapped_thickness"),
    ("bearing journal diameter", "journal_diameter"),
    ("lock-ring seat diameter", "ring_seat_diameter"),
    ("bearing outside diameter", "bearing_outside"),
    ("width of the bearing's inner ring", "bearing_inner_width"),
    ("width of the bearing's outer ring", "bearing_outer_width"),
    ("diameter of the bearing bore", "housing_bore_diameter"),
    ("long side of the housing-end bolt rectangle", "bolt_rectangle_long"),
    ("short side of the housing-end bolt rectangle", "bolt_rectangle_short"),
    ("diagonal of the housing-end bolt rectangle", "bolt_rectangle_diagonal"),
    ("housing-end bolt hole", "housing_bolt_hole"),
    ("bore of drum or rotor", "drum_bore"),
    ("inside of drum or rotor hat", "drum_inside"),
    ("wheel bolt circle", "bolt_circle"),
    ("distance between neighbouring studs", "chord_adjacent"),
    ("distance to the next stud but one", "chord_alternate"),
    ("distance to the opposite stud", "chord_opposite"),
    ("gap between neighbouring stud holes", "edge_gap"),
    ("span over neighbouring stud holes", "edge_span"),
    ("hole centre to the far edge of the next but one", "centre_to_far_edge"),
    ("stud hole diameter", "stud_hole"),
    ("number of wheel studs", "hole_count"),
    ("knurl diameter of the stud", "knurl_diameter"),
    ("number of spline teeth", "tooth_count"),
    ("size over two pins", "spline_over_pins"),
];

/// What the form of an order calls its own keys.
const FORM_WORDS: [(&str, &str); 5] = [
    ("reference of the shop", "reference"),
    ("axle as its owner calls it", "axle"),
    ("use of the vehicle", "use"),
    ("unit of numbers without one", "unit"),
    ("shafts wanted", "sides"),
];

/// What headings may be, in words.
pub(crate) const ACCEPTED: &str = "customer, contact, vehicle, due; a key of [order] such as reference, use or sides; a reading \
     such as `left overall length` or `flange_thickness`, alone or with `instrument`, `by`, `pin` or `conditions` behind it; a \
     section and a key such as `stud.thread`";

/// Reads a heading: `Left overall length`, `left.overall_length.instrument`, `stud.thread`.
///
/// # Errors
///
/// It is none that is known; the text says which one may be meant.
pub(crate) fn read(heading: &str) -> Result<Place, String> {
    let words = split(heading);
    let whole = words.join("_");
    match whole.as_str() {
        "customer" => return Ok(Place::Customer),
        "contact" => return Ok(Place::Contact),
        "vehicle" => return Ok(Place::Vehicle),
        "due" => return Ok(Place::Due),
        _ => {}
    }
    let in_order = whole.strip_prefix("order_").unwrap_or(&whole);
    let in_order = FORM_WORDS.iter().find(|(words, _)| split(words) == split(&whole)).map_or(in_order, |(_, key)| *key);
    if let Some(key) = ORDER_KEYS.iter().find(|key| **key == in_order) {
        return Ok(Place::Key { section: "order", key: (*key).to_owned() });
    }
    if let Some(place) = reading(&words) {
        return Ok(place);
    }
    let section = SECTIONS.iter().find(|section| whole.starts_with(&format!("{section}_")));
    if let Some(section) = section {
        return Ok(Place::Key { section, key: whole[section.len() + 1..].to_owned() });
    }
    let known: Vec<&str> = ORDER_KEYS
        .into_iter()
        .chain(catalog::MEASURANDS.iter().map(|(_, key)| *key))
        .chain(["customer", "vehicle"])
        .collect();
    Err(match nearest_word(&whole, known.iter().copied()) {
        Some(near) => format!("the heading `{heading}` is not known; perhaps `{near}` is meant"),
        None => format!("the heading `{heading}` is not known"),
    })
}

/// The words of a heading, without what people write differently between them.
fn split(heading: &str) -> Vec<String> {
    heading
        .to_lowercase()
        .split(|one: char| one.is_whitespace() || matches!(one, '.' | '_' | '-' | ','))
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}

/// The reading that is meant by its key or by what screens call it.
fn measurand(named: &[String]) -> Option<Measurand> {
    let by_words = || SCREEN_WORDS.iter().find(|(words, _)| split(words) == named).map(|(_, key)| *key);
    Measurand::from_key(&named.join("_")).or_else(|| Measurand::from_key(by_words()?))
}

fn reading(words: &[String]) -> Option<Place> {
    let side = SIDES.iter().find(|side| words.first().is_some_and(|word| word == *side));
    let behind = if side.is_some() { words.get(1..)? } else { words };
    let part = PARTS.iter().find(|(word, _)| behind.last().is_some_and(|last| last == word));
    let named = if part.is_some() { behind.get(..behind.len() - 1)? } else { behind };
    let measurand = measurand(named)?;
    Some(Place::Reading {
        section: side.copied().unwrap_or("shared"),
        measurand: measurand.key(),
        part: part.map_or(Part::Value, |(_, part)| *part),
    })
}

#[cfg(test)]
mod tests {
    use super::{Part, Place, read};

    #[test]
    fn a_heading_is_read_however_it_is_spelled() {
        let length = Place::Reading { section: "left", measurand: "overall_length", part: Part::Value };
        assert_eq!(read("Left overall length"), Ok(length.clone()));
        assert_eq!(read("left.overall_length"), Ok(length));
        let instrument = Place::Reading { section: "shared", measurand: "tooth_count", part: Part::Instrument };
        assert_eq!(read("tooth count instrument"), Ok(instrument));
        assert_eq!(read("Stud thread"), Ok(Place::Key { section: "stud", key: "thread".to_owned() }));
        assert_eq!(read("housing_end.row"), Ok(Place::Key { section: "housing_end", key: "row".to_owned() }));
        // `housing_end` is a section, `vehicle` alone stands beside the sheet.
        assert_eq!(read("vehicle"), Ok(Place::Vehicle));
        assert_eq!(read("vehicle mass"), Ok(Place::Key { section: "vehicle", key: "mass".to_owned() }));
        // `stud_hole` is a reading; the section's key has its own name.
        assert!(matches!(read("stud hole"), Ok(Place::Reading { measurand: "stud_hole", .. })));
    }

    #[test]
    fn a_heading_may_be_what_the_screen_calls_it() {
        let catalog = catalog::Catalog::shipped().unwrap();
        for row in &catalog.measurands {
            let key = row.measurand.key();
            for text in [key.to_owned(), row.words.clone(), row.words.to_uppercase()] {
                let place = Place::Reading { section: "left", measurand: key, part: Part::Value };
                assert_eq!(read(&format!("left {text}")), Ok(place), "{text}");
            }
        }
        let teeth = Place::Reading { section: "shared", measurand: "tooth_count", part: Part::Instrument };
        assert_eq!(read("Number of spline teeth, instrument"), Ok(teeth));
        assert_eq!(read("Shafts wanted"), Ok(Place::Key { section: "order", key: "sides".to_owned() }));
        assert_eq!(read("Axle, as its owner calls it"), Ok(Place::Key { section: "order", key: "axle".to_owned() }));
    }

    #[test]
    fn an_unknown_heading_says_what_may_be_meant() {
        assert_eq!(
            read("overal length").unwrap_err(),
            "the heading `overal length` is not known; perhaps `overall_length` is meant"
        );
    }
}
