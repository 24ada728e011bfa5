//! The log: whatever is changed behind the book's back is found, and where it was changed first is said.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::time::Duration;

use book::{Book, BookCheck, Direction, KeptEnd, MoveRequest, Picture, State};

use crate::backups::full_book;
use crate::both::{Bench, at, desk, on_both, place_sound};
use crate::photos::red_png;

/// Two orders, a message, a photo and a move: six events.
async fn six_events(bench: &Bench) -> (Book, BookCheck) {
    let book = bench.book().await;
    place_sound(&book, "Q-0101").await;
    book.write_message(1, Direction::Note, "the drum is new", &desk(), at(2)).await.unwrap();
    let picture = Picture::read(&red_png()).unwrap();
    book.add_photo(1, &picture, "flange.png", "the flange", &desk(), at(3)).await.unwrap();
    let request = MoveRequest { seen_revision: 1, from: State::Received, to: State::Questioned, reason: None };
    book.move_order(1, request, &desk(), at(4)).await.unwrap();
    place_sound(&book, "Q-0102").await;
    book.write_message(2, Direction::Note, "waits", &desk(), at(5)).await.unwrap();
    let check = book.check(None).await.unwrap();
    assert!(check.is_sound(), "{:?}", check.faults);
    assert_eq!((check.events, check.orders, check.revisions, check.messages, check.photos), (6, 2, 2, 2, 1));
    (book, check)
}

async fn first_fault(book: &Book, kept: Option<&KeptEnd>) -> String {
    let check = book.check(kept).await.unwrap();
    assert!(!check.is_sound());
    check.faults[0].to_string()
}

#[test]
fn whatever_is_changed_in_the_log_breaks_the_chain_where_it_was_changed() {
    on_both(async |bench| {
        let (book, _) = six_events(&bench).await;
        bench.by_hand("UPDATE event SET who = 'Nobody' WHERE sequence = 2").await;
        let fault = first_fault(&book, None).await;
        assert!(fault.starts_with("event 2: the chain breaks here"), "{fault}");
        bench.by_hand("UPDATE event SET who = 'Wenna Tarrow' WHERE sequence = 2").await;
        assert!(book.check(None).await.unwrap().is_sound());

        bench.by_hand("UPDATE event SET at = at + 1 WHERE sequence = 6").await;
        assert!(first_fault(&book, None).await.starts_with("event 6: the chain breaks here"));
        bench.by_hand("UPDATE event SET at = at - 1 WHERE sequence = 6").await;
        bench.by_hand("UPDATE event SET order_number = NULL WHERE sequence = 4").await;
        assert!(first_fault(&book, None).await.starts_with("event 4: the chain breaks here"));
        bench.by_hand("UPDATE event SET order_number = 1 WHERE sequence = 4").await;
        bench.by_hand("DELETE FROM event WHERE sequence = 3").await;
        assert_eq!(first_fault(&book, None).await, "event 3: is missing from the log");
    });
}

#[test]
fn a_log_that_was_cut_off_or_written_anew_is_found() {
    on_both(async |bench| {
        let (book, before) = six_events(&bench).await;
        let kept = KeptEnd { events: before.events, hash: before.end.clone() };
        assert!(book.check(Some(&kept)).await.unwrap().is_sound());
        // The last event, with what it told of.
        bench.by_hand("DELETE FROM message WHERE number = 2; DELETE FROM event WHERE sequence = 6").await;
        assert_eq!(first_fault(&book, None).await, "event 6: the log ends too early: its last events are gone");
        // With the end set back the chain itself is whole again; only an end that was kept elsewhere tells.
        bench.by_hand("UPDATE log_end SET sequence = 5, hash = (SELECT hash FROM event WHERE sequence = 5)").await;
        assert!(book.check(None).await.unwrap().is_sound());
        let fault = first_fault(&book, Some(&kept)).await;
        assert!(fault.contains("it had 6 events when its end was kept"), "{fault}");
        book.write_message(2, Direction::Note, "something else", &desk(), at(5)).await.unwrap();
        let fault = first_fault(&book, Some(&kept)).await;
        assert!(fault.starts_with("event 6: its hash is not the one that was kept"), "{fault}");
    });
}

/// An order that vanished with everything that is kept of it; the log alone still tells of it.
#[test]
fn an_order_that_is_gone_is_missed() {
    const OF_IT: [&str; 8] = [
        "search_word",
        "decided_size",
        "reading_change",
        "message",
        "photo",
        "inspected_size",
        "work_record",
        "revision",
    ];
    on_both(async |bench| {
        let (book, _) = six_events(&bench).await;
        place_sound(&book, "Q-0103").await;
        assert!(book.check(None).await.unwrap().is_sound());
        let remove = |number: i64| {
            let rest = OF_IT.map(|table| format!("DELETE FROM {table} WHERE order_number = {number}; ")).concat();
            let pictures = "DELETE FROM photo_picture WHERE photo_number IN \
                            (SELECT number FROM photo WHERE order_number = ";
            format!("{pictures}{number}); {rest}DELETE FROM orders WHERE number = {number}")
        };
        // The last one leaves no gap in the numbers.
        bench.by_hand(&remove(3)).await;
        let faults = book.check(None).await.unwrap().faults;
        let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
        assert_eq!(
            told,
            ["order 3, revision 1: is gone", "order 3: is gone, and there was no way to remove it"],
            "on {}",
            bench.engine
        );
        bench.by_hand(&remove(1)).await;
        let faults = book.check(None).await.unwrap().faults;
        let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
        for expected in ["order 1, revision 1: is gone", "message 1: is gone", "photo 1: is gone"] {
            assert!(told.iter().any(|one| one == expected), "{told:?}");
        }
        assert_eq!(told.last().unwrap(), "order 1: is gone, and there was no way to remove it");
    });
}

/// Sizes and records carry the certificate, so they are held against the log as well.
#[test]
fn a_measurement_that_was_changed_or_put_in_is_found() {
    on_both(async |bench| {
        let book = full_book(&bench).await;
        assert!(book.check(None).await.unwrap().measurements >= 3);
        for (change, back, expected) in [
            (
                "UPDATE inspected_size SET passed = 0",
                "UPDATE inspected_size SET passed = 1",
                "order 1, measured size 1: is not the one",
            ),
            (
                "UPDATE work_record SET written = 'B-77' WHERE position = 1",
                "UPDATE work_record SET written = 'H-4711' WHERE position = 1",
                "order 1, record 1: is not the one",
            ),
            (
                "INSERT INTO work_record VALUES (1, 9, 2, 0, 'x', 'heat_number', 'left', 'C-1', NULL, NULL, NULL)",
                "DELETE FROM work_record WHERE position = 9",
                "the tables inspected_size and work_record: hold",
            ),
            ("DELETE FROM work_record WHERE position = 1", "", "order 1, record 1: is gone"),
        ] {
            bench.by_hand(change).await;
            let fault = first_fault(&book, None).await;
            assert!(fault.starts_with(expected), "{change}: {fault}");
            bench.by_hand(back).await;
        }
    });
}

#[test]
fn whatever_is_changed_beside_the_log_is_found() {
    on_both(async |bench| {
        let (book, _) = six_events(&bench).await;
        let changes = [
            ("UPDATE revision SET sheet = sheet || ' ' WHERE order_number = 1", "order 1, revision 1: its sheet"),
            ("UPDATE revision SET customer = 'Nobody' WHERE order_number = 1", "order 1, revision 1: its customer"),
            ("UPDATE revision SET who = 'Nobody' WHERE order_number = 2", "order 2, revision 1: its author"),
            ("UPDATE message SET words = 'the drum is old' WHERE number = 1", "message 1: is not the one"),
            ("UPDATE photo_picture SET picture = thumbnail", "photo 1: is not the one that was sent"),
            ("UPDATE orders SET state = 'closed' WHERE number = 1", "order 1: is closed, the log says questioned"),
            (
                "INSERT INTO message VALUES (9, 1, 0, 'x', 'note', 'put in')",
                "the table message: holds 3 rows, the log tells of 2",
            ),
            ("DELETE FROM message WHERE number = 1", "message 1: is gone"),
        ];
        for (change, expected) in changes {
            let backup = bench.folder.path().join("sound.backup");
            let _ = std::fs::remove_file(&backup);
            book.backup(&backup, at(9)).await.unwrap();
            let place = bench.other_place().await;
            let (copy, _) = Book::restore(&backup, &place, &desk(), at(9)).await.unwrap();
            crate::both::by_hand(&place, change).await;
            let fault = first_fault(&copy, None).await;
            assert!(fault.starts_with(expected), "{change}: {fault}");
            copy.close().await;
            if bench.engine == "SQLite" {
                std::fs::remove_file(&place).unwrap();
            }
        }
        assert!(book.check(None).await.unwrap().is_sound());
    });
}

/// In the background the same is found, in pieces between which the check can be held up.
#[test]
fn a_check_that_gives_way_finds_the_same() {
    on_both(async |bench| {
        let (book, before) = six_events(&bench).await;
        let pieces = Arc::new(AtomicUsize::new(0));
        let counted = pieces.clone();
        let count = move || {
            counted.fetch_add(1, Ordering::Relaxed);
        };
        assert_eq!(book.check_giving_way(None, count.clone()).await.unwrap(), before);
        // On a server before each few rows; SQLite is asked while it looks over the file as well.
        let least = if bench.engine == "SQLite" { 10 } else { 4 };
        assert!(pieces.load(Ordering::Relaxed) >= least, "{pieces:?} on {}", bench.engine);
        bench.by_hand("UPDATE event SET who = 'Nobody' WHERE sequence = 2").await;
        let found = book.check_giving_way(None, count).await.unwrap();
        assert!(found.faults[0].to_string().starts_with("event 2: the chain breaks here"), "{found:?}");
        assert_eq!(found, book.check(None).await.unwrap());
    });
}

/// A desk that closes does not wait until a big file is looked over.
#[test]
fn a_check_that_nobody_waits_for_ends_where_it_is() {
    on_both(async |bench| {
        let (book, _) = six_events(&bench).await;
        let (began, goes_on) = (Arc::new(AtomicBool::new(false)), Arc::new(AtomicBool::new(false)));
        let pieces = Arc::new(AtomicUsize::new(0));
        let give_way = {
            let (began, goes_on, pieces) = (began.clone(), goes_on.clone(), pieces.clone());
            move || {
                pieces.fetch_add(1, Ordering::SeqCst);
                began.store(true, Ordering::SeqCst);
                while !goes_on.load(Ordering::SeqCst) {
                    std::thread::sleep(Duration::from_millis(1));
                }
            }
        };
        let checking = tokio::spawn({
            let book = book.clone();
            async move { book.check_giving_way(None, give_way).await }
        });
        while !began.load(Ordering::SeqCst) {
            tokio::time::sleep(Duration::from_millis(1)).await;
        }
        checking.abort();
        assert!(checking.await.unwrap_err().is_cancelled());
        goes_on.store(true, Ordering::SeqCst);
        // Once the connection is closed nothing holds the function any more, which would have been asked hundreds of times.
        while Arc::strong_count(&pieces) > 1 {
            tokio::time::sleep(Duration::from_millis(1)).await;
        }
        assert_eq!(pieces.load(Ordering::SeqCst), 1);
        // The book itself goes on.
        assert!(book.check(None).await.unwrap().is_sound());
        book.close().await;
    });
}
