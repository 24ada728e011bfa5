//! The desk is killed with SIGKILL, again and again, while views are kept over HTTP. Whatever was answered must be there after the
//! next start; what was not answered is there whole or not at all.

use std::path::Path;

use book::Book;
use jiff::Timestamp;

use super::process::{post, start};
use crate::server;

/// So many answered writes are asked for.
const WRITES: usize = 200;

fn answered_writes_survive(engine: &str, place: &str, data: &Path) {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    let mut answered = Vec::new();
    let mut kills = 0_usize;
    while answered.len() < WRITES {
        let desk = start(data, &["--book", place, "--open", "--log", "off"]);
        let (address, process) = (desk.address, desk.child.id());
        // Another number of writes each time, and another moment within the next one.
        let whole = 15 + kills * 7 % 11;
        for count in 0..whole {
            let name = format!("kept-{kills}-{count}");
            let answer = post(address, "/views", &format!("name={name}&search=hay")).unwrap();
            assert!(answer.starts_with("HTTP/1.1 303 "), "{answer}");
            answered.push(name);
        }
        let later = std::time::Duration::from_micros(u64::try_from(kills).unwrap() * 1_777 % 9_000);
        let killer = std::thread::Builder::new().spawn(move || {
            std::thread::sleep(later);
            super::process::signal("KILL", process);
        });
        for count in whole.. {
            let name = format!("kept-{kills}-{count}");
            match post(address, "/views", &format!("name={name}&search=hay")) {
                Some(answer) if answer.starts_with("HTTP/1.1 303 ") => answered.push(name),
                _ => break,
            }
        }
        killer.unwrap().join().unwrap();
        drop(desk);
        kills += 1;
    }
    let (views, check) = runtime.block_on(async {
        let book = Book::open_existing(place, Timestamp::now()).await.unwrap();
        let found = (book.views(1).await.unwrap(), book.check(None).await.unwrap());
        book.close().await;
        found
    });
    for name in &answered {
        let kept = views.iter().find(|view| view.name == *name);
        assert!(kept.is_some_and(|view| view.request.search == "hay"), "{engine}: {name} was answered and is gone");
    }
    assert!(check.is_sound(), "{engine}: {:?}", check.faults);
    println!("{engine}: {} answered writes, the desk killed {kills} times, nothing lost", answered.len());
}

#[test]
fn nothing_that_was_answered_is_lost_on_sqlite() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("orders.db").display().to_string();
    answered_writes_survive("SQLite", &place, folder.path());
}

#[test]
fn nothing_that_was_answered_is_lost_on_postgresql() {
    let folder = tempfile::tempdir().unwrap();
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    let place = runtime.block_on(server::shared().new_database());
    answered_writes_survive("PostgreSQL", &place, folder.path());
}
