//! Makes a book out of a backup.

use std::fs::File;
use std::io::{BufRead, BufReader};
use std::path::Path;

use flate2::read::GzDecoder;
use jiff::Timestamp;
use serde_json::{Value as Json, json};
use sha2::{Digest, Sha256};

use crate::Book;
use crate::backup::FORM;
use crate::check::BookCheck;
use crate::database::{Database, Place, Transaction, Value};
use crate::digest::hexadecimal;
use crate::error::BookError;
use crate::event::{EventKind, LogEnd};
use crate::migration::{SCHEMA, migrate, schema_of};
use crate::person::Person;
use crate::tables::TABLES;

const ACCEPTED: &str = "a file that `axlewright book backup` wrote";
/// So many rows go into the database at a time.
const BATCH: usize = 200;

impl Book {
    /// Makes a book at an empty place out of a backup, checks it, and opens it. The backup may come from the other database and
    /// from an earlier version of the program. Either the whole book is there afterwards or nothing of it.
    ///
    /// # Errors
    ///
    /// The place is not empty, the file is no backup or is damaged, the book in it does not pass its check, or the database
    /// refuses.
    pub async fn restore(
        path: &Path,
        place: &str,
        who: &Person,
        now: Timestamp,
    ) -> Result<(Self, BookCheck), BookError> {
        let mut file = BackupFile::open(path)?;
        let header = file.line()?.ok_or_else(|| file.damaged("it is empty"))?;
        if header["axlewright_book"].as_i64() != Some(FORM) {
            return Err(file.damaged("its first line is not that of a backup"));
        }
        let schema = header["schema"].as_i64().unwrap_or(0);
        if schema < 1 {
            return Err(file.damaged("it names no schema"));
        }
        if schema > SCHEMA {
            return Err(BookError::Newer { found: schema, known: SCHEMA });
        }
        // The whole file is looked over before the place is touched.
        file.verify()?;
        let database = Database::open(&Place::read(place)?).await?;
        must_be_empty(&database, schema, place).await?;
        migrate(&database, schema, now).await?;

        let mut transaction = database.write().await?;
        transaction.write("DELETE FROM log_end", &[]).await?;
        let mut file = BackupFile::open(path)?;
        file.line()?;
        fill(&mut transaction, &mut file).await?;
        transaction.commit().await?;
        migrate(&database, SCHEMA, now).await?;

        let book = Self { database };
        let check = book.check(None).await?;
        if let Some(fault) = check.faults.first() {
            return Err(BookError::refused(
                format!("the book in {} does not pass its check: {fault}", path.display()),
                "a backup of a book that passes; the place now holds what was in the file, for a closer look",
            ));
        }
        let mut transaction = book.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        let body = json!({"events": check.events, "end": check.end, "backup_of": header["at"]});
        log.append(&mut transaction, now, who, EventKind::Restored, None, &body).await?;
        transaction.commit().await?;
        Ok((book, check))
    }
}

async fn must_be_empty(database: &Database, schema: i64, place: &str) -> Result<(), BookError> {
    let found = schema_of(database).await?;
    let empty = found == 0 || {
        let row = database.row("SELECT (SELECT COUNT(*) FROM event) + (SELECT COUNT(*) FROM account)", &[]).await?;
        found == schema && row.map_or(Ok(0), |row| row.integer(0))? == 0
    };
    if empty {
        return Ok(());
    }
    let place = place.rsplit('@').next().unwrap_or(place);
    Err(BookError::refused(
        format!("there is a book at {place} already"),
        "an empty place: a new file, or an empty database. Nothing is ever restored over a book",
    ))
}

/// Reads the tables into the database.
async fn fill(transaction: &mut Transaction, file: &mut BackupFile) -> Result<(), BookError> {
    let mut columns: Vec<&'static str> = Vec::new();
    let mut table = "";
    let mut batch: Vec<Vec<Value>> = Vec::new();
    while let Some(line) = file.line()? {
        match &line {
            Json::Array(cells) => {
                if cells.len() != columns.len() {
                    return Err(file.damaged("a row has too few or too many cells"));
                }
                let row: Option<Vec<Value>> =
                    cells.iter().zip(&columns).map(|(cell, column)| value(cell, column)).collect();
                batch.push(row.ok_or_else(|| file.damaged("a cell is of no kind that is known"))?);
                if batch.len() >= if table == "photo_picture" { 1 } else { BATCH } {
                    transaction.insert(table, &columns, &batch).await?;
                    batch.clear();
                }
            }
            _ => {
                transaction.insert(table, &columns, &batch).await?;
                batch.clear();
                if line.get("sha256").is_some() {
                    return Ok(());
                }
                (table, columns) = named(&line).ok_or_else(|| file.damaged("it holds a table that is not known"))?;
            }
        }
    }
    Err(file.damaged("its end is missing"))
}

/// The table and the columns that a line names, as this program knows them: no name out of a file gets into a statement.
fn named(line: &Json) -> Option<(&'static str, Vec<&'static str>)> {
    let name = line["table"].as_str()?;
    let table = TABLES.iter().find(|table| table.name == name)?;
    let columns = line["columns"]
        .as_array()?
        .iter()
        .map(|column| table.columns.iter().find(|known| column.as_str() == Some(known)).copied())
        .collect::<Option<Vec<_>>>()?;
    Some((table.name, columns))
}

/// Columns that hold whole numbers or real ones and may be empty. PostgreSQL wants to know the type of what is not there.
const EMPTY_INTEGERS: [&str; 7] =
    ["order_number", "approved_revision", "finished_at", "revoked_at", "amount", "pin", "passed"];
const EMPTY_REALS: [&str; 3] = ["fit", "fit_was", "fit_becomes"];

fn value(cell: &Json, column: &str) -> Option<Value> {
    match cell {
        Json::Null if EMPTY_INTEGERS.contains(&column) => Some(Value::Integer(None)),
        Json::Null if EMPTY_REALS.contains(&column) => Some(Value::Real(None)),
        Json::Null => Some(Value::Text(None)),
        Json::Number(number) => number.as_i64().map(Value::from),
        Json::String(text) => Some(Value::from(text)),
        Json::Object(object) => {
            if let Some(text) = object.get("real").and_then(Json::as_str) {
                return text.parse().ok().map(|number: f64| Value::Real(Some(number)));
            }
            let text = object.get("bytes").and_then(Json::as_str)?;
            bytes(text).map(Value::from)
        }
        Json::Bool(_) | Json::Array(_) => None,
    }
}

fn bytes(text: &str) -> Option<Vec<u8>> {
    text.as_bytes().chunks(2).map(|pair| u8::from_str_radix(std::str::from_utf8(pair).ok()?, 16).ok()).collect()
}

/// A backup that is read line by line.
struct BackupFile {
    name: String,
    lines: BufReader<GzDecoder<BufReader<File>>>,
    number: usize,
    text: String,
}

impl BackupFile {
    fn open(path: &Path) -> Result<Self, BookError> {
        let file = File::open(path).map_err(|error| BookError::file(path, &error))?;
        let lines = BufReader::new(GzDecoder::new(BufReader::new(file)));
        Ok(Self { name: path.display().to_string(), lines, number: 0, text: String::new() })
    }

    fn damaged(&self, problem: &str) -> BookError {
        BookError::refused(format!("{}, line {}: {problem}", self.name, self.number), ACCEPTED)
    }

    /// The next line, or nothing at the end.
    fn line(&mut self) -> Result<Option<Json>, BookError> {
        self.text.clear();
        self.number += 1;
        match self.lines.read_line(&mut self.text) {
            Ok(0) => Ok(None),
            Ok(_) => serde_json::from_str(&self.text).map(Some).map_err(|_| self.damaged("it is no JSON")),
            Err(error) => Err(self.damaged(&format!("it cannot be unpacked: {error}"))),
        }
    }

    /// Reads on to the end and holds the lines against the last one.
    fn verify(&mut self) -> Result<(), BookError> {
        let mut hasher = Sha256::new();
        // The first line was read before.
        hasher.update(self.text.as_bytes());
        let mut rows = 0;
        while let Some(line) = self.line()? {
            if line.is_array() {
                rows += 1;
            }
            if let Some(digest) = line.get("sha256") {
                if digest.as_str() != Some(&hexadecimal(&hasher.finalize())) || line["rows"].as_i64() != Some(rows) {
                    return Err(self.damaged("the lines before it are not those that were written"));
                }
                return Ok(());
            }
            hasher.update(self.text.as_bytes());
        }
        Err(self.damaged("its end is missing; it was cut off"))
    }
}
