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
fn an_export_comes_into_another_book_with_its_whole_story() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    printed(folder, &["import", &demo(), "--by", "Wenna Tarrow"], 0);
    printed(folder, &["export", "out"], 0);
    let taken = printed(folder, &["import", "out", "--book", "other.db", "--by", "Piran Leat"], 0);
    assert_eq!(taken, "other.db: 26 orders taken in, numbers 1 to 26\n");
    let check = printed(folder, &["check", "--book", "other.db"], 0);
    assert!(check.contains("26 events, 26 orders, 26 revisions"), "{check}");
    let orders = |place: &str| -> serde_json::Value {
        let list = printed(folder, &["list", "--at-most", "500", "--format", "json", "--book", place], 0);
        let mut json: serde_json::Value = serde_json::from_str(&list).unwrap();
        for order in json["orders"].as_array_mut().unwrap() {
            let events = order.as_object_mut().unwrap().remove("events").unwrap();
            let (kind, who) =
                if place == "other.db" { ("taken over", "Piran Leat") } else { ("placed", "Wenna Tarrow") };
            assert_eq!((&events[0]["kind"], &events[0]["who"]), (&kind.into(), &who.into()));
        }
        json
    };
    assert_eq!(orders("other.db"), orders("orders.db"));
    let again = refused(folder, &["import", "out/orders.json", "--book", "other.db"]);
    assert!(again.contains("the reference Q-0101 is taken by order 1"), "{again}");
    let whole = std::fs::read_to_string(folder.join("out/orders.json")).unwrap();
    std::fs::write(folder.join("out/orders.json"), &whole[..whole.len() / 2]).unwrap();
    let words = refused(folder, &["import", "out", "--book", "third.db"]);
    assert!(words.starts_with("out/orders.json:") && words.contains("accepted: orders.json as"), "{words}");
    assert!(!folder.join("third.db").exists());
}

#[test]
fn what_stands_beside_sheets_comes_from_options_and_from_a_table() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let sheet = |name: &str| format!("{}/{name}.toml", demo());
    let (hay, market) = (sheet("01-hay-truck"), sheet("02-market-wagon"));
    let options = ["--customer", "Weir Dairy", "--contact", "at the weir", "--vehicle", "float", "--due", "2026-04-01"];
    printed(folder, &[&["import", &hay][..], &options[..]].concat(), 0);
    let table = "reference;customer;vehicle;due\nq 0102;Tam Leat;market wagon;2026-05-02\n";
    std::fs::write(folder.join("who.csv"), table).unwrap();
    let taken = printed(folder, &["import", &market, &sheet("03-quarry-tug"), "--details", "who.csv"], 0);
    assert!(taken.ends_with("The table of --details does not speak of 1 of the sheets.\n"), "{taken}");
    let list = printed(folder, &["list", "--format", "json"], 0);
    let json: serde_json::Value = serde_json::from_str(&list).unwrap();
    let of = |order: usize| {
        ["customer", "contact", "vehicle", "due"]
            .map(|key| json["orders"][order][key].as_str().unwrap_or("none").to_owned())
    };
    assert_eq!(of(0), ["", "", "", "none"]);
    assert_eq!(of(1), ["Tam Leat", "", "market wagon", "2026-05-02"]);
    assert_eq!(of(2), ["Weir Dairy", "at the weir", "float", "2026-04-01"]);

    let words = refused(folder, &["import", &hay, "--book", "b.db", "--details", "who.csv"]);
    assert!(words.contains("who.csv, row 2, column `reference`: there is no sheet q 0102"), "{words}");
    std::fs::write(folder.join("who.csv"), "reference,customer,colour\nQ-0101,x,red\n").unwrap();
    let words = refused(folder, &["import", &hay, "--book", "b.db", "--details", "who.csv"]);
    assert!(words.contains("who.csv, row 1, column `colour`: this heading has no use"), "{words}");
    std::fs::write(folder.join("orders.csv"), "reference,use,sides\nQ-1,street,both\n").unwrap();
    let words = refused(folder, &["import", "orders.csv", "--book", "b.db", "--customer", "Weir Dairy"]);
    assert!(words.contains("there is no sheet that customer"), "{words}");
    assert!(!folder.join("b.db").exists());
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
