//! The paper is keyed a second time without a look at the first.

use crate::browser::{Browser, Scripts};
use crate::orders::folder_with_orders;
use crate::program::{Door, Program};

#[tokio::test(flavor = "multi_thread")]
async fn a_second_entry_is_blind_and_the_paper_decides() {
    let desk = Program::start_in(folder_with_orders().await, Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    page.open(&desk.at("/orders/2/second-entry")).await;
    let source = String::from_utf8(desk.fetch("/orders/2/second-entry").1).unwrap();
    for first in ["27 1/16", "28 7/8", "53 1/16", "1.3788"] {
        assert!(!source.contains(first), "the page shows {first}, as it was keyed first");
    }

    let labels = page.words(".keyed label").await;
    let length = labels.iter().find(|words| words.contains("left") && words.contains("overall length")).unwrap();
    page.fill(length, "27 7/16\"").await;
    page.press("Compare with what was keyed first").await;
    page.reads("readings differ").await;

    // Every other reading stays as it was keyed first; the length is what was keyed now.
    page.click_all("fieldset input[value='first']").await;
    let fieldset = format!("//fieldset[legend[contains(normalize-space(), '{length}')]]//input[@value='second']");
    page.click_path(&fieldset).await;
    page.press("Settle").await;
    page.until("the history is open", || async { page.path().await.ends_with("/history") }).await;
    page.reads("second entry against the paper").await;
    page.open(&desk.at("/orders/2")).await;
    assert_eq!(page.value("overall length left").await, "27 7/16\"");
    browser.close().await;
}
