//! Who has which order open. It lives in memory: after a restart everybody says so again within seconds.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

use jiff::{Timestamp, ToSpan};

/// Somebody who has not been heard of for so many seconds has gone.
const GONE_AFTER: i64 = 30;

/// Account by order, with the name and when it was last heard of.
type Seen = BTreeMap<(i64, i64), (String, Timestamp)>;

/// Who has which order open.
#[derive(Debug, Default)]
pub(crate) struct Presence(Mutex<Seen>);

impl Presence {
    /// Notes that an account has an order open, and gives the names of the others that have.
    pub fn here(&self, order: i64, account: i64, name: &str, now: Timestamp) -> Vec<String> {
        let mut seen = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let still = now.checked_sub(GONE_AFTER.seconds()).unwrap_or(now);
        seen.retain(|_, (_, at)| *at >= still);
        seen.insert((order, account), (name.to_owned(), now));
        seen.range((order, i64::MIN)..=(order, i64::MAX))
            .filter(|((_, other), _)| *other != account)
            .map(|(_, (name, _))| name.clone())
            .collect()
    }
}
