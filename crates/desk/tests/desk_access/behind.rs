//! A desk behind another server, which asks for everybody and says for whom.

use axum::body::Body;
use axum::http::header::CONTENT_TYPE;
use axum::http::{Request, StatusCode};
use book::Role;
use desk::Access;

use crate::desk_under_test::{Answer, DeskUnderTest, PASSWORD, at, behind, desk_with_accounts, form, name_of};

/// Somebody signs in; the server that asks for them says so.
async fn sign_in(desk: &DeskUnderTest, forwarded_for: &str, password: &str) -> Answer {
    let request = Request::post("/sign-in")
        .header(CONTENT_TYPE, "application/x-www-form-urlencoded")
        .header("sec-fetch-site", "same-origin")
        .header("x-forwarded-for", forwarded_for);
    let fields = form(&[("name", name_of(Role::Owner)), ("password", password)]);
    desk.ask(request.body(Body::from(fields)).unwrap()).await
}

/// From where the attempts to sign in came, the latest first.
async fn addresses(desk: &DeskUnderTest) -> Vec<String> {
    let owner = desk.book().accounts().await.unwrap().remove(0).person();
    desk.book().sign_ins(99, &owner).await.unwrap().into_iter().map(|one| one.address).collect()
}

#[tokio::test]
async fn everybody_is_known_by_their_own_address_and_guesses_for_themselves_alone() {
    let desk = behind(Access::Accounts { secure: true }, vec!["127.0.0.1".parse().unwrap()]).await;
    desk.book().make_owner(name_of(Role::Owner), PASSWORD, at(0)).await.unwrap();
    // Whoever guesses writes another address into the header each time; the server adds the true one.
    for guess in 0..5 {
        let refused = sign_in(&desk, &format!("198.51.100.{guess}, 192.0.2.7"), "not the password").await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    }
    let waits = sign_in(&desk, "198.51.100.77, 192.0.2.7", PASSWORD).await;
    assert_eq!(waits.status, StatusCode::TOO_MANY_REQUESTS, "{}", waits.text());
    assert_eq!(addresses(&desk).await, ["192.0.2.7"; 5]);
    // Nobody else waits for it, and the cookie goes over TLS alone.
    let right = sign_in(&desk, "203.0.113.9", PASSWORD).await;
    assert_eq!(right.status, StatusCode::SEE_OTHER);
    let cookie = right.header("set-cookie");
    assert!(cookie.starts_with("__Host-axlewright_session=") && cookie.contains("; Secure"), "{cookie}");
    assert_eq!(right.header("strict-transport-security"), "max-age=31536000");
    assert_eq!(addresses(&desk).await[0], "203.0.113.9");
}

#[tokio::test]
async fn a_desk_that_was_told_of_no_server_believes_none() {
    let desk = desk_with_accounts().await;
    sign_in(&desk, "192.0.2.7", "not the password").await;
    assert_eq!(addresses(&desk).await, ["127.0.0.1"]);
}
