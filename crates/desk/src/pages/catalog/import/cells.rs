//! The cells of a CSV file or of the first sheet of a workbook.

/// A table of texts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Cells {
    pub headings: Vec<String>,
    /// Each row with its number, as a spreadsheet counts.
    pub rows: Vec<(usize, Vec<String>)>,
}

/// What is wrong with a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct TableFault {
    /// The row, counted from one; 0 for the whole file.
    pub row: usize,
    pub column: String,
    pub problem: String,
    pub accepted: String,
}

impl TableFault {
    pub fn new(row: usize, column: &str, problem: &str, accepted: &str) -> Self {
        Self { row, column: column.to_owned(), problem: problem.to_owned(), accepted: accepted.to_owned() }
    }
}

/// Reads a table; the end of its name says what it is.
///
/// # Errors
///
/// It is neither a CSV file in UTF-8 nor a workbook, or a cell holds an error.
pub(super) fn read(name: &str, bytes: &[u8]) -> Result<Cells, TableFault> {
    let rows = if name.to_lowercase().ends_with(".xlsx") { workbook(name, bytes)? } else { csv_rows(bytes)? };
    let taken_off = |(number, texts): (usize, Vec<String>)| (number, texts.into_iter().map(without_mark).collect());
    let mut rows = rows.into_iter().map(taken_off);
    let Some((_, headings)) = rows.next() else {
        return Err(TableFault::new(
            0,
            "",
            "the table is empty",
            "a row of headings and a row for each row of the catalog",
        ));
    };
    Ok(Cells { headings, rows: rows.collect() })
}

/// Whether a spreadsheet could take a text for something to be computed. A plain number is no more than itself.
fn may_be_computed(text: &str) -> bool {
    let is_number = text.parse::<f64>().is_ok_and(f64::is_finite) && text.chars().any(|sign| sign.is_ascii_digit());
    let begins = text.trim_start_matches('\'');
    begins.starts_with(['=', '+', '-', '@', '\t', '\r']) && !is_number
}

/// A cell as it is written out: a text that a spreadsheet would compute is marked as a text.
pub(super) fn with_mark(text: String) -> String {
    if may_be_computed(&text) { format!("'{text}") } else { text }
}

/// A cell as it was before it was marked.
fn without_mark(text: String) -> String {
    match text.strip_prefix('\'') {
        Some(marked) if may_be_computed(&text) => marked.to_owned(),
        _ => text,
    }
}

type Rows = Vec<(usize, Vec<String>)>;

fn csv_rows(bytes: &[u8]) -> Result<Rows, TableFault> {
    let text = std::str::from_utf8(bytes).map_err(|_| {
        TableFault::new(0, "", "the file is no text in UTF-8", "a .csv file saved as UTF-8, or an .xlsx workbook")
    })?;
    let text = text.trim_start_matches('\u{feff}');
    let first = text.lines().next().unwrap_or_default();
    let delimiter = if first.matches(';').count() > first.matches(',').count() { b';' } else { b',' };
    let mut reader =
        csv::ReaderBuilder::new().has_headers(false).flexible(true).delimiter(delimiter).from_reader(text.as_bytes());
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|error| {
            TableFault::new(
                rows.len() + 1,
                "",
                &format!("this row cannot be read: {error}"),
                "cells with commas or semicolons between",
            )
        })?;
        rows.push((rows.len() + 1, record.iter().map(str::to_owned).collect()));
    }
    Ok(rows)
}

fn workbook(name: &str, bytes: &[u8]) -> Result<Rows, TableFault> {
    book::read_workbook(name, bytes).map_err(|faults| {
        let first = faults.into_iter().next();
        first.map_or_else(
            || TableFault::new(0, "", "the workbook cannot be read", "a workbook saved as .xlsx"),
            |fault| TableFault::new(fault.row, "", &fault.problem, &fault.accepted),
        )
    })
}
