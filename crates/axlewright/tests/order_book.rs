//! The order book from the command line.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::path::Path;
use std::process::Output;

use assert_cmd::Command;

/// Runs `axlewright book` in a folder.
fn book(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_axlewright")).current_dir(folder).arg("book").args(arguments).output().unwrap()
}

/// What it prints where it ends as it should.
fn printed(folder: &Path, arguments: &[&str], status: i32) -> String {
    let output = book(folder, arguments);
    let error = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(status), "{arguments:?}: {error}");
    String::from_utf8(output.stdout).unwrap()
}

/// What it complains of where it refuses.
fn refused(folder: &Path, arguments: &[&str]) -> String {
    let output = book(folder, arguments);
    assert_eq!((output.status.code(), output.stdout.as_slice()), (Some(2), b"".as_slice()), "{arguments:?}");
    String::from_utf8(output.stderr).unwrap()
}

fn demo() -> String {
    format!("{}/../../demo/orders", env!("CARGO_MANIFEST_DIR"))
}

#[test]
fn a_book_is_filled_listed_checked_backed_up_and_restored() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let taken_in = printed(folder, &["import", &demo(), "--by", "Wenna Tarrow"], 0);
    assert_eq!(taken_in, "orders.db: 26 orders taken in, numbers 1 to 26\n");
    let again = refused(folder, &["import", &demo()]);
    assert!(again.contains("is taken by order 1"), "{again}");

    let list = printed(folder, &["list", "hay", "drum"], 0);
    assert!(list.contains("Q-0101") && list.contains("received") && !list.contains("Q-0102"), "{list}");
    let page = printed(folder, &["list", "--at-most", "20"], 0);
    let after = page.trim().rsplit(' ').next().unwrap();
    assert!(page.contains("More with --after"), "{page}");
    let rest = printed(folder, &["list", "--after", after], 0);
    assert!(rest.contains("Q-0101") && !rest.contains("More with"), "{rest}");
    assert_eq!(printed(folder, &["list", "zebra"], 0).trim(), "No order is found.");
    let json: serde_json::Value =
        serde_json::from_str(&printed(folder, &["list", "q-0101", "--format", "json"], 0)).unwrap();
    assert_eq!(json["orders"][0]["placed_by"], "Wenna Tarrow");

    let check = printed(folder, &["check"], 0);
    assert!(check.contains("26 events, 26 orders, 26 revisions"), "{check}");
    let end = check.lines().find_map(|line| line.trim().strip_prefix("End of the log: ")).unwrap().to_owned();
    let backup = printed(folder, &["backup", "monday.backup"], 0);
    assert!(backup.contains(&format!("end of the log: {end}")), "{backup}");
    let restored = printed(folder, &["restore", "monday.backup", "--book", "tuesday.db"], 0);
    assert!(restored.contains("26 orders, 26 events"), "{restored}");
    printed(folder, &["check", "--book", "tuesday.db", "--end", &end], 0);
    let wrong = format!("26:{}", "0".repeat(64));
    let found = printed(folder, &["check", "--end", &wrong], 1);
    assert!(found.contains("its hash is not the one that was kept"), "{found}");

    printed(folder, &["export", "out"], 0);
    assert_eq!(std::fs::read_dir(folder.join("out/sheets")).unwrap().count(), 26);
    let first = std::fs::read_to_string(folder.join("out/sheets/00001-Q-0101.toml")).unwrap();
    assert_eq!(first, std::fs::read_to_string(format!("{}/01-hay-truck.toml", demo())).unwrap());

    assert_eq!(
        printed(folder, &["rereview"], 0).trim(),
        "0 open orders reviewed with this catalog, no verdict changed"
    );
    std::fs::create_dir(folder.join("ours")).unwrap();
    std::fs::write(folder.join("ours/settings.toml"), "[thresholds]\ncut_at = 0.9999\nsource = \"our own\"\n").unwrap();
    let changed = printed(folder, &["rereview", "--catalog", "ours"], 1);
    assert!(changed.contains("26 open orders reviewed") && changed.contains("verdicts changed"), "{changed}");
}

#[test]
fn what_cannot_be_done_is_refused_in_plain_words_and_leaves_nothing_behind() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    for command in ["list", "check", "rereview"] {
        let words = refused(folder, &[command]);
        assert!(words.contains("there is no book at orders.db") && words.contains("accepted: "), "{words}");
    }
    let words = refused(folder, &["backup", "x.backup", "--book", "ftp://here"]);
    assert!(words.contains("`ftp` is no database that a book can lie in"), "{words}");
    std::fs::write(folder.join("orders.csv"), "reference,use,sides\nQ-1,street,both\nQ-2,racing,both\n").unwrap();
    let words = refused(folder, &["import", "orders.csv", "letter.doc"]);
    assert!(words.contains("orders.csv, row 3, column `use`"), "{words}");
    assert!(words.contains("letter.doc: this is no file that orders can be read from"), "{words}");
    assert!(words.contains("Nothing was taken in"), "{words}");
    assert!(!folder.join("orders.db").exists());
    let words = refused(folder, &["list", "--state", "lost", "--book", "x.db"]);
    assert!(words.contains("there is no state `lost`"), "{words}");
}
