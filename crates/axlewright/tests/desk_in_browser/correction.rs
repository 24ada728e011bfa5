//! A wrong reading is put right with one click, and back.

use crate::browser::{Browser, Scripts};
use crate::orders::folder_with_orders;
use crate::program::{Door, Program};

/// The field of the reading that the market wagon's owner took wrong.
const LEFT_LENGTH: &str = "overall length left";

#[tokio::test(flavor = "multi_thread")]
async fn a_wrong_reading_is_put_right_with_one_click() {
    let desk = Program::start_in(folder_with_orders().await, Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    page.open(&desk.at("/orders/2")).await;
    let doubt = "article.doubt.strong";
    assert!(page.see(doubt).await.text().await.unwrap().contains("left overall length"));
    assert_eq!(page.value(LEFT_LENGTH).await, "27 1/16\"");

    let button = format!("{doubt} button[formaction$='/accept']");
    let words = page.see(&button).await.text().await.unwrap();
    let corrected = words.strip_prefix("Take ").unwrap().to_owned();
    page.click(&button).await;
    page.until("revision 2 is open", || async { page.path().await == "/orders/2?saved=2" }).await;
    page.reads("Revision 2 is written").await;
    assert_eq!(page.value(LEFT_LENGTH).await, corrected);
    assert!(!page.sees(doubt).await, "the reading is suspected still");

    page.press("Undo: back to what revision 1 said").await;
    page.reads("Revision 3 is written").await;
    assert_eq!(page.value(LEFT_LENGTH).await, "27 1/16\"");
    assert!(page.sees(doubt).await);
    browser.close().await;
}
