//! The writer is killed with SIGKILL, again and again, at a moment that nobody chose. Whatever it was told to be kept must be there
//! after the restart, on both databases; what was not acknowledged is there whole or not at all.
//!
//! The test starts itself as the writer, so it brings its own `main`. On PostgreSQL the server is killed as well.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]
#![allow(missing_docs, reason = "a test")]
#![allow(dead_code, reason = "not every test needs all of the bench")]

#[path = "book/both.rs"]
mod both;
#[path = "book/server.rs"]
mod server;

use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Write};
use std::process::{Command, Stdio};
use std::time::Duration;

use book::{Book, Direction, ListRequest, ReviewedSheet};

use both::{at, customer, desk, run, sound};

/// Where the writer writes; the test itself runs without it.
const PLACE: &str = "AXLEWRIGHT_KILL_TEST_PLACE";
/// So many acknowledged writes are asked for.
const WRITES: usize = 200;

fn main() {
    if let Ok(place) = std::env::var(PLACE) {
        run(write_until_killed(&place));
        return;
    }
    // The harness asks for the list of tests; this one has a single name.
    if std::env::args().any(|argument| argument == "--list") {
        println!("nothing_acknowledged_is_lost: test");
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("orders.db").display().to_string();
    run(kill_loop("SQLite", &file));
    let server = server::Server::start();
    let address = run(server.new_database());
    run(kill_loop("PostgreSQL", &address));
    run(kill_the_server(&server));
    println!("test nothing_acknowledged_is_lost ... ok");
}

/// The sheet that is written under ever new references.
fn named(base: &ReviewedSheet, reference: &str) -> ReviewedSheet {
    let mut sheet = base.clone();
    sheet.text = base.text.replace("K-0", reference);
    reference.clone_into(&mut sheet.sheet.reference);
    sheet
}

/// Writes, and says so on the standard output once it was told that it is kept: an order, a revision of it, a message to it.
async fn write_until_killed(place: &str) {
    let book = Book::open(place, at(0)).await.unwrap();
    let base = sound("K-0");
    let run = std::process::id();
    let acknowledge = |words: String| {
        let mut out = std::io::stdout().lock();
        writeln!(out, "{words}").unwrap();
        out.flush().unwrap();
    };
    for count in 1_i64.. {
        let reference = format!("K-{run}-{count}");
        let line = book.place(&named(&base, &reference), &customer(), &desk(), at(count)).await.unwrap();
        acknowledge(format!("order {reference}"));
        let mut other = customer();
        other.vehicle = format!("revised {count}");
        book.revise(line.number, 1, &named(&base, &reference), &other, "again", &desk(), at(count)).await.unwrap();
        acknowledge(format!("revision {reference}"));
        book.write_message(line.number, Direction::Note, &reference, &desk(), at(count)).await.unwrap();
        acknowledge(format!("message {reference}"));
    }
}

/// What the writer was told to be kept.
#[derive(Debug, Default)]
struct Acknowledged(Vec<String>);

async fn kill_loop(engine: &str, place: &str) {
    let mut acknowledged = Acknowledged::default();
    let mut kills = 0_u64;
    while acknowledged.0.len() < WRITES {
        let mut writer = Command::new(std::env::current_exe().unwrap())
            .env(PLACE, place)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(writer.stdout.take().unwrap()).lines();
        // Another number of writes each time, and another moment within the next one.
        for _ in 0..3 + kills * 7 % 11 {
            acknowledged.0.push(lines.next().unwrap().unwrap());
        }
        std::thread::sleep(Duration::from_micros(kills * 977 % 6_000));
        writer.kill().unwrap();
        writer.wait().unwrap();
        // What it still said before it died counts as well. A line that is cut off was never said.
        acknowledged.0.extend(lines.map_while(Result::ok).filter(|line| line.split('-').count() == 3));
        kills += 1;
        all_there(engine, place, &acknowledged).await;
    }
    println!("{engine}: {} acknowledged writes, killed {kills} times, nothing lost", acknowledged.0.len());
}

/// Opens the book as a restarted program does, and looks for everything that was acknowledged.
async fn all_there(engine: &str, place: &str, acknowledged: &Acknowledged) {
    let book = Book::open(place, at(0)).await.unwrap();
    let mut there = BTreeSet::new();
    let mut after = None;
    loop {
        let page = book.list(&ListRequest { after, at_most: 500, ..ListRequest::default() }).await.unwrap();
        for line in page.lines {
            there.insert(format!("order {}", line.reference));
            if line.revision == 2 {
                there.insert(format!("revision {}", line.reference));
                assert!(line.details.vehicle.starts_with("revised"), "{engine}: half a revision of {}", line.reference);
            }
            for message in book.messages(line.number).await.unwrap() {
                there.insert(format!("message {}", message.words));
            }
        }
        after = page.next;
        if after.is_none() {
            break;
        }
    }
    for words in &acknowledged.0 {
        assert!(there.contains(words), "{engine}: `{words}` was acknowledged and is gone");
    }
    let check = book.check(None).await.unwrap();
    assert!(check.is_sound(), "{engine}: {:?}", check.faults);
    book.close().await;
}

/// The server itself dies in the middle of writing and starts again.
async fn kill_the_server(server: &server::Server) {
    let address = server.new_database().await;
    let book = Book::open(&address, at(0)).await.unwrap();
    let base = sound("K-0");
    let mut acknowledged = Acknowledged::default();
    for round in 0..3 {
        let writing = book.clone();
        let sheet = base.clone();
        let writer = tokio::runtime::Handle::current().spawn(async move {
            let mut kept = Vec::new();
            for count in 0.. {
                let reference = format!("K-{round}-{count}");
                match writing.place(&named(&sheet, &reference), &customer(), &desk(), at(1)).await {
                    Ok(_) => kept.push(format!("order {reference}")),
                    Err(error) => return (kept, error),
                }
            }
            unreachable!("the loop has no other end");
        });
        tokio::time::sleep(Duration::from_millis(150 + 70 * round)).await;
        server.kill();
        let (kept, error) = writer.await.unwrap();
        assert!(!kept.is_empty());
        assert!(error.to_string().contains("Try again when it is back"), "{error}");
        acknowledged.0.extend(kept);
        server.start_again();
        all_there("PostgreSQL, the server killed", &address, &acknowledged).await;
        // The same open book finds the server again by itself.
        assert!(!book.list(&ListRequest::default()).await.unwrap().lines.is_empty());
    }
    println!("PostgreSQL: {} acknowledged writes, the server killed 3 times, nothing lost", acknowledged.0.len());
}
