//! Requests to the desk, on every route that it has: whatever the body is, no page breaks down.

use std::sync::{Arc, OnceLock};

use axum::body::Body;
use axum::http::{Request, StatusCode};
use book::{Book, Details, MarkedCatalog, Person, ReviewedSheet, Role};
use catalog::Catalog;
use desk::{Access, Desk, DeskOptions};
use tempfile::TempDir;
use tokio::runtime::Runtime;
use tower::ServiceExt;

struct Opened {
    runtime: Runtime,
    desk: Desk,
    _folder: TempDir,
}

fn opened() -> &'static Opened {
    static OPENED: OnceLock<Opened> = OnceLock::new();
    OPENED.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        let shop_folder = folder.path().join("shop");
        std::fs::create_dir(&shop_folder).unwrap();
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
        let now: jiff::Timestamp = "2026-03-02T08:00:00Z".parse().unwrap();
        let place = folder.path().join("orders.db").display().to_string();
        let desk = runtime.block_on(async {
            let book = Book::open(&place, now).await.unwrap();
            let catalog = MarkedCatalog::new(Catalog::shipped().unwrap());
            let text = include_str!("../../../../demo/orders/01-hay-truck.toml");
            let reviewed = ReviewedSheet::read("sheet", text, &catalog).unwrap();
            book.place(&reviewed, &Details::default(), &Person::new("desk", Role::Desk), now).await.unwrap();
            let clock = Arc::new(move || now);
            Desk::open(DeskOptions { book, shop_folder, clock, access: Access::Open, behind: Vec::new() })
                .await
                .unwrap()
        });
        Opened { runtime, desk, _folder: folder }
    })
}

const BODIES: [&str; 4] = [
    "application/x-www-form-urlencoded",
    "application/json",
    "multipart/form-data; boundary=part",
    "text/plain; charset=utf-8",
];
/// What stands in a path where it varies.
const VARYING: [&str; 6] = ["1", "2", "0", "-7", "Q-0101", "%F0%9F%94%A9"];

/// The first byte chooses the route, the second the kind of body, the third what varies in the path; the rest is the body, or the
/// query of a page that is only looked at.
pub fn request(bytes: &[u8]) {
    let [route, kind, varying, rest @ ..] = bytes else { return };
    let Opened { runtime, desk, .. } = opened();
    let table = desk::table(desk.clone());
    let entry = &table[usize::from(*route) % table.len()];
    let with = VARYING[usize::from(*varying) % VARYING.len()];
    let path: Vec<&str> = entry.path.split('/').map(|part| if part.contains('{') { with } else { part }).collect();
    let mut address = path.join("/");
    let mut body = Vec::new();
    if entry.method == axum::http::Method::GET {
        let query: String = rest
            .iter()
            .map(|byte| {
                if byte.is_ascii_alphanumeric() || b"=&+%-._".contains(byte) {
                    char::from(*byte).to_string()
                } else {
                    format!("%{byte:02X}")
                }
            })
            .collect();
        address = format!("{address}?{query}");
    } else {
        body = rest.to_vec();
    }
    let request = Request::builder()
        .method(entry.method.clone())
        .uri(&address)
        .header("host", "localhost")
        .header("content-type", BODIES[usize::from(*kind) % BODIES.len()])
        .body(Body::from(body))
        .unwrap();
    let router = desk::router(desk.clone());
    let answer = runtime.block_on(async { router.oneshot(request).await.unwrap() });
    // A panic inside a page would come out as this.
    assert_ne!(answer.status(), StatusCode::INTERNAL_SERVER_ERROR, "{} {address}", entry.method);
}
