//! How many requests are being answered at the moment, so that what the desk does in the background gives way to people.

use std::sync::{Mutex as Shared, PoisonError};
use std::time::Duration;

use jiff::{SignedDuration, Timestamp};
use tokio::sync::{Mutex, MutexGuard, watch};
use tokio::time::timeout;

/// Work in the background waits no longer than this for a moment in which nobody is being answered. So it comes to its end under
/// steady traffic, and then takes about a tenth of one core.
const LONGEST_WAIT: Duration = Duration::from_millis(250);
/// Where that moment never comes, long work goes on for so long before it waits again: about as long as a review takes.
const TURN: SignedDuration = SignedDuration::from_millis(25);
/// So often a thread that waits looks whether people are still being answered.
const LOOK: Duration = Duration::from_millis(1);

/// The requests that are being answered.
#[derive(Debug, Default)]
pub(crate) struct Answering {
    requests: watch::Sender<usize>,
    long_work: Mutex<()>,
}

/// A request that is being answered, until this is dropped.
#[derive(Debug)]
pub(crate) struct Request<'a>(&'a watch::Sender<usize>);

impl Drop for Request<'_> {
    fn drop(&mut self) {
        self.0.send_modify(|requests| *requests -= 1);
    }
}

impl Answering {
    /// Counts a request as long as it is being answered.
    pub fn begin(&self) -> Request<'_> {
        self.requests.send_modify(|requests| *requests += 1);
        Request(&self.requests)
    }

    /// Waits before a small piece of work in the background: until nothing long is being done there, and then for a moment in which
    /// nobody is being answered.
    pub async fn give_way(&self) {
        drop(self.long_work.lock().await);
        self.give_way_to_people().await;
    }

    /// The same for work that somebody is waiting for: it does not wait for what is long, which may take minutes.
    pub async fn give_way_to_people(&self) {
        let mut requests = self.requests.subscribe();
        // Where that moment never comes, the work goes on all the same.
        let _ = timeout(LONGEST_WAIT, requests.wait_for(|requests| *requests == 0)).await;
    }

    /// Begins long work in the background. Small pieces wait until this is dropped, so that both together never take two cores, and
    /// so that little is written while the work reads the book as it was when it began.
    pub async fn begin_long_work(&self) -> MutexGuard<'_, ()> {
        self.long_work.lock().await
    }

    /// Waits as [`Answering::give_way_to_people`] does, on a thread of long work that asks so often that it would come to nothing if
    /// it waited each time. `now` tells the time.
    pub fn hold_up(&self, turn: &Turn, now: impl Fn() -> Timestamp) {
        if *self.requests.borrow() == 0 {
            return;
        }
        let mut began = turn.0.lock().unwrap_or_else(PoisonError::into_inner);
        // A clock that was set back ends the turn as well.
        let goes_on = began.is_some_and(|began| {
            let since = now().duration_since(began);
            !since.is_negative() && since < TURN
        });
        if goes_on {
            return;
        }
        let mut waited = Duration::ZERO;
        while waited < LONGEST_WAIT {
            std::thread::sleep(LOOK);
            if *self.requests.borrow() == 0 {
                *began = None;
                return;
            }
            waited += LOOK;
        }
        *began = Some(now());
    }
}

/// When long work that could wait no longer went on.
#[derive(Debug, Default)]
pub(crate) struct Turn(Shared<Option<Timestamp>>);

#[cfg(test)]
mod tests {
    use std::pin::pin;
    use std::task::Poll;

    use std::sync::Arc;

    use jiff::Timestamp;

    use super::{Answering, Turn};

    /// Whether a future that is looked at for the first time has to wait.
    async fn waits(future: &mut (impl Future<Output = ()> + Unpin)) -> bool {
        std::future::poll_fn(|context| Poll::Ready(std::pin::Pin::new(&mut *future).poll(context).is_pending())).await
    }

    #[tokio::test]
    async fn work_waits_until_the_last_request_is_answered() {
        let answering = Answering::default();
        assert!(!waits(&mut pin!(answering.give_way())).await, "nobody asks");
        let (one, other) = (answering.begin(), answering.begin());
        let mut work = pin!(answering.give_way());
        assert!(waits(&mut work).await);
        drop(one);
        assert!(waits(&mut work).await);
        drop(other);
        work.await;
    }

    #[tokio::test]
    async fn work_goes_on_where_requests_never_end() {
        let answering = Answering::default();
        let _never_answered = answering.begin();
        answering.give_way().await;
        answering.give_way().await;
    }

    #[tokio::test]
    async fn a_thread_is_held_up_until_the_last_request_is_answered() {
        let (answering, turn) = (Arc::new(Answering::default()), Arc::new(Turn::default()));
        let request = answering.begin();
        let held_up = {
            let (answering, turn) = (answering.clone(), turn.clone());
            tokio::task::spawn_blocking(move || answering.hold_up(&turn, || Timestamp::UNIX_EPOCH))
        };
        drop(request);
        held_up.await.unwrap();
        assert!(
            turn.0.lock().unwrap().is_none(),
            "it was not the wait that ended, and the next request is given way to at once"
        );
    }

    #[test]
    fn a_thread_that_waited_long_enough_has_its_turn_and_then_waits_again() {
        let answering = Answering::default();
        let _never_answered = answering.begin();
        let turn = Turn::default();
        let at = |milliseconds: i64| Timestamp::from_millisecond(1_000_000 + milliseconds).unwrap();
        answering.hold_up(&turn, || at(0));
        assert_eq!(*turn.0.lock().unwrap(), Some(at(0)));
        answering.hold_up(&turn, || at(24));
        assert_eq!(*turn.0.lock().unwrap(), Some(at(0)), "it went on at once");
        answering.hold_up(&turn, || at(25));
        assert_eq!(*turn.0.lock().unwrap(), Some(at(25)), "it waited again");
        answering.hold_up(&turn, || at(-9));
        assert_eq!(*turn.0.lock().unwrap(), Some(at(-9)), "the clock was set back");
    }

    #[tokio::test]
    async fn small_work_waits_for_long_work() {
        let answering = Answering::default();
        let long = answering.begin_long_work().await;
        let mut work = pin!(answering.give_way());
        assert!(waits(&mut work).await);
        drop(long);
        work.await;
    }
}
