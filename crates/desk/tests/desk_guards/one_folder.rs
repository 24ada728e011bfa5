//! Book and folder under an open desk: somebody else changes the folder, and somebody takes the book away.

use std::sync::Arc;

use desk::{Access, Desk, DeskOptions};
use serde_json::Value;

use crate::desk_under_test::{DeskUnderTest, at, open_desk};

/// Another desk on the same book and the same folder.
async fn beside(desk: &DeskUnderTest) -> DeskUnderTest {
    let options = DeskOptions {
        book: desk.book().clone(),
        shop_folder: desk.folder.path().join("shop"),
        clock: Arc::new(|| at(61)),
        access: Access::Open,
        behind: Vec::new(),
    };
    let other = Desk::open(options).await.unwrap();
    DeskUnderTest { router: desk::router(other.clone()), desk: other, folder: tempfile::tempdir().unwrap() }
}

/// Another knurl and hole for a stud that the catalog has.
pub const STUD: [(&str, &str); 6] = [
    ("thread", "1/2-13"),
    ("knurl.least", "0.620\""),
    ("knurl.most", "0.630\""),
    ("hole.least", "0.600\""),
    ("hole.most", "0.612\""),
    ("source", "shop: calipered a box of them"),
];

async fn health(desk: &DeskUnderTest) -> (u16, Value) {
    let answer = desk.get("/health").await;
    (answer.status.as_u16(), serde_json::from_slice(&answer.bytes).unwrap())
}

#[tokio::test]
async fn two_desks_on_one_folder_go_by_one_catalog() {
    let one = open_desk().await;
    let other = beside(&one).await;
    one.place("01-hay-truck").await;
    let address = one.post("/catalog/change/studs", &STUD).await.header("location").to_owned();
    let answer = [("understood", "yes"), ("reason", "not waited for")];
    assert_eq!(one.post(&format!("{address}/save"), &answer).await.status, 303);
    // Nobody asked the other desk to read anything again.
    assert_eq!(other.get("/catalog/studs/1%2F2-13").await.status, 200);
    assert_eq!(other.desk.catalog().mark(), one.desk.catalog().mark());

    // By hand as well, and with the same size at the same moment.
    let file = one.folder.path().join("shop").join("catalog").join("studs.toml");
    let text = std::fs::read_to_string(&file).unwrap();
    std::fs::write(&file, text.replace("calipered a box", "calipered a bag")).unwrap();
    for desk in [&one, &other] {
        assert!(desk.get("/catalog/studs/1%2F2-13").await.text().contains("calipered a bag"));
    }
    // Nobody is asked about what was written by hand, but the log has it.
    let lower = "[proof.yield_safety]\nvalue = 1.1\nsource = \"shop: by hand\"\n";
    std::fs::write(file.with_file_name("settings.toml"), lower).unwrap();
    one.get("/catalog").await;
    let noted = one.book().latest_events(20).await.unwrap();
    let noted = noted.iter().find(|event| event.who == "the desk, when the folder was changed").unwrap();
    assert!(noted.body["less_careful"][0].as_str().unwrap().contains("against yielding falls from 1.25 to 1.1"));
}

#[tokio::test]
async fn a_folder_that_was_spoiled_is_told_and_what_was_read_before_stays() {
    let desk = open_desk().await;
    let mark = desk.desk.catalog().mark().to_owned();
    let folder = desk.folder.path().join("shop").join("catalog");
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(folder.join("studs.toml"), "stud = 5\n").unwrap();
    assert_eq!(health(&desk).await.1["catalog_folder"], "holds faults", "whoever watches hears of it first");
    let page = desk.get("/catalog").await;
    assert_eq!(page.status, 200);
    assert!(
        page.text().contains("goes by what it read before") && page.text().contains("studs.toml:1:"),
        "{}",
        page.text()
    );
    assert_eq!(desk.desk.catalog().mark(), mark);
    assert_eq!(health(&desk).await.1["catalog_folder"], "holds faults");
    std::fs::remove_file(folder.join("studs.toml")).unwrap();
    assert!(!desk.get("/catalog").await.text().contains("goes by what it read before"));
    assert_eq!(health(&desk).await.1["catalog_folder"], "as read");
}

#[tokio::test]
async fn health_looks_at_the_file_the_schema_the_disk_and_the_chain() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    let (status, told) = health(&desk).await;
    assert_eq!(
        (status, &told["status"], &told["file"], &told["chain"]),
        (200, &"well".into(), &"in place".into(), &Value::Null)
    );
    assert_eq!(told["schema"], told["schema_known"]);
    assert!(told["schema"].as_i64().unwrap() >= 3 && told["disk"] == "writable");
    assert!(desk.desk.check_chain().await.unwrap());
    let (_, told) = health(&desk).await;
    assert_eq!(told["chain"]["outcome"], "sound");
    assert_eq!(told["chain"]["checked_at"], at(60).to_string());

    let (file, aside) = (desk.folder.path().join("orders.db"), desk.folder.path().join("aside.db"));
    std::fs::rename(&file, &aside).unwrap();
    let (status, told) = health(&desk).await;
    assert_eq!((status, &told["status"], &told["file"]), (503, &"unwell".into(), &"deleted or replaced".into()));
    let fields = [("direction", "note"), ("words", "into the void")];
    let refused = desk.post("/orders/1/messages", &fields).await;
    assert_eq!(refused.status, 503, "{}", refused.text());
    assert!(refused.text().contains("is no longer at"), "{}", refused.text());
    std::fs::rename(&aside, &file).unwrap();
    assert_eq!(health(&desk).await.0, 200);
    assert!(desk.book().messages(1).await.unwrap().is_empty());
}
