//! What an export wrote comes into another book: whole, marked as taken over, and held against the log like everything else.

use std::path::Path;

use book::{Book, Details, Direction, EventKind, ExportedOrder, MarkedCatalog, MoveRequest, State, read_export};
use serde_json::Value as Json;

use crate::backups::{full_book, stricter};
use crate::both::{at, by_hand, catalog, customer, desk, floor, on_both, place_sound, reviewed, run, sound};
use crate::server;

fn read(folder: &Path, catalog: &MarkedCatalog) -> Result<Vec<ExportedOrder>, Vec<String>> {
    let bytes = std::fs::read(folder.join("orders.json")).unwrap();
    read_export("orders.json", &bytes, catalog, |file| {
        std::fs::read(folder.join(file)).map_err(|error| error.to_string())
    })
}

/// Everything that is told of an order but what another book cannot know: its number, its log, and the review of its own catalog.
async fn told(book: &Book, reference: &str) -> Json {
    let order = book.order_by_reference(reference).await.unwrap();
    let mut json = book.order_json(&order).await.unwrap();
    for key in ["number", "events", "verdict", "fit", "doubt"] {
        json.as_object_mut().unwrap().remove(key).unwrap();
    }
    json
}

#[test]
fn an_export_is_taken_over_whole_on_either_database() {
    on_both(async |bench| {
        let book = full_book(&bench).await;
        let references: Vec<String> = book
            .list(&book::ListRequest::default())
            .await
            .unwrap()
            .lines
            .into_iter()
            .map(|one| one.reference)
            .collect();
        let folder = bench.folder.path().join("export");
        book.export(&folder, at(7)).await.unwrap();
        let exported = read(&folder, catalog()).unwrap();

        let file = bench.folder.path().join("taken.db").display().to_string();
        for place in [file, server::shared().new_database().await] {
            let taken = Book::open(&place, at(8)).await.unwrap();
            place_sound(&taken, "R-1").await;
            let fresh = [(sound("R-2"), Details::default())];
            let lines = taken.take_over(&exported, &fresh, &desk(), at(9)).await.unwrap();
            assert_eq!(lines.iter().map(|line| line.number).collect::<Vec<_>>(), [2, 3, 4]);
            for reference in &references {
                assert_eq!(told(&taken, reference).await, told(&book, reference).await, "{}", taken.engine());
            }
            assert_eq!(taken.photo_picture(1).await.unwrap(), book.photo_picture(1).await.unwrap());
            // The log says who took it over, and keeps what the other book's log said.
            let number = taken.order_by_reference("Q-0101").await.unwrap().line.number;
            let events = taken.events(number).await.unwrap();
            assert_eq!(events.len(), 1);
            assert_eq!(
                (events[0].kind, events[0].at, events[0].who.as_str()),
                (EventKind::TakenOver, at(9), "Wenna Tarrow")
            );
            let kept = events[0].body["events"].as_array().unwrap();
            let original = book.events(1).await.unwrap();
            assert_eq!(kept.len(), original.len());
            assert_eq!(kept[0]["hash"], original[0].hash);
            // It is found, goes on, and passes its check before and after.
            let check = taken.check(None).await.unwrap();
            assert!(check.is_sound(), "{:?}", check.faults);
            assert_eq!((check.orders, check.revisions, check.messages, check.photos), (4, 5, 1, 1));
            let search = "shoulder 2.18 tams".to_owned();
            let found = taken.list(&book::ListRequest { search, ..book::ListRequest::default() }).await.unwrap();
            assert!(found.lines.iter().any(|line| line.number == number));
            let request = MoveRequest { seen_revision: 2, from: State::InWork, to: State::Inspected, reason: None };
            taken.move_order(number, request, &floor(), at(10)).await.unwrap();
            taken.write_message(number, Direction::Note, "It goes on here.", &desk(), at(11)).await.unwrap();
            assert!(taken.check(None).await.unwrap().is_sound());
            // What was taken over is guarded: who changes it by hand is found out.
            by_hand(&place, "UPDATE message SET words = 'something else' WHERE number = 1").await;
            by_hand(&place, "UPDATE revision SET who = 'somebody else' WHERE revision = 2").await;
            let faults = taken.check(None).await.unwrap().faults;
            let words: Vec<String> = faults.iter().map(ToString::to_string).collect();
            let revision = format!("order {number}, revision 2: is not the one that was taken over");
            assert_eq!(words, [revision, "message 1: is not the one that was taken over".to_owned()]);
        }
    });
}

#[test]
fn a_revision_after_it_is_compared_with_the_readings_that_came() {
    on_both(async |bench| {
        let book = full_book(&bench).await;
        let folder = bench.folder.path().join("export");
        book.export(&folder, at(7)).await.unwrap();
        let taken = Book::open(&bench.other_place().await, at(8)).await.unwrap();
        taken.take_over(&read(&folder, catalog()).unwrap(), &[], &desk(), at(9)).await.unwrap();
        let sheet = taken.order(1).await.unwrap().sheet;
        let thicker = reviewed(&sheet.replace("\"0.425\"", "\"0.431\""));
        taken.revise(1, 2, &thicker, &customer(), "read a third time", &desk(), at(10)).await.unwrap();
        let history = taken.reading_history(1).await.unwrap();
        let last = history.last().unwrap();
        assert_eq!(
            (last.revision, last.was.as_deref(), last.becomes.as_deref()),
            (3, Some("0.425 in"), Some("0.431 in"))
        );
        assert_eq!(history.iter().filter(|one| one.revision == 3).count(), 1);
        assert!(taken.check(None).await.unwrap().is_sound());
    });
}

/// The other book's approval does not count where this catalog's review says otherwise.
#[test]
fn an_approval_that_the_review_here_does_not_bear_out_comes_in_as_questioned() {
    on_both(async |bench| {
        let book = bench.book().await;
        place_sound(&book, "Q-0101").await;
        let request = MoveRequest { seen_revision: 1, from: State::Received, to: State::Approved, reason: None };
        book.move_order(1, request, &desk(), at(2)).await.unwrap();
        let folder = bench.folder.path().join("export");
        book.export(&folder, at(7)).await.unwrap();
        let careful = MarkedCatalog::new(stricter());
        let taken = Book::open(&bench.other_place().await, at(8)).await.unwrap();
        let line = taken.take_over(&read(&folder, &careful).unwrap(), &[], &desk(), at(9)).await.unwrap().remove(0);
        assert_eq!((line.state, line.approved_revision), (State::Questioned, None));
        let moved = taken.events(1).await.unwrap().remove(1);
        assert_eq!(moved.body["reason"], "it was approved to cut in the other book, and its review here says ask");
        assert!(taken.check(None).await.unwrap().is_sound());
    });
}

#[test]
fn what_is_not_as_it_was_exported_is_refused_with_its_place() {
    run(async {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("orders.db").display().to_string();
        let bench = crate::both::Bench { place, engine: "SQLite", folder };
        let book = full_book(&bench).await;
        let folder = bench.folder.path().join("export");
        book.export(&folder, at(7)).await.unwrap();
        let path = folder.join("orders.json");
        let whole = std::fs::read_to_string(&path).unwrap();
        for (was, becomes, expected) in [
            ("\"reference\":", "\"colour\":\"red\",\"reference\":", "unknown field `colour`"),
            ("\"state\":\"in-work\"", "\"state\":\"lost\"", "there is no state `lost`"),
            ("\"base\":1", "\"base\":2", "its revisions are not counted from 1"),
            ("\"customer\":\"Tamsin M", "\"customer\":\"Tomsin M", "its head is not that of its last revision"),
            ("photos/000001.png", "../orders.db", "lies outside the export"),
            ("photos/000001.png", "photos/000009.png", "the photo photos/000009.png: No such file"),
            ("\"written\":\"2.182 in\"", "\"written\":\"2.282 in\"", "`2.282 in` that was measured is not"),
            ("\"dimension\":\"shoulder_distance\"", "\"dimension\":\"elbow\"", "there is no dimension `elbow`"),
            ("overall_length", "overlong_length", "Q-0101, revision 2:"),
            ("\"at\":\"2026", "\"at\":\"the 2026", "orders.json:"),
        ] {
            assert!(whole.contains(was), "{was}");
            // The head of an order comes before its revisions; only the first place is changed there.
            let all = becomes.contains("photos") || becomes.contains("overlong");
            let changed = if all { whole.replace(was, becomes) } else { whole.replacen(was, becomes, 1) };
            std::fs::write(&path, changed).unwrap();
            let faults = read(&folder, catalog()).unwrap_err().join("\n");
            assert!(faults.contains(expected), "{expected}: {faults}");
            assert!(faults.contains("accepted: "), "{faults}");
        }
        std::fs::write(&path, &whole).unwrap();
        let photo = folder.join("photos/000001.png");
        let mut bytes = std::fs::read(&photo).unwrap();
        bytes.push(0);
        std::fs::write(&photo, bytes).unwrap();
        let faults = read(&folder, catalog()).unwrap_err().join("\n");
        assert!(faults.contains("the photo photos/000001.png is not the one that was exported"), "{faults}");
    });
}

#[test]
fn a_takeover_is_all_or_nothing() {
    on_both(async |bench| {
        let book = full_book(&bench).await;
        let folder = bench.folder.path().join("export");
        book.export(&folder, at(7)).await.unwrap();
        let exported = read(&folder, catalog()).unwrap();
        // Into the same book: the references are taken.
        let before = book.check(None).await.unwrap();
        let refused = book.take_over(&exported, &[], &desk(), at(9)).await.unwrap_err().to_string();
        assert!(refused.contains("is taken by order 1"), "{refused}");
        let fresh = [(sound("R-1"), Details::default()), (sound("r 1"), Details::default())];
        let taken = Book::open(&bench.other_place().await, at(8)).await.unwrap();
        assert!(taken.take_over(&exported, &fresh, &desk(), at(9)).await.is_err());
        assert!(taken.take_over(&exported, &[], &floor(), at(9)).await.is_err());
        assert_eq!(taken.check(None).await.unwrap().events, 0);
        assert_eq!(book.check(None).await.unwrap(), before);
    });
}
