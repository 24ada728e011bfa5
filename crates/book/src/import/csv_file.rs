//! Tables as text: cells parted by commas, semicolons or tabs, as RFC 4180 quotes them.

use super::RowFault;
use super::row_sheet::{Columns, RowSheet};
use super::workbook::MOST_ROWS;

/// No more faults at once: nobody puts more right in one go, and each may quote a long cell.
pub(super) const MOST_FAULTS: usize = 100;

/// Reads a table as text: the first row is the headings, every other row an order. Whatever parts the headings parts the cells.
///
/// ```
/// let rows = book::read_csv("orders.csv", b"reference,use,sides\nQ-1,street,both\n").unwrap();
/// assert_eq!(rows[0].text(), "[order]\nreference = \"Q-1\"\nuse = \"street\"\nsides = [\"left\", \"right\"]\n");
/// ```
///
/// # Errors
///
/// The text is not UTF-8, a heading is not known, or a row cannot be used; every fault is named with its row and column.
pub fn read_csv(file: &str, bytes: &[u8]) -> Result<Vec<RowSheet>, Vec<RowFault>> {
    let rows = rows_of(file, bytes)?;
    let Some(((_, headings), orders)) = rows.split_first() else { return Err(empty(file)) };
    let columns = Columns::read(file, headings)?;
    sheets_of(&columns, orders)
}

/// A table without any row.
pub(super) fn empty(file: &str) -> Vec<RowFault> {
    vec![RowFault {
        file: file.to_owned(),
        row: 1,
        column: None,
        problem: "the table is empty".to_owned(),
        accepted: "a first row with headings and a row for each order".to_owned(),
    }]
}

/// The rows of a table as text, each with its line in the file.
pub(super) fn rows_of(file: &str, bytes: &[u8]) -> Result<Vec<(usize, Vec<String>)>, Vec<RowFault>> {
    let fault = |row: usize, problem: String, accepted: &str| {
        vec![RowFault { file: file.to_owned(), row, column: None, problem, accepted: accepted.to_owned() }]
    };
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let before = &bytes[..error.valid_up_to()];
        let row = 1 + before.iter().filter(|byte| **byte == b'\n').count();
        fault(row, "the text is not UTF-8".to_owned(), "a table that was saved as CSV in UTF-8")
    })?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let headings = text.lines().next().unwrap_or_default();
    let delimiter = [b',', b';', b'\t']
        .into_iter()
        .max_by_key(|delimiter| headings.bytes().filter(|byte| byte == delimiter).count())
        .unwrap_or(b',');
    let mut reader =
        csv::ReaderBuilder::new().delimiter(delimiter).has_headers(false).flexible(true).from_reader(text.as_bytes());
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|error| fault(rows.len() + 1, error.to_string(), "a table in CSV"))?;
        let line = record.position().map_or(rows.len() + 1, |position| usize::try_from(position.line()).unwrap_or(0));
        if rows.len() >= MOST_ROWS {
            let problem = format!("the table has more than {MOST_ROWS} rows");
            return Err(fault(line, problem, &format!("at most {MOST_ROWS} rows at once, with the headings")));
        }
        rows.push((line, record.iter().map(str::to_owned).collect::<Vec<String>>()));
    }
    Ok(rows)
}

/// The first faults, the last of which says that there are more.
pub(super) fn at_most(mut faults: Vec<RowFault>) -> Vec<RowFault> {
    if faults.len() > MOST_FAULTS {
        faults.truncate(MOST_FAULTS);
        if let Some(last) = faults.last_mut() {
            last.problem.push_str("; and there are more faults that are not shown");
        }
    }
    faults
}

/// Writes every row out as a sheet; the faults of all rows come together.
pub(super) fn sheets_of(columns: &Columns, rows: &[(usize, Vec<String>)]) -> Result<Vec<RowSheet>, Vec<RowFault>> {
    let mut sheets = Vec::new();
    let mut faults = Vec::new();
    for (line, cells) in rows {
        match columns.sheet(*line, cells) {
            Ok(sheet) => sheets.extend(sheet),
            Err(more) => faults.extend(more),
        }
        if faults.len() > MOST_FAULTS {
            break;
        }
    }
    let faults = at_most(faults);
    if faults.is_empty() { Ok(sheets) } else { Err(faults) }
}

#[cfg(test)]
mod tests {
    use super::read_csv;

    #[test]
    fn semicolons_and_quotes_are_read_and_rows_counted_as_lines() {
        let text = "\u{feff}reference;use;sides;note\nQ-1;street;left;\"two\nlines; and more\"\nQ-2;street;right;\n";
        let rows = read_csv("orders.csv", text.as_bytes()).unwrap();
        assert_eq!(rows.len(), 2);
        assert!(rows[0].text().contains("note = \"two\\nlines; and more\""));
        assert_eq!(rows[1].row(), 4);
    }

    #[test]
    fn another_encoding_is_refused_with_its_row() {
        let faults = read_csv("orders.csv", b"reference\nM\xfcller\n").unwrap_err();
        assert_eq!((faults[0].row, faults[0].problem.as_str()), (2, "the text is not UTF-8"));
        assert!(read_csv("orders.csv", b"").unwrap_err()[0].problem.contains("empty"));
    }
}
