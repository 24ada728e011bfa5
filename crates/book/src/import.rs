//! Orders come in from elsewhere: from sheets, and from tables with one order a row.

mod csv_file;
mod details_table;
mod heading;
mod row_sheet;
mod workbook;
mod xlsx_file;

use std::fmt;

use jiff::Timestamp;

use crate::Book;
use crate::error::BookError;
use crate::order::{Details, OrderLine};
use crate::person::Person;
use crate::reviewed::ReviewedSheet;

pub use csv_file::read_csv;
pub use details_table::{DetailsRow, read_details};
pub use row_sheet::RowSheet;
pub use workbook::read_workbook;
pub use xlsx_file::read_xlsx;

/// Something in a table that cannot be used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RowFault {
    /// The file.
    pub file: String,
    /// The row, counted from one with the headings.
    pub row: usize,
    /// The heading of the column, where it is one cell that is to blame.
    pub column: Option<String>,
    /// What is wrong.
    pub problem: String,
    /// What would be accepted.
    pub accepted: String,
}

impl fmt::Display for RowFault {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { file, row, column, problem, accepted } = self;
        write!(formatter, "{file}, row {row}")?;
        if let Some(column) = column {
            write!(formatter, ", column `{column}`")?;
        }
        write!(formatter, ": {problem}\n  accepted: {accepted}")
    }
}

impl Book {
    /// Takes several orders in, all of them or none.
    ///
    /// # Errors
    ///
    /// The person may not, a reference is taken, or the database refuses.
    pub async fn import(
        &self,
        orders: &[(ReviewedSheet, Details)],
        who: &Person,
        now: Timestamp,
    ) -> Result<Vec<OrderLine>, BookError> {
        self.take_over(&[], orders, who, now).await
    }
}
