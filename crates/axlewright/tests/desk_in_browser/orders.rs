//! Orders for a book, so that lists and pages have something to show.

use std::fs;
use std::path::Path;

use book::{Book, Details, Direction, MarkedCatalog, MoveRequest, Person, Picture, ReviewedSheet, Role, State};
use catalog::Catalog;
use jiff::{Timestamp, ToSpan};
use tempfile::TempDir;
use tokio::sync::OnceCell;

use crate::program::book_in;

/// The invented orders of the demonstration.
const DEMONSTRATION: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/orders");

/// A photo as a customer sends it; it is drawn.
pub const PHOTO: &[u8] = include_bytes!("photo.png");

/// The orders of the book, with who ordered, for what vehicle, and the states that they went through after they were received.
const ORDERS: [(&str, &str, &str, &[State]); 7] = [
    ("01-hay-truck.toml", "A. Field", "hay truck", &[State::Approved, State::InWork]),
    ("02-market-wagon.toml", "B. Stall", "market wagon", &[]),
    ("03-quarry-tug.toml", "C. Stone", "quarry tug", &[State::Questioned]),
    ("04-firewood-hauler.toml", "D. Wood", "firewood hauler", &[]),
    ("05-orchard-runabout.toml", "E. Orchard", "orchard runabout", &[]),
    ("06-ferry-shuttle.toml", "F. Ferry", "ferry shuttle", &[]),
    ("09-hill-racer.toml", "G. Hill", "hill racer", &[]),
];

/// A folder with a book of seven orders, the first of them number 1.
pub async fn folder_with_orders() -> TempDir {
    /// The reviews take a while; the book is written once and copied.
    static BYTES: OnceCell<Vec<u8>> = OnceCell::const_new();
    let bytes = BYTES.get_or_init(book_with_orders).await;
    let folder = tempfile::tempdir().unwrap();
    fs::write(book_in(folder.path()), bytes).unwrap();
    folder
}

/// The people of a desk where one signs in; both work the desk, the first of them owns it.
pub const PEOPLE: [&str; 2] = ["Ada of the desk", "Ben of the desk"];

/// The password of everybody in these tests.
pub const PASSWORD: &str = "a long word for the door";

/// As [`folder_with_orders`], with accounts.
pub async fn folder_with_accounts() -> TempDir {
    let folder = folder_with_orders().await;
    let now = Timestamp::now();
    let book = Book::open(&book_in(folder.path()).display().to_string(), now).await.unwrap();
    let owner = book.make_owner(PEOPLE[0], PASSWORD, now).await.unwrap();
    book.make_account(PEOPLE[1], PASSWORD, Role::Desk, &owner.person(), now).await.unwrap();
    book.close().await;
    folder
}

/// The sheet of an order of the demonstration.
pub fn sheet(name: &str) -> String {
    fs::read_to_string(Path::new(DEMONSTRATION).join(name)).unwrap()
}

async fn book_with_orders() -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let path = book_in(folder.path());
    let mut now = Timestamp::now() - 30.hours();
    let book = Book::open(&path.display().to_string(), now).await.unwrap();
    let catalog = MarkedCatalog::new(Catalog::shipped().unwrap());
    let desk = Person::new("This desk", Role::Owner);
    for (name, customer, vehicle, states) in ORDERS {
        let reviewed = ReviewedSheet::read(name, &sheet(name), &catalog).unwrap();
        let details =
            Details { customer: customer.to_owned(), contact: String::new(), vehicle: vehicle.to_owned(), due: None };
        now += 40.minutes();
        let mut line = book.place(&reviewed, &details, &desk, now).await.unwrap();
        for to in states {
            now += 20.minutes();
            let request = MoveRequest {
                seen_revision: line.revision,
                from: line.state,
                to: *to,
                reason: Some("as agreed by telephone"),
            };
            line = book.move_order(line.number, request, &desk, now).await.unwrap();
        }
    }
    // The quarry tug was read a second time.
    let tug = book.order(3).await.unwrap();
    let text = tug.sheet.replace("[\"2.432\", \"2.436\"]", "[\"2.432\", \"2.436\", \"2.434\"]");
    let reviewed = ReviewedSheet::read("quarry tug", &text, &catalog).unwrap();
    now += 10.minutes();
    book.revise(3, 1, &reviewed, &tug.line.details, "the yard measured once more", &desk, now).await.unwrap();
    for (direction, words) in [
        (Direction::FromCustomer, "The drums are new, the shafts come out of a yard."),
        (Direction::ToCustomer, "Thank you. The shafts are on the lathe."),
        (Direction::Note, "Blank from the left rack, second shelf."),
    ] {
        now += 5.minutes();
        book.write_message(1, direction, words, &desk, now).await.unwrap();
    }
    let photo = Picture::read(PHOTO).unwrap();
    book.add_photo(1, &photo, "flange.png", "The rule at the wheel face of the left shaft", &desk, now).await.unwrap();
    book.close().await;
    fs::read(path).unwrap()
}
