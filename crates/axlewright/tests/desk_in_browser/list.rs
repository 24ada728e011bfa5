//! The list of orders: what it says when it is empty, search as one types, and the way through it without a mouse.

use thirtyfour::Key;

use crate::browser::{Browser, Scripts};
use crate::orders::folder_with_orders;
use crate::page::Page;
use crate::program::{Door, Program};

/// The references of the orders that the page lists.
async fn references(page: &Page) -> Vec<String> {
    page.words("#list tbody th").await
}

#[tokio::test(flavor = "multi_thread")]
async fn an_empty_book_says_how_an_order_begins() {
    let desk = Program::start(Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    page.open(&desk.at("/")).await;
    page.reads("The book is empty").await;
    assert!(page.sees("a[href='/orders/new']").await);
    browser.close().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn the_list_follows_what_is_typed() {
    let desk = Program::start_in(folder_with_orders().await, Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    page.open(&desk.at("/")).await;
    assert_eq!(references(&page).await.len(), 7);

    // Nothing is sent; the page stays, and the list within it is taken over.
    page.ask("window.stayed = true").await;
    page.fill("Search orders", "market wag").await;
    page.until("only the market wagon is listed", || async { references(&page).await == ["Q-0102"] }).await;
    assert_eq!(page.ask("return window.stayed").await, true);
    assert_eq!(page.path().await, "/?search=market+wag");

    page.fill("Search orders", "no such vehicle").await;
    page.reads("No order is like that").await;
    // The address that the typing left behind shows the same.
    page.reload().await;
    page.reads("No order is like that").await;
    browser.close().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn the_list_is_walked_without_a_mouse() {
    let desk = Program::start_in(folder_with_orders().await, Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    page.open(&desk.at("/")).await;
    let listed = references(&page).await;

    // The first stop is the way past the head, and it can be seen while the keyboard is there.
    page.key(Key::Tab).await;
    assert_eq!(page.focused().await, "To the content");
    page.key(Key::Enter).await;
    assert_eq!(page.ask("return document.activeElement.id").await, "main");

    page.keys("j").await;
    assert_eq!(page.focused().await, listed[0]);
    page.keys("j").await;
    page.keys("j").await;
    assert_eq!(page.focused().await, listed[2]);
    page.keys("k").await;
    assert_eq!(page.focused().await, listed[1]);

    page.keys("/").await;
    page.keys("jk").await;
    assert_eq!(page.field("Search orders").await.prop("value").await.unwrap().unwrap(), "jk");
    page.key(Key::Escape).await;

    page.open(&desk.at("/?search=market")).await;
    page.keys("j").await;
    page.key(Key::Enter).await;
    page.until("the order is open", || async { page.path().await == "/orders/2" }).await;

    // From the head of the order on to its approval.
    const MOST_STOPS: usize = 40;
    let mut stops = 0;
    while page.focused().await != "Approve to cut" {
        assert!(stops < MOST_STOPS, "the keyboard does not come to the approval");
        page.key(Key::Tab).await;
        stops += 1;
    }
    page.key(Key::Enter).await;
    page.until("the order is approved", || async { page.words(".state").await == ["approved to cut"] }).await;
    browser.close().await;
}
