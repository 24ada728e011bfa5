//! What the desk does in the background gives way to people, and comes to its end all the same.

use std::time::Duration;

use axum::body::Body;
use axum::http::Request;
use axum::http::header::CONTENT_TYPE;
use book::Judgement;
use futures_util::stream;

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

#[tokio::test]
async fn every_open_order_is_reviewed_anew_while_a_request_never_ends() {
    let desk = open_desk().await;
    for name in ["01-hay-truck", "02-market-wagon", "03-quarry-tug"] {
        desk.place(name).await;
    }
    let before = desk.book().order(1).await.unwrap().line.judgement;
    // A form of which the end is never sent.
    let unending = Body::from_stream(stream::pending::<Result<Vec<u8>, std::io::Error>>());
    let request = Request::post("/catalog/change/studs")
        .header(CONTENT_TYPE, "application/x-www-form-urlencoded")
        .header("sec-fetch-site", "same-origin");
    tokio::select! {
        biased;
        answer = desk.ask(request.body(unending).unwrap()) => panic!("nothing was sent that could be answered: {answer:?}"),
        () = review_anew(&desk) => {}
    }
    let order = desk.book().order(1).await.unwrap();
    assert_eq!((before, order.line.judgement), (Judgement::Cut, Judgement::Ask));
    assert_eq!(order.line.catalog_mark, desk.desk.catalog().mark());
}
