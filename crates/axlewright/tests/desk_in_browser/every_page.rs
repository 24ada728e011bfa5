//! What holds for every page: the rules of accessibility in light, in dark and on a phone, and no scrolling sideways on a phone.

use crate::addresses::{self, FOLLOWED};
use crate::browser::{Browser, Scripts};
use crate::orders::{PEOPLE, folder_with_accounts, folder_with_orders};
use crate::page::{PHONE, Page};
use crate::pictures;
use crate::program::{Door, Program};
use crate::rules;

/// How a page is looked at.
const LOOKS: [(&str, u32, bool); 3] = [("light", 1400, false), ("dark", 1400, true), ("on a phone", PHONE, false)];

/// What is wrong with the page that is open, in every look.
pub async fn wrong(page: &Page, address: &str) -> Vec<String> {
    let mut wrong = Vec::new();
    // The page of an order fetches its drawing and its questions.
    page.until("nothing is pending", || async { !page.has("[data-pending]").await }).await;
    for (look, width, dark) in LOOKS {
        page.dark(dark).await;
        page.whole(width).await;
        pictures::keep(page, address, look).await;
        wrong.extend(rules::broken(page).await.into_iter().map(|fault| format!("{address} {look}: {fault}")));
        wrong.extend(sideways(page).await.into_iter().map(|fault| format!("{address} {look}: {fault}")));
    }
    wrong
}

/// What reaches beyond the right edge where the page can be scrolled there.
async fn sideways(page: &Page) -> Vec<String> {
    let script = "
        const root = document.documentElement;
        if (root.scrollWidth <= root.clientWidth) { return []; }
        const beyond = [...document.querySelectorAll('body *')].filter((one) =>
            one.getBoundingClientRect().right > root.clientWidth + 0.5 && !one.closest('.scroll'));
        return [`${root.scrollWidth} px wide in ${root.clientWidth} px`].concat(
            beyond.slice(0, 5).map((one) => one.outerHTML.slice(0, 160)));
    ";
    let beyond = page.ask(script).await;
    beyond.as_array().unwrap().iter().map(|one| format!("scrolls sideways: {}", one.as_str().unwrap())).collect()
}

/// Looks at every address that is wanted.
async fn look_at(wanted: impl Fn(&str) -> bool) {
    let desk = Program::start_in(folder_with_orders().await, Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    rules::bring(&page).await;
    let mut faults = Vec::new();
    for address in addresses::all().filter(|address| wanted(address)) {
        page.open(&desk.at(address)).await;
        faults.extend(wrong(&page, address).await);
        for (_, link) in FOLLOWED.iter().filter(|(from, _)| *from == address) {
            page.click(link).await;
            page.until("the link leads somewhere", || async { page.path().await != address }).await;
            let there = page.path().await;
            faults.extend(wrong(&page, &there).await);
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
    browser.close().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn the_pages_of_the_door_keep_the_rules() {
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    rules::bring(&page).await;
    let mut faults = Vec::new();

    let empty = Program::start(Door::Accounts).await;
    page.open(&empty.at(addresses::FIRST_RUN)).await;
    page.reads("The first account").await;
    faults.extend(wrong(&page, addresses::FIRST_RUN).await);

    let desk = Program::start_in(folder_with_accounts().await, Door::Accounts).await;
    page.open(&desk.at("/orders/2")).await;
    page.until("one has to sign in first", || async { page.path().await.starts_with(addresses::SIGN_IN) }).await;
    faults.extend(wrong(&page, addresses::SIGN_IN).await);
    page.sign_in(&desk, PEOPLE[0]).await;
    for address in addresses::SIGNED_IN {
        page.open(&desk.at(address)).await;
        faults.extend(wrong(&page, &format!("{address}?signed-in")).await);
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
    browser.close().await;
}

/// The pages of the catalog are many; they are looked at beside the others.
fn is_of_the_catalog(address: &str) -> bool {
    address.starts_with("/catalog")
}

#[tokio::test(flavor = "multi_thread")]
async fn every_page_keeps_the_rules() {
    look_at(|address| !is_of_the_catalog(address)).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn every_page_of_the_catalog_keeps_the_rules() {
    look_at(is_of_the_catalog).await;
}

/// A check that finds nothing anywhere would prove nothing: this page breaks what it can.
#[tokio::test(flavor = "multi_thread")]
async fn a_broken_page_is_found_out() {
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    rules::bring(&page).await;
    let body = "<div style='width:2000px'>wide</div><p style='color:%23bbb;background:%23fff'>faint words</p><img src='x'>\
                <input><button></button><h3>too deep</h3>";
    page.open(&format!("data:text/html,<html><body>{body}</body></html>")).await;
    let found = wrong(&page, "the broken page").await.join("\n");
    let expected =
        ["color-contrast", "image-alt", "label", "button-name", "html-has-lang", "document-title", "scrolls sideways"];
    for expected in expected {
        assert!(found.contains(expected), "{expected} is not among what was found:\n{found}");
    }
    browser.close().await;
}
