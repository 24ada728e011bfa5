//! Two people at two desks work on one order: each sees that the other is there, and nobody writes over the other unseen.

use crate::browser::{Browser, Scripts};
use crate::orders::{PEOPLE, folder_with_accounts};
use crate::program::{Door, Program};

#[tokio::test(flavor = "multi_thread")]
async fn two_people_change_one_order_without_loss() {
    let desk = Program::start_in(folder_with_accounts().await, Door::Accounts).await;
    let mut browser = Browser::start().await;
    let ada = browser.window(Scripts::Run).await;
    let ben = browser.window(Scripts::Run).await;
    ada.sign_in(&desk, PEOPLE[0]).await;
    ben.sign_in(&desk, PEOPLE[1]).await;
    ada.open(&desk.at("/orders/2")).await;
    ben.open(&desk.at("/orders/2")).await;
    ben.reads("Ada of the desk has this order open too").await;

    // Both type; Ada is first.
    ben.fill("brake offset alike or whole", "2.21").await;
    ada.fill("shoulder distance alike or whole", "2.13, 2.14, 2.14").await;
    ada.press("Save revision 2").await;
    ada.reads("Revision 2 is written").await;

    ben.press("Save revision 2").await;
    ben.reads("Somebody was first").await;
    ben.reads("Ada of the desk wrote revision 2").await;
    assert_eq!(ben.value("brake offset alike or whole").await, "2.21");
    assert_eq!(ben.value("shoulder distance alike or whole").await, "2.13, 2.14, 2.14");

    // Nothing of Ben's is in the book before he has looked at it and saved again.
    ada.open(&desk.at("/orders/2")).await;
    assert_eq!(ada.value("brake offset alike or whole").await, "2.20");
    ben.press("Save revision 3").await;
    ben.reads("Revision 3 is written").await;
    ada.reload().await;
    assert_eq!(ada.value("brake offset alike or whole").await, "2.21");
    assert_eq!(ada.value("shoulder distance alike or whole").await, "2.13, 2.14, 2.14");
    browser.close().await;
}
