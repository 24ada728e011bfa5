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

/// With scripts and without: whoever comes to a field is told how its reading is taken, and can name the instrument.
#[tokio::test(flavor = "multi_thread")]
async fn how_a_reading_is_taken_is_told_at_its_field() {
    let desk = Program::start(Door::Open).await;
    let mut browser = Browser::start().await;
    for scripts in [Scripts::Run, Scripts::Blocked] {
        let page = browser.window(scripts).await;
        page.width(crate::page::PHONE, 1000).await;
        page.open(&desk.at("/orders/new")).await;
        assert!(!page.sees("#how-to-overall_length").await, "{scripts:?}");
        page.field(LEFT_LENGTH).await.send_keys("29 1/32").await.unwrap();
        page.until("it is told how it is taken", || async { page.sees("#how-to-overall_length").await }).await;
        if scripts == Scripts::Blocked {
            page.see("input[name='r.left.overall_length.0.instrument']").await.send_keys("tape").await.unwrap();
            page.fill("Reference of the shop", "Q-9001").await;
            page.choose("Use of the vehicle", "street").await;
            page.choose("Shafts wanted", "left and right").await;
            page.choose("Unit of numbers", "inches").await;
            page.press("Take the order in").await;
            page.reads("Revision 1 is written").await;
            page.open(&desk.at("/orders/1/history")).await;
            page.reads("29 1/32 in, tape").await;
        }
    }
    browser.close().await;
}

/// The keyboard goes from the reference over the readings to the button that takes the order in, and only then to the drawing.
#[tokio::test(flavor = "multi_thread")]
async fn the_keyboard_goes_from_the_reference_to_saving_and_then_to_the_drawing() {
    const MOST_STOPS: usize = 250;
    let desk = Program::start(Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    page.open(&desk.at("/orders/new")).await;
    page.fill("Reference of the shop", "Q-9001").await;
    let mut stops = Vec::new();
    while stops.last().is_none_or(|last| last != "view") {
        assert!(stops.len() < MOST_STOPS, "the keyboard does not come to the drawing: {stops:?}");
        page.key(thirtyfour::Key::Tab).await;
        let here = page.ask("const at = document.activeElement; return at.name || at.textContent.trim()").await;
        stops.push(here.as_str().unwrap_or_default().to_owned());
    }
    let at = |name: &str| stops.iter().position(|stop| stop == name);
    let way = [at("f.order.use"), at("r.left.overall_length.0"), at("Take the order in"), at("view")];
    assert!(way.iter().all(Option::is_some) && way.is_sorted(), "{way:?} in {stops:?}");
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
