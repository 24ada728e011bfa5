//! The door of a desk where people sign in: the code of the first run, the patience with wrong passwords, and the hashing of
//! passwords, which keeps a core busy and must not keep the pages waiting.

use std::collections::BTreeMap;
use std::future::Future;
use std::net::{IpAddr, Ipv6Addr};
use std::sync::{Mutex, PoisonError};
use std::time::Duration;

use jiff::{SignedDuration, Timestamp};
use sha2::{Digest, Sha256};
use tokio::runtime::Handle;
use tokio::sync::Semaphore;

use crate::error::DeskError;

/// So many passwords are hashed at once; each takes a core and 19 MiB for some hundredths of a second.
const HASHING: usize = 2;
/// Whoever has waited so long for their turn is told to come again.
const TURN: Duration = Duration::from_secs(10);
/// So many wrong passwords from one address are mistakes of typing...
const FREE: u32 = 5;
/// ...and after the next ones the address has to wait, twice as long each time, but never longer than this.
const LONGEST_WAIT: i64 = 60;
/// An address from which nothing wrong came for so long is forgiven.
const FORGIVEN: SignedDuration = SignedDuration::from_mins(15);
/// So many addresses are kept in mind.
const ADDRESSES: usize = 10_000;

/// The door.
pub(crate) struct Door {
    code: Option<String>,
    attempts: Mutex<BTreeMap<IpAddr, Attempts>>,
    hashing: Semaphore,
}

/// What came from one address.
#[derive(Debug, Clone, Copy)]
struct Attempts {
    wrong: u32,
    last: Timestamp,
    not_before: Timestamp,
}

impl Door {
    /// A door. With `first_run` it has a code that makes the first account.
    ///
    /// # Errors
    ///
    /// The operating system gives no random bytes.
    pub fn new(first_run: bool) -> Result<Self, DeskError> {
        let code = if first_run { Some(random_code()?) } else { None };
        Ok(Self { code, attempts: Mutex::default(), hashing: Semaphore::new(HASHING) })
    }

    /// The code of the first run.
    pub fn code(&self) -> Option<&str> {
        self.code.as_deref()
    }

    /// Whether a text is the code of the first run. Blanks, hyphens and the size of letters make no difference.
    pub fn is_code(&self, text: &str) -> bool {
        // Digests are compared, so that the time to answer says nothing about the code.
        let digest = |text: &str| {
            let plain: String = text.chars().filter(char::is_ascii_alphanumeric).collect();
            Sha256::digest(plain.to_ascii_lowercase().as_bytes())
        };
        self.code.as_deref().is_some_and(|code| digest(code) == digest(text))
    }

    /// Lets an address try once; where it has to wait, says for how many seconds. The attempt counts as wrong until
    /// [`Door::right`] takes it back, so that many at once are no way around.
    pub fn attempt(&self, address: IpAddr, now: Timestamp) -> Result<(), i64> {
        let mut attempts = self.attempts.lock().unwrap_or_else(PoisonError::into_inner);
        if attempts.len() >= ADDRESSES {
            attempts.retain(|_, known| known.last.saturating_add(FORGIVEN).is_ok_and(|end| end > now));
        }
        if attempts.len() >= ADDRESSES {
            attempts.pop_first();
        }
        let fresh = Attempts { wrong: 0, last: now, not_before: now };
        let known = attempts.entry(network(address)).or_insert(fresh);
        if known.last.saturating_add(FORGIVEN).is_ok_and(|end| end <= now) {
            *known = fresh;
        }
        let wait = known.not_before.as_second() - now.as_second();
        if wait > 0 {
            return Err(wait);
        }
        known.wrong = known.wrong.saturating_add(1);
        known.last = now;
        if known.wrong >= FREE {
            let seconds =
                1_i64.checked_shl(known.wrong - FREE).map_or(LONGEST_WAIT, |wait| wait.clamp(1, LONGEST_WAIT));
            known.not_before = now.saturating_add(SignedDuration::from_secs(seconds)).unwrap_or(now);
        }
        Ok(())
    }

    /// The last attempt of an address was right.
    pub fn right(&self, address: IpAddr) {
        let mut attempts = self.attempts.lock().unwrap_or_else(PoisonError::into_inner);
        attempts.remove(&network(address));
    }

    /// Does something that hashes a password, on a thread that answers no pages.
    ///
    /// # Errors
    ///
    /// Too many others were waiting for the same.
    pub async fn hashing<T: Send + 'static>(
        &self,
        work: impl Future<Output = T> + Send + 'static,
    ) -> Result<T, DeskError> {
        let turn = tokio::time::timeout(TURN, self.hashing.acquire()).await;
        let Ok(Ok(_permit)) = turn else {
            return Err(DeskError::Busy { problem: "too many people are signing in at this moment".to_owned() });
        };
        let runtime = Handle::current();
        tokio::task::spawn_blocking(move || runtime.block_on(work))
            .await
            .map_err(|error| DeskError::failed(format!("the sign-in broke off: {error}")))
    }
}

/// What one subscriber has of the network: an address of the old kind, the first half of one of the new kind.
pub(crate) fn network(address: IpAddr) -> IpAddr {
    match address.to_canonical() {
        IpAddr::V4(address) => IpAddr::V4(address),
        IpAddr::V6(address) => {
            let [a, b, c, d, ..] = address.segments();
            IpAddr::V6(Ipv6Addr::new(a, b, c, d, 0, 0, 0, 0))
        }
    }
}

/// Sixteen letters and digits that are not mistaken for one another, in groups of four: 80 bits.
fn random_code() -> Result<String, DeskError> {
    const LETTERS: &[u8; 32] = b"abcdefghjkmnpqrstuvwxyz023456789";
    let mut bytes = [0_u8; 16];
    getrandom::fill(&mut bytes)
        .map_err(|error| DeskError::failed(format!("the operating system gives no random bytes: {error}")))?;
    let mut code = String::new();
    for (place, byte) in bytes.into_iter().enumerate() {
        if place > 0 && place % 4 == 0 {
            code.push('-');
        }
        code.push(char::from(LETTERS[usize::from(byte % 32)]));
    }
    Ok(code)
}

#[cfg(test)]
mod tests {
    use std::net::IpAddr;

    use jiff::{SignedDuration, Timestamp};

    use super::Door;

    fn at(seconds: i64) -> Timestamp {
        "2026-03-02T08:00:00Z".parse::<Timestamp>().unwrap() + SignedDuration::from_secs(seconds)
    }

    #[test]
    fn an_address_waits_longer_after_every_wrong_password() {
        let door = Door::new(false).unwrap();
        let address: IpAddr = "203.0.113.7".parse().unwrap();
        for _ in 0..5 {
            assert_eq!(door.attempt(address, at(0)), Ok(()));
        }
        let mut now = 0;
        for wait in [1, 2, 4, 8, 16, 32, 60, 60] {
            assert_eq!(door.attempt(address, at(now)), Err(wait));
            now += wait;
            assert_eq!(door.attempt(address, at(now)), Ok(()), "{wait}");
        }
        // Others do not wait, and an address of the new kind counts by its first half.
        assert_eq!(door.attempt("203.0.113.8".parse().unwrap(), at(now)), Ok(()));
        assert!(door.attempt("::ffff:203.0.113.7".parse().unwrap(), at(now)).is_err());
        for last in 0..5 {
            assert_eq!(door.attempt(format!("2001:db8:0:1::{last}").parse().unwrap(), at(0)), Ok(()));
        }
        assert!(door.attempt("2001:db8:0:1:f::9".parse().unwrap(), at(0)).is_err());
        assert_eq!(door.attempt("2001:db8:0:2::1".parse().unwrap(), at(0)), Ok(()));
        // A right password or a quarter of an hour, and all is forgiven.
        assert_eq!(door.attempt(address, at(now + 15 * 60)), Ok(()));
        for _ in 0..4 {
            door.attempt(address, at(now + 15 * 60)).unwrap();
        }
        assert!(door.attempt(address, at(now + 15 * 60)).is_err());
        door.right(address);
        assert_eq!(door.attempt(address, at(now + 15 * 60)), Ok(()));
    }

    #[test]
    fn the_code_is_read_as_people_type_it() {
        let door = Door::new(true).unwrap();
        let code = door.code().unwrap().to_owned();
        assert_eq!(code.len(), 19, "{code}");
        assert!(door.is_code(&code) && door.is_code(&format!(" {} ", code.to_uppercase().replace('-', " "))));
        assert!(!door.is_code("") && !door.is_code(&code[..18]));
        assert_ne!(Door::new(true).unwrap().code().unwrap(), code);
        let closed = Door::new(false).unwrap();
        assert!(!closed.is_code("") && !closed.is_code(&code));
    }
}
