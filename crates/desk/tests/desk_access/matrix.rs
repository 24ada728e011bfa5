//! Every route of the desk against everybody who may come: let in or turned away exactly as the table of routes says.

use axum::body::Body;
use axum::http::header::{AUTHORIZATION, COOKIE};
use axum::http::{Method, Request, StatusCode};
use book::Role;
use desk::{Entry, Who, table};

use crate::desk_under_test::{DeskUnderTest, at, desk_with_accounts, name_of};

/// Somebody who comes to the desk.
#[derive(Debug, Clone)]
enum Comer {
    Stranger,
    /// With a session that was made up.
    Forger,
    /// Somebody who has signed in.
    Account(Role),
    /// A program, with its token.
    Program(Role, String),
    /// A program whose token was revoked.
    Revoked(String),
}

impl Comer {
    fn role(&self) -> Option<Role> {
        match self {
            Self::Account(role) | Self::Program(role, _) => Some(*role),
            Self::Stranger | Self::Forger | Self::Revoked(_) => None,
        }
    }
}

/// A path of the table with something in the place of what varies.
pub fn filled(path: &str) -> String {
    let mut out = String::new();
    for part in path.split('/').skip(1) {
        out.push('/');
        match part.strip_prefix('{') {
            None => out.push_str(part),
            Some(name) if name.starts_with("name") => out.push_str("desk.css"),
            Some(_) => out.push('1'),
        }
    }
    out
}

async fn comers(desk: &DeskUnderTest) -> Vec<Comer> {
    let owner = desk.book().accounts().await.unwrap().remove(0).person();
    // The routes of the matrix name the first of everything: a token that nobody comes with, so that it may be revoked.
    desk.book().make_token("spare", Role::ReadOnly, &owner, at(2)).await.unwrap();
    let mut comers = vec![Comer::Stranger, Comer::Forger];
    comers.extend(Role::ALL.map(Comer::Account));
    for role in [Role::Desk, Role::Floor, Role::ReadOnly] {
        let (_, secret) = desk.book().make_token(role.words(), role, &owner, at(2)).await.unwrap();
        comers.push(Comer::Program(role, secret));
    }
    let (token, secret) = desk.book().make_token("gone", Role::Desk, &owner, at(2)).await.unwrap();
    desk.book().revoke_token(token.number, &owner, at(3)).await.unwrap();
    comers.push(Comer::Revoked(secret));
    comers
}

/// The request of somebody for a route.
async fn request(desk: &DeskUnderTest, entry: &Entry, comer: &Comer) -> Request<Body> {
    let mut request =
        Request::builder().method(entry.method.clone()).uri(filled(entry.path)).header("accept", "text/html");
    if entry.method == Method::POST {
        request =
            request.header("sec-fetch-site", "same-origin").header("content-type", "application/x-www-form-urlencoded");
    }
    request = match comer {
        Comer::Stranger => request,
        Comer::Forger => request.header(COOKIE, format!("axlewright_session={}", "0".repeat(64))),
        // A session may have ended by what was asked before, such as another password.
        Comer::Account(role) => {
            let token = session(desk, *role).await;
            request.header(COOKIE, format!("axlewright_session={token}"))
        }
        Comer::Program(_, secret) | Comer::Revoked(secret) => request.header(AUTHORIZATION, format!("Bearer {secret}")),
    };
    request.body(Body::empty()).unwrap()
}

/// A session straight from the book, without the waiting that hashing costs.
async fn session(desk: &DeskUnderTest, role: Role) -> String {
    static KEPT: std::sync::Mutex<Vec<(Role, String)>> = std::sync::Mutex::new(Vec::new());
    let known = KEPT.lock().unwrap().iter().find(|(one, _)| *one == role).map(|(_, token)| token.clone());
    if let Some(token) = known
        && desk.book().session(&token, at(60)).await.unwrap().is_some()
    {
        return token;
    }
    let token = desk.sign_in(role).await;
    let mut kept = KEPT.lock().unwrap();
    kept.retain(|(one, _)| *one != role);
    kept.push((role, token.clone()));
    token
}

/// What must not move while somebody is turned away.
async fn what_stands(desk: &DeskUnderTest) -> String {
    let book = desk.book();
    let end = book.latest_events(1).await.unwrap();
    let mut views = Vec::new();
    let mut drafts = Vec::new();
    for account in book.accounts().await.unwrap() {
        views.push(book.views(account.number).await.unwrap());
        drafts.push(book.drafts(account.number).await.unwrap());
    }
    format!("{end:?} {:?} {views:?} {drafts:?} {:?}", book.accounts().await.unwrap(), book.rereviews(9).await.unwrap())
}

#[tokio::test]
async fn everybody_is_let_in_or_turned_away_as_the_table_says() {
    let desk = desk_with_accounts().await;
    desk.place("01-hay-truck").await;
    let comers = comers(&desk).await;
    let routes = table(desk.desk.clone());
    assert!(routes.len() > 20, "the table holds the routes");
    let mut turned_away = 0;
    for entry in &routes {
        for comer in &comers {
            let label = format!("{} {} for {comer:?}", entry.method, entry.path);
            let may = match entry.who.roles() {
                None => true,
                Some(roles) => comer.role().is_some_and(|role| roles.contains(&role)),
            };
            let before = if may { String::new() } else { what_stands(&desk).await };
            let (status, location, text) = desk.ask_briefly(request(&desk, entry, comer).await).await;
            let asks_to_sign_in = status == StatusCode::SEE_OTHER && location.starts_with("/sign-in?back=");
            if may {
                let refused = text.contains("your account may not do this") || status == StatusCode::UNAUTHORIZED;
                assert!(!refused && !asks_to_sign_in, "{label}: {status} {location}");
                assert!(!status.is_server_error(), "{label}: {status} {text}");
                continue;
            }
            turned_away += 1;
            match comer {
                Comer::Account(_) | Comer::Program(..) => assert_eq!(status, StatusCode::FORBIDDEN, "{label}"),
                Comer::Revoked(_) => assert_eq!(status, StatusCode::UNAUTHORIZED, "{label}"),
                Comer::Stranger | Comer::Forger if entry.path.starts_with("/api/") => {
                    assert_eq!(status, StatusCode::UNAUTHORIZED, "{label}");
                }
                Comer::Stranger | Comer::Forger => assert!(asks_to_sign_in, "{label}: {status} {location}"),
            }
            assert_eq!(what_stands(&desk).await, before, "{label}: something was changed");
        }
    }
    println!("{} routes, {} comers, {turned_away} turned away", routes.len(), comers.len());
}

#[tokio::test]
async fn only_the_door_and_the_files_of_the_pages_are_for_everybody() {
    let desk = desk_with_accounts().await;
    let open: Vec<String> = table(desk.desk.clone())
        .into_iter()
        .filter(|entry| entry.who == Who::Anyone)
        .map(|entry| format!("{} {}", entry.method, entry.path))
        .collect();
    let known = [
        "GET /assets/{mark}/{name}",
        "GET /health",
        // To an account or this machine itself; the page looks after that.
        "GET /metrics",
        "GET /sign-in",
        "POST /sign-in",
        "POST /sign-out",
        "GET /first-run",
        "POST /first-run",
    ];
    for route in &open {
        assert!(known.contains(&route.as_str()), "{route} is for everybody; should it be?");
    }
}

#[tokio::test]
async fn no_route_stands_twice_and_forms_are_not_for_everybody() {
    let desk = desk_with_accounts().await;
    let routes = table(desk.desk.clone());
    for (place, entry) in routes.iter().enumerate() {
        let twice = routes[..place].iter().any(|other| (other.path, &other.method) == (entry.path, &entry.method));
        assert!(!twice, "{} {}", entry.method, entry.path);
        assert!(matches!(entry.method, Method::GET | Method::POST), "{}", entry.path);
    }
}

#[tokio::test]
async fn a_program_does_what_its_role_may_and_keeps_nothing_of_its_own() {
    let desk = desk_with_accounts().await;
    let line = desk.place("01-hay-truck").await;
    let owner = desk.book().accounts().await.unwrap().remove(0).person();
    let (_, secret) = desk.book().make_token("accounts", Role::ReadOnly, &owner, at(2)).await.unwrap();
    let with_token = |request: axum::http::request::Builder| request.header(AUTHORIZATION, format!("bearer {secret}"));
    let list = desk.ask(with_token(Request::get("/")).body(Body::empty()).unwrap()).await;
    assert!(list.text().contains(&line.reference), "{}", list.text());
    let view = with_token(Request::post("/views")).header("content-type", "application/x-www-form-urlencoded");
    let refused = desk.ask(view.body(Body::from("name=all")).unwrap()).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", refused.text());
    assert!(refused.text().contains("Only an account keeps drafts and views."), "{}", refused.text());
    let password =
        with_token(Request::post("/account/password")).header("content-type", "application/x-www-form-urlencoded");
    let fields = Body::from("current=weir+yard+at+dawn&password=another+long+word&again=another+long+word");
    assert_eq!(desk.ask(password.body(fields).unwrap()).await.status, StatusCode::FORBIDDEN);
    assert_eq!(name_of(Role::Owner), desk.book().accounts().await.unwrap()[0].name);
    for scheme in ["Basic", "Token", ""] {
        let request = Request::get("/").header(AUTHORIZATION, format!("{scheme} {secret}"));
        let answer = desk.ask(request.body(Body::empty()).unwrap()).await;
        assert_eq!(answer.status, StatusCode::UNAUTHORIZED, "{scheme}");
        assert!(answer.header("www-authenticate").starts_with("Bearer"));
    }
}
