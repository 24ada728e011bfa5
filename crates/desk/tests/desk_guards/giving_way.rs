//! What the desk does in the background gives way to people, and comes to its end all the same.

use std::time::Duration;

use axum::body::Body;
use axum::http::Request;
use axum::http::header::CONTENT_TYPE;
use book::Judgement;
use futures_util::stream;

use super::one_folder::STUD;
use super::weakenings::proposed;
use crate::desk_under_test::{DeskUnderTest, open_desk};

/// Makes the shop stricter, so that every verdict to cut changes, and waits until every open order is reviewed anew.
async fn review_anew(desk: &DeskUnderTest) {
    let folder = desk.folder.path().join("shop").join("catalog");
    std::fs::create_dir_all(&folder).unwrap();
    let stricter = "[thresholds]\ncut_at = 0.9999\nsource = \"shop: by hand\"\n";
    std::fs::write(folder.join("settings.toml"), stricter).unwrap();
    while !desk.get("/catalog/rereviews").await.text().contains("Every open order is reviewed") {
        tokio::time::sleep(Duration::from_millis(20)).await;
    }
}

/// Does something while a form is being taken of which the end is never sent.
async fn while_a_request_never_ends<T>(desk: &DeskUnderTest, something: impl Future<Output = T>) -> T {
    let unending = Body::from_stream(stream::pending::<Result<Vec<u8>, std::io::Error>>());
    let request = Request::post("/catalog/change/studs")
        .header(CONTENT_TYPE, "application/x-www-form-urlencoded")
        .header("sec-fetch-site", "same-origin");
    tokio::select! {
        biased;
        answer = desk.ask(request.body(unending).unwrap()) => panic!("nothing was sent that could be answered: {answer:?}"),
        outcome = something => outcome,
    }
}

#[tokio::test]
async fn every_open_order_is_reviewed_anew_while_a_request_never_ends() {
    let desk = open_desk().await;
    for name in ["01-hay-truck", "02-market-wagon", "03-quarry-tug"] {
        desk.place(name).await;
    }
    let before = desk.book().order(1).await.unwrap().line.judgement;
    while_a_request_never_ends(&desk, review_anew(&desk)).await;
    let order = desk.book().order(1).await.unwrap();
    assert_eq!((before, order.line.judgement), (Judgement::Cut, Judgement::Ask));
    assert_eq!(order.line.catalog_mark, desk.desk.catalog().mark());
}

#[tokio::test]
async fn the_book_is_checked_while_a_request_never_ends() {
    let desk = open_desk().await;
    for name in ["01-hay-truck", "02-market-wagon"] {
        desk.place(name).await;
    }
    assert!(while_a_request_never_ends(&desk, desk.desk.check_chain()).await.unwrap());
    assert!(desk.get("/health").await.text().contains("\"outcome\":\"sound\""));
}

#[tokio::test]
async fn the_effect_of_a_change_is_worked_out_while_a_request_never_ends() {
    let desk = open_desk().await;
    for name in ["01-hay-truck", "02-market-wagon", "03-quarry-tug"] {
        desk.place(name).await;
    }
    let fields = STUD.to_vec();
    let proposing = proposed(&desk, None, "/catalog/change/studs", &fields);
    let (_, page) = while_a_request_never_ends(&desk, proposing).await;
    assert!(page.contains("Nothing would change in the open orders: 3 were"), "{page}");
}
