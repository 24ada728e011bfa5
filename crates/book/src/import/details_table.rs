//! A table that stands beside sheets: customer, contact, vehicle and date of each, by its reference.

use super::RowFault;
use super::csv_file::{at_most, empty, rows_of};
use super::heading::{self, Place};
use crate::order::Details;
use crate::search::words::reference_key;

const ACCEPTED: &str = "reference, customer, contact, vehicle, due";

/// What stands beside one sheet, as a row of a table tells it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DetailsRow {
    /// The row, counted from one with the headings.
    pub row: usize,
    /// The reference of the sheet.
    pub reference: String,
    /// Who ordered, for what, until when.
    pub details: Details,
}

impl DetailsRow {
    /// Whether the row is about the sheet of this reference, however it is spelled.
    #[must_use]
    pub fn is_for(&self, reference: &str) -> bool {
        reference_key(&self.reference) == reference_key(reference)
    }
}

/// Reads a table of what stands beside sheets.
///
/// ```
/// let rows = book::read_details("who.csv", b"reference,customer,due\nQ-1,Weir Dairy,2026-04-01\n").unwrap();
/// assert!(rows[0].is_for("q 1") && rows[0].details.customer == "Weir Dairy");
/// let faults = book::read_details("who.csv", b"reference,phone\nQ-1,5\n").unwrap_err();
/// assert!(faults[0].to_string().contains("accepted: reference, customer, contact, vehicle, due"));
/// ```
///
/// # Errors
///
/// The text is not UTF-8, a heading is not one of these, a date is none, or a reference is missing or stands twice.
pub fn read_details(file: &str, bytes: &[u8]) -> Result<Vec<DetailsRow>, Vec<RowFault>> {
    let fault = |row: usize, column: Option<&str>, problem: String, accepted: &str| RowFault {
        file: file.to_owned(),
        row,
        column: column.map(str::to_owned),
        problem,
        accepted: accepted.to_owned(),
    };
    let rows = rows_of(file, bytes)?;
    let Some(((_, headings), orders)) = rows.split_first() else { return Err(empty(file)) };
    let mut faults = Vec::new();
    let reference = Place::Key { section: "order", key: "reference".to_owned() };
    let mut places: Vec<Option<Place>> = Vec::new();
    for heading in headings.iter().map(|text| text.trim()) {
        let place = heading::read(heading).ok().filter(|place| {
            *place == reference || matches!(place, Place::Customer | Place::Contact | Place::Vehicle | Place::Due)
        });
        if place.is_none() && !heading.is_empty() {
            faults.push(fault(1, Some(heading), "this heading has no use beside sheets".to_owned(), ACCEPTED));
        }
        if place.is_some() && places.contains(&place) {
            faults.push(fault(1, Some(heading), "the same thing has a column already".to_owned(), ACCEPTED));
        }
        places.push(place);
    }
    if !places.contains(&Some(reference.clone())) {
        faults.push(fault(1, None, "there is no column `reference`".to_owned(), ACCEPTED));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut read: Vec<DetailsRow> = Vec::new();
    for (row, cells) in orders {
        let mut one = DetailsRow { row: *row, reference: String::new(), details: Details::default() };
        let mut any = false;
        for (index, cell) in cells.iter().map(|cell| cell.trim()).enumerate().filter(|(_, cell)| !cell.is_empty()) {
            any = true;
            match places.get(index).and_then(Option::as_ref) {
                Some(Place::Customer) => one.details.customer = cell.to_owned(),
                Some(Place::Contact) => one.details.contact = cell.to_owned(),
                Some(Place::Vehicle) => one.details.vehicle = cell.to_owned(),
                Some(Place::Due) => match cell.parse() {
                    Ok(date) => one.details.due = Some(date),
                    Err(_) => {
                        let problem = format!("`{cell}` is no date");
                        faults.push(fault(*row, Some("due"), problem, "a date such as 2026-04-01"));
                    }
                },
                Some(_) => one.reference = cell.to_owned(),
                None => {
                    let problem = format!("the cell `{cell}` has no heading");
                    faults.push(fault(*row, None, problem, "a heading in the first row"));
                }
            }
        }
        if !any {
            continue;
        }
        if one.reference.is_empty() {
            faults.push(fault(*row, Some("reference"), "no reference is given".to_owned(), "the reference of a sheet"));
        } else if let Some(other) = read.iter().find(|other| other.is_for(&one.reference)) {
            let problem = format!("{} has row {} already", one.reference, other.row);
            faults.push(fault(*row, Some("reference"), problem, "one row for each sheet"));
        }
        read.push(one);
    }
    if faults.is_empty() { Ok(read) } else { Err(at_most(faults)) }
}
