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
    ("/account", Pages(&["/account"])),
    ("/accounts", Pages(&["/accounts"])),
    ("/accounts/record", Pages(&["/accounts/record"])),
    ("/api", Pages(&["/api"])),
    ("/calculators", Pages(&["/calculators"])),
    (
        "/calculators/{key}",
        Pages(&[
            "/calculators/spline",
            "/calculators/spline_identification",
            "/calculators/fit",
            "/calculators/bolt_circle",
            "/calculators/bearing",
            "/calculators/stud",
        ]),
    ),
    ("/catalog", Pages(&["/catalog"])),
    ("/catalog/rereviews", Pages(&["/catalog/rereviews"])),
    // It needs a change that is waiting: crate::before_saving makes one.
    ("/catalog/effect/{id}", Pages(&[])),
    ("/catalog/add/{kind}", Pages(&["/catalog/add/bearings", "/catalog/add/mistakes"])),
    ("/catalog/change/{kind}/{row}", Pages(&["/catalog/change/bearings/35x72x17%20ball"])),
    ("/catalog/import/{kind}", Pages(&["/catalog/import/bearings"])),
    ("/catalog/export/{kind}", File),
    (
        "/catalog/{kind}",
        Pages(&[
            "/catalog/bearings",
            "/catalog/housing-ends",
            "/catalog/splines",
            "/catalog/bolt-circles",
            "/catalog/studs",
            "/catalog/brakes",
            "/catalog/differentials",
            "/catalog/steels",
            "/catalog/instruments",
            "/catalog/mistakes",
            "/catalog/measurands",
            "/catalog/inquiries",
            "/catalog/loads",
        ]),
    ),
    ("/catalog/{kind}/{row}", Pages(&["/catalog/bearings/35x72x17%20ball"])),
    ("/export", File),
    ("/first-run", Pages(&[])),
    ("/health", File),
    ("/metrics", File),
    ("/orders/import", Pages(&["/orders/import"])),
    ("/orders/new", Pages(&["/orders/new"])),
    ("/orders/{number}", Pages(&["/orders/1", "/orders/2", "/orders/5?questions=1"])),
    ("/orders/{number}/compare", Pages(&["/orders/3/compare?from=1&to=2", "/orders/3/compare?other=Q-0101"])),
    ("/orders/{number}/drawing/{file}", File),
    ("/orders/{number}/floor", Pages(&["/orders/1/floor", "/orders/2/floor"])),
    ("/orders/{number}/history", Pages(&["/orders/1/history", "/orders/3/history"])),
    ("/orders/{number}/messages", Pages(&["/orders/1/messages", "/orders/2/messages"])),
    ("/orders/{number}/papers", Pages(&["/orders/1/papers", "/orders/5/papers"])),
    ("/orders/{number}/papers/{paper}", File),
    ("/orders/{number}/photos/{photo}", Pages(&["/orders/1/photos/1"])),
    ("/orders/{number}/photos/{photo}/picture", File),
    ("/orders/{number}/photos/{photo}/thumbnail", File),
    ("/orders/{number}/review.json", File),
    ("/orders/{number}/second-entry", Pages(&["/orders/2/second-entry"])),
    ("/orders/{number}/solid/{file}", File),
    ("/orders/{number}/stress.svg", File),
    ("/settings", Pages(&["/settings"])),
    ("/settings/change/{section}", Pages(&["/settings/change/thresholds"])),
    ("/settings/letterhead", Pages(&["/settings/letterhead"])),
    ("/sign-in", Pages(&[])),
    ("/simulator", Pages(&["/simulator"])),
];

/// The pages of the door, which an open desk does not have: before anybody has an account, before and after signing in.
pub const FIRST_RUN: &str = "/first-run";
/// See [`FIRST_RUN`].
pub const SIGN_IN: &str = "/sign-in";
/// See [`FIRST_RUN`].
pub const SIGNED_IN: &[&str] = &["/", "/account", "/accounts", "/accounts/record", "/orders/2"];

/// Pages whose first link of a kind leads to another page that is to be looked at: page and where the link stands.
pub const FOLLOWED: &[(&str, &str)] = &[
    ("/catalog/housing-ends", "tbody th a"),
    ("/catalog/mistakes", "tbody th a"),
    ("/catalog/steels", "tbody th a"),
    ("/calculators/spline", "#outcome .examples a"),
    ("/calculators/spline_identification", "#outcome .examples a"),
    ("/calculators/fit", "#outcome .examples a"),
    ("/calculators/bolt_circle", "#outcome .examples a"),
    ("/calculators/bearing", "#outcome .examples a"),
    ("/calculators/stud", "#outcome .examples a"),
];

/// Addresses that are no page of their own but show one: refusals.
pub const REFUSALS: &[&str] = &["/no-such-page", "/?state=lost", "/orders/999999"];

/// Every address to look at.
pub fn all() -> impl Iterator<Item = &'static str> {
    let pages = PATHS.iter().filter_map(|(_, there)| match there {
        Pages(addresses) => Some(*addresses),
        File => None,
    });
    pages.flatten().chain(REFUSALS).copied()
}

/// What lies under `/api/v1/` is data.
#[tokio::test(flavor = "multi_thread")]
async fn every_page_of_the_desk_is_looked_at() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("orders.db").display().to_string();
    let desk = Desk::open(DeskOptions {
        book: Book::open(&place, Timestamp::now()).await.unwrap(),
        shop_folder: folder.path().to_owned(),
        clock: Arc::new(Timestamp::now),
        access: Access::Accounts { secure: false },
        behind: Vec::new(),
    })
    .await
    .unwrap();
    let registered: Vec<&str> = table(desk)
        .into_iter()
        .filter(|entry| entry.method == "GET")
        .map(|entry| entry.path)
        .filter(|path| !path.starts_with("/api/v1/"))
        .collect();
    let known: Vec<&str> = PATHS.iter().map(|(path, _)| *path).collect();
    let forgotten: Vec<&&str> = registered.iter().filter(|path| !known.contains(path)).collect();
    let gone: Vec<&&str> = known.iter().filter(|path| !registered.contains(path)).collect();
    assert!(forgotten.is_empty(), "nobody looks at {forgotten:?}: they need a row in PATHS");
    assert!(gone.is_empty(), "{gone:?} are no longer registered");
}
