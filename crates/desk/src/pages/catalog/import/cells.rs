//! The cells of a CSV file or of the first sheet of a workbook.

use std::io::Cursor;

use calamine::{Data, Reader, Xlsx, open_workbook_from_rs};

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
    let rows = if name.to_lowercase().ends_with(".xlsx") { workbook(bytes)? } else { csv_rows(bytes)? };
    let mut rows = rows.into_iter();
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

fn workbook(bytes: &[u8]) -> Result<Rows, TableFault> {
    let whole =
        |problem: &str| TableFault::new(0, "", problem, "a workbook saved as .xlsx whose first sheet is the table");
    let mut workbook: Xlsx<_> = open_workbook_from_rs(Cursor::new(bytes))
        .map_err(|error: calamine::XlsxError| whole(&format!("the file is no workbook that can be read: {error}")))?;
    let range = match workbook.worksheet_range_at(0) {
        Some(Ok(range)) => range,
        Some(Err(error)) => return Err(whole(&format!("its first sheet cannot be read: {error}"))),
        None => return Err(whole("the workbook has no sheet")),
    };
    let first = usize::try_from(range.start().map_or(0, |start| start.0)).unwrap_or(0) + 1;
    let mut rows = Vec::new();
    for (cells, number) in range.rows().zip(first..) {
        let mut texts = Vec::with_capacity(cells.len());
        for cell in cells {
            texts.push(match cell {
                Data::Empty => String::new(),
                // The shortest digits that stand for the number.
                Data::Float(value) => value.to_string(),
                Data::Error(error) => {
                    return Err(TableFault::new(
                        number,
                        "",
                        &format!("a cell holds the error {error}"),
                        "a text, a number, or nothing",
                    ));
                }
                other => other.to_string(),
            });
        }
        rows.push((number, texts));
    }
    Ok(rows)
}
