//! Long reading that gives way: on a connection of its own, so that nobody who asks for little waits for it, and in small pieces.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use sqlx::SqlitePool;
use sqlx::sqlite::SqlitePoolOptions;

use super::fault::refused_by_database;
use super::standing::Standing;
use super::{Database, PATIENCE, Transaction};
use crate::error::BookError;

/// After so many steps SQLite asks whether it may go on. Where it looks over its pages each counts as a step, and so many take a
/// millisecond or two; elsewhere they take some ten microseconds.
const STEPS: i32 = 100;

/// Who is given way to: it comes back when the work may go on.
type GiveWay = Arc<dyn Fn() + Send + Sync>;

/// A connection for long reading. Dropped, it ends what it is about within a few steps.
pub(crate) struct Apart {
    place: Place,
    give_way: GiveWay,
    ended: Arc<AtomicBool>,
}

enum Place {
    Sqlite(SqlitePool, Arc<Standing>),
    Postgres(Database),
}

impl Apart {
    /// A connection to the file that these readers read.
    pub(super) fn sqlite(readers: &SqlitePool, standing: &Arc<Standing>, give_way: GiveWay) -> Self {
        let ended = Arc::new(AtomicBool::new(false));
        let (asked, is_ended) = (give_way.clone(), ended.clone());
        let pool = SqlitePoolOptions::new()
            .max_connections(1)
            .acquire_timeout(PATIENCE)
            .after_connect(move |connection, _| {
                let (asked, is_ended) = (asked.clone(), is_ended.clone());
                Box::pin(async move {
                    let goes_on = move || {
                        if !is_ended.load(Ordering::Relaxed) {
                            asked();
                        }
                        !is_ended.load(Ordering::Relaxed)
                    };
                    connection.lock_handle().await?.set_progress_handler(STEPS, goes_on);
                    Ok(())
                })
            })
            .connect_lazy_with((*readers.connect_options()).clone());
        Self { place: Place::Sqlite(pool, standing.clone()), give_way, ended }
    }

    /// One of the connections to a server, which reads a few rows at a time and so needs to be asked only between.
    pub(super) fn postgres(database: &Database, give_way: GiveWay) -> Self {
        Self { place: Place::Postgres(database.clone()), give_way, ended: Arc::default() }
    }

    /// Begins a transaction that only reads and sees one moment of the book.
    pub async fn begin(&self) -> Result<Transaction, BookError> {
        match &self.place {
            Place::Sqlite(pool, standing) => {
                let begun = pool.begin().await.map_err(refused_by_database)?;
                Ok(Transaction::Sqlite(begun, standing.clone()))
            }
            Place::Postgres(database) => database.read().await,
        }
    }

    /// Gives way between two pieces of work.
    pub async fn give_way(&self) -> Result<(), BookError> {
        let give_way = self.give_way.clone();
        tokio::task::spawn_blocking(move || give_way())
            .await
            .map_err(|error| BookError::Unexpected { problem: format!("long reading ended early: {error}") })
    }

    /// Closes the connection, once its transaction is dropped.
    pub async fn close(self) {
        if let Place::Sqlite(pool, _) = &self.place {
            pool.close().await;
        }
    }
}

impl Drop for Apart {
    fn drop(&mut self) {
        self.ended.store(true, Ordering::Relaxed);
    }
}
