//! Runs a test on SQLite and on PostgreSQL, each with a book of its own.

use std::sync::OnceLock;

use book::{Book, Details, MarkedCatalog, OrderLine, Person, ReviewedSheet, Role};
use catalog::Catalog;
use jiff::{SignedDuration, Timestamp};
use tempfile::TempDir;

use crate::server;

/// A place for a book, and whom the tests let write in it.
#[derive(Debug)]
pub struct Bench {
    /// Where the book lies.
    pub place: String,
    /// `SQLite` or `PostgreSQL`.
    pub engine: &'static str,
    /// A folder for whatever a test writes.
    pub folder: TempDir,
}

impl Bench {
    /// Opens the book of this bench.
    pub async fn book(&self) -> Book {
        Book::open(&self.place, at(0)).await.unwrap()
    }

    /// Another empty place on the same engine.
    pub async fn other_place(&self) -> String {
        if self.engine == "SQLite" {
            self.folder.path().join("other.db").display().to_string()
        } else {
            server::shared().new_database().await
        }
    }

    /// Does something to the database behind the book's back.
    pub async fn by_hand(&self, statements: &str) {
        by_hand(&self.place, statements).await;
    }
}

/// Does something to a database behind the book's back.
pub async fn by_hand(place: &str, statements: &str) {
    use sqlx::Connection;
    let script = sqlx::raw_sql(sqlx::AssertSqlSafe(statements));
    if place.starts_with("postgres") {
        let mut connection = sqlx::PgConnection::connect(place).await.unwrap();
        script.execute(&mut connection).await.unwrap();
        connection.close().await.unwrap();
    } else {
        let mut connection = sqlx::SqliteConnection::connect(&format!("sqlite://{place}?mode=rwc")).await.unwrap();
        script.execute(&mut connection).await.unwrap();
        connection.close().await.unwrap();
    }
}

/// Runs a test on both engines, one after the other.
pub fn on_both(test: impl AsyncFn(Bench)) {
    run(async {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("orders.db").display().to_string();
        println!("on SQLite");
        test(Bench { place, engine: "SQLite", folder }).await;
        println!("on PostgreSQL");
        let place = server::shared().new_database().await;
        test(Bench { place, engine: "PostgreSQL", folder: tempfile::tempdir().unwrap() }).await;
    });
}

/// Runs something that waits.
pub fn run<T>(what: impl Future<Output = T>) -> T {
    tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap().block_on(what)
}

/// So many minutes after a Monday morning.
pub fn at(minutes: i64) -> Timestamp {
    "2026-03-02T08:00:00Z".parse::<Timestamp>().unwrap() + SignedDuration::from_mins(minutes)
}

/// The shipped catalog.
pub fn catalog() -> &'static MarkedCatalog {
    static CATALOG: OnceLock<MarkedCatalog> = OnceLock::new();
    CATALOG.get_or_init(|| MarkedCatalog::new(Catalog::shipped().unwrap()))
}

/// An order of the demo, as it is written.
pub fn demo(name: &str) -> String {
    let path = format!("{}/../../demo/orders/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

/// A sheet that may be cut, under a reference.
pub fn sound(reference: &str) -> ReviewedSheet {
    reviewed(&demo("01-hay-truck").replace("Q-0101", reference).replace(", from the hay truck", ""))
}

/// The first order of the demo with a verdict.
pub fn with_verdict(verdict: axle::Verdict) -> ReviewedSheet {
    let folder = format!("{}/../../demo/orders", env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    files
        .iter()
        .map(|file| reviewed(&std::fs::read_to_string(file).unwrap()))
        .find(|sheet| sheet.review.verdict == verdict)
        .unwrap()
}

/// Reads and reviews a sheet with the shipped catalog.
pub fn reviewed(text: &str) -> ReviewedSheet {
    ReviewedSheet::read("sheet", text, catalog()).unwrap()
}

pub fn desk() -> Person {
    Person::new("Wenna Tarrow", Role::Desk)
}

pub fn floor() -> Person {
    Person::new("Jory Pell", Role::Floor)
}

pub fn owner() -> Person {
    Person::new("Morwen Ostrey", Role::Owner)
}

pub fn customer() -> Details {
    Details {
        customer: "Tamsin Müller".to_owned(),
        contact: "at the weir".to_owned(),
        vehicle: "hay truck".to_owned(),
        due: Some(jiff::civil::date(2026, 4, 1)),
    }
}

/// Takes a sound order in.
pub async fn place_sound(book: &Book, reference: &str) -> OrderLine {
    book.place(&sound(reference), &customer(), &desk(), at(1)).await.unwrap()
}
