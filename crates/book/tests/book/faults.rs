//! A locked, a damaged, a read-only and a foreign database: a clear message, and nothing lost.

use std::io::{Seek, SeekFrom, Write};
use std::time::Duration;

use book::{Book, BookError, Details, Direction};
use sqlx::Connection;

use crate::both::{at, customer, desk, on_both, place_sound, run, sound};

/// Somebody else holds the end of the log for longer than the book waits.
#[test]
fn a_locked_book_says_so_and_loses_nothing() {
    on_both(async |bench| {
        let book = bench.book().await;
        place_sound(&book, "Q-0101").await;
        let refused = if bench.engine == "SQLite" {
            let mut other = sqlx::SqliteConnection::connect(&format!("sqlite://{}", bench.place)).await.unwrap();
            sqlx::raw_sql("BEGIN IMMEDIATE").execute(&mut other).await.unwrap();
            book.write_message(1, Direction::Note, "waits", &desk(), at(2)).await.unwrap_err()
        } else {
            let mut other = sqlx::PgConnection::connect(&bench.place).await.unwrap();
            sqlx::raw_sql("BEGIN; LOCK TABLE log_end").execute(&mut other).await.unwrap();
            book.write_message(1, Direction::Note, "waits", &desk(), at(2)).await.unwrap_err()
        };
        assert!(matches!(refused, BookError::Locked { .. }), "{refused}");
        assert!(refused.to_string().contains("Nothing was written. Try again"), "{refused}");
        // The other has gone; what was refused is not there, and writing goes on.
        tokio::time::sleep(Duration::from_millis(100)).await;
        assert_eq!(book.messages(1).await.unwrap(), []);
        book.write_message(1, Direction::Note, "now", &desk(), at(3)).await.unwrap();
        assert!(book.check(None).await.unwrap().is_sound());
    });
}

/// What is written to a file that nobody can find any more is gone with the program, so nobody is told that it was kept.
#[test]
fn a_file_that_was_deleted_or_replaced_takes_nothing_more() {
    run(async {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("orders.db");
        let book = Book::open(&file.display().to_string(), at(0)).await.unwrap();
        place_sound(&book, "Q-0101").await;
        assert_eq!(book.file(), Some(file.as_path()));
        let aside = folder.path().join("aside.db");
        let write = async |words: &str| book.write_message(1, Direction::Note, words, &desk(), at(2)).await;
        std::fs::rename(&file, &aside).unwrap();
        for replaced in [false, true] {
            if replaced {
                std::fs::copy(&aside, &file).unwrap();
            }
            let refused = write("into the void").await.unwrap_err();
            assert!(matches!(refused, BookError::Gone { .. }), "{refused}");
            let told = refused.to_string();
            assert!(told.contains(if replaced { "another file lies there" } else { "no file any more" }), "{told}");
            assert!(told.contains("Nothing that is entered now would be kept") && book.stands().is_err());
            assert!(matches!(book.messages(1).await.unwrap_err(), BookError::Gone { .. }), "nor is anything shown");
        }
        // The file itself put back, and all goes on.
        std::fs::rename(&aside, &file).unwrap();
        write("found again").await.unwrap();
        assert_eq!(book.messages(1).await.unwrap().len(), 1);
        assert_eq!(book.schema().await.unwrap().0, book.schema().await.unwrap().1);
        assert!(book.check(None).await.unwrap().is_sound());
    });
}

/// While one desk writes, others read on what stood before.
#[test]
fn readers_never_wait_for_a_writer() {
    on_both(async |bench| {
        let book = bench.book().await;
        place_sound(&book, "Q-0101").await;
        let begin = if bench.engine == "SQLite" { "BEGIN IMMEDIATE" } else { "BEGIN" };
        let hold = "UPDATE orders SET customer = 'half done'; UPDATE log_end SET sequence = sequence";
        let list = async || book.list(&book::ListRequest::default()).await.unwrap().lines[0].details.customer.clone();
        if bench.engine == "SQLite" {
            let mut other = sqlx::SqliteConnection::connect(&format!("sqlite://{}", bench.place)).await.unwrap();
            sqlx::raw_sql(sqlx::AssertSqlSafe(format!("{begin}; {hold}"))).execute(&mut other).await.unwrap();
            assert_eq!(list().await, "Tamsin Müller");
        } else {
            let mut other = sqlx::PgConnection::connect(&bench.place).await.unwrap();
            sqlx::raw_sql(sqlx::AssertSqlSafe(format!("{begin}; {hold}"))).execute(&mut other).await.unwrap();
            assert_eq!(list().await, "Tamsin Müller");
        }
    });
}

#[test]
fn a_file_that_is_no_book_is_left_alone() {
    run(async {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("letter.db");
        let letter = "Dear shop, the left shaft walked out again. ".repeat(100);
        std::fs::write(&path, &letter).unwrap();
        let refused = Book::open(&path.display().to_string(), at(0)).await.unwrap_err();
        assert!(matches!(refused, BookError::Corrupt { .. }), "{refused}");
        assert!(refused.to_string().contains("restore the last backup into a new place"), "{refused}");
        assert_eq!(std::fs::read_to_string(&path).unwrap(), letter);
    });
}

#[test]
fn damaged_pages_are_found_and_the_file_is_left_alone() {
    run(async {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("orders.db");
        let place = path.display().to_string();
        let book = Book::open(&place, at(0)).await.unwrap();
        for number in 0..20 {
            place_sound(&book, &format!("Q-{number}")).await;
        }
        book.close().await;
        // Sixteen pages in the middle of the file are overwritten, as a bad disk would.
        let length = std::fs::metadata(&path).unwrap().len();
        let mut file = std::fs::OpenOptions::new().write(true).open(&path).unwrap();
        file.seek(SeekFrom::Start(length / 2 / 4096 * 4096)).unwrap();
        file.write_all(&[0xa5; 16 * 4096]).unwrap();
        drop(file);

        let damaged = std::fs::read(&path).unwrap();
        let words = match Book::open(&place, at(1)).await {
            Err(error) => error.to_string(),
            Ok(book) => match book.check(None).await {
                Err(error) => error.to_string(),
                Ok(check) => {
                    assert!(!check.is_sound());
                    check.faults[0].to_string()
                }
            },
        };
        assert!(words.contains("damaged") || words.starts_with("the file: "), "{words}");
        assert_eq!(std::fs::read(&path).unwrap(), damaged);
    });
}

#[test]
fn a_book_of_a_later_version_is_left_alone() {
    on_both(async |bench| {
        bench.book().await.close().await;
        bench.by_hand("INSERT INTO schema_step (number, at) VALUES (99, 0)").await;
        let refused = Book::open(&bench.place, at(1)).await.unwrap_err();
        assert!(matches!(refused, BookError::Newer { found: 99, .. }), "{refused}");
        assert!(refused.to_string().contains("accepted: the version of the program that wrote it"), "{refused}");
    });
}

/// What the database itself refuses with the code of a full disk, in the middle of a change, leaves no trace of that change. The
/// code is raised by a trigger here; `tests/disk.rs` fills a real disk.
#[test]
fn a_change_that_fails_half_way_leaves_no_trace() {
    on_both(async |bench| {
        let book = bench.book().await;
        place_sound(&book, "Q-0101").await;
        let before = book.latest_events(100).await.unwrap();
        let refuse = if bench.engine == "SQLite" {
            "CREATE TRIGGER refuse BEFORE INSERT ON search_word BEGIN SELECT RAISE(ABORT, 'no more words'); END"
        } else {
            "CREATE FUNCTION refuse() RETURNS trigger AS $$ BEGIN \
             RAISE EXCEPTION 'no space left' USING ERRCODE = '53100'; END $$ LANGUAGE plpgsql; \
             CREATE TRIGGER refuse BEFORE INSERT ON search_word FOR EACH ROW EXECUTE FUNCTION refuse()"
        };
        bench.by_hand(refuse).await;
        let refused = book.place(&sound("Q-0102"), &book::Details::default(), &desk(), at(2)).await.unwrap_err();
        if bench.engine == "PostgreSQL" {
            assert!(matches!(refused, BookError::Full { .. }), "{refused}");
        }
        assert_eq!(book.latest_events(100).await.unwrap(), before);
        assert_eq!(book.list(&book::ListRequest::default()).await.unwrap().lines.len(), 1);
        let drop = if bench.engine == "SQLite" { "DROP TRIGGER refuse" } else { "DROP TRIGGER refuse ON search_word" };
        bench.by_hand(drop).await;
        assert_eq!(place_sound(&book, "Q-0102").await.number, 2);
        assert!(book.check(None).await.unwrap().is_sound());
    });
}

#[test]
fn a_reference_can_be_seen_whole_and_texts_read_as_they_are_written() {
    on_both(async |bench| {
        let book = bench.book().await;
        let mut sheet = sound("C-1");
        let long = "C".repeat(61);
        for bad in ["C-\u{200b}1", "C-\u{202e}1", "C\u{ad}-1", "C\u{3164}1", "\u{feff}C-1", "C\t1", "C\n1", &long] {
            bad.clone_into(&mut sheet.sheet.reference);
            let error = book.place(&sheet, &customer(), &desk(), at(1)).await.unwrap_err().to_string();
            assert!(error.contains("the reference ") && error.contains("at most 60 letters"), "{bad:?}: {error}");
        }
        "C-1".clone_into(&mut sheet.sheet.reference);
        for bad in ["Weir\u{202e}Dairy", "Weir\u{2066}Dairy", "Weir\u{7}Dairy", "Weir\u{1b}[2J"] {
            let details = Details { customer: bad.to_owned(), ..customer() };
            let error = book.place(&sheet, &details, &desk(), at(1)).await.unwrap_err().to_string();
            assert!(error.contains("the customer holds the character U+"), "{bad:?}: {error}");
        }
        assert_eq!(book.check(None).await.unwrap().orders, 0);
        "C".repeat(60).clone_into(&mut sheet.sheet.reference);
        let details = Details { contact: "Wenna\tTarrow\nat the \u{200f}gate".to_owned(), ..customer() };
        assert_eq!(book.place(&sheet, &details, &desk(), at(1)).await.unwrap().number, 1);
    });
}
