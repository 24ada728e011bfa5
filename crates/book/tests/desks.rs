//! Several programs on one book: each is a process of its own, as desks on one network are, and all of them place, revise, move
//! and write at once, on the same orders. Whatever one of them was told to be kept is there once and in one order, nobody overwrote
//! anybody unseen, and the book passes its check.
//!
//! The test starts itself as the desks, so it brings its own `main`.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]
#![allow(missing_docs, reason = "a test")]
#![allow(dead_code, reason = "not every test needs all of the bench")]

#[path = "book/both.rs"]
mod both;
#[path = "book/server.rs"]
mod server;

use std::collections::{BTreeMap, BTreeSet};
use std::process::{Child, Command, Stdio};

use book::{Book, BookError, Direction, EventKind, MoveRequest, Person, ReviewedSheet, Role, State};

use both::{at, customer, run, sound};

/// Where a desk writes, and its name; the test itself runs without them.
const PLACE: &str = "AXLEWRIGHT_DESKS_TEST_PLACE";
const NAME: &str = "AXLEWRIGHT_DESKS_TEST_NAME";
const DESKS: usize = 3;
/// The orders that all desks fight over.
const SHARED: i64 = 3;
/// So often each desk goes round.
const ROUNDS: i64 = 12;

fn main() {
    if let (Ok(place), Ok(name)) = (std::env::var(PLACE), std::env::var(NAME)) {
        run(work(&place, &name));
        return;
    }
    // The harness asks for the list of tests; this one has a single name.
    if std::env::args().any(|argument| argument == "--list") {
        println!("desks_of_their_own_processes_share_a_book: test");
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    run(share("SQLite", &folder.path().join("orders.db").display().to_string()));
    let server = server::Server::start();
    let address = run(server.new_database());
    run(share("PostgreSQL", &address));
    println!("test desks_of_their_own_processes_share_a_book ... ok");
}

/// The sheet under another reference.
fn named(base: &ReviewedSheet, reference: &str) -> ReviewedSheet {
    let mut sheet = base.clone();
    sheet.text = base.text.replace("D-0", reference);
    reference.clone_into(&mut sheet.sheet.reference);
    sheet
}

/// One desk. It prints a line for each thing that it was told to be kept, and one for each time that it was overtaken.
async fn work(place: &str, name: &str) {
    let book = Book::open(place, at(0)).await.unwrap();
    let who = Person::new(name, Role::Desk);
    let base = sound("D-0");
    for round in 0..ROUNDS {
        let reference = format!("D-{name}-{round}");
        let placed = book.place(&named(&base, &reference), &customer(), &who, at(round)).await.unwrap();
        println!("placed {reference} {}", placed.number);
        let number = 1 + round % SHARED;
        let seen = book.order(number).await.unwrap();
        let mut details = seen.line.details.clone();
        details.vehicle = format!("{name} {round}");
        let sheet = named(&base, &seen.line.reference);
        match book.revise(number, seen.line.revision, &sheet, &details, "read again", &who, at(round)).await {
            Ok(line) => println!("revised {number} {}", line.revision),
            Err(BookError::Overtaken { .. }) => println!("overtaken"),
            Err(other) => panic!("{other}"),
        }
        let seen = book.order(number).await.unwrap().line;
        let to = match seen.state {
            State::Received => State::Questioned,
            State::Questioned if round % 2 == 0 => State::Approved,
            State::Approved => State::InWork,
            State::InWork => State::Questioned,
            _ => State::Received,
        };
        let request = MoveRequest { seen_revision: seen.revision, from: seen.state, to, reason: Some("it is time") };
        match book.move_order(number, request, &who, at(round)).await {
            Ok(_) => println!("moved {number} {}", to.key()),
            Err(BookError::Overtaken { .. } | BookError::MovedOn { .. }) => println!("overtaken"),
            Err(other) => panic!("{other}"),
        }
        let words = format!("{name} was here {round}");
        book.write_message(number, Direction::Note, &words, &who, at(round)).await.unwrap();
        println!("message {number} {words}");
    }
    book.close().await;
}

async fn share(engine: &str, place: &str) {
    let book = Book::open(place, at(0)).await.unwrap();
    let base = sound("D-0");
    for number in 1..=SHARED {
        let reference = format!("D-shared-{number}");
        book.place(&named(&base, &reference), &customer(), &both::desk(), at(0)).await.unwrap();
    }
    let desks: Vec<Child> = (0..DESKS)
        .map(|desk| {
            Command::new(std::env::current_exe().unwrap())
                .env(PLACE, place)
                .env(NAME, format!("desk{desk}"))
                .stdin(Stdio::null())
                .stdout(Stdio::piped())
                .spawn()
                .unwrap()
        })
        .collect();
    let mut said: Vec<String> = Vec::new();
    for desk in desks {
        let output = desk.wait_with_output().unwrap();
        assert!(output.status.success(), "{engine}: a desk failed");
        said.extend(String::from_utf8(output.stdout).unwrap().lines().map(str::to_owned));
    }
    let of = |kind: &str| -> Vec<&str> { said.iter().filter_map(|line| line.strip_prefix(kind)).collect() };

    // Every order that was placed has the number that its desk was told, and no number was given twice.
    let placed = of("placed ");
    assert_eq!(i64::try_from(placed.len()).unwrap(), i64::try_from(DESKS).unwrap() * ROUNDS);
    let numbers: BTreeSet<&str> = placed.iter().map(|line| line.rsplit(' ').next().unwrap()).collect();
    assert_eq!(numbers.len(), placed.len());
    for line in &placed {
        let (reference, number) = line.split_once(' ').unwrap();
        assert_eq!(book.order(number.parse().unwrap()).await.unwrap().line.reference, reference, "{engine}");
    }
    // Every revision that a desk was told of is that desk's, once; there are no others, and each was built on the one before.
    let mut revised: BTreeMap<i64, BTreeSet<i64>> = BTreeMap::new();
    for line in of("revised ") {
        let (order, revision) = line.split_once(' ').unwrap();
        let fresh = revised.entry(order.parse().unwrap()).or_default().insert(revision.parse().unwrap());
        assert!(fresh, "{engine}: revision {revision} of order {order} was given twice");
    }
    let (mut moves, mut messages) = (0, 0);
    for number in 1..=SHARED {
        let revisions = book.revisions(number).await.unwrap();
        let told: BTreeSet<i64> = revised.remove(&number).unwrap_or_default();
        assert_eq!(revisions[1..].iter().map(|one| one.revision).collect::<BTreeSet<_>>(), told, "{engine}");
        assert!(revisions[1..].iter().all(|one| one.base == one.revision - 1));
        let events = book.events(number).await.unwrap();
        moves += events.iter().filter(|one| one.kind == EventKind::Moved && one.body["reason"] == "it is time").count();
        messages += book.messages(number).await.unwrap().len();
        // Each move begins where the one before it ended.
        let mut state = State::Received.key().to_owned();
        for event in events.iter().filter(|one| one.kind == EventKind::Moved) {
            assert_eq!(event.body["from"], state.as_str(), "{engine}, order {number}");
            event.body["to"].as_str().unwrap().clone_into(&mut state);
        }
        assert_eq!(book.order(number).await.unwrap().line.state.key(), state);
    }
    assert_eq!(moves, of("moved ").len(), "{engine}");
    assert_eq!(messages, of("message ").len(), "{engine}");
    let check = book.check(None).await.unwrap();
    assert!(check.is_sound(), "{engine}: {:?}", check.faults);
    println!(
        "{engine}: {DESKS} desks, {} orders, {} revisions, {moves} moves and {messages} messages kept, {} times overtaken",
        placed.len(),
        of("revised ").len(),
        of("overtaken").len()
    );
    book.close().await;
}
