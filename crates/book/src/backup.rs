//! Backups: one file that either database can be made from again.
//!
//! The file is lines of JSON, packed with gzip. The first line says what it is and which schema it has. Each table follows with a
//! line that names it and its columns, then one line for each row. The last line holds the number of rows and the SHA-256 of all
//! lines before it, so that a file that was cut off or damaged is known as such before anything is kept of it.

use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};

use flate2::Compression;
use flate2::write::GzEncoder;
use jiff::Timestamp;
use serde_json::{Map, Value as Json, json};
use sha2::{Digest, Sha256};

use crate::Book;
use crate::database::{Row, Value};
use crate::digest::hexadecimal;
use crate::error::BookError;
use crate::migration::SCHEMA;
use crate::tables::{TABLES, Table};

/// The form of the file. It changes only when a program that knows this form could not read it.
pub(crate) const FORM: i64 = 1;
/// So many rows are held at a time.
const PAGE: i64 = 500;
/// And so many photos.
const PAGE_OF_PICTURES: i64 = 4;

/// What a backup holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BackupSummary {
    /// How many orders.
    pub orders: i64,
    /// How many events.
    pub events: i64,
    /// The hash of the last one. Kept elsewhere, it shows later that nothing before it was changed.
    pub end: String,
    /// How many rows of all tables.
    pub rows: i64,
}

impl Book {
    /// Writes the whole book, as it is at one moment, into a new file. Others may go on working meanwhile. The file appears under
    /// its name only when it is whole and on the disk.
    ///
    /// # Errors
    ///
    /// There is a file of that name, it cannot be written, or the database refuses.
    pub async fn backup(&self, path: &Path, now: Timestamp) -> Result<BackupSummary, BookError> {
        if path.exists() {
            return Err(BookError::refused(
                format!("there is a file {} already", path.display()),
                "a new name; no backup is written over",
            ));
        }
        let part = part_of(path);
        let outcome = self.write_backup(&part, now).await;
        let summary = match outcome {
            Ok(summary) => summary,
            Err(error) => {
                // Half a backup is of no use; that it cannot be removed is worth no second message.
                let _ = std::fs::remove_file(&part);
                return Err(error);
            }
        };
        std::fs::rename(&part, path).map_err(|error| BookError::file(path, &error))?;
        Ok(summary)
    }

    async fn write_backup(&self, part: &Path, now: Timestamp) -> Result<BackupSummary, BookError> {
        let failed = |error: std::io::Error| BookError::file(part, &error);
        let file = File::create(part).map_err(failed)?;
        let mut lines = Lines {
            out: GzEncoder::new(BufWriter::new(file), Compression::fast()),
            hasher: Sha256::new(),
            path: part.to_owned(),
        };
        let mut transaction = self.database.read().await?;
        lines.write(&json!({"axlewright_book": FORM, "schema": SCHEMA, "at": now.to_string()}))?;
        let mut rows = 0;
        for table in TABLES {
            lines.write(&json!({"table": table.name, "columns": table.columns}))?;
            let mut behind: Option<Vec<Value>> = None;
            loop {
                let (statement, values) = page_of(table, behind.as_deref());
                let page = transaction.rows(&statement, &values).await?;
                let Some(last) = page.last() else { break };
                behind = Some(key_of(table, last));
                for row in &page {
                    rows += 1;
                    lines.write(&Json::Array(row.cells().iter().map(cell).collect()))?;
                }
            }
        }
        let end = transaction.row("SELECT sequence, hash, (SELECT COUNT(*) FROM orders) FROM log_end", &[]).await?;
        let end = end.ok_or_else(|| BookError::Unexpected { problem: "no end of the log".to_owned() })?;
        let digest = hexadecimal(&lines.hasher.clone().finalize());
        lines.write(&json!({"rows": rows, "sha256": digest}))?;
        let file = lines.out.finish().map_err(failed)?.into_inner().map_err(|error| failed(error.into_error()))?;
        file.sync_all().map_err(failed)?;
        Ok(BackupSummary { orders: end.integer(2)?, events: end.integer(0)?, end: end.text(1)?, rows })
    }
}

/// Where the file grows until it is whole.
fn part_of(path: &Path) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(".part");
    path.with_file_name(name)
}

struct Lines {
    out: GzEncoder<BufWriter<File>>,
    hasher: Sha256,
    path: PathBuf,
}

impl Lines {
    fn write(&mut self, line: &Json) -> Result<(), BookError> {
        let mut text = line.to_string();
        text.push('\n');
        self.hasher.update(text.as_bytes());
        self.out.write_all(text.as_bytes()).map_err(|error| BookError::file(&self.path, &error))
    }
}

/// The statement for the next page of a table.
fn page_of(table: &Table, behind: Option<&[Value]>) -> (String, Vec<Value>) {
    let keys = table.key.join(", ");
    let mut values: Vec<Value> = behind.unwrap_or_default().to_vec();
    let beyond = if values.is_empty() {
        String::new()
    } else {
        let places: Vec<String> = (1..=values.len()).map(|place| format!("${place}")).collect();
        format!(" WHERE ({keys}) > ({})", places.join(", "))
    };
    values.push(if table.name == "photo_picture" { PAGE_OF_PICTURES } else { PAGE }.into());
    let statement = format!(
        "SELECT {} FROM {}{beyond} ORDER BY {keys} LIMIT ${}",
        table.columns.join(", "),
        table.name,
        values.len()
    );
    (statement, values)
}

fn key_of(table: &Table, row: &Row) -> Vec<Value> {
    table
        .key
        .iter()
        .filter_map(|key| {
            let place = table.columns.iter().position(|column| column == key)?;
            row.cells().get(place).cloned()
        })
        .collect()
}

/// A value as JSON. Real numbers are text, so that every digit comes back whatever reads the file.
fn cell(value: &Value) -> Json {
    let one = |key: &str, text: String| Json::Object(Map::from_iter([(key.to_owned(), Json::String(text))]));
    match value {
        Value::Integer(Some(value)) => json!(value),
        Value::Real(Some(value)) => one("real", value.to_string()),
        Value::Text(Some(value)) => json!(value),
        Value::Bytes(Some(value)) => one("bytes", hexadecimal(value)),
        Value::Integer(None) | Value::Real(None) | Value::Text(None) | Value::Bytes(None) => Json::Null,
    }
}
