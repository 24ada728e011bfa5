//! A row that came back from a statement.

use jiff::Timestamp;
use sqlx::postgres::PgRow;
use sqlx::sqlite::SqliteRow;
use sqlx::{Column, Row as _, TypeInfo, ValueRef};

use super::fault::refused_by_database;
use super::value::Value;
use crate::error::BookError;

/// The cells of a row, in the order of the statement.
#[derive(Debug, Clone)]
pub(crate) struct Row(Vec<Value>);

impl Row {
    /// Out of a row of SQLite, where every cell carries its own type.
    pub fn of_sqlite(row: &SqliteRow) -> Result<Self, BookError> {
        let mut cells = Vec::with_capacity(row.len());
        for index in 0..row.len() {
            let raw = row.try_get_raw(index).map_err(refused_by_database)?;
            let kind = raw.type_info();
            let cell = if raw.is_null() {
                Value::Text(None)
            } else {
                match kind.name() {
                    "INTEGER" | "BOOLEAN" => {
                        Value::Integer(Some(row.try_get_unchecked(index).map_err(refused_by_database)?))
                    }
                    "REAL" => Value::Real(Some(row.try_get_unchecked(index).map_err(refused_by_database)?)),
                    "BLOB" => Value::Bytes(Some(row.try_get_unchecked(index).map_err(refused_by_database)?)),
                    _ => Value::Text(Some(row.try_get_unchecked(index).map_err(refused_by_database)?)),
                }
            };
            cells.push(cell);
        }
        Ok(Self(cells))
    }

    /// Out of a row of PostgreSQL, where every column has its type.
    pub fn of_postgres(row: &PgRow) -> Result<Self, BookError> {
        let mut cells = Vec::with_capacity(row.len());
        for (index, column) in row.columns().iter().enumerate() {
            cells.push(match column.type_info().name() {
                "INT8" => Value::Integer(row.try_get(index).map_err(refused_by_database)?),
                "INT4" => {
                    let cell: Option<i32> = row.try_get(index).map_err(refused_by_database)?;
                    Value::Integer(cell.map(i64::from))
                }
                "BOOL" => {
                    let cell: Option<bool> = row.try_get(index).map_err(refused_by_database)?;
                    Value::Integer(cell.map(i64::from))
                }
                "FLOAT8" => Value::Real(row.try_get(index).map_err(refused_by_database)?),
                "BYTEA" => Value::Bytes(row.try_get(index).map_err(refused_by_database)?),
                _ => Value::Text(row.try_get(index).map_err(refused_by_database)?),
            });
        }
        Ok(Self(cells))
    }

    fn unexpected(&self, index: usize, wanted: &str) -> BookError {
        BookError::Unexpected {
            problem: format!("{:?} in column {} where {wanted} belongs", self.0.get(index), index + 1),
        }
    }

    /// Every cell.
    pub fn cells(&self) -> &[Value] {
        &self.0
    }

    /// A whole number that is there.
    pub fn integer(&self, index: usize) -> Result<i64, BookError> {
        self.maybe_integer(index)?.ok_or_else(|| self.unexpected(index, "a whole number"))
    }

    /// A whole number, if there is one.
    pub fn maybe_integer(&self, index: usize) -> Result<Option<i64>, BookError> {
        match self.0.get(index) {
            Some(Value::Integer(value)) => Ok(*value),
            Some(Value::Text(None) | Value::Real(None) | Value::Bytes(None)) => Ok(None),
            _ => Err(self.unexpected(index, "a whole number")),
        }
    }

    /// A number, if there is one.
    pub fn maybe_real(&self, index: usize) -> Result<Option<f64>, BookError> {
        match self.0.get(index) {
            Some(Value::Real(value)) => Ok(*value),
            // SQLite keeps 1.0 as the whole number 1 in some places.
            #[expect(clippy::cast_precision_loss, reason = "a whole number that was a real one fits")]
            Some(Value::Integer(Some(value))) => Ok(Some(*value as f64)),
            Some(Value::Text(None) | Value::Integer(None) | Value::Bytes(None)) => Ok(None),
            _ => Err(self.unexpected(index, "a number")),
        }
    }

    /// A text that is there.
    pub fn text(&self, index: usize) -> Result<String, BookError> {
        self.maybe_text(index)?.ok_or_else(|| self.unexpected(index, "a text"))
    }

    /// A text, if there is one.
    pub fn maybe_text(&self, index: usize) -> Result<Option<String>, BookError> {
        match self.0.get(index) {
            Some(Value::Text(value)) => Ok(value.clone()),
            Some(Value::Integer(None) | Value::Real(None) | Value::Bytes(None)) => Ok(None),
            _ => Err(self.unexpected(index, "a text")),
        }
    }

    /// Bytes that are there.
    pub fn bytes(&self, index: usize) -> Result<Vec<u8>, BookError> {
        match self.0.get(index) {
            Some(Value::Bytes(Some(value))) => Ok(value.clone()),
            _ => Err(self.unexpected(index, "bytes")),
        }
    }

    /// A time that is there.
    pub fn time(&self, index: usize) -> Result<Timestamp, BookError> {
        self.maybe_time(index)?.ok_or_else(|| self.unexpected(index, "a time"))
    }

    /// A time, if there is one.
    pub fn maybe_time(&self, index: usize) -> Result<Option<Timestamp>, BookError> {
        match self.maybe_integer(index)? {
            None => Ok(None),
            Some(value) => Timestamp::from_microsecond(value)
                .map(Some)
                .map_err(|_| self.unexpected(index, "a time in microseconds")),
        }
    }

    /// Whether a flag is set.
    pub fn flag(&self, index: usize) -> Result<bool, BookError> {
        Ok(self.integer(index)? != 0)
    }
}
