//! Nothing that was typed is lost: not when the desk stops answering, and not when it is started again.

use crate::browser::{Browser, Scripts};
use crate::orders::folder_with_orders;
use crate::program::{Door, Program};

#[tokio::test(flavor = "multi_thread")]
async fn what_was_typed_outlives_the_desk() {
    let mut desk = Program::start_in(folder_with_orders().await, Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    page.open(&desk.at("/orders/2")).await;

    // What is typed is kept by the desk within a moment, without a click.
    page.fill("Contact", "the bell at the gate").await;
    let offered = || async { String::from_utf8(desk.fetch("/orders/2").1).unwrap().contains("Carry on with it") };
    page.until("the draft is kept", offered).await;

    // While the desk is gone the page says so and keeps what is typed.
    desk.stop();
    page.fill("Vehicle", "market wagon, the green one").await;
    page.until("the page says that the desk is gone", || async { page.sees("#offline").await }).await;

    desk.start_again().await;
    page.until("the page says that the desk is back", || async { !page.sees("#offline").await }).await;
    let both = || async {
        let held = String::from_utf8(desk.fetch("/orders/2?draft=1").1).unwrap();
        held.contains("the bell at the gate") && held.contains("market wagon, the green one")
    };
    page.until("the draft holds both", both).await;

    page.open(&desk.at("/orders/2")).await;
    page.press("Carry on with it").await;
    page.until("the contact is there", || async { page.value("Contact").await == "the bell at the gate" }).await;
    assert_eq!(page.value("Vehicle").await, "market wagon, the green one");
    page.press("Save revision 2").await;
    page.reads("Revision 2 is written").await;
    assert_eq!(page.value("Contact").await, "the bell at the gate");
    assert!(!page.body().await.contains("Carry on with it"), "the draft is still offered");
    browser.close().await;
}
