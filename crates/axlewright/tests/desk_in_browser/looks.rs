//! Light and dark.

use crate::browser::{Browser, Scripts};
use crate::page::Page;
use crate::program::{Door, Program};

/// How light the ground of the page is, from 0 to 255.
async fn lightness(page: &Page) -> f64 {
    let script = "
        const parts = getComputedStyle(document.body).backgroundColor.match(/[0-9.]+/g).map(Number);
        return (parts[0] + parts[1] + parts[2]) / 3;
    ";
    page.ask(script).await.as_f64().unwrap()
}

#[tokio::test(flavor = "multi_thread")]
async fn the_pages_are_as_light_or_dark_as_the_machine() {
    let desk = Program::start(Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    page.open(&desk.at("/")).await;
    page.dark(false).await;
    assert!(lightness(&page).await > 200.0);
    page.dark(true).await;
    assert!(lightness(&page).await < 60.0);
    browser.close().await;
}
