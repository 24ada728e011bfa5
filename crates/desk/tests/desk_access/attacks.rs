//! What people try who have no business here.

use axum::body::Body;
use axum::http::header::{CONTENT_TYPE, COOKIE, HOST, ORIGIN};
use axum::http::{Method, Request, StatusCode};
use book::{Details, MarkedCatalog, Person, ReviewedSheet, Role};
use desk::table;

use super::matrix::filled;
use crate::desk_under_test::{DeskUnderTest, PASSWORD, at, demo, desk_with_accounts, open_desk};

/// Every page of a desk that holds an order.
async fn pages(desk: &DeskUnderTest) -> Vec<String> {
    desk.place("01-hay-truck").await;
    let gets = table(desk.desk.clone()).into_iter().filter(|entry| entry.method == Method::GET);
    gets.map(|entry| filled(entry.path)).collect()
}

#[tokio::test]
async fn a_form_of_another_place_changes_nothing() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    let with_accounts = desk_with_accounts().await;
    let session = with_accounts.sign_in(Role::Owner).await;
    let before = (desk.book().latest_events(1).await.unwrap(), with_accounts.book().latest_events(1).await.unwrap());
    let foreign: [&[(&str, &str)]; 6] = [
        &[("sec-fetch-site", "cross-site")],
        &[("sec-fetch-site", "same-site")],
        &[("origin", "https://elsewhere.example")],
        &[("origin", "null")],
        &[("origin", "http://127.0.0.1:9999")],
        &[("sec-fetch-site", "cross-site"), ("origin", "http://127.0.0.1:8017")],
    ];
    let forms = table(desk.desk.clone()).into_iter().filter(|entry| entry.method != Method::GET);
    let mut tried = 0;
    for entry in forms {
        for headers in foreign {
            for (under_test, cookie) in [(&desk, ""), (&with_accounts, session.as_str())] {
                let mut request = Request::builder()
                    .method(entry.method.clone())
                    .uri(filled(entry.path))
                    .header(COOKIE, format!("axlewright_session={cookie}"))
                    .header(CONTENT_TYPE, "application/x-www-form-urlencoded");
                for (name, value) in headers {
                    request = request.header(*name, *value);
                }
                let answer = under_test.ask(request.body(Body::from("name=all&role=owner")).unwrap()).await;
                assert_eq!(answer.status, StatusCode::FORBIDDEN, "{} with {headers:?}", entry.path);
                tried += 1;
            }
        }
    }
    assert!(tried > 50);
    let after = (desk.book().latest_events(1).await.unwrap(), with_accounts.book().latest_events(1).await.unwrap());
    assert_eq!(before, after);
    // The same from a page of the desk goes through, whichever way the browser says so.
    for (name, value) in [("sec-fetch-site", "same-origin"), (ORIGIN.as_str(), "http://127.0.0.1:8017")] {
        let request =
            Request::post("/views").header(name, value).header(CONTENT_TYPE, "application/x-www-form-urlencoded");
        let answer = desk.ask(request.body(Body::from("name=all&search=hay")).unwrap()).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{name}");
    }
}

#[tokio::test]
async fn an_open_desk_answers_to_no_name_but_those_of_its_machine() {
    let desk = open_desk().await;
    let pages = pages(&desk).await;
    for host in [
        "elsewhere.example",
        "localhost.elsewhere.example:8017",
        "127.0.0.1.nip.example",
        "192.0.2.7:8017",
        "",
        ":8017",
    ] {
        for path in &pages {
            let request = Request::get(path).header(HOST, host).body(Body::empty()).unwrap();
            let answer = desk.ask(request).await;
            assert_eq!(answer.status, StatusCode::FORBIDDEN, "{path} as {host:?}");
            assert!(!answer.text().contains("Q-0101"), "{path} as {host:?}");
        }
    }
    for host in ["127.0.0.1:8017", "localhost", "localhost:1", "[::1]:8017"] {
        let request = Request::get("/").header(HOST, host).body(Body::empty()).unwrap();
        assert_eq!(desk.ask(request).await.status, StatusCode::OK, "{host}");
    }
}

#[tokio::test]
async fn every_answer_carries_the_policy_and_no_page_needs_an_exception_from_it() {
    let desk = open_desk().await;
    let mut paths = pages(&desk).await;
    paths.extend(["/nowhere".to_owned(), "/?state=lost".to_owned(), "/?from=x".to_owned()]);
    for path in paths {
        let answer = desk.ask(Request::get(&path).header("accept", "text/html").body(Body::empty()).unwrap()).await;
        let policy = answer.header("content-security-policy");
        let is_page = answer.header("content-type").starts_with("text/html");
        if !is_page && policy.contains("sandbox") {
            // A drawing has its styles with it. It is no page: nothing in it runs, and it reaches nothing of the desk.
            assert!(policy.starts_with("default-src 'none';"), "{path}: {policy}");
            assert!(!policy.contains("script") && !policy.contains("allow-"), "{path}: {policy}");
        } else {
            assert!(policy.starts_with("default-src 'none'; script-src 'self'; style-src 'self';"), "{path}: {policy}");
            assert!(!policy.contains("unsafe"), "{path}: {policy}");
            assert!(policy.contains("frame-ancestors 'none'") && policy.contains("base-uri 'none'"), "{path}");
        }
        for (name, value) in [
            ("x-content-type-options", "nosniff"),
            ("x-frame-options", "DENY"),
            ("referrer-policy", "same-origin"),
            ("cross-origin-opener-policy", "same-origin"),
            ("cross-origin-resource-policy", "same-origin"),
        ] {
            assert_eq!(answer.header(name), value, "{path}: {name}");
        }
        if is_page {
            let page = answer.text();
            assert!(page.starts_with("<!DOCTYPE html>"), "{path}");
            assert_eq!(needs_an_exception(&page), None, "{path}");
        }
    }
}

/// The first tag of a page that its own policy would block.
fn needs_an_exception(page: &str) -> Option<String> {
    page.split('<').skip(1).map(|rest| rest.split('>').next().unwrap_or_default()).find_map(|tag| {
        let inline_script = tag.starts_with("script") && !tag.contains("src=");
        // Attributes stand behind a blank; what stands between quotes is a value.
        let outside: String = tag.split('"').step_by(2).collect();
        let blocked = outside.split_whitespace().skip(1).any(|attribute| {
            attribute.starts_with("style=") || (attribute.starts_with("on") && attribute.ends_with('='))
        });
        (inline_script || blocked || tag.starts_with("style")).then(|| tag.to_owned())
    })
}

#[tokio::test]
async fn what_stands_in_an_address_never_becomes_part_of_a_page_or_a_statement() {
    let desk = open_desk().await;
    let pages = pages(&desk).await;
    let payloads = [
        "%22%3E%3Cscript%3Ealert(1)%3C/script%3E",
        "%27%22%3E%3Cimg%20src=x%20onerror=alert(1)%3E",
        "%27%20OR%201=1%20--",
        "%27;DROP%20TABLE%20orders;--",
        "%25_%25",
        "%00",
        "%FF%FE",
        "..%2F..%2Fetc%2Fpasswd",
        "$%7B7*7%7D",
        "-9223372036854775808",
        "99999999999999999999",
    ];
    let fields =
        ["search", "state", "verdict", "sort", "from", "back", "name", "side", "view", "format", "revision", "q"];
    for path in pages {
        for payload in payloads {
            let query: Vec<String> = fields.iter().map(|field| format!("{field}={payload}")).collect();
            let request = Request::get(format!("{path}?{}", query.join("&"))).body(Body::empty()).unwrap();
            let (status, _, text) = desk.ask_briefly(request).await;
            assert!(!status.is_server_error(), "{path} {payload}: {status} {text}");
            assert!(!text.contains("<script>alert") && !text.contains("<img src=x"), "{path} {payload}: {text}");
            assert!(!text.contains("root:x:0:"), "{path} {payload}");
            if text.starts_with("<!DOCTYPE html>") {
                assert_eq!(needs_an_exception(&text), None, "{path} {payload}");
            }
        }
        for field in fields {
            for payload in payloads {
                let request = Request::get(format!("{path}?{field}={payload}")).body(Body::empty()).unwrap();
                let (status, _, text) = desk.ask_briefly(request).await;
                assert!(!status.is_server_error(), "{path} {field} {payload}: {status} {text}");
            }
            if path != "/" {
                break;
            }
        }
    }
    assert_eq!(desk.book().count_by_state().await.unwrap().iter().map(|(_, count)| count).sum::<i64>(), 1);
}

#[tokio::test]
async fn what_people_wrote_is_shown_as_they_wrote_it_and_does_nothing() {
    let desk = open_desk().await;
    let nasty = "\"><script>alert(1)</script><img src=x onerror=alert(1)>";
    let sheet = demo("01-hay-truck").replace("stout housing, drums, from the hay truck", "'><script>alert(2)</script>");
    let catalog = MarkedCatalog::new(catalog::Catalog::shipped().unwrap());
    let reviewed = ReviewedSheet::read("sheet", &sheet, &catalog).unwrap();
    let details =
        Details { customer: nasty.to_owned(), contact: nasty.to_owned(), vehicle: nasty.to_owned(), due: None };
    let who = Person::new(nasty, Role::Desk);
    let line = desk.book().place(&reviewed, &details, &who, at(1)).await.unwrap();
    desk.book().write_message(line.number, book::Direction::Note, nasty, &who, at(2)).await.unwrap();
    for path in
        table(desk.desk.clone()).iter().filter(|entry| entry.method == Method::GET).map(|entry| filled(entry.path))
    {
        let (status, _, text) = desk.ask_briefly(Request::get(&path).body(Body::empty()).unwrap()).await;
        assert!(!status.is_server_error(), "{path}: {status} {text}");
        if text.starts_with("<!DOCTYPE html>") {
            assert!(!text.contains("<script>alert") && !text.contains("<img src=x"), "{path}: {text}");
        }
    }
    assert!(desk.get("/").await.text().contains("&lt;script&gt;alert(1)"));
}

#[tokio::test]
async fn no_path_leads_out_of_the_desk() {
    let desk = open_desk().await;
    for path in [
        "/assets/x/..%2f..%2fCargo.toml",
        "/assets/..%2f..%2fsrc/desk.rs",
        "/assets/x/%2e%2e%2f%2e%2e%2fetc%2fpasswd",
        "/assets/x//etc/passwd",
        "/assets/../../../../etc/passwd",
        "/..%5c..%5cwindows%5cwin.ini",
        "/orders/..%2f..%2f1",
        "/orders/1%2f..%2f..%2faccounts",
        "//etc/passwd",
        "/.git/config",
        "/shop/shop.toml",
        "/orders.db",
    ] {
        let answer = desk.get(path).await;
        assert!(answer.status.is_client_error(), "{path}: {}", answer.status);
        let text = answer.text();
        assert!(
            !text.contains("root:x:0:") && !text.contains("[package]") && !text.contains("SQLite format"),
            "{path}"
        );
    }
}

#[tokio::test]
async fn the_way_back_after_signing_in_leads_nowhere_else() {
    let desk = desk_with_accounts().await;
    for back in [
        "//elsewhere.example",
        "/\\elsewhere.example",
        "https://elsewhere.example/",
        "/\r\nset-cookie: planted=1",
        "\r\nlocation: https://elsewhere.example",
        "javascript:alert(1)",
    ] {
        let fields = [("name", "Morwen Ostrey"), ("password", PASSWORD), ("back", back)];
        let answer = desk.post("/sign-in", &fields).await;
        assert_eq!((answer.status, answer.header("location")), (StatusCode::SEE_OTHER, "/"), "{back:?}");
        assert_eq!(answer.headers.get_all("set-cookie").iter().count(), 1, "{back:?}");
    }
    let page = desk.get("/sign-in?back=%22%3E%3Cscript%3Ealert(1)%3C/script%3E").await;
    assert!(page.text().contains("name=\"back\" value=\"/\""), "{}", page.text());
}

#[tokio::test]
async fn what_is_too_long_is_refused_before_it_is_read() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    let before = desk.book().latest_events(1).await.unwrap();
    let forms: Vec<_> = table(desk.desk.clone()).into_iter().filter(|entry| entry.method == Method::POST).collect();
    let long = vec![b'a'; 64 * 1024 * 1024];
    for entry in &forms {
        for kind in
            ["application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "application/json", "text/csv"]
        {
            let request =
                Request::post(filled(entry.path)).header(CONTENT_TYPE, kind).header("sec-fetch-site", "same-origin");
            let (status, location, text) = desk.ask_briefly(request.body(Body::from(long.clone())).unwrap()).await;
            // A form that reads no body, such as the one that signs out, does not mind.
            let unread = status == StatusCode::SEE_OTHER && !location.is_empty();
            assert!(status.is_client_error() || unread, "{} as {kind}: {status} {text}", entry.path);
        }
    }
    assert_eq!(desk.book().latest_events(1).await.unwrap(), before);
    let many: String = (0..100_000).map(|number| format!("f{number}=1&")).collect();
    let request = Request::post("/views").header(CONTENT_TYPE, "application/x-www-form-urlencoded");
    let answer = desk.ask(request.body(Body::from(many)).unwrap()).await;
    assert!(answer.status.is_client_error(), "{}", answer.status);
}
