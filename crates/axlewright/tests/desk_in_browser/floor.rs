//! The bench: what is measured on finished shafts is judged at once and written down.

use crate::browser::{Browser, Scripts};
use crate::orders::folder_with_orders;
use crate::program::{Door, Program};

#[tokio::test(flavor = "multi_thread")]
async fn a_measured_size_is_judged_and_written_down() {
    let desk = Program::start_in(folder_with_orders().await, Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Run).await;
    page.open(&desk.at("/orders/1/floor")).await;

    let field = page.see(".measured input[name^='size.']").await;
    let id = field.attr("id").await.unwrap().unwrap();
    let found = format!("#{id}-found .judged");
    field.send_keys("99").await.unwrap();
    page.until("the size is judged", || async { page.sees(&found).await }).await;
    assert!(!page.has(&format!("{found}.inside")).await, "99 in lies within the limits");

    // The first limit itself is within.
    let row = page.see(&format!("tr:has(#{id}) .limits")).await.text().await.unwrap();
    let limit: String = row
        .chars()
        .skip_while(|letter| !letter.is_ascii_digit())
        .take_while(|letter| letter.is_ascii_digit() || *letter == '.')
        .collect();
    field.clear().await.unwrap();
    field.send_keys(&limit).await.unwrap();
    page.until("the size is within", || async { page.has(&format!("{found}.inside")).await }).await;
    page.press("Write down what was measured").await;
    page.until("the size is kept", || async { page.has(&format!("{found}.kept.inside")).await }).await;
    browser.close().await;
}

/// What is written down beside the sizes, on a phone and without scripts: the floor has gloves on and an old telephone.
#[tokio::test(flavor = "multi_thread")]
async fn heat_and_press_force_are_written_down_without_scripts() {
    let desk = Program::start_in(folder_with_orders().await, Door::Open).await;
    let mut browser = Browser::start().await;
    let page = browser.window(Scripts::Blocked).await;
    page.open(&desk.at("/orders/1/floor")).await;
    page.fill("Heat number of the steel, left", "H-4711").await;
    page.fill("Press force of the lock ring, left", "9000").await;
    page.press("Write down what was measured").await;
    page.reads("the force has no unit").await;
    assert_eq!(page.value("Heat number of the steel, left").await, "H-4711", "nothing typed is lost");
    page.fill("Press force of the lock ring, left", "9000 lbf").await;
    page.press("Write down what was measured").await;
    page.reads("9000 lbf (40.0 kN)").await;
    let kept = page.words(".kept").await;
    assert!(kept.iter().any(|words| words.contains("H-4711") && words.contains("This desk")), "{kept:?}");
    page.open(&desk.at("/orders/1/history")).await;
    page.reads("press force of the lock ring").await;
    browser.close().await;
}
