//! Tables as workbooks (ECMA-376): the first sheet of the workbook is the table.

use std::io::Cursor;

use calamine::{Data, Reader, Xlsx, open_workbook_from_rs};

use super::RowFault;
use super::csv_file::sheets_of;
use super::row_sheet::{Columns, RowSheet};

/// Reads the first sheet of a workbook: its first row is the headings, every other row an order.
///
/// A number comes in as the cell holds it and not as the cell shows it; a size whose last digits matter, such as `2.850`, is better
/// kept as text.
///
/// # Errors
///
/// The file is no workbook, a heading is not known, a cell holds an error, or a row cannot be used.
pub fn read_xlsx(file: &str, bytes: &[u8]) -> Result<Vec<RowSheet>, Vec<RowFault>> {
    let fault = |row: usize, problem: String, accepted: &str| RowFault {
        file: file.to_owned(),
        row,
        column: None,
        problem,
        accepted: accepted.to_owned(),
    };
    let mut workbook: Xlsx<_> = open_workbook_from_rs(Cursor::new(bytes)).map_err(|error: calamine::XlsxError| {
        vec![fault(1, format!("the file is no workbook that can be read: {error}"), "a workbook saved as .xlsx")]
    })?;
    let range = match workbook.worksheet_range_at(0) {
        Some(Ok(range)) => range,
        Some(Err(error)) => return Err(vec![fault(1, format!("its first sheet cannot be read: {error}"), "a table")]),
        None => return Err(vec![fault(1, "the workbook has no sheet".to_owned(), "a workbook with a table")]),
    };
    let first = usize::try_from(range.start().map_or(0, |start| start.0)).unwrap_or(0) + 1;
    let mut rows = Vec::new();
    let mut faults = Vec::new();
    for (cells, row) in range.rows().zip(first..) {
        let mut texts = Vec::with_capacity(cells.len());
        for cell in cells {
            match text_of(cell) {
                Ok(text) => texts.push(text),
                Err(problem) => {
                    faults.push(fault(row, problem, "a text, a number, a date, or nothing"));
                    texts.push(String::new());
                }
            }
        }
        rows.push((row, texts));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let Some(((_, headings), orders)) = rows.split_first() else {
        return Err(vec![fault(
            1,
            "the table is empty".to_owned(),
            "a first row with headings and a row for each order",
        )]);
    };
    let columns = Columns::read(file, headings)?;
    sheets_of(&columns, orders)
}

fn text_of(cell: &Data) -> Result<String, String> {
    match cell {
        Data::Empty => Ok(String::new()),
        Data::String(text) => Ok(text.clone()),
        // The shortest digits that stand for the number.
        Data::Float(number) => Ok(number.to_string()),
        Data::Int(number) => Ok(number.to_string()),
        Data::Bool(flag) => Ok(flag.to_string()),
        Data::Error(error) => Err(format!("a cell holds the error {error}")),
        Data::DateTime(time) => {
            let (year, month, day, ..) = time.to_ymd_hms_milli();
            Ok(format!("{year:04}-{month:02}-{day:02}"))
        }
        other => Ok(other.to_string()),
    }
}
