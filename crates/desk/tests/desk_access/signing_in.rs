//! Signing in and out, the first run, accounts and tokens, as a browser does it.

use axum::body::Body;
use axum::http::header::COOKIE;
use axum::http::{Request, StatusCode};
use book::{Role, SignInOutcome};
use desk::Access;

use crate::desk_under_test::{PASSWORD, at, desk_with_accounts, form, name_of, open_desk, with_access};

#[tokio::test]
async fn an_open_desk_shows_its_orders() {
    let desk = open_desk().await;
    desk.place("01-hay-truck").await;
    let page = desk.get("/").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text().contains("Q-0101"), "{}", page.text());
    assert_eq!(desk.get("/sign-in").await.header("location"), "/");
    // It has no accounts, so that it stays open.
    let refused = desk.post("/accounts", &[("name", "Wenna"), ("role", "desk"), ("password", PASSWORD)]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(desk.book().accounts().await.unwrap().len(), 1);
}

#[tokio::test]
async fn one_signs_in_is_led_back_and_signs_out() {
    let desk = desk_with_accounts().await;
    desk.place("01-hay-truck").await;
    let page = desk.get("/?search=hay").await;
    assert_eq!((page.status, page.header("location")), (StatusCode::SEE_OTHER, "/sign-in?back=/%3Fsearch%3Dhay"));
    let form = desk.get(page.header("location")).await;
    assert!(form.text().contains("name=\"back\" value=\"/?search=hay\""), "{}", form.text());

    let wrong = desk.post("/sign-in", &[("name", "Morwen Ostrey"), ("password", "weir yard at dusk")]).await;
    assert_eq!((wrong.status, wrong.session()), (StatusCode::UNPROCESSABLE_ENTITY, None));
    assert!(wrong.text().contains("The name or the password is wrong"), "{}", wrong.text());
    assert!(wrong.text().contains("value=\"Morwen Ostrey\"") && !wrong.text().contains("dusk"), "{}", wrong.text());

    let fields = [("name", "morwen ostrey"), ("password", PASSWORD), ("back", "/?search=hay")];
    let right = desk.post("/sign-in", &fields).await;
    assert_eq!((right.status, right.header("location")), (StatusCode::SEE_OTHER, "/?search=hay"));
    let session = right.session().unwrap();
    let list = desk.get_as(Some(&session), "/").await.text();
    assert!(list.contains("Q-0101") && list.contains("Morwen Ostrey"), "{list}");

    let out = desk.post_as(Some(&session), "/sign-out", &[]).await;
    assert_eq!((out.status, out.session()), (StatusCode::SEE_OTHER, None));
    assert!(out.header("set-cookie").contains("Max-Age=0"), "{}", out.header("set-cookie"));
    assert_eq!(desk.get_as(Some(&session), "/").await.status, StatusCode::SEE_OTHER);
    let owner = desk.book().accounts().await.unwrap().remove(0).person();
    let outcomes: Vec<SignInOutcome> =
        desk.book().sign_ins(9, &owner).await.unwrap().into_iter().map(|one| one.outcome).collect();
    assert_eq!(outcomes, [SignInOutcome::SignedOut, SignInOutcome::SignedIn, SignInOutcome::Wrong]);
}

#[tokio::test]
async fn a_session_is_kept_in_a_cookie_that_scripts_and_other_places_cannot_have() {
    let desk = desk_with_accounts().await;
    let fields = [("name", "Morwen Ostrey"), ("password", PASSWORD)];
    let cookie = desk.post("/sign-in", &fields).await.header("set-cookie").to_owned();
    let parts: Vec<&str> = cookie.split("; ").collect();
    assert!(parts[0].starts_with("axlewright_session=") && parts[0].len() == 19 + 64, "{cookie}");
    assert_eq!(parts[1..], ["Path=/", "HttpOnly", "SameSite=Lax", "Max-Age=604800"]);

    let desk = with_access(Access::Accounts { secure: true }).await;
    desk.book().make_owner("Morwen Ostrey", PASSWORD, at(0)).await.unwrap();
    let answer = desk.post("/sign-in", &fields).await;
    let cookie = answer.header("set-cookie");
    let parts: Vec<&str> = cookie.split("; ").collect();
    assert!(parts[0].starts_with("__Host-axlewright_session="), "{cookie}");
    assert_eq!(parts[1..], ["Path=/", "HttpOnly", "SameSite=Lax", "Max-Age=604800", "Secure"]);
    assert_eq!(answer.header("strict-transport-security"), "max-age=31536000");
    // The plain cookie, which anybody on the way could plant, is not even looked at.
    let session = answer.session().unwrap();
    assert_eq!(desk.get_as(Some(&session), "/").await.status, StatusCode::SEE_OTHER);
    let request = Request::get("/").header(COOKIE, format!("__Host-axlewright_session={session}"));
    assert_eq!(desk.ask(request.body(Body::empty()).unwrap()).await.status, StatusCode::OK);
}

#[tokio::test]
async fn a_session_that_was_planted_is_worth_nothing_and_an_old_one_ends() {
    let desk = desk_with_accounts().await;
    let fields = [("name", "Morwen Ostrey"), ("password", PASSWORD)];
    let planted = "5".repeat(64);
    let session = desk.post_as(Some(&planted), "/sign-in", &fields).await.session().unwrap();
    assert_ne!(session, planted);
    assert_eq!(desk.get_as(Some(&planted), "/").await.status, StatusCode::SEE_OTHER);
    let second = desk.post_as(Some(&session), "/sign-in", &fields).await.session().unwrap();
    assert_eq!(desk.get_as(Some(&session), "/").await.status, StatusCode::SEE_OTHER);
    assert_eq!(desk.get_as(Some(&second), "/").await.status, StatusCode::OK);
    // Another password ends every other session.
    let elsewhere = desk.sign_in(Role::Owner).await;
    let fields = [("current", PASSWORD), ("password", "another long word"), ("again", "another long word")];
    let changed = desk.post_as(Some(&second), "/account/password", &fields).await;
    let third = changed.session().unwrap();
    for (token, status) in
        [(&second, StatusCode::SEE_OTHER), (&elsewhere, StatusCode::SEE_OTHER), (&third, StatusCode::OK)]
    {
        assert_eq!(desk.get_as(Some(token), "/").await.status, status);
    }
}

#[tokio::test]
async fn wrong_passwords_wait_for_the_name_and_for_the_address() {
    let desk = desk_with_accounts().await;
    let mut statuses = Vec::new();
    for _ in 0..6 {
        let answer = desk.post("/sign-in", &[("name", "Nobody Here"), ("password", "weir yard at dusk")]).await;
        statuses.push(answer.status.as_u16());
    }
    assert_eq!(statuses, [422, 422, 422, 422, 422, 429]);
    // The right password waits like every other, and the browser hears how long.
    let answer = desk.post("/sign-in", &[("name", "Morwen Ostrey"), ("password", PASSWORD)]).await;
    assert_eq!((answer.status, answer.header("retry-after")), (StatusCode::TOO_MANY_REQUESTS, "1"));
    assert!(answer.text().contains("Try again in 1 s."), "{}", answer.text());
}

#[tokio::test]
async fn the_first_run_makes_the_owner_for_whoever_has_the_code() {
    let desk = with_access(Access::Accounts { secure: false }).await;
    assert_eq!(desk.get("/").await.header("location"), "/sign-in?back=/");
    assert_eq!(desk.get("/sign-in").await.header("location"), "/first-run");
    let code = desk.desk.first_run_code().unwrap().to_owned();
    assert!(!desk.get("/first-run").await.text().contains(&code));
    let send = async |code: &str, password: &str, again: &str| {
        let fields = [("code", code), ("name", "Morwen Ostrey"), ("password", password), ("again", again)];
        desk.post("/first-run", &fields).await
    };
    for (answer, fault) in [
        (send("abcd-efgh-jkmn-pqrs", PASSWORD, PASSWORD).await, "That is not the code"),
        (send("", PASSWORD, PASSWORD).await, "That is not the code"),
        (send(&code, PASSWORD, "weir yard at dusk").await, "The two passwords differ"),
        (send(&code, "short", "short").await, "Accepted: at least 10 characters"),
    ] {
        assert_eq!((answer.status, answer.session()), (StatusCode::UNPROCESSABLE_ENTITY, None), "{fault}");
        assert!(answer.text().contains(fault), "{}", answer.text());
        assert!(answer.text().contains("value=\"Morwen Ostrey\""), "what was entered is still there");
    }
    assert!(desk.book().is_first_run().await.unwrap());
    let made = send(&code.to_uppercase(), PASSWORD, PASSWORD).await;
    let session = made.session().unwrap();
    assert_eq!(desk.get_as(Some(&session), "/accounts").await.status, StatusCode::OK);
    // The code is worth nothing from then on.
    let again = send(&code, PASSWORD, PASSWORD).await;
    assert_eq!((again.header("location"), again.session()), ("/sign-in", None));
    assert_eq!(desk.book().accounts().await.unwrap().len(), 1);
}

#[tokio::test]
async fn the_owner_makes_accounts_and_changes_them() {
    let desk = desk_with_accounts().await;
    let owner = desk.sign_in(Role::Owner).await;
    let post = async |path: &str, fields: &[(&str, &str)]| desk.post_as(Some(&owner), path, fields).await;
    let made = post("/accounts", &[("name", "Derwa Nance"), ("role", "floor"), ("password", PASSWORD)]).await;
    assert_eq!((made.status, made.header("location")), (StatusCode::SEE_OTHER, "/accounts"));
    let number = desk.book().accounts().await.unwrap().last().unwrap().number;
    let taken = post("/accounts", &[("name", "derwa NANCE"), ("role", "desk"), ("password", PASSWORD)]).await;
    assert_eq!(taken.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(taken.text().contains("There is an account derwa NANCE already"), "{}", taken.text());
    assert!(taken.text().contains("value=\"derwa NANCE\""));
    assert_eq!(
        post("/accounts", &[("name", "A"), ("role", "king"), ("password", PASSWORD)]).await.status,
        StatusCode::UNPROCESSABLE_ENTITY
    );

    let session = desk.book().sign_in("Derwa Nance", PASSWORD, "::1", at(58)).await.unwrap().token;
    assert_eq!(desk.get_as(Some(&session), "/accounts").await.status, StatusCode::FORBIDDEN);
    post(&format!("/accounts/{number}"), &[("role", "floor")]).await;
    assert_eq!(desk.get_as(Some(&session), "/").await.status, StatusCode::SEE_OTHER);
    let refused = desk.post("/sign-in", &[("name", "Derwa Nance"), ("password", PASSWORD)]).await;
    assert!(refused.text().contains("This account may not sign in"), "{}", refused.text());
    post(&format!("/accounts/{number}"), &[("role", "owner"), ("active", "yes")]).await;
    let set = post(&format!("/accounts/{number}/password"), &[("password", "another long word")]).await;
    assert!(set.text().contains("The password is set"), "{}", set.text());
    assert_eq!(desk.post("/sign-in", &[("name", "Derwa Nance"), ("password", PASSWORD)]).await.status.as_u16(), 422);
    let session =
        desk.post("/sign-in", &[("name", "Derwa Nance"), ("password", "another long word")]).await.session().unwrap();
    // The record shows all of it, and no password.
    let record = desk.get_as(Some(&session), "/accounts/record").await.text();
    for words in ["inactive account", "wrong name or password", "signed in", "account made", "account changed"] {
        assert!(record.contains(words), "{words}: {record}");
    }
    assert!(!record.contains(PASSWORD) && !record.contains("another long word") && !record.contains("argon2"));
    // One owner stays.
    post(&format!("/accounts/{number}"), &[("role", "desk"), ("active", "yes")]).await;
    let last = post("/accounts/1", &[("role", "desk"), ("active", "yes")]).await;
    assert!(last.text().contains("No owner would be left"), "{}", last.text());
    assert_eq!(desk.book().accounts().await.unwrap()[0].role, Role::Owner);
    assert_eq!(name_of(Role::Owner), desk.book().accounts().await.unwrap()[0].name);
}

#[tokio::test]
async fn a_token_is_shown_once_and_revoked_for_good() {
    let desk = desk_with_accounts().await;
    let owner = desk.sign_in(Role::Owner).await;
    let page = desk.post_as(Some(&owner), "/tokens", &[("name", "accounts"), ("role", "read-only")]).await;
    assert_eq!((page.status, page.header("cache-control")), (StatusCode::OK, "no-store"));
    let text = page.text();
    let from = text.find("axle_").unwrap();
    let secret = text[from..].split('<').next().unwrap().to_owned();
    assert_eq!(secret.len(), 5 + 64, "{secret}");
    assert!(!desk.get_as(Some(&owner), "/accounts").await.text().contains("axle_"));
    let ask = async |path: &str| {
        let request = Request::get(path).header("authorization", format!("Bearer {secret}"));
        desk.ask(request.body(Body::empty()).unwrap()).await.status
    };
    assert_eq!((ask("/").await, ask("/accounts").await), (StatusCode::OK, StatusCode::FORBIDDEN));
    let list = desk.get_as(Some(&owner), "/accounts").await.text();
    assert!(list.contains("2026-03-02"), "the day of its last use: {list}");
    let refused = desk.post_as(Some(&owner), "/tokens", &[("name", "king"), ("role", "owner")]).await;
    assert!(refused.text().contains("A program cannot be the owner"), "{}", refused.text());
    desk.post_as(Some(&owner), "/tokens/1/revoke", &[]).await;
    assert_eq!(ask("/").await, StatusCode::UNAUTHORIZED);
}

#[tokio::test]
async fn a_form_that_cannot_be_read_is_answered_in_words() {
    let desk = desk_with_accounts().await;
    let owner = desk.sign_in(Role::Owner).await;
    let cookie = format!("axlewright_session={owner}");
    let bare = Request::post("/accounts/1").header(COOKIE, &cookie).header("content-type", "text/plain");
    let answer = desk.ask(bare.body(Body::from("role=desk")).unwrap()).await;
    assert_eq!(answer.status, StatusCode::UNSUPPORTED_MEDIA_TYPE);
    assert!(answer.text().contains("is not of the kind that is taken here"), "{}", answer.text());
    let missing = desk.post_as(Some(&owner), "/accounts/1", &[("active", "yes")]).await;
    assert_eq!(missing.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(missing.text().contains("with every field that stands in it"), "{}", missing.text());
    let long =
        Request::post("/accounts").header(COOKIE, &cookie).header("content-type", "application/x-www-form-urlencoded");
    let name = "a".repeat(3 * 1024 * 1024);
    let answer = desk.ask(long.body(Body::from(form(&[("name", &name)]))).unwrap()).await;
    assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE);
    assert!(answer.text().contains("What was sent is too long."), "{}", answer.text());
    let nowhere = desk.get_as(Some(&owner), "/accounts/x/y/z").await;
    assert_eq!(nowhere.status, StatusCode::NOT_FOUND);
}
