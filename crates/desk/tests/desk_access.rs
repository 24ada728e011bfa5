//! Who gets in, and what gets nobody in.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
#![allow(missing_docs, reason = "the names of tests say what they are for")]

mod desk_under_test;

use axum::http::StatusCode;
use book::Role;

use desk_under_test::{desk_with_accounts, open_desk};

#[tokio::test]
async fn an_open_desk_shows_its_orders() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    let page = desk.get("/").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text().contains("Q-0101"), "{}", page.text());
}

#[tokio::test]
async fn a_desk_with_accounts_shows_nothing_before_one_signs_in() {
    let desk = desk_with_accounts().await;
    desk.place("01-hay-truck").await;
    let page = desk.get("/").await;
    assert_eq!((page.status, page.header("location")), (StatusCode::SEE_OTHER, "/sign-in?back=/"));
    let session = desk.sign_in(Role::ReadOnly).await;
    assert!(desk.get_as(Some(&session), "/").await.text().contains("Q-0101"));
}
