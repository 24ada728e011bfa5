//! Pages that show what would happen before anything is written, and what a simulation found: they only stand after a form was sent,
//! so they are looked at here and not by their address.

use std::io::Write;

use crate::browser::{Browser, Scripts};
use crate::every_page::wrong;
use crate::orders::{folder_with_orders, sheet};
use crate::program::{Door, Program};
use crate::rules;

#[tokio::test(flavor = "multi_thread")]
async fn a_change_of_the_catalog_shows_what_it_does_before_it_is_saved() {
    let desk = Program::start_in(folder_with_orders().await, Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    rules::bring(&page).await;

    // The bearing of the hay truck and of others gets a narrower outer ring: the brake offset of open orders moves with it.
    page.open(&desk.at("/catalog/bearings")).await;
    let row = page.ask(
        "return [...document.querySelectorAll('tbody tr')].map((row) => row.querySelector('th a').getAttribute('href'))
            .find((address) => address.includes('35x72x17'))",
    );
    let row = row.await.as_str().unwrap().to_owned();
    page.open(&desk.at(&row.replace("/catalog/bearings/", "/catalog/change/bearings/"))).await;
    let mut faults = wrong(&page, "/catalog/change before").await;

    // What cannot be read is said in the words of the screen, beside its field.
    page.fill("Outer width", "wide").await;
    // The rating has a source of its own, so it is told by its place.
    page.see("#entry-source").await.send_keys("shop: measured on five of them").await.unwrap();
    page.press("See what would change").await;
    page.reads("Nothing was saved.").await;
    faults.extend(wrong(&page, "/catalog/change refused").await);
    assert!(page.words(".field .fault").await.iter().any(|words| words.contains("Accepted")));
    assert!(!page.body().await.contains("TOML"), "{}", page.body().await);

    page.fill("Outer width", "16.5 mm").await;
    page.press("See what would change").await;
    page.until("the effect is known", || async {
        page.path().await.starts_with("/catalog/effect/")
            && page.words("[role='status']").await.concat().contains("open orders")
    })
    .await;
    faults.extend(wrong(&page, "/catalog/effect").await);
    assert!(page.sees("table.effects tbody tr").await, "{}", page.body().await);
    assert!(!page.body().await.contains("without waiting"));

    page.press("Save").await;
    page.until("the row is open", || async { page.path().await.starts_with("/catalog/bearings") }).await;
    page.open(&desk.at(&row)).await;
    page.reads("16.5 mm").await;
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
    browser.close().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_simulation_runs_beside_the_desk_and_shows_what_it_found() {
    let desk = Program::start(Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    rules::bring(&page).await;
    page.open(&desk.at("/simulator")).await;
    page.fill("Orders", "2000").await;
    page.press("Begin").await;
    page.until("it runs", || async { page.sees("#run progress").await }).await;
    let mut faults = wrong(&page, "/simulator running").await;
    page.press("Stop it").await;
    page.reads("It was stopped after").await;

    page.fill("Orders", "20").await;
    page.fill("Seed", "8").await;
    page.press("Begin").await;
    page.until("it is done", || async {
        page.words("#run h3").await.concat().contains("20 orders")
            && page.sees("#run table").await
            && !page.sees("#run progress").await
    })
    .await;
    faults.extend(wrong(&page, "/simulator done").await);

    page.fill("Orders", "5").await;
    page.press("Begin").await;
    page.reads("a whole number from 20 to 2000").await;
    faults.extend(wrong(&page, "/simulator refused").await);
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
    browser.close().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn an_import_shows_what_would_come_in_before_it_is_written() {
    let desk = Program::start_in(folder_with_orders().await, Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    rules::bring(&page).await;
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| {
        let path = folder.path().join(name);
        std::fs::File::create(&path).unwrap().write_all(text.as_bytes()).unwrap();
        path.display().to_string()
    };
    let table = "Reference,Use,Sides,Unit,Customer,Left overall length\n\
                 N-1,street,left,in,Weir Dairy,29 1/32\nN-2,street,left,in,Weir Dairy,thirty\n";
    let files = [
        write("weir.csv", table),
        write("reed.toml", &sheet("22-reed-cutter.toml")),
        write("hay.toml", &sheet("01-hay-truck.toml")),
    ];

    page.open(&desk.at("/orders/import")).await;
    page.field("Files").await.send_keys(files.join("\n")).await.unwrap();
    page.press("Look at what would come in").await;
    page.reads("2 can come in, 2 cannot").await;
    let faults = wrong(&page, "/orders/import preview").await;
    let body = page.body().await;
    assert!(body.contains("row 3, column") && body.contains("is taken by order 1"), "{body}");

    page.press("Take 2 orders in").await;
    page.until("the list is open", || async { page.path().await == "/" }).await;
    page.reads("N-1").await;
    page.reads("Q-0122").await;
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
    browser.close().await;
}
