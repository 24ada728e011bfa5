//! Tables as workbooks (ECMA-376): the first sheet of the workbook is the table.

use super::RowFault;
use super::csv_file::{empty, sheets_of};
use super::row_sheet::{Columns, RowSheet};
use super::workbook::read_workbook;

/// Reads the first sheet of a workbook: its first row is the headings, every other row an order.
///
/// A number comes in as the cell holds it and not as the cell shows it; a size whose last digits matter, such as `2.850`, is better
/// kept as text.
///
/// # Errors
///
/// The file is no workbook, a heading is not known, a cell holds an error or lies far outside of any table, or a row cannot be
/// used.
pub fn read_xlsx(file: &str, bytes: &[u8]) -> Result<Vec<RowSheet>, Vec<RowFault>> {
    let rows = read_workbook(file, bytes)?;
    let Some(((_, headings), orders)) = rows.split_first() else { return Err(empty(file)) };
    let columns = Columns::read(file, headings)?;
    sheets_of(&columns, orders)
}
