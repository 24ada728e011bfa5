//! A desk on a book of its own, asked as a browser asks it but without a network in between.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]
#![allow(dead_code, reason = "every test file uses its own part of it")]

use std::net::{IpAddr, SocketAddr};
use std::sync::{Arc, OnceLock};

use axum::Router;
use axum::body::Body;
use axum::extract::ConnectInfo;
use axum::http::header::{CONTENT_TYPE, COOKIE, HOST};
use axum::http::{HeaderMap, Request, StatusCode};
use book::{Book, Details, MarkedCatalog, OrderLine, Person, ReviewedSheet, Role};
use catalog::Catalog;
use desk::{Access, Desk, DeskOptions};
use http_body_util::BodyExt;
use jiff::{SignedDuration, Timestamp};
use tempfile::TempDir;
use tower::ServiceExt;

/// The password of every account.
pub const PASSWORD: &str = "weir yard at dawn";

/// A desk on a temporary book.
pub struct DeskUnderTest {
    /// The desk.
    pub desk: Desk,
    /// Its pages.
    pub router: Router,
    /// The shop's folder lies in it, and the book.
    pub folder: TempDir,
}

/// What came back.
#[derive(Debug)]
pub struct Answer {
    pub status: StatusCode,
    pub headers: HeaderMap,
    pub bytes: Vec<u8>,
}

impl Answer {
    /// The answer as text.
    pub fn text(&self) -> String {
        String::from_utf8_lossy(&self.bytes).into_owned()
    }

    /// The text of a header; nothing where it is not there.
    pub fn header(&self, name: &str) -> &str {
        self.headers.get(name).map_or("", |value| value.to_str().unwrap())
    }

    /// The value that the answer sets a session's cookie to.
    pub fn session(&self) -> Option<String> {
        let cookie = self.headers.get("set-cookie")?.to_str().unwrap();
        let pair = cookie.split(';').next()?;
        pair.split_once('=').map(|(_, value)| value.to_owned()).filter(|value| !value.is_empty())
    }
}

/// An open desk: everybody is its owner.
pub async fn open_desk() -> DeskUnderTest {
    with_access(Access::Open).await
}

/// A desk with an account of each role, by names such as `Owner of the desk`. See [`sign_in`].
pub async fn desk_with_accounts() -> DeskUnderTest {
    let made = with_access(Access::Accounts { secure: false }).await;
    let book = made.desk.book();
    let owner = book.make_owner(name_of(Role::Owner), PASSWORD, at(0)).await.unwrap().person();
    for role in [Role::Desk, Role::Floor, Role::ReadOnly] {
        book.make_account(name_of(role), PASSWORD, role, &owner, at(0)).await.unwrap();
    }
    made
}

/// A desk where nobody has an account yet.
pub async fn with_access(access: Access) -> DeskUnderTest {
    behind(access, Vec::new()).await
}

/// The same behind servers that ask for others.
pub async fn behind(access: Access, servers: Vec<IpAddr>) -> DeskUnderTest {
    let folder = tempfile::tempdir().unwrap();
    let shop_folder = folder.path().join("shop");
    std::fs::create_dir(&shop_folder).unwrap();
    let place = folder.path().join("orders.db").display().to_string();
    let book = Book::open(&place, at(0)).await.unwrap();
    let options = DeskOptions { book, shop_folder, clock: Arc::new(|| at(60)), access, behind: servers };
    let desk = Desk::open(options).await.unwrap();
    DeskUnderTest { router: desk::router(desk.clone()), desk, folder }
}

/// The name of the account with a role.
pub fn name_of(role: Role) -> &'static str {
    match role {
        Role::Owner => "Morwen Ostrey",
        Role::Desk => "Wenna Tarrow",
        Role::Floor => "Jory Pell",
        Role::ReadOnly => "Kerra Lanyon",
    }
}

/// So many minutes after a Monday morning. The desk's clock stands at 60.
pub fn at(minutes: i64) -> Timestamp {
    "2026-03-02T08:00:00Z".parse::<Timestamp>().unwrap() + SignedDuration::from_mins(minutes)
}

/// The shipped catalog.
pub fn catalog() -> &'static MarkedCatalog {
    static CATALOG: OnceLock<MarkedCatalog> = OnceLock::new();
    CATALOG.get_or_init(|| MarkedCatalog::new(Catalog::shipped().unwrap()))
}

/// An order of the demo as it is written, by the name of its file such as `01-hay-truck`.
pub fn demo(name: &str) -> String {
    let path = format!("{}/../../demo/orders/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

/// The body of a form.
pub fn form(fields: &[(&str, &str)]) -> String {
    let encoded = |text: &str| -> String {
        text.bytes()
            .map(
                |byte| {
                    if byte.is_ascii_alphanumeric() { char::from(byte).to_string() } else { format!("%{byte:02X}") }
                },
            )
            .collect()
    };
    let pairs: Vec<String> =
        fields.iter().map(|(name, value)| format!("{}={}", encoded(name), encoded(value))).collect();
    pairs.join("&")
}

impl DeskUnderTest {
    /// The order book.
    pub fn book(&self) -> &Book {
        self.desk.book()
    }

    /// Takes an order of the demo in.
    pub async fn place(&self, name: &str) -> OrderLine {
        self.place_sheet(&demo(name)).await
    }

    /// Takes a sheet in.
    pub async fn place_sheet(&self, text: &str) -> OrderLine {
        let reviewed = ReviewedSheet::read("sheet", text, catalog()).unwrap();
        let details = Details {
            customer: "Tamsin Müller".to_owned(),
            contact: "at the weir".to_owned(),
            vehicle: "hay truck".to_owned(),
            due: Some(jiff::civil::date(2026, 4, 1)),
        };
        self.book().place(&reviewed, &details, &Person::new("Wenna Tarrow", Role::Desk), at(1)).await.unwrap()
    }

    /// Writes a second revision in which one text of the sheet is another.
    pub async fn revise(&self, line: &OrderLine, from: &str, to: &str) {
        let order = self.book().order(line.number).await.unwrap();
        assert!(order.sheet.contains(from));
        let fresh = ReviewedSheet::read("sheet", &order.sheet.replacen(from, to, 1), catalog()).unwrap();
        let (details, wenna) = (order.line.details.clone(), Person::new("Wenna Tarrow", Role::Desk));
        self.book().revise(line.number, 1, &fresh, &details, "read again", &wenna, at(5)).await.unwrap();
    }

    /// Asks for a page.
    pub async fn get(&self, path: &str) -> Answer {
        self.get_as(None, path).await
    }

    /// Asks for a page with the cookie of a session.
    pub async fn get_as(&self, session: Option<&str>, path: &str) -> Answer {
        self.ask(with_session(Request::get(path), session).body(Body::empty()).unwrap()).await
    }

    /// Sends a form.
    pub async fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        self.post_as(None, path, fields).await
    }

    /// Sends a form with the cookie of a session.
    pub async fn post_as(&self, session: Option<&str>, path: &str, fields: &[(&str, &str)]) -> Answer {
        let request = with_session(Request::post(path), session)
            .header(CONTENT_TYPE, "application/x-www-form-urlencoded")
            .header("sec-fetch-site", "same-origin");
        self.ask(request.body(Body::from(form(fields))).unwrap()).await
    }

    /// Begins a session of the account with a role.
    pub async fn sign_in(&self, role: Role) -> String {
        self.book().sign_in(name_of(role), PASSWORD, "127.0.0.1", at(59)).await.unwrap().token
    }

    /// Asks for anything. A request without a host asks `127.0.0.1:8017`.
    pub async fn ask(&self, mut request: Request<Body>) -> Answer {
        request.headers_mut().entry(HOST).or_insert("127.0.0.1:8017".parse().unwrap());
        request.extensions_mut().insert(ConnectInfo(SocketAddr::from(([127, 0, 0, 1], 40_000))));
        let response = self.router.clone().oneshot(request).await.unwrap();
        let (parts, body) = response.into_parts();
        let bytes = body.collect().await.unwrap().to_bytes().to_vec();
        Answer { status: parts.status, headers: parts.headers, bytes }
    }
}

impl DeskUnderTest {
    /// Asks for something that may never end, such as a stream of events: status, where it leads to, and what came at once.
    pub async fn ask_briefly(&self, mut request: Request<Body>) -> (StatusCode, String, String) {
        request.headers_mut().entry(HOST).or_insert("127.0.0.1:8017".parse().unwrap());
        request.extensions_mut().insert(ConnectInfo(SocketAddr::from(([127, 0, 0, 1], 40_000))));
        let response = self.router.clone().oneshot(request).await.unwrap();
        let (parts, body) = response.into_parts();
        let is_stream =
            parts.headers.get(CONTENT_TYPE).is_some_and(|kind| kind.as_bytes().starts_with(b"text/event-stream"));
        let bytes = if is_stream { Default::default() } else { body.collect().await.unwrap().to_bytes() };
        let location = parts.headers.get("location").map_or("", |value| value.to_str().unwrap()).to_owned();
        (parts.status, location, String::from_utf8_lossy(&bytes).into_owned())
    }
}

fn with_session(request: axum::http::request::Builder, session: Option<&str>) -> axum::http::request::Builder {
    match session {
        Some(token) => request.header(COOKIE, format!("axlewright_session={token}")),
        None => request,
    }
}
