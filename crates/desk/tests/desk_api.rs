//! The JSON interface: rules, roles and locking, the document that describes it, and hostile input.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
#![allow(missing_docs, reason = "the names of tests say what they are for")]

mod desk_under_test;

use std::collections::BTreeSet;

use axum::body::Body;
use axum::http::header::{CONTENT_TYPE, COOKIE};
use axum::http::{Method, Request, StatusCode};
use book::Role;
use serde_json::{Value, json};

use desk_under_test::{Answer, DeskUnderTest, demo, desk_with_accounts, open_desk};

async fn send(desk: &DeskUnderTest, session: Option<&str>, path: &str, body: &Value) -> Answer {
    let mut request = Request::post(path).header(CONTENT_TYPE, "application/json");
    if let Some(session) = session {
        request = request.header(COOKIE, format!("axlewright_session={session}"));
    }
    desk.ask(request.body(Body::from(body.to_string())).unwrap()).await
}

fn parsed(answer: &Answer) -> Value {
    serde_json::from_slice(&answer.bytes).unwrap()
}

#[tokio::test]
async fn the_document_and_the_registered_routes_name_the_same_operations() {
    let desk = open_desk().await;
    let document = parsed(&desk.get("/api/v1/openapi.json").await);
    assert_eq!(document["openapi"], "3.1.1");
    let mut described = BTreeSet::new();
    for (path, operations) in document["paths"].as_object().unwrap() {
        for (method, operation) in operations.as_object().unwrap() {
            described.insert((method.to_uppercase(), path.clone()));
            assert!(operation["operationId"].is_string() && operation["responses"].is_object(), "{path}");
        }
    }
    let registered: BTreeSet<(String, String)> = desk::table(desk.desk.clone())
        .into_iter()
        .filter(|entry| entry.path.starts_with("/api/"))
        .map(|entry| (entry.method.to_string(), entry.path.to_owned()))
        .collect();
    assert_eq!(described, registered);
    let page = desk.get("/api").await.text();
    assert!(registered.iter().all(|(_, path)| page.contains(path)));
}

#[tokio::test]
async fn every_reference_in_the_document_leads_somewhere() {
    fn references(value: &Value, found: &mut Vec<String>) {
        match value {
            Value::Object(members) => {
                found.extend(members.get("$ref").and_then(Value::as_str).map(str::to_owned));
                members.values().for_each(|member| references(member, found));
            }
            Value::Array(items) => items.iter().for_each(|item| references(item, found)),
            _ => {}
        }
    }
    let desk = open_desk().await;
    let document = parsed(&desk.get("/api/v1/openapi.json").await);
    let mut found = Vec::new();
    references(&document, &mut found);
    assert!(found.len() > 50);
    for reference in found {
        assert!(document.pointer(reference.strip_prefix('#').unwrap()).is_some(), "{reference}");
    }
}

#[tokio::test]
async fn an_order_is_placed_read_revised_moved_and_remembered() {
    let desk = open_desk().await;
    let sheet = demo("01-hay-truck");
    let new = json!({"sheet": sheet, "customer": "Tamsin Müller", "due": "2026-04-01"});
    let placed = send(&desk, None, "/api/v1/orders", &new).await;
    assert_eq!(placed.status, StatusCode::CREATED, "{}", placed.text());
    let number = parsed(&placed)["number"].as_i64().unwrap();
    let order = format!("/api/v1/orders/{number}");

    let read = parsed(&desk.get(&order).await);
    assert_eq!((&read["sheet"], &read["revision"], &read["due"]), (&json!(sheet), &json!(1), &json!("2026-04-01")));
    let moves: Vec<&str> = read["moves"].as_array().unwrap().iter().map(|one| one["to"].as_str().unwrap()).collect();
    assert!(moves.contains(&"questioned"));

    let change = json!({"seen_revision": 1, "reason": "named", "vehicle": "hay truck"});
    let revised = send(&desk, None, &format!("{order}/revisions"), &change).await;
    assert_eq!((revised.status, &parsed(&revised)["revision"]), (StatusCode::OK, &json!(2)), "{}", revised.text());
    let late = json!({"seen_revision": 1, "reason": "late", "vehicle": "another"});
    let refused = send(&desk, None, &format!("{order}/revisions"), &late).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert_eq!(refused.header("content-type"), "application/problem+json");
    assert!(
        parsed(&refused)["accepted"].as_str().unwrap().contains("Look at the newer revision"),
        "{}",
        refused.text()
    );
    assert_eq!(parsed(&desk.get(&order).await)["vehicle"], "hay truck");

    let asked = json!({"seen_revision": 2, "from": "received", "to": "questioned"});
    let moved = send(&desk, None, &format!("{order}/moves"), &asked).await;
    assert_eq!(parsed(&moved)["state"], "questioned", "{}", moved.text());
    assert_eq!(send(&desk, None, &format!("{order}/moves"), &asked).await.status, StatusCode::CONFLICT);

    let note = json!({"direction": "note", "words": "asked by telephone"});
    assert_eq!(send(&desk, None, &format!("{order}/messages"), &note).await.status, StatusCode::CREATED);
    assert_eq!(parsed(&desk.get(&format!("{order}/messages")).await)[0]["words"], "asked by telephone");
    let history = parsed(&desk.get(&format!("{order}/history")).await);
    assert_eq!(history["revisions"].as_array().unwrap().len(), 2);
    let found = parsed(&desk.get("/api/v1/orders?search=hay&state=questioned&at_most=5").await);
    assert_eq!(found["orders"][0]["number"], number);
    for empty in ["photos", "inspections"] {
        assert_eq!(parsed(&desk.get(&format!("{order}/{empty}")).await), json!([]));
    }
    assert_eq!(parsed(&desk.get("/api/v1/book/check").await)["sound"], true);
    assert_eq!(parsed(&desk.get("/api/v1/rereview").await)["waiting"], 0);
}

#[tokio::test]
async fn a_review_is_that_of_the_core_and_keeps_nothing() {
    let desk = open_desk().await;
    let sheet = demo("01-hay-truck");
    let sent = parsed(&send(&desk, None, "/api/v1/review", &json!({"sheet": sheet, "questions": true})).await);
    let catalog = desk_under_test::catalog().catalog();
    let read = axle::read_sheet("sheet", &sheet, catalog).unwrap();
    let expected = wire::review("sheet", &axle::review(&read, catalog).unwrap());
    assert_eq!(sent["review"], serde_json::to_value(expected).unwrap());
    assert_eq!(parsed(&desk.get("/api/v1/orders").await)["orders"], json!([]));
}

#[tokio::test]
async fn faults_of_a_sheet_are_placed() {
    let desk = open_desk().await;
    let answer = send(&desk, None, "/api/v1/review", &json!({"sheet": "[order]\nreference = 5\n"})).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    let problem = parsed(&answer);
    let faults = problem["faults"].as_array().unwrap();
    let placed = faults.iter().find(|fault| fault["offending"] == "5").unwrap();
    assert_eq!((&placed["line"], &placed["column"]), (&json!(2), &json!(13)));
    assert!(faults.iter().all(|fault| !fault["accepted"].as_str().unwrap().is_empty()));
}

#[tokio::test]
async fn roles_hold_for_programs_as_for_people() {
    let desk = desk_with_accounts().await;
    desk.place("01-hay-truck").await;
    assert_eq!(desk.get("/api/v1/orders").await.status, StatusCode::UNAUTHORIZED);
    for (role, may_read, may_place, may_check) in [
        (Role::Owner, true, true, true),
        (Role::Desk, true, true, false),
        (Role::Floor, true, false, false),
        (Role::ReadOnly, true, false, false),
    ] {
        let session = desk.sign_in(role).await;
        let read = desk.get_as(Some(&session), "/api/v1/orders").await;
        assert_eq!(read.status == StatusCode::OK, may_read, "{role}");
        let place = send(&desk, Some(&session), "/api/v1/orders", &json!({"sheet": ""})).await;
        assert_eq!(place.status == StatusCode::FORBIDDEN, !may_place, "{role}: {}", place.status);
        let check = desk.get_as(Some(&session), "/api/v1/book/check").await;
        assert_eq!(check.status == StatusCode::OK, may_check, "{role}");
        for answer in [place, check] {
            if answer.status != StatusCode::OK {
                assert_eq!(answer.header("content-type"), "application/problem+json", "{role}");
            }
        }
    }
}

#[tokio::test]
async fn hostile_requests_get_problems_and_break_nothing() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    let deep = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
    let large = json!({"sheet": "x".repeat(2 * 1024 * 1024)}).to_string();
    let bodies: [(&str, Vec<u8>); 9] = [
        ("application/json", deep.into_bytes()),
        ("application/json", large.into_bytes()),
        ("application/json", b"{\"sheet\": \"\xff\xfe\"}".to_vec()),
        ("application/json", b"{\"sheet\": 5}".to_vec()),
        ("application/json", b"{\"sheet\": \"\", \"unknown\": 1}".to_vec()),
        ("application/json", b"".to_vec()),
        ("application/json", b"{\"sheet\": \"reference = \\u0000\"}".to_vec()),
        ("text/plain", b"{}".to_vec()),
        ("application/x-www-form-urlencoded", b"sheet=1".to_vec()),
    ];
    for (kind, body) in bodies {
        for path in ["/api/v1/review", "/api/v1/orders", "/api/v1/orders/1/moves"] {
            let request = Request::post(path).header(CONTENT_TYPE, kind).body(Body::from(body.clone())).unwrap();
            let answer = desk.ask(request).await;
            assert!(answer.status.is_client_error(), "{path} {kind} {}: {}", body.len(), answer.status);
            assert_eq!(answer.header("content-type"), "application/problem+json", "{path} {kind} {}", body.len());
            assert!(parsed(&answer)["detail"].is_string());
        }
    }
    for path in [
        "/api/v1/orders/0",
        "/api/v1/orders/-1",
        "/api/v1/orders/99999999999999999999",
        "/api/v1/orders/NaN",
        "/api/v1/orders?at_most=0",
        "/api/v1/orders?at_most=99999999999999999999",
        "/api/v1/orders?from=x",
        "/api/v1/orders?state=lost",
        "/api/v1/orders?unknown=1",
        "/api/v1/catalog/nothing",
        "/api/v1/calculators/nothing",
        "/api/v1/calculators/spline?teeth=NaN",
        "/api/v1/calculators/spline?nothing=1",
        "/api/v1/nothing",
    ] {
        let answer = desk.get(path).await;
        assert!(answer.status.is_client_error(), "{path}: {}", answer.status);
        assert_eq!(answer.header("content-type"), "application/problem+json", "{path}");
    }
}

#[tokio::test]
async fn health_and_measures_say_how_the_desk_fares_and_nothing_of_anybody() {
    let desk = desk_with_accounts().await;
    desk.place("01-hay-truck").await;
    let health = desk.get("/health").await;
    assert_eq!((health.status, &parsed(&health)["status"]), (StatusCode::OK, &json!("well")));
    let session = desk.sign_in(Role::ReadOnly).await;
    desk.get_as(Some(&session), "/api/v1/orders/1").await;
    let measures = desk.get_as(Some(&session), "/metrics").await.text();
    assert!(measures.contains("axlewright_orders{state=\"received\"} 1"), "{measures}");
    assert!(
        measures.contains("_count{method=\"GET\",route=\"/api/v1/orders/{number}\",status=\"200\"} 1"),
        "{measures}"
    );
    assert!(!measures.contains("Tamsin") && !measures.contains("Kerra"));
    let mut elsewhere = Request::builder().method(Method::GET).uri("/metrics").body(Body::empty()).unwrap();
    elsewhere.headers_mut().insert("x-forwarded-for", "192.0.2.1".parse().unwrap());
    assert_eq!(desk.ask(elsewhere).await.status, StatusCode::FORBIDDEN);
    let mut rows = BTreeSet::new();
    for kind in parsed(&desk.get_as(Some(&session), "/api/v1/catalog").await)["kinds"].as_array().unwrap() {
        let path = format!("/api/v1/catalog/{}", kind["kind"].as_str().unwrap());
        let listed = parsed(&desk.get_as(Some(&session), &path).await);
        assert_eq!(listed.as_array().map(Vec::len), kind["rows"].as_u64().and_then(|rows| usize::try_from(rows).ok()));
        rows.insert(path);
    }
    assert_eq!(rows.len(), 13);
    let steels = parsed(&desk.get_as(Some(&session), "/api/v1/catalog/steels").await);
    assert_eq!(steels[0]["values"][2]["value"], "tensile_strength");
    let bearings = parsed(&desk.get_as(Some(&session), "/api/v1/catalog/bearings").await);
    let sizes: Vec<&str> =
        bearings[0]["sizes"].as_array().unwrap().iter().map(|one| one["size"].as_str().unwrap()).collect();
    for size in ["bore", "outer_width", "race_offset", "race_offset_deviation", "seat_interference_least"] {
        assert!(sizes.contains(&size), "{sizes:?}");
    }
}
