//! How fast one address may ask: a bucket of tokens each, filled steadily. It only keeps one client from taking the desk away from
//! all others; guessing of passwords is held up elsewhere.

use std::collections::BTreeMap;
use std::net::{IpAddr, SocketAddr};
use std::sync::{Mutex, PoisonError};

use axum::extract::{ConnectInfo, Request};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_TYPE, RETRY_AFTER};
use axum::response::{IntoResponse, Response};
use jiff::Timestamp;
use serde_json::json;

/// So many requests at once.
const BURST: f64 = 200.0;
/// So many each second after that.
const A_SECOND: f64 = 50.0;
/// So many addresses are remembered; full buckets are forgotten first.
const ADDRESSES: usize = 10_000;

/// The buckets.
#[derive(Default)]
pub(crate) struct Rate(Mutex<BTreeMap<IpAddr, Bucket>>);

#[derive(Debug, Clone, Copy)]
struct Bucket {
    tokens: f64,
    filled_at: Timestamp,
}

impl Bucket {
    fn at(self, now: Timestamp) -> Self {
        let seconds = (now.as_millisecond().saturating_sub(self.filled_at.as_millisecond()).max(0)) as f64 / 1000.0;
        Self { tokens: (self.tokens + seconds * A_SECOND).min(BURST), filled_at: now }
    }
}

/// Somebody asks too fast.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct TooFast {
    /// After so many seconds they may ask again.
    pub seconds: u64,
}

impl Rate {
    /// Takes a token out of the bucket of an address.
    ///
    /// # Errors
    ///
    /// It is empty.
    pub fn ask(&self, peer: IpAddr, now: Timestamp) -> Result<(), TooFast> {
        let mut buckets = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if buckets.len() >= ADDRESSES && !buckets.contains_key(&peer) {
            buckets.retain(|_, bucket| bucket.at(now).tokens < BURST);
            if buckets.len() >= ADDRESSES {
                return Err(TooFast { seconds: 1 });
            }
        }
        let bucket = buckets.entry(peer).or_insert(Bucket { tokens: BURST, filled_at: now });
        *bucket = bucket.at(now);
        if bucket.tokens < 1.0 {
            return Err(TooFast { seconds: 1 });
        }
        bucket.tokens -= 1.0;
        Ok(())
    }
}

/// The address that a request comes from; none for one's own machine, where a desk stands open or a server asks for everybody that
/// the desk was not told of.
pub(crate) fn peer_of(request: &Request) -> Option<IpAddr> {
    let ConnectInfo(address) = request.extensions().get::<ConnectInfo<SocketAddr>>()?;
    Some(address.ip().to_canonical()).filter(|peer| !peer.is_loopback())
}

impl IntoResponse for TooFast {
    fn into_response(self) -> Response {
        let status = StatusCode::TOO_MANY_REQUESTS;
        let body = json!({
            "title": status.canonical_reason(),
            "status": status.as_u16(),
            "detail": format!("too many requests from one address: more than {A_SECOND} a second for longer than a moment"),
            "accepted": format!("the same after {} s", self.seconds),
        });
        let headers = [(CONTENT_TYPE, "application/problem+json".to_owned()), (RETRY_AFTER, self.seconds.to_string())];
        (status, headers, body.to_string()).into_response()
    }
}

#[cfg(test)]
mod tests {
    use std::net::IpAddr;

    use jiff::{SignedDuration, Timestamp};

    use super::{Rate, TooFast};

    #[test]
    fn a_burst_is_let_through_and_then_so_many_a_second() {
        let rate = Rate::default();
        let peer: IpAddr = "192.0.2.7".parse().unwrap();
        let now: Timestamp = "2026-03-02T08:00:00Z".parse().unwrap();
        for _ in 0..200 {
            assert_eq!(rate.ask(peer, now), Ok(()));
        }
        assert_eq!(rate.ask(peer, now), Err(TooFast { seconds: 1 }));
        let other: IpAddr = "192.0.2.8".parse().unwrap();
        assert_eq!(rate.ask(other, now), Ok(()));
        let later = now + SignedDuration::from_secs(1);
        for _ in 0..50 {
            assert_eq!(rate.ask(peer, later), Ok(()));
        }
        assert_eq!(rate.ask(peer, later), Err(TooFast { seconds: 1 }));
    }
}
