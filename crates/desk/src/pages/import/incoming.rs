//! Orders out of a file, each with what is wrong with it.

use book::{BookError, Details, MarkedCatalog, ReviewedSheet, RowFault, RowSheet, read_csv, read_xlsx};
use serde::{Deserialize, Serialize};

use crate::desk::Desk;
use crate::error::DeskError;

/// A problem and what would be accepted.
type Fault = (String, String);

/// One order that would come in, or that cannot.
pub(super) struct Incoming {
    /// File and row.
    pub origin: String,
    /// The sheet.
    pub sheet: String,
    /// What stands beside it.
    pub details: Details,
    /// The review; none where the sheet cannot be read.
    pub reviewed: Option<ReviewedSheet>,
    /// What is wrong.
    pub faults: Vec<Fault>,
}

/// An order on its way from the preview to the book.
#[derive(Debug, Serialize, Deserialize)]
pub(super) struct Carried {
    origin: String,
    sheet: String,
    customer: String,
    contact: String,
    vehicle: String,
    due: Option<String>,
}

impl Incoming {
    /// The reference, where the sheet could be read.
    pub fn reference(&self) -> &str {
        self.reviewed.as_ref().map_or("–", |reviewed| reviewed.sheet.reference.as_str())
    }

    /// The order as the form carries it; none where it cannot come in.
    pub fn carried(&self) -> Option<Carried> {
        (self.faults.is_empty() && self.reviewed.is_some()).then(|| Carried {
            origin: self.origin.clone(),
            sheet: self.sheet.clone(),
            customer: self.details.customer.clone(),
            contact: self.details.contact.clone(),
            vehicle: self.details.vehicle.clone(),
            due: self.details.due.map(|date| date.to_string()),
        })
    }

    fn faulty(origin: &str, faults: Vec<Fault>) -> Self {
        Self { origin: origin.to_owned(), sheet: String::new(), details: Details::default(), reviewed: None, faults }
    }
}

/// Reads a file and reviews what it holds.
pub(super) fn read(name: &str, bytes: &[u8], catalog: &MarkedCatalog) -> Vec<Incoming> {
    let ending = name.rsplit_once('.').map(|(_, ending)| ending.to_lowercase()).unwrap_or_default();
    let rows = match ending.as_str() {
        "toml" => return vec![sheet(name, bytes, catalog)],
        "csv" | "tsv" | "txt" => read_csv(name, bytes),
        "xlsx" => read_xlsx(name, bytes),
        _ => {
            let fault = (
                format!("{name}: the name does not say what the file is"),
                "a name that ends with .toml, .csv or .xlsx".to_owned(),
            );
            return vec![Incoming::faulty(name, vec![fault])];
        }
    };
    match rows {
        Ok(rows) => rows.iter().map(|one| row(name, one, catalog)).collect(),
        Err(faults) => faults.iter().map(|fault| Incoming::faulty(&place(fault), vec![words(fault)])).collect(),
    }
}

fn sheet(name: &str, bytes: &[u8], catalog: &MarkedCatalog) -> Incoming {
    let Ok(text) = std::str::from_utf8(bytes) else {
        let fault = ("the file is not UTF-8".to_owned(), "an order sheet in TOML, saved as UTF-8".to_owned());
        return Incoming::faulty(name, vec![fault]);
    };
    match ReviewedSheet::read(name, text, catalog) {
        Ok(reviewed) => Incoming {
            origin: name.to_owned(),
            sheet: text.to_owned(),
            details: Details::default(),
            reviewed: Some(reviewed),
            faults: Vec::new(),
        },
        Err(BookError::Sheet(faults)) => {
            let all = faults
                .into_iter()
                .map(|fault| (format!("{name}:{}:{}: {}", fault.line, fault.column, fault.problem), fault.accepted))
                .collect();
            Incoming::faulty(name, all)
        }
        Err(error) => {
            let (problem, accepted) = DeskError::from(error).parts();
            Incoming::faulty(name, vec![(problem, accepted.unwrap_or_default())])
        }
    }
}

fn row(name: &str, row: &RowSheet, catalog: &MarkedCatalog) -> Incoming {
    let (reviewed, faults) = match row.review(catalog) {
        Ok(reviewed) => (Some(reviewed), Vec::new()),
        Err(faults) => (None, faults.iter().map(words).collect()),
    };
    Incoming {
        origin: format!("{name}, row {}", row.row()),
        sheet: row.text().to_owned(),
        details: row.details().clone(),
        reviewed,
        faults,
    }
}

fn place(fault: &RowFault) -> String {
    format!("{}, row {}", fault.file, fault.row)
}

fn words(fault: &RowFault) -> Fault {
    let column = fault.column.as_ref().map(|column| format!(", column `{column}`")).unwrap_or_default();
    (format!("row {}{column}: {}", fault.row, fault.problem), fault.accepted.clone())
}

/// Marks orders whose reference is taken, in the book or by another one that comes in.
pub(super) async fn mark_taken(desk: &Desk, incoming: &mut [Incoming]) -> Result<(), DeskError> {
    const ACCEPTED: &str = "a reference that no other order has";
    for at in 0..incoming.len() {
        let reference = incoming[at].reference().to_owned();
        if incoming[at].reviewed.is_none() {
            continue;
        }
        match desk.book().order_by_reference(&reference).await {
            Ok(order) => {
                let problem = format!("the reference {reference} is taken by order {} in the book", order.line.number);
                incoming[at].faults.push((problem, ACCEPTED.to_owned()));
            }
            Err(BookError::NotFound { .. }) => {}
            Err(error) => return Err(error.into()),
        }
        if let Some(before) = incoming[..at].iter().find(|one| one.reference() == reference) {
            let problem = format!("the reference {reference} stands in {} already", before.origin);
            incoming[at].faults.push((problem, ACCEPTED.to_owned()));
        }
    }
    Ok(())
}

/// Reads what the form carried, once more from the beginning.
pub(super) fn to_save(
    carried: Vec<Carried>,
    catalog: &MarkedCatalog,
) -> Result<Vec<(ReviewedSheet, Details)>, DeskError> {
    carried
        .into_iter()
        .map(|one| {
            let due = one.due.as_deref().map(str::parse::<jiff::civil::Date>).transpose().map_err(|error| {
                DeskError::refused(
                    format!("{}: the date cannot be read: {error}", one.origin),
                    "a date such as 2026-04-01",
                )
            })?;
            let reviewed = ReviewedSheet::read(&one.origin, &one.sheet, catalog)?;
            Ok((reviewed, Details { customer: one.customer, contact: one.contact, vehicle: one.vehicle, due }))
        })
        .collect()
}
