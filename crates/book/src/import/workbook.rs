//! The cells of a workbook (ECMA-376), read so that no file makes the reader take more memory than a table is worth.

use std::collections::BTreeMap;
use std::io::{Cursor, Read};

use calamine::{Data, DataRef, Reader, Xlsx, open_workbook_from_rs};
use zip::ZipArchive;

use super::RowFault;
use super::csv_file::{MOST_FAULTS, at_most};

/// The last row that is read, of tables as text and of workbooks alike.
pub(super) const MOST_ROWS: usize = 10_000;
/// The last column that is read.
const MOST_COLUMNS: usize = 500;
/// The most that the parts of a workbook may hold once they are unpacked, in bytes, and the most that its cells may say.
const MOST_UNPACKED: u64 = 64 * 1024 * 1024;

const A_WORKBOOK: &str = "a workbook saved as .xlsx";

/// Reads the first sheet of a workbook as texts: each row that says something, with its number as a spreadsheet counts. The
/// column in which the table begins is the first cell of every row.
///
/// A number comes as the cell holds it and not as the cell shows it.
///
/// ```
/// let refused = book::read_workbook("rows.xlsx", b"name,bolt circle").unwrap_err();
/// assert!(refused[0].to_string().contains("accepted: a workbook saved as .xlsx"));
/// ```
///
/// # Errors
///
/// The file is no workbook, is too large once it is unpacked, or a cell holds an error or lies far outside of any table.
pub fn read_workbook(file: &str, bytes: &[u8]) -> Result<Vec<(usize, Vec<String>)>, Vec<RowFault>> {
    let fault = |row: usize, problem: String, accepted: &str| RowFault {
        file: file.to_owned(),
        row,
        column: None,
        problem,
        accepted: accepted.to_owned(),
    };
    let whole = |problem: String| vec![fault(1, problem, A_WORKBOOK)];
    must_unpack_small(bytes).map_err(|(problem, accepted)| vec![fault(1, problem, accepted)])?;
    let mut workbook: Xlsx<_> =
        open_workbook_from_rs(Cursor::new(bytes)).map_err(|error: calamine::XlsxError| whole(unreadable(&error)))?;
    let Some(first) = workbook.sheet_names().first().cloned() else {
        return Err(whole("the workbook has no sheet".to_owned()));
    };
    let no_sheet = |error: calamine::XlsxError| whole(format!("its first sheet cannot be read: {error}"));
    let mut reader = workbook.worksheet_cells_reader(&first).map_err(no_sheet)?;
    let mut rows: BTreeMap<usize, Vec<String>> = BTreeMap::new();
    let mut begins = MOST_COLUMNS;
    let mut said = 0;
    let mut faults = Vec::new();
    while let Some(cell) = reader.next_cell().map_err(no_sheet)? {
        if matches!(cell.get_value(), DataRef::Empty) {
            continue;
        }
        let (row, column) = cell.get_position();
        let (row, column) = (index(row), index(column));
        if row >= MOST_ROWS || column >= MOST_COLUMNS {
            let problem = format!("the cell {}{} lies outside of any table", letters(column), row + 1);
            let accepted = format!("at most {MOST_ROWS} rows and {MOST_COLUMNS} columns, with nothing beyond them");
            return Err(vec![fault(row + 1, problem, &accepted)]);
        }
        let text = match text_of(&Data::from(cell.get_value().clone())) {
            Ok(text) => text,
            Err(problem) => {
                faults.push(fault(row + 1, problem, "a text, a number, a date, or nothing"));
                if faults.len() > MOST_FAULTS {
                    return Err(at_most(faults));
                }
                continue;
            }
        };
        // A text that many cells share is kept once in the file, and would be kept once for each cell here.
        said += text.len() as u64;
        if said > MOST_UNPACKED {
            return Err(vec![fault(row + 1, "the cells hold more than 64 MiB of text".to_owned(), "a smaller table")]);
        }
        begins = begins.min(column);
        let cells = rows.entry(row + 1).or_default();
        if cells.len() <= column {
            cells.resize(column + 1, String::new());
        }
        cells[column] = text;
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let from_first_column = |(row, mut cells): (usize, Vec<String>)| (row, cells.split_off(begins.min(cells.len())));
    Ok(rows.into_iter().map(from_first_column).collect())
}

fn unreadable(error: &impl std::fmt::Display) -> String {
    format!("the file is no workbook that can be read: {error}")
}

fn index(number: u32) -> usize {
    usize::try_from(number).unwrap_or(usize::MAX)
}

/// What the parts of a workbook say of their size is held against what they hold, before anything is made as large as they say.
fn must_unpack_small(bytes: &[u8]) -> Result<(), (String, &'static str)> {
    let large = || {
        let problem = "the workbook holds more than 64 MiB once it is unpacked".to_owned();
        (problem, "a workbook with the table alone, of at most 64 MiB unpacked")
    };
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(|error| (unreadable(&error), A_WORKBOOK))?;
    let mut declared: u64 = 0;
    for at in 0..archive.len() {
        let part = archive.by_index_raw(at).map_err(|error| (unreadable(&error), A_WORKBOOK))?;
        declared = declared.saturating_add(part.size());
    }
    if declared > MOST_UNPACKED {
        return Err(large());
    }
    let mut left = MOST_UNPACKED;
    for at in 0..archive.len() {
        let part = archive.by_index(at).map_err(|error| (unreadable(&error), A_WORKBOOK))?;
        let is_texts = part.name().map_or(true, |name| name.to_ascii_lowercase().ends_with("sharedstrings.xml"));
        let mut unpacked = Vec::new();
        part.take(left + 1).read_to_end(&mut unpacked).map_err(|error| (unreadable(&error), A_WORKBOOK))?;
        let size = unpacked.len() as u64;
        if size > left {
            return Err(large());
        }
        left -= size;
        if is_texts && declares_more_texts_than_bytes(unpacked) {
            let problem = "the workbook says that it holds more texts than it has room for".to_owned();
            return Err((problem, A_WORKBOOK));
        }
    }
    Ok(())
}

/// Whether the list of texts says of itself that it is longer than it can be: room is made for as many as it says.
fn declares_more_texts_than_bytes(mut part: Vec<u8>) -> bool {
    const COUNT: &[u8] = b"uniqueCount";
    let size = part.len();
    // In UTF-16 there is a zero beside each of these letters.
    part.retain(|byte| *byte != 0);
    part.windows(COUNT.len()).enumerate().filter(|(_, word)| *word == COUNT).any(|(at, _)| {
        let after = &part[at + COUNT.len()..];
        let digits: Vec<u8> = after
            .iter()
            .copied()
            .skip_while(|byte| byte.is_ascii_whitespace() || matches!(byte, b'=' | b'"' | b'\'' | b'+'))
            .take_while(u8::is_ascii_digit)
            .collect();
        let number = std::str::from_utf8(&digits).unwrap_or_default();
        !number.is_empty() && number.parse::<usize>().is_ok_and(|count| count > size)
    })
}

/// The letters by which a spreadsheet names a column that is counted from zero.
fn letters(column: usize) -> String {
    let mut letters = Vec::new();
    let mut left = column.saturating_add(1);
    while left > 0 {
        left -= 1;
        letters.push(char::from(b'A' + u8::try_from(left % 26).unwrap_or(0)));
        left /= 26;
    }
    letters.iter().rev().collect()
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
