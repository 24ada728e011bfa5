//! A disk that fills up: a clear message, what was acknowledged is kept, and when there is room again the work goes on.
//!
//! The test starts itself once more with a file system of its own that is a few megabytes small. Where the system lets nobody mount
//! one, the size of files is bounded instead, which SQLite reports as a fault of the disk and not as a full one.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]
#![allow(missing_docs, reason = "a test")]
#![allow(dead_code, reason = "not every test needs all of the bench")]

#[path = "book/both.rs"]
mod both;
#[path = "book/server.rs"]
mod server;

use std::process::Command;

use book::{Book, BookError, ListRequest};

use both::{at, customer, desk, run, sound};

/// The folder to fill; the test itself runs without it.
const FOLDER: &str = "AXLEWRIGHT_DISK_TEST_FOLDER";

fn main() {
    if let Ok(folder) = std::env::var(FOLDER) {
        run(fill(&folder));
        return;
    }
    if std::env::args().any(|argument| argument == "--list") {
        println!("a_full_disk_loses_nothing: test");
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let program = std::env::current_exe().unwrap();
    let mounted = "mount -t tmpfs -o size=3m none \"$1\" && exec \"$2\"";
    let inside = |script: &str| {
        let mut command = Command::new("unshare");
        command.args(["--mount", "--map-root-user", "sh", "-c", script, "sh"]).arg(folder.path());
        command
    };
    let may_mount =
        inside("mount -t tmpfs -o size=3m none \"$1\" 2>/dev/null").status().is_ok_and(|status| status.success());
    let status = if may_mount {
        println!("on a file system of 3 MB");
        inside(mounted).arg(&program).env(FOLDER, folder.path()).status()
    } else {
        println!("no file system can be mounted here; files are bounded to 3 MB instead");
        Command::new("sh")
            .args(["-c", "trap '' XFSZ; ulimit -f 6000; exec \"$1\"", "sh"])
            .arg(&program)
            .env(FOLDER, folder.path())
            .status()
    };
    assert!(status.unwrap().success());
    println!("test a_full_disk_loses_nothing ... ok");
}

async fn fill(folder: &str) {
    let place = format!("{folder}/orders.db");
    let ballast = format!("{folder}/ballast");
    std::fs::write(&ballast, vec![7; 1_000_000]).unwrap();
    let book = Book::open(&place, at(0)).await.unwrap();
    let base = sound("F-0");
    let named = |count: i64| {
        let mut sheet = base.clone();
        sheet.sheet.reference = format!("F-{count}");
        sheet.text = base.text.replace("F-0", &sheet.sheet.reference);
        sheet
    };
    let mut kept = 0;
    let refused = loop {
        match book.place(&named(kept + 1), &customer(), &desk(), at(1)).await {
            Ok(_) => kept += 1,
            Err(error) => break error,
        }
        assert!(kept < 5_000, "the disk does not fill up");
    };
    assert!(kept > 10, "only {kept} orders before the disk was full");
    let words = refused.to_string();
    match &refused {
        BookError::Full { .. } => assert!(words.contains("Make room and try again"), "{words}"),
        BookError::Unreachable { .. } => assert!(words.contains("What was acknowledged is kept"), "{words}"),
        other => panic!("{other}"),
    }
    // A backup onto the full disk fails as a whole.
    let backup = format!("{folder}/full.backup");
    let failed = book.backup(backup.as_ref(), at(2)).await;
    assert!(failed.is_err() || std::path::Path::new(&backup).exists());
    let _ = std::fs::remove_file(&backup);
    assert!(!std::path::Path::new(&format!("{backup}.part")).exists());

    // Reading goes on, and all that was acknowledged is there.
    let newest = book.list(&ListRequest::default()).await.unwrap().lines.remove(0);
    assert_eq!(newest.number, kept);
    std::fs::remove_file(&ballast).unwrap();
    if matches!(refused, BookError::Full { .. }) {
        // There is room again, and the book that was open all the time goes on.
        kept += 1;
        assert_eq!(book.place(&named(kept), &customer(), &desk(), at(3)).await.unwrap().number, kept);
    }
    book.close().await;
    let book = Book::open(&place, at(3)).await.unwrap();
    let check = book.check(None).await.unwrap();
    assert!(check.is_sound(), "{:?}", check.faults);
    assert_eq!(check.orders, kept);
    if matches!(refused, BookError::Full { .. }) {
        assert_eq!(book.place(&named(kept + 1), &customer(), &desk(), at(4)).await.unwrap().number, kept + 1);
    }
    println!("{kept} orders were kept when the disk was full");
}
