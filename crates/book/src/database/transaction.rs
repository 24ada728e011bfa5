//! A transaction on either engine.

use std::sync::Arc;

use sqlx::postgres::{PgArguments, PgConnection};
use sqlx::query::Query;
use sqlx::sqlite::{SqliteArguments, SqliteConnection};
use sqlx::{AssertSqlSafe, Postgres, Sqlite};

use super::fault::refused_by_database;
use super::row::Row;
use super::standing::Standing;
use super::value::Value;
use crate::error::BookError;

/// The most values of one statement; SQLite takes 32 766, but a statement must not hold many photos at once.
const MOST_VALUES: usize = 600;

/// A transaction. Dropped without [`Transaction::commit`], it leaves no trace.
#[derive(Debug)]
pub(crate) enum Transaction {
    /// On the file.
    Sqlite(sqlx::Transaction<'static, Sqlite>, Arc<Standing>),
    /// On the server.
    Postgres(sqlx::Transaction<'static, Postgres>),
}

impl Transaction {
    /// Reads rows.
    pub async fn rows(&mut self, statement: &str, values: &[Value]) -> Result<Vec<Row>, BookError> {
        match self {
            Self::Sqlite(transaction, _) => sqlite_rows(transaction, statement, values).await,
            Self::Postgres(transaction) => postgres_rows(transaction, statement, values).await,
        }
    }

    /// Reads at most one row.
    pub async fn row(&mut self, statement: &str, values: &[Value]) -> Result<Option<Row>, BookError> {
        Ok(self.rows(statement, values).await?.into_iter().next())
    }

    /// Writes, and says how many rows that touched.
    pub async fn write(&mut self, statement: &str, values: &[Value]) -> Result<u64, BookError> {
        match self {
            Self::Sqlite(transaction, _) => {
                sqlite_query(statement, values).execute(&mut **transaction).await.map(|done| done.rows_affected())
            }
            Self::Postgres(transaction) => {
                postgres_query(statement, values).execute(&mut **transaction).await.map(|done| done.rows_affected())
            }
        }
        .map_err(refused_by_database)
    }

    /// Inserts many rows with few statements. Every row has one value for each column.
    pub async fn insert(&mut self, table: &str, columns: &[&str], rows: &[Vec<Value>]) -> Result<(), BookError> {
        for batch in rows.chunks((MOST_VALUES / columns.len().max(1)).max(1)) {
            let mut statement = format!("INSERT INTO {table} ({}) VALUES ", columns.join(", "));
            let mut values = Vec::with_capacity(batch.len() * columns.len());
            for (index, row) in batch.iter().enumerate() {
                statement.push_str(if index > 0 { ", (" } else { "(" });
                for (column, value) in row.iter().enumerate() {
                    values.push(value.clone());
                    statement.push_str(if column > 0 { ", " } else { "" });
                    statement.push_str(&format!("${}", values.len()));
                }
                statement.push(')');
            }
            self.write(&statement, &values).await?;
        }
        Ok(())
    }

    /// Runs several statements that take no values.
    pub async fn script(&mut self, statements: &str) -> Result<(), BookError> {
        let script = sqlx::raw_sql(AssertSqlSafe(statements));
        match self {
            Self::Sqlite(transaction, _) => script.execute(&mut **transaction).await.map(|_| ()),
            Self::Postgres(transaction) => script.execute(&mut **transaction).await.map(|_| ()),
        }
        .map_err(refused_by_database)
    }

    /// Keeps everything. Once this returns, it is on the disk.
    pub async fn commit(self) -> Result<(), BookError> {
        match self {
            Self::Sqlite(transaction, standing) => {
                transaction.commit().await.map_err(refused_by_database)?;
                // It is kept in a file; whether that is still the book is seen before anybody is told so.
                standing.holds()
            }
            Self::Postgres(transaction) => transaction.commit().await.map_err(refused_by_database),
        }
    }

    /// Whether this is PostgreSQL.
    pub fn is_postgres(&self) -> bool {
        matches!(self, Self::Postgres(_))
    }
}

/// Reads rows on a connection of SQLite.
pub(super) async fn sqlite_rows(
    connection: &mut SqliteConnection,
    statement: &str,
    values: &[Value],
) -> Result<Vec<Row>, BookError> {
    let rows = sqlite_query(statement, values).fetch_all(connection).await.map_err(refused_by_database)?;
    rows.iter().map(Row::of_sqlite).collect()
}

/// Reads rows on a connection of PostgreSQL.
pub(super) async fn postgres_rows(
    connection: &mut PgConnection,
    statement: &str,
    values: &[Value],
) -> Result<Vec<Row>, BookError> {
    let rows = postgres_query(statement, values).fetch_all(connection).await.map_err(refused_by_database)?;
    rows.iter().map(Row::of_postgres).collect()
}

/// No value that a person entered is ever part of a statement: statements are put together from constants, values are bound.
fn sqlite_query<'q>(statement: &str, values: &[Value]) -> Query<'q, Sqlite, SqliteArguments> {
    let mut query = sqlx::query(AssertSqlSafe(statement));
    for value in values {
        query = match value.clone() {
            Value::Integer(value) => query.bind(value),
            Value::Real(value) => query.bind(value),
            Value::Text(value) => query.bind(value),
            Value::Bytes(value) => query.bind(value),
        };
    }
    query
}

fn postgres_query<'q>(statement: &str, values: &[Value]) -> Query<'q, Postgres, PgArguments> {
    let mut query = sqlx::query(AssertSqlSafe(statement));
    for value in values {
        query = match value.clone() {
            Value::Integer(value) => query.bind(value),
            Value::Real(value) => query.bind(value),
            Value::Text(value) => query.bind(value),
            Value::Bytes(value) => query.bind(value),
        };
    }
    query
}
