//! What the desk knows about its own work: how many requests, how long they took. Nothing of it says who or what.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicI64, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use axum::extract::{MatchedPath, Request, State};
use axum::http::header::ACCEPT;
use axum::http::{HeaderValue, Method};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use crate::desk::Desk;
use crate::rate::{TooFast, peer_of};

/// Upper ends of the classes of durations, in milliseconds.
pub(crate) const CLASSES: [i64; 8] = [2, 5, 10, 20, 50, 200, 1000, 5000];

/// Requests of one kind.
#[derive(Debug, Clone, Default)]
pub(crate) struct Counted {
    /// How many.
    pub requests: u64,
    /// All their durations together, in milliseconds.
    pub milliseconds: i64,
    /// How many took no longer than each of [`CLASSES`].
    pub within: [u64; CLASSES.len()],
}

/// Everything that was counted.
#[derive(Default)]
pub(crate) struct Measures(Mutex<BTreeMap<(String, String, u16), Counted>>);

impl Measures {
    fn add(&self, method: &Method, route: &str, status: u16, milliseconds: i64) {
        let mut counted = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let one = counted.entry((method.to_string(), route.to_owned(), status)).or_default();
        one.requests += 1;
        one.milliseconds += milliseconds;
        for (end, within) in CLASSES.iter().zip(&mut one.within) {
            *within += u64::from(milliseconds <= *end);
        }
    }

    /// What was counted so far, by method, route and status.
    pub fn counted(&self) -> Vec<((String, String, u16), Counted)> {
        let counted = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        counted.iter().map(|(kind, one)| (kind.clone(), one.clone())).collect()
    }
}

/// Where the guard of the routes writes whose request it is, for the log: the number of the account, 0 for nobody.
#[derive(Debug, Clone, Default)]
pub(crate) struct Asker(Arc<AtomicI64>);

impl Asker {
    /// Writes the number down.
    pub fn set(&self, number: i64) {
        self.0.store(number, Ordering::Relaxed);
    }
}

/// Counts a request, lets work in the background give way to it, writes one line about it, and turns away whoever asks too fast. Neither the query nor a body is looked at.
pub(crate) async fn observe(State(desk): State<Desk>, mut request: Request, next: Next) -> Response {
    let _answered = desk.answering().begin();
    let began = desk.now();
    let method = request.method().clone();
    let route = request.extensions().get::<MatchedPath>().map_or("none", MatchedPath::as_str).to_owned();
    if request.uri().path().starts_with("/api/") {
        // The JSON interface speaks JSON, whatever a program says that it accepts.
        request.headers_mut().insert(ACCEPT, HeaderValue::from_static("application/json"));
    }
    let asker = Asker::default();
    request.extensions_mut().insert(asker.clone());
    let slowed = peer_of(&request).and_then(|peer| desk.rate().ask(peer, began).err());
    let response = match slowed {
        Some(TooFast { seconds }) => TooFast { seconds }.into_response(),
        None => next.run(request).await,
    };
    let milliseconds = desk.now().as_millisecond().saturating_sub(began.as_millisecond()).max(0);
    let status = response.status().as_u16();
    desk.measures().add(&method, &route, status, milliseconds);
    let account = asker.0.load(Ordering::Relaxed);
    tracing::info!(target: "desk::request", %method, route, status, milliseconds, account);
    response
}
