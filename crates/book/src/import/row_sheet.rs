//! A row of a table, written out as an order sheet.

use std::collections::BTreeMap;

use crate::error::BookError;
use crate::import::RowFault;
use crate::import::heading::{self, Part, Place};
use crate::order::Details;
use crate::reviewed::{MarkedCatalog, ReviewedSheet};

/// One order out of a table: its sheet, and which cell each line of it came from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RowSheet {
    file: String,
    row: usize,
    text: String,
    details: Details,
    /// The heading behind each line of the text.
    columns: Vec<Option<String>>,
}

/// A cell that belongs to a reading: what of it it holds, its heading, its text.
type ReadingCell = (Part, String, String);

/// The columns of a table.
#[derive(Debug)]
pub(crate) struct Columns {
    file: String,
    places: Vec<Option<(String, Place)>>,
}

impl Columns {
    /// Reads the row of headings. A column without a heading is left out if it is empty.
    ///
    /// # Errors
    ///
    /// A heading is not known, stands twice, or `reference` is missing.
    pub fn read(file: &str, headings: &[String]) -> Result<Self, Vec<RowFault>> {
        let fault = |column: Option<&str>, problem: String| RowFault {
            file: file.to_owned(),
            row: 1,
            column: column.map(str::to_owned),
            problem,
            accepted: heading::ACCEPTED.to_owned(),
        };
        let mut faults = Vec::new();
        let mut places: Vec<Option<(String, Place)>> = Vec::new();
        for text in headings {
            let text = text.trim();
            if text.is_empty() {
                places.push(None);
                continue;
            }
            match heading::read(text) {
                Ok(place) if places.iter().flatten().any(|(_, known)| *known == place) => {
                    faults.push(fault(Some(text), "the same thing has a column already".to_owned()));
                }
                Ok(place) => places.push(Some((text.to_owned(), place))),
                Err(problem) => faults.push(fault(Some(text), problem)),
            }
        }
        let reference = Place::Key { section: "order", key: "reference".to_owned() };
        if faults.is_empty() && !places.iter().flatten().any(|(_, place)| *place == reference) {
            faults.push(fault(None, "there is no column `reference`; the first row has to be the headings".to_owned()));
        }
        if faults.is_empty() { Ok(Self { file: file.to_owned(), places }) } else { Err(faults) }
    }

    /// Writes a row out as a sheet; nothing for a row without any text.
    ///
    /// # Errors
    ///
    /// A cell has no heading, a date is none, or a reading has an instrument but no value.
    pub fn sheet(&self, row: usize, cells: &[String]) -> Result<Option<RowSheet>, Vec<RowFault>> {
        let mut details = Details::default();
        let mut sections: BTreeMap<usize, Vec<(String, String)>> = BTreeMap::new();
        let mut readings: BTreeMap<(usize, &'static str), Vec<ReadingCell>> = BTreeMap::new();
        let mut faults = Vec::new();
        let fault = |column: Option<&str>, problem: &str, accepted: &str| RowFault {
            file: self.file.clone(),
            row,
            column: column.map(str::to_owned),
            problem: problem.to_owned(),
            accepted: accepted.to_owned(),
        };
        let mut any = false;
        for (index, cell) in cells.iter().enumerate() {
            let cell = cell.trim();
            if cell.is_empty() {
                continue;
            }
            any = true;
            let Some((heading, place)) = self.places.get(index).and_then(Option::as_ref) else {
                faults.push(fault(None, &format!("the cell `{cell}` has no heading"), "a heading in the first row"));
                continue;
            };
            match place {
                Place::Customer => details.customer = cell.to_owned(),
                Place::Contact => details.contact = cell.to_owned(),
                Place::Vehicle => details.vehicle = cell.to_owned(),
                Place::Due => match cell.parse() {
                    Ok(date) => details.due = Some(date),
                    Err(_) => {
                        faults.push(fault(Some(heading), &format!("`{cell}` is no date"), "a date such as 2026-04-01"))
                    }
                },
                Place::Key { section, key } => sections
                    .entry(rank(section))
                    .or_default()
                    .push((heading.clone(), format!("{key} = {}", value_of_key(key, cell)))),
                Place::Reading { section, measurand, part } => readings
                    .entry((rank(section), measurand))
                    .or_default()
                    .push((*part, heading.clone(), cell.to_owned())),
            }
        }
        for ((section, measurand), mut parts) in readings {
            parts.sort();
            match reading(measurand, &parts) {
                Some(line) => sections.entry(section).or_default().push((parts[0].1.clone(), line)),
                None => {
                    let problem = format!("tells of a reading that has no value: {measurand}");
                    faults.push(fault(Some(&parts[0].1), &problem, "a value in the column of the reading itself"));
                }
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        if !any {
            return Ok(None);
        }
        let mut text = String::new();
        let mut columns = Vec::new();
        for (section, lines) in sections {
            text.push_str(&format!("[{}]\n", SECTIONS[section]));
            columns.push(None);
            for (heading, line) in lines {
                text.push_str(&line);
                text.push('\n');
                columns.push(Some(heading));
            }
        }
        Ok(Some(RowSheet { file: self.file.clone(), row, text, details, columns }))
    }
}

/// The sections, in the order in which they are written.
const SECTIONS: [&str; 15] = [
    "order",
    "fitting",
    "bearing",
    "housing_end",
    "brake",
    "stud",
    "spline",
    "vehicle",
    "life",
    "shaft",
    "steel",
    "lock_ring",
    "shared",
    "left",
    "right",
];

fn rank(section: &str) -> usize {
    SECTIONS.iter().position(|one| *one == section).unwrap_or(0)
}

/// A cell as the value of a key. Lists and truth values are told by their key and words, everything else is text or a number.
fn value_of_key(key: &str, cell: &str) -> String {
    if key == "sides" {
        let both = if cell.eq_ignore_ascii_case("both") { "left, right" } else { cell };
        let sides: Vec<String> = both
            .split([',', ';', '+', ' '])
            .filter(|side| !side.is_empty() && !side.eq_ignore_ascii_case("and"))
            .map(|side| quoted(&side.to_lowercase()))
            .collect();
        return format!("[{}]", sides.join(", "));
    }
    if matches!(key, "changed" | "bracket_sent_in") {
        match cell.to_lowercase().as_str() {
            "true" | "yes" => return "true".to_owned(),
            "false" | "no" => return "false".to_owned(),
            _ => {}
        }
    }
    let number = cell.parse::<f64>().is_ok_and(f64::is_finite) && cell.starts_with(|one: char| one.is_ascii_digit());
    // `reference`, `note` and their like are text even when they look like a number.
    let is_text = matches!(
        key,
        "reference" | "axle" | "note" | "differential" | "row" | "grade" | "treatment" | "series" | "thread"
    );
    if number && !is_text && !(cell.len() > 1 && cell.starts_with('0') && !cell.starts_with("0.")) {
        return cell.to_owned();
    }
    quoted(cell)
}

/// A reading as a line of a sheet; nothing where it has no value.
fn reading(measurand: &str, parts: &[ReadingCell]) -> Option<String> {
    let of = |wanted: Part| parts.iter().find(|(part, ..)| *part == wanted).map(|(_, _, cell)| cell.as_str());
    let repeats: Vec<String> =
        of(Part::Value)?.split(';').map(str::trim).filter(|one| !one.is_empty()).map(quoted).collect();
    let value = match repeats.as_slice() {
        [] => return None,
        [one] => one.clone(),
        several => format!("[{}]", several.join(", ")),
    };
    let mut fields = vec![format!("value = {value}")];
    if let Some(instrument) = of(Part::Instrument) {
        fields.push(format!("instrument = {}", quoted(instrument)));
    }
    if let Some(by) = of(Part::By) {
        fields.push(format!("by = {}", quoted(by)));
    }
    if let Some(pin) = of(Part::Pin) {
        fields.push(format!("pin = {}", quoted(pin)));
    }
    if let Some(conditions) = of(Part::Conditions) {
        let all: Vec<String> =
            conditions.split([';', ',']).map(str::trim).filter(|one| !one.is_empty()).map(quoted).collect();
        fields.push(format!("conditions = [{}]", all.join(", ")));
    }
    Some(if fields.len() == 1 {
        format!("{measurand} = {value}")
    } else {
        format!("{measurand} = {{ {} }}", fields.join(", "))
    })
}

/// A text as TOML writes it.
fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for one in text.chars() {
        match one {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            '\n' => quoted.push_str("\\n"),
            '\t' => quoted.push_str("\\t"),
            one if one.is_control() => quoted.push_str(&format!("\\u{:04x}", u32::from(one))),
            one => quoted.push(one),
        }
    }
    quoted.push('"');
    quoted
}

impl RowSheet {
    /// The row, counted from one with the headings.
    #[must_use]
    pub fn row(&self) -> usize {
        self.row
    }

    /// The sheet.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// What stands beside the sheet.
    #[must_use]
    pub fn details(&self) -> &Details {
        &self.details
    }

    /// Reads and reviews the sheet. Faults point at the cells that they came from.
    ///
    /// # Errors
    ///
    /// A cell cannot be used, something is missing in the row, or the catalog makes no sound model.
    pub fn review(&self, catalog: &MarkedCatalog) -> Result<ReviewedSheet, Vec<RowFault>> {
        ReviewedSheet::read(&self.file, &self.text, catalog).map_err(|error| match error {
            BookError::Sheet(faults) => faults
                .into_iter()
                .map(|fault| RowFault {
                    file: self.file.clone(),
                    row: self.row,
                    column: self.columns.get(fault.line.saturating_sub(1)).cloned().flatten(),
                    problem: fault.problem,
                    accepted: fault.accepted,
                })
                .collect(),
            other => vec![RowFault {
                file: self.file.clone(),
                row: self.row,
                column: None,
                problem: other.to_string(),
                accepted: "a catalog whose rates and sizes make a sound model".to_owned(),
            }],
        })
    }
}

#[cfg(test)]
mod tests {
    use super::Columns;

    fn texts(cells: &[&str]) -> Vec<String> {
        cells.iter().map(|cell| (*cell).to_owned()).collect()
    }

    #[test]
    fn a_row_becomes_a_sheet() {
        let headings = texts(&[
            "Reference",
            "use",
            "sides",
            "unit",
            "customer",
            "left overall length",
            "left overall length by",
            "register diameter",
        ]);
        let columns = Columns::read("orders.csv", &headings).unwrap();
        let cells =
            texts(&["007", "street", "left and right", "in", "Weir Dairy", "29 1/32\"", "fitter", "2.779; 2.778"]);
        let sheet = columns.sheet(2, &cells).unwrap().unwrap();
        assert_eq!(
            sheet.text(),
            "[order]\nreference = \"007\"\nuse = \"street\"\nsides = [\"left\", \"right\"]\nunit = \"in\"\n\
             [shared]\nregister_diameter = [\"2.779\", \"2.778\"]\n\
             [left]\noverall_length = { value = \"29 1/32\\\"\", by = \"fitter\" }\n"
        );
        assert_eq!(sheet.details().customer, "Weir Dairy");
        assert_eq!(columns.sheet(3, &texts(&["", " "])).unwrap(), None);
    }

    #[test]
    fn what_has_no_heading_or_no_value_is_a_fault() {
        let columns = Columns::read("orders.csv", &texts(&["reference", "", "reach by"])).unwrap();
        let faults = columns.sheet(2, &texts(&["Q-1", "?", "fitter"])).unwrap_err();
        assert_eq!(
            faults[0].to_string(),
            "orders.csv, row 2: the cell `?` has no heading\n  accepted: a heading in the first row"
        );
        assert!(faults[1].to_string().starts_with("orders.csv, row 2, column `reach by`: tells of a reading"));
        let faults = Columns::read("orders.csv", &texts(&["customer", "Customer"])).unwrap_err();
        assert_eq!(faults[0].problem, "the same thing has a column already");
        assert!(
            Columns::read("orders.csv", &texts(&["customer"])).unwrap_err()[0]
                .problem
                .contains("no column `reference`")
        );
    }
}
