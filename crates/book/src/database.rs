//! One database under two engines: the same statements run on SQLite and on PostgreSQL.
//!
//! The two pools are typed; everything above this file sees one kind of transaction, of value and of row. Statements use
//! `$1` placeholders and only what both engines know.

mod apart;
mod fault;
mod place;
mod row;
mod standing;
mod transaction;
mod value;

use std::sync::Arc;
use std::time::Duration;

use sqlx::postgres::PgPoolOptions;
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous};
use sqlx::{PgPool, SqlitePool};

use crate::error::BookError;
pub(crate) use apart::Apart;
use fault::{refused_by_database, refused_by_server};
pub(crate) use place::{Place, without_password};
pub(crate) use row::Row;
pub(crate) use standing::Standing;
pub(crate) use transaction::Transaction;
pub(crate) use value::Value;

/// How long a writer waits for another one.
const PATIENCE: Duration = Duration::from_secs(10);
/// Readers of one process at a time.
const READERS: u32 = 4;

/// The pools of one book.
#[derive(Debug, Clone)]
pub(crate) enum Database {
    /// One file. A single connection writes, so that writers of one process queue up instead of contending.
    Sqlite {
        /// Connections that only read.
        readers: SqlitePool,
        /// The one that writes.
        writer: SqlitePool,
        /// The file at its place.
        standing: Arc<Standing>,
    },
    /// A server.
    Postgres(PgPool),
}

impl Database {
    /// Opens the database, and makes the file where there is none.
    ///
    /// # Errors
    ///
    /// The place cannot be opened, or is no database.
    pub async fn open(place: &Place) -> Result<Self, BookError> {
        match place {
            Place::File(path) => {
                let options = SqliteConnectOptions::new().filename(path).foreign_keys(true).busy_timeout(PATIENCE);
                let writing = options
                    .clone()
                    .create_if_missing(true)
                    .journal_mode(SqliteJournalMode::Wal)
                    // What was acknowledged is on the disk, even when the power fails.
                    .synchronous(SqliteSynchronous::Full);
                let writer = SqlitePoolOptions::new()
                    .max_connections(1)
                    .acquire_timeout(PATIENCE)
                    .connect_with(writing)
                    .await
                    .map_err(refused_by_database)?;
                // A reader sets nothing that is kept in the file, since for that it would have to wait for a writer.
                let readers = SqlitePoolOptions::new()
                    .max_connections(READERS)
                    .acquire_timeout(PATIENCE)
                    .connect_lazy_with(options.pragma("query_only", "1"));
                Ok(Self::Sqlite { readers, writer, standing: Arc::new(Standing::of(path)?) })
            }
            Place::Server(options) => {
                let options = options.clone().application_name("axlewright").options([
                    ("lock_timeout", "10s"),
                    ("synchronous_commit", "on"),
                    ("timezone", "UTC"),
                    // Every statement of the book fetches few rows by an index. Plans that read whole tables, and machine code
                    // for them, take a hundred times as long where the server's guess at the number of rows is off.
                    ("enable_hashjoin", "off"),
                    ("enable_mergejoin", "off"),
                    ("enable_seqscan", "off"),
                    ("jit", "off"),
                    ("max_parallel_workers_per_gather", "0"),
                    ("plan_cache_mode", "force_custom_plan"),
                ]);
                let pool = PgPoolOptions::new()
                    .max_connections(READERS + 2)
                    .acquire_timeout(PATIENCE)
                    .connect_with(options)
                    .await
                    .map_err(refused_by_server)?;
                Ok(Self::Postgres(pool))
            }
        }
    }

    /// Begins a transaction that will write. On SQLite it takes the write lock at once, so that it cannot lose it later.
    pub async fn write(&self) -> Result<Transaction, BookError> {
        match self {
            Self::Sqlite { writer, standing, .. } => {
                standing.holds()?;
                let begun = |transaction| Transaction::Sqlite(transaction, standing.clone());
                match writer.begin_with("BEGIN IMMEDIATE").await.map_err(refused_by_database) {
                    Ok(transaction) => Ok(begun(transaction)),
                    // Where the disk was full, SQLite has ended the transaction by itself and the pool believes that it is open still.
                    Err(BookError::Database { .. } | BookError::Unreachable { .. }) if !writer.is_closed() => {
                        let spoiled = writer.acquire().await.map_err(refused_by_database)?;
                        // A connection that cannot be closed in good order is gone as well.
                        let _ = spoiled.close().await;
                        writer.begin_with("BEGIN IMMEDIATE").await.map(begun).map_err(refused_by_database)
                    }
                    Err(error) => Err(error),
                }
            }
            Self::Postgres(pool) => pool.begin().await.map(Transaction::Postgres).map_err(refused_by_server),
        }
    }

    /// Begins a transaction that only reads and sees one moment of the book.
    pub async fn read(&self) -> Result<Transaction, BookError> {
        match self {
            Self::Sqlite { readers, standing, .. } => {
                standing.holds()?;
                let begun = readers.begin().await.map_err(refused_by_database)?;
                Ok(Transaction::Sqlite(begun, standing.clone()))
            }
            Self::Postgres(pool) => pool
                .begin_with("BEGIN TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY")
                .await
                .map(Transaction::Postgres)
                .map_err(refused_by_server),
        }
    }

    /// Prepares long reading on a connection of its own.
    pub async fn read_apart(&self, give_way: Arc<dyn Fn() + Send + Sync>) -> Result<Apart, BookError> {
        match self {
            Self::Sqlite { readers, standing, .. } => {
                standing.holds()?;
                Ok(Apart::sqlite(readers, standing, give_way))
            }
            Self::Postgres(_) => Ok(Apart::postgres(self, give_way)),
        }
    }

    /// Reads with one statement.
    pub async fn rows(&self, statement: &str, values: &[Value]) -> Result<Vec<Row>, BookError> {
        match self {
            Self::Sqlite { readers, standing, .. } => {
                standing.holds()?;
                let mut connection = readers.acquire().await.map_err(refused_by_database)?;
                transaction::sqlite_rows(&mut connection, statement, values).await
            }
            Self::Postgres(pool) => {
                let mut connection = pool.acquire().await.map_err(refused_by_server)?;
                transaction::postgres_rows(&mut connection, statement, values).await
            }
        }
    }

    /// Reads at most one row.
    pub async fn row(&self, statement: &str, values: &[Value]) -> Result<Option<Row>, BookError> {
        Ok(self.rows(statement, values).await?.into_iter().next())
    }

    /// The file; none where the book lies on a server.
    pub fn standing(&self) -> Option<&Standing> {
        match self {
            Self::Sqlite { standing, .. } => Some(standing),
            Self::Postgres(_) => None,
        }
    }

    /// `SQLite` or `PostgreSQL`.
    pub fn engine(&self) -> &'static str {
        match self {
            Self::Sqlite { .. } => "SQLite",
            Self::Postgres(_) => "PostgreSQL",
        }
    }

    /// Closes every connection and, on SQLite, folds the log back into the file.
    pub async fn close(&self) {
        match self {
            Self::Sqlite { readers, writer, .. } => {
                readers.close().await;
                writer.close().await;
            }
            Self::Postgres(pool) => pool.close().await,
        }
    }
}
