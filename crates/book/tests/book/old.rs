//! Books of earlier schemas are brought forward and are whole.

use book::{Book, ListRequest, Role, State};

use crate::backups::records;
use crate::both::{at, by_hand, customer, demo, desk, floor, owner, place_sound, reviewed, run};
use crate::server;

/// The schemas of which a book is kept.
const EARLIER: [u8; 4] = [1, 2, 3, 4];

fn kept(name: &str) -> String {
    format!("{}/tests/old/{name}", env!("CARGO_MANIFEST_DIR"))
}

/// What every kept book holds, and that it can be gone on with.
async fn is_whole_and_goes_on(book: &Book) {
    let check = book.check(None).await.unwrap();
    assert!(check.is_sound(), "{:?}", check.faults);
    assert_eq!((check.orders, check.revisions, check.messages, check.photos), (2, 3, 1, 1));
    let order = book.order_by_reference("Q-0101").await.unwrap();
    assert_eq!((order.line.state, order.line.revision, order.line.approved_revision), (State::Approved, 2, Some(2)));
    assert_eq!(order.line.details, customer());
    assert_eq!(order.sheet, demo("01-hay-truck").replace("\"0.421\"", "\"0.425\""));
    assert_eq!(book.messages(1).await.unwrap()[0].words, "We cut on Monday.");
    let photo = book.photos(1).await.unwrap().remove(0);
    assert_eq!(image::load_from_memory(&book.photo_picture(photo.number).await.unwrap()).unwrap().width(), 40);
    let found =
        book.list(&ListRequest { search: "tams shoulder 2.18".to_owned(), ..ListRequest::default() }).await.unwrap();
    assert_eq!(found.lines.len(), 1);
    book.sign_in("Morwen Ostrey", "weir yard at dawn", "::1", at(50)).await.unwrap();
    assert_eq!(book.drafts(1).await.unwrap()[0].words, "half a line");
    assert_eq!(book.views(1).await.unwrap()[0].name, "all");

    // What came with later schemas works on it.
    let request = book::MoveRequest { seen_revision: 2, from: State::Approved, to: State::InWork, reason: None };
    book.move_order(1, request, &floor(), at(51)).await.unwrap();
    let written = quantity::read_length("2.182 in", None).unwrap();
    let size = book::InspectedSize { kind: axle::DimensionKind::ShoulderDistance, side: None, written, passed: true };
    book.inspect(1, 2, &[size], &records(), &floor(), at(52)).await.unwrap();
    assert_eq!(book.work_records(1).await.unwrap()[0].record.written, "H-4711");
    assert_eq!(book.inspections(1).await.unwrap()[0].written, "2.182 in");
    let thicker = reviewed(&demo("01-hay-truck").replace("\"0.421\"", "\"0.431\""));
    book.revise(1, 2, &thicker, &customer(), "once more", &desk(), at(53)).await.unwrap();
    assert_eq!(book.reading_history(1).await.unwrap().last().unwrap().was.as_deref(), Some("0.425 in"));
    assert_eq!(place_sound(book, "Q-0900").await.number, 3);
    assert!(book.rereviews(1).await.unwrap().is_empty());
    let (token, secret) = book.make_token("time sheets", Role::ReadOnly, &owner(), at(54)).await.unwrap();
    assert_eq!(book.token(&secret, at(55)).await.unwrap().map(|found| found.number), Some(token.number));
    assert!(book.check(None).await.unwrap().is_sound());
}

#[test]
fn files_of_earlier_schemas_are_brought_forward() {
    run(async {
        for schema in EARLIER {
            println!("schema {schema}");
            let folder = tempfile::tempdir().unwrap();
            let place = folder.path().join("orders.db");
            std::fs::copy(kept(&format!("schema-{schema}.db")), &place).unwrap();
            let place = place.display().to_string();
            let book = Book::open_existing(&place, at(40)).await.unwrap();
            is_whole_and_goes_on(&book).await;
            book.close().await;
            // Once it is brought forward it is opened like any other.
            Book::open_existing(&place, at(60)).await.unwrap().check(None).await.unwrap();
        }
    });
}

#[test]
fn servers_of_earlier_schemas_are_brought_forward() {
    run(async {
        for schema in EARLIER {
            println!("schema {schema}");
            let place = server::shared().new_database().await;
            by_hand(&place, &std::fs::read_to_string(kept(&format!("schema-{schema}.sql"))).unwrap()).await;
            is_whole_and_goes_on(&Book::open_existing(&place, at(40)).await.unwrap()).await;
        }
    });
}

#[test]
fn backups_of_earlier_schemas_are_restored_on_both() {
    run(async {
        for schema in EARLIER {
            let folder = tempfile::tempdir().unwrap();
            let file = folder.path().join("orders.db").display().to_string();
            for place in [file, server::shared().new_database().await] {
                println!("schema {schema} in {place}");
                let backup = kept(&format!("schema-{schema}.backup"));
                let (book, check) = Book::restore(backup.as_ref(), &place, &owner(), at(40)).await.unwrap();
                assert_eq!(check.events, if schema < 3 { 7 } else { 8 });
                is_whole_and_goes_on(&book).await;
            }
        }
    });
}
