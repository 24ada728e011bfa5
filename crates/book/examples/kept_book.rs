//! Makes a small book with something in every table, to be kept for the tests of later versions.
//!
//! ```sh
//! cargo run -p book --example kept_book -- schema-3.db schema-3.backup
//! ```
#![allow(clippy::unwrap_used, reason = "an example that makes files for tests")]

use book::{
    Book, Details, Direction, ListRequest, MarkedCatalog, MoveRequest, Person, Picture, ReviewedSheet, Role, SavedView,
    State,
};
use image::{ImageFormat, Rgb, RgbImage};
use jiff::{SignedDuration, Timestamp};

fn main() {
    let place = std::env::args().nth(1).unwrap();
    let backup = std::env::args().nth(2);
    tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap().block_on(make(&place, backup));
}

async fn make(place: &str, backup: Option<String>) {
    let at = |minutes: i64| "2026-03-02T08:00:00Z".parse::<Timestamp>().unwrap() + SignedDuration::from_mins(minutes);
    let catalog = MarkedCatalog::new(catalog::Catalog::shipped().unwrap());
    let sheet = |name: &str| {
        let path = format!("{}/../../demo/orders/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        std::fs::read_to_string(path).unwrap()
    };
    let reviewed = |text: &str| ReviewedSheet::read("sheet", text, &catalog).unwrap();
    let desk = Person::new("Wenna Tarrow", Role::Desk);
    let book = Book::open(place, at(0)).await.unwrap();
    let account = book.make_owner("Morwen Ostrey", "weir yard at dawn", at(0)).await.unwrap().number;
    let details = Details {
        customer: "Tamsin Müller".to_owned(),
        contact: "at the weir".to_owned(),
        vehicle: "hay truck".to_owned(),
        due: Some(jiff::civil::date(2026, 4, 1)),
    };
    let text = sheet("01-hay-truck");
    book.place(&reviewed(&text), &details, &desk, at(1)).await.unwrap();
    let thinner = reviewed(&text.replace("\"0.421\"", "\"0.425\""));
    book.revise(1, 1, &thinner, &details, "read again", &desk, at(2)).await.unwrap();
    book.place(&reviewed(&sheet("02-market-wagon")), &Details::default(), &Person::guest("a customer"), at(3))
        .await
        .unwrap();
    let request =
        MoveRequest { seen_revision: 2, from: State::Received, to: State::Approved, reason: Some("looked at it") };
    book.move_order(1, request, &desk, at(4)).await.unwrap();
    book.write_message(1, Direction::ToCustomer, "We cut on Monday.", &desk, at(5)).await.unwrap();
    let mut png = std::io::Cursor::new(Vec::new());
    RgbImage::from_pixel(40, 30, Rgb([200, 0, 0])).write_to(&mut png, ImageFormat::Png).unwrap();
    let picture = Picture::read(png.get_ref()).unwrap();
    book.add_photo(1, &picture, "flange.png", "the flange", &desk, at(6)).await.unwrap();
    book.keep_draft(account, "order 2", "half a line", 1, at(7)).await.unwrap();
    book.keep_view(account, &SavedView { name: "all".to_owned(), request: ListRequest::default() }).await.unwrap();
    let owner = Person::new("Morwen Ostrey", Role::Owner);
    book.make_token("accounts", Role::ReadOnly, &owner, at(7)).await.unwrap();
    if let Some(backup) = backup {
        book.backup(backup.as_ref(), at(8)).await.unwrap();
    }
    book.close().await;
}
