//! The desk with scripts blocked: everything can be done, with a click more here and there.

use crate::browser::{Browser, Scripts};
use crate::orders::folder_with_orders;
use crate::program::{Door, Program};

#[tokio::test(flavor = "multi_thread")]
async fn the_list_is_searched_with_the_button() {
    let desk = Program::start_in(folder_with_orders().await, Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Blocked).await;
    // The driver still reads pages by script, but no script of a page runs.
    page.open(
        "data:text/html,<html><body><noscript>blocked</noscript><script>document.write('run')</script></body></html>",
    )
    .await;
    assert_eq!(page.ask("return document.body.innerText").await, "blocked");

    page.open(&desk.at("/")).await;
    page.fill("Search orders", "market wag").await;
    page.press("Search").await;
    page.until("only the market wagon is listed", || async { page.words("#list tbody th").await == ["Q-0102"] }).await;
    assert_eq!(page.path().await, "/?search=market+wag");
    browser.close().await;
}
