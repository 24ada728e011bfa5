//! Papers of what left the shop stay what they were, whatever becomes of the catalog.

use book::{MoveRequest, Person, Role, State};

use crate::desk_under_test::{DeskUnderTest, at, open_desk};

async fn moved(desk: &DeskUnderTest, order: &str, from: &str, to: &str) {
    let fields = [("revision", "1"), ("from", from), ("to", to), ("reason", "the customer waits")];
    let answer = desk.post(&format!("/orders/{order}/move"), &fields).await;
    assert_eq!(answer.status, 303, "{}", answer.text());
}

/// Another clearance to the cross pin, so that other lengths are cut.
async fn another_catalog(desk: &DeskUnderTest) {
    let folder = desk.folder.path().join("shop").join("catalog");
    std::fs::create_dir_all(&folder).unwrap();
    let text = "[tolerances]\nshoulder_distance = \"0.004 in\"\noverall_length = \"0.03 in\"\nsource = \"shop: another lathe\"\n";
    std::fs::write(folder.join("settings.toml"), text).unwrap();
    assert_eq!(desk.post("/catalog/read-again", &[]).await.status, 303);
}

const DRAWING: &str = "/drawing/shaft.svg?units=inch&standard=asme&page=a4";

#[tokio::test]
async fn papers_of_a_shipped_order_are_printed_as_they_were_approved() {
    let desk = open_desk().await;
    for name in ["01-hay-truck", "02-market-wagon", "03-quarry-tug"] {
        desk.place(name).await;
    }
    let steps = [
        ("received", "approved-to-cut"),
        ("approved-to-cut", "in-work"),
        ("in-work", "inspected"),
        ("inspected", "shipped"),
    ];
    for (from, to) in steps {
        moved(&desk, "1", from, to).await;
    }
    moved(&desk, "2", "received", "approved-to-cut").await;
    // The third was approved and is closed, and nothing of it ever left the shop.
    moved(&desk, "3", "received", "approved-to-cut").await;
    moved(&desk, "3", "approved-to-cut", "closed").await;
    let drawn = desk.get(&format!("/orders/1{DRAWING}")).await.text();
    assert!(!drawn.to_lowercase().contains("not for manufacture"), "{drawn}");
    let solid = desk.get("/orders/1/solid/left.step").await.text();
    let review = desk.get("/orders/1/review.json").await.text();

    another_catalog(&desk).await;
    for not_made in ["2", "3"] {
        let page = desk.get(&format!("/orders/{not_made}/papers")).await.text();
        assert!(page.contains("Not for manufacture") && page.contains("no longer those that were approved"), "{page}");
        assert!(
            desk.get(&format!("/orders/{not_made}{DRAWING}"))
                .await
                .text()
                .to_lowercase()
                .contains("not for manufacture")
        );
    }
    for state in [State::Shipped, State::Closed] {
        if state == State::Closed {
            moved(&desk, "1", "shipped", "closed").await;
        }
        let page = desk.get("/orders/1/papers").await.text();
        assert!(!page.contains("Not for manufacture"), "{page}");
        assert!(page.contains("the catalog has changed since it was approved"), "{page}");
        assert_eq!(desk.get(&format!("/orders/1{DRAWING}")).await.text(), drawn, "not a stroke is another one");
        assert_eq!(desk.get("/orders/1/solid/left.step").await.text(), solid);
        assert_eq!(desk.get("/orders/1/review.json").await.text(), review);
        assert_eq!(desk.get("/orders/1/papers/packet.pdf").await.status, 200);
    }
    assert!(desk.book().check(None).await.unwrap().is_sound());
}

#[tokio::test]
async fn an_approval_whose_catalog_was_not_kept_is_judged_by_the_one_that_stands() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    let who = Person::new("Wenna Tarrow", Role::Desk);
    let steps = [State::Received, State::Approved, State::InWork, State::Inspected, State::Shipped];
    for pair in steps.windows(2) {
        let request = MoveRequest { seen_revision: 1, from: pair[0], to: pair[1], reason: Some("the customer waits") };
        let order = desk.book().order(1).await.unwrap();
        let reviewed = book::ReviewedSheet::read("sheet", &order.sheet, crate::desk_under_test::catalog()).unwrap();
        desk.book().move_reviewed(1, request, &reviewed, &who, at(2)).await.unwrap();
    }
    assert!(desk.get("/orders/1/papers").await.text().contains("Approved for manufacture"));
    another_catalog(&desk).await;
    assert!(desk.get("/orders/1/papers").await.text().contains("Not for manufacture"));
}
