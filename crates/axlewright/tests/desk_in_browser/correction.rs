//! A wrong reading is taken as something else with one click, confirmed, and taken back.

use crate::browser::{Browser, Scripts};
use crate::orders::folder_with_orders;
use crate::page::Page;
use crate::program::{Door, Program};

/// The field of the reading that the market wagon's owner took wrong, and what stands in it.
const LEFT_LENGTH: &str = "overall length left";
const WRITTEN: &str = "27 1/16\"";

/// The card of a reading in doubt.
const DOUBT: &str = "article.doubt.strong";

/// What the review says in one line: verdict and chance of a fit.
async fn says(page: &Page) -> Vec<String> {
    page.words("#verdict .outcome").await
}

async fn corrected(scripts: Scripts) {
    let desk = Program::start_in(folder_with_orders().await, Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(scripts).await;
    page.open(&desk.at("/orders/2")).await;
    assert!(page.see(DOUBT).await.text().await.unwrap().contains("left overall length"));
    let before = says(&page).await;

    // What the desk thinks changes nothing but what is shown.
    page.press("Take it so, not confirmed").await;
    page.until("revision 2 is open", || async { page.path().await == "/orders/2?saved=2" }).await;
    page.reads("Revision 2 is written").await;
    assert_eq!(page.value(LEFT_LENGTH).await, WRITTEN);
    let card = page.see(DOUBT).await.text().await.unwrap();
    assert!(card.contains("Taken as") && card.contains("not confirmed"), "{card}");
    assert_eq!(says(&page).await, before);

    // What somebody confirms is evidence.
    page.fill("who confirmed", "the owner").await;
    page.click(&format!("{DOUBT} button[formaction$='/accept']")).await;
    page.until("revision 3 is open", || async { page.path().await == "/orders/2?saved=3" }).await;
    assert_eq!(page.value(LEFT_LENGTH).await, WRITTEN, "what was written stays");
    assert!(!page.sees(DOUBT).await, "the reading is suspected still");
    page.reads("confirmed by the owner, and weighed so").await;
    assert_ne!(says(&page).await, before);

    page.press("Undo: back to what revision 2 said").await;
    page.reads("Revision 4 is written").await;
    assert!(page.sees(DOUBT).await);
    assert_eq!(says(&page).await, before);
    page.press("Take back the correction of the left overall length").await;
    page.reads("Revision 5 is written").await;
    assert!(!page.see(DOUBT).await.text().await.unwrap().contains("Taken as"));
    assert_eq!(says(&page).await, before);
    browser.close().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_correction_counts_once_somebody_has_confirmed_it() {
    corrected(Scripts::Run).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_correction_counts_once_somebody_has_confirmed_it_without_scripts() {
    corrected(Scripts::Blocked).await;
}

/// What goes to the customer is read over, and may be changed, before it is written down.
#[tokio::test(flavor = "multi_thread")]
async fn a_question_is_read_over_before_it_is_written_down() {
    let desk = Program::start_in(folder_with_orders().await, Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    page.open(&desk.at("/orders/2")).await;
    page.press("Ask the customer").await;
    let field = format!("{DOUBT} textarea");
    let words = page.see(&field).await.prop("value").await.unwrap().unwrap();
    assert!(words.starts_with("Please take the left overall length once more."), "{words}");
    page.see(&field).await.send_keys(" A photo would help.").await.unwrap();
    page.press("Write it down").await;
    page.until("it is asked", || async { page.path().await.starts_with("/orders/2?asked=1") }).await;
    page.open(&desk.at("/orders/2/messages")).await;
    page.reads("A photo would help.").await;
    browser.close().await;
}
