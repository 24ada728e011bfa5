//! Brings a book forward to the schema that this program knows. Schemas only ever move forward, one step at a time.

use jiff::Timestamp;

use crate::database::{Database, Transaction};
use crate::error::BookError;

/// Every step, the oldest first. A step that was released is never changed; what it lacks comes with the next one.
pub(crate) const STEPS: [&str; 5] = [
    include_str!("migrations/0001_book.sql"),
    include_str!("migrations/0002_rereview.sql"),
    include_str!("migrations/0003_token.sql"),
    include_str!("migrations/0004_work_record.sql"),
    include_str!("migrations/0005_open_orders.sql"),
];

/// The schema that this program writes.
pub(crate) const SCHEMA: i64 = STEPS.len() as i64;

/// A number that nothing else locks; it spells `axle`.
const LOCK: i64 = 0x61_78_6c_65;

/// Brings the book forward to `target`, in one transaction: either every step is done or none.
///
/// # Errors
///
/// The book is newer than the program, or the database refuses.
pub(crate) async fn migrate(database: &Database, target: i64, now: Timestamp) -> Result<i64, BookError> {
    let mut transaction = database.write().await?;
    if transaction.is_postgres() {
        // Two programs that start at once must not both make the tables.
        transaction.rows("SELECT pg_advisory_xact_lock($1)", &[LOCK.into()]).await.map(|_| ()).or_else(void_column)?;
    }
    transaction
        .script("CREATE TABLE IF NOT EXISTS schema_step (number BIGINT PRIMARY KEY, at BIGINT NOT NULL)")
        .await?;
    let found = schema(&mut transaction).await?;
    if found > SCHEMA {
        return Err(BookError::Newer { found, known: SCHEMA });
    }
    for (step, number) in STEPS.iter().zip(1..) {
        if number > found && number <= target {
            transaction.script(&spelled(step, transaction.is_postgres())).await?;
            transaction
                .write("INSERT INTO schema_step (number, at) VALUES ($1, $2)", &[number.into(), now.into()])
                .await?;
        }
    }
    transaction.commit().await?;
    Ok(found)
}

/// The schema that a book has; 0 where it is empty.
async fn schema(transaction: &mut Transaction) -> Result<i64, BookError> {
    let row = transaction.row("SELECT COALESCE(MAX(number), 0) FROM schema_step", &[]).await?;
    row.map_or(Ok(0), |row| row.integer(0))
}

/// The schema of a book that nobody may have made yet; 0 where there is none.
pub(crate) async fn schema_of(database: &Database) -> Result<i64, BookError> {
    let mut transaction = database.read().await?;
    let statement = if transaction.is_postgres() {
        "SELECT COUNT(*) FROM information_schema.tables WHERE table_name = 'schema_step' AND table_schema = current_schema()"
    } else {
        "SELECT COUNT(*) FROM sqlite_master WHERE name = 'schema_step'"
    };
    let there = transaction.row(statement, &[]).await?;
    if there.map_or(Ok(0), |row| row.integer(0))? == 0 {
        return Ok(0);
    }
    schema(&mut transaction).await
}

/// The lock answers with a column of the type `void`, which is no value.
fn void_column(error: BookError) -> Result<(), BookError> {
    match error {
        BookError::Corrupt { problem } if problem.contains("VOID") => Ok(()),
        other => Err(other),
    }
}

/// A step as the engine spells its types.
fn spelled(step: &str, postgres: bool) -> String {
    let (byte_text, bytes) = if postgres { ("TEXT COLLATE \"C\"", "BYTEA") } else { ("TEXT", "BLOB") };
    step.replace("BYTE_TEXT", byte_text).replace("BYTES", bytes)
}

#[cfg(test)]
mod tests {
    use super::{STEPS, spelled};

    #[test]
    fn each_engine_gets_its_own_types_and_nothing_else_differs() {
        let sqlite = spelled(STEPS[0], false);
        let postgres = spelled(STEPS[0], true);
        assert!(sqlite.contains("picture      BLOB NOT NULL"));
        assert!(postgres.contains("picture      BYTEA NOT NULL"));
        assert_eq!(sqlite.replace("BLOB", "BYTEA"), postgres.replace(" COLLATE \"C\"", ""));
    }
}
