//! first
#![allow(clippy::unwrap_used, reason = "t")]
use book::*;
#[tokio::test]
async fn walk() {
    let folder = tempfile::tempdir().unwrap();
    let now: jiff::Timestamp = "2026-03-02T08:00:00Z".parse().unwrap();
    let book = Book::open(&folder.path().join("o.db").display().to_string(), now).await.unwrap();
    let catalog = MarkedCatalog::new(catalog::Catalog::shipped().unwrap());
    let text = std::fs::read_to_string("../../demo/orders/01-hay-truck.toml").unwrap();
    let r = ReviewedSheet::read("a", &text, &catalog).unwrap();
    let who = Person::new("Ada", Role::Desk);
    let line =
        book.place(&r, &Details { customer: "Barge Yard".into(), ..Details::default() }, &who, now).await.unwrap();
    println!("{line:?}");
    let list =
        book.list(&ListRequest { search: "barg drum shoulder 2.18".into(), ..Default::default() }).await.unwrap();
    println!("{list:#?}");
    let text2 = text.replace("0.421", "0.425");
    let r2 = ReviewedSheet::read("a", &text2, &catalog).unwrap();
    let l2 = book.revise(1, 1, &r2, &line.details, "read again", &who, now).await.unwrap();
    println!("{:?}", book.reading_history(1).await.unwrap().last());
    println!("{}", book.revise(1, 1, &r2, &line.details, "read again", &who, now).await.unwrap_err());
    println!("{:?}", l2);
    println!("{:?}", book.check(None).await.unwrap());
}
