//! Every page of the desk, with an address under which it can be looked at in the book of [`crate::orders`].

use std::sync::Arc;

use book::Book;
use desk::{Access, Desk, DeskOptions, table};
use jiff::Timestamp;

/// What stands under a path of the table of routes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum There {
    /// Pages: the addresses to look at.
    Pages(&'static [&'static str]),
    /// A file or data; nothing to look at.
    File,
}

use There::{File, Pages};

/// What stands where.
const PATHS: &[(&str, There)] = &[
    ("/", Pages(&["/", "/?search=market", "/?search=nothing+is+like+this", "/?state=received&sort=changed"])),
    ("/assets/{mark}/{name}", File),
];

/// Addresses that are no page of their own but show one: refusals.
pub const REFUSALS: &[&str] = &["/no-such-page", "/?state=lost", "/orders/999999"];

/// Every address to look at.
pub fn all() -> Vec<&'static str> {
    let pages = PATHS.iter().filter_map(|(_, there)| match there {
        Pages(addresses) => Some(*addresses),
        File => None,
    });
    pages.flatten().chain(REFUSALS).copied().collect()
}

#[tokio::test(flavor = "multi_thread")]
async fn every_page_of_the_desk_is_looked_at() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("orders.db").display().to_string();
    let desk = Desk::open(DeskOptions {
        book: Book::open(&place, Timestamp::now()).await.unwrap(),
        shop_folder: folder.path().to_owned(),
        clock: Arc::new(Timestamp::now),
        access: Access::Accounts { secure: false },
    })
    .await
    .unwrap();
    let registered: Vec<&str> =
        table(desk).into_iter().filter(|entry| entry.method == "GET").map(|entry| entry.path).collect();
    let known: Vec<&str> = PATHS.iter().map(|(path, _)| *path).collect();
    let forgotten: Vec<&&str> = registered.iter().filter(|path| !known.contains(path)).collect();
    let gone: Vec<&&str> = known.iter().filter(|path| !registered.contains(path)).collect();
    assert!(forgotten.is_empty(), "nobody looks at {forgotten:?}: they need a row in PATHS");
    assert!(gone.is_empty(), "{gone:?} are no longer registered");
}
