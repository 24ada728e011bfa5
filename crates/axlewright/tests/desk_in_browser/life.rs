//! An order from its sheet to papers that may go to the floor, with scripts and with scripts blocked.

use crate::browser::{Browser, Scripts};
use crate::orders::sheet;
use crate::page::Page;
use crate::program::{Door, Program};

/// The photo that is sent in.
const PHOTO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/desk_in_browser/photo.png");

/// Takes a sheet in that somebody sent as text, with the correction of one reading confirmed before it is kept.
async fn take_in(desk: &Program, page: &Page) {
    page.open(&desk.at("/")).await;
    page.press("New order").await;
    page.press("The sheet as text").await;
    page.fill("Sheet as text", &sheet("02-market-wagon.toml")).await;
    page.press("Put the text into the form").await;
    page.until("the form holds the sheet", || async { page.value("Reference of the shop").await == "Q-0102" }).await;
    page.fill("Customer", "B. Stall").await;

    let doubt = "article.doubt.strong";
    page.reads("left overall length").await;
    page.click(&format!("{doubt} button[formaction$='/accept']")).await;
    page.until("the correction is confirmed", || async { !page.sees(doubt).await }).await;
    assert_eq!(page.value("Customer").await, "B. Stall");

    page.press("Take the order in").await;
    page.reads("Revision 1 is written").await;
    assert_eq!(page.path().await, "/orders/1?saved=1");
}

/// The papers before anybody has approved the order, and after.
async fn approve(desk: &Program, page: &Page) {
    page.press("Papers").await;
    page.reads("Not for manufacture").await;
    page.press("Approve to cut").await;
    page.reads("approved to cut").await;
    page.press("Papers").await;
    page.reads("Approved for manufacture").await;

    for link in ["packet.pdf", "certificate.pdf"] {
        let address = page.see(&format!("a[href*='{link}']")).await.attr("href").await.unwrap().unwrap();
        let (head, paper) = desk.fetch(&address);
        assert!(head.contains(" 200 ") && head.contains("application/pdf"), "{address}: {head}");
        assert!(paper.starts_with(b"%PDF-") && paper.len() > 5_000, "{address}: {} bytes", paper.len());
    }
    let drawing = page.see("a[href*='.dxf']").await.attr("href").await.unwrap().unwrap();
    let (head, drawing) = desk.fetch(&drawing);
    assert!(head.contains(" 200 "), "{head}");
    assert!(String::from_utf8(drawing).unwrap().contains("SECTION"));
}

/// A message and a photo go beside the order.
async fn write_beside(page: &Page) {
    page.press("Messages and photos").await;
    page.fill("What it says", "Both shafts by Friday, please.").await;
    page.press("Write down").await;
    page.until("the message is listed", || async {
        page.words(".thread li").await.iter().any(|words| words.contains("Both shafts by Friday, please."))
    })
    .await;
    page.field("Photos").await.send_keys(PHOTO).await.unwrap();
    page.fill("What they show", "the rule at the wheel face").await;
    page.press("Add").await;
    page.until("the photo is listed", || async { page.sees(".photos img").await }).await;
    page.click(".photos a").await;
    page.reads("the rule at the wheel face").await;
}

async fn whole_life(scripts: Scripts) {
    let desk = Program::start(Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(scripts).await;
    take_in(&desk, &page).await;
    approve(&desk, &page).await;
    write_beside(&page).await;
    browser.close().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn an_order_goes_from_its_sheet_to_approved_papers() {
    whole_life(Scripts::Run).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn an_order_goes_from_its_sheet_to_approved_papers_without_scripts() {
    whole_life(Scripts::Blocked).await;
}
