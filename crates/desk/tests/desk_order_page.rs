//! The page of an order: what it offers in each state, and what it holds for those whose browser runs no scripts.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod desk_under_test;

use book::{Person, Role, State};
use desk_under_test::{at, open_desk};

#[tokio::test]
async fn an_order_whose_sheet_stands_still_offers_nothing_to_save_or_take() {
    let desk = open_desk().await;
    // The market wagon has a reading that could be taken as the review reads it.
    desk.place("02-market-wagon").await;
    let open = desk.get("/orders/1").await.text();
    assert!(open.contains("Save revision 2") && open.contains("/orders/1/accept"));
    let person = Person::new("Wenna Tarrow", Role::Owner);
    let mut line = desk.book().order(1).await.unwrap().line;
    for to in [State::Approved, State::InWork, State::Inspected, State::Shipped, State::Closed] {
        let request = book::MoveRequest { seen_revision: 1, from: line.state, to, reason: Some("as agreed") };
        line = desk.book().move_order(1, request, &person, at(3)).await.unwrap();
        let page = desk.get("/orders/1").await.text();
        let still = matches!(to, State::Inspected | State::Shipped | State::Closed);
        assert_eq!(page.contains("its sheet stands still"), still, "{to}");
        for offer in ["Save revision 2", "/orders/1/accept", "formaction=\"/orders/1/ask\""] {
            assert!(!still || !page.contains(offer), "{offer} while {to}");
        }
    }
}

#[tokio::test]
async fn what_was_approved_is_drawn_so_while_its_sheet_stands_still() {
    let desk = open_desk().await;
    desk.place("02-market-wagon").await;
    // A browser sends none of the fields that cannot be typed into.
    let drawn = async || desk.post("/orders/1/drawing?part=1", &[("seen", "1")]).await.text();
    assert!(drawn().await.contains("NOT FOR MANUFACTURE"));
    let approve = [("revision", "1"), ("from", "received"), ("to", "approved-to-cut"), ("reason", "")];
    desk.post("/orders/1/move", &approve).await;
    assert_eq!(desk.book().order(1).await.unwrap().line.state, State::Approved);
    let person = Person::new("Wenna Tarrow", Role::Owner);
    for (from, to) in [(State::Approved, State::InWork), (State::InWork, State::Inspected)] {
        let request = book::MoveRequest { seen_revision: 1, from, to, reason: Some("as agreed") };
        desk.book().move_order(1, request, &person, at(3)).await.unwrap();
    }
    let drawing = drawn().await;
    assert!(drawing.contains("<svg") && !drawing.contains("NOT FOR MANUFACTURE"));
}

#[tokio::test]
async fn how_a_reading_is_taken_and_its_instrument_need_no_script() {
    let desk = open_desk().await;
    let page = desk.get("/orders/new").await.text();
    assert!(
        page.contains("aria-describedby=\"how-to-overall_length\"") && page.contains("id=\"how-to-overall_length\"")
    );
    let without = page.split("<noscript>").nth(1).unwrap().split("</noscript>").next().unwrap();
    assert!(without.contains("name=\"r.left.overall_length.0.instrument\""), "{without}");
}
