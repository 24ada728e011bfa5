//! The catalog and the settings of the desk: what is shown, what is refused and where, and that what was promised before saving
//! is what happens after it.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]
#![allow(missing_docs, reason = "the names of tests say what they are for")]

mod desk_catalog {
    pub mod looking;
}
mod desk_under_test;

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

use axum::body::Body;
use axum::http::Request;
use axum::http::header::CONTENT_TYPE;
use book::Role;
use desk::{Access, Desk, DeskOptions};

use desk_under_test::{Answer, DeskUnderTest, at, desk_with_accounts, open_desk};

/// A stud as a form gives it.
fn stud<'t>(thread: &'t str, least: &'t str) -> Vec<(&'t str, &'t str)> {
    vec![
        ("thread", thread),
        ("knurl.least", least),
        ("knurl.most", "0.630\""),
        ("hole.least", "0.600\""),
        ("hole.most", "0.612\""),
        ("source", "shop: calipered a box of them"),
    ]
}

fn file(desk: &DeskUnderTest, name: &str) -> PathBuf {
    desk.folder.path().join("shop").join("catalog").join(name)
}

fn text(desk: &DeskUnderTest, name: &str) -> String {
    std::fs::read_to_string(file(desk, name)).unwrap_or_default()
}

/// The page that a change leads to, once its effect is worked out: address and page.
async fn effect_of(desk: &DeskUnderTest, entered: &Answer) -> (String, String) {
    assert_eq!(entered.status, 303, "{}", entered.text());
    let address = entered.header("location").to_owned();
    assert!(address.starts_with("/catalog/effect/"), "{address}");
    for _ in 0..600 {
        let page = desk.get(&address).await;
        assert_eq!(page.status, 200, "{}", page.text());
        if page.header("refresh").is_empty() {
            return (address, page.text());
        }
    }
    panic!("the effect is never known");
}

/// Waits until every open order is reviewed with the catalog as it stands.
async fn all_reviewed(desk: &DeskUnderTest) -> String {
    for _ in 0..1200 {
        let page = desk.get("/catalog/rereviews").await;
        if page.header("refresh").is_empty() && page.text().contains("Every open order is reviewed") {
            return page.text();
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    panic!("the orders are never reviewed");
}

/// Enters a form, looks at its effect, and saves it.
async fn save(desk: &DeskUnderTest, path: &str, fields: &[(&str, &str)], tick: bool) -> String {
    let entered = desk.post(path, fields).await;
    let (address, page) = effect_of(desk, &entered).await;
    let tick: &[(&str, &str)] = if tick { &[("understood", "yes"), ("reason", "a test")] } else { &[] };
    let saved = desk.post(&format!("{address}/save"), tick).await;
    assert_eq!(saved.status, 303, "{}", saved.text());
    page
}

/// The orders of a table of changes with their new verdicts.
fn verdicts(page: &str) -> BTreeMap<i64, String> {
    page.split("data-order=\"")
        .skip(1)
        .map(|part| {
            let number = part.split('"').next().unwrap().parse().unwrap();
            let becomes = part.split("data-becomes=\"").nth(1).unwrap().split('"').next().unwrap();
            (number, becomes.to_owned())
        })
        .collect()
}

/// Addresses in a page that begin so.
fn links(page: &str, beginning: &str) -> Vec<String> {
    page.split("href=\"")
        .skip(1)
        .filter_map(|part| part.split('"').next())
        .filter(|link| link.starts_with(beginning))
        .map(str::to_owned)
        .collect()
}

#[tokio::test]
async fn a_row_says_what_uses_it() {
    let desk = open_desk().await;
    let line = desk.place("01-hay-truck").await;
    let open = desk.get("/catalog/differentials/open").await.text();
    assert!(open.contains(&line.reference) && open.contains("the sheet names it"));
    let tape = desk.get("/catalog/instruments/tape").await.text();
    let circles = desk.get("/catalog/bolt-circles").await.text();
    let beneath = "5 holes on 4 1/2&quot;</a> <span class=\"size\"><span class=\"other\">114.300 mm</span>";
    assert!(circles.contains(beneath), "{circles}");
    let loads = desk.get("/catalog/loads").await.text();
    assert!(loads.contains("street, centre of gravity height") && loads.contains("0.0005 of the distance"));
    assert!(desk.get("/catalog/inquiries").await.text().contains("Add an inquiry"));
    assert!(tape.contains("overall length") && tape.contains("/catalog/measurands/overall_length"));
    let found = desk.get("/catalog?search=half_pin+centre+block").await.text();
    assert!(found.contains("open, centre block") && !found.contains("1/2-20"));
}

#[tokio::test]
async fn what_is_wrong_stands_beside_its_field_and_nothing_is_written() {
    let desk = open_desk().await;
    let before = desk.get("/catalog/studs").await.text();
    let mut fields = stud("1/2-13", "0.620");
    fields.retain(|(name, _)| *name != "source");
    let refused = desk.post("/catalog/change/studs", &fields).await;
    assert_eq!(refused.status, 422);
    let page = refused.text();
    assert!(page.contains("id=\"fault-knurl.least\""), "{page}");
    assert!(page.contains("id=\"fault-source\""), "{page}");
    // The notice leads to each of them.
    for entry in ["entry-knurl.least", "entry-source"] {
        assert!(page.contains(&format!("href=\"#{entry}\"")) && page.contains(&format!("id=\"{entry}\"")), "{page}");
    }
    assert!(page.contains("value=\"1/2-13\"") && page.contains("value=\"0.620\""));
    assert!(!file(&desk, "studs.toml").exists());
    assert_eq!(desk.get("/catalog/studs").await.text(), before);
    let twice = desk.post("/catalog/change/studs", &stud("1/2-20", "0.620\"")).await;
    assert_eq!(twice.status, 422);
    assert!(twice.text().contains("holds 1/2-20 already"));
}

#[tokio::test]
async fn an_added_row_counts_once_it_is_saved_and_can_be_undone() {
    let desk = open_desk().await;
    let before = desk.get("/catalog/export/studs").await.text();
    let entered = desk.post("/catalog/change/studs", &stud("1/2-13", "0.620\"")).await;
    let (address, page) = effect_of(&desk, &entered).await;
    assert!(page.contains("Nothing would change in the open orders"));
    // A new row says all of its values.
    assert!(page.contains("What is changed") && page.contains("shop: calipered a box of them"), "{page}");
    assert!(page.contains("<a href=\"/catalog/studs\">Studs</a>"), "{page}");
    assert!(!file(&desk, "studs.toml").exists());
    let saved = desk.post(&format!("{address}/save"), &[]).await;
    assert_eq!(saved.header("location"), "/catalog/studs/1%2F2-13");
    let row = desk.get("/catalog/studs/1%2F2-13").await.text();
    assert!(row.contains("shop&#39;s own") || row.contains("shop's own"));
    assert!(row.contains("shop: calipered a box of them"));
    assert!(text(&desk, "studs.toml").contains("thread = \"1/2-13\""));
    assert_eq!(desk.get(&address).await.status, 404);
    // The same folder, opened anew, holds the same.
    let export = desk.get("/catalog/export/studs").await.text();
    assert_ne!(export, before);
    let undone = desk.post("/catalog/undo/studs", &[]).await;
    let (address, page) = effect_of(&desk, &undone).await;
    assert!(page.contains("Take back the last change of studs.toml"), "{page}");
    assert!(text(&desk, "studs.toml").contains("thread = \"1/2-13\""), "nothing is taken back before it is saved");
    assert_eq!(desk.post(&format!("{address}/save"), &[]).await.status, 303);
    assert_eq!(desk.get("/catalog/export/studs").await.text(), before);
    assert_eq!(text(&desk, "studs.toml"), "");
}

#[tokio::test]
async fn what_was_said_before_saving_is_what_happens_and_a_restart_reads_the_same() {
    let desk = open_desk().await;
    for name in ["01-hay-truck", "02-market-wagon", "03-quarry-tug", "05-orchard-runabout", "08-lake-tender"] {
        desk.place(name).await;
    }
    let thresholds = |cut_at: &'static str| {
        vec![
            ("cut_at", cut_at),
            ("identified_at", "0.95"),
            ("blame_at", "0.5"),
            ("checked_at", "0.1"),
            ("significance", "0.05"),
            ("questions_shown", "5"),
            ("source", "shop: agreed with the owner"),
        ]
    };
    let page = save(&desk, "/settings/change/thresholds", &thresholds("0.9999"), false).await;
    let (now, then) = ("data-label=\"now\">0.95<", "data-label=\"with the change\">0.9999<");
    assert!(page.contains(now) && page.contains(then), "{page}");
    let promised: BTreeMap<i64, String> = verdicts(&page);
    assert!(!promised.is_empty(), "{page}");
    let came = verdicts(&all_reviewed(&desk).await);
    assert_eq!(came, promised);
    for (number, becomes) in &came {
        assert_eq!(desk.book().order(*number).await.unwrap().line.judgement.words(), becomes);
    }
    assert!(text(&desk, "settings.toml").contains("cut_at = 0.9999"));
    // What is the same as below is not written a second time.
    assert!(!text(&desk, "settings.toml").contains("identified_at"));

    // A lower threshold is not saved before somebody has said that they know.
    let entered = desk.post("/settings/change/thresholds", &thresholds("0.6")).await;
    let (address, page) = effect_of(&desk, &entered).await;
    assert!(page.contains("less careful"));
    let refused = desk.post(&format!("{address}/save"), &[]).await;
    assert_eq!(refused.status, 422);
    assert!(text(&desk, "settings.toml").contains("cut_at = 0.9999"));
    assert_eq!(desk.post(&format!("{address}/discard"), &[]).await.status, 303);

    let shown = desk.get("/settings").await.text();
    let options = DeskOptions {
        book: desk.book().clone(),
        shop_folder: desk.folder.path().join("shop"),
        clock: Arc::new(|| at(120)),
        access: Access::Open,
        behind: Vec::new(),
    };
    let again = Desk::open(options).await.unwrap();
    let again =
        DeskUnderTest { router: desk::router(again.clone()), desk: again, folder: tempfile::tempdir().unwrap() };
    assert_eq!(again.get("/settings").await.text(), shown);
    assert!(again.get("/catalog/rereviews").await.text().contains("Every open order is reviewed"));
}

#[tokio::test]
async fn two_writers_lose_nothing_of_each_other() {
    let desk = open_desk().await;
    let one = desk.post("/catalog/change/studs", &stud("1/2-13", "0.620\"")).await;
    let other = desk.post("/catalog/change/studs", &stud("M12x1.75", "0.620\"")).await;
    let (one, _) = effect_of(&desk, &one).await;
    let (other, _) = effect_of(&desk, &other).await;
    assert_eq!(desk.post(&format!("{one}/save"), &[]).await.status, 303);
    let overtaken = desk.post(&format!("{other}/save"), &[]).await;
    let (anew, page) = effect_of(&desk, &overtaken).await;
    assert_ne!(anew, other);
    assert!(page.contains("Somebody else has saved a change"));
    assert!(!text(&desk, "studs.toml").contains("M12x1.75"));
    assert_eq!(desk.post(&format!("{anew}/save"), &[]).await.status, 303);
    let text = text(&desk, "studs.toml");
    assert!(text.contains("1/2-13") && text.contains("M12x1.75"), "{text}");
}

#[tokio::test]
async fn changes_by_hand_are_read_again_and_keep_their_comments() {
    let desk = open_desk().await;
    let own = "# What we keep on the shelf.\n\n[[stud]] # the long one\nthread = \"1/2-13\"\nknurl = ['0.620\"', '0.630\"'] # crest\n\
               hole = ['0.600\"', '0.612\"']\nsource = \"shop: ours\"\n";
    std::fs::create_dir_all(desk.folder.path().join("shop/catalog")).unwrap();
    std::fs::write(file(&desk, "studs.toml"), own.replace("hole =", "hoel =")).unwrap();
    let refused = desk.post("/catalog/read-again", &[]).await;
    assert_eq!(refused.status, 422);
    assert!(refused.text().contains("studs.toml:6:1") && refused.text().contains("hoel"), "{}", refused.text());
    assert_eq!(desk.get("/catalog/studs/1%2F2-13").await.status, 404);
    std::fs::write(file(&desk, "studs.toml"), own).unwrap();
    assert_eq!(desk.post("/catalog/read-again", &[]).await.status, 303);
    assert_eq!(desk.get("/catalog/studs/1%2F2-13").await.status, 200);
    let fields = [
        ("row", "1/2-13"),
        ("knurl.least", "0.621\""),
        ("knurl.most", "0.630\""),
        ("hole.least", "0.600\""),
        ("hole.most", "0.612\""),
        ("source", "shop: ours"),
    ];
    save(&desk, "/catalog/change/studs", &fields, false).await;
    assert_eq!(text(&desk, "studs.toml"), own.replace("['0.620\"', '0.630\"']", "['0.621\"', '0.630\"']"));
}

/// A form with a file in it.
fn with_file(path: &str, name: &str, bytes: &[u8]) -> Request<Body> {
    let mut body = format!(
        "--edge\r\nContent-Disposition: form-data; name=\"table\"; filename=\"{name}\"\r\nContent-Type: application/octet-stream\r\n\r\n"
    )
    .into_bytes();
    body.extend_from_slice(bytes);
    body.extend_from_slice(b"\r\n--edge--\r\n");
    Request::post(path)
        .header(CONTENT_TYPE, "multipart/form-data; boundary=edge")
        .header("sec-fetch-site", "same-origin")
        .body(Body::from(body))
        .unwrap()
}

const HEADINGS: [&str; 6] = ["name", "kind", "required_offset", "bore", "inside", "source"];

#[tokio::test]
async fn a_table_in_csv_is_checked_by_row_and_column() {
    let desk = open_desk().await;
    let bad = "name,kind,required_offset,bore,inside,source\n\
               drum 9 x 2 in,drum,2.50,\"2.80\"\"\",\"6.5\"\"\",shop: maker's sheet\n\
               disc 12 in,disk,\"2.5\"\"\",\"2.8\"\"\",\"6.5\"\"\",shop: maker's sheet\n";
    let refused = desk.ask(with_file("/catalog/import/brakes", "brakes.csv", bad.as_bytes())).await;
    assert_eq!(refused.status, 422);
    let page = refused.text();
    assert!(page.contains("Row 2, column “required offset”"), "{page}");
    assert!(page.contains("Row 3, column “kind”"), "{page}");
    assert!(!file(&desk, "brakes.toml").exists());
    let good = bad.replace("2.50,", "\"2.50\"\"\",").replace("disk", "disc");
    let entered = desk.ask(with_file("/catalog/import/brakes", "brakes.csv", good.as_bytes())).await;
    let (address, page) = effect_of(&desk, &entered).await;
    assert!(page.contains("2 new, 0 changed"));
    assert_eq!(desk.post(&format!("{address}/save"), &[]).await.status, 303);
    assert_eq!(desk.get("/catalog/brakes/drum%209%20x%202%20in").await.status, 200);
    // What is exported can be taken in again, and says the same.
    let export = desk.get("/catalog/export/brakes").await;
    assert!(export.header("content-type").starts_with("text/csv"));
    let back = desk.ask(with_file("/catalog/import/brakes", "brakes.csv", &export.bytes)).await;
    assert_eq!(back.status, 422);
    assert!(back.text().contains("says what the catalog holds already"), "{}", back.text());
    let wrong = desk.ask(with_file("/catalog/import/brakes", "brakes.csv", b"nmae,kind\nx,drum\n")).await;
    assert!(wrong.text().contains("No such column.") && wrong.text().contains("name, perhaps"));
}

#[tokio::test]
async fn headings_are_those_of_the_screen_and_keys_do_as_well() {
    let desk = open_desk().await;
    let export = desk.get("/catalog/export/bearings").await.text();
    let headings = export.lines().next().unwrap().to_owned();
    for words in ["outer width", "\"race offset, one standard deviation\"", "\"seat interference, smallest\""] {
        assert!(headings.contains(words), "{headings}");
    }
    assert!(!headings.contains('_') && !headings.contains("."), "{headings}");
    let page = desk.get("/catalog/import/bearings").await.text();
    assert!(
        page.contains("Race offset, one standard deviation") && page.contains("<code>race_offset.deviation</code>")
    );
    for headings in ["Name,KIND,Required Offset,bore,inside,Source", "name,kind,required_offset,bore,inside,source"] {
        let table =
            format!("{headings}\ndrum 9 x 2 in,drum,\"2.50\"\"\",\"2.80\"\"\",\"6.5\"\"\",shop: maker's sheet\n");
        let entered = desk.ask(with_file("/catalog/import/brakes", "brakes.csv", table.as_bytes())).await;
        assert_eq!(entered.status, 303, "{headings}: {}", entered.text());
    }
}

#[tokio::test]
async fn a_form_says_what_each_entry_takes_and_its_faults_are_in_the_words_of_the_screen() {
    let desk = open_desk().await;
    let page = desk.get("/catalog/add/bearings").await.text();
    assert!(page.contains("a size with its unit") && page.contains("a number in kN, such as 30.7"), "{page}");
    let fields = [
        ("name", "X"),
        ("kind", "ball"),
        ("bore", "wide"),
        ("outside", "80 mm"),
        ("weight", "often"),
        ("source", "shop: measured"),
    ];
    let refused = desk.post("/catalog/change/bearings", &fields).await;
    assert_eq!(refused.status, 422);
    let page = refused.text();
    for file_word in ["quotation", "TOML", "<code>bearings.toml:", "`weight`"] {
        assert!(!page.contains(file_word), "{file_word}: {page}");
    }
    assert!(page.contains("weight must be a number, and here stand words"), "{page}");
}

#[tokio::test]
async fn a_workbook_is_taken_in_as_a_table() {
    let desk = open_desk().await;
    let workbook = |offset: &str| {
        let mut workbook = rust_xlsxwriter::Workbook::new();
        let sheet = workbook.add_worksheet();
        for (column, heading) in (0..).zip(HEADINGS) {
            sheet.write(0, column, heading).unwrap();
        }
        for (column, cell) in (0..).zip(["drum 9 x 2 in", "drum", offset, "2.80 in", "6.5 in", "shop: maker's sheet"]) {
            sheet.write(1, column, cell).unwrap();
        }
        workbook.save_to_buffer().unwrap()
    };
    let refused = desk.ask(with_file("/catalog/import/brakes", "brakes.xlsx", &workbook("wide"))).await;
    assert_eq!(refused.status, 422);
    assert!(refused.text().contains("Row 2, column “required offset”"), "{}", refused.text());
    let entered = desk.ask(with_file("/catalog/import/brakes", "brakes.xlsx", &workbook("2 1/2 in"))).await;
    let (address, _) = effect_of(&desk, &entered).await;
    assert_eq!(desk.post(&format!("{address}/save"), &[]).await.status, 303);
    assert!(text(&desk, "brakes.toml").contains("drum 9 x 2 in"));
    let none = desk.ask(with_file("/catalog/import/brakes", "brakes.xlsx", b"not a workbook")).await;
    assert_eq!(none.status, 422);
}

/// A workbook with one cell at each end of its sheet would take gigabytes if every cell between were kept.
#[tokio::test]
async fn a_workbook_with_a_cell_at_the_end_of_its_sheet_is_refused() {
    let desk = open_desk().await;
    let mut workbook = rust_xlsxwriter::Workbook::new();
    workbook.add_worksheet().write(0, 0, "name").unwrap().write(1_048_575, 16_383, "x").unwrap();
    let bytes = workbook.save_to_buffer().unwrap();
    let refused = desk.ask(with_file("/catalog/import/brakes", "brakes.xlsx", &bytes)).await;
    assert_eq!(refused.status, 422);
    assert!(
        refused.text().contains("Row 1048576: The cell XFD1048576 lies outside of any table."),
        "{}",
        refused.text()
    );
}

/// A spreadsheet computes what begins like a formula, so such texts are marked when they leave and the mark is taken off again.
#[tokio::test]
async fn what_a_spreadsheet_would_compute_leaves_as_text_and_comes_back_as_it_was() {
    let desk = open_desk().await;
    let table = "name,kind,required_offset,bore,inside,source\n\
                 =1+1,drum,\"2.50\"\"\",\"2.80\"\"\",\"6.5\"\"\",@shop: maker's sheet\n";
    let entered = desk.ask(with_file("/catalog/import/brakes", "brakes.csv", table.as_bytes())).await;
    let (address, _) = effect_of(&desk, &entered).await;
    assert_eq!(desk.post(&format!("{address}/save"), &[]).await.status, 303);
    assert!(text(&desk, "brakes.toml").contains("\"=1+1\""), "{}", text(&desk, "brakes.toml"));
    let export = desk.get("/catalog/export/brakes").await;
    assert!(export.text().contains("\n'=1+1,"), "{}", export.text());
    assert!(export.text().contains(",'@shop: maker's sheet"), "{}", export.text());
    let back = desk.ask(with_file("/catalog/import/brakes", "brakes.csv", &export.bytes)).await;
    assert_eq!(back.status, 422);
    assert!(back.text().contains("says what the catalog holds already"), "{}", back.text());
}

#[tokio::test]
async fn names_lead_nowhere_and_stay_text() {
    let desk = open_desk().await;
    for path in [
        "/catalog/..%2F..%2Fetc%2Fpasswd",
        "/catalog/bearings/..%2F..%2Fshop.toml",
        "/catalog/settings",
        "/catalog/export/..%2Fsettings",
        "/settings/change/..%2Fx",
        "/catalog/change/bearings/%00",
    ] {
        assert_eq!(desk.get(path).await.status, 404, "{path}");
    }
    assert_eq!(desk.post("/catalog/change/..%2Fx", &stud("1/2-13", "0.620\"")).await.status, 404);
    let hostile = "<script>alert(1)</script> ../../\"]]";
    let fields = [
        ("name", hostile),
        ("kind", "drum"),
        ("required_offset", "2.5\""),
        ("bore", "2.8\""),
        ("inside", "6.5\""),
        ("source", "shop: <b>"),
    ];
    let page = save(&desk, "/catalog/change/brakes", &fields, false).await;
    assert!(!page.contains("<script>alert"));
    let table = desk.get("/catalog/brakes").await.text();
    assert!(!table.contains("<script>alert") && !table.contains("<b>") && table.contains("&lt;script&gt;"));
    let link = links(&table, "/catalog/brakes/%3Cscript").remove(0);
    assert_eq!(desk.get(&link).await.status, 200);
    let mut names: Vec<String> = std::fs::read_dir(desk.folder.path().join("shop/catalog"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    assert_eq!(names, ["brakes.toml"]);
}

#[tokio::test]
async fn who_may_look_and_who_may_change() {
    let desk = desk_with_accounts().await;
    let reader = desk.sign_in(Role::ReadOnly).await;
    for path in ["/catalog", "/catalog/bearings", "/settings", "/catalog/rereviews", "/catalog/export/studs"] {
        assert_eq!(desk.get_as(Some(&reader), path).await.status, 200, "{path}");
    }
    let fields = stud("1/2-13", "0.620\"");
    assert_eq!(desk.post_as(Some(&reader), "/catalog/change/studs", &fields).await.status, 403);
    assert_eq!(desk.get_as(Some(&reader), "/catalog/add/studs").await.status, 403);
    assert_eq!(desk.post_as(Some(&reader), "/catalog/undo/studs", &[]).await.status, 403);
    assert!(!desk.get_as(Some(&reader), "/catalog/studs").await.text().contains("Add a stud"));
    let worker = desk.sign_in(Role::Desk).await;
    assert_eq!(desk.post_as(Some(&worker), "/catalog/change/studs", &fields).await.status, 303);
    let thresholds = [("cut_at", "0.6"), ("source", "shop: mine")];
    assert_eq!(desk.post_as(Some(&worker), "/settings/change/thresholds", &thresholds).await.status, 403);
    assert_eq!(desk.get_as(Some(&worker), "/settings/letterhead").await.status, 403);
}

#[tokio::test]
async fn the_letterhead_is_written_with_its_logo() {
    let desk = open_desk().await;
    let part =
        |name: &str, text: &str| format!("--edge\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{text}\r\n");
    let body = [
        part("seen", ""),
        part("name", "Weir Shafts"),
        part("address", "1 Weir Yard\r\nOstermere"),
        part("page_size", "A4"),
        part("units", "both"),
        part("terms", "The first.\r\n\r\nThe second."),
        "--edge\r\nContent-Disposition: form-data; name=\"logo\"; filename=\"../../x.svg\"\r\n\r\n<svg/>\r\n--edge--\r\n".to_owned(),
    ]
    .concat();
    let request = || {
        Request::post("/settings/letterhead")
            .header(CONTENT_TYPE, "multipart/form-data; boundary=edge")
            .header("sec-fetch-site", "same-origin")
    };
    let saved = desk.ask(request().body(Body::from(body.clone())).unwrap()).await;
    assert_eq!(saved.status, 303, "{}", saved.text());
    let shop = std::fs::read_to_string(desk.folder.path().join("shop/shop.toml")).unwrap();
    let details = paperwork::read_shop("shop.toml", &shop).unwrap();
    assert_eq!(details.address, ["1 Weir Yard", "Ostermere"]);
    assert_eq!(details.terms, ["The first.", "The second."]);
    assert_eq!(details.page_size, Some(paperwork::PageSize::A4));
    assert_eq!(details.units_for(true), drawing::Units::Dual { inches_first: true });
    assert_eq!(details.logo.as_deref(), Some("logo.svg"));
    assert!(desk.folder.path().join("shop/logo.svg").exists());
    assert!(desk.get("/settings").await.text().contains("Weir Shafts"));
    // Whoever has not seen this saves nothing over it.
    let overtaken = desk.ask(request().body(Body::from(body)).unwrap()).await;
    assert_eq!(overtaken.status, 422);
    assert!(overtaken.text().contains("somebody else has changed this file"));
}

/// The check sum of a part of a PNG (annex D of the standard, ISO/IEC 15948).
fn check_sum(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |sum, byte| {
        (0..8).fold(sum ^ u32::from(*byte), |sum, _| (sum >> 1) ^ if sum & 1 == 1 { 0xedb8_8320 } else { 0 })
    })
}

#[tokio::test]
async fn a_logo_that_unpacks_to_gigabytes_gets_onto_no_paper() {
    let desk = open_desk().await;
    let mut small = std::io::Cursor::new(Vec::new());
    image::DynamicImage::new_rgb8(2, 2).write_to(&mut small, image::ImageFormat::Png).unwrap();
    let small = small.into_inner();
    let mut large = small.clone();
    large[16..20].copy_from_slice(&50_000_u32.to_be_bytes());
    large[20..24].copy_from_slice(&50_000_u32.to_be_bytes());
    let sum = check_sum(&large[12..29]).to_be_bytes();
    large[29..33].copy_from_slice(&sum);
    assert_eq!(check_sum(&small[12..29]).to_be_bytes(), small[29..33]);
    let upload = async |bytes: &[u8]| {
        let mut body = b"--edge\r\nContent-Disposition: form-data; name=\"name\"\r\n\r\nWeir Shafts\r\n--edge\r\n\
            Content-Disposition: form-data; name=\"logo\"; filename=\"logo.png\"\r\n\r\n"
            .to_vec();
        body.extend_from_slice(bytes);
        body.extend_from_slice(b"\r\n--edge--\r\n");
        let request = Request::post("/settings/letterhead")
            .header(CONTENT_TYPE, "multipart/form-data; boundary=edge")
            .header("sec-fetch-site", "same-origin");
        desk.ask(request.body(Body::from(body)).unwrap()).await
    };
    let refused = upload(&large).await;
    assert_eq!(refused.status, 422);
    assert!(refused.text().contains("the logo cannot be read, it may be damaged or too large"), "{}", refused.text());
    let kept = desk.folder.path().join("shop/logo.png");
    assert!(!kept.exists());
    assert_eq!(upload(&small).await.status, 303);
    assert!(desk.get("/settings").await.text().contains("<code>logo.png</code></p>"));
    // The same where somebody puts it into the folder by hand.
    std::fs::write(&kept, &large).unwrap();
    assert_eq!(desk.post("/catalog/read-again", &[]).await.status, 303);
    let settings = desk.get("/settings").await.text();
    assert!(settings.contains("the papers are made without a logo"), "{settings}");
}
