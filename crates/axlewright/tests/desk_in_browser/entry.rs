//! The review follows what is typed into the page of an order.

use crate::browser::{Browser, Scripts};
use crate::orders::folder_with_orders;
use crate::program::{Door, Program};

const LEFT_LENGTH: &str = "overall length left";

#[tokio::test(flavor = "multi_thread")]
async fn the_review_follows_what_is_typed() {
    let desk = Program::start_in(folder_with_orders().await, Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    page.open(&desk.at("/orders/2")).await;
    page.ask("window.stayed = true").await;
    page.until("the drawing is there", || async { page.sees("#drawing svg").await }).await;
    page.until("the questions are there", || async { !page.has("[data-pending]").await }).await;
    let doubt = "article.doubt.strong";
    assert!(page.sees(doubt).await);

    // What cannot be read is said beside its field, with what would be accepted.
    page.fill(LEFT_LENGTH, "about thirty").await;
    page.until("the fault stands beside the field", || async {
        page.words(".entry .fault")
            .await
            .iter()
            .any(|words| words.contains("\"about\" is not a number") && words.contains("Accepted"))
    })
    .await;

    // What the review expected is no longer in doubt.
    page.fill(LEFT_LENGTH, "27 7/16\"").await;
    page.until("the doubt is gone", || async { !page.sees(doubt).await && !page.sees(".entry .fault").await }).await;
    page.reads("becomes 27 7/16").await;
    assert_eq!(page.ask("return window.stayed").await, true, "the page was loaded anew");
    browser.close().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_new_order_says_what_it_still_needs() {
    let desk = Program::start(Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    page.open(&desk.at("/orders/new")).await;
    page.until("the reference is needed", || async {
        page.words("#verdict a").await.contains(&"reference of the shop".to_owned())
    })
    .await;
    page.fill("Reference of the shop", "Q-9001").await;
    page.until("the reference is no longer needed", || async {
        !page.words("#verdict a").await.contains(&"reference of the shop".to_owned())
    })
    .await;
    page.choose("Use of the vehicle", "street").await;
    page.until("a review is there", || async { page.sees("#verdict .mark").await }).await;
    browser.close().await;
}
