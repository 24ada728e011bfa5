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
    let words: Vec<String> = heading
        .to_lowercase()
        .split(|one: char| one.is_whitespace() || matches!(one, '.' | '_' | '-'))
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect();
    let whole = words.join("_");
    match whole.as_str() {
        "customer" => return Ok(Place::Customer),
        "contact" => return Ok(Place::Contact),
        "vehicle" => return Ok(Place::Vehicle),
        "due" => return Ok(Place::Due),
        _ => {}
    }
    let in_order = whole.strip_prefix("order_").unwrap_or(&whole);
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

fn reading(words: &[String]) -> Option<Place> {
    let side = SIDES.iter().find(|side| words.first().is_some_and(|word| word == *side));
    let behind = if side.is_some() { words.get(1..)? } else { words };
    let part = PARTS.iter().find(|(word, _)| behind.last().is_some_and(|last| last == word));
    let named = if part.is_some() { behind.get(..behind.len() - 1)? } else { behind };
    let measurand = Measurand::from_key(&named.join("_"))?;
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
    fn an_unknown_heading_says_what_may_be_meant() {
        assert_eq!(
            read("overal length").unwrap_err(),
            "the heading `overal length` is not known; perhaps `overall_length` is meant"
        );
    }
}
